//! The table of numbers as it is written, read and checked.

use serde::{Deserialize, Serialize};

use super::{Model, ModelError, NAMES, nearest_word};

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SourceKind {
    /// Read in a published source, or computed from one.
    Published,
    /// From a rule book.
    RuleBook,
    /// What the trade does; no source.
    CommonPractice,
    /// Remembered, not read again.
    FromMemory,
    /// Chosen here; no source.
    Ours,
}

impl SourceKind {
    /// The words for it.
    pub fn word(self) -> &'static str {
        match self {
            SourceKind::Published => "published",
            SourceKind::RuleBook => "rule book",
            SourceKind::CommonPractice => "common practice",
            SourceKind::FromMemory => "from memory",
            SourceKind::Ours => "ours",
        }
    }

    /// Is it a guess, more or less: from memory, common practice or ours?
    pub fn is_guess(self) -> bool {
        !matches!(self, SourceKind::Published | SourceKind::RuleBook)
    }
}

/// One number of the model.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Number {
    /// Its full name, such as `looks.pivot_distance`.
    pub name: String,
    /// Its value, in `unit`.
    pub value: f64,
    /// Its unit; `share` for a number without one.
    pub unit: String,
    /// What kind of source it has.
    pub source: SourceKind,
    /// The source itself.
    pub citation: String,
    /// Least and largest plausible value, in `unit`.
    pub range: (f64, f64),
    /// Does the range come from a source? If not, it follows from the rule at the top of the file.
    pub range_known: bool,
    /// What it means, as a sentence.
    pub says: String,
}

/// Numbers that belong together.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Group {
    /// First part of the names, such as `looks`.
    pub name: String,
    /// A heading for people.
    pub title: String,
    /// The numbers in the order of the file.
    pub numbers: Vec<Number>,
}

/// All numbers. Every name that the program knows is in it once, every value is in its range.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Table {
    /// Where nothing is known, the range goes from the value over this to the value times this.
    pub unknown_range: f64,
    /// The groups in the order of the file.
    pub groups: Vec<Group>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Model")]
struct RawTable {
    unknown_range: f64,
    groups: Vec<RawGroup>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename = "Group")]
struct RawGroup {
    name: String,
    title: String,
    numbers: Vec<RawNumber>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RawNumber {
    name: String,
    value: f64,
    unit: String,
    source: SourceKind,
    citation: String,
    #[serde(default)]
    range: Option<(f64, f64)>,
    says: String,
}

impl RawNumber {
    fn number(self, group: &str, unknown: f64) -> Number {
        let wide = (self.value / unknown, self.value * unknown);
        let most = if self.unit == "share" {
            wide.1.min(1.0)
        } else {
            wide.1
        };
        Number {
            name: format!("{group}.{}", self.name),
            value: self.value,
            unit: self.unit,
            source: self.source,
            citation: self.citation,
            range: self.range.unwrap_or((wide.0, most)),
            range_known: self.range.is_some(),
            says: self.says,
        }
    }
}

impl Number {
    /// Is this a value that the number could have?
    fn check(&self, value: f64) -> Result<(), ModelError> {
        let name = self.name.clone();
        let (least, most) = self.range;
        if !value.is_finite() {
            return Err(ModelError::NotFinite { name, value });
        }
        if (least..=most).contains(&value) {
            return Ok(());
        }
        let unit = self.unit.clone();
        Err(ModelError::OutOfRange {
            name,
            value,
            least,
            most,
            unit,
        })
    }
}

impl Table {
    /// Reads a table.
    ///
    /// # Errors
    /// If it is no table; else every number that is missing, unknown, there twice, not finite or out of
    /// its range.
    pub fn parse(text: &str) -> Result<Table, Vec<ModelError>> {
        let options = ron::Options::default()
            .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME);
        let raw: RawTable = options
            .from_str(text)
            .map_err(|error| vec![ModelError::Unreadable(error.to_string())])?;
        let unknown = raw.unknown_range;
        let group = |group: RawGroup| Group {
            numbers: group
                .numbers
                .into_iter()
                .map(|number| number.number(&group.name, unknown))
                .collect(),
            name: group.name,
            title: group.title,
        };
        let table = Table {
            unknown_range: unknown,
            groups: raw.groups.into_iter().map(group).collect(),
        };
        let errors = table.errors();
        if errors.is_empty() {
            Ok(table)
        } else {
            Err(errors)
        }
    }

    /// All numbers, in the order of the file.
    pub fn numbers(&self) -> impl Iterator<Item = &Number> {
        self.groups.iter().flat_map(|group| &group.numbers)
    }

    /// The number of that full name.
    pub fn number(&self, name: &str) -> Option<&Number> {
        self.numbers().find(|number| number.name == name)
    }

    fn errors(&self) -> Vec<ModelError> {
        let mut errors = Vec::new();
        let known = |name: &str| NAMES.contains(&name);
        for (place, number) in self.numbers().enumerate() {
            let name = number.name.as_str();
            if !known(name) {
                errors.push(unknown(name));
            }
            if self.numbers().take(place).any(|other| other.name == name) {
                errors.push(ModelError::Twice(name.to_owned()));
            }
            errors.extend(number.check(number.value).err());
        }
        for &name in NAMES {
            if self.number(name).is_none() {
                let strange = self.numbers().map(|number| number.name.as_str());
                errors.push(ModelError::Missing {
                    name: name.to_owned(),
                    nearest: nearest_word(name, strange.filter(|other| !known(other))),
                });
            }
        }
        errors
    }

    /// The typed model of these values.
    pub fn model(&self) -> Model {
        // Every name is in a table that was read.
        Model::build(|name| self.number(name).map_or(f64::NAN, |number| number.value))
    }

    /// The typed model with other values for some numbers.
    ///
    /// # Errors
    /// As [`Model::patched`].
    pub fn patched<'a>(
        &self,
        patch: impl IntoIterator<Item = (&'a str, f64)>,
    ) -> Result<Model, Vec<(usize, ModelError)>> {
        let mut changed: Vec<(&str, f64)> = Vec::new();
        let mut errors = Vec::new();
        for (place, (name, value)) in patch.into_iter().enumerate() {
            let checked = match self.number(name) {
                None => Err(unknown(name)),
                Some(_) if changed.iter().any(|(other, _)| *other == name) => {
                    Err(ModelError::Twice(name.to_owned()))
                }
                Some(number) => number.check(value),
            };
            changed.push((name, value));
            errors.extend(checked.err().map(|error| (place, error)));
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let own = |name: &str| self.number(name).map_or(f64::NAN, |number| number.value);
        Ok(Model::build(|name| {
            let other = changed.iter().find(|(changed, _)| *changed == name);
            other.map_or_else(|| own(name), |(_, value)| *value)
        }))
    }
}

fn unknown(name: &str) -> ModelError {
    ModelError::Unknown {
        name: name.to_owned(),
        nearest: nearest_word(name, NAMES.iter().copied()),
    }
}
