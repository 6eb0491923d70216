//! Bodies do not overlap.
//!
//! Every pair in contact is answered from the *old* state (a Jacobi sweep), several times, and the
//! answers are added as whole numbers of a tiny unit of length. Whole numbers add to the same sum in
//! any order, so the bodies may be listed in any order without a bit of the result changing.

use crate::court::Vec2;

/// Most bodies that [`separate`] takes (ten players stand on a court).
pub const MAX_BODIES: usize = 16;

/// Sweeps over all pairs (ours, no source: a pile of four is apart to within a millimetre).
const SWEEPS: usize = 8;

/// The unit in which answers are added: 2⁻⁴⁰ m or m/s, about a picometre.
const GRAINS: f64 = (1u64 << 40) as f64;

/// Pairs of them.
const PAIRS: usize = MAX_BODIES * (MAX_BODIES - 1) / 2;

/// Pairs farther apart than this, m, are not looked at again until somebody has moved half of it.
const ROOM: f64 = 0.4;

/// Moves overlapping bodies apart and takes away the velocity with which they approach one another.
///
/// `radii` in metres. `mobile` is each body's share in giving way: a pair splits the correction
/// in the ratio of the two, 0 never gives way (a set screener). A pair of two zeros is left as it is.
/// Two bodies on the very same point with the same velocity are told apart by their place in the list:
/// the only case in which the order matters.
///
/// # Panics
/// If the slices differ in length or hold more than [`MAX_BODIES`] bodies.
pub fn separate(positions: &mut [Vec2], velocities: &mut [Vec2], radii: &[f64], mobile: &[f64]) {
    let n = positions.len();
    assert!(n <= MAX_BODIES, "at most {MAX_BODIES} bodies");
    assert!(
        velocities.len() == n && radii.len() == n && mobile.len() == n,
        "slices of one length"
    );

    let mut near = [(0u8, 0u8); PAIRS];
    let mut pairs = [(0u8, 0u8); PAIRS];
    let mut listed = 0;
    // No body has moved farther than this since the near pairs were listed.
    let mut strayed = f64::INFINITY;
    for _ in 0..SWEEPS {
        if strayed > 0.5 * ROOM {
            listed = list_near(positions, radii, &mut near);
            strayed = 0.0;
        }
        let mut contacts = [0u32; MAX_BODIES];
        let mut met = 0;
        for &(a, b) in &near[..listed] {
            let (i, j) = (usize::from(a), usize::from(b));
            if overlap(positions, radii, i, j) > 0.0 {
                contacts[i] += 1;
                contacts[j] += 1;
                pairs[met] = (a, b);
                met += 1;
            }
        }
        if met == 0 {
            return;
        }
        let mut moved = [[0i64; 2]; MAX_BODIES];
        let mut slowed = [[0i64; 2]; MAX_BODIES];
        for &(i, j) in &pairs[..met] {
            let (i, j) = (usize::from(i), usize::from(j));
            let depth = overlap(positions, radii, i, j);
            let weight = mobile[i] + mobile[j];
            if weight <= 0.0 {
                continue;
            }
            let apart = direction(positions, velocities, i, j);
            let approach = (velocities[i] - velocities[j]).dot(apart).max(0.0);
            let part = 1.0 / (weight * f64::from(contacts[i].max(contacts[j])));
            for (k, toward) in [(i, -1.0), (j, 1.0)] {
                let share = toward * mobile[k] * part;
                add(&mut moved[k], apart * (depth * share));
                add(&mut slowed[k], apart * (approach * share));
            }
        }
        let mut most: f64 = 0.0;
        for k in 0..n {
            let way = sum(moved[k]);
            most = most.max(way.x.abs() + way.y.abs());
            positions[k] += way;
            velocities[k] += sum(slowed[k]);
        }
        strayed += most;
    }
}

/// Lists the pairs that are in contact or may come into it before either has moved half of [`ROOM`];
/// returns how many.
fn list_near(positions: &[Vec2], radii: &[f64], near: &mut [(u8, u8); PAIRS]) -> usize {
    let n = positions.len().min(MAX_BODIES);
    let (mut x, mut y, mut r) = ([0.0; MAX_BODIES], [0.0; MAX_BODIES], [0.0; MAX_BODIES]);
    for i in 0..n {
        (x[i], y[i], r[i]) = (positions[i].x, positions[i].y, radii[i]);
    }
    let mut listed = 0;
    for i in 0..n {
        for j in i + 1..n {
            let (dx, dy, reach) = (x[j] - x[i], y[j] - y[i], r[i] + r[j] + ROOM);
            if dx * dx + dy * dy <= reach * reach {
                near[listed] = (i as u8, j as u8);
                listed += 1;
            }
        }
    }
    listed
}

/// How deep two bodies stand in one another, m; not positive when they do not.
#[inline]
fn overlap(positions: &[Vec2], radii: &[f64], i: usize, j: usize) -> f64 {
    radii[i] + radii[j] - (positions[j] - positions[i]).length()
}

/// Unit direction from body `i` to body `j`; of two on one point the later is the one nearer to the
/// baseline, so that a defender stands between his man and the rim.
#[inline]
pub(super) fn direction(positions: &[Vec2], velocities: &[Vec2], i: usize, j: usize) -> Vec2 {
    for d in [positions[j] - positions[i], velocities[j] - velocities[i]] {
        let length = d.length();
        if length > 1e-9 {
            return d / length;
        }
    }
    Vec2::new(0.0, -1.0)
}

#[inline]
pub(super) fn add(total: &mut [i64; 2], v: Vec2) {
    total[0] += rounded(v.x * GRAINS);
    total[1] += rounded(v.y * GRAINS);
}

/// As `f64::round`, without the call that it is.
#[inline]
fn rounded(x: f64) -> i64 {
    let whole = x as i64;
    let rest = x - whole as f64;
    whole.saturating_add(i64::from(rest >= 0.5) - i64::from(rest <= -0.5))
}

#[inline]
pub(super) fn sum(total: [i64; 2]) -> Vec2 {
    Vec2::new(total[0] as f64 / GRAINS, total[1] as f64 / GRAINS)
}
