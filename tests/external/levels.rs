//! Levels, shots and measured players against figures from outside. README.md explains the
//! labels *read*, *from memory* and *common practice*.

use lanelight::body::{Body, Intent, Limits, step};
use lanelight::court::{ShotZone, Vec2};
use lanelight::model::Model;
use lanelight::squad::measured::{HAND_TIMING, SPRINT_WAY};
use lanelight::squad::shot::{self, Guarded};
use lanelight::squad::{Level, Position, Shooting, read_squad};
use proptest::prelude::*;

const FOOT: f64 = 0.3048;

/// Guarded by one body so far beside the shooter, m, which comes nearer at so many m/s: the bands of the sources do not
/// say on which side the nearest defender is.
fn beside(distance: f64, room: f64, closing: f64) -> Guarded {
    let (at, off) = (Vec2::new(0.0, distance), Vec2::new(room, 0.0));
    Guarded::FREE.and(&Model::shipped(), at, off, closing)
}

fn make_chance(s: &Shooting, zone: ShotZone, distance: f64, room: f64, closing: f64) -> f64 {
    let guarded = beside(distance, room, closing);
    shot::make_chance(&Model::shipped(), s, zone, distance, &guarded)
}

fn shot_value(s: &Shooting, zone: ShotZone, distance: f64, room: f64) -> f64 {
    shot::shot_value(
        &Model::shipped(),
        s,
        zone,
        distance,
        &beside(distance, room, 0.0),
    )
}

/// How shots are contested, as shares by room in feet. At the rim the usual room is 1–2 ft (read:
/// analyticsgame.com); threes mostly open or wide open; the exact shares are invented.
type Mix = [(f64, f64); 4];
const AT_RIM: Mix = [(1.0, 0.45), (3.0, 0.35), (5.0, 0.10), (7.0, 0.10)];
const JUMPERS: Mix = [(1.0, 0.15), (3.0, 0.40), (5.0, 0.30), (7.0, 0.15)];
const THREES: Mix = [(1.0, 0.03), (3.0, 0.15), (5.0, 0.38), (7.0, 0.44)];

fn mix(zone: ShotZone) -> &'static Mix {
    match zone {
        ShotZone::Rim => &AT_RIM,
        ShotZone::Paint | ShotZone::MidRange => &JUMPERS,
        ShotZone::CornerThree | ShotZone::ArcThree => &THREES,
    }
}

/// Mean chance from that zone over distances, m, contested as usual.
fn usual(s: &Shooting, zone: ShotZone, distances: &[f64]) -> f64 {
    let mut sum = 0.0;
    for &d in distances {
        for &(feet, share) in mix(zone) {
            sum += share * make_chance(s, zone, d, feet * FOOT, 0.0);
        }
    }
    sum / distances.len() as f64
}

fn rim(s: &Shooting) -> f64 {
    usual(s, ShotZone::Rim, &[0.3, 0.6, 0.9, 1.2])
}
fn paint(s: &Shooting) -> f64 {
    usual(s, ShotZone::Paint, &[1.6, 2.3, 3.0, 3.7])
}
fn mid(s: &Shooting) -> f64 {
    usual(s, ShotZone::MidRange, &[3.5, 4.3, 5.0, 5.9])
}
fn corner(s: &Shooting) -> f64 {
    usual(s, ShotZone::CornerThree, &[6.75])
}
fn arc(s: &Shooting) -> f64 {
    usual(s, ShotZone::ArcThree, &[7.1, 7.3, 7.6])
}

/// A squad's percentages of twos and threes. Of the twos 0.50 are at the rim, 0.28 in the rest of the
/// lane; of the threes 0.22 from a corner (near the professional men's, from memory, med); everybody
/// takes as many twos, a post 0.3 of the threes of another (invented).
fn percentages(level: Level) -> (f64, f64) {
    let (mut twos, mut threes, mut weights) = (0.0, 0.0, 0.0);
    for p in level.squad("test").players {
        let s = p.shooting;
        twos += 20.0 * (0.50 * rim(&s) + 0.28 * paint(&s) + 0.22 * mid(&s));
        let weight = if p.number == 5 { 0.3 } else { 1.0 };
        threes += weight * 100.0 * (0.22 * corner(&s) + 0.78 * arc(&s));
        weights += weight;
    }
    (twos, threes / weights)
}

#[test]
fn squads_contested_as_usual_shoot_what_the_table_by_level_says() {
    // Ranges of 2P % and 3P %: NBA 2022-24 (from memory, med–high); recent NCAA Division I, men and women
    // (from memory, med); United States high-school varsity and under 12 (common practice, no source).
    for (level, two, three) in [
        (Level::ProMen, (54.0, 55.0), (36.0, 36.6)),
        (Level::CollegeMen, (50.0, 51.0), (33.5, 34.5)),
        (Level::CollegeWomen, (45.0, 46.0), (30.0, 32.0)),
        (Level::VarsityBoys, (42.0, 46.0), (28.0, 32.0)),
        (Level::Under12, (25.0, 35.0), (10.0, 20.0)),
    ] {
        let (twos, threes) = percentages(level);
        println!("{}: twos {twos:.1} %, threes {threes:.1} %", level.word());
        let near = |x: f64, (low, high): (f64, f64)| (low - 1.0..=high + 1.0).contains(&x);
        assert!(near(twos, two), "{}: twos {twos:.1} %", level.word());
        assert!(
            near(threes, three),
            "{}: threes {threes:.1} %",
            level.word()
        );
    }
}

#[test]
fn junior_varsity_shoots_no_better_than_sixteen_year_old_internationals() {
    // FIBA Americas U16 men 2015: 41.0 and 28.0 % (computed from public box scores).
    let (twos, threes) = percentages(Level::JuniorVarsityBoys);
    assert!(twos <= 42.0 && threes <= 28.5, "{twos:.1} {threes:.1}");
}

#[test]
fn professional_zones_are_the_leagues() {
    let s = Level::ProMen.player(3, Position::Wing).shooting;
    // Recent NBA zones (from memory, med); at the rim from 0.63 on (professional men, from memory).
    for (name, value, low, high) in [
        ("rim", rim(&s), 0.63, 0.66),
        ("paint", paint(&s), 0.42, 0.44),
        ("mid-range", mid(&s), 0.40, 0.42),
        ("corner three", corner(&s), 0.38, 0.39),
        ("other three", arc(&s), 0.35, 0.36),
    ] {
        println!("{name}: {value:.3}");
        assert!(
            (low - 0.025..=high + 0.025).contains(&value),
            "{name}: {value:.3}"
        );
    }
    // 12–17 ft 38 %, 18 ft to the line 39 % in 2003-04 (read: 82games.com/nbashots.htm).
    let long = usual(&s, ShotZone::MidRange, &[5.6, 6.0, 6.4]);
    assert!((long - 0.39).abs() < 0.03, "long twos {long:.3}");
}

#[test]
fn distance_tells_as_in_the_2013_14_tabulation() {
    // < 5 ft over 5–9 ft: ratio 1.51; 25–29 ft: 34.5 % (read: blog tabulation of league data, 2014-05-09).
    let s = Level::ProMen.player(3, Position::Wing).shooting;
    let near = rim(&s);
    let next = usual(&s, ShotZone::Paint, &[1.6, 1.9, 2.2, 2.5, 2.7]);
    let ratio = near / next;
    println!("under 5 ft over 5–9 ft: {ratio:.2}");
    assert!((ratio - 1.51).abs() < 0.2, "{ratio:.2}");
    let deep = usual(&s, ShotZone::ArcThree, &[7.7, 7.9, 8.1, 8.3]);
    println!("25–29 ft: {deep:.3}");
    assert!((deep - 0.345).abs() < 0.02, "{deep:.3}");
    let heave = make_chance(&s, ShotZone::ArcThree, 42.0 * FOOT, 5.0, 0.0);
    assert!(heave < 0.04, "from half court: {heave:.3}");
}

#[test]
fn room_on_threes_is_worth_what_the_bands_say() {
    // Very tight 28–30, tight 31–33, open 34–35, wide open 38–39 % (from memory, med), each band
    // averaged over its whole width, for the league's threes (a shooter of 38.5 % wide open).
    let s = Shooting {
        arc_three: 0.385,
        ..Level::ProMen.player(3, Position::Wing).shooting
    };
    for (from, to, low, high) in [
        (0.0, 2.0, 0.28, 0.30),
        (2.0, 4.0, 0.31, 0.33),
        (4.0, 6.0, 0.34, 0.35),
        (6.0, 10.0, 0.38, 0.39),
    ] {
        let n = 200;
        let mean = (0..n)
            .map(|i| from + (to - from) * (f64::from(i) + 0.5) / f64::from(n))
            .map(|feet| make_chance(&s, ShotZone::ArcThree, 7.0, feet * FOOT, 0.0))
            .sum::<f64>()
            / f64::from(n);
        println!("{from}–{to} ft: {mean:.3}");
        assert!(
            (low - 0.005..=high + 0.005).contains(&mean),
            "{from}–{to} ft: {mean:.3}"
        );
    }
}

#[test]
fn open_over_contested_is_worth_about_what_one_star_shows() {
    // Points of an open shot over a contested one (5 ft): +0.18 restricted area, +0.10 key, +0.12 corner
    // three (read: EPV demo table, one star player).
    let s = Level::ProMen.player(3, Position::Wing).shooting;
    for (zone, d, uplift) in [
        (ShotZone::Rim, 0.6, 0.18),
        (ShotZone::Paint, 3.0, 0.10),
        (ShotZone::CornerThree, 6.75, 0.12),
    ] {
        let mean = |open: bool| {
            let (mut sum, mut weight) = (0.0, 0.0);
            for &(feet, share) in mix(zone) {
                // Half of the band 4–6 ft lies on either side of 5 ft.
                let share = match feet {
                    5.0 => share / 2.0,
                    _ if (feet > 5.0) == open => share,
                    _ => 0.0,
                };
                sum += share * shot_value(&s, zone, d, feet * FOOT);
                weight += share;
            }
            sum / weight
        };
        let ours = mean(true) - mean(false);
        println!("{}: {ours:.2}, read {uplift}", zone.word());
        assert!((ours - uplift).abs() < 0.1, "{}: {ours:.2}", zone.word());
    }
}

#[test]
fn raw_percentages_fall_with_room_when_distance_is_not_controlled() {
    // Read: numberFire 2013-14 analysis; analyticsgame.com. Shares of shots: 0.33 rim, 0.27 other twos,
    // 0.40 threes (invented, near the professional men's).
    let s = Level::ProMen.player(3, Position::Wing).shooting;
    let raw = |band: usize| {
        let (mut makes, mut shots) = (0.0, 0.0);
        for (zone, d, share) in [
            (ShotZone::Rim, 0.6, 0.33),
            (ShotZone::MidRange, 4.5, 0.27),
            (ShotZone::ArcThree, 7.3, 0.40),
        ] {
            let (feet, of_zone) = mix(zone)[band];
            makes += share * of_zone * make_chance(&s, zone, d, feet * FOOT, 0.0);
            shots += share * of_zone;
        }
        makes / shots
    };
    println!(
        "raw by band: {:.3} {:.3} {:.3} {:.3}",
        raw(0),
        raw(1),
        raw(2),
        raw(3)
    );
    assert!(
        raw(0) > raw(2) && raw(1) > raw(2),
        "{:.3} {:.3} {:.3}",
        raw(0),
        raw(1),
        raw(2)
    );
}

proptest! {
    #[test]
    fn more_room_never_hurts_and_a_closing_defender_never_helps(
        level in 0usize..11, zone in 0usize..5, distance in 0.0..13.0f64,
        room in 0.0..5.0f64, more in 0.0..3.0f64, closing in 0.0..8.0f64,
    ) {
        let s = Level::ALL[level].player(3, Position::Wing).shooting;
        let zone = ShotZone::ALL[zone];
        let chance = make_chance(&s, zone, distance, room, 0.0);
        prop_assert!((0.0..=1.0).contains(&chance));
        prop_assert!(make_chance(&s, zone, distance, room + more, 0.0) >= chance);
        prop_assert!(make_chance(&s, zone, distance, room, closing) <= chance);
        // No jump: a centimetre changes it by less than two points in a hundred.
        prop_assert!((make_chance(&s, zone, distance + 0.01, room, 0.0) - chance).abs() < 0.02);
        prop_assert!((make_chance(&s, zone, distance, room + 0.01, 0.0) - chance).abs() < 0.02);
    }
}

/// Seconds that a body at rest needs over `way` m, stepped at 25 Hz, the last tick in part.
fn sprint(limits: &Limits, way: f64) -> f64 {
    let dt = 0.04;
    let intent = Intent {
        target: Vec2::new(0.0, 1e3),
        arrive: false,
        pace: 1.0,
        face: None,
    };
    let mut body = Body {
        pos: Vec2::ZERO,
        vel: Vec2::ZERO,
        facing: Vec2::new(0.0, 1.0),
    };
    let mut ticks = 0u32;
    loop {
        let next = step(&Model::shipped(), &body, limits, &intent, dt);
        if next.pos.y >= way {
            return dt * (f64::from(ticks) + (way - body.pos.y) / (next.pos.y - body.pos.y));
        }
        ticks += 1;
        assert!(ticks < 1000, "he never gets there");
        body = next;
    }
}

#[test]
fn twenty_metres_take_about_what_timing_gates_say() {
    // 20 m by timing gates (flying start): from memory, low–med. A body here starts at rest without
    // the gates' half metre, and runs no faster than in play: 0 to 0.6 s more than the middle of the range.
    for (level, low, high) in [
        (Level::ProMen, 3.0, 3.1),
        (Level::CollegeWomen, 3.3, 3.5),
        (Level::VarsityBoys, 3.1, 3.3),
        (Level::Under14, 3.4, 3.6),
        (Level::Under12, 3.7, 3.9),
    ] {
        let ours = sprint(&level.player(3, Position::Wing).limits, 20.0);
        let gate = (low + high) / 2.0;
        println!(
            "{}: 20 m in {ours:.2} s, by gates {low}–{high}",
            level.word()
        );
        assert!(
            (0.0..=0.6).contains(&(ours - gate)),
            "{}: {ours:.2} s",
            level.word()
        );
    }
}

#[test]
fn levels_stay_within_the_ranges_of_the_trade() {
    for level in Level::ALL {
        for p in level.squad("test").players {
            let l = p.limits;
            let child = level < Level::JuniorVarsityBoys;
            // From memory; turn and maximal sprints: common practice, no source.
            assert!(
                (if child { 4.4 } else { 5.5 }..=8.2).contains(&l.top_speed),
                "{level:?}"
            );
            assert!((3.0..=5.2).contains(&l.accel) && l.brake > l.accel && l.brake <= 6.0);
            assert!((3.7..=6.2).contains(&l.turn));
            assert!((0.6..=0.7).contains(&l.shuffle) && (0.55..=0.65).contains(&l.backpedal));
            assert!((0.18..=0.30).contains(&l.reaction));
            assert!((l.standing_reach / l.height - 1.33).abs() < 1e-9);
            assert!((0.2..=0.35).contains(&l.radius) && l.reach <= 1.0);
            let s = p.shooting;
            assert!(
                s.rim > s.paint && s.paint >= s.mid_range * 0.95 && s.corner_three >= s.arc_three
            );
        }
    }
    // Maximal sprints (common practice): under 10, 12, 14: 5.0, 5.6, 6.3; high-school boys 7.0; college
    // men 7.8; professional men 8.2; college women 6.8 m/s. Play is no faster for the typical player.
    for (level, most) in [
        (Level::Under10, 5.0),
        (Level::Under12, 5.6),
        (Level::Under14, 6.3),
        (Level::VarsityBoys, 7.0),
        (Level::CollegeMen, 7.8),
        (Level::ProMen, 8.2),
        (Level::CollegeWomen, 6.8),
    ] {
        let l = level.player(3, Position::Wing);
        assert!(
            l.limits.top_speed <= most && l.limits.top_speed >= 0.9 * most,
            "{level:?}"
        );
    }
    // Chest pass: under 10, 12, 14: 5–6, 6–7.5, 7.5–9; adults 8–12 m/s (common practice; from memory).
    for (level, low, high) in [
        (Level::Under10, 5.0, 6.0),
        (Level::Under12, 6.0, 7.5),
        (Level::Under14, 7.5, 9.0),
        (Level::JuniorVarsityGirls, 8.0, 12.0),
        (Level::VarsityBoys, 8.0, 12.0),
        (Level::ProMen, 8.0, 12.0),
    ] {
        let speed = level.player(1, Position::Guard).hands.pass_speed;
        assert!((low..=high).contains(&speed), "{level:?}: {speed}");
    }
}

#[test]
fn a_measured_sprint_is_run_in_the_time_measured() {
    for (level, seconds) in [
        ("varsity", 3.3),
        ("varsity", 3.6),
        ("varsity", 4.2),
        ("under_10", 5.6),
        ("pro_women", 3.5),
        ("pro", 3.2),
    ] {
        for number in [1, 4, 5] {
            let text = format!(
                "(name: \"A\", level: {level}, players: [(number: {number}, sprint: {seconds})])"
            );
            let squad = read_squad(&text).unwrap().squad();
            let limits = squad.players[number - 1].limits;
            let by_hand = sprint(&limits, SPRINT_WAY) - HAND_TIMING;
            println!(
                "{level} {number}: {seconds} → {by_hand:.3}, {:.2} m/s, {:.2} m/s²",
                limits.top_speed, limits.accel
            );
            assert!(
                (by_hand / seconds - 1.0).abs() < 0.02,
                "{level}: {seconds} s → {by_hand:.3} s"
            );
        }
    }
}

#[test]
fn shipped_squads_are_read_and_differ_from_their_level() {
    for text in [
        include_str!("../../scenarios/squads/harbour_hawks.ron"),
        include_str!("../../scenarios/squads/millbrook_owls.ron"),
    ] {
        let raw = read_squad(text).unwrap();
        assert!(raw.note.contains("invented"));
        assert_eq!(raw.players.len(), 5);
        let squad = raw.squad();
        for (i, player) in squad.players.iter().enumerate() {
            assert_eq!(usize::from(player.number), i + 1);
            let plain = raw
                .level
                .player(player.number, Position::of_number(player.number));
            assert!(player.limits != plain.limits && player.shooting != plain.shooting);
            // A varsity player is still one: 6 to 8 m/s.
            assert!(
                (6.0..=8.0).contains(&player.limits.top_speed),
                "{}",
                player.limits.top_speed
            );
        }
    }
}
