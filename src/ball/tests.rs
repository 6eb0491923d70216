//! Passes against closed forms, and what a pass cannot do.

use super::*;
use crate::court::Vec2;
use crate::model::Model;

/// Six feet, the stature of the adults in these tests, m.
const TALL: f64 = 1.83;

fn throw(kind: PassKind, distance: f64, speed: f64) -> Flight {
    let (from, to) = (
        Vec2::new(1.0, 2.0),
        Vec2::new(1.0, 2.0) + Vec2::new(0.6, 0.8) * distance,
    );
    let model = Model::shipped();
    let heights = (
        kind.release_height(&model.passes, TALL),
        kind.catch_height(&model.passes, TALL),
    );
    Flight::new(&model, kind, (from, to), speed, heights)
}

#[test]
fn every_pass_starts_and_ends_where_it_should() {
    for kind in PassKind::ALL {
        for distance in [0.0, 0.3, 2.0, 5.0, 9.0, 11.5] {
            let f = throw(kind, distance, 10.0);
            let (start, low) = f.at(0.0);
            let (end, high) = f.at(f.duration);
            assert!(
                (start - f.from).length() < 1e-12 && (end - f.to).length() < 1e-9,
                "{kind:?} {distance}"
            );
            assert!((low - f.from_height).abs() < 1e-9 && (high - f.to_height).abs() < 1e-9);
            assert!(f.duration > 0.0 && f.duration.is_finite() && f.speed.is_finite());
            assert_eq!(f.at(-1.0), f.at(0.0));
            assert_eq!(f.at(f.duration + 1.0), f.at(f.duration));
        }
    }
}

#[test]
fn time_at_is_the_inverse_of_distance_at() {
    for kind in PassKind::ALL {
        let f = throw(kind, 6.0, 9.0);
        for k in 0..=60 {
            let d = 0.1 * f64::from(k);
            assert!(
                (f.distance_at(f.time_at(d)) - d).abs() < 1e-9,
                "{kind:?} {d}"
            );
        }
    }
}

#[test]
fn only_the_bounce_pass_touches_the_floor_and_it_does_so_two_thirds_of_the_way() {
    for kind in PassKind::ALL {
        let f = throw(kind, 4.5, 10.0);
        let lowest = (0..=1000)
            .map(|k| f.height_at(f.duration * 0.001 * f64::from(k)))
            .fold(9.0, f64::min);
        if kind == PassKind::Bounce {
            let (place, height) = f.at(f.floor_time);
            assert!(
                (height - BallSize::Seven.radius(&Model::shipped().ball)).abs() < 1e-9
                    && lowest > height - 1e-9
            );
            assert!(((place - f.from).length() / f.distance - 2.0 / 3.0).abs() < 1e-9);
        } else {
            assert!(lowest > 0.9, "{kind:?}: {lowest}");
        }
    }
}

#[test]
fn a_skip_pass_clears_the_arms_of_the_passers_defender() {
    for speed in [6.0, 9.0, 12.0] {
        for distance in [7.0, 9.0, 12.0] {
            let f = throw(PassKind::Overhead, distance, speed);
            let height = f.height_at(f.time_at(1.0));
            assert!(
                height > 1.33 * TALL,
                "{distance} m at {speed} m/s: {height} m"
            );
        }
    }
}

#[test]
fn the_kinds_are_ordered_in_time_as_the_trade_says() {
    let t = |kind| throw(kind, 3.5, 10.0).duration;
    assert!(t(PassKind::Chest) < t(PassKind::Overhead));
    assert!(t(PassKind::Overhead) < t(PassKind::Bounce));
    assert!(t(PassKind::Bounce) < t(PassKind::DropOff));
}

#[test]
fn small_hands_do_not_throw_across_the_court() {
    let model = Model::shipped();
    let drag = BallSize::Five.drag(&model.ball);
    for kind in PassKind::ALL {
        let mut last = 0.0;
        for speed in [0.0, 3.0, 5.0, 6.0, 8.0, 10.0, 12.0] {
            let range = kind.reachable_range(&model, speed, drag);
            assert!(range >= last && range <= kind.sensible_range(&model.passes).1);
            last = range;
        }
    }
    assert!((PassKind::Chest.reachable_range(&model, 5.0, drag) - 4.8).abs() < 0.1);
    assert!((PassKind::Chest.reachable_range(&model, 6.0, drag) - 6.8).abs() < 0.1);
    assert!(PassKind::Overhead.reachable_range(&model, 5.0, drag) < 5.0);
}

#[test]
fn at_the_edge_of_the_range_the_ball_leaves_at_45_degrees() {
    let model = Model::shipped();
    let drag = BallSize::Seven.drag(&model.ball);
    let range = PassKind::Chest.reachable_range(&model, 5.0, drag);
    let way = (Vec2::ZERO, Vec2::new(range, 0.0));
    let f = Flight::new(&model, PassKind::Chest, way, 5.0, (1.0, 1.0));
    let rise = (f.height_at(1e-7) - 1.0) / 1e-7;
    assert!((rise - f.ground_speed(0.0)).abs() < 1e-3, "{rise}");
}

#[test]
fn every_kind_has_its_own_word() {
    let mut words = PassKind::ALL.map(PassKind::word).to_vec();
    words.dedup();
    assert_eq!(words.len(), 4);
}
