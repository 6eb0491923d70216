//! Steps of a rule's line that follow one another (`then`): how many of them a drawn way takes in, and
//! the words for those that come after it.

use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::offence::{Action, Condition, CutLane, Movement, Place, Role, Rule, words};

use super::account::{Sent, is_at, shown_at, walked_links};

/// The places where a movement of a later step may end; none if that depends on others.
fn ends_of(movement: &Movement, side: Side, own: Option<Side>) -> Vec<Spot> {
    if let Some(shown) = shown_at(movement, side, own) {
        return vec![shown];
    }
    let spot = |place: &Place| place.spot(side, own);
    match walked_links(movement).last() {
        Some(Movement::UseScreen { to: Some(to), .. }) => spot(to).into_iter().collect(),
        Some(
            Movement::Fill(to)
            | Movement::CircleOut(to)
            | Movement::GoThrough(to)
            | Movement::Drift(to)
            | Movement::Lift(to),
        ) => spot(to).into_iter().collect(),
        Some(Movement::FillFirst(places)) => places.iter().filter_map(spot).collect(),
        _ => Vec::new(),
    }
}

/// The places in which the steps of a line end along a way, up to the step in whose place the way
/// ends; empty if that is the first step, or none.
pub(super) fn came(court: &Court, side: Side, from: Spot, sent: &Sent, way: &[Vec2]) -> Vec<Spot> {
    let cuts = |m: &Movement| matches!(m, Movement::Cut { .. } | Movement::UseScreen { .. });
    let first = sent.place.or(match &sent.does {
        Movement::Cut { to: Some(to), .. } => to.spot(side, from.side),
        Movement::Hold => Some(from),
        does if does.links().any(cuts) => Some(Spot::new(SpotName::Rim, None)),
        _ => None,
    });
    let (Some(&end), Some(first)) = (way.last(), first) else {
        return Vec::new();
    };
    if sent.then.is_empty() {
        return Vec::new();
    }
    let reached = |spot: Spot, after: usize| {
        let on = way.iter().enumerate().skip(after);
        let mut on = on.filter(|(_, p)| is_at(court, **p, spot, side));
        on.next().map(|(i, _)| i)
    };
    let mut out = Vec::new();
    let mut whole = 0;
    let Some(mut at) = reached(first, 0) else {
        return out;
    };
    out.push(first);
    let mut own = first.side.or(from.side);
    for step in &sent.then {
        let ends = ends_of(step, side, own);
        let next = ends.iter().filter_map(|s| Some((reached(*s, at)?, *s)));
        let Some((i, spot)) = next.min_by_key(|(i, _)| *i) else {
            break;
        };
        // A step to where the one before ended cannot be told from it.
        at = i;
        own = spot.side.or(own);
        out.push(spot);
        if is_at(court, end, spot, side) && Some(&spot) != out.iter().rev().nth(1) {
            whole = out.len();
        }
    }
    out.truncate(whole);
    out
}

/// What a player is told to do, in the second person, with the places as the rule has them.
pub(super) fn order(movement: &Movement) -> String {
    match movement {
        Movement::Cut { lane, to, unfed } => {
            let lane = match lane {
                CutLane::BallSide => "ball side",
                CutLane::Behind => "behind your defender",
            };
            let to = words::place(to.unwrap_or(Place::Rim));
            format!(
                "cut {lane} to {to}. No pass? {}",
                words::capital(&order(unfed))
            )
        }
        Movement::ScreenFor { whom, after } => {
            format!("screen for {}, then {}", words::role(*whom), order(after))
        }
        Movement::UseScreen { of, to, unfed, .. } => {
            let wait = format!("wait for the screen of {}", words::role(*of));
            match to {
                Some(to) => format!("{wait} and come off it to {}", words::place(*to)),
                None => format!(
                    "{wait} and cut off it to the rim. No pass? {}",
                    words::capital(&order(unfed))
                ),
            }
        }
        plain => words::bare(plain),
    }
    .replace("the player's own side", "your own side")
    .replace("seal the defender", "seal your defender")
    .replace("until the defender leaves", "until your defender leaves")
    .replace("on their own side", "on your own side")
    .replace("out along the baseline", "out")
    .replace(
        "the first of these at which nobody is:",
        "the first free of:",
    )
    .replace("the wing on your own side", "your own wing")
    .replace("the slot on your own side", "your own slot")
}

/// A line of a rule as an order to the player whom it names: "fill the ball-side slot (only if …)".
pub(super) fn line(action: &Action) -> String {
    let mut said = match action.after > 0.0 {
        true => format!("after {}, {}", seconds(action.after), order(&action.does)),
        false => order(&action.does),
    };
    for step in &action.then {
        said += &format!("; that done, {}", order(step));
    }
    let only = conditions(&action.only_if, action.who, &action.does, "you");
    counted(&with_conditions(said, only))
}

/// An order and when it counts. Behind an order of several steps "unless the ball is coming to you" would be taken for the
/// last of them alone: it comes first.
pub(super) fn with_conditions(said: String, only: Option<String>) -> String {
    match only {
        Some(only) if only.starts_with("unless ") => format!("{only}: {said}"),
        Some(only) => format!("{said} ({only})"),
        None => said,
    }
}

/// "When the ball goes from …, only if …": when a rule counts, as somebody on the floor can tell it.
pub(super) fn when(rule: &Rule) -> String {
    let sentence = words::rule(rule);
    counted(sentence.split_once(':').map_or("", |(when, _)| when))
}

/// "1.3 s": as a rule says a time.
pub(super) fn seconds(seconds: f64) -> String {
    format!("{seconds} s")
}

/// Nobody counts less than this; there half a second makes the difference, seconds (ours).
const COUNTED: f64 = 2.0;

/// A time as players count it: "a count of two"; a shorter one as the rule has it, so that different times read
/// differently: "0.8 seconds".
fn count(seconds: f64) -> String {
    const WORDS: [&str; 8] = [
        "two", "three", "four", "five", "six", "seven", "eight", "nine",
    ];
    if seconds < COUNTED {
        let unit = if seconds == 1.0 { "second" } else { "seconds" };
        return format!("{seconds} {unit}");
    }
    let n = libm::round(seconds) as usize;
    WORDS
        .get(n.saturating_sub(2))
        .map_or(format!("{n} seconds"), |word| format!("a count of {word}"))
}

/// A sentence with its times as players count them. Clocks keep their seconds.
pub(super) fn counted(text: &str) -> String {
    let mut out: Vec<String> = Vec::new();
    let pieces: Vec<&str> = text.split(' ').collect();
    let mut i = 0;
    while i < pieces.len() {
        let piece = pieces[i];
        let unit = pieces.get(i + 1).copied().unwrap_or_default();
        let after = unit
            .strip_prefix('s')
            .filter(|rest| !rest.starts_with(char::is_alphanumeric));
        let before = out.last().map(String::as_str);
        let timed = matches!(before, Some("for" | "wait" | "after" | "After"));
        match (piece.parse::<f64>(), after) {
            (Ok(seconds), Some(rest)) if timed => {
                out.push(count(seconds) + rest);
                i += 2;
            }
            _ => {
                out.push(piece.to_string());
                i += 1;
            }
        }
    }
    out.join(" ")
}

/// The conditions of a line, said of `he`, without what the place of the player, or of the team-mate of a screen,
/// says already.
pub(super) fn conditions(
    all: &[Condition],
    who: Role,
    does: &Movement,
    he: &str,
) -> Option<String> {
    let mate = match does {
        Movement::ScreenFor { whom, .. } => Some(*whom),
        Movement::UseScreen { of, .. } => Some(*of),
        _ => None,
    };
    let plain = |c: &&Condition| match (c, who) {
        (Condition::Held(held), _) if mate == Some(Role::At(*held)) => false,
        (Condition::Held(held), Role::At(at)) => *held != at,
        // The post is whoever stands inside.
        (Condition::Held(Place::Inside), Role::Post) => false,
        _ => true,
    };
    let off = |c: &&Condition| matches!(c, Condition::OffBall);
    let told: Vec<String> = all
        .iter()
        .filter(plain)
        .filter(|c| !off(c))
        .map(|c| words::condition(*c, he))
        .collect();
    let mut said = Vec::new();
    if !told.is_empty() {
        said.push(format!("only if {}", told.join(" and ")));
    }
    if all.iter().any(|c| off(&c)) {
        let whom = if he == "you" { "you" } else { "that player" };
        said.push(format!("unless the ball is coming to {whom}"));
    }
    (!said.is_empty()).then(|| said.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_counted_and_clocks_are_not() {
        for (said, wanted) in [
            (
                "flash to the elbow for 1 s, then",
                "flash to the elbow for 1 second, then",
            ),
            (
                "has been at the wing for 2.2 s",
                "has been at the wing for a count of two",
            ),
            ("wait 0.4 s, then go", "wait 0.4 seconds, then go"),
            ("denied for 0.8 s while", "denied for 0.8 seconds while"),
            ("for 1.3 s, then", "for 1.3 seconds, then"),
            (
                "at least 14 s are left to shoot in",
                "at least 14 s are left to shoot in",
            ),
        ] {
            assert_eq!(counted(said), wanted);
        }
    }
}
