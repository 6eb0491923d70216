//! Shares of possessions: the Wilson score interval.
//!
//! Wilson 1927, *Probable inference, the law of succession, and statistical inference*, JASA 22
//! 209–212; Newcombe 1998, Stat. Med. 17 857–872. From memory.

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
/// # use lanelight_play as lanelight;
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

/// Low and high end of Wilson's score interval of a share `p` (0 to 1) seen in `n` (not necessarily
/// whole) trials, `z` being the quantile of the wanted confidence.
pub fn score_ends(p: f64, n: f64, z: f64) -> (f64, f64) {
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

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_share_without_trials_is_absent() {
        assert_eq!(wilson(0, 0, 0.95), None);
        assert_eq!(wilson(3, 2, 0.95), None);
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
}
