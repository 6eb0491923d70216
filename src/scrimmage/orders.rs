//! What became of a rule's orders in many possessions: fired so often, carried out in so many, cut short by what,
//! and a seed and second at which each can be watched.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;
use serde::Serialize;

use crate::offence::{Offence, words};
use crate::possession::orders::{OrderEnd, OrderRecord};
use crate::scenario::Scenario;
use crate::sim::{cast_of, play_accounted};

/// An order that the play left time for at least so often and that was never carried out does not work (ours).
const SEEN: u64 = 3;

/// A moment to watch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Watch {
    /// Name of the defence.
    pub against: String,
    /// Seed of the possession.
    pub seed: u64,
    /// Seconds since it began.
    pub time: f64,
}

/// How many orders of a line ended in one way.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Ended {
    /// The way.
    pub end: OrderEnd,
    /// How many.
    pub count: u64,
    /// The rule whose order came, where that ended most of them.
    pub by: Option<String>,
    /// The first of them.
    pub first: Watch,
}

/// One line of a rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LineAccount {
    /// The player, as the rule names them.
    pub who: String,
    /// Line of the rule, and step of the line, from 0.
    pub line: usize,
    /// See `line`.
    pub step: usize,
    /// The order in words.
    pub does: String,
    /// How often it was ordered: the event came, and what the line asks for was so.
    pub given: u64,
    /// How often it was carried out as ordered.
    pub done: u64,
    /// How often the play left time for it: the possession did not end first, nor did the ball come.
    pub had_time: u64,
    /// How many orders ended in each way, most first.
    pub ends: Vec<Ended>,
}

/// One rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleAccount {
    /// Its name.
    pub name: String,
    /// How often its event came.
    pub fired: u64,
    /// What became of each line.
    pub lines: Vec<LineAccount>,
}

/// What never works in a file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NeverWorks {
    /// Index of the rule.
    pub rule: usize,
    /// Line of the rule; `None` if its event never came.
    pub line: Option<usize>,
    /// In a sentence.
    pub said: String,
}

/// The account of a whole offence.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Account {
    /// Name of the offence.
    pub offence: String,
    /// Names of the defences, each of which was played against as often as the others, or once more.
    pub against: Vec<String>,
    /// How many possessions.
    pub possessions: u64,
    /// In the order of the file.
    pub rules: Vec<RuleAccount>,
    /// Rules whose event never came, and lines that were never carried out.
    pub never: Vec<NeverWorks>,
}

/// Plays the possessions of seeds 1 to `possessions`, each scenario in turn, and accounts for every order. The
/// scenarios differ in their defence only.
pub fn account(scenarios: &[Scenario], possessions: u64) -> Option<Account> {
    let first = scenarios.first()?;
    let casts: Vec<_> = scenarios
        .iter()
        .map(|scenario| (Arc::new(scenario.clone()), cast_of(scenario)))
        .collect();
    let played: Vec<(Watch, Vec<OrderRecord>)> = (1..=possessions)
        .into_par_iter()
        .map(|seed| {
            let (scenario, cast) = &casts[(seed % casts.len() as u64) as usize];
            let (_, orders) = play_accounted(scenario, cast, seed);
            let against = scenario.defence.name.clone();
            let time = 0.0;
            (
                Watch {
                    against,
                    seed,
                    time,
                },
                orders,
            )
        })
        .collect();
    let offence = &first.offence;
    let rules: Vec<RuleAccount> = (0..offence.rules.len())
        .map(|rule| of_rule(offence, rule, &played))
        .collect();
    Some(Account {
        offence: offence.name.clone(),
        against: scenarios.iter().map(|s| s.defence.name.clone()).collect(),
        possessions,
        never: never_works(&rules, possessions),
        rules,
    })
}

fn of_rule(offence: &Offence, rule: usize, played: &[(Watch, Vec<OrderRecord>)]) -> RuleAccount {
    let written = &offence.rules[rule];
    let mut fired = 0;
    let mut lines = Vec::new();
    for (line, action) in written.actions.iter().enumerate() {
        for (step, does) in action.orders().enumerate() {
            let (total, ends) = ends_of(offence, played, (rule, line, step));
            fired = total.max(fired);
            let count = |is: fn(OrderEnd) -> bool| {
                let ends = ends.iter().filter(|ended| is(ended.end));
                ends.map(|ended| ended.count).sum::<u64>()
            };
            lines.push(LineAccount {
                who: words::role(action.who),
                line,
                step,
                does: words::bare(does),
                given: total - count(|end| end == OrderEnd::NotSo),
                done: count(OrderEnd::is_done),
                had_time: count(OrderEnd::had_time),
                ends,
            });
        }
    }
    RuleAccount {
        name: written.name.clone(),
        fired,
        lines,
    }
}

/// How many orders of one step of a line there were, and how they ended, most first.
fn ends_of(
    offence: &Offence,
    played: &[(Watch, Vec<OrderRecord>)],
    of: (usize, usize, usize),
) -> (u64, Vec<Ended>) {
    let mut ends: Vec<Ended> = Vec::new();
    let mut total = 0;
    // By end and rule.
    let mut others: BTreeMap<(OrderEnd, usize), u64> = BTreeMap::new();
    for (watch, orders) in played {
        let about = |record: &&OrderRecord| (record.rule, record.line, record.step) == of;
        for record in orders.iter().filter(about) {
            total += 1;
            if let Some(by) = record.by {
                *others.entry((record.end, by)).or_default() += 1;
            }
            match ends.iter_mut().find(|ended| ended.end == record.end) {
                Some(ended) => ended.count += 1,
                None => ends.push(Ended {
                    end: record.end,
                    count: 1,
                    by: None,
                    first: Watch {
                        time: record.told,
                        ..watch.clone()
                    },
                }),
            }
        }
    }
    for ended in &mut ends {
        // Of those that ended as many, the first rule.
        let rules = others.iter().filter(|((end, _), _)| *end == ended.end);
        let most = rules.max_by_key(|((_, rule), count)| (**count, Reverse(*rule)));
        ended.by = most.map(|((_, rule), _)| offence.rules[*rule].name.clone());
    }
    ends.sort_by_key(|ended| (Reverse(ended.count), ended.end));
    (total, ends)
}

fn never_works(rules: &[RuleAccount], possessions: u64) -> Vec<NeverWorks> {
    let mut never = Vec::new();
    for (index, rule) in rules.iter().enumerate() {
        if rule.lines.is_empty() {
            continue;
        }
        if rule.fired == 0 {
            let said = format!("its event never came in {possessions} possessions");
            let line = None;
            never.push(NeverWorks {
                rule: index,
                line,
                said,
            });
        }
        for line in &rule.lines {
            if line.done > 0 || line.had_time < SEEN {
                continue;
            }
            if let Some(most) = line.ends.iter().find(|ended| ended.end.had_time()) {
                let said = format!(
                    "{} was to {} {} times, and never did; mostly: {}",
                    line.who,
                    line.does,
                    line.given,
                    most.end.word()
                );
                let line = Some(line.line);
                never.push(NeverWorks {
                    rule: index,
                    line,
                    said,
                });
            }
        }
    }
    never
}
