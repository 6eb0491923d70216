//! Several variations at once: Holm's correction.
//!
//! Holm 1979, *A simple sequentially rejective multiple test procedure*, Scand. J. Stat. 6 65–70
//! (from memory).

/// Holm-adjusted p-values in the order given: compare each with the wanted overall error.
///
/// The k-th smallest of m becomes the greatest of `(m − i + 1) · p₍ᵢ₎` over i ≤ k, at most 1. A
/// p-value that is not a number counts as 1.
pub fn holm(p_values: &[f64]) -> Vec<f64> {
    let m = p_values.len();
    let clean: Vec<f64> = p_values
        .iter()
        .map(|p| if p.is_nan() { 1.0 } else { p.clamp(0.0, 1.0) })
        .collect();
    let mut order: Vec<usize> = (0..m).collect();
    order.sort_by(|&a, &b| clean[a].total_cmp(&clean[b]));
    let mut adjusted = vec![1.0; m];
    let mut floor = 0.0_f64;
    for (rank, &i) in order.iter().enumerate() {
        floor = floor.max(((m - rank) as f64 * clean[i]).min(1.0));
        adjusted[i] = floor;
    }
    adjusted
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn holm_worked_by_hand() {
        // Sorted .01 .02 .03 .04: 4·.01 = .04, 3·.02 = .06, 2·.03 = .06, 1·.04 → .06 by monotony.
        let adjusted = holm(&[0.04, 0.01, 0.03, 0.02]);
        for (got, want) in adjusted.iter().zip([0.06, 0.04, 0.06, 0.06]) {
            assert_relative_eq!(*got, want, epsilon = 1e-15);
        }
        assert_eq!(holm(&[0.9, 0.8]), vec![1.0, 1.0]);
        assert_eq!(holm(&[f64::NAN, 0.01]), vec![1.0, 0.02]);
        assert!(holm(&[]).is_empty());
    }

    proptest! {
        #[test]
        fn holm_never_lowers_a_p_value_nor_exceeds_bonferroni(
            ps in prop::collection::vec(0.0..=1.0_f64, 1..12),
        ) {
            let adjusted = holm(&ps);
            for (a, p) in adjusted.iter().zip(&ps) {
                prop_assert!(a >= p && *a <= (p * ps.len() as f64).min(1.0));
            }
        }
    }
}
