//! Named places on the half court and where they are, metres.
//!
//! Perimeter spots (common practice, no source): in a four-out alignment both slots and both
//! wings stand 15–18 ft (4.6–5.5 m) from their neighbours; wings about free-throw line extended
//! and at least one metre inside the sideline; everybody outside the three-point arc. On an arc
//! of 19 ft 9 in those wishes collide, and spacing wins: high-school wings stand 1.2 m outside
//! the arc. Very young players stand within an easy 15 ft pass of each other.
//! Post spots follow the lane lines.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::{Court, Vec2};

/// A side of the floor as seen by a player at half court who faces the basket; right is `+x`.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// `-x`.
    Left,
    /// `+x`.
    Right,
}

impl Side {
    /// `+1` on the right, `-1` on the left.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Left => -1.0,
            Self::Right => 1.0,
        }
    }

    /// The side of the floor on which `x` metres lies; on the midline `tie`.
    pub fn of(x: f64, tie: Self) -> Self {
        if x.abs() < ON_THE_MIDLINE {
            tie
        } else if x < 0.0 {
            Self::Left
        } else {
            Self::Right
        }
    }

    /// The opposite side.
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// Nearer than this to it is on the midline, metres.
const ON_THE_MIDLINE: f64 = 1e-9;

/// A named place, without its side.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SpotName {
    /// Outside the arc, on the midline.
    Top,
    /// Outside the arc, above the elbow.
    Slot,
    /// Outside the arc, about free-throw line extended.
    Wing,
    /// Outside the straight part of the three-point line, near the baseline.
    Corner,
    /// Middle of the free-throw line.
    HighPost,
    /// Corner of the free-throw line and the lane.
    Elbow,
    /// Beside the lane, at the block mark.
    Block,
    /// Near the baseline, midway between lane and corner.
    ShortCorner,
    /// Under the ring.
    Rim,
}

impl SpotName {
    /// Every spot name, perimeter first.
    pub const ALL: [Self; 9] = [
        Self::Top,
        Self::Slot,
        Self::Wing,
        Self::Corner,
        Self::HighPost,
        Self::Elbow,
        Self::Block,
        Self::ShortCorner,
        Self::Rim,
    ];

    /// Whether the spot is on the midline and so has no side.
    pub const fn is_centre(self) -> bool {
        matches!(self, Self::Top | Self::HighPost | Self::Rim)
    }

    /// A place inside: neither on the perimeter nor the rim.
    pub fn is_inside(self) -> bool {
        !self.is_perimeter() && self != SpotName::Rim
    }

    /// A place by the sideline.
    pub const fn is_wide(self) -> bool {
        matches!(self, Self::Wing | Self::Corner)
    }

    /// Whether the spot belongs to the perimeter.
    pub const fn is_perimeter(self) -> bool {
        matches!(self, Self::Top | Self::Slot | Self::Wing | Self::Corner)
    }

    /// The trade's word, for people.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Slot => "slot",
            Self::Wing => "wing",
            Self::Corner => "corner",
            Self::HighPost => "high post",
            Self::Elbow => "elbow",
            Self::Block => "block",
            Self::ShortCorner => "short corner",
            Self::Rim => "rim",
        }
    }

    /// The word used in files (snake case).
    pub const fn code(self) -> &'static str {
        match self {
            Self::HighPost => "high_post",
            Self::ShortCorner => "short_corner",
            _ => self.word(),
        }
    }
}

/// A named place with its side. Build it with [`Spot::new`].
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash, Serialize)]
pub struct Spot {
    /// Which place.
    pub name: SpotName,
    /// Which side; `None` on the midline, and only there.
    pub side: Option<Side>,
}

impl Spot {
    /// A spot from a name and a side (`Side` or `Option<Side>`). A spot on the midline drops the
    /// side; any other spot without one is taken to be on the right.
    pub fn new(name: SpotName, side: impl Into<Option<Side>>) -> Self {
        let side = if name.is_centre() {
            None
        } else {
            Some(side.into().unwrap_or(Side::Right))
        };
        Self { name, side }
    }

    /// The same spot on the other side of the midline.
    pub fn mirrored(self) -> Self {
        Self {
            name: self.name,
            side: self.side.map(Side::other),
        }
    }
}

impl fmt::Display for Spot {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.side {
            Some(Side::Left) => write!(f, "left {}", self.name.word()),
            Some(Side::Right) => write!(f, "right {}", self.name.word()),
            None => f.write_str(self.name.word()),
        }
    }
}

/// Where perimeter players stand on the right, metres, chosen for each arc so that the rules in
/// this file's head hold (tests check them).
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Stations {
    top_y: f64,
    slot: (f64, f64),
    wing: (f64, f64),
    corner_x: f64,
}

impl Stations {
    /// Arc 6.02 m.
    pub(super) const NFHS: Self = Self {
        top_y: 6.7,
        slot: (2.35, 6.3),
        wing: (6.25, 3.7),
        corner_x: 6.42,
    };
    /// Arc 6.75 m; also serves the NCAA, whose arc is the same.
    pub(super) const FIBA: Self = Self {
        top_y: 7.25,
        slot: (2.4, 6.63),
        wing: (6.25, 3.95),
        corner_x: 7.0,
    };
    /// Arc 7.24 m.
    pub(super) const NBA: Self = Self {
        top_y: 7.74,
        slot: (2.4, 7.15),
        wing: (6.3, 4.2),
        corner_x: 7.11,
    };
    /// No arc; a twelve-metre floor.
    pub(super) const YOUTH: Self = Self {
        top_y: 5.7,
        slot: (1.9, 5.2),
        wing: (4.8, 3.2),
        corner_x: 5.2,
    };
}

/// Corner and short corner to the baseline, metres: room for the feet and a pass (common practice).
const CORNER_FROM_BASELINE: f64 = 0.9;
/// Block spot to the baseline, metres: the block mark starts 7 ft from the baseline and is one
/// foot long, so its middle is 2.29 m away (`sportypy` 1.0.0, measured from the board: inference).
const BLOCK_FROM_BASELINE: f64 = 2.29;
/// Block spot to the lane line, metres: one body radius (common practice).
const BLOCK_OUTSIDE_LANE: f64 = 0.3;

impl Court {
    /// Where a spot is on this court, metres. A sided spot without a side is on the right.
    ///
    /// # Examples
    /// ```
    /// # use lanelight_play as lanelight;
    /// use lanelight::court::{Court, CourtCode, Side, Spot, SpotName};
    ///
    /// let court = Court::of(CourtCode::Nfhs);
    /// let wing = court.spot(Spot::new(SpotName::Wing, Side::Left));
    /// assert!(wing.x < 0.0 && wing.y > 0.0);
    /// assert_eq!(court.spot(Spot::new(SpotName::Rim, None)).length(), 0.0);
    /// ```
    #[inline]
    pub fn spot(&self, spot: Spot) -> Vec2 {
        let (x, y) = self.right_side(spot.name);
        Vec2::new(x * spot.side.map_or(1.0, Side::sign), y)
    }

    /// The perimeter or post spot nearest to a point (the rim is none of them). On the midline
    /// a tie between sides goes to the right; a tie between names to the earlier in
    /// [`SpotName::ALL`].
    pub fn nearest_spot(&self, p: Vec2) -> Spot {
        self.nearest_spot_on(p, Side::Right)
    }

    /// The same; on the midline a tie between sides goes to `tie`.
    pub fn nearest_spot_on(&self, p: Vec2, tie: Side) -> Spot {
        self.nearest_of(p, tie, |name| name != SpotName::Rim)
    }

    /// The post spot nearest to a point, the rim aside; on the midline a tie between sides goes to `tie`.
    pub fn nearest_inside(&self, p: Vec2, tie: Side) -> Spot {
        self.nearest_of(p, tie, SpotName::is_inside)
    }

    fn nearest_of(&self, p: Vec2, tie: Side, counts: impl Fn(SpotName) -> bool) -> Spot {
        let side = Side::of(p.x, tie);
        let folded = p.x.abs();
        let mut best = (SpotName::Top, f64::INFINITY);
        for name in SpotName::ALL {
            if !counts(name) {
                continue;
            }
            let (x, y) = self.right_side(name);
            let squared = (x - folded) * (x - folded) + (y - p.y) * (y - p.y);
            if squared < best.1 {
                best = (name, squared);
            }
        }
        Spot::new(best.0, side)
    }

    #[inline]
    fn right_side(&self, name: SpotName) -> (f64, f64) {
        let stations = &self.stations;
        let half_lane = self.lane_width / 2.0;
        let baseline = self.baseline_y();
        match name {
            SpotName::Top => (0.0, stations.top_y),
            SpotName::Slot => stations.slot,
            SpotName::Wing => stations.wing,
            SpotName::Corner => (stations.corner_x, baseline + CORNER_FROM_BASELINE),
            SpotName::HighPost => (0.0, self.ft_line_y()),
            SpotName::Elbow => (half_lane, self.ft_line_y()),
            SpotName::Block => (
                half_lane + BLOCK_OUTSIDE_LANE,
                baseline + BLOCK_FROM_BASELINE,
            ),
            SpotName::ShortCorner => (
                (half_lane + stations.corner_x) / 2.0,
                baseline + CORNER_FROM_BASELINE,
            ),
            SpotName::Rim => (0.0, 0.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::CourtCode;

    fn every_spot() -> impl Iterator<Item = Spot> {
        SpotName::ALL
            .into_iter()
            .flat_map(|name| [Side::Left, Side::Right].map(|side| Spot::new(name, side)))
    }

    #[test]
    fn centre_spots_have_no_side_and_others_always_have_one() {
        for spot in every_spot() {
            assert_eq!(spot.side.is_none(), spot.name.is_centre(), "{spot}");
        }
        assert_eq!(
            Spot::new(SpotName::Wing, None),
            Spot::new(SpotName::Wing, Side::Right)
        );
    }

    #[test]
    fn spots_read_as_a_coach_says_them() {
        let right_wing = Spot::new(SpotName::Wing, Side::Right);
        assert_eq!(right_wing.to_string(), "right wing");
        assert_eq!(right_wing.mirrored().to_string(), "left wing");
        assert_eq!(Spot::new(SpotName::Top, Side::Left).to_string(), "top");
        assert_eq!(SpotName::ShortCorner.word(), "short corner");
    }

    #[test]
    fn spot_codes_are_the_words_in_files() {
        for name in SpotName::ALL {
            let written = serde_json::to_string(&name).unwrap();
            assert_eq!(written, format!("\"{}\"", name.code()));
            assert_eq!(serde_json::from_str::<SpotName>(&written).unwrap(), name);
        }
    }

    #[test]
    fn mirrored_spots_stand_mirrored() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            for spot in every_spot() {
                let (here, there) = (court.spot(spot), court.spot(spot.mirrored()));
                assert_eq!((here.x, here.y), (-there.x, there.y), "{code:?} {spot}");
                assert_eq!(spot.mirrored().mirrored(), spot);
            }
        }
    }

    #[test]
    fn the_nearest_spot_to_a_spot_is_itself() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            for spot in every_spot().filter(|spot| spot.name != SpotName::Rim) {
                assert_eq!(court.nearest_spot(court.spot(spot)), spot, "{code:?}");
            }
            let under_the_ring = court.nearest_spot(Vec2::new(-0.1, 0.0));
            assert_eq!(under_the_ring, Spot::new(SpotName::Block, Side::Left));
        }
    }

    #[test]
    fn every_spot_is_in_bounds_with_half_a_metre_to_spare() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            for spot in every_spot() {
                let p = court.spot(spot);
                assert_eq!(court.clamp_inside(p, 0.5), p, "{code:?} {spot}");
            }
        }
    }

    #[test]
    fn children_stand_within_an_easy_fifteen_foot_pass() {
        let court = Court::of(CourtCode::Youth);
        let at = |name, side| court.spot(Spot::new(name, side));
        let slot = at(SpotName::Slot, Side::Right);
        for neighbour in [
            at(SpotName::Slot, Side::Left),
            at(SpotName::Wing, Side::Right),
        ] {
            let gap = (slot - neighbour).length();
            assert!((3.0..4.572).contains(&gap), "{gap}");
        }
    }
}
