//! The same scenario and the same seed are the same possession, bit for bit: on one thread and on
//! two, watched or not, in debug and in release. `tests/golden/tracks.txt` holds a hash of every
//! track; `tests/run debug` compares the unoptimised build with it. `assets/learnt.txt` holds what the demo and
//! the scenarios played here have learnt, so that a start of the program need not. Renew both, with the reason in
//! the commit, by `LANELIGHT_RENEW=1 cargo test --release -p lanelight-play --test golden`. (A test of the play's package:
//! nothing else is built without optimisation for it.)

use std::fmt::Write as _;
use std::path::Path;
use std::sync::Arc;

use lanelight_play as lanelight;

use lanelight::checksum::Checksum;
use lanelight::court::{CourtCode, Side};
use lanelight::possession::{Possession, What};
use lanelight::scenario::shipped::{self as files, Kind};
use lanelight::scenario::{Scenario, read_defence, read_offence};
use lanelight::sim::{Keep, cast_of, learn, play, play_shared, tick_order};
use lanelight::squad::Level;
use lanelight::value::{line as learnt, shipped};
use rayon::prelude::*;

/// Offence, defence, level: each shipped offence and each shipped defence at least once.
const PLAYED: [(&str, &str, Level); 7] = [
    ("four_out_one_post", "sag", Level::VarsityBoys),
    ("four_out_one_post", "denial", Level::VarsityBoys),
    ("four_out_one_post", "help_line", Level::VarsityGirls),
    ("four_out_one_post", "mixed_professional", Level::ProMen),
    ("four_out_one_post", "zone_2_3", Level::CollegeWomen),
    ("five_out_give_and_go", "help_line", Level::Under14),
    (
        "three_out_two_in",
        "mixed_professional",
        Level::JuniorVarsityBoys,
    ),
];
const SEEDS: std::ops::Range<u64> = 1..3;
/// Without optimisation learning takes long: one scenario does it, where all do in release.
const SLOW: bool = cfg!(debug_assertions);

fn scenario(of: &(&str, &str, Level)) -> Scenario {
    Scenario::from_parts(CourtCode::Nfhs, of.2, of.0, of.1, &[]).unwrap()
}

/// The check sum of the bits of every number of every frame.
fn hash(p: &Possession) -> u64 {
    let mut sum = Checksum::default();
    let mut eat = |bits: u64| sum.add(&bits.to_le_bytes());
    for f in &p.track {
        eat(f.time.to_bits());
        f.ball.iter().for_each(|v| eat(v.to_bits()));
        for v in f.attackers.iter().chain(&f.defenders) {
            eat(v.x.to_bits());
            eat(v.y.to_bits());
        }
        for v in f.attackers_facing.iter().chain(&f.defenders_facing) {
            eat(v.x.to_bits());
            eat(v.y.to_bits());
        }
        eat(u64::from(f.holder.unwrap_or(0)));
    }
    sum.value()
}

/// One line a possession: what was played, the hash, the frames, and the order of what happened.
fn line(of: &(&str, &str, Level), p: &Possession) -> String {
    let order: String = p.timeline.iter().map(|e| letter(&e.what)).collect();
    format!(
        "{} {} {} {} {:016x} {} {order}",
        of.0,
        of.1,
        of.2.word().replace(' ', "_"),
        p.seed,
        hash(p),
        p.track.len()
    )
}

fn letter(what: &What) -> char {
    match what {
        What::Starts { .. } => 'o',
        What::Drops { .. } => 'D',
        What::Rule { .. } => 'r',
        What::Passes { .. } => 'p',
        What::Catches { .. } => 'c',
        What::Cuts { .. } => 'x',
        What::Unfed { .. } => 'u',
        What::Fills { .. } => 'f',
        What::Flashes { .. } => 'h',
        What::ComesOff { .. } => 'B',
        What::Fades { .. } => 'e',
        What::GetsOpen { .. } => 'v',
        What::Dribbles { .. } => 'z',
        What::Seals { .. } => 's',
        What::Waits { .. } => 'i',
        What::NoScreen { .. } => 'I',
        What::NoFlash { .. } => 'F',
        What::LetsBe { .. } => 'L',
        What::Slips { .. } => 'j',
        What::Holds { .. } => 'y',
        What::Screens { .. } => 'b',
        What::Drives { .. } => 'd',
        What::DribblesAt { .. } => 'a',
        What::SetsOutToHand { .. } => 'g',
        What::HandsOff { .. } => 'G',
        What::KeepsIt { .. } => 'K',
        What::Stopped { .. } => 't',
        What::Helps { .. } => 'H',
        What::Rotates { .. } => 'R',
        What::Switches { .. } => 'S',
        What::Late { .. } => 'l',
        What::BackdoorThere { .. } => 'k',
        What::Stall { .. } => 'w',
        What::Shoots { .. } => '!',
        What::Tips { .. } => '~',
        What::Ends { .. } => '.',
    }
}

fn all() -> String {
    let mut text = String::new();
    for of in &PLAYED {
        let s = scenario(of);
        for seed in SEEDS {
            writeln!(text, "{}", line(of, &play(&s, seed, Keep::ALL))).unwrap();
        }
    }
    text
}

fn renews() -> bool {
    std::env::var_os("LANELIGHT_RENEW").is_some()
}

/// The kept file is, or becomes, what is `now`.
fn as_kept(path: &str, now: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path);
    if renews() {
        std::fs::write(&path, now).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    for (a, b) in kept.lines().zip(now.lines()) {
        assert_eq!(a, b, "see the head of this file for how to renew");
    }
    assert_eq!(kept.lines().count(), now.lines().count());
}

#[test]
fn tracks_are_the_same_bits_as_ever() {
    if renews() {
        // What comes with the program is old.
        for of in &PLAYED {
            learn(&scenario(of));
        }
    }
    as_kept("tests/golden/tracks.txt", &all());
}

/// The demo first, what is played here, and the demo's squads with every offence against every defence that ships:
/// those a coach asks for next, and a report compares them all.
fn come_with_the_program() -> Vec<Scenario> {
    let demo = Scenario::demo();
    let mut all = vec![demo.clone()];
    if SLOW {
        return all;
    }
    all.extend(PLAYED.iter().map(scenario));
    let offences =
        files::all(Kind::Offence).map(|file| read_offence(file.text, file.word).unwrap().value);
    let defences =
        files::all(Kind::Defence).map(|file| read_defence(file.text, file.word).unwrap().value);
    let defences: Vec<_> = defences.collect();
    for offence in offences {
        // The demo itself stands first.
        let others = defences
            .iter()
            .filter(|d| (&offence, *d) != (&demo.offence, &demo.defence));
        all.extend(others.map(|defence| Scenario {
            offence: offence.clone(),
            defence: defence.clone(),
            ..demo.clone()
        }));
    }
    all
}

/// Nobody can tell whether a value came with the program.
#[test]
fn what_comes_with_the_program_is_what_would_be_learnt_to_the_last_bit() {
    let kept = include_str!("../../assets/learnt.txt");
    let mut now = format!("{}\n", kept.lines().next().unwrap());
    for s in &come_with_the_program() {
        let (sum, value) = learn(s).unwrap();
        assert!(renews() || shipped(sum) == Some(value), "{}", s.name);
        writeln!(now, "{}", learnt(sum, &value)).unwrap();
    }
    if SLOW {
        assert!(kept.starts_with(&now), "{now}");
    } else {
        as_kept("assets/learnt.txt", &now);
    }
}

#[test]
fn one_thread_and_two_give_the_same_bits() {
    let of = &PLAYED[2];
    let s = Arc::new(scenario(of));
    let cast = cast_of(&s);
    let on = |threads| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| {
            (0..12_u64)
                .into_par_iter()
                .map(|seed| hash(&play_shared(&s, &cast, seed, Keep::ALL)))
                .collect::<Vec<_>>()
        })
    };
    assert_eq!(on(1), on(2));
}

#[test]
fn a_watched_possession_is_the_same_as_an_unwatched_one() {
    for of in &PLAYED[..3] {
        let s = scenario(of);
        let nothing = Keep {
            track: false,
            moments: false,
        };
        let watched = play(&s, 7, Keep::ALL);
        for keep in [Keep::FIGURES, nothing] {
            let other = play(&s, 7, keep);
            assert_eq!(watched.timeline, other.timeline);
            assert_eq!(watched.ending, other.ending);
        }
    }
}

/// The dice know nothing of sides, so the same seed from the other side is the mirror image.
#[test]
fn the_mirrored_start_is_the_mirrored_possession() {
    for of in &PLAYED[..if SLOW { 1 } else { 4 }] {
        let mut s = scenario(of);
        let mut from = |side| {
            s.start = Some(side);
            play(&s, 11, Keep::ALL)
        };
        let (right, left) = (from(Side::Right), from(Side::Left));
        assert_eq!(right.track.len(), left.track.len(), "{of:?}");
        for (f, g) in right.track.iter().zip(&left.track) {
            for (p, q) in f.attackers.iter().zip(&g.attackers) {
                assert_eq!((p.x, p.y), (-q.x, q.y), "{of:?} at {}", f.time);
            }
            for (p, q) in f.defenders.iter().zip(&g.defenders) {
                assert_eq!((p.x, p.y), (-q.x, q.y), "{of:?} at {}", f.time);
            }
        }
    }
}

/// Each name stands beside a call of the system of that name.
#[test]
fn the_tick_happens_in_this_order() {
    assert_eq!(
        tick_order().join(" "),
        "everybody_sees_the_floor players_answer_the_rules players_take_up_their_tasks \
         holder_decides attackers_run defenders_look defenders_guard bodies_move ball_goes_on \
         referee_watches write_down time_passes"
    );
    let source = include_str!("../../src/sim/schedule.rs");
    let tick = source
        .split_once("const TICK")
        .and_then(|(_, rest)| rest.split_once("];\n"))
        .expect("the tick's order stands in src/sim/schedule.rs")
        .0;
    for (name, system) in tick_order().iter().zip(tick.split("(\"").skip(1)) {
        let called = system.contains(&format!("{name}(")) || *name == "time_passes";
        assert!(system.starts_with(name) && called, "{name}: {system}");
    }
}

#[test]
fn the_hash_sees_one_bit_of_one_player() {
    let p = play(&scenario(&PLAYED[0]), 1, Keep::ALL);
    let mut moved = p.clone();
    let last = moved.track.len() - 1;
    let y = &mut moved.track[last].defenders[4].y;
    *y = f64::from_bits(y.to_bits() ^ 1);
    assert_ne!(hash(&p), hash(&moved));
}
