//! Team-mates keep out of each other's way: optimal reciprocal collision avoidance (van den Berg, Guy,
//! Lin, Manocha, "Reciprocal n-body collision avoidance", 2011).
//!
//! For every team-mate the velocities that would bring both too near within the horizon form a cone. The
//! nearest velocity outside it defines a half-plane, and each of the two takes a share of the change, by how
//! much it yields: everybody yields to a driver, and a receiver never yields. Of the velocities that all half-planes allow,
//! the one nearest to the wish is taken (a linear program in the plane; if none is allowed, the one that breaks them least).
//!
//! The crate `dodgy_2d` has the same method. It isn't used here because it works in `f32`, allocates for
//! every neighbour and draws from the thread's generator when two bodies stand on one point, which breaks the promise
//! that a seed gives the same bits.

use super::parts::Manner;
use crate::court::Vec2;
use crate::model::Movement;

/// One player as the team-mates see it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mate<'a> {
    pub pos: Vec2,
    pub vel: Vec2,
    pub manner: &'a Manner,
}

/// Allowed velocities lie to the left of the line through `point` along `dir`.
#[derive(Clone, Copy, Default)]
struct HalfPlane {
    point: Vec2,
    dir: Vec2,
}

/// In place of a number: the half-plane is there already.
const KNOWN: usize = 5;

/// At most four team-mates.
type Planes = ([HalfPlane; 4], usize);

/// Mates farther apart than they can come within the horizon at this closing speed are left out, m/s.
const FASTEST_APPROACH: f64 = 12.0;
/// Lines count as parallel below this sine.
const PARALLEL: f64 = 1e-9;

fn det(a: Vec2, b: Vec2) -> f64 {
    a.x * b.y - a.y * b.x
}

/// Of two velocities that differ by less than this, m/s, rounding may tell which is allowed: far more than it can make up.
const SURELY: f64 = 1e-6;

/// The five of a team before they move, and how near each two of them are to being in each other's way.
pub(super) struct Team<'a> {
    mates: [Mate<'a>; 5],
    /// What two keep, and what they keep if one of them drives, m.
    keeps: (f64, f64),
    /// How far they look ahead, and how soon two who are too near are to be apart again, s.
    times: (f64, f64),
    /// By how much each two close more slowly than would bring them too near within the horizon, m/s: each may change
    /// by the own share of it without being in the way. Infinite if they need not keep clear of each other.
    missing: [[f64; 5]; 5],
    /// The least of it for each.
    least: [f64; 5],
    /// How much he yields who yields most.
    yields: f64,
}

impl<'a> Team<'a> {
    /// `distance` (m) is what team-mates keep, `horizon` (s) how far they look ahead.
    pub fn of(model: &Movement, mates: [Mate<'a>; 5], (distance, horizon): (f64, f64)) -> Team<'a> {
        let mut team = Team {
            mates,
            keeps: (distance, model.avoid_driver_distance),
            times: (horizon, model.avoid_contact_time),
            missing: [[f64::INFINITY; 5]; 5],
            least: [f64::INFINITY; 5],
            yields: 0.0,
        };
        for i in 0..5 {
            team.yields = team.yields.max(mates[i].manner.yields);
            for j in i + 1..5 {
                let (one, other) = (&mates[i], &mates[j]);
                let together = one.manner.with == Some(j) || other.manner.with == Some(i);
                let keep = team.keep(one, other);
                let off = other.pos - one.pos;
                let apart = off.length();
                if together || apart > keep + FASTEST_APPROACH * horizon {
                    continue;
                }
                let missing = if apart > keep {
                    (apart - keep) / horizon - (one.vel - other.vel).dot(off) / apart
                } else {
                    f64::NEG_INFINITY
                };
                (team.missing[i][j], team.missing[j][i]) = (missing, missing);
            }
            team.least[i] = team.missing[i].into_iter().fold(f64::INFINITY, f64::min);
        }
        team
    }

    /// What two team-mates keep, m.
    fn keep(&self, one: &Mate, other: &Mate) -> f64 {
        if one.manner.drives || other.manner.drives {
            self.keeps.1
        } else {
            self.keeps.0
        }
    }

    /// The share of `me` in what he and another have to change.
    fn share(&self, me: usize, other: usize) -> f64 {
        let (own, mate) = (self.mates[me].manner, self.mates[other].manner);
        own.yields / (own.yields + mate.yields)
    }

    fn half_plane(&self, me: usize, other: usize, wish: Vec2) -> HalfPlane {
        let (own, mate) = (&self.mates[me], &self.mates[other]);
        let relative = own.vel - mate.vel;
        // Who makes room alone passes on the side to which the wish leads, but never across before a driver.
        let passes = if mate.manner.yields > 0.0 || mate.manner.drives {
            relative
        } else {
            wish - mate.vel
        };
        // Straight at each other both pass on the side that their half of the floor tells, so a mirrored floor stays one.
        let tie = own.pos.x + mate.pos.x > 0.0;
        let keep = self.keep(own, mate);
        let (change, dir) = way_out(
            mate.pos - own.pos,
            (relative, passes),
            keep,
            self.times,
            tie,
        );
        HalfPlane {
            point: own.vel + change * self.share(me, other),
            dir,
        }
    }

    /// The velocity nearest to `wish` (m/s) that keeps player `me` clear of the others within the horizon; `fastest` is
    /// the bound on the speed.
    pub fn clear_of_mates(&self, model: &Movement, me: usize, wish: Vec2, fastest: f64) -> Vec2 {
        let own = &self.mates[me];
        let change = (wish - own.vel).length() + SURELY;
        // In most ticks nobody is in the way, and this tells so.
        let own_yields = own.manner.yields;
        let least_share = own_yields / (own_yields + self.yields);
        if own_yields <= 0.0 || change < least_share * self.least[me] {
            return wish;
        }
        let mut planes: Planes = ([HalfPlane::default(); 4], 0);
        let mut later = [0; 4];
        let mut allowed = true;
        for other in 0..5 {
            let missing = self.missing[me][other];
            if missing == f64::INFINITY {
                continue;
            }
            if self.share(me, other) * missing > change {
                // Only asked for if another is in the way.
                later[planes.1] = other;
            } else {
                planes.0[planes.1] = self.half_plane(me, other, wish);
                allowed &= allows(&planes.0[planes.1], wish);
                later[planes.1] = KNOWN;
            }
            planes.1 += 1;
        }
        if allowed {
            return wish;
        }
        for (plane, &other) in planes.0[..planes.1].iter_mut().zip(&later) {
            if other != KNOWN {
                *plane = self.half_plane(me, other, wish);
            }
        }
        let planes = &planes.0[..planes.1];
        let most = wish.length().max(model.avoid_least_speed).min(fastest);
        match nearest(planes, most, wish, false) {
            Ok(velocity) => velocity,
            Err((failed, so_far)) => least_broken(planes, failed, most, so_far),
        }
    }
}

/// The smallest change of the relative velocity that leads out of the cone on the side on which `passes` (m/s) would, and the
/// direction of the line that bounds what is allowed. `tie` says on which side two pass who run straight at each other.
fn way_out(
    off: Vec2,
    (relative, passes): (Vec2, Vec2),
    keep: f64,
    (horizon, in_contact): (f64, f64),
    tie: bool,
) -> (Vec2, Vec2) {
    let apart2 = off.length_squared();
    let keep2 = keep * keep;
    let cut_off = |time: f64| {
        let from_centre = relative - off / time;
        let length = from_centre.length();
        // On the very centre: straight away from the other.
        let unit = if length > PARALLEL {
            from_centre / length
        } else {
            -off / apart2.sqrt().max(PARALLEL)
        };
        (unit * (keep / time - length), Vec2::new(unit.y, -unit.x))
    };
    if apart2 <= keep2 {
        return cut_off(in_contact);
    }
    let from_centre = relative - off / horizon;
    let along = from_centre.dot(off);
    if along < 0.0 && along * along > keep2 * from_centre.length_squared() {
        return cut_off(horizon);
    }
    let leg = (apart2 - keep2).sqrt();
    let side = det(off, passes);
    let dir = if side > 0.0 || side == 0.0 && tie {
        Vec2::new(off.x * leg - off.y * keep, off.x * keep + off.y * leg) / apart2
    } else {
        -Vec2::new(off.x * leg + off.y * keep, off.y * leg - off.x * keep) / apart2
    };
    (dir * relative.dot(dir) - relative, dir)
}

fn allows(plane: &HalfPlane, velocity: Vec2) -> bool {
    det(plane.dir, plane.point - velocity) <= 0.0
}

/// The best velocity on the line of `plane` within the circle and the half-planes before it.
fn on_line(
    before: &[HalfPlane],
    plane: &HalfPlane,
    most: f64,
    aim: Vec2,
    as_direction: bool,
) -> Option<Vec2> {
    let middle = plane.point.dot(plane.dir);
    let inside = middle * middle + most * most - plane.point.length_squared();
    if inside < 0.0 {
        return None;
    }
    let half = inside.sqrt();
    let (mut low, mut high) = (-middle - half, -middle + half);
    for other in before {
        let slope = det(plane.dir, other.dir);
        let height = det(other.dir, plane.point - other.point);
        if slope.abs() <= PARALLEL {
            if height < 0.0 {
                return None;
            }
            continue;
        }
        let at = height / slope;
        if slope >= 0.0 {
            high = high.min(at);
        } else {
            low = low.max(at);
        }
        if low > high {
            return None;
        }
    }
    let at = if as_direction {
        if aim.dot(plane.dir) > 0.0 { high } else { low }
    } else {
        plane.dir.dot(aim - plane.point).clamp(low, high)
    };
    Some(plane.point + plane.dir * at)
}

/// The allowed velocity nearest to `aim`, or farthest along it; else the number of the half-plane that leaves none, and what was
/// best until then.
fn nearest(
    planes: &[HalfPlane],
    most: f64,
    aim: Vec2,
    as_direction: bool,
) -> Result<Vec2, (usize, Vec2)> {
    let size = aim.length();
    let mut best = if as_direction {
        aim * most
    } else if size > most {
        aim * (most / size)
    } else {
        aim
    };
    for (i, plane) in planes.iter().enumerate() {
        if !allows(plane, best) {
            match on_line(&planes[..i], plane, most, aim, as_direction) {
                Some(better) => best = better,
                None => return Err((i, best)),
            }
        }
    }
    Ok(best)
}

/// Nothing is allowed: the velocity that breaks the half-plane it breaks most by as little as can be.
fn least_broken(planes: &[HalfPlane], from: usize, most: f64, so_far: Vec2) -> Vec2 {
    let mut best = so_far;
    let mut broken = 0.0;
    for (i, plane) in planes.iter().enumerate().skip(from) {
        if det(plane.dir, plane.point - best) <= broken {
            continue;
        }
        let mut seams: Planes = ([HalfPlane::default(); 4], 0);
        for other in &planes[..i] {
            let slope = det(plane.dir, other.dir);
            let point = if slope.abs() > PARALLEL {
                plane.point + plane.dir * (det(other.dir, plane.point - other.point) / slope)
            } else if plane.dir.dot(other.dir) > 0.0 {
                continue;
            } else {
                (plane.point + other.point) * 0.5
            };
            let dir = other.dir - plane.dir;
            let dir = dir / dir.length().max(PARALLEL);
            seams.0[seams.1] = HalfPlane { point, dir };
            seams.1 += 1;
        }
        let inward = Vec2::new(-plane.dir.y, plane.dir.x);
        if let Ok(better) = nearest(&seams.0[..seams.1], most, inward, true) {
            best = better;
        }
        broken = det(plane.dir, plane.point - best);
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::Model;

    fn mate(x: f64, vx: f64, manner: &Manner) -> Mate<'_> {
        Mate {
            pos: Vec2::new(x, 0.0),
            vel: Vec2::new(vx, 0.0),
            manner,
        }
    }

    fn yielding(yields: f64) -> Manner {
        Manner {
            yields,
            ..Manner::default()
        }
    }

    /// Computed here from the method's definition: heads on at 1 m/s from 10 m, 1 m to keep, 10 s ahead.
    #[test]
    fn two_heads_on_share_the_smallest_change() {
        let (change, _) = way_out(
            Vec2::new(10.0, 0.0),
            (Vec2::new(2.0, 0.0), Vec2::new(2.0, 0.0)),
            1.0,
            (10.0, 0.5),
            false,
        );
        approx::assert_relative_eq!(change.x, -0.02, epsilon = 1e-6);
        approx::assert_relative_eq!(change.y.abs(), 0.198997, epsilon = 1e-6);
    }

    /// Heads on again, but a little to the right, while the wish goes to the left.
    #[test]
    fn who_makes_room_alone_passes_on_the_side_of_the_wish() {
        let (never, half) = (yielding(0.0), yielding(0.5));
        let still = mate(3.0, 0.0, &never);
        let own = Mate {
            vel: Vec2::new(3.0, -0.2),
            ..mate(0.0, 0.0, &half)
        };
        let far = |x: f64| mate(x, 0.0, &half);
        let model = &Model::shipped().movement;
        let five = [own, still, far(-40.0), far(-60.0), far(-80.0)];
        let team = Team::of(model, five, (0.8, 1.0));
        for side in [1.0, -1.0] {
            let clear = team.clear_of_mates(model, 0, Vec2::new(3.0, 0.5 * side), 5.0);
            assert!(clear.y * side > 0.5, "{clear:?}");
        }
    }

    #[test]
    fn a_player_who_never_yields_keeps_the_wish_and_the_other_makes_all_the_room() {
        let model = &Model::shipped().movement;
        let (never, half) = (yielding(0.0), yielding(0.5));
        let far = |x: f64| mate(x, 0.0, &half);
        let team = [
            mate(0.0, 3.0, &never),
            mate(3.0, -3.0, &half),
            far(40.0),
            far(50.0),
            far(60.0),
        ];
        let keeps = (0.8, 1.2);
        let wish = Vec2::new(3.0, 0.0);
        let team = Team::of(model, team, keeps);
        assert_eq!(team.clear_of_mates(model, 0, wish, 6.0), wish);
        let other = team.clear_of_mates(model, 1, -wish, 6.0);
        // Together they pass at the distance kept, by the other's change alone.
        let off = Vec2::new(3.0, 0.0);
        let relative = wish - other;
        let time = (off.dot(relative) / relative.length_squared()).min(1.2);
        assert!((off - relative * time).length() > 0.8 - 1e-6, "{other:?}");
    }

    #[test]
    fn nobody_near_means_the_wish() {
        let model = &Model::shipped().movement;
        let half = yielding(0.5);
        let team = std::array::from_fn(|i| mate(40.0 * i as f64, 0.0, &half));
        let wish = Vec2::new(1.0, -2.0);
        let team = Team::of(model, team, (0.8, 1.2));
        let got = team.clear_of_mates(model, 2, wish, 6.0);
        assert_eq!(got, wish);
    }
}
