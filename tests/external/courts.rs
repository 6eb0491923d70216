//! Courts against outside values: rule books, the recorded `sportypy` table, and arithmetic that
//! anyone can repeat. Labels: [read], [from memory], [computed], common practice.

use lanelight::court::{Court, CourtCode, Line, Side, Spot, SpotName, Units, Vec2};
use serde_json::Value;

const FOOT: f64 = 0.3048;
const ADULT: [CourtCode; 4] = [
    CourtCode::Nfhs,
    CourtCode::Ncaa,
    CourtCode::Fiba,
    CourtCode::Nba,
];

#[track_caller]
fn near(found: f64, wanted: f64, within: f64, what: &str) {
    assert!(
        (found - wanted).abs() <= within,
        "{what}: {found} is not within {within} of {wanted}"
    );
}

/// `sportypy` 1.0.0, `surface_dimensions.json` [read]. It rounds feet to four decimals, hence
/// 0.1 mm; its line thickness 0.1667 ft is 2 in.
#[test]
fn every_plan_dimension_agrees_with_sportypy() {
    let table: Value =
        serde_json::from_str(include_str!("../fixtures/courts/sportypy-1.0.0.json")).unwrap();
    for code in ADULT {
        let court = Court::of(code);
        let row = &table[code.code()];
        let unit = match court.units {
            Units::Metric => ("m", 1.0),
            Units::Imperial => ("ft", FOOT),
        };
        assert_eq!(row["court_units"], unit.0);
        let number = |key: &str| row[key].as_f64().map(|value| value * unit.1);
        for (key, ours) in [
            ("court_length", Some(2.0 * court.half_length)),
            ("court_width", Some(court.width)),
            ("line_thickness", Some(court.line_width)),
            ("basket_center_to_baseline", Some(court.rim_to_baseline)),
            (
                "backboard_face_to_baseline",
                Some(court.backboard_to_baseline),
            ),
            ("backboard_width", Some(court.backboard_width)),
            ("lane_length", Some(court.ft_line_from_baseline)),
            ("lane_width", Some(court.lane_width)),
            (
                "free_throw_line_to_backboard",
                Some(court.ft_line_from_baseline - court.backboard_to_baseline),
            ),
            ("free_throw_circle_radius", Some(court.circle_radius)),
            ("center_circle_radius", Some(court.circle_radius)),
            ("basket_center_to_three_point_arc", court.arc_radius),
            ("basket_center_to_corner_three", court.corner_distance),
            ("restricted_arc_radius", court.restricted_radius),
            ("basket_ring_inner_radius", Some(court.ring_radius)),
        ] {
            let what = format!("{} {key}", code.code());
            assert_eq!(number(key).is_some(), ours.is_some(), "{what}");
            if let (Some(theirs), Some(ours)) = (number(key), ours) {
                near(ours, theirs, 1e-4, &what);
            }
        }
    }
}

/// NFHS Basketball Rules Book 2019-20: 1-1 (84 × 50 ft), 1-4-1 (19 ft 9 in; straight from 63 in)
/// [read in a reproduction]; 1-10 (ring at 10 ft) [from memory, high].
#[test]
fn nfhs_floor_follows_its_rule_book() {
    let court = Court::of(CourtCode::Nfhs);
    near(court.half_length, 12.8016, 1e-9, "1-1 half of 84 ft");
    near(court.width, 15.24, 1e-9, "1-1 50 ft");
    near(court.line_width, 2.0 * 0.0254, 1e-9, "lines of 2 in");
    near(court.arc_radius.unwrap(), 6.0198, 1e-9, "1-4-1 19 ft 9 in");
    near(court.rim_to_baseline, 63.0 * 0.0254, 1e-9, "1-4-1 63 in");
    near(court.three_point_break_y().unwrap(), 0.0, 1e-9, "1-4-1");
    near(court.rim_height, 3.048, 1e-9, "1-10");
    assert_eq!(court.restricted_radius, None);
}

/// FIBA Official Basketball Rules Art. 2 and Equipment [from memory, high]: 3-point lines 0.90 m
/// from the sidelines, arc 6.75 m; ring at 3.05 m, 450–459 mm across; board 1.80 m wide; no-charge
/// semicircle 1.25 m.
#[test]
fn fiba_floor_follows_its_rule_book() {
    let court = Court::of(CourtCode::Fiba);
    let corner = court.corner_distance.unwrap();
    near(court.width / 2.0 - corner, 0.90, 1e-9, "corner strip");
    near(court.arc_radius.unwrap(), 6.75, 1e-9, "arc");
    near(court.rim_height, 3.05, 1e-9, "Equipment 1.2");
    assert!((0.450..=0.459).contains(&(2.0 * court.ring_radius)));
    near(court.backboard_width, 1.80, 1e-9, "board");
    near(court.restricted_radius.unwrap(), 1.25, 1e-9, "no-charge");
}

/// Rule 1 of NCAA and NBA [from memory, high]; ring 18 in across, near edge 6 in from the board
/// (sizes.com/sports/basketball.htm) [read].
#[test]
fn american_floors_follow_their_rule_books() {
    for (code, lane_ft, arc_in, corner_in) in [
        (CourtCode::Ncaa, 12.0, 265.75, 259.875),
        (CourtCode::Nba, 16.0, 285.0, 264.0),
    ] {
        let court = Court::of(code);
        near(court.half_length, 47.0 * FOOT, 1e-9, "47 ft");
        near(court.width, 50.0 * FOOT, 1e-9, "50 ft");
        near(court.lane_width, lane_ft * FOOT, 1e-9, "lane");
        near(court.arc_radius.unwrap(), arc_in * 0.0254, 1e-9, "arc");
        let corner = court.corner_distance.unwrap();
        near(corner, corner_in * 0.0254, 1e-9, "corner");
        near(court.restricted_radius.unwrap(), 4.0 * FOOT, 1e-9, "4 ft");
        near(court.rim_height, 10.0 * FOOT, 1e-9, "10 ft");
    }
    for code in [CourtCode::Nfhs, CourtCode::Ncaa, CourtCode::Nba] {
        let court = Court::of(code);
        let gap = court.rim_to_baseline - court.backboard_to_baseline - court.ring_radius;
        near(gap, 6.0 * 0.0254, 1e-9, "ring to board 6 in");
    }
}

/// FIBA Mini-Basketball Rules 2005 [read]: Art. 2 (26 × 14 m down to 12 × 7 m), Art. 2-3 (line
/// 4.00 m from the board), Art. 3 (no three-point line), Art. 4 (2.60 m under eleven; size 5).
#[test]
fn youth_floor_follows_the_mini_basketball_rules() {
    let court = Court::of(CourtCode::Youth);
    let length = 2.0 * court.half_length;
    assert!((12.0..=26.0).contains(&length));
    let in_proportion = 7.0 + (14.0 - 7.0) * (length - 12.0) / (26.0 - 12.0);
    near(court.width, in_proportion, 1e-9, "Art. 2");
    let to_board = court.ft_line_from_baseline - court.backboard_to_baseline;
    near(to_board, 4.0, 1e-9, "Art. 2-3");
    assert_eq!(court.arc_radius, None);
    near(court.rim_height, 2.60, 1e-9, "Art. 4");
    assert_eq!(court.ball_size, 5);
}

/// Straight part of the line and ring to free-throw line [computed from the table].
#[test]
fn derived_lengths_follow() {
    for (code, straight) in [
        (CourtCode::Fiba, 2.9901),
        (CourtCode::Nba, 14.1978 * FOOT),
        (CourtCode::Ncaa, 9.8805 * FOOT),
        (CourtCode::Nfhs, 5.25 * FOOT),
    ] {
        let court = Court::of(code);
        let found = court.rim_to_baseline + court.three_point_break_y().unwrap();
        // A corner given to 0.0001 ft moves the break by 0.0005 ft.
        near(found, straight, 3e-4, code.code());
        let foul = if code == CourtCode::Fiba {
            4.225
        } else {
            4.191
        };
        near(court.ft_line_y(), foul, 1e-9, "ring to free-throw line");
    }
}

/// Clocks: FIBA Art. 26, 27, 29; NBA Rule 7, Rule 10 §§ VI–VII; NCAA 9-7; NFHS 2-14, 4-10, 9-7,
/// 9-10-1a (five seconds [read: cyba.org]; NCAA 30 s [read]; the rest from memory, high).
#[test]
fn clocks_follow_the_rule_books() {
    for (code, shot, rebound, guarded, defensive) in [
        (CourtCode::Nfhs, None, None, Some((1.8288, 5.0, true)), None),
        (
            CourtCode::Ncaa,
            Some(30.0),
            Some(20.0),
            Some((1.8288, 5.0, false)),
            None,
        ),
        (
            CourtCode::Fiba,
            Some(24.0),
            Some(14.0),
            Some((1.0, 5.0, false)),
            None,
        ),
        (CourtCode::Nba, Some(24.0), Some(14.0), None, Some(3.0)),
    ] {
        let clock = Court::of(code).clock;
        assert_eq!(
            (clock.shot, clock.shot_after_rebound),
            (shot, rebound),
            "{code:?}"
        );
        let found = clock
            .closely_guarded
            .map(|rule| (rule.distance, rule.seconds, rule.while_dribbling));
        match (found, guarded) {
            (Some(found), Some(wanted)) => {
                near(found.0, wanted.0, 1e-9, "closely guarded distance");
                assert_eq!((found.1, found.2), (wanted.1, wanted.2), "{code:?}");
            }
            (found, wanted) => assert_eq!(found, wanted, "{code:?}"),
        }
        assert_eq!(clock.lane_seconds, Some(3.0), "{code:?}");
        assert_eq!(clock.defensive_lane_seconds, defensive, "{code:?}");
    }
}

/// Common practice: perimeter neighbours 15–18 ft (4.6–5.5 m) apart, outside the arc, wings about
/// free-throw line extended and a metre or more inside the sideline.
#[test]
fn four_out_players_stand_fifteen_to_eighteen_feet_apart() {
    for code in ADULT {
        let court = Court::of(code);
        let at = |name, side| court.spot(Spot::new(name, side));
        let line = [
            at(SpotName::Wing, Side::Left),
            at(SpotName::Slot, Side::Left),
            at(SpotName::Slot, Side::Right),
            at(SpotName::Wing, Side::Right),
        ];
        for pair in line.windows(2) {
            let gap = (pair[0] - pair[1]).length();
            assert!((4.6..=5.5).contains(&gap), "{code:?}: {gap}");
        }
        let wing = line[3];
        assert!(court.width / 2.0 - wing.x >= 1.0, "{code:?}");
        near(wing.y, court.ft_line_y(), 0.5, "free-throw line extended");
        // The short high-school arc is overstepped for the sake of spacing.
        let most = if code == CourtCode::Nfhs { 1.3 } else { 0.7 };
        for p in line {
            let outside = p.length() - court.arc_radius.unwrap();
            assert!((0.25..=most).contains(&outside), "{code:?}: {outside}");
        }
    }
}

/// Common practice: a corner player is outside the line, 0.9 m from the baseline, with half a
/// metre to the sideline; the top is half a metre outside the arc (0.7 m in high school).
#[test]
fn corners_and_top_stand_just_outside_the_line() {
    for code in ADULT {
        let court = Court::of(code);
        let corner = court.spot(Spot::new(SpotName::Corner, Side::Right));
        near(corner.y - court.baseline_y(), 0.9, 1e-9, "baseline");
        let outside = corner.x - court.corner_distance.unwrap();
        assert!((0.3..=0.5).contains(&outside), "{code:?}: {outside}");
        assert!(court.width / 2.0 - corner.x >= 0.5 - 1e-9, "{code:?}");
        let top = court.spot(Spot::new(SpotName::Top, None));
        near(top.length() - court.arc_radius.unwrap(), 0.6, 0.11, "top");
        let slot = court.spot(Spot::new(SpotName::Slot, Side::Right));
        assert!(top.y > slot.y, "{code:?}");
    }
}

/// The area inside the drawn three-point line, found by ray casting through the drawn primitives,
/// is the area in which a basket counts two: two separate constructions of the same line.
#[test]
fn threes_are_scored_where_the_drawn_line_says() {
    for code in ADULT {
        let court = Court::of(code);
        let lines = court.lines();
        let corner = court.corner_distance.unwrap();
        let mut outline: Vec<Vec2> = Vec::new();
        for line in &lines {
            match *line {
                Line::Segment { a, b } if (a.x - b.x).abs() < 1e-12 && a.x.abs() == corner => {
                    outline.extend([a, b]);
                }
                Line::Arc {
                    radius, from, to, ..
                } if Some(radius) == court.arc_radius => {
                    outline.extend((0..=4000).map(|step| {
                        let angle = from + (to - from) * f64::from(step) / 4000.0;
                        Vec2::new(libm::cos(angle), libm::sin(angle)) * radius
                    }));
                }
                _ => {}
            }
        }
        assert_eq!(outline.len(), 4005, "{code:?}: two straights and an arc");
        let inside = |p: Vec2| {
            let mut odd = false;
            for (i, a) in outline.iter().enumerate() {
                let b = outline[(i + 1) % outline.len()];
                if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)
                {
                    odd = !odd;
                }
            }
            odd
        };
        let (mut twos, mut threes) = (0, 0);
        for i in 0..76 {
            for j in 0..110 {
                // An irrational-looking grid, so that no point is on a line.
                let p = Vec2::new(
                    -7.4931 + 0.19937 * f64::from(i),
                    court.baseline_y() + 0.0137 + 0.09973 * f64::from(j),
                );
                assert_eq!(court.is_three(p), !inside(p), "{code:?} {p:?}");
                if inside(p) { twos += 1 } else { threes += 1 }
            }
        }
        assert!(twos > 1000 && threes > 1000, "{code:?}");
    }
}
