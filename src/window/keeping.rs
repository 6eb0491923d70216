//! What is on the desk is kept: for the case of a crash, and for the next time when it closes with something not saved.

use super::desk::Desk;
use super::store::{self, Kept};
use super::variation::{Edit, Variation};
use super::words::files as words;
use crate::clean;

/// Can settings, and what is not saved, be kept?
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Keeps {
    /// As far as is known.
    #[default]
    Well,
    /// No, and it has not been said.
    Cannot,
    /// No, and it has been said.
    CannotAndSaid,
}

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
            self.say(words::UNSAVED_CHANGES_OF_LAST);
            return;
        }
        let how = kept.how_it_ended();
        self.open_kept(kept);
        self.say(words::they_are_here_again(&how));
    }

    /// Puts what was kept on the desk, with the way back to what was saved.
    pub fn open_kept(&mut self, kept: Kept) {
        let good = |edit: &Edit| edit.sound() && edit.scenario().is_some();
        let saved = Some(kept.saved).filter(good);
        let saved = saved.unwrap_or_else(|| self.variation.now().clone());
        self.open_at(kept.edit.clone(), kept.file, kept.seed);
        self.variation = Variation::recovered(kept.edit, saved);
        let time = if kept.time.is_nan() { 0.0 } else { kept.time };
        self.time.go(time, &self.recording);
        self.keep();
    }

    /// Keeps the desk for the case of a crash.
    pub fn keep(&self) {
        self.keep_as(false);
    }

    fn keep_as(&self, closed: bool) {
        let settings = store::write_own(&self.folder, "settings.ron", &self.settings);
        let desk = if self.variation.changed() {
            let kept = self.kept();
            store::keep(&self.folder, &Kept { closed, ..kept })
        } else {
            store::forget(&self.folder);
            Ok(())
        };
        let known = self.keeps.get();
        self.keeps.set(match settings.and(desk) {
            Ok(()) => Keeps::Well,
            Err(_) if known == Keeps::CannotAndSaid => known,
            Err(_) => Keeps::Cannot,
        });
    }

    /// Says once that nothing can be kept, and what to do.
    pub(super) fn pass_keeping(&mut self) {
        if self.keeps.get() == Keeps::Cannot {
            self.keeps.set(Keeps::CannotAndSaid);
            let folder = clean::line(&self.folder.display().to_string());
            self.warn(words::nothing_can_be_kept(&folder));
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn settings_that_cannot_be_kept_are_said_once_and_what_to_do() {
        let folder = tempfile::tempdir().expect("a folder");
        // A file lies where the folder would be.
        let place = folder.path().join("data");
        std::fs::write(&place, "in the way").expect("written");
        let mut desk = Desk::new(store::demo(), None, place.clone());
        desk.keep();
        desk.pass_keeping();
        let said = desk.said.take().expect("said");
        assert!(said.left.is_none(), "it stays until it is read");
        assert!(
            said.text.contains(&place.display().to_string()),
            "{}",
            said.text
        );
        assert!(!said.text.contains("os error"), "{}", said.text);
        desk.keep();
        desk.pass_keeping();
        assert!(desk.said.is_none(), "once is enough");
        std::fs::remove_file(&place).expect("away");
        desk.keep();
        assert_eq!(desk.keeps.get(), Keeps::Well);
    }
}
