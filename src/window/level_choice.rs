//! How old are the players? One chooser for both sides, in sight from the start; squads with names
//! and measured numbers are on the page Squads.

use bevy_egui::egui::{ComboBox, Frame, Margin, RichText, Ui};

use super::desk::Desk;
use super::palette::*;
use super::variation::{Edit, Side};
use crate::squad::Level;

/// What is said of who plays on both sides.
fn words(edit: &Edit) -> String {
    match (&edit.attackers, &edit.defenders) {
        (Side::Typical(a), Side::Typical(b)) if a == b => a.word().to_string(),
        (Side::Shipped(_), Side::Shipped(_)) => "varsity (invented squads)".into(),
        _ => "each side its own".into(),
    }
}

/// Shows the chooser.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut wanted: Option<Edit> = None;
    let mut back = false;
    Frame::new()
        .fill(faint(PAPER, 0.92))
        .corner_radius(6.0)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            let label = ui.label(RichText::new("How old are the players?").color(TEXT));
            let edit = desk.edit();
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
                .on_hover_text("Typical players of that level on both sides: how fast they run, throw and react. Each side by itself: page Squads.");
            desk.mark("level", &shown);
            if desk.variation.can_undo() {
                let undo = ui.small_button("undo the last change").on_hover_text("Ctrl+Z");
                desk.mark("undo", &undo);
                back = undo.clicked();
            }
        });
    if back {
        desk.undo();
    }
    if let Some(edit) = wanted {
        let said = words(&edit);
        desk.change(edit, "level of both sides");
        desk.say(format!(
            "Both sides are now: {said}. Undo (Ctrl+Z) takes it back."
        ));
    }
}
