//! Which orders make a rule of an offence fire: found by walking, so that every rule's card shows
//! what the floor does by that rule and not what somebody drew.
//!
//! Orders are tried breadth first, the ball starting on the right: what a holder can be told at
//! once, then after each pass, drive and dribble the same again. States that have been seen (who
//! stands where, who has the ball) are not walked on from. A flash is over before everybody has
//! settled: where a walk shows one, it is walked again and the ball held just until the flash is on.
//! What no walk brings about (a pass that is too long from spot to spot, a clock, chains longer than
//! [`DEEPEST`]) is taken from the first possession in which it comes about in play.

use std::collections::BTreeSet;
use std::sync::Arc;

use rayon::prelude::*;

use crate::court::{Court, Side};
use crate::offence::{Action, Event};
use crate::possession::{Entry, Frame, Possession, What};
use crate::scenario::Scenario;
use crate::sim::walkthrough::{Order, Pace, Standing, Step, Walker};
use crate::sim::{Keep, cast_untaught, play_shared};

use super::account::account;

/// Orders one after the other, at most.
pub const DEEPEST: usize = 4;
/// Long enough for every "the ball stays" of the shipped offences, seconds.
const STAYS: f64 = 6.0;
/// How much of a possession is shown before and after, seconds (ours).
const BEFORE: f64 = 2.0;
const AFTER: f64 = 4.0;
/// Longer than any walk, seconds.
const NEVER: f64 = 1e5;
/// A post who has come high is seen so long after, seconds (ours: one look up).
const SEEN: f64 = 0.08;

/// How long is searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Search {
    /// Orders carried out at most: what is not found by then is looked for in possessions.
    pub orders: usize,
    /// Possessions played at most for what no walk brings about.
    pub possessions: u64,
    /// A rule that play brings about has been seen often enough after so many times.
    pub often: usize,
}

impl Search {
    /// For cards that are printed (ours).
    pub const FULL: Search = Search {
        orders: 6000,
        possessions: 600,
        often: 4,
    };
}

/// The plainest walk of a rule.
#[derive(Clone)]
struct Best {
    /// How plainly it shows the rule, `Account::blur`.
    blur: u32,
    /// Does everybody stand where the rule names them, and nobody end an earlier run?
    in_place: bool,
    walked: Walked,
}

/// The plainest walk so far for each rule, and how many were seen.
struct Found<'a> {
    scenario: &'a Scenario,
    best: Vec<Option<Best>>,
    seen: Vec<usize>,
}

impl Found<'_> {
    /// Keeps a walk if it shows its rule more plainly than the one before.
    fn keep(&mut self, rule: usize, walked: impl FnOnce() -> Option<Walked>) {
        let scenario = self.scenario;
        let Some(written) = scenario.offence.rules.get(rule) else {
            return;
        };
        if self.best[rule].as_ref().is_some_and(|best| best.blur == 0) {
            return;
        }
        let Some(walked) = walked() else { return };
        let hands = |a: &Action| a.does.links().any(|m| m.hands_to().is_some());
        if written.actions.iter().any(hands) && !is_handed_over(&walked) {
            return;
        }
        let Some(account) = account(&scenario.court, &scenario.offence, &walked) else {
            return;
        };
        self.seen[rule] += 1;
        let blur = account.blur(written, rule);
        let astray = account.misplaced(rule) + account.running() + account.elsewhere(written, rule);
        let in_place = astray == 0;
        // Nobody can set up a card that begins out of place, however plain the rest of it is.
        let plainer = |old: &Best| (!in_place, blur) < (!old.in_place, old.blur);
        if self.best[rule].as_ref().is_none_or(plainer) {
            self.best[rule] = Some(Best {
                blur,
                in_place,
                walked,
            });
        }
    }

    /// Is a plainer picture of the rule worth another order?
    fn is_wanted(&self, rule: usize) -> bool {
        self.best[rule].as_ref().is_none_or(|best| !best.in_place)
    }

    fn is_missing(&self, rule: usize) -> bool {
        self.best[rule].is_none()
    }
}

/// Does the ball go over, after the rule, before the walk is over? (A picture before that shows nobody go anywhere.)
fn is_handed_over(walked: &Walked) -> bool {
    let mut later = walked.step.timeline.iter();
    later.any(|e| e.time > walked.fired && matches!(e.what, What::HandsOff { .. }))
}

/// One rule as it was walked.
#[derive(Clone, Debug)]
pub struct Walked {
    /// Index into the offence's rules.
    pub rule: usize,
    /// What was done before, for people who wonder how one gets there.
    pub orders: Vec<Order>,
    /// The step in which the rule fired.
    pub step: Step,
    /// When the rule fired, seconds.
    pub fired: f64,
}

/// Every rule of the scenario's offence that can be walked, in order of rule.
///
/// Of all walks that show a rule the plainest is kept (`Account::blur`), the first of equals.
pub fn walks(scenario: &Scenario, search: &Search) -> Vec<Walked> {
    let rules = &scenario.offence.rules;
    let mut found = Found {
        scenario,
        best: vec![None; rules.len()],
        seen: vec![0; rules.len()],
    };
    let mut seen = BTreeSet::new();
    let mut frontier: Vec<Vec<Order>> = vec![Vec::new()];
    let mut left = search.orders;
    for depth in 1..=DEEPEST {
        let missing: Vec<&Event> = rules
            .iter()
            .enumerate()
            .filter(|(i, _)| found.is_wanted(*i))
            .map(|(_, r)| &r.when)
            .collect();
        let mut chains: Vec<Vec<Order>> = frontier
            .iter()
            .flat_map(|before| {
                let tries = tries(&missing, before);
                tries.into_iter().map(|order| {
                    let mut chain = before.clone();
                    chain.push(order);
                    chain
                })
            })
            .collect();
        chains.truncate(left / depth);
        left -= chains.len() * depth;
        let walked: Vec<Option<Step>> = chains.par_iter().map(|c| walk(scenario, c)).collect();
        frontier.clear();
        for (chain, step) in chains.into_iter().zip(walked) {
            let (Some(step), Some(order)) = (step, chain.last().cloned()) else {
                continue;
            };
            note(&mut found, &chain, &step);
            if let Some(met) = until_the_flash(&chain, &step)
                && seen.insert((key(&scenario.court, &step), 3))
            {
                frontier.push(met);
            }
            let state = match order {
                Order::PassTo(_) if chain.iter().rev().skip(2).any(is_short) => continue,
                Order::PassTo(_) if chain.iter().any(is_short) => 2,
                Order::PassTo(_) | Order::DribbleAt(_) => 0,
                Order::Drive => 1,
                _ => continue,
            };
            if state == 2 || seen.insert((key(&scenario.court, &step), state)) {
                frontier.push(chain);
            }
        }
        if !(0..rules.len()).any(|rule| found.is_wanted(rule)) {
            break;
        }
    }
    undisturbed(&mut found);
    played(search, &mut found);
    found
        .best
        .into_iter()
        .flatten()
        .map(|best| best.walked)
        .collect()
}

/// Where a rule that waits for the ball to stay sends somebody off before the way of another rule's
/// card is over, the same orders are walked as if the ball had not stayed so long.
fn undisturbed(found: &mut Found) {
    let mut quick = found.scenario.clone();
    for rule in &mut quick.offence.rules {
        if let Event::BallOn { seconds, .. } = &mut rule.when {
            *seconds = NEVER;
        }
    }
    for rule in 0..found.best.len() {
        let scenario = found.scenario;
        let Some(Best { walked, .. }) = &found.best[rule] else {
            continue;
        };
        let account = account(&scenario.court, &scenario.offence, walked);
        if account.is_none_or(|a| a.short(rule) == 0) {
            continue;
        }
        let chain = walked.orders.clone();
        if let Some(step) = walk(&quick, &chain) {
            note(found, &chain, &step);
        }
    }
}

/// Fills what is still missing from possessions. A picture of a rule needs no value learnt first.
fn played(search: &Search, found: &mut Found) {
    let scenario = &in_their_places(found.scenario);
    let (shared, cast) = (Arc::new(scenario.clone()), cast_untaught(scenario));
    let count = scenario.offence.rules.len();
    let missing: Vec<usize> = (0..count).filter(|i| found.is_missing(*i)).collect();
    for seed in 1..=search.possessions {
        // Seen often, and with everybody in place; or as plain as can be.
        let often = |i: &usize| {
            found.best[*i].as_ref().is_some_and(|best| {
                best.blur == 0 || best.in_place && found.seen[*i] >= search.often
            })
        };
        if missing.iter().all(often) {
            return;
        }
        let possession = play_shared(&shared, &cast, seed, Keep::ALL);
        for entry in &possession.timeline {
            if let What::Rule { rule, .. } = entry.what
                && missing.contains(&rule)
            {
                found.keep(rule, || part(&possession, rule, entry.time));
            }
        }
    }
}

/// The same scenario, but that everybody finds the places to the inch: a picture is of the places.
fn in_their_places(scenario: &Scenario) -> Scenario {
    let mut model = (*scenario.model).clone();
    let movement = &mut model.movement;
    (movement.place_scatter, movement.place_scatter_together) = (0.0, 0.0);
    (movement.place_scatter_out, movement.place_scatter_in) = (0.0, 0.0);
    Scenario {
        model: Arc::new(model),
        ..scenario.clone()
    }
}

/// The part of a possession in which a rule fired, as if it had been walked.
fn part(possession: &Possession, rule: usize, fired: f64) -> Option<Walked> {
    let within = |time: f64| time >= fired - BEFORE && time <= fired + AFTER;
    let frames = possession.track.iter().filter(|f| within(f.time));
    let frames: Vec<Frame> = frames.cloned().collect();
    let timeline = possession.timeline.iter().filter(|e| within(e.time));
    let last = frames.last()?;
    let next = possession.moments.iter().find(|m| m.time >= fired)?;
    Some(Walked {
        rule,
        orders: Vec::new(),
        fired,
        step: Step {
            order: Order::Hold(AFTER),
            done: true,
            settled: false,
            holder: last.holder,
            ball_side: next.at.side.unwrap_or(possession.side),
            standing: last.attackers.map(|pos| Standing { place: None, pos }),
            rules: Vec::new(),
            timeline: timeline.cloned().collect(),
            frames,
        },
    })
}

/// The same orders with the ball held only until he who flashes has come; `None` if nobody
/// does, or a flash is being met already.
fn until_the_flash(chain: &[Order], step: &Step) -> Option<Vec<Order>> {
    let comes = step.timeline.iter().find_map(|e| match e.what {
        What::Flashes { .. } => Some(e.time),
        _ => None,
    })?;
    if chain.iter().any(is_short) {
        return None;
    }
    let mut orders = chain.to_vec();
    let began = match orders.last()? {
        Order::PassTo(to) => {
            let thrown = |e: &&Entry| matches!(e.what, What::Passes { .. });
            let thrown = step.timeline.iter().find(thrown)?.time;
            let held = |f: &&Frame| f.time > thrown && f.holder == Some(*to);
            step.frames.iter().find(held)?.time
        }
        Order::Hold(_) => {
            orders.pop();
            step.frames.first()?.time
        }
        _ => return None,
    };
    let hold = Order::Hold(comes - began + SEEN);
    (comes > began && is_short(&hold)).then(|| {
        orders.push(hold);
        orders
    })
}

/// A hold after which the play goes on at once, while a flash is on.
fn is_short(order: &Order) -> bool {
    matches!(order, Order::Hold(seconds) if *seconds < STAYS)
}

/// Carries out all orders; what came of the last. `None` if one of them could not be done.
pub(super) fn walk(scenario: &Scenario, chain: &[Order]) -> Option<Step> {
    let mut walker = Walker::new(scenario, Side::Right, true);
    let mut last = None;
    for (i, order) in chain.iter().enumerate() {
        // From the order before a short hold on nobody waits for the others.
        let next = chain.get(i + 1);
        let quick =
            next.is_some_and(is_short) || next.is_some() && chain[..=i].iter().any(is_short);
        let pace = if quick {
            Pace::Seconds(0.0)
        } else {
            Pace::Settled
        };
        let step = walker.carry_out(order, pace);
        if !step.done || walker.ended().is_some() {
            return None;
        }
        last = Some(step);
    }
    last
}

/// What the holder can be told next, as far as it may bring a rule that is still missing.
fn tries(missing: &[&Event], before: &[Order]) -> Vec<Order> {
    let wanted = |event: fn(&Event) -> bool| missing.iter().any(|e| event(e));
    let mates = || 1..=5_u8;
    let mut list: Vec<Order> = mates().map(Order::PassTo).collect();
    if matches!(before.last(), Some(Order::Drive)) || before.iter().any(is_short) {
        return list;
    }
    list.push(Order::Drive);
    if wanted(|e| matches!(e, Event::Denied { .. })) {
        list.extend(mates().map(|m| Order::Deny(vec![m])));
    }
    if wanted(|e| matches!(e, Event::PostForgotten { .. })) {
        list.push(Order::Forget);
    }
    if wanted(|e| matches!(e, Event::BallOn { .. })) {
        list.push(Order::Hold(STAYS));
    }
    if wanted(|e| matches!(e, Event::DribbleAt { .. })) {
        list.extend(mates().map(Order::DribbleAt));
    }
    list
}

fn note(found: &mut Found, chain: &[Order], step: &Step) {
    for entry in &step.timeline {
        let What::Rule { rule, .. } = entry.what else {
            continue;
        };
        found.keep(rule, || {
            Some(Walked {
                rule,
                orders: chain.to_vec(),
                step: step.clone(),
                fired: entry.time,
            })
        });
    }
}

/// Who stands where and who has the ball.
fn key(court: &Court, step: &Step) -> String {
    let mut key = format!("{:?} {:?}", step.holder, step.ball_side);
    for standing in &step.standing {
        let spot = standing.place.unwrap_or(court.nearest_spot(standing.pos));
        key.push_str(&format!(" {spot}"));
    }
    key
}
