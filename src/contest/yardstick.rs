//! What variations are compared by: every measure of the registry, and a few that only a
//! comparison needs.
//!
//! * **Points promised**: for a possession that ends in a shot, the shot's worth times its chance
//!   at the moment of release; 0 for a possession that is lost. Its mean is that of points (the
//!   dice of the shot are drawn from that very chance), its spread much smaller, since the luck of
//!   the ball going in is left out (conditioning: Law, *Simulation Modeling and Analysis*, ch. 11,
//!   from memory). It is what a search goes by unless told otherwise.
//! * **Open lay-up**: a shot at the rim with nobody within [`OPEN_ROOM`] of the shooter.
//! * **Open-look value**: points promised by a look that is open, averaged over all open looks of
//!   all kinds and instants, whether the rules take them or not.

use crate::court::ShotZone;
use crate::scrimmage::tallies::Interval;
use crate::scrimmage::{Measure, Row, Unit, measures};

/// Nobody nearer than this at the shot: an open one, metres. Four feet, `common practice` (from
/// memory).
pub const OPEN_ROOM: f64 = 1.2192;

/// Which way a figure is better for the offence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    More,
    Fewer,
    /// It says how the team plays, not how well.
    Neither,
}

type Pair = Box<dyn Fn(&Row) -> (f64, f64) + Send + Sync>;

/// One figure to compare by; see [`Measure`].
pub struct Yardstick {
    pub name: String,
    pub sentence: String,
    pub unit: Unit,
    pub interval: Interval,
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

/// Every yardstick: those of a comparison first, then the registry in its order.
pub fn yardsticks() -> Vec<Yardstick> {
    let mut list = vec![
        yardstick(
            "promised_points",
            "points promised by the shot, per possession",
            Unit::Points,
            Box::new(|r| (promised(r), 1.0)),
        ),
        yardstick(
            "open_layups",
            "open lay-ups, per possession",
            Unit::Count,
            Box::new(|r| (f64::from(u8::from(open_layup(r))), 1.0)),
        ),
        yardstick(
            "open_look_value",
            "points promised by an open look",
            Unit::Points,
            Box::new(|r| {
                let sum =
                    |of: fn(&crate::scrimmage::row::LookRow) -> f64| r.looks.iter().map(of).sum();
                (sum(|l| l.value), sum(|l| f64::from(l.open)))
            }),
        ),
    ];
    list.extend(measures().into_iter().map(of_measure));
    list
}

fn yardstick(name: &str, sentence: &str, unit: Unit, pair: Pair) -> Yardstick {
    let (better, headline) = standing(name);
    Yardstick {
        name: name.into(),
        sentence: sentence.into(),
        unit,
        interval: Interval::Mean,
        better,
        headline,
        pair,
    }
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

fn promised(row: &Row) -> f64 {
    row.shot.map_or(0.0, |s| s.chance * f64::from(s.points))
}

fn open_layup(row: &Row) -> bool {
    row.shot
        .is_some_and(|s| s.zone == ShotZone::Rim && s.room >= OPEN_ROOM)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scrimmage::fixture::possession;
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
        assert_eq!(all.len(), measures().len() + 3);
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

    #[test]
    fn a_lost_possession_promises_nothing_and_a_shot_its_worth_times_its_chance() {
        for seed in 1..9 {
            let row = Row::of(&possession(seed));
            match row.shot {
                None => assert_eq!(promised(&row), 0.0),
                Some(s) => assert_eq!(promised(&row), s.chance * f64::from(s.points)),
            }
        }
    }
}
