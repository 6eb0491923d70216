//! The reverse view: which of our defenders is out of place, after what, and what it costs.
//!
//! **His place** is where his model's stance puts him for man and ball as they truly are now; a
//! helper at the rim and a rotating defender have left theirs on purpose and are not counted. He is
//! **out of place** farther than [`OUT`] from it. What that **costs** is the value of the best open
//! look less that of the best one still open with him in his place, neither taken for less than the
//! team's usual possession (without a look the ball is still in hand): what his being late gives
//! away, at most, at that instant.

use std::collections::BTreeMap;

use crate::defence::{Duty, Relation};
use crate::possession::Possession;

use super::sheet::Asked;
use super::stalls::{Lately, lately};
use super::whatif::Instead;

/// Farther from his place than this, a defender is out of it, metres: a long step (ours).
pub const OUT: f64 = 1.0;

/// Whose place, and when.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Out {
    Defender(u8),
    Relation(Relation),
    After(Relation, Lately),
}

/// One possession's sums.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OutRow {
    /// Distance from his place at every instant, metres.
    pub off: Vec<f32>,
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
    for d in 0..5 {
        let (duty, relation, _) = asked.instant.old.duties[d];
        if matches!(duty, Duty::LowHelp | Duty::Rotating) {
            continue;
        }
        let place = asked.instant.own_place(asked.play, d);
        let off = (asked.instant.old.scene.pos[5 + d] - place).norm();
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
