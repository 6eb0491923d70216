//! The squads' page: who plays on either side, from a shipped squad or as typical players of a
//! level, and what each can do.

use bevy_egui::egui::{ComboBox, Grid, RichText, Ui};

use super::desk::Desk;
use super::offence_page::heading;
use super::palette::*;
use super::variation::{Side, level_word};
use crate::court::{Court, CourtCode};
use crate::scenario::shipped::{self, Kind};
use crate::squad::{Level, Squad};

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let mut knob = String::new();
    ui.horizontal(|ui| {
        ui.label("Court");
        let name = Court::of(edit.court).name;
        ComboBox::from_id_salt("court")
            .selected_text(name)
            .width(260.0)
            .show_ui(ui, |ui| {
                for code in CourtCode::ALL {
                    let name = Court::of(code).name;
                    if ui.selectable_value(&mut edit.court, code, name).changed() {
                        knob = "court".into();
                    }
                }
            });
    });
    for (title, side) in [
        ("Attack", &mut edit.attackers),
        ("Defence", &mut edit.defenders),
    ] {
        heading(ui, title);
        ComboBox::from_id_salt(title)
            .selected_text(side.word())
            .width(300.0)
            .show_ui(ui, |ui| choose(ui, side, &mut knob, title));
        if let Some(squad) = side.squad(title) {
            players(ui, &squad, title, desk);
        }
    }
    ui.add_space(8.0);
    ui.label(
        RichText::new("Your own players: measure a sprint, the lane-agility run and makes by zone, write them into a squad file, and open a scenario that names it.")
            .color(QUIET)
            .small(),
    );
    if edit != *desk.edit() {
        desk.change(edit, &knob);
    }
}

fn choose(ui: &mut Ui, side: &mut Side, knob: &mut String, title: &str) {
    for file in shipped::all(Kind::Squad) {
        let this = Side::Shipped(file.word.to_string());
        let word = format!("{} (invented)", this.word());
        if ui.selectable_label(*side == this, word).clicked() {
            *side = this;
            *knob = format!("{title} squad");
        }
    }
    for level in Level::ALL {
        let this = Side::Typical(level);
        let word = format!("typical {}", level_word(level));
        if ui.selectable_label(*side == this, word).clicked() {
            *side = this;
            *knob = format!("{title} squad");
        }
    }
}

fn players(ui: &mut Ui, squad: &Squad, title: &str, desk: &Desk) {
    Grid::new(("players", title))
        .striped(true)
        .num_columns(5)
        .show(ui, |ui| {
            for head in ["", "height", "top speed", "reaction", "far shot"] {
                ui.label(RichText::new(head).color(QUIET).small());
            }
            ui.end_row();
            for player in &squad.players {
                let name = if player.name.is_empty() {
                    player.number.to_string()
                } else {
                    format!("{} {}", player.number, player.name)
                };
                ui.label(name);
                ui.label(desk.stature(player.limits.height));
                ui.label(format!("{:.1} m/s", player.limits.top_speed));
                ui.label(format!("{:.2} s", player.limits.reaction));
                ui.label(format!("{:.0} %", player.shooting.arc_three * 100.0));
                ui.end_row();
            }
        });
}
