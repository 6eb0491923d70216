//! Why it stalls, and what to change: who closes each look and where he stands, what that leaves
//! open elsewhere, whether the closing is his alone, where the offence stalls and after which rule,
//! and, the other way round, which defender is out of place and what it costs.
//!
//! Possessions are played as in a scrimmage, chunk by chunk, reduced to a [`Sheet`] each, and the
//! sheets are read in order of seed: the same seeds give the same figures to the last bit for any
//! number of threads. Unlike a scrimmage the sheets are kept, some 20 kB a possession.
//!
//! Definitions: looks, closers, what is left and what it adds in `sheet`; what-ifs in `whatif`;
//! stalls in `stalls`; places and their cost in `places`; what a step off opens in `step`. Intervals are 95 % and clustered by
//! possession (`stats`).

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use rayon::prelude::*;

use crate::defence::Stances;
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{Scenario, read_defence};
use crate::scrimmage::{CHUNK, Scrimmage, Unfit};
use crate::sim::{cast_of, ground, play_witnessed};

pub mod change;
pub mod matrix;
mod place;
pub mod places;
pub mod sheet;
pub mod stalls;
pub mod step;
pub mod summary;
pub mod whatif;

pub use place::{Half, Seat, Site, Where};
pub use sheet::Sheet;
pub use summary::Summary;

/// Another model, for where a closer would stand under it.
#[derive(Clone, Debug, PartialEq)]
pub struct Rival {
    /// What the other model is called.
    pub name: String,
    /// Where its defenders stand.
    pub stances: Stances,
}

/// The shipped man-to-man models other than the scenario's own.
pub fn rivals(scenario: &Scenario) -> Vec<Rival> {
    shipped::all(Kind::Defence)
        .filter_map(|file| read_defence(file.text, file.word).ok())
        .map(|read| read.value)
        .filter(|d| d.zone.is_none() && d.name != scenario.defence.name)
        .map(|d| Rival {
            name: d.name,
            stances: d.stances,
        })
        .collect()
}

/// Which possessions to look into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Why {
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// How many possessions to play.
    pub possessions: u64,
    /// 0 takes as many as the machine has.
    pub threads: usize,
}

impl Why {
    /// Plays and reads. `progress` is told how many possessions are done; `stop` may be set at any
    /// time, and what has been read by then is returned.
    ///
    /// # Errors
    /// If the seeds make no sense or the threads cannot be started.
    pub fn sheets(
        &self,
        scenario: &Scenario,
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Vec<Sheet>, Unfit> {
        self.scrimmage().check()?;
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(self.threads)
            .build()
            .map_err(|e| Unfit::Threads(e.to_string()))?;
        let (scenario, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
        let rivals = rivals(&scenario);
        let done = AtomicU64::new(0);
        let mut sheets = Vec::new();
        let last = self.first_seed + self.possessions;
        let mut first = self.first_seed;
        while first < last {
            let until = first.saturating_add(CHUNK).min(last);
            let read: Vec<Option<Sheet>> = pool.install(|| {
                (first..until)
                    .into_par_iter()
                    .map(|seed| {
                        if stop.load(Ordering::Relaxed) {
                            return None;
                        }
                        let (possession, mut instants) = play_witnessed(&scenario, &cast, seed);
                        let play = ground(&scenario, &cast, seed, possession.side);
                        let sheet = Sheet::of(&possession, &mut instants, &play, &rivals);
                        progress(done.fetch_add(1, Ordering::Relaxed) + 1);
                        Some(sheet)
                    })
                    .collect()
            });
            for sheet in read {
                match sheet {
                    Some(sheet) => sheets.push(sheet),
                    None => return Ok(sheets),
                }
            }
            first = until;
        }
        Ok(sheets)
    }

    /// The scrimmage on the same seeds.
    pub fn scrimmage(&self) -> Scrimmage {
        Scrimmage {
            first_seed: self.first_seed,
            possessions: self.possessions,
            threads: self.threads,
            until: None,
        }
    }
}
