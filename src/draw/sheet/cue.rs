//! Whom a drill of a few has read, when, and what follows if that defender does the one thing or the other.

use crate::offence::LookKind;

use super::super::cards::{Card, Part};
use super::breakdown::{cutter, holder};
use super::next::as_drawn;

/// Whom to read and when, and what to do if it is the one thing, and what if the other (common practice).
pub(super) fn cue(card: &Card, look: LookKind, denied: bool, who: u8) -> String {
    let x = format!("X{who}");
    let ball = holder(card).unwrap_or(who);
    let place = |n: u8| card.parts.iter().find(|p| p.player == n);
    let from = place(who).map_or("", |p| p.from.as_str());
    let to = place(who).map_or("", |p| p.to.as_str());
    let shown = |part: &Part| part.does.contains("seal ") || part.does.contains("flash ");
    let cue = match (look, denied) {
        (_, true) => format!(
            "Read {x} at the {from}, on “go”: in the lane between {who} and the ball, {who} cuts behind and gets a bounce pass; \
             dropped back to the rim, {who} gets a plain pass."
        ),
        (LookKind::Drive, _) => format!(
            "Read {x} at the {from}, at the first step: beside {who}, go on to the rim; in front of {who}, stop on two feet and pass."
        ),
        _ if cutter(card) == Some(who) => format!(
            "Read {x} on the way to the rim, as {ball} catches: behind {who}, {ball} passes to {who}'s front hand; between {who} \
             and the ball, no pass, and {who} finishes the cut."
        ),
        (LookKind::Post, _) if holder(card) != Some(who) && place(who).is_some_and(shown) => {
            format!(
                "Read {x} as {who} comes to the {to}: behind {who} with no arm in the way, {ball} feeds {who} at once; beside {who} \
                 with an arm in the way or between {who} and the ball, no feed."
            )
        }
        (LookKind::Post | LookKind::DropOff, _) => format!(
            "Read {x} at the {from}, on the catch: behind {who}, {who} turns and scores; coming round in front, {who} passes back \
             out."
        ),
        _ => format!(
            "Read {x} at the {to}, on the catch: too far off to reach the shot, {who} shoots; close or running at {who}, {who} \
             drives by."
        ),
    };
    as_drawn(&cue)
}
