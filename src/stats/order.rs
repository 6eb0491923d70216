//! Quantiles of a sorted sample, and an interval for the median that assumes nothing about shape.
//!
//! Quantile type 7 of Hyndman and Fan 1996, *Sample quantiles in statistical packages*, Amer.
//! Stat. 50 361–365; the median's interval from order statistics is the inverted sign test,
//! Thompson 1936, Ann. Math. Stat. 7 122–128 (both from memory).

use super::Estimate;
use super::proportion::fair_coin_at_most;

/// Quantile `q` (0 to 1) of values sorted upward: linear between order statistics, with the
/// least at 0 and the greatest at 1. `None` for no values or `q` outside 0 to 1.
pub fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    if !(0.0..=1.0).contains(&q) {
        return None;
    }
    let place = q * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    let part = place - below as f64;
    Some(sorted[below] + part * (sorted[above] - sorted[below]))
}

/// Median of values sorted upward, with the narrowest symmetric pair of order statistics that
/// holds the true median with at least `confidence`.
///
/// The pair is the k-th from either end, k the greatest with `2 P(X < k) <= 1 − confidence`, X
/// binomial(n, ½). `None` if there is no such pair (fewer than 6 values at 95 %), for values that
/// are not finite, or a confidence not strictly between 0 and 1.
pub fn median_interval(sorted: &[f64], confidence: f64) -> Option<Estimate> {
    if !(confidence > 0.0 && confidence < 1.0) {
        return None;
    }
    let n = sorted.len() as u64;
    let fits = |k: u64| 2.0 * fair_coin_at_most(k - 1, n) <= 1.0 - confidence;
    // Greatest fitting k in 1..=n/2 by halving: `fits` turns from true to false once.
    let (mut good, mut bad) = (0, n / 2 + 1);
    while bad - good > 1 {
        let k = good + (bad - good) / 2;
        if fits(k) {
            good = k;
        } else {
            bad = k;
        }
    }
    if good == 0 {
        return None;
    }
    let (low, high) = ((good - 1) as usize, (n - good) as usize);
    Estimate::checked(quantile(sorted, 0.5)?, sorted[low], sorted[high], n)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_run_straight_between_order_statistics() {
        let xs = [1.0, 2.0, 4.0, 8.0];
        let q = |q| quantile(&xs, q);
        assert_eq!((q(0.0), q(1.0), q(0.5)), (Some(1.0), Some(8.0), Some(3.0)));
        assert_eq!(q(0.25), Some(1.75));
        assert_eq!((q(-0.1), q(1.1), q(f64::NAN)), (None, None, None));
        assert_eq!(quantile(&[], 0.5), None);
        assert_eq!(quantile(&[3.0], 0.9), Some(3.0));
    }

    /// Ranks of the sign-test interval at 95 %, worked from the binomial: n = 6 → 1 (1/32 ≤ .05),
    /// n = 10 → 2 (22/1024 ≤ .05 < 112/1024), n = 20 → 6 (2·.0207 ≤ .05 < 2·.0577).
    #[test]
    fn the_medians_interval_uses_the_sign_tests_ranks() {
        for (n, rank) in [(6, 1), (10, 2), (20, 6)] {
            let xs: Vec<f64> = (1..=n).map(f64::from).collect();
            let e = median_interval(&xs, 0.95).unwrap();
            assert_eq!((e.low, e.high), (f64::from(rank), f64::from(n + 1 - rank)));
            assert_eq!(e.value, f64::from(n + 1) / 2.0);
        }
        assert_eq!(median_interval(&[1.0, 2.0, 3.0, 4.0, 5.0], 0.95), None);
        assert_eq!(median_interval(&[], 0.95), None);
    }
}
