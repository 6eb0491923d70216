//! The defence's page: the model, its numbers by relation to the ball, help and close-outs, and
//! what single defenders do differently.

use bevy_egui::egui::{ComboBox, DragValue, RichText, Ui};

use super::choice::choice;
use super::desk::Desk;
use super::lengths::length;
use super::numbers::{number, written};
use super::offence_page::heading;
use super::palette::*;
use crate::court::Units;
use crate::defence::{Defence, Gaze, Helper, Override, Relation, Stance, Stances, Switch};
use crate::offence::Offence;
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{cannot_meet, read_defence};

/// The shipped models that are sound and can meet this offence.
fn models_for(offence: &Offence) -> Vec<Defence> {
    let can = |d: &Defence| cannot_meet(offence, d).is_none();
    models().into_iter().filter(can).collect()
}

/// The shipped models that are sound.
fn models() -> Vec<Defence> {
    shipped::all(Kind::Defence)
        .filter_map(|file| read_defence(file.text, file.word).ok())
        .map(|read| read.value)
        .collect()
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let mut knob = String::new();
    let units = desk.units();
    ui.label("Play against");
    ui.horizontal_wrapped(|ui| {
        for model in models_for(&edit.offence) {
            let on = model.name == edit.defence.name;
            if choice(ui, on, &model.name)
                .on_hover_text(&model.note)
                .clicked()
                && !on
            {
                knob = format!("model {}", model.name);
                edit.defence = model;
            }
        }
    });
    if !edit.defence.note.is_empty() {
        ui.label(RichText::new(&edit.defence.note).color(QUIET).small());
    }
    heading(ui, "Where they stand");
    ui.label(
        RichText::new("Each place is a mix of man, ball and rim, drawn toward the midline, and kept within a gap from the man.")
            .color(QUIET)
            .small(),
    );
    for relation in Relation::ALL {
        let stance = stance_mut(&mut edit.defence.stances, relation);
        stance_row(ui, relation.word(), stance, units, &mut knob);
    }
    heading(ui, "Help");
    help(ui, &mut edit.defence, units, &mut knob);
    heading(ui, "What would another model do?");
    ui.label(
        RichText::new(
            "Marks on the floor where it would have each of them, while somebody holds the ball.",
        )
        .color(QUIET)
        .small(),
    );
    super::keys::models(ui, desk);
    heading(ui, "One defender otherwise");
    overrides(ui, &mut edit.defence, &mut knob);
    if edit != *desk.edit() {
        desk.change(edit, &knob);
    } else if ui.input(|i| i.pointer.any_released()) {
        desk.variation.let_go();
    }
}

fn stance_mut(stances: &mut Stances, relation: Relation) -> &mut Stance {
    match relation {
        Relation::OnBall => &mut stances.on_ball,
        Relation::OnePass => &mut stances.one_pass,
        Relation::TwoPasses => &mut stances.two_passes,
        Relation::PostBallSide => &mut stances.post_ball_side,
        Relation::PostWeakSide => &mut stances.post_weak_side,
        Relation::Cutter => &mut stances.cutter,
    }
}

fn stance_row(ui: &mut Ui, name: &str, stance: &mut Stance, units: Units, knob: &mut String) {
    ui.collapsing(name, |ui| {
        for (label, value, most) in [
            ("man", &mut stance.man, 1.0),
            ("ball", &mut stance.ball, 1.0),
            ("rim", &mut stance.rim, 1.0),
            ("drawn to the midline", &mut stance.midline, 1.0),
        ] {
            ui.horizontal(|ui| {
                let mut percent = *value * 100.0;
                let l = ui.label(label);
                let drag = DragValue::new(&mut percent)
                    .range(0.0..=most * 100.0)
                    .speed(0.5)
                    .max_decimals(0)
                    .suffix(" %");
                let field = written(ui, drag, number, "40 or 40 %");
                if field.labelled_by(l.id).changed() {
                    *value = (percent / 100.0).clamp(0.0, most);
                    *knob = format!("{name} {label}");
                }
            });
        }
        ui.horizontal(|ui| {
            let l = ui.label("gap from");
            let (least, most) = &mut stance.gap;
            let low = length(ui, least, 0.3..=*most, units).labelled_by(l.id);
            let l = ui.label("to");
            let high = length(ui, most, *least..=12.0, units).labelled_by(l.id);
            if low.changed() || high.changed() {
                *knob = format!("{name} gap");
            }
        });
        ui.horizontal(|ui| {
            ui.label("eyes on");
            for (gaze, word) in [
                (Gaze::Ball, "ball"),
                (Gaze::Man, "man"),
                (Gaze::Both, "both"),
            ] {
                if ui.radio_value(&mut stance.gaze, gaze, word).changed() {
                    *knob = format!("{name} gaze");
                }
            }
        });
        if ui
            .checkbox(&mut stance.deny, "a hand in the passing lane (deny)")
            .changed()
        {
            *knob = format!("{name} deny");
        }
    });
}

fn help(ui: &mut Ui, defence: &mut Defence, units: Units, knob: &mut String) {
    ui.horizontal_wrapped(|ui| {
        ui.label("A drive is met by");
        for (who, word) in [
            (Helper::Nobody, "nobody"),
            (Helper::LowMan, "the low man"),
            (Helper::Nearest, "the nearest"),
        ] {
            if ui.radio_value(&mut defence.help.who, who, word).changed() {
                *knob = "helper".into();
            }
        }
    });
    for (label, value, ends) in [
        (
            "when it is nearer to the rim than",
            &mut defence.help.within,
            1.0..=8.0,
        ),
        ("so far from the rim", &mut defence.help.depth, 0.5..=4.0),
        (
            "one pass away they stunt by",
            &mut defence.help.stunt,
            0.0..=2.0,
        ),
        (
            "close-outs stop short by",
            &mut defence.closeout.short,
            0.3..=3.0,
        ),
    ] {
        ui.horizontal_wrapped(|ui| {
            let l = ui.label(label);
            if length(ui, value, ends, units).labelled_by(l.id).changed() {
                *knob = label.into();
            }
        });
    }
    if ui
        .checkbox(
            &mut defence.help.rotate,
            "the next defender takes the helper's man",
        )
        .changed()
    {
        *knob = "rotate".into();
    }
    let mut on = defence.switch == Switch::OnScreens;
    if ui.checkbox(&mut on, "they switch on screens").changed() {
        defence.switch = if on { Switch::OnScreens } else { Switch::Never };
        *knob = "switch".into();
    }
}

/// A defender may take one stance from another model.
fn overrides(ui: &mut Ui, defence: &mut Defence, knob: &mut String) {
    let models: Vec<Defence> = models().into_iter().filter(|m| m.zone.is_none()).collect();
    for number in 1..=5u8 {
        let own = defence
            .overrides
            .iter()
            .find(|o| o.defender == number)
            .copied();
        let of = |m: &Defence| own.is_some_and(|o| o.one_pass == Some(m.stances.one_pass));
        let now = models.iter().find(|m| of(m)).map(|m| m.name.clone());
        let shown = match (&now, own) {
            (Some(name), _) => name.clone(),
            (None, Some(_)) => "otherwise".into(),
            (None, None) => "as the model says".into(),
        };
        ui.horizontal(|ui| {
            let label = ui.label(format!("X{number}"));
            ComboBox::from_id_salt(("own", number))
                .selected_text(shown)
                .width(240.0)
                .show_ui(ui, |ui| {
                    if ui
                        .selectable_label(own.is_none(), "as the model says")
                        .clicked()
                    {
                        defence.overrides.retain(|o| o.defender != number);
                        *knob = format!("own {number}");
                    }
                    for model in &models {
                        let on = now.as_ref() == Some(&model.name);
                        if ui.selectable_label(on, &model.name).clicked() {
                            defence.overrides.retain(|o| o.defender != number);
                            let s = model.stances;
                            defence.overrides.push(Override {
                                defender: number,
                                on_ball: Some(s.on_ball),
                                one_pass: Some(s.one_pass),
                                two_passes: Some(s.two_passes),
                                post_ball_side: Some(s.post_ball_side),
                                post_weak_side: Some(s.post_weak_side),
                                cutter: Some(s.cutter),
                            });
                            defence.overrides.sort_by_key(|o| o.defender);
                            *knob = format!("own {number} {}", model.name);
                        }
                    }
                })
                .response
                .labelled_by(label.id);
        });
    }
}
