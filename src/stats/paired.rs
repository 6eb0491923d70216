//! Two variations played on the same seeds, compared pair by pair.
//!
//! Common random numbers: `Var(X̄−Ȳ) = (σx² + σy² − 2ρσxσy)/n`, so positive correlation between
//! the two plays of a seed narrows the interval of the difference (Law, *Simulation Modeling and
//! Analysis*, ch. 11, from memory). The test is the paired t test (Student 1908, Biometrika 6
//! 1–25, from memory).

use super::quantiles::t_two_sided_p;
use super::{Estimate, Tally};
use serde::{Deserialize, Serialize};

/// What the change from one variation to the other did, seed by seed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct PairedDifference {
    /// Mean of `x − y` with its t interval; `n` counts pairs. If every pair differs by the same
    /// amount the interval has no width; judge such a result by `changed`.
    pub difference: Estimate,
    /// Pairs whose two values are not equal. Where it is 0 the change never mattered on these
    /// seeds; `wilson(changed, n)` bounds how often it can matter on others.
    pub changed: u64,
    /// Pearson correlation of the two values of a seed; absent if either never varies.
    pub correlation: Option<f64>,
    /// Gain from common seeds: variance of the difference if the seeds were independent, over the
    /// variance of the paired difference. Above 1 the pairing helped; it is also how many times
    /// more possessions independent seeds would have needed. Absent if the difference never varies.
    pub variance_ratio: Option<f64>,
    /// Paired t statistic, degrees of freedom `n − 1`; absent if the difference never varies.
    pub t: Option<f64>,
    /// Two-sided p-value of `t`, a probability; absent with it.
    pub p: Option<f64>,
}

/// Compares `xs` with `ys` (same seeds, same order): difference `x − y`.
///
/// `None` if the lengths differ, there are fewer than two pairs, a value is not finite, or the
/// confidence is not strictly between 0 and 1.
pub fn paired_difference(xs: &[f64], ys: &[f64], confidence: f64) -> Option<PairedDifference> {
    if xs.len() != ys.len() {
        return None;
    }
    let pairs = || xs.iter().zip(ys);
    let gaps: Tally = pairs().map(|(x, y)| x - y).collect();
    let tx: Tally = xs.iter().copied().collect();
    let ty: Tally = ys.iter().copied().collect();

    let difference = gaps.mean_estimate(confidence)?;
    let (mean_x, mean_y) = (tx.mean()?, ty.mean()?);
    let (var_x, var_y, var_gap) = (tx.variance()?, ty.variance()?, gaps.variance()?);

    let products: f64 = pairs().map(|(x, y)| (x - mean_x) * (y - mean_y)).sum();
    let covariance = products / (gaps.n() - 1) as f64;
    let spread = (var_x * var_y).sqrt();
    let correlation = (spread > 0.0).then(|| (covariance / spread).clamp(-1.0, 1.0));

    let variance_ratio = (var_gap > 0.0).then(|| (var_x + var_y) / var_gap);
    let n = gaps.n() as f64;
    let t = (var_gap > 0.0).then(|| difference.value / (var_gap / n).sqrt());
    Some(PairedDifference {
        difference,
        changed: pairs().filter(|(x, y)| x != y).count() as u64,
        correlation,
        variance_ratio,
        t,
        p: t.and_then(|t| t_two_sided_p(t, n - 1.0)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn swapping_the_variations_only_turns_the_sign() {
        let (xs, ys) = ([1.0, 4.0, 2.0, 8.0], [0.5, 4.5, 1.0, 6.0]);
        let a = paired_difference(&xs, &ys, 0.95).unwrap();
        let b = paired_difference(&ys, &xs, 0.95).unwrap();
        assert_eq!(
            (a.difference.low, a.difference.high),
            (-b.difference.high, -b.difference.low)
        );
        assert_eq!((a.p, a.changed, a.correlation), (b.p, 4, b.correlation));
    }

    #[test]
    fn shared_luck_narrows_the_difference_by_one_over_one_minus_the_correlation() {
        // Equal spreads: the gain is exactly 1/(1 − ρ).
        let xs = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
        let ys = [2.0, 1.0, 3.0, 4.0, 6.0, 5.0];
        let d = paired_difference(&xs, &ys, 0.95).unwrap();
        let rho = d.correlation.unwrap();
        assert!(rho > 0.8);
        assert_relative_eq!(
            d.variance_ratio.unwrap(),
            1.0 / (1.0 - rho),
            max_relative = 1e-12
        );
    }

    #[test]
    fn a_change_that_never_mattered_claims_no_p_value() {
        let xs = [1.0, 2.0, 3.0];
        let d = paired_difference(&xs, &xs, 0.95).unwrap();
        assert_eq!((d.difference.value, d.difference.half_width()), (0.0, 0.0));
        assert_eq!(
            (d.changed, d.t, d.p, d.variance_ratio),
            (0, None, None, None)
        );
    }

    #[test]
    fn lists_of_different_length_or_a_single_pair_are_not_compared() {
        assert_eq!(paired_difference(&[1.0, 2.0], &[1.0], 0.95), None);
        assert_eq!(paired_difference(&[1.0], &[2.0], 0.95), None);
        assert_eq!(paired_difference(&[1.0, f64::NAN], &[2.0, 1.0], 0.95), None);
    }
}
