//! The offence's language in plain English: a register of every word with a sentence that says what
//! it means (the guide is tested against it), and sentences for whole rules.

use super::{Action, By, CutLane, Event, LookKind, Movement, Offence, Place, Role, Rule};

/// A word of the language and what it means.
#[derive(Clone, Copy, Debug)]
pub struct Word {
    pub word: &'static str,
    pub means: &'static str,
}

const fn word(word: &'static str, means: &'static str) -> Word {
    Word { word, means }
}

/// Sides of the floor.
pub const SIDES: [Word; 4] = [
    word(
        "ball",
        "the side on which the ball is once the event has happened",
    ),
    word("weak", "the other side"),
    word("own", "the side of the place that the player himself held"),
    word("either", "both sides; only in a `when`"),
];

/// Places. Those with two sides are written with one: `slot(ball)`.
pub const PLACES: [Word; 12] = [
    word("any", "any place; only in a `when`"),
    word(
        "perimeter",
        "any place outside: top, slots, wings, corners; only in a `when`",
    ),
    word(
        "inside",
        "any place inside: blocks, short corners, elbows, high post; only in a `when`",
    ),
    word("top", "outside the arc, in the middle"),
    word("high_post", "the middle of the free-throw line"),
    word("rim", "under the ring"),
    word("slot", "outside the arc, above the elbow; two of them"),
    word(
        "wing",
        "outside the arc, about level with the free-throw line; two of them",
    ),
    word("corner", "outside the arc, near the baseline; two of them"),
    word(
        "elbow",
        "where the free-throw line meets the lane line; two of them",
    ),
    word("block", "beside the lane, at the block mark; two of them"),
    word(
        "short_corner",
        "near the baseline, half way between lane and corner; two of them",
    ),
];

/// Events.
pub const EVENTS: [Word; 11] = [
    word("pass", "a pass between two places is in the air"),
    word(
        "drive",
        "the holder puts the ball on the floor toward the rim",
    ),
    word(
        "kick_out",
        "a pass out of a drive; `from` is where the drive began",
    ),
    word("catch", "somebody catches the ball there"),
    word(
        "unfed",
        "a cutter has come to the rim and was not fed; `from` is where he came from",
    ),
    word(
        "denied",
        "a player one pass away is guarded in the passing lane for so long, while the ball is at `ball`",
    ),
    word("clock", "so many seconds are left to shoot in"),
    word(
        "ball_on",
        "the ball has been held at that place for so long",
    ),
    word("ball_crosses", "the ball has changed sides"),
    word(
        "dribble_at",
        "the holder dribbles at a team-mate who stands there",
    ),
    word(
        "post_forgotten",
        "the post's defender has lost sight of him, or sits deep under the rim, for so long",
    ),
];

/// Roles.
pub const ROLES: [Word; 12] = [
    word("passer", "he who passed"),
    word("receiver", "he to whom the ball goes"),
    word("holder", "he who has the ball now"),
    word("driver", "he who drives, or drove last"),
    word("cutter", "he whose cut the event is about"),
    word(
        "denied",
        "he who is denied, or at whom the ball is dribbled",
    ),
    word("post", "whoever plays inside; the first of two"),
    word("second_post", "the second inside player"),
    word("at", "he who holds that place: `at(slot(weak))`"),
    word(
        "next",
        "the next player along the perimeter from the ball, on its weak-side hand",
    ),
    word(
        "nearest",
        "the nearest player to that place who is free to move: `nearest(top)`",
    ),
    word("player", "a player by number: `player(5)`"),
];

/// On which side of his defender a cutter goes.
pub const LANES: [Word; 2] = [
    word(
        "ball_side",
        "in front of the defender, between him and the ball",
    ),
    word("behind", "behind the defender's back: a backdoor cut"),
];

/// Movements.
pub const MOVEMENTS: [Word; 15] = [
    word("hold", "stay, and face the ball"),
    word("fill", "take that place"),
    word(
        "fill_first",
        "take the first of these places that nobody holds",
    ),
    word(
        "replace",
        "take the place which that player holds, or held before he left it",
    ),
    word(
        "cut",
        "cut to the rim at full speed; if the ball does not come, go on with `unfed`",
    ),
    word(
        "circle_out",
        "from the rim out along the baseline and round to that place",
    ),
    word("go_through", "from the rim on, under it, to that place"),
    word(
        "screen_for",
        "set a screen on that player's defender, then go on with `after`",
    ),
    word(
        "use_screen",
        "wait for the screener, cut off his shoulder to the rim; unfed, go on with `unfed`",
    ),
    word(
        "flash",
        "show at that place for so long, facing the ball; then go home",
    ),
    word(
        "seal",
        "hold the defender on the back at that place for so long; then go home",
    ),
    word(
        "drop_off",
        "wait until his own defender leaves to help, then step to the open place beside the rim",
    ),
    word(
        "drift",
        "move along the perimeter away from the drive to that place, facing the ball",
    ),
    word(
        "lift",
        "move up along the perimeter to that place, facing the ball",
    ),
    word("dribble_at", "(the holder) dribble at that team-mate"),
];

/// Looks of the ball holder.
pub const LOOKS: [Word; 9] = [
    word("shot", "shoot from here"),
    word("drive", "drive to the rim"),
    word(
        "give_and_go",
        "pass to a team-mate who cuts in front of his defender",
    ),
    word(
        "backdoor",
        "pass to a team-mate who cuts behind his defender",
    ),
    word("post", "pass to a team-mate who plays inside"),
    word(
        "drop_off",
        "from a drive: pass to the team-mate beside the rim",
    ),
    word(
        "kick_out",
        "from a drive or from the post: out to a team-mate on the perimeter",
    ),
    word(
        "next_pass",
        "pass to a team-mate on the perimeter one pass away",
    ),
    word(
        "skip",
        "over the defence to a team-mate two or more passes away",
    ),
];

/// Every register, with its name and the enum's.
pub const REGISTERS: [(&str, &[Word]); 7] = [
    ("By", &SIDES),
    ("Place", &PLACES),
    ("Event", &EVENTS),
    ("Role", &ROLES),
    ("CutLane", &LANES),
    ("Movement", &MOVEMENTS),
    ("LookKind", &LOOKS),
];

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
            By::Own => format!("the {} on his own side", name.word()),
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
        Event::Drive { from } => format!("the holder drives from {}", place(from)),
        Event::KickOut { from } => {
            format!("the ball is kicked out of a drive from {}", place(from))
        }
        Event::Catch { at } => format!("somebody catches the ball at {}", place(at)),
        Event::Unfed { from } => format!("a cutter from {} is not fed at the rim", place(from)),
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
        Event::PostForgotten { seconds } => {
            format!(
                "the post's defender has forgotten him for {}",
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
                "{verb} the first of these that nobody holds: {}",
                list(places)
            )
        }
        Movement::Replace(whom) => {
            format!("{} the place of {}", verb("take", "takes"), role(*whom))
        }
        Movement::Cut { lane, unfed } => {
            let lane = match lane {
                CutLane::BallSide => "ball side to the rim",
                CutLane::Behind => "behind his defender to the rim",
            };
            format!(
                "{} {lane}; not fed, he {}",
                verb("cut", "cuts"),
                does(unfed)
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
                "{} for {}; then he {}",
                verb("screen", "screens"),
                role(*whom),
                does(after)
            )
        }
        Movement::UseScreen { of, unfed } => {
            let (wait, cut) = (verb("wait", "waits"), verb("cut", "cuts"));
            let unfed = does(unfed);
            format!(
                "{wait} for the screen of {} and {cut} off it to the rim; not fed, he {unfed}",
                role(*of)
            )
        }
        Movement::Flash { to, seconds } => {
            let verb = verb("flash", "flashes");
            format!(
                "{verb} to {} for {}, then goes home",
                place(*to),
                time(*seconds)
            )
        }
        Movement::Seal { at, seconds } => {
            let verb = verb("seal", "seals");
            format!(
                "{verb} his defender at {} for {}, then goes home",
                place(*at),
                time(*seconds)
            )
        }
        Movement::DropOff => {
            let (wait, step) = (verb("wait", "waits"), verb("step", "steps"));
            format!(
                "{wait} for his defender to leave, then {step} to the open place beside the rim"
            )
        }
        Movement::Drift(to) => format!("{} to {}", verb("drift", "drifts"), place(*to)),
        Movement::Lift(to) => format!("{} to {}", verb("lift", "lifts"), place(*to)),
        Movement::DribbleAt(whom) => format!("{} at {}", verb("dribble", "dribbles"), role(*whom)),
    }
}

/// "the passer cuts ball side to the rim; not fed, he …"
pub fn action(action: &Action) -> String {
    let delay = if action.after > 0.0 {
        format!("after {} ", time(action.after))
    } else {
        String::new()
    };
    format!("{delay}{} {}", role(action.who), does(&action.does))
}

/// A whole rule: "When …: …. ….".
pub fn rule(rule: &Rule) -> String {
    let mut out = format!("When {}:", event(&rule.when));
    for (index, line) in rule.actions.iter().enumerate() {
        let line = action(line);
        if index == 0 {
            out.push_str(&format!(" {line}."));
        } else {
            let mut letters = line.chars();
            let first = letters
                .next()
                .map(|c| c.to_uppercase().to_string())
                .unwrap_or_default();
            out.push_str(&format!(" {first}{}.", letters.as_str()));
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
        out.push(format!("Drives start from {}.", list(&offence.drive_from)));
    }
    out.push(format!(
        "A holder looks for {} before he moves the ball on.",
        time(offence.patience.hold)
    ));
    out
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
             side to the rim; not fed, he goes through under the rim to the weak-side wing. After \
             0.5 s the player at the weak-side slot fills the ball-side slot."
        );
    }
}
