//! Feet or metres: as asked for on the command line, else as the window keeps it, else as the court
//! has it.

use std::sync::OnceLock;

use clap::ValueEnum;
use lanelight::court::Units;
use lanelight::report::units::{data_folder, kept};

/// Units of length by the word of the command line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Word {
    Feet,
    Metres,
}

static WANTED: OnceLock<Option<Units>> = OnceLock::new();

/// Keeps what was asked for, for this run.
pub fn ask(word: Option<Word>) {
    let asked = word.map(|word| match word {
        Word::Feet => Units::Imperial,
        Word::Metres => Units::Metric,
    });
    WANTED.get_or_init(|| asked.or_else(|| kept(&data_folder())));
}

/// The units of this run; `usual`: where nobody has chosen.
pub fn or(usual: Units) -> Units {
    WANTED.get().copied().flatten().unwrap_or(usual)
}
