//! How many possessions to play: batch after batch until the interval is narrow enough.
//!
//! **Caveat** (Chow and Robbins 1965, *On the asymptotic theory of fixed-width sequential
//! confidence intervals for the mean*, Ann. Math. Stat. 36 457–462, from memory): stopping where
//! the interval happens to look narrow makes coverage right only in the limit of small widths. The
//! reported 95 % is then a little less than 95 %; a first look no earlier than some 20 to 30
//! possessions keeps the loss small (a test measures it). Looking only between batches whose sizes
//! do not depend on thread count keeps the stopping point, and so every figure, reproducible.
//! Only the width may stop a run: stopping when a difference "becomes significant" is not this
//! test, and is wrong.

use super::Estimate;
use serde::{Deserialize, Serialize};

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
}

#[cfg(test)]
mod tests {
    use super::*;

    fn estimate(half_width: f64, n: u64) -> Estimate {
        Estimate::checked(0.0, -half_width, half_width, n).unwrap()
    }

    #[test]
    fn a_senseless_rule_is_refused() {
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
}
