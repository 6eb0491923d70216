//! The difference of two ratios of sums on the same seeds, from running sums alone.
//!
//! Seed i brings `(yᵃᵢ, xᵃᵢ)` under variation A and `(yᵇᵢ, xᵇᵢ)` under B; `Rᵃ = Σyᵃ/Σxᵃ`, likewise
//! `Rᵇ`; the figure is `D = Rᵇ − Rᵃ`. Linearised (delta method; Cochran 1977, *Sampling
//! Techniques*, 3rd ed., section 6 on the comparison of two ratios, from memory), one seed moves D
//! by
//!
//! `uᵢ = (yᵇᵢ − Rᵇxᵇᵢ)/Σxᵇ − (yᵃᵢ − Rᵃxᵃᵢ)/Σxᵃ`,  `Σ uᵢ = 0`,  `var(D) = k/(k−1) · Σ uᵢ²`
//!
//! over the k seeds that say anything under either variation; the interval is `D ± t(k−1)√var(D)`.
//! With x = 1 throughout this is the paired t interval, and with one variation that of
//! [`crate::stats::ratio_estimate`] (tests hold them together). Since
//! `u` is linear in the four numbers, `Σu²` comes from their ten running co-moments: memory does
//! not grow with the number of seeds.

use crate::stats::{CONFIDENCE, Estimate, t_two_sided, t_two_sided_p};

/// With fewer seeds than this on which the two variations differ, a t interval means little; the
/// difference is then shown but not judged. Invented.
pub const FEWEST_CHANGED: u64 = 10;

/// Co-moments of `(yᵃ, xᵃ, yᵇ, xᵇ)` over the seeds pushed so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PairTally {
    n: u64,
    changed: u64,
    sums: [f64; 4],
    means: [f64; 4],
    /// Σ (vᵢ − v̄)(vⱼ − v̄), symmetric.
    moments: [[f64; 4]; 4],
}

/// What the change from A to B did to one figure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PairedRatio {
    /// The figure under A, in its own unit.
    pub a: f64,
    /// The figure under B, in its own unit.
    pub b: f64,
    /// `b − a` with its interval, of 95 % unless another was asked for; `n` counts the seeds that say anything. No interval if the
    /// spread is unknown (fewer than two seeds).
    pub difference: Option<Estimate>,
    /// Seeds on which the two variations brought different numbers.
    pub changed: u64,
    /// How many times more possessions separate seeds would have needed for the same interval:
    /// `(var(Rᵃ) + var(Rᵇ)) / var(D)`. Absent if the difference never varies.
    pub gain: Option<f64>,
    /// Two-sided p-value of no difference, a probability, for the correction only: never shown
    /// without the difference. 1 with fewer than [`FEWEST_CHANGED`] changed seeds.
    pub p: f64,
}

impl PairTally {
    /// Adds what one seed brought under A and under B.
    pub fn push(&mut self, a: (f64, f64), b: (f64, f64)) {
        if a == (0.0, 0.0) && b == (0.0, 0.0) {
            return;
        }
        self.n += 1;
        self.changed += u64::from(a != b);
        let v = [a.0, a.1, b.0, b.1];
        let before: [f64; 4] = std::array::from_fn(|i| v[i] - self.means[i]);
        for i in 0..4 {
            self.sums[i] += v[i];
            self.means[i] += before[i] / self.n as f64;
        }
        for (i, line) in self.moments.iter_mut().enumerate() {
            for (j, cell) in line.iter_mut().enumerate() {
                *cell += before[i] * (v[j] - self.means[j]);
            }
        }
    }

    /// Seeds that said anything.
    pub fn n(&self) -> u64 {
        self.n
    }

    /// Does every seed count once under both variations, so that the figure is a mean per
    /// possession?
    pub fn per_seed(&self) -> bool {
        self.n > 0 && [1, 3].iter().all(|i| self.sums[*i] == self.n as f64)
    }

    /// Σ (c·v)² about the mean, which is nought for the weights used here.
    fn squares(&self, c: [f64; 4]) -> f64 {
        let mut sum = 0.0;
        for (i, line) in self.moments.iter().enumerate() {
            for (j, cell) in line.iter().enumerate() {
                sum += c[i] * c[j] * cell;
            }
        }
        sum.max(0.0)
    }

    /// The difference; `None` if either figure has nothing to divide by.
    pub fn result(&self) -> Option<PairedRatio> {
        self.result_at(CONFIDENCE)
    }

    /// The same with an interval of this confidence, 0 to 1.
    pub fn result_at(&self, confidence: f64) -> Option<PairedRatio> {
        let [ya, xa, yb, xb] = self.sums;
        if xa <= 0.0 || xb <= 0.0 || self.sums.iter().any(|s| !s.is_finite()) {
            return None;
        }
        let (a, b) = (ya / xa, yb / xb);
        let weight_a = [-1.0 / xa, a / xa, 0.0, 0.0];
        let weight_b = [0.0, 0.0, 1.0 / xb, -b / xb];
        let both: [f64; 4] = std::array::from_fn(|i| weight_a[i] + weight_b[i]);
        let k = self.n as f64;
        let part = |c| k / (k - 1.0) * self.squares(c);
        let spread = (self.n >= 2).then(|| match self.changed {
            // Exactly alike: no rounding may pretend otherwise.
            0 => 0.0,
            _ => part(both),
        });
        let difference = spread.and_then(|variance| {
            let arm = t_two_sided(confidence, k - 1.0)? * variance.sqrt();
            let value = b - a;
            Estimate::checked(value, value - arm, value + arm, self.n)
        });
        let variance = spread.filter(|v| *v > 0.0);
        Some(PairedRatio {
            a,
            b,
            difference,
            changed: self.changed,
            gain: variance.map(|v| (part(weight_a) + part(weight_b)) / v),
            p: variance
                .filter(|_| self.changed >= FEWEST_CHANGED)
                .and_then(|v| t_two_sided_p((b - a) / v.sqrt(), k - 1.0))
                .unwrap_or(1.0),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stats::{Tally, ratio_estimate};
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use rand::{Rng, SeedableRng};
    use rand_pcg::Pcg64;

    fn tally(a: &[(f64, f64)], b: &[(f64, f64)]) -> PairTally {
        let mut t = PairTally::default();
        for (a, b) in a.iter().zip(b) {
            t.push(*a, *b);
        }
        t
    }

    #[test]
    fn with_one_case_a_seed_it_is_the_paired_t_interval() {
        let xs = [1.0, 4.0, 2.0, 8.0, 3.0, 3.5, 1.0, 0.0, 2.0, 7.0, 1.5, 6.0];
        let ys = [0.5, 4.5, 1.0, 6.0, 3.0, 4.5, 2.0, 1.0, 0.0, 9.0, 1.0, 5.0];
        let pairs = |v: &[f64]| v.iter().map(|y| (*y, 1.0)).collect::<Vec<_>>();
        let t = tally(&pairs(&xs), &pairs(&ys));
        assert!(t.per_seed());
        let ours = t.result().unwrap();
        let spread = |v: &[f64]| v.iter().copied().collect::<Tally>().variance().unwrap();
        let gaps: Vec<f64> = xs.iter().zip(ys).map(|(x, y)| y - x).collect();
        let stats: Tally = gaps.iter().copied().collect();
        let (d, e) = (
            ours.difference.unwrap(),
            stats.mean_estimate(CONFIDENCE).unwrap(),
        );
        assert_relative_eq!(d.value, e.value, epsilon = 1e-12);
        assert_relative_eq!(d.low, e.low, max_relative = 1e-10);
        let gain = (spread(&xs) + spread(&ys)) / spread(&gaps);
        assert_relative_eq!(ours.gain.unwrap(), gain, max_relative = 1e-10);
        let t = e.value / (spread(&gaps) / 12.0).sqrt();
        assert_relative_eq!(ours.p, t_two_sided_p(t, 11.0).unwrap(), max_relative = 1e-9);
        assert_eq!((ours.changed, d.n), (11, 12));
    }

    #[test]
    fn student_s_sleep_data_come_out_as_published() {
        // Student 1908, Biometrika 6 1–25, the sleep data, from memory; interval and p computed
        // here with scipy.
        let a = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
        let b = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
        let pairs = |v: &[f64]| v.iter().map(|y| (*y, 1.0)).collect::<Vec<_>>();
        let r = tally(&pairs(&b), &pairs(&a)).result().unwrap();
        let d = r.difference.unwrap();
        assert_relative_eq!(d.value, -1.58, max_relative = 1e-12);
        assert_relative_eq!(d.low, -2.459_885_763, epsilon = 1e-8);
        assert_relative_eq!(d.high, -0.700_114_236, epsilon = 1e-8);
        // Nine of ten pairs differ: one too few to be judged.
        assert_eq!((r.changed, r.p), (9, 1.0));
    }

    #[test]
    fn ratios_against_a_constant_have_the_interval_of_one_ratio() {
        let a: Vec<(f64, f64)> = (0..12)
            .map(|i| (f64::from(i % 5), f64::from(1 + i % 3)))
            .collect();
        let still = vec![(1.0, 2.0); 12];
        let d = tally(&still, &a).result().unwrap().difference.unwrap();
        let one = ratio_estimate(a, CONFIDENCE).unwrap();
        assert_relative_eq!(d.value, one.value - 0.5, epsilon = 1e-12);
        assert_relative_eq!(d.half_width(), one.half_width(), max_relative = 1e-10);
    }

    #[test]
    fn variations_that_are_exactly_alike_differ_by_nought_and_nothing_is_claimed() {
        let a: Vec<(f64, f64)> = (0..30)
            .map(|i| (0.1 * f64::from(i), f64::from(i % 4)))
            .collect();
        let r = tally(&a, &a).result().unwrap();
        let d = r.difference.unwrap();
        assert_eq!((d.value, d.low, d.high), (0.0, 0.0, 0.0));
        assert_eq!((r.changed, r.gain, r.p), (0, None, 1.0));
    }

    #[test]
    fn a_figure_with_nothing_under_the_line_has_no_difference() {
        assert_eq!(tally(&[(0.0, 0.0)], &[(1.0, 1.0)]).result(), None);
        let one = tally(&[(0.0, 1.0)], &[(1.0, 1.0)]).result().unwrap();
        assert_eq!(one.difference, None);
    }

    /// Held time x shared by both variations, open parts that lean on it and on shared luck;
    /// ratios 0.35 and 0.45 by construction.
    #[test]
    fn intervals_of_a_ratio_s_difference_hold_the_truth_in_95_of_100_samples_of_forty() {
        let mut rng = Pcg64::seed_from_u64(8);
        let mut uniform = move || (rng.next_u64() >> 11) as f64 / (1_u64 << 53) as f64;
        let samples = 4000;
        let mut hits = 0;
        let mut gains = 0.0;
        for _ in 0..samples {
            let mut t = PairTally::default();
            for _ in 0..40 {
                let (x, luck) = (20.0 + (uniform() * 81.0).floor(), uniform());
                let other = x + (uniform() * 5.0).floor() - 2.0;
                t.push(
                    (x * (0.2 * luck + 0.5 * uniform()), x),
                    (other * (0.2 * luck + 0.7 * uniform()), other),
                );
            }
            let r = t.result().unwrap();
            hits += usize::from(!r.difference.unwrap().excludes(0.45 - 0.35));
            gains += r.gain.unwrap() / f64::from(samples);
        }
        let share = hits as f64 / f64::from(samples);
        println!(
            "paired ratio, 40 seeds: {:.1} %, gain {gains:.2}",
            100.0 * share
        );
        assert!(
            (0.93..=0.97).contains(&share) && gains > 1.0,
            "{share} {gains}"
        );
    }

    proptest! {
        #[test]
        fn swapping_the_variations_only_turns_the_sign(
            rows in prop::collection::vec((0_u8..9, 1_u8..9, 0_u8..9, 1_u8..9), 2..40),
        ) {
            let f = f64::from;
            let a: Vec<_> = rows.iter().map(|r| (f(r.0), f(r.1))).collect();
            let b: Vec<_> = rows.iter().map(|r| (f(r.2), f(r.3))).collect();
            let (one, two) = (tally(&a, &b).result().unwrap(), tally(&b, &a).result().unwrap());
            let (d, e) = (one.difference.unwrap(), two.difference.unwrap());
            // Half the interval is the root of a difference of sums, with few degrees of freedom times 13: what
            // rounding leaves of it (1e-16 and more) becomes 1e-7 (2.4e-8 was seen, with two rows).
            assert_relative_eq!(d.low, -e.high, epsilon = 1e-6);
            prop_assert_eq!(one.changed, two.changed);
            assert_relative_eq!(one.p, two.p, epsilon = 1e-6);
        }
    }
}
