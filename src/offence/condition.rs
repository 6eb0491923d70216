//! Conditions: what has to be so, at the moment of the event, for a rule or one line of it to count.

use serde::{Deserialize, Serialize};

use super::{By, Place};

/// What has to be so.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Condition {
    /// Somebody holds that place, or is on the way to it.
    Held(Place),
    /// Nobody holds that place, nor is on the way to it.
    Empty(Place),
    /// The ball is held there, or on its way to the player who holds that place.
    BallAt(Place),
    /// A player plays inside on that side.
    PostOn(By),
    /// The player of the line is overplayed: the defender is close and in the way of the pass.
    Overplayed,
    /// The defender of the player of the line has dropped off.
    SaggedOff,
    /// The player of the line neither has the ball nor is about to catch it.
    OffBall,
    /// The player of the line has this number.
    IsPlayer(u8),
    /// The player of the line neither sets a screen nor is on the way to one.
    NotScreening,
    /// The player of this number has the ball, or is about to catch it.
    HasBall(u8),
    /// A screen for whoever has the ball is on its way, or stands.
    ScreenComing,
    /// At least so many seconds are left to shoot in.
    TimeOver(f64),
    /// Fewer than so many seconds are left to shoot in.
    TimeUnder(f64),
}

impl Condition {
    /// Is it about the player of the line?
    pub fn is_about_the_player(self) -> bool {
        use Condition as C;
        matches!(
            self,
            C::Overplayed | C::SaggedOff | C::OffBall | C::IsPlayer(_) | C::NotScreening
        )
    }

    /// Is it the defence that makes it so?
    pub fn is_the_defences(self) -> bool {
        matches!(self, Condition::Overplayed | Condition::SaggedOff)
    }

    /// Can both never be so at once?
    pub fn excludes(self, other: Condition) -> bool {
        use Condition as C;
        match (self, other) {
            (C::Held(one), C::Empty(two)) | (C::Empty(one), C::Held(two)) => one == two,
            (C::BallAt(one), C::BallAt(two)) => {
                let name = |place: Place| place.parts().map(|(name, _)| name);
                name(one)
                    .zip(name(two))
                    .is_some_and(|(one, two)| one != two)
            }
            (C::IsPlayer(one), C::IsPlayer(two)) | (C::HasBall(one), C::HasBall(two)) => one != two,
            (C::Overplayed, C::SaggedOff) | (C::SaggedOff, C::Overplayed) => true,
            (C::TimeOver(least), C::TimeUnder(under))
            | (C::TimeUnder(under), C::TimeOver(least)) => under <= least,
            _ => false,
        }
    }
}

/// Can these never all be so together with those?
pub fn never_both(these: &[Condition], those: &[Condition]) -> bool {
    these
        .iter()
        .any(|one| those.iter().any(|two| one.excludes(*two)))
}
