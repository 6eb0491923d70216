//! The figures of a scrimmage as JSON, for other programs. Units: SI; shares 0 to 1.

use std::io::{self, Write};

use serde::Serialize;

use crate::offence::LookKind;
use crate::scrimmage::{Figure, Reached, Results, Shutter};

use super::Heading;

#[derive(Serialize)]
struct Summary<'a> {
    #[serde(flatten)]
    heading: &'a Heading,
    first_seed: u64,
    possessions: u64,
    /// Stopped before it was done: the figures are of the possessions played by then.
    interrupted: bool,
    confidence: f64,
    until: &'a Option<Reached>,
    figures: Vec<Figure>,
    who_shuts: Vec<Shutter>,
}

/// Writes the summary.
///
/// # Errors
/// If it cannot be written.
pub fn summary(out: &mut impl Write, heading: &Heading, results: &Results) -> io::Result<()> {
    let summary = Summary {
        heading,
        first_seed: results.first_seed,
        possessions: results.possessions,
        interrupted: results.interrupted,
        confidence: crate::stats::CONFIDENCE,
        until: &results.until,
        figures: results.figures(),
        who_shuts: LookKind::ALL
            .into_iter()
            .flat_map(|k| results.shutters(k))
            .collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &summary)?;
    writeln!(out)
}
