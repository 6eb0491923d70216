//! Which events a happening answers, and whom it is about.

use crate::court::{Side, Spot};
use crate::offence::{Event, Place};

use super::super::parts::*;

/// The players that an event is about.
#[derive(Clone, Copy, Default)]
pub struct Involved {
    pub passer: Option<usize>,
    pub receiver: Option<usize>,
    pub driver: Option<usize>,
    pub cutter: Option<usize>,
    pub denied: Option<usize>,
    pub screener: Option<usize>,
    pub left_alone: Option<usize>,
    /// He who is leaving the place that he still holds: it is not he who is meant by that place.
    pub leaving: Option<usize>,
}

/// Events that would match tick after tick are answered once until the ball changes hands.
pub(super) fn once_in_a_spell(event: &Event) -> bool {
    matches!(
        event,
        Event::Denied { .. }
            | Event::BallOn { .. }
            | Event::PostForgotten { .. }
            | Event::Clock { .. }
    )
}

/// If a happening is one that this event names: whom it is about.
pub(super) fn answers(
    event: &Event,
    happening: Happening,
    ball: &Ball,
    clock: &Clock,
    signals: &Signals,
) -> Option<Involved> {
    names(event, happening, ball.side, clock).then(|| involved(happening, signals))
}

/// Does an event name this happening: at its places, for as long as it asks?
fn names(event: &Event, happening: Happening, side: Side, clock: &Clock) -> bool {
    use Happening as H;
    match (event, happening) {
        (Event::Pass { from, to }, H::Pass { from: f, to: t, .. }) => {
            from.takes_in(f, side) && to.takes_in(t, side)
        }
        (Event::HandOff { from, to }, H::HandOff { from: f, to: t, .. }) => {
            from.takes_in(f, side) && to.takes_in(t, side)
        }
        (
            Event::Drive { from, toward },
            H::Drive {
                from: f, toward: t, ..
            },
        ) => from.takes_in(f, side) && toward.is_none_or(|way| t == Some(way)),
        (Event::KickOut { from }, H::KickOut { from: f, .. })
        | (Event::Helped { from }, H::Helped { from: f, .. }) => from.takes_in(f, side),
        (Event::Unfed { from, to }, H::Unfed { from: f, to: t, .. }) => {
            let there = |place: Place| t.map_or(place == Place::Rim, |at| place.takes_in(at, side));
            from.takes_in(f, side) && to.is_none_or(there)
        }
        (Event::ScreenSet { at }, H::ScreenSet { at: a, .. })
        | (Event::ScreenUsed { at }, H::ScreenUsed { at: a, .. })
        | (Event::Catch { at }, H::Catch { at: a, .. })
        | (Event::CatchOffScreen { at }, H::CatchOffScreen { at: a, .. })
        | (Event::FeedStopped { at }, H::FeedStopped { at: a, .. })
        | (Event::DribbleAt { at }, H::DribbleAt { at: a, .. }) => at.takes_in(a, side),
        (
            Event::Denied {
                at,
                ball: on,
                seconds,
            },
            H::Denied {
                at: a,
                ball: b,
                ticks: n,
                ..
            },
        ) => at.takes_in(a, side) && on.takes_in(b, side) && n >= ticks(*seconds),
        (Event::BallOn { at, seconds }, H::BallOn { at: a, ticks: n }) => {
            at.takes_in(a, side) && n >= ticks(*seconds)
        }
        (Event::BallCrosses, H::BallCrosses) => true,
        (Event::PostForgotten { seconds }, H::PostForgotten { ticks: n, .. }) => {
            n >= ticks(*seconds)
        }
        (Event::Clock { left }, H::Clock) => clock.left() <= *left,
        _ => false,
    }
}

/// Would the event be this happening, if whoever has the ball were still at the place that is theirs (by `places`)? Where
/// they are instead.
pub(super) fn moved_off(
    event: &Event,
    happening: Happening,
    (ball, clock): (&Ball, &Clock),
    places: &[Option<Spot>; 5],
) -> Option<Place> {
    let mut before = happening;
    let (at, who) = match &mut before {
        Happening::Pass { from, passer, .. } => (from, Some(*passer)),
        Happening::Drive { from, driver, .. } => (from, Some(*driver)),
        Happening::BallOn { at, .. } | Happening::Denied { ball: at, .. } => (at, ball.keeper()),
        _ => return None,
    };
    let here = std::mem::replace(at, places[who?]?);
    let moved = *at != here && names(event, before, ball.side, clock);
    moved.then(|| Place::of(here, ball.side))
}

/// The players that a happening is about.
fn involved(happening: Happening, signals: &Signals) -> Involved {
    let none = Involved::default();
    match happening {
        Happening::Pass {
            passer, receiver, ..
        } => Involved {
            passer: Some(passer),
            receiver: Some(receiver),
            leaving: Some(passer),
            ..none
        },
        Happening::Drive { driver, .. } => Involved {
            driver: Some(driver),
            leaving: Some(driver),
            ..none
        },
        Happening::KickOut {
            driver, receiver, ..
        } => Involved {
            driver: Some(driver),
            passer: Some(driver),
            receiver: Some(receiver),
            leaving: Some(driver),
            ..none
        },
        Happening::HandOff {
            giver, receiver, ..
        } => Involved {
            passer: Some(giver),
            receiver: Some(receiver),
            ..none
        },
        Happening::CatchOffScreen { who, screener, .. } => Involved {
            receiver: Some(who),
            passer: signals.last_passer,
            screener: Some(screener),
            ..none
        },
        Happening::Catch { who, .. } | Happening::FeedStopped { who, .. } => Involved {
            receiver: Some(who),
            passer: signals.last_passer,
            ..none
        },
        Happening::ScreenSet { user, screener, .. }
        | Happening::ScreenUsed { user, screener, .. } => Involved {
            cutter: Some(user),
            screener: Some(screener),
            ..none
        },
        Happening::Helped { who, .. } => Involved {
            left_alone: Some(who),
            ..none
        },
        Happening::Unfed { who, .. } => Involved {
            cutter: Some(who),
            ..none
        },
        Happening::Denied { who, .. } | Happening::DribbleAt { mate: who, .. } => Involved {
            denied: Some(who),
            cutter: Some(who),
            ..none
        },
        Happening::BallOn { .. }
        | Happening::BallCrosses
        | Happening::PostForgotten { .. }
        | Happening::Clock => none,
    }
}
