//! How a possession ended: with a shot, or how the ball was lost.

use serde::{Deserialize, Serialize};

use crate::court::ShotZone;

/// Why a possession ended without a shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turnover {
    /// A defender took a pass.
    Intercepted,
    /// A defender tipped a pass and his side got the ball, or it went out.
    Tipped,
    /// A bad pass or a dropped ball that the defence got.
    LostPass,
    /// The dribbler lost the ball.
    LostDribble,
    /// The shot clock ran out.
    ShotClock,
    /// The holder was closely guarded for too long.
    CloselyGuarded,
    /// An attacker was in the lane for too long.
    LaneSeconds,
}

/// How the shot came about (the finishing action).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Finish {
    /// Catch on a cut (ball side or backdoor) and finish.
    Cut,
    /// Post catch and finish.
    PostUp,
    /// Post or team-mate beside the rim fed out of a drive.
    DropOff,
    /// Drive and finish or pull up.
    Drive,
    /// Catch and shoot on the perimeter.
    SpotUp,
    /// Shot off the hold, after looking.
    OffHold,
}

/// How a possession ended.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    /// With a shot.
    Shot {
        /// Number of the shooter, 1–5.
        shooter: u8,
        /// Points that it counts if it goes in, 2 or 3.
        points: u8,
        /// Did it go in?
        made: bool,
        /// After a foul on the shot: free throws made, of two. Then `points` is 2 and `chance` that of one throw.
        throws: Option<u8>,
        /// The zone from which it was taken.
        zone: ShotZone,
        /// The action that it came from.
        finish: Finish,
        /// Distance from the rim, metres.
        distance: f64,
        /// Distance of the nearest defender, metres.
        room: f64,
        /// Chance to go in, 0..=1.
        chance: f64,
    },
    /// Without a shot.
    Turnover {
        /// How the ball was lost.
        how: Turnover,
        /// Number of the attacker who lost it, 1–5.
        who: u8,
        /// Number of the defender who got it, 1–5, if one did.
        by: Option<u8>,
    },
}

impl Ending {
    /// Points scored.
    pub fn points(&self) -> u8 {
        match *self {
            Ending::Shot {
                throws: Some(made), ..
            } => made,
            Ending::Shot {
                points, made: true, ..
            } => points,
            _ => 0,
        }
    }
}
