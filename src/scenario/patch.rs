//! Changes to the numbers of the model, as a scenario file writes them:
//! `model: {"looks.pivot_distance": 1.2}`.

use std::fmt;
use std::sync::Arc;

use serde::de::{MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::model::{Model, ModelError};
use crate::offence::check::Finding;

/// Names and values in the order in which they are written, a name written twice included.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Patch(pub Vec<(String, f64)>);

impl Patch {
    /// What makes the shipped model into this one.
    pub fn of(model: &Model) -> Patch {
        let changes = model.changes().into_iter();
        Patch(
            changes
                .map(|(name, _, value)| (name.to_owned(), value))
                .collect(),
        )
    }

    /// Is nothing changed?
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The shipped model with these changes.
    ///
    /// # Errors
    /// Every name that is unknown or given twice, and every value that is not plausible, each with its
    /// place in the list.
    pub fn model(&self) -> Result<Arc<Model>, Vec<(usize, ModelError)>> {
        if self.is_empty() {
            return Ok(Model::shipped());
        }
        let pairs = self.0.iter().map(|(name, value)| (name.as_str(), *value));
        Model::patched(pairs).map(Arc::new)
    }

    /// Everything wrong with it.
    pub(super) fn check(&self, found: &mut Vec<Finding>) {
        for (place, error) in self.model().err().unwrap_or_default() {
            let at = format!("model/{place}");
            found.push(match error {
                ModelError::Unknown { name, nearest } => {
                    Finding::error(at, format!("the model has no number `{name}`"))
                        .nearest(nearest)
                        .expected("a name that `lanelight numbers` lists")
                }
                ModelError::OutOfRange {
                    name,
                    value,
                    least,
                    most,
                    unit,
                } => Finding::error(at, format!("{value} is not plausible for `{name}`"))
                    .expected(format!("{least} to {most} {unit}")),
                other => Finding::error(at, other.to_string()),
            });
        }
    }
}

impl Serialize for Patch {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_map(self.0.iter().map(|(name, value)| (name, value)))
    }
}

impl<'de> Deserialize<'de> for Patch {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Patch, D::Error> {
        struct Pairs;
        impl<'de> Visitor<'de> for Pairs {
            type Value = Patch;

            fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
                f.write_str("numbers of the model, as {\"looks.pivot_distance\": 1.2}")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Patch, A::Error> {
                let mut pairs = Vec::new();
                while let Some(pair) = map.next_entry()? {
                    pairs.push(pair);
                }
                Ok(Patch(pairs))
            }
        }
        deserializer.deserialize_map(Pairs)
    }
}

#[cfg(test)]
mod tests {
    use crate::scenario::{RawScenario, Scenario};

    #[test]
    fn a_scenario_changes_numbers_of_the_model_and_is_written_back_as_it_was_read() {
        let text = r#"(
        name: "Wider pivots", court: nfhs, level: varsity_boys,
        offence: "four_out_one_post", defence: "sag",
        model: {"looks.pivot_distance": 1.2, "body.turn_rate": 6.5},
    )"#;
        let scenario = Scenario::from_text(text, "wider").unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(scenario.model.looks.pivot_distance, 1.2);
        assert_eq!(scenario.model.body.turn_rate, 6.5);
        assert_eq!(scenario.model.changes().len(), 2);
        let raw: RawScenario =
            ron::from_str(&text.replacen("level: varsity_boys,", "", 1)).unwrap();
        let written = ron::to_string(&raw).unwrap();
        assert_eq!(ron::from_str::<RawScenario>(&written).unwrap(), raw);
        let plain = Scenario::from_text(&text.replace("model:", "// "), "plain").unwrap();
        assert_eq!(plain.model.changes(), []);
    }
}
