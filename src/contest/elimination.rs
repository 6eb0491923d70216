//! Which of several candidates can be put aside, judged on the same seeds.
//!
//! Kim and Nelson's fully sequential procedure (Kim and Nelson 2001, *A fully sequential procedure
//! for indifference-zone selection in simulation*, ACM TOMACS 11 251–273, from memory; constants
//! checked below). With k candidates, n₀ first seeds and error α:
//!
//! * `η = ½[(2α/(k−1))^(−2/(n₀−1)) − 1]`, `h² = 2η(n₀−1)`;
//! * `S²ᵢₗ`: variance of the paired differences of i and l over the first n₀ seeds;
//! * after r seeds, i is out if some l that was still in leads it by more than
//!   `Wᵢₗ(r) = max{0, δ/2r · (h²S²ᵢₗ/δ² − r)}`.
//!
//! Whatever the shared luck, the best is kept with probability 1 − α or more **if it is better than
//! every other by the margin δ or more**, and differences are normal. Where two lie closer than δ
//! the procedure need not tell them apart: it may keep either. Values of single possessions are not
//! normal; tests measure what that costs. Looking only every [`ROUND`] seeds can only make errors
//! rarer.

use crate::stats::t_two_sided;

/// Seeds played between two looks.
pub const ROUND: u64 = 16;
/// Seeds before the first look (n₀): [`ROUND`] times four. Invented, after the advice to have
/// twenty or more (a fixed-width interval holds only in the limit: Chow and Robbins 1965, Ann. Math.
/// Stat. 36 457–462, from memory, high).
pub const FIRST: u64 = 64;
/// Candidates that have not differed on so many seeds are taken as alike: with 95 % confidence they
/// differ on fewer than 3 in 256 seeds (rule of three, from memory). Invented.
pub const ALIKE: u64 = 256;

/// The constants of one search.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Least difference worth telling apart, δ, in the unit of the figure.
    pub margin: f64,
    h2: f64,
    k: usize,
    alpha: f64,
}

/// η and h² for k candidates, n₀ first seeds and error α.
pub fn constants(k: usize, first: u64, alpha: f64) -> (f64, f64) {
    let df = first as f64 - 1.0;
    let eta = 0.5 * (libm::pow(2.0 * alpha / (k as f64 - 1.0), -2.0 / df) - 1.0);
    (eta, 2.0 * eta * df)
}

impl Rule {
    /// The rule for `k` candidates. `None` with fewer than two, a margin not above nought, or a
    /// confidence not strictly between ½ and 1.
    pub fn new(k: usize, margin: f64, confidence: f64) -> Option<Rule> {
        let alpha = 1.0 - confidence;
        let sound = k >= 2 && margin > 0.0 && margin.is_finite() && confidence > 0.5 && alpha > 0.0;
        sound.then(|| Rule {
            margin,
            h2: constants(k, FIRST, alpha).1,
            k,
            alpha,
        })
    }

    /// By how much one must lead another after `r` seeds to put it aside.
    pub fn lead(&self, variance: f64, r: u64) -> f64 {
        let r = r as f64;
        let d = self.margin;
        (d / (2.0 * r) * (self.h2 * variance / (d * d) - r)).max(0.0)
    }

    /// Which of the candidates `alive` are put aside after looking at `values` (one list for each
    /// candidate, all those alive equally long).
    pub fn put_aside(&self, values: &[Vec<f64>], alive: &[usize]) -> Vec<usize> {
        let Some(r) = alive.first().map(|i| values[*i].len() as u64) else {
            return Vec::new();
        };
        if r < FIRST {
            return Vec::new();
        }
        let sums: Vec<f64> = alive.iter().map(|i| values[*i].iter().sum()).collect();
        let beaten = |a: usize, b: usize| {
            let behind = (sums[b] - sums[a]) / r as f64;
            let (x, y) = (&values[alive[a]], &values[alive[b]]);
            behind > 0.0 && behind > self.lead(spread(x, y), r)
        };
        let all = 0..alive.len();
        all.clone()
            .filter(|a| all.clone().any(|b| b != *a && beaten(*a, b)))
            .map(|a| alive[a])
            .collect()
    }

    /// Seeds that every candidate would have needed had all been played equally long, for the same
    /// promise: the two-stage procedure with common seeds of Clark and Yang 1986 (*A Bonferroni
    /// selection procedure when using common random numbers with unknown variances*, from memory),
    /// `N = max(n₀, ⌈(t S/δ)²⌉)` with t at 1 − α/(k−1) and the largest S of any pair. `None` before
    /// the first look.
    pub fn equal_shares(&self, values: &[Vec<f64>]) -> Option<u64> {
        let first = FIRST as usize;
        if values.iter().any(|v| v.len() < first) {
            return None;
        }
        let mut largest = 0.0_f64;
        for (i, x) in values.iter().enumerate() {
            for y in &values[..i] {
                largest = largest.max(variance(&x[..first], &y[..first]));
            }
        }
        let t = t_two_sided(
            1.0 - 2.0 * self.alpha / (self.k as f64 - 1.0),
            FIRST as f64 - 1.0,
        )?;
        let n = (t * t * largest / (self.margin * self.margin)).ceil();
        Some((n as u64).max(FIRST))
    }
}

/// Variance of the paired differences over the first seeds; where these never differed, over all
/// seeds so far (a change that seldom matters must not look certain).
fn spread(x: &[f64], y: &[f64]) -> f64 {
    let first = FIRST as usize;
    let v = variance(&x[..first], &y[..first]);
    if v > 0.0 { v } else { variance(x, y) }
}

fn variance(x: &[f64], y: &[f64]) -> f64 {
    let n = x.len() as f64;
    let gaps = || x.iter().zip(y).map(|(a, b)| a - b);
    let mean = gaps().sum::<f64>() / n;
    gaps().map(|g| (g - mean) * (g - mean)).sum::<f64>() / (n - 1.0)
}

/// Has no pair of the candidates `alive` differed on any of enough seeds?
pub fn alike(values: &[Vec<f64>], alive: &[usize]) -> bool {
    let Some((first, rest)) = alive.split_first() else {
        return false;
    };
    let model = &values[*first];
    model.len() as u64 >= ALIKE && rest.iter().all(|i| values[*i] == *model)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// Kim and Nelson's constants, computed for this project with another program.
    #[test]
    fn constants_agree_with_values_computed_elsewhere() {
        for (k, n, eta, h2) in [
            (2, 10, 0.334050, 6.012905),
            (5, 10, 0.634967, 11.429411),
            (10, 10, 0.859083, 15.463502),
            (5, 20, 0.237238, 9.015056),
            (4, 30, 0.132180, 7.666413),
        ] {
            let ours = constants(k, n, 0.05);
            assert_relative_eq!(ours.0, eta, epsilon = 5e-7);
            assert_relative_eq!(ours.1, h2, epsilon = 5e-6);
        }
    }

    #[test]
    fn the_lead_needed_shrinks_to_nought() {
        let rule = Rule::new(5, 0.1, 0.95).unwrap();
        let end = (rule.h2 * 0.5 / 0.01).ceil() as u64;
        assert!(rule.lead(0.5, 64) > rule.lead(0.5, 128));
        assert_eq!((rule.lead(0.5, end), rule.lead(0.0, 64)), (0.0, 0.0));
        assert!(rule.lead(0.5, end - 2) > 0.0);
    }

    #[test]
    fn nobody_is_put_aside_before_the_first_look() {
        let rule = Rule::new(2, 0.1, 0.95).unwrap();
        let early = vec![vec![0.0; 63], vec![5.0; 63]];
        assert!(rule.put_aside(&early, &[0, 1]).is_empty());
        let then = vec![vec![0.0; 64], vec![5.0; 64]];
        assert_eq!(rule.put_aside(&then, &[0, 1]), [0]);
    }

    #[test]
    fn candidates_that_never_differ_are_both_kept_and_called_alike() {
        let rule = Rule::new(2, 0.1, 0.95).unwrap();
        let same = vec![vec![0.5; 256], vec![0.5; 256]];
        assert!(rule.put_aside(&same, &[0, 1]).is_empty());
        assert!(alike(&same, &[0, 1]));
        assert!(!alike(&[vec![0.5; 64], vec![0.5; 64]], &[0, 1]));
    }

    #[test]
    fn senseless_wishes_have_no_rule() {
        assert!(Rule::new(1, 0.1, 0.95).is_none());
        assert!(Rule::new(2, 0.0, 0.95).is_none() && Rule::new(2, f64::NAN, 0.95).is_none());
        assert!(Rule::new(2, 0.1, 1.0).is_none() && Rule::new(2, 0.1, 0.3).is_none());
    }
}
