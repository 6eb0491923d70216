//! The offence's page: its rules as sentences, each with a switch, its numbers and what became of its orders; a rule is
//! written anew by choosing its words. A change plays the possession again at once, from the same seed.

use bevy_egui::egui::style::ScrollAnimation;
use bevy_egui::egui::{
    Align, Button, Checkbox, ComboBox, DragValue, Label, Layout, RichText, Sense, Stroke,
    TextStyle, Ui, WidgetInfo, WidgetType, vec2,
};

use super::bench::word;
use super::desk::Desk;
use super::numbers::{number as number_of, written};
use super::palette::*;
use super::variation::{Edit, USUAL, WrittenAs, allow, numbers};
use super::words::offence as says;
use super::{effect, rule_begun, rule_builder};
use crate::offence::tweak::Tweak;
use crate::offence::{LookKind, Offence, words};
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{cannot_meet, read_offence, read_tweak};

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let mut knob = String::new();
    chooser(ui, desk, &mut edit, &mut knob);
    section(ui, desk, &mut edit, &mut knob);
    // In a low window the page begins with it, and a rule that is being written says it in brief.
    if desk.low && desk.effects.trial().is_some() && desk.builder.open.is_none() {
        effect::show(ui, desk);
    }
    heading(ui, says::RULES);
    rules(ui, desk, &mut edit, &mut knob);
    if edit != *desk.edit() {
        if edit.offence.patience != desk.edit().offence.patience || edit.off != desk.edit().off {
            desk.settings.hint = desk.settings.hint.max(3);
        }
        desk.change(edit, &knob);
    } else if !ui.input(|i| i.pointer.any_down()) && ui.input(|i| i.pointer.any_released()) {
        desk.variation.let_go();
    }
}

/// What of an offence is not a rule, one thing at a time.
const SECTIONS: [&str; 3] = [
    says::THE_HOLDER,
    says::THE_START,
    says::SMALL_CHANGES_TO_TRY,
];

/// Shows what is asked for beside the rules.
fn section(ui: &mut Ui, desk: &mut Desk, edit: &mut Edit, knob: &mut String) {
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        for (k, name) in SECTIONS.iter().enumerate() {
            let on = desk.builder.section == Some(k);
            if word(ui, name, on, "").clicked() {
                desk.builder.section = (!on).then_some(k);
            }
        }
    });
    match desk.builder.section {
        Some(0) => {
            patience(ui, &mut edit.offence, knob);
            reading(ui, &mut edit.offence, knob);
        }
        Some(1) => start(ui, desk, edit),
        Some(_) => {
            let Some(tweak) = tweaks(ui, &edit.offence) else {
                return;
            };
            match tweak.apply(&edit.offence) {
                Ok(offence) => {
                    edit.offence = offence;
                    knob.clone_from(&tweak.name);
                    desk.say(says::put_in_undo_takes(&tweak.name));
                }
                Err(misfit) => desk.say(says::it_does_not_fit(&misfit)),
            }
        }
        None => {}
    }
}

/// Who stands where as a possession begins.
fn start(ui: &mut Ui, desk: &mut Desk, edit: &Edit) {
    ui.horizontal_wrapped(|ui| {
        for stand in &edit.offence.alignment {
            let ball = if stand.player == edit.offence.ball {
                says::BALL
            } else {
                ""
            };
            let place = words::place(stand.at);
            ui.label(format!("{} {place}{ball};", stand.player));
        }
    });
    let text = if desk.aligning {
        says::DONE_MOVING_THE_START
    } else {
        says::MOVE_THE_START_ON
    };
    if ui.button(text).clicked() {
        desk.aligning = !desk.aligning;
        desk.time.go(0.0, &desk.recording);
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
            says::THE_BALL_STAYS_WITH,
            &mut p.hold,
            0.2..=6.0,
            says::S_THEN_MOVES_THE,
        ),
        (
            says::TAKES_WHAT_IS_THERE,
            &mut p.possession,
            5.0..=60.0,
            says::S_WORD,
        ),
        (
            says::A_LOOK_MUST_BE,
            &mut p.asks_more,
            -0.5..=1.0,
            says::POINTS_MORE_THAN_TO,
        ),
    ] {
        ui.horizontal_wrapped(|ui| {
            let name = ui.label(label);
            let drag = DragValue::new(value)
                .range(ends)
                .speed(0.02)
                .custom_formatter(plain);
            let field = written(ui, drag, number_of, says::EXAMPLE_2_5_OR_2);
            if field.labelled_by(name.id).changed() {
                *knob = label.to_string();
            }
            ui.label(unit);
        });
    }
    ui.horizontal_wrapped(|ui| {
        let name = ui.label(says::BEFORE_A_SHOT);
        let drag = DragValue::new(&mut p.passes_first)
            .range(0..=20)
            .speed(0.05);
        if ui.add(drag).labelled_by(name.id).changed() {
            *knob = says::BEFORE_A_SHOT.to_string();
        }
        ui.label(says::PASSES_ARE_THROWN);
    });
}

/// A number as a coach would write it: no noughts at its end.
fn plain(value: f64, _: std::ops::RangeInclusive<usize>) -> String {
    format!("{}", (value * 100.0).round() / 100.0)
}

fn reading(ui: &mut Ui, offence: &mut crate::offence::Offence, knob: &mut String) {
    ui.label(says::WITH_THE_BALL_A);
    ui.horizontal_wrapped(|ui| {
        for look in LookKind::ALL {
            let mut takes = offence.reading.contains(&look);
            if ui.checkbox(&mut takes, look.word()).changed() {
                allow(offence, look, takes);
                *knob = says::take(&look.word());
            }
        }
    });
}

/// Another offence: a shipped one, or one without rules.
fn chooser(ui: &mut Ui, desk: &Desk, edit: &mut Edit, knob: &mut String) {
    let mut wanted: Option<(Offence, WrittenAs)> = None;
    let label = ui.label(says::THE_OFFENCE);
    let shown = ComboBox::from_id_salt("offence")
        .selected_text(&edit.offence.name)
        .width(ui.available_width() - 20.0)
        .height(420.0)
        .show_ui(ui, |ui| {
            // First, so that it is in sight however many come with the program.
            if ui
                .selectable_label(false, says::A_NEW_ONE_WITHOUT)
                .on_hover_text(says::FIVE_PLAYERS_OUTSIDE_YOU)
                .clicked()
            {
                wanted = Some((blank(), WrittenAs::default()));
            }
            for file in shipped::all(Kind::Offence).chain(shipped::DRILLS) {
                let Ok(read) = read_offence(file.text, file.word) else {
                    continue;
                };
                if cannot_meet(&read.value, &edit.defence).is_some() {
                    continue;
                }
                let on = read.value.name == edit.offence.name;
                if ui.selectable_label(on, &read.value.name).clicked() {
                    wanted = Some((read.value, WrittenAs(file.text.to_owned())));
                }
            }
        });
    desk.mark("offence", &shown.response);
    shown.response.labelled_by(label.id);
    if let Some((offence, written)) = wanted {
        edit.offence = offence;
        edit.written = written;
        edit.off.clear();
        *knob = "offence".into();
    }
}

/// An offence without rules: five players outside, every look allowed.
pub fn blank() -> Offence {
    use crate::offence::{By, Patience, Place, Stand};
    let places = [
        Place::Top,
        Place::Wing(By::Ball),
        Place::Wing(By::Weak),
        Place::Corner(By::Ball),
        Place::Corner(By::Weak),
    ];
    let stand = |(player, at)| Stand { player, at };
    Offence {
        name: says::NEW_OFFENCE.into(),
        note: String::new(),
        players: 5,
        ball: 1,
        alignment: (1..=5).zip(places).map(stand).collect(),
        keep_filled: places.to_vec(),
        rules: Vec::new(),
        reading: USUAL.to_vec(),
        drive_from: vec![Place::Any],
        shots_from: Vec::new(),
        patience: Patience::default(),
    }
}

fn rules(ui: &mut Ui, desk: &mut Desk, edit: &mut Edit, knob: &mut String) {
    let add = word(ui, says::ADD_A_RULE, false, says::WRITE_A_RULE_OF);
    desk.mark("add", &add);
    if add.clicked() {
        match rule_begun::add(edit) {
            Some(i) => {
                desk.builder.turn_to(Some(i));
                *knob = says::A_NEW_RULE.into();
            }
            None => desk.say(says::NO_RULE_CAN_BE),
        }
    }
    let last = last_rule(desk);
    // A rule that has just been added is written where the eye is.
    let open = desk.builder.open.filter(|i| *i < edit.offence.rules.len());
    let others = (0..edit.offence.rules.len()).filter(|i| Some(*i) != open);
    for i in open.into_iter().chain(others).collect::<Vec<_>>() {
        if i < edit.offence.rules.len() {
            rule(ui, desk, edit, i, last.as_deref(), knob);
        }
        // Whoever is first here is not so in the offence: its own place is said with it.
        if Some(i) == open && edit.offence.rules.len() > 1 {
            let text = says::THE_OTHER_RULES;
            ui.label(RichText::new(text).color(QUIET));
        }
    }
}

/// So long before an order ends it is shown, seconds: how it comes to that is to be seen.
const LEADS: f64 = 0.6;

fn rule(
    ui: &mut Ui,
    desk: &mut Desk,
    edit: &mut Edit,
    i: usize,
    last: Option<&str>,
    knob: &mut String,
) {
    let name = edit.offence.rules[i].name.clone();
    let mut on = !edit.off.contains(&name);
    let open = desk.builder.open == Some(i);
    let fired = last == Some(name.as_str());
    let row = ui.horizontal(|ui| {
        ui.spacing_mut().interact_size.x = 0.0;
        let switch = ui
            .add(Checkbox::without_text(&mut on))
            .on_hover_text(says::ON_OR_OFF);
        let play = says::play(&name);
        switch.widget_info(|| WidgetInfo::selected(WidgetType::Checkbox, true, on, &play));
        if open {
            let (renamed, ends) = being_written(ui, desk, edit, i);
            return (switch, renamed, ends);
        }
        let title = RichText::new(&name).color(if fired { BALL } else { TEXT });
        let title = match on {
            true => title.strong(),
            false => title.strikethrough(),
        };
        ui.add(Label::new(title).wrap());
        (switch, false, false)
    });
    let (switch, renamed, ends) = row.inner;
    if renamed {
        *knob = says::rule(&i);
    }
    let name = edit.offence.rules[i].name.clone();
    if desk.builder.seek == Some(i) {
        // Its whole sentence comes into sight, and what it brings; when it is finished, the rule among the others.
        desk.builder.seek = None;
        // At once: a page that glides is under the pointer of whoever presses the next thing.
        switch.scroll_to_me_animation(Some(Align::Min), ScrollAnimation::none());
    }
    if i == 0 {
        desk.mark("rule", &switch);
    }
    if switch.changed() {
        *knob = says::switch(&name);
        if on {
            edit.off.remove(&name);
        } else {
            edit.off.insert(name.clone());
        }
    }
    let sentence = words::rule(&edit.offence.rules[i]);
    ui.indent(("rule", i), |ui| {
        match desk.builder.problem.as_ref().filter(|_| open) {
            // What is played still is the old sentence: it is not to be taken for what is being written.
            Some(problem) => {
                let text = says::not_played_yet(&problem);
                ui.label(RichText::new(text).color(WARN));
            }
            None => {
                let colour = if on { QUIET } else { faint(QUIET, 0.6) };
                ui.label(RichText::new(sentence).color(colour).small());
            }
        }
        if open && desk.low {
            effect::brief(ui, desk);
        }
        if open {
            if rule_builder::show(ui, desk, edit, i) {
                *knob = says::rule(&i);
            }
        } else {
            turned(ui, edit, i, knob);
        }
        buttons(ui, desk, edit, (i, fired), knob);
        // It has its row though it is off: what is pressed next does not move.
        if !on {
            effect::no_account(ui);
        } else if let Some((seed, time)) = effect::account(ui, desk, &name) {
            desk.show_at(seed, (time - LEADS).max(0.0));
            let now = desk.time.now;
            desk.say_here(says::possession_the_order_ends(&seed, &now, &time));
        }
    });
    if ends {
        desk.builder.turn_to(None);
    }
    ui.add_space(4.0);
}

/// Room for the outline of a button at the edge of the page, points of the screen.
const EDGE_OF_FIELD: f32 = 6.0;

/// The name of a rule that is being written, and what ends the writing, each always at its place: nothing that is pressed
/// next moves as the name is written. Says whether the rule was renamed, and whether it is finished.
fn being_written(ui: &mut Ui, desk: &mut Desk, edit: &mut Edit, i: usize) -> (bool, bool) {
    let high = ui.spacing().interact_size.y;
    let room = vec2(ui.available_width() - EDGE_OF_FIELD, high);
    let row = Layout::right_to_left(Align::Center);
    let shown = ui.allocate_ui_with_layout(room, row, |ui| {
        let ready = Button::new("done").small().stroke(Stroke::new(1.0, BALL));
        let ready = ui.add(ready).on_hover_text(says::THE_SENTENCE_IS_FINISHED);
        let renamed = rule_builder::name(ui, desk, edit, i);
        (renamed, ready.clicked())
    });
    shown.inner
}

/// That the rule fired last: it has its room always, as it comes and goes while the possession runs.
fn fired_last(ui: &mut Ui, fired: bool) {
    let font = TextStyle::Small.resolve(ui.style());
    let text = says::FIRED_LAST.to_owned();
    let galley = ui.painter().layout_no_wrap(text, font, BALL);
    let (rect, response) = ui.allocate_exact_size(galley.size(), Sense::hover());
    if fired {
        let name = || WidgetInfo::labeled(WidgetType::Label, true, says::FIRED_LAST);
        response.widget_info(name);
        ui.painter().galley(rect.min, galley, BALL);
    }
}

/// The numbers of a rule that can be turned.
fn turned(ui: &mut Ui, edit: &mut Edit, i: usize, knob: &mut String) {
    let name = edit.offence.rules[i].name.clone();
    let mut turned = numbers(&mut edit.offence.rules[i]);
    if turned.is_empty() {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        for (k, number) in turned.iter_mut().enumerate() {
            let label = ui.label(&number.label);
            let drag = DragValue::new(number.value)
                .range(number.least..=number.most)
                .speed(0.02)
                .custom_formatter(plain)
                .suffix(says::S_WORD);
            let field = written(ui, drag, number_of, says::EXAMPLE_2_5_OR_2);
            if field.labelled_by(label.id).changed() {
                *knob = format!("{name} {k}");
            }
        }
    });
}

/// What can be done with a rule as a whole.
fn buttons(
    ui: &mut Ui,
    desk: &mut Desk,
    edit: &mut Edit,
    (i, fired): (usize, bool),
    knob: &mut String,
) {
    let (open, count) = (desk.builder.open == Some(i), edit.offence.rules.len());
    ui.horizontal_wrapped(|ui| {
        if !open && word(ui, "rewrite", false, says::PUT_THE_SENTENCE_TOGETHER).clicked() {
            desk.builder.turn_to(Some(i));
        }
        if open {
            let place = says::place_of(&(i + 1), &count);
            ui.label(RichText::new(place).color(QUIET));
        }
        for (text, to) in [("earlier", i.checked_sub(1)), ("later", Some(i + 1))] {
            let to = to.filter(|to| *to < count);
            let hint = says::RULES_ANSWER_AN_EVENT;
            let button = ui.add_enabled_ui(to.is_some(), |ui| word(ui, text, false, hint));
            if button.inner.clicked()
                && let Some(to) = to
            {
                edit.offence.rules.swap(i, to);
                if open {
                    desk.builder.turn_to(Some(to));
                }
                *knob = says::move_word(&i, &to);
            }
        }
        if word(ui, says::TAKE_OUT, false, says::UNDO_BRINGS_IT_BACK).clicked() {
            let gone = edit.offence.rules.remove(i);
            edit.off.remove(&gone.name);
            desk.builder.turn_to(None);
            *knob = says::take_out(&gone.name);
        }
        fired_last(ui, fired);
    });
}

/// The shipped tweaks that fit; the one that was pressed.
fn tweaks(ui: &mut Ui, offence: &crate::offence::Offence) -> Option<Tweak> {
    let mut wanted = None;
    let text = says::EACH_ADDS_OR_CHANGES;
    ui.label(RichText::new(text).color(QUIET).small());
    for file in shipped::all(Kind::Tweak) {
        let Ok(read) = read_tweak(file.text, file.word) else {
            continue;
        };
        let tweak = read.value;
        if tweak.apply(offence).is_err() {
            continue;
        }
        let pressed = ui.button(&tweak.name).clicked();
        ui.label(RichText::new(&tweak.note).color(QUIET).small());
        ui.add_space(3.0);
        if pressed {
            wanted = Some(tweak);
        }
    }
    wanted
}
