//! One source: at no instant do the caption, the strip, the light on the floor, the marks over it and the figures say
//! different things.
#![cfg(feature = "window")]

mod window;

use std::sync::Arc;

use lanelight::court::Vec2;
use lanelight::draw::{ArrowKind, Item};
use lanelight::looks::field::Grid;
use lanelight::offence::LookKind;
use lanelight::possession::light::{DIM, brightest};
use lanelight::possession::{LookNow, TICK};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{Scenario, read_defence};
use lanelight::scrimmage::row::{Row, seconds};
use lanelight::sim::{THERE, shut_by};
use lanelight::why::Why;
use lanelight::window::desk::Desk;
use lanelight::window::moment::{self, state};
use lanelight::window::now::{Now, now};
use lanelight::window::recording::Spell;
use window::desk;

/// Light below this nobody sees as light.
const DARK: f64 = 0.05;

/// How many possessions are looked through: 500 in the long run, as the claim has it.
fn possessions() -> u64 {
    match std::env::var("LANELIGHT_LONG") {
        Ok(_) => 500,
        Err(_) => 24,
    }
}

/// What has been seen, so that no claim is kept by never being asked.
#[derive(Default, Debug)]
struct Seen {
    nothing: usize,
    stalls: usize,
    drives: usize,
    reached: usize,
    open: usize,
    passes: usize,
    flies: usize,
    shots: usize,
    cuts: usize,
    held: usize,
    over: usize,
    /// By how much the floor is darker than the strip at a catcher, at worst.
    worst: f64,
}

#[test]
fn at_no_instant_do_caption_strip_light_and_figures_contradict_each_other() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut desk = desk(folder.path());
    let mut seen = Seen::default();
    for seed in 1..=possessions() {
        if seed == possessions() / 2 {
            // Denial leaves other things open, and stalls otherwise.
            let mut edit = desk.edit().clone();
            let denial = shipped::find(Kind::Defence, "denial").expect("shipped");
            edit.defence = read_defence(denial.text, "denial").expect("sound").value;
            desk.change(edit, "defence");
        }
        desk.to_seed(seed);
        figures(&desk);
        let ticks = (desk.recording.end() / TICK).round() as u32;
        let mut last = None;
        for tick in 0..=ticks {
            desk.time.go(f64::from(tick) * TICK, &desk.recording);
            said_and_drawn(&mut desk, &mut seen);
            let moment = desk.moment();
            if moment.is_some() && moment != last {
                lit(&mut desk, &mut seen);
                last = moment;
            }
        }
    }
    println!("{seen:?}");
    assert!(
        seen.nothing > 50 && seen.stalls > 20 && seen.open > 200,
        "{seen:?}"
    );
    assert!(seen.drives > 20 && seen.reached > 20, "{seen:?}");
    assert!(
        seen.flies > 100 && seen.passes > 100 && seen.cuts > 5,
        "{seen:?}"
    );
    assert!(seen.worst < 1e-9, "{seen:?}");
    // What somebody holds and nothing can be said of is a tick or two after a catch.
    let all = seen.nothing + seen.open + seen.flies + seen.shots + seen.held;
    assert!(seen.held * 20 < all, "{seen:?}");
}

/// The figures count the same stalls as the strip shows, and the strip is dark where they do.
fn figures(desk: &Desk) {
    let recording = &desk.recording;
    let row = Row::of(&recording.possession);
    let stalled: u32 = row.stalls.iter().map(|s| u32::from(*s)).sum();
    let dark = recording.glow.iter().filter(|g| **g == 0.0).count();
    // A stall is a longer spell with nothing open; the strip is dark in short ones, too.
    assert!(stalled as usize <= dark, "seed {}", desk.seed);
    let counted: Vec<f64> = row.stalls.iter().map(|s| seconds(u32::from(*s))).collect();
    let shown: Vec<f64> = recording.stalls.iter().map(Spell::seconds).collect();
    assert_eq!(counted.len(), shown.len(), "seed {}", desk.seed);
    for (counted, shown) in counted.iter().zip(&shown) {
        assert!(
            (counted - shown).abs() < 1e-9,
            "seed {}: {counted} s, shown as {shown} s",
            desk.seed
        );
    }
}

fn said_and_drawn(desk: &mut Desk, seen: &mut Seen) {
    let at = format!("seed {}, {:.2} s", desk.seed, desk.time.now);
    let says = now(desk);
    let words = says.words();
    let scene = moment::scene(desk);
    let holds = |item: &Item| matches!(item, Item::Attacker { has_ball: true, .. });
    let ring = scene.items.iter().any(holds);
    let beam = scene.items.iter().any(|i| matches!(i, Item::Beam { .. }));
    let glow = desk.moment().map(|m| desk.recording.glow[m]);
    let strip = lanelight::window::key::words_at(desk, desk.time.now, 0.0);
    let told = desk.recording.told_at(desk.time.now).join(" ");
    for word in ["is there", "found nothing open"] {
        assert!(!told.contains(word), "{at}: {told}");
    }
    match says {
        Now::Open {
            holder,
            looks,
            cuts,
        } => {
            seen.open += 1;
            seen.cuts += cuts.len();
            assert!(ring && glow.is_some_and(|g| g > 0.0), "{at}: {words}");
            assert!(!words.contains("nothing is open") && !words.contains("stalls"));
            assert!(!strip.contains("nothing is open"), "{at}: {strip}");
            let drive = looks
                .0
                .iter()
                .chain(&looks.1)
                .any(|l| l == LookKind::Drive.word());
            assert_eq!(beam, drive, "{at}: {words}");
            assert!(words.contains(&holder.to_string()));
        }
        Now::Nothing {
            drives,
            stalls,
            reached,
            cuts,
            ..
        } => {
            seen.nothing += 1;
            assert!(ring && glow == Some(0.0) && !beam, "{at}: {words}");
            assert!(strip.contains("nothing is open"), "{at}: {strip}");
            let moment = desk.moment();
            let spell = moment.and_then(|m| desk.recording.stall_at(m));
            let marked = spell.is_some();
            // For how long is said in the same seconds above the strip, on it and in the figures.
            assert_eq!(stalls, spell.map(Spell::seconds), "{at}: {words}");
            let said = spell.map(|s| format!("{:.1} s", s.seconds()));
            assert_eq!(words.contains("it stalls"), marked);
            assert_eq!(strip.contains("stall of"), marked, "{at}: {strip}");
            if let Some(said) = said {
                assert!(words.contains(&format!("({said} in all)")), "{at}: {words}");
                assert!(strip.contains(&format!("stall of {said}")), "{at}: {strip}");
            }
            seen.stalls += usize::from(marked);
            // A drive is no stall, and a pass that gets there and is not open is said to be no shot wherever it is said.
            seen.drives += usize::from(drives);
            assert!(!(drives && marked), "{at}: {words}");
            assert_eq!(
                words.contains("drives; nothing else is open"),
                drives,
                "{at}"
            );
            let looks = desk.looks().to_vec();
            for look in looks.iter().filter(|l| l.to.is_some()) {
                let label = state(look);
                let to = look.to.expect("a pass");
                let gets_there = look.openness > THERE;
                assert_eq!(reached.contains(&to), gets_there, "{at}: {words}");
                assert_eq!(label.contains("no open shot"), gets_there, "{at}: {label}");
                assert!(!label.starts_with("open"), "{at}: {label}");
                if gets_there {
                    seen.reached += 1;
                    assert!(words.contains("without an open shot"), "{at}: {words}");
                    assert!(
                        shut_by(look).is_none(),
                        "{at}: a thread shuts what gets there"
                    );
                }
            }
            // A cut that could be made is no pass that is there.
            assert!(!words.contains("is there"));
            seen.cuts += cuts.len();
        }
        Now::Held { .. } => {
            seen.held += 1;
            assert!(ring && !beam && glow.is_none(), "{at}: {words}");
        }
        Now::Flies { from, .. } => {
            seen.flies += 1;
            assert!(!ring && !beam && glow.is_none(), "{at}: {words}");
            assert!(strip.contains("in the air"), "{at}: {strip}");
            let pass = |i: &Item| matches!(i, Item::Arrow { kind: ArrowKind::Pass, who, .. } if *who == from);
            seen.passes += usize::from(scene.items.iter().any(pass));
        }
        Now::Shot | Now::Loose => {
            seen.shots += 1;
            assert!(!ring && !beam && glow.is_none(), "{at}: {words}");
        }
        Now::Over(result) => {
            seen.over += 1;
            assert!(!beam && glow.is_none(), "{at}: {words}");
            let points = desk.recording.possession.ending.points();
            assert_eq!(result.ends_with("no points"), points == 0, "{at}: {result}");
        }
    }
}

/// The floor is lit at every team-mate to whom a pass is open, and dark everywhere where nothing is.
fn lit(desk: &mut Desk, seen: &mut Seen) {
    let moment = desk.moment().expect("a moment");
    let looks: Vec<LookNow> = desk.looks().to_vec();
    let recording = &desk.recording;
    let (instant, play) = (&recording.instants[moment], &recording.play);
    let grid = Grid::over(&recording.cast.court, 0.6, f64::INFINITY);
    let values = instant.light(play, &looks, &grid);
    let most = values.iter().copied().fold(0.0, f64::max);
    let best = brightest(&looks, play.usual);
    let at = format!("seed {}, {:.2} s", desk.seed, desk.time.now);
    if best == 0.0 {
        assert!(most < DARK, "{at}: nothing is open, and light of {most:.2}");
        return;
    }
    for look in looks.iter().filter(|l| l.to.is_some()) {
        let caught = instant.catch_point(play, look).expect("a pass");
        let light = instant.light_at(play, &looks, caught);
        if look.open {
            seen.passes += 1;
            assert!(light >= 0.9 * DIM, "{at}: {look:?} has light of {light:.2}");
            let own = look.light(play.usual);
            seen.worst = seen.worst.max(own - light);
        }
    }
}

#[test]
fn a_stall_is_darker_than_a_moment_with_a_look_by_far_and_arrival_alone_is_not() {
    let scenario = Arc::new(Scenario::demo());
    let share =
        |values: &[f64]| values.iter().filter(|v| **v > 0.15).count() as f64 / values.len() as f64;
    let (mut stalled, mut open) = ((0.0, 0.0, 0), (0.0, 0));
    for seed in 1..=12 {
        let recording = lanelight::window::recording::Recording::of(&scenario, seed);
        let grid = Grid::over(&recording.cast.court, 0.7, 10.0);
        for (moment, instant) in recording.possession.moments.iter().zip(&recording.instants) {
            let worth = share(&instant.light(&recording.play, &moment.looks, &grid));
            if moment.nothing_open() {
                let scene = &instant.old.scene;
                let arrival =
                    lanelight::looks::field::over(&recording.cast, scene, instant.hold.by, &grid);
                stalled = (
                    stalled.0 + worth,
                    stalled.1 + share(&arrival),
                    stalled.2 + 1,
                );
            } else {
                open = (open.0 + worth, open.1 + 1);
            }
        }
    }
    assert!(stalled.2 > 20 && open.1 > 100);
    let n = f64::from(stalled.2);
    println!(
        "lit share of the floor: stalled {:.3} (arrival alone {:.3}), something open {:.3}",
        stalled.0 / n,
        stalled.1 / n,
        open.0 / f64::from(open.1)
    );
    assert_eq!(stalled.0, 0.0);
    assert!(stalled.1 / n > 0.2);
    assert!(open.0 / f64::from(open.1) > 0.02);
}

/// What dragging a defender does to the light.
#[derive(Default)]
struct Drags {
    all: u32,
    /// By which floor gets or loses a tenth of the light that there can be, over a square metre or more.
    seen: u32,
}

impl Drags {
    fn share(&self) -> f64 {
        assert!(self.all > 20, "{}", self.all);
        f64::from(self.seen) / f64::from(self.all)
    }
}

/// The light is that of passes: it goes where a defender comes between ball and catcher, as the hint has it. One who is
/// taken away from their attacker often changes little: another shuts that pass still, or a catch there is worth too
/// little; and one who backs off from the ball stays between it and the rim, so that no drive comes.
#[test]
fn a_defender_put_into_a_lit_pass_darkens_the_floor_and_one_taken_away_often_changes_little() {
    let scenario = Arc::new(Scenario::demo());
    let [mut into, mut shut, mut open, mut ball] = [(); 4].map(|()| Drags::default());
    let mut beams = 0;
    for seed in 1..=10 {
        let recording = lanelight::window::recording::Recording::of(&scenario, seed);
        let (play, court) = (&recording.play, &recording.cast.court);
        let grid = Grid::over(court, 0.5, 10.0);
        let moments = recording.possession.moments.iter().enumerate();
        for (m, moment) in moments.step_by(5) {
            let instant = &recording.instants[m];
            let before = instant.light(play, &moment.looks, &grid);
            let scene = &instant.old.scene;
            let holder = usize::from(moment.holder) - 1;
            let drag = |d: usize, to: Vec2, kind: &mut Drags| {
                let mut moved = [None; 10];
                moved[5 + d] = Some(court.clamp_inside(to, 0.3));
                let looks = recording.looks_with(m, &moved);
                let after = recording.instant_with(instant, &moved);
                let after = after.light(play, &looks, &grid);
                let differ = before
                    .iter()
                    .zip(&after)
                    .filter(|(a, b)| (*a - *b).abs() >= 0.1);
                let area = differ.count() as f64 * grid.step.x * grid.step.y;
                kind.all += 1;
                kind.seen += u32::from(area >= 1.0);
                looks.iter().any(|l| l.kind == LookKind::Drive && l.open)
            };
            let drives = moment
                .looks
                .iter()
                .any(|l| l.kind == LookKind::Drive && l.open);
            for d in 0..5 {
                // Two and a half metres away from their own attacker.
                let own = recording.picture(moment.time).guards[d];
                let away = scene.pos[5 + d] - scene.pos[own];
                let to = scene.pos[5 + d] + away / away.length().max(1e-6) * 2.5;
                let look = |l: &&LookNow| l.to == Some(own as u8 + 1);
                match moment.looks.iter().find(look) {
                    _ if own == holder => beams += u32::from(drag(d, to, &mut ball) && !drives),
                    Some(l) if l.open => _ = drag(d, to, &mut open),
                    _ => _ = drag(d, to, &mut shut),
                }
            }
            // Half way to a catcher whose pass is open: whoever guards them.
            for to in moment.looks.iter().filter(|l| l.open).filter_map(|l| l.to) {
                let to = usize::from(to) - 1;
                let half = (scene.pos[holder] + scene.pos[to]) / 2.0;
                if let Some(d) = scene.guarded_by(to) {
                    drag(d, half, &mut into);
                }
            }
        }
    }
    for (name, drags) in [
        ("into a lit pass", &into),
        ("off one who is not open", &shut),
        ("off one who is open", &open),
        ("off the ball", &ball),
    ] {
        println!("{name}: {:.2} of {} drags seen", drags.share(), drags.all);
    }
    println!("off the ball the drive comes in {beams} of {}", ball.all);
    assert!(into.share() > 0.9, "the hint promises it");
    assert!(
        shut.share() < 0.5 && ball.share() < 0.7,
        "one taken away is seen less often"
    );
}

#[test]
fn the_why_page_counts_the_stalls_that_the_strip_shows() {
    let scenario = Scenario::demo();
    let plan = Why {
        first_seed: 1,
        possessions: 60,
        threads: 1,
    };
    let stop = std::sync::atomic::AtomicBool::new(false);
    let sheets = plan.sheets(&scenario, &|_| (), &stop).expect("sheets");
    let scenario = Arc::new(scenario);
    let mut seen = 0;
    for (seed, sheet) in (1..).zip(&sheets) {
        let recording = lanelight::window::recording::Recording::of(&scenario, seed);
        let strip: Vec<f64> = recording.stalls.iter().map(|s| s.from).collect();
        let why: Vec<f64> = sheet.stalls.iter().map(|s| s.time).collect();
        assert_eq!(strip, why, "seed {seed}");
        seen += strip.len();
    }
    assert!(seen > 5, "{seen}");
}
