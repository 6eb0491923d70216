//! How every drill and look is run and scored (common practice of the trade), once for the whole sheet: the count, what is
//! a right read, who has the points, what ends a turn. Where a drive was mostly shut, none is asked for.

use crate::offence::LookKind;
use crate::stats::Estimate;
use crate::why::{Half, Summary};

use super::handout::SIGNS;
use super::reads::{MOSTLY, SEEN};

/// So long a player has with the ball, as players count (common practice: one a second).
pub(super) const COUNT: &str = "a count of one";
/// The same, seconds.
pub(super) const COUNTED: f64 = 1.0;

/// The heading of the box.
pub(super) const HEAD: &str = "How every drill and look is run";

/// Places from which a drive was mostly shut with the ball there, by their words without a side.
pub fn shut_drives(summary: &Summary) -> Vec<&'static str> {
    let least = |e: Option<Estimate>| e.map_or(0.0, |e| e.low);
    let drives = summary.looks.iter().filter(|l| {
        l.site.kind == LookKind::Drive
            && l.seen.is_some_and(|e| e.value >= SEEN)
            && least(l.shut) >= MOSTLY
    });
    let from = drives
        .filter_map(|l| l.site.from)
        .filter(|at| at.half != Some(Half::Weak));
    let mut out: Vec<&str> = Vec::new();
    for word in from.map(|at| at.spot.word()) {
        if !out.contains(&word) {
            out.push(word);
        }
    }
    out
}

/// What the last player of a turn does where a drive was mostly shut.
pub(super) const SHOOTS: &str = "shoots";

/// What the last player of a turn does with the ball at a place ("left slot"), with nobody near.
pub(super) fn ends(summary: &Summary, at: &str) -> &'static str {
    match shut_drives(summary).iter().any(|word| at.ends_with(word)) {
        true => SHOOTS,
        false => "shoots or drives",
    }
}

/// What a drive at a defender who comes up is.
fn drive(summary: &Summary) -> String {
    let shut = shut_drives(summary);
    match shut.split_last() {
        None => "A drive past a defender who comes up is right.".to_string(),
        Some((last, others)) => {
            let list = match others {
                [] => (*last).to_string(),
                _ => format!("{} or {last}", others.join(", ")),
            };
            format!(
                "A drive at a defender who comes up is wrong from the {list}, where most drives were shut, but for drills of the \
                 drive; elsewhere it is right."
            )
        }
    }
}

/// The lines of the box. `small`: are there drills of small groups?
pub fn rules(summary: &Summary, small: bool) -> Vec<String> {
    let points = match small {
        true => {
            "In a small group each attacker adds the points of a turn to their own, and X those of a stop; of two teams, the \
             team has them."
        }
        false => "The team has the points.",
    };
    let mut out = vec![
        format!(
            "Count: out loud, one a second, from the catch; with a seal or a flash, from when that player is there. The holder has \
             {COUNT}; then the ball goes on at once."
        ),
        format!(
            "Score: a right read is 1, and 1 more if the turn ends in a basket; a wrong read, or a ball held past the count, is 0. \
             The pass on as the count ends is right, too. {}",
            drive(summary)
        ),
        format!(
            "A turn ends with a basket, a stop (the defenders get the ball, by a steal, a rebound or an attacker's foul: 1 for the \
             defenders, after a right read too), a defender's foul (1 for the attack) or a miss that the attack rebounds (0). \
             {points}"
        ),
        "The coach or an assistant says “right” or “wrong” as the ball leaves the hand; after “wrong” also what was open, and the \
         same players do it again without points."
            .to_string(),
    ];
    out.push(match small {
        true => format!("{SMALL} {SIGNS}"),
        false => SIGNS.to_string(),
    });
    // Without drills of small groups there is less to say.
    match small {
        true => out,
        false => vec![out.join(" ")],
    }
}

/// How the drills of small groups are done (common practice).
const SMALL: &str = "In a small group one defender (X) plays for real; walk each drill once without X. Half of the turns on each \
     side of the floor; left and right as drawn. There the floor is not shaded: what is open changes as X moves.";
