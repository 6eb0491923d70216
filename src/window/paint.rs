//! Paints every item of a `draw::Scene` with egui, from the floor up.

use bevy_egui::egui::epaint::{Mesh, PathShape, PathStroke, Vertex, WHITE_UV};
use bevy_egui::egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};

use super::palette::*;
use super::view::View;
use crate::court::{Line, Vec2};
use crate::draw::{ArrowKind, Item, Scene};

/// Radius of an attacker's disc and half an X, metres: a body is 0.3 m, the rest is for the eye.
pub const DISC: f64 = 0.34;
pub(super) const CROSS: f64 = 0.25;

/// A soft round light that adds to what is under it.
fn halo(painter: &Painter, at: Pos2, radius: f32, colour: Color32) {
    let mut mesh = Mesh::default();
    let mut put = |pos, color| {
        mesh.vertices.push(Vertex {
            pos,
            uv: WHITE_UV,
            color,
        });
    };
    put(
        at,
        Color32::from_rgba_premultiplied(colour.r(), colour.g(), colour.b(), 0),
    );
    const AROUND: u32 = 40;
    for i in 0..AROUND {
        let angle = i as f32 / AROUND as f32 * std::f32::consts::TAU;
        put(
            at + vec2(libm::cosf(angle), libm::sinf(angle)) * radius,
            Color32::TRANSPARENT,
        );
    }
    for i in 0..AROUND {
        mesh.indices.extend([0, 1 + i, 1 + (i + 1) % AROUND]);
    }
    painter.add(Shape::mesh(mesh));
}

pub(super) fn lines(painter: &Painter, view: &View, scene: &Scene) {
    let stroke = Stroke::new(view.long(scene.court.line_width).max(2.0), faint(LINE, 0.5));
    let bright = Stroke::new(stroke.width.max(2.5), faint(LINE, 0.9));
    let lines = scene.lines.len();
    for (i, line) in scene.lines.iter().enumerate() {
        // The last two are backboard and ring.
        let stroke = if i + 2 >= lines { bright } else { stroke };
        match *line {
            Line::Segment { a, b } => {
                painter.line_segment([view.at(a), view.at(b)], stroke);
            }
            Line::Circle { centre, radius } => {
                painter.circle_stroke(view.at(centre), view.long(radius), stroke);
            }
            Line::Arc {
                centre,
                radius,
                from,
                to,
            } => {
                let points = (0..=64)
                    .map(|k| {
                        let angle = from + (to - from) * f64::from(k) / 64.0;
                        let off = Vec2::new(libm::cos(angle), libm::sin(angle)) * radius;
                        view.at(centre + off)
                    })
                    .collect();
                painter.add(PathShape::line(points, PathStroke::from(stroke)));
            }
        }
    }
}

/// One item, but for words.
pub(super) fn paint(painter: &Painter, view: &View, item: &Item, size: f32) {
    match item {
        Item::Light(_) => {}
        Item::Beam {
            from,
            via,
            finish,
            openness,
        } => beam(painter, view, [*from, *via, *finish], *openness as f32),
        Item::Midline { from, to } => {
            let stroke = Stroke::new(3.0, faint(TEACH, 0.75));
            let shapes = Shape::dashed_line(&[view.at(*from), view.at(*to)], stroke, 16.0, 9.0);
            painter.extend(shapes);
        }
        Item::Triangle { ball, man, own } => {
            let points = vec![view.at(*ball), view.at(*man), view.at(*own)];
            let stroke = PathStroke::new(1.5, faint(TEACH, 0.8));
            let fill = faint(TEACH, 0.10);
            painter.add(PathShape::convex_polygon(points, fill, stroke));
        }
        Item::Trail { path, attacker } => trail(painter, view, path, *attacker),
        Item::Thread {
            from, to, chance, ..
        } => thread(painter, view.at(*from), view.at(*to), *chance as f32),
        Item::Arrow { kind, path, .. } => arrow(painter, view, *kind, path),
        Item::ModelPlace { number, pos, .. } => {
            let at = view.at(*pos);
            cross(painter, at, view.body(CROSS), 2.0, faint(TEACH, 0.95));
            let radius = view.body(DISC) + 4.0;
            let stroke = Stroke::new(1.5, faint(TEACH, 0.8));
            painter.circle_stroke(at, radius, stroke);
            let font = FontId::proportional(13.0 * size);
            let below = at + vec2(0.0, radius + 2.0);
            text(
                painter,
                below,
                Align2::CENTER_TOP,
                &format!("X{number}"),
                font,
                TEACH,
            );
        }
        Item::Defender { pos, facing, .. } => defender(painter, view, *pos, *facing),
        Item::Attacker {
            number,
            pos,
            has_ball,
        } => {
            let (at, radius) = (view.at(*pos), view.body(DISC));
            painter.circle_filled(at, radius + 2.0, faint(INK, 0.85));
            painter.circle_filled(at, radius, ATTACKER);
            let font = FontId::proportional(radius * (1.3 + 0.4 * (size - 1.0).clamp(0.0, 0.5)));
            painter.text(at, Align2::CENTER_CENTER, number.to_string(), font, INK);
            if *has_ball {
                let (pen, ring) = (pen(view), radius + 7.0 * pen(view));
                painter.circle_stroke(at, ring, Stroke::new(5.0 * pen, faint(INK, 0.6)));
                painter.circle_stroke(at, ring, Stroke::new(3.0 * pen, BALL));
            }
        }
        Item::Ball { pos, height } => ball(painter, view, *pos, *height),
        // Words come last, where they hide nobody.
        Item::Label { .. } => {}
    }
}

/// Words on a dark plate.
pub fn plate(painter: &Painter, at: Pos2, align: Align2, words: &str, font: FontId, c: Color32) {
    let galley = painter.layout_no_wrap(words.to_string(), font, c);
    let rect = align.anchor_size(at, galley.size());
    painter.rect_filled(rect.expand2(vec2(5.0, 2.0)), 4.0, faint(INK, 0.78));
    painter.galley(rect.min, galley, c);
}

/// Words with a dark shadow.
fn text(painter: &Painter, at: Pos2, align: Align2, words: &str, font: FontId, c: Color32) {
    painter.text(
        at + vec2(1.0, 1.0),
        align,
        words,
        font.clone(),
        faint(INK, 0.9),
    );
    painter.text(at, align, words, font, c);
}

fn cross(painter: &Painter, at: Pos2, half: f32, width: f32, colour: Color32) {
    let stroke = Stroke::new(width, colour);
    for (a, b) in [
        (vec2(-half, -half), vec2(half, half)),
        (vec2(-half, half), vec2(half, -half)),
    ] {
        painter.line_segment([at + a, at + b], stroke);
    }
}

/// Bodies are drawn with broader lines where they are large: on a wall, on a screen of many pixels.
fn pen(view: &View) -> f32 {
    (view.body(DISC) / 16.0).max(1.0)
}

fn defender(painter: &Painter, view: &View, pos: Vec2, facing: Vec2) {
    let (at, half) = (view.at(pos), view.body(CROSS));
    let front = view.way(facing);
    let side = vec2(-front.y, front.x);
    let bar = [
        at + front * (half * 1.55) - side * (half * 1.15),
        at + front * (half * 1.55) + side * (half * 1.15),
    ];
    let pen = pen(view);
    painter.line_segment(bar, Stroke::new(7.0 * pen, faint(INK, 0.8)));
    cross(painter, at, half + 1.0, 8.0 * pen, faint(INK, 0.8));
    cross(painter, at, half, 4.0 * pen, DEFENDER);
    painter.line_segment(bar, Stroke::new(3.5 * pen, DEFENDER));
}

/// How far the ball's own light goes, metres, and the share of that which is brighter.
pub(super) const GLOWS: f64 = 2.6;
const NEAR: f32 = 0.35;

/// The ball's own light, under everybody: so far round it, points of the screen.
pub(super) fn glow(painter: &Painter, ground: Pos2, far: f32) {
    let (wide, near) = (Color32::from_rgb(54, 34, 10), Color32::from_rgb(70, 50, 22));
    halo(painter, ground, far, wide);
    halo(painter, ground, far * NEAR, near);
}

fn ball(painter: &Painter, view: &View, pos: Vec2, height: f64) {
    let ground = view.at(pos);
    let up = (height as f32 - 1.0).max(0.0) * view.scale * 0.22;
    let at = ground - vec2(0.0, up);
    if up > 1.0 {
        painter.circle_filled(ground, 4.0, faint(INK, 0.5));
    }
    // On a small floor it is smaller than the players still.
    let radius = (view.body(DISC) * 0.38).max(3.5);
    painter.circle_filled(at, radius + 1.5, faint(INK, 0.8));
    painter.circle_filled(at, radius, BALL);
    painter.circle_filled(at, radius / 2.0, Color32::from_rgb(255, 246, 222));
}

/// The driving lane: as wide and as bright as it is open.
fn beam(painter: &Painter, view: &View, way: [Vec2; 3], openness: f32) {
    if openness < 0.04 {
        return;
    }
    let wide = view.long(0.14 + 0.62 * f64::from(openness));
    let strength = 0.15 + 0.6 * openness;
    let mut points: Vec<Pos2> = Vec::new();
    for p in way {
        let p = view.at(p);
        if points.last().is_none_or(|last| (p - *last).length() > 2.0) {
            points.push(p);
        }
    }
    if points.len() < 2 {
        return;
    }
    let mut mesh = Mesh::default();
    let n = points.len();
    for (i, p) in points.iter().enumerate() {
        let before = points[i.saturating_sub(1)];
        let after = points[(i + 1).min(n - 1)];
        let along = (after - before).normalized();
        let across = vec2(-along.y, along.x);
        let share = i as f32 / (n - 1) as f32;
        let half = wide * (1.0 - 0.45 * share);
        let glow = strength * (1.0 - 0.35 * share);
        for (off, light) in [(-1.0, 0.0), (-0.35, 1.0), (0.35, 1.0), (1.0, 0.0)] {
            let c = faint(BEAM, glow * light);
            mesh.vertices.push(Vertex {
                pos: *p + across * (half * off),
                uv: WHITE_UV,
                color: Color32::from_rgba_premultiplied(c.r(), c.g(), c.b(), c.a() / 3),
            });
        }
        if i > 0 {
            let (a, b) = (4 * (i as u32 - 1), 4 * i as u32);
            for k in 0..3 {
                mesh.indices
                    .extend([a + k, a + k + 1, b + k, a + k + 1, b + k + 1, b + k]);
            }
        }
    }
    painter.add(Shape::mesh(mesh));
}

fn trail(painter: &Painter, view: &View, path: &[Vec2], attacker: bool) {
    let colour = if attacker { ATTACKER } else { DEFENDER };
    let n = path.len();
    for (i, pair) in path.windows(2).enumerate() {
        let share = (i + 1) as f32 / n as f32;
        let stroke = Stroke::new(
            if attacker { 4.0 } else { 2.0 },
            faint(colour, 0.28 * share),
        );
        painter.line_segment([view.at(pair[0]), view.at(pair[1])], stroke);
    }
}

/// A thin thread that ends in a knot on the way that is shut.
fn thread(painter: &Painter, from: Pos2, to: Pos2, chance: f32) {
    let strength = 0.35 + 0.6 * chance;
    let stroke = Stroke::new(1.6, faint(THREAD, strength));
    painter.extend(Shape::dashed_line(&[from, to], stroke, 3.0, 3.0));
    let knot = Rect::from_center_size(to, vec2(8.0, 8.0));
    painter.rect_filled(knot.expand(1.5), 1.0, faint(INK, 0.8));
    painter.rect_filled(knot, 1.0, faint(THREAD, strength));
}

fn arrow(painter: &Painter, view: &View, kind: ArrowKind, path: &[Vec2]) {
    let points: Vec<Pos2> = path.iter().map(|p| view.at(*p)).collect();
    let [.., before, end] = points.as_slice() else {
        return;
    };
    let stroke = Stroke::new(2.5, faint(ATTACKER, 0.8));
    match kind {
        ArrowKind::Pass => painter.extend(Shape::dashed_line(&points, stroke, 11.0, 7.0)),
        _ => {
            painter.add(PathShape::line(points.clone(), PathStroke::from(stroke)));
        }
    }
    let along = (*end - *before).normalized();
    let across = vec2(-along.y, along.x);
    match kind {
        ArrowKind::Screen => {
            painter.line_segment([*end - across * 10.0, *end + across * 10.0], stroke);
        }
        _ => {
            let head = vec![
                *end,
                *end - along * 13.0 + across * 6.0,
                *end - along * 13.0 - across * 6.0,
            ];
            painter.add(PathShape::convex_polygon(
                head,
                faint(ATTACKER, 0.85),
                PathStroke::NONE,
            ));
        }
    }
}
