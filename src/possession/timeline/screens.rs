//! Hand-offs, screens and flashes that come to nothing, and slips, in words.

use crate::possession::{Kept, What};

/// Who, and what he does; `None` for anything else.
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
        What::NoScreen { who, of } => {
            (who, format!("gets no screen from {of} and goes without it"))
        }
        What::Slips { who, on } => (who, format!("slips to the rim: X{on} has stepped out")),
        What::NoFlash {
            who,
            to,
            taken: true,
        } => (who, format!("finds the {to} taken and lets it be")),
        What::NoFlash { who, to, .. } => (
            who,
            format!("does not get to the {to} and steps out of the lane"),
        ),
        What::LetsBe { who } => (who, "lets the flash be: the ball has gone on".into()),
        _ => return None,
    };
    Some((who.to_string(), does))
}
