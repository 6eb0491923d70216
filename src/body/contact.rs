//! Contact between players who move: soft, without a bounce, spread over several ticks.
//!
//! Two bodies nearer than `contact_distance` may approach each other only as fast as brings them to the
//! core distance in `contact_time`. What they approach faster is taken out of both velocities in the
//! ratio in which they give way, so momentum is shared and nothing is added. No tick changes a velocity by more than
//! `contact_change`. Bodies that stand too near drift apart by at most `contact_push` a tick.
//!
//! As in [`super::separate`], every pair is answered from the same state and the answers are added as whole
//! numbers of a tiny unit, so the order of the bodies does not matter.

use super::MAX_BODIES;
use super::separate::{add, direction, sum};
use crate::court::Vec2;
use crate::model::Movement;

/// Sweeps over all pairs: a body between two others hears of both.
const SWEEPS: usize = 4;

/// Two bodies near each other.
#[derive(Clone, Copy)]
struct Pair {
    bodies: (usize, usize),
    /// Unit direction from the first to the second.
    apart: Vec2,
    distance: f64,
    weight: f64,
}

/// Takes the approach out of bodies that meet, and lets bodies that are too near drift apart.
///
/// `mobile` is each body's share in giving way: a pair splits what has to change in the ratio of the
/// two, and 0 never gives way (a set screener). A pair of two zeros is left as it is. `grip` is the share of
/// the approach that is taken out of the sliding of two bodies, too.
///
/// # Panics
/// If the slices differ in length or hold more than [`MAX_BODIES`] bodies.
pub fn contact(
    model: &Movement,
    grip: impl Fn(usize, usize) -> f64,
    positions: &mut [Vec2],
    velocities: &mut [Vec2],
    mobile: &[f64],
) {
    let n = positions.len();
    assert!(n <= MAX_BODIES, "at most {MAX_BODIES} bodies");
    assert!(
        velocities.len() == n && mobile.len() == n,
        "slices of one length"
    );
    let near = near_pairs(model, positions, velocities, mobile);
    let near = near.as_slice();
    let mut change = [Vec2::ZERO; MAX_BODIES];
    for _ in 0..SWEEPS {
        let mut more = [[0i64; 2]; MAX_BODIES];
        let mut contacts = [0u32; MAX_BODIES];
        let mut calm = true;
        for pair in near {
            let (i, j) = pair.bodies;
            let gap = pair.distance - model.contact_core;
            let may = (gap / model.contact_time).max(0.0);
            let relative = (velocities[i] + change[i]) - (velocities[j] + change[j]);
            let approach = relative.dot(pair.apart) - may;
            if approach <= 0.0 {
                continue;
            }
            calm = false;
            // Bodies don't roll off each other: hips and arms take out of the sliding, too.
            let slides = relative - pair.apart * relative.dot(pair.apart);
            let held = slides.length().min(grip(i, j) * approach);
            let less = pair.apart * approach + unit_or_zero(slides) * held;
            for (k, toward) in [(i, -1.0), (j, 1.0)] {
                contacts[k] += 1;
                add(&mut more[k], less * (toward * mobile[k] / pair.weight));
            }
        }
        if calm {
            break;
        }
        for k in 0..n {
            if contacts[k] > 0 {
                let total = change[k] + sum(more[k]) / f64::from(contacts[k]);
                change[k] = at_most(total, model.contact_change);
            }
        }
    }
    let mut drift = [[0i64; 2]; MAX_BODIES];
    for pair in near {
        let soft = (model.contact_soft_distance - pair.distance).max(0.0);
        let core = (model.contact_core - pair.distance).max(0.0);
        let depth = soft * model.contact_soft_share + core * model.contact_core_share;
        if depth <= 0.0 {
            continue;
        }
        let part = depth / pair.weight;
        let (i, j) = pair.bodies;
        for (k, toward) in [(i, -1.0), (j, 1.0)] {
            add(&mut drift[k], pair.apart * (toward * part * mobile[k]));
        }
    }
    for k in 0..n {
        velocities[k] += change[k];
        positions[k] += at_most(sum(drift[k]), model.contact_push);
    }
}

fn unit_or_zero(v: Vec2) -> Vec2 {
    v / v.length().max(1e-12)
}

/// The pairs that are near each other, one of which gives way. They are few, and room for all would have to be cleared:
/// that costs more than all the rest.
fn near_pairs(
    model: &Movement,
    positions: &[Vec2],
    velocities: &[Vec2],
    mobile: &[f64],
) -> Vec<Pair> {
    let within = model.contact_distance * model.contact_distance;
    let n = positions.len().min(MAX_BODIES);
    let (mut x, mut y) = ([0.0; MAX_BODIES], [0.0; MAX_BODIES]);
    for i in 0..n {
        (x[i], y[i]) = (positions[i].x, positions[i].y);
    }
    let mut near = Vec::with_capacity(MAX_BODIES);
    for i in 0..n {
        for j in i + 1..n {
            let dx = x[j] - x[i];
            if dx.abs() >= model.contact_distance {
                continue;
            }
            let dy = y[j] - y[i];
            let distance2 = dx * dx + dy * dy;
            if distance2 >= within || mobile[i] + mobile[j] <= 0.0 {
                continue;
            }
            near.push(Pair {
                bodies: (i, j),
                apart: direction(positions, velocities, i, j),
                distance: distance2.sqrt(),
                weight: mobile[i] + mobile[j],
            });
        }
    }
    near
}

fn at_most(v: Vec2, most: f64) -> Vec2 {
    let size = v.length();
    if size > most { v * (most / size) } else { v }
}
