//! Where the ways of two meet on a card: who gives way is said, and it is whoever comes second in the walk.

use lanelight::court::Vec2;
use lanelight::draw::crossing::Crossing;
use lanelight::draw::way;
use lanelight::draw::{ArrowKind, Item};
use lanelight::possession::Frame;

use super::agree::frames;
use super::{all, walk};

/// When a player first comes within a stride of a point of the card, seconds.
fn comes(frames: &[Frame], player: u8, at: Vec2, sign: f64) -> Option<f64> {
    let i = usize::from(player) - 1;
    let there = |f: &&Frame| {
        let p = f.attackers[i];
        (Vec2::new(p.x * sign, p.y) - at).length() < 0.8
    };
    frames.iter().find(there).map(|f| f.time)
}

/// Are two still, or not yet, at the screen of the one for the other at a time: a stride and a reach from each other then
/// or later?
fn together(frames: &[Frame], (a, b): (u8, u8), time: f64) -> bool {
    let at = |f: &Frame, n: u8| f.attackers[usize::from(n) - 1];
    let mut later = frames.iter().filter(|f| f.time >= time - 1e-6);
    later.any(|f| (at(f, a) - at(f, b)).length() < 2.2)
}

#[test]
fn who_gives_way_where_two_ways_are_drawn_across_each_other_is_said_and_is_second_in_the_walk() {
    let (mut held, mut drawn, mut at_screens) = (0, 0, 0);
    for (word, _, cards, walked) in all() {
        for card in cards {
            let Some((scene, walk)) = card.scene.as_ref().zip(walk(walked, card)) else {
                assert!(card.crossings.is_empty());
                continue;
            };
            let ways: Vec<(u8, &Vec<Vec2>)> = scene
                .items
                .iter()
                .filter_map(|item| match item {
                    Item::Arrow { kind, path, who } if *kind != ArrowKind::Pass => {
                        Some((*who, path))
                    }
                    _ => None,
                })
                .collect();
            let found = [1.0, -1.0].map(|sign| (sign, frames(walk, card, sign)));
            let found = found.into_iter().find_map(|(s, f)| Some((s, f?)));
            let (sign, frames) = found.expect("drawn as it is walked");
            for (i, (a, one)) in ways.iter().enumerate() {
                for (b, other) in ways[i + 1..].iter().filter(|(b, _)| b != a) {
                    let Some(at) = across(one, other) else {
                        continue;
                    };
                    let times = comes(frames, *a, at, sign).zip(comes(frames, *b, at, sign));
                    let Some((t, u)) = times else { continue };
                    // A screener and the user are to meet, and the words say who waits: until they part.
                    let waits = [(*a, *b), (*b, *a)].iter().any(|(user, of)| {
                        let mut parts = card.parts.iter();
                        let wait = format!("wait for the screen of {of} ");
                        parts.any(|p| p.player == *user && p.does.contains(&wait))
                    });
                    if waits && together(frames, (*a, *b), t.max(u)) {
                        at_screens += 1;
                        continue;
                    }
                    // Who comes there much later meets nobody.
                    if (t - u).abs() > 1.0 {
                        continue;
                    }
                    drawn += 1;
                    let both = |c: &&Crossing| {
                        [c.first, c.second].contains(a) && [c.first, c.second].contains(b)
                    };
                    let said = card.crossings.iter().find(both);
                    let said =
                        said.unwrap_or_else(|| panic!("{word} {}: {a} and {b}", card.rule + 1));
                    let first = if t < u { *a } else { *b };
                    assert!(
                        said.first == first || (t - u).abs() < 0.3,
                        "{word} {}: {said:?} at {t:.2} and {u:.2} s",
                        card.rule + 1
                    );
                }
            }
            for crossing in &card.crossings {
                held += 1;
                let line = crossing.words();
                assert!(card.lines().iter().any(|(l, _)| *l == line), "{line}");
            }
        }
    }
    println!("{held} lines, {drawn} ways drawn across each other, {at_screens} at screens");
    // Few are drawn: 4 and more before walks that begin in place went first, 2 since.
    assert!(held >= 8 && drawn >= 2, "{held} {drawn}");
}

/// Points of a way, a span apart, that are a stride or more from its start.
fn later(path: &[Vec2]) -> Vec<Vec2> {
    let long = way::length(path);
    let points = (0..)
        .map(|i| 0.15 * f64::from(i))
        .take_while(|s| *s <= long);
    let points = points.map(|s| way::at(path, s).0);
    points.filter(|p| (*p - path[0]).length() > 1.4).collect()
}

/// Where two drawn ways come within half a metre of each other, as near as they come.
fn across(one: &[Vec2], other: &[Vec2]) -> Option<Vec2> {
    let (one, other) = (later(one), later(other));
    let pairs = one.iter().flat_map(|a| other.iter().map(move |b| (*a, *b)));
    let off = |(a, b): &(Vec2, Vec2)| (*a - *b).length();
    let nearest = pairs.min_by(|a, b| off(a).total_cmp(&off(b)));
    nearest.filter(|p| off(p) < 0.5).map(|(a, b)| (a + b) * 0.5)
}
