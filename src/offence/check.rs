//! Is an offence sound? Everything that is wrong with it or odd about it, at once.
//!
//! Where a finding is, is said as a path through the file (`rules/3/do/0/who`), which the reader of
//! scenario files turns into a line and a column. Limits on numbers are invented, wide enough for
//! any sensible file and narrow enough to catch a slip of the pen.

use crate::court::SpotName;

use super::{By, LookKind, Offence, Patience, Place};

mod ball;
mod clash;
mod conditions;
mod events;
mod finding;
mod lines;
mod off_the_screen;

pub use crate::model::nearest_word;
pub use finding::{Finding, Weight};

/// Longest time that a file may give, seconds.
pub const LONGEST: f64 = 120.0;
/// Longest name or note, characters.
const LONGEST_NAME: usize = 120;
/// Most items in one list, and most rules (invented; the reference offence has 13 rules). Duplicates
/// and contradictions are looked for in every pair.
const MOST_ITEMS: usize = 60;
/// Most points that an offence may ask more or less than it is worth to go on (a made three is worth 3).
const ASKS_MOST: f64 = 3.0;
/// Most passes that an offence may throw first.
const MOST_PASSES: f64 = 20.0;

/// Everything wrong with or odd about an offence.
pub fn check(offence: &Offence) -> Vec<Finding> {
    let mut found = Vec::new();
    lengths(offence, &mut found);
    if !found.is_empty() {
        return found;
    }
    name(&offence.name, "name", &mut found);
    alignment(offence, &mut found);
    keep_filled(offence, &mut found);
    reading(offence, &mut found);
    drive_from(offence, &mut found);
    shots_from(offence, &mut found);
    patience(offence, &mut found);
    events::check(offence, &mut found);
    lines::check(offence, &mut found);
    clash::check(offence, &mut found);
    off_the_screen::check(offence, &mut found);
    found
}

/// Lists longer than anybody could learn are refused before they are compared pair by pair.
fn lengths(offence: &Offence, found: &mut Vec<Finding>) {
    let mut limit = |at: &str, length: usize| {
        if length > MOST_ITEMS {
            let said = format!("{length} items in this list; at most {MOST_ITEMS} are read");
            found.push(Finding::error(at, said));
        }
    };
    limit("alignment", offence.alignment.len());
    limit("keep_filled", offence.keep_filled.len());
    limit("reading", offence.reading.len());
    limit("drive_from", offence.drive_from.len());
    limit("shots_from", offence.shots_from.len());
    limit("rules", offence.rules.len());
    for (index, rule) in offence.rules.iter().enumerate() {
        limit(&format!("rules/{index}/do"), rule.actions.len());
        limit(&format!("rules/{index}/only_if"), rule.only_if.len());
        for (line, action) in rule.actions.iter().enumerate() {
            let places = action.steps().map(events::longest_fill).max();
            limit(
                &format!("rules/{index}/do/{line}/does"),
                places.unwrap_or(0),
            );
            limit(&format!("rules/{index}/do/{line}/then"), action.then.len());
            limit(
                &format!("rules/{index}/do/{line}/only_if"),
                action.only_if.len(),
            );
        }
    }
}

/// Is this a name that can be shown and asked for?
pub fn name(name: &str, at: &str, found: &mut Vec<Finding>) {
    if name.trim().is_empty() {
        found.push(Finding::error(at, "the name is empty"));
    } else if name.chars().count() > LONGEST_NAME || name.chars().any(char::is_control) {
        let said = format!("a name is one line of at most {LONGEST_NAME} characters");
        found.push(Finding::error(at, said));
    }
}

/// Is the number within bounds? NaN and infinities never are.
pub fn within(value: f64, least: f64, most: f64, unit: &str, at: &str, found: &mut Vec<Finding>) {
    if !(least..=most).contains(&value) {
        let finding = Finding::error(at, format!("{value} cannot be right here"));
        found.push(finding.expected(format!("{least} to {most}{unit}")));
    }
}

/// Is it a player's number?
pub fn number(number: u8, at: &str, found: &mut Vec<Finding>) -> bool {
    let good = (1..=5).contains(&number);
    if !good {
        let finding = Finding::error(at, format!("there is no player {number}"));
        found.push(finding.expected("1, 2, 3, 4 or 5"));
    }
    good
}

/// Is it one single place, which can be gone to? `own` only where a player's own side is known.
fn single(place: Place, own: bool, at: &str, found: &mut Vec<Finding>) -> bool {
    let good = match place.parts() {
        None => false,
        Some((_, Some(By::Either))) => false,
        Some((_, Some(By::Own))) => own,
        Some(_) => true,
    };
    if !good {
        let said = match place.parts() {
            Some((_, Some(By::Own))) => "`own` has no meaning here: say `ball` or `weak`",
            _ => "this takes in several places; here one single place must stand",
        };
        let sides = if own {
            "ball, weak or own"
        } else {
            "ball or weak"
        };
        let expected = format!("a place such as `top` or `wing(...)` with the side {sides}");
        found.push(Finding::error(at, said).expected(expected));
    }
    good
}

fn alignment(offence: &Offence, found: &mut Vec<Finding>) {
    let stands = &offence.alignment;
    let placed = stands.len();
    within(
        f64::from(offence.players),
        2.0,
        5.0,
        " players",
        "players",
        found,
    );
    if placed != usize::from(offence.players) {
        let wanted = match offence.players {
            5 => "five".into(),
            players => players.to_string(),
        };
        let said = format!("the alignment places {placed} players, not {wanted}");
        let mut finding = Finding::error("alignment", said).rests_on("players");
        if (2..=4).contains(&placed) {
            finding = finding.expected(format!(
                "{wanted}, or `players: {placed}` for fewer than five a side"
            ));
        }
        found.push(finding);
    }
    for (index, stand) in stands.iter().enumerate() {
        let at = format!("alignment/{index}/at");
        let who = format!("alignment/{index}/player");
        let good = single(stand.at, false, &at, found);
        number(stand.player, &who, found);
        let earlier = &stands[..index];
        if earlier.iter().any(|other| other.player == stand.player) {
            let said = format!("player {} is placed twice", stand.player);
            let first = earlier
                .iter()
                .position(|other| other.player == stand.player);
            let other = format!("alignment/{}/player", first.unwrap_or(0));
            found.push(Finding::error(&who, said).rests_on(other));
        }
        if let Some(other) = earlier.iter().find(|other| good && other.at == stand.at) {
            let said = format!(
                "players {} and {} both stand at {}",
                other.player,
                stand.player,
                super::words::place(stand.at)
            );
            found.push(Finding::error(&at, said).rests_on("alignment"));
        }
        let weak = matches!(stand.at.parts(), Some((_, Some(By::Weak))));
        if stand.player == offence.ball && weak {
            let said = "the player with the ball cannot stand on the weak side: \
                        the ball side is where the ball is";
            found.push(Finding::error(&at, said).rests_on("ball"));
        }
    }
    if number(offence.ball, "ball", found)
        && !stands.iter().any(|stand| stand.player == offence.ball)
    {
        let said = format!(
            "player {} has the ball but is not in the alignment",
            offence.ball
        );
        found.push(Finding::error("ball", said).rests_on("alignment"));
    }
}

fn keep_filled(offence: &Offence, found: &mut Vec<Finding>) {
    for (index, place) in offence.keep_filled.iter().enumerate() {
        let at = format!("keep_filled/{index}");
        if !single(*place, false, &at, found) {
            continue;
        }
        if offence.keep_filled[..index].contains(place) {
            let finding = Finding::error(&at, "this place is listed twice");
            found.push(finding.rests_on("keep_filled"));
        }
        if place.parts().is_some_and(|(name, _)| !name.is_perimeter()) {
            let said = "an inside place in `keep_filled`: free players will crowd the lane";
            found.push(Finding::warning(&at, said));
        }
    }
    let players = usize::from(offence.players);
    if offence.keep_filled.len() > players {
        let said = "more places to keep filled than there are players";
        let at = format!("keep_filled/{players}");
        found.push(Finding::warning(at, said).rests_on("players"));
    }
}

fn reading(offence: &Offence, found: &mut Vec<Finding>) {
    let looks = &offence.reading;
    if looks.is_empty() {
        let said = "the holder may take no look at all";
        found.push(Finding::error("reading", said));
    }
    for (index, look) in looks.iter().enumerate() {
        if looks[..index].contains(look) {
            let said = format!("the {} is listed twice", look.word());
            let finding = Finding::error(format!("reading/{index}"), said);
            found.push(finding.rests_on("reading"));
        }
    }
    if looks.contains(&LookKind::DropOff) && !looks.contains(&LookKind::Drive) {
        let said = "a drop-off comes out of a drive, but `drive` is not in the reading";
        found.push(Finding::warning("reading", said));
    }
}

/// Can these be places of a holder who `does` something there? `rim` says why not at the rim.
fn places_of_a_holder(
    (places, at): (&[Place], &str),
    (does, rim): (&str, &str),
    found: &mut Vec<Finding>,
) {
    for (index, place) in places.iter().enumerate() {
        let at = format!("{at}/{index}");
        match place.parts() {
            Some((_, Some(By::Weak))) => {
                let said =
                    format!("nobody {does} from the weak side: the ball side is where the ball is");
                found.push(Finding::error(&at, said).expected("ball or either"));
            }
            Some((_, Some(By::Own))) => {
                let said = "`own` has no meaning here";
                found.push(Finding::error(&at, said).expected("ball or either"));
            }
            Some((SpotName::Rim, _)) => found.push(Finding::error(&at, rim)),
            _ => {}
        }
        if places[..index].contains(place) {
            found.push(Finding::warning(&at, "this place is listed twice"));
        }
    }
}

fn shots_from(offence: &Offence, found: &mut Vec<Finding>) {
    for (index, shots) in offence.shots_from.iter().enumerate() {
        let at = format!("shots_from/{index}");
        let who = format!("{at}/player");
        let plays = |player: u8| offence.alignment.iter().any(|s| s.player == player);
        if number(shots.player, &who, found) && !plays(shots.player) {
            found.push(Finding::error(&who, "this player is not in the alignment"));
        }
        let mut before = offence.shots_from[..index].iter();
        if before.any(|other| other.player == shots.player) {
            let said = format!("player {} is listed twice", shots.player);
            found.push(Finding::error(&who, said));
        }
        let rim = "at the rim everybody may shoot";
        let places = (&shots.from[..], &*format!("{at}/from"));
        places_of_a_holder(places, ("shoots", rim), found);
    }
    if !offence.shots_from.is_empty() && !offence.reading.contains(&LookKind::Shot) {
        let said = "`shot` is not in the reading: nobody shoots from anywhere outside";
        found.push(Finding::error("shots_from", said));
    }
}

fn drive_from(offence: &Offence, found: &mut Vec<Finding>) {
    let rim = "at the rim there is nothing to drive to";
    places_of_a_holder((&offence.drive_from, "drive_from"), ("drives", rim), found);
    if offence.drive_from.is_empty() && offence.reading.contains(&LookKind::Drive) {
        let said = "`drive` is in the reading, but there is no place to drive from";
        found.push(Finding::error("drive_from", said));
    }
}

fn patience(offence: &Offence, found: &mut Vec<Finding>) {
    let Patience {
        hold,
        possession,
        asks_more,
        passes_first,
    } = offence.patience;
    let all = (Some(hold), Some(possession), Some(asks_more));
    patience_of(all, Some(passes_first), "patience", found);
}

/// Can the numbers of a patience be (`hold`, `possession`, `asks_more` and `passes_first`, as far as they are written)?
pub fn patience_of(
    (hold, possession, asks_more): (Option<f64>, Option<f64>, Option<f64>),
    passes_first: Option<u8>,
    at: &str,
    found: &mut Vec<Finding>,
) {
    let numbers = [
        ("hold", hold, 0.0, LONGEST, " seconds"),
        ("possession", possession, 1.0, LONGEST, " seconds"),
        ("asks_more", asks_more, -ASKS_MOST, ASKS_MOST, " points"),
        (
            "passes_first",
            passes_first.map(f64::from),
            0.0,
            MOST_PASSES,
            " passes",
        ),
    ];
    for (key, value, least, most, unit) in numbers {
        if let Some(value) = value {
            within(value, least, most, unit, &format!("{at}/{key}"), found);
        }
    }
}
