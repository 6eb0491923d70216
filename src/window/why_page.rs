//! The why page: who shuts what now, and, over many possessions, where it stalls and what light is
//! never used. A line that has an example leads to it.

use std::sync::Arc;

use bevy_egui::egui::{RichText, Ui};

use super::desk::Desk;
use super::drill;
use super::jobs::{self, Job};
use super::moment;
use super::now;
use super::offence_page::heading;
use super::palette::*;
use super::suggest::{Suggestion, suggestions};
use super::trial;
use super::variation::Edit;
use super::why_glance;
use super::words::why as words;
use crate::offence::LookKind;
use crate::possession::LookNow;
use crate::report::why::{In, bare};
use crate::sim::shut_by;
use crate::why::summary::{Light, Story};
use crate::why::{Rival, Summary, rivals};

/// What a stall is.
pub const STALL: &str = words::A_STALL_THE_PLAYER;
/// Possessions that are looked into.
const POSSESSIONS: u64 = 300;
/// Lines of each kind that are shown.
const MOST: usize = 8;

/// What the page knows.
#[derive(Default)]
pub struct WhyPage {
    summary: Option<Summary>,
    job: Option<Job<Summary>>,
    /// What was looked into, and what could be tried with it.
    of: Option<Edit>,
    suggestions: Vec<Suggestion>,
}

impl WhyPage {
    /// Is it looking?
    pub fn busy(&self) -> bool {
        self.job.is_some()
    }

    /// What was found, if it was looked for.
    pub fn summary(&self) -> Option<&Summary> {
        self.summary.as_ref()
    }

    /// Is it about what is on the desk?
    fn fresh(&self, now: &Edit) -> bool {
        self.of.as_ref().is_some_and(|of| now.plays_as(of))
    }

    /// Takes in what was found, once it is there.
    pub fn pass(&mut self) {
        let Some(job) = &mut self.job else { return };
        if let Some(summary) = job.take() {
            let of = self.of.as_ref();
            self.suggestions = of.map_or_else(Vec::new, |of| suggestions(of, &summary));
            self.summary = Some(summary);
            self.job = None;
        } else if job.is_over() {
            self.job = None;
        }
    }
}

/// Where other models would have the defenders.
pub fn models(desk: &Desk) -> Vec<Rival> {
    rivals(&desk.recording.scenario)
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let fresh = desk.why.fresh(desk.edit());
    ui.horizontal(|ui| {
        let text = if desk.why.summary.is_some() {
            words::LOOK_AGAIN
        } else {
            words::LOOK_INTO_IT
        };
        let look = ui.button(text);
        desk.mark("look", &look);
        if look.clicked()
            && let Some(scenario) = desk.edit().scenario()
        {
            desk.why.job = Some(jobs::why(Arc::new(scenario), POSSESSIONS));
            desk.why.of = Some(desk.edit().clone());
        }
        if let Some(job) = &desk.why.job {
            ui.label(words::looking_percent(&(job.share() * 100.0)));
        } else if desk.why.summary.is_some() && !fresh {
            ui.label(RichText::new(words::FOUND_BEFORE_THE_LAST).color(WARN));
        }
    });
    let Some(summary) = desk.why.summary.clone() else {
        let text = words::plays_possessions_and_says(&POSSESSIONS);
        ui.label(RichText::new(text).color(QUIET));
        heading(ui, words::AT_THIS_MOMENT);
        now(ui, desk);
        return;
    };
    let defence = desk
        .why
        .of
        .as_ref()
        .map_or("", |of| &of.defence.name)
        .to_owned();
    let mut wanted = why_glance::show(ui, &summary, &defence);
    let tried = desk.trial.as_ref();
    let on_trial = tried.is_some_and(|t| t.on(desk) && desk.why.fresh(t.base()));
    let tries = (fresh || on_trial) && desk.why.job.is_none();
    if tries || desk.trial.is_some() {
        heading(ui, words::MOST_WORTH_TRYING);
    }
    if tries {
        let tries = desk.why.suggestions.clone();
        wanted = trial::show(ui, desk, &tries).or(wanted);
    }
    // Below what was pressed, and the page turns to it.
    trial::outcome(ui, desk);
    heading(ui, words::AT_THIS_MOMENT);
    now(ui, desk);
    heading(ui, words::WHERE_IT_STALLS_ONE);
    ui.label(RichText::new(STALL).color(QUIET).small());
    for story in why_glance::most(&summary).into_iter().take(MOST) {
        stall(ui, story, desk, &mut wanted);
    }
    heading(ui, words::OPEN_NEVER_USED);
    for light in summary.unused.iter().take(MOST) {
        unused(ui, light, desk, &mut wanted);
    }
    heading(ui, words::WHO_SHUTS_WHAT);
    closers(ui, &summary, desk, &mut wanted);
    watch(desk, wanted);
}

/// Shows the possession of an example at its time.
pub fn watch(desk: &mut Desk, wanted: Option<(u64, f64)>) {
    if let Some((seed, time)) = wanted.filter(|_| !drill::holds(desk)) {
        desk.show_at(seed, time);
        // The time that the strip has: that of the decision nearest to it.
        desk.say_here(words::possession_at_s(&seed, &desk.time.now));
    }
}

fn now(ui: &mut Ui, desk: &mut Desk) {
    let looks: Vec<LookNow> = desk.looks().to_vec();
    if looks.is_empty() {
        ui.label(RichText::new(now::now(desk).words()).color(QUIET));
        return;
    }
    let (gave, used_up) = (now::gave(desk), now::dribble_is_used_up(desk));
    let drives = now::drives(desk);
    for look in looks {
        let text = now::name(&look, gave);
        let state = match shut_by(&look) {
            // Whoever has used the dribble up drives no more, whatever the rules say.
            _ if used_up && look.kind == LookKind::Drive => words::NO_DRIBBLE_LEFT.to_owned(),
            // A drive that goes on is no look that somebody shuts.
            _ if drives && look.kind == LookKind::Drive => words::UNDER_WAY.to_owned(),
            Some(c) if look.allowed => words::shut_by_x(&c.defender, &moment::doing(&c)),
            Some(c) => {
                let (x, duty) = (c.defender, moment::doing(&c));
                words::shut_by_x_and(&x, &duty, &(moment::NEVER))
            }
            None => moment::state(&look),
        };
        let colour = if look.open { BALL } else { TEXT };
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(format!("{text}:")).color(colour).strong());
            ui.label(state);
        });
    }
    ui.label(RichText::new(words::HOW_TO_READ_IT).color(QUIET).small());
}

fn said(e: &Option<crate::stats::Estimate>, unit: In, desk: &Desk) -> String {
    match e {
        Some(e) => words::to(
            &bare(e.value, unit, desk.units()),
            &bare(e.low.max(0.0), unit, desk.units()),
            &bare(e.high, unit, desk.units()),
        ),
        None => "–".into(),
    }
}

fn line(ui: &mut Ui, title: &str, detail: &str, leads: bool) -> bool {
    let shown = if leads {
        words::show(&title)
    } else {
        title.to_string()
    };
    let clicked = if leads {
        ui.link(RichText::new(shown).color(TEXT).strong()).clicked()
    } else {
        ui.label(RichText::new(shown).strong());
        false
    };
    ui.label(RichText::new(detail).color(QUIET).small());
    ui.add_space(4.0);
    clicked
}

fn stall(ui: &mut Ui, story: &Story, desk: &Desk, wanted: &mut Option<(u64, f64)>) {
    let title = words::with_the_ball_at(&story.at.words(), &story.lately.words());
    let mut detail = words::of_all_stalled_time(&said(&story.share, In::Percent, desk));
    if let Some(rule) = &story.rule {
        detail += &words::the_last_rule_was(&rule);
    }
    if let Some((look, seat, _)) = &story.shut {
        detail += &words::the_is_shut_by(&look.word(), &seat.who());
    }
    if line(ui, &title, &detail, true) {
        *wanted = Some(story.example);
    }
}

fn unused(ui: &mut Ui, light: &Light, desk: &Desk, wanted: &mut Option<(u64, f64)>) {
    let at = light
        .at
        .map_or(String::new(), |w| format!(", {}", w.words()));
    let title = format!("{}{at}", light.look.word());
    let detail = words::there_in_of_possessions(
        &said(&light.there, In::Percent, desk),
        &said(&light.adds, In::PointsPerHundred, desk),
    );
    if line(ui, &title, &detail, light.example.is_some()) {
        *wanted = light.example;
    }
}

fn closers(ui: &mut Ui, summary: &Summary, desk: &Desk, wanted: &mut Option<(u64, f64)>) {
    let mut looks: Vec<_> = summary
        .looks
        .iter()
        .filter(|l| !l.closers.is_empty())
        .collect();
    let seen = |l: &crate::why::summary::LookWhy| l.seen.map_or(0.0, |e| e.value);
    looks.sort_by(|a, b| seen(b).total_cmp(&seen(a)));
    for look in looks.into_iter().take(MOST) {
        let closer = &look.closers[0];
        let title = words::open_open(&look.site.short(), &said(&look.open, In::Percent, desk));
        let midline = closer.midline.is_some_and(|m| m.value > 0.5);
        let detail = words::shut_mostly_by_in(
            &closer.seat.who(),
            &closer.seat.doing(midline),
            &said(&closer.share, In::Percent, desk),
        );
        if line(ui, &title, &detail, closer.example.is_some()) {
            *wanted = closer.example;
        }
    }
}
