//! What the entity-component system costs: one representative tick of the floor in three forms.
//!
//! * `plain`: a loop over arrays.
//! * `own_world`: one ECS world and one schedule for each possession, as the floor does it.
//! * `shared_world`: [`SHARED`] possessions in one world, told apart by a component. They all last
//!   equally long here; real ones do not, and would have to be taken out and put in.
//!
//! The maths are the library's own and the same in each: everybody's old place is taken down,
//! attackers run from spot to spot, defenders go to their stations, ten bodies step and give way,
//! and at every fifth tick the holder's looks are measured. That the three agree to the last bit
//! is checked before anything is timed.
//!
//! `cargo bench --bench worlds` gives times. `… worlds -- count FORM N` plays N times [`SHARED`]
//! possessions and prints their sum, for counting instructions (FORM: a name above, `set_up_plain`,
//! `set_up_world`, `no_looks_plain` or `no_looks_own_world`).
#![forbid(unsafe_code)]

use std::sync::Arc;

use bevy_ecs::prelude::*;
use bevy_ecs::schedule::SingleThreadedExecutor;
use lanelight::ball::PassKind;
use lanelight::body::{Body, Intent, separate, step};
use lanelight::court::Vec2;
use lanelight::defence::{Defence, Relation};
use lanelight::floor::cast_of;
use lanelight::floor::defenders::station;
use lanelight::looks::passing::{Going, best_pass};
use lanelight::looks::{BODIES, Cast, Scene, backdoor, driving, spacing};
use lanelight::possession::{DECISION_EVERY, TICK};
use lanelight::scenario::Scenario;

/// Ticks of a possession: ten seconds.
const TICKS: u32 = 250;
/// Possessions in the shared world.
const SHARED: usize = 64;
const HOLDER: usize = 0;

/// What does not change during a possession.
#[derive(Resource, Clone)]
struct Given {
    cast: Arc<Cast>,
    defence: Arc<Defence>,
}

impl Given {
    fn demo() -> Self {
        let scenario = Scenario::demo();
        Given {
            cast: cast_of(&scenario),
            defence: Arc::new(scenario.defence),
        }
    }
}

// ---- The maths, shared by all forms. ----

/// Where attacker `who` of possession `id` runs to at `tick`.
fn goal(id: usize, who: usize, tick: u32) -> Vec2 {
    const PLACES: [(f64, f64); 7] = [
        (2.5, 7.5),
        (-2.5, 7.5),
        (6.0, 5.0),
        (-6.0, 5.0),
        (1.5, 1.0),
        (0.0, 1.5),
        (-1.5, 1.0),
    ];
    let (x, y) = PLACES[(who + id + tick as usize / 60 * (1 + who % 2)) % PLACES.len()];
    Vec2::new(x + 0.1 * who as f64, y)
}

fn start(id: usize, i: usize) -> Body {
    let at = goal(id, i % 5, 0);
    Body {
        pos: if i < 5 { at } else { at * 0.8 },
        vel: Vec2::zeros(),
        facing: Vec2::new(0.0, -1.0),
    }
}

fn scene_at_start() -> Scene {
    let zero = Vec2::zeros();
    Scene {
        pos: [zero; BODIES],
        vel: [zero; BODIES],
        facing: [zero; BODIES],
        alert: [0.3; 5],
        aware: [0.1; 5],
        guards: [0, 1, 2, 3, 4],
    }
}

fn see(scene: &mut Scene, i: usize, body: &Body) {
    scene.pos[i] = body.pos;
    scene.vel[i] = body.vel;
    scene.facing[i] = body.facing;
}

fn run(id: usize, who: usize, tick: u32) -> Intent {
    Intent {
        target: goal(id, who, tick),
        arrive: false,
        pace: 0.9,
        face: None,
    }
}

fn guard(given: &Given, scene: &Scene, d: usize) -> Intent {
    let relation = match d {
        HOLDER => Relation::OnBall,
        1 | 2 => Relation::OnePass,
        _ => Relation::TwoPasses,
    };
    let (man, ball) = (scene.pos[d], scene.pos[HOLDER]);
    Intent {
        target: station(given.defence.stances.of(relation), man, ball),
        arrive: true,
        pace: 1.0,
        face: Some(ball - scene.pos[5 + d]),
    }
}

fn give_way(cast: &Cast, bodies: &mut [Body; BODIES]) {
    let mut pos = bodies.map(|b| b.pos);
    let mut vel = bodies.map(|b| b.vel);
    let radii: [f64; BODIES] = std::array::from_fn(|i| cast.players[i].limits.radius);
    separate(&mut pos, &mut vel, &radii, &[1.0; BODIES]);
    for (i, body) in bodies.iter_mut().enumerate() {
        body.pos = cast.court.clamp_inside(pos[i], 0.1);
        body.vel = vel[i];
    }
}

/// All looks of the holder, added up.
fn looks(cast: &Cast, scene: &Scene) -> f64 {
    let drive = driving::driving(cast, scene, HOLDER);
    let mut sum = drive.openness.value;
    for to in 1..5 {
        let going = Going {
            goal: None,
            via: None,
            stops: None,
        };
        if let Some(pass) = best_pass(cast, scene, HOLDER, to, going, &PassKind::ALL[..3]) {
            sum += pass.openness.value;
        }
    }
    for cutter in 1..3 {
        sum += backdoor::backdoor(cast, scene, HOLDER, cutter).value;
    }
    sum + spacing::spacing(cast, scene, HOLDER).hull * 1e-3
}

fn looks_now(tick: u32, with_looks: bool) -> bool {
    with_looks && tick.is_multiple_of(DECISION_EVERY)
}

// ---- A plain loop over arrays. ----

struct Plain {
    id: usize,
    bodies: [Body; BODIES],
    wills: [Intent; BODIES],
    scene: Scene,
    sum: f64,
}

fn plain_set_up(id: usize) -> Plain {
    Plain {
        id,
        bodies: std::array::from_fn(|i| start(id, i)),
        wills: std::array::from_fn(|i| run(id, i % 5, 0)),
        scene: scene_at_start(),
        sum: 0.0,
    }
}

fn plain(given: &Given, id: usize, with_looks: bool) -> f64 {
    let cast = &*given.cast;
    let mut p = plain_set_up(id);
    for tick in 0..TICKS {
        for (i, body) in p.bodies.iter().enumerate() {
            see(&mut p.scene, i, body);
        }
        if looks_now(tick, with_looks) {
            p.sum += looks(cast, &p.scene);
        }
        for who in 0..5 {
            p.wills[who] = run(p.id, who, tick);
        }
        for d in 0..5 {
            p.wills[5 + d] = guard(given, &p.scene, d);
        }
        for (i, body) in p.bodies.iter_mut().enumerate() {
            *body = step(body, &cast.players[i].limits, &p.wills[i], TICK);
        }
        give_way(cast, &mut p.bodies);
    }
    p.sum + p.bodies.iter().map(|b| b.pos.x).sum::<f64>()
}

// ---- One world and one schedule for each possession. ----

#[derive(Component, Clone, Copy)]
struct Who(usize);
#[derive(Component, Clone, Copy)]
struct Form(Body);
#[derive(Component, Clone, Copy)]
struct Will(Intent);
#[derive(Component)]
struct Attacker;
#[derive(Component)]
struct Defender;
#[derive(Resource)]
struct Clock(u32);
#[derive(Resource)]
struct WithLooks(bool);
#[derive(Resource)]
struct Roster([Entity; BODIES]);
#[derive(Resource)]
struct Old {
    id: usize,
    scene: Scene,
    sum: f64,
}

fn everybody_sees(mut old: ResMut<Old>, bodies: Query<(&Who, &Form)>) {
    for (&Who(i), form) in &bodies {
        see(&mut old.scene, i, &form.0);
    }
}

fn holder_looks(given: Res<Given>, clock: Res<Clock>, with: Res<WithLooks>, mut old: ResMut<Old>) {
    if looks_now(clock.0, with.0) {
        old.sum += looks(&given.cast, &old.scene);
    }
}

fn attackers_run(
    clock: Res<Clock>,
    old: Res<Old>,
    mut five: Query<(&Who, &mut Will), With<Attacker>>,
) {
    for (&Who(i), mut will) in &mut five {
        will.0 = run(old.id, i, clock.0);
    }
}

fn defenders_guard(
    given: Res<Given>,
    old: Res<Old>,
    mut five: Query<(&Who, &mut Will), With<Defender>>,
) {
    for (&Who(i), mut will) in &mut five {
        will.0 = guard(&given, &old.scene, i - 5);
    }
}

fn bodies_move(given: Res<Given>, roster: Res<Roster>, mut ten: Query<(&mut Form, &Will)>) {
    let Ok(mut ten) = ten.get_many_mut(roster.0) else {
        return;
    };
    let mut bodies = [start(0, 0); BODIES];
    for (i, (form, will)) in ten.iter().enumerate() {
        bodies[i] = step(&form.0, &given.cast.players[i].limits, &will.0, TICK);
    }
    give_way(&given.cast, &mut bodies);
    for (i, (form, _)) in ten.iter_mut().enumerate() {
        form.0 = bodies[i];
    }
}

fn time_passes(mut clock: ResMut<Clock>) {
    clock.0 += 1;
}

fn spawn(world: &mut World, id: usize, i: usize) -> Entity {
    let mut one = world.spawn((Who(i), Form(start(id, i)), Will(run(id, i % 5, 0))));
    if i < 5 {
        one.insert(Attacker);
    } else {
        one.insert(Defender);
    }
    one.id()
}

fn own_world_set_up(given: &Given, id: usize, with_looks: bool) -> (World, Schedule) {
    let mut world = World::new();
    let roster = std::array::from_fn(|i| spawn(&mut world, id, i));
    world.insert_resource(Roster(roster));
    world.insert_resource(given.clone());
    world.insert_resource(Clock(0));
    world.insert_resource(WithLooks(with_looks));
    world.insert_resource(Old {
        id,
        scene: scene_at_start(),
        sum: 0.0,
    });
    let mut schedule = Schedule::default();
    schedule.set_executor(SingleThreadedExecutor::new());
    schedule.add_systems(
        (
            everybody_sees,
            holder_looks,
            attackers_run,
            defenders_guard,
            bodies_move,
            time_passes,
        )
            .chain(),
    );
    (world, schedule)
}

fn own_world(given: &Given, id: usize, with_looks: bool) -> f64 {
    let (mut world, mut schedule) = own_world_set_up(given, id, with_looks);
    while world.resource::<Clock>().0 < TICKS {
        schedule.run(&mut world);
    }
    let roster = world.resource::<Roster>().0;
    let x = |e: Entity| world.get::<Form>(e).map_or(f64::NAN, |f| f.0.pos.x);
    world.resource::<Old>().sum + roster.into_iter().map(x).sum::<f64>()
}

/// World, schedule and what the schedule prepares before its first run.
fn set_up_world(given: &Given, id: usize) -> u32 {
    let (mut world, mut schedule) = own_world_set_up(given, id, false);
    let made = schedule.initialize(&mut world).is_ok();
    world.resource::<Clock>().0 + u32::from(made)
}

// ---- Many possessions in one world. ----

#[derive(Component, Clone, Copy)]
struct Of(usize);
#[derive(Resource)]
struct Olds(Vec<Old>);
#[derive(Resource)]
struct Moving(Vec<[Body; BODIES]>);

fn shared_world(given: &Given, with_looks: bool) -> f64 {
    let mut world = World::new();
    for id in 0..SHARED {
        for i in 0..BODIES {
            let one = spawn(&mut world, id, i);
            world.entity_mut(one).insert(Of(id));
        }
    }
    world.insert_resource(given.clone());
    world.insert_resource(Clock(0));
    world.insert_resource(WithLooks(with_looks));
    let old = |id| Old {
        id,
        scene: scene_at_start(),
        sum: 0.0,
    };
    world.insert_resource(Olds((0..SHARED).map(old).collect()));
    world.insert_resource(Moving(vec![[start(0, 0); BODIES]; SHARED]));
    let mut schedule = Schedule::default();
    schedule.set_executor(SingleThreadedExecutor::new());
    schedule.add_systems(
        (
            |mut olds: ResMut<Olds>, bodies: Query<(&Of, &Who, &Form)>| {
                for (&Of(id), &Who(i), form) in &bodies {
                    see(&mut olds.0[id].scene, i, &form.0);
                }
            },
            |given: Res<Given>, clock: Res<Clock>, with: Res<WithLooks>, mut olds: ResMut<Olds>| {
                if looks_now(clock.0, with.0) {
                    for old in &mut olds.0 {
                        old.sum += looks(&given.cast, &old.scene);
                    }
                }
            },
            |clock: Res<Clock>, mut all: Query<(&Of, &Who, &mut Will), With<Attacker>>| {
                for (&Of(id), &Who(i), mut will) in &mut all {
                    will.0 = run(id, i, clock.0);
                }
            },
            |given: Res<Given>,
             olds: Res<Olds>,
             mut all: Query<(&Of, &Who, &mut Will), With<Defender>>| {
                for (&Of(id), &Who(i), mut will) in &mut all {
                    will.0 = guard(&given, &olds.0[id].scene, i - 5);
                }
            },
            |given: Res<Given>,
             mut moving: ResMut<Moving>,
             mut all: Query<(&Of, &Who, &mut Form, &Will)>| {
                for (&Of(id), &Who(i), form, will) in &all {
                    moving.0[id][i] = step(&form.0, &given.cast.players[i].limits, &will.0, TICK);
                }
                for bodies in &mut moving.0 {
                    give_way(&given.cast, bodies);
                }
                for (&Of(id), &Who(i), mut form, _) in &mut all {
                    form.0 = moving.0[id][i];
                }
            },
            time_passes,
        )
            .chain(),
    );
    while world.resource::<Clock>().0 < TICKS {
        schedule.run(&mut world);
    }
    let mut x = vec![[0.0; BODIES]; SHARED];
    let mut bodies = world.query::<(&Of, &Who, &Form)>();
    for (&Of(id), &Who(i), form) in bodies.iter(&world) {
        x[id][i] = form.0.pos.x;
    }
    let olds = &world.resource::<Olds>().0;
    let each = olds.iter().zip(&x);
    each.map(|(old, x)| old.sum + x.iter().sum::<f64>()).sum()
}

// ---- Timing and counting. ----

/// Each form plays the same [`SHARED`] possessions.
fn play(given: &Given, form: &str) -> Option<f64> {
    let ids = 0..SHARED;
    Some(match form {
        "plain" => ids.map(|id| plain(given, id, true)).sum(),
        "own_world" => ids.map(|id| own_world(given, id, true)).sum(),
        "shared_world" => shared_world(given, true),
        "no_looks_plain" => ids.map(|id| plain(given, id, false)).sum(),
        "no_looks_own_world" => ids.map(|id| own_world(given, id, false)).sum(),
        "no_looks_shared_world" => shared_world(given, false),
        "set_up_plain" => ids.map(|id| plain_set_up(id).bodies[3].pos.x).sum(),
        "set_up_world" => ids.map(|id| f64::from(set_up_world(given, id))).sum(),
        _ => return None,
    })
}

#[divan::bench(args = [
    "plain", "own_world", "shared_world",
    "no_looks_plain", "no_looks_own_world", "no_looks_shared_world",
    "set_up_plain", "set_up_world",
])]
fn form(bencher: divan::Bencher, form: &str) {
    let given = Given::demo();
    bencher
        .counter(divan::counter::ItemsCount::new(SHARED))
        .bench_local(|| play(&given, form));
}

fn main() {
    let given = Given::demo();
    let args: Vec<String> = std::env::args().skip(1).collect();
    if let [word, form, times, ..] = args.as_slice()
        && word == "count"
    {
        for _ in 0..times.parse().unwrap_or(1) {
            match play(&given, form) {
                Some(sum) => println!("{form} {sum}"),
                None => eprintln!("there is no form {form}"),
            }
        }
        return;
    }
    for forms in [
        ["plain", "own_world", "shared_world"],
        [
            "no_looks_plain",
            "no_looks_own_world",
            "no_looks_shared_world",
        ],
    ] {
        let sums = forms.map(|f| play(&given, f).map(f64::to_bits));
        assert!(
            sums.iter().all(|s| *s == sums[0]),
            "the three forms reckon alike"
        );
    }
    divan::main();
}
