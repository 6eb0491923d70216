//! What is on the desk is kept: for the case of a crash, and for the next time when it closes with something not saved.

use super::desk::Desk;
use super::store::{self, Kept};
use super::variation::{Edit, Variation};

impl Desk {
    /// Takes up what was on the desk, and not saved, when it last closed or ended otherwise.
    pub(super) fn recover(&mut self) {
        let Some(kept) = store::left_over(&self.folder) else {
            return;
        };
        let good = |edit: &Edit| edit.sound() && edit.scenario().is_some();
        if kept.edit == *self.variation.now() || !good(&kept.edit) {
            return;
        }
        if self.file.is_some() && self.file != kept.file {
            // Another file was asked for: what was left is not lost.
            let _ = store::put_aside(&self.folder, &kept);
            self.say("Unsaved changes of last time were put aside: see Variations.");
            return;
        }
        let how = kept.how_it_ended();
        self.open_kept(kept);
        self.say(format!("{how}. They are here again; undo takes them back."));
    }

    /// Puts what was kept on the desk, with the way back to what was saved.
    pub fn open_kept(&mut self, kept: Kept) {
        let good = |edit: &Edit| edit.sound() && edit.scenario().is_some();
        let saved = Some(kept.saved).filter(good);
        let saved = saved.unwrap_or_else(|| self.variation.now().clone());
        self.open(kept.edit.clone(), kept.file);
        self.variation = Variation::recovered(kept.edit, saved);
        self.seed = kept.seed;
        self.replay();
        let time = if kept.time.is_nan() { 0.0 } else { kept.time };
        self.time.go(time, &self.recording);
        self.keep();
    }

    /// Keeps the desk for the case of a crash.
    pub fn keep(&self) {
        self.keep_as(false);
    }

    fn keep_as(&self, closed: bool) {
        let _ = store::write_own(&self.folder, "settings.ron", &self.settings);
        if self.variation.changed() {
            let kept = self.kept();
            store::keep(&self.folder, &Kept { closed, ..kept });
        } else {
            store::forget(&self.folder);
        }
    }

    /// What is on the desk, to be kept.
    pub fn kept(&self) -> Kept {
        Kept {
            edit: self.variation.now().clone(),
            saved: self.variation.saved().clone(),
            file: self.file.clone(),
            seed: self.seed,
            time: self.time.now,
            closed: false,
        }
    }

    /// The window closes: what is not saved is on the desk again next time.
    pub fn close(&mut self) {
        self.keep_as(true);
    }
}
