//! What can be wrong with a number of the model.

use thiserror::Error;

/// Something wrong with a table of numbers or with a change to it. Each names the number.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum ModelError {
    /// The text is not a table.
    #[error("the table of numbers cannot be read: {0}")]
    Unreadable(String),
    /// The program needs a number that is not in the table.
    #[error("the number `{name}` is missing{}", instead(nearest.as_deref()))]
    Missing {
        /// What is missing.
        name: String,
        /// The name in the table that is most like it and means nothing to the program.
        nearest: Option<String>,
    },
    /// A name that means nothing to the program.
    #[error("there is no number `{name}`{}", meant(nearest.as_deref()))]
    Unknown {
        /// The name as written.
        name: String,
        /// The nearest right name.
        nearest: Option<String>,
    },
    /// One name stands twice.
    #[error("the number `{0}` is given twice")]
    Twice(String),
    /// Not a finite number.
    #[error("`{name}` is {value}, not a finite number")]
    NotFinite {
        /// Which number.
        name: String,
        /// Its value, in its unit.
        value: f64,
    },
    /// Outside of its plausible range, or a range that is none.
    #[error("`{name}` is {value}; plausible is {least} to {most} {unit}")]
    OutOfRange {
        /// Which number.
        name: String,
        /// Its value, in its unit.
        value: f64,
        /// Least plausible value, in the same unit.
        least: f64,
        /// Largest plausible value, in the same unit.
        most: f64,
        /// Unit of all three.
        unit: String,
    },
}

fn meant(nearest: Option<&str>) -> String {
    nearest.map_or(String::new(), |word| format!("; did you mean `{word}`?"))
}

fn instead(nearest: Option<&str>) -> String {
    nearest.map_or(String::new(), |word| format!("; is it meant by `{word}`?"))
}
