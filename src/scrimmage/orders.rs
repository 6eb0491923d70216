//! What became of a rule's orders in many possessions: fired so often, carried out in so many, cut short by what,
//! and a seed and second at which each can be watched.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use rayon::prelude::*;
use serde::Serialize;

use crate::defence::Duty;
use crate::offence::{Movement, Offence, Role, words};
use crate::possession::Turnover;
use crate::possession::orders::{OrderEnd, OrderRecord, Silence, Silent, Way};
use crate::scenario::Scenario;
use crate::sim::{cast_of, play_with_silent};

mod never;

pub use never::NeverWorks;
use never::never_works;

use super::measures::measures;
use super::results::{Figure, Results};
use super::row::Row;

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
    /// The rule whose order ended them, or most of them, if rules did.
    pub by: Option<String>,
    /// Whom the line names and nobody was, where that is why.
    pub nobody: Option<String>,
    /// What most of the defenders did who shut a promised pass, where that is why.
    pub shut: Option<String>,
    /// The first of them; of those that the rule named here ended, if one is named.
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
    /// How often the play cut it off: the possession ended, the ball came, or the like.
    pub cut_off: u64,
    /// How often another rule of the file ended it before there was time for it.
    pub called_away: u64,
    /// How often there was time for it: all but these two.
    pub had_time: u64,
    /// How many orders ended in each way, most first.
    pub ends: Vec<Ended>,
    /// How often the player came off a screen in each way, most first, where that is the order.
    pub ways: Vec<(Way, u64)>,
}

impl Watch {
    /// At this second of the same possession.
    fn at(&self, time: f64) -> Watch {
        Watch {
            time,
            ..self.clone()
        }
    }
}

impl LineAccount {
    /// How many orders ended in ways like this.
    fn count(&self, is: fn(OrderEnd) -> bool) -> u64 {
        let ends = self.ends.iter().filter(|ended| is(ended.end));
        ends.map(|ended| ended.count).sum()
    }
}

/// How often a rule did not fire for one reason.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Silenced {
    /// The event came, and this was not so, in words; `None`: whoever has the ball had moved off the place with it.
    pub not_so: Option<String>,
    /// Where most of those who had moved off were, in words.
    pub moved_to: Option<String>,
    /// How many.
    pub count: u64,
    /// The first of them.
    pub first: Watch,
}

/// One rule.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RuleAccount {
    /// Its name.
    pub name: String,
    /// What it waits for, in words.
    pub waits_for: String,
    /// How often its event came.
    pub fired: u64,
    /// How often it did not fire, though its event came or nearly did, and why, most first.
    pub silent: Vec<Silenced>,
    /// What became of each line.
    pub lines: Vec<LineAccount>,
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
    /// What the possessions came to.
    pub came_to: CameTo,
}

/// What the possessions of an account came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CameTo {
    /// Points a possession, with their interval.
    pub points: Option<Figure>,
    /// Possessions that ended in a shot.
    pub shots: u64,
    /// Possessions lost without a shot.
    pub lost: u64,
    /// Those of them lost because the shot clock ran out.
    pub shot_clock: u64,
    /// Those of them lost because an attacker was in the lane for too long.
    pub three_seconds: u64,
}

impl CameTo {
    fn of(rows: &[Row]) -> CameTo {
        let list = measures();
        let mut results = Results::new(1, &list);
        for row in rows {
            results.fold(row, &list);
        }
        let count = |is: &dyn Fn(&Row) -> bool| rows.iter().filter(|row| is(row)).count() as u64;
        let lost_by = |how| count(&|row| row.turnover.is_some_and(|t| t.0 == how));
        CameTo {
            points: results.figures().into_iter().find(|f| f.name == "points"),
            shots: count(&|row| row.shot.is_some()),
            lost: count(&|row| row.turnover.is_some()),
            shot_clock: lost_by(Turnover::ShotClock),
            three_seconds: lost_by(Turnover::LaneSeconds),
        }
    }
}

/// Plays the possessions of seeds 1 to `possessions`, each scenario in turn, and accounts for every order. The
/// scenarios differ in their defence only.
pub fn account(scenarios: &[Scenario], possessions: u64) -> Option<Account> {
    let first = scenarios.first()?;
    let casts: Vec<_> = scenarios
        .iter()
        .map(|scenario| (Arc::new(scenario.clone()), cast_of(scenario)))
        .collect();
    let (told, rows): (Vec<(Watch, Vec<OrderRecord>, Vec<Silent>)>, Vec<Row>) = (1..=possessions)
        .into_par_iter()
        .map(|seed| {
            let (scenario, cast) = &casts[(seed % casts.len() as u64) as usize];
            let (possession, orders, silent) = play_with_silent(scenario, cast, seed);
            let watch = Watch {
                against: scenario.defence.name.clone(),
                seed,
                time: 0.0,
            };
            ((watch, orders, silent), Row::of(&possession))
        })
        .unzip();
    let silent: Vec<(Watch, Silent)> = told
        .iter()
        .flat_map(|(watch, _, silent)| silent.iter().map(|one| (watch.at(one.since), *one)))
        .collect();
    let played: Vec<(Watch, Vec<OrderRecord>)> = told
        .into_iter()
        .map(|(watch, orders, _)| (watch, orders))
        .collect();
    let offence = &first.offence;
    let rules: Vec<RuleAccount> = (0..offence.rules.len())
        .map(|rule| RuleAccount {
            silent: silenced(rule, &silent),
            ..of_rule(offence, rule, &played)
        })
        .collect();
    Some(Account {
        offence: offence.name.clone(),
        against: scenarios.iter().map(|s| s.defence.name.clone()).collect(),
        possessions,
        never: never_works(offence, &rules, possessions, scenarios.len()),
        rules,
        came_to: CameTo::of(&rows),
    })
}

fn of_rule(offence: &Offence, rule: usize, played: &[(Watch, Vec<OrderRecord>)]) -> RuleAccount {
    let written = &offence.rules[rule];
    let mut fired = 0;
    let mut lines = Vec::new();
    for (line, action) in written.actions.iter().enumerate() {
        for (step, does) in action.orders().enumerate() {
            let of = (rule, line, step);
            let (total, ends) = ends_of(offence, played, of);
            fired = total.max(fired);
            let mut account = LineAccount {
                who: words::role(action.who),
                line,
                step,
                does: words::bare(does),
                given: 0,
                done: 0,
                cut_off: 0,
                called_away: 0,
                had_time: 0,
                ends,
                ways: ways_of(played, of),
            };
            account.given = total - account.count(|end| !end.is_of_an_order());
            account.done = account.count(OrderEnd::is_done);
            let records = || played.iter().flat_map(|(_, orders)| about(orders, of));
            let not_so = total - account.given;
            account.cut_off = records().filter(|r| r.is_cut_off()).count() as u64 - not_so;
            account.called_away = records().filter(|r| r.is_called_away()).count() as u64;
            account.had_time = account.given - account.cut_off - account.called_away;
            lines.push(account);
        }
    }
    RuleAccount {
        name: written.name.clone(),
        waits_for: words::event(&written.when),
        fired,
        silent: Vec::new(),
        lines,
    }
}

/// Why a rule did not fire, though its event came or nearly did, most first.
fn silenced(rule: usize, silent: &[(Watch, Silent)]) -> Vec<Silenced> {
    let mut all: Vec<Silenced> = Vec::new();
    let mut places: BTreeMap<String, u64> = BTreeMap::new();
    for (watch, one) in silent.iter().filter(|(_, one)| one.rule == rule) {
        let not_so = match one.why {
            Silence::NotSo(asks) => Some(words::condition(asks, "the player")),
            Silence::MovedOff(to) => {
                *places.entry(words::place(to)).or_default() += 1;
                None
            }
        };
        match all.iter_mut().find(|old| old.not_so == not_so) {
            Some(old) => old.count += 1,
            None => all.push(Silenced {
                not_so,
                moved_to: None,
                count: 1,
                first: watch.clone(),
            }),
        }
    }
    let most = places.iter().max_by_key(|(_, count)| **count);
    for one in all.iter_mut().filter(|one| one.not_so.is_none()) {
        one.moved_to = most.map(|(place, _)| place.clone());
    }
    all.sort_by_key(|one| Reverse(one.count));
    all
}

/// The records of one step of a line.
fn about(orders: &[OrderRecord], of: (usize, usize, usize)) -> impl Iterator<Item = &OrderRecord> {
    let is = move |record: &&OrderRecord| (record.rule, record.line, record.step) == of;
    orders.iter().filter(is)
}

/// How the player came off the screen, most first.
fn ways_of(played: &[(Watch, Vec<OrderRecord>)], of: (usize, usize, usize)) -> Vec<(Way, u64)> {
    let mut ways: BTreeMap<Way, u64> = BTreeMap::new();
    for (_, orders) in played {
        for way in about(orders, of).filter_map(|record| record.way) {
            *ways.entry(way).or_default() += 1;
        }
    }
    let mut ways: Vec<(Way, u64)> = ways.into_iter().collect();
    ways.sort_by_key(|(way, count)| (Reverse(*count), *way));
    ways
}

/// How many orders of one step of a line there were, and how they ended, most first.
fn ends_of(
    offence: &Offence,
    played: &[(Watch, Vec<OrderRecord>)],
    of: (usize, usize, usize),
) -> (u64, Vec<Ended>) {
    let mut ends: Vec<Ended> = Vec::new();
    let mut total = 0;
    // By end and rule, how many, and the first of them.
    let mut others: BTreeMap<(OrderEnd, usize), (u64, Watch)> = BTreeMap::new();
    let mut shut: BTreeMap<(OrderEnd, Duty), u64> = BTreeMap::new();
    for (watch, orders) in played {
        for record in about(orders, of) {
            total += 1;
            let nobody = nobody(offence, of, record);
            let watch = watch.at(record.told);
            if let Some(by) = record.by {
                let of_this = others.entry((record.end, by));
                of_this.or_insert_with(|| (0, watch.clone())).0 += 1;
            }
            if let Some(duty) = record.shut {
                *shut.entry((record.end, duty)).or_default() += 1;
            }
            // What a rule ended is told apart from what the play did.
            let by = record.by.map(|rule| offence.rules[rule].name.clone());
            let same = |ended: &&mut Ended| {
                (ended.end, &ended.nobody, ended.by.is_some())
                    == (record.end, &nobody, by.is_some())
            };
            match ends.iter_mut().find(same) {
                Some(ended) => ended.count += 1,
                None => ends.push(Ended {
                    end: record.end,
                    count: 1,
                    by,
                    nobody,
                    shut: None,
                    first: watch,
                }),
            }
        }
    }
    for ended in &mut ends {
        // Of those that ended as many, the first rule; to watch is the first that this rule ended.
        let rules = others.iter().filter(|((end, _), _)| *end == ended.end);
        let most = rules.max_by_key(|((_, rule), (count, _))| (*count, Reverse(*rule)));
        if let Some(((_, rule), (_, first))) = most.filter(|_| ended.by.is_some()) {
            ended.by = Some(offence.rules[*rule].name.clone());
            ended.first = first.clone();
        }
        let duties = shut.iter().filter(|((end, _), _)| *end == ended.end);
        let most = duties.max_by_key(|((_, duty), count)| (**count, Reverse(*duty)));
        ended.shut = most.map(|((_, duty), _)| duty.word().to_owned());
    }
    ends.sort_by_key(|ended| (Reverse(ended.count), ended.end));
    (total, ends)
}

/// Whom such an order looked for and did not find.
fn nobody(
    offence: &Offence,
    (rule, line, step): (usize, usize, usize),
    record: &OrderRecord,
) -> Option<String> {
    if record.end != OrderEnd::NobodyThere {
        return None;
    }
    let action = &offence.rules[rule].actions[line];
    let named = match record.who {
        None => Some(action.who),
        // The player was there: the team-mate was not.
        Some(_) => action.orders().nth(step).and_then(team_mate),
    };
    named.map(words::role)
}

/// The team-mate whom a movement names.
fn team_mate(does: &Movement) -> Option<Role> {
    match does {
        Movement::ScreenFor { whom: mate, .. }
        | Movement::UseScreen { of: mate, .. }
        | Movement::Replace(mate) => Some(*mate),
        other => other.team_mate(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    /// One order that rule 1 ended, then two that rule 2 ended: the case to watch belongs to the rule that is named.
    #[test]
    fn the_case_to_watch_is_one_of_the_rule_that_is_named() {
        let offence = Scenario::demo().offence;
        let ended_by = |by| OrderRecord {
            rule: 0,
            line: 0,
            step: 0,
            who: Some(1),
            told: by as f64,
            ended: 9.0,
            end: OrderEnd::AnotherOrder,
            by: Some(by),
            way: None,
            shut: None,
        };
        let played: Vec<(Watch, Vec<OrderRecord>)> = [1, 2, 2]
            .into_iter()
            .zip(1..)
            .map(|(by, seed)| {
                let watch = Watch {
                    against: "Sag".to_owned(),
                    seed,
                    time: 0.0,
                };
                (watch, vec![ended_by(by)])
            })
            .collect();
        let (total, ends) = ends_of(&offence, &played, (0, 0, 0));
        assert_eq!((total, ends.len(), ends[0].count), (3, 1, 3));
        assert_eq!(ends[0].by.as_ref(), Some(&offence.rules[2].name));
        assert_eq!((ends[0].first.seed, ends[0].first.time), (2, 2.0));
    }
}
