//! The player with the ball; who has it no more stands.

use crate::body::Intent;

use super::super::parts::*;
use super::super::steering;
use super::{Effects, Inputs};

/// The holder's step, as long as he holds the ball.
pub(super) fn step(input: &Inputs, job: &Job, effects: &mut Effects) -> Intent {
    match input.ball.hold() {
        Some(hold) if hold.by == input.who => {
            steering::with_the_ball(input.play, input.clock, hold, input.pos, job)
        }
        _ => {
            effects.task = Some(Task::Stand);
            input.stands(input.pos)
        }
    }
}
