//! What a trial has brought, in sentences: there is room for so many rows before anything is known. All of it is in sight
//! at once: nothing of an answer is scrolled to.

use bevy_egui::egui::text::{LayoutJob, TextFormat};
use bevy_egui::egui::{TextStyle, Ui, vec2};

use super::palette::*;
use super::trial::Trial;
use super::trial_words::{answer, brief};
use super::words::offence as words;

/// How high so many rows are, points of the screen.
pub fn high(ui: &Ui, style: &TextStyle, rows: usize) -> f32 {
    let font = style.resolve(ui.style());
    let lines = vec!["x"; rows].join("\n");
    ui.painter().layout_no_wrap(lines, font, TEXT).size().y
}

/// All that is known, each sentence on a row of its own and in the colour of its news.
pub fn rows(ui: &Ui, trial: &Trial, style: &TextStyle) -> LayoutJob {
    run(ui, answer(trial), style, "\n")
}

/// The same without figures, one after the other: where the table stands beside it and there is little room.
pub fn in_brief(ui: &Ui, trial: &Trial, style: &TextStyle) -> LayoutJob {
    run(ui, brief(trial), style, " ")
}

fn run(ui: &Ui, said: Vec<(String, Option<bool>)>, style: &TextStyle, apart: &str) -> LayoutJob {
    let mut lines: Vec<_> = said
        .into_iter()
        .map(|(text, good)| match good {
            Some(true) => (text, BALL),
            Some(false) => (text, WARN),
            None => (text, TEXT),
        })
        .collect();
    if lines.is_empty() {
        lines.push((words::PLAYING_BOTH.to_owned(), QUIET));
    }
    let font = style.resolve(ui.style());
    let mut job = LayoutJob::default();
    job.wrap.max_width = ui.available_width();
    for (k, (text, colour)) in lines.into_iter().enumerate() {
        let begins = if k > 0 { apart } else { "" };
        let format = TextFormat::simple(font.clone(), colour);
        job.append(&format!("{begins}{text}"), 0.0, format);
    }
    job
}

/// Shows it: in so many rows at least.
pub fn show(ui: &mut Ui, trial: &Trial, style: &TextStyle, many: usize) {
    let room = vec2(ui.available_width(), high(ui, style, many));
    ui.allocate_ui(room, |ui| {
        ui.set_min_size(room);
        ui.label(rows(ui, trial, style));
    });
}
