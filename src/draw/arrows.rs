//! Arrows laid out: where a way starts and ends so that its head has room, where it is broken under
//! a body, and how far a pass is bent. Metres.

use crate::court::{Court, Vec2};

use super::aside::{BACK_ON_THE_RIGHT, ROUND_A_BODY, not_on_itself};
use super::layout::{End, Mark, Sign, Sizes, Stroke};
use super::scene::ArrowKind;
use super::way;

fn mark_of(marks: &[Mark], who: u8) -> Option<&Mark> {
    marks
        .iter()
        .find(|m| m.number == who && matches!(m.sign, Sign::Attacker { .. }))
}

/// A player's way, smooth, starting at where he is drawn if it starts with him, and led round the
/// bodies that it would cross, its own too if it comes back: a line that comes out from under a body looks like that
/// body's.
pub(super) fn run(
    court: &Court,
    (kind, who, path): (ArrowKind, u8, &[Vec2]),
    marks: &[Mark],
    sizes: &Sizes,
) -> Vec<Vec2> {
    let own = mark_of(marks, who).filter(|m| (path[0] - m.true_at).length() < 0.3);
    let path = own.map_or(path.to_vec(), |mark| from_the_body(path, mark));
    let mut path = way::smoother(&way::plainer(&path, 0.16), 0.08);
    let total = way::length(&path).max(1e-9);
    if let Some(mark) = own {
        let moved = mark.at - mark.true_at;
        if moved.length() > 1e-9 {
            let (mut s, mut last) = (0.0, path[0]);
            for p in &mut path {
                s += (*p - last).length();
                last = *p;
                *p += moved * (1.0 - (s / total)).max(0.0);
            }
        }
    }
    let bodies = || {
        let hollow = |m: &&Mark| matches!(m.sign, Sign::ModelPlace { .. });
        marks.iter().filter(move |m| !hollow(m))
    };
    // More than `stroke` asks for.
    let wave = if kind == ArrowKind::Dribble {
        sizes.wave
    } else {
        0.0
    };
    let room = 1.1 * sizes.gap + sizes.line + wave;
    let mut path = not_on_itself(path, BACK_ON_THE_RIGHT.0);
    // Round one body the way may come upon another.
    for _ in 0..3 {
        for body in bodies() {
            path = round(&path, body.at, body.radius + room);
        }
    }
    // Led round one body, the way out and the way back come together beyond it.
    path = not_on_itself(path, ROUND_A_BODY);
    for body in bodies() {
        path = round(&path, body.at, body.radius + room);
    }
    let inside = |p: &Vec2| court.clamp_inside(*p, wave + sizes.line);
    path.iter().map(inside).collect()
}

/// Where a way passes through a circle: its first point inside and the first after it, the middle of what is inside,
/// and how near it comes to the centre, metres.
struct Crossing {
    from: usize,
    to: usize,
    side: Vec2,
    near: f64,
}

fn crossings(path: &[Vec2], middle: Vec2, radius: f64) -> Vec<Crossing> {
    let off = |p: &Vec2| (*p - middle).length();
    let mut out = Vec::new();
    let mut from = 0;
    while from < path.len() {
        let through = path[from..].iter().take_while(|p| off(p) < radius).count();
        let inside = &path[from..from + through];
        if through > 0 && from > 0 && from + through < path.len() {
            out.push(Crossing {
                from,
                to: from + through,
                side: inside[through / 2] - middle,
                near: inside.iter().map(off).fold(f64::INFINITY, f64::min),
            });
        }
        from += through.max(1);
    }
    out
}

/// A way led round a circle wherever it passes through it, each time on the side on which it passes the
/// middle; where it begins or ends inside it stays as it is. Where it passes twice on one side, what passes farther
/// from the middle goes round that far outside the other: the way out and the way back are seen to be two.
fn round(path: &[Vec2], middle: Vec2, radius: f64) -> Vec<Vec2> {
    let all = crossings(path, middle, radius);
    let mut out: Vec<Vec2> = Vec::with_capacity(path.len());
    let mut done = 0;
    for (i, one) in all.iter().enumerate() {
        let nearer = all.iter().enumerate().filter(|(j, other)| {
            let same_side = other.side.dot(one.side) > 0.0;
            same_side && (other.near, *j) < (one.near, i)
        });
        let wide = radius + 2.0 * BACK_ON_THE_RIGHT.0 * nearer.count() as f64;
        let inside = |p: &Vec2| (*p - middle).length() < wide;
        let next = all.get(i + 1).map_or(path.len(), |other| other.from);
        let mut from = one.from;
        while from > done + 1 && inside(&path[from - 1]) {
            from -= 1;
        }
        let mut to = one.to;
        while to + 1 < next && inside(&path[to]) {
            to += 1;
        }
        out.extend_from_slice(&path[done..from]);
        out.extend(arc(path[from - 1], path[to], middle, wide));
        done = to;
    }
    out.extend_from_slice(&path[done..]);
    out
}

/// The shorter way round a circle from one point outside to another.
fn arc(from: Vec2, to: Vec2, middle: Vec2, radius: f64) -> Vec<Vec2> {
    let (a, b) = (from - middle, to - middle);
    let (begins, ends) = (libm::atan2(a.y, a.x), libm::atan2(b.y, b.x));
    let turn = ends - begins;
    let tau = std::f64::consts::TAU;
    let turn = turn - tau * libm::round(turn / tau);
    let count = libm::ceil(turn.abs() * radius / 0.08).max(1.0) as usize;
    let points = (0..=count).map(|i| {
        let share = i as f64 / count as f64;
        let angle = begins + turn * share;
        let far = (a.length() * (1.0 - share) + b.length() * share).max(radius);
        middle + Vec2::new(libm::cos(angle), libm::sin(angle)) * far
    });
    points.collect()
}

/// A way that comes back under its own body begins where it leaves for good, if until then it is nowhere farther off
/// than this, metres (ours).
const ABOUT: f64 = 0.6;

/// A way that leads from its own body straight to where it leaves it for good.
fn from_the_body(path: &[Vec2], mark: &Mark) -> Vec<Vec2> {
    let off = |p: &Vec2| (*p - mark.at).length();
    let gone = path.iter().position(|p| off(p) > mark.radius + ABOUT);
    let under = gone.and_then(|gone| path[..gone].iter().rposition(|p| off(p) < mark.radius));
    let rest = path.iter().skip(under.unwrap_or(0) + 1);
    path.iter().take(1).chain(rest).copied().collect()
}

/// Of a pass so much at either end belongs to passer and receiver, metres, or as a share of a short one (ours).
const AT_AN_END: (f64, f64) = (0.8, 0.25);

/// A pass, bent by as little as keeps it best out of the way of bodies and of other arrows.
pub(super) fn bend(
    path: &[Vec2],
    who: u8,
    marks: &[Mark],
    ways: &[(ArrowKind, u8, Vec<Vec2>)],
    sizes: &Sizes,
) -> Vec<Vec2> {
    let (Some(&first), Some(&last)) = (path.first(), path.last()) else {
        return Vec::new();
    };
    let drawn = |p: Vec2| {
        let near = marks
            .iter()
            .find(|m| matches!(m.sign, Sign::Attacker { .. }) && (m.true_at - p).length() < 0.3);
        near.map_or(p, |m| m.at)
    };
    let start = match mark_of(marks, who) {
        Some(mark) if (mark.true_at - first).length() < 0.3 => mark.at,
        _ => first,
    };
    let (a, b) = (start, drawn(last));
    let along = b - a;
    let long = along.length().max(1e-9);
    let across = Vec2::new(-along.y, along.x) / long;
    let curve = |bow: f64| -> Vec<Vec2> {
        let count = libm::ceil(long / 0.08).max(2.0) as usize;
        (0..=count)
            .map(|i| {
                let t = i as f64 / count as f64;
                a + along * t + across * (bow * 4.0 * t * (1.0 - t))
            })
            .collect()
    };
    let cost = |bow: f64| -> f64 {
        let line = curve(bow);
        let mut sum = 0.3 * bow.abs();
        let at_an_end = AT_AN_END.0.min(AT_AN_END.1 * long);
        for p in &line {
            if (p - a).length() < at_an_end || (p - b).length() < at_an_end {
                continue;
            }
            let hidden = marks
                .iter()
                .any(|m| (m.at - p).length() < m.radius + sizes.gap);
            let crowded = ways
                .iter()
                .any(|(_, _, other)| other.iter().step_by(2).any(|q| (q - p).length() < 0.22));
            sum += 0.08 * (2.0 * f64::from(u8::from(hidden)) + f64::from(u8::from(crowded)));
        }
        sum
    };
    let mut best = (0.0, cost(0.0));
    for bow in [0.35, -0.35, 0.7, -0.7, 1.1, -1.1] {
        let c = cost(bow);
        if c < best.1 - 1e-9 {
            best = (bow, c);
        }
    }
    curve(best.0)
}

/// Is a point at least `room` clear of every body?
fn clear(p: Vec2, marks: &[Mark], room: f64) -> bool {
    marks.iter().all(|m| (m.at - p).length() >= m.radius + room)
}

/// A piece of a line between two bodies is not drawn if it is no longer than this, metres (ours: nobody sees whose it is).
const STUB: f64 = 0.25;

/// The last of a way, so many heads long, is straight: a head on a bend looks twisted (ours).
const STRAIGHT: f64 = 1.6;

/// A way that ends after `end` metres, straight under its head if no body is in the way and enough is left of it.
fn straight_at_the_end(path: &[Vec2], end: f64, head: f64, marks: &[Mark], room: f64) -> Vec<Vec2> {
    let bend = end - STRAIGHT * head;
    let mut out = way::part(path, 0.0, bend.max(0.0));
    let (from, tip) = (way::at(path, bend).0, way::at(path, end).0);
    let free = (1..8).all(|i| clear(from + (tip - from) * (f64::from(i) / 8.0), marks, room));
    if bend < head || !free {
        return way::part(path, 0.0, end);
    }
    out.push(tip);
    out
}

/// Cuts an arrow to what can be seen of it. `None` if nothing is left that says where it goes.
pub(super) fn stroke(
    kind: ArrowKind,
    who: u8,
    path: &[Vec2],
    marks: &[Mark],
    sizes: &Sizes,
) -> Option<Stroke> {
    const STEP: f64 = 0.04;
    let total = way::length(path);
    let room = sizes.gap * 0.6 + sizes.line;
    // The end: as far along as the whole head, or bar, is clear of every body.
    let mut end = total;
    let fits = |s: f64, head: f64| {
        let (tip, along) = way::at(path, s);
        let across = Vec2::new(-along.y, along.x);
        let points = if kind == ArrowKind::Screen {
            let side = across * sizes.bar;
            [tip, tip + side, tip - side, tip - along * 0.2]
        } else {
            let back = tip - along * head;
            let side = across * sizes.head_half;
            [tip, back + side, back - side, back]
        };
        points.iter().all(|p| clear(*p, marks, room))
    };
    let mut head = sizes.head;
    while end > sizes.head && !fits(end, head) {
        end -= STEP;
    }
    if end <= sizes.head {
        // Only a short one has room.
        (end, head) = (total, sizes.head * 0.6);
        while end > head && !fits(end, head) {
            end -= STEP;
        }
        if end <= head {
            return None;
        }
    }
    let straight;
    let path = match kind {
        ArrowKind::Screen => path,
        _ => {
            straight = straight_at_the_end(path, end, head, marks, room);
            end = way::length(&straight);
            straight.as_slice()
        }
    };
    // The head points as the way under it goes, not as its last stride turns.
    let (tip, last) = way::at(path, end);
    let under = tip - way::at(path, (end - head).max(0.0)).0;
    let along = match kind {
        ArrowKind::Screen => last,
        _ if under.length() > 0.5 * head => under / under.length(),
        _ => last,
    };
    let (line_end, end_sign) = if kind == ArrowKind::Screen {
        (end, End::Bar { at: tip, along })
    } else {
        (
            end - head * 0.7,
            End::Head {
                tip,
                along,
                long: head,
            },
        )
    };
    let wide = if kind == ArrowKind::Dribble {
        sizes.wave
    } else {
        0.0
    };
    // What of it is not under a body.
    let mut spans: Vec<(f64, f64)> = Vec::new();
    let count = libm::ceil(line_end / STEP).max(1.0) as usize;
    let mut open: Option<f64> = None;
    for i in 0..=count {
        let s = line_end * i as f64 / count as f64;
        if clear(way::at(path, s).0, marks, room + wide) {
            open.get_or_insert(s);
        } else if let Some(from) = open.take() {
            spans.push((from, s - line_end / count as f64));
        }
    }
    if let Some(from) = open {
        spans.push((from, line_end));
    }
    // The head belongs to the last, however short.
    spans.retain(|(a, b)| b - a > if *b < line_end { STUB } else { 0.06 });
    let seen: f64 = spans.iter().map(|(a, b)| b - a).sum();
    if seen < 0.08 {
        return None;
    }
    let pieces = spans
        .iter()
        .map(|&(a, b)| {
            let piece = way::part(path, a, b);
            if kind == ArrowKind::Dribble && b - a > sizes.wave_long {
                let calm = if b >= line_end - 1e-9 { 0.15 } else { 0.0 };
                way::wavy(&piece, sizes.wave, sizes.wave_long, calm)
            } else {
                way::plainer(&piece, 0.01)
            }
        })
        .collect();
    Some(Stroke {
        kind,
        who,
        pieces,
        end: end_sign,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_that_comes_back_by_the_same_body_still_goes_all_the_way() {
        let up = (0..=60).map(|i| Vec2::new(-0.05, 0.1 * f64::from(i)));
        let back = (0..=60).map(|i| Vec2::new(0.05, 6.0 - 0.1 * f64::from(i)));
        let path: Vec<Vec2> = up.chain(back).collect();
        let (middle, radius) = (Vec2::new(0.0, 2.0), 0.5);
        let led = round(&path, middle, radius);
        assert!(led.iter().any(|p| p.y > 5.9));
        assert!(led.iter().all(|p| (*p - middle).length() > radius - 1e-9));
        assert_eq!(
            (led[0], led[led.len() - 1]),
            (path[0], path[path.len() - 1])
        );
    }
}
