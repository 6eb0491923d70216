//! The light that a rule opens: over many possessions, where a catch pays in the seconds after the rule fires. It lies
//! on the floor of the rule's card.
//!
//! Definition: at each point the light is the brightest of the decision instants from the firing to the next rule, or
//! for [`SECONDS`]; of all firings the mean. A card's floor is as bright as can be where its own mean is greatest.

use rayon::prelude::*;

use crate::court::Side;
use crate::looks::field::Grid;
use crate::possession::What;

use super::cards::Card;
use super::light::{DEEP, Field, Replay};
use super::scene::Item;

/// So long after a rule its light is looked at, seconds (ours: a cut, and the ball to the cutter).
pub const SECONDS: f64 = 3.0;
/// Possessions that are looked through for clear examples (ours), and those of them behind the light.
pub const LOOKED_THROUGH: u64 = 80;
/// Possessions behind the light: a rule that matters fires in most of them (ours).
pub const PLAYED: usize = 48;
/// Every second decision instant counts: light seldom comes and goes within less.
pub const EVERY: usize = 2;
/// A rule that fired less often has no light, firings (ours).
pub const FEWEST: u32 = 8;
/// Points of the light are so far apart, metres (ours: a body and its reach; between them it is drawn through).
pub const GRAIN: f64 = 0.75;

/// The light after one rule.
#[derive(Clone, Debug, PartialEq)]
pub struct Glow {
    /// Firings behind it.
    pub fired: u32,
    /// Mean light of the firings, 0 to 1, with the ball on the right.
    pub mean: Field,
}

/// Sums of one possession: for each rule its firings, and the light of all of them.
type Sums = Vec<(u32, Vec<f64>)>;

/// The light after each of `rules` rules, over these possessions.
pub fn glow(rules: usize, replays: &[Replay]) -> Vec<Option<Glow>> {
    let Some(first) = replays.first() else {
        return vec![None; rules];
    };
    let grid = Grid::over(&first.play.cast.court, GRAIN, DEEP);
    let all: Vec<Sums> = replays[..replays.len().min(PLAYED)]
        .par_iter()
        .map(|r| sums(rules, r, &grid))
        .collect();
    // Added in order of seed.
    let one = |rule: usize| {
        let fired: u32 = all.iter().map(|s| s[rule].0).sum();
        if fired < FEWEST {
            return None;
        }
        let mut values = vec![0.0; grid.columns * grid.rows];
        for (_, light) in all.iter().map(|s| &s[rule]) {
            for (sum, more) in values.iter_mut().zip(light) {
                *sum += more;
            }
        }
        values.iter_mut().for_each(|v| *v /= f64::from(fired));
        let mean = Field {
            grid,
            values,
            counts: false,
        };
        Some(Glow { fired, mean })
    };
    (0..rules).map(one).collect()
}

fn sums(rules: usize, replay: &Replay, grid: &Grid) -> Sums {
    let points = grid.columns * grid.rows;
    let mut out: Sums = vec![(0, Vec::new()); rules];
    let fired = replay
        .possession
        .timeline
        .iter()
        .filter_map(|e| match e.what {
            What::Rule { rule, .. } => Some((rule, e.time)),
            _ => None,
        });
    let fired: Vec<(usize, f64)> = fired.collect();
    for (i, &(rule, from)) in fired.iter().enumerate() {
        let next = fired[i + 1..].iter().map(|f| f.1).find(|t| *t > from);
        let until = next.unwrap_or(f64::INFINITY).min(from + SECONDS);
        let Some((count, sum)) = out.get_mut(rule) else {
            continue;
        };
        let moments = replay.possession.moments.iter().enumerate().step_by(EVERY);
        let within = moments.filter(|(_, m)| m.time >= from && m.time < until);
        let mut most = vec![0.0_f64; points];
        let mut side = None;
        for (at, _) in within {
            let Some(light) = replay.light(at, GRAIN) else {
                continue;
            };
            side = side.or(replay.instants.get(at).map(|instant| instant.side));
            for (most, now) in most.iter_mut().zip(&light.values) {
                *most = most.max(*now);
            }
        }
        let Some(side) = side else { continue };
        if side == Side::Left {
            for row in most.chunks_mut(grid.columns.max(1)) {
                row.reverse();
            }
        }
        if sum.is_empty() {
            *sum = vec![0.0; points];
        }
        *count += 1;
        for (sum, more) in sum.iter_mut().zip(&most) {
            *sum += more;
        }
    }
    out
}

/// Lays on the floor of each card the light after its rule, where it fired often enough.
pub fn light_up(cards: &mut [Card], glows: &[Option<Glow>]) {
    for card in cards {
        let (Some(scene), Some(Some(glow))) = (&mut card.scene, glows.get(card.rule)) else {
            continue;
        };
        let most = glow.mean.values.iter().copied().fold(0.0, f64::max);
        if most <= 0.0 {
            continue;
        }
        let mut field = glow.mean.clone();
        field.values.iter_mut().for_each(|v| *v /= most);
        scene.add(Item::Light(field));
    }
}

/// What the light of the cards means, in words.
pub fn words(defence: &str) -> String {
    format!(
        "Bright floor: where a catch paid most in the {SECONDS:.0} s after the rule, in {PLAYED} simulated \
         possessions against {defence}; each card by its own brightest. White: too few cases."
    )
}
