//! A possession as a moving picture: GIF, which every phone and slide program shows, and APNG.
//!
//! Frames are drawn by the same scene and layout as everything else, by night, and cut down to 255
//! colours that a neural quantiser (`color_quant`, which drawing builds anyway) finds for a few of them.

use color_quant::NeuQuant;
use gif::{DisposalMethod, Encoder, Frame as GifFrame, Repeat};
use rayon::prelude::*;
use resvg::tiny_skia::Pixmap;

use crate::clean::escape;
use crate::court::Court;
use crate::possession::Frame;
use crate::scrimmage::windows::INSTANT;

use super::finish;
use super::light::{Field, Replay};
use super::print::{Unprintable, pixels};
use super::scene::{Item, Scene, scene_of};
use super::svg::{Look, Picture, picture};
use super::text::{FAMILY, shown, width, wrap};

/// Hundredths of a second between two pictures: GIF knows no finer, and players show down to 2.
const HUNDREDTHS: u16 = 12;
/// At most so many pictures, so that a long possession stays small enough to send.
const MOST: usize = 420;
/// Points of the light are so far apart, metres.
const GRAIN: f64 = 0.5;
/// The last picture stays so long, hundredths.
const LAST: u16 = 150;

/// Pictures from which the palette is taken.
const SAMPLED: usize = 6;
/// Colours of a palette, at most.
const COLOURS: usize = 255;
/// The colour that lets the picture before show through.
const CLEAR: u8 = 255;

/// The quantiser learns from one in so many pixels of the samples.
const EVERY: i32 = 10;

/// The colours of some pictures.
fn palette_of(maps: &[Pixmap]) -> NeuQuant {
    let pixels: Vec<&[u8]> = maps.iter().map(Pixmap::data).collect();
    NeuQuant::new(EVERY, COLOURS, &pixels.concat())
}

/// Answers of a palette that are kept.
const KEPT: usize = 4096;

/// A picture as indices into a palette. A picture has few colours: what was asked lately is not searched for again.
fn indices(palette: &NeuQuant, map: &Pixmap) -> Vec<u8> {
    // No pixel of a picture is clear, so that the first keys are nobody's.
    let mut kept = vec![([0_u8; 4], 0_u8); KEPT];
    let pixels = map.data().chunks_exact(4);
    let index = pixels.map(|p| {
        let key = [p[0], p[1], p[2], p[3]];
        let mixed = key
            .iter()
            .fold(0_usize, |sum, part| 31 * sum + usize::from(*part));
        let slot = &mut kept[mixed % KEPT];
        if slot.0 != key {
            *slot = (key, palette.index_of(p) as u8);
        }
        slot.1
    });
    index.collect()
}

/// A possession drawn, ready to be packed.
pub struct Film {
    /// Red, green and blue of 256 colours.
    palette: Vec<u8>,
    wide: u16,
    high: u16,
    /// Indices into the palette.
    frames: Vec<Vec<u8>>,
}

impl Film {
    /// Draws a possession, `wide` pixels wide, to its result, on the floor as it is lit, under a line with a title, the
    /// clock and the score.
    ///
    /// # Errors
    /// If there is no track or the pictures cannot be made.
    pub fn of(replay: &Replay, title: &str, wide: u16) -> Result<Film, Unprintable> {
        let (court, possession) = (&replay.play.cast.court, &replay.possession);
        let step = f64::from(HUNDREDTHS) / 100.0;
        let mut track = possession.track.clone();
        let after = finish::after(possession);
        let known = finish::known(possession, &after);
        track.extend(after);
        let result = finish::result(possession);
        let mut next = 0.0;
        let chosen: Vec<usize> = (0..track.len())
            .filter(|&i| {
                let due = track[i].time >= next - 1e-9;
                if due {
                    next += step;
                }
                due
            })
            .collect();
        // The end is never left out: of a long possession the beginning is.
        let chosen = &chosen[chosen.len().saturating_sub(MOST)..];
        let moments = (0..possession.moments.len()).into_par_iter();
        let lights: Vec<Option<Field>> = moments.map(|m| replay.light(m, GRAIN)).collect();
        let draw = |i: usize| {
            let time = track[i].time;
            let told = match time + 1e-9 >= known {
                true => format!("{:.1} s · {result}", known),
                false => format!("{time:.1} s · 0 points"),
            };
            let mut scene = moment(court, &track, i);
            let light = lit(replay, &track[i]).and_then(|m| lights.get(m)?.clone());
            if let Some(light) = light {
                scene.add(Item::Light(light));
            }
            let drawn = picture(&scene, &Look::SCREEN);
            pixels(&headed(&drawn, title, &told), u32::from(wide))
        };
        let apart = chosen.len().div_ceil(SAMPLED).max(1);
        let samples: Vec<Pixmap> = chosen
            .iter()
            .step_by(apart)
            .map(|&i| draw(i))
            .collect::<Result<_, _>>()?;
        let Some(first) = samples.first() else {
            return Err(Unprintable::Film("there is no track".to_string()));
        };
        let high = first.height() as u16;
        let palette = palette_of(&samples);
        let frames = chosen
            .par_iter()
            .map(|&i| draw(i).map(|map| indices(&palette, &map)))
            .collect::<Result<_, _>>()?;
        let mut colours = palette.color_map_rgb();
        colours.resize(3 * (COLOURS + 1), 0);
        Ok(Film {
            palette: colours,
            wide,
            high,
            frames,
        })
    }

    /// Each picture's changed part, with the time it stays, hundredths of a second.
    fn parts(&self) -> impl Iterator<Item = (GifFrame<'static>, u16)> {
        let last = self.frames.len() - 1;
        self.frames.iter().enumerate().map(move |(n, indices)| {
            let before = n.checked_sub(1).map(|b| self.frames[b].as_slice());
            let part = changed(indices, before, usize::from(self.wide));
            (part, if n == last { LAST } else { HUNDREDTHS })
        })
    }

    /// As GIF.
    ///
    /// # Errors
    /// If it cannot be packed.
    pub fn gif(&self) -> Result<Vec<u8>, Unprintable> {
        let failed = |e: gif::EncodingError| Unprintable::Film(e.to_string());
        let mut out = Vec::new();
        let mut encoder =
            Encoder::new(&mut out, self.wide, self.high, &self.palette).map_err(failed)?;
        encoder.set_repeat(Repeat::Infinite).map_err(failed)?;
        for (mut part, stays) in self.parts() {
            part.delay = stays;
            encoder.write_frame(&part).map_err(failed)?;
        }
        drop(encoder);
        Ok(out)
    }

    /// As animated PNG.
    ///
    /// # Errors
    /// If it cannot be packed.
    pub fn apng(&self) -> Result<Vec<u8>, Unprintable> {
        let failed = |e: png::EncodingError| Unprintable::Film(e.to_string());
        let mut out = Vec::new();
        let mut encoder = png::Encoder::new(&mut out, self.wide.into(), self.high.into());
        encoder.set_color(png::ColorType::Indexed);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_palette(self.palette.clone());
        let mut clear = vec![255; COLOURS + 1];
        clear[usize::from(CLEAR)] = 0;
        encoder.set_trns(clear);
        encoder
            .set_animated(self.frames.len() as u32, 0)
            .map_err(failed)?;
        encoder.set_blend_op(png::BlendOp::Over).map_err(failed)?;
        let mut writer = encoder.write_header().map_err(failed)?;
        for (part, stays) in self.parts() {
            // A part may never reach over the edge, not even between these calls.
            writer.reset_frame_position().map_err(failed)?;
            writer
                .set_frame_dimension(part.width.into(), part.height.into())
                .map_err(failed)?;
            writer
                .set_frame_position(part.left.into(), part.top.into())
                .map_err(failed)?;
            writer.set_frame_delay(stays, 100).map_err(failed)?;
            writer.write_image_data(&part.buffer).map_err(failed)?;
        }
        writer.finish().map_err(failed)?;
        Ok(out)
    }
}

/// The part of a picture that is another than before; what stays the same in it lets the picture
/// before show through.
fn changed(now: &[u8], before: Option<&[u8]>, wide: usize) -> GifFrame<'static> {
    let high = now.len() / wide.max(1);
    let differs = |i: usize| before.is_none_or(|b| b[i] != now[i]);
    let rows = 0..high;
    let row = |y: &usize| (0..wide).any(|x| differs(y * wide + x));
    let column = |x: &usize| (0..high).any(|y| differs(y * wide + x));
    // Without any change one point is enough to keep the time.
    let top = rows.clone().find(row).unwrap_or(0);
    let bottom = rows.rev().find(row).unwrap_or(0);
    let left = (0..wide).find(column).unwrap_or(0);
    let right = (0..wide).rev().find(column).unwrap_or(0);
    let mut buffer = Vec::with_capacity((right - left + 1) * (bottom - top + 1));
    for y in top..=bottom {
        for x in left..=right {
            let i = y * wide + x;
            buffer.push(if differs(i) { now[i] } else { CLEAR });
        }
    }
    GifFrame {
        left: left as u16,
        top: top as u16,
        width: (right - left + 1) as u16,
        height: (bottom - top + 1) as u16,
        transparent: before.map(|_| CLEAR),
        dispose: DisposalMethod::Keep,
        buffer: buffer.into(),
        ..GifFrame::default()
    }
}

/// A picture under a line of words: title on the left, clock and score on the right.
fn headed(drawn: &Picture, title: &str, told: &str) -> String {
    let (wide, high) = (drawn.width, drawn.height);
    let size = wide / 30.0;
    let band = 1.7 * size;
    let room = wide - width(told, size, true) - 3.0 * size;
    let title = wrap(title, size, false, room).swap_remove(0);
    let text = |x: f64, anchor: &str, weight: &str, words: &str| {
        format!(
            "<text x=\"{x:.1}\" y=\"{:.1}\" font-size=\"{size:.1}\" text-anchor=\"{anchor}\" \
             font-weight=\"{weight}\" fill=\"#f6ecd9\">{}</text>",
            1.2 * size,
            escape(&shown(words))
        )
    };
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {:.0}\" width=\"{wide:.0}\" \
         height=\"{0:.0}\" font-family=\"{FAMILY}, Arial, sans-serif\"><rect width=\"{wide:.0}\" \
         height=\"{0:.0}\" fill=\"#1a110a\"/>{}{}{}</svg>\n",
        high + band,
        text(0.8 * size, "start", "normal", &title),
        text(wide - 0.8 * size, "end", "bold", told),
        drawn.placed(0.0, band, wide)
    )
}

/// Number of the decision instant whose light lies on the floor at a frame: the last one, while its holder has the ball.
fn lit(replay: &Replay, frame: &Frame) -> Option<usize> {
    let moments = &replay.possession.moments;
    let until = moments.partition_point(|m| m.time <= frame.time + 1e-9);
    let last = moments.get(until.checked_sub(1)?)?;
    let holds = frame.holder == Some(last.holder) && frame.time - last.time < 1.5 * INSTANT;
    holds.then_some(until - 1)
}

/// One tick, with a short trail behind whoever runs.
fn moment(court: &Court, track: &[Frame], i: usize) -> Scene {
    let mut scene = scene_of(court, &track[i]);
    let from = i.saturating_sub(18);
    for a in 0..5 {
        let path: Vec<_> = track[from..=i]
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
    scene
}
