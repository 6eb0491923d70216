//! Motion against closed forms and a stepped simulation, and what a body cannot do.

use super::*;
use crate::court::Vec2;
use crate::model::Model;
use proptest::prelude::*;

const DT: f64 = 0.04;

fn adult() -> Limits {
    Limits {
        top_speed: 7.0,
        accel: 4.0,
        brake: 5.0,
        turn: 5.0,
        shuffle: 0.65,
        backpedal: 0.6,
        reaction: 0.25,
        reach: 0.9,
        radius: 0.3,
        height: 1.8,
        standing_reach: 2.4,
    }
}

fn at(x: f64, y: f64) -> Body {
    Body {
        pos: Vec2::new(x, y),
        vel: Vec2::ZERO,
        facing: Vec2::new(0.0, 1.0),
    }
}

fn vec2(size: f64) -> impl Strategy<Value = Vec2> {
    (-size..size, -size..size).prop_map(|(x, y)| Vec2::new(x, y))
}

fn mirror(v: Vec2) -> Vec2 {
    Vec2::new(-v.x, v.y)
}

#[test]
fn sideways_and_backward_are_slower_than_forward() {
    let (lim, ahead) = (adult(), Vec2::new(0.0, 1.0));
    assert_eq!(speed_limit(&lim, ahead, ahead), 7.0);
    assert_eq!(speed_limit(&lim, ahead, Vec2::new(1.0, 0.0)), 0.65 * 7.0);
    assert!((speed_limit(&lim, ahead, -ahead) - 0.6 * 7.0).abs() < 1e-12);
    let goal = Intent {
        target: Vec2::new(50.0, 0.0),
        arrive: false,
        pace: 1.0,
        face: Some(ahead),
    };
    let mut body = at(0.0, 0.0);
    for _ in 0..200 {
        body = step(&Model::shipped(), &body, &lim, &goal, DT);
    }
    assert!(
        (body.vel.length() - 0.65 * 7.0).abs() < 1e-6,
        "{:?}",
        body.vel
    );
}

#[test]
fn half_a_turn_of_the_shoulders_takes_time_and_goes_by_way_of_the_basket() {
    let goal = Intent {
        target: Vec2::new(2.0, 5.0),
        arrive: true,
        pace: 0.0,
        face: Some(Vec2::new(0.0, -1.0)),
    };
    let mut body = at(2.0, 5.0);
    let mut ticks = 0;
    while body.facing.y > -0.999_999 {
        body = step(&Model::shipped(), &body, &adult(), &goal, DT);
        ticks += 1;
        if ticks == 3 {
            assert!(
                body.facing.x < 0.0,
                "the basket is on his left: {:?}",
                body.facing
            );
        }
    }
    let seconds = f64::from(ticks) * DT;
    assert!(
        (seconds - std::f64::consts::PI / Model::shipped().body.turn_rate).abs() <= DT,
        "{seconds}"
    );
}

#[test]
fn nothing_happens_at_a_coincident_target_or_in_no_time() {
    let body = at(1.0, 2.0);
    for arrive in [true, false] {
        let goal = Intent {
            target: body.pos,
            arrive,
            pace: 1.0,
            face: None,
        };
        assert_eq!(step(&Model::shipped(), &body, &adult(), &goal, DT), body);
        let away = Intent {
            target: Vec2::ZERO,
            ..goal
        };
        for dt in [0.0, -1.0, f64::NAN] {
            assert_eq!(step(&Model::shipped(), &body, &adult(), &away, dt), body);
        }
    }
}

#[test]
fn mad_input_gives_finite_bodies() {
    let mad = [
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        1e300,
        -1e300,
        0.0,
    ];
    for a in mad {
        for b in mad {
            let mut body = at(1.0, 2.0);
            body.vel = Vec2::new(b, a);
            body.facing = Vec2::new(a, a);
            let goal = Intent {
                target: Vec2::new(a, b),
                arrive: true,
                pace: a,
                face: Some(Vec2::new(b, a)),
            };
            let next = step(&Model::shipped(), &body, &adult(), &goal, DT);
            for v in [next.pos, next.vel, next.facing] {
                assert!(v.x.is_finite() && v.y.is_finite(), "{a} {b}: {next:?}");
            }
            assert!(next.vel.length() <= 7.0 * (1.0 + 1e-12));
            assert!((next.facing.length() - 1.0).abs() < 1e-9);
        }
    }
}

/// Ten bodies in order, and in another.
fn orders(turn: usize, swap: (usize, usize)) -> [Vec<usize>; 2] {
    let plain: Vec<usize> = (0..10).collect();
    let mut mixed = plain.clone();
    mixed.rotate_left(turn);
    mixed.swap(swap.0, swap.1);
    mixed.reverse();
    [plain, mixed]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn limits_hold_under_random_intents(
        start in vec2(3.0), vel in vec2(6.0), facing in vec2(1.0),
        goals in prop::collection::vec((vec2(14.0), any::<bool>(), -0.5..1.5f64, prop::option::of(vec2(2.0))), 40),
    ) {
        let lim = adult();
        let mut body = Body { pos: start, vel, facing };
        // The first tick cuts the speed and puts the shoulders right, whatever came in.
        let (target, arrive, pace, face) = goals[0];
        body = step(&Model::shipped(), &body, &lim, &Intent { target, arrive, pace, face }, DT);
        for (target, arrive, pace, face) in goals {
            let next = step(&Model::shipped(), &body, &lim, &Intent { target, arrive, pace, face }, DT);
            let change = next.vel - body.vel;
            let speed = body.vel.length();
            prop_assert!(next.vel.length() <= lim.top_speed * (1.0 + 1e-12));
            prop_assert!(change.length() <= lim.brake.max(lim.turn) * DT * (1.0 + 1e-9));
            if speed > 1.0 {
                let ahead = body.vel / speed;
                prop_assert!(change.dot(ahead) <= lim.accel * DT * (1.0 + 1e-9));
                let side = (ahead.x * change.y - ahead.y * change.x) / (lim.turn * DT);
                let along = change.dot(ahead);
                let along = along / (DT * if along > 0.0 { lim.accel } else { lim.brake });
                prop_assert!(side * side + along * along <= 1.0 + 1e-9);
            }
            let turned = body.facing.dot(next.facing).clamp(-1.0, 1.0);
            prop_assert!(libm::acos(turned) <= Model::shipped().body.turn_rate * DT + 1e-6);
            prop_assert!((next.facing.length() - 1.0).abs() < 1e-9);
            body = next;
        }
    }

    #[test]
    fn a_steady_run_settles_at_what_the_stance_allows(way in vec2(1.0), face in vec2(1.0), pace in 0.1..1.0f64) {
        prop_assume!(way.length() > 0.1 && face.length() > 0.1);
        let lim = adult();
        let goal = Intent { target: way * 1e4, arrive: false, pace, face: Some(face) };
        let mut body = at(0.0, 0.0);
        for _ in 0..100 {
            body = step(&Model::shipped(), &body, &lim, &goal, DT);
        }
        let allowed = pace * speed_limit(&lim, face / face.length(), way / way.length());
        prop_assert!((body.vel.length() - allowed).abs() < 1e-3, "{} {}", body.vel.length(), allowed);
    }

    #[test]
    fn he_arrives_without_overshoot_and_stands_still(
        target in vec2(12.0), pace in 0.2..1.0f64, dt in 0.01..0.06f64,
    ) {
        let lim = adult();
        let goal = Intent { target, arrive: true, pace, face: None };
        let mut body = at(0.0, 0.0);
        let way = target / target.length();
        for _ in 0..(20.0 / dt) as usize {
            body = step(&Model::shipped(), &body, &lim, &goal, dt);
            prop_assert!((body.pos - target).dot(way) < 1e-6, "past it: {:?}", body);
        }
        prop_assert!((body.pos - target).length() < 1e-3 && body.vel.length() < 1e-3, "{:?}", body);
    }

    #[test]
    fn he_settles_from_any_velocity(vel in vec2(4.9), target in vec2(6.0)) {
        let lim = adult();
        let goal = Intent { target, arrive: true, pace: 1.0, face: None };
        let mut body = Body { vel, ..at(0.0, 0.0) };
        let mut last_outside = 0;
        for tick in 0..500 {
            body = step(&Model::shipped(), &body, &lim, &goal, DT);
            if (body.pos - target).length() > 0.01 {
                last_outside = tick;
            }
        }
        prop_assert!(last_outside < 200, "still outside at tick {}", last_outside);
        prop_assert!(body.vel.length() < 1e-3);
    }

    #[test]
    fn a_mirrored_floor_gives_the_mirror_image(
        pos in vec2(7.0), vel in vec2(4.0), facing in vec2(1.0), target in vec2(7.0), face in vec2(1.0),
        arrive in any::<bool>(),
    ) {
        let goal = Intent { target, arrive, pace: 0.9, face: Some(face) };
        let other = Intent { target: mirror(target), face: Some(mirror(face)), ..goal };
        let mut a = Body { pos, vel, facing };
        let mut b = Body { pos: mirror(pos), vel: mirror(vel), facing: mirror(facing) };
        for _ in 0..20 {
            a = step(&Model::shipped(), &a, &adult(), &goal, DT);
            b = step(&Model::shipped(), &b, &adult(), &other, DT);
            prop_assert_eq!(mirror(b.pos), a.pos);
            prop_assert_eq!(mirror(b.vel), a.vel);
            prop_assert_eq!(mirror(b.facing), a.facing);
        }
    }

    #[test]
    fn separation_does_not_depend_on_the_order(
        bodies in prop::collection::vec((vec2(0.7), vec2(5.0), 0.25..0.4f64, 0.0..1.0f64), 10),
        turn in 1usize..10, swap in (0usize..10, 0usize..10),
    ) {
        let run = |order: &[usize]| {
            let mut pos: Vec<Vec2> = order.iter().map(|&k| bodies[k].0).collect();
            let mut vel: Vec<Vec2> = order.iter().map(|&k| bodies[k].1).collect();
            let radii: Vec<f64> = order.iter().map(|&k| bodies[k].2).collect();
            let mobile: Vec<f64> = order.iter().map(|&k| bodies[k].3).collect();
            separate(&mut pos, &mut vel, &radii, &mobile);
            let mut out = vec![[0u64; 4]; 10];
            for (place, &k) in order.iter().enumerate() {
                out[k] = [pos[place].x, pos[place].y, vel[place].x, vel[place].y].map(f64::to_bits);
            }
            out
        };
        let [plain, mixed] = orders(turn, swap);
        prop_assert_eq!(run(&plain), run(&mixed));
    }

    #[test]
    fn contact_does_not_depend_on_the_order_and_changes_little_in_a_tick(
        bodies in prop::collection::vec((vec2(0.7), vec2(5.0), 0.0..1.0f64), 10),
        turn in 1usize..10, swap in (0usize..10, 0usize..10),
    ) {
        let model = &Model::shipped().movement;
        let run = |order: &[usize]| {
            let mut pos: Vec<Vec2> = order.iter().map(|&k| bodies[k].0).collect();
            let mut vel: Vec<Vec2> = order.iter().map(|&k| bodies[k].1).collect();
            let mobile: Vec<f64> = order.iter().map(|&k| bodies[k].2).collect();
            contact(model, |_, _| model.contact_grip, &mut pos, &mut vel, &mobile);
            let mut out = vec![(Vec2::ZERO, Vec2::ZERO); 10];
            for (place, &k) in order.iter().enumerate() {
                out[k] = (pos[place], vel[place]);
            }
            out
        };
        let [plain, mixed] = orders(turn, swap);
        let after = run(&plain);
        prop_assert_eq!(&after, &run(&mixed));
        for (body, (pos, vel)) in bodies.iter().zip(after) {
            prop_assert!((pos - body.0).length() <= model.contact_push + 1e-9);
            prop_assert!((vel - body.1).length() <= model.contact_change + 1e-9);
        }
    }

    #[test]
    fn a_pair_in_contact_shares_momentum_and_never_bounces(
        off in vec2(0.5), a in vec2(5.0), b in vec2(5.0), mobile in (0.1..1.0f64, 0.1..1.0f64),
    ) {
        prop_assume!(off.length() > 1e-3);
        let model = &Model::shipped().movement;
        let (mut pos, mut vel) = ([Vec2::ZERO, off], [a, b]);
        contact(model, |_, _| model.contact_grip, &mut pos, &mut vel, &[mobile.0, mobile.1]);
        let (lost, won) = (vel[0] - a, vel[1] - b);
        // In the ratio in which they give way, unless one has reached the most that a tick allows.
        if lost.length().max(won.length()) < model.contact_change - 1e-9 {
            prop_assert!((lost / mobile.0 + won / mobile.1).length() < 1e-6);
        }
        let apart = off / off.length();
        let (before, after) = ((a - b).dot(apart), (vel[0] - vel[1]).dot(apart));
        prop_assert!(after <= before + 1e-9 && (before < 0.0 || after > -1e-9));
    }

    #[test]
    fn a_pair_is_apart_afterwards_and_a_set_screen_stands(
        other in vec2(0.4), vel in vec2(6.0), screen in vec2(5.0),
    ) {
        prop_assume!(other.length() > 1e-3);
        let mut pos = [screen, screen + other];
        let mut speed = [Vec2::ZERO, vel];
        separate(&mut pos, &mut speed, &[0.3, 0.3], &[0.0, 1.0]);
        prop_assert_eq!(pos[0], screen);
        prop_assert_eq!(speed[0], Vec2::ZERO);
        prop_assert!((pos[1] - pos[0]).length() >= 0.6 - 1e-6);
        prop_assert!(speed[1].dot(pos[1] - pos[0]) >= -1e-6);
        prop_assert!(speed[1].length() <= vel.length() + 1e-6);
    }

    #[test]
    fn reach_bound_is_below_and_reaction_costs_no_more_than_itself_at_rest(
        pos in vec2(7.0), vel in vec2(4.9), target in vec2(7.0), reaction in 0.0..0.5f64,
    ) {
        let lim = adult();
        let t = time_to_reach(pos, vel, &lim, target, 0.9, reaction);
        prop_assert!(t.is_finite());
        prop_assert!(t >= time_to_reach_at_least(pos, &lim, target, 0.9) - 1e-6);
        // Sure of being later than a time only where he is.
        for share in [0.5, 0.9, 0.99, 1.0, 1.01] {
            let sure = surely_later(pos, vel, &lim, target, 0.9, reaction, share * t);
            prop_assert!(!sure || t >= share * t, "{} of {}", share, t);
        }
        let still = Vec2::ZERO;
        let ready = time_to_reach(pos, still, &lim, target, 0.9, 0.0);
        let late = time_to_reach(pos, still, &lim, target, 0.9, reaction);
        prop_assert!(late == 0.0 || (late - ready - reaction).abs() < 1e-12);
    }
}

#[test]
fn a_coasting_body_meets_what_lies_on_its_way_during_the_reaction() {
    let lim = adult();
    let t = time_to_reach(
        Vec2::ZERO,
        Vec2::new(5.0, 0.0),
        &lim,
        Vec2::new(1.9, 0.0),
        0.9,
        0.3,
    );
    assert!((t - 0.2).abs() < 1e-12, "{t}");
    assert_eq!(
        time_to_reach(Vec2::ZERO, Vec2::ZERO, &lim, Vec2::new(0.5, 0.0), 0.9, 0.3),
        0.0
    );
}

#[test]
fn two_who_run_into_each_other_stop_before_their_middles_meet() {
    let model = &Model::shipped().movement;
    let mut pos = [Vec2::ZERO, Vec2::new(1.6, 0.0)];
    let mut vel = [Vec2::new(4.0, 0.0), Vec2::new(-4.0, 0.0)];
    let mut nearest = f64::INFINITY;
    let mut met = None;
    for tick in 0..50 {
        contact(
            model,
            |_, _| model.contact_grip,
            &mut pos,
            &mut vel,
            &[1.0, 1.0],
        );
        for k in 0..2 {
            pos[k] += vel[k] * DT;
        }
        let apart = (pos[1] - pos[0]).length();
        nearest = nearest.min(apart);
        if met.is_none() && apart < model.contact_distance {
            met = Some(tick);
        }
        if met.is_some_and(|m| tick > m + 9) {
            assert!(vel[0].x < 1.0, "tick {tick}: {}", vel[0].x);
        }
    }
    println!("nearest {nearest:.2} m");
    assert!(nearest > 0.9 * model.contact_core && met.is_some());
}

#[test]
fn a_pile_of_four_comes_apart() {
    let mut pos =
        [(0.0, 0.0), (0.3, 0.05), (-0.1, 0.3), (0.25, 0.35)].map(|(x, y)| Vec2::new(x, y));
    let mut vel = [Vec2::ZERO; 4];
    for _ in 0..5 {
        separate(&mut pos, &mut vel, &[0.3; 4], &[1.0; 4]);
    }
    for i in 0..4 {
        for j in i + 1..4 {
            assert!(
                (pos[i] - pos[j]).length() > 0.6 - 1e-3,
                "{i} {j}: {}",
                (pos[i] - pos[j]).length()
            );
        }
    }
}

#[test]
fn travel_takes_longer_at_less_pace() {
    let (lim, there) = (adult(), Vec2::new(6.0, 2.0));
    let times = [1.0, 0.7, 0.4].map(|pace| travel_time(Vec2::ZERO, Vec2::ZERO, &lim, there, pace));
    assert!(times[0] < times[1] && times[1] < times[2], "{times:?}");
    assert_eq!(
        travel_time(Vec2::ZERO, Vec2::ZERO, &lim, there, 0.0),
        f64::INFINITY
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_time_asked_for_only_up_to_a_bound_is_the_time_or_not_below_the_bound(
        target in vec2(8.0),
        vel in vec2(5.0),
        reach in 0.1f64..1.2,
        reaction in 0.0f64..0.5,
        share in 0.2f64..1.8,
    ) {
        let pos = Vec2::ZERO;
        let time = time_to_reach(pos, vel, &adult(), target, reach, reaction);
        let most = share * time;
        let within = time_to_reach_within(pos, vel, &adult(), target, reach, reaction, most);
        if time < most {
            prop_assert_eq!(time.to_bits(), within.to_bits());
        } else {
            prop_assert!(within >= most, "{} of {} is below {}", within, time, most);
        }
    }
}
