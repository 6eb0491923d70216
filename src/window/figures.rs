//! The scrimmage page: figures of many possessions, refreshed in the background after each change,
//! beside those of what is saved, every one with its 95 % interval, drawn and said.

use std::cell::Cell;
use std::sync::Arc;

use bevy_egui::egui::{
    Align2, FontId, Rangef, Rect, RichText, Sense, Stroke, Ui, WidgetInfo, WidgetType, pos2, vec2,
};

use super::desk::{Desk, stopwatch};
use super::jobs::{self, Job};
use super::palette::*;
use super::variation::{Edit, Variation};
use super::words::figures as words;
use crate::court::Units;
use crate::report::numbers;
use crate::scrimmage::Figure;

/// Possessions of the first look after a change, which is to be there within 0.3 s, and of those that
/// follow it.
const STEPS: [u64; 3] = [40, 200, 1000];
/// A change settles for so long before the figures are played, seconds.
const SETTLES: f32 = 0.1;

/// The figures shown, by their names in files, with a coach's words.
const SHOWN: [(&str, &str, &str); 12] = [
    (
        "points",
        words::POINTS_PER_POSSESSION,
        words::WHAT_WAS_SCORED_THE,
    ),
    (
        "turnovers",
        words::LOST_WITHOUT_A_SHOT,
        words::POSSESSIONS_THAT_ENDED_IN,
    ),
    (
        "stalls",
        words::SPELLS_WITH_NOTHING_OPEN,
        words::PER_POSSESSION_FROM_0,
    ),
    (
        "stall_time",
        words::SECONDS_WITH_NOTHING_OPEN,
        words::ALL_THOSE_SPELLS_OF,
    ),
    (
        "backdoor_cut_there",
        words::BACKDOOR_CHANCES_THERE,
        words::PER_POSSESSION_A_CUT,
    ),
    (
        "backdoor_cut_taken",
        words::BACKDOOR_CUTS_TAKEN,
        words::PER_POSSESSION_SOMEBODY_MADE,
    ),
    (
        "backdoor_cut_fed",
        words::BACKDOOR_CUTS_FED,
        words::PER_POSSESSION_THE_CUTTER,
    ),
    (
        "lane_open_time",
        words::SECONDS_WITH_AN_OPEN,
        words::PER_POSSESSION_A_DRIVE,
    ),
    (
        "shots_rim",
        words::SHOTS_AT_THE_RIM,
        words::SHARE_OF_ALL_SHOTS,
    ),
    ("passes", words::PASSES_PER_POSSESSION, ""),
    (
        "unused_points",
        words::POINTS_LEFT_UNUSED,
        words::AT_MOST_WHAT_WAS,
    ),
    ("duration", words::LENGTH_OF_A_POSSESSION, ""),
];

/// One set of figures and the job that will give the next.
#[derive(Default)]
struct Side {
    of: Option<Edit>,
    figures: Option<(u64, Vec<Figure>)>,
    job: Option<Job<Vec<Figure>>>,
}

impl Side {
    fn begin(&mut self, edit: &Edit, possessions: u64) {
        let Some(scenario) = edit.scenario() else {
            return;
        };
        self.of = Some(edit.clone());
        self.job = Some(jobs::figures(Arc::new(scenario), possessions));
    }

    fn pass(&mut self) {
        let Some(job) = &mut self.job else { return };
        let asked = job.of;
        if let Some(figures) = job.take() {
            self.figures = Some((asked, figures));
            self.job = None;
            let more = STEPS.into_iter().find(|n| *n > asked);
            if let (Some(more), Some(edit)) = (more, self.of.clone()) {
                self.begin(&edit, more);
            }
        } else if job.is_over() {
            self.job = None;
        }
    }
}

/// What the page knows.
#[derive(Default)]
pub struct FiguresPage {
    now: Side,
    saved: Side,
    /// What the figures are shown beside, if that is not what is saved: before a change under trial.
    pub against: Option<Edit>,
    wait: Option<f32>,
    changed: Option<std::time::Instant>,
    /// Seconds from the last change to its first figures, to be printed once.
    pub took: Cell<Option<f64>>,
}

impl FiguresPage {
    /// Something was changed: play the figures again, soon. Nothing is played before they have
    /// been asked for once.
    pub fn ask(&mut self, variation: &Variation) {
        if self.now.of.is_some() && self.now.of.as_ref() != Some(variation.now()) {
            self.wait = Some(SETTLES);
            self.changed = Some(stopwatch());
            self.now.job = None;
        }
    }

    /// What the figures are shown beside.
    fn other<'a>(&'a self, variation: &'a Variation) -> &'a Edit {
        self.against.as_ref().unwrap_or(variation.saved())
    }

    /// Plays now, for the first time or again.
    pub fn run(&mut self, variation: &Variation) {
        self.wait = None;
        self.now.begin(variation.now(), STEPS[0]);
        let other = self.other(variation).clone();
        if *variation.now() != other && self.saved.of.as_ref() != Some(&other) {
            self.saved.begin(&other, STEPS[0]);
        }
    }

    /// Is it playing, or about to?
    pub fn busy(&self) -> bool {
        self.now.job.is_some() || self.saved.job.is_some() || self.wait.is_some()
    }

    /// Takes in what has been played meanwhile, and begins what was waiting; `seconds` have gone
    /// by.
    pub fn pass(&mut self, seconds: f32, variation: &Variation) {
        self.now.pass();
        self.saved.pass();
        // The second step is under way: the first is there.
        let first = |job: &Job<Vec<Figure>>| job.of == STEPS[1];
        if self.now.job.as_ref().is_some_and(first)
            && let Some(changed) = self.changed.take()
        {
            self.took.set(Some(changed.elapsed().as_secs_f64()));
        }
        if let Some(wait) = &mut self.wait {
            *wait -= seconds;
            if *wait <= 0.0 {
                self.run(variation);
            }
        }
    }

    /// The figure of that name that is shown now, if it belongs to what is on the desk.
    pub fn figure(&self, name: &str) -> Option<&Figure> {
        let (_, figures) = self.now.figures.as_ref()?;
        figures.iter().find(|f| f.name == name)
    }
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    let other = desk.figures.other(&desk.variation).clone();
    let changed = *desk.edit() != other;
    ui.label(RichText::new(words::MANY_POSSESSIONS_OF_WHAT).color(QUIET));
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        let again = desk.figures.now.figures.is_some();
        let text = if again {
            words::PLAY_AGAIN
        } else {
            words::PLAY_THE_SCRIMMAGE
        };
        let play = ui.button(text);
        desk.mark("play", &play);
        if play.clicked() {
            desk.figures.run(&desk.variation);
        }
        if let Some(job) = &desk.figures.now.job {
            ui.label(words::playing_percent(&(job.share() * 100.0)));
        } else if let Some((n, _)) = &desk.figures.now.figures {
            ui.label(words::possessions(&n));
        }
    });
    if desk.figures.now.figures.is_none() && desk.figures.now.job.is_none() {
        return;
    }
    ui.add_space(8.0);
    let fresh = desk.figures.now.of.as_ref() == Some(desk.edit());
    let before = changed && desk.figures.saved.of.as_ref() == Some(&other);
    if before {
        ui.horizontal(|ui| {
            swatch(ui, true);
            ui.label(words::NOW);
            ui.add_space(10.0);
            swatch(ui, false);
            let tried = desk.figures.against.is_some();
            ui.label(if tried {
                words::BEFORE_THE_CHANGE
            } else {
                words::AS_SAVED
            });
        });
    }
    let units = desk.units();
    for (name, words, about) in SHOWN {
        let find = |side: &Side| {
            let (_, figures) = side.figures.as_ref()?;
            figures.iter().find(|f| f.name == name).cloned()
        };
        let now = find(&desk.figures.now);
        let saved = before.then(|| find(&desk.figures.saved)).flatten();
        if let Some(now) = now {
            row(ui, words, &now, saved.as_ref(), units, fresh);
            if !about.is_empty() {
                ui.label(RichText::new(about).color(QUIET).small());
            }
            ui.add_space(3.0);
        }
    }
    ui.add_space(6.0);
    ui.label(RichText::new(words::TRUST_WHICH_OF_TWO).color(QUIET));
}

fn swatch(ui: &mut Ui, now: bool) {
    let (rect, _) = ui.allocate_exact_size(vec2(26.0, 14.0), Sense::hover());
    whisker(ui, rect, (0.5, 0.1, 0.9), now, 1.0);
}

/// One figure with its interval, and that of what is saved under it.
fn row(ui: &mut Ui, words: &str, now: &Figure, saved: Option<&Figure>, units: Units, fresh: bool) {
    let said = numbers::both(now, units);
    // The scroll bar keeps its own strip.
    let wide = ui.available_width() - 12.0;
    let size = ui.text_style_height(&bevy_egui::egui::TextStyle::Body);
    let height = size + if saved.is_some() { 34.0 } else { 22.0 };
    let (rect, response) = ui.allocate_exact_size(vec2(wide, height), Sense::hover());
    response
        .widget_info(|| WidgetInfo::labeled(WidgetType::Label, true, format!("{words}: {said}")));
    let strength = if fresh { 1.0 } else { 0.5 };
    let painter = ui.painter();
    let font = FontId::proportional(size * 0.85);
    painter.text(
        rect.left_top(),
        Align2::LEFT_TOP,
        words,
        font.clone(),
        faint(TEXT, strength),
    );
    painter.text(
        rect.right_top(),
        Align2::RIGHT_TOP,
        &said,
        font,
        faint(TEXT, strength),
    );
    let ends = |f: &Figure| {
        let value = f.value?;
        Some((value, f.low.unwrap_or(value), f.high.unwrap_or(value)))
    };
    let (Some(a), b) = (ends(now), saved.and_then(ends)) else {
        return;
    };
    // From nought (or the least end) to a little beyond the greatest.
    let most = [Some(a), b]
        .into_iter()
        .flatten()
        .map(|e| e.2)
        .fold(0.0, f64::max);
    let most = if now.unit == "share" {
        ((most * 5.0).ceil() / 5.0).clamp(0.2, 1.0)
    } else {
        round_above(most * 1.05)
    };
    let share = |e: (f64, f64, f64)| {
        let at = |x: f64| (x / most.max(1e-9)).clamp(0.0, 1.0) as f32;
        (at(e.0), at(e.1), at(e.2))
    };
    let scale = Figure {
        value: Some(most),
        ..now.clone()
    };
    let axis = ends_of_scale(ui, rect, size, &numbers::value(&scale, units));
    let line = |k: f32| {
        Rect::from_x_y_ranges(
            axis,
            (rect.top() + size + 3.0 + 13.0 * k)..=(rect.top() + size + 15.0 + 13.0 * k),
        )
    };
    ui.painter().hline(
        axis,
        line(0.0).center().y,
        Stroke::new(1.0, faint(EDGE, 0.6)),
    );
    whisker(ui, line(0.0), share(a), true, strength);
    if let Some(b) = b {
        whisker(ui, line(1.0), share(b), false, strength);
    }
}

/// Writes where the bars of a row begin and end: nought, and `most`. Returns from where to where they lie.
fn ends_of_scale(ui: &Ui, row: Rect, size: f32, most: &str) -> Rangef {
    let font = FontId::proportional(size * 0.7);
    let y = row.top() + size + 9.0;
    let write = |x: f32, align: Align2, text: &str| {
        let painter = ui.painter();
        painter.text(pos2(x, y), align, text, font.clone(), QUIET)
    };
    let nought = write(row.left(), Align2::LEFT_CENTER, "0");
    let end = write(row.right(), Align2::RIGHT_CENTER, most);
    Rangef::new(nought.right() + 4.0, end.left() - 4.0)
}

/// The least round number that is not below `x` (which is above 0).
fn round_above(x: f64) -> f64 {
    let x = x.max(1e-6);
    let mut ten = 1.0;
    while ten > x {
        ten /= 10.0;
    }
    while ten * 10.0 <= x {
        ten *= 10.0;
    }
    let steps = [1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    let fits = steps.into_iter().find(|s| s * ten >= x * (1.0 - 1e-9));
    fits.unwrap_or(10.0) * ten
}

/// An interval with its value: filled now, hollow as saved.
fn whisker(ui: &Ui, rect: Rect, (value, low, high): (f32, f32, f32), now: bool, strength: f32) {
    let x = |share: f32| rect.left() + 4.0 + (rect.width() - 8.0) * share;
    let y = rect.center().y;
    let colour = faint(if now { BALL } else { DEFENDER }, strength);
    let painter = ui.painter();
    painter.line_segment(
        [pos2(x(low), y), pos2(x(high), y)],
        Stroke::new(4.0, faint(colour, 0.55)),
    );
    for end in [low, high] {
        let stroke = Stroke::new(2.0, colour);
        painter.line_segment([pos2(x(end), y - 5.0), pos2(x(end), y + 5.0)], stroke);
    }
    let at = pos2(x(value), y);
    if now {
        painter.circle_filled(at, 5.0, colour);
    } else {
        painter.circle_filled(at, 5.0, PAPER);
        painter.circle_stroke(at, 5.0, Stroke::new(2.0, colour));
    }
}

#[cfg(test)]
mod tests {
    use super::round_above;

    #[test]
    fn a_scale_ends_at_a_round_number_beyond_its_bars_and_not_far_beyond() {
        for (x, end) in [
            (0.81, 1.0),
            (1.02, 1.2),
            (1.4, 1.5),
            (23.0, 25.0),
            (0.031, 0.04),
        ] {
            assert!(
                (round_above(x) - end).abs() < 1e-9,
                "{x}: {}",
                round_above(x)
            );
        }
        for k in 1..500 {
            let x = f64::from(k) * 0.037;
            let end = round_above(x);
            assert!(end >= x * 0.999 && end <= x * 1.35, "{x}: {end}");
        }
    }
}
