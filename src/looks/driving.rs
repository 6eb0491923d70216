//! Driving-lane openness: can the holder dribble to the rim before a body is in his way?
//!
//! Three lanes are tried: straight, and round either side of the defender on the ball. The driver
//! accelerates from his present velocity to his dribbling speed; a defender shuts a point of the
//! lane by getting his body there first.

use super::{Cast, Openness, Points, Scene, chance_to_cut, hopeless, least_margin};
use crate::body::Limits;
use crate::court::Vec2;

/// Points of a lane that are looked at.
const SAMPLES: usize = 6;
/// Another lane is taken only if it is more open by this much.
const BETTER_BY: f64 = 1e-9;

/// The best lane.
#[derive(Clone, Copy, Debug)]
pub struct DriveLook {
    /// Chance that nobody shuts the lane, and who shuts it most.
    pub openness: Openness,
    /// First point to make for: beside the defender, or the take-off.
    pub via: Vec2,
    /// Where the driver leaves the floor.
    pub finish: Vec2,
    /// Seconds to the take-off.
    pub time: f64,
}

/// Time, s, to cover `s` metres from speed `v0` under `accel` up to `top`.
#[inline]
fn dribble_time(v0: f64, accel: f64, top: f64, s: f64) -> f64 {
    let v0 = v0.clamp(0.0, top);
    let ramp = (top * top - v0 * v0) / (2.0 * accel);
    if s <= ramp {
        ((v0 * v0 + 2.0 * accel * s).sqrt() - v0) / accel
    } else {
        (top - v0) / accel + (s - ramp) / top
    }
}

/// A sum of places is on neither side if it is less than this, metres.
const MIRRORED: f64 = 1e-9;

/// Driving-lane openness for the holder now.
///
/// # Examples
/// ```
/// # use lanelight_play as lanelight;
/// use lanelight::court::Vec2;
/// use lanelight::sim::cast_of;
/// use lanelight::looks::driving::driving;
/// use lanelight::looks::{BODIES, Scene};
/// use lanelight::scenario::Scenario;
///
/// let cast = cast_of(&Scenario::demo());
/// // Five attackers, each with a defender between them and the rim.
/// let at = [(-2.4, 7.0), (2.4, 7.0), (6.0, 4.0), (-6.0, 4.0), (0.0, 2.0)];
/// let pos: [Vec2; BODIES] = std::array::from_fn(|i| {
///     let (x, y) = at[i % 5];
///     Vec2::new(x, y) * if i < 5 { 1.0 } else { 0.75 }
/// });
/// let mut scene = Scene {
///     pos,
///     vel: [Vec2::ZERO; BODIES],
///     facing: std::array::from_fn(|i| pos[i] / pos[i].length() * if i < 5 { -1.0 } else { 1.0 }),
///     alert: [0.2; 5],
///     aware: [0.1; 5],
///     guards: [0, 1, 2, 3, 4],
/// };
/// let guarded = driving(&cast, &scene, 0);
///
/// // All defenders stay behind at half court.
/// for d in 5..BODIES {
///     scene.pos[d] = Vec2::new(0.0, 13.0);
/// }
/// let free = driving(&cast, &scene, 0);
/// assert!(free.openness.value > 0.99 && free.openness.value > guarded.openness.value);
/// ```
pub fn driving(cast: &Cast, scene: &Scene, holder: usize) -> DriveLook {
    let looks = &cast.model.looks;
    let pos = scene.pos[holder];
    let rim_way = -pos;
    let distance = rim_way.length().max(1e-6);
    let take_off = looks.take_off_distance;
    let finish = if distance > take_off {
        pos + rim_way * ((distance - take_off) / distance)
    } else {
        pos
    };
    let (_, on_ball) = guard_of(scene, holder);
    let guard = scene.pos[5 + on_ball];
    // The first side tried, which wins a tie, is the same on both halves of the floor; on the midline
    // it is told by the others.
    let all: f64 = scene.pos.iter().map(|p| p.x).sum();
    let told = [pos.x, guard.x, all];
    let first = told.iter().find(|x| x.abs() > MIRRORED);
    let hand = first.map_or(1.0, |x| x.signum());
    let across = Vec2::new(-rim_way.y, rim_way.x) * (hand / distance);
    let mut best: Option<DriveLook> = None;
    // Only a defender within two steps need be gone round.
    let wide = looks.drive_around_width;
    let near = (guard - pos).length() < looks.drive_around_defender_distance;
    let tries = if near && distance > looks.drive_around_rim_distance {
        3
    } else {
        1
    };
    for offset in [0.0, wide, -wide].into_iter().take(tries) {
        let via = if offset == 0.0 {
            finish
        } else {
            let nearest = looks.drive_around_nearest;
            let near = if (guard - pos).length() < nearest {
                pos + rim_way * (nearest / distance)
            } else {
                guard
            };
            near + across * offset
        };
        let enough = best.map_or(-1.0, |b| b.openness.value + BETTER_BY);
        if enough >= 1.0 {
            break;
        }
        let likely = best.map(|b| b.openness.closer.0);
        let look = lane(
            cast,
            scene,
            holder,
            on_ball,
            (via, finish),
            (enough, likely),
        );
        if best.is_none() || look.openness.value > enough {
            best = Some(look);
        }
    }
    best.unwrap_or_else(|| lane(cast, scene, holder, on_ball, (finish, finish), (-1.0, None)))
}

/// The lane by a point `via`, metres: off a screen on the ball, round which the holder's own defender has to go, which
/// takes him `held_up` more seconds.
pub fn by_way(cast: &Cast, scene: &Scene, holder: usize, via: Vec2, held_up: f64) -> DriveLook {
    let (_, on_ball) = guard_of(scene, holder);
    let take_off = cast.model.looks.take_off_distance;
    let finish = via * (take_off / via.length().max(take_off));
    let mut scene = *scene;
    scene.alert[on_ball] += held_up;
    lane(cast, &scene, holder, on_ball, (via, finish), (-1.0, None))
}

/// The defender who guards the holder, and how far away he is.
fn guard_of(scene: &Scene, holder: usize) -> (f64, usize) {
    for d in 0..5 {
        if scene.guards[d] == holder {
            return ((scene.pos[5 + d] - scene.pos[holder]).length(), d);
        }
    }
    scene.nearest_defender(scene.pos[holder])
}

/// One lane; once it is surely no more open than `enough`, however open it is by then. `likely` is he who shut
/// another lane most: he is asked first.
fn lane(
    cast: &Cast,
    scene: &Scene,
    holder: usize,
    on_ball: usize,
    (via, finish): (Vec2, Vec2),
    (enough, likely): (f64, Option<usize>),
) -> DriveLook {
    let looks = &cast.model.looks;
    let player = &cast.players[holder];
    let (pos, vel) = (scene.pos[holder], scene.vel[holder]);
    let top = player.limits.top_speed * player.dribble;
    let accel = player.limits.accel;
    let first = via - pos;
    let second = finish - via;
    let (a, b) = (first.length(), second.length());
    let length = a + b;
    let v0 = if a > 1e-6 { vel.dot(first) / a } else { 0.0 };
    let mut chances = [0.0; 5];
    let mut points = Points::<SAMPLES>::new();
    for i in 0..SAMPLES {
        let s = length * (i as f64 + 1.0) / SAMPLES as f64;
        let p = if s <= a || b < 1e-6 {
            if a > 1e-6 {
                pos + first * (s / a).min(1.0)
            } else {
                pos
            }
        } else {
            via + second * ((s - a) / b)
        };
        points.put(i, p, dribble_time(v0, accel, top, s));
    }
    let time = points.t[SAMPLES - 1];
    let chance_of = |d: usize| {
        let body = 5 + d;
        let own = &cast.players[body].limits;
        // On the ball he slides; he has no time to turn and run.
        let sliding;
        // From behind a lane is shut only by who gets past the driver's body first.
        let off = scene.pos[body] - pos;
        let apart = off.length() * a;
        let behind = if apart > 1e-6 {
            (-off.dot(first) / apart).clamp(0.0, 1.0)
        } else {
            0.0
        };
        let limits = if d == on_ball && behind == 0.0 {
            sliding = Limits {
                top_speed: own.top_speed * own.shuffle,
                ..*own
            };
            &sliding
        } else {
            own
        };
        let reaction = scene.alert[d]
            + if d == on_ball {
                looks.drive_on_ball_delay
            } else {
                looks.drive_help_delay + scene.aware[d]
            };
        let reaction = reaction + looks.drive_round_delay * behind;
        let body = (scene.pos[body], scene.vel[body]);
        let reach = [looks.drive_block_distance * (1.0 - behind); SAMPLES];
        let least = least_margin(looks, (body, limits), &points, &reach, 0, (reaction, 0.0));
        if least < hopeless(looks) {
            chance_to_cut(looks, least)
        } else {
            0.0
        }
    };
    let mut open = 1.0;
    let others = (0..5).filter(|&d| likely != Some(d));
    for d in likely.into_iter().chain(others) {
        chances[d] = chance_of(d);
        open *= 1.0 - chances[d];
        if open <= enough - SURELY {
            break;
        }
    }
    DriveLook {
        openness: Openness::of(&chances),
        via,
        finish,
        time,
    }
}

/// More than the rounding of a product of five.
const SURELY: f64 = 1e-12;

/// Is the strip from the holder to the rim, `half` metres to either side, free of every defender
/// but the one who guards him?
pub fn strip_free(scene: &Scene, holder: usize, half: f64) -> bool {
    (0..5).all(|d| scene.guards[d] == holder || !in_strip(scene, holder, half, d))
}

/// Does defender `d` stand in the strip from the holder to the rim, `half` metres to either side?
pub fn in_strip(scene: &Scene, holder: usize, half: f64, d: usize) -> bool {
    let pos = scene.pos[holder];
    let length = pos.length().max(1e-6);
    let along = -pos / length;
    let offset = scene.pos[5 + d] - pos;
    let forward = offset.dot(along);
    let side = (offset.x * along.y - offset.y * along.x).abs();
    (0.0..=length).contains(&forward) && side <= half
}
