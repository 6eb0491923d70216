//! The parts that the why report is made of, whatever it is written on, and how its numbers are
//! said: with a unit and the 95 % interval, in words short enough for a time-out.

use crate::court::Units;
use crate::possession::timeline::FOOT;
use crate::stats::Estimate;

use super::numbers::NONE;

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum In {
    /// 0 to 1, said in per cent.
    Percent,
    /// Seconds.
    Seconds,
    /// Metres, said in feet where the court is in feet.
    Metres,
    /// Points.
    Points,
    /// Points per possession, said as points in a hundred possessions.
    PointsPerHundred,
    /// A plain number, such as windows in a possession.
    Count,
}

/// An interval whose middle lies farther than this share of its half width from the value is said
/// with its ends (as in `numbers`).
const LOPSIDED: f64 = 0.25;

/// In a table the low end of a lopsided share below this, per cent, says nothing.
const HARDLY: f64 = 0.5;

struct Form {
    factor: f64,
    places: usize,
    after: &'static str,
}

fn form(unit: In, units: Units, value: f64) -> Form {
    let (factor, places, after) = match (unit, units) {
        (In::Percent, _) if value > 0.0 && value < 0.0995 => (100.0, 1, " %"),
        (In::Percent, _) if value > 0.9905 && value < 1.0 => (100.0, 1, " %"),
        (In::Percent, _) => (100.0, 0, " %"),
        (In::Seconds, _) => (1.0, 1, " s"),
        (In::Metres, Units::Metric) => (1.0, 1, " m"),
        (In::Metres, Units::Imperial) => (1.0 / FOOT, 1, " ft"),
        (In::Points, _) | (In::Count, _) => (1.0, 2, ""),
        (In::PointsPerHundred, _) => (100.0, 1, ""),
    };
    Form {
        factor,
        places,
        after,
    }
}

/// The value alone: "78 %".
pub fn bare(value: f64, unit: In, units: Units) -> String {
    let f = form(unit, units, value);
    format!("{:.*}{}", f.places, value * f.factor, f.after)
}

/// For a sentence: "78 % (±2)"; lopsided: "0.5 % (0.2–0.9)".
pub fn said(e: Option<Estimate>, unit: In, units: Units) -> String {
    let Some(e) = e else {
        return NONE.to_string();
    };
    let f = form(unit, units, e.value);
    let (low, high) = ends(&e, &f);
    let (p, v) = (f.places, e.value * f.factor);
    let half = (high - low) / 2.0;
    if (v - (low + high) / 2.0).abs() > LOPSIDED * half {
        format!("{v:.p$}{} ({low:.p$}–{high:.p$})", f.after)
    } else {
        format!("{v:.p$}{} (±{})", f.after, arm(half, p))
    }
}

/// For a table whose head names the unit: "78 ± 2"; lopsided: "0.5 (0.2–0.9)", "0 (≤3)", "99 (≥97)".
pub fn cell(e: Option<Estimate>, unit: In, units: Units) -> String {
    let Some(e) = e else {
        return NONE.to_string();
    };
    let f = form(unit, units, e.value);
    let (low, high) = ends(&e, &f);
    let v = e.value * f.factor;
    // A column is read at a glance: whole numbers from one per cent on.
    let p = if unit == In::Percent && (1.0..=99.0).contains(&v) {
        0
    } else {
        f.places
    };
    let half = (high - low) / 2.0;
    if (v - (low + high) / 2.0).abs() <= LOPSIDED * half {
        return format!("{v:.p$} ± {}", arm(half, p));
    }
    if is_nought(&format!("{low:.p$}")) || unit == In::Percent && low < HARDLY {
        format!("{v:.p$} (≤{high:.p$})")
    } else if unit == In::Percent && high > 99.95 {
        format!("{v:.p$} (≥{low:.p$})")
    } else {
        format!("{v:.p$} ({low:.p$}–{high:.p$})")
    }
}

/// A share for a crowded table, in whole per cent: "83 ± 2", "<1 (≤2)", ">99 (≥98)".
pub fn whole(e: Option<Estimate>) -> String {
    let Some(e) = e else {
        return NONE.to_string();
    };
    let (v, low, high) = (100.0 * e.value, 100.0 * e.low, 100.0 * e.high);
    let text = match v {
        v if v > 0.0 && v < HARDLY => "<1".to_string(),
        v if (100.0 - HARDLY..100.0).contains(&v) => ">99".to_string(),
        v => format!("{v:.0}"),
    };
    let half = (high - low) / 2.0;
    if (v - (low + high) / 2.0).abs() <= LOPSIDED * half {
        format!("{text} ± {}", arm(half, 0))
    } else if low < HARDLY {
        format!("{text} (≤{:.0})", high.ceil())
    } else if high > 100.0 - HARDLY {
        format!("{text} (≥{:.0})", low.floor())
    } else {
        format!("{text} ({low:.0}–{high:.0})")
    }
}

/// The unit as a table's head names it.
pub fn head(word: &str, unit: In, units: Units) -> String {
    let named = match unit {
        In::Percent => "%",
        In::Seconds => "s",
        In::Metres if units == Units::Imperial => "ft",
        In::Metres => "m",
        In::Points => "pts",
        In::PointsPerHundred => "pts/100",
        In::Count => return word.to_string(),
    };
    format!("{word}, {named}")
}

/// Half a width that rounds to nothing is still something.
fn arm(half: f64, places: usize) -> String {
    let text = format!("{half:.places$}");
    if half > 0.0 && is_nought(&text) {
        let unit = if places == 0 {
            "1".into()
        } else {
            format!("0.{:0>places$}", 1)
        };
        return format!("<{unit}");
    }
    text
}

fn is_nought(text: &str) -> bool {
    text.trim_matches(['0', '.']).is_empty()
}

fn ends(e: &Estimate, f: &Form) -> (f64, f64) {
    (e.low * f.factor, e.high * f.factor)
}

/// A table; a row of a single cell is a heading for the rows below it.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What the table shows.
    pub caption: String,
    /// A heading for each column.
    pub heads: Vec<String>,
    /// The cells, as they are printed.
    pub rows: Vec<Vec<String>>,
}

/// Dots with their intervals, one below the other.
#[derive(Clone, Debug, PartialEq)]
pub struct Dots {
    /// What the dots show.
    pub caption: String,
    /// What the axis counts, with its unit.
    pub axis: String,
    /// The unit of the values.
    pub unit: In,
    /// With a bar from nought to each figure.
    pub bars: bool,
    /// What each dot is called, and its value with the interval.
    pub rows: Vec<(String, Estimate)>,
}

/// One part of the report.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// The heading.
    pub title: String,
    /// How to read it.
    pub lead: String,
    /// The findings, a sentence each.
    pub sentences: Vec<String>,
    /// Pictures of the figures.
    pub plots: Vec<Dots>,
    /// Seconds that are named: seed and time, s.
    pub named: Vec<(u64, f64)>,
    /// The figures.
    pub tables: Vec<Table>,
    /// What qualifies it.
    pub note: String,
}

/// Stands on every report, on screen and on paper. It claims no authority.
pub const CAUTION: &str = "Before anybody runs any of this: warm up. Stop on an injury or a \
    suspected concussion. Follow your league's and your medical staff's rules; they come before \
    anything written here, and this report is no authority on either.";

#[cfg(test)]
mod tests {
    use super::*;

    fn e(value: f64, low: f64, high: f64) -> Option<Estimate> {
        Some(Estimate {
            value,
            low,
            high,
            n: 9,
        })
    }

    #[test]
    fn a_number_is_said_with_its_unit_and_its_interval() {
        let metric = Units::Metric;
        assert_eq!(said(e(0.78, 0.76, 0.80), In::Percent, metric), "78 % (±2)");
        assert_eq!(cell(e(0.78, 0.76, 0.80), In::Percent, metric), "78 ± 2");
        assert_eq!(cell(e(0.0, 0.0, 0.04), In::Percent, metric), "0 (≤4)");
        assert_eq!(cell(e(1.0, 0.96, 1.0), In::Percent, metric), "100 (≥96)");
        assert_eq!(
            said(e(0.0, 0.0, 0.04), In::Percent, metric),
            "0 % (0–4)",
            "a lopsided interval is given by its ends"
        );
        assert_eq!(
            cell(e(0.3048, 0.2, 0.4096), In::Metres, Units::Imperial),
            "1.0 ± 0.3"
        );
        assert_eq!(
            cell(e(0.021, 0.011, 0.031), In::PointsPerHundred, metric),
            "2.1 ± 1.0"
        );
        assert_eq!(
            said(e(0.8, 0.799, 0.801), In::Points, metric),
            "0.80 (±<0.01)"
        );
        assert_eq!(whole(e(0.83, 0.81, 0.85)), "83 ± 2");
        assert_eq!(whole(e(0.002, 0.0, 0.013)), "<1 (≤2)");
        assert_eq!(whole(e(0.997, 0.986, 1.0)), ">99 (≥98)");
        assert_eq!(said(None, In::Points, metric), NONE);
    }
}
