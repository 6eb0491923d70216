//! How every drill and look is run and scored (common practice of the trade), once for the whole sheet: the count, what is
//! a right read, who has the points, what ends a turn. Where a drive was mostly shut, none is asked for.

use crate::offence::LookKind;
use crate::stats::Estimate;
use crate::why::{Half, Summary};

use super::handout::SIGNS;
use super::paper::{Book, MARGIN, Type};
use super::reads::{MOSTLY, SEEN};

/// So long a player has with the ball, as players count (common practice: one a second).
pub(super) const COUNT: &str = "a count of one";
/// The same, seconds.
pub(super) const COUNTED: f64 = 1.0;

/// What the heading of the box takes, points.
const HEADED: f64 = 36.0;
/// The heading of the box.
const HEAD: &str = "How every drill and look is run";

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
fn drive(summary: &Summary, drilled: bool) -> String {
    let shut = shut_drives(summary);
    match shut.split_last() {
        None => "A drive past a defender who runs at the ball is right.".to_string(),
        Some((last, others)) => {
            let but = match drilled {
                true => " (only the drill of the drive has one)",
                false => "",
            };
            let list = match others {
                [] => (*last).to_string(),
                _ => format!("{} or {last}", others.join(", ")),
            };
            format!(
                "Do not drive from the {list}: most drives from there were shut{but}. From any other place a drive past a defender who \
                 runs at the ball is right."
            )
        }
    }
}

/// What happens in a turn, and who has which points for it: the same in drills, looks, shell drill and live play.
pub const POINTS: [(&str, &str); 6] = [
    ("Right read", "attack 1"),
    (
        "Wrong read, or held past the count",
        "0; again, without points",
    ),
    ("Basket", "attack 1"),
    ("Stop: a steal, a rebound, an attacker's foul", "defence 1"),
    ("Defender's foul", "attack 1"),
    ("Rebound of the attack", "0; play on"),
];
/// So much of a column of that table is for what happens, a ratio (ours).
const FOR_WHAT: f64 = 0.62;

/// The lines of the box. `small`: are there drills of small groups? `drilled`: is one of them of the drive?
pub fn rules(summary: &Summary, (small, drilled): (bool, bool)) -> Vec<String> {
    let points = match small {
        true => {
            "In a small group each attacker adds the attack's points to their own, and X the defence's; of two teams, the team \
             has them."
        }
        false => "The team has the points.",
    };
    let mut out = vec![
        format!(
            "The same wherever points are counted. A turn ends with a basket, a stop or a defender's foul; a stop counts after a right \
             read too. {points}"
        ),
        format!(
            "Count: out loud, one a second, from the catch; with a seal or a flash, from when that player is there. The holder has \
             {COUNT}; then the ball goes on at once."
        ),
        format!(
            "Right: what the read says for where the defender is; if that is no feed, then the pass “else” on the picture, at once or \
             as the count ends. To feed a cutter or post with no defender between is right everywhere. {}",
            drive(summary, drilled)
        ),
        "The coach or an assistant says “right” or “wrong” as the ball leaves the hand. After “wrong” the turn stops, the coach says \
         what was open, and the same players start it once more, for no points, as one of the turns. Live play is not stopped."
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

/// Sets the box: the table of the points, and the lines.
pub(super) fn set(book: &mut Book, lines: &[String]) {
    let (wide, kind) = (book.wide(), Type::SMALL);
    let rows = POINTS.len().div_ceil(2);
    let line = Book::height("1", kind, wide);
    let words: f64 = lines.iter().map(|l| Book::height(l, kind, wide)).sum();
    book.need(words + line * rows as f64 + HEADED);
    book.gap(4.0);
    let top = book.y;
    book.gap(3.0);
    book.para(HEAD, Type::STRONG);
    let strong = Type { bold: true, ..kind };
    let column = wide / 2.0;
    for (i, (what, points)) in POINTS.iter().enumerate() {
        let x = MARGIN + column * (i / rows) as f64;
        let y = book.y + line * (i % rows) as f64;
        book.set(what, kind, x, y, column * FOR_WHAT);
        let x = x + column * FOR_WHAT;
        book.set(points, strong, x, y, column * (1.0 - FOR_WHAT));
    }
    book.gap(line * rows as f64);
    for line in lines {
        book.para(line, kind);
    }
    book.frame(top);
}

/// How the drills of small groups are done (common practice).
const SMALL: &str = "In a small group one defender (X) plays for real; before each turn the coach secretly tells X which of the two \
     places in the read to take, each in half of the turns. Walk each drill once without X. Half of the turns on each side of the \
     floor; left and right as drawn. There the floor is not shaded: what is open changes as X moves.";
