//! A drive under way: the driver gets on, gathers the ball for the lay-up, is stopped, or loses it.

use crate::body::Body;
use crate::court::Vec2;
use crate::possession::{Ballwork, Finish, TICK, Turnover, What};

use super::super::dice::Purpose;
use super::super::parts::*;
use super::{BallStep, Others};

/// Body to body on a drive the ball is lost this much more often than under pressure at arm's length
/// (ours: about one drive in sixteen is lost among professionals, from memory, low).
const STRIPPED: f64 = 3.2;

/// A second defender at the ball multiplies the chance to lose it by this (ours, no source).
const SECOND_HAND: f64 = 2.0;

/// A driver picks the ball up for the lay-up this far from the ring and lays it up this far from it,
/// metres (common practice: two steps).
const GATHERS: f64 = 2.0;
const LAYS_UP: f64 = 0.9;
/// From both feet a shot at the rim takes so long, seconds (ours).
const GOES_UP: f64 = 0.3;

/// A driver is stopped when a body is this near in front of him, metres …
const BLOCKED: f64 = 1.0;

/// … and for so many ticks has left him no more than this share of his top speed; in the first ticks he
/// gets going (ours).
const STUCK: u32 = 6;
/// Who was fed nearer to the ring than this, metres, and holds the ball for so long without a shot, seconds, is stopped (ours).
const FED_WITHIN: f64 = 4.0;
const NO_SHOT: f64 = 0.6;
const SLOWED: f64 = 0.3;
const GETS_GOING: u32 = 12;

impl BallStep<'_, '_, '_> {
    /// One tick of a drive, if he drives. Does he lose the ball?
    pub(super) fn loses_it_on_a_drive(&mut self, hold: &mut Hold) -> bool {
        let Some(drive) = &mut hold.drive else {
            return false;
        };
        if hold.work != Ballwork::Driving {
            return false;
        }
        let body = self.mates[hold.by].0.0;
        if drive.via.is_some_and(|via| has_gone_by(&body, via, drive)) {
            drive.via = None;
        }
        let to_rim = -body.pos / body.pos.length().max(1e-6);
        let gain = body.vel.dot(to_rim);
        let (blocker, gap) = in_front(body.pos, to_rim, self.others);
        let top = self.play.cast.players[hold.by].limits.top_speed;
        // Round a screener he does not get nearer to the rim.
        let round = drive.via.is_some() && hold.screened.is_some();
        let slow = !round && self.clock.tick > drive.began + GETS_GOING && gain < SLOWED * top;
        if slow && gap < BLOCKED {
            drive.stuck += 1;
        } else {
            drive.stuck = drive.stuck.saturating_sub(1);
        }
        let stuck = drive.stuck >= STUCK;
        if gap < 0.95 && self.is_stripped(hold.by, body.pos) {
            self.turnover(Turnover::LostDribble, hold.by, Some(blocker));
            return true;
        }
        let distance = body.pos.length();
        if distance < GATHERS && hold.pending.is_none() {
            let held_up = slow && gap < BLOCKED;
            self.gathers(hold, distance, gain, held_up);
        } else if stuck && hold.pending.is_none() {
            self.is_stopped(hold, blocker);
        }
        false
    }

    /// With a body on him: does he lose the ball in this tick?
    fn is_stripped(&self, me: usize, pos: Vec2) -> bool {
        let gaps = self.gaps(pos);
        let near = gaps.iter().any(|&gap| gap < 0.95);
        if !near || self.play.scenario.drill.clean {
            return false;
        }
        let crowd = gaps.iter().filter(|&&gap| gap < 1.2).count();
        let hands = if crowd > 1 { SECOND_HAND } else { 1.0 };
        let chance = self.play.cast.players[me].loses * STRIPPED * hands * TICK;
        let mut dice = self.play.dice.at(Purpose::Dribble, me, self.clock.tick);
        dice.unit() < chance
    }

    /// He gathers the ball: the lay-up leaves his hand when he is there, or from both feet in front of who holds him up.
    fn gathers(&self, hold: &mut Hold, distance: f64, gain: f64, held_up: bool) {
        let finish = if hold.how == Finish::Cut {
            Finish::Cut
        } else {
            Finish::Drive
        };
        let left = if held_up {
            GOES_UP
        } else {
            (distance - LAYS_UP) / gain.max(2.0)
        };
        hold.pending = Some(Pending::Shot {
            since: self.clock.tick,
            at: self.clock.tick + ticks(left.max(TICK)),
            finish,
        });
    }

    /// A body has stopped him: far out he pulls the ball back and keeps his dribble, near the rim he picks it up.
    fn is_stopped(&mut self, hold: &mut Hold, blocker: usize) {
        let what = What::Stopped {
            who: hold.by as u8 + 1,
            by: blocker as u8 + 1,
            duty: self.others[blocker].1.duty,
        };
        self.book.write(self.clock, what);
        (hold.drive, hold.stopped) = (None, Some(self.clock.tick));
        hold.stops += 1;
        if self.mates[hold.by].0.0.pos.length() > self.play.cast.model.movement.pulls_out_distance {
            hold.work = Ballwork::Dribbling;
        } else {
            hold.work = Ballwork::PickedUp;
            hold.pivot = None;
            hold.picked_up = Some(self.clock.tick);
            self.says_that_a_feed_is_stopped(hold);
        }
    }

    /// Fed near the rim, and a moment later still without a shot or a way on.
    pub(super) fn stands_with_a_feed(&mut self, hold: &Hold) {
        let stands = hold.work == Ballwork::Holding && hold.pending.is_none();
        if stands && self.clock.tick == hold.since + ticks(NO_SHOT) {
            self.says_that_a_feed_is_stopped(hold);
        }
    }

    fn says_that_a_feed_is_stopped(&mut self, hold: &Hold) {
        let pos = self.mates[hold.by].0.0.pos;
        let fed = matches!(hold.how, Finish::Cut | Finish::DropOff) && hold.drove_from.is_none();
        if fed && pos.length() < FED_WITHIN {
            let (at, who) = (
                self.play.cast.court.nearest_spot_on(pos, self.old.side),
                hold.by,
            );
            self.signals.now.push(Happening::FeedStopped { at, who });
        }
    }
}

/// Has the driver come to the point `via` of his way, or past it?
fn has_gone_by(body: &Body, via: Vec2, drive: &Drive) -> bool {
    let past = (via - body.pos).dot(drive.finish - via) < 0.0;
    (via - body.pos).length() < 0.6 || past
}

/// The nearest defender ahead of a driver: who, and how far.
fn in_front(pos: Vec2, to_rim: Vec2, others: &Others) -> (usize, f64) {
    let mut best = (0, f64::INFINITY);
    for (d, (form, _, _)) in others.iter().enumerate() {
        let off = form.0.pos - pos;
        if off.dot(to_rim) > -0.1 && off.length() < best.1 {
            best = (d, off.length());
        }
    }
    best
}
