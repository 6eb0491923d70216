//! Points of the floor.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, DivAssign, Mul, MulAssign, Neg, Sub, SubAssign};

use serde::{Deserialize, Serialize};

/// A point or a displacement on the floor, metres; or a velocity, m/s. In files: a list of two numbers.
///
/// (Our own: the ten operations in use are a page, and a library of vectors takes 14 s of processor time to build.)
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(from = "[f64; 2]", into = "[f64; 2]")]
pub struct Vec2 {
    /// To the right of who faces the basket, metres (or m/s).
    pub x: f64,
    /// Away from the basket, metres (or m/s).
    pub y: f64,
}

impl Vec2 {
    /// Nowhere, or no displacement.
    pub const ZERO: Vec2 = Vec2::new(0.0, 0.0);
    /// One to the right.
    pub const X: Vec2 = Vec2::new(1.0, 0.0);
    /// One away from the basket.
    pub const Y: Vec2 = Vec2::new(0.0, 1.0);
    /// One to the left.
    pub const NEG_X: Vec2 = Vec2::new(-1.0, 0.0);
    /// One toward the basket.
    pub const NEG_Y: Vec2 = Vec2::new(0.0, -1.0);

    /// From its two parts.
    #[inline]
    pub const fn new(x: f64, y: f64) -> Vec2 {
        Vec2 { x, y }
    }

    /// Both parts the same.
    #[inline]
    pub const fn splat(both: f64) -> Vec2 {
        Vec2::new(both, both)
    }

    /// The scalar product.
    #[inline]
    pub fn dot(self, other: Vec2) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The part of the vector product that comes out of the floor: positive if `other` is to the left of this.
    #[inline]
    pub fn perp_dot(self, other: Vec2) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// This, turned by a quarter to the left.
    #[inline]
    pub fn perp(self) -> Vec2 {
        Vec2::new(-self.y, self.x)
    }

    /// Its length.
    #[inline]
    pub fn length(self) -> f64 {
        self.length_squared().sqrt()
    }

    /// The square of its length.
    #[inline]
    pub fn length_squared(self) -> f64 {
        self.dot(self)
    }

    /// How far it is from here to there.
    #[inline]
    pub fn distance(self, there: Vec2) -> f64 {
        (self - there).length()
    }

    /// Part of the way from here (0) to there (1).
    #[inline]
    pub fn lerp(self, there: Vec2, share: f64) -> Vec2 {
        self * (1.0 - share) + there * share
    }

    /// Each part no less than that of `low`, then no more than that of `high`.
    #[inline]
    pub fn clamp(self, low: Vec2, high: Vec2) -> Vec2 {
        Vec2::new(self.x.max(low.x).min(high.x), self.y.max(low.y).min(high.y))
    }

    /// Is neither part infinite or no number?
    #[inline]
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl From<[f64; 2]> for Vec2 {
    #[inline]
    fn from([x, y]: [f64; 2]) -> Vec2 {
        Vec2::new(x, y)
    }
}

impl From<Vec2> for [f64; 2] {
    #[inline]
    fn from(v: Vec2) -> [f64; 2] {
        [v.x, v.y]
    }
}

impl Add for Vec2 {
    type Output = Vec2;
    #[inline]
    fn add(self, other: Vec2) -> Vec2 {
        Vec2::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Vec2 {
    type Output = Vec2;
    #[inline]
    fn sub(self, other: Vec2) -> Vec2 {
        Vec2::new(self.x - other.x, self.y - other.y)
    }
}

macro_rules! of_borrowed {
    ($op:ident $do:ident: $($left:ty, $right:ty);*) => {$(
        impl $op<$right> for $left {
            type Output = Vec2;
            #[inline]
            fn $do(self, other: $right) -> Vec2 {
                Vec2::$do(Vec2::from(self), Vec2::from(other))
            }
        }
    )*};
}
of_borrowed!(Add add: &Vec2, Vec2; Vec2, &Vec2; &Vec2, &Vec2);
of_borrowed!(Sub sub: &Vec2, Vec2; Vec2, &Vec2; &Vec2, &Vec2);

impl From<&Vec2> for Vec2 {
    #[inline]
    fn from(v: &Vec2) -> Vec2 {
        *v
    }
}

impl Neg for Vec2 {
    type Output = Vec2;
    #[inline]
    fn neg(self) -> Vec2 {
        Vec2::new(-self.x, -self.y)
    }
}

impl Mul<f64> for Vec2 {
    type Output = Vec2;
    #[inline]
    fn mul(self, by: f64) -> Vec2 {
        Vec2::new(self.x * by, self.y * by)
    }
}

impl Mul<Vec2> for f64 {
    type Output = Vec2;
    #[inline]
    fn mul(self, v: Vec2) -> Vec2 {
        v * self
    }
}

impl Div<f64> for Vec2 {
    type Output = Vec2;
    #[inline]
    fn div(self, by: f64) -> Vec2 {
        Vec2::new(self.x / by, self.y / by)
    }
}

impl AddAssign for Vec2 {
    #[inline]
    fn add_assign(&mut self, other: Vec2) {
        *self = *self + other;
    }
}

impl SubAssign for Vec2 {
    #[inline]
    fn sub_assign(&mut self, other: Vec2) {
        *self = *self - other;
    }
}

impl MulAssign<f64> for Vec2 {
    #[inline]
    fn mul_assign(&mut self, by: f64) {
        *self = *self * by;
    }
}

impl DivAssign<f64> for Vec2 {
    #[inline]
    fn div_assign(&mut self, by: f64) {
        *self = *self / by;
    }
}

impl Sum for Vec2 {
    #[inline]
    fn sum<I: Iterator<Item = Vec2>>(all: I) -> Vec2 {
        all.fold(Vec2::ZERO, |sum, one| sum + one)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_left_is_a_quarter_turn_away() {
        let way = Vec2::new(3.0, 4.0);
        assert_eq!(way.length(), 5.0);
        assert_eq!(way.dot(way.perp()), 0.0);
        assert_eq!(way.perp_dot(way.perp()), 25.0);
        assert_eq!(Vec2::X.perp(), Vec2::Y);
    }

    #[test]
    fn half_of_the_way_is_as_far_from_both_ends() {
        let (here, there) = (Vec2::new(1.0, -2.0), Vec2::new(5.0, 6.0));
        let half = here.lerp(there, 0.5);
        assert_eq!(half.distance(here), half.distance(there));
        assert_eq!(
            (here.lerp(there, 0.0), here.lerp(there, 1.0)),
            (here, there)
        );
        assert_eq!(
            half.clamp(Vec2::ZERO, Vec2::splat(2.5)),
            Vec2::new(2.5, 2.0)
        );
    }

    #[test]
    fn in_a_file_it_is_a_list_of_two_numbers() {
        let at = Vec2::new(1.5, -0.25);
        let text = serde_json::to_string(&at).unwrap();
        assert_eq!(text, "[1.5,-0.25]");
        assert_eq!(serde_json::from_str::<Vec2>(&text).unwrap(), at);
        assert!(serde_json::from_str::<Vec2>("[1.5]").is_err());
    }
}
