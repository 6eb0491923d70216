//! The holder's choice among the looks. First how good each look seems to the holder (`perceive.rs`),
//! then what it is worth to go on (`worth.rs`), then a choice by what the holder is doing: on a drive
//! (`on_a_drive.rs`), with the dribble picked up, or with the ball in hand (`in_hand.rs`, and
//! `moves_it_on.rs` when no look is worth more than to go on).
//!
//! Without a rule: a holder takes what is worth more than what the team usually goes on to make from here; a
//! driver finishes at the rim; nobody drives into a team-mate's cut; a player who flashes or seals and is open is
//! fed before the ball moves on; and the holder waits for a team-mate who is about to flash or to cut off a
//! screen.

use crate::court::Spot;
use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow, TICK};
use crate::value::{Chance, GOES_ON};

use super::parts::*;
use super::sight::only_moves_the_ball;

mod in_hand;
mod lane;
mod moves_it_on;
mod on_a_drive;
mod perceive;
mod worth;

pub(super) use moves_it_on::safe_after;
use perceive::{Seen, perceive};

/// The looks of the holder: a shot, a drive and a pass to each of four team-mates.
const LOOKS: usize = 6;
/// The place of the drive among the looks.
const DRIVE: usize = 1;

/// A pass that only moves the ball must be this safe at first, and this safe when time presses.
pub(super) const SAFE_PASS: f64 = 0.88;
const PRESSED_PASS: f64 = 0.72;

/// Looks whose values differ by less than this (points) are told apart by the order of reading.
const TIE: f64 = 0.05;

/// What the holder decides from at one decision instant.
pub(super) struct Decision<'a> {
    pub play: &'a Play,
    pub clock: &'a Clock,
    pub old: &'a Old,
    pub hold: &'a Hold,
    /// The spot at which he is.
    pub here: Spot,
    /// For how long he has held the ball, seconds.
    pub held: f64,
    /// For how long he has been in the lane, seconds.
    pub in_lane: f64,
    /// All looks as they are: shot, drive, passes.
    pub looks: &'a [LookNow],
    /// Drives now if that is possible at all, to learn what it brings.
    pub explores: bool,
}

impl Decision<'_> {
    /// Nobody misjudges or overlooks anything in a clean drill.
    fn clean(&self) -> bool {
        self.play.scenario.drill.clean
    }

    /// The holder's distance from the ring, metres.
    fn distance(&self) -> f64 {
        self.old.scene.pos[self.hold.by].length()
    }

    /// Seconds since a tick.
    fn since(&self, tick: u32) -> f64 {
        f64::from(self.clock.tick - tick) * TICK
    }
}

/// The looks as the holder judges them, and what he asks of them: all that a choice needs.
struct Judged<'a> {
    now: &'a Decision<'a>,
    seen: [Seen; LOOKS],
    /// What it is worth to go on, points.
    goes_on: f64,
    /// The holder's distance from the ring, metres.
    distance: f64,
}

/// What the holder decides.
pub(super) struct Choice {
    /// The look that he takes now; `None` to keep the ball and go on.
    pub takes: Option<usize>,
    /// The chance that he has to stop, as the team's value is learnt from; none on a drive.
    pub chance: Option<Chance<GOES_ON>>,
    /// With an open shot that is worth at least as much as to go on, whatever he thinks of it: does he pass it up for
    /// nothing better than to move the ball on, and by how much, points, is it worth more? None on a drive.
    pub passes_up: Option<(bool, f64)>,
}

/// Takes a look, or goes on.
pub(super) fn choose(now: &Decision) -> Choice {
    let seen = perceive(now);
    let judged = Judged {
        now,
        goes_on: worth::goes_on(now, &seen[DRIVE]),
        seen,
        distance: now.distance(),
    };
    if now.hold.work == Ballwork::Driving {
        return Choice {
            takes: judged.on_a_drive(),
            chance: None,
            passes_up: None,
        };
    }
    let promised = judged.promised();
    let may = |i| judged.scores(i) && judged.keeps(promised, i);
    // The order of reading tells near ties apart only among looks that are worth it.
    let best = judged
        .best(|i| may(i) && judged.is_worth_it(i))
        .or_else(|| judged.best(may));
    let drives = now.explores && judged.seen[DRIVE].counts && judged.scores(DRIVE);
    let takes = drives
        .then_some(DRIVE)
        .or_else(|| best.filter(|&i| judged.is_worth_it(i)))
        .or_else(|| judged.moves_it_on());
    let usual = now.play.usual;
    Choice {
        takes,
        passes_up: judged.passes_up(takes),
        chance: Some(Chance {
            features: worth::state(now).features(),
            left: worth::counts(now),
            seems: best.map_or(f64::NEG_INFINITY, |i| judged.seen[i].value / usual),
            worth: best.map_or(0.0, |i| perceive::worth_in_time(now, &now.looks[i]) / usual),
        }),
    }
}

impl Judged<'_> {
    /// The best of the looks that he sees and that are `ok`: by value, near ties by the order of reading.
    fn best(&self, ok: impl Fn(usize) -> bool) -> Option<usize> {
        let mut found: Option<usize> = None;
        for i in 0..self.now.looks.len().min(LOOKS) {
            if !self.seen[i].counts || !ok(i) {
                continue;
            }
            found = Some(match found {
                Some(j) if !self.is_better(i, j) => j,
                _ => i,
            });
        }
        found
    }

    /// Is look `i` better than look `j`?
    fn is_better(&self, i: usize, j: usize) -> bool {
        let (new, old) = (self.seen[i].value, self.seen[j].value);
        let (new_rank, old_rank) = (self.rank(i), self.rank(j));
        if (new - old).abs() < TIE && new_rank != old_rank {
            new_rank < old_rank
        } else {
            new > old
        }
    }

    /// The place of a look in the offence's order of reading.
    fn rank(&self, i: usize) -> usize {
        let reading = &self.now.play.scenario.offence.reading;
        let kind = self.kind(i);
        reading
            .iter()
            .position(|&k| k == kind)
            .unwrap_or(usize::MAX)
    }

    fn kind(&self, i: usize) -> LookKind {
        self.now.looks[i].kind
    }

    /// Is it no pass to anybody but whom the next one is promised to?
    fn keeps(&self, promised: Option<usize>, i: usize) -> bool {
        let to = self.now.looks[i].to.map(|to| usize::from(to) - 1);
        promised.is_none() || to.is_none() || to == promised
    }

    /// See [`Choice::passes_up`].
    fn passes_up(&self, takes: Option<usize>) -> Option<(bool, f64)> {
        let shots = |l: &&LookNow| l.kind == LookKind::Shot && l.open && l.allowed;
        let shot = self.now.looks.iter().find(shots)?;
        let more = perceive::worth_in_time(self.now, shot) - self.goes_on;
        let moves_on = || {
            takes.is_none_or(|i| !self.now.looks[i].spot_up && only_moves_the_ball(self.kind(i)))
        };
        (more >= 0.0).then(|| (moves_on(), more))
    }

    /// Is a look worth more than to go on?
    fn is_worth_it(&self, i: usize) -> bool {
        self.seen[i].value > self.goes_on
    }
}
