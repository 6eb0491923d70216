//! What of the why report is looked at: a still for each finding, light in spans of two seconds through
//! a possession, where help stands for each place of the ball.

use std::sync::Arc;

use rayon::prelude::*;

use crate::court::{Court, SpotName};
use crate::draw::still::{HelpMap, still};
use crate::draw::svg::{Look, picture};
use crate::possession::{Possession, TICK};
use crate::scenario::Scenario;
use crate::sim::{Keep, cast_of, play_shared};
use crate::stats::{CONFIDENCE, Estimate, share_estimate};
use crate::why::Summary;

use super::why::{Dots, In};

/// Possessions that the pictures are made of, at most (ours: enough for shares to some ± 6 %).
const PLAYED: u64 = 80;
/// Width of a bar of time, seconds.
const SPAN: f64 = 2.0;
/// Bars of time.
const SPANS: usize = 12;
/// A place of the ball is mapped if it was held there for so long in all, seconds.
const HELD: f64 = 20.0;
/// Places of the ball that are mapped.
const PLACES: usize = 4;
/// Frames between two that count for the map: five a second.
const EVERY: usize = 5;

/// A picture with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Still {
    /// What is to be seen.
    pub says: String,
    /// The picture as an `<svg>` element.
    pub svg: String,
}

/// Everything that is looked at.
#[derive(Clone, Debug, Default)]
pub struct Shown {
    /// A still for each of the first findings, in their order; `None` where there is no example.
    pub findings: Vec<Option<Still>>,
    /// Share of the time with an open look, by time since the possession began.
    pub light: Option<Dots>,
    /// Where help stands, for each place of the ball.
    pub help: Vec<Still>,
}

/// Draws it all. `examples`: seed and time, seconds, of each of the first findings.
pub fn shown(scenario: &Scenario, summary: &Summary, examples: &[Option<(u64, f64)>]) -> Shown {
    let (shared, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
    let play = |seed| play_shared(&shared, &cast, seed, Keep::ALL);
    let findings = examples.par_iter().map(|example| {
        let (seed, time) = (*example)?;
        let possession = play(seed);
        let (scene, time) = still(scenario, &possession, time)?;
        let says = format!("Seed {seed} at {time:.1} s.");
        Some(Still {
            svg: picture(&scene, &Look::PAPER).file(&says),
            says,
        })
    });
    let last = summary.first_seed + summary.possessions.min(PLAYED);
    let played = (summary.first_seed..last).into_par_iter();
    let played: Vec<Possession> = played.map(play).collect();
    Shown {
        findings: findings.collect(),
        light: light(&played),
        help: help(&scenario.court, &played),
    }
}

/// Shares of the decision instants with an open look, possession by possession, in spans of time.
fn light(played: &[Possession]) -> Option<Dots> {
    let span = |i: usize| -> Option<(String, Estimate)> {
        let (from, to) = (i as f64 * SPAN, (i + 1) as f64 * SPAN);
        let pairs = played.iter().map(|p| {
            let within = p.moments.iter().filter(|m| m.time >= from && m.time < to);
            let within: Vec<_> = within.collect();
            let open = within.iter().filter(|m| m.looks.iter().any(|l| l.open));
            (open.count() as f64, within.len() as f64)
        });
        let share = share_estimate(pairs, CONFIDENCE)?;
        Some((format!("{from:.0} to {to:.0} s"), share))
    };
    let rows: Vec<_> = (0..SPANS).filter_map(span).collect();
    (!rows.is_empty()).then(|| Dots {
        caption: format!(
            "Light through a possession: share of the time with the ball in hand in which some look is \
             open ({} possessions)",
            played.len()
        ),
        axis: "share of the time, %".into(),
        unit: In::Percent,
        rows,
    })
}

fn help(court: &Court, played: &[Possession]) -> Vec<Still> {
    let mut maps: Vec<(SpotName, HelpMap)> = SpotName::ALL
        .into_iter()
        .map(|name| (name, HelpMap::new(court)))
        .collect();
    for frame in played.iter().flat_map(|p| p.track.iter().step_by(EVERY)) {
        let holder = frame.holder.and_then(|h| usize::from(h).checked_sub(1));
        let Some(at) = holder.and_then(|h| frame.attackers.get(h)) else {
            continue;
        };
        let name = court.nearest_spot(*at).name;
        if let Some((_, map)) = maps.iter_mut().find(|(n, _)| *n == name) {
            map.add(frame);
        }
    }
    let seconds = |map: &HelpMap| map.frames as f64 * EVERY as f64 * TICK;
    maps.retain(|(name, map)| *name != SpotName::Rim && seconds(map) >= HELD);
    maps.sort_by_key(|map| std::cmp::Reverse(map.1.frames));
    let maps = maps.into_iter().take(PLACES).map(|(name, map)| {
        let says = format!(
            "Ball: {} ({:.0} s in all). The darker, the more often help stands there.",
            name.word(),
            seconds(&map)
        );
        Still {
            svg: picture(&map.scene(name), &Look::PAPER).file(&says),
            says,
        }
    });
    maps.collect()
}
