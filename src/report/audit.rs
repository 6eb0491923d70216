//! The audit for people and for other programs: each figure beside that of real play.

use std::io::{self, Write};

use serde::Serialize;

use crate::audit::{Audit, Figure, Group, Mark, NEAR, SIGHTS, SOURCE, Wish};
use crate::offence::words::capital;

use super::table::table;
use super::wrap::wrap;
use super::{Heading, numbers};

/// Whose tracks were counted.
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub enum Whose {
    /// Played here.
    Played {
        /// Teams, court and number of possessions.
        #[serde(flatten)]
        heading: Heading,
        /// Seed of the first possession.
        first_seed: u64,
    },
    /// Read from files.
    Files {
        /// How many files.
        files: usize,
    },
}

/// The page.
pub fn page(whose: &Whose, audit: &Audit) -> String {
    let mut text = head(whose, audit);
    text += &lines(&format!("Real play: {SOURCE}."), "");
    text += &lines(
        &format!(
            "After ±: half the 95 % interval. Bracket: tenth to ninetieth percentile of real games \
             or teams. “in”: inside the bracket; “near”: within {NEAR} times the real figure, or \
             better; “OUT”: farther off.",
        ),
        "",
    );
    let figures = audit.figures();
    let mut rows = Vec::new();
    for group in Group::ALL {
        rows.push(vec![group.word().to_string()]);
        let mut last = "";
        for figure in figures.iter().filter(|f| f.sight.group == group) {
            rows.push(row(figure, figure.sight.name == last));
            last = figure.sight.name;
        }
    }
    let heads = ["", "counted", "real", "bracket", "ratio", ""];
    text += "\n";
    for line in table(&heads, &rows).lines() {
        let heading = Group::ALL.iter().any(|g| line.trim() == g.word());
        text += if heading { "\n" } else { "" };
        text += &format!("{line}\n");
    }
    text += &format!("\n{}", sum(&figures));
    text
}

fn head(whose: &Whose, audit: &Audit) -> String {
    let possessions = numbers::count(audit.counts.len() as u64, "possession", "possessions");
    let settled = format!(
        "{:.1} min of settled play in {} of them.",
        audit.seconds() / 60.0,
        audit.settled()
    );
    match whose {
        Whose::Played {
            heading,
            first_seed,
        } => {
            let played = heading.played(audit.counts.len() as u64, *first_seed);
            heading.top() + "\n" + &lines(&format!("{played} {}", capital(&settled)), "")
        }
        Whose::Files { files } => {
            let files = numbers::count(*files as u64, "file", "files");
            lines(&format!("Tracks of {files}, {possessions}: {settled}"), "")
        }
    }
}

/// Running text no wider than the table.
fn lines(text: &str, indent: &str) -> String {
    wrap(text, indent, indent)
}

/// Decimals that fit a figure of about this size.
fn places(size: f64) -> usize {
    match size.abs() {
        s if s >= 20.0 => 1,
        s if s >= 0.1 => 2,
        _ => 3,
    }
}

fn row(figure: &Figure, goes_on: bool) -> Vec<String> {
    let p = places(figure.real.value);
    let quantile = figure.real.at.map(|q| match q {
        0.5 => "median".to_string(),
        q => format!("{:.0} %", q * 100.0),
    });
    let sentence = figure.sight.sentence;
    let what = match quantile {
        Some(q) if goes_on => format!("  {q}"),
        Some(q) if figure.sight.real.len() > 1 => format!("{sentence}: {q}"),
        _ => sentence.to_string(),
    };
    let none = || numbers::NONE.to_string();
    let counted = match (figure.value, figure.estimate) {
        (Some(v), Some(e)) => format!("{v:.p$} ±{:.p$}", e.half_width()),
        (Some(v), None) => format!("{v:.p$}"),
        _ => none(),
    };
    let bracket = figure.real.bracket;
    let bracket = bracket.map_or(String::new(), |(low, high)| format!("{low:.p$}–{high:.p$}"));
    vec![
        what,
        counted,
        format!("{:.p$}", figure.real.value),
        bracket,
        figure.ratio().map_or_else(none, |r| format!("{r:.2}")),
        figure.mark().map_or("", word).to_string(),
    ]
}

fn word(mark: Mark) -> &'static str {
    match mark {
        Mark::Inside => "in",
        Mark::Near => "near",
        Mark::Out => "OUT",
    }
}

fn sum(figures: &[Figure]) -> String {
    let count = |mark| figures.iter().filter(|f| f.mark() == Some(mark)).count();
    let brackets = figures.iter().filter(|f| f.real.bracket.is_some()).count();
    format!(
        "{} of {brackets} with a bracket are in it; {} more are near; {} of {} are out.\n",
        count(Mark::Inside),
        count(Mark::Near),
        count(Mark::Out),
        figures.len()
    )
}

/// What every sight means, for people: the registry.
pub fn definitions() -> String {
    let mut text = lines(
        "Places are looked at 25/3 times a second, in settled parts of a possession: all ten in \
         the front half for at least 3 s, up to the release of the shot or the end of the last \
         hold. A hold lasts 0.24 s. Lengths of spells are taken \
         to the nearest sample. Spells “in 10 s” are their number over the time in which one \
         could have begun.",
        "",
    );
    text += &lines(&format!("Real play: {SOURCE}."), "");
    for group in Group::ALL {
        text += &format!("\n{}\n", group.word());
        for sight in SIGHTS.iter().filter(|s| s.group == group) {
            let forgiven = match sight.wish {
                Wish::Same => "",
                Wish::NoMore => " Less is no fault.",
                Wish::NoLess => " More is no fault.",
            };
            text += &format!("  {} [{}]\n", sight.sentence, sight.name);
            text += &lines(&format!("{}{forgiven}", sight.means), "    ");
        }
    }
    text
}

#[derive(Serialize)]
struct Line {
    name: String,
    group: &'static str,
    sentence: &'static str,
    means: &'static str,
    unit: &'static str,
    quantile: Option<f64>,
    value: Option<f64>,
    /// Ends of the 95 % interval.
    low: Option<f64>,
    high: Option<f64>,
    real: f64,
    bracket: Option<(f64, f64)>,
    ratio: Option<f64>,
    mark: Option<Mark>,
}

impl Line {
    fn of(figure: &Figure) -> Line {
        Line {
            name: figure.name(),
            group: figure.sight.group.word(),
            sentence: figure.sight.sentence,
            means: figure.sight.means,
            unit: figure.sight.unit,
            quantile: figure.real.at,
            value: figure.value,
            low: figure.estimate.map(|e| e.low),
            high: figure.estimate.map(|e| e.high),
            real: figure.real.value,
            bracket: figure.real.bracket,
            ratio: figure.ratio(),
            mark: figure.mark(),
        }
    }
}

#[derive(Serialize)]
struct Sheet<'a> {
    #[serde(flatten)]
    whose: &'a Whose,
    possessions: usize,
    settled_seconds: f64,
    confidence: f64,
    source: &'static str,
    figures: Vec<Line>,
}

/// The same as JSON.
///
/// # Errors
/// If it cannot be written.
pub fn json(out: &mut impl Write, whose: &Whose, audit: &Audit) -> io::Result<()> {
    let sheet = Sheet {
        whose,
        possessions: audit.counts.len(),
        settled_seconds: audit.seconds(),
        confidence: crate::stats::CONFIDENCE,
        source: SOURCE,
        figures: audit.figures().iter().map(Line::of).collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &sheet)?;
    writeln!(out)
}
