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
const COUNTED: f64 = 1.0;

/// The heading of the box.
pub(super) const HEAD: &str = "How every drill and look is run";

/// Places from which a drive was mostly shut with the ball there, by their words without a side.
pub(super) fn shut_drives(summary: &Summary) -> Vec<&'static str> {
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
        None => "A drive past a defender who comes up is a right read.".to_string(),
        Some((last, others)) => {
            let list = match others {
                [] => (*last).to_string(),
                _ => format!("{} or {last}", others.join(", ")),
            };
            format!(
                "A drive at a defender who comes up is a wrong read from the {list}, where most drives were shut, and a right \
                 one from elsewhere or in a drill for the drive."
            )
        }
    }
}

/// The lines of the box. `stall`: the finding about stalls, from 0.
pub fn rules(summary: &Summary, stall: Option<usize>) -> Vec<String> {
    let length = summary.stalls.stories.first().and_then(|s| s.length);
    let cures = stall.filter(|_| length.is_some_and(|e| e.value > COUNTED));
    let cures = cures.map_or(String::new(), |n| {
        format!(", less than the stall of finding {} lasts", n + 1)
    });
    vec![
        format!(
            "Count: out loud, one a second. It starts at the catch; where a player seals or flashes, it starts when that player \
             is there. The holder has {COUNT}{cures}. Then the ball goes on as the drill says."
        ),
        format!(
            "Score: a right read is 1, and 1 more if that turn ends in a basket. A wrong read is 0, and so is a ball held past the \
             count. The pass that goes on as the count ends is right, too. {}",
            drive(summary)
        ),
        "A stop is 1 for the defenders, after a right read too: they have the ball, by a steal, a rebound or an attacker's foul. \
         A foul by a defender is 1 for the attack. A turn ends with a basket, a stop, a foul, or a miss that the attack \
         rebounds, which is no stop and 0."
            .to_string(),
        "Points: in a small group places change, so all who attacked add the points of the turn to their own, and X those of a \
         stop. Of two teams, the team has them."
            .to_string(),
        "The coach or an assistant says “right” or “wrong” as the ball leaves the hand. After “wrong”: what the defender did, \
         and what was open; the same players do that turn again, without points."
            .to_string(),
        format!(
            "In a small group one defender (X) plays for real; walk each drill once without X. Half of the turns on the right of \
             the floor, half on the left. Left and right as drawn. {SIGNS}"
        ),
    ]
}
