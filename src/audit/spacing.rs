//! Spacing and crowding: who stands too near to whom, and how much of the floor is used.

use super::clip::{Clip, Frame, OUTSIDE};
use super::counts::{Counts, List, Pair};
use crate::looks::spacing::hull_area;

/// Side of a cell of the floor, metres.
const CELL: f64 = 0.5;
/// Near the rim, metres.
const AT_THE_RIM: f64 = 3.0;

/// Spells of two attackers (two defenders) near each other, each pair by itself, in 10 s of play:
/// count over (length of the part less the shortest spell). "Without the holder": spells of samples
/// in which neither of the two holds the ball.
pub fn crowding(clip: &Clip, counts: &mut Counts) {
    let near =
        |f: &Frame, a: usize, b: usize, most: f64| (f.player(a) - f.player(b)).length() < most;
    let free = |f: &Frame, a: usize, b: usize| f.holder.is_none_or(|h| h != a && h != b);
    let (mut mates, mut free_mates, mut tight, mut defenders) = (0, 0, 0, 0);
    for a in 0..5 {
        for b in a + 1..5 {
            mates += clip.spells(1.0, |f| near(f, a, b, 1.5));
            free_mates += clip.spells(1.0, |f| near(f, a, b, 1.5) && free(f, a, b));
            tight += clip.spells(0.5, |f| near(f, a, b, 1.0));
            defenders += clip.spells(0.5, |f| near(f, 5 + a, 5 + b, 0.9));
        }
    }
    for (pair, count, least) in [
        (Pair::MatesNear, mates, 1.0),
        (Pair::MatesNearFree, free_mates, 1.0),
        (Pair::MatesTight, tight, 0.5),
        (Pair::DefendersTight, defenders, 0.5),
    ] {
        counts.add(pair, f64::from(count) * 10.0, clip.seconds() - least);
    }
}

/// Share of time with three or more attackers within 3 m of the rim; hulls of both teams, m²;
/// attackers 5.5 m or more from the rim, and each one's distance to the nearest team-mate, m; the
/// cells (0.5 m, left and right put together) that attackers outside without the ball stand in.
pub fn places(clip: &Clip, counts: &mut Counts) {
    for frame in &clip.frames {
        let inside = (0..5).filter(|&a| frame.out(a) < AT_THE_RIM).count();
        counts.share(Pair::ThreeAtTheRim, inside >= 3);
        counts.push(List::AttackHull, hull_area(&frame.attackers));
        counts.push(List::DefenceHull, hull_area(&frame.defenders));
        let outside: Vec<usize> = (0..5).filter(|&a| frame.out(a) >= OUTSIDE).collect();
        counts.add(Pair::Outside, outside.len() as f64, 1.0);
        for &who in &outside {
            let at = frame.attackers[who];
            let mates = (0..5).filter(|&m| m != who);
            let away = mates.map(|m| (frame.attackers[m] - at).length());
            counts.push(List::NearestMate, away.fold(f64::INFINITY, f64::min));
            if frame.holder != Some(who) {
                let cell = |z: f64| (z / CELL).floor() as i32;
                counts.stand_in((cell(at.x.abs()), cell(at.y)));
            }
        }
    }
}
