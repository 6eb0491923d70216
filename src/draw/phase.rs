//! A phase of a recorded possession as a diagram: who stands where when it begins, and by which
//! ways players and ball go until it ends.

use crate::court::{Court, Vec2};
use crate::possession::{Entry, Frame, What};

use super::scene::{ArrowKind, Item, Scene};

/// A way that leads no farther than this from where it begins is not drawn, metres (ours: a step or two about the own
/// place is no run, and its arrow would lie on the disc).
const STIRS: f64 = 1.35;
/// He is about his last place within this distance, metres.
const OVERRUNS: f64 = 1.1;

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

/// The ways of one attacker (0–4): with the ball on the floor and without it.
fn ways_of(frames: &[&Frame], timeline: &[Entry], a: usize, until: Option<f64>) -> Vec<Item> {
    let number = a as u8 + 1;
    let mut out = Vec::new();
    let mut start = 0;
    while start < frames.len() {
        let with_ball = frames[start].holder == Some(number);
        let mut end = start;
        let set = |from: f64, to: f64| {
            timeline.iter().any(|e| {
                matches!(e.what, What::Screens { who, .. } if who == number)
                    && e.time > from + 1e-6
                    && e.time <= to + 1e-6
            })
        };
        // A screen that is set ends a way, and so does a change of hands.
        while end + 1 < frames.len()
            && (frames[end + 1].holder == Some(number)) == with_ball
            && !set(frames[end].time, frames[end + 1].time)
        {
            end += 1;
        }
        let last = (end + 1).min(frames.len() - 1);
        let in_time = |f: &&&Frame| until.is_none_or(|t| f.time <= t + 1e-6);
        let path: Vec<Vec2> = frames[start..=last]
            .iter()
            .filter(in_time)
            .map(|f| f.attackers[a])
            .collect();
        let (began, ended) = (frames[start].time, frames[last].time);
        start = end + 1;
        let path = trimmed(&path);
        let leads = |from: &Vec2| path.iter().any(|p| (p - from).length() > STIRS);
        if !path.first().is_some_and(leads) {
            continue;
        }
        let screens = set(began, ended);
        let kind = match (with_ball, screens) {
            (true, _) => ArrowKind::Dribble,
            (false, true) => ArrowKind::Screen,
            (false, false) => ArrowKind::Run,
        };
        out.push(Item::Arrow {
            kind,
            path,
            who: number,
        });
    }
    out
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
