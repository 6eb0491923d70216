//! Do rules contradict each other? Two lines clash if one happening on the floor fires both and
//! they tell the same player two different things: the later order takes the place of the earlier one,
//! whatever the `after` of each.

use super::super::words;
use super::super::{
    Action, By, Condition, Event, Movement, Offence, Place, Role, Rule, never_both,
};
use super::Finding;
use super::events::{Happening, happenings};
use crate::court::Side;

pub(super) fn check(offence: &Offence, found: &mut Vec<Finding>) {
    for (index, rule) in offence.rules.iter().enumerate() {
        within_rule(index, rule, plays_one_post(offence), found);
        calls_itself(offence, index, rule, found);
        for (earlier, other) in offence.rules[..index].iter().enumerate() {
            if between(index, rule, earlier, other, found) {
                break;
            }
        }
    }
}

/// Which player a role means, so that two words for one player compare equal.
pub(super) fn identify(role: Role, event: &Event, happening: Happening) -> Role {
    let spot = match role {
        Role::At(place) => place.spot(Side::Right, None),
        _ => None,
    };
    let at_from = spot.is_some() && spot == happening.from;
    let at_to = spot.is_some() && spot == happening.to;
    match event {
        Event::Pass { .. } if at_from => Role::Passer,
        Event::Pass { .. } if at_to => Role::Receiver,
        Event::Drive { .. } if at_from || role == Role::Holder => Role::Driver,
        Event::KickOut { .. } if role == Role::Passer => Role::Driver,
        Event::Catch { .. } | Event::CatchOffScreen { .. } | Event::FeedStopped { .. }
            if at_from || role == Role::Receiver =>
        {
            Role::Holder
        }
        Event::BallOn { .. } if at_from => Role::Holder,
        Event::Denied { .. } if at_to => Role::Holder,
        Event::Denied { .. } | Event::DribbleAt { .. } if at_from => Role::Denied,
        _ => role,
    }
}

/// Can one happening fire both? Rules that wait differently long fire at different moments.
fn shared(one: &Event, two: &Event) -> Vec<Happening> {
    let same_moment = match (*one, *two) {
        (Event::Denied { seconds: a, .. }, Event::Denied { seconds: b, .. })
        | (Event::BallOn { seconds: a, .. }, Event::BallOn { seconds: b, .. })
        | (Event::PostForgotten { seconds: a }, Event::PostForgotten { seconds: b })
        | (Event::Clock { left: a }, Event::Clock { left: b }) => a == b,
        (
            Event::Drive {
                toward: Some(a), ..
            },
            Event::Drive {
                toward: Some(b), ..
            },
        ) => a == b,
        _ => std::mem::discriminant(one) == std::mem::discriminant(two),
    };
    if !same_moment {
        return Vec::new();
    }
    let mut both = happenings(one);
    let others = happenings(two);
    both.retain(|happening| others.contains(happening));
    both
}

/// At most one finding for a pair of rules.
fn between(
    index: usize,
    rule: &Rule,
    earlier: usize,
    other: &Rule,
    found: &mut Vec<Finding>,
) -> bool {
    for happening in shared(&rule.when, &other.when) {
        for (line, action) in rule.actions.iter().enumerate() {
            let who = identify(action.who, &rule.when, happening);
            let clash = other.actions.iter().find(|before| {
                identify(before.who, &other.when, happening) == who
                    && (before.does != action.does
                        || before.then != action.then
                        || before.after != action.after)
                    && may_both(rule, action, other, before)
            });
            if let Some(before) = clash {
                let said = format!(
                    "this contradicts rule {} \"{}\": the same event, and {} is told to {} there \
                     and to {} here",
                    earlier + 1,
                    other.name,
                    words::role(action.who),
                    words::bare(&before.does),
                    words::bare(&action.does),
                );
                let finding = Finding::error(format!("rules/{index}/do/{line}/does"), said);
                let both = finding.rests_on(format!("rules/{index}"));
                found.push(both.rests_on(format!("rules/{earlier}")));
                return true;
            }
        }
    }
    false
}

/// Can both lines count at once, by what they and their rules ask for?
fn may_both(rule: &Rule, action: &Action, other: &Rule, before: &Action) -> bool {
    let asks = [&rule.only_if, &action.only_if];
    let others = [&other.only_if, &before.only_if];
    asks.iter()
        .all(|one| others.iter().all(|two| !never_both(one, two)))
}

/// Does nobody start inside, or only one player?
fn plays_one_post(offence: &Offence) -> bool {
    let starts = offence.alignment.iter().filter_map(|s| s.at.parts());
    starts.filter(|(name, _)| !name.is_perimeter()).count() <= 1
}

/// Do these ask for the post on one side, and those for the post on the other?
fn posts_apart(these: &[Condition], those: &[Condition]) -> bool {
    let asks = |all: &[Condition], by: By| all.contains(&Condition::PostOn(by));
    asks(these, By::Ball) && asks(those, By::Weak) || asks(these, By::Weak) && asks(those, By::Ball)
}

/// A rule for a screen at a place whose own lines have a screen used at that place again calls itself, unless it fires once or
/// asks who holds that place.
fn calls_itself(offence: &Offence, index: usize, rule: &Rule, found: &mut Vec<Finding>) {
    let (Event::ScreenSet { at } | Event::ScreenUsed { at }) = rule.when else {
        return;
    };
    let asks = |one: &Condition| matches!(one, Condition::Held(place) | Condition::Empty(place) if meet(*place, at));
    if rule.once || rule.only_if.iter().any(asks) {
        return;
    }
    let uses = |action: &Action| {
        action
            .steps()
            .any(|step| matches!(step, Movement::UseScreen { .. }))
            && stands_at(offence, action.who, at)
    };
    for (line, action) in rule.actions.iter().enumerate() {
        if uses(action) && !action.only_if.iter().any(asks) {
            let said = format!(
                "this screen is at {} too: this rule calls itself",
                words::place(at)
            );
            let wanted = "`once: true`, or an `only_if` that is not so when it has fired";
            let finding = Finding::warning(format!("rules/{index}/do/{line}/does"), said);
            let finding = finding.expected(wanted).rests_on(format!("rules/{index}"));
            found.push(finding.rests_on("rules"));
        }
    }
}

/// May the player of that role stand at `at` after a screen there: by the place named, or by where another rule sends whoever
/// sets or uses that screen?
fn stands_at(offence: &Offence, role: Role, at: Place) -> bool {
    let lines = || offence.rules.iter().flat_map(|rule| &rule.actions);
    let there = |role: &Role| matches!(role, Role::At(place) if meet(*place, at));
    let ends = |movement: &Movement| settles(movement).is_some_and(|place| meet(place, at));
    match role {
        Role::At(_) => there(&role),
        Role::Screener => lines().any(|line| {
            line.steps().any(|step| {
                matches!(step, Movement::ScreenFor { whom, after } if there(whom) && ends(after))
            })
        }),
        Role::Cutter => lines().any(|line| {
            let uses = |step| matches!(step, &Movement::UseScreen { .. }) && ends(step);
            there(&line.who) && line.steps().any(uses)
        }),
        _ => false,
    }
}

/// Can one spot be both places?
pub(super) fn meet(one: Place, other: Place) -> bool {
    let spots = super::events::spots;
    spots(one).iter().any(|spot| spots(other).contains(spot))
}

fn within_rule(index: usize, rule: &Rule, one_post: bool, found: &mut Vec<Finding>) {
    let Some(first) = happenings(&rule.when).first().copied() else {
        return;
    };
    let only = happenings(&rule.when).len() == 1;
    let who = |action: &Action| {
        if only {
            identify(action.who, &rule.when, first)
        } else {
            action.who
        }
    };
    for (line, action) in rule.actions.iter().enumerate() {
        let at = format!("rules/{index}/do/{line}");
        let earlier = &rule.actions[..line];
        // The first line whose conditions are so counts; after one that asks for nothing none does.
        let same = |before: &Action| who(before) == who(action) && before.only_if.is_empty();
        if let Some(first) = earlier.iter().position(same) {
            let said = format!(
                "{} is told twice in this rule: only the first order would be carried out",
                words::role(action.who)
            );
            let wanted = "one order for each player; what comes next belongs in its `unfed` or `after`, or in \
                          a rule of its own";
            let finding = Finding::error(format!("{at}/who"), said).expected(wanted);
            let finding = finding.rests_on(format!("rules/{index}/do/{first}/who"));
            found.push(finding.rests_on(format!("rules/{index}/when")));
        }
        let last = |action: &Action| action.steps().last().and_then(settles);
        let Some(place) = last(action) else {
            continue;
        };
        let also = |before: &Action| {
            last(before) == Some(place)
                && who(before) != who(action)
                && !never_both(&before.only_if, &action.only_if)
                && !(one_post && posts_apart(&before.only_if, &action.only_if))
        };
        if earlier.iter().any(also) {
            let said = format!("two players are sent to {}", words::place(place));
            let finding = Finding::warning(format!("{at}/does"), said);
            found.push(finding.rests_on(format!("rules/{index}")));
        }
    }
}

/// The place where a movement ends, if that is the same for whoever makes it.
fn settles(movement: &Movement) -> Option<Place> {
    let place = movement.links().find_map(|link| match link {
        Movement::Fill(to)
        | Movement::CircleOut(to)
        | Movement::GoThrough(to)
        | Movement::Drift(to)
        | Movement::Lift(to)
        | Movement::UseScreen { to: Some(to), .. } => Some(*to),
        _ => None,
    })?;
    place
        .spot(Side::Right, None)
        .filter(|_| !matches!(place.parts(), Some((_, Some(super::super::By::Own)))))?;
    Some(place)
}
