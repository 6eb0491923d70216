//! A change that the why page suggests, tried: it is put on the desk as a new variation, and what it
//! brought is measured against what was there before, both played from the same seeds.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use bevy_egui::egui::{Frame, Grid, Margin, RichText, Stroke, Ui};

use super::bench::word as small;
use super::desk::Desk;
use super::differs::{self, Parts};
use super::drill;
use super::jobs::Job;
use super::palette::*;
use super::settings::Page;
use super::suggest::Suggestion;
use super::trial_words::{FIGURES, answer};
use super::variation::Edit;
use super::words::trial as says;
use crate::contest::{Comparison, Contrast, Staged, Standing, Variation};
use crate::report::contest_words as words;

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
    /// Where the change is seen: looked for from this seed on, and found, if it is seen anywhere.
    seen: Option<(u64, Job<Option<Parts>>)>,
    parts: Option<Option<Parts>>,
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
        }
    }

    /// Takes in where the change is seen, once that is found: the seed that was shown when it was asked, and where.
    fn take_parts(&mut self) -> Option<(u64, Parts)> {
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
        trial.go_on();
        trial.seen = Some((self.seed, differs::find(&base, self.edit(), self.seed)));
        self.trial = Some(trial);
        self.trial_changed();
        self.say(says::on_the_desk_undo(&suggestion.name));
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
        // Whoever has gone on to another possession meanwhile stays there.
        let found = trial.take_parts().filter(|(from, _)| *from == self.seed);
        let looks = self.page == Some(Page::Why) && self.trial.as_ref().is_some_and(|t| t.on(self));
        if let Some((_, parts)) = found.filter(|_| looks && !self.drill.asking()) {
            self.show_parts(parts);
        }
    }

    /// Both floors, a little after they have begun to differ.
    fn show_parts(&mut self, (seed, time): Parts) {
        self.show_at(seed, time + AFTER);
        self.say_here(says::possession_from_s_on(&seed, &time));
    }
}

/// Shows the suggestions and what came of the one that was tried.
pub fn show(ui: &mut Ui, desk: &mut Desk, tries: &[Suggestion]) {
    let mut wanted = None;
    let on = desk.trial.as_ref().filter(|t| t.on(desk));
    let on = on.map(|t| t.name.clone());
    let others = tries.iter().filter(|s| on.as_ref() != Some(&s.name));
    for (i, suggestion) in others.enumerate() {
        let button = ui.button(says::try_it(&suggestion.name));
        if i == 0 {
            desk.mark("try", &button);
        }
        if button.on_hover_text(says::MAKES_A_NEW_VARIATION).clicked() {
            wanted = Some(suggestion.clone());
        }
        let because = says::because_because(&suggestion.because);
        ui.label(RichText::new(because).color(QUIET).small());
        ui.add_space(3.0);
    }
    if let Some(suggestion) = wanted {
        desk.try_out(&suggestion);
    }
}

/// What the change under trial has brought so far: the verdict, the figures before and after, and the way back.
pub fn outcome(ui: &mut Ui, desk: &mut Desk) {
    let Some(trial) = &desk.trial else { return };
    let on = trial.on(desk);
    let (mut back, mut shown) = (false, None);
    Frame::new()
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
            for (text, good) in answer(trial) {
                let color = match good {
                    Some(true) => BALL,
                    Some(false) => WARN,
                    None => TEXT,
                };
                ui.label(RichText::new(text).color(color));
            }
            match trial.parts.filter(|_| on) {
                Some(Some((seed, time))) => {
                    let text = says::seen_in_possession_from(&seed, &time);
                    if ui.link(RichText::new(text).color(TEXT).small()).clicked() {
                        shown = Some((seed, time));
                    }
                }
                Some(None) => {
                    let text = says::possessions_are_played_as(&(differs::SEEDS));
                    ui.label(RichText::new(text).color(QUIET).small());
                }
                None => {}
            }
            if trial.busy() {
                let (played, all) = trial.progress();
                let text = says::playing_both_from_the(&played, &all);
                ui.label(RichText::new(text).color(QUIET).small());
            }
            table(ui, trial, desk);
        })
        .response
        .on_hover_text(says::GOLD_BETTER_ORANGE_WORSE);
    if let Some(parts) = shown.filter(|_| !drill::holds(desk)) {
        desk.show_parts(parts);
    }
    if back {
        desk.undo();
    }
}

/// The figures in rows: before, after, the difference with its interval. All rows are there before anything is known, so
/// that no answer moves what stands beside or below them.
pub fn table(ui: &mut Ui, trial: &Trial, desk: &Desk) {
    let played = trial.played();
    let units = desk.units();
    ui.spacing_mut().interact_size.y = 0.0;
    let cell =
        |ui: &mut Ui, text: &str, colour| ui.label(RichText::new(text).color(colour).small());
    let head = match played {
        0 => String::new(),
        n => says::each(&n),
    };
    Grid::new(says::BEFORE_AND_AFTER)
        .num_columns(4)
        .spacing([7.0, 3.0])
        .show(ui, |ui| {
            for text in [&head, "before", "now", says::DIFFERENCE_95_PERCENT] {
                cell(ui, text, QUIET);
            }
            ui.end_row();
            for figure in FIGURES.iter().filter(|f| !f.short.is_empty()) {
                cell(ui, figure.short, TEXT);
                let Some(known) = trial.of(figure.name) else {
                    cell(ui, says::NOT_KNOWN_YET, QUIET);
                    ui.end_row();
                    continue;
                };
                let colour = match known.more().and_then(|more| figure.good(more)) {
                    Some(true) => BALL,
                    Some(false) => WARN,
                    None => QUIET,
                };
                let ends = Some((known.low, known.high));
                let [before, now, said] =
                    words::beside(figure.unit, (known.a, known.b), ends, units);
                cell(ui, &before, TEXT);
                cell(ui, &now, TEXT);
                cell(ui, &said, colour);
                ui.end_row();
            }
        });
}
