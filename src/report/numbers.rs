//! Figures as people read them: each with its unit and its 95 % interval.

use crate::court::Units;
use crate::possession::timeline::FOOT;
use crate::scrimmage::Figure;

/// What stands where nothing was seen.
pub const NONE: &str = "–";

/// A figure's value and the ends of its interval in the unit in which it is shown.
struct Shown {
    factor: f64,
    places: usize,
    after: &'static str,
}

fn shown(unit: &str, units: Units) -> Shown {
    let (factor, places, after) = match (unit, units) {
        ("share", _) => (100.0, 0, " %"),
        ("points", _) => (1.0, 2, ""),
        ("s", _) => (1.0, 1, " s"),
        ("m", Units::Metric) => (1.0, 1, " m"),
        ("m", Units::Imperial) => (1.0 / FOOT, 1, " ft"),
        ("m2", Units::Metric) => (1.0, 0, " m²"),
        ("m2", Units::Imperial) => (1.0 / (FOOT * FOOT), 0, " sq ft"),
        _ => (1.0, 2, ""),
    };
    Shown {
        factor,
        places,
        after,
    }
}

/// The value alone: "14 %".
pub fn value(figure: &Figure, units: Units) -> String {
    let s = shown(figure.unit, units);
    match figure.value {
        Some(v) => format!("{:.*}{}", places(&s, v), v * s.factor, s.after),
        None => NONE.to_string(),
    }
}

/// The interval alone: "11 to 17 %"; empty where there is none.
pub fn interval(figure: &Figure, units: Units) -> String {
    let s = shown(figure.unit, units);
    match (figure.low, figure.high) {
        (Some(low), Some(high)) => {
            let p = places(&s, figure.value.unwrap_or(high));
            format!(
                "{:.p$} to {:.p$}{}",
                low * s.factor,
                high * s.factor,
                s.after
            )
        }
        _ => String::new(),
    }
}

/// Value and interval: "0.87 (0.81 to 0.93)".
pub fn both(figure: &Figure, units: Units) -> String {
    match interval(figure, units) {
        range if range.is_empty() => value(figure, units),
        range => format!("{} ({range})", value(figure, units)),
    }
}

/// Value and half the width of its interval, short enough for a table: "14 ± 3 %"; a lopsided
/// interval with its ends: "0 (0–40) %".
pub fn short(figure: &Figure, units: Units) -> String {
    let s = shown(figure.unit, units);
    let (Some(v), Some(low), Some(high)) = (figure.value, figure.low, figure.high) else {
        return value(figure, units);
    };
    if figure.unit != "share" && figure.n < TOO_FEW {
        return format!("{} (too few)", value(figure, units));
    }
    let p = places(&s, v);
    let (low, high) = (low * s.factor, high * s.factor);
    let v = v * s.factor;
    let half = (high - low) / 2.0;
    if (v - (low + high) / 2.0).abs() > LOPSIDED * half {
        return format!("{v:.p$} ({low:.p$}–{high:.p$}){}", s.after);
    }
    format!("{v:.p$} ± {half:.p$}{}", s.after)
}

/// A mean of fewer than this many possessions has an interval too wide to mean anything (files
/// have it all the same). Invented.
const TOO_FEW: u64 = 5;
/// An interval whose middle lies farther than this share of its half width from the value is
/// written with its ends. Invented.
const LOPSIDED: f64 = 0.25;

/// Small shares get a decimal.
fn places(s: &Shown, value: f64) -> usize {
    let small = s.after == " %" && value > 0.0 && value < 0.0995;
    if small { 1 } else { s.places }
}

/// "1 possession", "500 possessions", "12 000 possessions".
pub fn count(n: u64, one: &str, many: &str) -> String {
    let digits = n.to_string();
    let mut grouped = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) && digits.len() > 4 {
            grouped.push('\u{a0}');
        }
        grouped.push(c);
    }
    format!("{grouped} {}", if n == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figure(unit: &'static str, value: f64, low: f64, high: f64) -> Figure {
        Figure {
            name: "x".into(),
            sentence: "x".into(),
            unit,
            value: Some(value),
            low: Some(low),
            high: Some(high),
            n: 9,
        }
    }

    #[test]
    fn figures_read_with_their_unit_and_interval() {
        let share = figure("share", 0.142, 0.112, 0.171);
        assert_eq!(both(&share, Units::Metric), "14 % (11 to 17 %)");
        assert_eq!(short(&share, Units::Metric), "14 ± 3 %");
        let room = figure("m", 1.2192, 1.0, 1.4);
        assert_eq!(both(&room, Units::Imperial), "4.0 ft (3.3 to 4.6 ft)");
        assert_eq!(both(&room, Units::Metric), "1.2 m (1.0 to 1.4 m)");
        let two_shots = Figure {
            n: 2,
            ..figure("points", 1.5, -17.5, 20.5)
        };
        assert_eq!(short(&two_shots, Units::Metric), "1.50 (too few)");
        let rare = figure("share", 0.012, 0.004, 0.03);
        assert_eq!(both(&rare, Units::Metric), "1.2 % (0.4 to 3.0 %)");
        assert_eq!(short(&rare, Units::Metric), "1.2 (0.4–3.0) %");
        let unseen = Figure {
            value: None,
            low: None,
            high: None,
            ..rare
        };
        assert_eq!(both(&unseen, Units::Metric), "–");
        assert_eq!(count(12_000, "shot", "shots"), "12\u{a0}000 shots");
        assert_eq!(count(1, "shot", "shots"), "1 shot");
    }
}
