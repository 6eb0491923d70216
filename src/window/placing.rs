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
    // (On a small floor bodies are small and words are not: there they may have to go far.)
    for ring in [0.0, 0.8, 1.8, 3.0, 4.5, 6.5] {
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

    /// Ten bodies near each other in a low window with a page beside the floor, as they were seen there: the words went
    /// over the player with the ball.
    #[test]
    fn words_in_a_crowd_on_a_small_floor_go_farther_and_hide_nobody() {
        let bodies = [
            (31.0, 247.0),
            (53.0, 227.0),
            (53.0, 199.0),
            (108.0, 186.0),
            (137.0, 152.0),
            (168.0, 159.0),
            (172.0, 117.0),
            (135.0, 180.0),
            (239.0, 174.0),
            (233.0, 202.0),
            (233.0, 232.0),
            (233.0, 258.0),
            (228.0, 288.0),
            (377.0, 265.0),
        ];
        let body = |(x, y)| Rect::from_center_size(pos2(x, y), vec2(26.0, 26.0));
        let mut taken: Vec<Rect> = bodies.into_iter().map(body).collect();
        taken.push(Rect::from_min_max(pos2(188.0, 133.0), pos2(335.0, 157.0)));
        let within = Rect::from_min_size(Pos2::ZERO, vec2(460.0, 436.0));
        let rect = beside(
            pos2(108.0, 186.0),
            16.0,
            vec2(182.0, 24.0),
            None,
            &taken,
            within,
        );
        assert!(within.contains_rect(rect), "{rect:?}");
        assert!(taken.iter().all(|t| shared(*t, rect) < 0.5), "{rect:?}");
    }
}
