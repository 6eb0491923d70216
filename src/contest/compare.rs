//! Two or more variations on the same seeds, compared by every yardstick.
//!
//! Possessions are played in chunks of seeds, each seed under all variations, and added up strictly
//! in order of seed: the figures are the same for any number of threads, and the memory needed does
//! not grow with their number.
//!
//! **Many comparisons.** The more figures one looks at, the more differ by luck alone: one in
//! twenty at 95 %. The headline figures are therefore corrected together: Holm's step-down over the
//! family *contrasts × headline yardsticks* keeps the chance of even one false "surely" at 5 %.
//! Every other figure shows its own interval, uncorrected, and is never called sure.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use rayon::prelude::*;

use crate::scrimmage::{CHUNK, Row, Unfit};
use crate::stats::{CONFIDENCE, holm};

use super::Variation;
use super::paired::{FEWEST_CHANGED, PairTally, PairedRatio};
use super::yardstick::{Yardstick, yardsticks};

/// Which possessions to play under every variation.
#[derive(Clone, Copy, Debug)]
pub struct Contest {
    /// Seed of the first possession of each variation; the rest follow on.
    pub first_seed: u64,
    /// Possessions of each variation.
    pub possessions: u64,
    /// Threads to play on; 0 takes as many as the machine has.
    pub threads: usize,
}

/// One variation judged against another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Contrast {
    /// Index of the variation that is compared with.
    pub base: usize,
    /// Index of the variation that is judged.
    pub changed: usize,
}

/// How sure a difference is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// A headline figure whose difference stands after Holm's correction.
    Sure,
    /// Its own interval excludes nought; no more than that.
    Perhaps,
    /// The interval takes in nought.
    NotTold,
    /// Fewer than [`FEWEST_CHANGED`] seeds differ.
    TooFew,
    /// No seed differs.
    Alike,
}

impl Verdict {
    /// The word of files, the same in JSON and CSV.
    pub const fn code(self) -> &'static str {
        match self {
            Verdict::Sure => "sure",
            Verdict::Perhaps => "perhaps",
            Verdict::NotTold => "not_told",
            Verdict::TooFew => "too_few",
            Verdict::Alike => "alike",
        }
    }
}

/// The difference of one yardstick in one contrast.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Place in [`Comparison::yardsticks`].
    pub yardstick: usize,
    /// The figure under both variations and its difference, in the yardstick's unit.
    pub found: PairedRatio,
    /// p-value after Holm's correction, a probability, for headline figures.
    pub holm_p: Option<f64>,
    /// How sure the difference is.
    pub verdict: Verdict,
    /// The figure counts once in every possession.
    pub per_possession: bool,
}

/// What a comparison came to.
pub struct Comparison {
    /// Seed of the first possession of each variation.
    pub first_seed: u64,
    /// Possessions of each variation.
    pub possessions: u64,
    /// Stopped from outside before all possessions were played.
    pub interrupted: bool,
    /// The figures compared, in the order of the report.
    pub yardsticks: Vec<Yardstick>,
    /// The pairs of variations judged against each other.
    pub contrasts: Vec<Contrast>,
    tallies: Vec<Vec<PairTally>>,
}

impl Contest {
    /// Plays. `progress` is told how many possessions are done (over all variations); `stop` may be
    /// set at any time: the seeds complete by then are returned, marked as interrupted.
    ///
    /// # Examples
    /// ```
    /// use std::sync::atomic::AtomicBool;
    ///
    /// use lanelight::contest::{Contest, Contrast, Variation};
    /// use lanelight::scenario::Scenario;
    ///
    /// let base = Scenario::demo();
    /// let mut patient = base.clone();
    /// patient.offence.patience.hold = 2.0;
    /// let variations = [Variation::new("as it is", base), Variation::new("patient", patient)];
    /// let contest = Contest { first_seed: 1, possessions: 6, threads: 1 };
    /// let contrasts = [Contrast { base: 0, changed: 1 }];
    /// let comparison = contest.run(&variations, &contrasts, &|_done| (), &AtomicBool::new(false))?;
    /// let points = comparison.difference(0, "points").expect("points were counted");
    /// assert!((points.found.b - points.found.a).abs() <= 3.0);
    /// # Ok::<(), lanelight::scrimmage::Unfit>(())
    /// ```
    ///
    /// # Errors
    /// If the wish makes no sense, or the threads cannot be started.
    pub fn run(
        &self,
        variations: &[Variation],
        contrasts: &[Contrast],
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Comparison, Unfit> {
        let play = |variation: usize, seed| variations[variation].row(seed);
        self.run_with(variations.len(), &play, contrasts, progress, stop)
    }

    fn run_with(
        &self,
        variations: usize,
        play: &(dyn Fn(usize, u64) -> Row + Sync),
        contrasts: &[Contrast],
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<Comparison, Unfit> {
        let mut comparison = Comparison::before(self.first_seed, contrasts);
        comparison.play_on(self, variations, play, progress, stop)?;
        Ok(comparison)
    }

    /// Does the plan make sense?
    ///
    /// # Errors
    /// If there is nothing to play or there are not so many seeds.
    pub fn check(&self) -> Result<(), Unfit> {
        if self.possessions == 0 {
            return Err(Unfit::NoPossessions);
        }
        self.first_seed
            .checked_add(self.possessions)
            .map(drop)
            .ok_or(Unfit::OutOfSeeds {
                first_seed: self.first_seed,
                possessions: self.possessions,
            })
    }
}

impl Comparison {
    /// Nothing is played yet.
    pub fn before(first_seed: u64, contrasts: &[Contrast]) -> Comparison {
        let yardsticks = yardsticks();
        Comparison {
            first_seed,
            possessions: 0,
            interrupted: false,
            tallies: vec![vec![PairTally::default(); yardsticks.len()]; contrasts.len()],
            yardsticks,
            contrasts: contrasts.to_vec(),
        }
    }

    /// Plays on until there are `possessions` of each variation, on so many threads (0: as many as the machine has).
    /// What is played already is not played again; the figures are those of one run. `progress` and `stop` as in
    /// [`Contest::run`].
    ///
    /// # Errors
    /// If the wish makes no sense, or the threads cannot be started.
    pub fn go_on(
        &mut self,
        variations: &[Variation],
        (possessions, threads): (u64, usize),
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<(), Unfit> {
        let contest = Contest {
            first_seed: self.first_seed,
            possessions,
            threads,
        };
        let play = |variation: usize, seed| variations[variation].row(seed);
        self.play_on(&contest, variations.len(), &play, progress, stop)
    }

    fn play_on(
        &mut self,
        contest: &Contest,
        variations: usize,
        play: &(dyn Fn(usize, u64) -> Row + Sync),
        progress: &(dyn Fn(u64) + Sync),
        stop: &AtomicBool,
    ) -> Result<(), Unfit> {
        contest.check()?;
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(contest.threads)
            .build()
            .map_err(|e| Unfit::Threads(e.to_string()))?;
        let done = AtomicU64::new(self.possessions * variations as u64);
        while self.possessions < contest.possessions && !self.interrupted {
            let first = self.first_seed + self.possessions;
            let chunk = CHUNK.min(contest.possessions - self.possessions);
            let rows: Vec<Option<Vec<Row>>> = pool.install(|| {
                (first..first + chunk)
                    .into_par_iter()
                    .map(|seed| {
                        (0..variations)
                            .map(|v| {
                                if stop.load(Ordering::Relaxed) {
                                    return None;
                                }
                                let row = play(v, seed);
                                progress(done.fetch_add(1, Ordering::Relaxed) + 1);
                                Some(row)
                            })
                            .collect()
                    })
                    .collect()
            });
            for rows in rows {
                let Some(rows) = rows else {
                    self.interrupted = true;
                    break;
                };
                self.possessions += 1;
                for (contrast, tallies) in self.contrasts.iter().zip(&mut self.tallies) {
                    let (a, b) = (&rows[contrast.base], &rows[contrast.changed]);
                    for (yardstick, tally) in self.yardsticks.iter().zip(tallies) {
                        tally.push(yardstick.pair(a), yardstick.pair(b));
                    }
                }
            }
        }
        Ok(())
    }

    /// A figure of the first contrast by its name, with an interval of this confidence, 0 to 1; `None` if nothing was
    /// seen of it.
    pub fn figure(&self, name: &str, confidence: f64) -> Option<PairedRatio> {
        let place = self.yardsticks.iter().position(|y| y.name == name)?;
        self.tallies.first()?.get(place)?.result_at(confidence)
    }

    /// How many differences are corrected together.
    pub fn family(&self) -> usize {
        self.contrasts.len() * self.yardsticks.iter().filter(|y| y.headline).count()
    }

    /// Every difference, one list for each contrast, in the order of the yardsticks. A figure of
    /// which nothing was seen is left out.
    pub fn differences(&self) -> Vec<Vec<Difference>> {
        let results: Vec<Vec<Option<PairedRatio>>> = self
            .tallies
            .iter()
            .map(|line| line.iter().map(PairTally::result).collect())
            .collect();
        let mut family = Vec::with_capacity(self.family());
        for line in &results {
            for (yardstick, found) in self.yardsticks.iter().zip(line) {
                if yardstick.headline {
                    family.push(found.map_or(1.0, |f| f.p));
                }
            }
        }
        let mut adjusted = holm(&family).into_iter();
        let mut lists = Vec::with_capacity(results.len());
        for (line, tallies) in results.into_iter().zip(&self.tallies) {
            let mut list = Vec::new();
            for (place, (found, tally)) in line.into_iter().zip(tallies).enumerate() {
                let headline = self.yardsticks[place].headline;
                let holm_p = headline.then(|| adjusted.next()).flatten();
                if let Some(found) = found {
                    list.push(Difference {
                        yardstick: place,
                        found,
                        holm_p,
                        verdict: verdict(&found, holm_p),
                        per_possession: tally.per_seed(),
                    });
                }
            }
            lists.push(list);
        }
        lists
    }

    /// One difference by the yardstick's name.
    pub fn difference(&self, contrast: usize, name: &str) -> Option<Difference> {
        let place = self.yardsticks.iter().position(|y| y.name == name)?;
        self.differences()
            .into_iter()
            .nth(contrast)?
            .into_iter()
            .find(|d| d.yardstick == place)
    }
}

fn verdict(found: &PairedRatio, holm_p: Option<f64>) -> Verdict {
    if found.changed == 0 {
        return Verdict::Alike;
    }
    if found.changed < FEWEST_CHANGED {
        return Verdict::TooFew;
    }
    if !found.difference.is_some_and(|d| d.excludes(0.0)) {
        return Verdict::NotTold;
    }
    match holm_p {
        Some(p) if p <= 1.0 - CONFIDENCE => Verdict::Sure,
        _ => Verdict::Perhaps,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::possession;

    const BOTH: [Contrast; 1] = [Contrast {
        base: 0,
        changed: 1,
    }];

    fn contest(possessions: u64, threads: usize) -> Contest {
        Contest {
            first_seed: 1,
            possessions,
            threads,
        }
    }

    /// Variation 1 scores one point more on one seed in `every`.
    fn play(every: u64) -> impl Fn(usize, u64) -> Row + Sync {
        move |variation, seed| {
            let mut row = Row::of(&possession(seed));
            if variation == 1 && seed % every == 0 {
                row.points += 1;
            }
            row
        }
    }

    #[test]
    fn a_verdict_has_one_word_in_all_files() {
        for verdict in [
            Verdict::Sure,
            Verdict::Perhaps,
            Verdict::NotTold,
            Verdict::TooFew,
            Verdict::Alike,
        ] {
            let json = serde_json::to_string(&verdict).expect("a word");
            assert_eq!(json, format!("\"{}\"", verdict.code()));
        }
    }

    #[test]
    fn a_planted_point_every_five_possessions_is_found_and_called_sure() {
        let stop = AtomicBool::new(false);
        let c = contest(500, 2)
            .run_with(2, &play(5), &BOTH, &|_| (), &stop)
            .unwrap();
        let d = c.difference(0, "points").unwrap();
        let e = d.found.difference.unwrap();
        assert!((e.value - 0.2).abs() < 1e-12 && e.low > 0.15 && e.high < 0.25);
        assert_eq!(
            (d.verdict, d.found.changed, d.per_possession),
            (Verdict::Sure, 100, true)
        );
        assert!(d.found.gain.unwrap() > 5.0, "shared luck cancels");
        let other = c.difference(0, "turnovers").unwrap();
        assert_eq!((other.verdict, other.found.changed), (Verdict::Alike, 0));
    }

    #[test]
    fn what_differs_on_a_handful_of_seeds_is_never_called_sure() {
        let stop = AtomicBool::new(false);
        let c = contest(500, 2)
            .run_with(2, &play(60), &BOTH, &|_| (), &stop)
            .unwrap();
        assert_eq!(c.difference(0, "points").unwrap().verdict, Verdict::TooFew);
    }

    #[test]
    fn figures_are_the_same_to_the_last_bit_for_any_number_of_threads() {
        let stop = AtomicBool::new(false);
        let run = |threads| {
            let c = contest(600, threads)
                .run_with(2, &play(7), &BOTH, &|_| (), &stop)
                .unwrap();
            format!("{:?}", c.differences())
        };
        assert_eq!(run(1), run(3));
    }

    #[test]
    fn a_stopped_comparison_keeps_whole_seeds_only() {
        let stop = AtomicBool::new(false);
        let progress = |done: u64| {
            if done >= 700 {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let c = contest(5000, 2)
            .run_with(2, &play(7), &BOTH, &progress, &stop)
            .unwrap();
        assert!(c.interrupted && c.possessions < 5000);
        let d = c.difference(0, "points").unwrap();
        assert_eq!(d.found.difference.unwrap().n, c.possessions);
    }

    #[test]
    fn the_family_is_contrasts_times_headlines() {
        let stop = AtomicBool::new(false);
        let two = [
            BOTH[0],
            Contrast {
                base: 0,
                changed: 0,
            },
        ];
        let c = contest(50, 1)
            .run_with(2, &play(2), &two, &|_| (), &stop)
            .unwrap();
        assert_eq!(
            c.family(),
            2 * c.yardsticks.iter().filter(|y| y.headline).count()
        );
        let d = c.difference(0, "points").unwrap();
        // The smallest of the family is multiplied by its whole size.
        let wanted = (d.found.p * c.family() as f64).min(1.0);
        assert!((d.holm_p.unwrap() - wanted).abs() <= 1e-12 * wanted.max(1e-300));
        assert!(contest(0, 1).check().is_err());
    }
}
