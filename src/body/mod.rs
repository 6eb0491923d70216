//! Bodies: how a player moves, and how soon he can be somewhere. Pure kinematics.
//!
//! * [`step`] – one tick of acceleration-limited motion (a friction ellipse: forward
//!   acceleration, braking and lateral turn have their own bounds), with a top speed that depends
//!   on where the chest points (sprint, shuffle, back-pedal) and an arrival that does not overshoot.
//! * [`contact`] – bodies that meet take the approach out of each other's motion, softly and without a bounce.
//! * [`separate`] – bodies that are placed do not overlap. Neither depends on the order of the bodies.
//! * [`time_to_reach`] – the least time in which a body gets its hands onto a point: a reaction
//!   during which it coasts, then free motion under a bound on acceleration and on speed.
//!
//! Units: metres, seconds, radians. Frame: as in [`crate::court`].
//!
//! *Not* modelled: fatigue, sprint acceleration that fades with speed (it is constant up to the top
//! speed), leaning, jumping, falling.

mod contact;
mod limits;
mod reach;
mod separate;
mod step;
#[cfg(test)]
mod tests;

pub use contact::contact;
pub use limits::{Body, Intent, Limits};
pub use reach::{
    surely_later, time_to_reach, time_to_reach_at_least, time_to_reach_within, travel_time,
};
pub use separate::{MAX_BODIES, separate};
pub use step::{Wish, arrival_speed, faces, follow, speed_limit, step, turned_by, wish};
