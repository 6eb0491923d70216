//! Looks of the ball holder.

use serde::{Deserialize, Serialize};

/// What the ball holder could do now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LookKind {
    /// Shoot from here.
    Shot,
    /// Drive to the rim.
    Drive,
    /// Pass to a team-mate who cuts in front of his defender.
    GiveAndGo,
    /// Pass to a team-mate who cuts behind his defender.
    Backdoor,
    /// Pass to a team-mate who plays inside.
    Post,
    /// From a drive: to the team-mate beside the rim.
    DropOff,
    /// From a drive or from the post: out to a team-mate on the perimeter.
    KickOut,
    /// To a team-mate on the perimeter one pass away.
    NextPass,
    /// Over the defence to a team-mate two or more passes away.
    Skip,
}

impl LookKind {
    /// Every kind, in the order in which reports list them.
    pub const ALL: [LookKind; 9] = [
        LookKind::Shot,
        LookKind::Drive,
        LookKind::GiveAndGo,
        LookKind::Backdoor,
        LookKind::Post,
        LookKind::DropOff,
        LookKind::KickOut,
        LookKind::NextPass,
        LookKind::Skip,
    ];

    /// In a coach's words.
    pub fn word(self) -> &'static str {
        match self {
            LookKind::Shot => "shot",
            LookKind::Drive => "drive",
            LookKind::GiveAndGo => "give-and-go cut",
            LookKind::Backdoor => "backdoor cut",
            LookKind::Post => "post feed",
            LookKind::DropOff => "drop-off",
            LookKind::KickOut => "kick-out",
            LookKind::NextPass => "next pass",
            LookKind::Skip => "skip pass",
        }
    }
}
