//! What stands on a practice sheet, before it is set: findings, looks to rehearse with their
//! diagrams, the shell drill, the time plan.
//!
//! Which looks are drilled says `drills`, how long one works and rests says `ages`. Coaching points
//! are common practice of the trade, one short list for each kind of look. The number of repetitions
//! follows from the minutes of the look's block.

use rayon::prelude::*;

use crate::court::Vec2;
use crate::offence::LookKind;
use crate::offence::words::capital;
use crate::possession::there::plays;
use crate::possession::{Entry, Frame, LookNow, Moment, Possession, What};
use crate::scenario::Scenario;
use crate::sim::{Keep, play};
use crate::why::summary::Light;
use crate::why::{Summary, Where};

use super::super::cards::Card;
use super::super::phase::frame_at;
use super::super::scene::{ArrowKind, Item, Scene, scene_of};
use super::super::shell::{Shell, shells};
use super::ages::Age;
use super::breakdown::{Breakdown, breakdowns};
use super::drills::{Chosen, ENOUGH, drills};
use super::findings::{Said, findings, how_often, out_of_place};
use super::plan::{Block, Wanted, fit};

/// A skip is drawn where it is at least so long, metres (ours: two places along the arc).
const SKIPS: f64 = 7.0;
/// Possessions that are looked through for a clear example of a look (ours).
const LOOKED_THROUGH: u64 = 80;

/// A look to rehearse.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// "The post feed to the weak-side block".
    pub name: String,
    /// Which of the findings it answers, from 0.
    pub answers: Option<usize>,
    /// How often it is there and is taken.
    pub said: Option<Said>,
    /// Where it starts, and the pass before.
    pub start: String,
    /// Whom to read.
    pub cue: Option<String>,
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
    /// Drills of a few players, cut from the rules; they come first.
    pub breakdowns: Vec<Breakdown>,
    /// The looks to rehearse.
    pub looks: Vec<Rehearsal>,
    /// Where the defence stands, for one place of the ball each.
    pub shells: Vec<Shell>,
    /// The finding behind the shell work, if there is one.
    pub shell_said: Option<Said>,
    /// The timed blocks of the practice; none if there are too few possessions to plan from.
    pub plan: Vec<Block>,
    /// How players of this age practise.
    pub age: Age,
}

impl Practice {
    /// From the figures of the scenario's `why` report, the texts that it has for the practice, and the
    /// offence's cards, from which breakdown drills are cut.
    pub fn of(scenario: &Scenario, summary: &Summary, cards: &[Card]) -> Practice {
        let age = Age::of(scenario.attackers.level);
        let chosen = drills(scenario, summary, age);
        let enough = summary.possessions >= ENOUGH;
        let (findings, answered) = match enough {
            true => findings(summary, &chosen),
            false => (Vec::new(), Vec::new()),
        };
        let minutes = scenario.practice.minutes().max(1);
        let breakdowns = breakdowns(scenario, summary, cards, &chosen, age);
        let few = breakdowns.iter().enumerate().map(|(i, drill)| Wanted {
            what: drill.block(),
            share: 0.09,
            rank: 4 + 2 * i as u32,
        });
        let few = few.collect();
        let looks = chosen.iter().zip(&answered).enumerate();
        let looks = looks.map(|(i, (drill, answers))| Wanted {
            what: match answers {
                Some(finding) => {
                    format!(
                        "Look {}: {} (finding {})",
                        i + 1,
                        drill.light.words(),
                        finding + 1
                    )
                }
                None => format!("Look {}: {}", i + 1, drill.light.words()),
            },
            share: 0.13,
            rank: 2 + 3 * i as u32,
        });
        let players = scenario.offence.players;
        let plan = match enough {
            true => fit(age.blocks(few, looks.collect(), minutes, players), minutes),
            false => Vec::new(),
        };
        let examples = clearest(scenario, &chosen, summary.first_seed);
        let looks = chosen
            .iter()
            .zip(examples)
            .enumerate()
            .filter_map(|(i, (drill, example))| {
                let own = format!("Look {}:", i + 1);
                let block = plan.iter().find(|b| b.what.starts_with(&own));
                let minutes = block.map_or(0, |b| b.minutes);
                let each = f64::from(minutes) * 60.0 / age.repetition() / 2.0;
                let answers = answered.get(i).copied().flatten();
                rehearsal(scenario, drill, example?, each as u32, answers)
            })
            .collect();
        // The youngest learn no team defence.
        let shells: Vec<Shell> = match age.small {
            true => Vec::new(),
            false => shells(scenario),
        };
        let outside = shells.into_iter().filter(|s| s.ball.name.is_perimeter());
        let shells: Vec<Shell> = outside.take(3).collect();
        let watch = enough && !shells.is_empty();
        Practice {
            findings,
            breakdowns,
            looks,
            shell_said: out_of_place(summary, scenario.court.units).filter(|_| watch),
            shells,
            plan,
            age,
        }
    }
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
    // A pass to the nearest team-mate does not look like a skip.
    let long = |l: &LookNow| match (l.kind, l.to) {
        (LookKind::Skip, Some(to)) => {
            let at = |who: u8| frame.attackers[usize::from(who).clamp(1, 5) - 1];
            (at(to) - at(moment.holder)).length() >= SKIPS
        }
        _ => true,
    };
    let open = moment
        .looks
        .iter()
        .filter(|l| l.open && l.kind == light.look && long(l));
    open.filter(|l| light.at.is_none() || place(l) == light.at)
        .max_by(|a, b| a.value.total_cmp(&b.value))
}

/// For each light the possession and time at which it is seen most clearly: open, with everybody
/// near his spot, of the possessions from `first` on; where it is not among them, its own example.
fn clearest(scenario: &Scenario, chosen: &[Chosen], first: u64) -> Vec<Option<(u64, f64)>> {
    let played: Vec<Vec<Option<(f64, u64, f64)>>> = (first..first.saturating_add(LOOKED_THROUGH))
        .into_par_iter()
        .map(|seed| {
            let possession = play(scenario, seed, Keep::ALL);
            let mut best = vec![None; chosen.len()];
            for moment in &possession.moments {
                let at = frame_at(&possession.track, moment.time);
                let Some(frame) = possession.track.get(at) else {
                    continue;
                };
                let off =
                    |p: &Vec2| (p - scenario.court.spot(scenario.court.nearest_spot(*p))).length();
                let there = frame.attackers.iter().filter(|p| plays(**p));
                let off: f64 = there.map(off).sum();
                for (best, drill) in best.iter_mut().zip(chosen) {
                    let light = drill.light;
                    let clearer = best.is_none_or(|(least, _, _)| off < least);
                    if clearer && found(scenario, &possession, light, moment, frame).is_some() {
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

fn rehearsal(
    scenario: &Scenario,
    drill: &Chosen,
    (seed, time): (u64, f64),
    each_side: u32,
    answers: Option<usize>,
) -> Option<Rehearsal> {
    let possession = play(scenario, seed, Keep::ALL);
    let light = drill.light;
    Some(Rehearsal {
        name: capital(&light.words()),
        answers,
        said: how_often(light, &drill.key),
        start: start(scenario, &possession, time)?,
        cue: drill.cue.clone(),
        points: points(light.look),
        each_side,
        example: (seed, time),
        scene: moment_of(scenario, &possession, light, time)?,
    })
}

/// How the moment came about: the pass before it, and the rule that had fired.
fn start(scenario: &Scenario, possession: &Possession, time: f64) -> Option<String> {
    let before = |e: &&Entry| e.time <= time + 1e-6;
    let told = || possession.timeline.iter().filter(before).rev();
    let moment = possession.moments.iter().rev();
    let moment = moment.into_iter().find(|m| m.time <= time + 1e-6)?;
    let side = moment.at.side.unwrap_or(possession.side);
    let place = |who: u8, time: f64| {
        let frame = possession.track.get(frame_at(&possession.track, time))?;
        let at = frame.attackers.get(usize::from(who).checked_sub(1)?)?;
        Some(Where::of(scenario.court.nearest_spot(*at), side).words())
    };
    let rule = told().find_map(|e| match e.what {
        What::Rule { rule, .. } => Some(format!(" (card {})", rule + 1)),
        _ => None,
    });
    let rule = rule.unwrap_or_default();
    let pass = told().find_map(|e| match e.what {
        What::Passes { from, to, .. } => Some((from, to, e.time)),
        _ => None,
    });
    Some(match pass {
        Some((from, to, thrown)) => format!(
            "Start: {from} passes from the {} to {to} at the {}{rule}.",
            place(from, thrown)?,
            place(to, time)?
        ),
        None => {
            let holder = moment.holder;
            format!(
                "Start: {holder} has the ball at the {}.",
                place(holder, time)?
            )
        }
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
        // A shot is the ring round the holder.
        None if light.look == LookKind::Shot => {}
        None => {
            let finish = from * (0.7 / from.length().max(0.7));
            scene.add(Item::Arrow {
                kind: ArrowKind::Dribble,
                path: vec![*from, round(*from, finish, &frame.defenders), finish],
                who: moment.holder,
            });
        }
    }
    Some(scene)
}

/// A drive's arrow passes a body at this distance, metres (ours).
const BESIDE: f64 = 0.9;

/// The middle of a drive's arrow: on its way, or beside the body that stands nearest to that, so that the arrow leads
/// round it.
fn round(from: Vec2, to: Vec2, defenders: &[Vec2]) -> Vec2 {
    let (middle, way) = ((from + to) / 2.0, to - from);
    let across = Vec2::new(-way.y, way.x) / way.length().max(1e-6);
    let near = defenders.iter().map(|d| *d - middle);
    let near = near.min_by(|a, b| a.length().total_cmp(&b.length()));
    let aside = near
        .filter(|off| off.length() < BESIDE)
        .map_or(0.01, |off| BESIDE.copysign(-off.dot(across)));
    middle + across * aside
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
            "First step past the defender's hip, shoulder low.",
            "Eyes up: rim, then helper, then the player the helper left.",
            "Stop on two feet if a body is there.",
        ],
        LookKind::GiveAndGo => [
            "Passer: step toward the pass, then cut in front of your defender.",
            "Show a hand where you want the ball.",
            "Holder: pass early, to the hand, ahead of the cutter.",
        ],
        LookKind::Backdoor => [
            "Cutter: one step out, then hard behind the defender's head.",
            "Holder: see the defender's eyes, not the ball.",
            "Bounce it where only the cutter gets it.",
        ],
        LookKind::Post => [
            "Post: feet wide, seal the defender, show the far hand.",
            "Feeder: fake high, pass low, or the other way round.",
            "After the feed, move: your defender looks at the ball.",
        ],
        LookKind::DropOff => [
            "Driver: draw the helper, then pass short and low.",
            "Post: along the baseline, hands up, out of the helper's reach.",
            "Catch and finish in one motion.",
        ],
        LookKind::KickOut => [
            "Driver: land on two feet, pass to the shooting pocket.",
            "Shooter: move along the arc to where the driver sees you.",
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::layout::lay;
    use crate::draw::svg::Look;

    #[test]
    fn a_drive_has_an_arrow_and_a_skip_is_a_long_pass() {
        let scenario = Scenario::demo();
        let (mut drives, mut skips) = (0, 0);
        for seed in 1..=30 {
            let possession = play(&scenario, seed, Keep::ALL);
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
                    let drawn = || moment_of(&scenario, &possession, &light, moment.time);
                    match look.kind {
                        LookKind::Drive => {
                            let laid = lay(&drawn().expect("a scene"), &Look::PAPER.sizes);
                            let arrow = laid.strokes.iter().any(|s| s.kind == ArrowKind::Dribble);
                            assert!(arrow, "seed {seed} at {} s", moment.time);
                            drives += 1;
                        }
                        LookKind::Skip => {
                            let is = found(&scenario, &possession, &light, moment, frame);
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
