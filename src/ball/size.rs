//! The ball as an object.

use crate::model;

/// Height, m, to which the bottom of a ball comes back when its bottom is dropped from `height` m.
/// The coefficient of restitution is √(height out / height in), both to the bottom of the ball.
pub fn rebound_height(ball: &model::Ball, height: f64) -> f64 {
    ball.restitution * ball.restitution * height
}

/// The three sizes in use: men and boys from about 13 play 7, women and girls 6, children 5.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BallSize {
    /// Size 5.
    Five,
    /// Size 6.
    Six,
    /// Size 7.
    Seven,
}

impl BallSize {
    /// All sizes, small to large.
    pub const ALL: [BallSize; 3] = [BallSize::Five, BallSize::Six, BallSize::Seven];

    /// Circumference, m: the middle of the allowed range.
    pub fn circumference(self, ball: &model::Ball) -> f64 {
        match self {
            BallSize::Five => ball.circumference_size_5,
            BallSize::Six => ball.circumference_size_6,
            BallSize::Seven => ball.circumference_size_7,
        }
    }

    /// Mass, kg: the middle of the allowed range.
    pub fn mass(self, ball: &model::Ball) -> f64 {
        match self {
            BallSize::Five => ball.mass_size_5,
            BallSize::Six => ball.mass_size_6,
            BallSize::Seven => ball.mass_size_7,
        }
    }

    /// Radius, m.
    pub fn radius(self, ball: &model::Ball) -> f64 {
        self.circumference(ball) / (2.0 * std::f64::consts::PI)
    }

    /// Drag k, 1/m: the ball slows by k·v².
    pub fn drag(self, ball: &model::Ball) -> f64 {
        match self {
            BallSize::Five => ball.drag_size_5,
            BallSize::Six => ball.drag_size_6,
            BallSize::Seven => ball.drag_size_7,
        }
    }
}
