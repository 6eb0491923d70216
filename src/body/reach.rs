//! Time to reach: how soon a body can have its hands on a point.
//!
//! Model: for `reaction` seconds it coasts; then the acceleration may have any direction, at most
//! `accel`, and the speed is at most `top_speed`; the velocity at the end is free. (The simple
//! time-to-intercept of Spearman 2018 has the same delay but then jumps to top speed.)
//!
//! *Below the top speed* the best plan is one constant acceleration, and the time is the first root
//! of |D − v·t| = a·t²/2 + reach. The left side is convex, so each of its tangents lies below it: the
//! root of "tangent = right side" is a quadratic one, never passes the first root and converges fast.
//!
//! *At the top speed* the places that can be reached within t form a convex set, so the time is the
//! largest over all directions n of the time needed to come far enough along n. Along n the plan is:
//! accelerate along n up to the top speed, then turn along it (at accel / top_speed rad/s) until
//! n is the way he runs. n is corrected until the plan also ends abreast of the target. That plan
//! can be flown, but a blend of its two phases would be better by up to 1 %; stopping the correction of
//! n early errs to the other side. `tests/external/motion.rs` measures both against optimal control: over 4000
//! random states at most 1.1 % (0.020 s) late and 0.017 s early, 0.04 % on average.

use super::Limits;
use crate::court::Vec2;

/// Most tangent steps below the top speed; two or three are usual, a near miss in passing takes many.
const TANGENTS: usize = 32;
/// The tangent steps end when the hand is this close, m.
const CLOSE: f64 = 1e-6;
/// Most corrections of the direction at the top speed; one or two are usual.
const CORRECTIONS: usize = 8;
/// More than what rounding can take off a tangent step, s.
const ROUNDING: f64 = 1e-9;
/// After a correction smaller than this, rad, no other is worth while: the time changes by its square.
const SMALL_ANGLE: f64 = 0.05;

/// Least time, s, until a body at `pos` (m) with velocity `vel` (m/s) gets within `reach` (m) of `target`.
///
/// For `reaction` seconds it coasts, and may come within reach by that alone. Zero if it is there now.
/// A speed above the top speed counts as the top speed. Infinite if the body cannot move.
///
/// # Examples
/// ```
/// # use lanelight_play as lanelight;
/// use lanelight::body::time_to_reach;
/// use lanelight::court::Vec2;
/// use lanelight::squad::{Level, Position};
///
/// let limits = Level::VarsityBoys.player(1, Position::Guard).limits;
/// let (here, there) = (Vec2::ZERO, Vec2::new(5.0, 0.0));
/// let time = time_to_reach(here, Vec2::ZERO, &limits, there, 0.0, limits.reaction);
/// assert!(time > limits.reaction + 5.0 / limits.top_speed);
///
/// // With an arm held out it takes less.
/// let hand = time_to_reach(here, Vec2::ZERO, &limits, there, limits.reach, limits.reaction);
/// assert!(hand < time);
/// ```
#[inline]
pub fn time_to_reach(
    pos: Vec2,
    vel: Vec2,
    limits: &Limits,
    target: Vec2,
    reach: f64,
    reaction: f64,
) -> f64 {
    time_to_reach_within(pos, vel, limits, target, reach, reaction, f64::INFINITY)
}

/// The same; a time that is found not to be less than `most` may come out as anything not less than that.
#[inline]
pub fn time_to_reach_within(
    pos: Vec2,
    vel: Vec2,
    limits: &Limits,
    target: Vec2,
    reach: f64,
    reaction: f64,
    most: f64,
) -> f64 {
    let (accel, top) = (limits.accel, limits.top_speed);
    let offset = target - pos;
    let room = offset.length_squared() - reach * reach;
    if room <= 0.0 {
        return 0.0;
    }
    let mut v2 = vel.length_squared();
    let mut vel = vel;
    if v2 > top * top {
        vel *= top / v2.sqrt();
        v2 = top * top;
    }
    let closing = offset.dot(vel);
    if closing > 0.0 {
        let under = closing * closing - v2 * room;
        if under >= 0.0 {
            let t = room / (closing + under.sqrt());
            if t <= reaction {
                return t;
            }
        }
    }
    if accel <= 0.0 || top <= 0.0 {
        return f64::INFINITY;
    }
    let offset = offset - vel * reaction;
    let (t, along) = below_top_speed(offset, vel, accel, reach, most - reaction + ROUNDING);
    if t >= most - reaction + ROUNDING {
        return reaction + t;
    }
    if (vel + along * (accel * t)).length_squared() <= top * top {
        return reaction + t;
    }
    reaction + at_top_speed(offset, vel, accel, top, reach, along).max(t)
}

/// First time at which a constant acceleration brings the hand there, and its direction. No tangent
/// step passes it: once one comes to `most` the rest are not taken.
#[inline]
fn below_top_speed(offset: Vec2, vel: Vec2, accel: f64, reach: f64, most: f64) -> (f64, Vec2) {
    let mut t = 0.0;
    let mut along = Vec2::ZERO;
    for _ in 0..TANGENTS {
        let rest = offset - vel * t;
        let distance = rest.length();
        if distance > 0.0 {
            along = rest / distance;
        }
        if distance <= reach + 0.5 * accel * t * t + CLOSE {
            break;
        }
        let closing = along.dot(vel);
        let gap = distance + closing * t - reach;
        t = 2.0 * gap / (closing + (closing * closing + 2.0 * accel * gap).sqrt());
        if t >= most {
            break;
        }
    }
    (t, along)
}

/// Time needed when the top speed is met on the way; `along` is the first guess of the direction.
fn at_top_speed(offset: Vec2, vel: Vec2, accel: f64, top: f64, reach: f64, along: Vec2) -> f64 {
    let plan = |n: Vec2, side: Vec2| {
        Plan::new(offset.dot(n) - reach, vel.dot(n), vel.dot(side), accel, top)
    };
    let mut n = along;
    for _ in 0..CORRECTIONS {
        let side = Vec2::new(-n.y, n.x);
        let plan = plan(n, side);
        // How far the end of the plan moves sideways per radian of n: about the way that he has made.
        let t = plan.about;
        let radius = reach + (0.5 * accel * t * t).min(top * t);
        let angle = (offset.dot(side) - plan.drift) / radius;
        n += side * angle;
        n /= n.length();
        if angle.abs() < SMALL_ANGLE {
            break;
        }
    }
    let straight_way = (offset.length() - reach) / top;
    plan(n, Vec2::new(-n.y, n.x))
        .time(top / accel)
        .max(straight_way)
}

/// Accelerate along a direction up to the top speed, turn along it until that is the way he runs, cruise.
#[derive(Clone, Copy)]
struct Plan {
    /// Duration of acceleration and cruise, s.
    straight: f64,
    /// Sines of the angle between velocity and direction when the turn begins and ends.
    sin: f64,
    sin_end: f64,
    /// Duration of the whole, s, the turn counted at its chord.
    about: f64,
    /// Sideways way made, m.
    drift: f64,
}

impl Plan {
    /// To come `ahead` metres along the direction from the velocity (`forward`, `lateral`) to it.
    #[inline]
    fn new(ahead: f64, forward: f64, lateral: f64, accel: f64, top: f64) -> Plan {
        let cap = (top * top - lateral * lateral).max(0.0).sqrt();
        let until = ((cap - forward) / accel).max(0.0);
        let made = until * (forward + 0.5 * accel * until);
        if made >= ahead {
            let root = (forward * forward + 2.0 * accel * ahead).max(0.0).sqrt();
            let t = 2.0 * ahead / (forward + root);
            return Plan {
                straight: t,
                sin: 0.0,
                sin_end: 0.0,
                about: t,
                drift: lateral * t,
            };
        }
        let radius = top * top / accel;
        let sin = (lateral.abs() / top).min(1.0);
        let rest = sin - (ahead - made) / radius;
        let sin_end = rest.max(0.0);
        let cruise = (-rest).max(0.0) * (top / accel);
        let turned = radius * ((1.0 - sin_end * sin_end).sqrt() - cap / top);
        let drift = lateral.abs() * until + turned;
        Plan {
            straight: until + cruise,
            sin,
            sin_end,
            about: until + cruise + (sin - sin_end) * (top / accel),
            drift: if lateral < 0.0 { -drift } else { drift },
        }
    }

    /// Duration of the whole, s; `per_radian` is the duration of a turn by one radian at top speed.
    #[inline]
    fn time(&self, per_radian: f64) -> f64 {
        if self.sin <= 0.0 {
            return self.straight;
        }
        let end = if self.sin_end > 0.0 {
            libm::asin(self.sin_end)
        } else {
            0.0
        };
        self.straight + (libm::asin(self.sin) - end) * per_radian
    }
}

/// A bound from below for [`time_to_reach`], s: the straight way at top speed, whatever the velocity
/// and the reaction; true to within a microsecond, the rounding of the closed form. For pruning.
#[inline]
pub fn time_to_reach_at_least(pos: Vec2, limits: &Limits, target: Vec2, reach: f64) -> f64 {
    let way = (target - pos).length() - reach;
    if way > 0.0 {
        way / limits.top_speed
    } else {
        0.0
    }
}

/// Is the time of [`time_to_reach`] surely not less than `time` (s)? A cheap test for pruning: false
/// says nothing. Nothing is lost by it: he is nowhere nearer, on the way that he would coast, than
/// his acceleration after the reaction makes up for, or the way is too long at top speed.
#[inline]
pub fn surely_later(
    pos: Vec2,
    vel: Vec2,
    limits: &Limits,
    target: Vec2,
    reach: f64,
    reaction: f64,
    time: f64,
) -> bool {
    if time <= 0.0 {
        return true;
    }
    let offset = target - pos;
    let d2 = offset.length_squared();
    let run = reach + limits.top_speed * time + 2.0 * CLOSE;
    if d2 > run * run {
        return true;
    }
    let v2 = vel.length_squared();
    if v2 > limits.top_speed * limits.top_speed {
        return false;
    }
    let free = (time - reaction).max(0.0);
    let made = reach + 0.5 * limits.accel * free * free + 2.0 * CLOSE;
    let closing = offset.dot(vel);
    let nearest2 = if closing <= 0.0 {
        d2
    } else if closing >= time * v2 {
        d2 + time * (time * v2 - 2.0 * closing)
    } else {
        d2 - closing * closing / v2
    };
    nearest2 > made * made
}

/// Least time, s, in which a body runs through `target` at no more than `pace` (share of the top
/// speed, 0..=1) of its speed, without any delay. Infinite for a pace of 0 and a target elsewhere.
/// A body that is faster than that now counts as one that is just so fast.
pub fn travel_time(pos: Vec2, vel: Vec2, limits: &Limits, target: Vec2, pace: f64) -> f64 {
    let pace = if pace > 0.0 { pace.min(1.0) } else { 0.0 };
    let slower = Limits {
        top_speed: limits.top_speed * pace,
        ..*limits
    };
    time_to_reach(pos, vel, &slower, target, 0.0, 0.0)
}
