//! Time to reach: how soon a body can have its hands on a point.

use super::Limits;
use crate::court::Vec2;

/// Least time, s, until a body gets within `reach` of `target`.
pub fn time_to_reach(
    pos: Vec2,
    vel: Vec2,
    limits: &Limits,
    target: Vec2,
    reach: f64,
    reaction: f64,
) -> f64 {
    let distance = (target - pos - vel * reaction).norm() - reach;
    if distance <= 0.0 {
        return reaction;
    }
    reaction + distance / limits.top_speed
}

/// A bound from below for [`time_to_reach`], s: the straight way at top speed, whatever the velocity
/// and the reaction. One square root; for pruning.
#[inline]
pub fn time_to_reach_at_least(pos: Vec2, limits: &Limits, target: Vec2, reach: f64) -> f64 {
    ((target - pos).norm() - reach).max(0.0) / limits.top_speed
}

/// Least time, s, in which a body runs through `target` at no more than `pace` (share of the top
/// speed, 0..=1) of its speed, without any delay. Infinite for a pace of 0 and a target elsewhere.
pub fn travel_time(pos: Vec2, vel: Vec2, limits: &Limits, target: Vec2, pace: f64) -> f64 {
    let capped = Limits {
        top_speed: limits.top_speed * pace,
        ..*limits
    };
    time_to_reach(pos, vel, &capped, target, 0.0, 0.0)
}
