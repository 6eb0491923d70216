//! What variations are compared by: every measure of the registry (`scrimmage::measures`), which
//! way it is better for the offence, and which few are the headline figures.

use crate::scrimmage::tallies::Interval;
use crate::scrimmage::{Measure, Row, Unit, measures};

/// Which way a figure is better for the offence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More of it is better.
    More,
    /// Less of it is better.
    Fewer,
    /// It says how the team plays, not how well.
    Neither,
}

type Pair = Box<dyn Fn(&Row) -> (f64, f64) + Send + Sync>;

/// One figure to compare by; see [`Measure`].
pub struct Yardstick {
    /// Its name in files and on the command line.
    pub name: String,
    /// A sentence that says what it measures.
    pub sentence: String,
    /// The unit that it is shown in.
    pub unit: Unit,
    /// How its interval is computed.
    pub interval: Interval,
    /// Which way it is better for the offence.
    pub better: Better,
    /// One of the family that the correction for many comparisons is over.
    pub headline: bool,
    pair: Pair,
}

impl Yardstick {
    /// What one possession adds above and below the line.
    pub fn pair(&self, row: &Row) -> (f64, f64) {
        (self.pair)(row)
    }
}

/// The headline figures, by name: few, and each something a coach would change an offence for.
const HEADLINES: [(&str, Better); 8] = [
    ("points", Better::More),
    ("promised_points", Better::More),
    ("open_look_value", Better::More),
    ("turnovers", Better::Fewer),
    ("open_layups", Better::More),
    ("lane_open_time", Better::More),
    ("backdoor_cut_there", Better::More),
    ("stall_time", Better::Fewer),
];

/// Figures per possession that a search may go by.
pub const SEARCHABLE: [(&str, Better); 12] = [
    ("promised_points", Better::More),
    ("points", Better::More),
    ("open_layups", Better::More),
    ("turnovers", Better::Fewer),
    ("lane_open_time", Better::More),
    ("backdoor_cut_there", Better::More),
    ("backdoor_cut_fed", Better::More),
    ("backdoor_cut_finished", Better::More),
    ("finishes_cut", Better::More),
    ("stalls", Better::Fewer),
    ("stall_time", Better::Fewer),
    ("unused_points", Better::Fewer),
];

/// Every yardstick, in the order of the registry.
pub fn yardsticks() -> Vec<Yardstick> {
    measures().into_iter().map(of_measure).collect()
}

fn of_measure(measure: Measure) -> Yardstick {
    let (better, headline) = standing(&measure.name);
    Yardstick {
        name: measure.name.clone(),
        sentence: measure.sentence.clone(),
        unit: measure.unit,
        interval: measure.interval,
        better,
        headline,
        pair: Box::new(move |row| measure.pair(row)),
    }
}

fn standing(name: &str) -> (Better, bool) {
    let in_list = |list: &[(&str, Better)]| list.iter().find(|(n, _)| *n == name).map(|(_, b)| *b);
    let headline = in_list(&HEADLINES);
    let better = headline.or_else(|| in_list(&SEARCHABLE));
    (better.unwrap_or(Better::Neither), headline.is_some())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::possession;
    use std::collections::BTreeSet;

    #[test]
    fn every_headline_and_every_searchable_figure_is_there_once() {
        let all = yardsticks();
        let names: BTreeSet<_> = all.iter().map(|y| y.name.as_str()).collect();
        assert_eq!(names.len(), all.len());
        for (name, _) in HEADLINES.iter().chain(&SEARCHABLE) {
            assert!(names.contains(name), "{name}");
        }
        assert_eq!(all.iter().filter(|y| y.headline).count(), HEADLINES.len());
        assert_eq!(all.len(), measures().len());
    }

    #[test]
    fn searchable_figures_count_every_possession_once() {
        let all = yardsticks();
        for seed in 1..9 {
            let row = Row::of(&possession(seed));
            for (name, _) in SEARCHABLE {
                let y = all.iter().find(|y| y.name == name).unwrap();
                assert_eq!(y.pair(&row).1, 1.0, "{name}, seed {seed}");
            }
        }
    }
}
