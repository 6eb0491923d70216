//! What the systems of a tick read and write: the parts of players and ball, the jobs of attackers, the book, the floor
//! that holds all but the players, and all of it together.

use super::script::Script;

pub use super::book::*;
pub use super::clock::*;
pub use super::components::*;
pub use super::job::*;

/// All that is on the floor but the players.
pub struct Floor {
    pub play: Play,
    pub clock: Clock,
    pub ball: Ball,
    pub old: Old,
    pub trail: Trail,
    pub signals: Signals,
    pub book: Book,
}

/// An attacker's parts.
pub struct Attacker {
    pub form: Form,
    pub will: Will,
    pub job: Job,
}

/// A defender's parts.
pub struct Defender {
    pub form: Form,
    pub will: Will,
    pub guard: Guard,
    pub eyes: Eyes,
}

/// All that a tick reads and writes. Players stand in the order of their numbers.
pub struct World {
    pub floor: Floor,
    pub attackers: [Attacker; 5],
    pub defenders: [Defender; 5],
    /// What the holder is told in a walk-through; without it the holder chooses.
    pub script: Option<Script>,
}
