//! Every word of the register stands in a case here: a rule that is walked through, or played, from both sides. The
//! two are mirror images bit for bit, every rule of the case fires, and what it says is done. A word without a case
//! fails (who ends where in detail is for the other files beside this one).

use std::collections::BTreeSet;
use std::sync::Arc;

use lanelight::court::Side::{self, Left, Right};
use lanelight::court::SpotName;
use lanelight::offence::words::REGISTERS;
use lanelight::offence::words::shape::{Part, Shape, parts, rule};
use lanelight::possession::orders::OrderEnd;
use lanelight::possession::{Frame, Possession, What};
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::Order::{self, Deny, Drive, Forget, Hold, PassTo};
use lanelight::sim::walkthrough::{Manner, Pace, Walk, walk_in};
use lanelight::sim::{Keep, cast_untaught, play_accounted, play_shared};

use super::common::*;

#[path = "register/played.rs"]
mod played;
#[path = "register/walked.rs"]
mod walked;

/// A player by number ends at a place: on that side with the ball on the right first, or in the middle.
type End = (u8, SpotName, Option<Side>);

/// A rule or more, and a walk in which all of them fire.
pub struct Walked {
    pub rules: &'static str,
    /// Where 4 and 5 begin; 1 has the ball at the top, 2 and 3 are on the wings, 2 on the ball side.
    pub inside: [&'static str; 2],
    pub orders: Vec<Order>,
    /// Seconds after each order; until everybody has settled, if none.
    pub pace: Option<f64>,
    /// Pull of the defender on the ball to the midline; none: as the defence says.
    pub midline: Option<f64>,
    pub ends: Vec<End>,
}

/// A rule, a reading, and what a possession has to show: which words are in force is tried in possessions, since
/// a walker does not choose and no clock runs.
pub struct Played {
    pub rules: &'static str,
    pub reading: &'static str,
    /// Words that stand in no rule: (register, word).
    pub words: Vec<(&'static str, &'static str)>,
    /// Set in the defence.
    pub defend: fn(&mut lanelight::defence::Defence),
    pub shows: fn(&Possession) -> bool,
    /// Is the first order of the first rule carried out as well?
    pub done: bool,
}

fn offence(rules: &str, inside: [&str; 2], reading: &str) -> lanelight::offence::Offence {
    let text = format!(
        "(name: \"r\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
         wing(weak)), (player: 4, at: {}), (player: 5, at: {})], keep_filled: [], rules: [{rules}], reading: \
         [{reading}], drive_from: [any])",
        inside[0], inside[1]
    );
    let read = lanelight::scenario::read_offence(&text, "r.ron");
    read.unwrap_or_else(|e| panic!("{e}\n{rules}")).value
}

/// What holders read in a walk.
const WALKED: &str = "drive, drop_off, kick_out, next_pass, post";

/// A walk on both sides, which are mirror images; with the ball on the right first.
fn both_walks(case: &Walked) -> Walk {
    let mut scenario = Scenario {
        offence: offence(case.rules, case.inside, WALKED),
        ..scenario("four_out_one_post", "help_line", "")
    };
    if let Some(midline) = case.midline {
        scenario.defence.stances.on_ball.midline = midline;
    }
    let manner = Manner {
        pace: case.pace.map_or(Pace::Settled, Pace::Seconds),
        passive: true,
    };
    let [one, two] = [Right, Left].map(|side| walk_in(&scenario, side, &case.orders, manner));
    mirrored(&one, &two);
    one
}

#[test]
fn each_rule_of_the_register_is_walked_as_it_says_on_both_sides() {
    for case in walked::cases() {
        let walk = both_walks(&case);
        let names = offence(case.rules, case.inside, WALKED).rules;
        for rule in names {
            let fired = walk
                .steps
                .iter()
                .any(|step| step.rules.contains(&rule.name));
            assert!(fired, "“{}” did not fire: {}", rule.name, case.rules);
        }
        let last = walk.steps.last().unwrap();
        let mut moved = 0;
        for (player, name, side) in &case.ends {
            let place = last.place(*player);
            let there = place.is_some_and(|spot| spot.name == *name && spot.side == *side);
            assert!(there, "{player} ends at {place:?}: {}", case.rules);
            moved += usize::from(place != walk.start[usize::from(*player) - 1].place);
        }
        assert!(moved > 0, "nobody has moved: {}", case.rules);
    }
}

/// Is one frame the mirror image of the other?
fn image(one: &Frame, two: &Frame) -> bool {
    let same = |a: &[lanelight::court::Vec2; 5], b: &[lanelight::court::Vec2; 5]| {
        a.iter().zip(b).all(|(p, q)| (p.x, p.y) == (-q.x, q.y))
    };
    same(&one.attackers, &two.attackers) && same(&one.defenders, &two.defenders)
}

#[test]
fn each_word_that_needs_a_choice_or_a_clock_is_played_as_it_says_from_both_sides() {
    for case in played::cases() {
        let mut scenario = Scenario {
            offence: offence(case.rules, ["corner(weak)", "block(ball)"], case.reading),
            shot_clock: Some(30.0),
            ..scenario("four_out_one_post", "help_line", "")
        };
        (case.defend)(&mut scenario.defence);
        let [one, two] = [Right, Left].map(|side| {
            Arc::new(Scenario {
                start: Some(side),
                ..scenario.clone()
            })
        });
        let cast = cast_untaught(&one);
        let shown = (1..=200).find(|seed| {
            let (p, orders) = play_accounted(&one, &cast, *seed);
            let first = orders
                .iter()
                .filter(|o| (o.rule, o.line, o.step) == (0, 0, 0));
            let done = first.clone().any(|order| order.end == OrderEnd::Done);
            (case.shows)(&p) && (done || !case.done)
        });
        let seed = shown.unwrap_or_else(|| panic!("never: {:?} {}", case.words, case.rules));
        let [p, q] = [&one, &two].map(|s| play_shared(s, &cast, seed, Keep::ALL));
        assert_eq!(p.track.len(), q.track.len());
        let alike = p.track.iter().zip(&q.track).all(|(f, g)| image(f, g));
        assert!(alike, "seed {seed}: {:?} {}", case.words, case.rules);
        assert!(
            (case.shows)(&q),
            "seed {seed}: {:?} {}",
            case.words,
            case.rules
        );
    }
}

/// The words of a text, each with its register, read by the shapes that the language itself gives.
struct Reader<'a> {
    text: &'a str,
    words: BTreeSet<(&'static str, String)>,
}

impl Reader<'_> {
    fn eat(&mut self, mark: char) -> bool {
        self.text = self.text.trim_start();
        let rest = self.text.strip_prefix(mark);
        self.text = rest.unwrap_or(self.text);
        rest.is_some()
    }

    fn until(&mut self, ends: impl Fn(char) -> bool) -> String {
        self.text = self.text.trim_start();
        let end = self.text.find(ends).unwrap_or(self.text.len());
        let (word, rest) = self.text.split_at(end);
        self.text = rest;
        word.to_owned()
    }

    fn word(&mut self) -> String {
        self.until(|c| !(c.is_alphanumeric() || "_.".contains(c)))
    }

    fn value(&mut self, shape: &Shape) {
        match shape {
            Shape::Word(register) => {
                let word = self.word();
                let parts = parts(register, &word).unwrap_or_default();
                self.words.insert((*register, word));
                if self.eat('(') {
                    self.group(&parts);
                }
            }
            Shape::Group(_, parts) => {
                assert!(self.eat('('), "{}", self.text);
                self.group(parts);
            }
            Shape::List(inner) => {
                assert!(self.eat('['), "{}", self.text);
                while !self.eat(']') {
                    self.value(inner);
                    self.eat(',');
                }
            }
            Shape::Maybe(inner) => self.value(inner),
            Shape::Text => {
                assert!(self.eat('"'), "{}", self.text);
                self.until(|c| c == '"');
                self.eat('"');
            }
            Shape::Seconds | Shape::Player | Shape::Flag => {
                self.word();
            }
        }
    }

    /// Up to the closing bracket.
    fn group(&mut self, parts: &[Part]) {
        while !self.eat(')') {
            let part = match parts {
                [one] if one.key.is_none() => one,
                _ => {
                    let key = self.word();
                    assert!(self.eat(':'), "{key} {}", self.text);
                    let part = parts.iter().find(|part| part.key == Some(key.as_str()));
                    part.unwrap_or_else(|| panic!("{key} of {parts:?}"))
                }
            };
            self.value(&part.shape);
            self.eat(',');
        }
    }
}

/// The words of these rules.
fn words(rules: &str) -> BTreeSet<(&'static str, String)> {
    let mut reader = Reader {
        text: rules,
        words: BTreeSet::new(),
    };
    let shape = Shape::Group("rule", rule());
    while !reader.text.trim().is_empty() {
        reader.value(&shape);
        reader.eat(',');
    }
    reader.words
}

#[test]
fn every_word_of_the_register_has_a_case_on_both_sides() {
    let mut have = BTreeSet::new();
    walked::cases()
        .iter()
        .for_each(|case| have.extend(words(case.rules)));
    for case in played::cases() {
        have.extend(words(case.rules));
        let more = case.words.iter();
        have.extend(more.map(|(register, word)| (*register, (*word).to_owned())));
    }
    for (register, all) in REGISTERS {
        for word in all {
            let word = (register, word.word.to_owned());
            assert!(have.contains(&word), "{word:?} has no case");
        }
    }
}

#[test]
fn a_word_is_found_with_its_register() {
    let text = "(name: \"n\", when: denied(at: wing(either), ball: top, seconds: 0.4), once: true, do: [(who: denied, \
                does: cut(lane: behind, unfed: hold), then: [fill_first([top, corner(own)])], only_if: \
                [held(any)])])";
    let found = words(text);
    for (register, word) in [
        ("Event", "denied"),
        ("Role", "denied"),
        ("By", "either"),
        ("By", "own"),
        ("Place", "any"),
        ("Movement", "fill_first"),
        ("Movement", "hold"),
        ("Condition", "held"),
        ("CutLane", "behind"),
    ] {
        assert!(
            found.contains(&(register, word.to_owned())),
            "{word}: {found:?}"
        );
    }
    assert!(!found.contains(&("Movement", "denied".to_owned())));
}
