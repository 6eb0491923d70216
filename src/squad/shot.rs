//! The chance that a shot goes in, and what the shot is worth.
//!
//! A player brings his chance from each zone in the open (nearest defender 6 ft or more away: the
//! official band "wide open", read in several data-API notes). Room takes away from it: at the same
//! distance more room never lowers the chance; at the rim every body takes its share away. Distance counts for twos near the rim (a lay-up
//! turns into a floater), for long twos (flat from 5 ft to the line: 2013-14 NBA, read in a blog
//! tabulation of league data, 2014-05-09), which near the line come close to a three, and for
//! threes from well behind the line.
//!
//! *Not* modelled: the clock on the shooter's mind, fouls, a hand in the face against a hand down,
//! the defender's height, shots on the run. Room is measured between the centres of two bodies.

use super::Shooting;
use crate::court::ShotZone;
use crate::court::Vec2;
use crate::model::{Contest, Model};

/// Metres in a foot (exact).
const FOOT: f64 = 0.3048;

/// Shares of the open chance at these rooms in feet, and in the open; straight lines between, level
/// outside.
type Shares = [(f64, f64); 5];

fn three(contest: &Contest) -> Shares {
    [
        (0.0, contest.three_at_0_ft),
        (1.0, contest.three_at_1_ft),
        (3.0, contest.three_at_3_ft),
        (5.0, contest.three_at_5_ft),
        (contest.three_open_feet, 1.0),
    ]
}

fn rim(contest: &Contest) -> Shares {
    [
        (0.0, contest.rim_at_0_ft),
        (1.0, contest.rim_at_1_ft),
        (3.0, contest.rim_at_3_ft),
        (5.0, contest.rim_at_5_ft),
        (contest.two_open_feet, 1.0),
    ]
}

/// Floaters and jump shots inside the line.
fn jumper(contest: &Contest) -> Shares {
    [
        (0.0, contest.jumper_at_0_ft),
        (1.0, contest.jumper_at_1_ft),
        (3.0, contest.jumper_at_3_ft),
        (5.0, contest.jumper_at_5_ft),
        (contest.two_open_feet, 1.0),
    ]
}

/// What the defenders leave a shooter, as far as they are near.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guarded {
    /// Distance of the nearest, m.
    pub room: f64,
    /// How fast that one comes nearer, m/s.
    pub closing: f64,
    /// Share of the chance that a shot at the rim keeps past the body that is most in its way.
    most: f64,
    /// The same past every body, were each alone with the shooter.
    all: f64,
}

impl Guarded {
    /// By nobody.
    pub const FREE: Guarded = Guarded {
        room: f64::INFINITY,
        closing: 0.0,
        most: 1.0,
        all: 1.0,
    };

    /// One defender more, `off` (m) from the shooter at `p` and coming nearer at `closing` m/s.
    #[must_use]
    pub fn and(self, model: &Model, p: Vec2, off: Vec2, closing: f64) -> Guarded {
        let room = off.length();
        let (room_here, closing_here) = if room < self.room {
            (room, closing)
        } else {
            (self.room, self.closing)
        };
        // 0 in front of the shooter, 1 behind.
        let behind = 0.5 * (1.0 + off.dot(p) / (room * p.length()).max(1e-9));
        let felt = room - model.shots.closing_time * closing + model.contest.behind_room * behind;
        let kept = kept_at_the_rim(model, felt);
        Guarded {
            room: room_here,
            closing: closing_here,
            most: self.most.min(kept),
            all: self.all * kept,
        }
    }

    /// Share of the chance that a shot at the rim keeps: the body that is most in its way takes all that it can, each
    /// other one half of that, for they are in each other's way, too.
    pub fn at_the_rim(&self) -> f64 {
        (self.most * self.all).sqrt()
    }

    /// By all who stand `at` (m) with these velocities (m/s), now.
    pub fn by(model: &Model, p: Vec2, others: impl Iterator<Item = (Vec2, Vec2)>) -> Guarded {
        others.fold(Guarded::FREE, |so_far, (at, vel)| {
            let off = at - p;
            let closing = (-vel.dot(off) / off.length().max(1e-6)).max(0.0);
            so_far.and(model, p, off, closing)
        })
    }
}

/// Share of the open chance that a shot at the rim keeps with one body `room` m away between the shooter and the rim.
fn kept_at_the_rim(model: &Model, room: f64) -> f64 {
    share(&rim(&model.contest), room.max(0.0) / FOOT)
}

/// Chance, 0..=1, to make a shot from `zone` at `distance` m from the ring's centre, so `guarded` as the ball is let
/// go (who falls away helps nobody). Numbers that are not finite count as the worst case.
pub fn make_chance(
    model: &Model,
    shooting: &Shooting,
    zone: ShotZone,
    distance: f64,
    guarded: &Guarded,
) -> f64 {
    let distance = if distance.is_finite() {
        distance.max(0.0)
    } else {
        f64::MAX
    };
    let room = if guarded.room.is_nan() {
        0.0
    } else {
        guarded.room
    };
    let closing = if guarded.closing.is_finite() {
        guarded.closing.max(0.0)
    } else {
        0.0
    };
    let (shots, contest) = (&model.shots, &model.contest);
    let feet = (room - shots.closing_time * closing).max(0.0) / FOOT;
    let chance = match zone {
        ShotZone::CornerThree | ShotZone::ArcThree => {
            let deep = (distance - shots.three_level_feet * FOOT).clamp(0.0, 100.0);
            let fall = libm::exp(-shots.three_distance_fall * deep * deep * deep.sqrt());
            shooting.open(zone) * fall * share(&three(contest), feet)
        }
        ShotZone::Rim | ShotZone::Paint | ShotZone::MidRange => {
            // Right under the ring the zone says "rim", which has no value for a jump shot.
            let jump_zone = if zone == ShotZone::Rim {
                ShotZone::Paint
            } else {
                zone
            };
            let far = ramp(
                distance,
                shots.long_two_feet * FOOT,
                shots.long_two_end_feet * FOOT,
            );
            let as_three = shooting.arc_three.min(shooting.open(jump_zone));
            let jump = (shooting.open(jump_zone) * (1.0 - far) + as_three * far)
                * share(&jumper(contest), feet);
            let lay_up = shooting.rim * guarded.at_the_rim();
            let away = ramp(distance, shots.lay_up_distance, shots.floater_distance);
            lay_up * (1.0 - away) + jump * away
        }
    };
    chance.clamp(0.0, 1.0)
}

/// What that shot is worth: points × chance.
pub fn shot_value(
    model: &Model,
    shooting: &Shooting,
    zone: ShotZone,
    distance: f64,
    guarded: &Guarded,
) -> f64 {
    points(zone) * make_chance(model, shooting, zone, distance, guarded)
}

/// Points for a make.
fn points(zone: ShotZone) -> f64 {
    match zone {
        ShotZone::CornerThree | ShotZone::ArcThree => 3.0,
        ShotZone::Rim | ShotZone::Paint | ShotZone::MidRange => 2.0,
    }
}

/// 0 up to `from`, 1 from `to` on, smooth between (3u² − 2u³).
fn ramp(x: f64, from: f64, to: f64) -> f64 {
    let u = ((x - from) / (to - from)).clamp(0.0, 1.0);
    u * u * (3.0 - 2.0 * u)
}

/// The share of the open chance that is left with that many feet of room.
fn share(shares: &Shares, feet: f64) -> f64 {
    let mut before = shares[0];
    for &(x, y) in shares {
        if feet < x {
            let (x0, y0) = before;
            return if x > x0 {
                y0 + (y - y0) * (feet - x0) / (x - x0)
            } else {
                y
            };
        }
        before = (x, y);
    }
    before.1
}
