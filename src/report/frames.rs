//! Frame statistics for people and for other programs, each beside what is published or remembered
//! of it. SI units throughout, as tracking data are compared in them.

use std::io::{self, Write};

use serde::Serialize;

use crate::scrimmage::frames::{Frames, Quantity, Spread};
use crate::scrimmage::franks::{Fit, Matching};
use crate::stats::Estimate;

use super::table::{blocks, table};
use super::wrap::{WIDTH, wrap};
use super::{Heading, numbers};

/// What is published or remembered of a quantity, with its label; professional men unless said.
pub fn beside(quantity: Quantity) -> Option<&'static str> {
    Some(match quantity {
        Quantity::AttackerSpeed => {
            "about 2.0 m/s (4.5 mph) in league tracking tables; top speed in play 6–8 m/s (from memory)"
        }
        Quantity::DefenderSpeed => {
            "about 1.7 m/s (3.9 mph) in league tracking tables (from memory)"
        }
        Quantity::AttackerAcceleration | Quantity::DefenderAcceleration => {
            "above 2 m/s² counts as high intensity (Sosa-Marín et al. 2024, J. Hum. Kinet. 94; read \
             in the abstract); 3–5 m/s² from rest, hardest braking 4–6 m/s² (from memory)"
        }
        Quantity::DefenderPersistence => {
            "0.96 with the pull to his place taken out, which here it is not (Cervone, D'Amour, \
             Bornn, Goldsberry, EPV demo output; read)"
        }
        Quantity::PassSpeed => {
            "thrown: chest pass 9–12 m/s, bounce pass 7–9 m/s on average; to the catch by the frame \
             it is less (common practice, no source)"
        }
        Quantity::OffOnBall => {
            "0.27 of his man's distance to the rim: 1.9 m at 7 m (Franks et al. 2015; read in a \
             note on the paper)"
        }
        Quantity::CatchRoom => {
            "bands of league statistics: very tight to 0.6 m, tight to 1.2 m, open to 1.8 m, wide \
             open beyond (read: several data-API notes)"
        }
        Quantity::NearestTeamMate => {
            "perimeter team-mates 4.6–5.5 m apart (15–18 ft; common practice, no source)"
        }
        _ => return None,
    })
}

/// Weights of Franks et al. and how they are labelled.
const FRANKS: &str = "0.62 ± 0.02 · attacker + 0.11 ± 0.01 · ball + 0.27 ± 0.02 · hoop (Franks, \
     Miller, Bornn, Goldsberry 2015, Characterizing the spatial structure of defensive skill in \
     professional basketball, Ann. Appl. Stat. 9(1); read in a note on the paper)";

/// The page.
pub fn page(heading: &Heading, frames: &Frames) -> String {
    let mut text = heading.top() + "\n";
    let played = heading.played(frames.possessions, frames.first_seed);
    text += &wrap(&played, "", "");
    let key = "After ±: half the 95 % interval of the mean. Then the values that 5, 25, 50, 75 and \
               95 % of all cases stay below. » what is published or remembered, in its own units.";
    text += &wrap(key, "", "");
    text += "\nFRAMES, 25 a second\n";
    let spreads = frames.spreads();
    let heads = ["", "unit", "mean", "5 %", "25 %", "50 %", "75 %", "95 %"];
    let rows: Vec<Vec<String>> = spreads.iter().map(row).collect();
    let (head, lines) = blocks(&heads, &rows, WIDTH);
    text += &head;
    for (line, spread) in lines.iter().zip(&spreads) {
        text += line;
        if let Some(said) = beside(spread.quantity) {
            text += &wrap(said, "    » ", "      ");
        }
    }
    text += "\nWHERE DEFENDERS STAND, as a mix of man, ball and rim\n";
    text += &fits(frames);
    text += &wrap(FRANKS, "    » ", "      ");
    text
}

/// The fits, one a line.
pub fn fits(frames: &Frames) -> String {
    let rows: Vec<Vec<String>> = Matching::ALL
        .into_iter()
        .filter_map(|m| frames.fit(m))
        .map(|f| {
            let who = match f.matching {
                Matching::Given => "all, each with the man he guards",
                Matching::Nearest => "all, each with the man nearest to fit",
                Matching::GivenWeakSide => "only those two or more passes away",
            };
            let off = format!("{:.2} m", f.off);
            vec![
                who.to_string(),
                plus_minus(&f.attacker),
                plus_minus(&f.ball),
                plus_minus(&f.hoop),
                off,
            ]
        })
        .collect();
    table(&["", "attacker", "ball", "hoop", "off by"], &rows)
}

fn plus_minus(e: &Estimate) -> String {
    format!("{:.3} ± {:.3}", e.value, e.half_width())
}

fn row(s: &Spread) -> Vec<String> {
    let p = if s.unit == "share" { 3 } else { 2 };
    let mean = match (s.mean, s.low, s.high) {
        (Some(mean), Some(low), Some(high)) => format!("{mean:.p$} ± {:.p$}", (high - low) / 2.0),
        (Some(mean), ..) => format!("{mean:.p$}"),
        _ => numbers::NONE.to_string(),
    };
    let mut cells = vec![s.sentence.to_string(), s.unit.to_string(), mean];
    cells.extend(s.quantiles.iter().map(|q| format!("{q:.2}")));
    cells
}

#[derive(Serialize)]
struct Line {
    #[serde(flatten)]
    spread: Spread,
    beside: Option<&'static str>,
}

#[derive(Serialize)]
struct Sheet<'a> {
    #[serde(flatten)]
    heading: &'a Heading,
    first_seed: u64,
    possessions: u64,
    confidence: f64,
    quantiles_at: [f64; 5],
    frames: Vec<Line>,
    fits: Vec<Fit>,
    fits_beside: &'static str,
}

/// The same as JSON.
///
/// # Errors
/// If it cannot be written.
pub fn json(out: &mut impl Write, heading: &Heading, frames: &Frames) -> io::Result<()> {
    let line = |spread: Spread| Line {
        beside: beside(spread.quantity),
        spread,
    };
    let sheet = Sheet {
        heading,
        first_seed: frames.first_seed,
        possessions: frames.possessions,
        confidence: crate::stats::CONFIDENCE,
        quantiles_at: crate::scrimmage::frames::QUANTILES,
        frames: frames.spreads().into_iter().map(line).collect(),
        fits: Matching::ALL
            .into_iter()
            .filter_map(|m| frames.fit(m))
            .collect(),
        fits_beside: FRANKS,
    };
    serde_json::to_writer_pretty(&mut *out, &sheet)?;
    writeln!(out)
}
