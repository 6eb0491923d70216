//! Moments that the drills ask about, looked for on a thread of their own: a defender who has the duty that is
//! drilled, a moment to read, or a rule that sends somebody on.
//!
//! Of what fits in a possession one moment is taken, whatever the right answer is: "nobody" and "stay" are right as
//! often as they are in play. Where a defender is to be placed, a moment is looked for in which the place matters: a
//! step off it opens something.

use std::sync::Arc;
use std::sync::atomic::Ordering;

use super::drill::Task;
use super::drill_judge::{can_be_asked, teaches};
use super::jobs::Job;
use super::recording::Recording;
use crate::court::Spot;
use crate::defence::Duty;
use crate::possession::there::plays;
use crate::possession::{Ballwork, Possession, TICK, What};
use crate::scenario::Scenario;
use crate::sim::instant::Instant;

/// Everybody has to have had this long to get somewhere, seconds.
const SETTLED: f64 = 1.2;
/// So long the ball has to be held where a place in the stance is asked for, seconds.
const CALM: f64 = 0.4;
/// Two rules that fire this near to each other are not asked about, seconds.
const ALONE: f64 = 0.5;
/// Most possessions that are looked through for a moment.
pub const SEEDS: u64 = 400;
/// A place matters where a step off it opens so much, points (ours).
pub const MATTERS: f64 = 0.1;
/// So many possessions with a moment of the task are looked through for one that matters; then the best of them is
/// taken.
const LOOKED: usize = 12;

/// A moment to ask about.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The possession.
    pub seed: u64,
    /// The time, seconds.
    pub time: f64,
    /// The defenders (0–4) to place; empty for the attackers' drills.
    pub who: Vec<usize>,
    /// Where an attacker goes, if that is asked.
    pub goes: Option<Goes>,
}

/// Where an attacker goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Goes {
    /// The attacker, 0–4.
    pub who: usize,
    /// The place that is held from now on.
    pub to: Spot,
    /// Has no rule sent this player anywhere else?
    pub stays: bool,
    /// The rule that fires, by its place in the offence, and the line of it that is meant, if one is.
    pub rule: (usize, Option<usize>),
}

/// Every moment of a possession that fits a task.
pub fn fits(possession: &Possession, instants: &[Instant], seed: u64, task: Task) -> Vec<Found> {
    if task == Task::Where {
        return sent(possession, instants, seed);
    }
    let mut all = Vec::new();
    for (moment, instant) in possession.moments.iter().zip(instants) {
        let found = |who: Vec<usize>| Found {
            seed,
            time: moment.time,
            who,
            goes: None,
        };
        let holds = matches!(moment.ballwork, Ballwork::Holding | Ballwork::PickedUp);
        let settled = moment.time > SETTLED;
        let calm = holds && settled && moment.held > CALM;
        let holder = instant.hold.by;
        let guards = instant.old.scene.guards;
        let five = || (0..5).filter(|d| plays(instant.old.scene.pos[5 + d]));
        let off_ball = five().filter(|d| guards[*d] != holder);
        match task.duty() {
            Some(duty) => {
                // On the move a duty counts at once; in the stance everybody has had time to get there.
                let ready = if moves(duty) { settled } else { calm };
                let his = five().filter(|d| instant.old.duties[*d].0 == duty && ready);
                all.extend(his.map(|d| found(vec![d])));
            }
            None if !calm => {}
            None => match task {
                Task::AllFive => all.push(found(five().collect())),
                Task::Read if moment.backdoor.is_empty() => {}
                Task::Read => all.push(found(Vec::new())),
                _ => all.extend(off_ball.map(|d| found(vec![d]))),
            },
        }
    }
    all
}

/// Is it a duty that is done on the run?
pub fn moves(duty: Duty) -> bool {
    matches!(
        duty,
        Duty::LowHelp | Duty::Rotating | Duty::Trailing | Duty::Recovering
    )
}

/// Whom a rule sends somewhere, and who is to stay: everybody off the ball but those who are told to do something
/// without going to another place.
fn sent(possession: &Possession, instants: &[Instant], seed: u64) -> Vec<Found> {
    let mut all = Vec::new();
    let rules: Vec<(f64, usize, _)> = possession
        .timeline
        .iter()
        .filter_map(|entry| match entry.what {
            What::Rule { rule, told } => Some((entry.time, rule, told)),
            _ => None,
        })
        .collect();
    for (k, (time, rule, told)) in rules.iter().enumerate() {
        let near =
            |(j, (other, ..)): (usize, &(f64, usize, _))| j != k && (other - time).abs() < ALONE;
        if *time < SETTLED || rules.iter().enumerate().any(near) {
            continue;
        }
        let after = possession
            .moments
            .partition_point(|m| m.time < *time - 1e-6);
        let before = after.checked_sub(1).and_then(|i| instants.get(i));
        let (Some(before), Some(next)) = (before, possession.moments.get(after)) else {
            continue;
        };
        let has_it = [before.hold.by, usize::from(next.holder) - 1];
        for who in (0..5).filter(|w| !has_it.contains(w)) {
            let (to, stays, line) = match (told[who], before.old.places[who]) {
                (Some(told), _) => match told.to {
                    Some(to) => (to, false, Some(usize::from(told.line))),
                    None => continue,
                },
                (None, Some(held)) => (held, true, None),
                (None, None) => continue,
            };
            all.push(Found {
                seed,
                time: *time + TICK,
                who: Vec::new(),
                goes: Some(Goes {
                    who,
                    to,
                    stays,
                    rule: (*rule, line),
                }),
            });
        }
    }
    all
}

/// Looks for a moment in the possessions after seed `after`; `turn` decides which of several is taken.
pub fn find(scenario: Arc<Scenario>, task: Task, after: u64, turn: u64) -> Job<Option<Found>> {
    Job::start("drill", SEEDS, move |stop, done| {
        let (mut best, mut looked) = (None::<(f64, Found)>, 0);
        for seed in (after..u64::MAX).skip(1).take(SEEDS as usize) {
            if stop.load(Ordering::Relaxed) {
                return None;
            }
            let recording = Recording::of(&scenario, seed);
            let mut fits = fits(&recording.possession, &recording.instants, seed, task);
            looked += usize::from(!fits.is_empty());
            while let Some(found) = pick(&mut fits, turn) {
                if found.who.is_empty() {
                    return Some(Some(found));
                }
                let moment = recording.moment_at(found.time);
                let stands = |m: &usize| can_be_asked(&recording, *m, &found.who);
                let Some(moment) = moment.filter(stands) else {
                    continue;
                };
                let most = teaches(&recording, moment, &found.who);
                if most >= MATTERS {
                    return Some(Some(found));
                }
                if best.as_ref().is_none_or(|(known, _)| *known < most) {
                    best = Some((most, found));
                }
            }
            if looked >= LOOKED {
                break;
            }
            done.fetch_add(1, Ordering::Relaxed);
        }
        Some(best.map(|(_, found)| found))
    })
}

/// One of several, taken out of them: another one each turn, in no order that a learner could learn.
pub fn pick(fits: &mut Vec<Found>, turn: u64) -> Option<Found> {
    // Fibonacci hashing: the golden ratio as a 64-bit fraction (Knuth, 1973, "The Art of Computer Programming"
    // 3, 6.4, from memory).
    let hash = turn.wrapping_mul(0x9E37_79B9_7F4A_7C15) >> 32;
    let at = (hash as usize).checked_rem(fits.len())?;
    Some(fits.swap_remove(at))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sim::cast_of;
    use crate::sim::play_on::play_on;

    /// Where a place is asked for, the place matters: a step off it opens something, more often than at any moment.
    #[test]
    fn a_place_that_is_asked_for_matters() {
        let scenario = Arc::new(Scenario::demo());
        for task in [Task::HelpLine, Task::Gap, Task::One] {
            let (mut asked, mut any, mut rounds) = (0, 0, 0);
            for turn in 1..=12 {
                let after = 10 * turn;
                let mut job = find(scenario.clone(), task, after, turn);
                let found = job.take_within(std::time::Duration::from_secs(60));
                let found = found.flatten().expect("a moment");
                let recording = Recording::of(&scenario, found.seed);
                let moment = recording.moment_at(found.time).expect("a decision");
                assert!(can_be_asked(&recording, moment, &found.who), "{found:?}");
                let gains = |found: &Found| {
                    let recording = Recording::of(&scenario, found.seed);
                    let moment = recording.moment_at(found.time).expect("a decision");
                    teaches(&recording, moment, &found.who)
                };
                asked += usize::from(gains(&found) >= MATTERS);
                let first = Recording::of(&scenario, after + 1);
                let mut fits = fits(&first.possession, &first.instants, after + 1, task);
                if let Some(found) = pick(&mut fits, turn) {
                    rounds += 1;
                    any += usize::from(gains(&found) >= MATTERS);
                }
            }
            println!(
                "{}: {asked} of 12 asked matter, {any} of {rounds} of any",
                task.word()
            );
            assert!(asked >= 9 && asked > any, "{task:?}: {asked}, {any}");
        }
    }

    fn each(seeds: std::ops::Range<u64>, task: Task, mut f: impl FnMut(&Possession, Vec<Found>)) {
        let scenario = Arc::new(Scenario::demo());
        let cast = cast_of(&scenario);
        for seed in seeds {
            let (possession, instants) = play_on(&scenario, &cast, seed, &[]);
            let found = fits(&possession, &instants, seed, task);
            f(&possession, found);
        }
    }

    #[test]
    fn who_is_asked_for_has_the_duty_that_is_drilled() {
        for task in Task::DEFENDERS {
            let Some(duty) = task.duty() else { continue };
            let mut asked = 0;
            each(1..30, task, |possession, found| {
                for moment in found {
                    let frame = |t: f64| (t / TICK).round() as usize - 1;
                    let duties = possession.track[frame(moment.time)].duties;
                    assert_eq!(duties[moment.who[0]], duty, "{task:?}");
                    asked += 1;
                }
            });
            println!("{}: {asked} in 29 possessions", task.word());
            // Against a help line nobody denies.
            assert!(asked > 0 || duty == Duty::Denying, "{task:?}");
        }
    }

    #[test]
    fn nobody_is_the_right_answer_as_often_as_it_is_in_play() {
        let on = |p: &Possession, time: f64| {
            let moment = p.moments.iter().find(|m| (m.time - time).abs() < 1e-6);
            moment.is_some_and(|m| m.backdoor.iter().any(|b| b.there))
        };
        let (mut all, mut nobody_of_all) = (0, 0);
        let (mut asked, mut nobody_asked) = (0, 0);
        each(1..200, Task::Read, |possession, found| {
            for moment in &found {
                all += 1;
                nobody_of_all += usize::from(!on(possession, moment.time));
            }
            let turn = found.first().map_or(0, |f| f.seed);
            let mut found = found;
            if let Some(moment) = pick(&mut found, turn) {
                asked += 1;
                nobody_asked += usize::from(!on(possession, moment.time));
            }
        });
        let (in_play, in_drill) = (
            nobody_of_all as f64 / all as f64,
            nobody_asked as f64 / asked as f64,
        );
        println!(
            "nobody is right in {in_play:.2} of {all} moments, {in_drill:.2} of {asked} asked"
        );
        // Three standard errors of what is asked.
        let error = 3.0 * (in_play * (1.0 - in_play) / asked as f64).sqrt();
        assert!(
            (in_play - in_drill).abs() < error.max(0.03),
            "{in_play} {in_drill}"
        );
    }

    #[test]
    fn where_a_player_goes_is_what_the_rule_says_and_some_stay() {
        let (mut goes, mut stays) = (0, 0);
        each(1..40, Task::Where, |possession, found| {
            for moment in found {
                let asked = moment.goes.expect("somebody goes");
                let told = possession.timeline.iter().find_map(|e| match e.what {
                    What::Rule { rule, told }
                        if rule == asked.rule.0 && (e.time + TICK - moment.time).abs() < 1e-6 =>
                    {
                        Some(told)
                    }
                    _ => None,
                });
                let told = told.expect("the rule")[asked.who];
                assert_eq!(told.is_none(), asked.stays);
                if let Some(told) = told {
                    assert_eq!(told.to, Some(asked.to));
                    goes += 1;
                } else {
                    stays += 1;
                }
            }
        });
        println!("{goes} go, {stays} stay");
        assert!(goes > 20 && stays > 20);
    }
}
