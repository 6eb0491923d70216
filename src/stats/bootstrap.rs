//! The bootstrap: resampling possessions with replacement, for means of skewed figures.
//!
//! Efron and Tibshirani 1993, *An Introduction to the Bootstrap*, chs. 6, 13 and 14 (from memory).
//! Deterministic: the same data, seed and number of replicates give the same bits.

use super::quantiles::{normal_below, normal_quantile};
use super::{Estimate, order::quantile};
use rand::{Rng, SeedableRng};
use rand_pcg::Pcg64;

/// `replicates` values of `statistic`, each on `n` indices drawn with replacement from `0..n`,
/// sorted upward. Empty if `n` is 0 or any value is not a number.
pub fn bootstrap_replicates(
    n: usize,
    replicates: usize,
    seed: u64,
    mut statistic: impl FnMut(&[usize]) -> f64,
) -> Vec<f64> {
    if n == 0 {
        return Vec::new();
    }
    let mut rng = Pcg64::seed_from_u64(seed);
    let mut drawn = vec![0; n];
    let mut values = Vec::with_capacity(replicates);
    for _ in 0..replicates {
        for slot in &mut drawn {
            // Multiply and shift: uniform to within n / 2⁶⁴.
            *slot = ((u128::from(rng.next_u64()) * n as u128) >> 64) as usize;
        }
        values.push(statistic(&drawn));
    }
    if values.iter().any(|v| v.is_nan()) {
        return Vec::new();
    }
    values.sort_by(f64::total_cmp);
    values
}

fn replicate_means(xs: &[f64], replicates: usize, seed: u64) -> Vec<f64> {
    bootstrap_replicates(xs.len(), replicates, seed, |drawn| {
        drawn.iter().map(|&i| xs[i]).sum::<f64>() / drawn.len() as f64
    })
}

fn mean(xs: &[f64]) -> f64 {
    xs.iter().sum::<f64>() / xs.len() as f64
}

fn valid(xs: &[f64], confidence: f64) -> bool {
    xs.len() >= 2 && confidence > 0.0 && confidence < 1.0 && xs.iter().all(|x| x.is_finite())
}

/// Mean of `xs` with its percentile bootstrap interval.
///
/// Some 2,000 replicates settle the ends of a 95 % interval (`common practice`). With few values
/// the percentile interval is too narrow, roughly by √((n−1)/n) and by z in place of t.
/// `None` with fewer than two values, no replicates, a value that is not finite, or a confidence
/// not strictly between 0 and 1.
pub fn bootstrap_mean(
    xs: &[f64],
    confidence: f64,
    replicates: usize,
    seed: u64,
) -> Option<Estimate> {
    if !valid(xs, confidence) {
        return None;
    }
    let means = replicate_means(xs, replicates, seed);
    let tail = (1.0 - confidence) / 2.0;
    let (low, high) = (quantile(&means, tail)?, quantile(&means, 1.0 - tail)?);
    Estimate::checked(mean(xs), low, high, xs.len() as u64)
}

/// As [`bootstrap_mean`], bias-corrected and accelerated (BCa): better for skewed figures.
///
/// Bias from the share of replicates below the mean (ties count half), acceleration from the
/// jackknife, which for a mean is `Σ(x−x̄)³ / 6(Σ(x−x̄)²)^1.5`. Values that are all equal give an
/// interval of no width.
pub fn bootstrap_mean_bca(
    xs: &[f64],
    confidence: f64,
    replicates: usize,
    seed: u64,
) -> Option<Estimate> {
    if !valid(xs, confidence) {
        return None;
    }
    let means = replicate_means(xs, replicates, seed);
    let centre = mean(xs);
    let n = xs.len() as u64;
    let squares: f64 = xs.iter().map(|x| (x - centre) * (x - centre)).sum();
    if squares == 0.0 && replicates > 0 {
        return Estimate::checked(centre, centre, centre, n);
    }
    let cubes: f64 = xs
        .iter()
        .map(|x| (x - centre) * (x - centre) * (x - centre))
        .sum();
    let acceleration = cubes / (6.0 * squares * squares.sqrt());

    let below = means.iter().filter(|m| **m < centre).count() as f64;
    let ties = means.iter().filter(|m| **m == centre).count() as f64;
    let bias = normal_quantile((below + ties / 2.0) / means.len() as f64)?;
    let end = |tail: f64| {
        let z = bias + normal_quantile(tail)?;
        quantile(&means, normal_below(bias + z / (1.0 - acceleration * z)))
    };
    let tail = (1.0 - confidence) / 2.0;
    Estimate::checked(centre, end(tail)?, end(1.0 - tail)?, n)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::Tally;

    const SKEWED: [f64; 20] = [
        0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.4, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.3, 1.6, 2.0, 2.7,
        4.0, 8.0,
    ];

    #[test]
    fn the_same_seed_gives_the_same_bits_and_another_seed_does_not() {
        let a = bootstrap_mean(&SKEWED, 0.95, 500, 7);
        assert_eq!(a, bootstrap_mean(&SKEWED, 0.95, 500, 7));
        assert_ne!(a, bootstrap_mean(&SKEWED, 0.95, 500, 8));
    }

    #[test]
    fn the_spread_of_replicates_is_the_plug_in_standard_error() {
        let means: Tally = replicate_means(&SKEWED, 20_000, 1).into_iter().collect();
        let data: Tally = SKEWED.into_iter().collect();
        let n = SKEWED.len() as f64;
        let plug_in = (data.squared_deviations().unwrap() / n / n).sqrt();
        // 20,000 replicates leave about half a per cent of noise.
        assert!((means.sd().unwrap() / plug_in - 1.0).abs() < 0.02);
    }

    #[test]
    fn acceleration_leans_the_interval_toward_the_long_tail() {
        let plain = bootstrap_mean(&SKEWED, 0.95, 4000, 3).unwrap();
        let leaned = bootstrap_mean_bca(&SKEWED, 0.95, 4000, 3).unwrap();
        assert!(leaned.low > plain.low && leaned.high > plain.high);
        let mirrored = bootstrap_mean_bca(&SKEWED.map(|x| -x), 0.95, 4000, 3).unwrap();
        assert!((mirrored.low + leaned.high).abs() < 0.05);
    }

    #[test]
    fn too_little_data_has_no_interval() {
        assert_eq!(bootstrap_mean(&[1.0], 0.95, 100, 1), None);
        assert_eq!(bootstrap_mean(&[1.0, 2.0], 0.95, 0, 1), None);
        assert_eq!(bootstrap_mean_bca(&[1.0, 2.0], 0.95, 0, 1), None);
        assert_eq!(bootstrap_mean(&[1.0, f64::INFINITY], 0.95, 9, 1), None);
        let same = bootstrap_mean_bca(&[3.0, 3.0, 3.0], 0.95, 100, 1).unwrap();
        assert_eq!((same.low, same.high), (3.0, 3.0));
    }
}
