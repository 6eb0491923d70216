//! A possession as a moving picture: GIF, which every phone and slide program shows.
//!
//! Frames are drawn by the same scene and layout as everything else, by night, and quantised to one
//! palette of 256 colours that is the same for all frames.

use gif::{Encoder, Frame as GifFrame, Repeat};

use crate::court::Court;
use crate::possession::Possession;

use super::print::{Unprintable, pixels};
use super::scene::{Item, scene_of};
use super::svg::{Look, picture};

/// Hundredths of a second between two pictures: GIF knows no finer, and players show down to 2.
const HUNDREDTHS: u16 = 12;
/// At most so many pictures, so that a long possession stays small enough to send.
const MOST: usize = 420;
/// The last picture stays so long, hundredths.
const LAST: u16 = 150;

/// Levels of each colour in the palette.
const RED: usize = 8;
const GREEN: usize = 8;
const BLUE: usize = 4;

/// A possession as GIF, `wide` pixels wide. `track`: its track must have been kept.
///
/// # Errors
/// If the pictures cannot be made or packed.
pub fn gif(court: &Court, possession: &Possession, wide: u16) -> Result<Vec<u8>, Unprintable> {
    let failed = |e: gif::EncodingError| Unprintable::Gif(e.to_string());
    let mut palette = Vec::with_capacity(768);
    for i in 0..256 {
        let (r, g, b) = (i / (GREEN * BLUE), i / BLUE % GREEN, i % BLUE);
        let share = |n: usize, levels: usize| (n * 255 / (levels - 1)) as u8;
        palette.extend([share(r, RED), share(g, GREEN), share(b, BLUE)]);
    }
    let mut out = Vec::new();
    let mut encoder: Option<Encoder<&mut Vec<u8>>> = None;
    let step = f64::from(HUNDREDTHS) / 100.0;
    let mut next = 0.0;
    let chosen: Vec<usize> = (0..possession.track.len())
        .filter(|&i| {
            let due = possession.track[i].time >= next - 1e-9;
            if due {
                next += step;
            }
            due
        })
        .take(MOST)
        .collect();
    let last = chosen.len().saturating_sub(1);
    let mut spare = Some(&mut out);
    for (n, &i) in chosen.iter().enumerate() {
        let frame = &possession.track[i];
        let mut scene = scene_of(court, frame);
        // A short trail shows who runs.
        let from = i.saturating_sub(18);
        for a in 0..5 {
            let path: Vec<_> = possession.track[from..=i]
                .iter()
                .step_by(3)
                .map(|f| f.attackers[a])
                .collect();
            if super::way::length(&path) > 0.5 {
                scene.add(Item::Trail {
                    path,
                    attacker: true,
                });
            }
        }
        let map = pixels(&picture(&scene, &Look::SCREEN).file(""), u32::from(wide))?;
        let indices: Vec<u8> = map
            .pixels()
            .iter()
            .map(|p| {
                let level = |v: u8, levels: usize| (usize::from(v) * (levels - 1) + 127) / 255;
                (level(p.red(), RED) * GREEN * BLUE
                    + level(p.green(), GREEN) * BLUE
                    + level(p.blue(), BLUE)) as u8
            })
            .collect();
        let high = map.height() as u16;
        if let Some(out) = spare.take() {
            let mut new = Encoder::new(out, wide, high, &palette).map_err(failed)?;
            new.set_repeat(Repeat::Infinite).map_err(failed)?;
            encoder = Some(new);
        }
        if let Some(encoder) = &mut encoder {
            let frame = GifFrame {
                width: wide,
                height: high,
                delay: if n == last { LAST } else { HUNDREDTHS },
                buffer: indices.into(),
                ..GifFrame::default()
            };
            encoder.write_frame(&frame).map_err(failed)?;
        }
    }
    drop(encoder);
    if out.is_empty() {
        return Err(Unprintable::Gif("there is no track".to_string()));
    }
    Ok(out)
}
