//! Playing the possession again. After a changed rule that takes a while (what goes on is worth is learnt anew), so it
//! is done on a thread of its own: the old picture stays whole until the new one is there, and a newer change puts an
//! older one out of date.

use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};

use super::desk::{Desk, stopwatch};
use super::jobs::Job;
use super::recording::Recording;
use super::variation::Edit;
use crate::court::Units;
use crate::sim::play_on::Put;

/// The picture may stand still for so long: what is played by then is shown in the same frame.
pub const PATIENCE: Duration = Duration::from_millis(15);

/// A possession that is being played again, and since when.
pub struct Replaying(Job<Recording>, Instant);

/// The possession of a seed with what is on the desk; `None` if it cannot be played.
pub(super) fn play(edit: &Edit, seed: u64, puts: &[Put]) -> Option<Recording> {
    Some(Recording::with(&Arc::new(edit.scenario()?), seed, puts))
}

/// The same, played on a thread of its own and told in `units`.
pub(super) fn played_behind(edit: &Edit, seed: u64, units: Units) -> Job<Recording> {
    let edit = edit.clone();
    Job::start("replay", 1, move |stop, _| {
        let mut recording = play(&edit, seed, &[])?;
        recording.tell(units);
        (!stop.load(Ordering::Relaxed)).then_some(recording)
    })
}

impl Desk {
    /// Plays the possession again, from the same seed, and goes on from the same time.
    pub fn replay(&mut self) {
        self.replaying = None;
        let began = stopwatch();
        if let Some(recording) = play(self.variation.now(), self.seed, &self.puts) {
            self.recording = recording;
        }
        self.retell();
        self.is_replayed(began);
    }

    /// The same after a change, behind what is shown if it takes longer than a frame.
    pub(super) fn replay_behind(&mut self) {
        let began = stopwatch();
        let mut job = played_behind(self.variation.now(), self.seed, self.units());
        match job.take_within(self.patience) {
            Some(recording) => self.take_in(recording, began),
            None => self.replaying = Some(Replaying(job, began)),
        }
    }

    /// Takes up what was played meanwhile.
    pub(super) fn pass_replay(&mut self) {
        let Some(Replaying(job, began)) = &mut self.replaying else {
            return;
        };
        let began = *began;
        match job.take() {
            Some(recording) => self.take_in(recording, began),
            // What cannot be played leaves the picture as it was.
            None if job.is_over() => self.replaying = None,
            None => {}
        }
    }

    /// Waits for what is being played again: for whatever goes by the possession itself.
    pub fn settle(&mut self) {
        let Some(Replaying(mut job, began)) = self.replaying.take() else {
            return;
        };
        if let Some(recording) = job.take_within(Duration::MAX) {
            self.take_in(recording, began);
        }
    }

    fn take_in(&mut self, recording: Recording, began: Instant) {
        self.replaying = None;
        self.recording = recording;
        self.is_replayed(began);
    }

    fn is_replayed(&mut self, began: Instant) {
        self.replay_took = began.elapsed().as_secs_f64();
        self.time.now = self.time.now.min(self.recording.end());
        if !self.time.running {
            self.time.freeze(&self.recording);
        }
        self.put_back();
        self.lit.asked = None;
        self.forget_looks();
    }

    /// Tells the possession in the units shown.
    pub fn retell(&mut self) {
        let units = self.units();
        self.recording.tell(units);
    }
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    fn slower(edit: &Edit, hold: f64) -> Edit {
        let mut edit = edit.clone();
        edit.offence.patience.hold = hold;
        edit
    }

    #[test]
    fn the_old_picture_stays_until_the_newest_change_is_played_and_undo_leads_back() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        desk.patience = Duration::ZERO;
        let demo = desk.edit().clone();
        let old = Arc::clone(&desk.recording.scenario);
        for hold in [1.31, 1.62, 1.93] {
            desk.change(slower(&demo, hold), &format!("hold {hold}"));
            assert!(Arc::ptr_eq(&desk.recording.scenario, &old));
            assert!(desk.busy());
        }
        desk.settle();
        assert!(!desk.busy());
        assert_eq!(desk.recording.scenario.offence.patience.hold, 1.93);
        desk.undo();
        desk.undo();
        // Passed by the frames, as in the window.
        for _ in 0..6000 {
            desk.pass(0.001);
            if desk.replaying.is_none() {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        assert_eq!(desk.edit().offence.patience.hold, 1.31);
        assert_eq!(desk.recording.scenario.offence.patience.hold, 1.31);
        assert!(
            desk.recording.possession
                == play(desk.edit(), desk.seed, &[])
                    .expect("played")
                    .possession
        );
    }

    #[test]
    fn another_seed_asked_for_meanwhile_is_played_with_the_change() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        desk.patience = Duration::ZERO;
        let edit = slower(desk.edit(), 1.74);
        desk.change(edit, "hold");
        desk.to_seed(5);
        assert!(desk.replaying.is_none());
        assert_eq!(desk.recording.possession.seed, 5);
        assert_eq!(desk.recording.scenario.offence.patience.hold, 1.74);
    }
}
