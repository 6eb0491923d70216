//! The lines of rules: does each role mean somebody in its event, and can each movement be made?

use std::collections::BTreeSet;

use super::super::words;
use super::super::{Action, Event, Movement, OffScreen, Offence, Place, Role, Rule};
use super::events::{Reach, has_inside};
use super::{Finding, LONGEST, name, number, single, within};

/// What the checks of lines need to know of the whole offence.
struct Known<'a> {
    event: &'a Event,
    /// Where the event stands.
    when: String,
    reach: &'a Reach,
    inside: bool,
    second_inside: bool,
    /// Who plays, by number, in order.
    players: &'a [u8],
}

pub(super) fn check(offence: &Offence, found: &mut Vec<Finding>) {
    if offence.rules.is_empty() {
        found.push(Finding::warning(
            "rules",
            "there are no rules: nobody will move",
        ));
    }
    let reach = Reach::of(offence);
    let inside = has_inside(offence);
    let starters = offence
        .alignment
        .iter()
        .filter_map(|stand| stand.at.parts());
    let second_inside = starters.filter(|(name, _)| !name.is_perimeter()).count() >= 2;
    let mut players: Vec<u8> = offence.alignment.iter().map(|stand| stand.player).collect();
    players.sort_unstable();
    let mut names = BTreeSet::new();
    for (index, rule) in offence.rules.iter().enumerate() {
        let at = format!("rules/{index}");
        name(&rule.name, &format!("{at}/name"), found);
        if !names.insert(rule.name.as_str()) {
            let said = format!("there are two rules named \"{}\"", rule.name);
            found.push(Finding::error(format!("{at}/name"), said));
        }
        if rule.actions.is_empty() {
            let said = "this rule tells nobody to do anything";
            found.push(Finding::warning(format!("{at}/do"), said));
        }
        let known = Known {
            event: &rule.when,
            when: format!("{at}/when"),
            reach: &reach,
            inside,
            second_inside,
            players: &players,
        };
        for (line, action) in rule.actions.iter().enumerate() {
            let at = format!("{at}/do/{line}");
            role(&known, action.who, &format!("{at}/who"), found);
            movement(
                &known,
                action.who,
                &action.does,
                &format!("{at}/does"),
                found,
            );
            for (step, does) in action.then.iter().enumerate() {
                movement(
                    &known,
                    action.who,
                    does,
                    &format!("{at}/then/{step}"),
                    found,
                );
            }
            within(
                action.after,
                0.0,
                LONGEST,
                " seconds",
                &format!("{at}/after"),
                found,
            );
        }
        super::ball::check(rule, &at, found);
        super::conditions::check(rule, &at, found);
        screens(rule, &at, found);
        unused_screens(offence, rule, &at, found);
    }
}

/// A screen for a player whom no rule tells to use it may stand where nobody comes by.
fn unused_screens(offence: &Offence, rule: &Rule, at: &str, found: &mut Vec<Finding>) {
    for (line, action) in rule.actions.iter().enumerate() {
        let Movement::ScreenFor { whom, .. } = &action.does else {
            continue;
        };
        let uses = |other: &Action| {
            other.steps().any(|step| match step {
                Movement::UseScreen { of, .. } => other.who == *whom || *of == action.who,
                _ => false,
            })
        };
        let mut all = offence.rules.iter().flat_map(|rule| &rule.actions);
        // Of an event that cannot be it is not known who has the ball.
        let can_be = !super::events::happenings(&rule.when).is_empty();
        if can_be && !all.any(uses) && !super::ball::is_on_the_ball(*whom, &rule.when) {
            let said = format!(
                "no rule tells {} to use this screen: nobody will wait for it",
                words::role(*whom)
            );
            let wanted = "a line with `use_screen(of: ..., unfed: ...)` for that player";
            let at = format!("{at}/do/{line}/does/whom");
            let finding = Finding::warning(at, said).expected(wanted);
            found.push(finding.rests_on("rules"));
        }
    }
}

/// A player who is to use a screen that nobody in the rule sets waits in vain.
fn screens(rule: &Rule, at: &str, found: &mut Vec<Finding>) {
    for (line, action) in rule.actions.iter().enumerate() {
        let Movement::UseScreen { of, .. } = &action.does else {
            continue;
        };
        let screens = |step: &Movement| matches!(step, Movement::ScreenFor { .. });
        let sets = |other: &Action| other.who == *of && other.steps().any(screens);
        if !rule.actions.iter().any(sets) {
            let said = format!(
                "this player waits for a screen, but this rule does not tell {} to set one",
                words::role(*of)
            );
            let finding = Finding::warning(format!("{at}/do/{line}/does/of"), said);
            found.push(finding.rests_on(format!("{at}/do")));
        }
    }
}

/// Does the event have such a player?
fn has(event: &Event, role: Role) -> bool {
    use Event as E;
    match role {
        Role::Passer | Role::Receiver => {
            matches!(
                event,
                E::Pass { .. }
                    | E::KickOut { .. }
                    | E::Catch { .. }
                    | E::CatchOffScreen { .. }
                    | E::FeedStopped { .. }
                    | E::HandOff { .. }
            )
        }
        Role::Holder => !matches!(event, E::Pass { .. } | E::KickOut { .. }),
        Role::Driver => matches!(event, E::Drive { .. } | E::KickOut { .. } | E::Catch { .. }),
        Role::Cutter => matches!(
            event,
            E::Unfed { .. } | E::ScreenSet { .. } | E::ScreenUsed { .. }
        ),
        Role::Screener => matches!(
            event,
            E::ScreenSet { .. } | E::ScreenUsed { .. } | E::CatchOffScreen { .. }
        ),
        Role::LeftAlone => matches!(event, E::Helped { .. }),
        Role::Denied => matches!(event, E::Denied { .. } | E::DribbleAt { .. }),
        _ => true,
    }
}

/// The roles that an event has, by their words.
fn those_of(event: &Event) -> String {
    let roles = [
        (Role::Passer, "passer"),
        (Role::Receiver, "receiver"),
        (Role::Holder, "holder"),
        (Role::Driver, "driver"),
        (Role::Cutter, "cutter"),
        (Role::Denied, "denied"),
        (Role::Screener, "screener"),
        (Role::LeftAlone, "left_alone"),
    ];
    let mut words: Vec<&str> = roles
        .iter()
        .filter(|(role, _)| has(event, *role))
        .map(|(_, word)| *word)
        .collect();
    words.extend(["post", "at(...)", "next", "nearest(...)", "player(...)"]);
    words.join(", ")
}

fn role(known: &Known, role: Role, at: &str, found: &mut Vec<Finding>) {
    if !has(known.event, role) {
        let said = if role == Role::Holder {
            "nobody holds the ball while a pass is in the air".to_owned()
        } else {
            format!(
                "this event has no {}",
                words::role(role).trim_start_matches("the ")
            )
        };
        let finding = Finding::error(at, said).expected(those_of(known.event));
        found.push(finding.rests_on(known.when.clone()));
    }
    match role {
        Role::At(place) => {
            single(place, false, &format!("{at}/0"), found);
            held(known, place, at, found);
        }
        Role::Nearest(place) => {
            single(place, false, &format!("{at}/0"), found);
        }
        Role::Player(player) => {
            let at = format!("{at}/0");
            if number(player, &at, found) && !known.players.contains(&player) {
                let said = format!("player {player} does not play in this offence");
                let those: Vec<String> = known.players.iter().map(u8::to_string).collect();
                let finding = Finding::error(at, said).expected(those.join(", "));
                found.push(finding.rests_on("alignment"));
            }
        }
        Role::Post if !known.inside => {
            let said = "nobody plays inside in this offence";
            found.push(Finding::error(at, said).rests_on(""));
        }
        Role::SecondPost if !known.second_inside => {
            let said = "the alignment has no second player inside";
            found.push(Finding::error(at, said).rests_on("alignment"));
        }
        _ => {}
    }
}

fn held(known: &Known, place: Place, at: &str, found: &mut Vec<Finding>) {
    if place
        .parts()
        .is_some_and(|(name, _)| !known.reach.held.contains(&name))
    {
        let said = format!("nobody ever stands at {}", words::place(place));
        found.push(Finding::warning(at, said).rests_on(""));
    }
}

fn movement(known: &Known, who: Role, does: &Movement, at: &str, found: &mut Vec<Finding>) {
    let inner = |key: &str| format!("{at}/{key}");
    match does {
        Movement::Hold | Movement::DropOff => {}
        Movement::Fill(to)
        | Movement::CircleOut(to)
        | Movement::GoThrough(to)
        | Movement::Drift(to)
        | Movement::Lift(to) => {
            single(*to, true, &inner("0"), found);
        }
        Movement::FillFirst(places) => {
            if places.is_empty() {
                found.push(Finding::error(at, "there is no place to fill"));
            }
            for (index, place) in places.iter().enumerate() {
                let at = inner(&format!("0/{index}"));
                single(*place, true, &at, found);
                if places[..index].contains(place) {
                    found.push(Finding::warning(&at, "this place is listed twice"));
                }
            }
        }
        Movement::Replace(whom) => another(known, who, *whom, "replace", &inner("0"), found),
        Movement::Cut { to, unfed, .. } => {
            if let Some(to) = to {
                cuts_to(*to, &inner("to"), found);
            }
            movement(known, who, unfed, &inner("unfed"), found);
        }
        Movement::ScreenFor { whom, after } => {
            another(known, who, *whom, "screen for", &inner("whom"), found);
            movement(known, who, after, &inner("after"), found);
        }
        Movement::UseScreen {
            of,
            to,
            ways,
            unfed,
        } => {
            if let Some(to) = to {
                single(*to, true, &inner("to"), found);
            } else if !ways.is_empty() {
                let said = "`ways` are ways off a screen to a place: here `to` is missing";
                let finding = Finding::error(inner("ways"), said);
                found.push(finding.expected("`to: ...` beside it"));
            }
            for (index, way) in ways.iter().enumerate() {
                if ways[..index].contains(way) {
                    let at = inner(&format!("ways/{index}"));
                    found.push(Finding::warning(at, "this way is listed twice"));
                }
            }
            let outside = to.and_then(Place::parts);
            let outside = outside.is_none_or(|(name, _)| name.is_perimeter());
            if ways.contains(&OffScreen::Fade) && !outside {
                let said = "nobody fades to a place inside";
                let finding = Finding::error(inner("to"), said);
                found.push(finding.expected("a place outside, or `ways` without `fade`"));
            }
            another(known, who, *of, "use the screen of", &inner("of"), found);
            movement(known, who, unfed, &inner("unfed"), found);
        }
        Movement::Flash { to, seconds } => {
            single(*to, true, &inner("to"), found);
            within(*seconds, 0.1, LONGEST, " seconds", &inner("seconds"), found);
        }
        Movement::Seal { at: place, seconds } => {
            single(*place, true, &inner("at"), found);
            within(*seconds, 0.1, LONGEST, " seconds", &inner("seconds"), found);
        }
        Movement::DribbleAt(whom) => {
            another(known, who, *whom, "dribble at", &inner("0"), found);
        }
        Movement::PassNext(to) => another(known, who, *to, "pass to", &inner("0"), found),
        Movement::HandOff(to) | Movement::DribbleHandOff(to) => {
            another(known, who, *to, "hand the ball to", &inner("0"), found);
        }
    }
}

/// A cut that ends at a place.
fn cuts_to(to: Place, at: &str, found: &mut Vec<Finding>) {
    if single(to, true, at, found) && to == Place::Rim {
        let finding = Finding::error(at, "a cut goes to the rim anyway");
        found.push(finding.expected("another place, or a cut without `to`"));
    }
}

/// A movement that needs somebody else.
fn another(known: &Known, who: Role, whom: Role, verb: &str, at: &str, found: &mut Vec<Finding>) {
    role(known, whom, at, found);
    if who == whom {
        found.push(Finding::error(at, format!("nobody can {verb} themselves")));
    }
}
