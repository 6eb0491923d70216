//! Beside the floor: the first hints, three steps for whoever opens the window for the first time; and what was done
//! by hand.

use bevy_egui::egui::{Color32, Frame, Margin, RichText, Ui};

use super::bench;
use super::desk::Desk;
use super::drill::Stage;
use super::palette::*;

/// Words on a plate of one colour.
pub fn note(ui: &mut Ui, text: &str, fill: Color32) {
    Frame::new()
        .fill(fill)
        .corner_radius(6.0)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| ui.label(RichText::new(text).color(INK)));
}

/// A hint is shown for so long, seconds; Help brings it back.
const HINTED: f32 = 60.0;

/// Three steps for whoever opens the window for the first time.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    const STEPS: [&str; 3] = [
        "1 of 3   Bright floor: a pass there now is worth it. Dark floor: nothing is open. The strip below is the whole possession. Press space: it freezes at a decision.",
        "2 of 3   Drag a defender and watch the light move. Then press space: it goes on from there.",
        "3 of 3   Open Why it stalls, then Look into it: it says who shuts what, and what to try.",
    ];
    let Some(step) = STEPS.get(usize::from(desk.settings.hint)) else {
        return;
    };
    // A hint that nobody follows goes away; so does one about a floor that a page is laid over.
    if desk.page.is_some() || !matches!(desk.drill.stage, Stage::Idle | Stage::Over) {
        return;
    }
    if desk.hinted > HINTED {
        return;
    }
    note(ui, step, BALL);
    if bench::word(ui, "skip the hints", false, "").clicked() {
        desk.settings.hint = 3;
    }
}

/// What was done by hand, and the way back.
pub fn by_hand(ui: &mut Ui, desk: &mut Desk) {
    if let Some(words) = desk.put_words() {
        note(ui, &words, TEACH);
        let hint = "The possession as the seed has it, nobody moved (X)";
        let back = bench::word(ui, "back to the possession itself", false, hint);
        desk.mark("itself", &back);
        if back.clicked() {
            desk.back_to_itself();
        }
    }
    let moved = desk.moved.iter().any(Option::is_some);
    if moved && matches!(desk.drill.stage, Stage::Idle | Stage::Over) {
        let hint = "Where the possession had them (backspace)";
        if bench::word(ui, "put everybody back", false, hint).clicked() {
            desk.put_back();
        }
    }
}
