//! What a scrimmage came to: running sums that do not grow with the number of possessions, and the
//! figures made of them.

use serde::Serialize;

use crate::defence::{Duty, Relation};
use crate::offence::LookKind;
use crate::stats::Estimate;

use super::codes::look_code;
use super::measures::{Measure, Unit, find, measures};
use super::row::Row;
use super::tallies::{Interval, LengthTally, PartsTally, RatioTally};
use super::windows::INSTANT;

/// One figure for people and files. A figure that nothing was seen of has no value; one seen too
/// seldom for an interval has no ends.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// Its name in files.
    pub name: String,
    /// A sentence that says what it measures.
    pub sentence: String,
    /// Unit of value and ends, as it is printed.
    pub unit: &'static str,
    /// The figure itself, in `unit`.
    pub value: Option<f64>,
    /// Lower end of the 95 % interval, in `unit`.
    pub low: Option<f64>,
    /// Upper end of the 95 % interval, in `unit`.
    pub high: Option<f64>,
    /// Possessions (for proportions: cases) that it rests on.
    pub n: u64,
}

/// One line of the table of who shuts a kind of look.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shutter {
    /// The kind of look that is shut.
    pub look: LookKind,
    /// The relation of the defender's man to the ball, and what the defender is doing.
    pub relation: Relation,
    /// What the defender is doing.
    pub duty: Duty,
    /// Share of the closed looks of that kind (over all decision instants) that he shuts.
    pub share: f64,
    /// Lower end of the 95 % interval of the share.
    pub low: Option<f64>,
    /// Upper end of the 95 % interval of the share.
    pub high: Option<f64>,
}

impl Shutter {
    /// The share as a figure.
    pub fn figure(&self) -> Figure {
        Figure {
            name: String::new(),
            sentence: String::new(),
            unit: Unit::Share.word(),
            value: Some(self.share),
            low: self.low,
            high: self.high,
            n: 0,
        }
    }
}

/// Relations times duties.
const CELLS: usize = Relation::ALL.len() * Duty::ALL.len();

/// Who shuts one kind of look: by relation and duty, and by number.
#[derive(Clone, Debug, Default, PartialEq)]
struct ShutTally {
    cells: PartsTally<CELLS>,
    by: PartsTally<5>,
}

/// Running sums over the possessions played so far, in order of seed.
#[derive(Clone)]
pub struct Results {
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// Possessions played.
    pub possessions: u64,
    /// Stopped from outside before it was done.
    pub interrupted: bool,
    /// How the wish for a narrow interval ended, if there was one.
    pub until: Option<Reached>,
    sums: Vec<RatioTally>,
    windows: [LengthTally; LookKind::ALL.len()],
    backdoor: LengthTally,
    stalls: LengthTally,
    shut: Vec<ShutTally>,
}

/// How the wish for a narrow interval ended.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Reached {
    /// The measure's name.
    pub measure: String,
    /// Half width asked for, in the measure's unit.
    pub asked: f64,
    /// Half width reached, in the measure's unit.
    pub half_width: Option<f64>,
    /// The wish was fulfilled.
    pub narrow_enough: bool,
}

impl Results {
    pub(super) fn new(first_seed: u64, measures: &[Measure]) -> Results {
        Results {
            first_seed,
            possessions: 0,
            interrupted: false,
            until: None,
            sums: vec![RatioTally::default(); measures.len()],
            windows: Default::default(),
            backdoor: LengthTally::default(),
            stalls: LengthTally::default(),
            shut: vec![ShutTally::default(); LookKind::ALL.len()],
        }
    }

    /// Adds the next possession.
    pub(super) fn fold(&mut self, row: &Row, measures: &[Measure]) {
        self.possessions += 1;
        for (sum, measure) in self.sums.iter_mut().zip(measures) {
            let (y, x) = measure.pair(row);
            sum.push(y, x);
        }
        for (lengths, look) in self.windows.iter_mut().zip(&row.looks) {
            lengths.push(&look.windows);
        }
        self.backdoor.push(&row.backdoor_windows);
        self.stalls.push(&row.stalls);
        for (tally, look) in self.shut.iter_mut().zip(&row.looks) {
            let closed = f64::from(look.closed());
            if closed == 0.0 {
                continue;
            }
            let mut cells = [0.0; CELLS];
            for (cell, count) in cells.iter_mut().zip(look.shut.as_flattened()) {
                *cell = f64::from(*count);
            }
            tally.cells.push(&cells, closed);
            tally.by.push(&look.shut_by.map(f64::from), closed);
        }
    }

    /// The figure at that place of the list of measures.
    pub(super) fn at(&self, place: usize, interval: Interval) -> Option<Estimate> {
        self.sums.get(place)?.estimate(interval)
    }

    /// Every figure: the measures in their order, then the median lengths of windows.
    pub fn figures(&self) -> Vec<Figure> {
        let mut list: Vec<Figure> = measures()
            .into_iter()
            .zip(&self.sums)
            .map(|(m, sum)| {
                let e = sum.estimate(m.interval);
                figure(m.name, m.sentence, m.unit, sum.ratio(), e, sum.n())
            })
            .collect();
        let mut median = |code: &str, words: String, lengths: &LengthTally| {
            let e = lengths.median().map(in_seconds);
            list.push(figure(
                format!("{code}_median"),
                words,
                Unit::Seconds,
                e.map(|e| e.value),
                e,
                e.map_or(0, |e| e.n),
            ));
        };
        for (kind, lengths) in LookKind::ALL.into_iter().zip(&self.windows) {
            let words = format!("median length of a window: {}", kind.word());
            median(look_code(kind), words, lengths);
        }
        median(
            "backdoor_cut",
            "median length of a backdoor chance".into(),
            &self.backdoor,
        );
        median("stall", "median length of a stall".into(), &self.stalls);
        list
    }

    /// One measure by its name in files, with its interval.
    pub fn estimate(&self, name: &str) -> Option<Estimate> {
        let list = measures();
        let place = find(&list, name)?;
        self.at(place, list[place].interval)
    }

    /// Median length of a look's windows, seconds.
    pub fn window_median(&self, kind: LookKind) -> Option<Estimate> {
        self.windows[kind as usize].median().map(in_seconds)
    }

    /// Median length of a stall, seconds.
    pub fn stall_median(&self) -> Option<Estimate> {
        self.stalls.median().map(in_seconds)
    }

    /// Who shuts looks of a kind, by relation and duty, the largest share first.
    pub fn shutters(&self, kind: LookKind) -> Vec<Shutter> {
        let tally = &self.shut[kind as usize];
        let mut list = Vec::new();
        for (r, relation) in Relation::ALL.into_iter().enumerate() {
            for (d, duty) in Duty::ALL.into_iter().enumerate() {
                let sum = tally.cells.part(r * Duty::ALL.len() + d);
                let Some(share) = sum.ratio().filter(|s| *s > 0.0) else {
                    continue;
                };
                let e = sum.estimate(Interval::Share);
                list.push(Shutter {
                    look: kind,
                    relation,
                    duty,
                    share,
                    low: e.map(|e| e.low),
                    high: e.map(|e| e.high),
                });
            }
        }
        list.sort_by(|a, b| b.share.total_cmp(&a.share));
        list
    }

    /// Closed looks of a kind over all decision instants, and the share that each defender (X1 to
    /// X5) shuts.
    pub fn shut_by(&self, kind: LookKind) -> (f64, [Option<f64>; 5]) {
        let by = &self.shut[kind as usize].by;
        let share = |i| by.part(i).ratio();
        (by.part(0).denominator(), std::array::from_fn(share))
    }
}

fn in_seconds(e: Estimate) -> Estimate {
    Estimate {
        value: e.value * INSTANT,
        low: e.low * INSTANT,
        high: e.high * INSTANT,
        n: e.n,
    }
}

fn figure(
    name: String,
    sentence: String,
    unit: Unit,
    value: Option<f64>,
    e: Option<Estimate>,
    n: u64,
) -> Figure {
    Figure {
        name,
        sentence,
        unit: unit.word(),
        value: e.map(|e| e.value).or(value),
        // Every measure counts something: none can be below nought.
        low: e.map(|e| e.of_a_count().low),
        high: e.map(|e| e.high),
        n,
    }
}
