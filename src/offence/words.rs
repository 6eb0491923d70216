//! The offence's language in plain English: a register of every word with a sentence that says what
//! it means (the guide is tested against it), and sentences for whole rules.

use super::{
    Action, By, CutLane, Event, LookKind, Movement, OffScreen, Offence, Place, Role, Rule, Toward,
};

mod conditions;
mod register;
pub mod shape;

pub use conditions::condition;
use conditions::conditions;

pub use register::{
    CONDITIONS, EVENTS, LANES, LOOKS, MOVEMENTS, OFF_SCREENS, PLACES, REGISTERS, ROLES, SIDES,
    TOWARDS, Word, otherwise,
};

/// "the ball-side slot", "the top", "the wing on his own side".
pub fn place(place: Place) -> String {
    match place.parts() {
        None => match place {
            Place::Perimeter => "any place outside".to_owned(),
            Place::Inside => "any place inside".to_owned(),
            _ => "any place".to_owned(),
        },
        Some((name, None)) => format!("the {}", name.word()),
        Some((name, Some(by))) => match by {
            By::Ball => format!("the ball-side {}", name.word()),
            By::Weak => format!("the weak-side {}", name.word()),
            By::Own => format!("the {} on the player's own side", name.word()),
            By::Either => format!("either {}", name.word()),
        },
    }
}

/// "the passer", "the player at the weak-side slot".
pub fn role(role: Role) -> String {
    match role {
        Role::Passer => "the passer".to_owned(),
        Role::Receiver => "the receiver".to_owned(),
        Role::Holder => "the holder".to_owned(),
        Role::Driver => "the driver".to_owned(),
        Role::Cutter => "the cutter".to_owned(),
        Role::Denied => "the denied player".to_owned(),
        Role::Screener => "the screener".to_owned(),
        Role::LeftAlone => "the player left alone".to_owned(),
        Role::Post => "the post".to_owned(),
        Role::SecondPost => "the second post".to_owned(),
        Role::At(at) => format!("the player at {}", place(at)),
        Role::Next => "the next player along the perimeter".to_owned(),
        Role::Nearest(to) => format!("the free player nearest to {}", place(to)),
        Role::Player(number) => format!("player {number}"),
    }
}

fn time(seconds: f64) -> String {
    format!("{seconds} s")
}

/// "the ball goes from the ball-side slot to the ball-side wing".
pub fn event(event: &Event) -> String {
    match *event {
        Event::Pass { from, to } => format!("the ball goes from {} to {}", place(from), place(to)),
        Event::Drive { from, toward } => {
            let way = match toward {
                None => "",
                Some(Toward::Middle) => " to the middle",
                Some(Toward::Baseline) => " to the baseline",
            };
            format!("the holder drives{way} from {}", place(from))
        }
        Event::KickOut { from } => {
            format!("the ball is kicked out of a drive from {}", place(from))
        }
        Event::HandOff { from, to } => format!(
            "the player from {} hands the ball to the player from {}",
            place(from),
            place(to)
        ),
        Event::Catch { at } => format!("somebody catches the ball at {}", place(at)),
        Event::CatchOffScreen { at } => {
            format!("a player off a screen catches the ball at {}", place(at))
        }
        Event::FeedStopped { at } => {
            format!("a player who was fed inside is stopped at {}", place(at))
        }
        Event::Unfed { from, to } => format!(
            "a cutter from {} is not fed at {}",
            place(from),
            place(to.unwrap_or(Place::Rim))
        ),
        Event::Denied { at, ball, seconds } => format!(
            "the player at {} is denied for {} while the ball is at {}",
            place(at),
            time(seconds),
            place(ball)
        ),
        Event::Clock { left } => format!("{} are left to shoot in", time(left)),
        Event::BallOn { at, seconds } => {
            format!("the ball has been at {} for {}", place(at), time(seconds))
        }
        Event::BallCrosses => "the ball changes sides".to_owned(),
        Event::DribbleAt { at } => format!("the holder dribbles at the player at {}", place(at)),
        Event::ScreenSet { at } => format!("a screen is set for the player from {}", place(at)),
        Event::ScreenUsed { at } => format!("a player from {} comes off a screen", place(at)),
        Event::Helped { from } => {
            format!("a defender leaves the player at {} to help", place(from))
        }
        Event::PostForgotten { seconds } => {
            format!(
                "the post's defender has lost sight of the post, or sits deep under the rim, for {}",
                time(seconds)
            )
        }
    }
}

fn list(places: &[Place]) -> String {
    let words: Vec<String> = places.iter().map(|at| place(*at)).collect();
    words.join(", ")
}

/// "fill the ball-side slot": what a player is told to do.
pub fn bare(movement: &Movement) -> String {
    say(movement, false)
}

/// "fills the ball-side slot": what he does.
pub fn does(movement: &Movement) -> String {
    say(movement, true)
}

fn off_screen(way: OffScreen, third: bool) -> &'static str {
    match (way, third) {
        (OffScreen::Curl, true) => ", or curls to the rim if chased",
        (OffScreen::Curl, false) => ", or curl to the rim if chased",
        (OffScreen::Fade, true) => ", or fades to the next place if the defender goes under",
        (OffScreen::Fade, false) => ", or fade to the next place if the defender goes under",
        (OffScreen::BackCut, true) => ", or cuts backdoor if overplayed",
        (OffScreen::BackCut, false) => ", or cut backdoor if overplayed",
    }
}

/// After a flash or a seal.
const GO_BACK: (&str, &str) = ("go back", "goes back");

fn say(movement: &Movement, third: bool) -> String {
    let verb = |bare: &'static str, does: &'static str| if third { does } else { bare };
    match movement {
        Movement::Hold => format!(
            "{} and {} the ball",
            verb("stay", "stays"),
            verb("face", "faces")
        ),
        Movement::Fill(to) => format!("{} {}", verb("fill", "fills"), place(*to)),
        Movement::FillFirst(places) => {
            let verb = verb("take", "takes");
            format!(
                "{verb} the first of these at which nobody is: {}",
                list(places)
            )
        }
        Movement::Replace(whom) => {
            format!("{} the place of {}", verb("take", "takes"), role(*whom))
        }
        Movement::Cut { lane, to, unfed } => {
            let lane = match lane {
                CutLane::BallSide => "ball side",
                CutLane::Behind => "behind the defender",
            };
            format!(
                "{} {lane} to {}; not fed, {}",
                verb("cut", "cuts"),
                place(to.unwrap_or(Place::Rim)),
                say(unfed, third)
            )
        }
        Movement::CircleOut(to) => {
            let verb = verb("circle", "circles");
            format!("{verb} out along the baseline to {}", place(*to))
        }
        Movement::GoThrough(to) => {
            format!(
                "{} through under the rim to {}",
                verb("go", "goes"),
                place(*to)
            )
        }
        Movement::ScreenFor { whom, after } => {
            format!(
                "{} for {}; then {}",
                verb("screen", "screens"),
                role(*whom),
                say(after, third)
            )
        }
        Movement::UseScreen {
            of,
            to,
            ways,
            unfed,
        } => {
            let (wait, cut) = (verb("wait", "waits"), verb("cut", "cuts"));
            let (of, unfed) = (role(*of), say(unfed, third));
            match to {
                None => format!(
                    "{wait} for the screen of {of} and {cut} off it to the rim; not fed, {unfed}"
                ),
                Some(to) => {
                    let come = verb("come", "comes");
                    let ways: String = ways.iter().map(|way| off_screen(*way, third)).collect();
                    let then = match ways.is_empty() {
                        true => String::new(),
                        false => format!("{ways}; from the rim, not fed, {unfed}"),
                    };
                    format!(
                        "{wait} for the screen of {of} and {come} off it to {}{then}",
                        place(*to)
                    )
                }
            }
        }
        Movement::Flash { to, seconds } => {
            let (verb, go) = (verb("flash", "flashes"), verb(GO_BACK.0, GO_BACK.1));
            format!("{verb} to {} for {}, then {go}", place(*to), time(*seconds))
        }
        Movement::Seal { at, seconds } => {
            let (verb, go) = (verb("seal", "seals"), verb(GO_BACK.0, GO_BACK.1));
            format!(
                "{verb} the defender at {} for {}, then {go}",
                place(*at),
                time(*seconds)
            )
        }
        Movement::DropOff => {
            let (stay, step) = (verb("stay", "stays"), verb("step", "steps"));
            format!(
                "{stay} until the defender leaves, then {step} to the lane line beside the rim, on their own side"
            )
        }
        Movement::Drift(to) => format!("{} to {}", verb("drift", "drifts"), place(*to)),
        Movement::Lift(to) => format!("{} to {}", verb("lift", "lifts"), place(*to)),
        Movement::DribbleAt(whom) => format!("{} at {}", verb("dribble", "dribbles"), role(*whom)),
        Movement::PassNext(to) => format!("{} to {} next", verb("pass", "passes"), role(*to)),
        Movement::HandOff(to) => {
            let (stand, hand) = (verb("stand", "stands"), verb("hand", "hands"));
            format!("{stand} and {hand} the ball to {}", role(*to))
        }
        Movement::DribbleHandOff(to) => {
            let (dribble, hand) = (verb("dribble", "dribbles"), verb("hand", "hands"));
            format!("{dribble} toward {} and {hand} it over", role(*to))
        }
    }
}

/// "the passer cuts ball side to the rim; not fed, …"
pub fn action(action: &Action) -> String {
    let delay = if action.after > 0.0 {
        format!("after {} ", time(action.after))
    } else {
        String::new()
    };
    let who = role(action.who);
    let mut out = format!("{delay}{who} {}", does(&action.does));
    for step in &action.then {
        out += &format!("; that done, {}", does(step));
    }
    if !action.only_if.is_empty() {
        out += &format!(" (only if {})", conditions(&action.only_if, "the player"));
    }
    out
}

/// A whole rule: "When …: …. ….".
pub fn rule(rule: &Rule) -> String {
    let once = if rule.once {
        "The first time that"
    } else {
        "When"
    };
    let mut out = format!("{once} {}", event(&rule.when));
    if !rule.only_if.is_empty() {
        out += &format!(", only if {}", conditions(&rule.only_if, "the player"));
    }
    out.push(':');
    for (index, line) in rule.actions.iter().enumerate() {
        let line = action(line);
        if index == 0 {
            out.push_str(&format!(" {line}."));
        } else {
            out.push_str(&format!(" {}.", capital(&line)));
        }
    }
    if rule.actions.is_empty() {
        out.push_str(" nobody does anything.");
    }
    out
}

/// A whole offence, one sentence for each of its parts and rules.
pub fn offence(offence: &Offence) -> Vec<String> {
    let mut out = Vec::new();
    let fewer = ["Two", "Three", "Four"];
    if let Some(players) = usize::from(offence.players)
        .checked_sub(2)
        .and_then(|i| fewer.get(i))
    {
        out.push(format!("{players} play on each side."));
    }
    for stand in &offence.alignment {
        let ball = if stand.player == offence.ball {
            " with the ball"
        } else {
            ""
        };
        out.push(format!(
            "Player {} starts at {}{ball}.",
            stand.player,
            place(stand.at)
        ));
    }
    if !offence.keep_filled.is_empty() {
        out.push(format!(
            "Always to be filled: {}.",
            list(&offence.keep_filled)
        ));
    }
    out.extend(offence.rules.iter().map(rule));
    let looks: Vec<&str> = offence.reading.iter().map(|look| look.word()).collect();
    out.push(format!(
        "The holder reads, in this order: {}.",
        looks.join(", ")
    ));
    let unread: Vec<&str> = LookKind::ALL
        .iter()
        .filter(|look| !offence.reading.contains(look))
        .map(|look| look.word())
        .collect();
    if !unread.is_empty() {
        out.push(format!("Never taken: {}.", unread.join(", ")));
    }
    if offence.drive_from.is_empty() {
        out.push("Nobody drives.".to_owned());
    } else {
        let on_the_ball = |does: &Movement| {
            let screens = |link: &Movement| match link {
                Movement::ScreenFor { whom, .. } => matches!(whom, Role::Holder | Role::Receiver),
                _ => false,
            };
            does.links().any(screens)
        };
        let mut lines = offence.rules.iter().flat_map(|rule| &rule.actions);
        let elsewhere = match lines.any(|line| line.steps().any(on_the_ball)) {
            true if !offence.drive_from.contains(&Place::Any) => {
                ", and from elsewhere only off a screen on the ball"
            }
            _ => "",
        };
        // (`GOES_TO_WORK_FROM` in `sim/sight.rs`.)
        let inside = match offence.drive_from.contains(&Place::Any) {
            true => "",
            false => "; at a place inside, near the ring, a holder may always go to it",
        };
        let from = list(&offence.drive_from);
        out.push(format!("Drives start from {from}{elsewhere}{inside}."));
    }
    out.extend(who_shoots_when(offence));
    out.push(format!(
        "A holder looks for {} before moving the ball on{}.",
        time(offence.patience.hold),
        asks(offence.patience.asks_more)
    ));
    out
}

/// How many passes come first, and who shoots from where.
fn who_shoots_when(offence: &Offence) -> Vec<String> {
    let mut out = Vec::new();
    let first = offence.patience.passes_first;
    if first > 0 {
        let passes = if first == 1 { "pass" } else { "passes" };
        out.push(format!(
            "Before {first} {passes} nobody shoots or drives from outside, unless the time is nearly up; at the rim \
             anybody shoots."
        ));
    }
    out.extend(offence.shots_from.iter().map(|shots| {
        let player = shots.player;
        if shots.from.is_empty() {
            format!("{player} shoots at the rim only.")
        } else {
            let from = list(&shots.from);
            format!("{player} shoots only from {from}, and at the rim.")
        }
    }));
    out
}

/// What a holder asks of a look beside what it is worth to go on, points.
fn asks(points: f64) -> String {
    if points > 0.0 {
        format!(", and takes a look only if it seems worth {points} points more than to go on")
    } else if points < 0.0 {
        let less = -points;
        format!(", and takes a look that seems worth up to {less} points less than to go on")
    } else {
        String::new()
    }
}

/// "The" for "the".
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ron::error::Error;
    use serde::de::DeserializeOwned;

    fn words_of<T: DeserializeOwned>() -> Vec<&'static str> {
        match ron::from_str::<T>("no_such_word")
            .map(|_| ())
            .unwrap_err()
            .code
        {
            Error::NoSuchEnumVariant { expected, .. } => expected.to_vec(),
            other => panic!("{other}"),
        }
    }

    #[test]
    fn every_word_that_can_be_written_is_in_its_register_and_no_other() {
        let written = [
            words_of::<By>(),
            words_of::<Place>(),
            words_of::<Event>(),
            words_of::<Role>(),
            words_of::<CutLane>(),
            words_of::<Movement>(),
            words_of::<LookKind>(),
            words_of::<crate::offence::Condition>(),
            words_of::<OffScreen>(),
            words_of::<Toward>(),
        ];
        for ((name, register), words) in REGISTERS.iter().zip(written) {
            let registered: Vec<&str> = register.iter().map(|word| word.word).collect();
            assert_eq!(registered, words, "{name}");
            assert!(register.iter().all(|word| !word.means.is_empty()));
        }
    }

    #[test]
    fn a_rule_reads_as_a_coach_says_it() {
        let text = "(name: \"r\", when: pass(from: slot(ball), to: wing(ball)), do: [
            (who: passer, does: cut(lane: ball_side, unfed: go_through(wing(weak)))),
            (who: at(slot(weak)), does: fill(slot(ball)), after: 0.5),
        ])";
        let read: Rule = ron::from_str(text).unwrap();
        assert_eq!(
            rule(&read),
            "When the ball goes from the ball-side slot to the ball-side wing: the passer cuts ball \
             side to the rim; not fed, goes through under the rim to the weak-side wing. After \
             0.5 s the player at the weak-side slot fills the ball-side slot."
        );
    }
}
