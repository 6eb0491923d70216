//! The drills. For defenders: a possession runs up to a moment at the speed that was chosen, the floor freezes, and the
//! learner puts one defender, or all five, where they should stand under the model, against the clock; then the
//! model's place is shown, how far off the learner was and which way, and what a step off that place opens. For
//! attackers: who is open and whose cut is on (`drill_read`), and where they go (`drill_where`). Scores are kept by
//! name and by duty in the desk's folder.
//!
//! The model's place is `Instant::goal`, what the simulation itself has its defenders make for; what is open is measured
//! by the function of the batch. Score: 100 on the spot, 0 from [`NOTHING`] metres off (ours).

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::desk::Desk;
use super::drill_find::{self, Found, Goes};
use super::drill_judge::{Answer, can_be_asked, judge};
use super::drill_read::{self, Read, Reading};
pub use super::drill_task::{Speed, Task};
use super::drill_where::{self, Gone};
use super::jobs::Job;
use super::settings::Page;
use super::store;
use super::words::drills as words;
use crate::court::{Court, Vec2};
use crate::looks::BODIES;

/// So far off, metres, a place is worth nothing.
pub const NOTHING: f64 = 3.0;
/// Moments of one round.
pub const ROUND: usize = 5;
/// With a clock the possession is shown from so long before the moment, seconds.
const RUN_UP: f64 = 3.0;

/// What the learner sees now.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    /// Nothing begun.
    Idle,
    /// A moment is looked for.
    Looks,
    /// The possession comes up to the moment.
    Runs {
        /// The defenders to place, 0–4: not shown meanwhile.
        who: Vec<usize>,
    },
    /// The learner places the defenders in `who`, reads the floor, or moves an attacker.
    Asks {
        /// The defenders to place, 0–4; empty in the attackers' drills.
        who: Vec<usize>,
    },
    /// The learner is told.
    Shows {
        /// One for each defender asked about.
        answers: Vec<Answer>,
        /// For a reading: how it was.
        read: Option<Read>,
        /// For where a player goes: how it was.
        gone: Option<Gone>,
        /// Points of a hundred.
        score: f64,
    },
    /// The round is over.
    Over,
}

impl Stage {
    /// In a word, for a script that waits for it.
    pub fn word(&self) -> &'static str {
        match self {
            Stage::Idle => "idle",
            Stage::Looks => "looks",
            Stage::Runs { .. } => "runs",
            Stage::Asks { .. } => "asks",
            Stage::Shows { .. } => "shows",
            Stage::Over => "over",
        }
    }
}

/// One learner's scores, round by round.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Progress {
    /// Mean scores of rounds, by task.
    pub rounds: BTreeMap<String, Vec<f64>>,
}

/// The drill.
pub struct Drill {
    /// What is drilled.
    pub task: Task,
    /// How fast.
    pub speed: Speed,
    /// Name of the learner; may be empty.
    pub learner: String,
    /// How far it is.
    pub stage: Stage,
    /// Scores of the moments of this round, points of a hundred.
    pub scores: Vec<f64>,
    /// What each learner has done, by name.
    pub progress: BTreeMap<String, Progress>,
    /// The next question is about the moment on the floor now, if there is one.
    pub chosen_here: bool,
    /// What is said of the cut that is to be read.
    pub reading: Reading,
    /// Where an attacker goes, while that is asked or told.
    pub goes: Option<Goes>,
    /// What is on the floor while the learner is told: the learner's places (`None`), the model's (0), or a step off
    /// the model's (from 1 on).
    pub shown: Option<usize>,
    /// Seed and time that was asked about.
    pub at: (u64, f64),
    /// Seconds left to answer, if there is a clock.
    pub left: Option<f32>,
    job: Option<Job<Option<Found>>>,
    folder: PathBuf,
    /// Counts moments, so that no two are alike.
    turn: u64,
}

impl Drill {
    /// A drill not yet begun; scores of earlier rounds come from `folder`.
    pub fn new(folder: &Path) -> Drill {
        Drill {
            task: Task::One,
            speed: Speed::Still,
            learner: String::new(),
            stage: Stage::Idle,
            scores: Vec::new(),
            progress: store::read_own(folder, "stand_right.ron").unwrap_or_default(),
            chosen_here: false,
            reading: Reading::default(),
            goes: None,
            shown: None,
            at: (0, 0.0),
            left: None,
            job: None,
            folder: folder.to_owned(),
            turn: 0,
        }
    }

    /// Is the learner to place this defender (0–4)?
    pub fn asks_for(&self, defender: usize) -> bool {
        matches!(&self.stage, Stage::Asks { who } if who.contains(&defender))
    }

    /// Is a question under way? Then nothing may tell its answer.
    pub fn asking(&self) -> bool {
        matches!(
            self.stage,
            Stage::Looks | Stage::Runs { .. } | Stage::Asks { .. }
        )
    }

    /// Is this body left out of the picture, for its place is the answer?
    pub fn hides(&self, body: usize) -> bool {
        matches!(&self.stage, Stage::Runs { who } if body >= 5 && who.contains(&(body - 5)))
    }

    /// The attacker (0–4) whom the learner moves.
    pub fn moves(&self) -> Option<usize> {
        let asked = matches!(self.stage, Stage::Asks { .. });
        self.goes.filter(|_| asked).map(|goes| goes.who)
    }

    /// Does something go on?
    pub fn busy(&self) -> bool {
        self.job.is_some() || self.left.is_some()
    }

    fn keep(&mut self) -> Result<(), String> {
        let name = self.learner.trim();
        let name = if name.is_empty() {
            words::NO_NAME
        } else {
            name
        };
        let mean = self.scores.iter().sum::<f64>() / self.scores.len().max(1) as f64;
        let progress = self.progress.entry(name.to_string()).or_default();
        progress
            .rounds
            .entry(self.task.word().to_string())
            .or_default()
            .push((mean * 10.0).round() / 10.0);
        store::write_own(&self.folder, "stand_right.ron", &self.progress)
    }
}

/// Is the learner being asked? Then the floor stands still until it is judged or the round is left, and it is said.
pub fn holds(desk: &mut Desk) -> bool {
    let asked = desk.drill.asking();
    if asked {
        desk.page = Some(Page::Drills);
        desk.say(words::A_ROUND_OF_THE);
    }
    asked
}

/// Leaves a round before its end; nothing of it is kept.
pub fn leave(desk: &mut Desk) {
    desk.drill.stage = Stage::Idle;
    desk.drill.scores.clear();
    (desk.drill.job, desk.drill.left, desk.drill.goes) = (None, None, None);
    desk.time.running = false;
    desk.put_back();
}

/// What is on the desk has changed: a round under way ends.
pub fn break_off(desk: &mut Desk) {
    if desk.drill.asking() || matches!(desk.drill.stage, Stage::Shows { .. }) {
        leave(desk);
    }
}

/// Begins a round.
pub fn begin(desk: &mut Desk) {
    desk.search = None;
    desk.drill.scores.clear();
    next(desk);
}

/// The next moment of the round: of another possession, unless the coach chose the one shown.
pub fn next(desk: &mut Desk) {
    (desk.drill.goes, desk.drill.left, desk.drill.shown) = (None, None, None);
    if desk.drill.scores.len() >= ROUND {
        let kept = desk.drill.keep();
        desk.drill.stage = Stage::Over;
        desk.put_back();
        if let Err(error) = kept {
            desk.warn(error);
        }
        return;
    }
    desk.drill.turn += 1;
    let (task, turn) = (desk.drill.task, desk.drill.turn);
    desk.settle();
    let here = desk.moment().filter(|_| desk.drill.chosen_here);
    desk.drill.chosen_here = false;
    desk.put_back();
    if let Some(found) = here.and_then(|moment| at_moment(desk, moment)) {
        return ask(desk, found, true);
    }
    let scenario = Arc::clone(&desk.recording.scenario);
    desk.drill.job = Some(drill_find::find(scenario, task, desk.seed, turn));
    desk.drill.stage = Stage::Looks;
}

/// What is asked about the moment on the floor, if the task fits there.
fn at_moment(desk: &Desk, moment: usize) -> Option<Found> {
    let recording = &desk.recording;
    let time = recording.possession.moments.get(moment)?.time;
    let (possession, instants) = (&recording.possession, &recording.instants);
    let mut fits = drill_find::fits(possession, instants, desk.seed, desk.drill.task);
    fits.retain(|found| (found.time - time).abs() < 0.3);
    // Nobody is asked to stand on a team-mate or behind the board.
    fits.retain(|found| {
        let moment = recording.moment_at(found.time);
        found.who.is_empty() || moment.is_some_and(|m| can_be_asked(recording, m, &found.who))
    });
    drill_find::pick(&mut fits, desk.drill.turn)
}

/// Puts a question: at once, or after its possession has come up to the moment.
fn ask(desk: &mut Desk, found: Found, here: bool) {
    desk.forget_puts();
    if found.seed != desk.seed || !here {
        desk.seed = found.seed;
        desk.replay();
    }
    desk.drill.at = (found.seed, found.time);
    desk.drill.goes = found.goes;
    desk.drill.reading = Reading::default();
    desk.put_back();
    match desk.drill.speed.pace() {
        Some((rate, _)) if !here => {
            desk.time
                .go((found.time - RUN_UP).max(0.0), &desk.recording);
            desk.time.rate = rate;
            desk.time.running = true;
            desk.drill.stage = Stage::Runs { who: found.who };
        }
        _ => put(desk, found.who),
    }
}

/// Whoever waits is so far from every body on the floor, metres (ours: no disc lies on another), and so far inside the
/// sideline.
const CLEAR: f64 = 1.3;
const INSIDE: f64 = 0.45;

/// A place along a sideline, metres from the rim, clear of all who stand at `taken`.
fn beside(court: &Court, taken: &[Vec2]) -> Vec2 {
    let x = court.width / 2.0 - INSIDE;
    let at = |side: f64, k: i32| {
        let y = court.baseline_y() + CLEAR + 0.5 * CLEAR * f64::from(k);
        Vec2::new(side * x, y)
    };
    // Ten bodies can't take all of two columns of so many places: each takes three at most.
    let mut all = [-1.0, 1.0]
        .into_iter()
        .flat_map(|side| (0..16).map(move |k| at(side, k)));
    let free = |p: &Vec2| taken.iter().all(|body| body.distance(*p) >= CLEAR);
    all.find(free).unwrap_or(at(-1.0, 0))
}

/// The floor freezes, and those who are asked for wait in a row beside it.
fn put(desk: &mut Desk, who: Vec<usize>) {
    desk.time.go(desk.drill.at.1, &desk.recording);
    let picture = desk.picture();
    let waits = |body: usize| body >= 5 && who.contains(&(body - 5));
    let bodies = picture.pos.into_iter().enumerate();
    let mut taken: Vec<Vec2> = bodies.filter(|(i, _)| !waits(*i)).map(|(_, p)| p).collect();
    for d in &who {
        let place = beside(&desk.recording.cast.court, &taken);
        taken.push(place);
        desk.moved[5 + d] = Some(place);
    }
    let asked = who.first().map(|d| 5 + d);
    let mover = desk.drill.goes.map(|goes| goes.who);
    desk.at_hand = asked.or(mover).unwrap_or(desk.at_hand);
    desk.drill.left = desk.drill.speed.pace().map(|(_, seconds)| seconds);
    desk.drill.stage = Stage::Asks { who };
}

/// Time goes by: a moment is found, the possession has come up to it, or the clock is over.
pub fn pass(desk: &mut Desk, seconds: f32) {
    if let Some(job) = &mut desk.drill.job {
        let answer = job.take();
        if answer.is_some() || job.is_over() {
            desk.drill.job = None;
        }
        match answer {
            Some(Some(found)) => ask(desk, found, false),
            Some(None) => none_found(desk),
            None if desk.drill.job.is_none() => leave(desk),
            None => {}
        }
    }
    if let Stage::Runs { who } = &desk.drill.stage
        && (desk.time.now >= desk.drill.at.1 || !desk.time.running)
    {
        let who = who.clone();
        put(desk, who);
        return;
    }
    if let Some(left) = &mut desk.drill.left {
        *left -= seconds;
        if *left <= 0.0 {
            desk.drill.left = None;
            reveal(desk);
        }
    }
}

fn none_found(desk: &mut Desk) {
    let task = desk.drill.task.word();
    let defence = crate::report::clean::line(&desk.edit().defence.name);
    leave(desk);
    desk.say(words::in_possessions_against_there(
        &(drill_find::SEEDS),
        &defence,
        &task,
    ));
}

/// Tells the learner how it was.
fn reveal(desk: &mut Desk) {
    match desk.drill.task {
        Task::Read => drill_read::reveal(desk),
        Task::Where => drill_where::reveal(desk),
        _ => reveal_places(desk),
    }
    if !desk.drill.asking() {
        desk.drill.left = None;
    }
}

fn reveal_places(desk: &mut Desk) {
    let Stage::Asks { who } = desk.drill.stage.clone() else {
        return;
    };
    let Some(moment) = desk.moment() else { return };
    let answers = judge(&desk.recording, moment, &who, &desk.moved);
    let score = answers.iter().map(|a| a.score).sum::<f64>() / answers.len().max(1) as f64;
    desk.drill.scores.push(score);
    desk.drill.stage = Stage::Shows {
        answers,
        read: None,
        gone: None,
        score,
    };
}

/// Shows the learner's places on the floor (`None`), the model's (0), or with one defender a step off it (from 1 on):
/// the light is that of what is shown.
pub fn show_places(desk: &mut Desk, shown: Option<usize>) {
    let Stage::Shows { answers, .. } = &desk.drill.stage else {
        return;
    };
    let mut steps = answers
        .iter()
        .flat_map(|a| a.opens.iter().map(move |o| (a, o)));
    let step = shown.and_then(|k| steps.nth(k.checked_sub(1)?));
    let mut moved = [None; BODIES];
    for answer in answers {
        let place = match (shown, step) {
            (None, _) => answer.put,
            (_, Some((of, opens))) if of.defender == answer.defender => opens.stands,
            _ => answer.right,
        };
        moved[5 + answer.defender] = Some(place);
    }
    desk.moved = moved;
    desk.drill.shown = shown;
}

/// Is the moment that is told about on the floor?
pub fn is_told(desk: &Desk) -> bool {
    let (seed, time) = desk.drill.at;
    matches!(desk.drill.stage, Stage::Shows { .. })
        && desk.seed == seed
        && (desk.time.now - time).abs() < 1e-6
        && desk.puts.is_empty()
}

/// The next thing of a round: to begin, to judge, to go on.
pub fn go_on(desk: &mut Desk) {
    match &desk.drill.stage {
        Stage::Idle | Stage::Over => begin(desk),
        Stage::Looks | Stage::Runs { .. } => {}
        Stage::Asks { .. } => reveal(desk),
        Stage::Shows { .. } => next(desk),
    }
}

#[cfg(test)]
#[path = "drill_tests.rs"]
mod tests;
