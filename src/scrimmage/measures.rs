//! The one list of what a scrimmage measures. Everything that shows figures (the page of text,
//! the files, the stopping rule, a comparison) asks this list.
//!
//! Each measure is a ratio of sums over possessions: [`Measure::pair`] says what one possession
//! adds above and below the line. Definitions of windows, backdoor chances and unused light are in
//! `row`, of the intervals in `tallies`.

use super::row::Row;
use super::tallies::Interval;

mod list;

/// What a figure is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Points.
    Points,
    /// 0 to 1, shown in per cent.
    Share,
    /// Seconds.
    Seconds,
    /// Metres.
    Metres,
    /// Square metres.
    SquareMetres,
    /// A plain number for each possession.
    Count,
}

impl Unit {
    /// As it stands in files.
    pub fn word(self) -> &'static str {
        match self {
            Unit::Points => "points",
            Unit::Share => "share",
            Unit::Seconds => "s",
            Unit::Metres => "m",
            Unit::SquareMetres => "m2",
            Unit::Count => "count",
        }
    }
}

type Pair = Box<dyn Fn(&Row) -> (f64, f64) + Send + Sync>;

/// One figure: its name in files, a sentence for people, its unit, and how it is reckoned.
pub struct Measure {
    /// Its name in files and on the command line.
    pub name: String,
    /// A sentence that says what it measures.
    pub sentence: String,
    /// The unit that it is shown in.
    pub unit: Unit,
    /// How its interval is computed.
    pub interval: Interval,
    pair: Pair,
}

impl Measure {
    /// What one possession adds above and below the line; `(0, 0)` if it says nothing.
    pub fn pair(&self, row: &Row) -> (f64, f64) {
        (self.pair)(row)
    }

    /// The figure in one possession, where it has a meaning there.
    pub fn value(&self, row: &Row) -> Option<f64> {
        let (y, x) = self.pair(row);
        (x > 0.0).then(|| y / x)
    }
}

/// Every measure, in the order in which files list them.
pub fn measures() -> Vec<Measure> {
    let mut list = list::List(Vec::new());
    list.headline();
    list.shots();
    list.lanes();
    list.backdoor();
    list.looks();
    list.floor();
    list.0
}

/// The place of a measure in [`measures`] by its name in files.
pub fn find(measures: &[Measure], name: &str) -> Option<usize> {
    measures.iter().position(|m| m.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offence::LookKind;
    use crate::scrimmage::fixture::possession;
    use crate::scrimmage::row::index;
    use std::collections::BTreeSet;

    #[test]
    fn names_are_plain_and_never_used_twice() {
        let all = measures();
        let names: BTreeSet<_> = all.iter().map(|m| m.name.as_str()).collect();
        assert_eq!(names.len(), all.len());
        let plain = |c: char| c.is_ascii_lowercase() || c == '_';
        assert!(names.iter().all(|n| n.chars().all(plain)), "{names:?}");
        let sentences: BTreeSet<_> = all.iter().map(|m| m.sentence.as_str()).collect();
        assert_eq!(sentences.len(), all.len());
    }

    #[test]
    fn figures_of_a_possession_written_out_by_hand() {
        let row = Row::of(&possession(1));
        let all = measures();
        let value = |name: &str| all[find(&all, name).unwrap()].value(&row);
        for (name, wanted) in [
            ("points", 2.0),
            // A shot for two at a chance of 0.62, 1.4 m free, at the rim.
            ("promised_points", 1.24),
            ("open_layups", 1.0),
            // Five next passes at 0.9, two skips at 1.15, two backdoor passes at 1.04.
            ("open_look_value", 8.88 / 9.0),
            ("points_per_shot", 2.0),
            ("turnovers", 0.0),
            ("shots_rim", 1.0),
            ("makes_rim", 1.0),
            ("finishes_cut", 1.0),
            ("passes", 2.0),
            ("pass_gap", 1.6),
            ("duration", 4.0),
            ("lane_open", 0.4),
            ("lane_open_time", 0.8),
            ("next_pass_held", 0.5),
            ("backdoor_cut_there", 1.0),
            ("backdoor_cut_taken", 1.0),
            ("backdoor_cut_fed", 1.0),
            ("backdoor_cut_finished", 1.0),
            ("skip_windows", 1.0),
            ("skip_unused", 1.0),
            ("skip_taken", 0.0),
            ("next_pass_windows", 1.0),
            ("next_pass_taken", 1.0),
            ("next_pass_value", 0.9),
            ("unused_points", 0.25),
            ("stalls", 0.0),
            ("stall_time", 0.0),
            ("nothing_allowed", 0.3),
            ("lane_free", 1.0),
        ] {
            let got = value(name).unwrap_or(f64::NAN);
            assert!((got - wanted).abs() < 1e-9, "{name}: {got}, not {wanted}");
        }
        assert_eq!(value("makes_arc_three"), None);
    }

    #[test]
    fn a_lost_possession_promises_nothing_and_has_no_open_layup() {
        let row = Row::of(&possession(4));
        assert!(row.shot.is_none());
        let all = measures();
        for name in ["promised_points", "open_layups"] {
            assert_eq!(all[find(&all, name).unwrap()].value(&row), Some(0.0));
        }
    }

    #[test]
    fn kinds_stand_in_the_order_of_their_list() {
        use crate::defence::{Duty, Relation};
        assert!(
            LookKind::ALL
                .iter()
                .enumerate()
                .all(|(i, k)| index(*k) == i)
        );
        assert!(
            Relation::ALL
                .iter()
                .enumerate()
                .all(|(i, k)| *k as usize == i)
        );
        assert!(Duty::ALL.iter().enumerate().all(|(i, k)| *k as usize == i));
    }
}
