//! What comes next in a drill when the look is not there: to whom the ball goes at once, so that nobody is paid for
//! holding it. The places are those at the end of the card's walk.

use crate::court::{Side, Vec2};
use crate::offence::LookKind;
use crate::scenario::Scenario;
use crate::why::Summary;
use crate::why::summary::Light;

use super::super::cards::{Card, Part};
use super::super::scene::{ArrowKind, Item, Scene};
use super::breakdown::{cutter, holder, inside, place};
use super::scoring::ends;

/// Whoever gets the next pass, or does it without one.
#[derive(Clone, Debug)]
pub(super) struct Outlet {
    /// Who has the ball then, 1–5.
    pub from: u8,
    /// The nearest team-mate outside, 1–5.
    pub to: u8,
    /// Where that player is then, in words of the card.
    at: String,
    /// Came there on this card.
    filled: bool,
    /// What is done: the next pass or the skip pass, or the holder's own shot or drive.
    kind: LookKind,
}

/// Where a player's way on a picture ends.
fn end(scene: &Scene, n: u8) -> Option<Vec2> {
    let ways = scene.items.iter().rev().find_map(|item| match item {
        Item::Arrow { kind, path, who } if *who == n && *kind != ArrowKind::Pass => {
            path.last().copied()
        }
        _ => None,
    });
    ways.or_else(|| place(scene, n))
}

/// The nearest team-mate outside at the end of the walk, of the group if one of it is there. `scene` has all five.
pub(super) fn outlet(
    scenario: &Scenario,
    card: &Card,
    scene: &Scene,
    group: &[u8],
    look: LookKind,
) -> Option<Outlet> {
    let from = match look {
        LookKind::Drive => card.order.first().copied(),
        _ => holder(card),
    }?;
    let ball = end(scene, from)?;
    let outside = |at: Vec2| scenario.court.nearest_spot(at).name.is_perimeter();
    let busy = [Some(from), cutter(card), inside(card)];
    let free = card
        .parts
        .iter()
        .filter(|p| !busy.contains(&Some(p.player)));
    let near = free.filter_map(|p: &Part| {
        let at = end(scene, p.player).filter(|at| outside(*at))?;
        Some(((!group.contains(&p.player), (at - ball).length()), p))
    });
    let (_, next) = near.min_by(|(a, _), (b, _)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))?;
    Some(Outlet {
        from,
        to: next.player,
        at: next.to.clone(),
        filled: next.starts.is_some(),
        kind: LookKind::NextPass,
    })
}

/// The way to take a look that is open while the card's own is shut; `None` if nobody of the card can.
pub(super) fn exit(card: &Card, light: &Light) -> Option<Outlet> {
    let from = holder(card)?;
    let holds = card.parts.iter().find(|p| p.player == from)?;
    let at = light.at?.words();
    let part = match light.look {
        LookKind::Shot | LookKind::Drive => Some(holds).filter(|p| p.from == at),
        LookKind::NextPass | LookKind::Skip => {
            let busy = [Some(from), cutter(card), inside(card)];
            let mut free = card
                .parts
                .iter()
                .filter(|p| !busy.contains(&Some(p.player)));
            free.find(|p| p.to == at)
        }
        _ => None,
    }?;
    Some(Outlet {
        from,
        to: part.player,
        at,
        filled: part.starts.is_some(),
        kind: light.look,
    })
}

/// What stands beside the pass that is thrown when the look is not there.
pub const ELSE: &str = "else";

/// How far the pass out is bowed toward half court where another pass goes the other way, metres (ours).
const BOWED: f64 = 1.4;

/// Draws the pass out, so that both answers of the read are on the picture. `scene` has the ways of the card.
pub(super) fn draw(scene: &mut Scene, (from, receiver): (u8, u8)) {
    if from == receiver {
        return;
    }
    let ends = end(scene, from).zip(end(scene, receiver));
    let Some((ball, to)) = ends else { return };
    let other = |item: &Item| match item {
        Item::Arrow {
            kind: ArrowKind::Pass,
            path,
            ..
        } => path.first().is_some_and(|p| (*p - to).length() < BOWED),
        _ => false,
    };
    let mut path = vec![ball, to];
    let mut mid = (ball + to) * 0.5;
    if scene.items.iter().any(other) {
        mid += Vec2::new(0.0, BOWED);
        path.insert(1, mid);
    }
    scene.add(Item::Label {
        at: mid,
        text: format!("{ELSE} to {receiver}"),
    });
    scene.add(Item::Arrow {
        kind: ArrowKind::Pass,
        path,
        who: from,
    });
}

/// "No pass? As the count ends 3 passes to 2, who fills the right slot, and 2 shoots."
pub(super) fn said(
    summary: &Summary,
    outlet: Option<&Outlet>,
    group: &[u8],
    look: LookKind,
    post: bool,
) -> String {
    let first = match look {
        LookKind::Drive => "Stopped?",
        LookKind::Post if post => "No feed?",
        LookKind::Post | LookKind::DropOff | LookKind::KickOut | LookKind::Shot => "Nothing?",
        _ => "No pass?",
    };
    let Some(Outlet {
        from,
        to,
        at,
        filled,
        kind,
    }) = outlet
    else {
        return format!("{first} As the count ends the turn is over, and X has 1.");
    };
    if from == to {
        let does = match kind {
            LookKind::Drive => "drives",
            _ => "shoots",
        };
        return format!("{first} As the count ends {from} {does}.");
    }
    let whom = match (group.contains(to), filled) {
        (true, true) => format!("{to}, who fills the {at}"),
        (true, false) => format!("{to} at the {at}"),
        (false, _) => format!("{to} at the {at}"),
    };
    let passes = match kind {
        LookKind::Skip => "throws the skip pass",
        _ => "passes",
    };
    let does = ends(summary, at);
    format!("{first} As the count ends {from} {passes} to {whom}, and {to} {does}.")
}

/// What a drill changes: when its look is taken, and where the ball goes otherwise. `who`: whose defender is read.
pub(super) fn changes(
    summary: &Summary,
    (card, look, denied): (&Card, LookKind, bool),
    who: u8,
    outlet: Option<&Outlet>,
) -> String {
    let ball = holder(card).unwrap_or(who);
    let take = match look {
        _ if denied => format!(
            "with X{who} in the lane to the ball {who} cuts behind at once, and {ball} passes"
        ),
        LookKind::Drive => format!("{who} goes on to the rim only with X{who} beside"),
        _ if cutter(card) == Some(who) => {
            format!("{ball} feeds {who} on the cut only with X{who} behind {who}")
        }
        LookKind::Post if ball != who => {
            format!("{ball} feeds {who} only with X{who} behind {who}")
        }
        LookKind::Post | LookKind::DropOff => {
            format!("{who} turns and scores only with X{who} behind {who}")
        }
        _ => format!("{who} {} at once", ends(summary, place_of(card, who))),
    };
    let otherwise = match outlet {
        None => "nothing is forced".to_string(),
        Some(o) if o.from == o.to => match o.kind {
            LookKind::Drive => format!("{} drives", o.to),
            _ => format!("{} shoots", o.to),
        },
        Some(o) => {
            let pass = match o.kind {
                LookKind::Skip => "skip pass",
                _ => "ball",
            };
            format!("the {pass} goes to {} at the {}", o.to, o.at)
        }
    };
    format!("So we practise: {take}; else {otherwise}.")
}

/// The place of a player as a card begins, in its words.
fn place_of(card: &Card, who: u8) -> &str {
    let own = card.parts.iter().find(|p| p.player == who);
    own.map_or("", |p| &p.from)
}

/// Sides as they are drawn: the ball of a card is on the right.
pub(super) fn as_drawn(words: &str) -> String {
    with_the_ball_on(Side::Right, words)
}

/// The same with the ball on that side of the floor.
pub(super) fn with_the_ball_on(side: Side, words: &str) -> String {
    let (ball, weak) = match side {
        Side::Right => ("right ", "left "),
        Side::Left => ("left ", "right "),
    };
    let words = words.replace("ball-side ", ball);
    words.replace("weak-side ", weak)
}
