//! Stand right: the defenders' drill (the attackers' round is in `drill_read`). The floor freezes at a moment
//! of a possession; the learner puts one defender, or all five, where they should stand under the
//! model, and is shown the model's place, how far off he was and which way, and what his place
//! would have left open. Scores are kept by name in the desk's folder.
//!
//! The model's place is `Instant::own_place`, what the floor itself has its defenders make for; the
//! light left open is measured by the function of the batch. Score: 100 on the spot, 0 from
//! [`NOTHING`] metres off (ours).

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::desk::Desk;
use super::drill_judge::{Answer, judge};
use super::drill_read::{self, Read, Reading};
use super::recording::Recording;
use super::settings::Page;
use super::store;
use crate::court::Vec2;
use crate::possession::Ballwork;

/// So far off, metres, a place is worth nothing.
pub const NOTHING: f64 = 3.0;
/// Moments of one round.
pub const ROUND: usize = 5;
/// The off-ball defender and everybody else has to have had this long to get somewhere, seconds.
const SETTLED: f64 = 1.2;
/// Most possessions that are looked through for a moment.
const SEEDS: usize = 300;

/// What is drilled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// One defender, another one each time.
    One,
    /// All five defenders at once.
    AllFive,
    /// Which attacker's cut is on?
    ReadTheCut,
}

impl Task {
    /// Every task, in the order of the buttons.
    pub const ALL: [Task; 3] = [Task::One, Task::AllFive, Task::ReadTheCut];

    /// The words of the button, and the key of its scores.
    pub fn word(self) -> &'static str {
        match self {
            Task::One => "one defender",
            Task::AllFive => "all five",
            Task::ReadTheCut => "read the cut",
        }
    }
}

/// What the learner sees now.
#[derive(Clone, Debug, PartialEq)]
pub enum Stage {
    /// Nothing begun.
    Idle,
    /// He places the defenders in `who` (0–4), or picks a cutter.
    Asks {
        /// The defenders to place, 0–4; empty when a cutter is asked for.
        who: Vec<usize>,
    },
    /// He is told.
    Shows {
        /// One for each defender asked about; empty for a cut.
        answers: Vec<Answer>,
        /// For a cut: how it was.
        read: Option<Read>,
        /// Points of a hundred.
        score: f64,
    },
    /// The round is over.
    Over,
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
    /// Which of the two is on the floor while he is told: his places, or the model's.
    pub models: bool,
    /// Seed and time that he was asked about.
    pub at: (u64, f64),
    folder: PathBuf,
    /// Counts moments, so that no two are alike.
    turn: u64,
}

impl Drill {
    /// A drill not yet begun; scores of earlier rounds come from `folder`.
    pub fn new(folder: &Path) -> Drill {
        Drill {
            task: Task::One,
            learner: String::new(),
            stage: Stage::Idle,
            scores: Vec::new(),
            progress: store::read_own(folder, "stand_right.ron").unwrap_or_default(),
            chosen_here: false,
            reading: Reading::default(),
            models: false,
            at: (0, 0.0),
            folder: folder.to_owned(),
            turn: 0,
        }
    }

    /// Is the learner to place this defender (0–4)?
    pub fn asks_for(&self, defender: usize) -> bool {
        matches!(&self.stage, Stage::Asks { who } if who.contains(&defender))
    }

    fn keep(&mut self) -> Result<(), String> {
        let name = self.learner.trim();
        let name = if name.is_empty() { "nobody" } else { name };
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

/// Is this a moment to ask about? Whose cut is on is asked where one is, or else (`nobody`) where none is.
fn fit(recording: &Recording, i: usize, task: Task, nobody: bool) -> bool {
    let moment = &recording.possession.moments[i];
    let holds = matches!(moment.ballwork, Ballwork::Holding | Ballwork::PickedUp);
    let calm = holds && moment.time > SETTLED && moment.held > 0.4;
    let cut = moment.backdoor.iter().any(|b| b.there);
    match task {
        Task::ReadTheCut if nobody => calm && !cut,
        Task::ReadTheCut => cut,
        _ => calm,
    }
}

/// Is it nobody's cut that turn `turn` asks about? Every other time, in no order that a learner could learn.
fn asks_about_nobody(turn: u64) -> bool {
    // Fibonacci hashing: the golden ratio as a 64-bit fraction (Knuth, 1973, "The Art of Computer Programming"
    // 3, 6.4, from memory).
    turn.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 63 == 1
}

/// Is the learner being asked? Then the floor stands still until it is judged or he leaves the
/// round, and says so.
pub fn holds(desk: &mut Desk) -> bool {
    let asked = matches!(desk.drill.stage, Stage::Asks { .. });
    if asked {
        desk.page = Some(Page::StandRight);
        desk.say("A round of the drill is on: judge it, or leave the round.");
    }
    asked
}

/// Leaves a round before its end; nothing of it is kept.
pub fn leave(desk: &mut Desk) {
    desk.drill.stage = Stage::Idle;
    desk.drill.scores.clear();
    desk.put_back();
}

/// What is on the desk has changed: a round under way ends.
pub fn break_off(desk: &mut Desk) {
    if matches!(desk.drill.stage, Stage::Asks { .. } | Stage::Shows { .. }) {
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
    let task = desk.drill.task;
    let here = desk.moment().filter(|_| desk.drill.chosen_here);
    let mut found = here.filter(|m| desk.recording.instants.get(*m).is_some());
    desk.drill.chosen_here = false;
    let nobody = asks_about_nobody(desk.drill.turn);
    // A few hundred seeds have such a moment; where no cut is ever on, nobody's is asked about.
    for tried in 0..SEEDS {
        if found.is_some() {
            break;
        }
        let nobody = nobody || tried >= SEEDS - 50;
        desk.forget_puts();
        desk.seed += 1;
        desk.replay();
        let fits: Vec<usize> = (0..desk.recording.instants.len())
            .filter(|i| fit(&desk.recording, *i, task, nobody))
            .collect();
        let pick = desk.drill.turn.wrapping_mul(7) as usize;
        found = fits.get(pick % fits.len().max(1)).copied();
    }
    let Some(moment) = found else {
        desk.say("No possession with such a moment was found.");
        desk.drill.stage = Stage::Idle;
        return;
    };
    let at = desk.recording.possession.moments[moment].time;
    desk.put_back();
    desk.time.go(at, &desk.recording);
    let who = match task {
        Task::One => {
            let holder = desk.recording.instants[moment].hold.by;
            let guards = desk.recording.instants[moment].old.scene.guards;
            let off_ball: Vec<usize> = (0..5).filter(|d| guards[*d] != holder).collect();
            let pick = desk.drill.turn as usize % off_ball.len().max(1);
            off_ball.get(pick).map(|d| vec![*d]).unwrap_or_default()
        }
        Task::AllFive => (0..5).collect(),
        Task::ReadTheCut => Vec::new(),
    };
    // Those who are asked for wait in a row beside the floor.
    let court = &desk.recording.cast.court;
    for (k, d) in who.iter().enumerate() {
        let x = -court.width / 2.0 + 0.45;
        let y = court.baseline_y() + 1.4 + 1.3 * k as f64;
        desk.moved[5 + d] = Some(Vec2::new(x, y));
    }
    desk.drill.reading = Reading::default();
    desk.drill.models = false;
    desk.drill.at = (desk.seed, at);
    desk.drill.stage = Stage::Asks { who };
}

/// Tells the learner how he did.
pub fn reveal(desk: &mut Desk) {
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
        score,
    };
}

/// Shows the learner's places on the floor, or the model's: the light is that of either.
pub fn show_places(desk: &mut Desk, models: bool) {
    let Stage::Shows { answers, .. } = &desk.drill.stage else {
        return;
    };
    for answer in answers {
        let place = if models { answer.right } else { answer.put };
        desk.moved[5 + answer.defender] = Some(place);
    }
    desk.drill.models = models;
}

/// Is the moment that he is told about on the floor?
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
        Stage::Asks { .. } if desk.drill.task == Task::ReadTheCut => drill_read::reveal(desk),
        Stage::Asks { .. } => reveal(desk),
        Stage::Shows { .. } => next(desk),
    }
}

#[cfg(test)]
mod tests {
    use super::super::drill_judge::{WORTH_SAYING, erred};
    use super::*;
    use crate::looks::BODIES;
    use crate::scenario::Scenario;
    use std::sync::Arc;

    fn calm() -> (Recording, usize) {
        for seed in 1..50 {
            let recording = Recording::of(&Arc::new(Scenario::demo()), seed);
            let fits =
                (0..recording.instants.len()).find(|i| fit(&recording, *i, Task::One, false));
            if let Some(i) = fits {
                return (recording, i);
            }
        }
        panic!("no calm moment");
    }

    #[test]
    fn on_the_models_place_the_score_is_full_and_three_metres_off_it_is_nothing() {
        let (recording, moment) = calm();
        let mut moved = [None; BODIES];
        for d in 0..5 {
            let place = recording.instants[moment].own_place(&recording.play, d);
            moved[5 + d] = Some(place);
        }
        for answer in judge(&recording, moment, &[0, 1, 2, 3, 4], &moved) {
            assert_eq!((answer.score, answer.toward), (100.0, ""));
            assert!(answer.left_open.is_empty());
        }
        moved[7] = moved[7].map(|p| p + Vec2::new(0.0, NOTHING));
        let answers = judge(&recording, moment, &[2], &moved);
        assert!(answers[0].score < 1e-9);
        assert!(!answers[0].toward.is_empty());
    }

    #[test]
    fn nobodys_cut_is_right_about_every_other_time() {
        let nobody = (1..=200).filter(|turn| asks_about_nobody(*turn)).count();
        assert!((80..=120).contains(&nobody), "{nobody} of 200");
        let round =
            |from| (from..from + 4).all(|t| asks_about_nobody(t) == asks_about_nobody(from));
        assert!(!(1..=200).any(round), "four alike in a row");
    }

    /// Off the ball every defender has a reason to stand where he stands, or it is said that there is none now; over a
    /// few moments the reasons are not all the same.
    #[test]
    fn what_a_step_off_opens_is_measured_and_is_not_always_the_same() {
        let mut said = std::collections::BTreeSet::new();
        let mut asked = 0;
        for seed in 1..20 {
            let recording = Recording::of(&Arc::new(Scenario::demo()), seed);
            let fits =
                (0..recording.instants.len()).find(|i| fit(&recording, *i, Task::One, false));
            let Some(moment) = fits else { continue };
            for answer in judge(&recording, moment, &[0, 1, 2, 3, 4], &[None; BODIES]) {
                asked += 1;
                let Some(opens) = answer.step else { continue };
                let (open, worth) = opens.before;
                assert!(opens.look.value > worth + WORTH_SAYING, "{opens:?}");
                assert!((0.0..=1.0).contains(&open));
                said.insert((opens.toward, opens.look.kind.word(), opens.look.to));
            }
        }
        println!("{} reasons, {asked} asked: {said:?}", said.len());
        assert!(said.len() >= 8, "{said:?}");
    }

    #[test]
    fn the_way_he_erred_is_named_by_what_he_is_too_near_to() {
        let (recording, moment) = calm();
        let instant = &recording.instants[moment];
        let d = 0;
        let place = instant.own_place(&recording.play, d);
        let to = |target: Vec2| place + (target - place) * (1.0 / (target - place).length());
        let word = erred(instant, d, place, to(instant.ball()));
        assert!(!word.is_empty());
        let back = erred(instant, d, place, place * 2.0 - to(instant.ball()));
        assert_ne!(word, back);
    }
}
