//! The openness field: what a pass from the holder to a point of the floor would meet, for single
//! points and for a grid over the half court.
//!
//! Definition: the openness at a point is that of the best pass ([`best_pass`], the very function of
//! the batch) to a team-mate who stands there, whoever of the four is nearest to it. The field is
//! not a picture of openness but openness itself; whoever draws it as light uses these values.
//!
//! Not modelled: whether anybody could be there in time.

use serde::Serialize;

use super::passing::{Going, PassLook, best_pass};
use super::{Cast, Scene};
use crate::ball::PassKind;
use crate::court::{Court, Vec2};

/// The kinds of pass that light the floor: all that are thrown outside, the usual one first.
pub const KINDS: [PassKind; 3] = [PassKind::Chest, PassKind::Bounce, PassKind::Overhead];

/// The team-mate (0–4) nearest to a point, the first of equals.
pub fn catcher(scene: &Scene, passer: usize, point: Vec2) -> usize {
    let mut best = (usize::from(passer == 0), f64::INFINITY);
    for who in 0..5 {
        let away = (scene.pos[who] - point).length_squared();
        if who != passer && away < best.1 {
            best = (who, away);
        }
    }
    best.0
}

/// The best pass from `passer` (0–4) to a team-mate who stands at `point` (metres); `None` where
/// none of [`KINDS`] is thrown so near or so far.
pub fn at(cast: &Cast, scene: &Scene, passer: usize, point: Vec2) -> Option<PassLook> {
    let who = catcher(scene, passer, point);
    let mut there = *scene;
    there.pos[who] = point;
    there.vel[who] = Vec2::ZERO;
    best_pass(cast, &there, passer, who, Going::NOWHERE, &KINDS)
}

/// Finest spacing of a grid, metres.
const FINEST: f64 = 0.05;

/// A grid of points over the half court, row by row from the baseline.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Grid {
    /// Points from left to right.
    pub columns: usize,
    /// Points from the baseline to half court.
    pub rows: usize,
    /// The point of column 0 and row 0, metres.
    pub first: Vec2,
    /// From one point to the next, metres.
    pub step: Vec2,
}

impl Grid {
    /// A grid from boundary to boundary whose points are at most `spacing` metres apart, and out
    /// to `depth` metres from the rim (at most half court).
    pub fn over(court: &Court, spacing: f64, depth: f64) -> Grid {
        let base = court.baseline_y();
        let deep = depth.min(court.half_court_y()) - base;
        let count = |length: f64| ((length / spacing.max(FINEST)).ceil() as usize).max(1) + 1;
        let (columns, rows) = (count(court.width), count(deep));
        Grid {
            columns,
            rows,
            first: Vec2::new(-court.width / 2.0, base),
            step: Vec2::new(court.width / (columns - 1) as f64, deep / (rows - 1) as f64),
        }
    }

    /// Where a point of the grid is, metres.
    pub fn point(&self, column: usize, row: usize) -> Vec2 {
        self.first + Vec2::new(column as f64 * self.step.x, row as f64 * self.step.y)
    }
}

/// Openness at every point of a grid, 0 to 1, row by row; 0 where no pass is thrown, except within
/// arm's reach of the ball, where it is where the ball is: 1.
pub fn over(cast: &Cast, scene: &Scene, passer: usize, grid: &Grid) -> Vec<f64> {
    let mut values = Vec::with_capacity(grid.columns * grid.rows);
    for row in 0..grid.rows {
        for column in 0..grid.columns {
            let point = grid.point(column, row);
            values.push(lit(cast, scene, passer, point));
        }
    }
    values
}

/// What [`over`] has at one point.
pub fn lit(cast: &Cast, scene: &Scene, passer: usize, point: Vec2) -> f64 {
    match at(cast, scene, passer, point) {
        Some(pass) => pass.openness.value,
        None if (point - scene.pos[passer]).length() < cast.model.passes.chest_shortest => 1.0,
        None => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    #[test]
    fn a_grid_reaches_from_boundary_to_boundary() {
        let court = Court::of(CourtCode::Fiba);
        let grid = Grid::over(court, 0.3, 100.0);
        let last = grid.point(grid.columns - 1, grid.rows - 1);
        assert!((grid.first.x + court.width / 2.0).abs() < 1e-12);
        assert!((last.x - court.width / 2.0).abs() < 1e-9);
        assert!((last.y - court.half_court_y()).abs() < 1e-9);
        assert!(grid.step.x <= 0.3 && grid.step.y <= 0.3);
    }
}
