//! Two cards for one player: somebody else than on the picture catches, that catch is another card's, and it sends on
//! whoever this card has sent. Which of them counts, and who then goes where, is what the floor does: the walk of the
//! card, with the last pass to each of the others.

use crate::court::Spot;
use crate::possession::What;
use crate::scenario::Scenario;
use crate::sim::walkthrough::{Order, Step};
use crate::why::Where;

use super::walks::{Walked, walk};

/// For each catch after which another card counts for a player whom rule `index` has sent, what that card then tells whom.
pub(super) fn sent_on(scenario: &Scenario, index: usize, walked: &Walked) -> Vec<String> {
    let Some((Order::PassTo(drawn), before)) = walked.orders.split_last() else {
        return Vec::new();
    };
    let others = (1..=5).filter(|to| to != drawn);
    let said = others.filter_map(|to| {
        let mut chain = before.to_vec();
        chain.push(Order::PassTo(to));
        said_of(index, &walk(scenario, &chain)?)
    });
    let mut out: Vec<String> = Vec::new();
    for one in said {
        if !out.contains(&one) {
            out.push(one);
        }
    }
    out
}

/// "If 4 catches at the corner instead, 4's side becomes the ball side: card 11 sends 2 on to the wing there and 1 to the
/// slot there."
fn said_of(index: usize, step: &Step) -> Option<String> {
    let mut sent: [Option<Spot>; 5] = [None; 5];
    let mut caught: Option<(u8, Spot)> = None;
    for entry in &step.timeline {
        match &entry.what {
            What::Catches { who, at, .. } => caught = caught.or(Some((*who, *at))),
            What::Rule { rule, told } if *rule == index => {
                sent = told.map(|t| t.and_then(|t| t.to));
            }
            What::Rule { rule, told } if caught.is_some() => {
                let to = told.map(|t| t.and_then(|t| t.to));
                let on = |i: &usize| sent[*i].is_some() && to[*i].is_some() && sent[*i] != to[*i];
                if !(0..5).any(|i| on(&i)) {
                    continue;
                }
                let (who, at) = caught?;
                let place = |spot: Spot| match (spot.side, at.side) {
                    (Some(a), Some(b)) if a == b => format!("{} there", spot.name.word()),
                    _ => Where::of(spot, step.ball_side).words(),
                };
                let goes = |i: usize| {
                    let on = if on(&i) { " on" } else { "" };
                    Some(format!("{}{on} to the {}", i + 1, place(to[i]?)))
                };
                let mut all: Vec<usize> = (0..5).collect();
                all.sort_by_key(|i| !on(i));
                let all: Vec<String> = all.into_iter().filter_map(goes).collect();
                let side = match at.side {
                    Some(_) => format!(", {who}'s side becomes the ball side"),
                    None => String::new(),
                };
                return Some(format!(
                    "If {who} catches at the {} instead{side}: card {} sends {}.",
                    at.name.word(),
                    rule + 1,
                    all.join(" and ")
                ));
            }
            _ => {}
        }
    }
    None
}
