//! Sums over sums when the possession is the unit of sampling: "share of held time with an open
//! look", "windows per second held".
//!
//! The ratio estimator of survey sampling (Cochran 1977, *Sampling Techniques*, 3rd ed., chs. 2
//! and 6, from memory), each possession one cluster with a numerator yᵢ and a denominator xᵢ:
//!
//! * R = Σyᵢ / Σxᵢ, so long possessions weigh more than short ones;
//! * linearised (delta method): residuals eᵢ = yᵢ − R xᵢ, which sum to zero, and
//!   `var(R) = k/(k−1) · Σeᵢ² / (Σxᵢ)²`, with k the number of possessions counted;
//! * interval R ± t(k−1) √var(R).
//!
//! A possession with x = y = 0 says nothing and is not counted. The interval is first-order: with
//! few possessions or a strongly skewed denominator it is somewhat too narrow (the coverage tests
//! measure by how much).

use super::proportion::score_ends;
use super::{Estimate, t_two_sided};

struct Linearised {
    ratio: f64,
    variance: f64,
    clusters: u64,
}

fn linearise(pairs: &[(f64, f64)]) -> Option<Linearised> {
    let clusters = pairs.len() as u64;
    let total_y: f64 = pairs.iter().map(|p| p.0).sum();
    let total_x: f64 = pairs.iter().map(|p| p.1).sum();
    let bad = |x: f64| !x.is_finite() || x < 0.0;
    if clusters < 2 || total_x == 0.0 || pairs.iter().any(|p| bad(p.1) || !p.0.is_finite()) {
        return None;
    }
    let ratio = total_y / total_x;
    let squares: f64 = pairs
        .iter()
        .map(|(y, x)| y - ratio * x)
        .map(|e| e * e)
        .sum();
    let k = clusters as f64;
    Some(Linearised {
        ratio,
        variance: k / (k - 1.0) * squares / (total_x * total_x),
        clusters,
    })
}

fn informative(pairs: impl IntoIterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    pairs.into_iter().filter(|p| *p != (0.0, 0.0)).collect()
}

/// Ratio of sums `Σ numerator / Σ denominator` over possessions, with its linearised interval.
///
/// Items are `(numerator, denominator)` of one possession each, in seed order. The estimate's `n`
/// is the number of possessions that are not `(0, 0)`. Where no numerator is below 0, the interval is not.
/// `None` with fewer than two of these, a denominator total of 0, a negative denominator, a number
/// that is not finite, or a confidence not strictly between 0 and 1.
pub fn ratio_estimate(
    pairs: impl IntoIterator<Item = (f64, f64)>,
    confidence: f64,
) -> Option<Estimate> {
    let pairs = informative(pairs);
    let l = linearise(&pairs)?;
    let arm = t_two_sided(confidence, (l.clusters - 1) as f64)? * l.variance.sqrt();
    let found = Estimate::checked(l.ratio, l.ratio - arm, l.ratio + arm, l.clusters)?;
    // A sum of what is never below nought isn't, either.
    Some(match pairs.iter().all(|p| p.0 >= 0.0) {
        true => found.of_a_count(),
        false => found,
    })
}

/// [`ratio_estimate`] for a part of a whole (`0 <= numerator <= denominator` in every possession):
/// the interval stays inside 0 to 1 and never has zero width.
///
/// Score interval on the effective number of trials `m = R(1−R) / var(R)` with the t quantile in
/// place of z (Dean and Pagano 2015, *Evaluating confidence interval methods for binomial
/// proportions in clustered surveys*, J. Surv. Stat. Methodol. 3, from memory). If the share is 0
/// or 1 throughout there is no spread to go by, and each possession counts as one trial: a share
/// between 0 and 1 never varies more than a yes-or-no with the same mean.
/// `None` as for [`ratio_estimate`], and if a numerator is not a part of its denominator.
pub fn share_estimate(
    pairs: impl IntoIterator<Item = (f64, f64)>,
    confidence: f64,
) -> Option<Estimate> {
    let pairs = informative(pairs);
    // Sums of tick lengths may overshoot the whole by rounding alone.
    let part = |(y, x): &(f64, f64)| *y >= 0.0 && *y <= *x * (1.0 + PART_SLACK);
    if !pairs.iter().all(part) {
        return None;
    }
    let l = linearise(&pairs)?;
    let share = l.ratio.min(1.0);
    let k = l.clusters as f64;
    let spread = share * (1.0 - share);
    let trials = if l.variance > 0.0 && spread > 0.0 {
        spread / l.variance
    } else {
        k
    };
    let t = t_two_sided(confidence, k - 1.0)?;
    let (low, high) = score_ends(share, trials, t);
    Estimate::checked(share, low, high, l.clusters)
}

/// Relative rounding slack allowed to a part over its whole; `invented`.
const PART_SLACK: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::Tally;
    use approx::assert_relative_eq;

    #[test]
    fn equal_denominators_reduce_to_the_mean_with_its_t_interval() {
        let ys = [0.3, 1.1, 0.9, 0.2, 1.4, 0.8];
        let ratio = ratio_estimate(ys.map(|y| (y, 2.0)), 0.95).unwrap();
        let mean: Tally = ys.iter().map(|y| y / 2.0).collect();
        let mean = mean.mean_estimate(0.95).unwrap();
        assert_relative_eq!(ratio.value, mean.value, epsilon = 1e-15);
        assert_relative_eq!(ratio.low, mean.low, epsilon = 1e-14);
        assert_relative_eq!(ratio.high, mean.high, epsilon = 1e-14);
    }

    #[test]
    fn worked_by_hand() {
        // R = 6/12 = 1/2; e = (1−1, 1−2, 4−3) = (0, −1, 1); var = 3/2 · 2/144 = 1/48.
        let e = ratio_estimate([(1.0, 2.0), (1.0, 4.0), (4.0, 6.0)], 0.95).unwrap();
        assert_eq!((e.value, e.n), (0.5, 3));
        // Closed form of the t quantile with two degrees of freedom: (2q−1) / √(2q(1−q)).
        let t2 = 0.95 / (2.0_f64 * 0.975 * 0.025).sqrt();
        let arm = t2 / 48.0_f64.sqrt();
        assert_relative_eq!(e.high - e.value, arm, max_relative = 1e-12);
        // The arm is longer than the ratio: what counts something is not below nought.
        assert!(arm > e.value && e.low == 0.0);
        let negative = ratio_estimate([(1.0, 2.0), (-1.0, 4.0), (4.0, 6.0)], 0.95).unwrap();
        assert!(negative.low < 0.0);
    }

    #[test]
    fn units_of_the_denominator_only_rescale() {
        let base = [(1.0, 2.0), (1.5, 4.0), (4.0, 6.0), (0.0, 1.0)];
        let a = ratio_estimate(base, 0.95).unwrap();
        let b = ratio_estimate(base.map(|(y, x)| (y, x * 4.0)), 0.95).unwrap();
        assert_relative_eq!(a.low, b.low * 4.0, epsilon = 1e-14);
        assert_relative_eq!(a.high, b.high * 4.0, epsilon = 1e-14);
    }

    #[test]
    fn possessions_that_never_held_the_ball_add_no_certainty() {
        let some = [(1.0, 2.0), (1.0, 4.0), (4.0, 6.0)];
        let padded = some.into_iter().chain([(0.0, 0.0); 50]);
        assert_eq!(
            ratio_estimate(padded.clone(), 0.95),
            ratio_estimate(some, 0.95)
        );
        assert_eq!(share_estimate(padded, 0.95), share_estimate(some, 0.95));
    }

    #[test]
    fn nothing_held_or_a_single_possession_is_absent() {
        assert_eq!(ratio_estimate([], 0.95), None);
        assert_eq!(ratio_estimate([(0.0, 0.0); 9], 0.95), None);
        assert_eq!(ratio_estimate([(1.0, 2.0)], 0.95), None);
        assert_eq!(ratio_estimate([(1.0, 0.0), (1.0, 0.0)], 0.95), None);
        assert_eq!(ratio_estimate([(1.0, 2.0), (f64::NAN, 2.0)], 0.95), None);
        assert_eq!(share_estimate([(3.0, 2.0), (1.0, 2.0)], 0.95), None);
    }

    #[test]
    fn a_share_seen_at_nought_or_one_keeps_an_honest_width() {
        let none = share_estimate([(0.0, 3.0); 20], 0.95).unwrap();
        assert_eq!((none.value, none.low), (0.0, 0.0));
        assert!(none.high > 0.15 && none.high < 0.20, "{none:?}");
        let all = share_estimate([(3.0, 3.0); 20], 0.95).unwrap();
        assert_eq!((all.value, all.high), (1.0, 1.0));
        assert_relative_eq!(all.low, 1.0 - none.high, epsilon = 1e-14);
        assert_eq!(
            ratio_estimate([(0.0, 3.0); 20], 0.95).unwrap().half_width(),
            0.0
        );
    }
}
