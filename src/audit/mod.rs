//! The audit: counts on tracks, our own or any others, the figures that real play is known by.
//!
//! Everything is measured on the places of ten players and the ball at 25/3 Hz and on who holds the
//! ball, on nothing that only a simulation knows. `clip` says what a settled part, a hold and a
//! pass are; each group of sights has its own file with the definitions; `sights` is the registry of
//! all of them with the figures of real play ([`SOURCE`]); `figures` adds up and compares.
//!
//! Not seen in tracks, and so not here: whether the holder dribbles, and what the offence is told. The tracked games are full of ball screens; a pure motion
//! offence may pass more, cut more and dribble less.

mod clip;
mod counts;
mod drives;
mod figures;
mod guarding;
mod motion;
mod passes;
mod read;
mod sights;
mod spacing;

#[cfg(test)]
mod tests;

use crate::scenario::Scenario;
use crate::scrimmage::Unfit;
use crate::scrimmage::tracked::tracked;
use crate::sim::Keep;

pub use clip::{Clip, FRONT, Frame, HOLD, Hold, OUTSIDE, PASS, Pass, SETTLED, STEP, Track};
pub use counts::{Counts, List, Pair};
pub use drives::{Drive, find_drives};
pub use figures::{Figure, Mark, NEAR, figures};
pub use guarding::Matches;
pub use read::{Misread, read};
pub use sights::{Gauge, Group, Real, SIGHTS, SOURCE, Sight, Wish};

/// Counted possessions.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Audit {
    /// One for each possession, in order.
    pub counts: Vec<Counts>,
}

impl Audit {
    /// Plays `possessions` seeds from `first_seed` on and counts; the same to the last bit for any
    /// number of `threads` (0: all that there are).
    ///
    /// # Errors
    /// If there is nothing to play, or the threads cannot be started.
    pub fn of(
        scenario: &Scenario,
        first_seed: u64,
        possessions: u64,
        threads: usize,
    ) -> Result<Audit, Unfit> {
        let mut counts = Vec::new();
        tracked(
            scenario,
            first_seed,
            possessions,
            threads,
            Keep {
                track: true,
                moments: false,
            },
            |possession| Counts::of(&Track::of(possession)),
            |row| counts.push(row),
        )?;
        Ok(Audit { counts })
    }

    /// Counts tracks that were read or made elsewhere, one a possession.
    pub fn of_tracks(tracks: &[Track]) -> Audit {
        Audit {
            counts: tracks.iter().map(Counts::of).collect(),
        }
    }

    /// Settled play, seconds.
    pub fn seconds(&self) -> f64 {
        self.counts.iter().map(Counts::seconds).sum()
    }

    /// Possessions with a settled part.
    pub fn settled(&self) -> usize {
        self.counts.iter().filter(|c| c.seconds() > 0.0).count()
    }

    /// All figures, in the order of the registry.
    pub fn figures(&self) -> Vec<Figure> {
        figures(&self.counts)
    }
}
