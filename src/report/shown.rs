//! What of the why report is looked at: a still for each second that is named, light second by second through a
//! possession, where and when it stalls, where help stands for each place of the ball.

use rayon::prelude::*;

use crate::court::Court;
use crate::draw::help::{Shade, help_maps};
use crate::draw::light::Replay;
use crate::draw::phase::frame_at;
use crate::draw::svg::{Look, picture};
use crate::possession::{Moment, Possession};
use crate::scenario::Scenario;
use crate::scrimmage::windows::{INSTANT, stalls};
use crate::stats::{CONFIDENCE, Estimate, share_estimate};
use crate::why::Summary;

use super::why::{Dots, In};

/// Possessions that the pictures are made of, at most (ours: enough for shares to some ± 6 %).
const PLAYED: u64 = 80;
/// Width of a bar of time, seconds.
const SPAN: f64 = 1.0;
/// Bars of time.
const SPANS: usize = 24;
/// A bar of time is drawn from so many possessions on that last so long (ours).
const FEWEST: usize = 20;
/// Places of the ball that are mapped.
const PLACES: usize = 6;

/// A picture with its words.
#[derive(Clone, Debug, PartialEq)]
pub struct Still {
    /// What is to be seen.
    pub says: String,
    /// The picture as an `<svg>` element.
    pub svg: String,
}

/// A second that is named: seed and time, s.
pub type Named = (u64, f64);

/// Everything that is looked at.
#[derive(Clone, Debug, Default)]
pub struct Shown {
    /// A still for each named second.
    pub stills: Vec<(Named, Still)>,
    /// Share of the time with an open look, and share that is stalled, by time since the possession began.
    pub through: Vec<Dots>,
    /// Where the ball is when it stalls.
    pub stalled: Option<Still>,
    /// Where help stands, for each place of the ball.
    pub help: Vec<Still>,
}

impl Shown {
    /// The still of a named second.
    pub fn of(&self, named: Named) -> Option<&Still> {
        let mut stills = self.stills.iter();
        stills.find(|(n, _)| *n == named).map(|(_, still)| still)
    }
}

/// Draws it all. `named`: the seconds that the report names.
pub fn shown(scenario: &Scenario, summary: &Summary, named: &[Named]) -> Shown {
    let mut all: Vec<Named> = Vec::new();
    for second in named {
        if !all.contains(second) {
            all.push(*second);
        }
    }
    let last = summary.first_seed + summary.possessions.min(PLAYED);
    let replays = Replay::many(scenario, summary.first_seed..last);
    let stills = all.into_par_iter().filter_map(|(seed, time)| {
        let known = replays.iter().find(|r| r.possession.seed == seed);
        let still = match known {
            Some(replay) => still(replay, time),
            None => still(&Replay::one(scenario, seed), time),
        };
        Some(((seed, time), still?))
    });
    let played: Vec<&Possession> = replays.iter().map(|r| &r.possession).collect();
    Shown {
        stills: stills.collect(),
        through: through(&played),
        stalled: stalled(&scenario.court, &played),
        help: help(&scenario.court, &played),
    }
}

/// The decision instant nearest to a time, on the floor as it is lit.
pub fn still(replay: &Replay, time: f64) -> Option<Still> {
    let near = replay.nearest(time)?;
    let time = replay.possession.moments.get(near)?.time;
    let says = format!("Seed {} at {time:.1} s.", replay.possession.seed);
    Some(Still {
        svg: picture(&replay.scene(near)?, &Look::PAPER).file(&says),
        says,
    })
}

/// Which moments of a possession are part of a stall.
fn in_a_stall(p: &Possession) -> Vec<bool> {
    let mut out = vec![false; p.moments.len()];
    for spell in stalls(&p.moments) {
        let until = spell.first + usize::from(spell.length);
        out[spell.first..until].fill(true);
    }
    out
}

/// Shares of the decision instants with an open look, and of those in a stall, second by second.
fn through(played: &[&Possession]) -> Vec<Dots> {
    let open =
        |p: &Possession| -> Vec<bool> { p.moments.iter().map(|m| !m.nothing_open()).collect() };
    let row = |i: usize, is: &dyn Fn(&Possession) -> Vec<bool>| -> Option<(String, Estimate)> {
        let (from, to) = (i as f64 * SPAN, (i + 1) as f64 * SPAN);
        let within = |m: &Moment| m.time >= from && m.time < to;
        let pairs = played.iter().map(|p| {
            let counted = is(p);
            let here = p.moments.iter().zip(&counted).filter(|(m, _)| within(m));
            let here: Vec<bool> = here.map(|(_, is)| *is).collect();
            (
                here.iter().filter(|is| **is).count() as f64,
                here.len() as f64,
            )
        });
        let pairs: Vec<(f64, f64)> = pairs.collect();
        if pairs.iter().filter(|p| p.1 > 0.0).count() < FEWEST {
            return None;
        }
        let share = share_estimate(pairs, CONFIDENCE)?;
        Some((format!("{from:.0} to {to:.0} s"), share))
    };
    let dots = |what: &str, is: &dyn Fn(&Possession) -> Vec<bool>| Dots {
        caption: format!(
            "{what} (of the time with the ball in hand, second by second, {} possessions)",
            played.len()
        ),
        axis: "share of the time, %".into(),
        unit: In::Percent,
        bars: true,
        rows: (0..SPANS).filter_map(|i| row(i, is)).collect(),
    };
    let all = [
        dots("Light through a possession: some look is open", &open),
        dots(
            "When it stalls: nothing has been open for 0.8 s or more",
            &in_a_stall,
        ),
    ];
    all.into_iter().filter(|d| !d.rows.is_empty()).collect()
}

/// Where the ball is in the stalls.
fn stalled(court: &Court, played: &[&Possession]) -> Option<Still> {
    let mut shade = Shade::new(court);
    for p in played {
        for (moment, stalled) in p.moments.iter().zip(in_a_stall(p)) {
            let frame = p.track.get(frame_at(&p.track, moment.time));
            if let Some(frame) = frame.filter(|_| stalled) {
                shade.ball(frame);
            }
        }
    }
    let says = format!(
        "Where the ball is while it stalls ({:.0} s in all, the left laid upon the right). The darker, the longer.",
        shade.frames as f64 * INSTANT
    );
    (shade.frames > 0).then(|| Still {
        svg: picture(&shade.scene(None), &Look::PAPER).file(&says),
        says,
    })
}

/// Where help stands, for each place at which the ball was held for long, longest first.
pub fn help(court: &Court, played: &[&Possession]) -> Vec<Still> {
    let maps = help_maps(court, played).into_iter().take(PLACES);
    let maps = maps.map(|(name, map)| {
        let says = format!(
            "Ball: {} ({:.0} s in all). The darker, the more often help stands there.",
            name.word(),
            map.seconds()
        );
        Still {
            svg: picture(&map.scene(Some(name)), &Look::PAPER).file(&says),
            says,
        }
    });
    maps.collect()
}
