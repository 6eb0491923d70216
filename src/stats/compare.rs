//! Several variations at once: Holm's correction and one-way analysis of variance.
//!
//! Holm 1979, *A simple sequentially rejective multiple test procedure*, Scand. J. Stat. 6 65–70
//! (from memory). The analysis of variance is the textbook one, computed on deviations from the
//! first value so that figures with many equal leading digits keep their precision.

use super::Tally;
use super::quantiles::f_upper_p;
use serde::{Deserialize, Serialize};

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

/// One-way analysis of variance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Anova {
    /// Sum of squares between groups, unit squared.
    pub between_ss: f64,
    /// Sum of squares within groups, unit squared.
    pub within_ss: f64,
    /// Degrees of freedom between: groups − 1.
    pub between_df: u64,
    /// Degrees of freedom within: values − groups.
    pub within_df: u64,
    /// Ratio of the mean square between to the mean square within.
    pub f: f64,
    /// Upper tail area beyond `f`, a probability.
    pub p: f64,
    /// Share of the total sum of squares that lies between groups, 0 to 1.
    pub r2: f64,
    /// Standard deviation within groups, in the unit of the values.
    pub residual_sd: f64,
}

/// Do the groups differ in their means, given their spread within?
///
/// Assumes independent values: groups played on the same seeds belong in
/// [`paired_difference`](super::paired_difference).
/// `None` with fewer than two groups, an empty group, no spread within any group, or a value that
/// is not finite.
pub fn anova_one_way<G: AsRef<[f64]>>(groups: &[G]) -> Option<Anova> {
    let first = *groups.first()?.as_ref().first()?;
    let tallies: Vec<Tally> = groups
        .iter()
        .map(|g| g.as_ref().iter().map(|x| x - first).collect())
        .collect();
    if tallies.len() < 2 {
        return None;
    }
    let total: u64 = tallies.iter().map(Tally::n).sum();
    let mut weighted = 0.0;
    let mut within_ss = 0.0;
    for t in &tallies {
        weighted += t.n() as f64 * t.mean()?;
        within_ss += t.squared_deviations()?;
    }
    let grand = weighted / total as f64;
    let mut between_ss = 0.0;
    for t in &tallies {
        let gap = t.mean()? - grand;
        between_ss += t.n() as f64 * gap * gap;
    }
    let between_df = tallies.len() as u64 - 1;
    let within_df = total - tallies.len() as u64;
    if within_df == 0 || within_ss <= 0.0 {
        return None;
    }
    let within_ms = within_ss / within_df as f64;
    let f = between_ss / between_df as f64 / within_ms;
    Some(Anova {
        between_ss,
        within_ss,
        between_df,
        within_df,
        f,
        p: f_upper_p(f, between_df as f64, within_df as f64)?,
        r2: between_ss / (between_ss + within_ss),
        residual_sd: within_ms.sqrt(),
    })
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

    #[test]
    fn two_groups_give_the_square_of_the_pooled_t() {
        let (a, b) = ([1.0, 2.0, 4.0, 5.0], [2.0, 6.0, 7.0]);
        let got = anova_one_way(&[&a[..], &b[..]]).unwrap();
        // Means 3 and 5, squares 10 and 14: pooled variance 24/5; t² = 4 / (24/5 · (1/4 + 1/3)).
        assert_relative_eq!(got.f, 4.0 / (4.8 * (7.0 / 12.0)), max_relative = 1e-12);
        let by_t = crate::stats::quantiles::t_two_sided_p(got.f.sqrt(), 5.0).unwrap();
        assert_relative_eq!(got.p, by_t, max_relative = 1e-10);
    }

    #[test]
    fn groups_without_spread_or_without_values_are_not_analysed() {
        assert_eq!(anova_one_way(&[[1.0, 1.0], [2.0, 2.0]]), None);
        assert_eq!(anova_one_way(&[vec![1.0, 2.0], vec![]]), None);
        assert_eq!(anova_one_way(&[[1.0, 2.0]]), None);
        assert_eq!(anova_one_way(&[[1.0], [2.0]]), None);
        assert_eq!(anova_one_way(&[[1.0, f64::NAN], [2.0, 3.0]]), None);
        assert_eq!(anova_one_way::<[f64; 0]>(&[]), None);
    }
}
