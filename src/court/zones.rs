//! What a point on the floor is: in bounds, in the lane, worth two or three, and its shot zone.
//!
//! A point stands for a player's place; feet are not modelled. Boundary lines are out of bounds,
//! lane lines belong to the lane, and the three-point line belongs to the two-point area (all rule
//! sets). The rim zone is ours: within [`RIM_ZONE_RADIUS`] of the ring centre.

use serde::{Deserialize, Serialize};

use super::{Court, Vec2};

/// Radius of the rim zone about the ring centre, metres, the same in every rule set: FIBA's
/// no-charge semicircle (Equipment 2020+, from memory, high). The American one is 3 cm less.
pub const RIM_ZONE_RADIUS: f64 = 1.25;

/// Where a shot is taken from. Earlier zones win where two overlap.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ShotZone {
    /// Within [`RIM_ZONE_RADIUS`] of the ring centre.
    Rim,
    /// The rest of the lane.
    Paint,
    /// Any other two.
    MidRange,
    /// A three from beside the straight part of the line, not above its break.
    CornerThree,
    /// Any other three.
    ArcThree,
}

impl ShotZone {
    /// Every zone, from the rim outward.
    pub const ALL: [Self; 5] = [
        Self::Rim,
        Self::Paint,
        Self::MidRange,
        Self::CornerThree,
        Self::ArcThree,
    ];

    /// The zone's name for people.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Rim => "rim",
            Self::Paint => "paint",
            Self::MidRange => "mid-range",
            Self::CornerThree => "corner three",
            Self::ArcThree => "arc three",
        }
    }
}

/// Nobody who plays on has his middle nearer to a line of the court than this, metres (ours: half a shoe).
pub const TO_THE_LINE: f64 = 0.2;

/// The nearest number to `x` between two bounds.
#[inline]
fn between(x: f64, low: f64, high: f64) -> f64 {
    let x = if x > low { x } else { low };
    if x < high { x } else { high }
}

impl Court {
    /// Whether a point is in the lane, lines included.
    pub fn in_lane(&self, p: Vec2) -> bool {
        p.x.abs() <= self.lane_width / 2.0 && p.y >= self.baseline_y() && p.y <= self.ft_line_y()
    }

    /// Whether a point is inside this half of the court; boundary lines are outside.
    pub fn in_bounds(&self, p: Vec2) -> bool {
        p.x.abs() < self.width / 2.0 && p.y > self.baseline_y() && p.y < self.half_court_y()
    }

    /// The nearest point at least `margin` metres inside this half of the court. A margin too
    /// large for the court gives the middle of it.
    pub fn clamp_inside(&self, p: Vec2, margin: f64) -> Vec2 {
        let half_width = (self.width / 2.0 - margin).max(0.0);
        let half_height = (self.half_length / 2.0 - margin).max(0.0);
        let middle = (self.baseline_y() + self.half_court_y()) / 2.0;
        Vec2::new(
            between(p.x, -half_width, half_width),
            between(p.y, middle - half_height, middle + half_height),
        )
    }

    /// `y` where the straight part of the three-point line meets the arc, metres; `None` without
    /// a three-point line.
    pub fn three_point_break_y(&self) -> Option<f64> {
        let (arc, corner) = (self.arc_radius?, self.corner_distance?);
        Some((arc * arc - corner * corner).max(0.0).sqrt())
    }

    /// Whether a point is beyond the three-point line. Always `false` without one.
    pub fn is_three(&self, p: Vec2) -> bool {
        let (Some(arc), Some(corner)) = (self.arc_radius, self.corner_distance) else {
            return false;
        };
        // Above the ring whatever is beyond the arc is a three, and so is whatever is beyond the
        // straight part; below the ring only the latter.
        p.x.abs() > corner || (p.y > 0.0 && p.length_squared() > arc * arc)
    }

    /// The shot zone of a point.
    pub fn zone(&self, p: Vec2) -> ShotZone {
        if p.length_squared() <= RIM_ZONE_RADIUS * RIM_ZONE_RADIUS {
            ShotZone::Rim
        } else if self.in_lane(p) {
            ShotZone::Paint
        } else if !self.is_three(p) {
            ShotZone::MidRange
        } else if self.three_point_break_y().is_some_and(|y| p.y <= y) {
            ShotZone::CornerThree
        } else {
            ShotZone::ArcThree
        }
    }

    /// Points for a made shot from a point: 2 or 3.
    pub fn points(&self, p: Vec2) -> u8 {
        if self.is_three(p) { 3 } else { 2 }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::{CourtCode, Side, Spot, SpotName};
    use proptest::prelude::*;

    fn zone_of(court: &Court, name: SpotName) -> ShotZone {
        court.zone(court.spot(Spot::new(name, Side::Left)))
    }

    #[test]
    fn spots_lie_in_the_zones_a_coach_expects() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            let (beyond, corner) = match code {
                CourtCode::Youth => (ShotZone::MidRange, ShotZone::MidRange),
                _ => (ShotZone::ArcThree, ShotZone::CornerThree),
            };
            for (name, zone) in [
                (SpotName::Top, beyond),
                (SpotName::Slot, beyond),
                (SpotName::Wing, beyond),
                (SpotName::Corner, corner),
                (SpotName::HighPost, ShotZone::Paint),
                (SpotName::Elbow, ShotZone::Paint),
                (SpotName::Block, ShotZone::MidRange),
                (SpotName::ShortCorner, ShotZone::MidRange),
                (SpotName::Rim, ShotZone::Rim),
            ] {
                assert_eq!(zone_of(court, name), zone, "{code:?} {}", name.word());
            }
        }
    }

    #[test]
    fn the_line_itself_is_worth_two() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            let (Some(arc), Some(corner)) = (court.arc_radius, court.corner_distance) else {
                assert_eq!(court.points(Vec2::new(0.0, court.half_court_y())), 2);
                continue;
            };
            for (on, beyond) in [
                (Vec2::new(0.0, arc), Vec2::new(0.0, arc + 0.01)),
                (Vec2::new(corner, -0.5), Vec2::new(corner + 0.01, -0.5)),
            ] {
                assert_eq!((court.points(on), court.points(beyond)), (2, 3), "{code:?}");
            }
        }
    }

    #[test]
    fn lines_bound_the_court_and_belong_to_the_lane() {
        let court = Court::of(CourtCode::Fiba);
        assert!(!court.in_bounds(Vec2::new(7.5, 3.0)) && court.in_bounds(Vec2::new(7.49, 3.0)));
        assert!(!court.in_bounds(Vec2::new(0.0, -1.575)) && court.in_bounds(Vec2::new(0.0, -1.57)));
        assert!(!court.in_bounds(Vec2::new(0.0, 12.43)) && court.in_bounds(Vec2::new(0.0, 12.42)));
        assert!(court.in_lane(Vec2::new(2.45, 4.22)) && !court.in_lane(Vec2::new(2.46, 4.22)));
        assert!(!court.in_lane(Vec2::new(0.0, 4.23)) && !court.in_lane(Vec2::new(0.0, -1.6)));
    }

    proptest! {
        #[test]
        fn zones_agree_with_points_and_are_mirror_images(x in -9.0..9.0f64, y in -2.0..15.0f64) {
            for code in CourtCode::ALL {
                let court = Court::of(code);
                let p = Vec2::new(x, y);
                let three = matches!(court.zone(p), ShotZone::CornerThree | ShotZone::ArcThree);
                prop_assert_eq!(court.points(p) == 3, three);
                prop_assert_eq!(court.zone(p), court.zone(Vec2::new(-x, y)));
                prop_assert_eq!(
                    court.nearest_spot(p).name,
                    court.nearest_spot(Vec2::new(-x, y)).name
                );
            }
        }

        #[test]
        fn clamping_brings_a_point_inside_and_leaves_insiders_alone(
            x in -30.0..30.0f64, y in -30.0..30.0f64, margin in 0.001..20.0f64,
        ) {
            for code in CourtCode::ALL {
                let court = Court::of(code);
                let p = Vec2::new(x, y);
                let inside = court.clamp_inside(p, margin);
                prop_assert!(court.in_bounds(inside));
                prop_assert_eq!(court.clamp_inside(inside, margin), inside);
                if court.in_bounds(p) {
                    let no_margin = court.clamp_inside(p, 0.0);
                    prop_assert!((no_margin - p).length() < 1e-12);
                }
            }
        }
    }
}
