//! Colours and sizes of the window: a dim wooden floor at night, lit by the ball.
//!
//! No meaning is told by colour alone: attackers are discs, defenders are Xs, the holder has a
//! ring, an open look an arrow and a shut one a thread with a knot. A test checks that what lies
//! beside each other stays apart for the common colour-vision deficiencies.

use bevy_egui::egui::Color32;

/// Wood under full light.
pub const WOOD: [f32; 3] = [198.0, 146.0, 92.0];
/// How much more than in proportion each of red, green and blue goes out at night.
pub const NIGHT: [f32; 3] = [0.0, 0.16, 0.3];
/// Share of the wood that is seen where no light falls.
pub const AMBIENT: f32 = 0.2;
/// Lines painted on the floor.
pub const LINE: Color32 = Color32::from_rgb(238, 222, 190);
/// Discs of attackers.
pub const ATTACKER: Color32 = Color32::from_rgb(250, 243, 226);
/// Numbers on discs, and outlines.
pub const INK: Color32 = Color32::from_rgb(28, 18, 12);
/// Xs of defenders.
pub const DEFENDER: Color32 = Color32::from_rgb(150, 200, 240);
/// The ball.
pub const BALL: Color32 = Color32::from_rgb(255, 196, 84);
/// The driving lane.
pub const BEAM: Color32 = Color32::from_rgb(255, 240, 200);
/// Threads from closers to looks.
pub const THREAD: Color32 = Color32::from_rgb(150, 200, 240);
/// Midline, triangles and other layers that teach.
pub const TEACH: Color32 = Color32::from_rgb(214, 226, 160);
/// Text.
pub const TEXT: Color32 = Color32::from_rgb(244, 232, 208);
/// Text that matters less.
pub const QUIET: Color32 = Color32::from_rgb(186, 168, 140);
/// Ground of drawer and bench.
pub const PAPER: Color32 = Color32::from_rgb(30, 21, 15);
/// Ground of what stands out from it: buttons, fields.
pub const PAPER_HIGH: Color32 = Color32::from_rgb(54, 39, 27);
/// Ground of what the pointer is on.
pub const PAPER_LIT: Color32 = Color32::from_rgb(98, 72, 46);
/// Edges of drawer, bench and buttons.
pub const EDGE: Color32 = Color32::from_rgb(146, 113, 78);
/// Warnings.
pub const WARN: Color32 = Color32::from_rgb(255, 178, 102);

/// A colour with a share of its strength.
pub fn faint(colour: Color32, share: f32) -> Color32 {
    colour.gamma_multiply(share.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::theme::SEEN;

    /// Relative luminance as such an eye sees it (WCAG 2.1, definition of relative luminance).
    fn luminance(colour: [f32; 3], view: &[[f64; 3]; 3]) -> f64 {
        let linear = colour.map(|c| {
            let c = f64::from(c) / 255.0;
            if c <= 0.04045 {
                c / 12.92
            } else {
                libm::pow((c + 0.055) / 1.055, 2.4)
            }
        });
        let seen: Vec<f64> = view
            .iter()
            .map(|row| {
                let sum: f64 = row.iter().zip(linear).map(|(a, b)| a * b).sum();
                sum.clamp(0.0, 1.0)
            })
            .collect();
        0.2126 * seen[0] + 0.7152 * seen[1] + 0.0722 * seen[2]
    }

    fn contrast(a: [f32; 3], b: [f32; 3], view: &[[f64; 3]; 3]) -> f64 {
        let (a, b) = (luminance(a, view), luminance(b, view));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    fn rgb(c: Color32) -> [f32; 3] {
        [f32::from(c.r()), f32::from(c.g()), f32::from(c.b())]
    }

    #[test]
    fn what_must_be_read_stands_out_for_every_common_kind_of_colour_vision() {
        let dim: [f32; 3] =
            std::array::from_fn(|i| WOOD[i] * f32::from(super::super::light::tint(0.0)[i]) / 255.0);
        for view in &SEEN {
            for (what, a, b, least) in [
                ("text on the drawer", rgb(TEXT), rgb(PAPER), 7.0),
                ("quiet text on the drawer", rgb(QUIET), rgb(PAPER), 4.5),
                ("a number on its disc", rgb(INK), rgb(ATTACKER), 7.0),
                ("an attacker on the dim floor", rgb(ATTACKER), dim, 4.5),
                ("a defender on the dim floor", rgb(DEFENDER), dim, 4.5),
                (
                    "a defender's dark rim on the lit floor",
                    rgb(INK),
                    WOOD,
                    4.5,
                ),
                ("lit wood against dim wood", WOOD, dim, 3.0),
            ] {
                let got = contrast(a, b, view);
                assert!(got >= least, "{what}: {got:.1}, not {least}");
            }
        }
    }

    /// WCAG 2.1, 1.4.3 and 1.4.11: text 4.5, edges of what can be used 3.
    #[test]
    fn text_and_edges_of_the_theme_stand_out_in_every_state() {
        let ctx = bevy_egui::egui::Context::default();
        super::super::stage::style(&ctx, 1.0);
        let visuals = ctx.global_style().visuals.clone();
        let widgets = &visuals.widgets;
        for view in &SEEN {
            for (state, of) in [
                ("at rest", &widgets.inactive),
                ("under the pointer", &widgets.hovered),
                ("pressed", &widgets.active),
                ("open", &widgets.open),
                ("text", &widgets.noninteractive),
            ] {
                let text = contrast(rgb(of.fg_stroke.color), rgb(of.weak_bg_fill), view);
                assert!(text >= 4.5, "text, {state}: {text:.1}");
                let edge = contrast(rgb(of.bg_stroke.color), rgb(PAPER), view);
                assert!(edge >= 3.0, "edge, {state}: {edge:.1}");
            }
            let chosen = contrast(rgb(INK), rgb(visuals.selection.bg_fill), view);
            assert!(chosen >= 4.5, "what is chosen: {chosen:.1}");
            for (what, colour) in [("warnings", WARN), ("gold words", BALL), ("quiet", QUIET)] {
                for ground in [PAPER, PAPER_HIGH] {
                    let got = contrast(rgb(colour), rgb(ground), view);
                    assert!(got >= 4.5, "{what}: {got:.1}");
                }
            }
        }
    }
}
