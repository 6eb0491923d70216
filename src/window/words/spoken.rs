//! The words of the sentence in which a rule is written: how a choice is called, what is said before a part, and the
//! places in rows.

use crate::offence::Place;

/// A word of the language as the sentence has it: "cuts", "the player at". One that is not known here is said as files
/// have it.
pub fn spoken(register: &str, word: &str) -> String {
    let said = match (register, word) {
        ("Event", "pass") => "a pass goes",
        ("Event", "drive") => "a drive begins",
        ("Event", "kick_out") => "the ball comes out of a drive",
        ("Event", "hand_off") => "the ball is handed off",
        ("Event", "catch_off_screen") => "somebody catches it off a screen",
        ("Event", "feed_stopped") => "a fed cutter is stopped",
        ("Event", "catch") => "somebody catches it",
        ("Event", "unfed") => "a cutter is not fed",
        ("Event", "denied") => "a player is denied",
        ("Event", "clock") => "the clock has",
        ("Event", "ball_on") => "the ball stays",
        ("Event", "ball_crosses") => "the ball changes sides",
        ("Event", "dribble_at") => "the holder dribbles at who is",
        ("Event", "screen_set") => "a screen is set for the player",
        ("Event", "screen_used") => "somebody comes off a screen",
        ("Event", "helped") => "a defender helps off the player",
        ("Event", "post_forgotten") => "the post is forgotten",
        ("Role", "at") => "the player at",
        ("Role", "nearest") => "the free player nearest to",
        ("Role", "next") => "the next player along the perimeter",
        ("Role", "denied") => "the denied player",
        ("Role", "player") => "player",
        ("Role", _) => return format!("the {}", plain(word)),
        ("Movement", "hold") => "holds",
        ("Movement", "fill") => "fills",
        ("Movement", "fill_first") => "takes the first that is free of",
        ("Movement", "replace") => "takes the place of",
        ("Movement", "cut") => "cuts to the rim",
        ("Movement", "circle_out") => "circles out to",
        ("Movement", "go_through") => "goes through to",
        ("Movement", "screen_for") => "screens for",
        ("Movement", "use_screen") => "comes off the screen of",
        ("Movement", "flash") => "flashes",
        ("Movement", "seal") => "seals",
        ("Movement", "drop_off") => "waits to slide in beside the rim",
        ("Movement", "drift") => "drifts to",
        ("Movement", "lift") => "lifts to",
        ("Movement", "dribble_at") => "dribbles at",
        ("Movement", "hand_off") => "hands off to",
        ("Movement", "dribble_hand_off") => "dribbles into a hand-off with",
        ("Movement", "pass_next") => "passes next to",
        ("CutLane", "ball_side") => "in front of the defender",
        ("CutLane", "behind") => "behind the defender",
        ("Condition", "held") => "somebody is at",
        ("Condition", "empty") => "nobody is at",
        ("Condition", "ball_at") => "the ball is at",
        ("Condition", "post_on") => "a player is inside on the side:",
        ("Condition", "overplayed") => "the player is overplayed",
        ("Condition", "sagged_off") => "the player is sagged off",
        ("Condition", "off_ball") => "the player is without the ball",
        ("Condition", "is_player") => "the player is number",
        ("Condition", "not_screening") => "the player sets no screen",
        ("Condition", "has_ball") => "the ball is with player",
        ("Condition", "screen_coming") => "a ball screen comes",
        ("Condition", "time_over") => "the clock has at least",
        ("Condition", "time_under") => "the clock has less than",
        _ => return plain(word),
    };
    said.to_owned()
}

fn plain(word: &str) -> String {
    word.replace('_', " ")
}

/// What is said before a part; nothing if the word says it.
pub fn joins(register: &str, key: Option<&'static str>) -> &'static str {
    match (register, key) {
        ("Event", Some("ball")) => "while the ball is at",
        ("Movement", Some("unfed")) => "; not fed,",
        ("Movement", Some("after")) => "; that done,",
        ("Movement", Some("whom" | "of")) | (_, Some("lane" | "left")) => "",
        (_, Some("seconds")) => "for",
        (_, Some("ways")) => "or",
        (_, Some(key)) => key,
        (_, None) => "",
    }
}

/// What a word means, in the words of the sentence: parts are called there as they are said.
pub fn means(text: &str) -> String {
    let said = |key| {
        let said = joins("Movement", Some(key));
        format!("“{}”", said.trim_matches([';', ',', ' ']))
    };
    text.replace("`unfed`", &said("unfed"))
        .replace("`after`", &said("after"))
        .replace('`', "")
}

/// The places in rows: those of both sides beside each other.
pub fn rows(patterns: bool) -> Vec<Vec<Place>> {
    use crate::offence::By;
    let sided: [fn(By) -> Place; 6] = [
        Place::Slot,
        Place::Wing,
        Place::Corner,
        Place::Elbow,
        Place::Block,
        Place::ShortCorner,
    ];
    let sides: &[By] = if patterns {
        &[By::Ball, By::Weak, By::Either]
    } else {
        &[By::Ball, By::Weak, By::Own]
    };
    let mut rows = Vec::new();
    if patterns {
        rows.push(vec![Place::Any, Place::Perimeter, Place::Inside]);
    }
    rows.push(vec![Place::Top, Place::HighPost, Place::Rim]);
    rows.extend(sided.map(|of| sides.iter().map(|by| of(*by)).collect()));
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offence::Movement;
    use crate::offence::words::{REGISTERS, bare, does, rule};
    use crate::possession::orders::OrderEnd;
    use crate::scenario::read_offence;
    use crate::scenario::shipped::{self, Kind};

    /// A sentence is put together of these: a word that files alone know has no place in it.
    #[test]
    fn every_event_movement_and_condition_is_said_in_a_sentence() {
        for wanted in ["Event", "Movement", "Condition"] {
            let register = REGISTERS.iter().find(|(name, _)| *name == wanted);
            let (_, words) = register.expect("a register");
            for word in *words {
                let said = spoken(wanted, word.word);
                assert_ne!(said, word.word.replace('_', " "), "{wanted}");
            }
        }
    }

    /// Words of files and of the simulation that a coach would not say.
    const NOT_SAID: [&str; 4] = ["home", "sent on", "unfed", "only_if"];

    #[test]
    fn no_choice_no_sentence_and_no_end_of_an_order_has_words_that_a_coach_would_not_say() {
        let mut told: Vec<String> = Vec::new();
        for (register, words) in REGISTERS {
            told.extend(words.iter().map(|word| spoken(register, word.word)));
            told.extend(words.iter().map(|word| means(word.means)));
        }
        told.extend(OrderEnd::ALL.map(|end| end.word().to_owned()));
        for file in shipped::all(Kind::Offence).chain(shipped::DRILLS) {
            let offence = read_offence(file.text, file.word).expect("sound").value;
            told.extend(offence.rules.iter().map(rule));
        }
        for seconds in [0.5, 1.0] {
            let (to, at) = (Place::HighPost, Place::Rim);
            told.push(does(&Movement::Flash { to, seconds }));
            told.push(bare(&Movement::Seal { at, seconds }));
        }
        assert!(told.len() > 150, "{}", told.len());
        for said in &told {
            let found = NOT_SAID.iter().find(|word| said.contains(**word));
            assert_eq!(found, None, "{said}");
        }
        assert!(
            told.iter()
                .any(|said| said.contains("go on with “not fed”"))
        );
    }
}
