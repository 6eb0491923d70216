//! Work that goes on while the floor is watched: the scrimmage's figures, the why, and the search
//! for a possession with a wanted story. Each job runs on a thread of its own, may be stopped, and
//! answers once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, TryRecvError, channel};
use std::thread;
use std::time::Duration;

use super::story::Story;
use crate::scenario::Scenario;
use crate::scrimmage::orders::{Account, account};
use crate::scrimmage::{Figure, Scrimmage};
use crate::sim::{Keep, cast_of, play_shared};
use crate::why::{Summary, Why, rivals};

/// A job under way, or its answer.
pub struct Job<T> {
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU64>,
    /// Of how many.
    pub of: u64,
    answer: Receiver<T>,
    over: bool,
}

impl<T: Send + 'static> Job<T> {
    /// Starts `work`, which is told when to stop and counts what it has done.
    pub(super) fn start(
        name: &str,
        of: u64,
        work: impl FnOnce(&AtomicBool, &AtomicU64) -> Option<T> + Send + 'static,
    ) -> Job<T> {
        let (send, answer) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let done = Arc::new(AtomicU64::new(0));
        let (theirs, count) = (stop.clone(), done.clone());
        let run = move || {
            if let Some(out) = work(&theirs, &count) {
                // Nobody may be waiting any more.
                let _ = send.send(out);
            }
        };
        // Without a thread the channel is closed at once, and the job is over without an answer.
        let _ = thread::Builder::new().name(name.into()).spawn(run);
        Job {
            stop,
            done,
            of,
            answer,
            over: false,
        }
    }

    /// The answer, once.
    pub fn take(&mut self) -> Option<T> {
        let answer = self.answer.try_recv();
        self.over |= !matches!(answer, Err(TryRecvError::Empty));
        answer.ok()
    }

    /// The answer, waited for so long at most.
    pub fn take_within(&mut self, most: Duration) -> Option<T> {
        let answer = self.answer.recv_timeout(most);
        self.over |= !matches!(answer, Err(RecvTimeoutError::Timeout));
        answer.ok()
    }

    /// The job has ended, whether or not it found anything.
    pub fn is_over(&self) -> bool {
        self.over
    }

    /// How much is done.
    pub fn done(&self) -> u64 {
        self.done.load(Ordering::Relaxed)
    }

    /// Share that is done, 0 to 1.
    pub fn share(&self) -> f32 {
        self.done() as f32 / self.of.max(1) as f32
    }
}

impl<T> Drop for Job<T> {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// Figures of a scrimmage from seed 1 on.
pub fn figures(scenario: Arc<Scenario>, possessions: u64) -> Job<Vec<Figure>> {
    Job::start("figures", possessions, move |stop, done| {
        let plan = Scrimmage {
            first_seed: 1,
            possessions,
            threads: 1,
            until: None,
        };
        let count = |n: u64| {
            done.fetch_max(n, Ordering::Relaxed);
        };
        let results = plan.run(&scenario, &count, &mut |_| true, stop).ok()?;
        (!results.interrupted).then(|| results.figures())
    })
}

/// What becomes of the rules' orders, over possessions from seed 1 on.
pub fn orders(scenario: Scenario, possessions: u64) -> Job<Account> {
    Job::start("orders", possessions, move |_, _| {
        // One thread: the floor is shown meanwhile.
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(1)
            .build()
            .ok()?;
        pool.install(|| account(&[scenario], possessions))
    })
}

/// Why it stalls, over possessions from seed 1 on.
pub fn why(scenario: Arc<Scenario>, possessions: u64) -> Job<Summary> {
    Job::start("why", possessions, move |stop, done| {
        let plan = Why {
            first_seed: 1,
            possessions,
            threads: 1,
        };
        let count = |n: u64| {
            done.fetch_max(n, Ordering::Relaxed);
        };
        let sheets = plan.sheets(&scenario, &count, stop).ok()?;
        let whole = sheets.len() as u64 == possessions;
        let rivals = rivals(&scenario);
        whole.then(|| Summary::of(&sheets, possessions, &scenario.offence, &rivals))
    })
}

/// Most seeds that a search for a story looks at.
pub const MOST_SEEDS: u64 = 5000;

/// The first possession after seed `after` with a story, and when it comes to pass, seconds;
/// `None` inside if there is none within [`MOST_SEEDS`].
pub fn search(scenario: Arc<Scenario>, story: Story, after: u64) -> Job<Option<(u64, f64)>> {
    Job::start("search", MOST_SEEDS, move |stop, done| {
        let cast = cast_of(&scenario);
        for seed in (after..u64::MAX).skip(1).take(MOST_SEEDS as usize) {
            if stop.load(Ordering::Relaxed) {
                return None;
            }
            let possession = play_shared(&scenario, &cast, seed, Keep::FIGURES);
            if let Some(when) = story.when(&possession) {
                return Some(Some((seed, when)));
            }
            done.fetch_add(1, Ordering::Relaxed);
        }
        Some(None)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wait<T: Send + 'static>(mut job: Job<T>) -> Option<T> {
        for _ in 0..6000 {
            if let Some(out) = job.take() {
                return Some(out);
            }
            if job.is_over() {
                return None;
            }
            thread::sleep(std::time::Duration::from_millis(5));
        }
        None
    }

    #[test]
    fn a_search_finds_a_possession_that_really_has_the_story() {
        let scenario = Arc::new(Scenario::demo());
        let cast = cast_of(&scenario);
        for story in Story::ALL {
            let Some((seed, when)) = wait(search(scenario.clone(), story, 1)).expect("an answer")
            else {
                continue;
            };
            assert!(seed > 1);
            let again = play_shared(&scenario, &cast, seed, Keep::ALL);
            assert_eq!(story.when(&again), Some(when), "{story:?}");
            assert!((0.0..=again.duration).contains(&when));
        }
    }

    #[test]
    fn figures_on_the_desk_are_those_of_the_command_line() {
        let scenario = Arc::new(Scenario::demo());
        let got = wait(figures(scenario.clone(), 60)).expect("figures");
        let plan = Scrimmage {
            first_seed: 1,
            possessions: 60,
            threads: 2,
            until: None,
        };
        let stop = AtomicBool::new(false);
        let wanted = plan
            .run(&scenario, &|_| (), &mut |_| true, &stop)
            .expect("results")
            .figures();
        assert_eq!(got, wanted);
    }
}
