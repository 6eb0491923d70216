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

use std::sync::Arc;

use crate::body::{Limits, surely_later, time_to_reach_within};
use crate::court::{Court, Vec2};
use crate::model::{Looks, Model};
use crate::squad::Player;
use crate::value::Value;

pub mod backdoor;
pub mod driving;
pub mod field;
mod on_its_way;
pub mod passing;
pub mod shooting;
pub mod spacing;

/// Five attackers (0–4), then five defenders (5–9).
pub const BODIES: usize = 10;

/// Who is on the floor: fixed for a possession.
#[derive(Clone, Debug)]
pub struct Cast {
    /// The court played on.
    pub court: Court,
    /// Attackers 0–4, then defenders 5–9.
    pub players: [Player; BODIES],
    /// Which of the five of each side play; who does not is parked ([`crate::possession::there`]).
    pub there: [bool; 5],
    /// The numbers by which they are judged.
    pub model: Arc<Model>,
    /// What the attackers usually score in a possession, points: the unit of their values.
    pub usual: f64,
    /// What they have learnt it is worth to go on.
    pub value: Value,
}

impl Cast {
    /// The numbers 0–4 of those who play, on either side.
    pub fn five(&self) -> impl Iterator<Item = usize> + use<> {
        let there = self.there;
        (0..5).filter(move |&i| there[i])
    }

    /// Is body 0–9 one who plays?
    pub fn has(&self, body: usize) -> bool {
        self.there[body % 5]
    }
}

/// Where everybody is at one instant.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    /// Place of each body, metres from the rim.
    pub pos: [Vec2; BODIES],
    /// Velocity of each body, m/s.
    pub vel: [Vec2; BODIES],
    /// Where each chest points, unit vectors.
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
            let distance = (self.pos[5 + d] - p).length();
            if distance < best.0 {
                best = (distance, d);
            }
        }
        best
    }

    /// The defender (0–4) whose man is attacker `who`, if there is one.
    pub fn guarded_by(&self, who: usize) -> Option<usize> {
        self.guards.iter().position(|&man| man == who)
    }
}

/// Openness of one way, and who shuts it most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Openness {
    /// Chance that nobody cuts the way, 0..=1.
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

/// From so many scales on the logistic counts as 0, or as 1.
const NIL: f64 = 9.0;

/// Chance of a defender with this margin (s, positive: he is late) to cut the way.
#[inline]
pub fn chance_to_cut(looks: &Looks, margin: f64) -> f64 {
    let z = margin / looks.logistic_scale;
    if z > NIL {
        0.0
    } else if z < -NIL {
        1.0
    } else {
        1.0 / (1.0 + libm::exp(z))
    }
}

/// A margin, s, at which nobody need look further: the chance is nil.
#[inline]
pub(crate) fn hopeless(looks: &Looks) -> f64 {
    NIL * looks.logistic_scale
}

/// A margin, s, at which nobody need look further: the chance is one, rounding or not.
#[inline]
fn certain(looks: &Looks) -> f64 {
    SURE * looks.logistic_scale
}

/// Somewhat beyond [`NIL`], the other way.
const SURE: f64 = -9.1;

/// Points of a way, metres, and when the ball or the driver is there, seconds from now.
pub(crate) struct Points<const N: usize> {
    pub x: [f64; N],
    pub y: [f64; N],
    pub t: [f64; N],
}

impl<const N: usize> Points<N> {
    pub fn new() -> Self {
        Points {
            x: [0.0; N],
            y: [0.0; N],
            t: [0.0; N],
        }
    }

    pub fn put(&mut self, i: usize, p: Vec2, t: f64) {
        (self.x[i], self.y[i], self.t[i]) = (p.x, p.y, t);
    }
}

/// The smallest margin, s, of a body over the points of a way, none of those in `left_out` (bits);
/// [`hopeless`] if none is smaller, anything below [`certain`] if one is.
///
/// Within `reach[i]` of point `i` the body has it; its feet wait for `moves`, its hands for `alert` seconds.
/// What surely cannot be smaller is not reckoned, and the point that he has most room for comes first.
pub(crate) fn least_margin<const N: usize>(
    looks: &Looks,
    ((pos, vel), limits): ((Vec2, Vec2), &Limits),
    points: &Points<N>,
    reach: &[f64; N],
    left_out: u32,
    (moves, alert): (f64, f64),
) -> f64 {
    let Points { x, y, t } = points;
    let (hopeless, certain) = (hopeless(looks), certain(looks));
    // As in `surely_later`, for all points at once: how near he comes by coasting, and what his
    // acceleration makes up for, each squared.
    let (top, v2) = (limits.top_speed, vel.length_squared());
    let v = if v2 > top * top {
        vel * (top / v2.sqrt())
    } else {
        vel
    };
    let v2 = v.length_squared();
    let per_v2 = if v2 > 1e-12 { 1.0 / v2 } else { 0.0 };
    let (mut rest, mut made) = ([0.0; N], [0.0; N]);
    for i in 0..N {
        let time = hopeless + t[i];
        let (off_x, off_y) = (x[i] - pos.x, y[i] - pos.y);
        let nearest = greater((off_x * v.x + off_y * v.y) * per_v2, 0.0);
        let nearest = if nearest < time { nearest } else { time };
        let (rest_x, rest_y) = (off_x - v.x * nearest, off_y - v.y * nearest);
        let free = greater(time - moves, 0.0);
        let up = reach[i] + 0.5 * limits.accel * free * free + SLACK;
        rest[i] = rest_x * rest_x + rest_y * rest_y;
        made[i] = up * up;
    }
    // Bits: where he does not surely come too late.
    let mut open = 0_u32;
    for i in 0..N {
        open |= u32::from(rest[i] < made[i]) << i;
    }
    open &= !left_out;
    let mut least = hopeless;
    if open == 0 {
        return least;
    }
    // First where what is missing is the smallest share of what he can make up for.
    let (mut i, mut share) = (N, (1.0, 1.0));
    for k in 0..N {
        if open & (1 << k) != 0 && rest[k] * share.1 < share.0 * made[k] {
            (i, share) = (k, (rest[k], made[k]));
        }
    }
    while i < N {
        open &= !(1 << i);
        let most = least + t[i];
        let point = Vec2::new(x[i], y[i]);
        if alert - t[i] < least && !surely_later(pos, vel, limits, point, reach[i], moves, most) {
            let time = time_to_reach_within(pos, vel, limits, point, reach[i], moves, most);
            least = least.min(time.max(alert) - t[i]);
            if least < certain {
                break;
            }
        }
        // Then from the last on.
        i = match open {
            0 => N,
            _ => (31 - open.leading_zeros()) as usize,
        };
    }
    least
}

/// More than the rounding of the closed form, metres.
const SLACK: f64 = 4e-6;

#[inline]
fn greater(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}
