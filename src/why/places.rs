//! The reverse view: which of our defenders is out of place, after what, and what it costs.
//!
//! **His place** is where his model's stance puts him for man and ball as they truly are now; a
//! helper at the rim and a rotating defender have left theirs on purpose and are not counted. He is
//! **out of place** farther than [`OUT`] from it. What that **costs** is the value of the best open
//! look less that of the best one still open with him in his place, neither taken for less than the
//! team's usual possession (without a look the ball is still in hand): what his being late gives
//! away, at most, at that instant.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::defence::{Duty, Relation};
use crate::possession::Possession;
use crate::stats::{Estimate, quantile};

use super::Sheet;
use super::sheet::Asked;
use super::stalls::{Lately, lately};
use super::summary::{TOO_FEW, ratio, share};
use super::whatif::Instead;

/// Farther from his place than this, a defender is out of it, metres: a long step (ours).
pub const OUT: f64 = 1.0;

/// Whose place, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Out {
    /// One defender by number, 1–5, at any time.
    Defender(u8),
    /// Whoever has this relation to the ball.
    Relation(Relation),
    /// Whoever has this relation to the ball, after this happened.
    After(Relation, Lately),
}

/// One possession's sums.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OutRow {
    /// Distance from his place at every instant, metres.
    pub off: Vec<f32>,
    /// Instants out of place.
    pub out: u32,
    /// Instants at which his being out of place opened a better look.
    pub opened: u32,
    /// The most it cost at one instant, points.
    pub cost: f64,
}

/// Adds one instant.
pub fn read(p: &Possession, asked: &mut Asked, rows: &mut BTreeMap<Out, OutRow>) {
    let m = asked.moment;
    let after = lately(p, m.time);
    let usual = asked.play.usual;
    let best = |looks: &[crate::possession::LookNow]| {
        let open = looks.iter().filter(|l| l.open).map(|l| l.value);
        open.fold(usual, f64::max)
    };
    let now = best(&m.looks);
    for d in asked.play.cast.five() {
        let (duty, relation, _) = asked.instant.old.duties[d];
        if matches!(duty, Duty::LowHelp | Duty::Rotating) {
            continue;
        }
        let place = asked.instant.own_place(asked.play, d);
        let off = (asked.instant.old.scene.pos[5 + d] - place).length();
        let mut cost = 0.0;
        if off > OUT && now > usual {
            cost = (now - best(&asked.looks_if(d, Instead::InPlace))).max(0.0);
        }
        for key in [
            Out::Defender(d as u8 + 1),
            Out::Relation(relation),
            Out::After(relation, after),
        ] {
            let row = rows.entry(key).or_default();
            row.off.push(off as f32);
            row.out += u32::from(off > OUT);
            row.opened += u32::from(cost > 0.0);
            row.cost = row.cost.max(cost);
        }
    }
}

/// How far a defender is from his place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OutOfPlace {
    /// Number 1–5, in a line about one defender.
    pub defender: Option<u8>,
    /// The relation to the ball, in a line about a case.
    pub relation: Option<Relation>,
    /// What happened before, in a line about a case.
    pub after: Option<Lately>,
    /// Metres.
    pub off: Option<Estimate>,
    /// Nine times in ten he is nearer than this, metres.
    pub nine_in_ten: Option<Estimate>,
    /// Share of the time out of place.
    pub out: Option<Estimate>,
    /// Share of that time in which a look was open because of it.
    pub opened: Option<Estimate>,
    /// Points per possession that it cost at most.
    pub cost: Option<Estimate>,
}

/// Nearer than this in a share `q` of the instants, with Woodruff's interval clustered by possession
/// (as `scrimmage::tallies` has the median): the distances at which the interval of "share no
/// farther than this" takes in `q`.
fn within<'a, I: Iterator<Item = &'a OutRow>>(rows: impl Fn() -> I, q: f64) -> Option<Estimate> {
    let mut all: Vec<f32> = rows().flat_map(|r| r.off.iter().copied()).collect();
    all.sort_by(f32::total_cmp);
    let sorted: Vec<f64> = all.iter().map(|x| f64::from(*x)).collect();
    let value = quantile(&sorted, q)?;
    // The first distance from which on `reached` holds, by halving.
    let first = |reached: &dyn Fn(Estimate) -> bool| {
        let at = all.partition_point(|x| {
            let near = |r: &OutRow| r.off.iter().filter(|o| **o <= *x).count() as u32;
            let share = share(rows().map(|r| (near(r), r.off.len() as u32)));
            !share.is_some_and(reached)
        });
        sorted.get(at).or(sorted.last()).copied()
    };
    let (low, high) = (first(&|e| e.high >= q)?, first(&|e| e.low >= q)?);
    Some(Estimate {
        value,
        low: low.min(value),
        high: high.max(value),
        n: sorted.len() as u64,
    })
}

/// Everybody and every case seen often enough.
pub(super) fn places(sheets: &[Sheet]) -> Vec<OutOfPlace> {
    let mut keys: BTreeMap<Out, u32> = BTreeMap::new();
    for sheet in sheets {
        for (key, row) in &sheet.out {
            *keys.entry(*key).or_default() += row.off.len() as u32;
        }
    }
    keys.retain(|_, n| *n >= TOO_FEW);
    keys.into_keys().map(|key| out(sheets, key)).collect()
}

fn out(sheets: &[Sheet], key: Out) -> OutOfPlace {
    let none = OutRow::default();
    let rows = || sheets.iter().map(|s| s.out.get(&key).unwrap_or(&none));
    let (defender, relation, after) = match key {
        Out::Defender(d) => (Some(d), None, None),
        Out::Relation(r) => (None, Some(r), None),
        Out::After(r, a) => (None, Some(r), Some(a)),
    };
    OutOfPlace {
        defender,
        relation,
        after,
        off: ratio(rows().map(|r| {
            let sum = r.off.iter().map(|x| f64::from(*x)).sum();
            (sum, r.off.len() as f64)
        })),
        nine_in_ten: within(rows, 0.9),
        out: share(rows().map(|r| (r.out, r.off.len() as u32))),
        opened: share(rows().map(|r| (r.opened, r.out))),
        cost: ratio(rows().map(|r| (r.cost, 1.0))),
    }
}
