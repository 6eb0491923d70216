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
mod vec2;
mod zones;

pub use lines::Line;
pub use rules::{Clocks, CloselyGuarded, Court, CourtCode, Units};
pub use spots::{Side, Spot, SpotName};
pub use vec2::Vec2;
pub use zones::{RIM_ZONE_RADIUS, ShotZone, TO_THE_LINE};
