//! Kinds of pass and the hands that throw them.
//!
//! No readable published table of pass speed by kind was found (two searches returned none). Common
//! practice, no source: adult chest 9–12, overhead 9–11, bounce 7–9 m/s on average including the bounce.
//! The shares below are taken from that, so all of them are *common practice, no source*, as are heights
//! and ranges.

use serde::Serialize;

use super::GRAVITY;

/// How a player throws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hands {
    /// Horizontal speed of his chest pass at release, m/s; the other kinds are shares of it.
    pub pass_speed: f64,
    /// Standard deviation of the direction of his passes, rad.
    pub pass_error: f64,
    /// Time from the decision to the release (wind-up), s.
    pub release: f64,
}

/// A kind of pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PassKind {
    /// Two hands from the chest to the chest, through the air.
    Chest,
    /// Touches the floor about two thirds of the way.
    Bounce,
    /// Two hands above the head; over a distance it arcs over the defender of the passer (skip, lob).
    Overhead,
    /// Short and soft, to a team-mate near by (drop-off, hand-to-hand).
    DropOff,
}

impl PassKind {
    /// All kinds.
    pub const ALL: [PassKind; 4] = [
        PassKind::Chest,
        PassKind::Bounce,
        PassKind::Overhead,
        PassKind::DropOff,
    ];

    /// The trade's word for it.
    pub fn word(self) -> &'static str {
        match self {
            PassKind::Chest => "chest pass",
            PassKind::Bounce => "bounce pass",
            PassKind::Overhead => "overhead pass",
            PassKind::DropOff => "drop-off",
        }
    }

    /// Horizontal speed at release, m/s, for hands whose chest pass leaves at `pass_speed`.
    /// A bounce pass leaves at 0.88 of it and keeps 0.76 at the floor, which comes to 0.8 of the
    /// average speed of a chest pass over the whole way.
    pub fn release_speed(self, pass_speed: f64) -> f64 {
        match self {
            PassKind::Chest => pass_speed,
            PassKind::Bounce => 0.88 * pass_speed,
            PassKind::Overhead => 0.95 * pass_speed,
            PassKind::DropOff => pass_speed.min(DROP_OFF_SPEED),
        }
    }

    /// Shortest and longest way, m, over which a coach would ask for this kind from an adult.
    pub fn sensible_range(self) -> (f64, f64) {
        match self {
            PassKind::Chest => (1.5, 9.0),
            PassKind::Bounce => (2.0, 7.0),
            PassKind::Overhead => (3.0, 11.5),
            PassKind::DropOff => (0.0, 4.0),
        }
    }

    /// Longest way, m, that these hands can throw it: the sensible range, or less if the ball would have
    /// to leave more steeply than 45° (vertical speed above the horizontal one) to be caught at the
    /// height at which it left; for a bounce pass the same for the way to the floor and half as much again.
    /// Twelve-year-olds at 6 m/s: chest 6.8 m; eight-year-olds at 5 m/s: 4.8 m.
    pub fn reachable_range(self, pass_speed: f64, drag: f64) -> f64 {
        let v = self.release_speed(pass_speed.max(0.0));
        let straight = libm::log(1.0 + drag * 2.0 * v * v / GRAVITY) / drag;
        let most = if self == PassKind::Bounce {
            straight * 1.5
        } else {
            straight
        };
        most.min(self.sensible_range().1)
    }

    /// Is `distance` surely not beyond [`PassKind::reachable_range`], but for the sensible range? Cheap:
    /// ln(1 + x) is not less than x − x²/2. False says nothing.
    #[inline]
    pub fn surely_reaches(self, pass_speed: f64, drag: f64, distance: f64) -> bool {
        let v = self.release_speed(pass_speed.max(0.0));
        let far = 2.0 * v * v / GRAVITY;
        let straight = far * (1.0 - 0.5 * drag * far);
        let most = if self == PassKind::Bounce {
            straight * 1.5
        } else {
            straight
        };
        distance < most - 1e-9
    }

    /// Height of the ball at release, m, by a passer of stature `height` m.
    pub fn release_height(self, height: f64) -> f64 {
        height
            * match self {
                PassKind::Chest => 0.72,
                PassKind::Bounce => 0.58,
                PassKind::Overhead => 1.15,
                PassKind::DropOff => 0.60,
            }
    }

    /// Height of the ball at the catch, m, by a receiver of stature `height` m. (A bounce pass comes as
    /// high as the floor sends it; see [`super::Flight::new`].)
    pub fn catch_height(self, height: f64) -> f64 {
        height
            * match self {
                PassKind::Chest => 0.72,
                PassKind::Bounce => 0.45,
                PassKind::Overhead => 0.90,
                PassKind::DropOff => 0.65,
            }
    }
}

/// Speed of a drop-off, m/s: one that can be caught from two metres (common practice, no source: 5–6).
const DROP_OFF_SPEED: f64 = 5.5;
