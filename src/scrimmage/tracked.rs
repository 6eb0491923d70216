//! Possessions played for their tracks, each reduced at once to what is measured on it.

use std::sync::Arc;

use rayon::prelude::*;

use crate::possession::Possession;
use crate::scenario::Scenario;
use crate::sim::{Keep, cast_of, play_shared};

use super::{CHUNK, Unfit};

/// Plays `possessions` seeds from `first_seed` on, measures each, and adds up in order of seed: the
/// same to the last bit for any number of `threads` (0: all that there are).
///
/// # Errors
/// If there is nothing to play, or the threads cannot be started.
pub fn tracked<T: Send>(
    scenario: &Scenario,
    first_seed: u64,
    possessions: u64,
    threads: usize,
    keep: Keep,
    measure: impl Fn(&Possession) -> T + Sync,
    mut add: impl FnMut(T),
) -> Result<(), Unfit> {
    if possessions == 0 {
        return Err(Unfit::NoPossessions);
    }
    let end = first_seed
        .checked_add(possessions)
        .ok_or(Unfit::OutOfSeeds {
            first_seed,
            possessions,
        })?;
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .map_err(|e| Unfit::Threads(e.to_string()))?;
    let (scenario, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
    let mut first = first_seed;
    while first < end {
        let last = end.min(first.saturating_add(CHUNK));
        let play = |seed| measure(&play_shared(&scenario, &cast, seed, keep));
        let rows: Vec<T> = pool.install(|| (first..last).into_par_iter().map(play).collect());
        rows.into_iter().for_each(&mut add);
        first = last;
    }
    Ok(())
}
