//! What a shot is worth: chance to make it times its points, by zone, distance and contest.

use super::{Cast, Scene};
use crate::court::Vec2;
use crate::squad::shot::make_chance;

/// Seconds from the catch to the release of a shot (common practice, no source: 0.5–0.7 s).
pub const RELEASE: f64 = 0.55;

/// A shot that does not come off a catch (after a hold or a dribble) goes in less often by this
/// factor, away from the rim: league tracking tables give about 0.32–0.33 for pulled-up threes against
/// 0.37–0.38 off the catch (from memory, med).
pub const NOT_OFF_THE_CATCH: f64 = 0.87;

/// The front of the board is this far behind the centre of the ring and so wide, metres (NFHS 1-9, 1-11,
/// NBA Rule 1, FIBA Art. 2: 15 in or 0.375 m and 6 ft or 1.80 m, from memory).
const BOARD_BEHIND: f64 = 0.38;
const BOARD_WIDTH: f64 = 1.83;
/// From behind the board nothing but a reach round it is left (ours).
const FROM_BEHIND: f64 = 0.3;

/// Farther behind the line than this, metres, a three falls off by this share a metre (ours).
const NEAR_THE_LINE: f64 = 0.9;
const FALLS_OFF: f64 = 0.25;

/// Chance to make it and points it is worth if taken at `p` by `shooter` with the nearest defender
/// `room` metres away, who closes at `closing` m/s.
pub fn shot_at(cast: &Cast, shooter: usize, p: Vec2, room: f64, closing: f64) -> (f64, f64) {
    let zone = cast.court.zone(p);
    let behind = p.y < -BOARD_BEHIND && p.x.abs() < 0.5 * BOARD_WIDTH;
    let far = cast
        .court
        .arc_radius
        .map_or(0.0, |arc| (p.norm() - arc - NEAR_THE_LINE).max(0.0));
    let share = if behind { FROM_BEHIND } else { 1.0 } * (1.0 - FALLS_OFF * far).max(0.0);
    let chance = share
        * make_chance(
            &cast.players[shooter].shooting,
            zone,
            p.norm(),
            room,
            closing,
        );
    (chance, chance * f64::from(cast.court.points(p)))
}

/// Distance of the nearest defender to `p` after `time` seconds, if he comes as fast as he can, m.
pub fn room_after(cast: &Cast, scene: &Scene, p: Vec2, time: f64) -> f64 {
    let mut least = f64::INFINITY;
    for d in 0..5 {
        let body = 5 + d;
        let limits = &cast.players[body].limits;
        let distance = (scene.pos[body] - p).norm();
        let t = (time - scene.alert[d]).max(0.0);
        let toward = if distance > 1e-6 {
            (p - scene.pos[body]).dot(&scene.vel[body]) / distance
        } else {
            0.0
        };
        let speed = toward.max(0.0);
        let covered = (speed * time + 0.5 * limits.accel * t * t).min(limits.top_speed * time);
        // He stops short of the shooter's body.
        least = least.min((distance - covered).max(distance.min(0.6)));
    }
    least
}

/// A shot by the holder now.
///
/// `off_catch`: straight off the catch.
pub fn shot_now(cast: &Cast, scene: &Scene, holder: usize, off_catch: bool) -> (f64, f64, f64) {
    let p = scene.pos[holder];
    let room = room_after(cast, scene, p, RELEASE * 0.6);
    let (chance, value) = shot_at(cast, holder, p, room, 0.0);
    let share = rhythm(p, room, off_catch);
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
    let room = room_after(cast, scene, p, time + RELEASE * 0.6);
    let (_, value) = shot_at(cast, receiver, p, room, 0.0);
    (room, value)
}

/// Off the dribble at the rim, through bodies and at speed: less than from a catch there. Cuts bring
/// 1.17 points a possession and isolations 0.81 (NBA 2012-13; read: forum thread 84108); this share is
/// ours, and so is the room, metres, beyond which nobody is in the way of a lay-up.
pub const OFF_THE_DRIBBLE_AT_THE_RIM: f64 = 0.86;
const ALONE: f64 = 2.2;
const THROUGH_BODIES: f64 = 1.2;

/// From the post with the back to the basket, over a set body: post-ups bring 0.82 points a
/// possession, spot-ups 0.97 (NBA 2012-13; read: forum thread 84108); this share is ours.
const FROM_THE_POST: f64 = 0.75;
/// From this room on, metres, nobody is set behind him: he turns and shoots; nearer than the other he plays
/// over him (ours: an arm's length, and two steps).
const TURNS_FREELY: f64 = 1.8;
const ON_HIS_BACK: f64 = 0.9;

/// Share of the chance that a player who is fed in the post keeps, the nearest defender `room` metres away.
pub fn from_the_post(room: f64) -> f64 {
    let free = ((room - ON_HIS_BACK) / (TURNS_FREELY - ON_HIS_BACK)).clamp(0.0, 1.0);
    FROM_THE_POST + (1.0 - FROM_THE_POST) * free
}

/// Share of the chance that a shot keeps with the nearest defender `room` metres away: all of it off
/// the catch.
pub fn rhythm(p: Vec2, room: f64, off_catch: bool) -> f64 {
    if off_catch {
        1.0
    } else if p.norm() < 2.5 {
        let alone = ((room - THROUGH_BODIES) / (ALONE - THROUGH_BODIES)).clamp(0.0, 1.0);
        OFF_THE_DRIBBLE_AT_THE_RIM + (1.0 - OFF_THE_DRIBBLE_AT_THE_RIM) * alone
    } else {
        NOT_OFF_THE_CATCH
    }
}
