//! Bodies: how a player moves, and how soon he can be somewhere. Pure kinematics.
//!
//! * [`step`] – one tick of acceleration-limited motion (a friction ellipse: forward
//!   acceleration, braking and lateral turn have their own bounds), with a top speed that depends
//!   on where the chest points (sprint, shuffle, back-pedal) and an arrival that does not overshoot.
//! * [`separate`] – bodies do not overlap; the result does not depend on the order of the bodies.
//! * [`time_to_reach`] – the least time in which a body gets its hands onto a point: a reaction
//!   during which it coasts, then free motion under a bound on acceleration and on speed.
//!
//! Units: metres, seconds, radians. Frame: as in [`crate::court`].
//!
//! *Not* modelled: fatigue, sprint acceleration that fades with speed (it is constant up to the top
//! speed), leaning, jumping, contact forces other than "no overlap".

mod limits;
mod reach;
mod separate;
mod step;
#[cfg(test)]
mod tests;

pub use limits::{Body, Intent, Limits};
pub use reach::{
    surely_later, time_to_reach, time_to_reach_at_least, time_to_reach_within, travel_time,
};
pub use separate::{MAX_BODIES, separate};
pub use step::{speed_limit, step};
