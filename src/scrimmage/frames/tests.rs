//! The figures of frames, tried out.

use super::*;

#[test]
fn quantities_stand_in_the_order_of_their_list() {
    assert!(
        Quantity::ALL
            .iter()
            .enumerate()
            .all(|(i, q)| *q as usize == i)
    );
    assert!(
        Matching::ALL
            .iter()
            .enumerate()
            .all(|(i, m)| *m as usize == i)
    );
}

#[test]
fn quantiles_of_even_values_are_where_they_should_be() {
    let counts = Counts {
        bins: vec![10; 100],
        ..Counts::default()
    };
    for q in QUANTILES {
        assert!((counts.quantile(q, 0.02) - 2.0 * q).abs() < 1e-9);
    }
}

#[test]
fn speed_and_acceleration_of_a_known_run() {
    // From rest with 3 m/s² along x: x = 1.5 t².
    let time = |k: usize| k as f64 * TICK;
    let at = |k: usize| Vec2::new(1.5 * time(k) * time(k), 0.0);
    assert!((velocity(&at, 20).x - 3.0 * 20.0 * TICK).abs() < 1e-9);
    assert!((change(&at, 20) - 3.0).abs() < 1e-9);
}

#[test]
fn frame_statistics_are_the_same_for_one_thread_and_two() {
    let scenario = Scenario::demo();
    let text = |threads| {
        let f = Frames::of(&scenario, 1, 12, threads).expect("a sound plan");
        let fits = Matching::ALL.map(|m| f.fit(m));
        serde_json::to_string(&(f.spreads(), fits)).expect("plain numbers")
    };
    assert_eq!(text(1), text(2));
}
