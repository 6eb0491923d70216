//! What it is worth to the holder to go on, points: by the value that the team has learnt, less as the counts
//! that everybody on the floor can hear run out.

use crate::offence::LookKind;
use crate::possession::Ballwork;
use crate::value::State;

use super::perceive::Seen;
use super::{DRIVE, Decision, TIE};

/// Closely guarded, and in the lane: the value falls from the first to nothing at the second, seconds (ours; the
/// rules: five and three).
const GUARDED: (f64, f64) = (4.0, 4.8);
const IN_LANE: (f64, f64) = (1.6, 2.6);

/// What it is worth to go on with the ball in hand, or with the drive, points. A driver who is not held up by a body
/// passes only what is worth more than the ball in hand, too: a drive is not given up for a pass that only moves the ball.
/// Nor for what seems hardly more than the drive seemed that he chose.
pub(super) fn goes_on(now: &Decision, drive: &Seen) -> f64 {
    // With the ball gathered it is the shot or a pass, and stopped by a body nothing but this drive.
    if now.hold.pending.is_some() || now.hold.drive.is_some_and(|drive| drive.stuck > 0) {
        let value = &now.play.cast.value;
        return value.of_a_look(LookKind::Drive, now.looks[DRIVE].value);
    }
    if now.hold.work == Ballwork::Driving {
        in_hand(now).max(drive.value + TIE)
    } else {
        in_hand(now)
    }
}

/// What it is worth to go on with the ball in hand, points.
pub(super) fn in_hand(now: &Decision) -> f64 {
    let play = now.play;
    let bar = play.scenario.offence.patience.asks_more;
    (play.usual * play.cast.value.of_going_on(&state(now)) + bar) * counts(now)
}

/// The moment as the value knows it.
pub(super) fn state(now: &Decision) -> State {
    State {
        left: now.clock.left(),
        inside: !now.here.name.is_perimeter(),
        picked_up: now.hold.work == Ballwork::PickedUp,
    }
}

/// Share of the worth of going on that the counts leave.
pub(super) fn counts(now: &Decision) -> f64 {
    let guarded = now.hold.guarded_since.map_or(0.0, |t| now.since(t));
    let count = |(from, to): (f64, f64), at: f64| ((to - at) / (to - from)).clamp(0.0, 1.0);
    count(GUARDED, guarded) * count(IN_LANE, now.in_lane)
}
