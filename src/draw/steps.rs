//! Steps of a rule's line that follow one another (`then`): how many of them a drawn way takes in, and
//! the words for those that come after it.

use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::offence::{Condition, CutLane, Movement, Place, Role, words};

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
            format!("cut {lane} to {to}; not fed, {}", order(unfed))
        }
        Movement::ScreenFor { whom, after } => {
            format!("screen for {}, then {}", words::role(*whom), order(after))
        }
        Movement::UseScreen { of, to, unfed, .. } => {
            let wait = format!("wait for the screen of {}", words::role(*of));
            match to {
                Some(to) => format!("{wait} and come off it to {}", words::place(*to)),
                None => format!(
                    "{wait} and cut off it to the rim; not fed, {}",
                    order(unfed)
                ),
            }
        }
        plain => words::bare(plain).replace("then goes", "then go"),
    }
    .replace("his own side", "your own side")
    .replace("his defender", "your defender")
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
    let told: Vec<String> = all
        .iter()
        .filter(plain)
        .map(|c| words::condition(*c, he))
        .collect();
    (!told.is_empty()).then(|| format!("only if {}", told.join(" and ")))
}
