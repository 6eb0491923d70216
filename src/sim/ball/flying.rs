//! The ball in the air: who gets a hand on it, and whether it arrives.

use crate::ball::{Flight, PassKind};
use crate::court::Vec2;
use crate::possession::{TICK, Turnover, What};

use super::super::dice::{Draw, Purpose};
use super::super::eyes;
use super::super::parts::*;
use super::BallStep;

/// A ball within this distance of a receiver's body can be caught, metres (arm's length in front).
const CATCH: f64 = 0.75;

/// A ball with a defender this near to it is caught as soon as it can be, metres (ours).
const SNATCHES: f64 = 1.3;

/// A catch with a defender within a metre, and one at arm's length beside him, is dropped this much more
/// often; a dropped ball bounces off at about so many m/s (ours, no source).
const CROWDED: f64 = 2.0;
const BESIDE_HIM: f64 = 3.0;
const BOUNCES_OFF: f64 = 2.5;

/// Chance that hands which get there turn the pass into a loose ball or take it: if he is set for it,
/// and if he is not looking (ours, no source; with the first the openness of a pass is about the
/// share of such passes that arrive, which a test checks).
const TAKES_SET: f64 = 1.0;
const TAKES_BLIND: f64 = 0.4;

/// Of the balls he gets a hand on, the share that he holds.
const HOLDS: f64 = 0.55;

impl BallStep<'_, '_, '_> {
    /// One tick of a pass in the air.
    pub(super) fn flying(&mut self) {
        let BallState::Flying {
            flight,
            began,
            from,
            to,
            look,
            mut tried,
            how,
        } = self.ball.state
        else {
            return;
        };
        let t = f64::from(self.clock.tick - began) * TICK;
        let (pos, height) = flight.at(t.min(flight.duration));
        self.ball.pos = pos;
        self.ball.height = height;
        if !self.play.scenario.drill.passive
            && self.defenders_reach_for_it(&flight, t, (from, to), &mut tried)
        {
            return;
        }
        if self.arrives(&flight, t, to) {
            if !self.is_dropped(to) {
                self.caught(to, how);
            }
            return;
        }
        if t > flight.duration + 0.2 {
            let vel = along(&flight) * flight.ground_speed(flight.duration) * 0.5;
            self.free_ball(pos, vel, from, None);
            return;
        }
        self.ball.state = BallState::Flying {
            flight,
            began,
            from,
            to,
            look,
            tried,
            how,
        };
    }

    /// Each defender who gets there has one try at the ball. Does one take it or tip it?
    fn defenders_reach_for_it(
        &mut self,
        flight: &Flight,
        t: f64,
        (from, to): (usize, usize),
        tried: &mut [bool; 5],
    ) -> bool {
        for d in 0..5 {
            if tried[d] || !self.gets_a_hand_on_it(d, flight, t, to) {
                continue;
            }
            tried[d] = true;
            let chance = if self.others[d].2.sees_ball {
                TAKES_SET
            } else {
                TAKES_BLIND
            };
            let mut dice = self.play.dice.at(Purpose::Take, d, self.clock.tick);
            if dice.unit() < chance {
                if dice.unit() < HOLDS {
                    self.turnover(Turnover::Intercepted, from, Some(d));
                } else {
                    self.is_tipped(d, flight, (from, to), &mut dice);
                }
                return true;
            }
        }
        false
    }

    /// Is the ball within a defender's reach, and has he had time to see it thrown?
    fn gets_a_hand_on_it(&self, d: usize, flight: &Flight, t: f64, to: usize) -> bool {
        let (pos, height) = (self.ball.pos, self.ball.height);
        let (form, guard, eyes) = self.others[d];
        let player = &self.play.cast.players[5 + d];
        let looks = &self.play.cast.model.looks;
        let off = (form.0.pos - pos).length();
        let early = (pos - flight.from).length() < looks.pivot_distance;
        let receiver = self.mates[to].0.0.pos;
        let blocked = (receiver - form.0.pos).length() < (pos - form.0.pos).length()
            && (receiver - pos).length() < 1.0;
        let reach = if blocked {
            player.limits.reach * looks.behind_receiver_reach_share
        } else {
            player.limits.reach * looks.hand_reach_share
        };
        let low = height < looks.low_ball_height;
        let reach = if low {
            reach * looks.low_ball_reach_share
        } else {
            reach
        };
        !(early
            || off > reach
            || height > player.limits.standing_reach + looks.hop_height
            || t < eyes::alertness(self.play, d, guard, eyes))
    }

    /// The defender gets a hand on the ball, which flies on loose, somewhat aside.
    fn is_tipped(
        &mut self,
        d: usize,
        flight: &Flight,
        (from, to): (usize, usize),
        dice: &mut Draw,
    ) {
        let tips = What::Tips {
            defender: d as u8 + 1,
            from: from as u8 + 1,
            to: to as u8 + 1,
        };
        self.book.write(self.clock, tips);
        let angle = self.play.hand * (dice.unit() - 0.5) * 2.4;
        let along = along(flight);
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        let vel = Vec2::new(along.x * cos - along.y * sin, along.x * sin + along.y * cos)
            * (2.0 + 2.0 * dice.unit());
        self.free_ball(self.ball.pos, vel, from, Some(d));
    }

    /// Is the ball where the receiver can have it, and late enough in its flight?
    fn arrives(&self, flight: &Flight, t: f64, to: usize) -> bool {
        let (pos, height) = (self.ball.pos, self.ball.height);
        let (form, job) = &self.mates[to];
        let near = (form.0.pos - pos).length();
        // Who is led lets it come to the point where he is to have it, unless a defender is near it.
        let led = matches!(job.task, Task::Meet { through: true, .. })
            && self.gaps(pos).iter().all(|&gap| gap > SNATCHES);
        let from_then_on = match flight.kind {
            _ if led => 0.85,
            // Not before it has come up from the floor.
            PassKind::Bounce => 0.8,
            _ => 0.55,
        };
        let standing_reach = self.play.cast.players[to].limits.standing_reach;
        t >= flight.duration * from_then_on && near < CATCH && height < standing_reach + 0.3
    }

    /// Does the receiver drop it? Then it bounces off him.
    fn is_dropped(&mut self, to: usize) -> bool {
        let play = self.play;
        let pos = self.ball.pos;
        let body = self.mates[to].0.0;
        let mut dice = play.dice.at(Purpose::Catch, to, self.clock.tick);
        let crowd = self.gaps(body.pos).iter().any(|&gap| gap < 1.0);
        let beside = (body.pos - pos).length() / CATCH;
        let drops = play.cast.players[to].fumbles
            * if crowd { CROWDED } else { 1.0 }
            * (1.0 + BESIDE_HIM * beside * beside);
        let dropped = !play.scenario.drill.clean && dice.unit() < drops;
        if dropped {
            let vel = Vec2::new(play.hand * dice.normal(), dice.normal()) * BOUNCES_OFF;
            let who = to as u8 + 1;
            self.book.write(self.clock, What::Drops { who });
            self.free_ball(pos, vel, to, None);
        }
        dropped
    }
}

/// The direction of a flight on the floor.
fn along(flight: &Flight) -> Vec2 {
    (flight.to - flight.from) / flight.distance.max(1e-6)
}
