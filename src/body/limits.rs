//! What a body is, what bounds it and what it is asked to do.

use crate::court::Vec2;

/// Bounds of one player's movement. Every field is finite and not negative; `top_speed`, `accel`,
/// `brake` and `turn` are positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Highest forward speed, m/s.
    pub top_speed: f64,
    /// Bound on forward acceleration, m/s².
    pub accel: f64,
    /// Bound on braking, m/s².
    pub brake: f64,
    /// Bound on lateral acceleration (change of direction), m/s².
    pub turn: f64,
    /// Sideways speed as a share of the top speed, 0..=1.
    pub shuffle: f64,
    /// Backward speed as a share of the top speed, 0..=1.
    pub backpedal: f64,
    /// Delay before a change of intent shows, s.
    pub reaction: f64,
    /// Horizontal distance from the centre of the body to the hand of an arm held out, m.
    pub reach: f64,
    /// Radius of the disc that no other body may enter, m.
    pub radius: f64,
    /// Stature, m.
    pub height: f64,
    /// Height of the finger tips with the arm straight up, feet on the floor, m.
    pub standing_reach: f64,
}

impl Limits {
    /// The bounds of a player who spends a share `effort` (0..=1) of the own power: as fast, but slower to change.
    pub fn with_effort(&self, effort: f64) -> Limits {
        Limits {
            accel: self.accel * effort,
            brake: self.brake * effort,
            turn: self.turn * effort,
            ..*self
        }
    }
}

/// Where a body is, how it moves and where its chest points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Body {
    /// Centre of the body on the floor, m.
    pub pos: Vec2,
    /// Velocity, m/s.
    pub vel: Vec2,
    /// Unit normal of the shoulders, out of the chest.
    pub facing: Vec2,
}

/// What a body tries to do during one tick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Intent {
    /// The point he makes for, m.
    pub target: Vec2,
    /// True: stop there without overshoot. False: run through it.
    pub arrive: bool,
    /// Share of the speed that his stance allows, 0..=1; anything else is clamped (NaN counts as 0).
    pub pace: f64,
    /// Direction for the chest (any length); `None` = the way he runs.
    pub face: Option<Vec2>,
}
