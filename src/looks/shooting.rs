//! What a shot is worth: chance to make it times its points, by zone, distance and contest.

use std::f64::consts::{FRAC_1_SQRT_2, FRAC_2_SQRT_PI};

use super::{Cast, Scene};
use crate::court::Vec2;
use crate::model::Shots;
use crate::squad::shot::make_chance;

/// Chance to make it and points it is worth, fouls included, if taken at `p` by `shooter` with the nearest
/// defender `room` metres away, who closes at `closing` m/s.
pub fn shot_at(cast: &Cast, shooter: usize, p: Vec2, room: f64, closing: f64) -> (f64, f64) {
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
            room,
            closing,
        );
    let fouled = foul_chance(shots, p, room);
    let throws = 2.0 * cast.players[shooter].shooting.free_throw;
    let value = (1.0 - fouled) * chance * f64::from(cast.court.points(p)) + fouled * throws;
    (chance, value)
}

/// Chance that the shooter is fouled, with the nearest defender `room` metres away: only at the rim, and only in
/// contact (or near it).
pub fn foul_chance(shots: &Shots, p: Vec2, room: f64) -> f64 {
    if p.length() >= shots.rim_distance {
        return 0.0;
    }
    let near = (shots.foul_room - room) / (shots.foul_room - shots.foul_contact);
    shots.foul_share * near.clamp(0.0, 1.0)
}

/// Distance of the nearest defender to `p` after `time` seconds, if he comes as fast as he can, m.
pub fn room_after(cast: &Cast, scene: &Scene, p: Vec2, time: f64) -> f64 {
    let nearest = cast.model.shots.contest_nearest;
    let mut least = f64::INFINITY;
    for d in 0..5 {
        let body = 5 + d;
        let limits = &cast.players[body].limits;
        let distance = (scene.pos[body] - p).length();
        let t = (time - scene.alert[d]).max(0.0);
        let toward = if distance > 1e-6 {
            (p - scene.pos[body]).dot(scene.vel[body]) / distance
        } else {
            0.0
        };
        let speed = toward.max(0.0);
        let covered = (speed * time + 0.5 * limits.accel * t * t).min(limits.top_speed * time);
        // He stops short of the shooter's body.
        least = least.min((distance - covered).max(distance.min(nearest)));
    }
    least
}

/// How long, s, a defender still comes nearer while the shot is on its way out of the hands.
fn contested_for(shots: &Shots) -> f64 {
    shots.catch_to_release * shots.contest_share
}

/// A shot by the holder now.
///
/// `off_catch`: straight off the catch, and how ready he is ([`readiness`]).
pub fn shot_now(
    cast: &Cast,
    scene: &Scene,
    holder: usize,
    off_catch: Option<f64>,
) -> (f64, f64, f64) {
    let p = scene.pos[holder];
    let room = room_after(cast, scene, p, contested_for(&cast.model.shots));
    let (chance, value) = shot_at(cast, holder, p, room, 0.0);
    let share = rhythm(&cast.model.shots, p, room, off_catch);
    (room, chance * share, value * share)
}

/// A catch and shot at `p` by `receiver`, the ball arriving in `time` seconds.
pub fn catch_and_shoot(
    cast: &Cast,
    scene: &Scene,
    receiver: usize,
    p: Vec2,
    time: f64,
) -> (f64, f64) {
    let room = room_after(cast, scene, p, time + contested_for(&cast.model.shots));
    let (_, value) = shot_at(cast, receiver, p, room, 0.0);
    (room, value)
}

/// Share of the chance that a player who is fed in the post keeps, the nearest defender `room` metres away.
pub fn from_the_post(shots: &Shots, room: f64) -> f64 {
    let (contact, share) = (shots.post_contact_distance, shots.post_share);
    let free = ((room - contact) / (shots.post_free_distance - contact)).clamp(0.0, 1.0);
    share + (1.0 - share) * free
}

/// Share of the chance that a shot keeps with the nearest defender `room` metres away. `off_catch`: straight off
/// the catch, and how ready he is ([`readiness`]); at the rim nobody has to be.
pub fn rhythm(shots: &Shots, p: Vec2, room: f64, off_catch: Option<f64>) -> f64 {
    let at_the_rim = p.length() < shots.rim_distance;
    match off_catch {
        Some(_) if at_the_rim => 1.0,
        Some(ready) => ready,
        None if at_the_rim => {
            let (crowded, share) = (shots.rim_crowded_distance, shots.rim_dribble_share);
            let alone = ((room - crowded) / (shots.rim_alone_distance - crowded)).clamp(0.0, 1.0);
            share + (1.0 - share) * alone
        }
        None => shots.off_dribble_share,
    }
}

/// Share of the chance that one catch leaves to a jump shot: feet, balance and the pass are not the same each
/// time. All of it at best; `draw` is a standard normal one.
pub fn readiness(shots: &Shots, draw: f64) -> f64 {
    (1.0 - shots.readiness_spread * draw.abs()).max(shots.readiness_least)
}

/// What a catch at `p` is worth to the team, points: the shot, worth `at_once` to a catcher who is ready, whenever
/// he is ready enough that it beats `goes_on`, else that.
pub fn worth_of_a_catch(shots: &Shots, p: Vec2, at_once: f64, goes_on: f64) -> f64 {
    if p.length() < shots.rim_distance {
        return at_once.max(goes_on);
    }
    if at_once <= goes_on {
        return goes_on;
    }
    // The readiness is 1 - spread |z|, z standard normal: its mean where it is good enough.
    let spread = shots.readiness_spread.max(1e-9);
    let good = (1.0 - (goes_on / at_once).max(shots.readiness_least)) / spread;
    let often = libm::erf(good * FRAC_1_SQRT_2);
    let lost = spread * FRAC_2_SQRT_PI * FRAC_1_SQRT_2 * (1.0 - libm::exp(-0.5 * good * good));
    at_once * (often - lost) + goes_on * (1.0 - often)
}
