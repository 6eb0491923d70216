//! A running mean and spread that keeps no data.
//!
//! Welford 1962, Technometrics 4 419–420 (from memory). Floating-point sums depend on their order:
//! push values in the order of their seeds, whatever the number of threads.

use super::{Estimate, t_two_sided};
use serde::{Deserialize, Serialize};

/// Number, mean and squared deviations of the values pushed so far.
///
/// A value that is not finite spoils the tally: from then on every figure is `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Tally {
    n: u64,
    mean: f64,
    m2: f64,
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
            self.mean = x;
            return;
        }
        let before = x - self.mean;
        self.mean += before / self.n as f64;
        self.m2 += before * (x - self.mean);
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
        assert_eq!((t.mean(), t.sd()), (None, None));
        assert_eq!(t.mean_estimate(0.95), None);
        let one: Tally = [4.0].into_iter().collect();
        assert_eq!((one.mean(), one.sd()), (Some(4.0), None));
        assert_eq!(one.mean_estimate(0.95), None);
    }

    #[test]
    fn a_value_that_is_not_finite_spoils_the_tally() {
        let t: Tally = [1.0, f64::NAN, 2.0].into_iter().collect();
        assert_eq!((t.n(), t.mean(), t.mean_estimate(0.95)), (3, None, None));
    }

    proptest! {
        #[test]
        fn one_pass_gives_what_two_give(xs in prop::collection::vec(-1e3..1e3_f64, 2..60)) {
            let t: Tally = xs.iter().copied().collect();
            let n = xs.len() as f64;
            let mean = xs.iter().sum::<f64>() / n;
            let variance = xs.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0);
            assert_relative_eq!(t.mean().unwrap(), mean, epsilon = 1e-9);
            assert_relative_eq!(t.variance().unwrap(), variance, epsilon = 1e-6, max_relative = 1e-10);
        }
    }
}
