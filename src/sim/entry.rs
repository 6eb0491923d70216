//! How a possession begins: everybody comes into the place on the move, no two possessions alike.
//!
//! A half-court possession doesn't start from a photograph. Each attacker is a few steps outside the place that the alignment
//! gives, and runs in; each defender goes along. In a walk-through all stand in their places.

use super::dice::Purpose;
use super::manner::IN_BOUNDS;
use super::parts::*;
use super::ways::run;
use crate::court::{Spot, Vec2};

/// Where attacker `who` is when the possession begins, metres, and the velocity, m/s, on the way to `goal`.
pub(super) fn comes_in(
    play: &Play,
    who: usize,
    spot: Spot,
    goal: Vec2,
    ball: bool,
) -> (Vec2, Vec2) {
    if play.scenario.drill.any() {
        return (goal, Vec2::ZERO);
    }
    let model = &play.cast.model.movement;
    let mut dice = play.dice.at(Purpose::Start, who, 0);
    let far = model.entry_distance * (ENTRY_LEAST + 2.0 * (1.0 - ENTRY_LEAST) * dice.unit());
    let far = if ball || !spot.name.is_perimeter() {
        far * model.entry_share_short
    } else {
        far
    };
    let turn = play.hand * model.entry_turn * dice.normal();
    let (sin, cos) = libm::sincos(turn);
    let out = goal / goal.length().max(1e-6);
    let from = Vec2::new(out.x * cos - out.y * sin, out.x * sin + out.y * cos);
    let pos = play.cast.court.clamp_inside(goal + from * far, IN_BOUNDS);
    let way = goal - pos;
    let speed = model.entry_speed * (ENTRY_LEAST + 2.0 * (1.0 - ENTRY_LEAST) * dice.unit());
    let slowed = speed * (way.length() / model.entry_distance).min(1.0);
    (pos, way / way.length().max(1e-6) * slowed)
}

/// The least of what is drawn about a mean, as a share of the mean; the most is as far above it.
const ENTRY_LEAST: f64 = 0.4;

/// What the attacker does then: the run in, or stand where the place is as good as reached.
pub(super) fn first_task(pos: Vec2, goal: Vec2) -> Task {
    if (goal - pos).length() < AS_GOOD_AS_THERE {
        Task::Stand
    } else {
        run(pos, &[goal], UNHURRIED)
    }
}

/// Nearer than this to the place nobody runs, metres; and the share of the top speed of the run in.
const AS_GOOD_AS_THERE: f64 = 0.5;
const UNHURRIED: f64 = 0.7;
