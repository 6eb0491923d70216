//! Frame statistics: what tracking data of the same possessions would show.
//!
//! Everything is measured on the places of ten players and the ball, 25 times a second, from the
//! start of a possession to its end, and on nothing that only the simulation knows except the
//! match-ups and relations of defenders. Places, speeds and distances are taken every
//! [`EVERY`] ticks, lanes at every tick.
//!
//! * speed: central difference over two ticks; acceleration: length of the change of the velocity
//!   vector over 0.16 s (it takes in braking and turning);
//! * pass: from the passer's place at the release to the ball's place at the catch; caught passes
//!   only;
//! * free lane: no body's centre but the holder's own and his defender's is in the straight strip
//!   from holder to rim, 0.9 m to either side.
//!
//! Mean and interval: sums over sums with the possession as cluster. Quantiles: over all values, by
//! counting in narrow bins (error at most one bin). A possession starts from standing players, which
//! tracking data do not: its first second is slower than theirs.

use serde::Serialize;

use crate::court::Vec2;
use crate::defence::Relation;
use crate::looks::spacing::{hull_area, nearest_team_mate};
use crate::possession::there::plays;
use crate::possession::{Frame, Possession, TICK, What};
use crate::scenario::Scenario;
use crate::sim::Keep;

use super::Unfit;
use super::franks::{Fit, Matching, Products, fit};
use super::tallies::{Interval, RatioTally};
use super::tracked::tracked;

/// Ticks between two samples of places.
pub const EVERY: usize = 5;
/// Half the width of the strip from holder to rim, metres (the definition).
const STRIP: f64 = 0.9;
/// The quantiles that are shown, each a share of the values.
pub const QUANTILES: [f64; 5] = [0.05, 0.25, 0.5, 0.75, 0.95];

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// Speed of attackers, m/s.
    AttackerSpeed,
    /// Speed of defenders, m/s.
    DefenderSpeed,
    /// Acceleration of attackers, m/s².
    AttackerAcceleration,
    /// Acceleration of defenders, m/s².
    DefenderAcceleration,
    /// Share of a defender's velocity kept from one tick to the next.
    DefenderPersistence,
    /// Length of a caught pass, m.
    PassLength,
    /// Speed of a caught pass over the floor, m/s.
    PassSpeed,
    /// Time from one pass to the next, s.
    PassGap,
    /// Passes in 10 s, one number for a possession.
    PassesPerTenSeconds,
    /// Distance of the defender on the ball from the man guarded, m.
    OffOnBall,
    /// The same, one pass away, m.
    OffOnePass,
    /// The same, two or more passes away, m.
    OffTwoPasses,
    /// The same, inside on the ball side, m.
    OffPostBallSide,
    /// The same, inside on the weak side, m.
    OffPostWeakSide,
    /// The same, the man cutting, m.
    OffCutter,
    /// Distance of the nearest defender at a catch, m.
    CatchRoom,
    /// Distance of an attacker to the nearest team-mate, m.
    NearestTeamMate,
    /// Area of the hull of the attackers, m².
    AttackHull,
    /// Area of the hull of the defenders, m².
    DefenceHull,
    /// Share of the held time with the lane to the rim free, one number for a possession.
    LaneFree,
    /// Length of a spell with the lane free, s.
    LaneFreeSpell,
}

use Quantity as Q;

impl Quantity {
    /// Every quantity, in the order of the report.
    pub const ALL: [Quantity; 21] = [
        Q::AttackerSpeed,
        Q::DefenderSpeed,
        Q::AttackerAcceleration,
        Q::DefenderAcceleration,
        Q::DefenderPersistence,
        Q::PassLength,
        Q::PassSpeed,
        Q::PassGap,
        Q::PassesPerTenSeconds,
        Q::OffOnBall,
        Q::OffOnePass,
        Q::OffTwoPasses,
        Q::OffPostBallSide,
        Q::OffPostWeakSide,
        Q::OffCutter,
        Q::CatchRoom,
        Q::NearestTeamMate,
        Q::AttackHull,
        Q::DefenceHull,
        Q::LaneFree,
        Q::LaneFreeSpell,
    ];

    /// What it is in words, its unit, and the width of the bins that it is counted in.
    pub fn about(self) -> (&'static str, &'static str, f64) {
        match self {
            Q::AttackerSpeed => ("speed of attackers", "m/s", 0.02),
            Q::DefenderSpeed => ("speed of defenders", "m/s", 0.02),
            Q::AttackerAcceleration => ("acceleration of attackers", "m/s²", 0.02),
            Q::DefenderAcceleration => ("acceleration of defenders", "m/s²", 0.02),
            Q::DefenderPersistence => ("defender's velocity kept per 0.04 s", "share", 0.002),
            Q::PassLength => ("length of a pass", "m", 0.05),
            Q::PassSpeed => ("speed of a pass over the floor", "m/s", 0.05),
            Q::PassGap => ("time between passes", "s", 0.04),
            Q::PassesPerTenSeconds => ("passes in 10 s", "", 0.05),
            Q::OffOnBall => ("defender off his man, on the ball", "m", 0.02),
            Q::OffOnePass => ("the same, one pass away", "m", 0.02),
            Q::OffTwoPasses => ("the same, two or more passes away", "m", 0.02),
            Q::OffPostBallSide => ("the same, inside on the ball side", "m", 0.02),
            Q::OffPostWeakSide => ("the same, inside on the weak side", "m", 0.02),
            Q::OffCutter => ("the same, his man cutting", "m", 0.02),
            Q::CatchRoom => ("nearest defender at the catch", "m", 0.02),
            Q::NearestTeamMate => ("attacker to his nearest team-mate", "m", 0.02),
            Q::AttackHull => ("floor covered by the attackers", "m²", 0.25),
            Q::DefenceHull => ("floor covered by the defenders", "m²", 0.25),
            Q::LaneFree => (
                "share of time with the lane to the rim free",
                "share",
                0.005,
            ),
            Q::LaneFreeSpell => ("length of such a spell", "s", 0.04),
        }
    }

    fn off(relation: Relation) -> Quantity {
        match relation {
            Relation::OnBall => Q::OffOnBall,
            Relation::OnePass => Q::OffOnePass,
            Relation::TwoPasses => Q::OffTwoPasses,
            Relation::PostBallSide => Q::OffPostBallSide,
            Relation::PostWeakSide => Q::OffPostWeakSide,
            Relation::Cutter => Q::OffCutter,
        }
    }
}

/// What one possession brings to one quantity: `y / x` is its mean, `values` what is counted.
#[derive(Clone, Debug, Default)]
struct Part {
    y: f64,
    x: f64,
    values: Vec<f64>,
}

impl Part {
    fn push(&mut self, value: f64) {
        self.y += value;
        self.x += 1.0;
        self.values.push(value);
    }

    fn whole(&mut self, y: f64, x: f64) {
        if x > 0.0 {
            (self.y, self.x) = (y, x);
            self.values.push(y / x);
        }
    }
}

/// One possession.
struct FrameRow {
    parts: [Part; Quantity::ALL.len()],
    products: [Products; Matching::ALL.len()],
}

impl FrameRow {
    fn of(p: &Possession) -> FrameRow {
        let mut row = FrameRow {
            parts: Default::default(),
            products: Default::default(),
        };
        row.motion(&p.track);
        row.places(&p.track);
        row.lanes(&p.track);
        row.passes(p);
        row
    }

    fn put(&mut self, q: Quantity, value: f64) {
        self.parts[q as usize].push(value);
    }

    fn motion(&mut self, track: &[Frame]) {
        let (mut now_then, mut then_then) = (0.0, 0.0);
        for i in (3..track.len().saturating_sub(3)).step_by(EVERY) {
            for who in track[i].attack() {
                let attacker = |k: usize| track[k].attackers[who];
                let defender = |k: usize| track[k].defenders[who];
                self.put(Q::AttackerSpeed, velocity(&attacker, i).length());
                self.put(Q::DefenderSpeed, velocity(&defender, i).length());
                self.put(Q::AttackerAcceleration, change(&attacker, i));
                self.put(Q::DefenderAcceleration, change(&defender, i));
                let (v, w) = (step(&defender, i), step(&defender, i - 1));
                now_then += v.dot(w);
                then_then += w.dot(w);
            }
        }
        self.parts[Q::DefenderPersistence as usize].whole(now_then, then_then);
    }

    fn places(&mut self, track: &[Frame]) {
        for frame in track.iter().step_by(EVERY) {
            for d in frame.defend() {
                let man = usize::from(frame.guards[d].clamp(1, 5)) - 1;
                let off = (frame.defenders[d] - frame.attackers[man]).length();
                self.put(Quantity::off(frame.relations[d]), off);
            }
            self.put(
                Q::NearestTeamMate,
                nearest_team_mate(&those(&frame.attackers)),
            );
            self.put(Q::AttackHull, hull_area(&those(&frame.attackers)));
            self.put(Q::DefenceHull, hull_area(&those(&frame.defenders)));
            for (products, matching) in self.products.iter_mut().zip(Matching::ALL) {
                products.add_frame(frame, matching);
            }
        }
    }

    fn lanes(&mut self, track: &[Frame]) {
        let (mut free, mut held) = (0_u32, 0_u32);
        let mut spell: Option<(u8, u32)> = None;
        let mut ended = Vec::new();
        for frame in track {
            let open = frame.holder.filter(|&h| lane_free(frame, h));
            held += u32::from(frame.holder.is_some());
            free += u32::from(open.is_some());
            spell = match (spell, open) {
                (Some((who, ticks)), Some(h)) if who == h => Some((h, ticks + 1)),
                (old, new) => {
                    ended.extend(old.map(|(_, ticks)| ticks));
                    new.map(|h| (h, 1))
                }
            };
        }
        ended.extend(spell.map(|(_, ticks)| ticks));
        for ticks in ended {
            self.put(Q::LaneFreeSpell, f64::from(ticks) * TICK);
        }
        self.parts[Q::LaneFree as usize].whole(f64::from(free), f64::from(held));
    }

    fn passes(&mut self, p: &Possession) {
        let frame = |time: f64| p.track.get((time / TICK).round() as usize);
        let mut passes = 0_u32;
        let mut last: Option<(f64, u8, u8)> = None;
        let mut in_the_air = false;
        for entry in &p.timeline {
            match entry.what {
                What::Passes { from, to, .. } => {
                    passes += 1;
                    if let Some((before, ..)) = last {
                        self.put(Q::PassGap, entry.time - before);
                    }
                    last = Some((entry.time, from, to));
                    in_the_air = true;
                }
                What::Catches { who, room, .. } => {
                    self.put(Q::CatchRoom, room);
                    if let Some((began, from, to)) = last.filter(|l| in_the_air && l.2 == who)
                        && let (Some(a), Some(b)) = (frame(began), frame(entry.time))
                    {
                        debug_assert_eq!(to, who);
                        let from = a.attackers[usize::from(from.clamp(1, 5)) - 1];
                        let length = (Vec2::new(b.ball[0], b.ball[1]) - from).length();
                        self.put(Q::PassLength, length);
                        if entry.time > began {
                            self.put(Q::PassSpeed, length / (entry.time - began));
                        }
                    }
                    in_the_air = false;
                }
                _ => {}
            }
        }
        let ten = p.duration / 10.0;
        self.parts[Q::PassesPerTenSeconds as usize].whole(f64::from(passes), ten);
    }
}

fn velocity(at: &dyn Fn(usize) -> Vec2, i: usize) -> Vec2 {
    (at(i + 1) - at(i - 1)) / (2.0 * TICK)
}

fn step(at: &dyn Fn(usize) -> Vec2, i: usize) -> Vec2 {
    (at(i + 1) - at(i)) / TICK
}

/// Those of five places at which somebody plays.
fn those(five: &[Vec2; 5]) -> Vec<Vec2> {
    five.iter().copied().filter(|at| plays(*at)).collect()
}

fn change(at: &dyn Fn(usize) -> Vec2, i: usize) -> f64 {
    (velocity(at, i + 2) - velocity(at, i - 2)).length() / (4.0 * TICK)
}

/// Is the strip from holder (number) to rim free of every body but his own and his defender's?
fn lane_free(frame: &Frame, holder: u8) -> bool {
    let me = usize::from(holder.clamp(1, 5)) - 1;
    let pos = frame.attackers[me];
    let length = pos.length().max(1e-6);
    let along = -pos / length;
    let clear = |p: Vec2| {
        let off = p - pos;
        let forward = off.dot(along);
        let side = (off.x * along.y - off.y * along.x).abs();
        forward < 0.0 || forward > length || side > STRIP
    };
    (0..5).all(|i| {
        (i == me || clear(frame.attackers[i]))
            && (frame.guards[i] == holder || clear(frame.defenders[i]))
    })
}

/// One quantity over all possessions.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Spread {
    /// What is measured.
    pub quantity: Quantity,
    /// The same in words.
    pub sentence: &'static str,
    /// Unit of all numbers of this spread.
    pub unit: &'static str,
    /// Mean over all possessions, in `unit`; `None` if nothing was seen.
    pub mean: Option<f64>,
    /// Lower end of the mean's 95 % interval, in `unit`.
    pub low: Option<f64>,
    /// Upper end of the mean's 95 % interval, in `unit`.
    pub high: Option<f64>,
    /// At [`QUANTILES`], in `unit`; empty for what is one number for a possession.
    pub quantiles: Vec<f64>,
    /// Values that it rests on.
    pub values: u64,
}

#[derive(Clone, Default)]
struct Counts {
    tally: RatioTally,
    bins: Vec<u64>,
}

impl Counts {
    fn quantile(&self, q: f64, width: f64) -> f64 {
        let total: u64 = self.bins.iter().sum();
        let wanted = q * total as f64;
        let mut below = 0.0;
        for (i, &n) in self.bins.iter().enumerate() {
            let n = n as f64;
            if n > 0.0 && below + n >= wanted {
                return (i as f64 + ((wanted - below) / n).max(0.0)) * width;
            }
            below += n;
        }
        self.bins.len() as f64 * width
    }
}

/// The frame statistics of many possessions.
pub struct Frames {
    /// Seed of the first possession; the rest follow on.
    pub first_seed: u64,
    /// How many possessions were played.
    pub possessions: u64,
    counts: Vec<Counts>,
    products: [Vec<Products>; Matching::ALL.len()],
}

impl Frames {
    /// Plays `possessions` seeds from `first_seed` on and measures every frame; the same to the
    /// last bit for any number of `threads` (0: all that there are).
    ///
    /// # Errors
    /// If there is nothing to play, or the threads cannot be started.
    pub fn of(
        scenario: &Scenario,
        first_seed: u64,
        possessions: u64,
        threads: usize,
    ) -> Result<Frames, Unfit> {
        let mut frames = Frames {
            first_seed,
            possessions: 0,
            counts: vec![Counts::default(); Quantity::ALL.len()],
            products: Default::default(),
        };
        let keep = Keep {
            track: true,
            moments: false,
        };
        tracked(
            scenario,
            first_seed,
            possessions,
            threads,
            keep,
            FrameRow::of,
            |row| frames.fold(&row),
        )?;
        Ok(frames)
    }

    fn fold(&mut self, row: &FrameRow) {
        self.possessions += 1;
        for ((counts, part), q) in self.counts.iter_mut().zip(&row.parts).zip(Quantity::ALL) {
            counts.tally.push(part.y, part.x);
            for value in &part.values {
                let bin = (value / q.about().2).max(0.0) as usize;
                if bin >= counts.bins.len() {
                    counts.bins.resize(bin + 1, 0);
                }
                counts.bins[bin] += 1;
            }
        }
        for (list, products) in self.products.iter_mut().zip(row.products) {
            list.push(products);
        }
    }

    /// One quantity.
    pub fn spread(&self, quantity: Quantity) -> Spread {
        let (sentence, unit, width) = quantity.about();
        let counts = &self.counts[quantity as usize];
        let values: u64 = counts.bins.iter().sum();
        let e = counts.tally.estimate(Interval::Mean);
        let one_number = quantity == Q::DefenderPersistence;
        Spread {
            quantity,
            sentence,
            unit,
            mean: counts.tally.ratio(),
            low: e.map(|e| e.low),
            high: e.map(|e| e.high),
            quantiles: if one_number || values == 0 {
                Vec::new()
            } else {
                QUANTILES.map(|q| counts.quantile(q, width)).to_vec()
            },
            values,
        }
    }

    /// All of them.
    pub fn spreads(&self) -> Vec<Spread> {
        Quantity::ALL.map(|q| self.spread(q)).to_vec()
    }

    /// Where defenders stand as a mix of man, ball and rim (see `franks`).
    pub fn fit(&self, matching: Matching) -> Option<Fit> {
        fit(&self.products[matching as usize], matching)
    }
}

#[cfg(test)]
mod tests;
