//! A rule as a sentence that is put together: words with their parts, each of which may be chosen anew. What may
//! stand where comes from the language itself (`offence::words::shape`).

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::court::Side;
use crate::offence::words::shape::{self, Part, Shape};
use crate::offence::words::{REGISTERS, Word};
use crate::offence::{Place, Rule};
use crate::scenario::tree::Node;

/// A piece of a rule.
#[derive(Clone, Debug, PartialEq)]
pub enum Phrase {
    /// A word of a register, with its parts.
    Word {
        /// Name of the register.
        register: &'static str,
        /// The word.
        word: String,
        /// Its parts, in the order of the language.
        parts: Vec<(Part, Phrase)>,
    },
    /// Named parts.
    Group(Vec<(Part, Phrase)>),
    /// A list, and what may stand in it.
    List(Shape, Vec<Phrase>),
    /// What may be left out.
    Maybe(Shape, Option<Box<Phrase>>),
    /// Seconds.
    Seconds(f64),
    /// A player's number.
    Player(u8),
    /// Yes or no.
    Flag(bool),
    /// Text.
    Text(String),
}

/// Where a piece is: the numbers of the parts that lead to it.
pub type Path = Vec<usize>;

impl Phrase {
    /// The phrase of a rule.
    pub fn of(rule: &Rule) -> Option<Phrase> {
        let text = ron::to_string(rule).ok()?;
        let tree = Node::of(&text).ok()?;
        let shape = Shape::Group("Rule", shape::rule());
        Some(Phrase::read(&shape, Some(&tree)))
    }

    /// The rule that it says; `None` if it says none.
    pub fn rule(&self) -> Option<Rule> {
        self.value()
    }

    /// What it says, as a value of the language.
    pub fn value<T: DeserializeOwned>(&self) -> Option<T> {
        ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
            .from_str(&self.text())
            .ok()
    }

    /// The phrase of a place.
    pub fn place(place: Place) -> Phrase {
        Phrase::written("Place", &place)
    }

    /// The phrase of a value that is a word of a register.
    pub fn written<T: Serialize>(register: &'static str, value: &T) -> Phrase {
        let text = ron::to_string(value).unwrap_or_default();
        let tree = Node::of(&text).ok();
        Phrase::read(&Shape::Word(register), tree.as_ref())
    }

    /// Something for a shape that has not been said yet.
    pub fn any(shape: &Shape) -> Phrase {
        Phrase::read(shape, None)
    }

    fn read(shape: &Shape, node: Option<&Node>) -> Phrase {
        match shape {
            Shape::Word(register) => Phrase::read_word(register, node),
            Shape::Group(name, _) => {
                let parts = match *name {
                    "Action" => shape::line(),
                    _ => shape::rule(),
                };
                Phrase::Group(named(parts, node))
            }
            Shape::List(inner) => {
                let items = node.map(|n| n.items.as_slice()).unwrap_or_default();
                let list = items.iter().map(|i| Phrase::read(inner, Some(&i.node)));
                Phrase::List((**inner).clone(), list.collect())
            }
            Shape::Maybe(inner) => {
                let some = node.filter(|n| n.word != "None").map(|n| {
                    let held = n.items.first().filter(|_| n.word == "Some");
                    Box::new(Phrase::read(inner, Some(held.map_or(n, |i| &i.node))))
                });
                Phrase::Maybe((**inner).clone(), some)
            }
            Shape::Seconds => {
                Phrase::Seconds(node.and_then(|n| n.word.parse().ok()).unwrap_or(0.0))
            }
            Shape::Player => Phrase::Player(node.and_then(|n| n.word.parse().ok()).unwrap_or(1)),
            Shape::Flag => Phrase::Flag(node.is_some_and(|n| n.word == "true")),
            Shape::Text => {
                let text = node.and_then(|n| ron::from_str(&n.word).ok());
                Phrase::Text(text.unwrap_or_default())
            }
        }
    }

    fn read_word(register: &'static str, node: Option<&Node>) -> Phrase {
        let word = node.map_or_else(|| usual(register).to_owned(), |n| n.word.clone());
        let parts = shape::parts(register, &word).unwrap_or_default();
        let parts = match parts.as_slice() {
            [one] if one.key.is_none() => {
                let inner = node.and_then(|n| n.items.first()).map(|i| &i.node);
                vec![(one.clone(), Phrase::read(&one.shape, inner).or_usual(inner))]
            }
            _ => named(parts, node),
        };
        Phrase::Word {
            register,
            word,
            parts,
        }
    }

    /// Nobody waits for no time: seconds that have not been said are one.
    fn or_usual(self, said: Option<&Node>) -> Phrase {
        match self {
            Phrase::Seconds(_) if said.is_none() => Phrase::Seconds(1.0),
            other => other,
        }
    }

    /// Another word in its place; parts of the same name and shape stay as they are.
    pub fn choose(&mut self, new: &str) {
        let Phrase::Word {
            register,
            word,
            parts,
        } = self
        else {
            return;
        };
        let mut old = std::mem::take(parts);
        new.clone_into(word);
        let asked = shape::parts(register, new).unwrap_or_default();
        let mut take = |is_it: &dyn Fn(&Part) -> bool| {
            let at = old.iter().position(|(was, _)| is_it(was))?;
            Some(old.swap_remove(at).1)
        };
        let kept: Vec<_> = asked.iter().map(|part| take(&|was| was == part)).collect();
        let filled = asked.into_iter().zip(kept).map(|(part, kept)| {
            // What comes after one movement may come after another; no piece is said twice: a pass from a place goes
            // to another.
            let phrase = kept.or_else(|| take(&|was| was.shape == part.shape));
            let any = || Phrase::any(&part.shape).or_usual(None);
            let phrase = phrase.unwrap_or_else(any);
            (part, phrase)
        });
        *parts = filled.collect();
    }

    /// The piece at a path.
    pub fn at(&mut self, path: &[usize]) -> Option<&mut Phrase> {
        let Some((first, rest)) = path.split_first() else {
            return Some(self);
        };
        match self {
            Phrase::Word { parts, .. } | Phrase::Group(parts) => parts.get_mut(*first)?.1.at(rest),
            Phrase::List(_, list) => list.get_mut(*first)?.at(rest),
            Phrase::Maybe(_, held) => held.as_mut()?.at(rest),
            _ => None,
        }
    }

    /// The paths of all words in it, in the order of the sentence.
    pub fn words_within(&self) -> Vec<Path> {
        let mut found = Vec::new();
        self.gather(&mut Path::new(), &mut found);
        found
    }

    fn gather(&self, path: &mut Path, found: &mut Vec<Path>) {
        let inner: Vec<&Phrase> = match self {
            Phrase::Word { parts, .. } => {
                found.push(path.clone());
                parts.iter().map(|(_, piece)| piece).collect()
            }
            Phrase::Group(parts) => parts.iter().map(|(_, piece)| piece).collect(),
            Phrase::List(_, list) => list.iter().collect(),
            _ => Vec::new(),
        };
        for (k, piece) in inner.into_iter().enumerate() {
            path.push(k);
            piece.gather(path, found);
            path.pop();
        }
    }

    /// The part of that name.
    pub fn part(&self, key: &str) -> Option<&Phrase> {
        let (Phrase::Word { parts, .. } | Phrase::Group(parts)) = self else {
            return None;
        };
        let found = parts.iter().find(|(part, _)| part.key == Some(key));
        found.map(|(_, phrase)| phrase)
    }

    /// As a file has it, without what may be left out and is.
    pub fn text(&self) -> String {
        match self {
            Phrase::Word { word, parts, .. } => match parts.as_slice() {
                [] => word.clone(),
                [(part, only)] if part.key.is_none() => format!("{word}({})", only.text()),
                parts => format!("{word}({})", joined(parts)),
            },
            Phrase::Group(parts) => format!("({})", joined(parts)),
            Phrase::List(_, list) => {
                let list: Vec<String> = list.iter().map(Phrase::text).collect();
                format!("[{}]", list.join(", "))
            }
            Phrase::Maybe(_, held) => held.as_ref().map_or("None".into(), |p| p.text()),
            Phrase::Seconds(seconds) => format!("{seconds:?}"),
            Phrase::Player(number) => number.to_string(),
            Phrase::Flag(flag) => flag.to_string(),
            Phrase::Text(text) => ron::to_string(text).unwrap_or_default(),
        }
    }

    /// Is it what is read where nothing is written?
    fn is_left_out(&self, key: Option<&str>) -> bool {
        match self {
            Phrase::Maybe(_, held) => held.is_none(),
            Phrase::List(_, list) => list.is_empty() && key != Some("do"),
            Phrase::Seconds(seconds) => *seconds == 0.0 && key == Some("after"),
            Phrase::Flag(flag) => !flag,
            _ => false,
        }
    }
}

/// Every part by its name, said or not.
fn named(parts: Vec<Part>, node: Option<&Node>) -> Vec<(Part, Phrase)> {
    parts
        .into_iter()
        .map(|part| {
            let inner = part.key.and_then(|key| node?.step(key));
            let phrase = Phrase::read(&part.shape, inner);
            let phrase = match part.key {
                // A delay that is not said is none.
                Some("after") => phrase,
                _ => phrase.or_usual(inner),
            };
            (part, phrase)
        })
        .collect()
}

fn joined(parts: &[(Part, Phrase)]) -> String {
    let said = parts.iter().filter(|(part, p)| !p.is_left_out(part.key));
    let said = said.map(|(part, phrase)| format!("{}: {}", part.key.unwrap_or(""), phrase.text()));
    said.collect::<Vec<_>>().join(", ")
}

/// The words of a register.
pub fn words(register: &str) -> &'static [Word] {
    let found = REGISTERS.iter().find(|(name, _)| *name == register);
    found.map_or(&[], |(_, words)| words)
}

/// The word that a register begins with where nothing has been said.
fn usual(register: &str) -> &'static str {
    match register {
        // The first three of the places are patterns, which name no place to go to; nearly every offence has wings.
        "Place" => "wing",
        _ => words(register).first().map_or("", |word| word.word),
    }
}

/// A place that was pointed at on the floor, as the rule says it while the ball is on that side.
pub fn pointed(spot: crate::court::Spot, ball: Side) -> Phrase {
    Phrase::place(Place::of(spot, ball))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::read_offence;
    use crate::scenario::shipped::{self, Kind};

    #[test]
    fn every_shipped_rule_is_said_as_a_phrase_and_read_back() {
        let mut seen = 0;
        for file in shipped::all(Kind::Offence) {
            let offence = read_offence(file.text, file.word)
                .expect("an offence")
                .value;
            for rule in offence.rules {
                let phrase = Phrase::of(&rule).expect("a phrase");
                assert_eq!(phrase.rule(), Some(rule), "{}", phrase.text());
                seen += 1;
            }
        }
        assert!(seen > 40, "{seen}");
    }

    #[test]
    fn every_word_can_be_chosen_where_it_may_stand() {
        for (register, all) in REGISTERS {
            for word in all {
                let mut phrase = Phrase::any(&Shape::Word(register));
                phrase.choose(word.word);
                let text = phrase.text();
                let read = match register {
                    "Event" => phrase.value::<crate::offence::Event>().is_some(),
                    "Movement" => phrase.value::<crate::offence::Movement>().is_some(),
                    "Role" => phrase.value::<crate::offence::Role>().is_some(),
                    "Place" => phrase.value::<Place>().is_some(),
                    "Condition" => phrase.value::<crate::offence::Condition>().is_some(),
                    _ => true,
                };
                assert!(read, "{text}");
            }
        }
    }

    #[test]
    fn another_movement_keeps_what_it_can_of_the_one_before() {
        let rule = "(name: \"r\", when: ball_crosses, do: [(who: post, does: flash(to: elbow(ball), seconds: 2.5))])";
        let rule: Rule = ron::from_str(rule).expect("a rule");
        let mut phrase = Phrase::of(&rule).expect("a phrase");
        let does = phrase.at(&[2, 0, 1]).expect("a movement");
        does.choose("seal");
        assert_eq!(does.text(), "seal(at: elbow(ball), seconds: 2.5)");
        does.choose("fill");
        assert_eq!(does.text(), "fill(elbow(ball))");
        assert!(phrase.rule().is_some());
    }
}
