//! Lines that would lie on each other, or on themselves, are led aside: each is seen to have its own end. Metres.

use crate::court::Vec2;

use super::scene::ArrowKind;
use super::way;

/// Two who trade places are drawn as one line where their ways are nearer to each other than this, metres, over so much
/// of both; a way is straight if it is no longer than so many times the line from its beginning to its end (ours).
const TRADES: (f64, f64, f64) = (0.5, 0.7, 1.15);
/// So far to the right of that line each is drawn, at most, metres (ours).
const KEEPS_RIGHT: f64 = 0.3;

/// Two who trade places on one line keep to the right: each line is seen to have one end.
pub(super) fn trade(ways: &mut [(ArrowKind, u8, Vec<Vec2>)]) {
    let chord = |path: &[Vec2]| match (path.first(), path.last()) {
        (Some(a), Some(b)) => *b - *a,
        _ => Vec2::ZERO,
    };
    let straight = |path: &[Vec2]| way::length(path) < TRADES.2 * chord(path).length();
    let along = |path: &[Vec2], other: &[Vec2]| {
        let near = |p: &&Vec2| other.iter().any(|q| (*q - **p).length() < TRADES.0);
        path.iter().filter(near).count() as f64 >= TRADES.1 * path.len() as f64
    };
    let mut trades = vec![false; ways.len()];
    for i in 0..ways.len() {
        for j in i + 1..ways.len() {
            let (a, b) = (&ways[i].2, &ways[j].2);
            let against = chord(a).dot(chord(b)) < 0.0;
            if against && straight(a) && straight(b) && along(a, b) && along(b, a) {
                (trades[i], trades[j]) = (true, true);
            }
        }
    }
    let trading = ways.iter_mut().zip(trades).filter(|(_, trades)| *trades);
    for ((_, _, path), _) in trading {
        let (from, way) = (path[0], chord(path));
        let right = Vec2::new(way.y, -way.x) / way.length().max(1e-9);
        let count = path.len().max(2) - 1;
        let bowed = (0..=count).map(|i| {
            let t = i as f64 / count as f64;
            from + way * t + right * (KEEPS_RIGHT * 4.0 * t * (1.0 - t))
        });
        *path = bowed.collect();
    }
}

/// Two who run the same way are drawn as one line where their ways are nearer to each other than this, metres, and the
/// cosine between them is more than this (ours).
const SAME_WAY: (f64, f64) = (0.45, 0.8);
/// A way is led aside so smoothly, metres of it to either side, and not at its two ends (ours).
const ASIDE: f64 = 0.8;

/// Of two who run the same way beside each other the later one's line is led aside: each is seen to have its own end.
pub(super) fn apart(ways: &mut [(ArrowKind, u8, Vec<Vec2>)]) {
    for j in 1..ways.len() {
        let own = steps(&ways[j].2);
        let mut off = vec![Vec2::ZERO; own.len()];
        let before = ways[..j].iter().filter(|(_, who, _)| *who != ways[j].1);
        for other in before.map(|(.., path)| steps(path)) {
            for ((_, p, u), off) in own.iter().zip(&mut off) {
                let beside = other.iter().filter(|(.., v)| u.dot(*v) > SAME_WAY.1);
                let near = beside.min_by(|(_, a, _), (_, b, _)| {
                    (*a - *p).length().total_cmp(&(*b - *p).length())
                });
                let Some((_, q, _)) = near.filter(|(_, q, _)| (*q - *p).length() < SAME_WAY.0)
                else {
                    continue;
                };
                let across = Vec2::new(-u.y, u.x);
                let side = if (*p - *q).dot(across) < 0.0 {
                    -1.0
                } else {
                    1.0
                };
                *off = across * (side * (SAME_WAY.0 - (*p - *q).length()));
            }
        }
        if off.iter().all(|o| *o == Vec2::ZERO) {
            continue;
        }
        let total = own.last().map_or(0.0, |(s, ..)| *s);
        let led = own.iter().map(|(s, p, _)| {
            let near = |((t, ..), _): &(&(f64, Vec2, Vec2), &Vec2)| (s - t).abs() < ASIDE;
            let about = own.iter().zip(&off).filter(near);
            let (sum, all) = about.fold((Vec2::ZERO, 0.0), |(sum, all), (_, o)| {
                (sum + *o, all + 1.0)
            });
            let at_an_end = (s.min(total - s) / ASIDE).min(1.0);
            *p + sum * (at_an_end / f64::max(all, 1.0))
        });
        ways[j].2 = led.collect();
    }
}

/// A way lies on itself where it goes back nearer to itself than this, metres, after so much of it, and the cosine between
/// both is less than this (ours).
const GOES_BACK: (f64, f64, f64) = (0.3, 1.0, -0.7);
/// So far to the right of it both are drawn, metres, and over so much of the way it goes there (ours).
pub(super) const BACK_ON_THE_RIGHT: (f64, f64) = (0.16, 0.6);

/// The same where both have been led round a body, metres (ours: they may have crossed).
pub(super) const ROUND_A_BODY: f64 = 0.3;

/// Who goes back on the same line keeps to the right: the way out and the way back are seen to be two.
pub(super) fn not_on_itself(path: Vec<Vec2>, aside: f64) -> Vec<Vec2> {
    let own = steps(&path);
    let lies_on = |(s, p, u): &(f64, Vec2, Vec2)| {
        own.iter().any(|(t, q, v)| {
            let apart = (s - t).abs() > GOES_BACK.1;
            apart && (*p - *q).length() < GOES_BACK.0 && u.dot(*v) < GOES_BACK.2
        })
    };
    let lies_on: Vec<bool> = own.iter().map(lies_on).collect();
    if !lies_on.contains(&true) {
        return path;
    }
    let shifted = own.iter().map(|(s, p, u)| {
        let near = |((t, ..), _): &(&(f64, Vec2, Vec2), &bool)| (s - t).abs() < BACK_ON_THE_RIGHT.1;
        let about = own.iter().zip(&lies_on).filter(near);
        let (all, on) = about.fold((0, 0), |(all, on), (_, m)| (all + 1, on + i32::from(*m)));
        let right = Vec2::new(u.y, -u.x);
        *p + right * (aside * f64::from(on) / f64::from(all.max(1)))
    });
    shifted.collect()
}

/// A way step by step: how far along, where, and whither.
fn steps(path: &[Vec2]) -> Vec<(f64, Vec2, Vec2)> {
    const STEP: f64 = 0.1;
    let total = way::length(path);
    let count = libm::ceil(total / STEP).max(1.0) as usize;
    let steps = (0..=count).map(|i| {
        let s = total * i as f64 / count as f64;
        let (before, after) = (
            way::at(path, s - 2.0 * STEP).0,
            way::at(path, s + 2.0 * STEP).0,
        );
        let along = after - before;
        (s, way::at(path, s).0, along / along.length().max(1e-9))
    });
    steps.collect()
}
