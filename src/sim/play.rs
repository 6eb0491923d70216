//! One possession from its first tick to its end.

use std::sync::Arc;

use crate::court::Side;
use crate::looks::Cast;
use crate::possession::orders::{OrderRecord, Silent};
use crate::possession::{Ending, Possession, Turnover};
use crate::scenario::Scenario;

use super::book::Witness;
use super::ground::Keep;
use super::orders::Orders;
use super::parts::Floor;
use super::schedule::tick;
use super::spawn::set_up;
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
    let (possession, orders, _) = play_with_silent(scenario, cast, seed);
    (possession, orders)
}

/// The same, and the rules that did not fire, though their event came or nearly did.
pub fn play_with_silent(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
) -> (Possession, Vec<OrderRecord>, Vec<Silent>) {
    let witness = Witness {
        orders: Some(Orders::default()),
        ..Witness::default()
    };
    let (possession, seen) = run(scenario, cast, seed, Keep::FIGURES, witness, &[]);
    let mut orders = seen.orders.unwrap_or_default();
    orders.close(possession.duration);
    (possession, orders.ended, orders.silent)
}

/// Each instant of a possession with an open shot, ball in hand, that is worth at least as much as to go on: is it passed
/// up for nothing better than to move the ball on, and by how much, points, is it worth more than to go on?
pub fn open_shots_passed_up(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
) -> Vec<(bool, f64)> {
    let witness = Witness {
        open_shots: Some(Vec::new()),
        ..Witness::default()
    };
    let (_, seen) = run(scenario, cast, seed, Keep::FIGURES, witness, &[]);
    seen.open_shots.unwrap_or_default()
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
    let mut world = set_up(scenario, cast, seed, side, keep);
    world.floor.book.witness = witness;
    while world.floor.book.ending.is_none() && world.floor.clock.tick < LONGEST {
        if !elsewhere.is_empty() {
            puts::put(&mut world, elsewhere);
        }
        tick(&mut world);
    }
    let Floor {
        clock,
        ball,
        mut book,
        ..
    } = world.floor;
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
