//! What is told, in a band of its own between the floor and the strip, so that no word ever lies on the floor: what has
//! just been said, what the moment is, and what was done last.

use bevy_egui::egui::{Align, FontId, Layout, Rect, Ui, UiBuilder, pos2, vec2};

use super::bench;
use super::desk::Desk;
use super::now;
use super::palette::*;
use super::words::floor as words;

/// Lines of the band.
const LINES: f32 = 2.0;
/// Size of its letters, points of the screen.
const LETTERS: f32 = 17.0;

/// Height of the band, points of the screen.
pub fn height(desk: &Desk) -> f32 {
    LETTERS * 1.32 * LINES * desk.size() + 14.0
}

/// What is told now, in order of weight.
fn lines(desk: &mut Desk) -> Vec<(String, bevy_egui::egui::Color32)> {
    let mut lines = Vec::new();
    if let Some(said) = &desk.said {
        lines.push((said.text.clone(), BALL));
    }
    // A learner who is asked is not told.
    let asked = desk.drill.asking();
    if let Some(now) = now::said(desk) {
        // Of two floors it is said which is meant.
        let now = match desk.beside.recording() {
            Some(_) => words::with_the_change(&now),
            None => now,
        };
        lines.push((now, ATTACKER));
    }
    let told = desk.recording.told_at(desk.time.now);
    let told = told.into_iter().take(if asked { 0 } else { 2 });
    lines.extend(
        told.enumerate()
            .map(|(i, text)| (text, if i == 0 { TEXT } else { QUIET })),
    );
    lines
}

/// Shows the band: as many lines as it has room for, the weightier first.
pub fn show(ui: &mut Ui, desk: &mut Desk, rect: Rect) {
    ui.painter().rect_filled(rect, 0.0, PAPER);
    let inner = rect.shrink2(vec2(18.0, 6.0));
    let lasts = desk.said.as_ref().is_some_and(|s| s.left.is_none());
    let button = if lasts { 150.0 * desk.size() } else { 0.0 };
    let painter = ui.painter_at(rect);
    let mut top = inner.top();
    for (words, colour) in lines(desk) {
        let room = inner.bottom() - top;
        let mut size = LETTERS * desk.size();
        let wide = (inner.width() - button).max(100.0);
        let mut galley = painter.layout(words.clone(), FontId::proportional(size), colour, wide);
        // What is long is written smaller before it is left out.
        while galley.size().y > room + 2.0 && size > 0.8 * LETTERS * desk.size() {
            size *= 0.94;
            galley = painter.layout(words.clone(), FontId::proportional(size), colour, wide);
        }
        if galley.size().y > room + 2.0 && top > inner.top() {
            break;
        }
        painter.galley(pos2(inner.left(), top), galley.clone(), colour);
        top += galley.size().y + 2.0;
    }
    if lasts {
        let place = Rect::from_min_max(pos2(inner.right() - button, inner.top()), inner.max);
        let mut row = ui.new_child(
            UiBuilder::new()
                .max_rect(place)
                .layout(Layout::right_to_left(Align::Min)),
        );
        if bench::word(
            &mut row,
            words::I_HAVE_READ_IT,
            false,
            words::DISMISS_ESCAPE,
        )
        .clicked()
        {
            desk.said = None;
        }
    }
}
