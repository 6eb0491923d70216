//! The ball as an object.

/// Acceleration of free fall, m/s² (standard gravity, rounded as in the computed vectors of this project).
pub const GRAVITY: f64 = 9.81;

/// Coefficient of restitution on a court, √(height out / height in), both to the bottom of the ball.
/// FIBA's drop test (1800 mm → 1035–1085 mm; from memory, high) gives 0.758–0.776; the tests of NFHS and
/// NCAA men (6 ft → 49–54 in; read: sizes.com) 0.741–0.786.
pub const RESTITUTION: f64 = 0.76;

/// Height, m, to which the bottom of a ball comes back when its bottom is dropped from `height` m.
pub fn rebound_height(height: f64) -> f64 {
    RESTITUTION * RESTITUTION * height
}

/// The three sizes in use: men and boys from about 13 play 7, women and girls 6, children 5.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum BallSize {
    /// Circumference 685–700 mm, 465–495 g (FIBA; from memory, high).
    Five,
    /// Circumference 715–730 mm, 510–550 g (FIBA; from memory, high).
    Six,
    /// Circumference 750–770 mm, 580–620 g (FIBA; from memory, high).
    Seven,
}

impl BallSize {
    /// All sizes, small to large.
    pub const ALL: [BallSize; 3] = [BallSize::Five, BallSize::Six, BallSize::Seven];

    /// Circumference, m: the middle of the allowed range.
    pub fn circumference(self) -> f64 {
        match self {
            BallSize::Five => 0.6925,
            BallSize::Six => 0.7225,
            BallSize::Seven => 0.760,
        }
    }

    /// Mass, kg: the middle of the allowed range.
    pub fn mass(self) -> f64 {
        match self {
            BallSize::Five => 0.480,
            BallSize::Six => 0.530,
            BallSize::Seven => 0.600,
        }
    }

    /// Radius, m.
    pub fn radius(self) -> f64 {
        self.circumference() / (2.0 * std::f64::consts::PI)
    }

    /// Drag k, 1/m: the ball slows by k·v² (computed here: ρ 1.2 kg/m³, C_d 0.47, middle sizes).
    pub fn drag(self) -> f64 {
        match self {
            BallSize::Five => 0.02235,
            BallSize::Six => 0.02195,
            BallSize::Seven => 0.02160,
        }
    }
}
