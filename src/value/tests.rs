//! The fit against closed forms.

use super::*;
use crate::offence::LookKind;

/// Equally distributed on 0..1 (Knuth's 64-bit multiplier, from memory).
struct Uniform(u64);

impl Uniform {
    fn next(&mut self) -> f64 {
        let next = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = next.wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// `n` chances left, each a shot of quality uniform on 0..1: the bars are known in closed form (Moser's
/// recursion; Skinner 2012): 0 with none left, then (1 + f²)/2.
#[test]
fn the_fit_finds_the_bars_of_optimal_stopping_with_uniform_chances() {
    const CHANCES: usize = 6;
    let mut rng = Uniform(12345);
    let paths: Vec<Path<CHANCES>> = (0..40_000)
        .map(|_| {
            let chance = |left: usize| {
                let quality = rng.next();
                Chance {
                    features: std::array::from_fn(|i| f64::from(u8::from(i + 1 == left))),
                    left: 1.0,
                    seems: quality,
                    worth: quality,
                }
            };
            let chances: Vec<_> = (1..=CHANCES).rev().map(chance).collect();
            let end = rng.next();
            Path { chances, end }
        })
        .collect();
    let bars = settle(&paths, &[0.4; CHANCES], 10.0);
    let mut exact = 0.5;
    for (left, bar) in bars.iter().enumerate() {
        assert!((bar - exact).abs() < 0.01, "{left}: {bar} for {exact}");
        exact = (1.0 + exact * exact) / 2.0;
    }
}

/// With a share of possessions lost between chances the bars fall.
#[test]
fn lost_balls_lower_the_bars() {
    let bar = |lost: f64| {
        let mut rng = Uniform(99);
        let path = |_| {
            let chance = |quality| Chance {
                features: [1.0],
                left: 1.0,
                seems: quality,
                worth: quality,
            };
            let mut path = Path::default();
            for _ in 0..8 {
                path.chances.push(chance(rng.next()));
                if rng.next() < lost {
                    break;
                }
            }
            path
        };
        let paths: Vec<Path<1>> = (0..20_000).map(path).collect();
        settle(&paths, &[0.5], 1.0)[0]
    };
    let (safe, careless) = (bar(0.02), bar(0.3));
    assert!(safe > careless + 0.1, "{safe} {careless}");
}

#[test]
fn without_paths_what_was_known_stays() {
    assert_eq!(settle::<2>(&[], &[0.7, 0.2], 5.0), [0.7, 0.2]);
}

#[test]
fn whoever_trusts_poor_eyes_little_is_not_taken_in_by_the_luckiest_look() {
    let value = Value::default();
    let sharp = value.judged(LookKind::Shot, 0.8, 0.5, 0.01);
    let poor = value.judged(LookKind::Shot, 0.8, 0.5, 0.5);
    assert!(sharp > 1.2 && poor < 0.9, "{sharp} {poor}");
}

#[test]
fn with_no_time_left_going_on_is_worth_nothing() {
    let state = State {
        left: 0.0,
        inside: true,
        picked_up: false,
    };
    assert_eq!(Value::default().of_going_on(&state), 0.0);
}
