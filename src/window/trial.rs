//! A change that the why page suggests, tried: it is put on the desk as a new variation, and what it
//! brought is measured against what was there before, both played from the same seeds.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use bevy_egui::egui::style::ScrollAnimation;
use bevy_egui::egui::{Align, Button, Frame, Margin, RichText, Stroke, TextStyle, Ui};

use super::bench::word as small;
use super::clock::{NEAR, Time};
use super::desk::Desk;
use super::differs::{self, Parts};
use super::drill;
use super::jobs::Job;
use super::palette::*;
use super::settings::Page;
use super::suggest::Suggestion;
use super::trial_table;
use super::trial_words::FIGURES;
use super::variation::Edit;
use super::verdict;
use super::words::trial as says;
use crate::contest::{Comparison, Contrast, Staged, Standing, Variation};

/// Possessions of each side after which a trial is looked at.
const LOOKS: [u64; 6] = [50, 100, 200, 400, 800, 1600];

/// So long after they part two floors are shown, seconds: what differs is plain then.
const AFTER: f64 = 0.8;

/// A change under trial.
pub struct Trial {
    /// What the change is called.
    pub name: String,
    base: Edit,
    changed: Edit,
    /// The file that the base was saved in: the new variation has none yet.
    file: Option<PathBuf>,
    staged: Staged,
    /// What is played so far; while the job runs, it has it.
    played: Option<Comparison>,
    job: Option<Job<Comparison>>,
    /// Threads that it is played on; 0: as many as the machine has.
    threads: usize,
    /// Where the change is seen: looked for from this seed on, which was shown at this time, and found, if it is seen
    /// anywhere.
    seen: Option<((u64, Time), Job<Option<Parts>>)>,
    parts: Option<Option<Parts>>,
    /// It has just been asked for: the page is to turn to its answer.
    seek: bool,
}

impl Trial {
    /// Is the comparison still running?
    pub fn busy(&self) -> bool {
        self.job.is_some()
    }

    /// What was on the desk before.
    pub fn base(&self) -> &Edit {
        &self.base
    }

    /// What it was changed into.
    pub fn changed(&self) -> &Edit {
        &self.changed
    }

    /// Is the change on the desk now?
    pub fn on(&self, desk: &Desk) -> bool {
        *desk.edit() == self.changed
    }

    /// What is known of a figure, by its name in files.
    pub fn of(&self, name: &str) -> Option<&Standing> {
        self.staged.of(name)
    }

    /// What was on the desk before, against what is there now: looked at after so many possessions of each, and played
    /// behind everything else.
    pub fn between(name: &str, base: &Edit, changed: &Edit, looks: &'static [u64]) -> Trial {
        Trial {
            name: name.to_owned(),
            base: base.clone(),
            changed: changed.clone(),
            file: None,
            staged: Staged::new(looks, FIGURES.iter().map(|f| f.name).collect()),
            played: None,
            job: None,
            threads: 1,
            seen: None,
            parts: None,
            seek: false,
        }
    }

    /// Takes in where the change is seen, once that is found: what was shown when it was asked, and where.
    fn take_parts(&mut self) -> Option<((u64, Time), Parts)> {
        let (from, job) = self.seen.as_mut()?;
        let from = *from;
        let answer = job.take();
        if answer.is_some() || job.is_over() {
            self.seen = None;
        }
        self.parts = answer;
        Some((from, answer??))
    }

    /// How many possessions of each side have been compared at the last look; 0 before the first.
    pub fn played(&self) -> u64 {
        self.staged.played()
    }

    /// Have all possessions been played that are planned?
    pub fn whole(&self) -> bool {
        self.staged.next().is_none()
    }

    /// How many possessions of each side are played by now, and how many it will be.
    pub fn progress(&self) -> (u64, u64) {
        let running = self.job.as_ref().map_or(0, |job| job.done() / 2);
        (running.max(self.played()), self.staged.most())
    }

    /// Takes in what was played for the next look. True if there was something.
    pub fn take(&mut self) -> bool {
        let Some(job) = &mut self.job else {
            return false;
        };
        let answer = job.take();
        if answer.is_some() || job.is_over() {
            self.job = None;
        }
        let Some(played) = answer else { return false };
        self.staged.look(&played);
        self.played = Some(played);
        true
    }

    /// Plays on to the next look, if there is one and nothing is being played.
    pub fn go_on(&mut self) {
        if self.job.is_some() {
            return;
        }
        let (Some(next), Some(base), Some(changed)) = (
            self.staged.next(),
            self.base.scenario(),
            self.changed.scenario(),
        ) else {
            return;
        };
        let contrast = [Contrast {
            base: 0,
            changed: 1,
        }];
        let so_far = self.played.take();
        let mut comparison = so_far.unwrap_or_else(|| Comparison::before(1, &contrast));
        let threads = self.threads;
        self.job = Some(Job::start("trial", 2 * next, move |stop, done| {
            let both = [
                Variation::new("before", base),
                Variation::new(says::WITH_IT, changed),
            ];
            let count = |n: u64| {
                done.fetch_max(n, Ordering::Relaxed);
            };
            comparison
                .go_on(&both, (next, threads), &count, stop)
                .ok()?;
            (!comparison.interrupted).then_some(comparison)
        }));
    }
}

impl Desk {
    /// Puts a suggested change on the desk as a new variation and measures what it brings.
    pub fn try_out(&mut self, suggestion: &Suggestion) {
        // Of several suggestions each is tried on what was there before any of them.
        let under_trial = self.trial.as_ref().filter(|t| *self.edit() == t.changed);
        if under_trial.is_some() {
            self.undo();
        }
        let base = self.edit().clone();
        let mut edit = suggestion.edit.clone();
        edit.name = says::tried(&base.name, &suggestion.name);
        edit.practice = base.practice.clone();
        let file = self.file.clone();
        self.change(edit, &says::try_word(&suggestion.name));
        if *self.edit() == base {
            return;
        }
        // A new variation: saving it asks for a name, and leaves the old file alone.
        self.file = None;
        let mut trial = Trial::between(&suggestion.name, &base, self.edit(), &LOOKS);
        trial.file = file;
        trial.threads = 0;
        trial.seek = true;
        trial.go_on();
        let shown = (self.seed, self.time);
        trial.seen = Some((shown, differs::find(&base, self.edit(), self.seed)));
        self.trial = Some(trial);
        self.trial_changed();
        self.say(says::put_in(&suggestion.name));
    }

    /// The desk has changed: back at the base, its file is its own again.
    pub(super) fn trial_changed(&mut self) {
        let Some(trial) = &self.trial else { return };
        if *self.variation.now() == trial.base {
            self.file.clone_from(&trial.file);
        } else if *self.variation.now() == trial.changed {
            self.file = None;
        }
        let on = *self.variation.now() == trial.changed;
        self.figures.against = on.then(|| trial.base.clone());
    }

    pub(super) fn trial_pass(&mut self) {
        let Some(trial) = &mut self.trial else { return };
        if trial.take() {
            trial.go_on();
        }
        // Whoever has gone on to another possession or another time meanwhile, or has moved somebody, stays there.
        let found = trial.take_parts().filter(|(shown, _)| {
            // (What is played anew freezes at its own nearest decision.)
            let (then, now) = (shown.1, self.time);
            let near = (then.now - now.now).abs() < NEAR;
            let left = then.running == now.running && (now.running || near);
            shown.0 == self.seed && left && self.moved.iter().all(Option::is_none)
        });
        let looks = self.page == Some(Page::Why) && self.trial.as_ref().is_some_and(|t| t.on(self));
        if let Some((_, parts)) = found.filter(|_| looks && !self.drill.asking()) {
            self.show_parts(parts);
        }
    }

    /// Both floors, a little after they have begun to differ.
    fn show_parts(&mut self, (seed, time): Parts) {
        self.show_at(seed, time + AFTER);
        let now = self.time.now;
        self.say_here(says::possession_the_floors_part(&seed, &now, &time));
    }
}

/// Shows the suggestions. Returns the possession and time, seconds, of an example that was pressed.
pub fn show(ui: &mut Ui, desk: &mut Desk, tries: &[Suggestion]) -> Option<(u64, f64)> {
    let (mut wanted, mut watched) = (None, None);
    let on = desk.trial.as_ref().filter(|t| t.on(desk));
    let on = on.map(|t| t.name.clone());
    for (i, suggestion) in tries.iter().enumerate() {
        // What is on trial keeps its place: nothing moves under the pointer that has pressed it.
        let tried = on.as_ref() == Some(&suggestion.name);
        let text = RichText::new(says::try_it(&suggestion.name));
        let (text, edge) = if tried {
            (text.color(BALL), BALL)
        } else {
            (text, EDGE)
        };
        let button = ui.add(Button::new(text).stroke(Stroke::new(1.0, edge)).wrap());
        if i == 0 {
            desk.mark("try", &button);
        }
        if button.on_hover_text(says::MAKES_A_NEW_VARIATION).clicked() {
            match &mut desk.trial {
                Some(trial) if tried => trial.seek = true,
                _ => wanted = Some(suggestion.clone()),
            }
        }
        let because = says::because_because(&suggestion.because, &suggestion.brings.words());
        let because = RichText::new(because).color(QUIET).small();
        match suggestion.example {
            None => drop(ui.label(because)),
            Some(example) => {
                let leads = ui.link(because).on_hover_text(says::WATCH_IT);
                watched = leads.clicked().then_some(example).or(watched);
            }
        }
        ui.add_space(3.0);
    }
    if let Some(suggestion) = wanted {
        desk.try_out(&suggestion);
    }
    watched
}

/// What the change under trial has brought so far: the way back, the verdict, the figures before and after. What can be
/// pressed stands above what grows with the answer.
pub fn outcome(ui: &mut Ui, desk: &mut Desk) {
    let asked = desk.trial.as_mut();
    let seek = asked.is_some_and(|trial| std::mem::take(&mut trial.seek));
    let Some(trial) = &desk.trial else { return };
    let on = trial.on(desk);
    let (mut back, mut shown) = (false, None);
    let whole = Frame::new()
        .stroke(Stroke::new(1.0, BALL))
        .corner_radius(6.0)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                let tried = says::tried_name(&trial.name);
                ui.label(RichText::new(tried).color(BALL));
                if on {
                    back = small(ui, says::TAKE_IT_BACK, false, says::CTRL_Z).clicked();
                } else {
                    ui.label(RichText::new(says::IT_IS_NOT_ON).color(QUIET).small());
                }
            });
            match trial.parts {
                _ if !on => {}
                Some(Some((seed, time))) => {
                    let text = says::in_possession_they_part(&seed, &time);
                    if ui.link(RichText::new(text).color(TEXT).small()).clicked() {
                        shown = Some((seed, time));
                    }
                }
                Some(None) => {
                    let text = says::possessions_are_played_as(&(differs::SEEDS));
                    ui.label(RichText::new(text).color(QUIET).small());
                }
                // There is room for it before it is known.
                None => {
                    ui.label(RichText::new(says::NOT_KNOWN_YET).color(QUIET).small());
                }
            }
            let (played, all) = trial.progress();
            let text = match trial.busy() {
                true => says::playing_of(&played, &all),
                false => says::played_of(&played),
            };
            ui.label(RichText::new(text).color(QUIET).small());
            verdict::show(ui, trial, &TextStyle::Body, ROWS);
            trial_table::show(ui, trial, desk);
        })
        .response
        .on_hover_text(says::WHAT_THE_WORDS_MEAN);
    if seek {
        // At once, and to its top: all of it has room below.
        whole.scroll_to_me_animation(Some(Align::Min), ScrollAnimation::none());
    }
    if let Some(parts) = shown.filter(|_| !drill::holds(desk)) {
        desk.show_parts(parts);
    }
    if back {
        desk.undo();
    }
}

/// Rows of the verdict for which there is room from the start.
const ROWS: usize = 4;

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::super::suggest::Brings;
    use super::super::variation::allow;
    use super::*;
    use crate::offence::LookKind;
    use std::thread::sleep;
    use std::time::Duration;

    /// What is on the floor where the change is seen, if somebody has gone to `to` meanwhile.
    fn shown(to: Option<f64>) -> (f64, Option<Parts>) {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        desk.settings.reduced_motion = true;
        desk.page = Some(Page::Why);
        desk.time.running = false;
        let mut edit = desk.edit().clone();
        allow(&mut edit.offence, LookKind::Skip, true);
        let (name, because) = ("Skip".to_owned(), String::new());
        desk.try_out(&Suggestion {
            name,
            because,
            brings: Brings::Seconds(1.0),
            example: None,
            edit,
        });
        if let Some(to) = to {
            let recording = &desk.recording;
            desk.time.go(to, recording);
        }
        for _ in 0..6000 {
            desk.trial_pass();
            if desk.trial.as_ref().is_some_and(|t| t.seen.is_none()) {
                break;
            }
            sleep(Duration::from_millis(10));
        }
        let parts = desk.trial.as_ref().and_then(|t| t.parts).flatten();
        (desk.time.now, parts)
    }

    #[test]
    fn a_trial_shows_where_the_change_is_seen_but_not_to_whoever_looks_at_another_moment_meanwhile()
    {
        let (now, parts) = shown(None);
        let (_, time) = parts.expect("seen somewhere");
        assert!((now - time - AFTER).abs() < 0.17, "{now} {time}");
        assert_eq!(shown(Some(1.0)).0, 1.0);
    }
}
