//! Who is open? A drill for attackers: the floor freezes with the light off; the learner says whose cut behind a
//! defender is on, and who is open for a pass, and is told by the light.
//!
//! A cut is on where the batch says so (`Backdoor::there`), a team-mate is open where a look to him is. Score
//! (ours): half for the cut, half for the share of the four team-mates of whom it was said right.

use super::desk::Desk;
use super::drill::{Stage, Task};
use super::recording::Recording;
use super::words::drills as words;

/// What the learner has said so far. Attackers 0–4.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// Whose cut is on; `Some(None)`: nobody's.
    pub cut: Option<Option<usize>>,
    /// Who is open, as the learner has it.
    pub open: [bool; 5],
}

/// How it was, beside what was said.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// What the learner said.
    pub said: Reading,
    /// Who holds the ball.
    pub holder: usize,
    /// Whose cuts were on.
    pub on: Vec<usize>,
    /// Who was open.
    pub open: [bool; 5],
    /// Points of a hundred.
    pub score: f64,
}

impl Read {
    /// Judges a reading of one moment of a recording.
    pub fn of(recording: &Recording, moment: usize, said: Reading) -> Option<Read> {
        let moment = recording.possession.moments.get(moment)?;
        let there = moment.backdoor.iter().filter(|b| b.there);
        let on: Vec<usize> = there.map(|b| usize::from(b.who) - 1).collect();
        let mut open = [false; 5];
        for look in moment.looks.iter().filter(|l| l.open) {
            if let Some(to) = look.to {
                open[usize::from(to) - 1] = true;
            }
        }
        let holder = usize::from(moment.holder) - 1;
        let cut_right = match said.cut {
            Some(Some(who)) => on.contains(&who),
            Some(None) => on.is_empty(),
            None => false,
        };
        let mates = (0..5).filter(|i| *i != holder);
        let right = mates.filter(|i| open[*i] == said.open[*i]).count();
        let score = if cut_right { 50.0 } else { 0.0 } + 12.5 * right as f64;
        Some(Read {
            said,
            holder,
            on,
            open,
            score,
        })
    }
}

/// Is the learner reading now?
pub fn reads(desk: &Desk) -> bool {
    desk.drill.task == Task::Read && matches!(desk.drill.stage, Stage::Asks { .. })
}

/// The learner says whose cut is on, or nobody's.
pub fn says_cut(desk: &mut Desk, who: Option<usize>) {
    if reads(desk) {
        desk.drill.reading.cut = Some(who);
    }
}

/// The learner says that somebody is open, or takes it back.
pub fn says_open(desk: &mut Desk, who: usize) {
    if reads(desk)
        && let Some(open) = desk.drill.reading.open.get_mut(who)
    {
        *open = !*open;
    }
}

/// Tells the learner how it was: once something was said of the cut, or when the clock is over.
pub fn reveal(desk: &mut Desk) {
    if !reads(desk) {
        return;
    }
    let late = desk.drill.left.is_none() && desk.drill.speed.pace().is_some();
    if desk.drill.reading.cut.is_none() && !late {
        desk.say(words::SAY_FIRST_WHOSE_CUT);
        return;
    }
    let Some(moment) = desk.moment() else { return };
    let Some(read) = Read::of(&desk.recording, moment, desk.drill.reading) else {
        return;
    };
    let score = read.score;
    desk.drill.scores.push(score);
    desk.drill.stage = Stage::Shows {
        answers: Vec::new(),
        read: Some(read),
        gone: None,
        score,
    };
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;
    use std::sync::Arc;

    #[test]
    fn half_is_for_the_cut_and_an_eighth_for_each_team_mate_said_right() {
        let scenario = Arc::new(Scenario::demo());
        let (recording, moment) = (1..300)
            .find_map(|seed| {
                let recording = Recording::of(&scenario, seed);
                let moments = &recording.possession.moments;
                let at = moments
                    .iter()
                    .position(|m| m.backdoor.iter().any(|b| b.there))?;
                Some((recording, at))
            })
            .expect("a moment with a cut on");
        let read = |said| Read::of(&recording, moment, said).expect("a moment");
        let truth = read(Reading::default());
        let all = Reading {
            cut: Some(Some(truth.on[0])),
            open: truth.open,
        };
        assert_eq!(read(all).score, 100.0);
        assert_eq!(
            read(Reading {
                cut: Some(None),
                ..all
            })
            .score,
            50.0
        );
        let mut one_wrong = all;
        let mate = (truth.holder + 1) % 5;
        one_wrong.open[mate] = !one_wrong.open[mate];
        assert_eq!(read(one_wrong).score, 87.5);
        // The holder is no team-mate of himself.
        let mut holder = all;
        holder.open[truth.holder] = true;
        assert_eq!(read(holder).score, 100.0);
    }
}
