//! What lies under the bodies, as SVG: the lit floor (by day a pale wash on a floor in dusk, lighter than the dusk in
//! grey print too; by night a glow), the driving beam, threads, and the teaching layers. Counts on the floor are drawn
//! the same way by day, with hatching where most of them lie.

use std::fmt::Write as _;

use crate::court::Vec2;

use super::layout::{Laid, Sign};
use super::light::Field;
use super::scene::Item;
use super::svg::{Grid, UNIT};
use super::theme::{Ink, Theme};

/// Steps in which light is drawn.
const LEVELS: usize = 6;
/// Light below this is shadow: hatched by day (ours: less than one pass in three arrives).
const DARK: f64 = 1.0 / 3.0;
/// Distance between hatch lines, metres.
const HATCH: f64 = 0.34;
/// Edge of the squares of which the wash is made, metres.
const GRAIN: f64 = 0.125;

/// The field's value at a point, between the points of its grid.
pub(super) fn between(field: &Field, p: Vec2) -> f64 {
    let (of, last) = (&field.grid, |count: usize| count.max(1) - 1);
    let u = ((p.x - of.first.x) / of.step.x).clamp(0.0, last(of.columns) as f64);
    let v = ((p.y - of.first.y) / of.step.y).clamp(0.0, last(of.rows) as f64);
    let (i, j) = (u as usize, v as usize);
    let (s, t) = (u - i as f64, v - j as f64);
    let value = |a: usize, b: usize| field.value(a.min(last(of.columns)), b.min(last(of.rows)));
    let low = value(i, j) * (1.0 - s) + value(i + 1, j) * s;
    let high = value(i, j + 1) * (1.0 - s) + value(i + 1, j + 1) * s;
    low * (1.0 - t) + high * t
}

/// The lit floor down to `deep`.
pub(super) fn light(out: &mut String, grid: &Grid, field: &Field, deep: f64, theme: Theme) {
    let ink = theme.ink();
    let of = &field.grid;
    let low = of.first;
    let high = of.point(of.columns.max(1) - 1, of.rows.max(1) - 1);
    let bottom = high.y.min(deep);
    let (columns, rows) = (
        libm::ceil((high.x - low.x) / GRAIN) as usize,
        libm::ceil((bottom - low.y) / GRAIN) as usize,
    );
    let level = |(row, column): (usize, usize)| {
        let p = low + Vec2::new((column as f64 + 0.5) * GRAIN, (row as f64 + 0.5) * GRAIN);
        (between(field, p) * LEVELS as f64 + 0.5) as usize
    };
    let squares = (0..rows).flat_map(|row| (0..columns).map(move |column| (row, column)));
    let levels: Vec<usize> = squares.map(level).collect();
    if theme == Theme::Day {
        let (x, y) = (grid.x(low), grid.y(low));
        let (wide, long) = ((high.x - low.x) * UNIT, (bottom - low.y) * UNIT);
        let _ = write!(
            out,
            "<path class=\"light\" d=\"M{x:.0} {y:.0}h{wide:.0}v{long:.0}h-{wide:.0}z\" fill=\"{}\"/>",
            ink.dusk
        );
    }
    // One path for each level; each takes in all that is at least so bright.
    for wanted in 1..=LEVELS {
        let mut d = String::new();
        for row in 0..rows {
            let mut start = None;
            for column in 0..=columns {
                let lit = column < columns && levels[row * columns + column] >= wanted;
                match (lit, start) {
                    (true, None) => start = Some(column),
                    (false, Some(first)) => {
                        let x = (low.x + first as f64 * GRAIN - grid.corner.x) * UNIT;
                        let y = (low.y + row as f64 * GRAIN - grid.corner.y) * UNIT;
                        let wide = (column - first) as f64 * GRAIN * UNIT;
                        let _ = write!(d, "M{x:.0} {y:.0}h{wide:.0}v5h-{wide:.0}z");
                        start = None;
                    }
                    _ => {}
                }
            }
        }
        if d.is_empty() {
            break;
        }
        let share = if theme == Theme::Day { 0.3 } else { 0.105 };
        let _ = write!(
            out,
            "<path class=\"light\" d=\"{d}\" fill=\"{}\" fill-opacity=\"{share}\"/>",
            ink.wash
        );
    }
    if theme == Theme::Day && field.counts {
        hatch(out, grid, field, low, Vec2::new(high.x, bottom), ink);
    }
}

/// Slanting lines wherever it is dark.
fn hatch(out: &mut String, grid: &Grid, field: &Field, low: Vec2, high: Vec2, ink: &Ink) {
    let mut d = String::new();
    let slant = Vec2::new(1.0, 1.0) / std::f64::consts::SQRT_2;
    let span = (high.x - low.x) + (high.y - low.y);
    let mut start = -(high.y - low.y);
    while start < high.x - low.x {
        let mut open: Option<Vec2> = None;
        let mut s = 0.0;
        let mut last = low;
        while s < span * 1.5 {
            let p = Vec2::new(low.x + start, low.y) + slant * s;
            let inside = p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y;
            let dark = inside && between(field, p) < DARK;
            if dark {
                open.get_or_insert(p);
                last = p;
            } else if let Some(from) = open.take()
                && (last - from).length() > 0.2
            {
                d.push_str(&grid.path(&[from, last]));
            }
            s += 0.1;
        }
        start += HATCH;
    }
    let _ = write!(
        out,
        "<path class=\"light\" d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"1\"/>",
        ink.shadow
    );
}

/// Beam, midline, triangles, trails and threads.
pub(super) fn quiet(out: &mut String, grid: &Grid, item: &Item, laid: &Laid, ink: &Ink) {
    match item {
        Item::Beam {
            from,
            via,
            finish,
            openness,
        } => {
            let side = |a: Vec2, b: Vec2, half: f64| {
                let along = (b - a) / (b - a).length().max(1e-9);
                Vec2::new(-along.y, along.x) * half
            };
            let wide = 0.12 + 0.5 * openness;
            let (a, b, c) = (
                side(*from, *via, wide),
                side(*from, *finish, wide),
                side(*via, *finish, 0.12 + 0.2 * openness),
            );
            let points = [from + a, via + b, finish + c, finish - c, via - b, from - a];
            let _ = write!(
                out,
                "<path class=\"light\" d=\"{}Z\" fill=\"{}\" fill-opacity=\"{:.2}\" stroke=\"{}\" \
                 stroke-width=\"1.4\" stroke-dasharray=\"2 4\"/>",
                grid.path(&points),
                ink.light,
                0.1 + 0.55 * openness,
                ink.thin
            );
        }
        Item::Midline { from, to } => thin(out, grid, &[*from, *to], ink, "10 8", 1.6),
        Item::Triangle { ball, man, own } => {
            thin(out, grid, &[*ball, *own, *man], ink, "3 4", 1.3);
        }
        Item::Trail { path, .. } => thin(out, grid, path, ink, "1 5", 2.0),
        Item::Thread {
            defender, from, to, ..
        } => {
            let drawn = laid
                .marks
                .iter()
                .find(|m| m.number == *defender && matches!(m.sign, Sign::Defender { .. }));
            let from = drawn.map_or(*from, |m| m.at);
            let way = to - from;
            let long = way.length();
            let start = drawn.map_or(0.0, |m| m.radius);
            if long > start + 0.3 {
                let a = from + way * (start / long);
                thin(out, grid, &[a, *to], ink, "1.5 4", 2.2);
            }
        }
        _ => {}
    }
}

fn thin(out: &mut String, grid: &Grid, path: &[Vec2], ink: &Ink, dashes: &str, wide: f64) {
    let _ = write!(
        out,
        "<path class=\"layer\" d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{wide}\" \
         stroke-dasharray=\"{dashes}\" stroke-linecap=\"round\"/>",
        grid.path(path),
        ink.thin
    );
}
