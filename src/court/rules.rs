//! Regulation dimensions and clocks of each rule set, metres and seconds.
//!
//! Sources, by column: NFHS Basketball Rules Book 2019-20, Rules 1-1 to 1-4 (read in a
//! reproduction; 1-10 and the timing rules from memory, high); NCAA Rule 1 (from memory, high);
//! FIBA Official Basketball Rules, Art. 2 and Equipment (from memory, high); NBA Rule 1 (from
//! memory, high); all plan dimensions but the youth court's also read in the data file of the
//! `sportypy` 1.0.0 Python package (see `tests/external/courts.rs`). The youth court is one of
//! the small sizes of the FIBA Mini-Basketball Rules 2005, Art. 2 to 4 (read).
//!
//! Widths and lengths run between the inner edges of the boundary lines; radii and lane widths
//! run to the outer edge of their line. NCAA stands for men and women: no figure kept here
//! differs between them except the ball (women play with size 6).
//!
//! Not modelled: lane-space marks, the coaching box, the throw-in marks, the back half.

use serde::{Deserialize, Serialize};

use super::spots::Stations;

/// Metres from feet and inches (1 in = 0.0254 m exactly).
const fn feet(ft: f64, inches: f64) -> f64 {
    (ft * 12.0 + inches) * 0.0254
}

/// A rule set, as it is named in files.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CourtCode {
    /// United States high schools.
    Nfhs,
    /// United States colleges, men and women.
    Ncaa,
    /// International.
    Fiba,
    /// North American professional men.
    Nba,
    /// A small mini-basketball court, under eleven.
    Youth,
}

impl CourtCode {
    /// Every rule set, in the order of [`Court::of`].
    pub const ALL: [Self; 5] = [Self::Nfhs, Self::Ncaa, Self::Fiba, Self::Nba, Self::Youth];

    /// The name used in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::Nfhs => "nfhs",
            Self::Ncaa => "ncaa",
            Self::Fiba => "fiba",
            Self::Nba => "nba",
            Self::Youth => "youth",
        }
    }
}

/// The units in which a rule set states lengths, and in which they are shown.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Serialize, Deserialize)]
pub enum Units {
    /// Metres.
    Metric,
    /// Feet and inches.
    Imperial,
}

/// When a closely guarded ball holder must give the ball up.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct CloselyGuarded {
    /// A defender in guarding position within this many metres starts the count.
    pub distance: f64,
    /// Seconds allowed.
    pub seconds: f64,
    /// Whether the count also runs while the ball is dribbled.
    pub while_dribbling: bool,
}

/// Time limits of a rule set, all in seconds. `None`: the rule set has no such limit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Clocks {
    /// Time to shoot after gaining the ball.
    pub shot: Option<f64>,
    /// Time to shoot after an offensive rebound off the ring.
    pub shot_after_rebound: Option<f64>,
    /// The closely-guarded count.
    pub closely_guarded: Option<CloselyGuarded>,
    /// Longest stay of an attacker in the lane.
    pub lane_seconds: Option<f64>,
    /// Longest stay in the lane of a defender who is guarding nobody.
    pub defensive_lane_seconds: Option<f64>,
}

/// One rule set's half court. All lengths in metres.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Court {
    /// Which rule set.
    pub code: CourtCode,
    /// Name for people.
    pub name: &'static str,
    /// Sideline to sideline.
    pub width: f64,
    /// Baseline to the middle of the division line.
    pub half_length: f64,
    /// Centre of the ring to the baseline.
    pub rim_to_baseline: f64,
    /// Face of the backboard to the baseline.
    pub backboard_to_baseline: f64,
    /// Width of the backboard.
    pub backboard_width: f64,
    /// Width of the lane.
    pub lane_width: f64,
    /// Far edge of the free-throw line to the baseline.
    pub ft_line_from_baseline: f64,
    /// Radius of the free-throw circle and of the centre circle.
    pub circle_radius: f64,
    /// Radius of the three-point arc about the ring centre; `None`: no three-point line.
    pub arc_radius: Option<f64>,
    /// Distance of the straight parts of the three-point line from the midline.
    pub corner_distance: Option<f64>,
    /// Radius of the no-charge arc; `None`: not marked.
    pub restricted_radius: Option<f64>,
    /// Height of the ring above the floor.
    pub rim_height: f64,
    /// Inner radius of the ring.
    pub ring_radius: f64,
    /// Width of the painted lines.
    pub line_width: f64,
    /// Size number of the ball (7 men, 6 women, 5 children).
    pub ball_size: u8,
    /// Units for display.
    pub units: Units,
    /// Time limits.
    pub clock: Clocks,
    pub(super) stations: Stations,
}

impl Court {
    /// The court of a rule set. To change a clock, copy the court and set the field.
    pub const fn of(code: CourtCode) -> &'static Self {
        &COURTS[code as usize]
    }

    /// `y` of the baseline's inner edge (negative).
    pub const fn baseline_y(&self) -> f64 {
        -self.rim_to_baseline
    }

    /// `y` of the division line.
    pub const fn half_court_y(&self) -> f64 {
        self.half_length - self.rim_to_baseline
    }

    /// `y` of the free-throw line.
    pub const fn ft_line_y(&self) -> f64 {
        self.ft_line_from_baseline - self.rim_to_baseline
    }
}

/// Six feet: closely-guarded distance in the United States (NFHS 4-10; from memory, high).
const SIX_FEET: f64 = feet(6.0, 0.0);

/// What the three rule sets written in feet share (Rule 1 of each; `sportypy` 1.0.0).
const IMPERIAL: Court = Court {
    code: CourtCode::Nfhs,
    name: "",
    width: feet(50.0, 0.0),
    half_length: feet(47.0, 0.0),
    rim_to_baseline: feet(5.0, 3.0),
    backboard_to_baseline: feet(4.0, 0.0),
    backboard_width: feet(6.0, 0.0),
    lane_width: feet(12.0, 0.0),
    ft_line_from_baseline: feet(19.0, 0.0),
    circle_radius: feet(6.0, 0.0),
    arc_radius: None,
    corner_distance: None,
    restricted_radius: Some(feet(4.0, 0.0)),
    rim_height: feet(10.0, 0.0),
    ring_radius: feet(0.0, 9.0),
    line_width: feet(0.0, 2.0),
    ball_size: 7,
    units: Units::Imperial,
    clock: Clocks {
        shot: Some(24.0),
        shot_after_rebound: Some(14.0),
        closely_guarded: None,
        lane_seconds: Some(3.0),
        defensive_lane_seconds: None,
    },
    stations: Stations::FIBA,
};

/// In the order of [`CourtCode::ALL`].
static COURTS: [Court; 5] = [NFHS, NCAA, FIBA, NBA, YOUTH];

const NFHS: Court = Court {
    code: CourtCode::Nfhs,
    name: "NFHS (high school)",
    half_length: feet(42.0, 0.0), // 1-1: 84 ft is the ideal for high-school age
    arc_radius: Some(feet(19.0, 9.0)), // 1-4-1, outside edge
    corner_distance: Some(feet(19.0, 9.0)), // 1-4-1: extended perpendicular to the end line
    restricted_radius: None,
    clock: Clocks {
        shot: None, // 2-14: 35 s where a state adopts it; none by default
        shot_after_rebound: None,
        closely_guarded: Some(CloselyGuarded {
            distance: SIX_FEET,
            seconds: 5.0,
            while_dribbling: true, // 4-10, 9-10-1a: holding or dribbling in the frontcourt
        }),
        ..IMPERIAL.clock // 9-7: three seconds in the lane
    },
    stations: Stations::NFHS,
    ..IMPERIAL
};

const NCAA: Court = Court {
    code: CourtCode::Ncaa,
    name: "NCAA (college)",
    arc_radius: Some(feet(22.0, 1.75)),
    corner_distance: Some(feet(21.0, 7.875)),
    clock: Clocks {
        shot: Some(30.0),
        shot_after_rebound: Some(20.0),
        closely_guarded: Some(CloselyGuarded {
            distance: SIX_FEET,
            seconds: 5.0,
            while_dribbling: false, // men since 2015-16, holding only
        }),
        ..IMPERIAL.clock // 9-7
    },
    stations: Stations::FIBA, // the arc is FIBA's
    ..IMPERIAL
};

const NBA: Court = Court {
    code: CourtCode::Nba,
    name: "NBA (professional)",
    lane_width: feet(16.0, 0.0),
    arc_radius: Some(feet(23.0, 9.0)),
    corner_distance: Some(feet(22.0, 0.0)),
    clock: Clocks {
        defensive_lane_seconds: Some(3.0), // Rule 10 § VII
        ..IMPERIAL.clock                   // Rule 7: 24 / 14 s; Rule 10 § VI: three seconds
    },
    stations: Stations::NBA,
    ..IMPERIAL
};

const FIBA: Court = Court {
    code: CourtCode::Fiba,
    name: "FIBA (international)",
    width: 15.0,
    half_length: 14.0,
    rim_to_baseline: 1.575,
    backboard_to_baseline: 1.2,
    backboard_width: 1.8,
    lane_width: 4.9,
    ft_line_from_baseline: 5.8,
    circle_radius: 1.8,
    arc_radius: Some(6.75),
    corner_distance: Some(6.6), // 0.90 m from the sideline
    restricted_radius: Some(1.25),
    rim_height: 3.05,
    ring_radius: 0.225,
    line_width: 0.05,
    ball_size: 7,
    units: Units::Metric,
    clock: Clocks {
        shot: Some(24.0), // Art. 29
        shot_after_rebound: Some(14.0),
        closely_guarded: Some(CloselyGuarded {
            distance: 1.0, // Art. 27
            seconds: 5.0,
            while_dribbling: false,
        }),
        lane_seconds: Some(3.0), // Art. 26
        defensive_lane_seconds: None,
    },
    stations: Stations::FIBA,
};

/// FIBA Mini-Basketball Rules 2005: Art. 2 allows any court in proportion from 26 × 14 m down to
/// 12 × 7 m; 22 × 12 m is the one on the straight line between them that we take. Free-throw
/// line 4.00 m from the backboard (Art. 2-3), no three-point line (Art. 3), ring at 2.60 m and
/// ball of size 5 under eleven (Art. 4). Ours, no source: the lane is FIBA's narrowed as the
/// court is (4.9 × 12/15 m); board, ring and circle as FIBA's. From memory, low: no shot clock,
/// three seconds in the lane, five seconds closely guarded (at FIBA's one metre).
const YOUTH: Court = Court {
    code: CourtCode::Youth,
    name: "Youth (mini-basketball)",
    width: 12.0,
    half_length: 11.0,
    lane_width: 4.9 * 12.0 / 15.0,
    ft_line_from_baseline: 1.2 + 4.0,
    arc_radius: None,
    corner_distance: None,
    restricted_radius: None,
    rim_height: 2.60,
    ball_size: 5,
    clock: Clocks {
        shot: None,
        shot_after_rebound: None,
        ..FIBA.clock
    },
    stations: Stations::YOUTH,
    ..FIBA
};

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_code_finds_its_own_court() {
        for code in CourtCode::ALL {
            assert_eq!(Court::of(code).code, code);
        }
    }

    #[test]
    fn code_words_are_the_words_in_files() {
        for code in CourtCode::ALL {
            let written = serde_json::to_string(&code).unwrap();
            assert_eq!(written, format!("\"{}\"", code.code()));
            assert_eq!(serde_json::from_str::<CourtCode>(&written).unwrap(), code);
        }
    }

    #[test]
    fn arc_and_corner_come_together_and_leave_room_at_the_sideline() {
        for code in CourtCode::ALL {
            let court = Court::of(code);
            assert_eq!(court.arc_radius.is_some(), court.corner_distance.is_some());
            if let (Some(arc), Some(corner)) = (court.arc_radius, court.corner_distance) {
                assert!(corner <= arc && corner < court.width / 2.0);
            }
        }
    }
}
