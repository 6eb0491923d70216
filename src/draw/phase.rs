//! A phase of a recorded possession as a diagram: who stands where when it begins, and by which
//! ways players and ball go until it ends.

use crate::court::{Court, Vec2};
use crate::possession::{Entry, Frame, What};

use super::scene::{ArrowKind, Item, Scene};
use super::way;

/// A way that leads no farther than this from where it begins is not drawn and not told, metres (ours: a step or two
/// about the own place is no run, and its arrow would lie on the disc).
pub(super) const STIRS: f64 = 1.5;
/// He is about his last place within this distance, metres.
const OVERRUNS: f64 = 1.1;

/// A drive that ends so near to the rim may have come there, metres (ours: a stride).
const ABOUT_THE_RIM: f64 = 1.5;
/// From so near on its line goes straight to where it ends, so near to the rim, metres (ours: a stride, and the ring's
/// radius with a ball beside it).
const BESIDE_THE_RIM: (f64, f64) = (2.0, 0.5);
/// Who comes so near to where the line ends has come there, metres (ours: half a stride).
const REACHES: f64 = 0.8;

/// Which part of a possession, and what of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    /// Seconds since the possession began.
    pub from: f64,
    /// Where it ends, seconds since the possession began.
    pub to: f64,
    /// Are the defenders drawn?
    pub defenders: bool,
    /// Until when each attacker's way is followed, seconds, if not to the end.
    pub until: [Option<f64>; 5],
}

impl Phase {
    /// Everything between two times.
    pub fn between(from: f64, to: f64) -> Phase {
        Phase {
            from,
            to,
            defenders: true,
            until: [None; 5],
        }
    }
}

/// The index of the frame at or after a time, or of the last.
pub fn frame_at(track: &[Frame], time: f64) -> usize {
    let at = track.partition_point(|f| f.time < time - 1e-6);
    at.min(track.len().saturating_sub(1))
}

/// Draws a phase of a track. `None` without frames.
pub fn diagram(court: &Court, track: &[Frame], timeline: &[Entry], phase: &Phase) -> Option<Scene> {
    let first = track.get(frame_at(track, phase.from))?;
    let mut scene = Scene::of(court);
    if phase.defenders {
        for d in 0..5 {
            scene.add(Item::Defender {
                number: d as u8 + 1,
                pos: first.defenders[d],
                facing: first.defenders_facing[d],
            });
        }
    }
    let begins = first.holder.or_else(|| {
        // A pass in the air: it starts with him who threw it.
        let thrown = timeline
            .iter()
            .rev()
            .find(|e| e.time <= phase.from + 1e-6 && matches!(e.what, What::Passes { .. }));
        match thrown?.what {
            What::Passes { from, .. } => Some(from),
            _ => None,
        }
    });
    for a in 0..5 {
        scene.add(Item::Attacker {
            number: a as u8 + 1,
            pos: first.attackers[a],
            has_ball: begins == Some(a as u8 + 1),
        });
    }
    let frames: Vec<&Frame> = track
        .iter()
        .filter(|f| f.time >= phase.from - 1e-6 && f.time <= phase.to + 1e-6)
        .collect();
    for a in 0..5 {
        for arrow in ways_of(&frames, timeline, a, phase.until[a]) {
            scene.add(arrow);
        }
    }
    for entry in timeline {
        if entry.time < phase.from - 1e-6 || entry.time > phase.to + 1e-6 {
            continue;
        }
        if let What::Passes { from, to, .. } = entry.what {
            scene.items.extend(pass(track, entry.time, from, to));
        }
    }
    Some(scene)
}

/// Where an attacker (0–4) stands when a phase is over for that player. `None` without frames.
pub(super) fn last_place(track: &[Frame], phase: &Phase, a: usize) -> Option<Vec2> {
    let over = phase.until[a].map_or(phase.to, |until| until.min(phase.to));
    let last = track.partition_point(|f| f.time <= over + 1e-6);
    Some(track.get(last.checked_sub(1)?)?.attackers[a])
}

/// A stretch of a way of one kind: what it is, and its first and last point.
#[derive(Clone, Copy)]
struct Stretch {
    kind: ArrowKind,
    from: usize,
    to: usize,
}

/// The way of one attacker (0–4), from where he stands to where he ends: one line, cut where it
/// changes its kind. A stretch in which he only stirs belongs to the one after it, so that the first
/// begins with him; the last such belongs to the run before it (a dribble ends where the ball leaves
/// the hand, and a screen where it is set).
fn ways_of(frames: &[&Frame], timeline: &[Entry], a: usize, until: Option<f64>) -> Vec<Item> {
    let number = a as u8 + 1;
    let in_time = |f: &&&Frame| until.is_none_or(|t| f.time <= t + 1e-6);
    let frames: Vec<&Frame> = frames.iter().filter(in_time).copied().collect();
    let path: Vec<Vec2> = frames.iter().map(|f| f.attackers[a]).collect();
    let leads = |from: usize, to: usize| {
        let first = path[from];
        path[from..=to].iter().any(|p| (p - first).length() > STIRS)
    };
    if path.len() < 2 || !leads(0, path.len() - 1) {
        return Vec::new();
    }
    let long = |s: &Stretch| way::length(&path[s.from..=s.to]);
    let mut drawn: Vec<Stretch> = Vec::new();
    let mut open: Option<Stretch> = None;
    for next in stretches(&frames, timeline, number) {
        // The kind of the longer part; where a screen is set there is a bar.
        let joined = open.map_or(next, |before| Stretch {
            kind: match next.kind == ArrowKind::Screen || long(&next) >= long(&before) {
                true => next.kind,
                false => before.kind,
            },
            from: before.from,
            to: next.to,
        });
        open = match leads(joined.from, joined.to) {
            true => {
                drawn.push(joined);
                None
            }
            false => Some(joined),
        };
    }
    match (open, drawn.last_mut()) {
        (Some(rest), Some(last)) if last.kind == ArrowKind::Run => last.to = rest.to,
        // All of it together leads away.
        (Some(rest), None) => drawn.push(rest),
        _ => {}
    }
    let arrows = drawn.iter().map(|s| {
        let path = path[s.from..=s.to].to_vec();
        let path = match s.kind {
            ArrowKind::Dribble => as_far_as_the_rim(path),
            _ => path,
        };
        Item::Arrow {
            kind: s.kind,
            path: trimmed(&path),
            who: number,
        }
    });
    arrows.collect()
}

/// A player's way by kind: with the ball on the floor, to a screen, without either. A screen that is
/// set ends a stretch, and so does a change of hands.
fn stretches(frames: &[&Frame], timeline: &[Entry], number: u8) -> Vec<Stretch> {
    let set = |from: f64, to: f64| {
        timeline.iter().any(|e| {
            matches!(e.what, What::Screens { who, .. } if who == number)
                && e.time > from + 1e-6
                && e.time <= to + 1e-6
        })
    };
    let holds = |i: usize| frames[i].holder == Some(number);
    let last = frames.len() - 1;
    let mut out = Vec::new();
    let mut from = 0;
    for i in 0..last {
        let screens = set(frames[i].time, frames[i + 1].time);
        if holds(i + 1) == holds(from) && !screens && i + 1 < last {
            continue;
        }
        let kind = match (holds(from), screens) {
            (true, _) => ArrowKind::Dribble,
            (false, true) => ArrowKind::Screen,
            (false, false) => ArrowKind::Run,
        };
        out.push(Stretch {
            kind,
            from,
            to: i + 1,
        });
        from = i + 1;
    }
    out
}

/// A drive that ends about the rim and has come to it, or to the spot beside it on the side from which it comes and never
/// behind the board, is over in that spot: the steps past it are no part of the drive. One that stops short of both is
/// drawn as it goes.
fn as_far_as_the_rim(mut path: Vec<Vec2>) -> Vec<Vec2> {
    let about = path.last().is_some_and(|end| end.length() <= ABOUT_THE_RIM);
    let near = path.iter().position(|p| p.length() < BESIDE_THE_RIM.0);
    let Some(near) = near.filter(|near| *near > 0 && about) else {
        return path;
    };
    let from = Vec2::new(path[near].x, path[near].y.max(0.0));
    let spot = from * (BESIDE_THE_RIM.1 / from.length().max(1e-6));
    let comes = |p: &Vec2| ends_beside_the_rim(*p) || (*p - spot).length() < REACHES;
    if path.iter().any(comes) {
        path.truncate(near + 1);
        path.push(spot);
    }
    path
}

/// Does the line of a drive that ends here lead to the rim?
pub(super) fn ends_beside_the_rim(end: Vec2) -> bool {
    end.length() < BESIDE_THE_RIM.1 + 1e-6
}

/// Without the moments at both ends in which he only sways on the spot, or overruns his place and
/// comes back to it.
fn trimmed(path: &[Vec2]) -> Vec<Vec2> {
    let (Some(&first), Some(&last)) = (path.first(), path.last()) else {
        return Vec::new();
    };
    let leaves = path.iter().position(|p| (p - first).length() > 0.15);
    let from = leaves.unwrap_or(path.len() - 1).saturating_sub(1);
    // From here on he stays about his last place.
    let comes = path.iter().rposition(|p| (p - last).length() > OVERRUNS);
    let about = comes.map_or(0, |i| i + 1).max(from);
    let there = path[about..].iter().position(|p| (p - last).length() < 0.3);
    let to = there.map_or(path.len() - 1, |i| about + i);
    let mut out = path[from..=to].to_vec();
    out[0] = first;
    out
}

/// A pass from where it is thrown to where it is caught, or to where the ball is lost.
fn pass(track: &[Frame], time: f64, from: u8, to: u8) -> Option<Item> {
    let start = frame_at(track, time);
    let thrown = track.get(start)?;
    let passer = thrown.attackers.get(usize::from(from).checked_sub(1)?)?;
    let catch = track[start..]
        .iter()
        .skip(1)
        .find(|f| f.holder.is_some_and(|h| h != from));
    let end = match catch {
        Some(frame) if frame.holder == Some(to) => {
            *frame.attackers.get(usize::from(to).checked_sub(1)?)?
        }
        Some(frame) => Vec2::new(frame.ball[0], frame.ball[1]),
        None => {
            let last = track.last()?;
            Vec2::new(last.ball[0], last.ball[1])
        }
    };
    Some(Item::Arrow {
        kind: ArrowKind::Pass,
        path: vec![*passer, end],
        who: from,
    })
}
