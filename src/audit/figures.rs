//! The figures of an audit: each with its 95 % interval over possessions, beside real play.
//!
//! Shares and rates are sums over sums with the possession as cluster ([`share_estimate`],
//! [`ratio_estimate`]). The interval of a quantile is Woodruff's (1952, *Confidence intervals for
//! medians and other position measures*, J. Am. Stat. Assoc. 47 635–646, from memory): the values at
//! the ends of the interval of the share that stays below it. The coefficient of variation and the
//! cells have a percentile bootstrap over possessions.

use std::collections::BTreeMap;

use serde::Serialize;

use super::counts::{Counts, List};
use super::sights::{Gauge, Real, SIGHTS, Sight, Wish};
use crate::stats::{
    CONFIDENCE, Estimate, bootstrap_replicates, quantile, ratio_estimate, share_estimate,
};

/// A value so many times the real one, or so many times smaller, is still near it (ours).
pub const NEAR: f64 = 1.5;
/// Resamples of the possessions: enough for an interval that is read by eye.
const REPLICATES: usize = 400;
/// Their generator's seed, any will do.
const SEED: u64 = 2016;

/// How a value compares with real play.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    /// Inside the bracket of games or teams.
    Inside,
    /// Within [`NEAR`] times of real play, or better than it.
    Near,
    /// Farther from real play than [`NEAR`] times.
    Out,
}

/// One figure of one sight.
#[derive(Clone, Copy, Debug)]
pub struct Figure {
    /// What is counted.
    pub sight: &'static Sight,
    /// The same figure in real play.
    pub real: Real,
    /// `None` if there was nothing to count.
    pub value: Option<f64>,
    /// With its interval; `None` if too little was counted to give one.
    pub estimate: Option<Estimate>,
}

impl Figure {
    /// The name for files: that of the sight, with the quantile.
    pub fn name(&self) -> String {
        match self.real.at {
            Some(q) => format!("{}_p{:.0}", self.sight.name, q * 100.0),
            None => self.sight.name.to_string(),
        }
    }

    /// Ours over the real one; `None` without a value or where the real one is 0.
    pub fn ratio(&self) -> Option<f64> {
        let real = self.real.value;
        self.value.filter(|_| real > 0.0).map(|v| v / real)
    }

    /// How it compares with real play.
    pub fn mark(&self) -> Option<Mark> {
        let value = self.value?;
        let real = self.real.value;
        let inside = |(low, high): (f64, f64)| (low..=high).contains(&value);
        let too_much = value > real * NEAR && self.sight.wish != Wish::NoLess;
        let too_little = value < real / NEAR && self.sight.wish != Wish::NoMore;
        Some(match self.real.bracket {
            Some(bracket) if inside(bracket) => Mark::Inside,
            _ if too_much || too_little => Mark::Out,
            _ => Mark::Near,
        })
    }
}

/// All figures of the possessions, in the order of the registry.
pub fn figures(possessions: &[Counts]) -> Vec<Figure> {
    let of = |sight: &'static Sight| {
        let mut sorted = Vec::new();
        if let Gauge::Quantiles(list) = sight.gauge {
            let all = possessions.iter().flat_map(|c| c.list(list));
            sorted = all.copied().collect();
            sorted.sort_by(f64::total_cmp);
        }
        let figure = move |real: &Real| {
            let (value, estimate) = reckon(sight.gauge, real, possessions, &sorted);
            Figure {
                sight,
                real: *real,
                value,
                estimate,
            }
        };
        sight.real.iter().map(figure).collect::<Vec<_>>()
    };
    SIGHTS.iter().flat_map(of).collect()
}

fn reckon(
    gauge: Gauge,
    real: &Real,
    possessions: &[Counts],
    sorted: &[f64],
) -> (Option<f64>, Option<Estimate>) {
    let everyone: Vec<usize> = (0..possessions.len()).collect();
    match gauge {
        Gauge::Quantiles(list) => {
            let q = real.at.unwrap_or(0.5);
            let value = quantile(sorted, q);
            (
                value,
                value.and_then(|v| spread(possessions, list, sorted, q, v)),
            )
        }
        Gauge::Share(pair) | Gauge::Percent(pair) | Gauge::Rate(pair) => {
            let pairs = possessions.iter().map(|c| c.pair(pair));
            let (y, x) = pairs
                .clone()
                .fold((0.0, 0.0), |s, p| (s.0 + p.0, s.1 + p.1));
            let times = if matches!(gauge, Gauge::Percent(_)) {
                100.0
            } else {
                1.0
            };
            let estimate = match gauge {
                Gauge::Rate(_) => ratio_estimate(pairs, CONFIDENCE),
                _ => share_estimate(pairs, CONFIDENCE),
            };
            let scaled = |e: Estimate| Estimate {
                value: e.value * times,
                low: e.low * times,
                high: e.high * times,
                n: e.n,
            };
            ((x > 0.0).then(|| y / x * times), estimate.map(scaled))
        }
        Gauge::Variation(list) => {
            let of = |drawn: &[usize]| variation(drawn.iter().map(|&i| possessions[i].list(list)));
            (
                of(&everyone),
                resampled(possessions.len(), of(&everyone), of),
            )
        }
        Gauge::Cells => {
            let of = |drawn: &[usize]| half_of_the_time(drawn.iter().map(|&i| &possessions[i]));
            (
                of(&everyone),
                resampled(possessions.len(), of(&everyone), of),
            )
        }
    }
}

/// Woodruff's interval of a quantile.
fn spread(
    possessions: &[Counts],
    list: List,
    sorted: &[f64],
    q: f64,
    value: f64,
) -> Option<Estimate> {
    let pair = |c: &Counts| {
        let values = c.list(list);
        let below = values.iter().filter(|v| **v <= value).count();
        (below as f64, values.len() as f64)
    };
    let share = share_estimate(possessions.iter().map(pair), CONFIDENCE)?;
    let end = |off: f64| quantile(sorted, (q + off).clamp(0.0, 1.0));
    let low = end(share.low - share.value)?.min(value);
    let high = end(share.high - share.value)?.max(value);
    Some(Estimate {
        value,
        low,
        high,
        n: share.n,
    })
}

fn resampled(
    n: usize,
    value: Option<f64>,
    of: impl Fn(&[usize]) -> Option<f64>,
) -> Option<Estimate> {
    let value = value.filter(|_| n > 1)?;
    let sorted = bootstrap_replicates(n, REPLICATES, SEED, |drawn| of(drawn).unwrap_or(f64::NAN));
    let tail = (1.0 - CONFIDENCE) / 2.0;
    Some(Estimate {
        value,
        low: quantile(&sorted, tail)?,
        high: quantile(&sorted, 1.0 - tail)?,
        n: n as u64,
    })
}

/// Standard deviation over mean of all values; `None` for fewer than two.
fn variation<'a>(lists: impl Iterator<Item = &'a [f64]>) -> Option<f64> {
    let values: Vec<f64> = lists.flatten().copied().collect();
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
    (values.len() > 1 && mean > 0.0).then(|| (squares / (n - 1.0)).sqrt() / mean)
}

/// The least number of cells that hold half of the time; `None` without any.
fn half_of_the_time<'a>(possessions: impl Iterator<Item = &'a Counts>) -> Option<f64> {
    let mut cells: BTreeMap<(i32, i32), u64> = BTreeMap::new();
    for counts in possessions {
        for (cell, n) in counts.cells() {
            *cells.entry(*cell).or_default() += u64::from(*n);
        }
    }
    let mut times: Vec<u64> = cells.into_values().collect();
    times.sort_by(|a, b| b.cmp(a));
    let all: u64 = times.iter().sum();
    let mut held = 0;
    let enough = |time: &u64| {
        held += time;
        2 * held >= all
    };
    times.iter().position(enough).map(|i| (i + 1) as f64)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::audit::counts::Pair;

    fn figure(possessions: &[Counts], name: &str) -> Figure {
        let all = figures(possessions);
        let found = all.into_iter().find(|f| f.name() == name);
        found.expect("a figure of that name")
    }

    #[test]
    fn names_are_told_apart_and_sentences_fit_the_table() {
        let mut names: Vec<String> = figures(&[]).iter().map(Figure::name).collect();
        let all = names.len();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), all);
        for sight in SIGHTS {
            assert!(sight.sentence.chars().count() <= 33, "{}", sight.sentence);
            assert!(sight.means.ends_with(['.', ')']), "{}", sight.means);
            for real in sight.real {
                let quantiles = matches!(sight.gauge, Gauge::Quantiles(_));
                assert_eq!(real.at.is_some(), quantiles, "{}", sight.name);
                if let Some((low, high)) = real.bracket {
                    assert!(low <= real.value && real.value <= high, "{}", sight.name);
                }
            }
        }
    }

    #[test]
    fn nothing_counted_is_no_figure() {
        for possessions in [vec![], vec![Counts::default(); 3]] {
            for f in figures(&possessions) {
                assert_eq!((f.value, f.mark()), (None, None), "{}", f.name());
            }
        }
    }

    #[test]
    fn a_mark_says_inside_near_and_out_and_forgives_what_is_better() {
        let with = |name: &str, value: f64| Figure {
            value: Some(value),
            ..figure(&[], name)
        };
        let passes = |value| with("passes", value).mark();
        assert_eq!(passes(2.0), Some(Mark::Inside));
        assert_eq!(passes(2.7), Some(Mark::Near));
        assert_eq!(passes(3.3), Some(Mark::Out));
        assert_eq!(passes(1.4), Some(Mark::Out));
        // Fewer jumps than in real play are no fault, and more cuts are none.
        assert_eq!(with("jumps", 0.0).mark(), Some(Mark::Near));
        assert_eq!(with("jumps", 0.22).mark(), Some(Mark::Out));
        assert_eq!(with("cuts", 3.0).mark(), Some(Mark::Near));
        assert_eq!(with("cuts", 0.5).mark(), Some(Mark::Out));
        assert_eq!(with("first_mover_p50", 0.36).mark(), Some(Mark::Out));
        assert_eq!(with("first_mover_p50", 0.36).ratio(), None);
        assert_eq!(with("passes", 4.32).ratio(), Some(2.0));
    }

    #[test]
    fn quantiles_run_over_all_values_and_rates_over_all_time() {
        let mut a = Counts::default();
        let mut b = Counts::default();
        for v in [1.0, 2.0, 3.0] {
            a.push(List::AttackHull, v);
        }
        b.push(List::AttackHull, 10.0);
        b.push(List::AttackHull, 20.0);
        a.add(Pair::Cuts, 10.0, 4.0);
        b.add(Pair::Cuts, 30.0, 16.0);
        a.share(Pair::CatchStanding, true);
        b.share(Pair::CatchStanding, false);
        b.share(Pair::CatchStanding, false);
        a.share(Pair::DefenceAbove6, true);
        b.share(Pair::DefenceAbove6, false);
        let both = [a, b];
        let value = |name| figure(&both, name).value;
        assert_eq!(value("attack_hull_p50"), Some(3.0));
        assert_eq!(value("cuts"), Some(2.0));
        assert_eq!(value("catch_standing"), Some(1.0 / 3.0));
        assert_eq!(value("defence_above_6"), Some(50.0));
        let cuts = figure(&both, "cuts").estimate.expect("two possessions");
        assert!(cuts.low < 2.0 && cuts.high > 2.0);
    }

    #[test]
    fn the_variation_is_that_of_all_gaps_together() {
        let mut a = Counts::default();
        let mut b = Counts::default();
        a.push(List::ReleaseGap, 1.0);
        b.push(List::ReleaseGap, 2.0);
        b.push(List::ReleaseGap, 3.0);
        // Mean 2, standard deviation 1.
        assert_eq!(figure(&[a, b], "release_variation").value, Some(0.5));
    }

    #[test]
    fn the_fullest_cells_that_hold_half_of_the_time_are_counted() {
        let mut a = Counts::default();
        let mut b = Counts::default();
        for (cell, times) in [((1, 12), 4), ((2, 12), 3), ((3, 12), 3)] {
            (0..times).for_each(|_| a.stand_in(cell));
        }
        // 10 samples: the fullest has 4, two have 7.
        assert_eq!(figure(&[a.clone()], "cells").value, Some(2.0));
        (0..20).for_each(|_| b.stand_in((9, 9)));
        assert_eq!(figure(&[a, b], "cells").value, Some(1.0));
    }
}
