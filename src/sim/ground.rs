//! What is fixed for a possession: players, dice, the yardstick of choices, and what is to be written down.

use std::sync::Arc;

use crate::court::Side;
use crate::looks::Cast;
use crate::model::Perception;
use crate::scenario::Scenario;

use super::components::{Play, View};
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

/// Eyes fixed on one thing take in less to the side than eyes open to both.
fn view(model: &Perception) -> View {
    View {
        open: libm::cos(model.half_view),
        fixed: libm::cos(model.half_view * model.fixed_gaze_share),
    }
}

/// What is fixed for the possession of a seed.
pub fn ground(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64, side: Side) -> Play {
    Play {
        scenario: scenario.clone(),
        cast: cast.clone(),
        usual: cast.usual,
        dice: Dice::new(seed),
        hand: side.sign(),
        view: view(&cast.model.perception),
    }
}
