//! What is fixed for a possession: players, dice, the yardstick of choices, and what is to be written down.

use std::sync::Arc;

use crate::court::Side;
use crate::looks::Cast;
use crate::scenario::Scenario;

use super::components::Play;
use super::dice::Dice;

/// What to write down besides the timeline and the ending.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Keep {
    /// Everybody's place at every tick.
    pub track: bool,
    /// The looks at every decision instant.
    pub moments: bool,
}

impl Keep {
    pub const FIGURES: Keep = Keep {
        track: false,
        moments: true,
    };
    pub const ALL: Keep = Keep {
        track: true,
        moments: true,
    };
}

/// What is fixed for the possession of a seed.
pub fn ground(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64, side: Side) -> Play {
    Play {
        scenario: scenario.clone(),
        cast: cast.clone(),
        usual: cast.usual,
        dice: Dice::new(seed),
        hand: side.sign(),
    }
}
