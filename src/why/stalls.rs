//! Stalls: unbroken spells in which the ball holder has no open look, told by where he is and by
//! the rule that fired last.

use serde::Serialize;

use crate::offence::LookKind;
use crate::possession::{Possession, TICK, What};
use crate::scrimmage::windows;
pub use crate::scrimmage::windows::STALL as FEWEST;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

use super::sheet::{Asked, counts, shut_by};
use super::{Seat, Sheet, Where};

/// What happened last before a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Lately {
    /// A pass or its catch.
    Pass,
    /// A cut.
    Cut,
    /// A drive or a dribble.
    Drive,
    /// A screen.
    Screen,
    /// A player filling, flashing or sealing.
    Fill,
    /// A helper leaving his man, a rotation or a switch.
    Help,
    /// Nothing for a while.
    Nothing,
}

impl Lately {
    /// Everything, in the order of the report.
    pub const ALL: [Lately; 7] = [
        Lately::Pass,
        Lately::Cut,
        Lately::Drive,
        Lately::Screen,
        Lately::Fill,
        Lately::Help,
        Lately::Nothing,
    ];

    /// One word, for a table.
    pub fn word(self) -> &'static str {
        match self {
            Lately::Pass => "pass",
            Lately::Cut => "cut",
            Lately::Drive => "drive",
            Lately::Screen => "screen",
            Lately::Fill => "fill, flash",
            Lately::Help => "help, switch",
            Lately::Nothing => "nothing",
        }
    }

    /// "after a pass".
    pub fn words(self) -> &'static str {
        match self {
            Lately::Pass => "after a pass",
            Lately::Cut => "after a cut",
            Lately::Drive => "after a drive",
            Lately::Screen => "after a screen",
            Lately::Fill => "after a fill or a flash",
            Lately::Help => "after help or a switch",
            Lately::Nothing => "with nothing going on",
        }
    }
}

/// What happens moves defenders for about so long, seconds (ours: a reaction and a few steps).
pub const LATELY: f64 = 1.2;

/// The last event before `time`.
pub fn lately(p: &Possession, time: f64) -> Lately {
    let recent = p
        .timeline
        .iter()
        .rev()
        .filter(|e| e.time <= time + 0.5 * TICK)
        .take_while(|e| time - e.time <= LATELY);
    let mut found = recent.filter_map(|e| match e.what {
        What::Passes { .. } | What::Catches { .. } => Some(Lately::Pass),
        What::Cuts { .. } => Some(Lately::Cut),
        What::Drives { .. } | What::Stopped { .. } | What::DribblesAt { .. } => Some(Lately::Drive),
        What::Screens { .. } => Some(Lately::Screen),
        What::Fills { .. } | What::Flashes { .. } | What::Seals { .. } | What::Unfed { .. } => {
            Some(Lately::Fill)
        }
        What::Helps { .. } | What::Rotates { .. } | What::Switches { .. } => Some(Lately::Help),
        _ => None,
    });
    found.next().unwrap_or(Lately::Nothing)
}

/// Stalls that `watch` tells last a second or longer (as `possession::timeline`): decision instants.
const TOLD: u16 = 5;

/// One stall.
#[derive(Clone, Debug, PartialEq)]
pub struct Stall {
    /// Seconds since the possession began.
    pub time: f64,
    /// Decision instants.
    pub length: u16,
    /// Where the ball is as it begins.
    pub at: Where,
    /// Number of the rule that fired last, if any had.
    pub rule: Option<usize>,
    /// What happened last before it.
    pub lately: Lately,
    /// The look worth most if it got there, and who shuts it as the stall begins.
    pub best: Option<(LookKind, Seat)>,
}

/// The stalls of a possession.
pub fn read(p: &Possession, instants: &mut [Instant], play: &Play) -> Vec<Stall> {
    let mut found = Vec::new();
    for spell in windows::stalls(&p.moments) {
        let moment = &p.moments[spell.first];
        let Some(instant) = instants.get_mut(spell.first) else {
            continue;
        };
        let asked = Asked {
            play,
            moment,
            instant,
        };
        let shut = moment
            .looks
            .iter()
            .filter(|l| counts(l, moment))
            .filter_map(|l| Some((l, shut_by(l)?)));
        let best = shut.max_by(|a, b| a.0.prize.total_cmp(&b.0.prize));
        found.push(Stall {
            time: moment.time,
            length: spell.length,
            at: asked.here(),
            rule: moment.last_rule,
            lately: lately(p, moment.time),
            best: best.map(|(l, d)| (l.kind, asked.seat(d))),
        });
    }
    found
}

/// A stall of those that are such, of which all is true that is told of them together: what had happened last, and what
/// was shut by whom. It is of middling length among these, but long enough to be told. Seed and time, seconds.
pub fn example(
    sheets: &[Sheet],
    is: &dyn Fn(&&Stall) -> bool,
    lately: Lately,
    shut: Option<(LookKind, Seat)>,
) -> Option<(u64, f64)> {
    let all = || {
        sheets.iter().flat_map(|s| {
            let mine = s.stalls.iter().filter(|x| is(x));
            mine.map(|x| (s.seed, x))
        })
    };
    let shown = |x: &Stall| shut.is_none() || x.best == shut;
    let mut mine: Vec<_> = all()
        .filter(|(_, x)| shown(x) && x.lately == lately)
        .collect();
    if mine.is_empty() {
        mine.extend(all().filter(|(_, x)| shown(x)));
    }
    mine.sort_by_key(|(_, x)| x.length);
    let middle = mine.get(mine.len() / 2)?.1.length.max(TOLD);
    let found = mine.iter().find(|(_, x)| x.length >= middle);
    found.or(mine.last()).map(|(seed, x)| (*seed, x.time))
}

#[cfg(test)]
mod tests {
    use super::super::{Summary, Why, rivals};

    use crate::scenario::Scenario;
    use std::sync::atomic::AtomicBool;

    /// What is said to be shut, and by whom, is so in the example of it, too.
    #[test]
    fn the_example_of_a_stall_is_one_of_what_is_said_of_it() {
        let scenario = Scenario::demo();
        let plan = Why {
            first_seed: 1,
            possessions: 120,
            threads: 2,
        };
        let stop = AtomicBool::new(false);
        let sheets = plan.sheets(&scenario, &|_| (), &stop).expect("sheets");
        let summary = Summary::of(&sheets, 120, &scenario.offence, &rivals(&scenario));
        let mut told = 0;
        for story in &summary.stalls.stories {
            let Some((look, seat, _)) = story.shut else {
                continue;
            };
            let (seed, time) = story.example;
            let sheet = sheets.iter().find(|s| s.seed == seed).expect("played");
            let stall = sheet.stalls.iter().find(|s| s.time == time);
            let stall = stall.expect("a stall");
            assert_eq!(stall.best, Some((look, seat)), "{story:?}");
            assert_eq!(stall.at, story.at);
            told += 1;
        }
        assert!(told > 5, "{told}");
    }
}
