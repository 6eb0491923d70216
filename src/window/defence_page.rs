//! The defence's page: the model, its numbers by relation to the ball, help and close-outs, and
//! what single defenders do differently.

use bevy_egui::egui::{ComboBox, DragValue, RichText, Ui};

use super::choice::choice;
use super::desk::Desk;
use super::lengths::length;
use super::numbers::{number, written};
use super::offence_page::heading;
use super::palette::*;
use super::words::defence as words;
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
    ui.label(words::PLAY_AGAINST);
    ui.horizontal_wrapped(|ui| {
        for model in models_for(&edit.offence) {
            let on = model.name == edit.defence.name;
            if choice(ui, on, &model.name)
                .on_hover_text(&model.note)
                .clicked()
                && !on
            {
                knob = words::model(&model.name);
                edit.defence = model;
            }
        }
    });
    if !edit.defence.note.is_empty() {
        ui.label(RichText::new(&edit.defence.note).color(QUIET).small());
    }
    heading(ui, words::WHERE_THEY_STAND);
    ui.label(RichText::new(words::EACH_PLACE_IS_A).color(QUIET).small());
    for relation in Relation::ALL {
        let stance = stance_mut(&mut edit.defence.stances, relation);
        stance_row(ui, relation.word(), stance, units, &mut knob);
    }
    heading(ui, words::HELP);
    help(ui, &mut edit.defence, units, &mut knob);
    heading(ui, words::WHAT_WOULD_ANOTHER_MODEL);
    ui.label(
        RichText::new(words::MARKS_ON_THE_FLOOR)
            .color(QUIET)
            .small(),
    );
    super::keys::models(ui, desk);
    heading(ui, words::ONE_DEFENDER_OTHERWISE);
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
            (words::DRAWN_TO_THE_MIDLINE, &mut stance.midline, 1.0),
        ] {
            ui.horizontal(|ui| {
                let mut percent = *value * 100.0;
                let l = ui.label(label);
                let drag = DragValue::new(&mut percent)
                    .range(0.0..=most * 100.0)
                    .speed(0.5)
                    .max_decimals(0)
                    .suffix(" %");
                let field = written(ui, drag, number, words::EXAMPLE_40_OR_40_PERCENT);
                if field.labelled_by(l.id).changed() {
                    *value = (percent / 100.0).clamp(0.0, most);
                    *knob = format!("{name} {label}");
                }
            });
        }
        ui.horizontal(|ui| {
            let l = ui.label(words::GAP_FROM);
            let (least, most) = &mut stance.gap;
            let low = length(ui, least, 0.3..=*most, units).labelled_by(l.id);
            let l = ui.label(words::TO);
            let high = length(ui, most, *least..=12.0, units).labelled_by(l.id);
            if low.changed() || high.changed() {
                *knob = words::gap(&name);
            }
        });
        ui.horizontal(|ui| {
            ui.label(words::EYES_ON);
            for (gaze, word) in [
                (Gaze::Ball, "ball"),
                (Gaze::Man, "man"),
                (Gaze::Both, "both"),
            ] {
                if ui.radio_value(&mut stance.gaze, gaze, word).changed() {
                    *knob = words::gaze(&name);
                }
            }
        });
        if ui
            .checkbox(&mut stance.deny, words::A_HAND_IN_THE)
            .changed()
        {
            *knob = words::deny(&name);
        }
    });
}

fn help(ui: &mut Ui, defence: &mut Defence, units: Units, knob: &mut String) {
    ui.horizontal_wrapped(|ui| {
        ui.label(words::A_DRIVE_IS_MET);
        for (who, word) in [
            (Helper::Nobody, "nobody"),
            (Helper::LowMan, words::THE_LOW_MAN),
            (Helper::Nearest, words::THE_NEAREST),
        ] {
            if ui.radio_value(&mut defence.help.who, who, word).changed() {
                *knob = "helper".into();
            }
        }
    });
    for (label, value, ends) in [
        (
            words::WHEN_IT_IS_NEARER,
            &mut defence.help.within,
            1.0..=8.0,
        ),
        (words::SO_FAR_FROM_THE, &mut defence.help.depth, 0.5..=4.0),
        (
            words::ONE_PASS_AWAY_THEY,
            &mut defence.help.stunt,
            0.0..=2.0,
        ),
        (
            words::CLOSE_OUTS_STOP_SHORT,
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
        .checkbox(&mut defence.help.rotate, words::THE_NEXT_DEFENDER_TAKES)
        .changed()
    {
        *knob = "rotate".into();
    }
    let mut on = defence.switch == Switch::OnScreens;
    if ui
        .checkbox(&mut on, words::THEY_SWITCH_ON_SCREENS)
        .changed()
    {
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
            (None, None) => words::AS_THE_MODEL_SAYS.into(),
        };
        ui.horizontal(|ui| {
            let label = ui.label(format!("X{number}"));
            ComboBox::from_id_salt(("own", number))
                .selected_text(shown)
                .width(240.0)
                .show_ui(ui, |ui| {
                    if ui
                        .selectable_label(own.is_none(), words::AS_THE_MODEL_SAYS)
                        .clicked()
                    {
                        defence.overrides.retain(|o| o.defender != number);
                        *knob = words::own(&number);
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
                            *knob = words::own_name(&number, &model.name);
                        }
                    }
                })
                .response
                .labelled_by(label.id);
        });
    }
}
