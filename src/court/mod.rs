//! The half court by rule set: lines, spots, zones and clocks. Pure geometry.
//!
//! Frame: metres and seconds; origin on the floor under the centre of the ring, `+y` toward half
//! court, `+x` to the right of a player who stands at half court and faces the basket.

/// A point or a displacement on the floor, metres.
pub type Vec2 = nalgebra::Vector2<f64>;
