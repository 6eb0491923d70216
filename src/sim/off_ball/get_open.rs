//! Getting open: the player takes his defender in toward the rim, then comes back out hard to the ball.

use crate::body::Intent;
use crate::court::Vec2;

use super::super::parts::*;
use super::{Effects, Inputs, THERE};

/// The player runs in as far as `turn`, then out to his place; either way ends at tick `until` at the latest.
pub(super) fn step(
    input: &Inputs,
    turn: Vec2,
    out: &mut bool,
    until: &mut u32,
    effects: &mut Effects,
) -> Intent {
    let &Inputs { clock, pos, .. } = input;
    let home = input.home();
    // Nobody runs in toward a drive.
    let late = clock.tick >= *until || !*out && driver(input.ball).is_some();
    if !*out && ((turn - pos).length() < 0.4 || late) {
        *out = true;
        *until = clock.tick + ticks(1.2);
    } else if *out && ((home - pos).length() < THERE || late) {
        effects.task = Some(Task::Stand);
    }
    Intent {
        target: if *out { home } else { turn },
        arrive: true,
        pace: if *out { 1.0 } else { 0.7 },
        face: None,
    }
}
