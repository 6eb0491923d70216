//! The chance that a shot goes in, and what the shot is worth.
//!
//! A player brings his chance from each zone in the open (nearest defender 6 ft or more away: the
//! official band "wide open", read in several data-API notes). Room takes away from it: at the same
//! distance more room never lowers the chance. Distance counts for twos near the rim (a lay-up
//! turns into a floater), for long twos (flat from 5 ft to the line: 2013-14 NBA, read in a blog
//! tabulation of league data, 2014-05-09), which near the line come close to a three, and for
//! threes from well behind the line.
//!
//! *Not* modelled: the clock on the shooter's mind, fouls, a hand in the face against a hand down,
//! the defender's height, shots on the run. Room is measured between the centres of two bodies.

use super::Shooting;
use crate::court::ShotZone;

/// Metres in a foot (exact).
const FOOT: f64 = 0.3048;

/// How far ahead a defender who runs at the shooter is reckoned, s: he is that much nearer when the
/// ball leaves the hand (invented; less than a release).
const CLOSING_AHEAD: f64 = 0.15;

/// A share of the open chance at a room in feet; straight lines between, level outside.
type Contest = [(f64, f64); 5];

/// Threes by the middle of the official bins (late 2010s, from memory, med): very tight 29, tight 32,
/// open 34.5, wide open 38.5 %, each over the last. From 1 to 7 ft that is 0.012–0.02 a foot
/// (0.01–0.02: from memory). Nobody leaves the floor at 0 ft: carried on in a straight line.
const THREE: Contest = [
    (0.0, 0.714),
    (1.0, 29.0 / 38.5),
    (3.0, 32.0 / 38.5),
    (5.0, 34.5 / 38.5),
    (7.0, 1.0),
];

/// Shots at the rim, over the open 0.75 (from memory): contested 0.55–0.60, about one in
/// two within 5 ft of a typical rim protector (Goldsberry & Weiss 2013, from memory, low). Between
/// those: invented.
const RIM: Contest = [
    (0.0, 0.55 / 0.75),
    (1.0, 0.60 / 0.75),
    (3.0, 0.68 / 0.75),
    (5.0, 0.73 / 0.75),
    (6.0, 1.0),
];

/// Floaters and jump shots inside the line. Contested (within 5 ft) over open is 1.24 / 1.34 = 0.925
/// in the key (one star player, EPV demo output table, read); the shape is invented.
const JUMPER: Contest = [
    (0.0, 0.82),
    (1.0, 0.86),
    (3.0, 0.92),
    (5.0, 0.97),
    (6.0, 1.0),
];

/// A two from nearer than this is a lay-up, m (invented).
const LAY_UP: f64 = 1.0;
/// A two from farther than this is a floater or a jump shot, m (invented; the middle of the way is
/// 5 ft, where the 2013-14 tabulation changes from 59 to 39 %).
const NO_LAY_UP: f64 = 2.05;
/// Twos from here on come closer to threes, m (18 ft; invented) ...
const LONG_TWO: f64 = 18.0 * FOOT;
/// ... and are as hard from here on, m (the professional arc, 23 ft 9 in).
const AS_A_THREE: f64 = 23.75 * FOOT;
/// Threes are alike to here, m (flat to 24 ft in the 2013-14 tabulation: the professional arc).
const THREES_ALIKE: f64 = AS_A_THREE;
/// Fall of threes beyond, 1/m^2.5: 0.96 at 27 ft, where the 2013-14 tabulation has 34.5 % for 25–29 ft;
/// a throw from half court (42 ft) goes in once in fifty (common practice, no source).
const DEEP: f64 = 0.042;

/// Chance, 0..=1, to make a shot from `zone` at `distance` m from the ring's centre, when the nearest
/// defender is `room` m away as the ball is let go and comes nearer at `closing` m/s (negative: he
/// falls away, which helps nobody). Numbers that are not finite count as the worst case.
pub fn make_chance(
    shooting: &Shooting,
    zone: ShotZone,
    distance: f64,
    room: f64,
    closing: f64,
) -> f64 {
    let distance = if distance.is_finite() {
        distance.max(0.0)
    } else {
        f64::MAX
    };
    let room = if room.is_nan() { 0.0 } else { room };
    let closing = if closing.is_finite() {
        closing.max(0.0)
    } else {
        0.0
    };
    let feet = (room - CLOSING_AHEAD * closing).max(0.0) / FOOT;
    let chance = match zone {
        ShotZone::CornerThree | ShotZone::ArcThree => {
            let deep = (distance - THREES_ALIKE).clamp(0.0, 100.0);
            let fall = libm::exp(-DEEP * deep * deep * deep.sqrt());
            shooting.open(zone) * fall * share(&THREE, feet)
        }
        ShotZone::Rim | ShotZone::Paint | ShotZone::MidRange => {
            // Right under the ring the zone says "rim", which has no value for a jump shot.
            let jump_zone = if zone == ShotZone::Rim {
                ShotZone::Paint
            } else {
                zone
            };
            let far = ramp(distance, LONG_TWO, AS_A_THREE);
            let three = shooting.arc_three.min(shooting.open(jump_zone));
            let jumper =
                (shooting.open(jump_zone) * (1.0 - far) + three * far) * share(&JUMPER, feet);
            let lay_up = shooting.rim * share(&RIM, feet);
            let away = ramp(distance, LAY_UP, NO_LAY_UP);
            lay_up * (1.0 - away) + jumper * away
        }
    };
    chance.clamp(0.0, 1.0)
}

/// What that shot is worth: points × chance.
pub fn shot_value(
    shooting: &Shooting,
    zone: ShotZone,
    distance: f64,
    room: f64,
    closing: f64,
) -> f64 {
    points(zone) * make_chance(shooting, zone, distance, room, closing)
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
fn share(contest: &Contest, feet: f64) -> f64 {
    let mut before = contest[0];
    for &(x, y) in contest {
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
