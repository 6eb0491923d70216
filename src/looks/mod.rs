//! What is open: passing lanes, driving lanes, backdoor cuts, shots and spacing, as pure functions
//! of where everybody is.
//!
//! Openness is a chance in \[0, 1\]. For each defender the *margin* is the time that he needs to get
//! a hand (or his body) onto a point, less the time at which the ball (or the driver) is there; the
//! smallest margin over the way counts, and a logistic turns it into his chance to cut the way
//! (after Spearman, 2018, *Beyond expected goals*, MIT Sloan, whose arrival times for football are
//! logistic as well). The product over defenders of the complement is the openness; the defender
//! with the largest chance is the closer.
//!
//! Not modelled: fakes, the passer's height of vision over a crowd, screens on the way of a pass.

use crate::court::{Court, Vec2};
use crate::squad::Player;

pub mod backdoor;
pub mod driving;
pub mod field;
pub mod passing;
pub mod shooting;
pub mod spacing;

/// Five attackers (0–4), then five defenders (5–9).
pub const BODIES: usize = 10;

/// Who is on the floor: fixed for a possession.
#[derive(Clone, Debug)]
pub struct Cast {
    pub court: Court,
    pub players: [Player; BODIES],
}

/// Where everybody is at one instant.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    pub pos: [Vec2; BODIES],
    pub vel: [Vec2; BODIES],
    pub facing: [Vec2; BODIES],
    /// Seconds before each defender acts on a pass or a drive that starts now: his reaction, less
    /// what he anticipates, more what he does not see.
    pub alert: [f64; 5],
    /// Seconds more before a defender answers what another man does with or without the ball (a
    /// drive, a cut): little with eyes on ball and man, long with eyes on his own man.
    pub aware: [f64; 5],
    /// Which attacker each defender guards.
    pub guards: [usize; 5],
}

impl Scene {
    /// Distance from a point to the nearest defender, metres, and which (0–4).
    pub fn nearest_defender(&self, p: Vec2) -> (f64, usize) {
        let mut best = (f64::INFINITY, 0);
        for d in 0..5 {
            let distance = (self.pos[5 + d] - p).norm();
            if distance < best.0 {
                best = (distance, d);
            }
        }
        best
    }
}

/// Openness of one way, and who shuts it most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Openness {
    pub value: f64,
    /// Defender 0–4 with the largest chance, and that chance.
    pub closer: (usize, f64),
}

impl Openness {
    fn of(chances: &[f64; 5]) -> Self {
        let mut value = 1.0;
        let mut closer = (0, 0.0);
        for (d, &chance) in chances.iter().enumerate() {
            value *= 1.0 - chance;
            if chance > closer.1 {
                closer = (d, chance);
            }
        }
        Openness { value, closer }
    }
}

/// Spread of the logistic in time, seconds: a defender with a margin of one spread in his favour
/// cuts the way with a chance of 0.73. Spearman (2018) gives a standard deviation of 0.45–0.54 s
/// for men 10–40 m away in football; over basketball's few metres an eighth of that (ours, no source).
pub const SPREAD: f64 = 0.06;

/// Chance of a defender with this margin (s, positive: he is late) to cut the way.
#[inline]
pub fn chance_to_cut(margin: f64) -> f64 {
    let z = margin / SPREAD;
    if z > 9.0 {
        0.0
    } else if z < -9.0 {
        1.0
    } else {
        1.0 / (1.0 + libm::exp(z))
    }
}

/// A margin at which nobody need look further: the chance is nil.
pub(crate) const HOPELESS: f64 = 9.0 * SPREAD;

/// A margin at which nobody need look further: the chance is one.
pub(crate) const CERTAIN: f64 = -9.1 * SPREAD;
