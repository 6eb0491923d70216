//! Do the intervals of small scrimmages hold what long ones come to?
//!
//! A pool of possessions of the demo is played once; its figures are the truth. Out of it come
//! 2,000 small scrimmages of 80 to 99 possessions: the pool is dealt out, again and again, each
//! time in another order (multiplying the seed's place by a number without a common factor; the
//! first time as it is, so that those are the scrimmages that a coach would run with consecutive
//! seeds). The pool is of 40,000: of 20,000 too many of the small scrimmages share possessions, and the share
//! wanders by more than a point from floor to floor. Within one deal no possession is in two scrimmages. An interval should hold the truth
//! in 93 to 97 of 100; with 2,000 scrimmages the share itself has a standard error of half a point (with 1,000, of 0.7:
//! one of twenty shares missed the bounds by chance from floor to floor).
//! That is two minutes of play, so it is part of `tests/run long`.
//!
//! Their sizes differ because baskets and turnovers are counted in whole ones: at any single size the
//! true coverage of an interval jumps by two points and more with the share itself
//! (`src/stats/coverage.rs` pins that exactly), so that one size says as much about 80 as about the method.

use std::sync::LazyLock;
use std::sync::atomic::AtomicBool;

use lanelight::contest::paired::{FEWEST_CHANGED, PairTally};
use lanelight::contest::{Variation, Yardstick, yardsticks};
use lanelight::scenario::{Scenario, read_tweak, shipped};
use lanelight::scrimmage::tallies::RatioTally;
use lanelight::scrimmage::{Row, Scrimmage};

const SIZES: std::ops::Range<usize> = 80..100;
const SCRIMMAGES: usize = 2000;
/// Of paired ones, each played twice, fewer.
const PAIRED: usize = 1000;
/// Possessions of the pool, and of the pool of pairs: the first of the same seeds.
const POOL: usize = 40_000;
const PAIRS: usize = 19_000;
const DEALS: [usize; 5] = [1, 7919, 3011, 1933, 4177];

static DEMO: LazyLock<Vec<Row>> = LazyLock::new(|| pool(&Scenario::demo(), POOL));

fn pool(scenario: &Scenario, possessions: usize) -> Vec<Row> {
    let mut rows = Vec::with_capacity(possessions);
    let scrimmage = Scrimmage {
        first_seed: 1_000_001,
        possessions: possessions as u64,
        threads: 0,
        until: None,
    };
    let mut each = |row: &Row| {
        rows.push(row.clone());
        true
    };
    let stop = AtomicBool::new(false);
    scrimmage.run(scenario, &|_| (), &mut each, &stop).unwrap();
    rows
}

/// The places in the pool of every small scrimmage.
fn small_scrimmages(pool: usize, many: usize) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = Vec::new();
    let mut sizes = SIZES.cycle();
    for deal in DEALS {
        let mut dealt = (0..pool).map(|place| place * deal % pool);
        loop {
            let size = sizes.next().unwrap();
            let scrimmage: Vec<usize> = dealt.by_ref().take(size).collect();
            if scrimmage.len() < size || all.len() == many {
                break;
            }
            all.push(scrimmage);
        }
    }
    assert_eq!(all.len(), many);
    all
}

/// Share of the small scrimmages whose interval holds the figure of the pool, and how many gave an
/// interval at all.
fn coverage(y: &Yardstick, rows: &[Row]) -> Option<(f64, usize)> {
    let tally = |places: &mut dyn Iterator<Item = usize>| {
        let mut tally = RatioTally::default();
        for place in places {
            let (above, below) = y.pair(&rows[place]);
            tally.push(above, below);
        }
        tally
    };
    let truth = tally(&mut (0..rows.len())).ratio()?;
    let (mut hits, mut given) = (0, 0);
    for places in small_scrimmages(rows.len(), SCRIMMAGES) {
        if let Some(e) = tally(&mut places.iter().copied()).estimate(y.interval) {
            given += 1;
            hits += usize::from(!e.excludes(truth));
        }
    }
    Some((hits as f64 / SCRIMMAGES as f64, given))
}

/// Those that must hold; all others are printed. The time that the lane is open held in 93 to 97 of 100 until it
/// became rare (0.1 s a possession); it holds in 92.7, 28 November 2026: a miss.
const MUST: [&str; 7] = [
    "points",
    "promised_points",
    "points_per_shot",
    "turnovers",
    "lane_open",
    "next_pass_held",
    "stall_time",
];

#[test]
#[ignore = "plays 78,000 possessions: part of `tests/run long`"]
fn intervals_of_two_thousand_small_scrimmages_hold_the_long_run_in_93_to_97_of_100() {
    let rows = &*DEMO;
    let mut missed = Vec::new();
    for y in yardsticks() {
        let Some((share, given)) = coverage(&y, rows) else {
            continue;
        };
        println!("{:5.1} % {given:5} {}", 100.0 * share, y.name);
        if MUST.contains(&y.name.as_str()) && !(0.93..=0.97).contains(&share) {
            missed.push(format!("{} {share}", y.name));
        }
    }
    assert!(missed.is_empty(), "{missed:?}");
}

/// The same of differences between two variations on the same seeds.
const MUST_DIFFER: [&str; 4] = ["points", "promised_points", "points_per_shot", "turnovers"];

#[test]
#[ignore = "plays 78,000 possessions: part of `tests/run long`"]
fn intervals_of_paired_differences_hold_the_long_run_in_93_to_97_of_100() {
    let demo = Scenario::demo();
    let file = shipped::find(shipped::Kind::Tweak, "skip_pass").unwrap();
    let tweak = read_tweak(file.text, file.word).unwrap().value;
    let now = pool(&demo.with_tweak(&tweak).unwrap(), PAIRS);
    let before = &DEMO[..PAIRS];
    let mut missed = Vec::new();
    for y in yardsticks() {
        let difference = |places: &mut dyn Iterator<Item = usize>| {
            let mut tally = PairTally::default();
            for place in places {
                tally.push(y.pair(&before[place]), y.pair(&now[place]));
            }
            tally.result()
        };
        let Some(truth) = difference(&mut (0..before.len())) else {
            continue;
        };
        let truth = truth.b - truth.a;
        let (mut hits, mut judged, mut judged_hits) = (0, 0, 0);
        for places in small_scrimmages(before.len(), PAIRED) {
            let Some(d) = difference(&mut places.iter().copied()) else {
                continue;
            };
            let hit = d.difference.is_some_and(|e| !e.excludes(truth));
            hits += usize::from(hit);
            if d.changed >= FEWEST_CHANGED {
                judged += 1;
                judged_hits += usize::from(hit);
            }
        }
        let share = hits as f64 / PAIRED as f64;
        // Where enough seeds differ for a judgement, the promise is to be kept there as well.
        println!(
            "{:5.1} % difference of {}; {judged} judged, {:.1} % of them",
            100.0 * share,
            y.name,
            100.0 * judged_hits as f64 / f64::from(judged.max(1))
        );
        if MUST_DIFFER.contains(&y.name.as_str()) && !(0.93..=0.97).contains(&share) {
            missed.push(format!("{} {share}", y.name));
        }
    }
    assert!(missed.is_empty(), "{missed:?}");
}

#[test]
fn the_same_seed_is_the_same_row_whoever_plays_it() {
    let demo = Scenario::demo();
    let together = pool(&demo, 3);
    let alone = Variation::new("demo", demo);
    assert_eq!(together[2], alone.row(1_000_003));
}
