//! Lengths that are turned by hand, in feet or metres as the coach likes; metres inside.

use std::ops::RangeInclusive;

use bevy_egui::egui::{DragValue, Response, Ui};

use super::desk::Desk;
use super::numbers;
use super::words::squads as words;
use crate::court::Units;

/// One foot, metres.
const FOOT: f64 = 0.3048;

/// Adds a length to be turned or written, within `ends` metres.
pub fn length(ui: &mut Ui, value: &mut f64, ends: RangeInclusive<f64>, units: Units) -> Response {
    let drag = DragValue::new(value)
        .range(ends)
        .speed(0.02)
        .custom_formatter(move |metres, _| said(metres, units));
    numbers::written(ui, drag, move |text| read(text, units), LIKE)
}

/// How a length can be written.
const LIKE: &str = words::EXAMPLE_1_4_M_1;

impl Desk {
    /// The units in which lengths are shown.
    pub fn units(&self) -> Units {
        match self.settings.metric {
            Some(true) => Units::Metric,
            Some(false) => Units::Imperial,
            None => self.recording.scenario.court.units,
        }
    }

    /// A length in the units shown.
    pub fn length(&self, metres: f64) -> String {
        crate::possession::timeline::length(self.units(), metres)
    }

    /// A speed in the units shown: "24.6 ft/s" or "7.5 m/s".
    pub fn speed(&self, metres: f64) -> String {
        match self.units() {
            Units::Metric => words::m_s(&metres),
            Units::Imperial => words::ft_s(&(metres / FOOT)),
        }
    }

    /// A stature: "6 ft 2" or "1.88 m".
    pub fn stature(&self, metres: f64) -> String {
        match self.units() {
            Units::Metric => words::m_word(&metres),
            Units::Imperial => {
                let inches = (metres / 0.0254).round() as u32;
                words::ft(&(inches / 12), &(inches % 12))
            }
        }
    }
}

/// "1.40 m" or "4.6 ft".
fn said(metres: f64, units: Units) -> String {
    match units {
        Units::Metric => words::m_word(&metres),
        Units::Imperial => words::ft_metres(&(metres / FOOT)),
    }
}

/// Metres; the unit may be written, else it is the one that is shown.
fn read(text: &str, units: Units) -> Option<f64> {
    let text = text.trim().to_lowercase().replace(',', ".");
    let number = text.trim_end_matches(|c: char| c.is_alphabetic() || c == '\'' || c == ' ');
    let value: f64 = number.parse().ok()?;
    let metric = match &text[number.len()..] {
        unit if unit.contains('m') => true,
        unit if unit.contains("ft") || unit.contains('\'') => false,
        _ => units == Units::Metric,
    };
    Some(if metric { value } else { value * FOOT })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_said_in_the_unit_shown_and_read_in_either() {
        assert_eq!(said(1.4, Units::Metric), "1.40 m");
        assert_eq!(said(1.4, Units::Imperial), "4.6 ft");
        for (text, units, metres) in [
            ("1.4", Units::Metric, 1.4),
            ("1,4 m", Units::Imperial, 1.4),
            ("5", Units::Imperial, 1.524),
            ("5 ft", Units::Metric, 1.524),
            ("5'", Units::Metric, 1.524),
        ] {
            let got = read(text, units).unwrap_or(0.0);
            assert!((got - metres).abs() < 1e-9, "{text}: {got}");
        }
        assert_eq!(read("wide", Units::Metric), None);
    }
}
