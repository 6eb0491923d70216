//! One tick of motion.
//!
//! The wish is a velocity: toward the target, at the pace asked for, no faster than the stance
//! allows and, when he is to stop there, no faster than he can brake. The change of velocity is
//! cut to an ellipse in the frame of the present velocity: `accel` forward, `brake` backward,
//! `turn` to the side (a friction circle with three radii; sources: change-of-direction cost,
//! lateral acceleration 4–6 m/s², common practice, no source). The position moves by the mean of the
//! old and the new velocity, which is exact for a constant acceleration within the tick.

use super::{Body, Intent, Limits};
use crate::court::Vec2;
use crate::model::{Model, Turn};

/// Distances, speeds and lengths below this count as nothing (m or m/s).
const NOTHING: f64 = 1e-9;

/// Highest speed, m/s, of a body that moves along `dir` (unit) with its chest along `facing` (unit):
/// the top speed forward, `shuffle` of it sideways, `backpedal` of it backward, smooth between.
#[inline]
pub fn speed_limit(limits: &Limits, facing: Vec2, dir: Vec2) -> f64 {
    let c = facing.dot(dir).clamp(-1.0, 1.0);
    let end = if c >= 0.0 { 1.0 } else { limits.backpedal };
    limits.top_speed * (limits.shuffle + (end - limits.shuffle) * c * c)
}

/// The body after `dt` seconds of trying `intent` as quickly as it can: [`wish`], then [`follow`] without
/// a lag.
///
/// The speed never exceeds `top_speed`; within a tick the velocity changes by no more than the
/// friction ellipse allows (a velocity handed in above the top speed is first cut to it). The wish never
/// exceeds [`speed_limit`]; while he turns, the velocity may, until he has braked. A target
/// that is not finite counts as the present place; `dt` that is not positive changes nothing.
pub fn step(model: &Model, body: &Body, limits: &Limits, intent: &Intent, dt: f64) -> Body {
    if dt.is_nan() || dt <= 0.0 {
        return *body;
    }
    let wish = wish(model, body, limits, intent, dt, f64::INFINITY);
    follow(body, limits, &wish, dt, 0.0)
}

/// What a body means to do in a tick: where the chest turns, and the velocity that it wants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wish {
    /// Unit normal of the shoulders at the end of the tick.
    pub facing: Vec2,
    /// The velocity wanted, m/s.
    pub vel: Vec2,
}

/// The wish behind an intent: toward the target, at its pace. A body that is to stop there wants no
/// more speed than it can brake away, nor more than `settle` (1/s) times the distance that is left.
pub fn wish(
    model: &Model,
    body: &Body,
    limits: &Limits,
    intent: &Intent,
    dt: f64,
    settle: f64,
) -> Wish {
    let (vel, speed) = capped(finite_or_zero(body.vel), limits.top_speed);
    let pace = if intent.pace > 0.0 {
        intent.pace.min(1.0)
    } else {
        0.0
    };
    let offset = if is_finite(intent.target) {
        intent.target - body.pos
    } else {
        Vec2::ZERO
    };
    let distance = offset.length();
    let along = if distance > NOTHING {
        offset / distance
    } else if speed > NOTHING && !intent.arrive {
        vel / speed
    } else {
        Vec2::ZERO
    };

    let way = if speed > model.body.facing_speed && along == Vec2::ZERO {
        vel
    } else {
        along
    };
    let facing = faces(model, body, intent.face.unwrap_or(way), dt);

    let mut wish = pace * speed_limit(limits, facing, along);
    if intent.arrive {
        wish = wish.min(arrival_speed(
            distance - 0.5 * vel.dot(along) * dt,
            model.body.planned_braking_share * limits.brake,
            dt,
        ));
        if distance > NOTHING {
            wish = wish.min(settle * distance);
        }
    }
    Wish {
        facing,
        vel: along * wish,
    }
}

/// Where the chest points after `dt` seconds of turning toward `way` (any length), a unit vector.
pub fn faces(model: &Model, body: &Body, way: Vec2, dt: f64) -> Vec2 {
    let most = model.body.turn_rate * dt;
    turned(body.facing, way, body.pos, most, model.turn_of_a_tick())
}

/// The body after `dt` seconds of following a wish. The velocity closes on the wish with the time constant
/// `lag` (s; 0: at once), within the friction ellipse and the top speed.
pub fn follow(body: &Body, limits: &Limits, wish: &Wish, dt: f64, lag: f64) -> Body {
    let (vel, speed) = capped(finite_or_zero(body.vel), limits.top_speed);
    let share = if lag > dt { dt / lag } else { 1.0 };
    let change = (wish.vel - vel) * share;
    let vel_after = under(
        vel + within_ellipse(change, vel, speed, limits, dt),
        limits.top_speed,
    );
    Body {
        pos: body.pos + (vel + vel_after) * (0.5 * dt),
        vel: vel_after,
        facing: wish.facing,
    }
}

/// Highest speed at the end of this tick from which braking at `b` m/s² still stops in `room` metres:
/// v²/2b + v·dt ≤ room (the second term is the rest of the last, shorter braking tick).
#[inline]
pub fn arrival_speed(room: f64, b: f64, dt: f64) -> f64 {
    if room <= 0.0 {
        return 0.0;
    }
    b * ((dt * dt + 2.0 * room / b).sqrt() - dt)
}

/// The part of the wished change of velocity that the friction ellipse allows in `dt`.
#[inline]
fn within_ellipse(change: Vec2, vel: Vec2, speed: f64, limits: &Limits, dt: f64) -> Vec2 {
    let size2 = change.length_squared();
    if size2 <= NOTHING * NOTHING {
        return change;
    }
    let ahead = if speed > NOTHING {
        vel / speed
    } else {
        change / size2.sqrt()
    };
    let forward = change.dot(ahead);
    let side = ahead.x * change.y - ahead.y * change.x;
    let bound = if forward >= 0.0 {
        limits.accel * dt
    } else {
        // Braking until he stands, then acceleration the other way for what is left of the tick.
        let stop = speed / limits.brake;
        if stop >= dt {
            limits.brake * dt
        } else {
            speed + limits.accel * (dt - stop)
        }
    };
    let (f, s) = (forward / bound, side / (limits.turn * dt));
    let share2 = f * f + s * s;
    if share2 > 1.0 {
        change / share2.sqrt()
    } else {
        change
    }
}

/// `facing` turned toward `wish` (any length; zero or not finite = stay) by at most `most` radians,
/// usually those of a `tick`.
#[inline]
fn turned(facing: Vec2, wish: Vec2, pos: Vec2, most: f64, tick: &Turn) -> Vec2 {
    let length = wish.length();
    let now = facing.length();
    let facing = if now > NOTHING && now.is_finite() {
        facing / now
    } else {
        Vec2::new(0.0, -1.0)
    };
    if !length.is_finite() || length <= NOTHING {
        return facing;
    }
    let wish = wish / length;
    if most >= std::f64::consts::PI {
        return wish;
    }
    let now = facing.dot(wish);
    // The cosine is below the first three terms of its series: no need of it for a small turn.
    let squared = most * most;
    if now >= 1.0 - squared * (0.5 - squared / 24.0) {
        return wish;
    }
    let (size, cos) = if most == tick.angle {
        (tick.sin, tick.cos)
    } else {
        (libm::sin(most), libm::cos(most))
    };
    if now >= cos {
        return wish;
    }
    let out = turned_by(facing, wish, pos, (size, cos));
    out / out.length()
}

/// The direction `facing` (unit) of a body at `pos` turned toward `wish` (unit) by the angle of this sine and cosine. An
/// exact about-turn goes by way of the basket, which keeps a mirrored floor a mirror image.
#[inline]
pub fn turned_by(facing: Vec2, wish: Vec2, pos: Vec2, (size, cos): (f64, f64)) -> Vec2 {
    let mut cross = facing.x * wish.y - facing.y * wish.x;
    if cross == 0.0 {
        cross = facing.y * pos.x - facing.x * pos.y;
    }
    let sin = if cross < 0.0 { -size } else { size };
    Vec2::new(
        facing.x * cos - facing.y * sin,
        facing.x * sin + facing.y * cos,
    )
}

#[inline]
fn capped(v: Vec2, most: f64) -> (Vec2, f64) {
    let speed = v.length();
    if speed > most {
        let v = v * (most / speed);
        (v, v.length())
    } else {
        (v, speed)
    }
}

/// A velocity cut to a speed. (No root where it is surely slower.)
#[inline]
fn under(v: Vec2, most: f64) -> Vec2 {
    if v.length_squared() < most * most * SURELY {
        v
    } else {
        capped(v, most).0
    }
}

/// One, less more than the rounding of a square.
const SURELY: f64 = 1.0 - 1e-12;

#[inline]
fn is_finite(v: Vec2) -> bool {
    v.x.is_finite() && v.y.is_finite()
}

#[inline]
fn finite_or_zero(v: Vec2) -> Vec2 {
    if is_finite(v) { v } else { Vec2::ZERO }
}
