//! What a squad file may say of a player, as types that refuse impossible numbers where they stand.
//!
//! The bounds are invented: wide enough for anybody who plays, narrow enough to catch a slip of the pen.

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A number that cannot be.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Impossible {
    /// A sprint too fast or too slow, seconds.
    #[error("a three-quarter-court sprint takes 2.8 to 8 seconds, not {0}")]
    Sprint(f64),
    /// A lane-agility run too fast or too slow, seconds.
    #[error("a lane-agility run takes 9 to 25 seconds, not {0}")]
    LaneAgility(f64),
    /// Too small or too tall, metres.
    #[error("a player is 1.0 to 2.4 m tall (3.3 to 7.9 ft), not {0:.2} m")]
    Height(f64),
    /// A standing reach too low or too high, metres.
    #[error("a standing reach is 1.2 to 3.3 m (3.9 to 10.8 ft), not {0:.2} m")]
    StandingReach(f64),
    /// Height and standing reach do not fit each other.
    #[error(
        "player {number}: a standing reach is 1.15 to 1.5 times the height, not {ratio:.2} times"
    )]
    Arms {
        /// The player's number.
        number: u8,
        /// Standing reach over height, a ratio.
        ratio: f64,
    },
    /// More makes than attempts.
    #[error("{makes} makes of {attempts} attempts")]
    Makes {
        /// Shots made.
        makes: u32,
        /// Shots taken.
        attempts: u32,
    },
    /// Not 1–5.
    #[error("players have the numbers 1 to 5, not {0}")]
    Number(u8),
    /// Two players share this number.
    #[error("two players have the number {0}")]
    Twice(u8),
    /// The name of the squad is empty.
    #[error("a squad needs a name")]
    Nameless,
}

/// `value` if it lies between the two (NaN does not), or the error.
fn within(
    value: f64,
    low: f64,
    high: f64,
    error: fn(f64) -> Impossible,
) -> Result<f64, Impossible> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(error(value))
    }
}

/// Seconds of the sprint, by hand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct Sprint(pub f64);

impl TryFrom<f64> for Sprint {
    type Error = Impossible;
    fn try_from(s: f64) -> Result<Self, Impossible> {
        within(s, 2.8, 8.0, Impossible::Sprint).map(Sprint)
    }
}

/// Seconds of the lane-agility run.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "f64", into = "f64")]
pub struct LaneAgility(pub f64);

impl TryFrom<f64> for LaneAgility {
    type Error = Impossible;
    fn try_from(s: f64) -> Result<Self, Impossible> {
        within(s, 9.0, 25.0, Impossible::LaneAgility).map(LaneAgility)
    }
}

/// A length as written: `m(1.85)`, `ft(6.25)` or `ft_in(6, 3)`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Length {
    M(f64),
    Ft(f64),
    FtIn(f64, f64),
}

impl Length {
    fn metres(self) -> f64 {
        match self {
            Length::M(m) => m,
            Length::Ft(ft) => ft * 0.3048,
            Length::FtIn(ft, inches) => ft * 0.3048 + inches * 0.0254,
        }
    }
}

/// Stature, m.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Length", into = "Length")]
pub struct Height(pub f64);

impl TryFrom<Length> for Height {
    type Error = Impossible;
    fn try_from(length: Length) -> Result<Self, Impossible> {
        within(length.metres(), 1.0, 2.4, Impossible::Height).map(Height)
    }
}

/// Height of the finger tips, feet on the floor, m.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "Length", into = "Length")]
pub struct StandingReach(pub f64);

impl TryFrom<Length> for StandingReach {
    type Error = Impossible;
    fn try_from(length: Length) -> Result<Self, Impossible> {
        within(length.metres(), 1.2, 3.3, Impossible::StandingReach).map(StandingReach)
    }
}

/// Makes of open attempts: `(12, 20)`.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "(u32, u32)", into = "(u32, u32)")]
pub struct Makes {
    /// Shots made.
    pub makes: u32,
    /// Shots taken.
    pub attempts: u32,
}

impl TryFrom<(u32, u32)> for Makes {
    type Error = Impossible;
    fn try_from((makes, attempts): (u32, u32)) -> Result<Self, Impossible> {
        if makes > attempts {
            return Err(Impossible::Makes { makes, attempts });
        }
        Ok(Makes { makes, attempts })
    }
}

/// Makes by zone; what is left out comes from the level.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct MakesByZone {
    /// At the rim.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rim: Option<Makes>,
    /// In the rest of the lane.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub paint: Option<Makes>,
    /// Two-point range outside the lane.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mid_range: Option<Makes>,
    /// Threes from the corners.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub corner_three: Option<Makes>,
    /// Threes from round the arc.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arc_three: Option<Makes>,
    /// Free throws.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_throw: Option<Makes>,
}

/// A player number, 1 to 5.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "u8", into = "u8")]
pub struct Number(pub u8);

impl TryFrom<u8> for Number {
    type Error = Impossible;
    fn try_from(number: u8) -> Result<Self, Impossible> {
        if (1..=5).contains(&number) {
            Ok(Number(number))
        } else {
            Err(Impossible::Number(number))
        }
    }
}

// The way back, for writing a squad file.

impl From<Sprint> for f64 {
    fn from(Sprint(seconds): Sprint) -> f64 {
        seconds
    }
}

impl From<LaneAgility> for f64 {
    fn from(LaneAgility(seconds): LaneAgility) -> f64 {
        seconds
    }
}

impl From<Height> for Length {
    fn from(Height(metres): Height) -> Length {
        Length::M(metres)
    }
}

impl From<StandingReach> for Length {
    fn from(StandingReach(metres): StandingReach) -> Length {
        Length::M(metres)
    }
}

impl From<Makes> for (u32, u32) {
    fn from(made: Makes) -> (u32, u32) {
        (made.makes, made.attempts)
    }
}

impl From<Number> for u8 {
    fn from(Number(number): Number) -> u8 {
        number
    }
}
