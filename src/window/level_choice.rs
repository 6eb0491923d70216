//! What is on the desk, always in sight: offence, defence, who plays, and whether it is saved. The level of both sides
//! is chosen here; squads with names and measured numbers are on the page Squads.

use bevy_egui::egui::{ComboBox, Frame, Margin, RichText, Ui};

use super::desk::Desk;
use super::palette::*;
use super::variation::{Edit, Side};
use super::words::squads as words;
use crate::report::clean;
use crate::squad::Level;

/// What is said of who plays on both sides.
fn words(edit: &Edit) -> String {
    match (&edit.attackers, &edit.defenders) {
        (Side::Typical(a), Side::Typical(b)) if a == b => a.word().to_string(),
        (Side::Shipped(_), Side::Shipped(_)) => words::VARSITY_INVENTED_SQUADS.into(),
        _ => words::EACH_SIDE_ITS_OWN.into(),
    }
}

/// Is it saved? In words.
pub fn saved(desk: &Desk) -> String {
    let file = desk.file.as_deref().and_then(|f| f.file_name());
    let file = file.map(|name| clean::line(&name.to_string_lossy()));
    match (file, desk.variation.changed()) {
        (Some(file), false) => file,
        (Some(file), true) => words::changed_not_saved(&file),
        (None, false) => words::AS_IT_SHIPS.into(),
        (None, true) => words::NOT_SAVED.into(),
    }
}

/// All of it in a line: "Four out against Help line, under 14; not saved".
pub fn line(desk: &Desk) -> String {
    let edit = desk.edit();
    words::against(
        &clean::line(&edit.offence.name),
        &clean::line(&edit.defence.name),
        &words(edit),
        &saved(desk),
    )
}

/// Shows what is on the desk, with the chooser.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut wanted: Option<Edit> = None;
    let mut back = false;
    Frame::new()
        .fill(faint(PAPER, 0.92))
        .corner_radius(6.0)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            let edit = desk.edit();
            ui.label(RichText::new(clean::line(&edit.offence.name)).color(TEXT));
            let against = words::against_name(&clean::line(&edit.defence.name));
            ui.label(RichText::new(against).color(TEXT));
            let label = ui.label(RichText::new(words::LEVEL).color(QUIET).small());
            let shown = ComboBox::from_id_salt("level")
                .selected_text(words(edit))
                .width(220.0 * desk.size().min(1.2))
                .height(480.0)
                .show_ui(ui, |ui| {
                    let demo = super::store::demo();
                    let own = words(edit) == words(&demo);
                    if ui.selectable_label(own, words(&demo)).clicked() {
                        wanted = Some(Edit {
                            attackers: demo.attackers.clone(),
                            defenders: demo.defenders.clone(),
                            ..edit.clone()
                        });
                    }
                    for level in Level::ALL {
                        let this = Side::Typical(level);
                        let on = edit.attackers == this && edit.defenders == this;
                        if ui.selectable_label(on, level.word()).clicked() {
                            wanted = Some(Edit {
                                attackers: this.clone(),
                                defenders: this,
                                ..edit.clone()
                            });
                        }
                    }
                })
                .response
                .labelled_by(label.id)
                .on_hover_text(words::TYPICAL_PLAYERS_OF_THAT);
            desk.mark("level", &shown);
            let colour = if desk.variation.changed() {
                BALL
            } else {
                QUIET
            };
            ui.label(RichText::new(saved(desk)).color(colour).small());
            if desk.variation.can_undo() {
                let undo = ui
                    .small_button(words::UNDO_THE_LAST_CHANGE)
                    .on_hover_text(words::CTRL_Z);
                desk.mark("undo", &undo);
                back = undo.clicked();
            }
        });
    if back {
        desk.undo();
    }
    if let Some(edit) = wanted {
        let said = words(&edit);
        desk.change(edit, words::LEVEL_OF_BOTH_SIDES);
        desk.say(words::both_sides_are_now(&said));
    }
}
