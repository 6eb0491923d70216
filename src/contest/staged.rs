//! Verdicts while a comparison is still being played, which no more possessions take back.
//!
//! Whoever looks at the usual 95 % interval again and again, and calls a difference as soon as it leaves nought out,
//! calls far more than one in twenty by luck alone. Here both the figures and the numbers of possessions at which they
//! are looked at are fixed beforehand, and the error of 5 % is shared out equally among all of them (Bonferroni's
//! inequality): in 19 of 20 comparisons *every* interval shown at *any* look holds the truth. So intervals of
//! successive looks may be cut with each other (Robbins 1970, *Statistical methods related to the law of the iterated
//! logarithm*, Ann. Math. Stat. 41 1397–1409, from memory, calls that a confidence sequence), and a difference whose
//! interval has once left nought out keeps its sign.

use super::compare::Comparison;
use super::paired::{FEWEST_CHANGED, PairedRatio};
use crate::stats::CONFIDENCE;

/// What is known of one figure so far.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The figure before the change, in its own unit.
    pub a: f64,
    /// The figure with it, in its own unit.
    pub b: f64,
    /// Lower end of the difference, in the figure's unit.
    pub low: f64,
    /// Upper end of the difference, in the figure's unit.
    pub high: f64,
    /// Seeds on which the two variations brought different numbers.
    pub changed: u64,
    /// After how many possessions of each the difference was told from nought.
    pub told_at: Option<u64>,
}

impl Standing {
    /// As one look alone has it; `None` without an interval.
    fn of(found: &PairedRatio) -> Option<Standing> {
        let interval = found.difference?;
        Some(Standing {
            a: found.a,
            b: found.b,
            low: interval.low,
            high: interval.high,
            changed: found.changed,
            told_at: None,
        })
    }

    /// Is there more of it with the change? `None` while that is not known.
    pub fn more(&self) -> Option<bool> {
        self.told_at.map(|_| self.low > 0.0)
    }

    /// The difference as it is shown: as measured, but within what earlier looks have left.
    pub fn difference(&self) -> f64 {
        (self.b - self.a).clamp(self.low, self.high)
    }

    /// What this look adds to what is known.
    fn after(self, old: Option<Standing>, possessions: u64) -> Standing {
        let (mut low, mut high) = (self.low, self.high);
        if let Some(old) = old {
            (low, high) = (low.max(old.low), high.min(old.high));
            // Luck beyond what the error allows for: what was said stands.
            if low > high {
                (low, high) = (old.low, old.high);
            }
        }
        let told = (low > 0.0 || high < 0.0) && self.changed >= FEWEST_CHANGED;
        Standing {
            low,
            high,
            told_at: old.and_then(|o| o.told_at).or(told.then_some(possessions)),
            ..self
        }
    }
}

/// A comparison that is looked at several times.
#[derive(Clone, Debug)]
pub struct Staged {
    looks: &'static [u64],
    names: Vec<&'static str>,
    known: Vec<Option<Standing>>,
    played: u64,
}

impl Staged {
    /// Looked at after so many possessions of each variation (rising), by these figures; nothing is played yet.
    pub fn new(looks: &'static [u64], names: Vec<&'static str>) -> Staged {
        Staged {
            looks,
            known: vec![None; names.len()],
            names,
            played: 0,
        }
    }

    /// Possessions of each variation at the last look.
    pub fn played(&self) -> u64 {
        self.played
    }

    /// Possessions of each variation after which it is looked at next; `None` after the last look.
    pub fn next(&self) -> Option<u64> {
        self.looks.iter().copied().find(|n| *n > self.played)
    }

    /// Possessions of each variation at the last look of all.
    pub fn most(&self) -> u64 {
        self.looks.last().copied().unwrap_or(0)
    }

    /// Confidence of one interval at one look, 0 to 1, so that all of them together have 95 %.
    pub fn confidence(&self) -> f64 {
        let all = (self.looks.len() * self.names.len()).max(1);
        1.0 - (1.0 - CONFIDENCE) / all as f64
    }

    /// Looks at a comparison, of its first contrast; one that has not come to the next look is left alone.
    pub fn look(&mut self, comparison: &Comparison) {
        if self.next() != Some(comparison.possessions) {
            return;
        }
        self.played = comparison.possessions;
        let confidence = self.confidence();
        for (name, known) in self.names.iter().zip(&mut self.known) {
            let found = comparison.figure(name, confidence);
            if let Some(now) = found.and_then(|found| Standing::of(&found)) {
                *known = Some(now.after(*known, self.played));
            }
        }
    }

    /// What is known of a figure; `None` before the first look, or if nothing was seen of it.
    pub fn of(&self, name: &str) -> Option<&Standing> {
        let place = self.names.iter().position(|n| *n == name)?;
        self.known.get(place)?.as_ref()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::contest::paired::PairTally;
    use rand::{Rng, SeedableRng};
    use rand_pcg::Pcg64;

    const LOOKS: [u64; 6] = [50, 100, 200, 400, 800, 1600];

    /// Points of a possession: mostly none, as in play.
    fn points(rng: &mut Pcg64) -> f64 {
        match rng.next_u64() % 100 {
            0..62 => 0.0,
            62..92 => 2.0,
            _ => 3.0,
        }
    }

    /// What becomes of a figure over the looks: two of three seeds bring the same, the third is drawn anew, with `plus`.
    fn run(rng: &mut Pcg64, plus: f64, confidence: f64) -> Vec<Standing> {
        let mut tally = PairTally::default();
        let (mut old, mut all, mut played) = (None, Vec::new(), 0);
        for look in LOOKS {
            while played < look {
                let a = points(rng);
                let b = match rng.next_u64() % 3 {
                    0 => points(rng) + plus,
                    _ => a,
                };
                tally.push((a, 1.0), (b, 1.0));
                played += 1;
            }
            let found = tally.result_at(confidence).expect("a figure");
            let now = Standing::of(&found).expect("an interval");
            let now = now.after(old, look);
            all.push(now);
            old = Some(now);
        }
        all
    }

    #[test]
    fn where_there_is_no_difference_one_is_told_in_fewer_than_one_in_twenty_of_seven_figures_at_six_looks()
     {
        let mut rng = Pcg64::seed_from_u64(3);
        let staged = Staged::new(&LOOKS, vec!["a", "b", "c", "d", "e", "f", "g"]);
        let trials = 1000;
        let wrong = (0..trials)
            .filter(|_| {
                (0..7).any(|_| {
                    let looks = run(&mut rng, 0.0, staged.confidence());
                    looks.iter().any(|s| s.told_at.is_some())
                })
            })
            .count();
        println!("told by luck alone in {wrong} of {trials} trials");
        assert!(wrong * 20 <= trials, "{wrong}");
        // And looked at as if each look were the only one, it would be far more.
        let careless = (0..trials)
            .filter(|_| {
                run(&mut rng, 0.0, CONFIDENCE)
                    .iter()
                    .any(|s| s.told_at.is_some())
            })
            .count();
        assert!(careless * 20 > 2 * trials, "{careless}");
    }

    #[test]
    fn what_is_told_is_never_taken_back_and_its_interval_only_narrows() {
        let mut rng = Pcg64::seed_from_u64(4);
        let mut told = 0;
        for _ in 0..300 {
            let looks = run(&mut rng, 0.4, 0.999);
            for pair in looks.windows(2) {
                let (old, new) = (pair[0], pair[1]);
                assert!(new.low >= old.low && new.high <= old.high);
                assert!((new.low..=new.high).contains(&new.difference()));
                if old.told_at.is_some() {
                    assert_eq!((new.told_at, new.more()), (old.told_at, old.more()));
                }
            }
            let last = looks[LOOKS.len() - 1];
            told += usize::from(last.more() == Some(true));
            assert_ne!(last.more(), Some(false));
        }
        assert!(told > 200, "{told}");
    }

    #[test]
    fn a_difference_on_a_handful_of_seeds_is_not_told() {
        let few = Standing {
            a: 0.0,
            b: 1.0,
            low: 0.5,
            high: 1.5,
            changed: FEWEST_CHANGED - 1,
            told_at: None,
        };
        assert_eq!(few.after(None, 50).more(), None);
        let enough = Standing {
            changed: FEWEST_CHANGED,
            ..few
        };
        assert_eq!(enough.after(None, 50).more(), Some(true));
    }
}
