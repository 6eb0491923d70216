//! A pass on its way: what the defenders can do about each point of its flight.

use super::{Cast, Openness, Points, Scene, chance_to_cut, hopeless, least_margin};
use crate::ball::Flight;
use crate::body::Limits;
use crate::court::Vec2;
use crate::model::Looks;

/// Points of the flight that are looked at, as shares of its duration.
const SAMPLES: [f64; POINTS] = [0.12, 0.28, 0.42, 0.55, 0.68, 0.8, 0.9, 1.0];
const POINTS: usize = 8;

/// More than the rounding of a distance from a line, metres.
const SIDEWAYS: f64 = 1e-5;

/// More than the rounding of a product of five.
const SURELY: f64 = 1e-12;

/// A flight as the defenders meet it.
struct OnItsWay<'a> {
    flight: &'a Flight,
    points: Points<POINTS>,
    heights: [f64; POINTS],
    highest: f64,
    /// Bits: so near to the passer, who pivots the ball clear.
    pivots: u32,
    /// Shares of the reach that count: so low that one has to get down to it, so near to the receiver whose
    /// body counts.
    low: [f64; POINTS],
    last: [f64; POINTS],
    /// Its direction.
    along: Vec2,
    passer: Vec2,
    /// The receiver, if on the run.
    runner: Option<usize>,
    /// After so many seconds from now it has long been there.
    until: f64,
    /// Any share of the reach that counts is no more than this.
    longest: f64,
}

impl OnItsWay<'_> {
    fn of<'a>(
        (looks, flight, delay): (&Looks, &'a Flight, f64),
        passer: Vec2,
        runner: Option<usize>,
    ) -> OnItsWay<'a> {
        let way = flight.to - flight.from;
        let length = way.length();
        let along = if length > 1e-6 {
            way / length
        } else {
            Vec2::ZERO
        };
        let mut on_its_way = OnItsWay {
            flight,
            points: Points::new(),
            heights: [0.0; POINTS],
            highest: 0.0,
            pivots: 0,
            low: [1.0; POINTS],
            last: [1.0; POINTS],
            along,
            passer,
            runner,
            until: hopeless(looks) + delay + flight.duration,
            longest: looks.hand_reach_share
                * looks.low_ball_reach_share.max(1.0)
                * looks.behind_receiver_reach_share.max(1.0),
        };
        let pivot2 = looks.pivot_distance * looks.pivot_distance;
        for i in 0..POINTS {
            let t = flight.duration * SAMPLES[i];
            let covered = flight.distance_at(t);
            let (p, height) = (flight.from + along * covered, flight.height_at(t));
            on_its_way.points.put(i, p, t + delay);
            on_its_way.heights[i] = height;
            on_its_way.pivots |= u32::from((p - passer).length_squared() < pivot2) << i;
            if length - covered < looks.behind_receiver_distance {
                on_its_way.last[i] = looks.behind_receiver_reach_share;
            }
            if height < looks.low_ball_height {
                on_its_way.low[i] = looks.low_ball_reach_share;
            }
            if height > on_its_way.highest {
                on_its_way.highest = height;
            }
        }
        on_its_way
    }

    /// The chance that defender `d` gets at it.
    fn chance_of(&self, cast: &Cast, scene: &Scene, d: usize) -> f64 {
        let looks = &cast.model.looks;
        let limits = &cast.players[5 + d].limits;
        let (pos, vel) = (scene.pos[5 + d], scene.vel[5 + d]);
        let alert = scene.alert[d];
        let along_with_him = self.runner.is_some_and(|r| scene.guards[d] == r);
        let moves = if along_with_him {
            alert * looks.moving_defender_reaction_share
        } else {
            alert
        };
        if self.passes_aside((pos, vel), (limits, moves)) {
            return 0.0;
        }
        let top = limits.standing_reach + looks.hop_height;
        let along = self.along;
        // Is he beyond the receiver, so that the receiver's body is in his way? He who runs with a
        // receiver who comes to meet the ball stays on the side of him on which he is.
        let beyond = match self.runner {
            Some(r) if along_with_him && scene.vel[r].dot(along) < 0.0 => pos - scene.pos[r],
            _ => pos - self.flight.to,
        };
        let behind = beyond.dot(along) > looks.behind_receiver_offset;
        let near = (pos - self.passer).length() < looks.pivot_defender_distance;
        let mut left_out = if near { self.pivots } else { 0 };
        let hands = limits.reach * looks.hand_reach_share;
        let mut reach = self.low.map(|share| hands * share);
        if behind {
            for (reach, share) in reach.iter_mut().zip(self.last) {
                *reach *= share;
            }
        }
        if self.highest > top {
            for i in 0..POINTS {
                left_out |= u32::from(self.heights[i] > top) << i;
            }
        }
        let body = ((pos, vel), limits);
        let least = least_margin(looks, body, &self.points, &reach, left_out, (moves, alert));
        if least < hopeless(looks) {
            chance_to_cut(looks, least)
        } else {
            0.0
        }
    }

    /// Is the defender too far to the side of the whole way to get near it until the ball has long been there?
    fn passes_aside(&self, (pos, vel): (Vec2, Vec2), (limits, moves): (&Limits, f64)) -> bool {
        let (along, until) = (self.along, self.until);
        let (aside, drifts) = (along.perp_dot(pos - self.flight.from), along.perp_dot(vel));
        let free = (until - moves).max(0.0);
        let made = self.longest * limits.reach + 0.5 * limits.accel * free * free;
        aside.abs() > drifts.abs() * until + made + SIDEWAYS
    }
}

/// Openness of a flight to `receiver`, if any, that is released after `delay` seconds; once it is surely no more than
/// `enough`, whatever it is by then. `likely` is who shut a like pass most: asked first, where that can end it.
pub(super) fn if_more_open(
    cast: &Cast,
    scene: &Scene,
    passer: usize,
    receiver: Option<usize>,
    flight: &Flight,
    delay: f64,
    (enough, likely): (f64, Option<usize>),
) -> Openness {
    let looks = &cast.model.looks;
    let runner = receiver.filter(|&r| scene.vel[r].length() > looks.moving_receiver_speed);
    let on_its_way = OnItsWay::of((looks, flight, delay), scene.pos[passer], runner);
    let chance_of = |d: usize| on_its_way.chance_of(cast, scene, d);
    let mut chances = [0.0; 5];
    let asked = likely.filter(|_| enough > 0.0);
    if let Some(d) = asked {
        chances[d] = chance_of(d);
        if 1.0 - chances[d] <= enough - SURELY {
            return Openness::of(&chances);
        }
    }
    let mut open = 1.0;
    for d in 0..5 {
        if asked != Some(d) {
            chances[d] = chance_of(d);
        }
        open *= 1.0 - chances[d];
        // Nobody can shut a shut lane more, nor open it again.
        if chances[d] >= 1.0 || open <= enough - SURELY {
            break;
        }
    }
    Openness::of(&chances)
}
