//! A change that the why page suggests, tried: it is put on the desk as a new variation, and what it
//! brought is measured against what was there before, both played from the same seeds.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use bevy_egui::egui::{Frame, Grid, Margin, RichText, Stroke, Ui};

use super::bench::word as small;
use super::desk::Desk;
use super::jobs::Job;
use super::palette::*;
use super::suggest::Suggestion;
use super::variation::Edit;
use crate::contest::compare::Verdict;
use crate::contest::{Contest, Contrast, Difference, Variation, yardsticks};
use crate::report::contest_words as words;

/// Possessions of each variation: a first look, then enough to tell more.
const STEPS: [u64; 2] = [200, 1000];

/// The figures told, with a coach's words.
const TOLD: [(&str, &str); 4] = [
    ("points", "Points per possession"),
    ("promised_points", "Points that the shots promise"),
    ("stall_time", "Seconds stalled per possession"),
    ("turnovers", "Lost without a shot"),
];

type Differences = Vec<Difference>;

/// A change under trial.
pub struct Trial {
    /// What the change is called.
    pub name: String,
    base: Edit,
    changed: Edit,
    /// The file that the base was saved in: the new variation has none yet.
    file: Option<PathBuf>,
    job: Option<Job<Differences>>,
    found: Option<(u64, Differences)>,
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

    /// Possessions of each side, and the difference of a figure by its name.
    pub fn difference(&self, name: &str) -> Option<(u64, &Difference)> {
        let (n, found) = self.found.as_ref()?;
        let list = yardsticks();
        let found = found.iter().find(|d| list[d.yardstick].name == name)?;
        Some((*n, found))
    }

    /// What was on the desk before, against what is there now.
    pub fn between(name: &str, base: &Edit, changed: &Edit) -> Trial {
        Trial {
            name: name.to_owned(),
            base: base.clone(),
            changed: changed.clone(),
            file: None,
            job: None,
            found: None,
        }
    }

    /// Has the comparison begun, or been made?
    pub fn begun(&self) -> bool {
        self.job.is_some() || self.found.is_some()
    }

    /// How many possessions of each side have been compared; `None` before the first comparison is made.
    pub fn played(&self) -> Option<u64> {
        self.found.as_ref().map(|(n, _)| *n)
    }

    /// Takes in a comparison that was made, and begins the next of `steps`, possessions of each side.
    pub fn advance(&mut self, steps: &[u64]) {
        let Some(job) = &mut self.job else { return };
        let played = job.of / 2;
        if let Some(found) = job.take() {
            self.found = Some((played, found));
            self.job = None;
            if let Some(more) = steps.iter().find(|n| **n > played) {
                self.begin(*more);
            }
        } else if job.is_over() {
            self.job = None;
        }
    }

    /// Begins to compare so many possessions of each side.
    pub fn begin(&mut self, possessions: u64) {
        let (Some(base), Some(changed)) = (self.base.scenario(), self.changed.scenario()) else {
            return;
        };
        self.job = Some(Job::start("trial", 2 * possessions, move |stop, done| {
            let both = [
                Variation::new("before", base),
                Variation::new("with it", changed),
            ];
            let contest = Contest {
                first_seed: 1,
                possessions,
                threads: 1,
            };
            let contrast = [Contrast {
                base: 0,
                changed: 1,
            }];
            let count = |n: u64| {
                done.fetch_max(n, Ordering::Relaxed);
            };
            let found = contest.run(&both, &contrast, &count, stop).ok()?;
            (!found.interrupted).then(|| found.differences().into_iter().next().unwrap_or_default())
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
        edit.name = format!("{}, tried: {}", base.name, suggestion.name);
        edit.practice = base.practice.clone();
        let file = self.file.clone();
        self.change(edit, &format!("try {}", suggestion.name));
        if *self.edit() == base {
            return;
        }
        // A new variation: saving it asks for a name, and leaves the old file alone.
        self.file = None;
        let mut trial = Trial {
            name: suggestion.name.clone(),
            base,
            changed: self.edit().clone(),
            file,
            job: None,
            found: None,
        };
        trial.begin(STEPS[0]);
        self.trial = Some(trial);
        self.trial_changed();
        self.figures.run(&self.variation);
        self.say(format!(
            "On the desk: {}. Undo (Ctrl+Z) takes it back.",
            suggestion.name
        ));
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
        if let Some(trial) = &mut self.trial {
            trial.advance(&STEPS);
        }
    }
}

/// Shows the suggestions and what came of the one that was tried.
pub fn show(ui: &mut Ui, desk: &mut Desk, tries: &[Suggestion]) {
    let mut wanted = None;
    let on = desk.trial.as_ref().filter(|t| t.on(desk));
    let on = on.map(|t| t.name.clone());
    let others = tries.iter().filter(|s| on.as_ref() != Some(&s.name));
    for (i, suggestion) in others.enumerate() {
        let button = ui.button(format!("Try it: {}", suggestion.name));
        if i == 0 {
            desk.mark("try", &button);
        }
        if button
                .on_hover_text("Makes a new variation with this change and plays both from the same seeds. Undo takes it back.")
                .clicked()
            {
                wanted = Some(suggestion.clone());
            }
        let because = format!("Because {}.", suggestion.because);
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
    let mut back = false;
    Frame::new()
        .stroke(Stroke::new(1.0, BALL))
        .corner_radius(6.0)
        .inner_margin(Margin::symmetric(10, 6))
        .show(ui, |ui| {
            ui.horizontal_wrapped(|ui| {
                let tried = format!("Tried: {}", trial.name);
                ui.label(RichText::new(tried).color(BALL));
                if on {
                    back = small(ui, "Take it back", false, "Ctrl+Z").clicked();
                } else {
                    ui.label(RichText::new("It is not on the desk now.").color(QUIET).small());
                }
            });
            if let Some((text, good)) = verdict(trial) {
                let color = match good {
                    Some(true) => BALL,
                    Some(false) => WARN,
                    None => TEXT,
                };
                ui.label(RichText::new(text).color(color).strong());
            }
            if let Some(job) = &trial.job {
                let text = format!(
                    "Playing both, {} possessions each, same seeds … {:.0} %",
                    job.of / 2,
                    job.share() * 100.0
                );
                ui.label(RichText::new(text).color(QUIET).small());
            }
            table(ui, trial, desk);
        })
        .response
        .on_hover_text("Gold: better by more than luck mostly brings. Orange: worse by as much. Grey: the difference may be luck.");
    if back {
        desk.undo();
    }
}

/// The figures in rows: before, after, the difference with its interval.
pub fn table(ui: &mut Ui, trial: &Trial, desk: &Desk) {
    let Some((n, _)) = &trial.found else { return };
    let (list, units) = (yardsticks(), desk.units());
    ui.spacing_mut().interact_size.y = 0.0;
    let cell =
        |ui: &mut Ui, text: &str, colour| ui.label(RichText::new(text).color(colour).small());
    Grid::new("before and after")
        .num_columns(4)
        .spacing([7.0, 3.0])
        .show(ui, |ui| {
            cell(ui, &format!("{n} each"), QUIET);
            for text in ["before", "now", "difference, 95\u{a0}%"] {
                cell(ui, text, QUIET);
            }
            ui.end_row();
            for (name, said) in SHORT {
                let Some((_, d)) = trial.difference(name) else {
                    continue;
                };
                let y = &list[d.yardstick];
                let colour = match (told(d), words::better(y, d)) {
                    (true, Some(true)) => BALL,
                    (true, Some(false)) => WARN,
                    _ => QUIET,
                };
                cell(ui, said, TEXT);
                cell(ui, &words::plain(y.unit, d.found.a, units), TEXT);
                cell(ui, &words::plain(y.unit, d.found.b, units), TEXT);
                cell(ui, &words::difference(y, d, units), colour);
                ui.end_row();
            }
        });
}

/// The same figures where there is little room.
const SHORT: [(&str, &str); 4] = [
    ("points", "Points"),
    ("promised_points", "Shots promise"),
    ("stall_time", "Stalled"),
    ("turnovers", "Lost"),
];

/// Is the difference more than luck alone mostly brings?
fn told(d: &Difference) -> bool {
    matches!(d.verdict, Verdict::Sure | Verdict::Perhaps)
}

/// All figures in one sentence, and whether it is good news: once all possessions are played, so that no more of them
/// take it back.
fn verdict(trial: &Trial) -> Option<(String, Option<bool>)> {
    let list = yardsticks();
    if trial.played()? < STEPS[STEPS.len() - 1] {
        return Some(("Too early to tell: more is being played.".into(), None));
    }
    // Each figure: better, worse, or not told apart.
    let all: Vec<(&str, Option<bool>)> = TOLD
        .iter()
        .filter_map(|(name, said)| {
            let (_, d) = trial.difference(name)?;
            let way = words::better(&list[d.yardstick], d).filter(|_| told(d));
            Some((*said, way))
        })
        .collect();
    let which = |way: Option<bool>| {
        let said = all.iter().filter(|f| f.1 == way);
        let said: Vec<String> = said.map(|f| f.0.to_lowercase()).collect();
        said.join(", ")
    };
    let (better, worse, same) = (which(Some(true)), which(Some(false)), which(None));
    let rest = if same.is_empty() {
        String::new()
    } else {
        format!(" No difference shown in: {same}.")
    };
    Some(match (better.is_empty(), worse.is_empty()) {
        (false, true) => (format!("It helps: {better}.{rest}"), Some(true)),
        (true, false) => (
            format!("It makes things worse: {worse}. Take it back.{rest}"),
            Some(false),
        ),
        (false, false) => (format!("Better: {better}. Worse: {worse}.{rest}"), None),
        (true, true) => ("No difference that luck could not make.".into(), None),
    })
}
