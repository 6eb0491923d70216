//! What is where how often, as shade on the floor: where help stands while the ball is at a place, where the ball is
//! when it stalls.

use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::defence::Relation;
use crate::looks::field::Grid;
use crate::possession::{Frame, Possession, TICK};

use super::light::Field;
use super::scene::{Item, Scene};

/// Cells of the shade are so wide, metres (ours: a body).
const CELL: f64 = 0.6;
/// So deep is the floor that is shaded, metres from the rim.
const DEEP: f64 = 9.0;

/// A place of the ball is mapped if it was held there for so long in all, seconds.
const HELD: f64 = 20.0;
/// Frames between two that count for the map: five a second.
const EVERY: usize = 5;

/// Counts on the floor.
#[derive(Clone, Debug)]
pub struct Shade {
    court: Court,
    grid: Grid,
    counts: Vec<f64>,
    /// Frames or instants that were added.
    pub frames: u64,
}

impl Shade {
    /// Of nothing.
    pub fn new(court: &Court) -> Shade {
        let grid = Grid::over(court, CELL, DEEP);
        Shade {
            court: *court,
            counts: vec![0.0; grid.columns * grid.rows],
            grid,
            frames: 0,
        }
    }

    /// Seconds behind the help of a map.
    pub fn seconds(&self) -> f64 {
        self.frames as f64 * EVERY as f64 * TICK
    }

    fn count(&mut self, at: Vec2) {
        let off = at - self.grid.first;
        let cell = |off: f64, step: f64| libm::round(off / step);
        let (column, row) = (cell(off.x, self.grid.step.x), cell(off.y, self.grid.step.y));
        if column < 0.0 || row < 0.0 || column >= self.grid.columns as f64 {
            return;
        }
        let at = row as usize * self.grid.columns + column as usize;
        if let Some(count) = self.counts.get_mut(at) {
            *count += 1.0;
        }
    }

    /// Adds the help of a frame: defenders whose players are one or more passes away; with the ball on the left all is
    /// mirrored.
    pub fn help(&mut self, frame: &Frame) {
        self.frames += 1;
        let sign = if frame.ball[0] < 0.0 { -1.0 } else { 1.0 };
        for (at, relation) in frame.defenders.iter().zip(frame.relations) {
            if matches!(relation, Relation::OnePass | Relation::TwoPasses) {
                self.count(Vec2::new(sign * at.x, at.y));
            }
        }
    }

    /// Adds the ball of a frame, with the left laid upon the right.
    pub fn ball(&mut self, frame: &Frame) {
        self.frames += 1;
        self.count(Vec2::new(frame.ball[0].abs(), frame.ball[1]));
    }

    /// As a picture: the darker, the more often. `ball`: a ring stands there.
    pub fn scene(&self, ball: Option<SpotName>) -> Scene {
        let most = self.counts.iter().copied().fold(1.0, f64::max);
        // Cube roots: what is now and then is seen, too.
        let values = self.counts.iter().map(|c| 1.0 - libm::cbrt(c / most));
        let mut scene = Scene::of(&self.court);
        scene.add(Item::Light(Field {
            grid: self.grid,
            values: values.collect(),
            counts: true,
        }));
        let all = |name| [Spot::new(name, Side::Right), Spot::new(name, None)];
        let spot = ball.and_then(|name| {
            let mut all = all(name).into_iter();
            all.find(|s| s.side.is_none() == name.is_centre())
        });
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

/// Where help stands, for each place at which the ball was held for long, longest first.
pub fn help_maps(court: &Court, played: &[&Possession]) -> Vec<(SpotName, Shade)> {
    let mut maps: Vec<(SpotName, Shade)> = SpotName::ALL
        .into_iter()
        .map(|name| (name, Shade::new(court)))
        .collect();
    for frame in played.iter().flat_map(|p| p.track.iter().step_by(EVERY)) {
        let holder = frame.holder.and_then(|h| usize::from(h).checked_sub(1));
        let Some(at) = holder.and_then(|h| frame.attackers.get(h)) else {
            continue;
        };
        let name = court.nearest_spot(*at).name;
        if let Some((_, map)) = maps.iter_mut().find(|(n, _)| *n == name) {
            map.help(frame);
        }
    }
    maps.retain(|(name, map)| *name != SpotName::Rim && map.seconds() >= HELD);
    maps.sort_by_key(|map| std::cmp::Reverse(map.1.frames));
    maps
}
