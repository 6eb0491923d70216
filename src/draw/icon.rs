//! The program's own picture, for menus and files: the ball is a lamp, an attacker stands in its light, and a defender
//! casts a shadow.

use std::f64::consts::PI;

use super::print::{Unprintable, png};
use super::theme::Theme;

/// Its side, in its own units.
const SIDE: f64 = 96.0;

/// The picture as an SVG file.
pub fn svg() -> String {
    let ink = Theme::Night.ink();
    // The lamp, below left; the defender in its light; the shadow behind the defender, to the edge.
    let (ball, defender) = ((27.0, 68.0), (56.0, 50.0));
    let way = libm::atan2(defender.1 - ball.1, defender.0 - ball.0);
    let off = |from: (f64, f64), angle: f64, long: f64| {
        (
            from.0 + long * libm::cos(angle),
            from.1 + long * libm::sin(angle),
        )
    };
    let corner = |p: (f64, f64)| format!("{:.1},{:.1}", p.0, p.1);
    let (left, right) = (
        off(defender, way - PI / 2.0, 8.0),
        off(defender, way + PI / 2.0, 8.0),
    );
    let behind = |p: (f64, f64)| off(p, libm::atan2(p.1 - ball.1, p.0 - ball.0), 90.0);
    let shadow = [left, behind(left), behind(right), right]
        .map(corner)
        .join(" ");
    let arm = 8.0;
    let cross: String = [(1.0, 1.0), (1.0, -1.0)]
        .map(|(x, y)| {
            let (a, b) = (
                (defender.0 - arm * x, defender.1 - arm * y),
                (defender.0 + arm * x, defender.1 + arm * y),
            );
            format!(
                "<line x1=\"{:.1}\" y1=\"{:.1}\" x2=\"{:.1}\" y2=\"{:.1}\"/>",
                a.0, a.1, b.0, b.1
            )
        })
        .concat();
    format!(
        r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {SIDE} {SIDE}" width="{SIDE}" height="{SIDE}">
<title>Lanelight</title>
<defs>
<radialGradient id="lamp" gradientUnits="userSpaceOnUse" cx="{bx}" cy="{by}" r="74">
<stop offset="0" stop-color="{light}"/><stop offset="1" stop-color="{floor}"/>
</radialGradient>
<clipPath id="edge"><rect x="4" y="4" width="88" height="88" rx="18"/></clipPath>
</defs>
<g clip-path="url(#edge)">
<rect width="{SIDE}" height="{SIDE}" fill="url(#lamp)"/>
<polygon points="{shadow}" fill="{night}" fill-opacity="0.82"/>
<path d="M4 40 A 44 44 0 0 1 48 -4" transform="translate(-4 0)" fill="none" stroke="{line}" stroke-width="3"/>
</g>
<circle cx="34" cy="26" r="11" fill="{attacker}" stroke="{night}" stroke-width="3"/>
<g stroke="{night}" stroke-width="10" stroke-linecap="round">{cross}</g>
<g stroke="{blue}" stroke-width="6" stroke-linecap="round">{cross}</g>
<circle cx="{bx}" cy="{by}" r="12" fill="{ball_colour}" stroke="{night}" stroke-width="3"/>
</svg>
"##,
        bx = ball.0,
        by = ball.1,
        light = ink.light,
        floor = ink.floor,
        night = ink.attacker_number,
        line = ink.line,
        attacker = ink.attacker,
        blue = ink.defender,
        ball_colour = ink.ball,
    )
}

/// The picture as a PNG file, `side` pixels wide and high.
///
/// # Errors
/// If it cannot be drawn.
pub fn pixels(side: u32) -> Result<Vec<u8>, Unprintable> {
    png(&svg(), side)
}
