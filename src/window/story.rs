//! "Show me one where …": stories that a possession may have, and when they come to pass.

use super::words::floor as words;
use crate::offence::LookKind;
use crate::possession::{Ending, Finish, Possession, What};

/// A wanted story.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Story {
    /// A stall of a second or more.
    LongStall,
    /// A backdoor chance that nobody takes.
    BackdoorUnused,
    /// A backdoor cut is fed.
    BackdoorScores,
    /// A shot off a cut goes in.
    CutScores,
    /// A shot out of the post goes in.
    PostScores,
    /// A drive ends in a shot at the rim.
    DriveToRim,
    /// A helper stops a drive.
    HelpComes,
    /// A defender takes a pass.
    PassTaken,
    /// A possession of twenty seconds or more.
    ClockRunsDown,
}

impl Story {
    /// Every story, in the order of the list.
    pub const ALL: [Story; 9] = [
        Story::LongStall,
        Story::BackdoorUnused,
        Story::BackdoorScores,
        Story::CutScores,
        Story::PostScores,
        Story::DriveToRim,
        Story::HelpComes,
        Story::PassTaken,
        Story::ClockRunsDown,
    ];

    /// After "show me one where …".
    pub fn sentence(self) -> &'static str {
        match self {
            Story::LongStall => words::IT_STALLS_FOR_A,
            Story::BackdoorUnused => words::A_BACKDOOR_CUT_WAS,
            Story::BackdoorScores => words::A_BACKDOOR_CUT_IS,
            Story::CutScores => words::A_CUTTER_SCORES,
            Story::PostScores => words::THE_POST_IS_FED,
            Story::DriveToRim => words::A_DRIVE_ENDS_AT,
            Story::HelpComes => words::A_HELPER_STOPS_THE,
            Story::PassTaken => words::A_DEFENDER_TAKES_A,
            Story::ClockRunsDown => words::IT_LASTS_TWENTY_SECONDS,
        }
    }

    /// When it comes to pass, seconds, a little early so that one sees it come; `None` if it does not.
    pub fn when(self, possession: &Possession) -> Option<f64> {
        let at = |found: &dyn Fn(&What) -> bool| {
            possession
                .timeline
                .iter()
                .find(|e| found(&e.what))
                .map(|e| e.time)
        };
        let scored = |by: Finish| matches!(possession.ending, Ending::Shot { made: true, finish, .. } if finish == by);
        let shot = || at(&|w| matches!(w, What::Shoots { .. }));
        let (time, early) = match self {
            Story::LongStall => {
                let stall = possession.timeline.iter().find_map(|e| match e.what {
                    What::Stall { seconds, .. } if seconds >= 1.0 => Some(e.time - seconds),
                    _ => None,
                });
                (stall?, 0.4)
            }
            Story::BackdoorUnused => {
                let there = at(&|w| matches!(w, What::BackdoorThere { .. }))?;
                let cut = |e: &crate::possession::Entry| {
                    matches!(
                        e.what,
                        What::Cuts {
                            lane: crate::offence::CutLane::Behind,
                            ..
                        }
                    )
                };
                if possession.timeline.iter().any(cut) {
                    return None;
                }
                (there, 0.4)
            }
            Story::BackdoorScores => (
                at(&|w| {
                    matches!(
                        w,
                        What::Passes {
                            look: LookKind::Backdoor,
                            ..
                        }
                    )
                })?,
                1.2,
            ),
            Story::CutScores if scored(Finish::Cut) => (shot()?, 2.0),
            Story::PostScores if scored(Finish::PostUp) => (shot()?, 2.0),
            Story::DriveToRim if scored(Finish::Drive) => (shot()?, 2.0),
            Story::CutScores | Story::PostScores | Story::DriveToRim => return None,
            Story::HelpComes => {
                let left = possession.timeline.iter().find_map(|e| match e.what {
                    What::Helps { leaves, .. } => Some((e.time, leaves)),
                    _ => None,
                });
                let (time, leaves) = left?;
                let fed = possession.timeline.iter().any(|e| {
                    e.time > time && matches!(e.what, What::Passes { to, .. } if to == leaves)
                });
                if !fed {
                    return None;
                }
                (time, 0.8)
            }
            Story::PassTaken => {
                let Ending::Turnover {
                    how: crate::possession::Turnover::Intercepted,
                    ..
                } = possession.ending
                else {
                    return None;
                };
                (possession.duration, 1.6)
            }
            Story::ClockRunsDown if possession.duration >= 20.0 => (possession.duration, 5.0),
            Story::ClockRunsDown => return None,
        };
        Some((time - early).max(0.0))
    }
}
