//! Variations played on the same seeds: comparison, and the search for the best.
//!
//! A **variation** is a scenario with one thing changed (a tweak, a number, the defence). Every
//! seed is played under every variation, and only differences on the same seed are judged: what is
//! luck in both cancels. What a seed shares under two variations is its dice (`sim::dice`), so
//! the gain is large where a change seldom matters and small where play soon goes other ways; it
//! is reported, never assumed.
//!
//! * [`yardstick`]: what is compared: the registry of measures, and a few that only a comparison
//!   needs.
//! * [`paired`]: the difference of two ratios of sums on the same seeds, with its interval.
//! * [`compare`]: two or more variations, every yardstick.
//! * [`staged`]: verdicts while it is still being played, which no more possessions take back.
//! * [`knobs`], [`field`]: tweaks, pairs of tweaks and numeric ranges as variations.
//! * [`elimination`]: Kim and Nelson's procedure; [`search`] runs it, [`kept`] keeps it.

use std::sync::Arc;

use crate::looks::Cast;
use crate::scenario::Scenario;
use crate::scrimmage::Row;
use crate::sim::{Keep, cast_of, play_shared};

pub mod compare;
pub mod elimination;
pub mod field;
pub mod kept;
pub mod knobs;
pub mod paired;
pub mod search;
pub mod staged;
pub mod worth;
pub mod yardstick;

pub use compare::{Comparison, Contest, Contrast, Difference};
pub use field::{Candidate, Field};
pub use search::{Ended, Plan, Search, Source};
pub use staged::{Staged, Standing};
pub use yardstick::{Better, Yardstick, yardsticks};

/// One thing to play: a scenario and what a coach calls it.
#[derive(Clone)]
pub struct Variation {
    /// What a coach calls it, as tables show it.
    pub name: String,
    scenario: Arc<Scenario>,
    cast: Arc<Cast>,
}

impl Variation {
    /// Court and players, with what they have learnt.
    pub fn cast(&self) -> &Arc<Cast> {
        &self.cast
    }

    /// A scenario under a name.
    pub fn new(name: impl Into<String>, scenario: Scenario) -> Variation {
        Variation {
            name: name.into(),
            cast: cast_of(&scenario),
            scenario: Arc::new(scenario),
        }
    }

    /// The scenario that is played.
    pub fn scenario(&self) -> &Scenario {
        &self.scenario
    }

    /// The possession of that seed in numbers.
    pub fn row(&self, seed: u64) -> Row {
        Row::of(&play_shared(
            &self.scenario,
            &self.cast,
            seed,
            Keep::FIGURES,
        ))
    }
}
