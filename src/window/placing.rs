//! Where words go on the floor so that they hide nobody: beside what they belong to, at the first of
//! several places that covers neither a body nor other words.

use bevy_egui::egui::{Pos2, Rect, Vec2, vec2};

/// Ways from the anchor, the liked ones first: below, above, beside, then aslant.
const WAYS: [(f32, f32); 8] = [
    (0.0, 1.0),
    (0.0, -1.0),
    (1.0, 0.0),
    (-1.0, 0.0),
    (1.0, 1.0),
    (-1.0, 1.0),
    (1.0, -1.0),
    (-1.0, -1.0),
];

/// The rectangle of that size beside `at`, no nearer than `away`, that overlaps least with what is
/// `taken` and lies in `within`; of equals the nearest and most liked. `first`: the way that is
/// liked best of all, if any.
pub fn beside(
    at: Pos2,
    away: f32,
    size: Vec2,
    first: Option<Vec2>,
    taken: &[Rect],
    within: Rect,
) -> Rect {
    let ways = WAYS.iter().map(|(x, y)| vec2(*x, *y));
    let ways: Vec<Vec2> = first.into_iter().chain(ways).collect();
    let mut best: Option<(f32, Rect)> = None;
    for ring in [0.0, 0.8, 1.8, 3.0] {
        for way in &ways {
            // From the anchor to the middle of the words, so that their near edge keeps away.
            let off = vec2(way.x * (away + size.x / 2.0), way.y * (away + size.y / 2.0));
            let rect = Rect::from_center_size(at + off + *way * (ring * away), size);
            let hidden: f32 = taken.iter().map(|t| shared(*t, rect)).sum();
            let outside = size.x * size.y - shared(within, rect);
            let cost = hidden + 2.0 * outside.max(0.0);
            if cost < 0.5 {
                return rect;
            }
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, rect));
            }
        }
    }
    best.map_or(Rect::from_center_size(at, size), |(_, rect)| rect)
}

/// Area that two rectangles share.
fn shared(a: Rect, b: Rect) -> f32 {
    let both = a.intersect(b);
    if both.is_positive() {
        both.width() * both.height()
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy_egui::egui::pos2;

    #[test]
    fn words_find_a_free_place_among_bodies_and_stay_in_the_picture() {
        let within = Rect::from_min_size(Pos2::ZERO, vec2(800.0, 600.0));
        let size = vec2(150.0, 40.0);
        let body = |x: f32, y: f32| Rect::from_center_size(pos2(x, y), vec2(44.0, 44.0));
        for x in [30.0, 400.0, 770.0] {
            for y in [30.0, 300.0, 570.0] {
                let own = body(x, y);
                let taken = [own, body(x, y + 60.0), body(x + 50.0, y)];
                let rect = beside(pos2(x, y), 26.0, size, None, &taken, within);
                assert!(within.contains_rect(rect), "{x} {y}: {rect:?}");
                assert!(
                    taken.iter().all(|t| shared(*t, rect) < 0.5),
                    "{x} {y}: {rect:?}"
                );
            }
        }
    }
}
