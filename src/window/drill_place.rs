//! The defence's own rule for a place, in a sentence: what the learner is to remember when the moment is forgotten. It
//! is made of the numbers that the simulation plays by.

use super::recording::Recording;
use crate::defence::{Duty, Gaze, Relation, Stance};
use crate::sim::stance::stance_of;

/// Shares of the mix below this are not told, nor a pull to the midline below it.
const TOLD: f64 = 0.1;

/// The rule by which defender `d` (0–4) has the place at this decision instant; `length` writes metres.
pub fn rule(
    recording: &Recording,
    moment: usize,
    d: usize,
    length: &dyn Fn(f64) -> String,
) -> String {
    let Some(instant) = recording.instants.get(moment) else {
        return String::new();
    };
    let defence = &recording.scenario.defence;
    let (duty, relation, _) = instant.old.duties[d];
    let (x, player) = (d + 1, instant.old.scene.guards[d] + 1);
    match duty {
        Duty::LowHelp => {
            let depth = length(defence.help.depth);
            format!(
                "The rule: the low man leaves {player} and meets the drive {depth} in front of the rim."
            )
        }
        Duty::Rotating => format!("The rule: the helper has left {player}; X{x} takes {player}."),
        Duty::Recovering => {
            let short = length(defence.closeout.short);
            format!("The rule: {player} has just caught it; X{x} closes out and stops {short} off.")
        }
        Duty::Area => format!("The rule: X{x} shifts with the ball in an area of the zone."),
        _ => stance(
            stance_of(&recording.play, d, relation),
            relation,
            player,
            length,
        ),
    }
}

/// A stance in a sentence.
pub fn stance(
    stance: &Stance,
    relation: Relation,
    player: usize,
    length: &dyn Fn(f64) -> String,
) -> String {
    let who = player.to_string();
    let parts = [
        (stance.man, who.as_str()),
        (stance.ball, "the ball"),
        (stance.rim, "the rim"),
    ];
    let sum: f64 = parts.iter().map(|p| p.0).sum::<f64>().max(1e-9);
    let mut told: Vec<_> = parts.iter().filter(|p| p.0 / sum >= TOLD).collect();
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    let names: Vec<&str> = told.iter().map(|p| p.1).collect();
    let between = match names.as_slice() {
        [only] => format!("with {only}"),
        [a, b] => {
            let half = told[0].0 / sum < 0.6;
            let nearer = if half {
                "half way".to_owned()
            } else {
                format!("nearer to {a},")
            };
            format!("{nearer} between {a} and {b}")
        }
        [a, b, c, ..] => format!("between {a}, {b} and {c}"),
        [] => String::new(),
    };
    let midline = match stance.midline {
        m if relation == Relation::OnBall && m >= TOLD => {
            ", on the midline side, so that the ball is forced to the sideline"
        }
        m if m >= 0.85 => ", on the midline",
        m if m >= 0.5 => ", most of the way to the midline",
        m if m >= TOLD => ", a little toward the midline",
        m if m <= -TOLD => ", so that the ball is forced to the middle",
        _ => "",
    };
    let (least, most) = (length(stance.gap.0), length(stance.gap.1));
    let eyes = match stance.gaze {
        Gaze::Ball => "eyes on the ball",
        Gaze::Man => "eyes on the player",
        Gaze::Both => "seeing both ball and player",
    };
    let hand = if stance.deny {
        ", a hand in the passing lane"
    } else {
        ""
    };
    format!(
        "The rule, {}: {between}{midline}; {least} to {most} off {player}, {eyes}{hand}.",
        relation.word()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read_defence;
    use crate::scenario::shipped::{self, Kind};

    /// Of every shipped defence: what the sentence names is what its numbers say, and nothing else.
    #[test]
    fn the_rule_of_a_place_says_what_its_numbers_say() {
        let mut said = std::collections::BTreeSet::new();
        for file in shipped::all(Kind::Defence) {
            let Ok(read) = read_defence(file.text, file.word) else {
                continue;
            };
            for relation in Relation::ALL {
                let s = read.value.stances.of(relation);
                let text = stance(s, relation, 4, &|m| format!("{m} m"));
                let sum = s.man + s.ball + s.rim;
                assert_eq!(text.contains("the rim"), s.rim / sum >= TOLD, "{text}");
                assert_eq!(text.contains("midline"), s.midline >= TOLD, "{text}");
                assert_eq!(text.contains("passing lane"), s.deny, "{text}");
                assert!(
                    text.contains(&format!("{} m to {} m off 4", s.gap.0, s.gap.1)),
                    "{text}"
                );
                assert!(text.contains(relation.word()), "{text}");
                said.insert(text);
            }
        }
        assert!(said.len() > 10, "{said:?}");
    }
}
