//! Hand-offs in words.

use crate::possession::{Kept, What};

/// Who, and what he does; `None` for what is no hand-off.
pub(super) fn clause(what: &What) -> Option<(String, String)> {
    let (who, does) = match *what {
        What::SetsOutToHand {
            who,
            toward,
            dribbles: true,
        } => (who, format!("dribbles toward {toward} to hand off")),
        What::SetsOutToHand { who, toward, .. } => (who, format!("waits to hand off to {toward}")),
        What::HandsOff { from, to } => (from, format!("hands the ball to {to}")),
        What::KeepsIt { who, from, why } => {
            let why = match why {
                Kept::Overplayed => "is overplayed",
                Kept::Busy => "is busy elsewhere",
                Kept::Late => "does not get there",
            };
            (who, format!("keeps it: {from} {why}"))
        }
        _ => return None,
    };
    Some((who.to_string(), does))
}
