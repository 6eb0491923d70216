//! Defenders and a ball that nobody holds: whether a defender goes for it, and where.
//!
//! A defender goes for a pass within reach. For a loose ball the nearest player of each side goes, and everybody
//! beside it: it comes before every duty.

use crate::body::{Body, surely_later, time_to_reach};
use crate::court::Vec2;
use crate::possession::TICK;

use super::eyes::alertness;
use super::parts::*;

/// From no farther than this a defender goes for a loose ball, metres, and to where it will be in so long, seconds
/// (ours).
const GOES_FOR_IT: f64 = 6.0;
const LEADS_IT: f64 = 0.2;

/// A time that is so much longer is longer for certain, s.
const LATER: f64 = 1e-6;

/// A ball rolls beside defender `d`, or nearest to this one of the five: the point to run to.
pub(super) fn goes_for_a_loose_ball(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    d: usize,
    sees: bool,
) -> Option<Vec2> {
    let BallState::Loose {
        pos, vel, since, ..
    } = &ball.state
    else {
        return None;
    };
    let off = |i: usize| (old.scene.pos[5 + i] - pos).length();
    let beside = off(d) < play.cast.model.movement.loose_ball_distance;
    let nearest = sees && off(d) < GOES_FOR_IT && (0..5).all(|i| off(d) <= off(i));
    let knows = clock.tick >= since + ticks(play.cast.players[5 + d].limits.reaction);
    ((beside || nearest) && knows).then(|| pos + vel * LEADS_IT)
}

/// A pass is in the air and he thinks that he gets a hand on it: the point where.
#[allow(clippy::too_many_arguments)]
pub(super) fn goes_for_it(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    d: usize,
    body: &Body,
    guard: &Guard,
    eyes: &Eyes,
) -> Option<Vec2> {
    let (flight, began) = match &ball.state {
        BallState::Flying { flight, began, .. } => (flight, began),
        _ => return None,
    };
    let gone = f64::from(clock.tick - began) * TICK;
    if gone < alertness(play, d, guard, eyes) {
        return None;
    }
    let limits = &play.cast.players[5 + d].limits;
    let looks = &play.cast.model.looks;
    let top = limits.standing_reach + looks.hop_height;
    for step in 1..=6 {
        let t = gone + (flight.duration - gone) * f64::from(step) / 6.0;
        let (p, height) = flight.at(t);
        if height > top || (p - flight.from).length() < looks.pivot_distance {
            continue;
        }
        let low = if height < looks.low_ball_height {
            looks.low_ball_reach_share
        } else {
            1.0
        };
        let reach = limits.reach * looks.hand_reach_share * low;
        let (pos, vel, until) = (body.pos, body.vel, t - gone);
        if !surely_later(pos, vel, limits, p, reach, 0.0, until + LATER)
            && time_to_reach(pos, vel, limits, p, reach, 0.0) <= until
        {
            return Some(p);
        }
    }
    None
}
