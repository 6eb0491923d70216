//! What a defender sees of ball and man, how old that is, and how soon the defender acts on it.
//!
//! A defender reacts to a pass or a cut after a choice reaction, and follows the man with the ball
//! with a shorter lag.

use crate::court::{Side, Spot, SpotName, Vec2};
use crate::defence::{Gaze, Relation};
use crate::looks::Cast;

use super::dice::Purpose;
use super::parts::*;
use super::stance::{stance_of, unit};

/// A glance lasts up to so many ticks longer: a draw of whole ticks.
const GLANCE_JITTER: f64 = 8.0;
/// Longer than any pass, s: a defender who is only to stand there does not act on it.
const NEVER: f64 = 9.0;

/// By how many ticks a defender's glances are off everybody else's in this possession.
pub fn phase(play: &Play, d: usize) -> u32 {
    let mut dice = play.dice.at(Purpose::Glance, d, u32::MAX);
    (dice.unit() * f64::from(ticks(play.cast.model.perception.glance_interval))) as u32
}

/// What each defender sees: late by his reaction, and only what is in his view.
pub fn defenders_look(floor: &Floor, defenders: &mut [Defender; 5]) {
    let Floor {
        play,
        clock,
        trail,
        ball,
        ..
    } = floor;
    let model = &play.cast.model.perception;
    let glance = ticks(model.glance_time);
    for (d, defender) in defenders.iter_mut().enumerate() {
        let Defender {
            form, guard, eyes, ..
        } = defender;
        let every = ticks(model.glance_interval).max(1);
        if clock.tick >= eyes.glance_until && (clock.tick + eyes.phase).is_multiple_of(every) {
            let jitter =
                (play.dice.at(Purpose::Glance, d, clock.tick).unit() * GLANCE_JITTER) as u32;
            eyes.glance_until = clock.tick + glance + jitter;
        }
        if !defenders_revise(clock.tick) {
            continue;
        }
        let late = if play.scenario.drill.passive {
            2
        } else {
            ticks(play.cast.players[5 + d].limits.reaction)
        };
        // The man with the ball is followed with the eyes all the time.
        let on_him = if guard.relation == Relation::OnBall && !play.scenario.drill.passive {
            ticks(play.cast.players[5 + d].limits.reaction * model.tracking_reaction_share)
        } else {
            late
        };
        let (then, then_man) = (trail.back(clock.tick, late), trail.back(clock.tick, on_him));
        let stance = stance_of(play, d, guard.relation);
        let pos = form.0.pos;
        let (to_ball, to_man) = (unit(then.ball - pos), unit(then.pos[guard.man] - pos));
        let glancing = clock.tick < eyes.glance_until && clock.tick + glance >= eyes.glance_until;
        // He has lost his man: he turns his head and looks for him (common practice: "ball and man").
        let lost = clock.tick > eyes.man.tick + late + ticks(model.lost_player_time);
        let look = match (stance.gaze, glancing) {
            _ if lost => to_man,
            (Gaze::Ball, false) | (Gaze::Man, true) => to_ball,
            (Gaze::Man, false) | (Gaze::Ball, true) => to_man,
            (Gaze::Both, _) => unit(to_ball + to_man),
        };
        let width = if stance.gaze == Gaze::Both {
            play.view.open
        } else {
            play.view.fixed
        };
        eyes.sees_ball =
            look.dot(to_ball) >= width || (then.ball - pos).length() < model.close_ball_distance;
        eyes.sees_man = look.dot(to_man) >= width
            || (then.pos[guard.man] - pos).length() < model.close_player_distance;
        let seen_at = clock.tick.saturating_sub(late);
        if eyes.sees_ball {
            // A pass is read from the passer's arms: they move while the ball is in the air.
            let goes_to = match &ball.state {
                BallState::Flying { flight, began, .. } if clock.tick >= began + late => flight.to,
                _ => then.ball,
            };
            eyes.ball = Seen {
                pos: goes_to,
                vel: Vec2::ZERO,
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
        return NEVER;
    }
    let reaction = play.cast.players[5 + d].limits.reaction;
    let stance = stance_of(play, d, guard.relation);
    let model = &play.cast.model.perception;
    let mut alert = reaction + model.fake_delay;
    if stance.deny && guard.relation != Relation::OnBall {
        alert -= model.deny_head_start;
    }
    if !eyes.sees_ball {
        alert += model.unseen_ball_delay;
    }
    alert.max(model.least_alert)
}

/// Seconds more before he answers what another man does: by where his eyes are (ours, no source).
pub fn awareness(play: &Play, d: usize, guard: &Guard) -> f64 {
    match stance_of(play, d, guard.relation).gaze {
        Gaze::Ball => 0.0,
        Gaze::Both => play.cast.model.perception.open_gaze_delay,
        Gaze::Man => play.cast.model.perception.player_gaze_delay,
    }
}

/// Where a man who runs out is expected to stop: as far from the rim as the wings stand, and as far from the middle as
/// the corners, metres.
#[derive(Clone, Copy)]
pub struct Outside {
    wings: f64,
    corners: f64,
    slows_over: f64,
}

impl Outside {
    pub fn of(cast: &Cast) -> Self {
        let court = &cast.court;
        let at = |name| court.spot(Spot::new(name, Some(Side::Right)));
        Self {
            wings: at(SpotName::Wing).length(),
            corners: at(SpotName::Corner).x,
            slows_over: cast.model.perception.runner_slowing_distance,
        }
    }

    /// How a man at `at` who runs with `vel` is expected to go on, m/s.
    pub fn slows(self, at: Vec2, vel: Vec2) -> Vec2 {
        let out = unit(at);
        let outward = vel.dot(out).max(0.0);
        let room = ((self.wings - at.length()) / self.slows_over).clamp(0.0, 1.0);
        let mut goes = vel - out * (outward * (1.0 - room));
        if goes.x * at.x > 0.0 {
            goes.x *= ((self.corners - at.x.abs()) / self.slows_over).clamp(0.0, 1.0);
        }
        goes
    }
}
