//! The half court by rule set: lines, spots, zones and clocks. Pure geometry.
//!
//! Frame: metres and seconds; origin on the floor under the centre of the ring, `+y` toward half
//! court, `+x` to the right of a player who stands at half court and faces the basket.
//!
//! Regulation figures and their sources stand in `rules`; where players stand in `spots`; what a
//! shot from a point is called and worth in `zones`; what is painted on the floor in `lines`.

mod lines;
mod rules;
mod spots;
mod zones;

pub use lines::Line;
pub use rules::{Clocks, CloselyGuarded, Court, CourtCode, Units};
pub use spots::{Side, Spot, SpotName};
pub use zones::{RIM_ZONE_RADIUS, ShotZone, TO_THE_LINE};

// Of `nalgebra` only `Vector2<f64>` is used: arithmetic, `norm`, `norm_squared`, `dot` and serde. With
// the crates below it, `nalgebra` costs 33 s of processor time in a first release build (measured
// alone; `wide` and `nalgebra` itself take most of it) and nothing after that.
/// A point or a displacement on the floor, metres.
pub type Vec2 = nalgebra::Vector2<f64>;
