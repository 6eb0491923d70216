//! A search kept in a file, so that it can be taken up again.
//!
//! The file is JSON. Values are written as the bits of their floating-point numbers, so that what
//! is read back is what was written, to the last bit. The **fingerprint** takes in everything that
//! the values depend on (all candidates' offences, the defences, squads, court, clock, figure,
//! margin, confidence, first seed); a file with another fingerprint is refused. The budget is not
//! part of it: a search that ran out may go on with more.

use serde::{Deserialize, Serialize};

use crate::checksum::Checksum;
use crate::court::Court;

use super::Variation;
use super::search::{Plan, Search};

/// The form of the file; raised whenever it changes.
const FORM: u32 = 1;

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    lanelight_search: u32,
    fingerprint: String,
    seeds: u64,
    played: u64,
    alive: Vec<usize>,
    values: Vec<Vec<u64>>,
}

/// Why a kept file cannot be taken up.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unkept {
    /// The text is not a kept search; what is wrong with it.
    #[error("it is not a kept search: {0}")]
    NotOne(String),
    /// A kept search, but of something else: part of what decides its course has changed.
    #[error(
        "it was kept for another search (the scenario, the candidates, the defences, the figure, \
         the margin, the confidence, the first seed or the program has changed)"
    )]
    Changed,
}

/// The search as the text of a file.
pub fn text(search: &Search, fingerprint: &str) -> String {
    let file = File {
        lanelight_search: FORM,
        fingerprint: fingerprint.to_string(),
        seeds: search.seeds,
        played: search.played,
        alive: search.alive.clone(),
        values: search
            .values
            .iter()
            .map(|line| line.iter().map(|x| x.to_bits()).collect())
            .collect(),
    };
    // Plain numbers and words: there is nothing in it that could not be written.
    serde_json::to_string(&file).unwrap_or_default() + "\n"
}

/// Reads a search back.
///
/// # Errors
/// If the text is none, contradicts itself, or has another fingerprint.
pub fn read(text: &str, fingerprint: &str, plan: Plan) -> Result<Search, Unkept> {
    let file: File = serde_json::from_str(text).map_err(|e| Unkept::NotOne(e.to_string()))?;
    if file.lanelight_search != FORM || file.fingerprint != fingerprint {
        return Err(Unkept::Changed);
    }
    let wrong = |said: &str| Err(Unkept::NotOne(said.to_string()));
    let sorted = file.alive.windows(2).all(|w| w[0] < w[1]);
    if file.values.len() != plan.candidates
        || !sorted
        || file
            .alive
            .last()
            .is_none_or(|last| *last >= plan.candidates)
    {
        return wrong("its candidates are not those searched");
    }
    if (file.alive.iter()).any(|i| file.values[*i].len() as u64 != file.seeds) {
        return wrong("a candidate still in has not been played on every seed");
    }
    let rows: u64 = file.values.iter().map(|v| v.len() as u64).sum();
    if rows * plan.defences.max(1) as u64 != file.played {
        return wrong("its possessions do not add up");
    }
    let values: Vec<Vec<f64>> = file
        .values
        .iter()
        .map(|line| line.iter().map(|bits| f64::from_bits(*bits)).collect())
        .collect();
    if values.iter().flatten().any(|x| !x.is_finite()) {
        return wrong("a value is not a number");
    }
    Ok(Search {
        plan,
        values,
        alive: file.alive,
        seeds: file.seeds,
        played: file.played,
    })
}

/// The [`Checksum`] of everything that the values depend on, as 16 hexadecimal digits.
pub fn fingerprint(variations: &[Variation], rest: &str) -> String {
    let mut sum = Checksum::default();
    let mut add = |text: &str| {
        sum.add(text.as_bytes());
        sum.add(&[0]);
    };
    add(env!("CARGO_PKG_VERSION"));
    for variation in variations {
        let s = variation.scenario();
        // In which units lengths are shown is no part of the play.
        let mut court = s.court;
        court.units = Court::of(court.code).units;
        add(&format!("{:?}", (&court, &s.offence, &s.defence)));
        add(&format!("{:?}", (&s.attackers, &s.defenders)));
        add(&format!("{:?}", (s.start, s.shot_clock, s.drill)));
    }
    add(rest);
    format!("{:016x}", sum.value())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contest::elimination::Rule;
    use crate::scenario::Scenario;

    fn plan() -> Plan {
        Plan {
            candidates: 2,
            defences: 1,
            first_seed: 1,
            budget: 100,
            rule: Rule::new(2, 0.05, 0.95).unwrap(),
        }
    }

    fn two(a: Vec<f64>, b: Vec<f64>) -> Search {
        Search {
            seeds: a.len() as u64,
            played: (a.len() + b.len()) as u64,
            values: vec![a, b],
            alive: vec![0, 1],
            plan: plan(),
        }
    }

    #[test]
    fn what_is_kept_comes_back_to_the_last_bit() {
        let search = two(
            vec![0.1, -0.0, f64::MIN_POSITIVE],
            vec![1.0 / 3.0, 1e300, 0.3],
        );
        assert_eq!(read(&text(&search, "a"), "a", plan()).unwrap(), search);
    }

    #[test]
    fn another_search_or_a_spoilt_file_is_refused() {
        let search = two(vec![0.1], vec![0.2]);
        let kept = text(&search, "a");
        assert_eq!(read(&kept, "b", plan()), Err(Unkept::Changed));
        for bad in [
            "",
            "{}",
            &kept[..kept.len() / 2],
            &kept.replace("\"seeds\":1", "\"seeds\":2"),
            &kept.replace("\"played\":2", "\"played\":3"),
            &kept.replace("[0,1]", "[0,7]"),
            &kept.replace("[0,1]", "[]"),
            &kept.replace("\"alive\"", "\"dead\""),
            &text(&two(vec![f64::NAN], vec![0.2]), "a"),
        ] {
            assert!(
                matches!(read(bad, "a", plan()), Err(Unkept::NotOne(_))),
                "{bad}"
            );
        }
    }

    #[test]
    fn any_change_of_the_scenario_changes_the_fingerprint() {
        let demo = || Variation::new("demo", Scenario::demo());
        let mark = |s: Scenario| fingerprint(&[Variation::new("x", s)], "rest");
        let base = mark(Scenario::demo());
        assert_eq!(base, fingerprint(&[demo()], "rest"), "names do not matter");
        assert_ne!(base, fingerprint(&[demo()], "other"));
        assert_ne!(base, fingerprint(&[demo(), demo()], "rest"));
        let mut s = Scenario::demo();
        s.offence.patience.hold += 0.1;
        assert_ne!(base, mark(s));
        let mut s = Scenario::demo();
        s.shot_clock = Some(24.0);
        assert_ne!(base, mark(s));
    }
}
