//! Where things are put on paper so that numbers and lines keep clear of each other.
//!
//! Bodies are circles: those that would overlap are pushed apart, defenders more readily than
//! attackers. Arrows start at the edge of their own body, end where their head has room, and are
//! broken where they pass under another body, as one lifts the pen. A pass is bent a little if that
//! keeps it out of others' way. Labels take the nearest free place. All in metres.

use crate::court::Vec2;

use super::arrows::{bend, run, stroke};
use super::aside::{apart, trade};
use super::scene::{ArrowKind, Item, Scene};
use super::text;
use super::way;

/// Sizes of the signs, all in metres on the floor (ours: a body and its number must be readable on a
/// card six centimetres wide).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizes {
    /// Radius of an attacker's disc.
    pub disc: f64,
    /// Radius of the ring round the holder.
    pub ring: f64,
    /// Radius of the ball.
    pub ball: f64,
    /// Radius of the circle that a defender's X, number and shoulders take.
    pub defender: f64,
    /// Size of an attacker's and a defender's number.
    pub number: f64,
    /// The same for a defender's number.
    pub x_number: f64,
    /// Length and half width of an arrow's head; half length of a screen's bar.
    pub head: f64,
    /// Half width of an arrow's head.
    pub head_half: f64,
    /// Half length of a screen's bar.
    pub bar: f64,
    /// Height and length of a dribble's waves.
    pub wave: f64,
    /// Length of one wave of a dribble.
    pub wave_long: f64,
    /// Least distance between signs.
    pub gap: f64,
    /// Size of labels.
    pub label: f64,
    /// Width of an arrow's line.
    pub line: f64,
}

impl Sizes {
    /// For cards and sheets.
    pub const PAPER: Sizes = Sizes {
        disc: 0.5,
        ring: 0.64,
        ball: 0.15,
        defender: 0.66,
        number: 0.78,
        x_number: 0.66,
        head: 0.44,
        head_half: 0.19,
        bar: 0.5,
        wave: 0.17,
        wave_long: 0.62,
        gap: 0.1,
        label: 0.6,
        line: 0.09,
    };
    /// For rule cards, whose pictures are larger: as large in print, and more floor between them.
    pub const CARD: Sizes = Sizes {
        disc: 0.42,
        ring: 0.54,
        ball: 0.13,
        defender: 0.56,
        number: 0.66,
        x_number: 0.56,
        head: 0.4,
        head_half: 0.17,
        bar: 0.45,
        wave: 0.15,
        wave_long: 0.54,
        gap: 0.09,
        label: 0.52,
        line: 0.075,
    };
}

/// What a body is drawn as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sign {
    /// A disc with a number.
    Attacker {
        /// Drawn with a ring.
        has_ball: bool,
    },
    /// An X with a number and shoulders.
    Defender {
        /// Unit vector; the shoulders lie across it.
        facing: Vec2,
    },
    /// A hollow sign: where the model has somebody stand.
    ModelPlace {
        /// A hollow disc; otherwise a hollow X.
        attacker: bool,
    },
}

/// A body where it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// What is drawn.
    pub sign: Sign,
    /// Number of the player, 1–5.
    pub number: u8,
    /// Where he is.
    pub true_at: Vec2,
    /// Where he is drawn.
    pub at: Vec2,
    /// Radius of the circle that nothing else may enter, metres.
    pub radius: f64,
}

/// What an arrow ends in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    /// A head: its tip, direction and length.
    Head {
        /// The point of the head.
        tip: Vec2,
        /// Unit vector in which it points.
        along: Vec2,
        /// From the point to its back, metres.
        long: f64,
    },
    /// A bar across the way.
    Bar {
        /// Middle of the bar.
        at: Vec2,
        /// Unit vector of the way; the bar lies across it.
        along: Vec2,
    },
}

/// An arrow where it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// Run, pass, dribble or screen.
    pub kind: ArrowKind,
    /// Number of the player whose way it is, 1–5; of the passer for a pass.
    pub who: u8,
    /// The visible pieces of the line.
    pub pieces: Vec<Vec<Vec2>>,
    /// What the line ends in.
    pub end: End,
}

/// A label where it is drawn: the middle of its box.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Middle of the box, metres.
    pub at: Vec2,
    /// The words, as they are drawn.
    pub text: String,
}

/// Everything that must keep clear of everything else.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Laid {
    /// Bodies.
    pub marks: Vec<Mark>,
    /// Arrows.
    pub strokes: Vec<Stroke>,
    /// Labels.
    pub notes: Vec<Note>,
    /// Arrows too short to be drawn once their ends are clear, and labels that found no place.
    pub dropped: usize,
}

/// Lays out the bodies, arrows and labels of a scene.
pub fn lay(scene: &Scene, sizes: &Sizes) -> Laid {
    let mut laid = Laid {
        marks: marks(scene, sizes),
        ..Laid::default()
    };
    push_apart(&mut laid.marks, scene, sizes);
    let mut ways: Vec<(ArrowKind, u8, Vec<Vec2>)> = Vec::new();
    let arrows = |pass: bool| {
        scene.items.iter().filter_map(move |item| match item {
            Item::Arrow { kind, path, who } if (*kind == ArrowKind::Pass) == pass => {
                Some((*kind, *who, path))
            }
            _ => None,
        })
    };
    for (kind, who, path) in arrows(false) {
        let way = run(&scene.court, (kind, who, path), &laid.marks, sizes);
        ways.push((kind, who, way));
    }
    trade(&mut ways);
    apart(&mut ways);
    for (kind, who, path) in arrows(true) {
        let bent = bend(path, who, &laid.marks, &ways, sizes);
        ways.push((kind, who, bent));
    }
    for (kind, who, path) in &ways {
        match stroke(*kind, *who, path, &laid.marks, sizes) {
            Some(stroke) => laid.strokes.push(stroke),
            None => laid.dropped += 1,
        }
    }
    notes(scene, &mut laid, sizes);
    laid
}

fn marks(scene: &Scene, sizes: &Sizes) -> Vec<Mark> {
    let body = |item: &Item| {
        let (sign, number, pos, radius) = match *item {
            Item::Attacker {
                number,
                pos,
                has_ball,
            } => {
                let radius = if has_ball {
                    sizes.ring + sizes.ball
                } else {
                    sizes.disc
                };
                (Sign::Attacker { has_ball }, number, pos, radius)
            }
            Item::Defender {
                number,
                pos,
                facing,
            } => (Sign::Defender { facing }, number, pos, sizes.defender),
            Item::ModelPlace {
                number,
                pos,
                attacker,
            } => {
                let radius = if attacker { sizes.disc } else { sizes.defender };
                (Sign::ModelPlace { attacker }, number, pos, radius)
            }
            _ => return None,
        };
        Some(Mark {
            sign,
            number,
            true_at: pos,
            at: pos,
            radius,
        })
    };
    scene.items.iter().filter_map(body).collect()
}

/// How readily a body is moved.
fn ease(sign: Sign) -> f64 {
    match sign {
        Sign::Attacker { has_ball: true } => 0.15,
        Sign::Attacker { .. } => 0.3,
        Sign::ModelPlace { .. } => 0.6,
        Sign::Defender { .. } => 1.0,
    }
}

fn push_apart(marks: &mut [Mark], scene: &Scene, sizes: &Sizes) {
    let ends: Vec<Vec2> = scene.items.iter().filter_map(arrow_end).collect();
    for _ in 0..400 {
        let mut calm = true;
        // Defenders leave room for the head of a run.
        for mark in marks.iter_mut() {
            if !matches!(mark.sign, Sign::Defender { .. }) {
                continue;
            }
            for end in &ends {
                let off = mark.at - end;
                let least = mark.radius + sizes.head_half + sizes.gap;
                let far = off.length();
                if far < least && far > 1e-6 && (mark.at - mark.true_at).length() < MOVED {
                    mark.at += off / far * (0.5 * (least - far) + 1e-3);
                    calm = false;
                }
            }
        }
        for i in 0..marks.len() {
            for j in i + 1..marks.len() {
                let least = marks[i].radius + marks[j].radius + sizes.gap;
                let off = marks[j].at - marks[i].at;
                let far = off.length();
                if far >= least {
                    continue;
                }
                calm = false;
                // Two in one place part along x, the way of the baseline.
                let along = if far > 1e-6 {
                    off / far
                } else {
                    Vec2::new(1.0, 0.0)
                };
                let (a, b) = (ease(marks[i].sign), ease(marks[j].sign));
                let push = along * (least - far + 1e-3);
                marks[i].at -= push * (a / (a + b));
                marks[j].at += push * (b / (a + b));
            }
        }
        for mark in marks.iter_mut() {
            mark.at = scene.court.clamp_inside(mark.at, mark.radius * 0.6);
        }
        if calm {
            return;
        }
    }
}

/// A defender gives way to the head of an arrow no farther than this, metres.
const MOVED: f64 = 0.6;

fn arrow_end(item: &Item) -> Option<Vec2> {
    match item {
        Item::Arrow { kind, path, .. } if *kind != ArrowKind::Pass => path.last().copied(),
        _ => None,
    }
}

/// Half width and half height of a label's box.
pub fn half_box(label: &str, size: f64) -> Vec2 {
    Vec2::new(text::width(label, size, true) / 2.0, size * 0.4)
}

fn box_is_clear(at: Vec2, half: Vec2, laid: &Laid, sizes: &Sizes) -> bool {
    let outside = |p: Vec2, room: f64| {
        let off = p - at;
        let past = Vec2::new(
            (off.x.abs() - half.x).max(0.0),
            (off.y.abs() - half.y).max(0.0),
        );
        past.length() >= room
    };
    let bodies = laid
        .marks
        .iter()
        .all(|m| outside(m.at, m.radius + sizes.gap));
    let lines = laid.strokes.iter().all(|s| {
        let (End::Head { tip, .. } | End::Bar { at: tip, .. }) = s.end;
        let pieces = s.pieces.iter().all(|piece| {
            let total = way::length(piece);
            let count = libm::ceil(total / 0.08) as usize;
            (0..=count).all(|i| {
                let p = way::at(piece, total * i as f64 / count.max(1) as f64).0;
                outside(p, sizes.gap + sizes.line)
            })
        });
        pieces && outside(tip, sizes.bar + sizes.gap)
    });
    let others = laid.notes.iter().all(|n| {
        let other = half_box(&n.text, sizes.label);
        let off = n.at - at;
        off.x.abs() > half.x + other.x + sizes.gap || off.y.abs() > half.y + other.y + sizes.gap
    });
    bodies && lines && others
}

fn notes(scene: &Scene, laid: &mut Laid, sizes: &Sizes) {
    for item in &scene.items {
        let Item::Label { at, text } = item else {
            continue;
        };
        let half = half_box(text, sizes.label);
        let inside = |p: Vec2| {
            let (low, high) = scene.bounds();
            p.x - half.x > low.x && p.x + half.x < high.x && p.y - half.y > low.y
        };
        let mut found = None;
        'search: for ring in 0..28 {
            let around = if ring == 0 { 1 } else { 16 };
            for k in 0..around {
                let angle = std::f64::consts::TAU * f64::from(k) / 16.0;
                let off = Vec2::new(libm::cos(angle), libm::sin(angle));
                let p = at + off * (0.14 * f64::from(ring));
                if inside(p) && box_is_clear(p, half, laid, sizes) {
                    found = Some(p);
                    break 'search;
                }
            }
        }
        match found {
            Some(at) => laid.notes.push(Note {
                at,
                text: text.clone(),
            }),
            None => laid.dropped += 1,
        }
    }
}
