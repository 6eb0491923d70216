//! What a shot is worth: chance to make it times its points, by zone, distance and contest.

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_2_SQRT_PI};

use super::{Cast, Scene};
use crate::court::Vec2;
use crate::model::Shots;
use crate::squad::shot::{Guarded, make_chance};

/// Chance to make it and points it is worth, fouls included, if taken at `p` by `shooter`, so `guarded`.
pub fn shot_at(cast: &Cast, shooter: usize, p: Vec2, guarded: &Guarded) -> (f64, f64) {
    let shots = &cast.model.shots;
    let zone = cast.court.zone(p);
    let behind = p.y < -shots.board_depth && p.x.abs() < 0.5 * shots.board_width;
    let far = cast.court.arc_radius.map_or(0.0, |arc| {
        (p.length() - arc - shots.long_three_distance).max(0.0)
    });
    let place = if behind {
        shots.behind_board_share
    } else {
        1.0
    };
    let share = place * (1.0 - shots.long_three_loss * far).max(0.0);
    let chance = share
        * make_chance(
            &cast.model,
            &cast.players[shooter].shooting,
            zone,
            p.length(),
            guarded,
        );
    let fouled = foul_chance(cast, shooter, p, guarded.room);
    let throws = 2.0 * cast.players[shooter].shooting.free_throw;
    let value = (1.0 - fouled) * chance * f64::from(cast.court.points(p)) + fouled * throws;
    (chance, value)
}

/// Chance that `shooter` (0–9) is fouled at `p` (m), with the nearest defender `room` metres away: only at the rim, and only in
/// contact (or near it).
pub fn foul_chance(cast: &Cast, shooter: usize, p: Vec2, room: f64) -> f64 {
    let shots = &cast.model.shots;
    if p.length() >= shots.rim_distance {
        return 0.0;
    }
    let near = (shots.foul_room - room) / (shots.foul_room - shots.foul_contact);
    shots.foul_share * cast.players[shooter].fouled * near.clamp(0.0, 1.0)
}

/// How a shooter at `p` (m) is guarded after `time` seconds, if everybody comes as fast as possible.
pub fn guarded_after(cast: &Cast, scene: &Scene, who: usize, p: Vec2, time: f64) -> Guarded {
    (0..5).fold(Guarded::FREE, |so_far, d| {
        let off = scene.pos[5 + d] - p;
        let left = distance_after(cast, scene, d, p, time, scene.guards[d] == who);
        so_far.and(&cast.model, p, off * (left / off.length().max(1e-6)), 0.0)
    })
}

/// How a driver who makes for `finish` (m) and is there in `time` seconds will be guarded there: who is ahead meets the
/// driver on the way, who is not follows.
pub fn guarded_on_the_way(
    cast: &Cast,
    scene: &Scene,
    driver: usize,
    finish: Vec2,
    time: f64,
) -> Guarded {
    let pos = scene.pos[driver];
    let way = finish - pos;
    let long = way.length();
    (0..5).fold(Guarded::FREE, |so_far, d| {
        let off = scene.pos[5 + d] - pos;
        let along = off.dot(way) / (long * long).max(1e-9);
        let own = scene.guards[d] == driver;
        let (p, off, share) = if along > 0.0 {
            let met = pos + way * along.min(1.0);
            (met, -finish, along.min(1.0))
        } else {
            (finish, scene.pos[5 + d] - finish, 1.0)
        };
        let left = distance_after(cast, scene, d, p, time * share, own);
        so_far.and(
            &cast.model,
            finish,
            off * (left / off.length().max(1e-6)),
            0.0,
        )
    })
}

/// Distance of defender `d` (0–4) from `p` after `time` seconds, if that one comes as fast as possible, m.
fn distance_after(cast: &Cast, scene: &Scene, d: usize, p: Vec2, time: f64, own: bool) -> f64 {
    let body = 5 + d;
    let limits = &cast.players[body].limits;
    let distance = (scene.pos[body] - p).length();
    let helps = if own {
        0.0
    } else {
        cast.model.looks.drive_help_delay + scene.aware[d]
    };
    let t = (time - scene.alert[d] - helps).max(0.0);
    let toward = if distance > 1e-6 {
        (p - scene.pos[body]).dot(scene.vel[body]) / distance
    } else {
        0.0
    };
    let speed = toward.max(0.0);
    let covered = (speed * time + 0.5 * limits.accel * t * t).min(limits.top_speed * time);
    // Short of the shooter's body.
    (distance - covered).max(distance.min(cast.model.shots.contest_nearest))
}

/// How long, s, a defender still comes nearer while the shot is on its way out of the hands.
fn contested_for(shots: &Shots) -> f64 {
    shots.catch_to_release * shots.contest_share
}

/// A shot by the holder now: how it is guarded, its chance, and its worth in points.
///
/// `off_catch`: straight off the catch, and how ready he is ([`readiness`]).
pub fn shot_now(
    cast: &Cast,
    scene: &Scene,
    holder: usize,
    off_catch: Option<f64>,
) -> (f64, f64, f64) {
    let p = scene.pos[holder];
    let guarded = guarded_after(cast, scene, holder, p, contested_for(&cast.model.shots));
    let (chance, value) = shot_at(cast, holder, p, &guarded);
    let share = rhythm(&cast.model.shots, p, off_catch);
    (guarded.room, chance * share, value * share)
}

/// A catch and shot at `p` by `receiver`, the ball arriving in `time` seconds.
pub fn catch_and_shoot(
    cast: &Cast,
    scene: &Scene,
    receiver: usize,
    p: Vec2,
    time: f64,
) -> (f64, f64) {
    let contested = contested_for(&cast.model.shots);
    let guarded = guarded_after(cast, scene, receiver, p, time + contested);
    let (_, value) = shot_at(cast, receiver, p, &guarded);
    (guarded.room, value)
}

/// Share of the chance that a player who is fed in the post keeps, the nearest defender `room` metres away.
pub fn from_the_post(shots: &Shots, room: f64) -> f64 {
    let (contact, share) = (shots.post_contact_distance, shots.post_share);
    let free = ((room - contact) / (shots.post_free_distance - contact)).clamp(0.0, 1.0);
    share + (1.0 - share) * free
}

/// Share of its chance that a shot at `p` keeps for how it comes about. `off_catch`: straight off the catch, and how
/// ready he is ([`readiness`]); at the rim nobody has to be.
pub fn rhythm(shots: &Shots, p: Vec2, off_catch: Option<f64>) -> f64 {
    match off_catch {
        _ if p.length() < shots.rim_distance => 1.0,
        Some(ready) => ready,
        None => shots.off_dribble_share,
    }
}

/// How far a catcher at `p` has to turn from a ball thrown at `from` (m) to the rim, share: 0 for a pass from inside
/// out, 1 from [`Shots::readiness_angle`] on.
pub fn turn(shots: &Shots, p: Vec2, from: Vec2) -> f64 {
    let way = from - p;
    let across = (p.length() * way.length()).max(1e-9);
    let most = 1.0 - libm::cos(shots.readiness_angle);
    ((1.0 + way.dot(p) / across) / most).clamp(0.0, 1.0)
}

/// Share of the chance that one catch leaves to a jump shot: feet, balance and the pass are not the same each
/// time, the less the farther the catcher has to `turn` ([`turn`]). All of it at best; `draw` is a standard normal one.
pub fn readiness(shots: &Shots, draw: f64, turn: f64) -> f64 {
    (1.0 - spread(shots, turn) * draw.abs()).max(shots.readiness_least)
}

fn spread(shots: &Shots, turn: f64) -> f64 {
    shots.readiness_spread
        * (shots.readiness_inside_out + (1.0 - shots.readiness_inside_out) * turn)
}

/// What a catch at `p` is worth to the team, points: the shot, worth `at_once` to a catcher who is ready, whenever
/// he is ready enough that it beats `goes_on`, else that.
///
/// `from`: where the pass is thrown.
pub fn worth_of_a_catch(shots: &Shots, p: Vec2, from: Vec2, at_once: f64, goes_on: f64) -> f64 {
    if p.length() < shots.rim_distance {
        return at_once.max(goes_on);
    }
    if at_once <= goes_on {
        return goes_on;
    }
    // The readiness is 1 - spread |z|, z standard normal: its mean where it is good enough.
    let spread = spread(shots, turn(shots, p, from)).max(1e-9);
    let good = (1.0 - (goes_on / at_once).max(shots.readiness_least)) / spread;
    let often = libm::erf(good * FRAC_1_SQRT_2);
    let lost = spread * FRAC_2_SQRT_PI * FRAC_1_SQRT_2 * (1.0 - libm::exp(-0.5 * good * good));
    at_once * (often - lost) + goes_on * (1.0 - often)
}
