//! Events: what happens on the floor that a rule may answer.

use serde::{Deserialize, Serialize};

use super::Place;

/// To which side of the holder's own defender a drive goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Toward {
    /// To the middle of the floor.
    Middle,
    /// Along the sideline and the baseline.
    Baseline,
}

/// What happened on the floor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Event {
    /// A pass between two places is in the air.
    Pass {
        /// Where the passer is.
        from: Place,
        /// Where the receiver is.
        to: Place,
    },
    /// The holder puts the ball on the floor toward the rim.
    Drive {
        /// Where the drive begins.
        from: Place,
        /// Which way it goes by the defender; left out: either.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        toward: Option<Toward>,
    },
    /// A pass out of a drive; `from` is where the drive began.
    KickOut {
        /// Where the drive began.
        from: Place,
    },
    /// The ball is handed over: `from` and `to` are the places that giver and receiver held when it was ordered.
    HandOff {
        /// Where the giver was.
        from: Place,
        /// Where the receiver was.
        to: Place,
    },
    /// Someone catches the ball there.
    Catch {
        /// Where it is caught.
        at: Place,
    },
    /// A player who came off a set screen a moment ago catches the ball there.
    CatchOffScreen {
        /// Where it is caught.
        at: Place,
    },
    /// A player who was fed on a cut, or dropped off to, is stopped near the rim: no shot, and no way on.
    FeedStopped {
        /// Where he is.
        at: Place,
    },
    /// A cutter has come to the rim, or to the place of the cut, and was not fed; `from` is where he came from.
    Unfed {
        /// Where the cut began.
        from: Place,
        /// Where it ended; left out: anywhere.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        to: Option<Place>,
    },
    /// A player one pass away at `at` is denied (tightly guarded in the passing lane, or body to
    /// body) for so long, while the ball is at `ball`.
    Denied {
        /// Where that player is.
        at: Place,
        /// Where the ball is.
        ball: Place,
        /// How long, seconds.
        seconds: f64,
    },
    /// So many seconds are left to shoot in.
    Clock {
        /// The seconds left.
        left: f64,
    },
    /// The ball has been held at a place for so long.
    BallOn {
        /// Where the ball is.
        at: Place,
        /// How long, seconds.
        seconds: f64,
    },
    /// The ball has changed sides.
    BallCrosses,
    /// The holder dribbles at a team-mate who stands there.
    DribbleAt {
        /// Where the team-mate stands.
        at: Place,
    },
    /// A screen is set; `at` is the place that the player for whom it is set held when told to use it, or else holds.
    ScreenSet {
        /// Where that player is, or was.
        at: Place,
    },
    /// A player comes off a screen that is set; `at` is the place that the player held when told to use it, or of the
    /// holder where he has the ball.
    ScreenUsed {
        /// Where the user was.
        at: Place,
    },
    /// A defender has left the player at `from` to stop the ball.
    Helped {
        /// Where that player is.
        from: Place,
    },
    /// The post's defender has lost sight of him, or sits deep under the rim, for so long.
    PostForgotten {
        /// How long, seconds.
        seconds: f64,
    },
}

impl Event {
    /// Is it the defence that brings it about?
    pub fn is_the_defences(&self) -> bool {
        matches!(
            self,
            Event::Denied { .. }
                | Event::Helped { .. }
                | Event::PostForgotten { .. }
                | Event::FeedStopped { .. }
        )
    }

    /// Does it come of a pass that leaves the passer's hands, or of its catch?
    pub fn comes_of_a_pass(&self) -> bool {
        matches!(
            self,
            Event::Pass { .. }
                | Event::KickOut { .. }
                | Event::Catch { .. }
                | Event::CatchOffScreen { .. }
                | Event::BallCrosses
        )
    }
}
