//! How a player without the ball stands: small steps about his place, and to meet a pass that is shut.

use crate::court::{Court, Vec2};

use super::dice::Purpose;
use super::parts::*;

/// A player to whom the pass is shut comes to meet it: up to this far, but no nearer to the ball
/// than this, metres (common practice).
const COMES: f64 = 1.5;
const NO_NEARER: f64 = 4.2;

/// His place, shortened toward the ball.
pub(super) fn shorten(place: Vec2, ball: Vec2) -> Vec2 {
    let way = ball - place;
    let distance = way.norm();
    place + way * ((distance - NO_NEARER).clamp(0.0, COMES) / distance.max(1e-6))
}

/// Nobody stands like a post: small steps about his place, metres, outside and inside, each for so
/// long, seconds (ours).
pub(super) const SWAYS: f64 = 0.45;
pub(super) const SWAYS_INSIDE: f64 = 0.15;
const SWAY_LASTS: f64 = 1.2;

/// Where a player without the ball has shifted to, off his place.
pub(super) fn sway(play: &Play, clock: &Clock, who: usize, by: f64, feet: &mut Feet) -> Vec2 {
    if clock.tick >= feet.until {
        let lasts = f64::from(ticks(SWAY_LASTS));
        let mut dice = play.dice.at(Purpose::Feet, who, clock.tick);
        let drawn = (dice.normal(), dice.normal());
        // Not all in step: the first spell is over at any time.
        let share = if feet.until == 0 { dice.unit() } else { 1.0 };
        let until = clock.tick + 1 + (lasts * share) as u32;
        *feet = Feet { until, drawn };
    }
    let (x, y) = feet.drawn;
    Vec2::new(play.hand * x.clamp(-1.5, 1.5), y.clamp(-1.5, 1.5)) * by
}

/// How far he takes his man in toward the rim, and how far to the side of him, metres (common practice: two
/// or three steps).
const GOES_IN: f64 = 2.6;
const GOES_OFF: f64 = 0.6;
/// Only a man who is as near as this is shaken off so, and nobody goes in as near as that to where a team-mate
/// shows, metres (ours).
const UP_ON_HIM: f64 = 2.4;
const SHOWS_THERE: f64 = 2.2;

/// Where he turns who takes his man in to come back out: past that man's other side. `None` if he has nobody up on him,
/// or a team-mate shows there.
pub(super) fn takes_him_in(court: &Court, old: &Old, who: usize) -> Option<Vec2> {
    let pos = old.scene.pos[who];
    let to_rim = -pos / pos.norm().max(1e-6);
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let (room, near) = old.scene.nearest_defender(pos);
    let near = old.scene.pos[5 + near] - pos;
    let hand = if near.dot(&across) > 0.0 { -1.0 } else { 1.0 };
    let turn = pos + to_rim * GOES_IN + across * (hand * GOES_OFF);
    let onto = |i: usize| {
        let shows = old.shown[i].filter(|_| i != who);
        shows.is_some_and(|spot| (court.spot(spot) - turn).norm() < SHOWS_THERE)
    };
    (room < UP_ON_HIM && !(0..5).any(onto)).then_some(turn)
}
