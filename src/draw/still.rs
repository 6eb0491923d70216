//! A still of one moment with its light; and where defenders stand over many moments, as shade.

use crate::court::{Court, SpotName, Vec2};
use crate::defence::Relation;
use crate::looks::field::Grid;
use crate::possession::{Frame, Possession};
use crate::scenario::Scenario;

use super::light::{Field, Lamp, beam, field, threads};
use super::phase::frame_at;
use super::scene::{Item, Scene, scene_of};

/// Points of the light in a picture are so far apart, metres.
pub const GRAIN: f64 = 0.25;
/// Cells of the shade are so wide, metres (ours: a body).
const CELL: f64 = 0.6;
/// So deep is the floor that is shaded, metres from the rim.
const DEEP: f64 = 9.0;

/// The decision instant nearest to a time, seconds, with the light as the holder had it.
pub fn still(scenario: &Scenario, possession: &Possession, time: f64) -> Option<(Scene, f64)> {
    let near = |m: &&crate::possession::Moment| (m.time - time).abs();
    let moment = possession
        .moments
        .iter()
        .min_by(|a, b| near(a).total_cmp(&near(b)))?;
    let at = frame_at(&possession.track, moment.time);
    let frame = possession.track.get(at)?;
    let lamp = Lamp::new(scenario);
    let state = lamp.state(&possession.track, at)?;
    let holder = usize::from(moment.holder).checked_sub(1)?;
    let mut scene = scene_of(&scenario.court, frame);
    scene.add(Item::Light(field(&lamp.cast, &state, holder, GRAIN)));
    scene.add(beam(&lamp.cast, &state, holder));
    for thread in threads(frame, moment) {
        scene.add(thread);
    }
    Some((scene, moment.time))
}

/// Where help stands while the ball is held at one place.
#[derive(Clone, Debug)]
pub struct HelpMap {
    court: Court,
    grid: Grid,
    counts: Vec<f64>,
    /// Frames that were added.
    pub frames: u64,
}

impl HelpMap {
    /// A map of nothing.
    pub fn new(court: &Court) -> HelpMap {
        let grid = Grid::over(court, CELL, DEEP);
        HelpMap {
            court: *court,
            counts: vec![0.0; grid.columns * grid.rows],
            grid,
            frames: 0,
        }
    }

    /// Adds a frame in which somebody holds the ball at the place; with the ball on the left all is
    /// mirrored. Help: defenders whose man is one or more passes away.
    pub fn add(&mut self, frame: &Frame) {
        self.frames += 1;
        let sign = if frame.ball[0] < 0.0 { -1.0 } else { 1.0 };
        for (at, relation) in frame.defenders.iter().zip(frame.relations) {
            if !matches!(relation, Relation::OnePass | Relation::TwoPasses) {
                continue;
            }
            let off = Vec2::new(sign * at.x, at.y) - self.grid.first;
            let cell = |off: f64, step: f64| libm::round(off / step);
            let (column, row) = (cell(off.x, self.grid.step.x), cell(off.y, self.grid.step.y));
            if column < 0.0 || row < 0.0 || column >= self.grid.columns as f64 {
                continue;
            }
            let at = row as usize * self.grid.columns + column as usize;
            if let Some(count) = self.counts.get_mut(at) {
                *count += 1.0;
            }
        }
    }

    /// The map as a picture: the darker, the more often somebody of the help stands there. The ring is
    /// where the ball is.
    pub fn scene(&self, ball: SpotName) -> Scene {
        let most = self.counts.iter().copied().fold(1.0, f64::max);
        // Roots: a place where help stands now and then is seen, too.
        let values = self.counts.iter().map(|c| 1.0 - (c / most).sqrt());
        let mut scene = Scene::of(&self.court);
        scene.add(Item::Light(Field {
            grid: self.grid,
            values: values.collect(),
        }));
        let all = [
            crate::court::Spot::new(ball, crate::court::Side::Right),
            crate::court::Spot::new(ball, None),
        ];
        let spot = all
            .into_iter()
            .find(|s| s.side.is_none() == ball.is_centre());
        if let Some(spot) = spot {
            scene.add(Item::Attacker {
                number: 1,
                pos: self.court.spot(spot),
                has_ball: true,
            });
        }
        scene
    }
}
