//! A slower defender never shuts more: the looks as pure functions, one defender at a time.

use lanelight::ball::PassKind;
use lanelight::body::time_to_reach;
use lanelight::court::{Court, CourtCode, Vec2};
use lanelight::looks::backdoor::backdoor;
use lanelight::looks::driving::driving;
use lanelight::looks::passing::{flight, flight_openness};
use lanelight::looks::{BODIES, Cast, Scene};
use lanelight::model::Model;
use lanelight::squad::Level;
use lanelight::value::Value;
use proptest::prelude::*;
use proptest::sample::select;

use super::worlds::cases;

/// One defender with four others out of every way, far up the floor and asleep.
#[derive(Clone, Debug)]
struct Alone {
    cast: Cast,
    scene: Scene,
}

fn alone() -> impl Strategy<Value = Alone> {
    let spot = || (-7.0..7.0f64, -1.2..8.5f64).prop_map(|(x, y)| Vec2::new(x, y));
    let motion = || (-1.0..1.0f64, -1.0..1.0f64).prop_map(|(x, y)| Vec2::new(x, y));
    (
        select(CourtCode::ALL.to_vec()),
        select(Level::ALL.to_vec()),
        select(Level::ALL.to_vec()),
        prop::collection::vec((spot(), motion()), 5..6),
        (spot(), motion()),
        0.0..0.6f64,
    )
        .prop_map(|(court, attack, defence, attackers, (at, going), alert)| {
            let (five, others) = (attack.squad("A").players, defence.squad("D").players);
            let players = std::array::from_fn(|i| {
                if i < 5 {
                    five[i].clone()
                } else {
                    others[i - 5].clone()
                }
            });
            let cast = Cast {
                there: [true; 5],
                court: *Court::of(court),
                players,
                model: Model::shipped(),
                usual: 1.0,
                value: Value::default(),
            };
            let mut scene = Scene {
                pos: [Vec2::new(0.0, 60.0); BODIES],
                vel: [Vec2::ZERO; BODIES],
                facing: [Vec2::new(0.0, -1.0); BODIES],
                alert: [3.0; 5],
                aware: [3.0; 5],
                guards: [0, 1, 2, 3, 4],
            };
            let moving = |v: Vec2, top: f64| v * (top / 1.5);
            for (i, (p, v)) in attackers.into_iter().enumerate() {
                scene.pos[i] = p;
                scene.vel[i] = moving(v, cast.players[i].limits.top_speed);
            }
            scene.pos[5] = at;
            // Slow enough for the slowest that he is made.
            scene.vel[5] = moving(going, cast.players[5].limits.top_speed * 0.5);
            scene.alert[0] = alert;
            scene.aware[0] = 0.1;
            Alone { cast, scene }
        })
}

/// The same, with less speed and acceleration, and slower to see it.
fn slower(a: &Alone, speed: f64, accel: f64, later: f64) -> Alone {
    let mut b = a.clone();
    let limits = &mut b.cast.players[5].limits;
    limits.top_speed *= speed;
    limits.accel *= accel;
    limits.brake *= accel;
    limits.turn *= accel;
    b.scene.alert[0] += later;
    b.scene.aware[0] += later;
    b
}

/// The closed form is off by up to so much, s, against optimal control (`tests/external/motion.rs`);
/// twice that may lie between two of its answers. What that is worth in openness: the slope of the
/// logistic is at most 1 in 4 spreads.
const OFF: f64 = 2.0 * 0.02;
fn worth() -> f64 {
    OFF / (4.0 * Model::shipped().looks.logistic_scale)
}

proptest! {
    #![proptest_config(cases(4000))]

    #[test]
    fn whoever_is_slower_is_nowhere_sooner(
        a in alone(), to in (-7.0..7.0f64, -1.2..8.5f64), reach in 0.0..1.0f64,
        speed in 0.55..1.0f64, accel in 0.55..1.0f64, later in 0.0..0.3f64,
    ) {
        let b = slower(&a, speed, accel, later);
        let need = |x: &Alone| time_to_reach(
            x.scene.pos[5], x.scene.vel[5], &x.cast.players[5].limits,
            Vec2::new(to.0, to.1), reach, x.scene.alert[0],
        );
        prop_assert!(need(&b) >= need(&a) - OFF, "{} before {}", need(&b), need(&a));
    }

    #[test]
    fn a_slower_defender_alone_never_shuts_more_of_a_pass(
        a in alone(), kind in select(PassKind::ALL.to_vec()), receiver in 1usize..5,
        speed in 0.55..1.0f64, accel in 0.55..1.0f64, later in 0.0..0.3f64,
    ) {
        let b = slower(&a, speed, accel, later);
        let target = a.scene.pos[receiver];
        let f = flight(&a.cast, &a.scene, 0, receiver, kind, target);
        let open = |x: &Alone| flight_openness(&x.cast, &x.scene, 0, &f, 0.2).value;
        prop_assert!(open(&b) >= open(&a) - worth(), "{} of {}", open(&b), open(&a));
    }

    #[test]
    fn a_slower_defender_alone_never_shuts_more_of_a_cut_or_a_drive(
        a in alone(), cutter in 1usize..5,
        speed in 0.55..1.0f64, accel in 0.55..1.0f64, later in 0.0..0.3f64,
    ) {
        let b = slower(&a, speed, accel, later);
        let cut = |x: &Alone| backdoor(&x.cast, &x.scene, 0, cutter).value;
        prop_assert!(cut(&b) >= cut(&a) - worth(), "cut: {} of {}", cut(&b), cut(&a));
        let drive = |x: &Alone| driving(&x.cast, &x.scene, 0).openness.value;
        prop_assert!(drive(&b) >= drive(&a) - worth(), "drive: {} of {}", drive(&b), drive(&a));
    }
}
