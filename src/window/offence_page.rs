//! The offence's page: its rules as sentences, each with a switch and its numbers. A change plays
//! the possession again at once, from the same seed.

use bevy_egui::egui::{Checkbox, DragValue, RichText, Ui};

use super::desk::Desk;
use super::numbers::{number as number_of, written};
use super::palette::*;
use super::variation::{allow, numbers};
use crate::offence::tweak::Tweak;
use crate::offence::{LookKind, words};
use crate::scenario::read_tweak;
use crate::scenario::shipped::{self, Kind};

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let mut knob = String::new();
    ui.label(RichText::new(&edit.offence.name).strong());
    heading(ui, "The holder");
    patience(ui, &mut edit.offence, &mut knob);
    reading(ui, &mut edit.offence, &mut knob);
    heading(ui, "Start");
    ui.horizontal_wrapped(|ui| {
        for stand in &edit.offence.alignment {
            let ball = if stand.player == edit.offence.ball {
                ", ball"
            } else {
                ""
            };
            ui.label(format!(
                "{} {}{ball};",
                stand.player,
                words::place(stand.at)
            ));
        }
    });
    let text = if desk.aligning {
        "Done moving the start"
    } else {
        "Move the start on the floor"
    };
    if ui.button(text).clicked() {
        desk.aligning = !desk.aligning;
        desk.time.go(0.0, &desk.recording);
    }
    heading(ui, "Rules");
    let last = last_rule(desk);
    for i in 0..edit.offence.rules.len() {
        rule(ui, &mut edit, i, last.as_deref(), &mut knob, desk);
    }
    heading(ui, "Small changes to try");
    let wanted = tweaks(ui, &edit.offence);
    if let Some(tweak) = wanted {
        match tweak.apply(&edit.offence) {
            Ok(offence) => {
                edit.offence = offence;
                knob = tweak.name.clone();
                desk.say(format!("Put in: {}. Undo takes it back.", tweak.name));
            }
            Err(misfit) => desk.say(format!("It does not fit: {misfit}.")),
        }
    }
    if edit != *desk.edit() {
        if edit.offence.patience != desk.edit().offence.patience || edit.off != desk.edit().off {
            desk.settings.hint = desk.settings.hint.max(3);
        }
        desk.change(edit, &knob);
    } else if !ui.input(|i| i.pointer.any_down()) && ui.input(|i| i.pointer.any_released()) {
        desk.variation.let_go();
    }
}

/// A heading on a page.
pub fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(12.0);
    ui.label(RichText::new(text).color(BALL).heading());
    ui.add_space(2.0);
}

/// The name of the rule that fired last before the present moment.
fn last_rule(desk: &Desk) -> Option<String> {
    let moment = desk.recording.moment_before(desk.time.now)?;
    let rule = desk.recording.possession.moments[moment].last_rule?;
    let rules = &desk.recording.scenario.offence.rules;
    rules.get(rule).map(|r| r.name.clone())
}

fn patience(ui: &mut Ui, offence: &mut crate::offence::Offence, knob: &mut String) {
    let p = &mut offence.patience;
    for (label, value, ends, unit) in [
        (
            "He looks for",
            &mut p.hold,
            0.2..=6.0,
            " s, then moves the ball on",
        ),
        (
            "Takes what he gets after",
            &mut p.possession,
            5.0..=60.0,
            " s",
        ),
        (
            "A look must be worth",
            &mut p.asks_more,
            -0.5..=1.0,
            " points more than to go on",
        ),
    ] {
        ui.horizontal_wrapped(|ui| {
            let name = ui.label(label);
            let drag = DragValue::new(value)
                .range(ends)
                .speed(0.02)
                .custom_formatter(plain);
            let field = written(ui, drag, number_of, "2.5 or 2,5");
            if field.labelled_by(name.id).changed() {
                *knob = label.to_string();
            }
            ui.label(unit);
        });
    }
}

/// A number as a coach would write it: no noughts at its end.
fn plain(value: f64, _: std::ops::RangeInclusive<usize>) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}

fn reading(ui: &mut Ui, offence: &mut crate::offence::Offence, knob: &mut String) {
    ui.label("He may take:");
    ui.horizontal_wrapped(|ui| {
        for look in LookKind::ALL {
            let mut takes = offence.reading.contains(&look);
            if ui.checkbox(&mut takes, look.word()).changed() {
                allow(offence, look, takes);
                *knob = format!("take {}", look.word());
            }
        }
    });
}

fn rule(
    ui: &mut Ui,
    edit: &mut super::variation::Edit,
    i: usize,
    last: Option<&str>,
    knob: &mut String,
    desk: &Desk,
) {
    let name = edit.offence.rules[i].name.clone();
    let mut on = !edit.off.contains(&name);
    let fired = last == Some(name.as_str());
    let title = RichText::new(&name).color(if fired { BALL } else { TEXT });
    let title = if on {
        title.strong()
    } else {
        title.strikethrough()
    };
    let switch = ui.add(Checkbox::new(&mut on, title));
    if i == 0 {
        desk.mark("rule", &switch);
    }
    if switch.changed() {
        *knob = format!("switch {name}");
        if on {
            edit.off.remove(&name);
        } else {
            edit.off.insert(name.clone());
        }
    }
    let sentence = words::rule(&edit.offence.rules[i]);
    ui.indent(("rule", i), |ui| {
        ui.label(
            RichText::new(sentence)
                .color(if on { QUIET } else { faint(QUIET, 0.6) })
                .small(),
        );
        if fired {
            ui.label(RichText::new("this rule fired last").color(BALL).small());
        }
        let mut turned = numbers(&mut edit.offence.rules[i]);
        if !turned.is_empty() {
            ui.horizontal_wrapped(|ui| {
                for (k, number) in turned.iter_mut().enumerate() {
                    let label = ui.label(&number.label);
                    let drag = DragValue::new(number.value)
                        .range(number.least..=number.most)
                        .speed(0.02)
                        .custom_formatter(plain)
                        .suffix(" s");
                    let field = written(ui, drag, number_of, "2.5 or 2,5");
                    if field.labelled_by(label.id).changed() {
                        *knob = format!("{name} {k}");
                    }
                }
            });
        }
    });
    ui.add_space(4.0);
}

/// The shipped tweaks that fit; the one that was pressed.
fn tweaks(ui: &mut Ui, offence: &crate::offence::Offence) -> Option<Tweak> {
    let mut wanted = None;
    for file in shipped::all(Kind::Tweak) {
        let Ok(read) = read_tweak(file.text, file.word) else {
            continue;
        };
        let tweak = read.value;
        if tweak.apply(offence).is_err() {
            continue;
        }
        let button = ui.button(&tweak.name).on_hover_text(&tweak.note);
        if button.clicked() {
            wanted = Some(tweak);
        }
    }
    wanted
}
