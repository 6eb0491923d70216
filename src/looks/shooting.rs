//! What a shot is worth: chance to make it times its points, by zone, distance and contest.

use super::{Cast, Scene};
use crate::court::Vec2;
use crate::model::Shots;
use crate::squad::shot::make_chance;

/// Chance to make it and points it is worth if taken at `p` by `shooter` with the nearest defender
/// `room` metres away, who closes at `closing` m/s.
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
    (chance, chance * f64::from(cast.court.points(p)))
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
/// `off_catch`: straight off the catch.
pub fn shot_now(cast: &Cast, scene: &Scene, holder: usize, off_catch: bool) -> (f64, f64, f64) {
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

/// Share of the chance that a shot keeps with the nearest defender `room` metres away: all of it off
/// the catch.
pub fn rhythm(shots: &Shots, p: Vec2, room: f64, off_catch: bool) -> f64 {
    if off_catch {
        1.0
    } else if p.length() < shots.rim_distance {
        let (crowded, share) = (shots.rim_crowded_distance, shots.rim_dribble_share);
        let alone = ((room - crowded) / (shots.rim_alone_distance - crowded)).clamp(0.0, 1.0);
        share + (1.0 - share) * alone
    } else {
        shots.off_dribble_share
    }
}
