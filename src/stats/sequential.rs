//! How many possessions to play: planned beforehand, or until the interval is narrow enough.
//!
//! Planned: n = ⌈(t·S/h)²⌉ for half width h. Sequential: play batch after batch and stop when the
//! half width is small enough.
//!
//! **Caveat** (Chow and Robbins 1965, *On the asymptotic theory of fixed-width sequential
//! confidence intervals for the mean*, Ann. Math. Stat. 36 457–462, from memory): stopping where
//! the interval happens to look narrow makes coverage right only in the limit of small widths. The
//! reported 95 % is then a little less than 95 %; a first look no earlier than some 20 to 30
//! possessions keeps the loss small (a test measures it). Looking only between batches whose sizes
//! do not depend on thread count keeps the stopping point, and so every figure, reproducible.
//! Only the width may stop a run: stopping when a difference "becomes significant" is not this
//! test, and is wrong.

use super::{Estimate, normal_two_sided, t_two_sided};
use serde::{Deserialize, Serialize};

/// Possessions to estimate a share near `share` to ± `half_width`, both 0 to 1:
/// `⌈z² p(1−p) / h²⌉`. The careful choice of `share` is 0.5. `None` for arguments out of range.
pub fn run_length_for_proportion(share: f64, half_width: f64, confidence: f64) -> Option<u64> {
    if !(0.0..=1.0).contains(&share) {
        return None;
    }
    let z = normal_two_sided(confidence)?;
    whole(
        z * z * share * (1.0 - share) / (half_width * half_width),
        half_width,
    )
}

/// Possessions to estimate a mean to ± `half_width` where one possession has standard deviation
/// `sd` (same unit): the least n ≥ 2 with `t(n−1)·sd/√n <= half_width`. For a paired comparison
/// `sd` is that of the paired difference. `None` for arguments out of range.
pub fn run_length_for_mean(sd: f64, half_width: f64, confidence: f64) -> Option<u64> {
    if sd.is_nan() || sd < 0.0 {
        return None;
    }
    let z = normal_two_sided(confidence)?;
    let ratio = sd / half_width;
    // The normal answer is a lower bound, short by a few possessions at most (many only where t
    // has very few degrees of freedom, and then n is small).
    let mut n = whole(z * z * ratio * ratio, half_width)?.max(2);
    while t_two_sided(confidence, (n - 1) as f64)? * ratio > (n as f64).sqrt() {
        n += 1;
    }
    Some(n)
}

/// `x` rounded up, if it and the half width it came from make sense.
fn whole(x: f64, half_width: f64) -> Option<u64> {
    (half_width > 0.0 && x.is_finite() && x < MOST_PLANNED).then(|| x.ceil() as u64)
}

/// No run longer than this is planned: beyond it counts are not exact in f64.
const MOST_PLANNED: f64 = 9.0e15;

/// What to do after a batch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Step {
    /// Play this many more possessions, then look again.
    Play(u64),
    /// The interval is as narrow as wanted.
    NarrowEnough,
    /// The most possessions allowed are played; the interval is wider than wanted.
    OutOfPossessions,
}

/// Stopping rule for a running estimate, looked at only between batches.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Sequential {
    wanted_half_width: f64,
    min_n: u64,
    batch: u64,
    max_n: u64,
}

impl Sequential {
    /// Fewest possessions before the first look (see the caveat above), `common practice`.
    pub const FEWEST: u64 = 30;

    /// Stops at `wanted_half_width` (unit of the figure), not before `min_n` possessions (raised
    /// to [`Sequential::FEWEST`]) and not after `max_n`, looking every `batch` possessions.
    /// `None` unless the width is positive and finite, `batch` at least 1 and `max_n >= min_n`.
    pub fn new(wanted_half_width: f64, min_n: u64, batch: u64, max_n: u64) -> Option<Self> {
        let min_n = min_n.max(Self::FEWEST);
        let sound = wanted_half_width > 0.0 && wanted_half_width.is_finite();
        (sound && batch > 0 && max_n >= min_n).then_some(Self {
            wanted_half_width,
            min_n,
            batch,
            max_n,
        })
    }

    /// What to do after `played` possessions have given `estimate`.
    ///
    /// The estimate may rest on fewer units than were played (possessions in which the figure has
    /// no meaning); both numbers must reach `min_n`. An interval of no width never stops the run
    /// early: no spread seen is not certainty.
    pub fn after(&self, played: u64, estimate: Option<&Estimate>) -> Step {
        if played < self.min_n {
            return Step::Play(self.min_n - played);
        }
        let narrow = |e: &Estimate| {
            let width = e.half_width();
            e.n >= self.min_n && width > 0.0 && width <= self.wanted_half_width
        };
        if estimate.is_some_and(narrow) {
            Step::NarrowEnough
        } else if played >= self.max_n {
            Step::OutOfPossessions
        } else {
            Step::Play(self.batch.min(self.max_n - played))
        }
    }

    /// Possessions that the run will probably need in all, `played · (half width / wanted)²`
    /// within `min_n ..= max_n`: for a progress bar, not for a report.
    pub fn projected(&self, played: u64, estimate: Option<&Estimate>) -> u64 {
        let Some(e) = estimate else {
            return self.max_n;
        };
        let ratio = e.half_width() / self.wanted_half_width;
        let need = (played as f64 * ratio * ratio).ceil() as u64;
        need.clamp(self.min_n, self.max_n)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn estimate(half_width: f64, n: u64) -> Estimate {
        Estimate::checked(0.0, -half_width, half_width, n).unwrap()
    }

    #[test]
    fn a_planned_run_is_the_shortest_that_is_narrow_enough() {
        for (sd, h) in [(1.0, 0.5), (1.0, 0.1), (0.4, 0.03), (2.0, 9.0)] {
            let n = run_length_for_mean(sd, h, 0.95).unwrap();
            let width =
                |n: u64| t_two_sided(0.95, (n - 1) as f64).unwrap() * sd / (n as f64).sqrt();
            assert!(width(n) <= h);
            assert!(n == 2 || width(n - 1) > h, "{n} is longer than needed");
        }
    }

    #[test]
    fn senseless_plans_are_refused() {
        for h in [0.0, -1.0, f64::NAN, 1e-300] {
            assert_eq!(run_length_for_mean(1.0, h, 0.95), None);
            assert_eq!(run_length_for_proportion(0.5, h, 0.95), None);
        }
        assert_eq!(run_length_for_mean(f64::NAN, 1.0, 0.95), None);
        assert_eq!(run_length_for_proportion(1.5, 0.1, 0.95), None);
        assert_eq!(Sequential::new(0.0, 30, 10, 100), None);
        assert_eq!(Sequential::new(0.1, 30, 0, 100), None);
        assert_eq!(Sequential::new(0.1, 10, 10, 29), None);
    }

    #[test]
    fn no_run_stops_before_thirty_however_narrow_it_looks() {
        let rule = Sequential::new(0.1, 5, 20, 100).unwrap();
        assert_eq!(rule.after(0, None), Step::Play(30));
        assert_eq!(rule.after(10, Some(&estimate(0.01, 10))), Step::Play(20));
        assert_eq!(
            rule.after(30, Some(&estimate(0.01, 30))),
            Step::NarrowEnough
        );
        assert_eq!(rule.after(50, Some(&estimate(0.01, 12))), Step::Play(20));
    }

    #[test]
    fn a_wide_or_absent_or_spreadless_figure_plays_on_to_the_limit() {
        let rule = Sequential::new(0.1, 30, 40, 100).unwrap();
        assert_eq!(rule.after(30, Some(&estimate(0.2, 30))), Step::Play(40));
        assert_eq!(rule.after(70, None), Step::Play(30));
        assert_eq!(rule.after(70, Some(&estimate(0.0, 70))), Step::Play(30));
        assert_eq!(
            rule.after(100, Some(&estimate(0.2, 100))),
            Step::OutOfPossessions
        );
    }

    #[test]
    fn half_the_width_needs_four_times_the_run() {
        let rule = Sequential::new(0.1, 30, 40, 10_000).unwrap();
        let e = estimate(0.2, 100);
        assert_relative_eq!(rule.projected(100, Some(&e)) as f64, 400.0, epsilon = 1.0);
        assert_eq!(rule.projected(100, None), 10_000);
    }
}
