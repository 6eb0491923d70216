//! A scene as SVG: by day for paper (white floor, black lines, light as a pale wash, shadow as
//! hatching), by night for the screen (dim warm wood lit by the ball). The rim is at the top, as
//! seen from half court, so that left and right are the players' own.
//!
//! The parts have classes that say what they are: `line` what is painted on the floor, `light`,
//! `way` arrows, `body` discs, rings and shoulders, `num` numbers and labels, `ball`.

use std::fmt::Write as _;

use crate::clean;
use crate::court::{Line, Vec2};

use super::layout::{End, Laid, Mark, Sign, Sizes, lay};
use super::scene::{ArrowKind, Item, Scene};
use super::shine;
use super::text::FAMILY;
use super::theme::Ink;
pub use super::theme::Theme;

/// Units of the picture in one metre.
pub const UNIT: f64 = 40.0;
/// Margin round the court, metres.
const MARGIN: f64 = 0.35;
/// A card shows at least so much of the floor, from the rim outward, metres, and goes so far past
/// the farthest body.
const DEEP: f64 = 8.0;
const PAST: f64 = 1.0;

/// How a scene is to be drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// By day for paper, by night for the screen.
    pub theme: Theme,
    /// Sizes of the signs.
    pub sizes: Sizes,
    /// The whole half court, or only as much as something happens on.
    pub whole: bool,
}

impl Look {
    /// For cards and sheets.
    pub const PAPER: Look = Look {
        theme: Theme::Day,
        sizes: Sizes::PAPER,
        whole: false,
    };
    /// For rule cards.
    pub const CARD: Look = Look {
        theme: Theme::Day,
        sizes: Sizes::CARD,
        whole: false,
    };
    /// For a screen.
    pub const SCREEN: Look = Look {
        theme: Theme::Night,
        sizes: Sizes::PAPER,
        whole: true,
    };
}

/// A picture: what stands between the tags of an `<svg>`, and its size in units.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The SVG elements.
    pub inside: String,
    /// In units, [`UNIT`] to a metre.
    pub width: f64,
    /// In units, [`UNIT`] to a metre.
    pub height: f64,
}

impl Picture {
    /// A file of its own; `says` is what a reader who cannot see it is told.
    pub fn file(&self, says: &str) -> String {
        let says = clean::escape(says);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 {:.0} {:.0}\" \
             width=\"{0:.0}\" height=\"{1:.0}\" font-family=\"{FAMILY}, Arial, sans-serif\">\
             <title>{says}</title>{}</svg>\n",
            self.width, self.height, self.inside
        )
    }

    /// As a part of another picture: its corner, and the width that it is to have there.
    pub fn placed(&self, x: f64, y: f64, width: f64) -> String {
        let scale = width / self.width;
        format!(
            "<g transform=\"translate({x:.2} {y:.2}) scale({scale:.4})\">{}</g>",
            self.inside
        )
    }

    /// The height that it has when it is so wide.
    pub fn height_at(&self, width: f64) -> f64 {
        self.height * width / self.width
    }
}

/// Metres to units.
pub(super) struct Grid {
    pub corner: Vec2,
}

impl Grid {
    pub fn x(&self, p: Vec2) -> f64 {
        (p.x - self.corner.x) * UNIT
    }
    pub fn y(&self, p: Vec2) -> f64 {
        (p.y - self.corner.y) * UNIT
    }
    pub fn at(&self, p: Vec2) -> String {
        format!("{:.1} {:.1}", self.x(p), self.y(p))
    }
    /// "M… L…"
    pub fn path(&self, points: &[Vec2]) -> String {
        let mut d = String::new();
        for (i, p) in points.iter().enumerate() {
            let _ = write!(d, "{}{}", if i == 0 { 'M' } else { 'L' }, self.at(*p));
        }
        d
    }
}

/// How far down the floor the picture goes, metres from the rim.
fn depth(scene: &Scene, look: &Look) -> f64 {
    let half = scene.court.half_court_y();
    if look.whole {
        return half;
    }
    let mut deep = DEEP.max(scene.court.arc_radius.unwrap_or(0.0) + 0.7);
    for item in &scene.items {
        let y = match item {
            Item::Arrow { path, .. } => path.iter().map(|p| p.y).fold(0.0, f64::max),
            Item::Attacker { pos, .. } | Item::Defender { pos, .. } => pos.y,
            Item::Label { at, .. } | Item::Ball { pos: at, .. } => at.y,
            _ => 0.0,
        };
        deep = deep.max(y + PAST);
    }
    deep.min(half)
}

/// Draws a scene.
///
/// # Examples
/// ```
/// use lanelight::court::{Court, CourtCode, Vec2};
/// use lanelight::draw::svg::{Look, picture};
/// use lanelight::draw::{Item, Scene};
///
/// let scene = Scene::of(Court::of(CourtCode::Nfhs)).with(Item::Attacker {
///     number: 2,
///     pos: Vec2::new(6.0, 4.0),
///     has_ball: true,
/// });
/// let file = picture(&scene, &Look::PAPER).file("Player 2 has the ball on the wing");
/// assert!(file.starts_with("<svg") && file.contains("on the wing</title>"));
/// ```
pub fn picture(scene: &Scene, look: &Look) -> Picture {
    draw(scene, &lay(scene, &look.sizes), look)
}

/// Draws a scene as it has been laid out.
pub fn draw(scene: &Scene, laid: &Laid, look: &Look) -> Picture {
    let (low, high) = scene.bounds();
    let deep = depth(scene, look);
    let grid = Grid {
        corner: low - Vec2::new(MARGIN, MARGIN),
    };
    let width = (high.x - low.x + 2.0 * MARGIN) * UNIT;
    let cut = deep < scene.court.half_court_y() - 1e-9;
    let bottom = deep + if cut { 0.0 } else { MARGIN };
    let height = (bottom - grid.corner.y) * UNIT;
    let mut out = String::new();
    let ink = look.theme.ink();
    let _ = write!(
        out,
        "<rect width=\"{width:.0}\" height=\"{height:.0}\" fill=\"{}\"/>",
        ink.floor
    );
    if look.theme == Theme::Night {
        planks(&mut out, &grid, low, high, deep);
    }
    for item in &scene.items {
        if let Item::Light(field) = item {
            shine::light(&mut out, &grid, field, deep, look.theme);
        }
    }
    floor_lines(&mut out, &grid, scene, deep, ink);
    for item in &scene.items {
        shine::quiet(&mut out, &grid, item, laid, ink);
    }
    for stroke in &laid.strokes {
        let dashes = if stroke.kind == ArrowKind::Pass {
            " stroke-dasharray=\"9 6\""
        } else {
            ""
        };
        let d: String = stroke.pieces.iter().map(|p| grid.path(p)).collect();
        let wide = look.sizes.line * UNIT;
        let _ = write!(
            out,
            "<path class=\"way\" d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{wide:.1}\" \
             stroke-linejoin=\"round\"{dashes}/>",
            ink.ink
        );
        end(&mut out, &grid, &stroke.end, &look.sizes, ink);
    }
    for mark in &laid.marks {
        body(&mut out, &grid, mark, &look.sizes, ink);
    }
    ball(&mut out, &grid, scene, laid, &look.sizes, ink);
    for note in &laid.notes {
        number(
            &mut out,
            &grid,
            note.at,
            &note.text,
            look.sizes.label,
            ink.ink,
            ink.floor,
        );
    }
    Picture {
        inside: out,
        width,
        height,
    }
}

/// Boards of the floor, hardly lighter than the rest.
fn planks(out: &mut String, grid: &Grid, low: Vec2, high: Vec2, deep: f64) {
    let mut d = String::new();
    let mut x = low.x;
    while x <= high.x {
        let (a, b) = (Vec2::new(x, low.y), Vec2::new(x, deep));
        d.push_str(&grid.path(&[a, b]));
        x += 0.6;
    }
    let _ = write!(
        out,
        "<path d=\"{d}\" stroke=\"#352416\" stroke-width=\"1.5\" fill=\"none\"/>"
    );
}

fn floor_lines(out: &mut String, grid: &Grid, scene: &Scene, deep: f64, ink: &Ink) {
    let mut d = String::new();
    let mut ring = String::new();
    for line in &scene.lines {
        match *line {
            Line::Segment { a, b } => {
                if a.y > deep + 1e-9 && b.y > deep + 1e-9 {
                    continue;
                }
                let cut = |p: Vec2| Vec2::new(p.x, p.y.min(deep));
                d.push_str(&grid.path(&[cut(a), cut(b)]));
            }
            Line::Arc {
                centre,
                radius,
                from,
                to,
            } => {
                let steps = 48;
                let mut points = Vec::new();
                for i in 0..=steps {
                    let angle = from + (to - from) * f64::from(i) / f64::from(steps);
                    let p = centre + Vec2::new(libm::cos(angle), libm::sin(angle)) * radius;
                    if p.y <= deep + 1e-9 {
                        points.push(p);
                    }
                }
                if points.len() > 1 {
                    d.push_str(&grid.path(&points));
                }
            }
            Line::Circle { centre, radius } => {
                let _ = write!(
                    ring,
                    "<circle class=\"line\" cx=\"{:.1}\" cy=\"{:.1}\" r=\"{:.1}\" fill=\"none\" \
                     stroke=\"{}\" stroke-width=\"2.5\"/>",
                    grid.x(centre),
                    grid.y(centre),
                    radius * UNIT,
                    ink.line
                );
            }
        }
    }
    let _ = write!(
        out,
        "<path class=\"line\" d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2\"/>{ring}",
        ink.line
    );
}

fn end(out: &mut String, grid: &Grid, end: &End, sizes: &Sizes, ink: &Ink) {
    match *end {
        End::Head { tip, along, long } => {
            let across = Vec2::new(-along.y, along.x) * sizes.head_half;
            let back = tip - along * long;
            let _ = write!(
                out,
                "<path class=\"way\" d=\"{}Z\" fill=\"{}\"/>",
                grid.path(&[tip, back + across, back - across]),
                ink.ink
            );
        }
        End::Bar { at, along } => {
            let across = Vec2::new(-along.y, along.x) * sizes.bar;
            let _ = write!(
                out,
                "<path class=\"way\" d=\"{}\" stroke=\"{}\" stroke-width=\"{:.1}\"/>",
                grid.path(&[at + across, at - across]),
                ink.ink,
                sizes.line * UNIT * 1.5
            );
        }
    }
}

fn body(out: &mut String, grid: &Grid, mark: &Mark, sizes: &Sizes, ink: &Ink) {
    let (x, y) = (grid.x(mark.at), grid.y(mark.at));
    let name = mark.number.to_string();
    match mark.sign {
        Sign::Attacker { has_ball } => {
            let _ = write!(
                out,
                "<circle class=\"body\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" fill=\"{}\"/>",
                sizes.disc * UNIT,
                ink.attacker
            );
            if has_ball {
                let _ = write!(
                    out,
                    "<circle class=\"body\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" fill=\"none\" \
                     stroke=\"{}\" stroke-width=\"2.6\"/>",
                    sizes.ring * UNIT,
                    ink.ink
                );
            }
            number(
                out,
                grid,
                mark.at,
                &name,
                sizes.number,
                ink.attacker_number,
                "none",
            );
        }
        Sign::Defender { facing } => {
            let along = facing / facing.length().max(1e-9);
            let across = Vec2::new(-along.y, along.x) * (sizes.defender * 0.56);
            let middle = mark.at + along * (sizes.defender * 0.78);
            let _ = write!(
                out,
                "<path class=\"body\" d=\"{}\" stroke=\"{}\" stroke-width=\"3.4\" \
                 stroke-linecap=\"round\"/>",
                grid.path(&[middle + across, middle - across]),
                ink.defender
            );
            let name = format!("X{name}");
            number(
                out,
                grid,
                mark.at,
                &name,
                sizes.x_number,
                ink.defender,
                ink.floor,
            );
        }
        Sign::ModelPlace { attacker } => {
            let (radius, name) = if attacker {
                (sizes.disc, name)
            } else {
                (sizes.defender * 0.9, format!("X{name}"))
            };
            let _ = write!(
                out,
                "<circle class=\"body\" cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" fill=\"none\" \
                 stroke=\"{}\" stroke-width=\"1.6\" stroke-dasharray=\"4 4\"/>",
                radius * UNIT,
                ink.thin
            );
            number(
                out,
                grid,
                mark.at,
                &name,
                sizes.x_number,
                ink.thin,
                ink.floor,
            );
        }
    }
}

/// A number or a label with its middle at a point, on a halo of the floor's colour.
fn number(out: &mut String, grid: &Grid, at: Vec2, name: &str, size: f64, fill: &str, halo: &str) {
    let size = size * UNIT;
    let halo = if halo == "none" {
        String::new()
    } else {
        format!(
            " stroke=\"{halo}\" stroke-width=\"4\" stroke-linejoin=\"round\" paint-order=\"stroke\""
        )
    };
    // Capitals and figures of the font are 0.72 of its size high.
    let _ = write!(
        out,
        "<text class=\"num\" x=\"{:.1}\" y=\"{:.1}\" font-size=\"{size:.1}\" font-weight=\"bold\" \
         text-anchor=\"middle\" fill=\"{fill}\"{halo}>{}</text>",
        grid.x(at),
        grid.y(at) + 0.36 * size,
        clean::escape(name)
    );
}

/// The ball: on the holder's ring, toward the rim, or where it flies.
fn ball(out: &mut String, grid: &Grid, scene: &Scene, laid: &Laid, sizes: &Sizes, ink: &Ink) {
    let holder = laid
        .marks
        .iter()
        .find(|m| m.sign == Sign::Attacker { has_ball: true });
    let loose = scene.items.iter().find_map(|item| match item {
        Item::Ball { pos, .. } => Some(*pos),
        _ => None,
    });
    let at = match (holder, loose) {
        (Some(mark), _) => {
            let way = -mark.at;
            let way = if way.length() > 1e-6 {
                way / way.length()
            } else {
                Vec2::new(0.0, 1.0)
            };
            mark.at + way * sizes.ring
        }
        (None, Some(pos)) => pos,
        (None, None) => return,
    };
    let _ = write!(
        out,
        "<circle class=\"ball\" cx=\"{:.1}\" cy=\"{:.1}\" r=\"{:.1}\" fill=\"{}\" stroke=\"{}\" \
         stroke-width=\"1.6\"/>",
        grid.x(at),
        grid.y(at),
        sizes.ball * UNIT,
        ink.ball,
        ink.ink
    );
}
