//! What a search came to: who is left, by how much, and what each costs against every defence.

use std::io::{self, Write};

use serde::Serialize;

use crate::contest::compare::Verdict;
use crate::contest::search::Standing;
use crate::contest::{Comparison, Ended, Search, Yardstick};
use crate::court::Units;
use crate::offence::words::capital;

use super::clean::line;
use super::contest_words::{difference, effect, plain, verdict};
use super::numbers::count;
use super::table::table;
use super::wrap::wrap;

/// Those put aside that are listed.
const LISTED: usize = 12;

/// A search with all that its report needs.
pub struct Found<'a> {
    /// What is played: offence, squads, court.
    pub common: String,
    /// What each candidate is called; the first is the offence as it is.
    pub candidates: Vec<String>,
    /// The defences searched against.
    pub defences: Vec<String>,
    /// Candidates that were not played, each with the reason.
    pub left_out: &'a [(String, String)],
    /// The search as it ended.
    pub search: &'a Search,
    /// Why it ended.
    pub ended: Ended,
    /// The figure searched by.
    pub yardstick: &'a Yardstick,
    /// +1 if more of it is better, −1 if fewer: values of the search are times this.
    pub sign: f64,
    /// Chance that the best is named rightly, 0 to 1.
    pub confidence: f64,
    /// Against each defence, by name, whether it was searched against: every candidate in `checked`
    /// compared with the offence as it is, on seeds that the search did not see.
    pub checks: Vec<(String, bool, Comparison)>,
    /// The candidates of the checks, in their order.
    pub checked: Vec<usize>,
}

impl Found<'_> {
    fn name(&self, candidate: usize) -> String {
        line(self.candidates.get(candidate).map_or("", String::as_str))
    }

    fn standing(&self, s: &Standing, units: Units) -> Vec<String> {
        let mean = s
            .mean
            .map(|m| plain(self.yardstick.unit, m * self.sign, units));
        vec![
            self.name(s.candidate),
            mean.unwrap_or_default(),
            count(s.seeds, "seed", "seeds"),
        ]
    }

    fn verdict(&self, ranking: &[Standing], units: Units) -> String {
        let margin = plain(self.yardstick.unit, self.search.plan.rule.margin, units);
        let sure = format!("{:.0} %", 100.0 * self.confidence);
        let left: Vec<String> = ranking
            .iter()
            .filter(|s| s.alive)
            .map(|s| self.name(s.candidate))
            .collect();
        let text = match self.ended {
            Ended::Known => format!(
                "The best is {}: known to {sure}, if it is better than every other by {margin} or \
                 more; whoever lies closer may be as good.",
                left.join(", ")
            ),
            Ended::Alike => format!(
                "Left are {}: they never differed on any seed played, so either will do. The rest \
                 is put aside to {sure}, as far as it is {margin} worse or more.",
                left.join("; ")
            ),
            Ended::OutOfBudget => format!(
                "NOT YET KNOWN: the budget ended with {} left. The best so far is {}. A larger \
                 --budget with the same --keep file goes on from here.",
                count(left.len() as u64, "candidate", "candidates"),
                left.first().map_or("", String::as_str)
            ),
            Ended::Interrupted => format!(
                "INTERRUPTED with {} left. The best so far is {}. The same command with the same \
                 --keep file goes on from here.",
                count(left.len() as u64, "candidate", "candidates"),
                left.first().map_or("", String::as_str)
            ),
        };
        wrap(&text, "  ", "  ")
    }
}

/// The page.
pub fn page(found: &Found, units: Units) -> String {
    let f = found;
    let ranking = f.search.ranking();
    let mut text = wrap(&format!("SEARCH FOR THE BEST: {}", line(&f.common)), "", "");
    let defences: Vec<String> = f.defences.iter().map(|d| line(d)).collect();
    text += &wrap(&format!("against {}", defences.join(" and ")), "", "");
    text += &wrap(
        &format!(
            "by {}; {} on common seeds, {}.",
            f.yardstick.sentence,
            count(f.candidates.len() as u64, "candidate", "candidates"),
            count(f.search.played(), "possession", "possessions")
        ),
        "",
        "",
    );
    text += "\nWHAT IS KNOWN\n";
    text += &f.verdict(&ranking, units);
    if let Some(equal) = f.search.equal_shares() {
        let said = format!(
            "Had all been played equally long, the same promise would have taken some {}.",
            count(equal, "possession", "possessions")
        );
        text += &wrap(&said, "  ", "  ");
    }
    let listed = |alive: bool| {
        let all = ranking.iter().filter(move |s| s.alive == alive);
        all.take(LISTED)
            .map(|s| f.standing(s, units))
            .collect::<Vec<_>>()
    };
    text += "\nSTILL IN, the best first\n";
    text += &wrap(
        &format!(
            "{}: mean over {} searched against, and over how many seeds",
            capital(&f.yardstick.sentence),
            count(f.defences.len() as u64, "defence", "defences")
        ),
        "  ",
        "  ",
    );
    text += &table(&[""; 3], &listed(true));
    let out = ranking.iter().filter(|s| !s.alive).count();
    if out > 0 {
        text += &format!(
            "\nPUT ASIDE, the last first{}\n",
            match out > LISTED {
                true => format!(" ({LISTED} of {out})"),
                false => String::new(),
            }
        );
        text += &table(&[""; 3], &listed(false));
    }
    text += &costs(f, units);
    if !f.left_out.is_empty() {
        text += "\nNOT TAKEN IN\n";
        for (name, why) in f.left_out {
            text += &wrap(&line(&format!("{name}: {why}")), "  ", "    ");
        }
    }
    text
}

fn costs(f: &Found, units: Units) -> String {
    let Some((_, _, first)) = f.checks.first() else {
        return String::new();
    };
    let mut text = format!(
        "\nWHAT IT BRINGS AND COSTS, against every defence\n{}",
        wrap(
            &format!(
                "Each compared with the offence as it is, on {} that the search did not see, so that \
                 the luck of being picked does not count. In brackets the 95 % interval; “surely” \
                 after Holm's correction within each defence.",
                count(first.possessions, "seed", "seeds")
            ),
            "  ",
            "  "
        )
    );
    for (i, candidate) in f.checked.iter().enumerate() {
        text += &format!("  {}\n", f.name(*candidate));
        let mut rows = Vec::new();
        let mut sure = Vec::new();
        for (defence, searched, comparison) in &f.checks {
            let Some(d) = comparison.difference(i, &f.yardstick.name) else {
                continue;
            };
            let mark = if *searched { "" } else { " *" };
            rows.push(vec![
                format!("  {}{mark}", line(defence)),
                difference(f.yardstick, &d, units),
                verdict(d.verdict).to_string(),
            ]);
            if d.verdict == Verdict::Sure {
                let effect = effect(f.yardstick, &d, units);
                sure.push(format!("against {} {effect}", line(defence)));
            }
        }
        text += &table(&[""; 3], &rows);
        if !sure.is_empty() {
            text += &wrap(&format!("Surely: {}.", sure.join("; ")), "    ", "      ");
        }
    }
    if f.checks.iter().any(|c| !c.1) {
        text += "  * not searched against\n";
    }
    if f.checks.iter().any(|c| c.2.interrupted) {
        text += "  INTERRUPTED: not all of these possessions were played.\n";
    }
    text
}

#[derive(Serialize)]
struct Whole<'a> {
    common: String,
    figure: &'a str,
    unit: &'static str,
    confidence: f64,
    margin: f64,
    first_seed: u64,
    seeds: u64,
    possessions: u64,
    possessions_at_equal_shares: Option<u64>,
    ended: Ended,
    searched_against: Vec<String>,
    candidates: Vec<Named>,
    checks: Vec<Check>,
    left_out: &'a [(String, String)],
}

#[derive(Serialize)]
struct Named {
    name: String,
    alive: bool,
    seeds: u64,
    mean: Option<f64>,
}

#[derive(Serialize)]
struct Check {
    name: String,
    defence: String,
    searched_against: bool,
    first_seed: u64,
    seeds: u64,
    difference: Option<f64>,
    low: Option<f64>,
    high: Option<f64>,
    verdict: Option<Verdict>,
}

/// As JSON. Units: SI; shares 0 to 1.
///
/// # Errors
/// If it cannot be written.
pub fn json(out: &mut impl Write, f: &Found) -> io::Result<()> {
    let mut checks = Vec::new();
    for (i, candidate) in f.checked.iter().enumerate() {
        for (defence, searched, comparison) in &f.checks {
            let d = comparison.difference(i, &f.yardstick.name);
            let e = d.as_ref().and_then(|d| d.found.difference);
            checks.push(Check {
                name: f.name(*candidate),
                defence: line(defence),
                searched_against: *searched,
                first_seed: comparison.first_seed,
                seeds: comparison.possessions,
                difference: d.as_ref().map(|d| d.found.b - d.found.a),
                low: e.map(|e| e.low),
                high: e.map(|e| e.high),
                verdict: d.map(|d| d.verdict),
            });
        }
    }
    let whole = Whole {
        common: line(&f.common),
        figure: &f.yardstick.name,
        unit: f.yardstick.unit.word(),
        confidence: f.confidence,
        margin: f.search.plan.rule.margin,
        first_seed: f.search.plan.first_seed,
        seeds: f.search.seeds(),
        possessions: f.search.played(),
        possessions_at_equal_shares: f.search.equal_shares(),
        ended: f.ended,
        searched_against: f.defences.iter().map(|d| line(d)).collect(),
        candidates: (f.search.ranking().iter())
            .map(|s| Named {
                name: f.name(s.candidate),
                alive: s.alive,
                seeds: s.seeds,
                mean: s.mean.map(|m| m * f.sign),
            })
            .collect(),
        checks,
        left_out: f.left_out,
    };
    serde_json::to_writer_pretty(&mut *out, &whole)?;
    writeln!(out)
}
