//! The drill's page: who learns, what is asked, what came of it, and how it went so far.

use bevy_egui::egui::{RichText, TextEdit, Ui};

use super::desk::Desk;
use super::drill::{self, Answer, ROUND, Stage, Task};
use super::offence_page::heading;
use super::palette::*;

/// What the program has no say in.
const CAUTION: &str = "On the real floor: warm up first, stop on any injury or suspected concussion, \
    and follow your league's and medical staff's rules. This is a drill for the eyes and claims no authority.";

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    ui.horizontal(|ui| {
        let label = ui.label("Learner");
        let field = TextEdit::singleline(&mut desk.drill.learner)
            .hint_text("name")
            .desired_width(200.0);
        ui.add(field).labelled_by(label.id);
    });
    ui.horizontal_wrapped(|ui| {
        for task in Task::ALL {
            let on = desk.drill.task == task;
            if ui.selectable_label(on, task.word()).clicked() && !on {
                desk.drill.task = task;
                desk.drill.stage = Stage::Idle;
                desk.put_back();
            }
        }
    });
    match desk.drill.stage.clone() {
        Stage::Idle => idle(ui, desk),
        Stage::Asks { who } => asks(ui, desk, &who),
        Stage::Shows {
            answers,
            cut,
            score,
        } => shows(ui, desk, &answers, cut, score),
        Stage::Over => over(ui, desk),
    }
    progress(ui, desk);
    ui.add_space(10.0);
    ui.label(RichText::new(CAUTION).color(QUIET).small());
}

fn idle(ui: &mut Ui, desk: &mut Desk) {
    let text = match desk.drill.task {
        Task::ReadTheCut => {
            "The floor freezes. Say whose backdoor cut is on: press him on the floor."
        }
        _ => {
            "The floor freezes. Drag the defender to where he should stand under the model, then have it judged."
        }
    };
    ui.label(text);
    ui.label(RichText::new(format!("Model: {}", desk.edit().defence.name)).color(QUIET));
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        let begin = ui.button(format!("Begin a round of {ROUND}"));
        desk.mark("begin", &begin);
        if begin.clicked() {
            drill::begin(desk);
        }
        let here = desk.moment().is_some() && !desk.time.running;
        let chosen = ui.add_enabled(here, bevy_egui::egui::Button::new("Begin with this moment"));
        if chosen.clicked() {
            desk.drill.chosen_here = true;
            drill::begin(desk);
        }
    });
}

fn asks(ui: &mut Ui, desk: &mut Desk, who: &[usize]) {
    let turn = desk.drill.scores.len() + 1;
    heading(ui, &format!("Moment {turn} of {ROUND}"));
    if desk.drill.task == Task::ReadTheCut {
        ui.label("Whose cut behind his defender is on now? Press him on the floor, or a number.");
        ui.horizontal(|ui| {
            for number in 1..=5usize {
                if ui.button(number.to_string()).clicked() {
                    drill::pick(desk, Some(number - 1));
                }
            }
            if ui.button("nobody").clicked() {
                drill::pick(desk, None);
            }
        });
        return;
    }
    for d in who {
        let man = desk.picture().guards[*d] + 1;
        let duty = desk.picture().relations[*d].word();
        ui.label(format!(
            "X{} guards {man}, {duty}. Drag X{} from the side to his place.",
            d + 1,
            d + 1
        ));
    }
    let judge = ui.button("Judge it");
    desk.mark("judge", &judge);
    if judge.clicked() {
        drill::reveal(desk);
    }
}

fn shows(
    ui: &mut Ui,
    desk: &mut Desk,
    answers: &[Answer],
    cut: Option<(Vec<usize>, Option<usize>)>,
    score: f64,
) {
    heading(ui, &format!("{score:.0} of 100"));
    if let Some((open, picked)) = cut {
        let names: Vec<String> = open.iter().map(|w| (w + 1).to_string()).collect();
        let right = picked.is_some_and(|p| open.contains(&p));
        let said = if right { "Right" } else { "Not this time" };
        ui.label(format!(
            "{said}: the cut was on for {}.",
            names.join(" and ")
        ));
    }
    for answer in answers {
        let number = answer.defender + 1;
        let off = desk.length(answer.off);
        let text = if answer.toward.is_empty() {
            format!("X{number}: right there, {off} off.")
        } else {
            format!("X{number}: {off} off, {}.", answer.toward)
        };
        ui.label(RichText::new(text).strong());
        if answer.left_open.is_empty() {
            ui.label(
                RichText::new("His place left nothing open that the model shuts.")
                    .color(QUIET)
                    .small(),
            );
        } else {
            let text = format!("It left open: {}.", answer.left_open.join(", "));
            ui.label(RichText::new(text).color(BALL).small());
        }
    }
    let last = desk.drill.scores.len() >= ROUND;
    let next = ui.button(if last { "End the round" } else { "Next moment" });
    desk.mark("next", &next);
    if next.clicked() {
        drill::next(desk);
    }
}

fn over(ui: &mut Ui, desk: &mut Desk) {
    let mean = desk.drill.scores.iter().sum::<f64>() / desk.drill.scores.len().max(1) as f64;
    heading(ui, &format!("Round over: {mean:.0} of 100"));
    if ui.button("Another round").clicked() {
        drill::begin(desk);
    }
}

fn progress(ui: &mut Ui, desk: &Desk) {
    if desk.drill.progress.is_empty() {
        return;
    }
    heading(ui, "So far");
    for (name, progress) in &desk.drill.progress {
        for (task, rounds) in &progress.rounds {
            let last: Vec<String> = rounds
                .iter()
                .rev()
                .take(6)
                .rev()
                .map(|r| format!("{r:.0}"))
                .collect();
            ui.label(format!("{name}, {task}: {}", last.join(", ")));
        }
    }
}
