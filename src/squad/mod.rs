//! Players: what a level of play brings, and what a coach has measured of his own.

use serde::{Deserialize, Serialize};

use crate::ball::Hands;
use crate::body::Limits;
use crate::court::ShotZone;

pub mod level;
pub mod measured;
pub mod shot;
pub mod units;

pub use level::{Level, Position};
pub use measured::{RawPlayer, RawSquad, read_squad};

/// Chance to make an open shot (nearest defender 6 ft or more away), by zone.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shooting {
    /// From close to the rim, probability.
    pub rim: f64,
    /// From the rest of the lane, probability.
    pub paint: f64,
    /// From two-point range outside the lane, probability.
    pub mid_range: f64,
    /// A three from a corner, probability.
    pub corner_three: f64,
    /// A three from round the arc, probability.
    pub arc_three: f64,
    /// A free throw, probability.
    pub free_throw: f64,
}

impl Shooting {
    /// His chance in the open from that zone, 0..=1.
    pub fn open(&self, zone: ShotZone) -> f64 {
        match zone {
            ShotZone::Rim => self.rim,
            ShotZone::Paint => self.paint,
            ShotZone::MidRange => self.mid_range,
            ShotZone::CornerThree => self.corner_three,
            ShotZone::ArcThree => self.arc_three,
        }
    }
}

/// How well a player sees and judges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judgement {
    /// Standard deviation of his error in judging the value of a look, points.
    pub value_error: f64,
    /// Half the angle that he takes in, radians, from the direction in which he faces.
    pub half_view: f64,
    /// Seconds between what happens and what he acts on, over and above simple reaction.
    pub decision: f64,
    /// Chance that he notices a given open look at a decision instant.
    pub notices: f64,
}

/// One player, ready for the floor.
#[derive(Clone, Debug, PartialEq)]
pub struct Player {
    /// Number on the floor, 1–5.
    pub number: u8,
    /// The player's name; may be empty.
    pub name: String,
    /// Speed, acceleration and turning.
    pub limits: Limits,
    /// Reach and passing.
    pub hands: Hands,
    /// Chance to make an open shot, by zone.
    pub shooting: Shooting,
    /// What the player sees and how well.
    pub judgement: Judgement,
    /// Share of his running speed with the ball on the floor.
    pub dribble: f64,
    /// Chance to lose the ball in one second of dribbling with a defender within arm's reach.
    pub loses: f64,
    /// Chance to drop a catchable pass.
    pub fumbles: f64,
    /// How often a shot in contact is fouled, over the professionals' share.
    pub fouled: f64,
}

/// Five players of one side.
#[derive(Clone, Debug, PartialEq)]
pub struct Squad {
    /// What reports call it.
    pub name: String,
    /// Of what level players are of whom nothing else is known.
    pub level: Level,
    /// In order of number, 1–5.
    pub players: [Player; 5],
}
