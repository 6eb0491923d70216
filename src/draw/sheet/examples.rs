//! Which moment of which possession shows a look most clearly, how it came about, and its picture: one that players
//! can set up, with everybody at a place of the offence and nobody of the others on the shooter.

use std::borrow::Cow;

use rayon::prelude::*;

use crate::court::Vec2;
use crate::offence::LookKind;
use crate::possession::there::plays;
use crate::possession::{Frame, LookNow, Moment, Possession, What};
use crate::scenario::Scenario;
use crate::why::Where;
use crate::why::summary::Light;

use super::super::light::{GRAIN, Replay};
use super::super::phase::frame_at;
use super::super::scene::{ArrowKind, Item, Scene, scene_of};
use super::drills::Chosen;
use super::starts::unready;

/// A skip is drawn where it is at least so long, metres (ours: two places along the arc).
const SKIPS: f64 = 7.0;
/// A drive is shown from here on out, metres from the rim (ours).
const DRIVES: f64 = 4.5;

/// A place that the offence keeps and nobody stands at blurs a picture as if everybody together were so far off, metres
/// (ours: nobody can set it up).
const UNFILLED: f64 = 4.0;
/// A look is seen to be open if no defender is nearer to whoever gets it than this, metres, and each metre less blurs
/// as if everybody together were so far off, metres (ours).
const ROOM: f64 = 2.0;
const CROWDED: f64 = 3.0;

/// How unclearly a moment shows a look: how far everybody is from a place, metres, with what else blurs it.
fn blur(scenario: &Scenario, moment: &Moment, look: &LookNow, frame: &Frame) -> f64 {
    let court = &scenario.court;
    let there = || frame.attackers.iter().filter(|p| plays(**p));
    let off = |p: &Vec2| (p - court.spot(court.nearest_spot(*p))).length();
    let off: f64 = there().map(off).sum();
    let side = moment.at.side;
    let kept = scenario.offence.keep_filled.iter();
    let empty = kept.filter_map(|place| place.spot(side?, None));
    let empty = empty.filter(|spot| !there().any(|p| court.nearest_spot(*p) == *spot));
    let gets = look.to.unwrap_or(moment.holder);
    let gets = frame.attackers[usize::from(gets).clamp(1, 5) - 1];
    let near = frame.defenders.iter().filter(|p| plays(**p));
    let near = near.map(|d| (d - gets).length()).fold(ROOM, f64::min);
    off + UNFILLED * empty.count() as f64 + CROWDED * (ROOM - near)
}

/// Does a look look like what it is? A pass to the nearest team-mate is no skip, and a drive from inside is a step and a
/// lay-up, for whose line there is no room among the discs.
fn shows(look: &LookNow, holder: u8, frame: &Frame) -> bool {
    let at = |who: u8| frame.attackers[usize::from(who).clamp(1, 5) - 1];
    match (look.kind, look.to) {
        (LookKind::Skip, Some(to)) => (at(to) - at(holder)).length() >= SKIPS,
        (LookKind::Drive, _) => at(holder).length() >= DRIVES,
        _ => true,
    }
}

/// The looks of this light's kind that are open, and show it.
fn open<'a>(light: &Light, moment: &'a Moment, frame: &Frame) -> impl Iterator<Item = &'a LookNow> {
    let of = |l: &&LookNow| l.open && l.kind == light.look && shows(l, moment.holder, frame);
    moment.looks.iter().filter(of)
}

/// The look of a moment that is this light, if it is open: of its kind, and at its place.
pub(super) fn found<'a>(
    scenario: &Scenario,
    possession: &Possession,
    light: &Light,
    moment: &'a Moment,
    frame: &Frame,
) -> Option<&'a LookNow> {
    let side = moment.at.side.unwrap_or(possession.side);
    let spot = |who: u8| {
        let p = frame.attackers[usize::from(who).clamp(1, 5) - 1];
        Where::of(scenario.court.nearest_spot(p), side)
    };
    let place = |l: &LookNow| match l.kind {
        // A cutter is on the run.
        LookKind::GiveAndGo | LookKind::Backdoor | LookKind::DropOff => light.at,
        LookKind::Shot | LookKind::Drive => Some(spot(moment.holder)),
        _ => l.to.map(spot),
    };
    open(light, moment, frame)
        .filter(|l| light.at.is_none() || place(l) == light.at)
        .max_by(|a, b| a.value.total_cmp(&b.value))
}

/// For each light the possession and time at which it is seen most clearly: open, with everybody
/// near his spot, of these possessions; where it is not among them, its own example.
pub(super) fn clearest(
    scenario: &Scenario,
    chosen: &[Chosen],
    replays: &[Replay],
) -> Vec<Option<(u64, f64)>> {
    let played: Vec<Vec<Option<(f64, u64, f64)>>> = replays
        .par_iter()
        .map(|replay| {
            let (possession, seed) = (&replay.possession, replay.possession.seed);
            let mut best = vec![None; chosen.len()];
            for moment in &possession.moments {
                let at = frame_at(&possession.track, moment.time);
                let Some(frame) = possession.track.get(at) else {
                    continue;
                };
                for (best, drill) in best.iter_mut().zip(chosen) {
                    let light = drill.light;
                    let Some(look) = found(scenario, possession, light, moment, frame) else {
                        continue;
                    };
                    let off = blur(scenario, moment, look, frame)
                        + unready(scenario, possession, moment.time, look);
                    if best.is_none_or(|(least, _, _)| off < least) {
                        *best = Some((off, seed, moment.time));
                    }
                }
            }
            best
        })
        .collect();
    // No two drills are shown by the same possession, as long as there is another.
    let mut used: Vec<u64> = Vec::new();
    let mut out = Vec::new();
    for (i, drill) in chosen.iter().enumerate() {
        let all = || played.iter().filter_map(|best| best[i]);
        let clearest =
            |a: &(f64, u64, f64), b: &(f64, u64, f64)| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1));
        let fresh = all().filter(|(_, seed, _)| !used.contains(seed));
        let best = fresh.min_by(clearest).or_else(|| all().min_by(clearest));
        let example = best.map(|(_, seed, time)| (seed, time));
        let example = example.or(drill.light.example);
        used.extend(example.map(|(seed, _)| seed));
        out.push(example);
    }
    out
}

/// The possession of an example, and its time.
pub(super) fn replayed<'a>(
    scenario: &Scenario,
    replays: &'a [Replay],
    (seed, time): (u64, f64),
) -> (Cow<'a, Replay>, f64) {
    let known = replays.iter().find(|r| r.possession.seed == seed);
    let replay = known.map_or_else(|| Cow::Owned(Replay::one(scenario, seed)), Cow::Borrowed);
    (replay, time)
}

/// The moment of a light, its frame, and the look that it was.
fn shown<'a>(
    scenario: &Scenario,
    replay: &'a Replay,
    light: &Light,
    time: f64,
) -> Option<(usize, &'a Frame, &'a LookNow)> {
    let possession = &replay.possession;
    let nearest = replay.nearest(time)?;
    let moment = possession.moments.get(nearest)?;
    let frame = possession
        .track
        .get(frame_at(&possession.track, moment.time))?;
    let look = found(scenario, possession, light, moment, frame).or_else(|| {
        // The report counts a place that somebody is on his way to as his.
        open(light, moment, frame).max_by(|a, b| a.value.total_cmp(&b.value))
    })?;
    Some((nearest, frame, look))
}

/// Who has the ball at that moment, and who gets it, 1–5; `None` for whoever shoots or drives.
pub(super) fn takes(
    scenario: &Scenario,
    replay: &Replay,
    light: &Light,
    time: f64,
) -> Option<(u8, Option<u8>)> {
    let (nearest, _, look) = shown(scenario, replay, light, time)?;
    Some((replay.possession.moments.get(nearest)?.holder, look.to))
}

/// The moment at which a look was there, with the pass (or the drive) that takes it.
pub(super) fn moment_of(
    scenario: &Scenario,
    replay: &Replay,
    light: &Light,
    time: f64,
) -> Option<Scene> {
    let possession = &replay.possession;
    let (nearest, frame, look) = shown(scenario, replay, light, time)?;
    let moment = possession.moments.get(nearest)?;
    // Whose moment it is has the ball, even where it leaves the hands in this very tick.
    let held = Frame {
        holder: Some(moment.holder),
        ..*frame
    };
    let mut scene = scene_of(&scenario.court, &held);
    scene.add(Item::Light(replay.light(nearest, GRAIN)?));
    let from = frame
        .attackers
        .get(usize::from(moment.holder).checked_sub(1)?)?;
    match look.to {
        Some(to) => {
            let man = usize::from(to).checked_sub(1)?;
            // Where he is half a second later: a cutter is led.
            let later = frame_at(&possession.track, moment.time + 0.5);
            let ahead = possession.track.get(later)?.attackers.get(man)?;
            let here = frame.attackers.get(man)?;
            let runs = (ahead - here).length() > 0.9;
            let end = if runs { *ahead } else { *here };
            if runs {
                scene.add(Item::Arrow {
                    kind: ArrowKind::Run,
                    path: vec![*here, *ahead],
                    who: to,
                });
            }
            scene.add(Item::Arrow {
                kind: ArrowKind::Pass,
                path: vec![*from, end],
                who: moment.holder,
            });
        }
        // The pass that brought it, and the word: a ring alone says nothing.
        None if light.look == LookKind::Shot => {
            let before = possession.timeline.iter().rev();
            let mut before = before.filter(|e| e.time <= moment.time + 1e-6);
            let passer = before.find_map(|e| match e.what {
                What::Passes { from, to, .. } if to == moment.holder => Some(from),
                _ => None,
            });
            let passer = passer.and_then(|who| {
                Some((who, *frame.attackers.get(usize::from(who).checked_sub(1)?)?))
            });
            if let Some((who, at)) = passer {
                scene.add(Item::Arrow {
                    kind: ArrowKind::Pass,
                    path: vec![at, *from],
                    who,
                });
            }
            scene.add(Item::Label {
                at: *from,
                text: "shot".to_string(),
            });
        }
        None => {
            let finish = *from * (0.7 / from.length().max(0.7));
            scene.add(Item::Arrow {
                kind: ArrowKind::Dribble,
                path: vec![*from, finish],
                who: moment.holder,
            });
        }
    }
    Some(scene)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::layout::lay;
    use crate::draw::svg::Look;

    #[test]
    fn a_drive_has_an_arrow_and_a_skip_is_a_long_pass() {
        let scenario = Scenario::demo();
        let (mut drives, mut skips) = (0, 0);
        for seed in 1..=60 {
            let replay = Replay::one(&scenario, seed);
            let possession = &replay.possession;
            for moment in &possession.moments {
                for look in moment.looks.iter().filter(|l| l.open) {
                    let light = Light {
                        look: look.kind,
                        at: None,
                        there: None,
                        allowed: None,
                        taken: None,
                        adds: None,
                        value: None,
                        example: None,
                        tweaks: Vec::new(),
                    };
                    let at = frame_at(&possession.track, moment.time);
                    let frame = &possession.track[at];
                    let drawn = || moment_of(&scenario, &replay, &light, moment.time);
                    match look.kind {
                        LookKind::Drive => {
                            if found(&scenario, possession, &light, moment, frame).is_none() {
                                continue;
                            }
                            let laid = lay(&drawn().expect("a scene"), &Look::PAPER.sizes);
                            let arrow = laid.strokes.iter().any(|s| s.kind == ArrowKind::Dribble);
                            assert!(arrow, "seed {seed} at {} s", moment.time);
                            drives += 1;
                        }
                        LookKind::Skip => {
                            let is = found(&scenario, possession, &light, moment, frame);
                            let Some(to) = is.and_then(|l| l.to) else {
                                continue;
                            };
                            let at = |n: u8| frame.attackers[usize::from(n) - 1];
                            let long = (at(to) - at(moment.holder)).length();
                            assert!(long > 6.5, "seed {seed} at {} s: {long} m", moment.time);
                            skips += 1;
                        }
                        _ => {}
                    }
                }
            }
        }
        assert!(drives > 6 && skips > 20, "{drives} drives, {skips} skips");
    }
}
