//! Running sums that stay the same size however many possessions are played.
//!
//! A figure is a ratio `R = Σ y / Σ x` over possessions, each of which brings one pair `(y, x)`
//! and counts as one cluster. With `e = y − R·x`, which sums to nought, the linearised variance of
//! `R` is `k/(k−1) · Σ e² / (Σ x)²` over the `k` possessions that are not `(0, 0)`, as in
//! [`crate::stats::ratio_estimate`] (a test holds the two together); here `Σ e²` comes from
//! running co-moments, so no possession need be kept. With `x = 1` throughout it is the mean with its
//! t interval. (Taking the skewness out after Hall 1992 was tried: on this floor it holds too often.)
//!
//! The interval of a median is Woodruff's: the lengths at which the interval of "share no longer
//! than this" takes in one half (Woodruff 1952, *Confidence intervals for medians and other
//! position measures*, J. Am. Stat. Assoc. 47 635–646, from memory).

use crate::stats::{CONFIDENCE, Estimate, score_ends, t_two_sided, wilson};

/// How a figure's interval is reckoned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interval {
    /// Yes or no, at most once in a possession: Wilson.
    Proportion,
    /// A part of a whole that one possession brings many pieces of: score interval on the
    /// effective number of trials, clustered by possession.
    Share,
    /// A mean, or a ratio of sums, clustered by possession: t.
    Mean,
}

/// Co-moments of the pairs of all possessions pushed so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct RatioTally {
    n: u64,
    mean_y: f64,
    mean_x: f64,
    m2_y: f64,
    m2_x: f64,
    c_xy: f64,
    sum_y: f64,
    sum_x: f64,
}

impl RatioTally {
    /// Adds one possession's pair; `(0, 0)` says nothing and is left out.
    pub fn push(&mut self, y: f64, x: f64) {
        if (y, x) == (0.0, 0.0) {
            return;
        }
        self.n += 1;
        let n = self.n as f64;
        let (dy, dx) = (y - self.mean_y, x - self.mean_x);
        self.mean_y += dy / n;
        self.mean_x += dx / n;
        self.m2_y += dy * (y - self.mean_y);
        self.m2_x += dx * (x - self.mean_x);
        self.c_xy += dy * (x - self.mean_x);
        self.sum_y += y;
        self.sum_x += x;
    }

    /// Possessions that say anything.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// `Σ x`.
    pub fn denominator(&self) -> f64 {
        self.sum_x
    }

    /// The ratio alone; `None` if there is nothing to divide by.
    pub fn ratio(&self) -> Option<f64> {
        (self.sum_x > 0.0)
            .then(|| self.sum_y / self.sum_x)
            .filter(|r| r.is_finite())
    }

    fn squares(&self, ratio: f64) -> f64 {
        (self.m2_y - 2.0 * ratio * self.c_xy + ratio * ratio * self.m2_x).max(0.0)
    }

    fn variance(&self, ratio: f64) -> Option<f64> {
        if self.n < 2 {
            return None;
        }
        let k = self.n as f64;
        Some(k / (k - 1.0) * self.squares(ratio) / (self.sum_x * self.sum_x))
    }

    /// The figure with its 95 % interval; `None` if too little was seen to give one.
    pub fn estimate(&self, interval: Interval) -> Option<Estimate> {
        let value = self.ratio()?;
        match interval {
            Interval::Proportion => {
                let (s, n) = (self.sum_y.round(), self.sum_x.round());
                wilson(s as u64, n as u64, CONFIDENCE)
            }
            Interval::Share => {
                let variance = self.variance(value)?;
                let share = value.clamp(0.0, 1.0);
                let spread = share * (1.0 - share);
                let k = self.n as f64;
                let trials = if variance > 0.0 && spread > 0.0 {
                    spread / variance
                } else {
                    k
                };
                let t = t_two_sided(CONFIDENCE, k - 1.0)?;
                let (low, high) = score_ends(share, trials, t);
                Some(Estimate {
                    value: share,
                    low,
                    high,
                    n: self.n,
                })
            }
            Interval::Mean => {
                let arm = t_two_sided(CONFIDENCE, (self.n.max(2) - 1) as f64)?
                    * self.variance(value)?.sqrt();
                Estimate::checked(value, value - arm, value + arm, self.n)
            }
        }
    }
}

/// Longest spell told apart, in decision instants; longer ones share the last step. Invented: 20 s
/// at five instants a second, longer than anybody holds the ball.
const STEPS: usize = 100;

/// Co-moments of many parts of one whole: the [`RatioTally`] of each `y` over an `x` that all have in
/// common, to the same bits, side by side.
#[derive(Clone, Debug, PartialEq)]
pub struct PartsTally<const N: usize> {
    n: u64,
    mean_x: f64,
    m2_x: f64,
    sum_x: f64,
    mean_y: [f64; N],
    m2_y: [f64; N],
    c_xy: [f64; N],
    sum_y: [f64; N],
}

impl<const N: usize> Default for PartsTally<N> {
    fn default() -> Self {
        PartsTally {
            n: 0,
            mean_x: 0.0,
            m2_x: 0.0,
            sum_x: 0.0,
            mean_y: [0.0; N],
            m2_y: [0.0; N],
            c_xy: [0.0; N],
            sum_y: [0.0; N],
        }
    }
}

impl<const N: usize> PartsTally<N> {
    /// Adds one possession: the parts and their whole, which is above nought.
    pub fn push(&mut self, parts: &[f64; N], x: f64) {
        self.n += 1;
        let n = self.n as f64;
        let dx = x - self.mean_x;
        self.mean_x += dx / n;
        self.m2_x += dx * (x - self.mean_x);
        self.sum_x += x;
        let off = x - self.mean_x;
        for i in 0..N {
            let y = parts[i];
            let dy = y - self.mean_y[i];
            self.mean_y[i] += dy / n;
            self.m2_y[i] += dy * (y - self.mean_y[i]);
            self.c_xy[i] += dy * off;
            self.sum_y[i] += y;
        }
    }

    /// The tally of one part.
    pub fn part(&self, i: usize) -> RatioTally {
        RatioTally {
            n: self.n,
            mean_y: self.mean_y[i],
            mean_x: self.mean_x,
            m2_y: self.m2_y[i],
            m2_x: self.m2_x,
            c_xy: self.c_xy[i],
            sum_y: self.sum_y[i],
            sum_x: self.sum_x,
        }
    }
}

/// Lengths of spells, counted in whole decision instants: for each length the share of spells that
/// are no longer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LengthTally(PartsTally<STEPS>);

impl LengthTally {
    /// Adds the spells of one possession, each in decision instants.
    pub fn push(&mut self, spells: &[u16]) {
        if spells.is_empty() {
            return;
        }
        let mut no_longer = [0.0; STEPS];
        for spell in spells {
            no_longer[usize::from(*spell).clamp(1, STEPS) - 1] += 1.0;
        }
        for step in 1..STEPS {
            no_longer[step] += no_longer[step - 1];
        }
        self.0.push(&no_longer, spells.len() as f64);
    }

    /// Median length in decision instants with Woodruff's interval.
    pub fn median(&self) -> Option<Estimate> {
        let first = |reached: &dyn Fn(RatioTally) -> bool| {
            (0..STEPS)
                .position(|step| reached(self.0.part(step)))
                .map(|i| (i + 1) as f64)
        };
        let value = first(&|t| t.ratio().is_some_and(|r| r >= 0.5))?;
        let low = first(&|t| t.estimate(Interval::Share).is_some_and(|e| e.high >= 0.5))?;
        let high = first(&|t| t.estimate(Interval::Share).is_some_and(|e| e.low >= 0.5))?;
        Some(Estimate {
            value,
            low: low.min(value),
            high: high.max(value),
            n: self.0.n,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::{ratio_estimate, share_estimate};
    use approx::assert_relative_eq;

    const PAIRS: [(f64, f64); 7] = [
        (1.0, 2.0),
        (1.5, 4.0),
        (0.0, 0.0),
        (4.0, 6.0),
        (0.0, 1.0),
        (2.0, 2.5),
        (0.3, 3.0),
    ];

    fn tally(pairs: &[(f64, f64)]) -> RatioTally {
        let mut t = RatioTally::default();
        pairs.iter().for_each(|(y, x)| t.push(*y, *x));
        t
    }

    #[test]
    fn running_sums_give_the_interval_of_the_whole_list() {
        let t = tally(&PAIRS);
        for (mine, whole) in [
            (
                t.estimate(Interval::Mean),
                ratio_estimate(PAIRS, CONFIDENCE),
            ),
            (
                t.estimate(Interval::Share),
                share_estimate(PAIRS, CONFIDENCE),
            ),
        ] {
            let (mine, whole) = (mine.unwrap(), whole.unwrap());
            assert_relative_eq!(mine.value, whole.value, epsilon = 1e-14);
            assert_relative_eq!(mine.low, whole.low, epsilon = 1e-12);
            assert_relative_eq!(mine.high, whole.high, epsilon = 1e-12);
            assert_eq!(mine.n, whole.n);
        }
    }

    #[test]
    fn a_proportion_has_the_wilson_interval() {
        let pairs: Vec<_> = (0..263)
            .map(|i| (f64::from(u8::from(i < 81)), 1.0))
            .collect();
        let e = tally(&pairs).estimate(Interval::Proportion).unwrap();
        // Newcombe 1998, Stat. Med. 17 857–872, from memory: 81/263.
        assert!(
            (e.low - 0.255289).abs() < 1e-6 && (e.high - 0.366210).abs() < 1e-6,
            "{e:?}"
        );
    }

    #[test]
    fn parts_side_by_side_are_the_same_bits_as_each_alone() {
        let (mut together, mut alone) = (PartsTally::<2>::default(), [RatioTally::default(); 2]);
        for (y, x) in PAIRS.into_iter().filter(|p| p.1 > 0.0) {
            let parts = [y, 0.1 * x];
            together.push(&parts, x);
            (0..2).for_each(|i| alone[i].push(parts[i], x));
        }
        assert_eq!([together.part(0), together.part(1)], alone);
    }

    #[test]
    fn nothing_seen_is_no_figure() {
        assert_eq!(tally(&[]).estimate(Interval::Mean), None);
        assert_eq!(tally(&[(0.0, 0.0)]).estimate(Interval::Proportion), None);
        assert_eq!(tally(&[(1.0, 2.0)]).estimate(Interval::Mean), None);
        assert_eq!(LengthTally::default().median(), None);
    }

    #[test]
    fn the_median_length_is_that_of_the_spells_with_its_interval_about_it() {
        let mut t = LengthTally::default();
        for i in 0..200_u16 {
            t.push(&[1, 2 + i % 3, 3, 500]);
        }
        let m = t.median().unwrap();
        assert_eq!(m.value, 3.0);
        assert!(m.low <= 3.0 && m.high >= 3.0 && m.high < 10.0, "{m:?}");
        assert_eq!(m.n, 200);
    }
}
