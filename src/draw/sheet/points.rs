//! Three coaching points for each kind of look (common practice of the trade).

use crate::offence::LookKind;

/// Three coaching points for a kind of look (common practice).
/// `caught`: whoever has the ball has just caught it; `drives`: whoever gets it may drive.
pub(super) fn points(kind: LookKind, caught: bool, drives: bool) -> [&'static str; 3] {
    match kind {
        LookKind::Shot if !caught => [
            "Knees bent, ball in the shooting pocket, eyes on the rim.",
            "Up in one motion.",
            "Hold the follow-through.",
        ],
        LookKind::Shot => [
            "Feet ready before the ball comes.",
            "Up in one motion.",
            "Hold the follow-through.",
        ],
        LookKind::Drive => [
            "First step past the defender's hip, shoulder low.",
            "Eyes up: rim, then helper, then the player the helper left.",
            "Stop on two feet if a body is there.",
        ],
        LookKind::GiveAndGo => [
            "Passer: step toward the pass, then cut in front of your defender.",
            "Show a hand where you want the ball.",
            "Holder: pass early, to the hand, ahead of the cutter.",
        ],
        LookKind::Backdoor => [
            "Cutter: one step out, then hard behind the defender's head.",
            "Holder: see the defender's eyes, not the ball.",
            "Bounce it where only the cutter gets it.",
        ],
        LookKind::Post => [
            "Post: feet wide, seal the defender, show the far hand.",
            "Feeder: fake high, pass low, or the other way round.",
            "After the feed, move: your defender looks at the ball.",
        ],
        LookKind::DropOff => [
            "Driver: draw the helper, then pass short and low.",
            "Post: along the baseline, hands up, out of the helper's reach.",
            "Catch and finish in one motion.",
        ],
        LookKind::KickOut => [
            "Driver: land on two feet, pass to the shooting pocket.",
            "Shooter: move along the arc to where the driver sees you.",
            match drives {
                true => "Catch ready: shoot, drive or swing at once.",
                false => "Catch ready: shoot or swing at once.",
            },
        ],
        LookKind::NextPass => [
            "Pass away from the defender's hand.",
            "Catcher: meet the ball and face the rim.",
            "Ball in the air, everybody moves.",
        ],
        LookKind::Skip => [
            "See it before you catch: where are their backs?",
            "Overhead, flat and hard, over the help.",
            match drives {
                true => "Catcher: feet set, shoot or drive at the closeout.",
                false => "Catcher: feet set and shoot, or pass on from the closeout.",
            },
        ],
    }
}
