//! For a hand-off: the receiver waits in place for the giver to come near, then comes by and takes the ball.

use crate::body::Intent;

use super::super::due::IN_PLACE;
use super::super::hand_off;
use super::super::manner::FILLS;
use super::super::parts::*;
use super::{Effects, Inputs};

/// The receiver's step, as long as the giver is about it.
pub(super) fn step(
    input: &Inputs,
    from: usize,
    at: crate::court::Vec2,
    effects: &mut Effects,
) -> Intent {
    match hand_off::comes(input.ball, input.old, input.who, from) {
        Some(Some(intent)) => intent,
        Some(None) if (at - input.pos).length() > IN_PLACE => Intent {
            pace: FILLS,
            ..input.stands(at)
        },
        Some(None) => input.stands(at),
        None => {
            effects.task = Some(Task::Stand);
            input.stands(input.pos)
        }
    }
}
