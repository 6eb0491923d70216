//! What a coach asks of the looks that the team takes: how long to look, how many passes first, and who shoots from where.

use serde::{Deserialize, Serialize};

use super::Place;

/// How long the offence is content to look, and what it asks of a shot.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Patience {
    /// Seconds that a holder looks before he moves the ball on.
    pub hold: f64,
    /// Seconds after which the offence takes what it gets, where no shot clock says so.
    pub possession: f64,
    /// Points more than it is worth to go on that a look must be worth: above 0 a patient team, below a quick one.
    pub asks_more: f64,
    /// Passes to throw before anybody shoots or drives from outside; at the rim a shot is always allowed, and so is
    /// what there is when the time is nearly up.
    #[serde(skip_serializing_if = "is_none")]
    pub passes_first: u8,
}

fn is_none(passes: &u8) -> bool {
    *passes == 0
}

impl Default for Patience {
    fn default() -> Self {
        Patience {
            hold: 1.1,
            possession: 30.0,
            asks_more: 0.0,
            passes_first: 0,
        }
    }
}

/// From where a player shoots: from these places, and at the rim.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShotsFrom {
    /// Number of the player, 1–5.
    pub player: u8,
    /// The places; none: at the rim only.
    pub from: Vec<Place>,
}
