//! The wood under the light: boards that lie still, and over them the light of the present instant.

use std::sync::LazyLock;

use bevy_egui::egui::epaint::{Mesh, Vertex, WHITE_UV};
use bevy_egui::egui::{
    Color32, ColorImage, Rect, Shape, TextureOptions, TextureWrapMode, Ui, pos2,
};

use super::desk::Desk;
use super::light::tint;
use super::palette::*;
use super::runs::LIGHT;
use super::view::View;
use crate::court::Vec2;

/// One tile of wood, metres and pixels.
const TILE: f32 = 4.8;
const TILE_PIXELS: usize = 480;
/// Boards of the floor are so wide, metres.
const BOARD: f32 = 0.12;

/// A tile of boards with their grain, made by whoever asks first.
pub static BOARDS: LazyLock<ColorImage> = LazyLock::new(boards);

/// Boards with their grain: the same picture every time.
fn boards() -> ColorImage {
    let noise = |x: u32, y: u32| {
        let mut h = x.wrapping_mul(0x9E37_79B1) ^ y.wrapping_mul(0x85EB_CA77);
        h ^= h >> 15;
        h = h.wrapping_mul(0x2C1B_3C6D);
        h ^= h >> 12;
        (h & 0xFFFF) as f32 / 65_535.0
    };
    let wide = (BOARD / TILE * TILE_PIXELS as f32) as usize;
    let mut pixels = Vec::with_capacity(TILE_PIXELS * TILE_PIXELS);
    for y in 0..TILE_PIXELS {
        for x in 0..TILE_PIXELS {
            let board = (x / wide) as u32;
            let shift = (noise(board, 7) * TILE_PIXELS as f32) as usize;
            let length = TILE_PIXELS / 2;
            let along = (y + shift) % TILE_PIXELS;
            let piece = board * 3 + (along / length) as u32;
            let tone = 0.88 + 0.2 * noise(piece, 11);
            let grain = 0.97 + 0.06 * noise(x as u32 * 3, (y / 9) as u32);
            let seam = if x.is_multiple_of(wide) || along.is_multiple_of(length) {
                0.78
            } else {
                1.0
            };
            let c = |i: usize| (WOOD[i] * tone * grain * seam + 0.5) as u8;
            pixels.push(Color32::from_rgb(c(0), c(1), c(2)));
        }
    }
    ColorImage::new([TILE_PIXELS, TILE_PIXELS], pixels)
}

/// The wood, lit by the ball.
pub fn floor(ui: &Ui, desk: &mut Desk, view: &View) {
    let painter = ui.painter_at(view.rect);
    let lit = desk.layers().light;
    let wood = desk.wood.get_or_insert_with(|| {
        let options = TextureOptions {
            wrap_mode: TextureWrapMode::Repeat,
            ..TextureOptions::NEAREST
        };
        ui.load_texture("wood", BOARDS.clone(), options)
    });
    let rim = view.at(Vec2::ZERO);
    let mut boards = Mesh::with_texture(wood.id());
    rect(&mut boards, view.rect, Color32::WHITE);
    for board in &mut boards.vertices {
        board.uv = ((board.pos - rim) / (view.scale * TILE)).to_pos2();
    }
    painter.add(Shape::mesh(boards));
    let strength = match desk.recording.picture(desk.time.now).holder {
        Some(_) => 1.0,
        None => 0.55,
    };
    let mut mesh = Mesh::with_texture(LIGHT);
    let (columns, rows) = desk.lit.shade.size();
    if !lit || columns == 0 {
        rect(&mut mesh, view.rect, tint(if lit { 0.0 } else { 0.35 }));
        painter.add(Shape::mesh(mesh));
        return;
    }
    mesh.vertices.reserve(columns * rows + 16);
    mesh.indices.reserve(6 * columns * rows + 24);
    for row in 0..rows {
        for column in 0..columns {
            if let Some((p, color)) = desk.lit.shade.point(column, row, strength) {
                let pos = view.at(p);
                mesh.vertices.push(Vertex {
                    pos,
                    uv: WHITE_UV,
                    color,
                });
            }
        }
    }
    for row in 0..rows as u32 - 1 {
        cells(&mut mesh, row * columns as u32, columns as u32);
    }
    // Beyond the lines it is night.
    let last = mesh.vertices[mesh.vertices.len() - 1].pos;
    let (inner, outer) = (Rect::from_two_pos(mesh.vertices[0].pos, last), view.rect);
    let corner =
        |x0: f32, y0: f32, x1: f32, y1: f32| Rect::from_min_max(pos2(x0, y0), pos2(x1, y1));
    for beyond in [
        corner(outer.left(), outer.top(), outer.right(), inner.top()),
        corner(outer.left(), inner.bottom(), outer.right(), outer.bottom()),
        corner(outer.left(), inner.top(), inner.left(), inner.bottom()),
        corner(inner.right(), inner.top(), outer.right(), inner.bottom()),
    ] {
        if beyond.is_positive() {
            rect(&mut mesh, beyond, tint(0.0));
        }
    }
    painter.add(Shape::mesh(mesh));
}

/// The light between a row of points, of which `first` is the first, and the row under it. Neighbours
/// of one colour become one rectangle, and full light, which changes nothing, is left out.
fn cells(mesh: &mut Mesh, first: u32, columns: u32) {
    let even = |mesh: &Mesh, a: u32| {
        let corners = [a, a + 1, a + columns, a + columns + 1];
        let [c, others @ ..] = corners.map(|i| mesh.vertices.get(i as usize).map(|v| v.color));
        c.filter(|_| others.iter().all(|o| *o == c))
    };
    let mut column = 0;
    while column + 1 < columns {
        let from = column;
        let colour = even(mesh, first + from);
        column += 1;
        while colour.is_some() && column + 1 < columns && even(mesh, first + column) == colour {
            column += 1;
        }
        if colour != Some(Color32::WHITE) {
            let (a, b) = (first + from, first + column);
            let (c, d) = (a + columns, b + columns);
            mesh.indices.extend([a, b, c, b, d, c]);
        }
    }
}

/// Two triangles of one colour.
fn rect(mesh: &mut Mesh, rect: Rect, color: Color32) {
    let first = mesh.vertices.len() as u32;
    for pos in [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
    ] {
        mesh.vertices.push(Vertex {
            pos,
            uv: WHITE_UV,
            color,
        });
    }
    mesh.indices.extend([0, 1, 2, 0, 2, 3].map(|i| first + i));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The light at the middle of every square, as the triangles over it say: once, or not at all where
    /// it is full.
    #[test]
    fn every_square_is_lit_once_and_full_light_is_left_out() {
        let (columns, rows) = (9_u32, 2);
        let mut mesh = Mesh::with_texture(LIGHT);
        let greys = [255, 255, 255, 9, 9, 9, 9, 80, 255];
        for row in 0..rows {
            for column in 0..columns {
                mesh.vertices.push(Vertex {
                    pos: pos2(column as f32, row as f32),
                    uv: WHITE_UV,
                    color: Color32::from_gray(greys[column as usize]),
                });
            }
        }
        cells(&mut mesh, 0, columns);
        let mut covered = [0.0; 8];
        for corners in mesh.indices.as_chunks::<3>().0 {
            let at = corners.map(|k| mesh.vertices[k as usize].pos);
            let (left, right) = (
                at[0].x.min(at[1].x).min(at[2].x),
                at[0].x.max(at[1].x).max(at[2].x),
            );
            for (column, sum) in covered.iter_mut().enumerate() {
                if left <= column as f32 && (column + 1) as f32 <= right {
                    *sum += 0.5;
                }
            }
        }
        assert_eq!(covered, [0.0, 0.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0]);
        // Two of the four with light of one colour would be two rectangles if they were not joined.
        assert_eq!(mesh.indices.len() / 6, 4);
    }
}
