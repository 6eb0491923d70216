//! The numbers of the model: value, unit, source, plausible range and meaning of each stand in
//! `assets/model.ron` and nowhere else; here they become typed fields.
//!
//! * [`Table`] – the file as it is written, checked; for `lanelight numbers`.
//! * [`Model`] – the values, by name, for the simulation: `model.looks.pivot_distance`.
//! * [`Model::patched`] – the shipped values with some changed, as a scenario file may ask for.
//!
//! Whoever simulates reads the `Model` that it is given (a scenario holds one); [`Model::shipped`] is
//! only what a scenario starts from. Code holds numerics only: tolerances, counts of samples.
//!
//! *Not* here: what differs by level of play or by player (`squad`), and what a coach writes in an
//! offence or a defence. Numbers of the layers that are not moved yet still stand in their sources;
//! `tests/house.rs` lists them.

use std::sync::{Arc, LazyLock};

mod error;
mod groups;
mod nearest;
mod table;
#[cfg(test)]
mod tests;

pub use error::ModelError;
pub use groups::{
    Ball, Body, Contest, Defending, Footwork, Looks, Model, Movement, NAMES, Passes, Perception,
    Shots,
};
pub use nearest::nearest_word;
pub use table::{Group, Number, SourceKind, Table};

/// Duration of a tick, s, for which [`Turn`] is worked out ahead.
const TICK: f64 = 0.04;

/// The turn of the shoulders in one tick with its sine and cosine, so that no tick asks for them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// The most that shoulders turn in a tick, rad.
    pub angle: f64,
    /// Its sine, a ratio.
    pub sin: f64,
    /// Its cosine, a ratio.
    pub cos: f64,
}

impl Turn {
    fn of(rate: f64) -> Turn {
        let angle = rate * TICK;
        Turn {
            angle,
            sin: libm::sin(angle),
            cos: libm::cos(angle),
        }
    }
}

static SHIPPED: LazyLock<(Table, Arc<Model>)> = LazyLock::new(|| {
    let read = Table::parse(include_str!("../../assets/model.ron"));
    match read {
        Ok(table) => {
            let model = Arc::new(table.model());
            (table, model)
        }
        // A test reads the same embedded text.
        Err(errors) => unreachable!("the embedded numbers are sound: {errors:?}"),
    }
});

impl Model {
    /// The model that comes with the program.
    pub fn shipped() -> Arc<Model> {
        Arc::clone(&SHIPPED.1)
    }

    /// The shipped model with other values for some numbers, by name.
    ///
    /// # Errors
    /// Every name that is unknown or given twice, and every value that is not finite or not plausible;
    /// each with its place in `patch`.
    pub fn patched<'a>(
        patch: impl IntoIterator<Item = (&'a str, f64)>,
    ) -> Result<Model, Vec<(usize, ModelError)>> {
        Table::shipped().patched(patch)
    }

    /// What the shoulders turn in a tick of 1/25 s.
    #[inline]
    pub fn turn_of_a_tick(&self) -> &Turn {
        &self.turn
    }

    /// The numbers that are not as shipped: name, shipped value, value here.
    pub fn changes(&self) -> Vec<(&'static str, f64, f64)> {
        let values = SHIPPED.1.values().into_iter().zip(self.values());
        NAMES
            .iter()
            .zip(values)
            .filter(|(_, (shipped, here))| shipped != here)
            .map(|(&name, (shipped, here))| (name, shipped, here))
            .collect()
    }
}

impl Table {
    /// The table that comes with the program.
    pub fn shipped() -> &'static Table {
        &SHIPPED.0
    }
}
