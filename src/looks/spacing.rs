//! Spacing: how far apart team-mates stand, and whether one defender can guard two of them.

use super::{Cast, Scene};
use crate::ball::PassKind;
use crate::body::{surely_later, time_to_reach_within};
use crate::court::Vec2;
use crate::possession::Spacing;

use super::driving::strip_free;
use super::passing::flight;

/// Area of the convex hull, square metres (monotone chain, shoelace formula).
pub fn hull_area(points: &[Vec2]) -> f64 {
    let mut five = [Vec2::ZERO; 5];
    let count = points.len().min(5);
    let p = &mut five[..count];
    p.copy_from_slice(&points[..count]);
    p.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    let cross = |o: Vec2, a: Vec2, b: Vec2| (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x);
    let mut hull = [Vec2::ZERO; 12];
    let mut n = 0;
    for pass in 0..2 {
        let start = n;
        for i in 0..count {
            let q = if pass == 0 { p[i] } else { p[count - 1 - i] };
            while n >= start + 2 && cross(hull[n - 2], hull[n - 1], q) <= 0.0 {
                n -= 1;
            }
            hull[n] = q;
            n += 1;
        }
        n -= 1;
    }
    let mut twice = 0.0;
    for i in 0..n {
        let (a, b) = (hull[i], hull[(i + 1) % n]);
        twice += a.x * b.y - b.x * a.y;
    }
    twice.abs() * 0.5
}

/// Mean distance to the nearest team-mate, metres.
pub fn nearest_team_mate(points: &[Vec2]) -> f64 {
    let mut sum = 0.0;
    for (i, point) in points.iter().enumerate() {
        let mut least = f64::INFINITY;
        for (j, other) in points.iter().enumerate() {
            if i != j {
                least = least.min((point - other).length());
            }
        }
        sum += least;
    }
    sum / points.len() as f64
}

/// Can one defender reach the catch points of two attackers without the ball before a pass could?
pub fn one_guards_two(cast: &Cast, scene: &Scene, holder: usize) -> bool {
    let mut times = [0.0; 5];
    for (who, time) in times.iter_mut().enumerate() {
        if who != holder && cast.has(who) {
            let f = flight(cast, scene, holder, who, PassKind::Chest, scene.pos[who]);
            *time = f.duration + cast.players[holder].hands.release;
        }
    }
    cast.five().any(|d| {
        let limits = &cast.players[5 + d].limits;
        let mut reached = 0;
        for (who, &time) in times.iter().enumerate() {
            if who == holder || !cast.has(who) {
                continue;
            }
            let (pos, vel) = (scene.pos[5 + d], scene.vel[5 + d]);
            let (at, alert) = (scene.pos[who], scene.alert[d]);
            if surely_later(pos, vel, limits, at, limits.reach, alert, time) {
                continue;
            }
            if time_to_reach_within(pos, vel, limits, at, limits.reach, alert, time) < time {
                reached += 1;
                if reached == 2 {
                    return true;
                }
            }
        }
        false
    })
}

/// All of it for one instant.
pub fn spacing(cast: &Cast, scene: &Scene, holder: usize) -> Spacing {
    let (attack, defence) = scene.pos.split_at(5);
    let (mut five, mut others) = ([Vec2::ZERO; 5], [Vec2::ZERO; 5]);
    let mut count = 0;
    for i in cast.five() {
        (five[count], others[count]) = (attack[i], defence[i]);
        count += 1;
    }
    let (five, others) = (&five[..count], &others[..count]);
    Spacing {
        nearest: nearest_team_mate(five),
        hull: hull_area(five),
        defence_hull: hull_area(others),
        one_guards_two: one_guards_two(cast, scene, holder),
        lane_free: strip_free(scene, holder, cast.model.looks.open_lane_half_width),
    }
}
