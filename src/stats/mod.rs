//! Intervals and many-comparison corrections for scrimmage figures.
//!
//! Pure functions over plain numbers; nothing here knows about basketball. The words used:
//!
//! * **Estimate**: a sampled figure with its two-sided confidence interval. A figure without data
//!   is `None`, never NaN.
//! * **Possession** as the unit of sampling: possessions of one scrimmage are independent (each
//!   has its own seed); ticks or windows inside one possession are not. A share of time must
//!   therefore go through [`share_estimate`] or [`ratio_estimate`], not through [`wilson`].
//!
//! Which interval for which figure:
//!
//! | figure | function | method |
//! |---|---|---|
//! | share of possessions | [`wilson`] | score interval, Wilson |
//! | mean per possession | [`Tally::mean_estimate`] | Student's t |
//! | share of time, sums over sums | [`share_estimate`], [`ratio_estimate`] | linearised ratio |
//! | sums of several counts | [`bootstrap_replicates`], [`quantile`] | percentile bootstrap |
//! | several variations | [`holm`] | step-down p-values |
//!
//! The difference of two variations on the same seeds is in `contest::paired`.
//!
//! Formulas are the textbook ones; each file names its source, those from memory say so. Quantiles
//! come from `statrs` and use the platform's `ln` and `exp`: an interval may differ in its last
//! printed bits between two machines, never between two thread counts on one machine.

mod bootstrap;
mod compare;
#[cfg(test)]
mod coverage;
mod order;
mod proportion;
mod quantiles;
mod ratio;
mod sequential;
mod tally;

pub use bootstrap::bootstrap_replicates;
pub use compare::holm;
pub use order::quantile;
pub use proportion::{score_ends, wilson};
pub use quantiles::{normal_two_sided, t_two_sided, t_two_sided_p};
pub use ratio::{ratio_estimate, share_estimate};
pub use sequential::{Sequential, Step};
pub use tally::Tally;

use serde::{Deserialize, Serialize};

/// The confidence with which every reported figure carries its interval, a share; `common practice`.
pub const CONFIDENCE: f64 = 0.95;

/// A sampled figure with its two-sided confidence interval, all in the unit of the figure.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// The figure itself.
    pub value: f64,
    /// Lower end of the interval.
    pub low: f64,
    /// Upper end of the interval.
    pub high: f64,
    /// How many independent units (possessions, pairs) it rests on.
    pub n: u64,
}

impl Estimate {
    /// An estimate whose three numbers are finite and whose ends are in order, or `None`.
    pub fn checked(value: f64, low: f64, high: f64, n: u64) -> Option<Self> {
        let sound = value.is_finite() && low.is_finite() && high.is_finite() && low <= high;
        sound.then_some(Self {
            value,
            low,
            high,
            n,
        })
    }

    /// The estimate of what counts something: neither it nor its interval is below nought.
    #[must_use]
    pub fn of_a_count(self) -> Self {
        Self {
            low: self.low.max(0.0),
            ..self
        }
    }

    /// Half the width of the interval; for a lopsided interval (Wilson, bootstrap) the mean of
    /// its two arms.
    pub fn half_width(&self) -> f64 {
        (self.high - self.low) / 2.0
    }

    /// Whether `x` lies outside the interval.
    pub fn excludes(&self, x: f64) -> bool {
        x < self.low || x > self.high
    }

    /// Whether the two intervals share no point. Stricter than a test of the difference: two
    /// estimates may overlap and yet differ, so compare seed by seed where seeds are shared.
    pub fn separate_from(&self, other: &Self) -> bool {
        self.high < other.low || other.high < self.low
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intervals_that_touch_are_not_separate() {
        let e = |low, high| Estimate::checked((low + high) / 2.0, low, high, 2).unwrap();
        assert!(!e(0.0, 1.0).separate_from(&e(1.0, 2.0)));
        assert!(e(0.0, 1.0).separate_from(&e(1.1, 2.0)));
        assert!(e(1.1, 2.0).separate_from(&e(0.0, 1.0)));
        assert!(!e(0.0, 1.0).excludes(1.0) && e(0.0, 1.0).excludes(1.01));
        assert_eq!(e(1.0, 4.0).half_width(), 1.5);
    }

    #[test]
    fn an_estimate_is_never_built_from_nan_or_infinity() {
        assert_eq!(Estimate::checked(f64::NAN, 0.0, 1.0, 3), None);
        assert_eq!(Estimate::checked(0.5, 0.0, f64::INFINITY, 3), None);
        assert_eq!(Estimate::checked(0.5, 1.0, 0.0, 3), None);
    }
}
