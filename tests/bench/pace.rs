//! How fast it plays: possessions and agent-ticks a second, the cost of each question about openness,
//! cost against the number of possessions and of threads.
//!
//! `cargo bench --bench pace` gives all of it; `… pace -- NAME` those whose name holds NAME.
//! `… pace -- count N` plays N possessions and nothing else, for counting instructions, and
//! `… pace -- hash` prints a hash of what 15 match-ups come to, 100 seeds each: a change that is only
//! to be faster must leave it as it is.
#![forbid(unsafe_code)]

use std::hint::black_box;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use divan::Bencher;
use divan::counter::ItemsCount;
use lanelight::ball::PassKind;
use lanelight::checksum::Checksum;
use lanelight::court::CourtCode;
use lanelight::looks::passing::{Going, best_pass};
use lanelight::looks::{Cast, Scene, backdoor, driving, shooting, spacing};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Row, Scrimmage};
use lanelight::sim::{Keep, cast_of, play_shared, play_witnessed};
use lanelight::squad::Level;

/// Possessions in one round of a bench.
const ROUND: u64 = 100;

/// The demo: a varsity squad, four out and one in the post against a man-to-man.
fn demo() -> (Arc<Scenario>, Arc<Cast>) {
    let scenario = Scenario::demo();
    let cast = cast_of(&scenario);
    (Arc::new(scenario), cast)
}

fn play_row(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64) -> Row {
    Row::of(&play_shared(scenario, cast, seed, Keep::FIGURES))
}

/// Possessions a second on one core, all looks measured, each reduced to its row.
#[divan::bench]
fn possessions(bencher: Bencher) {
    let (scenario, cast) = demo();
    bencher.counter(ItemsCount::new(ROUND)).bench_local(|| {
        for seed in 1..=ROUND {
            black_box(play_row(&scenario, &cast, seed));
        }
    });
}

/// The same counted in ticks of one player each: ten players, 25 ticks a second.
#[divan::bench]
fn agent_ticks(bencher: Bencher) {
    let (scenario, cast) = demo();
    let seconds: f64 = (1..=ROUND)
        .map(|seed| play_row(&scenario, &cast, seed).duration)
        .sum();
    let ticks = (seconds * 25.0).round() as u64 * 10;
    bencher.counter(ItemsCount::new(ticks)).bench_local(|| {
        for seed in 1..=ROUND {
            black_box(play_row(&scenario, &cast, seed));
        }
    });
}

/// A whole scrimmage with its figures, against the number of possessions, on one thread.
#[divan::bench(args = [250, 1000, 4000], sample_count = 5)]
fn scrimmage_of(bencher: Bencher, possessions: u64) {
    scrimmage(bencher, possessions, 1);
}

/// The same 1,000 possessions against the number of threads.
#[divan::bench(args = [1, 2], sample_count = 10)]
fn threads(bencher: Bencher, threads: usize) {
    scrimmage(bencher, 1000, threads);
}

fn scrimmage(bencher: Bencher, possessions: u64, threads: usize) {
    let scenario = Scenario::demo();
    let plan = Scrimmage {
        first_seed: 1,
        possessions,
        threads,
        until: None,
    };
    let stop = AtomicBool::new(false);
    bencher
        .counter(ItemsCount::new(possessions))
        .bench_local(|| plan.run(&scenario, &|_| (), &mut |_| true, &stop));
}

/// What holders had before them in real possessions: who had the ball, and where everybody was.
fn scenes() -> (Arc<Cast>, Vec<(usize, Scene)>) {
    let (scenario, cast) = demo();
    let instants = (1..=20).flat_map(|seed| play_witnessed(&scenario, &cast, seed).1);
    let scenes = instants.map(|i| (i.hold.by, i.old.scene)).collect();
    (cast, scenes)
}

/// One question about openness, over the scenes of twenty possessions: time each.
#[divan::bench(args = ["pass", "drive", "backdoor", "spacing", "shot"])]
fn question(bencher: Bencher, name: &str) {
    let (cast, scenes) = scenes();
    let mate = |holder: usize| (holder + 1) % 5;
    bencher
        .counter(ItemsCount::new(scenes.len()))
        .bench_local(|| {
            let mut sum = 0.0;
            for &(holder, scene) in &scenes {
                let scene = &scene;
                sum += match name {
                    "pass" => {
                        let kinds = &PassKind::ALL[..3];
                        let to = mate(holder);
                        best_pass(&cast, scene, holder, to, Going::NOWHERE, kinds)
                            .map_or(0.0, |pass| pass.openness.value)
                    }
                    "drive" => driving::driving(&cast, scene, holder).openness.value,
                    "backdoor" => backdoor::backdoor(&cast, scene, holder, mate(holder)).value,
                    "spacing" => spacing::spacing(&cast, scene, holder).hull,
                    _ => shooting::shot_now(&cast, scene, holder, Some(1.0)).2,
                };
            }
            sum
        });
}

/// The check sum of the words of every row of 15 match-ups.
fn hash() -> u64 {
    let mut sum = Checksum::default();
    for offence in [
        "four_out_one_post",
        "five_out_give_and_go",
        "three_out_two_in",
    ] {
        for defence in [
            "sag",
            "denial",
            "help_line",
            "mixed_professional",
            "zone_2_3",
        ] {
            let level = Level::VarsityBoys;
            let Ok(scenario) = Scenario::from_parts(CourtCode::Nfhs, level, offence, defence, &[])
            else {
                continue;
            };
            let (scenario, cast) = (Arc::new(scenario.clone()), cast_of(&scenario));
            for seed in 1..=100 {
                let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
                let row = Row::of(&possession);
                let last = possession.track.last();
                sum.add(format!("{row:?}{:?}{last:?}", possession.timeline).as_bytes());
            }
        }
    }
    sum.value()
}

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    match args.first().map(String::as_str) {
        Some("hash") => println!("{:016x}", hash()),
        Some("count") => {
            let most = args.get(1).and_then(|n| n.parse().ok()).unwrap_or(ROUND);
            let (scenario, cast) = demo();
            let points: u64 = (1..=most)
                .map(|seed| u64::from(play_row(&scenario, &cast, seed).points))
                .sum();
            println!("{most} possessions, {points} points");
        }
        _ => divan::main(),
    }
}
