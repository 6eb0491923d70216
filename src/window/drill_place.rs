//! The defence's own rule for a place, in a sentence: what the learner is to remember when the moment is forgotten. It
//! is made of the numbers that the simulation plays by.

use super::drill_judge::Answer;
use super::recording::Recording;
use super::words::places as words;
use crate::defence::{Duty, Gaze, Relation, Stance};
use crate::sim::stance::stance_of;

/// Shares of the mix below this are not told, nor a pull to the midline below it.
const TOLD: f64 = 0.1;

/// The rule by which the defender of an answer has the place at this decision instant, with what it comes to there:
/// that by which the answer was judged; `length` writes metres.
pub fn rule(
    recording: &Recording,
    moment: usize,
    answer: &Answer,
    length: &dyn Fn(f64) -> String,
) -> String {
    let Some(instant) = recording.instants.get(moment) else {
        return String::new();
    };
    let (defence, d) = (&recording.scenario.defence, answer.defender);
    let (duty, relation, _) = instant.old.duties[d];
    let (x, player) = (d + 1, instant.old.scene.guards[d] + 1);
    match duty {
        Duty::LowHelp => {
            let depth = length(answer.right.length());
            words::the_rule_the_low(&player, &depth)
        }
        Duty::Rotating => words::the_rule_the_helper(&player, &x),
        Duty::Recovering => {
            let short = length(defence.closeout.short);
            words::the_rule_has_just(&player, &x, &short)
        }
        Duty::Area => words::the_rule_x_shifts(&x),
        _ => stance(
            stance_of(&recording.play, d, relation),
            relation,
            (player, answer.gap.1),
            length,
        ),
    }
}

/// A stance in a sentence; `here` is how far off the player it comes to at this instant, metres.
pub fn stance(
    stance: &Stance,
    relation: Relation,
    (player, here): (usize, f64),
    length: &dyn Fn(f64) -> String,
) -> String {
    let who = player.to_string();
    let parts = [
        (stance.man, who.as_str()),
        (stance.ball, words::THE_BALL),
        (stance.rim, words::THE_RIM),
    ];
    let sum: f64 = parts.iter().map(|p| p.0).sum::<f64>().max(1e-9);
    let mut told: Vec<_> = parts.iter().filter(|p| p.0 / sum >= TOLD).collect();
    told.sort_by(|a, b| b.0.total_cmp(&a.0));
    let names: Vec<&str> = told.iter().map(|p| p.1).collect();
    let between = match names.as_slice() {
        [only] => words::with(&only),
        [a, b] => {
            let half = told[0].0 / sum < 0.6;
            let nearer = if half {
                words::HALF_WAY.to_owned()
            } else {
                words::nearer_to(&a)
            };
            words::between_and(&nearer, &a, &b)
        }
        [a, b, c, ..] => words::between_and_c(&a, &b, &c),
        [] => String::new(),
    };
    let midline = match stance.midline {
        m if relation == Relation::OnBall && m >= TOLD => words::ON_THE_MIDLINE_SIDE,
        m if m >= 0.85 => words::ON_THE_MIDLINE,
        m if m >= 0.5 => words::MOST_OF_THE_WAY,
        m if m >= TOLD => words::A_LITTLE_TOWARD_THE,
        m if m <= -TOLD => words::SO_THAT_THE_BALL,
        _ => "",
    };
    let (least, most) = (length(stance.gap.0), length(stance.gap.1));
    let eyes = match stance.gaze {
        Gaze::Ball => words::EYES_ON_THE_BALL,
        Gaze::Man => words::EYES_ON_THE_PLAYER,
        Gaze::Both => words::SEEING_BOTH_BALL_AND,
    };
    let hand = if stance.deny {
        words::A_HAND_IN_THE
    } else {
        ""
    };
    words::the_rule_to_off(
        &relation.word(),
        &format!("{between}{midline}"),
        (&length(here), &player),
        (&least, &most),
        &format!("{eyes}{hand}"),
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
                let text = stance(s, relation, (4, 3.3), &|m| format!("{m} m"));
                let sum = s.man + s.ball + s.rim;
                assert_eq!(text.contains("the rim"), s.rim / sum >= TOLD, "{text}");
                assert_eq!(text.contains("midline"), s.midline >= TOLD, "{text}");
                assert_eq!(text.contains("passing lane"), s.deny, "{text}");
                assert!(
                    text.contains(&format!(
                        "here 3.3 m off 4 (as a rule {} m to {} m)",
                        s.gap.0, s.gap.1
                    )),
                    "{text}"
                );
                assert!(text.contains(relation.word()), "{text}");
                said.insert(text);
            }
        }
        assert!(said.len() > 10, "{said:?}");
    }
}
