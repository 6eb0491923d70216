//! The search for the best of many candidates on common seeds, by successive elimination.
//!
//! Every candidate still in is played on the same next seeds, against every defence searched
//! against; its value on a seed is the mean over these defences. After each round those that
//! [`Rule`] puts aside are played no more. The search ends when one is left, when those left have
//! never differed, or when the budget of possessions does not cover another round.
//!
//! The engine knows nothing of the floor: a [`Source`] says what a candidate is worth on a seed. It
//! keeps all values (8 bytes a candidate and seed), so that what is kept and taken up again goes on
//! bit for bit.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use rayon::prelude::*;

use super::elimination::{ROUND, Rule, alike};

/// What candidates are worth.
pub trait Source: Sync {
    /// The figure of `candidate` against `defence` (both from 0) on a seed; more is better. The
    /// same arguments always give the same value.
    fn value(&self, candidate: usize, defence: usize, seed: u64) -> f64;
}

/// What is searched, and how surely.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// How many candidates; the first is the offence as it is.
    pub candidates: usize,
    /// How many defences each candidate plays against on every seed.
    pub defences: usize,
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// Possessions at most.
    pub budget: u64,
    /// When a candidate is eliminated.
    pub rule: Rule,
}

/// How a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ended {
    /// One is left.
    Known,
    /// Those left never differed.
    Alike,
    /// The budget of possessions is used up and more than one candidate is left.
    OutOfBudget,
    /// Stopped from outside; the search can be taken up again.
    Interrupted,
}

/// A search under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Search {
    /// What is searched, and how surely.
    pub plan: Plan,
    /// One list for each candidate: its value on each seed that it was played on.
    pub(super) values: Vec<Vec<f64>>,
    /// Candidates still in.
    pub(super) alive: Vec<usize>,
    /// Seeds complete.
    pub(super) seeds: u64,
    /// Possessions played.
    pub(super) played: u64,
}

impl Search {
    /// A search that has played nothing yet.
    pub fn new(plan: Plan) -> Search {
        Search {
            plan,
            values: vec![Vec::new(); plan.candidates],
            alive: (0..plan.candidates).collect(),
            seeds: 0,
            played: 0,
        }
    }

    /// Goes on until it ends. `progress` is told how many possessions are played; `keep` gets the
    /// search after every round and says whether to go on; `stop` may be set at any time: the
    /// round on its way is dropped, whole rounds stay.
    pub fn run(
        &mut self,
        source: &dyn Source,
        pool: &rayon::ThreadPool,
        progress: &(dyn Fn(u64) + Sync),
        keep: &mut dyn FnMut(&Search) -> bool,
        stop: &AtomicBool,
    ) -> Ended {
        loop {
            if self.alive.len() <= 1 {
                return Ended::Known;
            }
            if alike(&self.values, &self.alive) {
                return Ended::Alike;
            }
            let defences = self.plan.defences.max(1);
            let cost = self.alive.len() as u64 * defences as u64 * ROUND;
            if self.played + cost > self.plan.budget {
                return Ended::OutOfBudget;
            }
            let Some(first) = self.plan.first_seed.checked_add(self.seeds) else {
                return Ended::OutOfBudget;
            };
            let done = AtomicU64::new(self.played);
            let alive = &self.alive;
            let one = |job: usize| {
                let seed = first.checked_add((job / alive.len()) as u64)?;
                let candidate = alive[job % alive.len()];
                let mut sum = 0.0;
                for defence in 0..defences {
                    if stop.load(Ordering::Relaxed) {
                        return None;
                    }
                    sum += source.value(candidate, defence, seed);
                    progress(done.fetch_add(1, Ordering::Relaxed) + 1);
                }
                Some(sum / defences as f64)
            };
            let jobs = alive.len() * ROUND as usize;
            let round: Option<Vec<f64>> =
                pool.install(|| (0..jobs).into_par_iter().map(one).collect());
            let Some(round) = round else {
                return Ended::Interrupted;
            };
            for (job, value) in round.into_iter().enumerate() {
                self.values[self.alive[job % self.alive.len()]].push(value);
            }
            self.seeds += ROUND;
            self.played += cost;
            let out = self.plan.rule.put_aside(&self.values, &self.alive);
            self.alive.retain(|i| !out.contains(i));
            if !keep(self) {
                return Ended::Interrupted;
            }
        }
    }

    /// Does the source still give what was kept? Asked for the first seed of every candidate still
    /// in.
    pub fn agrees_with(&self, source: &dyn Source) -> bool {
        let defences = self.plan.defences.max(1);
        self.alive.iter().all(|candidate| {
            let Some(kept) = self.values[*candidate].first() else {
                return true;
            };
            let sum: f64 = (0..defences)
                .map(|defence| source.value(*candidate, defence, self.plan.first_seed))
                .sum();
            (sum / defences as f64).to_bits() == kept.to_bits()
        })
    }

    /// Seeds complete; the next one has not been seen by anybody.
    pub fn seeds(&self) -> u64 {
        self.seeds
    }

    /// Possessions played.
    pub fn played(&self) -> u64 {
        self.played
    }

    /// Candidates by how far they came, the best first: those still in by their mean, then those
    /// put aside, the last put aside first.
    pub fn ranking(&self) -> Vec<Standing> {
        let mut list: Vec<Standing> = (0..self.plan.candidates)
            .map(|candidate| {
                let values = &self.values[candidate];
                let n = values.len();
                Standing {
                    candidate,
                    alive: self.alive.contains(&candidate),
                    seeds: n as u64,
                    mean: (n > 0).then(|| values.iter().sum::<f64>() / n as f64),
                }
            })
            .collect();
        list.sort_by(|a, b| {
            let key = |s: &Standing| (s.alive, s.seeds);
            let mean = |s: &Standing| s.mean.unwrap_or(f64::NEG_INFINITY);
            key(b)
                .cmp(&key(a))
                .then(mean(b).total_cmp(&mean(a)))
                .then(a.candidate.cmp(&b.candidate))
        });
        list
    }

    /// Possessions that equal shares would have needed for the same promise; see
    /// [`Rule::equal_shares`].
    pub fn equal_shares(&self) -> Option<u64> {
        let seeds = self.plan.rule.equal_shares(&self.values)?;
        Some(seeds * self.plan.candidates as u64 * self.plan.defences.max(1) as u64)
    }
}

/// How far one candidate came.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize)]
pub struct Standing {
    /// Index of the candidate.
    pub candidate: usize,
    /// Not eliminated yet.
    pub alive: bool,
    /// Seeds that it was played on.
    pub seeds: u64,
    /// Mean of its values, in the unit of the figure searched by; larger is better.
    pub mean: Option<f64>,
}

#[cfg(test)]
#[path = "search_tests.rs"]
mod tests;
