//! The drills' page: what is drilled and how fast, what is asked, what came of it, and how it went so far.

use bevy_egui::egui::{Button, Grid, ProgressBar, RichText, TextEdit, Ui};

use super::choice::{choice, named};
use super::desk::Desk;
use super::drill::{self, ROUND, Speed, Stage, Task};
use super::drill_judge::{Answer, WHY_STEP};
use super::drill_place;
use super::drill_read::{self, Read};
use super::drill_said::{gains, names, told, verdict};
use super::drill_where::{self, Gone};
use super::offence_page::heading;
use super::palette::*;
use super::words::drills as words;
use crate::report::clean;

/// What the program has no say in.
const CAUTION: &str = words::ON_THE_REAL_FLOOR;

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    match desk.drill.stage.clone() {
        Stage::Idle => idle(ui, desk),
        Stage::Looks => looks(ui, desk),
        Stage::Runs { .. } => runs(ui, desk),
        Stage::Asks { who } => asks(ui, desk, &who),
        Stage::Shows {
            answers,
            read,
            gone,
            score,
        } => shows(ui, desk, &answers, (read.as_ref(), gone.as_ref()), score),
        Stage::Over => over(ui, desk),
    }
    ui.add_space(10.0);
    ui.label(RichText::new(CAUTION).color(QUIET).small());
}

fn idle(ui: &mut Ui, desk: &mut Desk) {
    ui.horizontal(|ui| {
        let label = ui.label(words::LEARNER);
        let field = TextEdit::singleline(&mut desk.drill.learner)
            .hint_text(words::NAME)
            .desired_width(200.0);
        ui.add(field).labelled_by(label.id);
    });
    tasks(ui, desk, words::FOR_DEFENDERS_WHICH_DUTY, &Task::DEFENDERS);
    tasks(ui, desk, words::FOR_ATTACKERS, &Task::ATTACKERS);
    ui.label(RichText::new(words::HOW_FAST).color(BALL));
    ui.horizontal_wrapped(|ui| {
        for speed in Speed::ALL {
            if choice(ui, desk.drill.speed == speed, speed.word()).clicked() {
                desk.drill.speed = speed;
            }
        }
    });
    let told = match (desk.drill.task, desk.drill.speed.pace()) {
        (Task::Read, _) => words::THE_FLOOR_FREEZES_WITH,
        (Task::Where, _) => words::THE_FLOOR_FREEZES_AS,
        (_, None) => words::THE_FLOOR_FREEZES_WITHOUT,
        (_, Some(_)) => words::THE_POSSESSION_COMES_WITHOUT,
    };
    ui.label(told);
    if let Some((_, seconds)) = desk.drill.speed.pace() {
        let text = words::you_have_seconds_for(&seconds);
        ui.label(RichText::new(text).color(QUIET));
    }
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        let begin = ui.button(words::begin_a_round_of(&ROUND));
        desk.mark("begin", &begin);
        if begin.clicked() {
            drill::begin(desk);
        }
        let here = desk.moment().is_some() && !desk.time.running;
        let chosen = ui.add_enabled(here, Button::new(words::BEGIN_WITH_THIS_MOMENT));
        if chosen.clicked() {
            desk.drill.chosen_here = true;
            drill::begin(desk);
        }
    });
    progress(ui, desk);
}

/// A row of tasks to choose from.
fn tasks(ui: &mut Ui, desk: &mut Desk, head: &str, tasks: &[Task]) {
    ui.label(RichText::new(head).color(BALL));
    ui.horizontal_wrapped(|ui| {
        for task in tasks {
            let word = choice(ui, desk.drill.task == *task, task.word());
            if word.on_hover_text(task.means()).clicked() {
                desk.drill.task = *task;
            }
        }
    });
    // What it means is said of what is chosen; of the others where the pointer is.
    if tasks.contains(&desk.drill.task) {
        let means = desk.drill.task.means();
        ui.label(RichText::new(means).color(QUIET).small());
    }
}

/// Which moment of the round it is.
fn turn(ui: &mut Ui, desk: &Desk) {
    let turn = desk.drill.scores.len() + 1;
    let task = desk.drill.task.word();
    heading(ui, &words::moment_of(&turn, &ROUND, &task));
}

fn looks(ui: &mut Ui, desk: &mut Desk) {
    turn(ui, desk);
    ui.label(RichText::new(words::LOOKING_FOR_A_MOMENT).color(QUIET));
    leave(ui, desk);
}

fn runs(ui: &mut Ui, desk: &mut Desk) {
    turn(ui, desk);
    ui.label(words::WATCH_IT_FREEZES_IN);
    leave(ui, desk);
}

fn leave(ui: &mut Ui, desk: &mut Desk) {
    if ui.button(words::LEAVE_THE_ROUND).clicked() {
        drill::leave(desk);
    }
}

fn asks(ui: &mut Ui, desk: &mut Desk, who: &[usize]) {
    turn(ui, desk);
    if let (Some(left), Some((_, all))) = (desk.drill.left, desk.drill.speed.pace()) {
        let bar = ProgressBar::new(left / all)
            .fill(DEFENDER)
            .text(RichText::new(words::s_left(&left)).color(INK));
        ui.add(bar);
    }
    match desk.drill.task {
        Task::Read => reading(ui, desk),
        Task::Where => going(ui, desk),
        _ => placing(ui, desk, who),
    }
    ui.horizontal(|ui| {
        let judge = ui.button(words::JUDGE_IT).on_hover_text(words::ENTER);
        desk.mark("judge", &judge);
        if judge.clicked() {
            drill::go_on(desk);
        }
        leave(ui, desk);
    });
}

/// Where does each of these stand?
fn placing(ui: &mut Ui, desk: &Desk, who: &[usize]) {
    let picture = desk.picture();
    for d in who {
        let (number, player) = (d + 1, picture.guards[*d] + 1);
        let job = match desk.drill.task.duty() {
            Some(_) => desk.drill.task.word(),
            None => picture.relations[*d].word(),
        };
        ui.label(words::x_guards(&number, &player, &job));
    }
    let text = match who {
        [only] => words::you_are_x_click(&(only + 1)),
        _ => words::DRAG_EACH_OF_THEM.to_owned(),
    };
    ui.label(text);
}

/// Where does this player go?
fn going(ui: &mut Ui, desk: &Desk) {
    let Some(goes) = desk.drill.goes else { return };
    let number = goes.who + 1;
    ui.label(drill_where::happened(desk, &goes));
    ui.label(words::you_are_click_where(&number));
}

/// Whose cut is on, and who is open?
fn reading(ui: &mut Ui, desk: &mut Desk) {
    let holder = desk.picture().holder;
    ui.label(words::WHOSE_CUT_BEHIND_A);
    let mates = desk.recording.cast.five();
    let mates: Vec<usize> = mates.filter(|w| Some(*w) != holder).collect();
    ui.horizontal(|ui| {
        for &who in &mates {
            let on = desk.drill.reading.cut == Some(Some(who));
            let name = words::cut_of(&(who + 1));
            if named(ui, on, &(who + 1).to_string(), &name).clicked() {
                drill_read::says_cut(desk, Some(who));
            }
        }
        let on = desk.drill.reading.cut == Some(None);
        if named(ui, on, "nobody", words::NOBODYS_CUT).clicked() {
            drill_read::says_cut(desk, None);
        }
    });
    ui.label(words::AND_WHO_IS_OPEN);
    ui.horizontal(|ui| {
        for who in mates {
            let on = desk.drill.reading.open[who];
            let name = words::is_open(&(who + 1));
            if named(ui, on, &(who + 1).to_string(), &name).clicked() {
                drill_read::says_open(desk, who);
            }
        }
    });
}

fn shows(
    ui: &mut Ui,
    desk: &mut Desk,
    answers: &[Answer],
    (read, gone): (Option<&Read>, Option<&Gone>),
    score: f64,
) {
    heading(ui, &words::of_100(&score));
    // What leads on stays in sight, however much is told.
    let on = leads_on(ui, desk);
    if let Some(read) = read {
        was(ui, read);
    }
    if let Some(gone) = gone {
        went(ui, desk, gone);
    }
    for answer in answers {
        judged(ui, desk, answer);
    }
    if let [answer] = answers {
        rule(ui, desk, answer);
    }
    if !answers.is_empty() && drill::is_told(desk) {
        steps(ui, desk, answers);
        // The same test that gave the score says what it is for.
        let (full, far): (Vec<&Answer>, Vec<&Answer>) = answers.iter().partition(|a| a.shuts_more);
        if !full.is_empty() {
            let text = RichText::new(words::THE_SCORE_IS_FULL);
            ui.label(text.color(QUIET).small());
        }
        if !far.is_empty() {
            let text = words::the_score_goes_by(&desk.length(drill::NOTHING));
            ui.label(RichText::new(text).color(QUIET).small());
        }
    }
    if on {
        drill::next(desk);
    }
}

/// The button that leads to the next moment, or to the end of the round. True if it was pressed.
fn leads_on(ui: &mut Ui, desk: &Desk) -> bool {
    let last = desk.drill.scores.len() >= ROUND;
    let next = ui.button(if last {
        words::END_THE_ROUND
    } else {
        words::NEXT_MOMENT
    });
    desk.mark("next", &next);
    next.on_hover_text(words::ENTER).clicked()
}

/// How far off, which way, and what that opens.
fn judged(ui: &mut Ui, desk: &Desk, answer: &Answer) {
    let text = verdict(answer, &|metres| desk.length(metres));
    ui.label(RichText::new(text).strong());
    for (against, text) in told(answer) {
        ui.label(RichText::new(text).color(if against { WARN } else { TEXT }));
    }
}

/// The defence's own rule for the place.
fn rule(ui: &mut Ui, desk: &Desk, answer: &Answer) {
    let moment = desk.moment().filter(|_| drill::is_told(desk));
    let Some(moment) = moment else { return };
    let length = |metres| desk.length(metres);
    let text = drill_place::rule(&desk.recording, moment, answer, &length);
    ui.label(text);
}

/// What a step off the right place opens; each can be shown on the floor with its light.
fn steps(ui: &mut Ui, desk: &mut Desk, answers: &[Answer]) {
    ui.label(RichText::new(words::ON_THE_FLOOR_WITH).color(QUIET));
    ui.horizontal(|ui| {
        for (shown, text) in [
            (None, words::AS_YOU_PUT_IT),
            (Some(0), words::THE_RIGHT_PLACE),
        ] {
            if choice(ui, desk.drill.shown == shown, text).clicked() {
                drill::show_places(desk, shown);
            }
        }
    });
    let step = desk.length(WHY_STEP);
    let all = answers.iter().flat_map(|a| {
        let named = names(a).into_iter().zip(&a.opens);
        named.map(move |(name, opens)| (a, name, opens))
    });
    let mut any = false;
    for (k, (answer, name, opens)) in all.enumerate() {
        if !any {
            let text = words::why_there_what_a(&step);
            ui.label(RichText::new(text).color(BALL));
        }
        any = true;
        let of = match answers {
            [_] => String::new(),
            _ => words::x_word(&(answer.defender + 1)),
        };
        let text = format!("{of}{name}");
        let on = desk.drill.shown == Some(k + 1);
        if choice(ui, on, &text).clicked() {
            drill::show_places(desk, Some(k + 1));
        }
        ui.label(gains(answer, opens));
    }
    if !any {
        let text = words::at_this_instant_in(&step);
        ui.label(text);
    }
}

/// Where the rules send the player, beside where the learner did.
fn went(ui: &mut Ui, desk: &Desk, gone: &Gone) {
    let number = gone.goes.who + 1;
    let (to, off) = (gone.goes.to, desk.length(gone.off));
    let text = if gone.goes.stays {
        words::stays_at_the_you(&number, &to, &off)
    } else {
        words::goes_to_the_you(&number, &to, &off)
    };
    ui.label(RichText::new(text).strong());
    ui.label(drill_where::happened(desk, &gone.goes));
    ui.label(drill_where::because(desk, &gone.goes));
}

/// How the cut and the passes were, beside what was said.
fn was(ui: &mut Ui, read: &Read) {
    let list = |who: &mut dyn Iterator<Item = usize>| {
        let names: Vec<String> = who.map(|w| (w + 1).to_string()).collect();
        match names.as_slice() {
            [] => "nobody".to_string(),
            _ => names.join(words::AND),
        }
    };
    let on = list(&mut read.on.iter().copied());
    let text = match read.said.cut {
        Some(Some(who)) if read.on.contains(&who) => words::right_the_cut_was(&on),
        Some(None) if read.on.is_empty() => words::RIGHT_NOBODYS_CUT_WAS.into(),
        _ => words::not_this_time_the(&on),
    };
    ui.label(RichText::new(text).strong());
    let mates = || (0..5).filter(|w| *w != read.holder);
    let open = list(&mut mates().filter(|w| read.open[*w]));
    ui.label(words::open_for_a_pass(&open));
    let missed = list(&mut mates().filter(|w| read.open[*w] && !read.said.open[*w]));
    let shut = list(&mut mates().filter(|w| !read.open[*w] && read.said.open[*w]));
    if missed != "nobody" {
        ui.label(RichText::new(words::open_and_you_did(&missed)).color(WARN));
    }
    if shut != "nobody" {
        ui.label(RichText::new(words::you_said_open_and(&shut)).color(WARN));
    }
}

fn over(ui: &mut Ui, desk: &mut Desk) {
    let mean = desk.drill.scores.iter().sum::<f64>() / desk.drill.scores.len().max(1) as f64;
    heading(ui, &words::round_over_of_100(&mean));
    ui.horizontal(|ui| {
        if ui.button(words::ANOTHER_ROUND).clicked() {
            drill::begin(desk);
        }
        if ui.button(words::CHOOSE_ANOTHER_DRILL).clicked() {
            drill::leave(desk);
        }
    });
    progress(ui, desk);
}

/// Rounds that are shown of each duty.
const LAST: usize = 5;

/// How it went so far, duty by duty.
fn progress(ui: &mut Ui, desk: &Desk) {
    if desk.drill.progress.is_empty() {
        return;
    }
    heading(ui, words::SO_FAR);
    Grid::new("progress")
        .num_columns(4)
        .spacing([14.0, 3.0])
        .striped(true)
        .show(ui, |ui| {
            for head in ["", "rounds", "last", "best"] {
                ui.label(RichText::new(head).color(QUIET).small());
            }
            ui.end_row();
            for (name, progress) in &desk.drill.progress {
                for (task, rounds) in &progress.rounds {
                    let last = rounds.iter().rev().take(LAST).rev();
                    let last: Vec<String> = last.map(|r| format!("{r:.0}")).collect();
                    let best = rounds.iter().copied().fold(0.0, f64::max);
                    ui.label(clean::line(&format!("{name}, {task}")));
                    ui.label(rounds.len().to_string());
                    ui.label(last.join("  "));
                    ui.label(format!("{best:.0}"));
                    ui.end_row();
                }
            }
        });
}
