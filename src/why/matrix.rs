//! How each defence model fares against each offence: the same seeds for every pair, the squads
//! and the court of the scenario.

use std::sync::atomic::AtomicBool;

use serde::Serialize;

use crate::defence::Defence;
use crate::offence::{LookKind, Offence};
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{Scenario, cannot_meet, read_defence, read_offence};
use crate::scrimmage::{Row, Unfit, measures};
use crate::stats::{CONFIDENCE, Estimate, Tally};

use super::Why;

/// Looks that are a chance to score, and not only a pass that moves the ball.
const SCORING: [LookKind; 6] = [
    LookKind::Shot,
    LookKind::Drive,
    LookKind::GiveAndGo,
    LookKind::Backdoor,
    LookKind::Post,
    LookKind::DropOff,
];

/// One offence against one defence.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cell {
    /// Name of the offence.
    pub offence: String,
    /// Name of the defence.
    pub defence: String,
    /// Points per possession.
    pub points: Option<Estimate>,
    /// Points promised by the shot, per possession: the same mean, without the luck of the shot.
    pub promised: Option<Estimate>,
    /// Windows of scoring looks per possession: shot, drive, feed to a cutter or inside.
    pub open_looks: Option<Estimate>,
    /// Seconds stalled per possession.
    pub stalled: Option<Estimate>,
}

/// The scenario's own offence, and every shipped one if they are `all` asked for, against every
/// shipped defence and the scenario's own. `None` if stopped on the way: half a matrix compares nothing.
///
/// # Errors
/// As [`crate::scrimmage::Scrimmage::run`].
pub fn matrix(
    plan: &Why,
    scenario: &Scenario,
    all: bool,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Option<Vec<Cell>>, Unfit> {
    let list = measures();
    let promise = list.iter().find(|m| m.name == "promised_points");
    let mut cells = Vec::new();
    let mut played = 0;
    for offence in offences(scenario, all) {
        for defence in defences(scenario) {
            let pair = Scenario {
                offence: offence.clone(),
                defence,
                ..scenario.clone()
            };
            let mut tallies = [Tally::new(); 4];
            let [points, promised, open, stalled] = &mut tallies;
            let mut each = |row: &Row| {
                points.push(f64::from(row.points));
                promised.push(promise.and_then(|m| m.value(row)).unwrap_or(0.0));
                let windows = SCORING.iter().map(|k| row.look(*k).windows.len());
                open.push(windows.sum::<usize>() as f64);
                let stalls = row.stalls.iter().map(|s| u32::from(*s)).sum();
                stalled.push(crate::scrimmage::row::seconds(stalls));
                true
            };
            let results =
                plan.scrimmage()
                    .run(&pair, &|n| progress(played + n), &mut each, stop)?;
            if results.interrupted {
                return Ok(None);
            }
            played += plan.possessions;
            let [points, promised, open, stalled] = tallies.map(mean);
            cells.push(Cell {
                offence: pair.offence.name,
                defence: pair.defence.name,
                points,
                promised,
                open_looks: open,
                stalled,
            });
        }
    }
    Ok(Some(cells))
}

/// A mean of what is never below nought, nor is its interval.
fn mean(tally: Tally) -> Option<Estimate> {
    Some(tally.mean_estimate(CONFIDENCE)?.of_a_count())
}

/// How many pairs there are.
pub fn pairs(scenario: &Scenario, all: bool) -> u64 {
    (offences(scenario, all).len() * defences(scenario).len()) as u64
}

fn offences(scenario: &Scenario, others: bool) -> Vec<Offence> {
    let mut all = vec![scenario.offence.clone()];
    let shipped = shipped::all(Kind::Offence).filter(|_| others);
    let shipped = shipped.filter_map(|f| read_offence(f.text, f.word).ok());
    for offence in shipped.map(|read| read.value) {
        if all.iter().all(|o| *o != offence) {
            all.push(offence);
        }
    }
    all
}

fn defences(scenario: &Scenario) -> Vec<Defence> {
    let mut all = vec![scenario.defence.clone()];
    let shipped = shipped::all(Kind::Defence).filter_map(|f| read_defence(f.text, f.word).ok());
    for defence in shipped.map(|read| read.value) {
        let can = cannot_meet(&scenario.offence, &defence).is_none();
        if can && all.iter().all(|d| *d != defence) {
            all.push(defence);
        }
    }
    all
}
