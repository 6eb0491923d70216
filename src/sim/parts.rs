//! What the systems of a tick read and write: the parts of players and ball, the jobs of attackers, the book, and the
//! floor that holds all but the players.

use bevy_ecs::prelude::*;

pub use super::book::*;
pub use super::components::*;
pub use super::job::*;

/// All that is on the floor but the players: one resource, since looking one up costs as much as many a
/// system does in a tick.
#[derive(Resource)]
pub struct Floor {
    pub play: Play,
    pub clock: Clock,
    pub ball: Ball,
    pub old: Old,
    pub trail: Trail,
    pub signals: Signals,
    pub book: Book,
}
