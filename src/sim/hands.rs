//! Defenders and a ball that nobody holds: whether a defender goes for it, and where.
//!
//! A defender goes for a pass within reach. For a loose ball the nearest player of each side goes, and everybody
//! beside it: it comes before every duty.

use crate::body::{Body, surely_later, time_to_reach};
use crate::court::Vec2;
use crate::looks::Cast;
use crate::possession::TICK;

use super::eyes::alertness;
use super::parts::*;

/// From no farther than this a defender goes for a loose ball, metres (ours).
const GOES_FOR_IT: f64 = 6.0;
/// A rolling ball slows at this rate, m/s² (ours: a bouncing ball loses speed at about that).
const SLOWS: f64 = 1.5;
/// A runner to a loose ball means to have it in his hands' reach, metres, and tries the way of the ball in such steps,
/// seconds, so many at most (ours).
const IN_HAND: f64 = 0.4;
const TRIES_EVERY: f64 = 0.12;
const TRIES: u32 = 20;

/// Where a ball that rolls now at `pos` with `vel` will be after `time` seconds, metres, and how fast, m/s.
pub(super) fn rolls(pos: Vec2, vel: Vec2, time: f64) -> (Vec2, Vec2) {
    let speed = vel.length();
    if speed < 1e-9 {
        return (pos, vel);
    }
    let time = time.min(speed / SLOWS);
    let along = vel / speed;
    let way = speed * time - 0.5 * SLOWS * time * time;
    (pos + along * way, along * (speed - SLOWS * time))
}

/// The first point of the way of a loose ball, at `ball` with velocity `rolling`, where a runner at `pos` with `vel`
/// can be in time, metres; else the last before it is out.
pub(super) fn gets_it_at(
    cast: &Cast,
    who: usize,
    (ball, rolling): (Vec2, Vec2),
    (pos, vel): (Vec2, Vec2),
) -> Vec2 {
    let limits = &cast.players[who].limits;
    let mut last = ball;
    for k in 1..=TRIES {
        let time = TRIES_EVERY * f64::from(k);
        let at = rolls(ball, rolling, time).0;
        if !cast.court.in_bounds(at) {
            break;
        }
        last = at;
        if time_to_reach(pos, vel, limits, at, IN_HAND, 0.0) <= time {
            break;
        }
    }
    last
}

/// A time that is so much longer is longer for certain, s.
const LATER: f64 = 1e-6;

/// A ball rolls beside defender `d`, or nearest to this one of the five: the point to run to.
pub(super) fn goes_for_a_loose_ball(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    d: usize,
    body: &Body,
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
    ((beside || nearest) && knows)
        .then(|| gets_it_at(&play.cast, 5 + d, (*pos, *vel), (body.pos, body.vel)))
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
