//! Shares of possessions: the Wilson score interval, Newcombe's difference of two shares, and the
//! exact McNemar test for the same possessions judged twice.
//!
//! Sources: Wilson 1927, *Probable inference, the law of succession, and statistical inference*,
//! JASA 22 209–212; Newcombe 1998, Stat. Med. 17 857–872 (one share) and 873–890 (difference,
//! method 10, "hybrid score"); McNemar 1947, Psychometrika 12 153–157. All from memory.

use super::{Estimate, normal_two_sided};

/// Share `successes / n` with the Wilson score interval at `confidence` (0 to 1).
///
/// With p = s/n and z the normal quantile the ends are
/// `(p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n)`.
/// The trials must be independent: possessions, not ticks.
/// `None` if `n` is 0, `successes > n`, or the confidence is not strictly between 0 and 1.
///
/// # Examples
/// ```
/// use lanelight::stats::{CONFIDENCE, wilson};
///
/// // 12 of 20 went in: 60 %, and between 39 and 78 % in the long run.
/// let share = wilson(12, 20, CONFIDENCE).expect("at most 20 of 20");
/// assert!((share.value - 0.6).abs() < 1e-12);
/// assert!((share.low - 0.387).abs() < 0.001 && (share.high - 0.781).abs() < 0.001);
/// ```
pub fn wilson(successes: u64, n: u64, confidence: f64) -> Option<Estimate> {
    if n == 0 || successes > n {
        return None;
    }
    let z = normal_two_sided(confidence)?;
    let p = successes as f64 / n as f64;
    let (low, high) = score_ends(p, n as f64, z);
    Estimate::checked(p, low, high, n)
}

/// Ends of the score interval of a share `p` seen in `n` (not necessarily whole) trials.
pub(super) fn score_ends(p: f64, n: f64, z: f64) -> (f64, f64) {
    let zz = z * z / n;
    let centre = p + zz / 2.0;
    let arm = (zz * (p * (1.0 - p) + zz / 4.0)).sqrt();
    // At 0 and 1 the end is the share itself; rounding must not move it.
    let low = if p == 0.0 {
        0.0
    } else {
        ((centre - arm) / (1.0 + zz)).max(0.0)
    };
    let high = if p == 1.0 {
        1.0
    } else {
        ((centre + arm) / (1.0 + zz)).min(1.0)
    };
    (low, high)
}

/// Difference `s1/n1 − s2/n2` of two independent shares (different seeds), Newcombe's hybrid score.
///
/// With Wilson ends `l, u`: low = d − √((p1−l1)² + (u2−p2)²), high = d + √((u1−p1)² + (p2−l2)²).
/// The estimate's `n` is `n1 + n2`. `None` where either share has no Wilson interval.
pub fn newcombe_difference(
    s1: u64,
    n1: u64,
    s2: u64,
    n2: u64,
    confidence: f64,
) -> Option<Estimate> {
    let a = wilson(s1, n1, confidence)?;
    let b = wilson(s2, n2, confidence)?;
    let root = |x: f64, y: f64| (x * x + y * y).sqrt();
    let d = a.value - b.value;
    let low = d - root(a.value - a.low, b.high - b.value);
    let high = d + root(a.high - a.value, b.value - b.low);
    Estimate::checked(d, low, high, n1.checked_add(n2)?)
}

/// Exact two-sided McNemar p-value from the discordant pairs: `b` pairs where only the first
/// variation succeeded, `c` where only the second did. 1 if there are none.
///
/// p = min(1, 2 · P(X ≤ min(b, c))) with X binomial(b + c, ½).
pub fn mcnemar_exact(b: u64, c: u64) -> f64 {
    (2.0 * fair_coin_at_most(b.min(c), b.saturating_add(c))).min(1.0)
}

/// `P(X <= k)` for X binomial(n, ½): the largest term from log-gamma, the rest by ratios downward.
pub(super) fn fair_coin_at_most(k: u64, n: u64) -> f64 {
    if k >= n {
        return 1.0;
    }
    // Summing from the mode down is safe; above it, use the symmetric tail.
    if k > n / 2 {
        return 1.0 - fair_coin_at_most(n - k - 1, n);
    }
    let (kf, nf) = (k as f64, n as f64);
    let log_term = libm::lgamma(nf + 1.0)
        - libm::lgamma(kf + 1.0)
        - libm::lgamma(nf - kf + 1.0)
        - nf * std::f64::consts::LN_2;
    let mut term = libm::exp(log_term);
    let mut sum = term;
    let mut i = kf;
    while i > 0.0 && term > sum * f64::EPSILON {
        term *= i / (nf - i + 1.0);
        sum += term;
        i -= 1.0;
    }
    sum.min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_share_without_trials_is_absent() {
        assert_eq!(wilson(0, 0, 0.95), None);
        assert_eq!(wilson(3, 2, 0.95), None);
        assert_eq!(newcombe_difference(0, 0, 1, 2, 0.95), None);
    }

    #[test]
    fn the_interval_mirrors_when_successes_become_failures() {
        for s in 0..=40 {
            let a = wilson(s, 40, 0.9).unwrap();
            let b = wilson(40 - s, 40, 0.9).unwrap();
            assert_relative_eq!(a.low, 1.0 - b.high, epsilon = 1e-15);
            assert!(a.low <= a.value && a.value <= a.high);
        }
    }

    #[test]
    fn coin_tails_agree_with_whole_number_counting() {
        // Pascal's row by exact integers.
        for n in 1_u64..=50 {
            let mut choose = 1_u128;
            let mut sum = 0_u128;
            for k in 0..n {
                sum += choose;
                let exact = sum as f64 / (1_u128 << n) as f64;
                assert_relative_eq!(fair_coin_at_most(k, n), exact, max_relative = 1e-12);
                choose = choose * u128::from(n - k) / u128::from(k + 1);
            }
        }
    }

    #[test]
    fn no_discordant_pairs_is_no_evidence() {
        assert_eq!(mcnemar_exact(0, 0), 1.0);
        assert_eq!(mcnemar_exact(7, 7), 1.0);
        assert_eq!(mcnemar_exact(3, 12), mcnemar_exact(12, 3));
        assert!(mcnemar_exact(40_000, 60_000) < 1e-100);
    }
}
