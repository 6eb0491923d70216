//! A comparison of variations on the same seeds: a page of text, JSON and CSV.

use std::io::{self, Write};

use csv::Writer;
use serde::Serialize;

use crate::contest::compare::Verdict;
use crate::contest::{Comparison, Difference};
use crate::court::Units;
use crate::stats::CONFIDENCE;

use super::clean::{cell, line};
use super::columns::{COMPARED, heads};
use super::contest_words::{beside, better, difference, effect, names_itself, verdict};
use super::numbers::count;
use super::sheets;
use super::table::table;
use super::wrap::wrap;

/// Other figures that are listed: as many as one looks at (ours).
const LISTED: usize = 15;

/// What the variations are called, and what they have in common.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Names {
    /// What stays the same: offence, squads, court.
    pub common: String,
    /// One for each variation.
    pub variations: Vec<String>,
}

impl Names {
    /// The names, cleaned.
    pub fn new(common: &str, variations: impl IntoIterator<Item = String>) -> Names {
        Names {
            common: line(common),
            variations: variations.into_iter().map(|v| line(&v)).collect(),
        }
    }

    /// The name of a variation; nothing if there is no such.
    pub(super) fn of(&self, place: usize) -> &str {
        self.variations.get(place).map_or("", String::as_str)
    }
}

/// The page.
pub fn page(names: &Names, comparison: &Comparison, units: Units) -> String {
    let c = comparison;
    let last = c.first_seed + c.possessions.saturating_sub(1);
    let mut text = wrap(
        &format!("COMPARED ON THE SAME SEEDS: {}", names.common),
        "",
        "",
    );
    text += &format!(
        "{} of each, seeds {} to {last}.\nIn brackets: the 95 % interval of the difference.\n",
        count(c.possessions, "possession", "possessions"),
        c.first_seed
    );
    if c.interrupted {
        text += "INTERRUPTED: these are the possessions played by then, and not all.\n";
    }
    for (contrast, list) in c.contrasts.iter().zip(c.differences()) {
        let (base, changed) = (names.of(contrast.base), names.of(contrast.changed));
        text += "\n";
        text += &wrap(&changed.to_uppercase(), "", "  ");
        text += &wrap(&format!("compared with: {base}"), "  ", "  ");
        text += &headlines(c, &list, units);
        text += &pictured(c, &list, units);
        text += &others(c, &list, units);
        text += &gains(c, &list);
    }
    text += &format!(
        "\nHOW SURE\n{}",
        wrap(
            &format!(
                "“Surely” stands after Holm's correction for many comparisons: over all {} headline \
                 differences on this page together ({} × {} figures), the chance of even one false \
                 “surely” is at most 5 %. “Perhaps”: its own interval excludes zero, no more than \
                 that. Where fewer than ten seeds differ, nothing is said.",
                c.family(),
                count(c.contrasts.len() as u64, "comparison", "comparisons"),
                c.yardsticks.iter().filter(|y| y.headline).count()
            ),
            "  ",
            "  "
        )
    );
    text
}

fn headlines(c: &Comparison, list: &[Difference], units: Units) -> String {
    let rows = headline_rows(c, list, units);
    table(&["", "before", "now", "difference", ""], &rows)
}

/// Each headline figure before and now, with its difference and how sure that is.
pub(super) fn headline_rows(c: &Comparison, list: &[Difference], units: Units) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for d in list {
        let y = &c.yardsticks[d.yardstick];
        if y.headline {
            let ends = d.found.difference.map(|e| (e.low, e.high));
            let [before, after, difference] = beside(y.unit, (d.found.a, d.found.b), ends, units);
            rows.push(vec![
                shorter(&y.sentence),
                before,
                after,
                difference,
                verdict(d.verdict).to_string(),
            ]);
        }
    }
    rows
}

/// Nearly every figure is one per possession: that need not stand in each line.
pub(super) fn shorter(sentence: &str) -> String {
    let each = sentence.strip_suffix(", per possession");
    each.unwrap_or(sentence).to_string()
}

/// The headline differences in a coach's words.
fn pictured(c: &Comparison, list: &[Difference], units: Units) -> String {
    let mut text = String::new();
    for d in list {
        let y = &c.yardsticks[d.yardstick];
        if y.headline && matches!(d.verdict, Verdict::Sure | Verdict::Perhaps) {
            let how = match better(y, d) {
                Some(true) => "better",
                Some(false) => "worse",
                None => "other",
            };
            let word = if d.verdict == Verdict::Sure {
                "Surely"
            } else {
                "Perhaps"
            };
            let effect = effect(y, d, units);
            let said = match names_itself(y, d) {
                true => format!("{word} {how}: {effect}."),
                false => format!("{word} {how}: {}: {effect}.", shorter(&y.sentence)),
            };
            text += &wrap(&said, "  ", "    ");
        }
    }
    if text.is_empty() {
        text = "  No headline figure can be told apart from luck.\n".to_string();
    }
    text
}

fn others(c: &Comparison, list: &[Difference], units: Units) -> String {
    let mut rows = Vec::new();
    let mut all = 0;
    for d in list {
        let y = &c.yardsticks[d.yardstick];
        if y.headline {
            continue;
        }
        all += 1;
        if d.verdict == Verdict::Perhaps {
            let sureness = d.found.difference.map_or(0.0, |e| {
                (d.found.b - d.found.a).abs() / (e.high - e.low).max(f64::MIN_POSITIVE)
            });
            rows.push((
                sureness,
                vec![shorter(&y.sentence), difference(y, d, units)],
            ));
        }
    }
    rows.sort_by(|a, b| b.0.total_cmp(&a.0));
    if rows.is_empty() {
        return String::new();
    }
    let said = format!(
        "Other figures whose own interval excludes zero, so perhaps: {} of {all}; about {:.0} would \
         by luck alone.{}",
        rows.len(),
        f64::from(all) * (1.0 - CONFIDENCE),
        match rows.len() > LISTED {
            true => format!(" The {LISTED} clearest (all with --summary-csv):"),
            false => String::new(),
        }
    );
    let rows: Vec<_> = rows.into_iter().take(LISTED).map(|r| r.1).collect();
    wrap(&said, "  ", "  ") + &table(&["", ""], &rows)
}

/// What the common seeds were worth.
fn gains(c: &Comparison, list: &[Difference]) -> String {
    let mut all: Vec<f64> = list.iter().filter_map(|d| d.found.gain).collect();
    all.sort_by(f64::total_cmp);
    let Some(middle) = all.get(all.len() / 2) else {
        return "  Common seeds: the two never differed.\n".to_string();
    };
    let of = |name: &str| {
        let d = list.iter().find(|d| c.yardsticks[d.yardstick].name == name);
        d.and_then(|d| d.found.gain)
            .map_or("no number".to_string(), |g| format!("{g:.2}"))
    };
    let said = format!(
        "Common seeds: with separate seeds the same intervals would have needed {} times as many \
         possessions for points, {} for points promised, {middle:.2} in the middle of all {} figures.",
        of("points"),
        of("promised_points"),
        all.len()
    );
    wrap(&said, "  ", "  ")
}

#[derive(Serialize)]
struct Line<'a> {
    figure: &'a str,
    meaning: &'a str,
    unit: &'static str,
    before: f64,
    now: f64,
    difference: f64,
    low: Option<f64>,
    high: Option<f64>,
    n: u64,
    /// Seeds on which the two differ.
    changed: u64,
    /// See `contest::paired`.
    gain_from_common_seeds: Option<f64>,
    headline: bool,
    /// p-value after Holm's correction over the family, headline figures only.
    holm_p: Option<f64>,
    verdict: Verdict,
    effect: String,
}

fn lines<'a>(c: &'a Comparison, list: &[Difference]) -> Vec<Line<'a>> {
    list.iter()
        .map(|d| {
            let y = &c.yardsticks[d.yardstick];
            let e = d.found.difference;
            Line {
                figure: &y.name,
                meaning: &y.sentence,
                unit: y.unit.word(),
                before: d.found.a,
                now: d.found.b,
                difference: d.found.b - d.found.a,
                low: e.map(|e| e.low),
                high: e.map(|e| e.high),
                n: e.map_or(0, |e| e.n),
                changed: d.found.changed,
                gain_from_common_seeds: d.found.gain,
                headline: y.headline,
                holm_p: d.holm_p,
                verdict: d.verdict,
                effect: effect(y, d, Units::Metric),
            }
        })
        .collect()
}

#[derive(Serialize)]
struct Part<'a> {
    base: &'a str,
    changed: &'a str,
    differences: Vec<Line<'a>>,
}

#[derive(Serialize)]
struct Whole<'a> {
    common: &'a str,
    first_seed: u64,
    possessions: u64,
    interrupted: bool,
    confidence: f64,
    /// How many headline differences Holm's correction is over.
    family: usize,
    comparisons: Vec<Part<'a>>,
}

/// As JSON. Units: SI; shares 0 to 1.
///
/// # Errors
/// If it cannot be written.
pub fn json(out: &mut impl Write, names: &Names, c: &Comparison) -> io::Result<()> {
    let whole = Whole {
        common: &names.common,
        first_seed: c.first_seed,
        possessions: c.possessions,
        interrupted: c.interrupted,
        confidence: CONFIDENCE,
        family: c.family(),
        comparisons: c
            .contrasts
            .iter()
            .zip(c.differences())
            .map(|(contrast, list)| Part {
                base: names.of(contrast.base),
                changed: names.of(contrast.changed),
                differences: lines(c, &list),
            })
            .collect(),
    };
    serde_json::to_writer_pretty(&mut *out, &whole)?;
    writeln!(out)
}

/// As CSV, one difference a line. Units: SI; shares 0 to 1.
///
/// # Errors
/// If it cannot be written.
pub fn csv(out: &mut impl Write, names: &Names, c: &Comparison) -> io::Result<()> {
    let mut sheet = Writer::from_writer(out);
    sheet
        .write_record(heads(&COMPARED))
        .map_err(sheets::plain)?;
    for (contrast, list) in c.contrasts.iter().zip(c.differences()) {
        for l in lines(c, &list) {
            sheet
                .write_record([
                    cell(names.of(contrast.base)),
                    cell(names.of(contrast.changed)),
                    c.first_seed.to_string(),
                    c.possessions.to_string(),
                    if c.interrupted { "interrupted" } else { "yes" }.to_string(),
                    l.figure.to_string(),
                    l.meaning.to_string(),
                    l.unit.to_string(),
                    l.before.to_string(),
                    l.now.to_string(),
                    l.difference.to_string(),
                    sheets::number(l.low),
                    sheets::number(l.high),
                    l.n.to_string(),
                    l.changed.to_string(),
                    sheets::number(l.gain_from_common_seeds),
                    sheets::number(l.headline.then_some(c.family() as f64)),
                    sheets::number(l.holm_p),
                    l.verdict.code().to_string(),
                    l.effect,
                ])
                .map_err(sheets::plain)?;
        }
    }
    sheet.flush()
}
