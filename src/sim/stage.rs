//! A world with its tick, kept by each thread from one possession to the next: making them anew
//! would cost more than all that a possession is set up with. [`super::spawn`] replaces everything
//! that is in the world, so nothing is handed on from one seed to another.

use std::cell::Cell;

use bevy_ecs::prelude::*;

use super::schedule::Tick;

pub(super) struct Stage {
    pub world: World,
    pub tick: Tick,
}

thread_local! {
    static KEPT: Cell<Option<Box<Stage>>> = const { Cell::new(None) };
}

impl Stage {
    /// The one that this thread has kept, or a new one.
    pub fn take() -> Box<Stage> {
        KEPT.take().unwrap_or_else(|| {
            let mut world = World::new();
            let tick = Tick::of(&mut world);
            Box::new(Stage { world, tick })
        })
    }

    /// Keeps it for the next possession on this thread.
    pub fn keep(self: Box<Stage>) {
        KEPT.set(Some(self));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;
    use crate::sim::{Keep, play};

    fn play_on(scenario: &Scenario, seeds: std::ops::Range<u64>) {
        seeds.for_each(|seed| drop(play(scenario, seed, Keep::FIGURES)));
    }

    #[test]
    fn a_kept_world_holds_no_more_after_many_possessions_than_after_a_few() {
        let scenario = Scenario::demo();
        let holds = || {
            let stage = Stage::take();
            let gone = stage.world.removed_components().iter();
            let gone: usize = gone.map(|(_, messages)| messages.len()).sum();
            let there = stage.world.entities().count_spawned();
            stage.keep();
            (gone, there)
        };
        play_on(&scenario, 1..4);
        let few = holds();
        play_on(&scenario, 4..40);
        assert_eq!(holds(), few);
    }

    #[test]
    fn what_was_played_before_on_the_same_world_changes_nothing() {
        let scenario = Scenario::demo();
        let mut other = scenario.clone();
        other.defence = Scenario::from_parts(
            crate::court::CourtCode::Nfhs,
            crate::squad::Level::Under14,
            "five_out_give_and_go",
            "zone_2_3",
            &[],
        )
        .unwrap()
        .defence;
        let alone = std::thread::scope(|scope| {
            let fresh = scope.spawn(|| play(&scenario, 7, Keep::ALL));
            fresh.join().unwrap()
        });
        play_on(&other, 1..6);
        assert_eq!(play(&scenario, 7, Keep::ALL), alone);
    }
}
