//! Motion and the ball against values from outside: computed vectors, equipment rules, numerical
//! integration and numerical optimal control.

use lanelight::ball::{BallSize, Flight, PassKind, rebound_height};
use lanelight::body::{Body, Intent, Limits, step, time_to_reach, time_to_reach_at_least};
use lanelight::court::Vec2;
use lanelight::model::Model;

/// A small portable generator (xorshift64), so that the states are the same everywhere.
struct Dice(u64);

impl Dice {
    fn unit(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }
}

fn limits(accel: f64, top_speed: f64) -> Limits {
    Limits {
        top_speed,
        accel,
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

/// [computed here] From rest, limited by acceleration and speed: distance m, acceleration m/s², top speed
/// m/s, time s.
const FROM_REST: [(f64, f64, f64, f64); 4] = [
    (2.0, 3.0, 6.0, 1.1547),
    (4.0, 3.0, 6.0, 1.6330),
    (8.0, 3.0, 6.0, 2.3333),
    (10.0, 4.0, 7.0, 2.3036),
];

#[test]
fn time_to_reach_from_rest_is_the_computed_vector() {
    for (distance, accel, top, seconds) in FROM_REST {
        let t = time_to_reach(
            Vec2::ZERO,
            Vec2::ZERO,
            &limits(accel, top),
            Vec2::new(0.0, distance),
            0.0,
            0.0,
        );
        assert!(
            (t - seconds).abs() < 1e-4,
            "{distance} m: {t} s, expected {seconds}"
        );
    }
}

#[test]
fn a_stepped_sprint_from_rest_takes_as_long_as_the_computed_vector() {
    for (distance, accel, top, seconds) in FROM_REST {
        let goal = Intent {
            target: Vec2::new(0.0, distance + 50.0),
            arrive: false,
            pace: 1.0,
            face: None,
        };
        let mut body = Body {
            pos: Vec2::ZERO,
            vel: Vec2::ZERO,
            facing: Vec2::new(0.0, 1.0),
        };
        let (dt, mut t) = (0.04, 0.0);
        while body.pos.y < distance {
            let next = step(&Model::shipped(), &body, &limits(accel, top), &goal, dt);
            let rest = distance - body.pos.y;
            let made = next.pos.y - body.pos.y;
            t += if made > rest { dt * rest / made } else { dt };
            body = next;
        }
        assert!(
            (t - seconds).abs() < 0.006,
            "{distance} m: {t} s, expected {seconds}"
        );
    }
}

#[test]
fn the_stepped_body_is_never_sooner_than_time_to_reach_nor_much_later_in_a_straight_run() {
    let mut dice = Dice(7);
    for _ in 0..200 {
        let lim = limits(dice.between(3.0, 5.0), dice.between(5.0, 8.0));
        let distance = dice.between(1.0, 12.0);
        let vel = Vec2::new(0.0, dice.between(-0.8, 1.0) * lim.top_speed);
        let mut body = Body {
            pos: Vec2::ZERO,
            vel,
            facing: Vec2::new(0.0, 1.0),
        };
        let goal = Intent {
            target: Vec2::new(0.0, 99.0),
            arrive: false,
            pace: 1.0,
            face: None,
        };
        // The same bound for braking as for acceleration: what the closed form assumes.
        let lim = Limits {
            brake: lim.accel,
            ..lim
        };
        let closed = time_to_reach(body.pos, vel, &lim, Vec2::new(0.0, distance), 0.0, 0.0);
        let dt = 0.005;
        let mut t = 0.0;
        while body.pos.y < distance {
            body = step(&Model::shipped(), &body, &lim, &goal, dt);
            t += dt;
        }
        assert!(
            t > closed - 1e-4 && t < closed + 0.011,
            "stepped {t}, closed {closed}"
        );
    }
}

/// Farthest way along +x after `time` from the velocity (`forward`, `lateral` ≥ 0), |a| ≤ `accel`,
/// |v| ≤ `top`, found by searching the extremals of Pontryagin's principle: inside the speed circle
/// the acceleration points along (q − t, −r), on the circle it is tangential toward +x.
fn farthest(forward: f64, lateral: f64, accel: f64, top: f64, time: f64, dice: &mut Dice) -> f64 {
    let dt = time / 200.0;
    let run = |q: f64, r: f64| -> f64 {
        let (mut x, mut vx, mut vy, mut t) = (0.0, forward, lateral, 0.0);
        while vx * vx + vy * vy < top * top * (1.0 - 1e-9) {
            if t >= time - 1e-12 {
                return x;
            }
            let (px, py) = (q - t - 0.5 * dt, -r);
            let scale = accel / (px * px + py * py).sqrt().max(1e-12);
            let (ax, ay) = (px * scale, py * scale);
            let b = vx * ax + vy * ay;
            let c = vx * vx + vy * vy - top * top;
            let to_circle = ((b * b - accel * accel * c).sqrt() - b) / (accel * accel);
            let h = dt.min(to_circle.max(1e-7)).min(time - t);
            x += h * (vx + 0.5 * ax * h);
            vx += ax * h;
            vy += ay * h;
            t += h;
        }
        let angle = libm::atan2(vy, vx);
        if angle < 0.0 {
            return f64::NEG_INFINITY;
        }
        let (rest, full, radius) = (time - t, angle * top / accel, top * top / accel);
        if rest < full {
            x + radius * (libm::sin(angle) - libm::sin(angle - rest * accel / top))
        } else {
            x + radius * libm::sin(angle) + (rest - full) * top
        }
    };
    let mut best = (2.0, 0.05);
    let mut far = run(best.0, best.1).max(run(1e3, 0.0));
    let mut q = 0.1;
    for _ in 0..8 {
        for j in 1..7 {
            let plan = (q, q * 0.25 * f64::from(j));
            let x = run(plan.0, plan.1);
            if x > far {
                (far, best) = (x, plan);
            }
        }
        q *= 1.6;
    }
    let mut spread = 0.5;
    for k in 0..60 {
        let plan = (
            best.0 * (1.0 + (dice.unit() - 0.5) * spread),
            (best.1 + (dice.unit() - 0.5) * spread * best.0).max(0.0),
        );
        let x = run(plan.0, plan.1);
        if x > far {
            (far, best) = (x, plan);
        }
        if k % 10 == 9 {
            spread *= 0.6;
        }
    }
    far
}

/// Can the target be reached at exactly `time`? The reachable set is convex: yes, if no direction
/// separates it from the target.
fn reachable(
    vel: Vec2,
    lim: &Limits,
    offset: Vec2,
    reach: f64,
    time: f64,
    dice: &mut Dice,
) -> bool {
    let guess = offset - vel * time;
    let guess = libm::atan2(guess.y, guess.x);
    let mut short = |angle: f64| {
        let n = Vec2::new(libm::cos(angle), libm::sin(angle));
        let lateral = (n.x * vel.y - n.y * vel.x).abs();
        offset.dot(n) - reach - farthest(vel.dot(n), lateral, lim.accel, lim.top_speed, time, dice)
    };
    let (mut low, mut high) = (guess - 1.2, guess + 1.2);
    for _ in 0..14 {
        let (a, b) = (low + 0.382 * (high - low), low + 0.618 * (high - low));
        let (short_a, short_b) = (short(a), short(b));
        if short_a > 0.0 || short_b > 0.0 {
            return false;
        }
        if short_a > short_b {
            high = b;
        } else {
            low = a;
        }
    }
    true
}

/// Time of a plan that anybody could run: one constant acceleration up to the top speed, then straight
/// on. Found by a scan; an upper bound for the least time.
fn plain_plan(vel: Vec2, lim: &Limits, offset: Vec2, reach: f64) -> (f64, bool) {
    let (accel, top) = (lim.accel, lim.top_speed);
    let mut t = 0.0;
    loop {
        let rest = offset - vel * t;
        let n = rest / rest.length();
        let closing = n.dot(vel);
        let cap = ((closing * closing + top * top - vel.length_squared())
            .max(0.0)
            .sqrt()
            - closing)
            / accel;
        let push = cap.min(t);
        if rest.length() - reach <= accel * push * (t - 0.5 * push) {
            return (t, cap < t);
        }
        t += 0.0005;
    }
}

#[test]
fn time_to_reach_agrees_with_optimal_control_on_random_states() {
    let mut dice = Dice(88_172_645_463_325_252);
    let (mut late, mut early, mut late_share, mut early_share) = (0.0f64, 0.0f64, 0.0f64, 0.0f64);
    let (mut sum, mut capped_states) = (0.0, 0);
    let states = states();
    for _ in 0..states {
        let lim = limits(dice.between(2.5, 5.5), dice.between(4.5, 8.5));
        let speed = lim.top_speed * dice.unit().sqrt();
        let heading = dice.between(0.0, std::f64::consts::TAU);
        let vel = Vec2::new(libm::cos(heading), libm::sin(heading)) * speed;
        let reach = [0.0, 0.5, 0.9][(dice.unit() * 3.0) as usize];
        let offset = Vec2::new(reach + dice.between(0.05, 12.0), 0.0);
        let found = time_to_reach(Vec2::ZERO, vel, &lim, offset, reach, 0.0);
        assert!(found > time_to_reach_at_least(Vec2::ZERO, &lim, offset, reach) - 1e-6);
        let (plain, capped) = plain_plan(vel, &lim, offset, reach);
        let best = if capped {
            capped_states += 1;
            let (mut low, mut high) = (0.75 * plain, plain);
            for _ in 0..10 {
                let mid = 0.5 * (low + high);
                if reachable(vel, &lim, offset, reach, mid, &mut dice) {
                    high = mid;
                } else {
                    low = mid;
                }
            }
            high
        } else {
            plain
        };
        let error = found - best;
        late = late.max(error);
        early = early.min(error);
        late_share = late_share.max(error / best);
        early_share = early_share.min(error / best);
        sum += error.abs() / best;
    }
    println!(
        "{states} states, {capped_states} at top speed: late by at most {late:.4} s ({:.2} %), early by at \
         most {:.4} s ({:.2} %), mean size {:.3} %",
        100.0 * late_share,
        -early,
        -100.0 * early_share,
        100.0 * sum / f64::from(states)
    );
    assert!(capped_states > states as usize / 3);
    assert!(late_share < 0.02 && early > -0.02);
}

/// Random states for the comparison with optimal control, times `LANELIGHT_LONG`. (Run once with 4000: late
/// by at most 0.0196 s, 1.08 %; early by at most 0.0168 s, 1.31 %; mean size 0.035 %.)
fn states() -> i32 {
    let factor = std::env::var("LANELIGHT_LONG").ok();
    200 * factor
        .and_then(|f| f.parse::<i32>().ok())
        .unwrap_or(1)
        .clamp(1, 1000)
}

#[test]
fn the_ball_slows_as_computed() {
    // [computed here] with ρ 1.2 kg/m³ and C_d 0.47 (read: inpredictable.com 2015-08 "Kind of a Drag"): a
    // pass at 10 m/s, size 7: 8.98 m/s after 5 m, 8.41 after 8 m; 5 m take 0.528 s; 2.2 m/s² at 10 m/s.
    let to = Vec2::new(8.0, 0.0);
    let flight = Flight::new(
        &Model::shipped(),
        PassKind::Chest,
        (Vec2::ZERO, to),
        10.0,
        (1.3, 1.3),
    );
    let five = flight.time_at(5.0);
    assert!((five - 0.528).abs() < 0.0005, "{five}");
    assert!((flight.ground_speed(five) - 8.98).abs() < 0.005);
    assert!((flight.ground_speed(flight.duration) - 8.41).abs() < 0.005);
    assert!((BallSize::Seven.drag(&Model::shipped().ball) * 100.0 - 2.2).abs() < 0.05);
}

#[test]
fn drag_constants_follow_from_size_and_mass() {
    for size in BallSize::ALL {
        let area = std::f64::consts::PI
            * size.radius(&Model::shipped().ball)
            * size.radius(&Model::shipped().ball);
        let drag = 1.2 * 0.47 * area / (2.0 * size.mass(&Model::shipped().ball));
        assert!(
            (drag / size.drag(&Model::shipped().ball) - 1.0).abs() < 0.01,
            "{size:?}: {drag}"
        );
    }
}

#[test]
fn the_flight_is_the_numerical_integral_of_drag_and_gravity() {
    for kind in PassKind::ALL {
        let to = Vec2::new(3.0, 3.2);
        let flight = Flight::new(
            &Model::shipped(),
            kind,
            (Vec2::new(-1.0, 0.5), to),
            9.0,
            (1.4, 1.2),
        );
        let h = 1e-6;
        let dt = 1e-4;
        let (mut x, mut v, mut z) = (0.0, flight.ground_speed(0.0), flight.height_at(0.0));
        let mut w = (flight.height_at(h) - z) / h;
        let mut t = 0.0;
        while t + dt < flight.duration {
            let mid = v - 0.5 * dt * BallSize::Seven.drag(&Model::shipped().ball) * v * v;
            x += dt * mid;
            v -= dt * BallSize::Seven.drag(&Model::shipped().ball) * mid * mid;
            z += dt * (w - 0.5 * dt * Model::shipped().ball.gravity);
            w -= dt * Model::shipped().ball.gravity;
            t += dt;
            if z < BallSize::Seven.radius(&Model::shipped().ball) && w < 0.0 {
                assert_eq!(kind, PassKind::Bounce, "{kind:?} touched the floor at {t}");
                assert!(
                    (x / flight.distance - 2.0 / 3.0).abs() < 0.002,
                    "bounced at {x}"
                );
                w *= -Model::shipped().ball.restitution;
                v = flight.ground_speed(t + 2.0 * dt);
            }
            let (place, height) = flight.at(t);
            let covered = (place - flight.from).length();
            assert!(
                (covered - x).abs() < 0.003,
                "{kind:?} at {t}: {covered} against {x}"
            );
            assert!(
                (height - z).abs() < 0.003,
                "{kind:?} at {t}: {height} against {z}"
            );
        }
        let (place, height) = flight.at(flight.duration);
        assert!((place - to).length() < 1e-9 && (height - flight.to_height).abs() < 1e-9);
    }
}

#[test]
fn gravity_takes_a_flat_pass_down_as_computed() {
    // [computed here] 1.226 m in 0.5 s, so a flat pass rises at about 2.4 m/s.
    assert!((0.5 * Model::shipped().ball.gravity * 0.25 - 1.226).abs() < 0.001);
    let way = Vec2::new(4.741, 0.0);
    let flight = Flight::new(
        &Model::shipped(),
        PassKind::Chest,
        (Vec2::ZERO, way),
        10.0,
        (1.3, 1.3),
    );
    assert!((flight.duration - 0.5).abs() < 0.001, "{}", flight.duration);
    assert!(((flight.height_at(1e-6) - 1.3) / 1e-6 - 2.4).abs() < 0.1);
}

#[test]
fn the_rebound_meets_the_drop_tests() {
    // FIBA equipment rules: 1.8 m → 1.035–1.085 m, bottom of the ball [from memory, high].
    let metric = rebound_height(&Model::shipped().ball, 1.8);
    assert!((1.035..=1.085).contains(&metric), "{metric}");
    // NFHS / NCAA men: 6 ft → 49–54 in to the top of the ball [read: sizes.com].
    let inches = rebound_height(&Model::shipped().ball, 72.0)
        + 2.0 * BallSize::Seven.radius(&Model::shipped().ball) / 0.0254;
    assert!((49.0..=54.0).contains(&inches), "{inches}");
    // Older FIBA: 1.8 m → 1.2–1.4 m to the TOP of the ball [read: stored 1990s rules page].
    let top = metric + 2.0 * BallSize::Seven.radius(&Model::shipped().ball);
    assert!((1.2..=1.4).contains(&top), "{top}");
}

#[test]
fn a_bounce_pass_is_eight_tenths_as_fast_as_a_chest_pass() {
    // Common practice: about 0.8; adult bounce pass 7–9 m/s on average including the bounce.
    for distance in [3.0, 4.5, 6.0] {
        let to = Vec2::new(0.0, distance);
        let chest = Flight::new(
            &Model::shipped(),
            PassKind::Chest,
            (Vec2::ZERO, to),
            10.0,
            (1.3, 1.3),
        );
        let bounce = Flight::new(
            &Model::shipped(),
            PassKind::Bounce,
            (Vec2::ZERO, to),
            10.0,
            (1.05, 0.8),
        );
        let share = chest.duration / bounce.duration;
        assert!((0.77..0.83).contains(&share), "{distance} m: {share}");
        let mean = distance / bounce.duration;
        assert!((7.0..9.0).contains(&mean), "{distance} m: {mean} m/s");
        assert!(
            (0.4..1.2).contains(&bounce.to_height),
            "{distance} m: {} m",
            bounce.to_height
        );
    }
}
