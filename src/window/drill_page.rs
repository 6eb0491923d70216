//! The drill's page: who learns, what is asked, what came of it, and how it went so far.

use bevy_egui::egui::{RichText, TextEdit, Ui, WidgetInfo, WidgetType};

use super::desk::Desk;
use super::drill::{self, ROUND, Stage, Task};
use super::drill_judge::{Answer, WHY_STEP};
use super::drill_read::{self, Read};
use super::offence_page::heading;
use super::palette::*;
use crate::offence::LookKind;
use crate::possession::LookNow;

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
            read,
            score,
        } => shows(ui, desk, &answers, read.as_ref(), score),
        Stage::Over => over(ui, desk),
    }
    progress(ui, desk);
    ui.add_space(10.0);
    ui.label(RichText::new(CAUTION).color(QUIET).small());
}

fn idle(ui: &mut Ui, desk: &mut Desk) {
    let text = match desk.drill.task {
        Task::ReadTheCut => {
            "The floor freezes with the light off. Say whose cut behind his defender is on, and who is open for a pass; then the light tells."
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
        reading(ui, desk);
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
    judge(ui, desk);
}

/// Judge it, or leave.
fn judge(ui: &mut Ui, desk: &mut Desk) {
    ui.horizontal(|ui| {
        let judge = ui.button("Judge it").on_hover_text("enter");
        desk.mark("judge", &judge);
        if judge.clicked() {
            drill::go_on(desk);
        }
        if ui.button("Leave the round").clicked() {
            drill::leave(desk);
        }
    });
}

/// Whose cut is on, and who is open?
fn reading(ui: &mut Ui, desk: &mut Desk) {
    let holder = desk.picture().holder;
    ui.label("Whose cut behind his defender is on now?");
    ui.horizontal(|ui| {
        for who in (0..5).filter(|w| Some(*w) != holder) {
            let on = desk.drill.reading.cut == Some(Some(who));
            let name = format!("cut of {}", who + 1);
            let pressed = choice(ui, on, &(who + 1).to_string(), &name);
            if pressed {
                drill_read::says_cut(desk, Some(who));
            }
        }
        let on = desk.drill.reading.cut == Some(None);
        if choice(ui, on, "nobody", "nobody's cut") {
            drill_read::says_cut(desk, None);
        }
    });
    ui.label("And who is open for a pass? All of them.");
    ui.horizontal(|ui| {
        for who in (0..5).filter(|w| Some(*w) != holder) {
            let on = desk.drill.reading.open[who];
            let name = format!("{} is open", who + 1);
            if choice(ui, on, &(who + 1).to_string(), &name) {
                drill_read::says_open(desk, who);
            }
        }
    });
    judge(ui, desk);
}

/// A word that is chosen or not; `name` is for whoever cannot see to which question it belongs.
fn choice(ui: &mut Ui, on: bool, text: &str, name: &str) -> bool {
    let response = super::bench::word(ui, text, on, "");
    response.widget_info(|| WidgetInfo::selected(WidgetType::RadioButton, true, on, name));
    response.clicked()
}

fn shows(ui: &mut Ui, desk: &mut Desk, answers: &[Answer], read: Option<&Read>, score: f64) {
    heading(ui, &format!("{score:.0} of 100"));
    if let Some(read) = read {
        was(ui, read);
    }
    if !answers.is_empty() {
        let nothing = desk.length(drill::NOTHING);
        let text = format!(
            "The score is for the place alone: 100 on the model's spot, 0 from {nothing} off. What it leaves open is said beside it and is not in the score."
        );
        ui.label(RichText::new(text).color(QUIET).small());
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
        if !answer.left_open.is_empty() {
            let left: Vec<String> = answer.left_open.iter().map(words).collect();
            let text = format!("It left open: {}.", left.join(", "));
            ui.label(RichText::new(text).color(BALL).small());
        }
        ui.label(why(answer, &desk.length(WHY_STEP)));
    }
    if !answers.is_empty() && drill::is_told(desk) {
        ui.label("The light on the floor:");
        ui.horizontal(|ui| {
            for (models, text) in [(false, "as you put them"), (true, "as the model has them")] {
                let on = desk.drill.models == models;
                if super::bench::word(ui, text, on, "").clicked() {
                    drill::show_places(desk, models);
                }
            }
        });
    }
    let last = desk.drill.scores.len() >= ROUND;
    let next = ui.button(if last { "End the round" } else { "Next moment" });
    desk.mark("next", &next);
    if next.on_hover_text("enter").clicked() {
        drill::next(desk);
    }
}

/// Why the model has him there: what a step off would open.
fn why(answer: &Answer, step: &str) -> String {
    let Some(opens) = &answer.step else {
        return format!(
            "Why there: at this instant {step} in any direction opens hardly anything. He stands there for the next pass."
        );
    };
    let times = |share: f64| format!("{:.0}", 100.0 * share);
    let look = &opens.look;
    let (open, worth) = opens.before;
    let gains = match (look.kind, look.to) {
        (LookKind::Shot, _) => format!(
            "the shot would be worth {:.2} points, not {worth:.2}",
            look.value
        ),
        (LookKind::Drive, _) if look.openness - open > 0.01 => format!(
            "the lane to the rim would be free in {} of 100, not in {}",
            times(look.openness),
            times(open)
        ),
        (_, Some(to)) if look.openness - open > 0.01 => format!(
            "the {} to {to} would get there in {} of 100, not in {}",
            look.kind.word(),
            times(look.openness),
            times(open)
        ),
        _ => format!(
            "the {} would be worth {:.2} points, not {worth:.2}",
            words(look),
            look.value
        ),
    };
    let toward = match opens.toward {
        "" => "off",
        toward => toward,
    };
    format!("Why there: {step} {toward}, and {gains}.")
}

/// "skip pass to 4".
fn words(look: &LookNow) -> String {
    let never = if look.allowed {
        String::new()
    } else {
        format!(" (but {})", super::moment::NEVER)
    };
    match look.to {
        Some(to) => format!("{} to {to}{never}", look.kind.word()),
        None => format!("{}{never}", look.kind.word()),
    }
}

/// How the cut and the passes were, beside what he said.
fn was(ui: &mut Ui, read: &Read) {
    let list = |who: &mut dyn Iterator<Item = usize>| {
        let names: Vec<String> = who.map(|w| (w + 1).to_string()).collect();
        match names.as_slice() {
            [] => "nobody".to_string(),
            _ => names.join(" and "),
        }
    };
    let on = list(&mut read.on.iter().copied());
    let right = match read.said.cut.flatten() {
        Some(who) => read.on.contains(&who),
        None => read.on.is_empty(),
    };
    let said = if right { "Right" } else { "Not this time" };
    ui.label(RichText::new(format!("{said}: the cut was on for {on}.")).strong());
    let mates = || (0..5).filter(|w| *w != read.holder);
    let open = list(&mut mates().filter(|w| read.open[*w]));
    ui.label(format!("Open for a pass: {open}."));
    let missed = list(&mut mates().filter(|w| read.open[*w] && !read.said.open[*w]));
    let shut = list(&mut mates().filter(|w| !read.open[*w] && read.said.open[*w]));
    if missed != "nobody" {
        ui.label(RichText::new(format!("Open, and you did not say so: {missed}.")).color(WARN));
    }
    if shut != "nobody" {
        ui.label(RichText::new(format!("You said open, and it was shut: {shut}.")).color(WARN));
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
