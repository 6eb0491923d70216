//! What can stand where in a rule: the parts of each word of the language, found out from the very types that files
//! are read into. Whoever lets rules be written asks here, so a new word can be written as soon as it can be read.

use std::cell::RefCell;
use std::fmt;

use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, EnumAccess, Error as _, IntoDeserializer,
    MapAccess, SeqAccess, VariantAccess, Visitor, value::Error,
};

use super::super::{
    Action, By, Condition, CutLane, Event, LookKind, Movement, OffScreen, Place, Role, Rule, Toward,
};

/// What a part of a rule may be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A word of the register of that name (`Place`, `Role`, …), with the parts that the word asks for.
    Word(&'static str),
    /// A group of named parts: a line of a rule, or a rule.
    Group(&'static str, Vec<Part>),
    /// A list.
    List(Box<Shape>),
    /// May be left out.
    Maybe(Box<Shape>),
    /// Seconds.
    Seconds,
    /// A player's number.
    Player,
    /// Yes or no.
    Flag,
    /// Text.
    Text,
}

/// A part with its name; words with one part only have none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// The name, as files have it.
    pub key: Option<&'static str>,
    /// What it may be.
    pub shape: Shape,
}

/// The parts of a word, in the order of the file: none for a word that stands alone. `None` if the register of that
/// name has no such word.
pub fn parts(register: &str, word: &str) -> Option<Vec<Part>> {
    match register {
        "By" => parts_of::<By>(word),
        "Place" => parts_of::<Place>(word),
        "Event" => parts_of::<Event>(word),
        "Role" => parts_of::<Role>(word),
        "CutLane" => parts_of::<CutLane>(word),
        "Movement" => parts_of::<Movement>(word),
        "LookKind" => parts_of::<LookKind>(word),
        "Condition" => parts_of::<Condition>(word),
        "OffScreen" => parts_of::<OffScreen>(word),
        "Toward" => parts_of::<Toward>(word),
        _ => None,
    }
}

/// The parts of a rule, and of a line of it.
pub fn rule() -> Vec<Part> {
    group::<Rule>()
}

/// The parts of a line of a rule.
pub fn line() -> Vec<Part> {
    group::<Action>()
}

fn group<T: DeserializeOwned>() -> Vec<Part> {
    let seen = RefCell::default();
    // Whatever comes of it, what was asked for is seen.
    let _ = T::deserialize(Probe {
        seen: &seen,
        word: None,
    });
    match seen.into_inner() {
        Some(Shape::Group(_, parts)) => parts,
        _ => Vec::new(),
    }
}

fn parts_of<T: DeserializeOwned>(word: &str) -> Option<Vec<Part>> {
    let (seen, parts) = (RefCell::default(), RefCell::default());
    let read = T::deserialize(Probe {
        seen: &seen,
        word: Some((word, &parts)),
    });
    read.is_ok().then(|| parts.into_inner())
}

/// Gives a type something for everything that it asks for, and writes down what that was.
#[derive(Clone, Copy)]
struct Probe<'a> {
    /// What is asked for here.
    seen: &'a RefCell<Option<Shape>>,
    /// The word to give, and where its parts are written down.
    word: Option<(&'a str, &'a RefCell<Vec<Part>>)>,
}

impl Probe<'_> {
    fn sees(&self, shape: Shape) {
        self.seen.borrow_mut().get_or_insert(shape);
    }
}

macro_rules! gives {
    ($($name:ident: $visit:ident($value:expr), $shape:expr;)*) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
            self.sees($shape);
            visitor.$visit($value)
        }
    )*};
}

impl<'de> Deserializer<'de> for Probe<'_> {
    type Error = Error;

    gives! {
        deserialize_f64: visit_f64(1.0), Shape::Seconds;
        deserialize_f32: visit_f64(1.0), Shape::Seconds;
        deserialize_u8: visit_u8(1), Shape::Player;
        deserialize_bool: visit_bool(true), Shape::Flag;
        deserialize_str: visit_str("x"), Shape::Text;
        deserialize_string: visit_str("x"), Shape::Text;
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let seen = RefCell::default();
        let value = visitor.visit_some(Probe {
            seen: &seen,
            word: None,
        })?;
        if let Some(inner) = seen.into_inner() {
            self.sees(Shape::Maybe(Box::new(inner)));
        }
        Ok(value)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        let seen = RefCell::default();
        let value = visitor.visit_seq(Once {
            seen: &seen,
            left: 1,
        })?;
        if let Some(inner) = seen.into_inner() {
            self.sees(Shape::List(Box::new(inner)));
        }
        Ok(value)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        name: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let parts = RefCell::default();
        let value = visitor.visit_map(Fields {
            fields,
            at: 0,
            parts: &parts,
        });
        self.sees(Shape::Group(name, parts.into_inner()));
        value
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        name: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        self.sees(Shape::Word(name));
        // The first word of each register but the events stands alone.
        let word = self.word.map_or(words.first().copied(), |(word, _)| {
            words.iter().copied().find(|known| *known == word)
        });
        let word = word.ok_or_else(|| Error::custom("no such word"))?;
        visitor.visit_enum(Chosen {
            word,
            parts: self.word.map(|(_, parts)| parts),
        })
    }

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Error> {
        Err(Error::custom("a rule has no such thing"))
    }

    serde::forward_to_deserialize_any! {
        i8 i16 i32 i64 i128 u16 u32 u64 u128 char bytes byte_buf unit unit_struct tuple
        tuple_struct map identifier ignored_any
    }
}

/// A list of one.
struct Once<'a> {
    seen: &'a RefCell<Option<Shape>>,
    left: u8,
}

impl<'de> SeqAccess<'de> for Once<'_> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        if self.left == 0 {
            return Ok(None);
        }
        self.left -= 1;
        let inner = Probe {
            seen: self.seen,
            word: None,
        };
        seed.deserialize(inner).map(Some)
    }
}

/// Every part of a group, one after the other.
struct Fields<'a> {
    fields: &'static [&'static str],
    at: usize,
    parts: &'a RefCell<Vec<Part>>,
}

impl<'de> MapAccess<'de> for Fields<'_> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Error> {
        match self.fields.get(self.at) {
            Some(name) => seed.deserialize((*name).into_deserializer()).map(Some),
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Error> {
        let seen = RefCell::default();
        let value = seed.deserialize(Probe {
            seen: &seen,
            word: None,
        });
        if let Some(shape) = seen.into_inner() {
            let key = self.fields.get(self.at).copied();
            self.parts.borrow_mut().push(Part { key, shape });
        }
        self.at += 1;
        value
    }
}

/// The word that is given.
struct Chosen<'a> {
    word: &'static str,
    parts: Option<&'a RefCell<Vec<Part>>>,
}

impl<'de, 'a> EnumAccess<'de> for Chosen<'a> {
    type Error = Error;
    type Variant = Chosen<'a>;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Result<(V::Value, Self), Error> {
        let word = seed.deserialize(self.word.into_deserializer())?;
        Ok((word, self))
    }
}

impl<'de> VariantAccess<'de> for Chosen<'_> {
    type Error = Error;

    fn unit_variant(self) -> Result<(), Error> {
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(self, seed: T) -> Result<T::Value, Error> {
        let seen = RefCell::default();
        let value = seed.deserialize(Probe {
            seen: &seen,
            word: None,
        });
        if let (Some(parts), Some(shape)) = (self.parts, seen.into_inner()) {
            parts.borrow_mut().push(Part { key: None, shape });
        }
        value
    }

    fn tuple_variant<V: Visitor<'de>>(self, _: usize, _: V) -> Result<V::Value, Error> {
        Err(Error::custom("no word has several parts without names"))
    }

    fn struct_variant<V: Visitor<'de>>(
        self,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        let own = RefCell::default();
        let parts = self.parts.unwrap_or(&own);
        visitor.visit_map(Fields {
            fields,
            at: 0,
            parts,
        })
    }
}

impl fmt::Display for Shape {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Shape::Word(register) => write!(f, "{register}"),
            Shape::Group(name, _) => write!(f, "{name}"),
            Shape::List(inner) => write!(f, "[{inner}]"),
            Shape::Maybe(inner) => write!(f, "{inner}?"),
            Shape::Seconds => write!(f, "seconds"),
            Shape::Player => write!(f, "player"),
            Shape::Flag => write!(f, "yes or no"),
            Shape::Text => write!(f, "text"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::REGISTERS;
    use super::*;

    fn said(parts: &[Part]) -> String {
        let part = |p: &Part| format!("{}: {}", p.key.unwrap_or("-"), p.shape);
        parts.iter().map(part).collect::<Vec<_>>().join(", ")
    }

    #[test]
    fn every_word_of_every_register_has_its_parts() {
        for (register, words) in REGISTERS {
            for word in words {
                assert!(
                    parts(register, word.word).is_some(),
                    "{register} {}",
                    word.word
                );
            }
        }
        assert!(parts("Place", "moon").is_none());
    }

    #[test]
    fn parts_are_those_of_the_language() {
        let of = |register, word| said(&parts(register, word).unwrap());
        assert_eq!(of("Place", "top"), "");
        assert_eq!(of("Place", "slot"), "-: By");
        assert_eq!(
            of("Event", "denied"),
            "at: Place, ball: Place, seconds: seconds"
        );
        assert_eq!(of("Role", "player"), "-: player");
        assert_eq!(
            of("Movement", "cut"),
            "lane: CutLane, to: Place?, unfed: Movement"
        );
        assert_eq!(of("Movement", "fill_first"), "-: [Place]");
        assert_eq!(
            of("Movement", "use_screen"),
            "of: Role, to: Place?, ways: [OffScreen], unfed: Movement"
        );
        assert_eq!(
            said(&line()),
            "who: Role, does: Movement, after: seconds, then: [Movement], only_if: [Condition]"
        );
        assert_eq!(
            said(&rule()),
            "name: text, when: Event, do: [Action], only_if: [Condition], once: yes or no"
        );
    }
}
