//! What a defender sees of ball and man, how old that is, and how soon the defender acts on it.
//!
//! A defender reacts to a pass or a cut after a choice reaction, and follows the man with the ball
//! with a shorter lag.

use bevy_ecs::prelude::*;

use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::defence::{Gaze, Relation};

use super::defenders::{stance_of, unit};
use super::dice::Purpose;
use super::parts::*;

/// Half the angle that a defender takes in, radians: about 100° to either side (common practice).
const HALF_VIEW: f64 = 1.75;
/// A glance away from where he looks lasts this long, and comes about this often, seconds.
const GLANCE: f64 = 0.24;
const GLANCE_EVERY: f64 = 1.0;
/// Out of sight for this long, his man is looked for, seconds (ours).
const LOOKS_FOR_HIM: f64 = 0.4;
/// Following a moving body with the eyes takes this share of a reaction to something new (ours; smooth
/// pursuit lags about 0.1–0.15 s, from memory, low).
const FOLLOWS: f64 = 0.6;
/// Hand in the lane: what a denying defender saves of his reaction to a pass, seconds.
const HAND_IN_LANE: f64 = 0.12;
/// A pass or a drive has to be told from a fake: choice over simple reaction, seconds (0.30–0.50
/// against 0.18–0.25: from memory, high).
pub const CHOICE: f64 = 0.08;
/// Not seeing the ball costs this much more, seconds.
const UNSEEN: f64 = 0.25;

/// By how many ticks a defender's glances are off everybody else's in this possession.
pub fn phase(play: &Play, d: usize) -> u32 {
    let mut dice = play.dice.at(Purpose::Glance, d, u32::MAX);
    (dice.unit() * f64::from(ticks(GLANCE_EVERY))) as u32
}

/// What each defender sees: late by his reaction, and only what is in his view.
pub fn defenders_look(
    floor: ResMut<Floor>,
    mut defenders: Query<(&Defender, &Form, &Guard, &mut Eyes)>,
) {
    let Floor {
        play,
        clock,
        trail,
        ball,
        ..
    } = floor.into_inner();
    let cos = libm::cos(HALF_VIEW);
    // Eyes fixed on one thing take in less to the side than eyes open to both.
    let fixed = libm::cos(HALF_VIEW * 0.62);
    for (&Defender(d), form, guard, mut eyes) in &mut defenders {
        let late = if play.scenario.drill.passive {
            2
        } else {
            ticks(play.cast.players[5 + d].limits.reaction)
        };
        // The man with the ball is followed with the eyes all the time.
        let on_him = if guard.relation == Relation::OnBall && !play.scenario.drill.passive {
            ticks(play.cast.players[5 + d].limits.reaction * FOLLOWS)
        } else {
            late
        };
        let (then, then_man) = (trail.back(clock.tick, late), trail.back(clock.tick, on_him));
        let stance = stance_of(play, d, guard.relation);
        let pos = form.0.pos;
        let (to_ball, to_man) = (unit(then.ball - pos), unit(then.pos[guard.man] - pos));
        let every = ticks(GLANCE_EVERY).max(1);
        if clock.tick >= eyes.glance_until && (clock.tick + eyes.phase).is_multiple_of(every) {
            let jitter = (play.dice.at(Purpose::Glance, d, clock.tick).unit() * 8.0) as u32;
            eyes.glance_until = clock.tick + ticks(GLANCE) + jitter;
        }
        let glancing =
            clock.tick < eyes.glance_until && clock.tick + ticks(GLANCE) >= eyes.glance_until;
        // He has lost his man: he turns his head and looks for him (common practice: "ball and man").
        let lost = clock.tick > eyes.man.tick + late + ticks(LOOKS_FOR_HIM);
        let look = match (stance.gaze, glancing) {
            _ if lost => to_man,
            (Gaze::Ball, false) | (Gaze::Man, true) => to_ball,
            (Gaze::Man, false) | (Gaze::Ball, true) => to_man,
            (Gaze::Both, _) => unit(to_ball + to_man),
        };
        let width = if stance.gaze == Gaze::Both {
            cos
        } else {
            fixed
        };
        eyes.sees_ball = look.dot(&to_ball) >= width || (then.ball - pos).norm() < 1.2;
        eyes.sees_man = look.dot(&to_man) >= width || (then.pos[guard.man] - pos).norm() < 1.0;
        let seen_at = clock.tick.saturating_sub(late);
        if eyes.sees_ball {
            // A pass is read from the passer's arms: they move while the ball is in the air.
            let goes_to = match &ball.state {
                BallState::Flying { flight, began, .. } if clock.tick >= began + late => flight.to,
                _ => then.ball,
            };
            eyes.ball = Seen {
                pos: goes_to,
                vel: Vec2::zeros(),
                tick: seen_at,
            };
        }
        if eyes.sees_man || play.scenario.drill.passive {
            eyes.man = Seen {
                pos: then_man.pos[guard.man],
                vel: then_man.vel[guard.man],
                tick: clock.tick.saturating_sub(on_him),
            };
        }
    }
}

/// Seconds before each defender acts on a pass or a drive that starts now.
pub fn alertness(play: &Play, d: usize, guard: &Guard, eyes: &Eyes) -> f64 {
    if play.scenario.drill.passive {
        return 9.0;
    }
    let reaction = play.cast.players[5 + d].limits.reaction;
    let stance = stance_of(play, d, guard.relation);
    let mut alert = reaction + CHOICE;
    if stance.deny && guard.relation != Relation::OnBall {
        alert -= HAND_IN_LANE;
    }
    if !eyes.sees_ball {
        alert += UNSEEN;
    }
    alert.max(0.05)
}

/// Seconds more before he answers what another man does: by where his eyes are (ours, no source).
pub fn awareness(play: &Play, d: usize, guard: &Guard) -> f64 {
    match stance_of(play, d, guard.relation).gaze {
        Gaze::Ball => 0.0,
        Gaze::Both => 0.1,
        Gaze::Man => 0.25,
    }
}

/// Over so many metres short of where nobody goes on he expects a man who runs out to slow down (ours: the way to
/// brake).
const SLOWS_OVER: f64 = 1.2;

/// Where a man who runs out is expected to stop: as far from the rim as the wings stand, and as far from the middle as
/// the corners, metres.
#[derive(Clone, Copy)]
pub struct Outside {
    wings: f64,
    corners: f64,
}

impl Outside {
    pub fn of(court: &Court) -> Self {
        let at = |name| court.spot(Spot::new(name, Some(Side::Right)));
        Self {
            wings: at(SpotName::Wing).norm(),
            corners: at(SpotName::Corner).x,
        }
    }

    /// How a man at `at` who runs with `vel` is expected to go on, m/s.
    pub fn slows(self, at: Vec2, vel: Vec2) -> Vec2 {
        let out = unit(at);
        let outward = vel.dot(&out).max(0.0);
        let room = ((self.wings - at.norm()) / SLOWS_OVER).clamp(0.0, 1.0);
        let mut goes = vel - out * (outward * (1.0 - room));
        if goes.x * at.x > 0.0 {
            goes.x *= ((self.corners - at.x.abs()) / SLOWS_OVER).clamp(0.0, 1.0);
        }
        goes
    }
}
