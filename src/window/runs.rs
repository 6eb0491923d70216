//! egui's triangles, sorted into runs that are drawn with the same ink. Looking up a picture for every
//! pixel is most of what a frame costs without a graphics card, so that is done only where there is
//! something to look up.

use bevy_egui::egui::epaint::{ClippedPrimitive, Mesh, Primitive, Vertex, WHITE_UV};
use bevy_egui::egui::{Rect, TextureId};

/// Triangles with this in place of a texture are light: what lies under them is multiplied with their
/// colour. What comes before them lies still, and is painted once.
pub const LIGHT: TextureId = TextureId::User(u64::MAX);

/// Plain triangles of less than this together, square points of the screen, are drawn along with the
/// letters between which they lie: changing the ink costs more.
const LARGE: f32 = 1500.0;

/// How triangles become pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// One colour from corner to corner, nothing looked up.
    Plain,
    /// Multiplies what is there.
    Light,
    /// Letters or a picture.
    Picture(TextureId),
}

/// Triangles that are drawn at once.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// With what.
    pub ink: Ink,
    /// Only inside of this, points of the screen.
    pub clip: Rect,
    /// Indices of its corners: from, to.
    pub corners: (u32, u32),
}

/// All that is drawn, in order.
#[derive(Default)]
pub struct Runs {
    /// Corners of triangles.
    pub vertices: Vec<Vertex>,
    /// Three for each triangle.
    pub indices: Vec<u32>,
    /// What is drawn with the same ink.
    pub runs: Vec<Run>,
    /// So many of them come before the light.
    pub ground: usize,
}

impl Runs {
    /// Takes over what egui has painted.
    pub fn of(jobs: &[ClippedPrimitive]) -> Runs {
        let mut all = Runs::default();
        for job in jobs {
            if let Primitive::Mesh(mesh) = &job.primitive {
                if mesh.texture_id == LIGHT {
                    all.ground = all.runs.len();
                }
                all.add(mesh, job.clip_rect);
            }
        }
        all
    }

    fn add(&mut self, mesh: &Mesh, clip: Rect) {
        let base = self.vertices.len() as u32;
        let first = self.runs.len();
        let picture = Ink::Picture(mesh.texture_id);
        // A stretch of plain triangles, and how large they are together.
        let mut plain: Option<(usize, f32)> = None;
        for (i, corners) in mesh.indices.as_chunks::<3>().0.iter().enumerate() {
            let of = |k: usize| mesh.vertices.get(corners[k] as usize);
            if let (Some(a), Some(b), Some(c)) = (of(0), of(1), of(2))
                && mesh.texture_id == TextureId::default()
                && [a, b, c].iter().all(|v| v.uv == WHITE_UV)
            {
                let (p, q) = (b.pos - a.pos, c.pos - a.pos);
                let area = (p.x * q.y - p.y * q.x).abs() / 2.0;
                plain = Some(plain.map_or((i, area), |(from, sum)| (from, sum + area)));
                continue;
            }
            self.stretch(first, clip, picture, plain.take(), i);
            let ink = if mesh.texture_id == LIGHT {
                Ink::Light
            } else {
                picture
            };
            self.push(first, clip, ink, 1);
        }
        self.stretch(first, clip, picture, plain, mesh.indices.len() / 3);
        self.indices.extend(mesh.indices.iter().map(|k| base + k));
        self.vertices.extend_from_slice(&mesh.vertices);
    }

    fn stretch(
        &mut self,
        first: usize,
        clip: Rect,
        picture: Ink,
        plain: Option<(usize, f32)>,
        to: usize,
    ) {
        let Some((from, area)) = plain else { return };
        let ink = if area < LARGE { picture } else { Ink::Plain };
        self.push(first, clip, ink, (to - from) as u32);
    }

    /// So many more triangles of an ink.
    fn push(&mut self, first: usize, clip: Rect, ink: Ink, triangles: u32) {
        let same = self.runs.len() > first;
        if let Some(last) = self.runs.last_mut()
            && same
            && last.ink == ink
        {
            last.corners.1 += 3 * triangles;
            return;
        }
        let from = self.runs.last().map_or(0, |last| last.corners.1);
        let corners = (from, from + 3 * triangles);
        self.runs.push(Run { ink, clip, corners });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy_egui::egui::{Color32, pos2};

    fn job(mesh: Mesh) -> ClippedPrimitive {
        ClippedPrimitive {
            clip_rect: Rect::EVERYTHING,
            primitive: Primitive::Mesh(mesh),
        }
    }

    fn plain(mesh: &mut Mesh, side: f32) {
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(side, side));
        mesh.add_colored_rect(rect, Color32::RED);
    }

    fn letter(mesh: &mut Mesh) {
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(8.0, 8.0));
        mesh.add_rect_with_uv(rect, rect, Color32::WHITE);
    }

    #[test]
    fn every_triangle_is_drawn_once_in_order_and_large_plain_ones_look_nothing_up() {
        let mut wood = Mesh::with_texture(TextureId::Managed(1));
        letter(&mut wood);
        let mut light = Mesh::with_texture(LIGHT);
        plain(&mut light, 100.0);
        let mut words = Mesh::default();
        plain(&mut words, 100.0);
        letter(&mut words);
        plain(&mut words, 5.0);
        letter(&mut words);
        plain(&mut words, 60.0);
        let all = Runs::of(&[job(wood.clone()), job(light), job(words)]);
        let letters = Ink::Picture(TextureId::default());
        let inks: Vec<_> = all.runs.iter().map(|r| (r.ink, r.corners)).collect();
        let wanted = [
            (Ink::Picture(wood.texture_id), (0, 6)),
            (Ink::Light, (6, 12)),
            (Ink::Plain, (12, 18)),
            (letters, (18, 36)),
            (Ink::Plain, (36, 42)),
        ];
        assert_eq!(inks, wanted);
        assert_eq!(all.ground, 1);
        assert_eq!((all.indices.len(), all.vertices.len()), (42, 28));
        assert_eq!(all.indices[6..12], [4, 5, 6, 6, 5, 7]);
    }
}
