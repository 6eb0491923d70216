//! The holder's choice among the looks. First how good each look seems to the holder (`perceive.rs`),
//! then a choice by what the holder is doing: on a drive (`on_a_drive.rs`), with the dribble picked up,
//! or with the ball in hand (`in_hand.rs`, and `nothing_on.rs` when no look scores).
//!
//! Without a rule: a holder near the rim with nobody in between goes and scores; a holder who is left
//! open shoots sooner; a driver drives for a moment before looking for a pass; nobody drives into a
//! team-mate's cut; a player who flashes or seals and is open is fed before the ball moves on; and the
//! holder waits for a team-mate who is about to flash or to cut off a screen.

use crate::court::Spot;
use crate::defence::Duty;
use crate::looks::driving::in_strip;
use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow, TICK};

use super::parts::*;

mod bars;
mod in_hand;
mod lane;
mod nothing_on;
mod on_a_drive;
mod perceive;

use bars::Bars;
use perceive::{Seen, perceive};

/// The looks of the holder: a shot, a drive and a pass to each of four team-mates.
const LOOKS: usize = 6;
/// The place of the shot and of the drive among the looks.
const SHOT: usize = 0;
const DRIVE: usize = 1;

/// A pass that only moves the ball must be this safe at first, and this safe when time presses.
pub(super) const SAFE_PASS: f64 = 0.88;
const PRESSED_PASS: f64 = 0.72;

/// Looks whose values differ by less than this (points) are told apart by the order of reading.
const TIE: f64 = 0.05;

/// This near to the ring with nobody between him and it, metres, he goes and scores (common practice); a
/// body this far to the side of the line to the ring is not between, metres (ours).
const GOES_AND_SCORES: f64 = 4.0;
const BETWEEN: f64 = 1.0;

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
    /// Chance of the defender on the ball alone to shut a drive.
    pub on_ball: f64,
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
    bars: Bars,
    /// The holder's distance from the ring, metres.
    distance: f64,
    /// Is he near the ring with nobody between him and it?
    scores: bool,
    /// Has a defender left another attacker to stop the ball, and was there time to see it?
    helped: bool,
}

/// The look that the holder takes now; `None` to keep the ball and go on.
pub(super) fn choose(now: &Decision) -> Option<usize> {
    let judged = Judged {
        now,
        seen: perceive(now),
        bars: Bars::of(now),
        distance: now.distance(),
        scores: goes_and_scores(now),
        helped: help_has_come(now),
    };
    match now.hold.work {
        Ballwork::Driving => judged.on_a_drive(),
        Ballwork::PickedUp => judged.picked_up(),
        Ballwork::Holding | Ballwork::Dribbling => judged.in_hand(),
    }
}

/// Does nobody stand between him and the ring near by, his own defender neither?
fn goes_and_scores(now: &Decision) -> bool {
    let free = (0..5).all(|d| !in_strip(&now.old.scene, now.hold.by, BETWEEN, d));
    !now.clean() && now.distance() < GOES_AND_SCORES && free
}

/// A defender has left another attacker for the ball, and the holder has had time to see and judge it.
fn help_has_come(now: &Decision) -> bool {
    let judges = now.play.cast.players[now.hold.by].judgement.decision;
    now.old
        .duties
        .iter()
        .any(|(duty, _, since)| *duty == Duty::LowHelp && now.clock.tick >= since + ticks(judges))
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

    /// The dribble is picked up: he asks less of a look the longer he stands there.
    fn picked_up(&self) -> Option<usize> {
        let now = self.now;
        let waited = now.hold.picked_up.map_or(0.0, |t| now.since(t));
        let need = if waited > 2.0 {
            0.0
        } else {
            now.play.usual * (0.9 - 0.3 * waited)
        };
        if self.scores {
            return Some(SHOT);
        }
        self.best(|i| self.kind(i) != LookKind::Drive && self.seen[i].value >= need)
    }
}
