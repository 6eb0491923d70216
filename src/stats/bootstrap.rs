//! The bootstrap: resampling possessions with replacement, for figures without a simple interval.
//!
//! Efron and Tibshirani 1993, *An Introduction to the Bootstrap*, chs. 6 and 13 (from memory).
//! Deterministic: the same data, seed and number of replicates give the same bits.

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::Tally;

    const SKEWED: [f64; 20] = [
        0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.4, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.1, 1.3, 1.6, 2.0, 2.7,
        4.0, 8.0,
    ];

    fn means(replicates: usize, seed: u64) -> Vec<f64> {
        bootstrap_replicates(SKEWED.len(), replicates, seed, |drawn| {
            drawn.iter().map(|&i| SKEWED[i]).sum::<f64>() / drawn.len() as f64
        })
    }

    #[test]
    fn the_same_seed_gives_the_same_bits_and_another_seed_does_not() {
        assert_eq!(means(500, 7), means(500, 7));
        assert_ne!(means(500, 7), means(500, 8));
    }

    #[test]
    fn the_spread_of_replicates_is_the_plug_in_standard_error() {
        let spread: Tally = means(20_000, 1).into_iter().collect();
        let data: Tally = SKEWED.into_iter().collect();
        let n = SKEWED.len() as f64;
        let plug_in = (data.variance().unwrap() * (n - 1.0)).sqrt() / n;
        // 20,000 replicates leave about half a per cent of noise.
        assert!((spread.sd().unwrap() / plug_in - 1.0).abs() < 0.02);
    }

    #[test]
    fn without_data_or_with_a_value_that_is_not_a_number_there_are_no_replicates() {
        assert!(bootstrap_replicates(0, 9, 1, |_| 1.0).is_empty());
        assert!(bootstrap_replicates(3, 9, 1, |_| f64::NAN).is_empty());
    }
}
