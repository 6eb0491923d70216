//! What the window says of what has just been done: for some seconds, or until what it is about is
//! over; an error that somebody has to act on stays until it is dismissed.

use super::desk::Desk;

/// Something said.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// The words.
    pub text: String,
    /// Seconds that it is still shown; `None`: until it is dismissed.
    pub left: Option<f32>,
    /// The possession and time that it is about, if it is about a moment.
    pub about: Option<(u64, f64)>,
}

/// Farther from its moment than this a word about it is over, seconds of the possession.
const OVER: f64 = 3.0;

/// How long a text is shown: long enough to be read twice, seconds (ours).
fn reads(text: &str) -> f32 {
    (2.5 + 0.07 * text.chars().count() as f32).clamp(4.0, 10.0)
}

impl Desk {
    /// Says something for a while.
    pub fn say(&mut self, text: impl Into<String>) {
        let text = text.into();
        let left = Some(reads(&text));
        self.said = Some(Said {
            text,
            left,
            about: None,
        });
    }

    /// Something else is done: what was said in passing is over.
    pub fn hush(&mut self) {
        if self.said.as_ref().is_some_and(|s| s.left.is_some()) {
            self.said = None;
        }
    }

    /// Says something about the moment that is shown: it is over when the moment is.
    pub fn say_here(&mut self, text: impl Into<String>) {
        self.say(text);
        let here = (self.seed, self.time.now);
        if let Some(said) = &mut self.said {
            said.about = Some(here);
        }
    }

    /// Says that something went wrong that somebody has to act on: it stays until it is dismissed.
    pub fn warn(&mut self, text: impl Into<String>) {
        self.said = Some(Said {
            text: text.into(),
            left: None,
            about: None,
        });
    }

    /// Time goes by for the hint that is shown; each has its own.
    pub(super) fn hint_passes(&mut self, seconds: f32) {
        if self.hint_shown != self.settings.hint {
            (self.hint_shown, self.hinted) = (self.settings.hint, 0.0);
        }
        if self.page.is_none() {
            self.hinted += seconds;
        }
    }

    /// Time goes by for what is said. True while it will go away by itself.
    pub(super) fn pass_said(&mut self, seconds: f32) -> bool {
        let Some(said) = &mut self.said else {
            return false;
        };
        if let Some(left) = &mut said.left {
            *left -= seconds;
        }
        let late = said.left.is_some_and(|left| left <= 0.0);
        let past = said
            .about
            .is_some_and(|(seed, time)| seed != self.seed || (self.time.now - time).abs() > OVER);
        let timed = said.left.is_some();
        if late || past {
            self.said = None;
        }
        timed
    }
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    #[test]
    fn a_word_goes_away_after_some_seconds_or_with_its_moment_and_an_error_stays() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        desk.say("Opened: the demo.");
        desk.pass_said(3.9);
        assert!(desk.said.is_some());
        desk.pass_said(0.2);
        assert!(desk.said.is_none());
        desk.time.running = false;
        desk.say_here("Seed 1: it stalls.");
        desk.time.go(1.0, &desk.recording);
        desk.pass_said(0.1);
        assert!(desk.said.is_some());
        desk.time.go(9.0, &desk.recording);
        desk.pass_said(0.1);
        assert!(desk.said.is_none());
        desk.warn("It cannot be written.");
        desk.pass_said(1000.0);
        assert!(desk.said.is_some());
    }
}
