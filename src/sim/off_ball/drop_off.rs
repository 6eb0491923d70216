//! Beside the rim during a drive: the player slides in for the drop-off pass when his defender leaves to help.

use crate::body::Intent;
use crate::court::{Side, Vec2};
use crate::defence::Duty;

use super::super::ways::run;
use super::{Effects, Inputs};

/// A post whose defender is farther than this, or helps, has been left, metres.
const LEFT_ALONE: f64 = 2.2;
const COMES_BACK: f64 = 1.3;

/// The player waits at home until he is left alone, then steps in beside the rim; after the drive he goes home.
pub(super) fn step(input: &Inputs, home: Vec2, gone: &mut bool, effects: &mut Effects) -> Intent {
    let &Inputs { ball, old, pos, .. } = input;
    // Who has stepped in waits at home again if his man comes back to him.
    let far = if *gone { COMES_BACK } else { LEFT_ALONE };
    *gone = old.scene.guarded_by(input.who).is_none_or(|d| {
        let away = (old.scene.pos[5 + d] - pos).length() > far;
        away || old.duties[d].0 == Duty::LowHelp
    });
    let over = ball.hold().is_none_or(|h| h.drove_from.is_none());
    if over {
        effects.task = Some(run(pos, &[input.home()], 0.7));
    }
    // Beside the rim, away from the ball: a step in from the block.
    let court = &input.play.cast.court;
    let side = Side::of(home.x, ball.side.other());
    let open = Vec2::new(side.sign() * (court.lane_width * 0.5 + 0.12), 0.3);
    Intent {
        target: if *gone { open } else { home },
        arrive: true,
        pace: 0.9,
        face: Some(input.to_ball()),
    }
}
