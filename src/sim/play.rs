//! One possession from its first tick to its end.

use std::sync::Arc;

use crate::court::Side;
use crate::looks::Cast;
use crate::possession::orders::OrderRecord;
use crate::possession::{Ending, Possession, Turnover};
use crate::scenario::Scenario;

use super::book::Witness;
use super::ground::Keep;
use super::orders::Orders;
use super::parts::Floor;
use super::spawn::set_up;
use super::stage::Stage;
use super::{instant, puts};

/// A possession never lasts longer than this many ticks (a stop for scenarios without any clock).
const LONGEST: u32 = 25 * 90;

/// Plays one possession of a scenario with its players. Same scenario and same seed: the same possession, bit for bit.
pub fn play_shared(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    keep: Keep,
) -> Possession {
    run(scenario, cast, seed, keep, Witness::default(), &[]).0
}

/// The same, and what the holder decided from at each of its moments (memory only when asked for).
pub fn play_witnessed(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
) -> (Possession, Vec<instant::Instant>) {
    let witness = Witness::of_instants();
    let (possession, seen) = run(scenario, cast, seed, Keep::FIGURES, witness, &[]);
    (possession, seen.instants.unwrap_or_default())
}

/// The same, and what became of each order that a rule gave.
pub fn play_accounted(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
) -> (Possession, Vec<OrderRecord>) {
    let witness = Witness {
        orders: Some(Orders::default()),
        ..Witness::default()
    };
    let (possession, seen) = run(scenario, cast, seed, Keep::FIGURES, witness, &[]);
    let mut orders = seen.orders.unwrap_or_default();
    orders.close(possession.duration);
    (possession, orders.ended)
}

pub(super) fn run(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    keep: Keep,
    witness: Witness,
    elsewhere: &[puts::Put],
) -> (Possession, Witness) {
    let side = scenario.start.unwrap_or(if seed.is_multiple_of(2) {
        Side::Right
    } else {
        Side::Left
    });
    let mut stage = Stage::take();
    let Stage { world, tick } = &mut *stage;
    set_up(world, scenario, cast, seed, side, keep);
    world.resource_mut::<Floor>().book.witness = witness;
    loop {
        let floor = world.resource::<Floor>();
        if floor.book.ending.is_some() || floor.clock.tick >= LONGEST {
            break;
        }
        if !elsewhere.is_empty() {
            puts::put(world, elsewhere);
        }
        tick.run(world);
    }
    let floor = world.resource_mut::<Floor>().into_inner();
    let (clock, ball) = (floor.clock, floor.ball);
    let mut book = std::mem::take(&mut floor.book);
    stage.keep();
    let ending = book.ending.unwrap_or(Ending::Turnover {
        how: Turnover::ShotClock,
        who: ball.man() as u8 + 1,
        by: None,
    });
    let possession = Possession {
        seed,
        side,
        duration: clock.seconds(),
        ending,
        timeline: std::mem::take(&mut book.timeline),
        moments: std::mem::take(&mut book.moments),
        track: std::mem::take(&mut book.track),
    };
    (possession, std::mem::take(&mut book.witness))
}
