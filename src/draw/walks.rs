//! Which orders make a rule of an offence fire: found by walking, so that every rule's card shows
//! what the floor does by that rule and not what somebody drew.
//!
//! Orders are tried breadth first, the ball starting on the right: what a holder can be told at
//! once, then after each pass, drive and dribble the same again. States that have been seen (who
//! stands where, who has the ball) are not walked on from. Not found: rules that wait for a clock,
//! which a walk does not have, and what takes longer chains than [`DEEPEST`].

use std::collections::BTreeSet;

use rayon::prelude::*;

use crate::court::{Court, Side};
use crate::floor::walk::{Order, Pace, Step, Walker};
use crate::offence::Event;
use crate::possession::{Entry, What};
use crate::scenario::Scenario;

/// Orders one after the other, at most.
pub const DEEPEST: usize = 4;
/// Orders carried out at most: what is not found by then stays without a picture.
const MOST: usize = 6000;
/// Long enough for every "the ball stays" of the shipped offences, seconds.
const STAYS: f64 = 6.0;
/// Holds after which a flash may be on, seconds: it is met by trying.
const FLASHED: [f64; 7] = [2.6, 3.0, 3.4, 4.0, 4.6, 5.1, 5.6];

/// One rule as it was walked.
#[derive(Clone, Debug)]
pub struct Walked {
    /// Index into the offence's rules.
    pub rule: usize,
    /// What was done before, for people who wonder how one gets there.
    pub orders: Vec<Order>,
    pub step: Step,
    /// When the rule fired, seconds.
    pub fired: f64,
}

/// Every rule of the scenario's offence that can be walked, in order of rule.
pub fn walks(scenario: &Scenario) -> Vec<Walked> {
    let rules = &scenario.offence.rules;
    let mut found: Vec<Option<Walked>> = vec![None; rules.len()];
    let mut seen = BTreeSet::new();
    let mut frontier: Vec<Vec<Order>> = vec![Vec::new()];
    let mut left = MOST;
    for depth in 1..=DEEPEST {
        let missing: Vec<&Event> = rules
            .iter()
            .zip(&found)
            .filter(|(_, f)| f.is_none())
            .map(|(r, _)| &r.when)
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
            let state = match order {
                Order::PassTo(_) if chain.iter().rev().skip(2).any(is_short) => continue,
                Order::PassTo(_) if chain.iter().any(is_short) => 2,
                Order::PassTo(_) | Order::DribbleAt(_) => 0,
                Order::Drive => 1,
                // A flash is on only for a moment: whatever stands where.
                Order::Hold(_) if is_short(&order) => 2,
                _ => continue,
            };
            if state == 2 || seen.insert((key(&scenario.court, &step), state)) {
                frontier.push(chain);
            }
        }
        if found.iter().all(Option::is_some) {
            break;
        }
    }
    found.into_iter().flatten().collect()
}

/// A hold after which the play goes on at once, to find a flash while it is on.
fn is_short(order: &Order) -> bool {
    matches!(order, Order::Hold(seconds) if *seconds < STAYS)
}

/// Carries out all orders; what came of the last. `None` if one of them could not be done.
fn walk(scenario: &Scenario, chain: &[Order]) -> Option<Step> {
    let mut walker = Walker::new(scenario, Side::Right, true);
    let mut last = None;
    for (i, order) in chain.iter().enumerate() {
        let quick = chain[..=i].iter().any(is_short) && i + 1 < chain.len();
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
    if before.len() < 2 && wanted(|e| matches!(e, Event::Pass { .. })) {
        list.extend(FLASHED.map(Order::Hold));
    }
    if wanted(|e| matches!(e, Event::DribbleAt { .. })) {
        list.extend(mates().map(Order::DribbleAt));
    }
    list
}

fn note(found: &mut [Option<Walked>], chain: &[Order], step: &Step) {
    for entry in &step.timeline {
        let What::Rule { rule, .. } = entry.what else {
            continue;
        };
        let Some(slot) = found.get_mut(rule) else {
            continue;
        };
        if slot.is_none() {
            *slot = Some(Walked {
                rule,
                orders: chain.to_vec(),
                step: step.clone(),
                fired: entry.time,
            });
        }
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

/// The player whom an entry says to move, and whether that is a new task.
pub(super) fn mover(entry: &Entry) -> Option<u8> {
    match entry.what {
        What::Cuts { who, .. }
        | What::Fills { who, .. }
        | What::Flashes { who, .. }
        | What::Seals { who, .. }
        | What::Screens { who, .. }
        | What::Drives { who, .. }
        | What::DribblesAt { who, .. } => Some(who),
        _ => None,
    }
}
