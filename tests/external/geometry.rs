//! Plane geometry and assignment against two general-purpose libraries: `geo` 0.33 (GeoRust) for hull,
//! area, distance and containment, `pathfinding` 4 (Kuhn 1955, *The Hungarian method for the assignment
//! problem*, Naval Research Logistics Quarterly 2, 83–97, and Munkres 1957, as that crate implements
//! them; titles from memory) for the assignment.

use geo::{Area, ConvexHull, Distance, Euclidean, Intersects, MultiPoint, Point, Polygon};
use lanelight::court::Vec2;
use lanelight::looks::driving::strip_free;
use lanelight::looks::spacing::{hull_area, nearest_team_mate};
use lanelight::looks::{BODIES, Scene};
use lanelight::scrimmage::franks::nearest_assignment;
use pathfinding::prelude::{Matrix, kuhn_munkres_min};
use proptest::prelude::*;

/// Places on the half court, metres; every other set on a grid of half metres, where points coincide
/// and lie on one line.
fn five() -> impl Strategy<Value = [Vec2; 5]> {
    let loose = prop::array::uniform5((-7.6..7.6f64, -1.6..12.8f64));
    let grid = prop::array::uniform5((-4i8..5, -2i8..7))
        .prop_map(|p| p.map(|(x, y)| (f64::from(x) * 0.5, f64::from(y) * 0.5)));
    prop_oneof![loose, grid].prop_map(|p| p.map(|(x, y)| Vec2::new(x, y)))
}

fn point(p: Vec2) -> Point<f64> {
    Point::new(p.x, p.y)
}

fn scene(attackers: &[Vec2; 5], defenders: &[Vec2; 5]) -> Scene {
    let zero = Vec2::ZERO;
    let mut pos = [zero; BODIES];
    pos[..5].copy_from_slice(attackers);
    pos[5..].copy_from_slice(defenders);
    Scene {
        pos,
        vel: [zero; BODIES],
        facing: [Vec2::new(0.0, -1.0); BODIES],
        alert: [0.2; 5],
        aware: [0.1; 5],
        guards: [0, 1, 2, 3, 4],
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn the_hull_area_is_that_of_geo(points in five()) {
        let geo: MultiPoint<f64> = points.iter().map(|p| point(*p)).collect();
        let wanted = geo.convex_hull().unsigned_area();
        prop_assert!((hull_area(&points) - wanted).abs() < 1e-9 * (1.0 + wanted));
    }

    #[test]
    fn distances_to_the_nearest_are_those_of_geo(a in five(), d in five()) {
        let least = |i: usize, others: &[Vec2; 5], but: Option<usize>| -> f64 {
            (0..5)
                .filter(|j| Some(*j) != but)
                .map(|j| Euclidean.distance(point(a[i]), point(others[j])))
                .fold(f64::INFINITY, f64::min)
        };
        let wanted = (0..5).map(|i| least(i, &a, Some(i))).sum::<f64>() / 5.0;
        prop_assert!((nearest_team_mate(&a) - wanted).abs() < 1e-12 * (1.0 + wanted));
        let scene = scene(&a, &d);
        for i in 0..5 {
            let (distance, who) = scene.nearest_defender(a[i]);
            prop_assert!((distance - least(i, &d, None)).abs() < 1e-12 * (1.0 + distance));
            prop_assert_eq!(distance, (d[who] - a[i]).length());
        }
    }

    /// The strip from the holder to the rim as a polygon: it is free if no other defender than his own
    /// stands in it.
    #[test]
    fn the_strip_to_the_rim_is_geos_rectangle(a in five(), d in five(), holder in 0usize..5) {
        let half = 0.9;
        let length = a[holder].length();
        prop_assume!(length > 0.1);
        let across = Vec2::new(a[holder].y, -a[holder].x) * (half / length);
        let corners = [a[holder] + across, a[holder] - across, -across, across];
        let strip: Polygon<f64> = Polygon::new(corners.iter().map(|c| point(*c)).collect(), vec![]);
        let border = |p: Vec2| {
            let edge = Euclidean.distance(&point(p), strip.exterior());
            edge < 1e-9
        };
        let others = || (0..5).filter(|k| *k != holder);
        // On the very border either answer will do.
        prop_assume!(!others().any(|k| border(d[k])));
        let free = !others().any(|k| strip.intersects(&point(d[k])));
        prop_assert_eq!(strip_free(&scene(&a, &d), holder, half), free);
    }

    /// Whole numbers, so that sums are exact; small ones, so that there are ties.
    #[test]
    fn the_assignment_costs_what_the_hungarian_method_finds(
        costs in prop_oneof![
            prop::array::uniform5(prop::array::uniform5(0i64..4)),
            prop::array::uniform5(prop::array::uniform5(0i64..1_000_000)),
        ],
    ) {
        let ours = nearest_assignment(&costs.map(|row| row.map(|c| c as f64)));
        let mut columns = ours;
        columns.sort_unstable();
        prop_assert_eq!(columns, [0, 1, 2, 3, 4]);
        let total: i64 = ours.iter().enumerate().map(|(row, column)| costs[row][*column]).sum();
        let matrix = Matrix::from_rows(costs).expect("five rows of five");
        let (least, _) = kuhn_munkres_min(&matrix);
        prop_assert_eq!(total, least);
    }
}
