//! The squads' page: who plays on either side, from a shipped squad or as typical players of a
//! level, what each can do, now and as it was saved, and a player's own sheet to write his measured
//! numbers into (`squad_sheet`).

use bevy_egui::egui::{ComboBox, Grid, RichText, TextEdit, Ui, WidgetInfo, WidgetType};

use super::bench;
use super::desk::Desk;
use super::offence_page::heading;
use super::palette::*;
use super::squad_sheet::sheet;
use super::variation::Side;
use super::words::squads as words;
use crate::court::{Court, CourtCode};
use crate::scenario::shipped::{self, Kind};
use crate::squad::{Level, Player, RawSquad, Squad};

/// What the page knows.
#[derive(Default)]
pub struct SquadPage {
    /// The player whose sheet is open: side (0 attack, 1 defence) and number.
    pub open: Option<(usize, u8)>,
    /// What was wrong with the last number that was written, and on whose sheet.
    pub wrong: Option<((usize, u8), String)>,
}

/// The two sides, by the names that a squad without one of its own has.
const TITLES: [&str; 2] = [words::ATTACK, words::DEFENCE];

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let mut knob = String::new();
    ui.horizontal(|ui| {
        let label = ui.label(words::COURT);
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
            })
            .response
            .labelled_by(label.id);
    });
    for (which, title) in TITLES.into_iter().enumerate() {
        heading(ui, title);
        let saved = match which {
            0 => desk.variation.saved().attackers.squad(title),
            _ => desk.variation.saved().defenders.squad(title),
        };
        let side = match which {
            0 => &mut edit.attackers,
            _ => &mut edit.defenders,
        };
        ComboBox::from_id_salt(title)
            .selected_text(side.word())
            .width(300.0)
            .show_ui(ui, |ui| choose(ui, side, &mut knob, title))
            .response
            .widget_info(|| {
                let says = words::who_plays(&title);
                WidgetInfo::labeled(WidgetType::ComboBox, true, says)
            });
        if let Some(squad) = side.squad(title) {
            players(ui, &squad, saved.as_ref(), which, desk);
        }
        written(ui, side, which, desk, &mut knob);
    }
    ui.add_space(8.0);
    ui.label(
        RichText::new(words::PRESS_A_PLAYERS_NAME)
            .color(QUIET)
            .small(),
    );
    if edit != *desk.edit() {
        desk.change(edit, &knob);
    } else if ui.input(|i| i.pointer.any_released()) {
        desk.variation.let_go();
    }
}

fn choose(ui: &mut Ui, side: &mut Side, knob: &mut String, title: &str) {
    for file in shipped::all(Kind::Squad) {
        let this = Side::Shipped(file.word.to_string());
        let word = words::invented(&this.word());
        if ui.selectable_label(*side == this, word).clicked() {
            *side = this;
            *knob = words::squad(&title);
        }
    }
    for level in Level::ALL {
        let this = Side::Typical(level);
        let word = words::typical(&level.word());
        if ui.selectable_label(*side == this, word).clicked() {
            *side = this;
            *knob = words::squad(&title);
        }
    }
}

/// The five, each with what he can do; where that differs from what is saved, both.
fn players(ui: &mut Ui, squad: &Squad, saved: Option<&Squad>, which: usize, desk: &mut Desk) {
    let mut differs = false;
    Grid::new(("players", which))
        .striped(true)
        .num_columns(5)
        .show(ui, |ui| {
            for head in ["", "height", words::TOP_SPEED, "reaction", words::FAR_SHOT] {
                ui.label(RichText::new(head).color(QUIET).small());
            }
            ui.end_row();
            for (i, player) in squad.players.iter().enumerate() {
                let own = desk.squads.open == Some((which, player.number));
                let name = bench::word(ui, &name(player), own, words::WHAT_WAS_MEASURED);
                if which == 0 && i == 0 {
                    desk.mark("sheet", &name);
                }
                if name.clicked() {
                    desk.squads.open = (!own).then_some((which, player.number));
                    desk.squads.wrong = None;
                }
                let before = saved.map(|s| &s.players[i]);
                for what in [
                    |p: &Player, d: &Desk| d.stature(p.limits.height),
                    |p: &Player, d: &Desk| d.speed(p.limits.top_speed),
                    |p: &Player, _: &Desk| words::s_word(&p.limits.reaction),
                    |p: &Player, _: &Desk| format!("{:.0} %", p.shooting.arc_three * 100.0),
                ] {
                    let now = what(player, desk);
                    match before.map(|p| what(p, desk)).filter(|was| *was != now) {
                        Some(was) => {
                            differs = true;
                            ui.vertical(|ui| {
                                ui.label(RichText::new(now).color(BALL).strong());
                                ui.label(RichText::new(words::was_was(&was)).color(QUIET).small());
                            });
                        }
                        None => {
                            ui.label(now);
                        }
                    }
                }
                ui.end_row();
            }
        });
    if differs {
        ui.label(RichText::new(words::WAS_AS_IT_IS).color(QUIET).small());
    }
}

/// "1 Amsel"; a typical player is only a number.
fn name(player: &Player) -> String {
    let number = player.number.to_string();
    if player.name.is_empty() || player.name == number {
        number
    } else {
        format!("{number} {}", player.name)
    }
}

/// The open sheet, and the squad's name once it is the coach's own.
fn written(ui: &mut Ui, side: &mut Side, which: usize, desk: &mut Desk, knob: &mut String) {
    let Some(mut raw) = side.raw(TITLES[which]) else {
        return;
    };
    let before = raw.clone();
    if matches!(side, Side::Sheet(_)) {
        ui.horizontal(|ui| {
            let label = ui.label(words::SQUAD);
            let field = TextEdit::singleline(&mut raw.name).desired_width(240.0);
            if ui.add(field).labelled_by(label.id).changed() {
                *knob = words::name(&(TITLES[which]));
            }
        });
    }
    if let Some((_, number)) = desk.squads.open.filter(|(w, _)| *w == which) {
        let wrong = desk.squads.wrong.clone();
        let wrong = wrong.filter(|(at, _)| *at == (which, number));
        sheet(ui, &mut raw, number, desk.units(), wrong.map(|w| w.1), knob);
    }
    if raw != before {
        put(raw, side, which, desk);
    }
}

/// Takes a changed squad over, or says what is wrong with it and leaves everything as it was.
fn put(mut raw: RawSquad, side: &mut Side, which: usize, desk: &mut Desk) {
    if matches!(side, Side::Typical(_)) {
        raw.name = words::OWN_SQUAD.into();
    }
    let at = desk.squads.open.unwrap_or((which, 1));
    match raw.text() {
        Ok(text) => {
            *side = Side::Sheet(text);
            desk.squads.wrong = None;
        }
        Err(unfit) => desk.squads.wrong = Some((at, unfit.to_string())),
    }
}
