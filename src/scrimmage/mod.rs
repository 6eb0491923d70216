//! A scrimmage: many seeded possessions of one offence against one defence.
//!
//! Possessions are played in chunks of [`CHUNK`] seeds, on as many threads as asked for, and added
//! up strictly in order of seed: the figures are the same to the last bit for any number of
//! threads. Each possession is reduced to a [`Row`] and dropped, so the memory needed does not grow
//! with their number.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use rayon::prelude::*;

use crate::possession::Possession;
use crate::scenario::Scenario;
use crate::sim::{Keep, cast_of, play_shared};
use crate::stats::{Sequential, Step};

pub mod codes;
pub mod frames;
pub mod franks;
pub mod measures;
pub mod orders;
pub mod results;
pub mod row;
pub mod tallies;
pub mod tracked;
pub mod windows;

#[cfg(test)]
pub(crate) use crate::possession::fixture;
pub use measures::{Measure, Unit, measures};
pub use results::{Figure, Reached, Results, Shutter};
pub use row::Row;

/// Seeds played between two additions; the same for any number of threads.
pub const CHUNK: u64 = 256;

/// Play until the interval of one figure is narrow enough.
#[derive(Clone, Debug, PartialEq)]
pub struct Until {
    /// A measure's name.
    pub measure: String,
    /// Half width of its 95 % interval, in its unit.
    pub half_width: f64,
}

/// What stops a scrimmage from being run at all.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unfit {
    /// No possession was asked for.
    #[error("a scrimmage needs at least one possession")]
    NoPossessions,
    /// The last seed would be too large for 64 bits.
    #[error("seeds from {first_seed} on leave no room for {possessions} possessions")]
    OutOfSeeds {
        /// Seed of the first possession.
        first_seed: u64,
        /// How many were asked for.
        possessions: u64,
    },
    /// To stop at an interval of a measure that there is not.
    #[error("there is no figure called “{name}”")]
    UnknownMeasure {
        /// What was asked for.
        name: String,
    },
    /// To stop at a half width that is not above 0, or with too few possessions allowed.
    #[error(
        "to stop at an interval, its half width must be above nought and {} possessions or more \
         allowed",
        Sequential::FEWEST
    )]
    NoSuchWidth,
    /// The system's message.
    #[error("the threads could not be started: {0}")]
    Threads(String),
}

/// Which possessions to play.
#[derive(Clone, Debug)]
pub struct Scrimmage {
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// How many; with `until`, at most.
    pub possessions: u64,
    /// Threads to play on; 0 takes as many as the machine has.
    pub threads: usize,
    /// Stop before that, when an interval is narrow enough.
    pub until: Option<Until>,
}

impl Scrimmage {
    /// Plays. `progress` is told how many possessions are done, `each` gets every row in order of
    /// seed and says whether to go on, and `stop` may be set at any time: what has been added up
    /// by then is returned, marked as interrupted.
    ///
    /// # Examples
    /// ```
    /// use std::sync::atomic::AtomicBool;
    ///
    /// # use lanelight_play as lanelight;
    /// use lanelight::scenario::Scenario;
    /// use lanelight::scrimmage::Scrimmage;
    ///
    /// let scrimmage = Scrimmage { first_seed: 1, possessions: 8, threads: 1, until: None };
    /// let mut seeds = Vec::new();
    /// let results = scrimmage.run(
    ///     &Scenario::demo(),
    ///     &|_done| (),
    ///     &mut |row| {
    ///         seeds.push(row.seed);
    ///         true
    ///     },
    ///     &AtomicBool::new(false),
    /// )?;
    /// assert_eq!(seeds, [1, 2, 3, 4, 5, 6, 7, 8]);
    /// let points = results.estimate("points").expect("points were counted");
    /// assert!((0.0..=3.0).contains(&points.value));
    /// # Ok::<(), lanelight::scrimmage::Unfit>(())
    /// ```
    ///
    /// # Errors
    /// If the wish makes no sense, or the threads cannot be started.
    pub fn run(
        &self,
        scenario: &Scenario,
        progress: &(dyn Fn(u64) + Sync),
        each: &mut dyn FnMut(&Row) -> bool,
        stop: &AtomicBool,
    ) -> Result<Results, Unfit> {
        let (scenario, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
        let play = |seed| play_shared(&scenario, &cast, seed, Keep::FIGURES);
        self.run_with(&play, progress, each, stop)
    }

    fn run_with(
        &self,
        play: &(dyn Fn(u64) -> Possession + Sync),
        progress: &(dyn Fn(u64) + Sync),
        each: &mut dyn FnMut(&Row) -> bool,
        stop: &AtomicBool,
    ) -> Result<Results, Unfit> {
        let list = measures();
        let rule = self.rule(&list)?;
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(self.threads)
            .build()
            .map_err(|e| Unfit::Threads(e.to_string()))?;
        let done = AtomicU64::new(0);
        let mut results = Results::new(self.first_seed, &list);
        let enough = AtomicBool::new(false);
        let chunk = |first: u64, count: u64| -> Vec<Option<Row>> {
            (first..first + count)
                .into_par_iter()
                .map(|seed| {
                    if stop.load(Ordering::Relaxed) || enough.load(Ordering::Relaxed) {
                        return None;
                    }
                    let row = Row::of(&play(seed));
                    progress(done.fetch_add(1, Ordering::Relaxed) + 1);
                    Some(row)
                })
                .collect()
        };
        let mut ahead = None;
        loop {
            let played = results.possessions;
            let (go_on, narrow) = match &rule {
                None => (self.possessions - played, false),
                Some((place, sequential)) => {
                    let e = results.at(*place, list[*place].interval);
                    match sequential.after(played, e.as_ref()) {
                        Step::Play(more) => (more, false),
                        Step::NarrowEnough => (0, true),
                        Step::OutOfPossessions => (0, false),
                    }
                }
            };
            if let (Some((place, _)), Some(until)) = (&rule, &self.until) {
                let e = results.at(*place, list[*place].interval);
                results.until = Some(Reached {
                    measure: until.measure.clone(),
                    asked: until.half_width,
                    half_width: e.map(|e| e.half_width()),
                    narrow_enough: narrow,
                });
            }
            if go_on == 0 || results.interrupted {
                return Ok(results);
            }
            let (first, count) = (self.first_seed + played, go_on.min(CHUNK));
            let rows = ahead
                .take()
                .unwrap_or_else(|| pool.install(|| chunk(first, count)));
            // While these are added up the next are played, unless the sum is to say how many.
            let more = match rule {
                None => (go_on - count).min(CHUNK),
                Some(_) => 0,
            };
            pool.in_place_scope(|scope| {
                if more > 0 {
                    scope.spawn(|_| ahead = Some(chunk(first + count, more)));
                }
                for row in rows {
                    let Some(row) = row else {
                        results.interrupted = true;
                        break;
                    };
                    results.fold(&row, &list);
                    if !each(&row) {
                        results.interrupted = true;
                        enough.store(true, Ordering::Relaxed);
                        break;
                    }
                }
            });
        }
    }

    /// Does the plan make sense?
    ///
    /// # Errors
    /// As [`Scrimmage::run`] would say before it played anything.
    pub fn check(&self) -> Result<(), Unfit> {
        self.rule(&measures()).map(drop)
    }

    fn rule(&self, list: &[Measure]) -> Result<Option<(usize, Sequential)>, Unfit> {
        if self.possessions == 0 {
            return Err(Unfit::NoPossessions);
        }
        if self.first_seed.checked_add(self.possessions).is_none() {
            return Err(Unfit::OutOfSeeds {
                first_seed: self.first_seed,
                possessions: self.possessions,
            });
        }
        let Some(until) = &self.until else {
            return Ok(None);
        };
        let place = measures::find(list, &until.measure).ok_or_else(|| Unfit::UnknownMeasure {
            name: until.measure.clone(),
        })?;
        Sequential::new(
            until.half_width,
            Sequential::FEWEST,
            CHUNK,
            self.possessions,
        )
        .map(|s| Some((place, s)))
        .ok_or(Unfit::NoSuchWidth)
    }
}

/// Adds up rows that were played before, in order of seed, as the scrimmage itself would have done.
/// `next` gives the next row, and `None` after the last.
///
/// # Errors
/// As `next`.
pub fn add_up<E>(
    first_seed: u64,
    mut next: impl FnMut() -> Result<Option<Row>, E>,
) -> Result<Results, E> {
    let list = measures();
    let mut results = Results::new(first_seed, &list);
    while let Some(row) = next()? {
        results.fold(&row, &list);
    }
    Ok(results)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(threads: usize, n: u64, until: Option<Until>, stop_at: u64) -> Results {
        let stop = AtomicBool::new(false);
        let scrimmage = Scrimmage {
            first_seed: 1,
            possessions: n,
            threads,
            until,
        };
        let progress = |done: u64| {
            if done >= stop_at {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let mut next = 1;
        let mut each = |row: &Row| {
            assert_eq!(row.seed, next, "rows come in order of seed");
            next += 1;
            true
        };
        scrimmage
            .run_with(&fixture::possession, &progress, &mut each, &stop)
            .unwrap()
    }

    #[test]
    fn figures_are_the_same_to_the_last_bit_for_any_number_of_threads() {
        let text = |threads| {
            let results = run(threads, 700, None, u64::MAX);
            serde_json::to_string(&results.figures()).unwrap()
        };
        let one = text(1);
        assert_eq!(one, text(2));
        assert_eq!(one, text(5));
    }

    #[test]
    fn the_scrimmage_plays_as_many_possessions_as_asked() {
        let results = run(2, 700, None, u64::MAX);
        assert_eq!((results.possessions, results.interrupted), (700, false));
        // Of every four seeds one is a turnover and one a miss.
        assert_eq!(results.estimate("points").unwrap().value, 1.0);
        let lost = results.estimate("turnovers").unwrap();
        assert_eq!((lost.value, lost.n), (0.25, 700));
    }

    #[test]
    fn a_scrimmage_stops_once_the_interval_is_narrow_enough_and_not_before() {
        let until = |half_width| {
            Some(Until {
                measure: "points".into(),
                half_width,
            })
        };
        let wide = run(2, 100_000, until(0.1), u64::MAX);
        let narrow = run(2, 100_000, until(0.05), u64::MAX);
        assert!(wide.possessions < narrow.possessions && narrow.possessions < 100_000);
        for (r, asked) in [(&wide, 0.1), (&narrow, 0.05)] {
            let reached = r.until.clone().unwrap();
            assert!(reached.narrow_enough && reached.half_width.unwrap() <= asked);
        }
        let never = run(2, 300, until(1e-6), u64::MAX);
        assert_eq!(never.possessions, 300);
        assert!(!never.until.unwrap().narrow_enough);
    }

    #[test]
    fn a_stopped_scrimmage_keeps_what_is_done_and_says_that_it_was_interrupted() {
        let results = run(2, 5000, None, 300);
        assert!(results.interrupted);
        assert!(
            (1..5000).contains(&results.possessions),
            "{}",
            results.possessions
        );
        assert_eq!(
            results.estimate("turnovers").unwrap().n,
            results.possessions
        );
    }

    #[test]
    fn senseless_wishes_are_refused() {
        let ask = |first_seed, possessions, until| {
            let s = Scrimmage {
                first_seed,
                possessions,
                threads: 1,
                until,
            };
            let stop = AtomicBool::new(false);
            s.run_with(&fixture::possession, &|_| (), &mut |_| true, &stop)
                .err()
                .unwrap()
        };
        let until = |m: &str, h| {
            Some(Until {
                measure: m.into(),
                half_width: h,
            })
        };
        assert_eq!(ask(1, 0, None), Unfit::NoPossessions);
        assert!(matches!(ask(u64::MAX, 2, None), Unfit::OutOfSeeds { .. }));
        assert!(matches!(
            ask(1, 99, until("pints", 0.1)),
            Unfit::UnknownMeasure { .. }
        ));
        assert_eq!(ask(1, 99, until("points", 0.0)), Unfit::NoSuchWidth);
        assert_eq!(ask(1, 9, until("points", 0.1)), Unfit::NoSuchWidth);
    }

    #[test]
    fn who_shuts_a_look_adds_up_to_all_of_it() {
        let results = run(1, 40, None, u64::MAX);
        let shutters = results.shutters(crate::offence::LookKind::Drive);
        assert_eq!(shutters.len(), 1);
        assert_eq!(shutters[0].share, 1.0);
        assert_eq!(shutters[0].duty, crate::defence::Duty::LowHelp);
        let (closed, by) = results.shut_by(crate::offence::LookKind::Drive);
        assert_eq!((closed, by[4]), (200.0, Some(1.0)));
    }
}
