//! The key to the picture: what light, signs and the strip mean, always in sight between the strip
//! and its controls; the same words on a mark when the pointer is on it.

use bevy_egui::egui::{Color32, Pos2, Rect, RichText, Sense, Stroke, TextStyle, Ui, vec2};

use super::bench::{lit, mark};
use super::desk::Desk;
use super::now;
use super::paint::glow;
use super::palette::*;
use super::recording::Recording;
use super::words::keys as words;
use crate::offence::{CutLane, LookKind};
use crate::possession::{Entry, Finish, TICK, What};

/// Shows the key in rows; returns how high they are.
pub fn show(ui: &mut Ui, arrival: bool) -> f32 {
    let shown = ui.vertical(|ui| {
        ui.spacing_mut().item_spacing = vec2(7.0, 1.0);
        ui.spacing_mut().interact_size.y = 0.0;
        ui.horizontal_wrapped(|ui| {
            head(ui, words::FLOOR);
            let (lit, dark) = if arrival {
                (words::LIGHT_A_BALL_GETS, words::DARK_A_DEFENDER_DOES)
            } else {
                (words::LIGHT_A_PASS_THERE, words::DARK_NONE_IS)
            };
            sign(ui, lit, |p, r| {
                p.rect_filled(r, 2.0, wood(1.0));
            });
            sign(ui, dark, |p, r| {
                let edge = Stroke::new(1.0, QUIET);
                p.rect_filled(r, 2.0, wood(0.0));
                p.rect_stroke(r, 2.0, edge, bevy_egui::egui::StrokeKind::Inside);
            });
            sign(ui, words::DOTTED_THREAD_WHO_SHUTS, |p, r| {
                let knot = Rect::from_center_size(r.right_center(), vec2(7.0, 7.0));
                let y = r.center().y;
                for k in 0..3 {
                    let x = r.left() + 5.0 * k as f32;
                    let dot = [Pos2::new(x, y), Pos2::new(x + 3.0, y)];
                    p.line_segment(dot, Stroke::new(1.6, THREAD));
                }
                p.rect_filled(knot, 1.0, THREAD);
            });
            sign(ui, words::DASHED_A_PASS, |p, r| {
                let y = r.center().y;
                for k in 0..3 {
                    let x = r.left() + 6.0 * k as f32;
                    let dash = [Pos2::new(x, y), Pos2::new(x + 4.0, y)];
                    p.line_segment(dash, Stroke::new(1.8, ATTACKER));
                }
            });
            sign(ui, words::ARROW_A_RUN, |p, r| {
                p.arrow(
                    r.left_center(),
                    r.size() * vec2(1.0, 0.0),
                    Stroke::new(1.8, ATTACKER),
                );
            });
            sign(ui, words::RING_AND_GLOW, |p, r| {
                glow(p, r.center(), 8.0);
                p.circle_stroke(r.center(), 6.0, Stroke::new(2.0, BALL));
            });
            ui.label(RichText::new(words::OF_A_HUNDRED).color(TEXT).small());
        });
        ui.horizontal_wrapped(|ui| {
            head(ui, words::STRIP_START_TO_END);
            for (glow, words) in [
                (1.0, words::A_GOOD_LOOK_IS),
                (0.3, words::ONLY_A_PASS_IS),
                (0.0, words::NOTHING_IS),
            ] {
                sign(ui, words, |p, r| {
                    p.rect_filled(r, 2.0, lit(glow));
                    p.rect_stroke(
                        r,
                        2.0,
                        Stroke::new(1.0, QUIET),
                        bevy_egui::egui::StrokeKind::Inside,
                    );
                });
            }
            sign(ui, words::THIN_LINE, |p, r| {
                let y = r.center().y;
                p.hline(r.x_range(), y, Stroke::new(4.0, lit(0.5)));
            });
            sign(ui, words::STALL_FROM, |p, r| {
                let y = r.center().y;
                p.hline(r.x_range(), y, Stroke::new(3.0, DEFENDER));
            });
            for (what, words) in samples() {
                sign(ui, words, |p, r| mark(p, r.center(), &what, 1.0));
            }
        });
    });
    shown.response.rect.height()
}

/// One of each kind that has a mark, with its word.
fn samples() -> [(What, &'static str); 5] {
    use crate::court::{Side, Spot, SpotName};
    let from = Spot::new(SpotName::Wing, Side::Left);
    [
        (
            What::Passes {
                from: 1,
                to: 2,
                kind: crate::ball::PassKind::Chest,
                look: LookKind::NextPass,
                openness: 1.0,
                length: 5.0,
            },
            "pass",
        ),
        (
            What::Cuts {
                who: 1,
                from,
                lane: CutLane::BallSide,
                to: None,
            },
            "cut",
        ),
        (What::Drives { who: 1, from }, "drive"),
        (
            What::Shoots {
                who: 1,
                distance: 1.0,
                room: 1.0,
                chance: 0.5,
                finish: Finish::Drive,
            },
            "shot",
        ),
        (
            What::Tips {
                defender: 1,
                from: 1,
                to: 2,
            },
            words::DEFENDER_STOPS_IT,
        ),
    ]
}

fn head(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).color(BALL).small());
}

/// Width of a sign, points of the screen.
const SIGN: f32 = 16.0;

fn sign(ui: &mut Ui, words: &str, draw: impl FnOnce(&bevy_egui::egui::Painter, Rect)) {
    let high = ui.text_style_height(&TextStyle::Small);
    // A sign and its words stay together.
    let font = TextStyle::Small.resolve(ui.style());
    let text = ui.painter().layout_no_wrap(words.to_owned(), font, TEXT);
    if ui.available_size_before_wrap().x < SIGN + ui.spacing().item_spacing.x + text.size().x {
        ui.end_row();
    }
    let (rect, _) = ui.allocate_exact_size(vec2(SIGN, high), Sense::hover());
    draw(ui.painter(), rect.shrink2(vec2(0.0, high * 0.15)));
    ui.label(RichText::new(words).color(TEXT).small());
    ui.add_space(6.0);
}

fn wood(light: f32) -> Color32 {
    let tint = super::light::tint(light);
    let c = |i: usize, t: u8| (WOOD[i] * f32::from(t) / 255.0) as u8;
    Color32::from_rgb(c(0, tint.r()), c(1, tint.g()), c(2, tint.b()))
}

/// What lies on the strip at a time, in words: the light there, and the mark nearest to it.
pub fn words_at(desk: &Desk, time: f64, near: f64) -> String {
    let recording = &desk.recording;
    let decision = recording.decision(time);
    let glow = decision.map(|i| recording.glow[i]);
    let light = match glow {
        None if recording.picture(time).holder.is_none() => words::THE_BALL_IS_IN,
        None => words::THE_BALL_HAS_JUST,
        Some(g) if g <= 0.0 => words::NOTHING_IS_OPEN,
        Some(g) if g < 0.5 => words::ONLY_WHAT_MOVES_THE,
        Some(_) => words::A_LOOK_WORTH_TAKING,
    };
    let mut text = words::s_word(&time, &light);
    if let Some(stall) = decision.and_then(|i| recording.stall_at(i)) {
        text += &words::stall_of_s_nobody(&stall.seconds());
    }
    let entries = recording.possession.timeline.iter();
    let marks = entries.filter_map(|e| Some((e.time, name(recording, e)?)));
    let gap = |t: f64| (t - time).abs();
    let mark = marks
        .filter(|(t, _)| gap(*t) < near)
        .min_by(|a, b| gap(a.0).total_cmp(&gap(b.0)));
    if let Some((at, name)) = mark {
        text += &words::s_word_name(&at, &name);
    }
    text
}

/// What a mark over the strip stands for; `None` for what has no mark.
fn name(recording: &Recording, entry: &Entry) -> Option<String> {
    Some(match entry.what {
        What::Passes { from, to, look, .. } => {
            // Whoever had passed to the passer.
            let gave = recording.gave(entry.time - TICK);
            words::passes_to(&from, &to, &now::kind(look, Some(to), gave))
        }
        What::Drives { who, .. } => words::drives(&who),
        What::Cuts { who, .. } => words::cuts(&who),
        What::Shoots { who, .. } => words::shoots(&who),
        What::Tips { defender, .. } => words::x_gets_a_hand(&defender),
        What::Stopped { who, by, .. } => words::x_stops_the_drive(&by, &who),
        _ => return None,
    })
}
