//! The scene over the floor with its words: first what is drawn, then each defender's number and
//! what is said of each look, where they hide nobody.

use bevy_egui::egui::{FontId, Painter, Pos2, Rect, Stroke, vec2};

use super::paint::{CROSS, DISC, GLOWS, glow, lines, paint};
use super::palette::*;
use super::placing;
use super::view::View;
use crate::court::Vec2;
use crate::draw::{Item, Scene};

/// The scene over the floor. `size` is the size of type; words keep within `clear`, and off the bodies.
/// Returns where words lie.
pub fn scene(painter: &Painter, view: &View, scene: &Scene, size: f32, clear: Rect) -> Vec<Rect> {
    lines(painter, view, scene);
    let body = 2.0 * (view.body(DISC) + 4.0);
    let mut taken = Vec::new();
    for item in &scene.items {
        match item {
            Item::Ball { pos, .. } => {
                glow(painter, view.at(*pos), view.long(GLOWS));
            }
            Item::Attacker { pos, .. } | Item::Defender { pos, .. } => {
                taken.push(Rect::from_center_size(view.at(*pos), vec2(body, body)));
            }
            _ => {}
        }
    }
    for item in &scene.items {
        match item {
            Item::Ball { pos, height } => {
                let at = beside_the_number(view, scene, *pos);
                paint(
                    painter,
                    view,
                    &Item::Ball {
                        pos: at,
                        height: *height,
                    },
                    size,
                );
            }
            _ => paint(painter, view, item, size),
        }
    }
    // The ring is not to be hidden either.
    let rim = 2.0 * view.long(0.4);
    taken.push(Rect::from_center_size(view.at(Vec2::ZERO), vec2(rim, rim)));
    let bodies = taken.len();
    for item in &scene.items {
        if let Item::Defender {
            number,
            pos,
            facing,
        } = item
        {
            let back = -view.way(*facing);
            let rect = badge(
                painter,
                view,
                *number,
                (view.at(*pos), back),
                (&taken, clear),
                size,
            );
            taken.push(rect);
        }
    }
    for item in &scene.items {
        if let Item::Label { at, text: words } = item {
            let font = FontId::proportional(14.5 * size);
            let galley = painter.layout_no_wrap(words.clone(), font, TEXT);
            let at = view.at(*at);
            let room = galley.size() + vec2(12.0, 6.0);
            let rect = placing::beside(at, body / 2.0 + 3.0, room, None, &taken, clear);
            let near = rect.clamp(at);
            if (near - at).length() > body {
                let line = Stroke::new(1.2, faint(TEXT, 0.7));
                painter.line_segment([at + (near - at).normalized() * body * 0.5, near], line);
            }
            painter.rect_filled(rect, 4.0, faint(INK, 0.82));
            painter.galley(rect.min + vec2(6.0, 3.0), galley, TEXT);
            taken.push(rect);
        }
    }
    taken.split_off(bodies)
}

/// The ball in a hand is drawn at the edge of the player's disc: on a small floor it would hide the number.
fn beside_the_number(view: &View, scene: &Scene, ball: Vec2) -> Vec2 {
    let holder = scene.items.iter().find_map(|item| match item {
        Item::Attacker {
            pos,
            has_ball: true,
            ..
        } => Some(*pos),
        _ => None,
    });
    let Some(pos) = holder else { return ball };
    let edge = f64::from(view.body(DISC) / view.scale);
    match (ball - pos).length() {
        off if off >= edge || off > HELD => ball,
        off if off < 1e-6 => pos + Vec2::new(-edge * 0.7, -edge * 0.7),
        off => pos + (ball - pos) * (edge / off),
    }
}

/// A ball nearer to the holder than this is in the hand, metres.
const HELD: f64 = 1.0;

/// A defender's number on a plate beside his X, behind his back if there is room.
fn badge(
    painter: &Painter,
    view: &View,
    number: u8,
    (at, back): (Pos2, bevy_egui::egui::Vec2),
    (taken, clear): (&[Rect], Rect),
    size: f32,
) -> Rect {
    let font = FontId::proportional((view.body(DISC) * 1.05).max(15.0 * size.min(1.8)));
    let galley = painter.layout_no_wrap(format!("X{number}"), font, INK);
    let room = galley.size() + vec2(8.0, 0.0);
    let away = view.body(CROSS) * 1.3;
    let rect = placing::beside(at, away, room, Some(back), taken, clear);
    painter.rect_filled(rect.expand(1.5), 5.0, faint(INK, 0.9));
    painter.rect_filled(rect, 4.0, DEFENDER);
    painter.galley(rect.min + vec2(4.0, 0.0), galley, INK);
    rect
}
