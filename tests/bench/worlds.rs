//! What the entity-component system costs: one representative tick of the floor in three forms.
//!
//! * `plain`: a loop over arrays.
//! * `own_world`: one ECS world and one schedule, made anew for each possession.
//! * `kept_world`: one world and one schedule for all, everything in it replaced for each possession,
//!   as the floor does it.
//!
//! The maths are the library's own and the same in each: everybody's old place is taken down,
//! attackers run from spot to spot, defenders go to their stations, ten bodies step and give way,
//! and at every fifth tick the holder's looks are measured. The floor's other systems are there as
//! well, with what they fetch and nothing of what they do: in the plain loop they are nothing, so the
//! comparison rather overstates the cost. That the three agree to the last bit is checked before
//! anything is timed.
//!
//! `cargo bench --bench worlds` gives times. `… worlds -- count FORM N` plays N times [`SHARED`]
//! possessions and prints their sum, for counting instructions (FORM: a name above, `set_up_plain`,
//! `set_up_world`, `no_looks_plain`, `no_looks_own_world` or `no_looks_kept_world`).
#![forbid(unsafe_code)]

use std::sync::Arc;

use bevy_ecs::prelude::*;
use bevy_ecs::schedule::SingleThreadedExecutor;
use lanelight::ball::PassKind;
use lanelight::body::{Body, Intent, separate, step};
use lanelight::court::Vec2;
use lanelight::defence::{Defence, Relation};
use lanelight::looks::passing::{Going, best_pass};
use lanelight::looks::{BODIES, Cast, Scene, backdoor, driving, spacing};
use lanelight::possession::{DECISION_EVERY, TICK};
use lanelight::scenario::Scenario;
use lanelight::sim::cast_of;
use lanelight::sim::stance::station;

/// Ticks of a possession: ten seconds.
const TICKS: u32 = 250;
/// Possessions of a round.
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
        vel: Vec2::ZERO,
        facing: Vec2::new(0.0, -1.0),
    }
}

fn scene_at_start() -> Scene {
    let zero = Vec2::ZERO;
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
            *body = step(
                &cast.model,
                body,
                &cast.players[i].limits,
                &p.wills[i],
                TICK,
            );
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
        bodies[i] = step(
            &given.cast.model,
            &form.0,
            &given.cast.players[i].limits,
            &will.0,
            TICK,
        );
    }
    give_way(&given.cast, &mut bodies);
    for (i, (form, _)) in ten.iter_mut().enumerate() {
        form.0 = bodies[i];
    }
}

fn time_passes(mut clock: ResMut<Clock>) {
    clock.0 += 1;
}

// The other systems of the floor: what they fetch, with next to nothing done with it, so that their
// whole cost is that of the fetching.

#[derive(Resource)]
struct Ball(u32);
#[derive(Resource)]
struct Trail(u32);
#[derive(Resource)]
struct Signals(u32);
#[derive(Resource)]
struct Book(u32);

fn rules_answer(
    (_given, clock, ball, _old): (Res<Given>, Res<Clock>, Res<Ball>, Res<Old>),
    roster: Res<Roster>,
    mut signals: ResMut<Signals>,
    _book: ResMut<Book>,
    mut jobs: Query<&mut Will, With<Attacker>>,
) {
    let [a, b, c, d, e, ..] = roster.0;
    if jobs.get_many_mut([a, b, c, d, e]).is_ok() {
        signals.0 = clock.0 + ball.0;
    }
}

fn tasks_begin(
    (_given, clock, _ball, _old): (Res<Given>, Res<Clock>, Res<Ball>, Res<Old>),
    roster: Res<Roster>,
    signals: Res<Signals>,
    mut book: ResMut<Book>,
    mut jobs: Query<&mut Will, With<Attacker>>,
) {
    let [a, b, c, d, e, ..] = roster.0;
    if jobs.get_many_mut([a, b, c, d, e]).is_ok() {
        book.0 = clock.0 + signals.0;
    }
}

fn defenders_look(
    (_given, clock, trail, ball): (Res<Given>, Res<Clock>, Res<Trail>, Res<Ball>),
    mut five: Query<(&Who, &Form, &mut Will), With<Defender>>,
) {
    for (who, _, will) in &mut five {
        std::hint::black_box((who.0, will.0.pace, clock.0 + trail.0 + ball.0));
    }
}

fn ball_goes_on(
    (_given, clock, _old, roster): (Res<Given>, Res<Clock>, Res<Old>, Res<Roster>),
    mut ball: ResMut<Ball>,
    _signals: ResMut<Signals>,
    _book: ResMut<Book>,
    mut attackers: Query<(&Form, &mut Will), With<Attacker>>,
    defenders: Query<&Form, With<Defender>>,
) {
    let [a, b, c, d, e, f, g, h, i, j] = roster.0;
    let mates = attackers.get_many_mut([a, b, c, d, e]);
    if mates.is_ok() && defenders.get_many([f, g, h, i, j]).is_ok() {
        ball.0 = clock.0;
    }
}

fn referee_watches(
    (_given, clock): (Res<Given>, Res<Clock>),
    (ball, mut book): (ResMut<Ball>, ResMut<Book>),
    five: Query<(&Who, &Form, &Will), With<Attacker>>,
) {
    book.0 = clock.0 + ball.0 + five.iter().filter(|(who, ..)| who.0 > 9).count() as u32;
}

fn written_down(
    (clock, ball): (Res<Clock>, Res<Ball>),
    mut book: ResMut<Book>,
    _attackers: Query<(&Who, &Form), With<Attacker>>,
    _defenders: Query<(&Who, &Form), With<Defender>>,
) {
    book.0 = clock.0 + ball.0;
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

fn put_in(world: &mut World, given: &Given, id: usize, with_looks: bool) {
    let roster = std::array::from_fn(|i| spawn(world, id, i));
    world.insert_resource(Ball(0));
    world.insert_resource(Trail(0));
    world.insert_resource(Signals(0));
    world.insert_resource(Book(0));
    world.insert_resource(Roster(roster));
    world.insert_resource(given.clone());
    world.insert_resource(Clock(0));
    world.insert_resource(WithLooks(with_looks));
    world.insert_resource(Old {
        id,
        scene: scene_at_start(),
        sum: 0.0,
    });
}

fn own_world_set_up(given: &Given, id: usize, with_looks: bool) -> (World, Schedule) {
    let mut world = World::new();
    put_in(&mut world, given, id, with_looks);
    let mut schedule = Schedule::default();
    schedule.set_executor(SingleThreadedExecutor::new());
    schedule.add_systems(
        (
            everybody_sees,
            rules_answer,
            tasks_begin,
            holder_looks,
            attackers_run,
            defenders_look,
            defenders_guard,
            bodies_move,
            ball_goes_on,
            referee_watches,
            written_down,
            time_passes,
        )
            .chain(),
    );
    (world, schedule)
}

fn own_world(given: &Given, id: usize, with_looks: bool) -> f64 {
    let (mut world, mut schedule) = own_world_set_up(given, id, with_looks);
    played(&mut world, &mut schedule)
}

fn played(world: &mut World, schedule: &mut Schedule) -> f64 {
    while world.resource::<Clock>().0 < TICKS {
        schedule.run(world);
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

/// As the floor does it: the world of the last possession, with everything in it replaced.
fn kept_world(kept: &mut Option<(World, Schedule)>, given: &Given, id: usize, looks: bool) -> f64 {
    let (world, schedule) = kept.get_or_insert_with(|| own_world_set_up(given, id, looks));
    for player in world.resource::<Roster>().0 {
        world.despawn(player);
    }
    world.clear_trackers();
    put_in(world, given, id, looks);
    played(world, schedule)
}

// ---- Timing and counting. ----

/// Each form plays the same [`SHARED`] possessions.
fn play(given: &Given, form: &str) -> Option<f64> {
    let ids = 0..SHARED;
    Some(match form {
        "plain" => ids.map(|id| plain(given, id, true)).sum(),
        "own_world" => ids.map(|id| own_world(given, id, true)).sum(),
        "kept_world" => {
            let mut kept = None;
            ids.map(|id| kept_world(&mut kept, given, id, true)).sum()
        }
        "no_looks_plain" => ids.map(|id| plain(given, id, false)).sum(),
        "no_looks_own_world" => ids.map(|id| own_world(given, id, false)).sum(),
        "no_looks_kept_world" => {
            let mut kept = None;
            ids.map(|id| kept_world(&mut kept, given, id, false)).sum()
        }
        "set_up_plain" => ids.map(|id| plain_set_up(id).bodies[3].pos.x).sum(),
        "set_up_world" => ids.map(|id| f64::from(set_up_world(given, id))).sum(),
        _ => return None,
    })
}

#[divan::bench(args = [
    "plain", "own_world", "kept_world",
    "no_looks_plain", "no_looks_own_world", "no_looks_kept_world",
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
        ["plain", "own_world", "kept_world"],
        [
            "no_looks_plain",
            "no_looks_own_world",
            "no_looks_kept_world",
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
