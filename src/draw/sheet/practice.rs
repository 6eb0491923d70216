//! What stands on a practice sheet, before it is set: findings, looks to rehearse with their
//! diagrams, the shell drill, the time plan.
//!
//! Coaching points are common practice of the trade, one short list for each kind of look. The
//! number of repetitions follows from the minutes of the look's block.

use rayon::prelude::*;

use crate::court::Vec2;
use crate::offence::LookKind;
use crate::offence::words::capital;
use crate::possession::{Frame, LookNow, Moment, Possession};
use crate::scenario::Scenario;
use crate::sim::{Keep, play};
use crate::why::summary::Light;
use crate::why::{Summary, Where};

use super::super::phase::frame_at;
use super::super::scene::{ArrowKind, Item, Scene, scene_of};
use super::super::shell::{Shell, shells};
use super::findings::{Said, findings, how_often, out_of_place};
use super::plan::{Block, Wanted, fit};

/// Seconds for one repetition with the walk back (ours).
const REPETITION: f64 = 25.0;
/// At most so many looks to rehearse, and at least so many before a kind comes again.
const LOOKS: usize = 3;
const KINDS: usize = 2;
/// A practice of so many minutes or more has a break, of about so many (common practice).
const DRINKS_FROM: u32 = 45;
const DRINKS: f64 = 4.0;
/// Possessions that are looked through for a clear example of a look (ours).
const LOOKED_THROUGH: u64 = 80;

/// A look to rehearse.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// "The post feed to the weak-side block".
    pub name: String,
    /// The finding behind it, if there is one.
    pub said: Option<Said>,
    /// Three coaching points.
    pub points: [&'static str; 3],
    /// Repetitions on each side of the floor.
    pub each_side: u32,
    /// The moment at which it was there in the simulation: seed and seconds.
    pub example: (u64, f64),
    /// The moment drawn.
    pub scene: Scene,
}

/// Everything on the sheet.
#[derive(Clone, Debug)]
pub struct Practice {
    /// What the simulation found, in a few sentences.
    pub findings: Vec<Said>,
    /// The looks to rehearse.
    pub looks: Vec<Rehearsal>,
    /// Where the defence stands, for one place of the ball each.
    pub shells: Vec<Shell>,
    /// The finding behind the shell work, if there is one.
    pub shell_said: Option<Said>,
    /// The timed blocks of the practice.
    pub plan: Vec<Block>,
}

impl Practice {
    /// From the figures of the scenario's `why` report, and the texts that it has for the practice.
    pub fn of(scenario: &Scenario, summary: &Summary) -> Practice {
        let lights = lights(summary);
        let mut wanted = vec![block("Warm up: easy runs, passes, lay-ups", 0.14, 1)];
        wanted.push(block(
            "Walk through the rules: five on none, both sides",
            0.16,
            3,
        ));
        for (i, (light, _)) in lights.iter().enumerate() {
            let what = format!("Look {}: {}", i + 1, light.words());
            wanted.push(block(&what, 0.13, 2 + 3 * i as u32));
        }
        if scenario.practice.minutes() >= DRINKS_FROM {
            let share = DRINKS / f64::from(scenario.practice.minutes());
            wanted.push(block("Drink", share, 8));
        }
        wanted.push(block("Shell drill: four or five defenders", 0.16, 4));
        wanted.push(block(
            "Play five on five; a basket from a rehearsed look counts one more",
            0.18,
            6,
        ));
        wanted.push(block("Slow down, talk: what was open?", 0.08, 7));
        let plan = fit(wanted, scenario.practice.minutes().max(1));
        let examples = clearest(scenario, &lights, summary.first_seed);
        let looks = lights
            .iter()
            .zip(examples)
            .enumerate()
            .filter_map(|(i, (light, example))| {
                let minutes = plan
                    .iter()
                    .find(|b| b.what.starts_with(&format!("Look {}:", i + 1)))
                    .map_or(0, |b| b.minutes);
                rehearsal(scenario, light, example?, minutes)
            })
            .collect();
        Practice {
            findings: findings(summary),
            looks,
            shells: shells(scenario).into_iter().skip(1).take(3).collect(),
            shell_said: out_of_place(summary, scenario.court.units),
            plan,
        }
    }
}

fn block(what: &str, share: f64, rank: u32) -> Wanted {
    Wanted {
        what: what.to_string(),
        share,
        rank,
    }
}

/// The looks worth rehearsing, each with where it stands in the figures: what the closers leave and
/// what no rule takes, best first and each kind once; fewer than two kinds, and one comes again at
/// another place.
fn lights(summary: &Summary) -> Vec<(&Light, String)> {
    let left = summary.left.iter().enumerate();
    let left = left.map(|(i, l)| (&l.light, format!("left/{i}/light")));
    let unused = summary.unused.iter().enumerate();
    let unused = unused.map(|(i, l)| (l, format!("unused/{i}")));
    let adds = |l: &Light| l.adds.map_or(0.0, |e| e.value);
    let mut all: Vec<(&Light, String)> = left.chain(unused).collect();
    all.retain(|(l, _)| l.example.is_some() && l.look != LookKind::Shot);
    all.sort_by(|a, b| adds(b.0).total_cmp(&adds(a.0)));
    let mut out: Vec<(&Light, String)> = Vec::new();
    for (light, key) in &all {
        if out.len() < LOOKS && out.iter().all(|(l, _)| l.look != light.look) {
            out.push((light, key.clone()));
        }
    }
    for (light, key) in all {
        let known = |l: &Light| l.look == light.look && l.at == light.at;
        if out.len() < KINDS && out.iter().all(|(l, _)| !known(l)) {
            out.push((light, key));
        }
    }
    out
}

/// The look of a moment that is this light, if it is open: of its kind, and at its place.
fn found<'a>(
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
    let open = moment
        .looks
        .iter()
        .filter(|l| l.open && l.kind == light.look);
    open.filter(|l| light.at.is_none() || place(l) == light.at)
        .max_by(|a, b| a.value.total_cmp(&b.value))
}

/// For each light the possession and time at which it is seen most clearly: open, with everybody
/// near his spot, of the possessions from `first` on; where it is not among them, its own example.
fn clearest(
    scenario: &Scenario,
    lights: &[(&Light, String)],
    first: u64,
) -> Vec<Option<(u64, f64)>> {
    let played: Vec<Vec<Option<(f64, u64, f64)>>> = (first..first.saturating_add(LOOKED_THROUGH))
        .into_par_iter()
        .map(|seed| {
            let possession = play(scenario, seed, Keep::ALL);
            let mut best = vec![None; lights.len()];
            for moment in &possession.moments {
                let at = frame_at(&possession.track, moment.time);
                let Some(frame) = possession.track.get(at) else {
                    continue;
                };
                let off =
                    |p: &Vec2| (p - scenario.court.spot(scenario.court.nearest_spot(*p))).length();
                let off: f64 = frame.attackers.iter().map(off).sum();
                for (best, (light, _)) in best.iter_mut().zip(lights) {
                    let clearer = best.is_none_or(|(least, _, _)| off < least);
                    if clearer && found(scenario, &possession, light, moment, frame).is_some() {
                        *best = Some((off, seed, moment.time));
                    }
                }
            }
            best
        })
        .collect();
    let one = |i: usize| {
        let all = played.iter().filter_map(|best| best[i]);
        let best = all.min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        best.map(|(_, seed, time)| (seed, time))
            .or(lights[i].0.example)
    };
    (0..lights.len()).map(one).collect()
}

fn rehearsal(
    scenario: &Scenario,
    (light, key): &(&Light, String),
    (seed, time): (u64, f64),
    minutes: u32,
) -> Option<Rehearsal> {
    let possession = play(scenario, seed, Keep::ALL);
    Some(Rehearsal {
        name: capital(&light.words()),
        said: how_often(light, key),
        points: points(light.look),
        each_side: (f64::from(minutes) * 60.0 / REPETITION / 2.0) as u32,
        example: (seed, time),
        scene: moment_of(scenario, &possession, light, time)?,
    })
}

/// The moment at which a look was there, with the pass (or the drive) that takes it.
fn moment_of(
    scenario: &Scenario,
    possession: &Possession,
    light: &Light,
    time: f64,
) -> Option<Scene> {
    let moment = possession
        .moments
        .iter()
        .min_by(|a, b| (a.time - time).abs().total_cmp(&(b.time - time).abs()))?;
    let at = frame_at(&possession.track, moment.time);
    let frame = possession.track.get(at)?;
    let look = found(scenario, possession, light, moment, frame).or_else(|| {
        // The report counts a place that somebody is on his way to as his.
        let open = moment
            .looks
            .iter()
            .filter(|l| l.open && l.kind == light.look);
        open.max_by(|a, b| a.value.total_cmp(&b.value))
    })?;
    let mut scene = scene_of(&scenario.court, frame);
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
        None => {
            let finish = from * (1.3 / from.length().max(1.3));
            scene.add(Item::Arrow {
                kind: ArrowKind::Dribble,
                path: vec![*from, (*from + finish) / 2.0 + Vec2::new(0.01, 0.0), finish],
                who: moment.holder,
            });
        }
    }
    Some(scene)
}

/// Three coaching points for a kind of look (common practice).
fn points(kind: LookKind) -> [&'static str; 3] {
    match kind {
        LookKind::Shot => [
            "Feet ready before the ball comes.",
            "Up in one motion.",
            "Hold the follow-through.",
        ],
        LookKind::Drive => [
            "First step past his hip, shoulder low.",
            "Eyes up: rim, then helper, then the man he left.",
            "Stop on two feet if a body is there.",
        ],
        LookKind::GiveAndGo => [
            "Passer: step toward the pass, then cut in front of your man.",
            "Show a hand where you want the ball.",
            "Holder: pass to the hand, early, in front of him.",
        ],
        LookKind::Backdoor => [
            "Cutter: one step out, then go hard behind his head.",
            "Holder: see the defender's eyes, not the ball.",
            "Bounce it where only the cutter gets it.",
        ],
        LookKind::Post => [
            "Post: feet wide, seal him, show the far hand.",
            "Feeder: fake high, pass low, or the other way round.",
            "After the feed move: your man will look at the ball.",
        ],
        LookKind::DropOff => [
            "Driver: draw the helper, then pass short and low.",
            "Post: along the baseline, hands up, out of his reach.",
            "Catch and finish in one motion.",
        ],
        LookKind::KickOut => [
            "Driver: land on two feet, pass to the shooting pocket.",
            "Shooter: move along the arc to where he can see you.",
            "Catch ready: shoot, drive or swing at once.",
        ],
        LookKind::NextPass => [
            "Pass away from the defender's hand.",
            "Catcher: meet the ball and face the rim.",
            "Ball in the air, everybody moves.",
        ],
        LookKind::Skip => [
            "See it before you catch: where are their backs?",
            "Overhead, flat and hard, over the help.",
            "Catcher: feet set, shoot or drive at the closeout.",
        ],
    }
}
