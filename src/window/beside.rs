//! The floor as it was before a change under trial, beside the floor with it: the same seed at the same time, so that
//! both play in step.

use bevy_egui::egui::{Align2, FontId, Rect, Ui, pos2, vec2};

use super::desk::Desk;
use super::jobs::Job;
use super::lighting::Lit;
use super::palette::*;
use super::recording::Recording;
use super::replay::played_behind;
use super::settings::Page;
use super::view::View;
use super::words::trial as words;
use super::{boards, moment, paint, words_on_floor};
use crate::court::Vec2;
use crate::looks::BODIES;

/// Bodies on two floors that share the room are drawn so much larger.
const LARGER: f32 = 1.4;

/// The possession as it was before, if it is to be seen.
#[derive(Default)]
pub struct Beside {
    /// The trial and the seed.
    of: Option<(String, u64)>,
    job: Option<Job<Recording>>,
    other: Option<Other>,
}

/// All that is shown of a possession.
struct Other {
    recording: Recording,
    moved: [Option<Vec2>; BODIES],
    /// Nobody is ever held on it: what is done on the one floor leaves the light of the other as it is.
    held: Option<usize>,
    lit: Lit,
}

impl Beside {
    /// The possession before the change, if it is there.
    pub fn recording(&self) -> Option<&Recording> {
        self.other.as_ref().map(|other| &other.recording)
    }
}

impl Desk {
    /// What was before the change under trial, while its answer is looked at.
    fn beside_wanted(&self) -> Option<(String, u64)> {
        let trial = self.trial.as_ref()?;
        let seen = self.page == Some(Page::Why) && !self.wall && self.puts.is_empty();
        (seen && trial.on(self)).then(|| (trial.name.clone(), self.seed))
    }

    /// Takes up what was played, and lights it. True if its picture moves.
    pub(super) fn pass_beside(&mut self, seconds: f32) -> bool {
        let wanted = self.beside_wanted();
        if self.beside.of != wanted {
            self.beside = Beside::default();
            if let Some(trial) = self.trial.as_ref().filter(|_| wanted.is_some()) {
                self.beside.job = Some(played_behind(trial.base(), self.seed, self.units()));
            }
            self.beside.of = wanted;
        }
        if let Some(recording) = self.beside.job.as_mut().and_then(Job::take) {
            self.beside.job = None;
            self.beside.other = Some(Other {
                recording,
                moved: [None; BODIES],
                held: None,
                lit: Lit::default(),
            });
        }
        if self.beside.other.is_none() {
            return self.beside.job.is_some();
        }
        self.light_other(seconds)
    }

    /// Lights the other floor. True if its picture moves.
    fn light_other(&mut self, seconds: f32) -> bool {
        self.turn();
        let lit = self.light(seconds);
        self.turn();
        lit
    }

    /// The other possession takes the place of the one on the desk, and that one its: what looks at a possession and
    /// paints it knows one only.
    fn turn(&mut self) {
        let Some(mut other) = self.beside.other.take() else {
            return;
        };
        std::mem::swap(&mut self.recording, &mut other.recording);
        std::mem::swap(&mut self.moved, &mut other.moved);
        std::mem::swap(&mut self.held, &mut other.held);
        std::mem::swap(&mut self.lit, &mut other.lit);
        self.beside.other = Some(other);
    }
}

/// Shares `clear`, and all the floor round it, between both floors: first the one before the change, then the one with
/// it; `None` if there is one floor only. Side by side or one above the other, as they are larger.
pub fn shared(desk: &Desk, floor: Rect, clear: Rect) -> Option<[(Rect, Rect); 2]> {
    desk.beside.other.as_ref()?;
    let court = &desk.recording.cast.court;
    let (left, right) = clear.split_left_right_at_x(clear.center().x);
    let (upper, lower) = clear.split_top_bottom_at_y(clear.center().y);
    let size = |rect| View::fit(court, rect).scale;
    Some(if size(left) >= size(upper) {
        let (a, b) = floor.split_left_right_at_x(left.right());
        [(a, left), (b, right)]
    } else {
        let (a, b) = floor.split_top_bottom_at_y(upper.bottom());
        [(a, upper), (b, lower)]
    })
}

/// How a floor lies that shares the room with another.
pub fn view(desk: &Desk, (floor, clear): (Rect, Rect)) -> View {
    let clear = Rect::from_min_max(clear.min + vec2(0.0, 26.0), clear.max);
    View::fit(&desk.recording.cast.court, clear)
        .within(floor)
        .with_bodies(LARGER)
}

/// The floor as it was before the change.
pub fn before(ui: &Ui, desk: &mut Desk, halves: [(Rect, Rect); 2]) {
    desk.turn();
    let view = view(desk, halves[0]);
    boards::floor(ui, desk, &view);
    let scene = moment::scene(desk);
    let painter = ui.painter_at(view.rect);
    let size = desk.size() * 0.8;
    words_on_floor::scene(&painter, &view, &scene, size, halves[0].1.shrink(4.0));
    desk.turn();
}

/// Which floor is which.
pub fn named(ui: &Ui, desk: &Desk, halves: [(Rect, Rect); 2]) {
    let painter = ui.painter_at(halves[0].0.union(halves[1].0));
    for ((_, clear), words) in halves.iter().zip(["before", words::NOW_WITH_THE_CHANGE]) {
        let at = pos2(clear.center().x, clear.top() + 16.0);
        let font = FontId::proportional(16.0 * desk.size());
        paint::plate(&painter, at, Align2::CENTER_CENTER, words, font, BALL);
    }
    let (a, b) = (halves[0].0, halves[1].0);
    let line = bevy_egui::egui::Stroke::new(2.0, EDGE);
    if a.right() <= b.left() {
        painter.vline(a.right(), a.y_range(), line);
    } else {
        painter.hline(a.x_range(), a.bottom(), line);
    }
}

#[cfg(test)]
mod tests {
    use super::super::replay::play;
    use super::super::store;
    use super::*;
    use std::time::Duration;

    #[test]
    fn whoever_is_taken_and_moved_on_the_one_floor_leaves_the_light_of_the_other_as_it_is() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        let recording = play(&store::demo(), 1, &[]).expect("played");
        desk.time.go(4.0, &recording);
        desk.time.freeze(&recording);
        desk.beside.other = Some(Other {
            recording,
            moved: [None; BODIES],
            held: None,
            lit: Lit::default(),
        });
        let still = |desk: &mut Desk| {
            (0..2000).any(|_| {
                std::thread::sleep(Duration::from_millis(5));
                !desk.light_other(0.5)
            })
        };
        assert!(still(&mut desk));
        let lit = |desk: &Desk| {
            let shade = &desk.beside.other.as_ref().expect("there").lit.shade;
            let (columns, rows) = shade.size();
            let points = (0..rows).flat_map(|r| (0..columns).map(move |c| (c, r)));
            points
                .map(|(c, r)| shade.point(c, r, 1.0))
                .collect::<Vec<_>>()
        };
        let before = lit(&desk);
        assert!(before.len() > 1000);
        desk.held = Some(7);
        desk.moved[7] = Some(Vec2::new(1.0, 5.0));
        assert!(still(&mut desk));
        assert!(lit(&desk) == before);
        assert_eq!(desk.held, Some(7));
    }
}
