//! What stands on a practice sheet, before it is set: findings, looks to rehearse with their
//! diagrams, the shell drill, the time plan.
//!
//! Which looks are drilled says `drills`, how long one works and rests says `ages`. Coaching points
//! are common practice of the trade, one short list for each kind of look. The number of repetitions
//! follows from the minutes of the look's block.

use std::borrow::Cow;

use crate::court::Spot;
use crate::offence::words::capital;
use crate::possession::{Frame, What};
use crate::scenario::Scenario;
use crate::why::Summary;

use super::super::cards::Card;
use super::super::glow::{FEWEST, LOOKED_THROUGH, PLAYED};
use super::super::light::Replay;
use super::super::phase::frame_at;
use super::super::scene::{Item, Scene};
use super::super::shell::{Shell, standing_shells};
use super::ages::{Age, LIVE, SHELL, WALK};
use super::answers::answer;
use super::breakdown::{Breakdown, breakdowns, brief};
use super::drills::{Chosen, ENOUGH, drills};
use super::examples::{clearest, moment_of, replayed, takes};
use super::findings::{Findings, Said, findings, hardest, how_often, out_of_place};
use super::groups::{for_turns, turns};
use super::next;
use super::plan::{Block, Wanted};
use super::points::points;
use super::reads::{Floor, call, number, otherwise, read};
use super::reasons::Grounds;
use super::runs::way_of;
use super::scoring::{SHOOTS, ends};
use super::starts::{at_the_moment, from_there, in_stance, said, start};
use super::turns::Teams;

/// A look to rehearse.
#[derive(Clone, Debug)]
pub struct Rehearsal {
    /// "The post feed to the weak-side block".
    pub name: String,
    /// The same by the numbers and places that are drawn: "4 to 3 at the left wing".
    pub here: String,
    /// Which of the findings it answers, from 0.
    pub answers: Option<usize>,
    /// The finding about what is shut that it answers too, from 0.
    pub also: Option<usize>,
    /// The card with which it starts, as the index of its rule.
    pub card: Option<usize>,
    /// How often it is there and is taken.
    pub said: Option<Said>,
    /// Where it starts, and the pass before.
    pub start: String,
    /// Whom to read, and what to do in either case.
    pub cue: Said,
    /// Three coaching points.
    pub points: [&'static str; 3],
    /// Repetitions of each team on each side of the floor.
    pub each_side: u32,
    /// The moment at which it was there in the simulation: seed and seconds.
    pub example: (u64, f64),
    /// The moment drawn.
    pub scene: Scene,
    /// All ten where a turn starts, with the ways from there to the moment and what is then done; `None` if the moment is
    /// the start.
    pub begins: Option<Scene>,
}

/// Everything on the sheet.
#[derive(Clone, Debug)]
pub struct Practice {
    /// What the simulation found, in a few sentences.
    pub findings: Vec<Said>,
    /// Drills of a few players, each a part of a rule's card; they come first.
    pub breakdowns: Vec<Breakdown>,
    /// The looks to rehearse.
    pub looks: Vec<Rehearsal>,
    /// Where the defence stands, for one place of the ball each.
    pub shells: Vec<Shell>,
    /// The finding that the shell drill answers, from 0, if there is one.
    pub late: Option<usize>,
    /// Where this defence is hardest to play, if that is a finding: "on the ball".
    pub hardest: Option<String>,
    /// The finding about stalls, from 0, if there is one.
    pub stall: Option<usize>,
    /// The timed blocks of the practice; none if there are too few possessions to plan from.
    pub plan: Vec<Block>,
    /// The cards that drills and looks need, as indices of their rules.
    pub walked: Vec<usize>,
    /// How players of this age practise.
    pub age: Age,
}

impl Practice {
    /// From the figures of the scenario's `why` report, the texts that it has for the practice, and the
    /// offence's cards, from which breakdown drills are cut.
    pub fn of(scenario: &Scenario, summary: &Summary, cards: &[Card]) -> Practice {
        let first = summary.first_seed;
        let seeds = first..first.saturating_add(LOOKED_THROUGH);
        Practice::shown_by(scenario, summary, cards, &Replay::many(scenario, seeds))
    }

    /// The same, with examples from these possessions.
    pub fn shown_by(
        scenario: &Scenario,
        summary: &Summary,
        cards: &[Card],
        replays: &[Replay],
    ) -> Practice {
        let age = Age::of(scenario.attackers.level);
        let chosen = drills(scenario, summary, age);
        let enough = summary.possessions >= ENOUGH;
        let mut found = match enough {
            true => findings(summary, &chosen),
            false => Findings::default(),
        };
        let minutes = scenario.practice.minutes().max(1);
        let fired = fired(scenario, replays);
        let often: Vec<&Card> = cards
            .iter()
            .filter(|c| fired.get(c.rule).is_some_and(|n| *n >= FEWEST))
            .collect();
        let (answered, stall) = (found.answered.clone(), found.stall);
        let grounds = Grounds {
            chosen: &chosen,
            answered: &answered,
            stall,
            fired: &fired,
            replays,
        };
        let mut breakdowns = breakdowns(scenario, summary, &often, &grounds, (&mut found, age));
        // The youngest learn no team defence.
        let shells = match age.small {
            true => Vec::new(),
            false => shells(scenario),
        };
        if enough && !shells.is_empty() {
            found.late = out_of_place(summary, scenario.court.units).map(|said| found.add(said));
        }
        let stalls = summary.stalls.stories.first();
        let stalls = stalls.and_then(|s| s.rule.as_ref()).and_then(|name| {
            let mut rules = scenario.offence.rules.iter();
            rules.position(|r| r.name == *name)
        });
        answer(&mut found, summary, &chosen, &breakdowns, stalls);
        found.in_turn(&mut breakdowns);
        let few = breakdowns.iter().enumerate().map(|(i, drill)| Wanted {
            what: drill.block(),
            share: 0.09,
            rank: 4 + 2 * i as u32,
        });
        let few = few.collect();
        let looks = wanted_looks(&chosen, &found);
        let players = scenario.offence.players;
        let mut plan = match enough {
            true => age.timed(age.blocks(few, looks, minutes, players), minutes),
            false => Vec::new(),
        };
        for drill in &mut breakdowns {
            let block = drill.block();
            let block = plan.iter().find(|b| b.what == block);
            drill.turns = block.map_or(0, |b| turns(b.minutes, age.repetition()));
        }
        let looks = rehearsals((scenario, summary), replays, &chosen, &found, (&plan, &age));
        let mut needed: Vec<usize> = breakdowns.iter().map(|drill| drill.rule).collect();
        needed.extend(looks.iter().filter_map(|look| look.card));
        needed.extend(stalls);
        needed.sort_unstable();
        needed.dedup();
        name_the_cards(&mut plan, scenario, &fired, &needed);
        let mut practice = Practice {
            findings: found.said,
            breakdowns,
            looks,
            late: found.late,
            hardest: found.late.and_then(|_| hardest(summary)),
            stall: found.stall,
            shells,
            plan,
            walked: needed,
            age,
        };
        practice.name_what_they_answer();
        practice
    }

    /// The blocks of shell and live play name the findings that they answer.
    fn name_what_they_answer(&mut self) {
        let (shell, live) = (self.shell_for(), self.looks_for());
        for block in &mut self.plan {
            for (begins, list) in [(SHELL, &shell), (LIVE, &live)] {
                if block.what.starts_with(begins) && !list.is_empty() {
                    block.what += &format!(" ({list})");
                }
            }
        }
    }

    /// The findings that the looks answer: "findings 1, 2 and 4".
    pub fn looks_for(&self) -> String {
        let looks = self.looks.iter();
        numbers(looks.flat_map(|l| [l.answers, l.also]).flatten())
    }

    /// What the shell drill answers: the defender who is late, else what the looks answer that are rehearsed after it.
    pub fn shell_for(&self) -> String {
        match self.late {
            Some(n) => numbers(std::iter::once(n)),
            None => self.looks_for(),
        }
    }
}

/// Where the defenders stand with the ball at places outside, lit.
fn shells(scenario: &Scenario) -> Vec<Shell> {
    let lit = standing_shells(scenario)
        .into_iter()
        .take(3)
        .map(|(mut shell, lit)| {
            shell.scene = shell.lit_scene(&lit);
            shell
        });
    lit.collect()
}

/// "findings 1, 2 and 4", of numbers from 0 in any order.
pub(super) fn numbers(of: impl Iterator<Item = usize>) -> String {
    let mut all: Vec<usize> = of.map(|n| n + 1).collect();
    all.sort_unstable();
    all.dedup();
    let all: Vec<String> = all.iter().map(usize::to_string).collect();
    match all.as_slice() {
        [] => String::new(),
        [one] => format!("finding {one}"),
        [others @ .., last] => format!("findings {} and {last}", others.join(", ")),
    }
}

/// How often each rule fired in these possessions.
fn fired(scenario: &Scenario, replays: &[Replay]) -> Vec<u32> {
    let mut out = vec![0; scenario.offence.rules.len()];
    for entry in replays
        .iter()
        .take(PLAYED)
        .flat_map(|r| &r.possession.timeline)
    {
        if let What::Rule { rule, .. } = entry.what
            && let Some(count) = out.get_mut(rule)
        {
            *count += 1;
        }
    }
    out
}

/// Showing a card, then walking through it on both sides takes about so long, minutes (ours).
const A_CARD: u32 = 2;

/// The block in which the rules are walked names its cards: those that drills and looks need, and as many of those that
/// come up most as there is time for.
fn name_the_cards(plan: &mut [Block], scenario: &Scenario, fired: &[u32], needed: &[usize]) {
    let Some(block) = plan.iter_mut().find(|b| b.what.starts_with(WALK)) else {
        return;
    };
    let must = needed.to_vec();
    let room = ((block.minutes / A_CARD) as usize).max(must.len());
    if fired.len() <= room || fired.iter().all(|n| *n == 0) {
        return;
    }
    let mut most: Vec<usize> = (0..fired.len()).collect();
    most.sort_by_key(|rule| (!must.contains(rule), std::cmp::Reverse(fired[*rule]), *rule));
    most.truncate(room);
    let (named, others) = most.split_at_mut(must.len());
    named.sort_unstable();
    others.sort_unstable();
    let numbers: Vec<String> = named.iter().map(|rule| format!("{}", rule + 1)).collect();
    let others = others.iter().filter_map(|rule| {
        let name = &scenario.offence.rules.get(*rule)?.name;
        Some(format!("{} {}", rule + 1, brief(name)))
    });
    // Those that are needed are named where that is.
    let mut cards: Vec<String> = Vec::new();
    cards.extend((!numbers.is_empty()).then(|| numbers.join(", ")));
    cards.extend(others);
    let named = format!("{WALK}s {}", cards.join("; "));
    block.what = block.what.replacen(&format!("{WALK}s"), &named, 1);
}

/// The finding about what is shut that look `i` answers beside its own, from 0.
fn also(found: &Findings, i: usize) -> Option<usize> {
    found.meanwhile.filter(|m| m.0 == i).map(|m| m.1)
}

/// The blocks of the looks, as they are wished for.
fn wanted_looks(chosen: &[Chosen], found: &Findings) -> Vec<Wanted> {
    let looks = chosen.iter().zip(&found.answered).enumerate();
    let looks = looks.map(|(i, (drill, answers))| Wanted {
        what: format!(
            "Look {}: {}{}",
            i + 1,
            drill.light.words(),
            match numbers(answers.iter().copied().chain(also(found, i))) {
                said if said.is_empty() => said,
                said => format!(" ({said})"),
            }
        ),
        // What is worth little gets little time.
        share: if drill.is_small() { 0.08 } else { 0.13 },
        rank: 2 + 3 * i as u32,
    });
    looks.collect()
}

/// The looks of which a possession shows an example, with as many turns as their block has time for.
fn rehearsals(
    (scenario, summary): (&Scenario, &Summary),
    replays: &[Replay],
    chosen: &[Chosen],
    found: &Findings,
    (plan, age): (&[Block], &Age),
) -> Vec<Rehearsal> {
    let examples = clearest(scenario, chosen, replays);
    let looks = chosen.iter().zip(examples).enumerate();
    let looks = looks.filter_map(|(i, (drill, example))| {
        let own = format!("Look {}:", i + 1);
        let block = plan.iter().find(|b| b.what.starts_with(&own));
        let minutes = block.map_or(0, |b| b.minutes);
        // Each team has the ball on both sides.
        let turns = 2.0 * Teams::of(scenario).turns as f64;
        let each = for_turns(minutes) / age.repetition() / turns;
        let answers = (found.answered.get(i).copied().flatten(), also(found, i));
        rehearsal(
            (scenario, summary),
            drill,
            replayed(scenario, replays, example?),
            each as u32,
            answers,
        )
    });
    looks.collect()
}

fn rehearsal(
    (scenario, summary): (&Scenario, &Summary),
    drill: &Chosen,
    (replay, time): (Cow<Replay>, f64),
    each_side: u32,
    (answers, also): (Option<usize>, Option<usize>),
) -> Option<Rehearsal> {
    let (possession, light) = (&replay.possession, drill.light);
    let start = start(scenario, possession, time)?;
    let mut scene = moment_of(scenario, &replay, light, time)?;
    let frame = possession.track.get(frame_at(&possession.track, time))?;
    let (holder, gets) = takes(scenario, &replay, light, time)?;
    let comes = |scene: &Scene| gets.is_none_or(|n| comes_by(scenario, scene, frame, n));
    let mut begins = start
        .begins
        .and_then(|from| from_there(scenario, possession, (from, time), &scene))
        .filter(comes);
    // A pass before that can't be drawn is none of the drill.
    let start = match begins {
        Some(_) => start,
        None => at_the_moment(scenario, possession, time)?,
    };
    match begins {
        Some(_) => call(scenario, frame, &mut scene),
        None => in_stance(scenario, possession, &mut scene),
    }
    let pictured = begins.as_ref().unwrap_or(&scene);
    let who = (holder, gets, start.caught);
    let floor = Floor::of(scenario, possession, time, who, pictured)?;
    let closer = drill
        .left
        .and_then(|i| summary.left.get(i))
        .map(|l| l.closer);
    let ball = frame.attackers.get(usize::from(holder).checked_sub(1)?)?;
    let side = scenario.court.nearest_spot(*ball).side;
    let side = side.unwrap_or(possession.side);
    let guard = number(scenario, closer, frame, (gets.unwrap_or(holder), side));
    let guard = guard.map(|x| (x, stands(scenario, pictured, x)));
    // Whoever catches it outside drives only where that was not mostly shut.
    let drives = light
        .at
        .is_none_or(|at| ends(summary, &at.words()) != SHOOTS);
    let otherwise = otherwise((scenario, summary), drill, &floor);
    if let Some((scene, passes)) = begins.as_mut().zip(otherwise) {
        next::draw(scene, passes);
    }
    Some(Rehearsal {
        name: capital(&light.words()),
        here: floor.short(),
        answers,
        also,
        card: start.card,
        said: how_often(light, &drill.key),
        points: points(light.look, start.caught, drives),
        start: said(scenario, &start, begins.as_ref()),
        cue: read((scenario, summary), drill, &floor, guard),
        each_side,
        example: (possession.seed, time),
        scene,
        begins,
    })
}

/// Does the run of a player, as it is drawn to its end, come by the place at which that player is in `frame`? Nobody is
/// passed to at a place that was left long before.
fn comes_by(scenario: &Scenario, scene: &Scene, frame: &Frame, player: u8) -> bool {
    let court = &scenario.court;
    let i = usize::from(player).wrapping_sub(1);
    let there = frame.attackers.get(i).map(|p| court.nearest_spot(*p));
    way_of(scene, player)
        .is_none_or(|way| way.iter().any(|p| Some(court.nearest_spot(*p)) == there))
}

/// The place near which a defender is drawn.
fn stands(scenario: &Scenario, scene: &Scene, x: u8) -> Option<Spot> {
    scene.items.iter().find_map(|item| match item {
        Item::Defender { number, pos, .. } if *number == x => {
            Some(scenario.court.nearest_spot(*pos))
        }
        _ => None,
    })
}
