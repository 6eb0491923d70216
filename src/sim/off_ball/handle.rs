//! The player with the ball; who has it no more stands.

use crate::body::Intent;
use crate::possession::Ballwork;

use super::super::feet::sway;
use super::super::parts::*;
use super::super::{hand_off, manner, steering};
use super::{Effects, Inputs};

/// The holder's step, as long as he holds the ball.
pub(super) fn step(input: &Inputs, job: &Job, effects: &mut Effects) -> Intent {
    match input.ball.hold() {
        Some(hold) if hold.by == input.who => {
            if let Some(hands) = hold.hands.as_ref().filter(|_| hold.pending.is_none()) {
                return hand_off::gives(input.play, input.old, hold, hands);
            }
            let mut intent =
                steering::with_the_ball(input.play, input.clock, input.old, hold, input.pos, job);
            let stays = match hold.work {
                Ballwork::Holding | Ballwork::PickedUp => hold.pivot.is_some(),
                Ballwork::Dribbling => {
                    let drifts = manner::drifts(input.play, hold) && intent.target != input.pos;
                    hold.angle.is_some() || !drifts
                }
                Ballwork::Driving => false,
            };
            if stays && hold.pending.is_none() {
                // Small steps: of the free foot, or on the dribble.
                let by = input.play.cast.model.footwork.sway_inside;
                let feet = &mut effects.signals.feet[input.who];
                intent.target += sway(input.play, input.clock, input.who, by, feet);
            }
            // Who is about to be screened for stays where he is, so that his man does.
            let waits = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling);
            let free = hold.at_mate.is_none() && hold.handed.is_none();
            if waits && input.old.screen_comes && free {
                intent.target = input.pos;
            }
            intent
        }
        _ => {
            effects.task = Some(Task::Stand);
            input.stands(input.pos)
        }
    }
}
