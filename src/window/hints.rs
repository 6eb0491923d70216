//! Beside the floor: the first hints, three steps for whoever opens the window for the first time; and what was done
//! by hand.

use bevy_egui::egui::{Color32, Frame, Margin, RichText, Ui};

use super::bench;
use super::desk::Desk;
use super::drill::Stage;
use super::palette::*;
use super::words::keys as words;

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
        words::EXAMPLE_1_OF_3_BRIGHT,
        words::EXAMPLE_2_OF_3_DRAG,
        words::EXAMPLE_3_OF_3_OPEN,
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
    if bench::word(ui, words::SKIP_THE_HINTS, false, "").clicked() {
        desk.settings.hint = 3;
    }
}

/// What was done by hand, and the way back.
pub fn by_hand(ui: &mut Ui, desk: &mut Desk) {
    if let Some(words) = desk.put_words() {
        note(ui, &words, TEACH);
        let hint = words::THE_POSSESSION_AS_THE;
        let back = bench::word(ui, words::BACK_TO_THE_POSSESSION, false, hint);
        desk.mark("itself", &back);
        if back.clicked() {
            desk.back_to_itself();
        }
    }
    let moved = desk.moved.iter().any(Option::is_some);
    if moved && matches!(desk.drill.stage, Stage::Idle | Stage::Over) {
        let hint = words::WHERE_THE_POSSESSION_HAD;
        if bench::word(ui, words::PUT_EVERYBODY_BACK, false, hint).clicked() {
            desk.put_back();
        }
    }
}
