//! A drive off a screen on the ball lies inside the carrying out of the order to screen: does a rule for the drive send
//! the screener elsewhere before they have done what comes after the screen?

use super::super::words;
use super::super::{Action, Condition, Event, Movement, Offence, Place, Role, Rule};
use super::Finding;
use super::clash::meet;

/// A screen on the ball that a rule orders.
struct Screen<'a> {
    screener: Role,
    /// What comes after it.
    after: &'a Movement,
    /// Where the ball is, as far as the rule says.
    at: Place,
}

pub(super) fn check(offence: &Offence, found: &mut Vec<Finding>) {
    for (index, rule) in offence.rules.iter().enumerate() {
        let (Event::Drive { from, .. } | Event::ScreenUsed { at: from }) = rule.when else {
            continue;
        };
        for (line, action) in rule.actions.iter().enumerate() {
            let asks = |all: &[Condition]| all.contains(&Condition::NotScreening);
            if asks(&rule.only_if) || asks(&action.only_if) || action.does == Movement::Hold {
                continue;
            }
            let taken = offence
                .rules
                .iter()
                .enumerate()
                .find_map(|(other, ordering)| {
                    let mut screens = screens(ordering);
                    screens
                        .find(|screen| meet(screen.at, from) && takes(action, screen))
                        .map(|screen| (other, screen))
                });
            if let Some((other, screen)) = taken {
                let said = format!(
                    "a drive off the screen of rule {} \"{}\" fires this rule too, and {} may be the screener, who is \
                     then to {}",
                    other + 1,
                    offence.rules[other].name,
                    words::role(action.who),
                    words::bare(screen.after),
                );
                let finding = Finding::warning(format!("rules/{index}/do/{line}/does"), said);
                let wanted = "`only_if: [not_screening]`, or another player";
                let both = finding.expected(wanted).rests_on(format!("rules/{index}"));
                found.push(both.rests_on(format!("rules/{other}")));
                break;
            }
        }
    }
}

/// The screens on the ball that a rule orders.
fn screens(rule: &Rule) -> impl Iterator<Item = Screen<'_>> {
    let at = match rule.when {
        Event::Pass { to, .. } | Event::HandOff { to, .. } => to,
        Event::Catch { at } | Event::CatchOffScreen { at } | Event::BallOn { at, .. } => at,
        _ => rule
            .only_if
            .iter()
            .find_map(|one| match one {
                Condition::BallAt(place) => Some(*place),
                _ => None,
            })
            .unwrap_or(Place::Any),
    };
    let on_the_ball = move |whom: Role| match whom {
        Role::Holder | Role::Receiver => true,
        Role::At(place) => place == at,
        _ => false,
    };
    rule.actions
        .iter()
        .filter_map(move |action| match &action.does {
            Movement::ScreenFor { whom, after } if on_the_ball(*whom) => Some(Screen {
                screener: action.who,
                after,
                at,
            }),
            _ => None,
        })
}

/// Does this line of a rule for the drive take the screener away from what comes after the screen?
fn takes(action: &Action, screen: &Screen) -> bool {
    if action.does == *screen.after {
        return false;
    }
    let goes = screen.after.links().flat_map(|link| match link {
        Movement::FillFirst(places) => places.clone(),
        Movement::Fill(to)
        | Movement::CircleOut(to)
        | Movement::GoThrough(to)
        | Movement::Drift(to)
        | Movement::Lift(to) => vec![*to],
        _ => Vec::new(),
    });
    let goes: Vec<Place> = goes.collect();
    let from = |place: Place| match screen.screener {
        Role::At(held) => meet(place, held),
        Role::Post | Role::SecondPost => meet(place, Place::Inside),
        _ => false,
    };
    match action.who {
        // The place that the screener is to take is theirs from the order on; without one they keep their own.
        Role::At(place) if goes.is_empty() => from(place),
        Role::At(place) => goes.iter().any(|to| meet(place, *to)),
        who => who == screen.screener && who != Role::Screener,
    }
}
