//! A running mean, spread and range that keeps no data.
//!
//! Welford 1962, Technometrics 4 419–420, for one value at a time; Chan, Golub and LeVeque 1979
//! for joining two tallies (both from memory).
//!
//! **Order matters to the last bit.** Floating-point sums depend on their order, so `merge` of
//! parts is not bit-identical to pushing everything in turn, nor to merging in another order. A
//! scrimmage must give the same bits for any number of threads: keep each possession's value and
//! fold them in seed order, or merge batches whose bounds depend on seeds alone, in seed order.

use super::{Estimate, t_two_sided};
use serde::{Deserialize, Serialize};

/// Number, mean, squared deviations and range of the values pushed so far.
///
/// A value that is not finite spoils the tally: from then on every figure is `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tally {
    n: u64,
    mean: f64,
    m2: f64,
    min: f64,
    max: f64,
    spoilt: bool,
}

impl Tally {
    /// A tally of nothing.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds one value.
    pub fn push(&mut self, x: f64) {
        if !x.is_finite() {
            self.spoilt = true;
        }
        self.n += 1;
        if self.spoilt {
            return;
        }
        if self.n == 1 {
            (self.mean, self.min, self.max) = (x, x, x);
            return;
        }
        let before = x - self.mean;
        self.mean += before / self.n as f64;
        self.m2 += before * (x - self.mean);
        self.min = self.min.min(x);
        self.max = self.max.max(x);
    }

    /// Adds everything that `later` holds. Not commutative to the last bit; see the top of this
    /// file.
    pub fn merge(&mut self, later: &Self) {
        if self.n == 0 {
            *self = *later;
            return;
        }
        if later.n == 0 {
            return;
        }
        let (a, b) = (self.n as f64, later.n as f64);
        self.n += later.n;
        self.spoilt |= later.spoilt;
        if self.spoilt {
            return;
        }
        let gap = later.mean - self.mean;
        let all = a + b;
        self.mean += gap * (b / all);
        self.m2 += later.m2 + gap * gap * (a * (b / all));
        self.min = self.min.min(later.min);
        self.max = self.max.max(later.max);
    }

    /// How many values were pushed.
    pub fn n(&self) -> u64 {
        self.n
    }

    fn has(&self, at_least: u64) -> bool {
        self.n >= at_least && !self.spoilt && self.mean.is_finite() && self.m2.is_finite()
    }

    /// Mean, if there is a value.
    pub fn mean(&self) -> Option<f64> {
        self.has(1).then_some(self.mean)
    }

    /// Least value, if there is one.
    pub fn min(&self) -> Option<f64> {
        self.has(1).then_some(self.min)
    }

    /// Greatest value, if there is one.
    pub fn max(&self) -> Option<f64> {
        self.has(1).then_some(self.max)
    }

    /// Sum of squared deviations from the mean, if there is a value.
    pub fn squared_deviations(&self) -> Option<f64> {
        self.has(1).then_some(self.m2)
    }

    /// Sample variance (divisor n − 1), from two values on.
    pub fn variance(&self) -> Option<f64> {
        self.has(2).then(|| self.m2.max(0.0) / (self.n - 1) as f64)
    }

    /// Sample standard deviation (divisor n − 1), from two values on.
    pub fn sd(&self) -> Option<f64> {
        self.variance().map(f64::sqrt)
    }

    /// Mean with its t interval, `mean ± t(n−1) · sd / √n`, from two values on.
    ///
    /// Values that are all equal give an interval of no width: true of the sample, and no promise
    /// about the next possession.
    pub fn mean_estimate(&self, confidence: f64) -> Option<Estimate> {
        let sd = self.sd()?;
        let n = self.n as f64;
        let arm = t_two_sided(confidence, n - 1.0)? * sd / n.sqrt();
        Estimate::checked(self.mean, self.mean - arm, self.mean + arm, self.n)
    }
}

impl Extend<f64> for Tally {
    fn extend<I: IntoIterator<Item = f64>>(&mut self, values: I) {
        for x in values {
            self.push(x);
        }
    }
}

impl FromIterator<f64> for Tally {
    fn from_iter<I: IntoIterator<Item = f64>>(values: I) -> Self {
        let mut tally = Self::new();
        tally.extend(values);
        tally
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn a_tally_of_nothing_says_nothing() {
        let t = Tally::new();
        assert_eq!(
            (t.mean(), t.min(), t.max(), t.sd()),
            (None, None, None, None)
        );
        assert_eq!(t.mean_estimate(0.95), None);
        let one: Tally = [4.0].into_iter().collect();
        assert_eq!((one.mean(), one.sd()), (Some(4.0), None));
        assert_eq!(one.mean_estimate(0.95), None);
    }

    #[test]
    fn a_value_that_is_not_finite_spoils_the_tally_and_whatever_it_joins() {
        let mut t: Tally = [1.0, f64::NAN, 2.0].into_iter().collect();
        assert_eq!((t.n(), t.mean(), t.mean_estimate(0.95)), (3, None, None));
        let good: Tally = [1.0, 2.0].into_iter().collect();
        let mut joined = good;
        joined.merge(&t);
        assert_eq!((joined.n(), joined.max()), (5, None));
        t.merge(&good);
        assert_eq!(t.min(), None);
    }

    proptest! {
        #[test]
        fn joined_parts_agree_with_the_whole(
            xs in prop::collection::vec(-1e3..1e3_f64, 2..60), cut in 0_usize..60,
        ) {
            let cut = cut.min(xs.len());
            let whole: Tally = xs.iter().copied().collect();
            let mut parts: Tally = xs[..cut].iter().copied().collect();
            parts.merge(&xs[cut..].iter().copied().collect());
            prop_assert_eq!(parts.n(), whole.n());
            prop_assert_eq!((parts.min(), parts.max()), (whole.min(), whole.max()));
            assert_relative_eq!(parts.mean().unwrap(), whole.mean().unwrap(), epsilon = 1e-9);
            assert_relative_eq!(
                parts.squared_deviations().unwrap(), whole.squared_deviations().unwrap(),
                epsilon = 1e-6, max_relative = 1e-10
            );
        }
    }
}
