//! To the ball: meeting a pass on its way, and chasing a loose ball.

use crate::body::Intent;
use crate::court::Vec2;
use crate::possession::TICK;

use super::super::hands::gets_it_at;
use super::super::parts::*;
use super::Inputs;

/// The catcher goes to meet the pass, which is at the point `at` at tick `when`.
pub(super) fn meets_a_pass(input: &Inputs, at: Vec2, through: bool, when: u32) -> Intent {
    let play = input.play;
    let distance = (at - input.pos).length();
    // A runner times his run to the ball; he who stands goes to meet it.
    let left = f64::from(when.saturating_sub(input.clock.tick).max(1)) * TICK;
    let needed = distance / left / play.cast.players[input.who].limits.top_speed;
    // Nobody waits for a pass: the catch is made on the move.
    Intent {
        target: at,
        arrive: play.scenario.drill.clean && !through,
        pace: needed.clamp(0.25, 1.0),
        face: (!through || distance <= 0.8).then(|| input.to_ball()),
    }
}

/// The player runs after a loose ball.
pub(super) fn chases(input: &Inputs) -> Intent {
    let target = match input.ball.state {
        BallState::Loose { pos, vel, .. } => gets_it_at(
            &input.play.cast,
            input.who,
            (pos, vel),
            (input.pos, input.vel),
        ),
        _ => input.ball.pos,
    };
    Intent {
        target,
        arrive: false,
        pace: 1.0,
        face: None,
    }
}
