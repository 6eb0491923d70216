//! A run to a place, by up to three points.

use crate::body::Intent;
use crate::court::Vec2;

use super::super::manner;
use super::super::parts::*;
use super::super::steering;
use super::{Effects, Inputs, THERE};

/// Beside the lane within this distance, metres, as long as he gets on faster than this, m/s (ours).
const BESIDE_THE_LANE: f64 = 0.15;
const GETS_ON: f64 = 0.4;
/// Share of his braking power with which a runner goes into a corner of the floor (ours).
const EASES: f64 = 0.55;

/// The runner makes for point `leg` of his way (of `legs` points, the first being where he set out), at no
/// more than the share `asked` of his top speed.
pub(super) fn step(
    input: &Inputs,
    (way, legs, asked): (&[Vec2; 4], u8, f64),
    leg: &mut u8,
    effects: &mut Effects,
) -> Intent {
    let pos = input.pos;
    let last = *leg + 1 >= legs;
    let target = way[usize::from(*leg)];
    let near = (target - pos).length();
    // Where his way turns back he has to get to, and to brake, too.
    let next = way[usize::from(*leg + 1).min(way.len() - 1)];
    let came = target - way[usize::from(*leg) - 1];
    let turns_back = !last && (next - target).dot(came) < 0.0;
    // Who has come past a point of his way need not go back to it.
    let off = target - pos;
    let past = !last && !turns_back && (off.dot(came) < 0.0 || off.dot(next - target) < 0.0);
    if near < counts_as_there(input, last, turns_back) || past {
        if last {
            effects.task = Some(Task::Stand);
        } else {
            *leg += 1;
        }
    }
    let face = if near < 2.0 && last {
        Some(input.to_ball())
    } else {
        None
    };
    let legs_made = (1..usize::from(legs)).map(|k| (way[k] - way[k - 1]).length());
    let mut pace = manner::pace_of_run(input.play, input.who, pos, legs_made.sum(), asked);
    if !last && input.place.is_some_and(|s| s.name.is_wide()) {
        pace = pace.min(into_a_corner(input, way, legs, *leg, near));
    }
    Intent {
        target,
        arrive: last || turns_back,
        pace,
        face,
    }
}

/// How near to a point of his way, metres, the runner counts as there.
fn counts_as_there(input: &Inputs, last: bool, turns_back: bool) -> f64 {
    match input.place {
        _ if turns_back => THERE,
        _ if !last => 0.9,
        // Beside the lane he is there when he is out of it, or can get no farther.
        Some(s) if !s.name.is_perimeter() && input.vel.length() > GETS_ON => BESIDE_THE_LANE,
        _ => THERE,
    }
}

/// Into a corner of the floor he runs no faster than he can stop there: that share of his top speed, with
/// `near` metres to the next point of his way.
fn into_a_corner(input: &Inputs, way: &[Vec2; 4], legs: u8, leg: u8, near: f64) -> f64 {
    let mut left = near;
    for k in usize::from(leg)..usize::from(legs).max(1) - 1 {
        left += (way[k + 1] - way[k]).length();
    }
    let limits = &input.play.cast.players[input.who].limits;
    let may = steering::may_run(limits, input.effort * EASES, left);
    may / limits.top_speed
}
