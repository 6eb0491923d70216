//! Can a rule's event happen at all?
//!
//! An event happens at one or two spots, with the ball side on the right by convention. Who can
//! stand where follows from the alignment, the places kept filled, and the movements of rules that
//! can fire themselves.

use std::collections::BTreeSet;

use crate::court::{Side, Spot, SpotName};

use super::super::words;
use super::super::{By, Event, LookKind, Movement, Offence, Place};
use super::{Finding, LONGEST, within};

/// The spots at which an event happens; the ball is on the right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Happening {
    /// Where it starts: the passer, the driver, the place named.
    pub from: Option<Spot>,
    /// Where it goes: the receiver; for a denial where the ball is.
    pub to: Option<Spot>,
}

/// The spots that a pattern takes in, the ball on the right.
pub(super) fn spots(place: Place) -> Vec<Spot> {
    let mut out = Vec::new();
    for name in SpotName::ALL {
        let sides: &[Option<Side>] = if name.is_centre() {
            &[None]
        } else {
            &[Some(Side::Right), Some(Side::Left)]
        };
        for side in sides {
            let spot = Spot { name, side: *side };
            if place.takes_in(spot, Side::Right) {
                out.push(spot);
            }
        }
    }
    out
}

/// Can the ball be there? It is on the ball side or in the middle.
fn ball_side(spot: Spot) -> bool {
    spot.side != Some(Side::Left)
}

/// Every way in which an event can happen. Empty: it never can.
pub(super) fn happenings(event: &Event) -> Vec<Happening> {
    let one = |place: Place, may: fn(Spot) -> bool| {
        let spots = spots(place).into_iter().filter(|spot| may(*spot));
        spots
            .map(|from| Happening {
                from: Some(from),
                to: None,
            })
            .collect()
    };
    let two = |from: Place, to: Place, may: fn(Spot, Spot) -> bool| {
        let mut out = Vec::new();
        for from in spots(from) {
            for to in spots(to).into_iter().filter(|to| may(from, *to)) {
                out.push(Happening {
                    from: Some(from),
                    to: Some(to),
                });
            }
        }
        out
    };
    match *event {
        // A ball in the middle keeps the side from which it came, so that no pass to the middle
        // comes from the weak side.
        Event::Pass { from, to } => two(from, to, |from, to| {
            from != to && ball_side(to) && (to.side.is_some() || ball_side(from))
        }),
        Event::Denied { at, ball, .. } => two(at, ball, |at, ball| at != ball && ball_side(ball)),
        // The ball is handed over at one of the two places, or between them.
        Event::HandOff { from, to } => two(from, to, |from, to| {
            from != to && (ball_side(from) || ball_side(to))
        }),
        // From the middle of the floor no drive goes to the middle, or to the baseline.
        Event::Drive {
            from,
            toward: Some(_),
        } => one(from, |spot| spot.side == Some(Side::Right)),
        Event::Drive { from, .. } => {
            one(from, |spot| ball_side(spot) && spot.name != SpotName::Rim)
        }
        Event::Catch { at }
        | Event::CatchOffScreen { at }
        | Event::FeedStopped { at }
        | Event::BallOn { at, .. } => one(at, ball_side),
        Event::KickOut { from } => one(from, |spot| spot.name != SpotName::Rim),
        Event::Unfed { from: at, .. }
        | Event::DribbleAt { at }
        | Event::ScreenSet { at }
        | Event::ScreenUsed { at }
        | Event::Helped { from: at } => one(at, |_| true),
        Event::Clock { .. } | Event::BallCrosses | Event::PostForgotten { .. } => {
            vec![Happening {
                from: None,
                to: None,
            }]
        }
    }
}

/// The places named in an event, with their keys.
fn places(event: &Event) -> Vec<(&'static str, Place)> {
    match *event {
        Event::Pass { from, to } | Event::HandOff { from, to } => vec![("from", from), ("to", to)],
        Event::Denied { at, ball, .. } => vec![("at", at), ("ball", ball)],
        Event::Unfed { from, to: Some(to) } => vec![("from", from), ("to", to)],
        Event::Drive { from, .. }
        | Event::KickOut { from }
        | Event::Unfed { from, .. }
        | Event::Helped { from } => vec![("from", from)],
        Event::Catch { at }
        | Event::CatchOffScreen { at }
        | Event::FeedStopped { at }
        | Event::BallOn { at, .. }
        | Event::DribbleAt { at }
        | Event::ScreenSet { at }
        | Event::ScreenUsed { at } => vec![("at", at)],
        Event::Clock { .. } | Event::BallCrosses | Event::PostForgotten { .. } => vec![],
    }
}

/// Every place to which a movement leads.
pub(super) fn destinations(movement: &Movement, out: &mut BTreeSet<SpotName>) {
    let mut add = |place: &Place| out.extend(place.parts().map(|(name, _)| name));
    match movement {
        Movement::Fill(to)
        | Movement::CircleOut(to)
        | Movement::GoThrough(to)
        | Movement::Drift(to)
        | Movement::Lift(to)
        | Movement::Flash { to, .. }
        | Movement::Seal { at: to, .. } => add(to),
        Movement::FillFirst(places) => places.iter().for_each(add),
        Movement::Cut { unfed, .. } | Movement::UseScreen { unfed, .. } => {
            if !matches!(movement, Movement::Cut { to: Some(_), .. }) {
                out.insert(SpotName::Rim);
            }
            if let Movement::UseScreen { to: Some(to), .. } | Movement::Cut { to: Some(to), .. } =
                movement
            {
                out.extend(to.parts().map(|(name, _)| name));
            }
            destinations(unfed, out);
        }
        Movement::ScreenFor { after, .. } => destinations(after, out),
        Movement::DropOff => out.extend([SpotName::Block, SpotName::ShortCorner]),
        Movement::Hold
        | Movement::Replace(_)
        | Movement::DribbleAt(_)
        | Movement::HandOff(_)
        | Movement::DribbleHandOff(_)
        | Movement::PassNext(_) => {}
    }
}

/// The longest list of places in a movement.
pub(super) fn longest_fill(movement: &Movement) -> usize {
    let places = movement.links().map(|link| match link {
        Movement::FillFirst(places) => places.len(),
        _ => 0,
    });
    places.max().unwrap_or(0)
}

fn somebody(offence: &Offence, is: fn(&Movement) -> bool) -> bool {
    let mut actions = offence.rules.iter().flat_map(|rule| &rule.actions);
    actions.any(|action| action.steps().any(|step| step.links().any(is)))
}

/// What can be held, and which rules can fire.
pub(super) struct Reach {
    pub held: BTreeSet<SpotName>,
    fires: Vec<bool>,
}

impl Reach {
    pub(super) fn of(offence: &Offence) -> Self {
        let starts = offence.alignment.iter().map(|stand| stand.at);
        let kept = offence.keep_filled.iter().copied();
        let mut held: BTreeSet<SpotName> = starts
            .chain(kept)
            .filter_map(|place| Some(place.parts()?.0))
            .collect();
        if offence.reading.contains(&LookKind::Drive) {
            held.insert(SpotName::Rim);
        }
        let mut fires = vec![false; offence.rules.len()];
        loop {
            let mut news = false;
            for (fires, rule) in fires.iter_mut().zip(&offence.rules) {
                if !*fires && can_happen(&rule.when, &held) {
                    *fires = true;
                    news = true;
                    for action in &rule.actions {
                        action
                            .steps()
                            .for_each(|step| destinations(step, &mut held));
                    }
                }
            }
            if !news {
                return Reach { held, fires };
            }
        }
    }
}

fn can_happen(event: &Event, held: &BTreeSet<SpotName>) -> bool {
    // A ball is caught, and dribbled for a better angle, on the way between top and wing too.
    let outside = matches!(event, Event::Catch { .. } | Event::Pass { .. });
    let may = |name: SpotName| held.contains(&name) || outside && name == SpotName::Slot;
    let here = |spot: Option<Spot>| spot.is_none_or(|spot| may(spot.name));
    happenings(event)
        .iter()
        .any(|happening| here(happening.from) && here(happening.to))
}

pub(super) fn check(offence: &Offence, found: &mut Vec<Finding>) {
    let reach = Reach::of(offence);
    for (index, rule) in offence.rules.iter().enumerate() {
        let at = format!("rules/{index}/when");
        seconds(&rule.when, &at, found);
        let before = found.len();
        impossible(&rule.when, &at, found);
        if found.len() == before && !reach.fires[index] {
            for (key, place) in places(&rule.when) {
                if !spots(place)
                    .iter()
                    .any(|spot| reach.held.contains(&spot.name))
                {
                    let said = format!(
                        "this rule can never fire: nobody ever stands at {}",
                        words::place(place)
                    );
                    let expected = "a place of the alignment, of `keep_filled`, or one to which \
                                    a rule sends somebody";
                    let finding = Finding::error(format!("{at}/{key}"), said).expected(expected);
                    found.push(finding.rests_on(""));
                }
            }
        }
        if found.len() == before {
            lacking(offence, &rule.when, &at, found);
        }
        if found.len() == before {
            one_pass_away(offence, &rule.when, &at, found);
        }
    }
}

fn seconds(event: &Event, at: &str, found: &mut Vec<Finding>) {
    let (key, value) = match *event {
        Event::Denied { seconds, .. }
        | Event::BallOn { seconds, .. }
        | Event::PostForgotten { seconds } => ("seconds", seconds),
        Event::Clock { left } => ("left", left),
        _ => return,
    };
    within(
        value,
        0.0,
        LONGEST,
        " seconds",
        &format!("{at}/{key}"),
        found,
    );
}

/// Events that cannot happen on any floor.
fn impossible(event: &Event, at: &str, found: &mut Vec<Finding>) {
    for (key, place) in places(event) {
        if matches!(place.parts(), Some((_, Some(By::Own)))) {
            let finding = Finding::error(
                format!("{at}/{key}"),
                "`own` has no meaning in an event: whose own side would it be?",
            );
            found.push(finding.expected("ball, weak or either"));
            return;
        }
    }
    if !happenings(event).is_empty() {
        return;
    }
    let weak = |place: Place| matches!(place.parts(), Some((_, Some(By::Weak))));
    let (key, said) = match *event {
        Event::Pass { to, .. } if weak(to) => (
            "to",
            "this rule can never fire: after a pass the ball side is the receiver's side",
        ),
        Event::Pass { from, to } if from != to => (
            "from",
            "this rule can never fire: a ball in the middle keeps the side from which it came",
        ),
        Event::Pass { .. } => (
            "to",
            "this rule can never fire: passer and receiver cannot stand at the same place",
        ),
        Event::HandOff { .. } => (
            "to",
            "this rule can never fire: the two cannot stand at the same place, nor both on the weak side",
        ),
        Event::Denied { ball, .. } if weak(ball) => (
            "ball",
            "this rule can never fire: the ball is always on the ball side",
        ),
        Event::Denied { .. } => (
            "at",
            "this rule can never fire: nobody is denied where the ball is",
        ),
        Event::Drive {
            from,
            toward: Some(_),
        } if from.parts().is_some_and(|(name, _)| name.is_centre()) && from != Place::Rim => (
            "toward",
            "this rule can never fire: from the middle of the floor a drive goes neither to the middle nor to the \
             baseline",
        ),
        Event::Drive { from, .. } | Event::KickOut { from } if !weak(from) => (
            "from",
            "this rule can never fire: at the rim there is nothing to drive to",
        ),
        Event::Drive { .. } => (
            "from",
            "this rule can never fire: the side on which the ball is held is the ball side, also once the holder has \
             dribbled there",
        ),
        _ => (
            "at",
            "this rule can never fire: the side on which the ball is held is the ball side, also once the holder has \
             dribbled there",
        ),
    };
    found.push(Finding::error(format!("{at}/{key}"), said));
}

/// Events that cannot happen in this offence, because nobody ever does what they need.
fn lacking(offence: &Offence, event: &Event, at: &str, found: &mut Vec<Finding>) {
    let reads = |look| offence.reading.contains(&look);
    let feeds = [LookKind::GiveAndGo, LookKind::Backdoor, LookKind::DropOff];
    let drives = |from: Place| {
        let allowed = |spot: &Spot| {
            // `either` and `ball` take in the ball side, which is where every drive starts.
            let mirrored = Spot {
                side: spot.side.map(|_| Side::Right),
                ..*spot
            };
            offence
                .drive_from
                .iter()
                .any(|place| place.takes_in(mirrored, Side::Right))
        };
        // Who is fed inside goes to work from there, whatever the list says.
        let mut from = spots(from).into_iter();
        from.any(|spot| allowed(&spot) || spot.name.is_inside())
    };
    let said = match *event {
        Event::Drive { .. } | Event::KickOut { .. } if !reads(LookKind::Drive) => {
            "this rule can never fire: `drive` is not in the reading"
        }
        Event::KickOut { .. } if !reads(LookKind::KickOut) => {
            "this rule can never fire: `kick_out` is not in the reading"
        }
        // Who comes off a screen drives from wherever that is, whatever the list says.
        Event::Drive { from, .. } | Event::KickOut { from }
            if !drives(from) && !somebody(offence, |m| matches!(m, Movement::ScreenFor { .. })) =>
        {
            let said = "this rule can never fire: `drive_from` lets nobody drive from there";
            found.push(Finding::error(format!("{at}/from"), said).rests_on(""));
            return;
        }
        Event::Unfed { .. }
            if !somebody(offence, |m| {
                matches!(m, Movement::Cut { .. } | Movement::UseScreen { .. })
            }) =>
        {
            "this rule can never fire: no rule tells anybody to cut"
        }
        Event::DribbleAt { .. } if !somebody(offence, |m| matches!(m, Movement::DribbleAt(_))) => {
            "this rule can never fire: no rule tells the holder to dribble at a team-mate"
        }
        Event::ScreenSet { .. } | Event::ScreenUsed { .. }
            if !somebody(offence, |m| matches!(m, Movement::ScreenFor { .. })) =>
        {
            "this rule can never fire: no rule tells anybody to set a screen"
        }
        Event::CatchOffScreen { .. }
            if !somebody(offence, |m| matches!(m, Movement::UseScreen { .. })) =>
        {
            "this rule can never fire: no rule tells anybody to use a screen"
        }
        Event::FeedStopped { .. } if !feeds.iter().any(|look| reads(*look)) => {
            "this rule can never fire: none of `give_and_go`, `backdoor` and `drop_off` is in the reading"
        }
        Event::HandOff { .. } if !somebody(offence, |m| m.hands_to().is_some()) => {
            "this rule can never fire: no rule tells the holder to hand the ball to a team-mate"
        }
        Event::PostForgotten { .. } if !has_inside(offence) => {
            "this rule can never fire: nobody plays inside"
        }
        _ => return,
    };
    found.push(Finding::error(at, said).rests_on(""));
}

/// Does anybody start inside or get sent there?
pub(super) fn has_inside(offence: &Offence) -> bool {
    let held = Reach::of(offence).held;
    held.iter().any(|name| name.is_inside())
}

/// The perimeter in order, from the ball-side corner round to the weak-side corner.
const ROUND: [(SpotName, Option<Side>); 7] = [
    (SpotName::Corner, Some(Side::Right)),
    (SpotName::Wing, Some(Side::Right)),
    (SpotName::Slot, Some(Side::Right)),
    (SpotName::Top, None),
    (SpotName::Slot, Some(Side::Left)),
    (SpotName::Wing, Some(Side::Left)),
    (SpotName::Corner, Some(Side::Left)),
];

/// Warns if a denial is asked for where a place that is kept filled lies between.
fn one_pass_away(offence: &Offence, event: &Event, at: &str, found: &mut Vec<Finding>) {
    if !matches!(event, Event::Denied { .. }) {
        return;
    }
    let step = |spot: Spot| {
        ROUND
            .iter()
            .position(|(name, side)| (*name, *side) == (spot.name, spot.side))
    };
    let filled: BTreeSet<usize> = offence
        .keep_filled
        .iter()
        .flat_map(|place| spots(*place))
        .filter_map(step)
        .collect();
    let adjacent = |happening: &Happening| {
        let (Some(one), Some(two)) = (happening.from.and_then(step), happening.to.and_then(step))
        else {
            return true;
        };
        (one.min(two) + 1..one.max(two)).all(|between| !filled.contains(&between))
    };
    if !happenings(event).iter().any(adjacent) {
        let said = "this is more than one pass away from the ball while the places between are \
                    kept filled; the rule will hardly ever fire";
        found.push(Finding::warning(format!("{at}/at"), said).rests_on("keep_filled"));
    }
}
