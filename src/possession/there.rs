//! Fewer than five a side. Arrays stay ten long: who does not play is parked far beyond the baseline, one behind the
//! other in the middle, and stands still. So nobody who plays can reach, see, guard or pass to him, and what asks for
//! the nearest never finds him. Who plays is said once, by the offence's alignment ([`crate::offence::Offence::there`]);
//! the simulation asks the cast, and whoever has only places asks [`plays`].

use super::Frame;
use crate::court::Vec2;

/// The first who is parked stands so far beyond the rim, metres, and each next one so much farther (ours: out of
/// every reach, and out of each other's way).
const BEYOND: f64 = 50.0;
const APART: f64 = 3.0;

/// Where body 0–9 is parked, metres.
pub fn parked(body: usize) -> Vec2 {
    Vec2::new(0.0, -BEYOND - APART * body as f64)
}

/// Is a body at this place, metres, one who plays?
pub fn plays(at: Vec2) -> bool {
    at.y > -0.5 * BEYOND
}

impl Frame {
    /// The attackers who play, 0–4.
    pub fn attack(&self) -> impl Iterator<Item = usize> + use<> {
        let there = self.attackers.map(plays);
        (0..5).filter(move |&i| there[i])
    }

    /// The defenders who play, 0–4.
    pub fn defend(&self) -> impl Iterator<Item = usize> + use<> {
        let there = self.defenders.map(plays);
        (0..5).filter(move |&i| there[i])
    }
}
