//! The three man-to-man models against the reference offence: what each leaves and what it shuts,
//! over 2,000 seeds, varsity boys on both sides. The claims are facts of the trade (common practice).

use std::sync::atomic::AtomicBool;
use std::sync::{Arc, LazyLock};

use lanelight::court::{CourtCode, Side, SpotName};
use lanelight::possession::What;
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Results, Scrimmage};
use lanelight::sim::{Keep, cast_untaught, play_shared};
use lanelight::squad::Level;
use lanelight::stats::Estimate;

const SEEDS: u64 = 2000;

/// Sag, denial, help line and the 2-3 zone, in this order.
static TABLE: LazyLock<[Results; 4]> = LazyLock::new(|| {
    ["sag", "denial", "help_line", "zone_2_3"].map(|defence| {
        let scenario = Scenario::from_parts(
            CourtCode::Nfhs,
            Level::VarsityBoys,
            "four_out_one_post",
            defence,
            &[],
        )
        .unwrap();
        let scrimmage = Scrimmage {
            first_seed: 1,
            possessions: SEEDS,
            threads: 2,
            until: None,
        };
        scrimmage
            .run(&scenario, &|_| {}, &mut |_| true, &AtomicBool::new(false))
            .unwrap()
    })
});

const SAG: usize = 0;
const DENIAL: usize = 1;
const HELP: usize = 2;
const ZONE: usize = 3;

fn figure(defence: usize, name: &str) -> Estimate {
    TABLE[defence]
        .estimate(name)
        .unwrap_or_else(|| panic!("no figure {name}"))
}

/// `more` is above `less`, and their intervals do not overlap.
fn clearly_more(name: &str, more: usize, less: usize) {
    let (a, b) = (figure(more, name), figure(less, name));
    println!("{name}: {a:?} against {b:?}");
    assert!(a.low > b.high, "{name}: {a:?} is not clearly above {b:?}");
}

#[test]
fn sag_leaves_perimeter_passing_lanes_open() {
    clearly_more("next_pass_openness", SAG, DENIAL);
    clearly_more("next_pass_openness", SAG, HELP);
    // Two thirds of the time, "open" being a chance of more than one half to get there.
    assert!(figure(SAG, "next_pass_held").low > 2.0 / 3.0);
}

#[test]
fn sag_shuts_drives() {
    clearly_more("drive_openness", DENIAL, SAG);
    clearly_more("lane_open", DENIAL, SAG);
    assert!(figure(SAG, "lane_open").high < 0.1);
}

#[test]
fn denial_shuts_the_next_pass() {
    clearly_more("next_pass_openness", HELP, DENIAL);
    // Not all the time: whoever is denied takes his man in and comes back out to the ball.
    let (denial, help) = (
        figure(DENIAL, "next_pass_held"),
        figure(HELP, "next_pass_held"),
    );
    assert!(denial.high < 0.6 * help.low, "{denial:?} against {help:?}");
}

#[test]
fn denial_leaves_many_times_the_backdoor_chances_of_sag() {
    clearly_more("backdoor_cut_there", DENIAL, SAG);
    let (denial, sag) = (
        figure(DENIAL, "backdoor_cut_there"),
        figure(SAG, "backdoor_cut_there"),
    );
    assert!(denial.low > 5.0 * sag.high, "{denial:?} against {sag:?}");
}

#[test]
fn the_help_line_shuts_drives_more_than_denial() {
    clearly_more("drive_openness", DENIAL, HELP);
    clearly_more("lane_open", DENIAL, HELP);
}

#[test]
fn the_help_line_shuts_backdoor_finishes_more_than_denial() {
    clearly_more("backdoor_cut_there", DENIAL, HELP);
    clearly_more("backdoor_cut_finished", DENIAL, HELP);
}

#[test]
fn the_help_line_leaves_skip_passes_unused() {
    clearly_more("skip_unused", HELP, DENIAL);
    assert!(figure(HELP, "skip_unused").low > 1.0, "one a possession");
    assert_eq!(figure(HELP, "skip_used").value, 0.0, "no rule takes it");
}

/// A skip pass that is open to a team-mate whose shot would be worth more than the usual possession.
#[test]
fn the_help_line_leaves_weak_side_spot_ups_unused() {
    clearly_more("weak_spot_up_unused", HELP, DENIAL);
    // Sag leaves them as well (the table shows how many); the zone leaves far more.
    assert!(
        figure(HELP, "weak_spot_up_unused").low > 0.1,
        "one in ten possessions"
    );
    clearly_more("weak_spot_up_unused", ZONE, HELP);
}

/// The reference offence is not made for a zone: its cuts run into defenders who do not follow, so
/// drives are shut, nobody is denied, and it lives on what it gets from outside and inside the gaps.
#[test]
fn against_the_zone_nothing_is_denied_and_the_drive_is_shut() {
    clearly_more("next_pass_openness", ZONE, DENIAL);
    clearly_more("drive_openness", DENIAL, ZONE);
    let (zone, denial) = (
        figure(ZONE, "backdoor_cut_there"),
        figure(DENIAL, "backdoor_cut_there"),
    );
    assert!(zone.high < 0.2 * denial.low, "{zone:?} against {denial:?}");
}

#[test]
fn the_zone_leaves_more_skip_passes_than_any_man_to_man() {
    for man in [SAG, DENIAL, HELP] {
        clearly_more("skip_open", ZONE, man);
    }
}

#[test]
#[ignore = "too close to call: drives finish 0.268 of 2,000 possessions against the zone, 0.291 against the help line"]
fn the_zone_leaves_fewer_drives_than_the_help_line() {
    clearly_more("finishes_drive", HELP, ZONE);
}

#[test]
fn the_zone_leaves_fewer_drives_than_denial() {
    clearly_more("finishes_drive", DENIAL, ZONE);
}

#[test]
#[ignore = "too close: 0.320 (0.307 to 0.333) of 5,000 against 0.336 (0.323 to 0.349), 1 December 2026"]
fn the_zone_leaves_fewer_drives_than_sag() {
    clearly_more("finishes_drive", SAG, ZONE);
}

/// Printed for people: `cargo test --release --test defences -- --nocapture the_table`.
#[test]
fn the_table_over_the_models_is_complete() {
    let names = [
        "points",
        "turnovers",
        "next_pass_openness",
        "next_pass_held",
        "drive_openness",
        "lane_open",
        "backdoor_cut_there",
        "backdoor_cut_fed",
        "backdoor_cut_finished",
        "skip_open",
        "skip_unused",
        "weak_spot_up_unused",
        "stall_time",
    ];
    println!(
        "{:24} {:>18} {:>18} {:>18} {:>18}",
        "", "sag", "denial", "help line", "2-3 zone"
    );
    for name in names {
        print!("{name:24}");
        for defence in [SAG, DENIAL, HELP, ZONE] {
            let e = figure(defence, name);
            assert_eq!(TABLE[defence].possessions, SEEDS);
            print!(" {:>8.3} ± {:<7.3}", e.value, e.half_width());
        }
        println!();
    }
}

fn against(defence: &str) -> Scenario {
    let (court, level) = (CourtCode::Nfhs, Level::VarsityBoys);
    Scenario::from_parts(court, level, "four_out_one_post", defence, &[]).unwrap()
}

/// Of the passes of these seeds: to player 3, and all.
fn passes_to_three(defence: &str) -> (f64, f64) {
    let scenario = against(defence);
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let mut passes = (0.0, 0.0);
    for seed in 1..=300 {
        for entry in play_shared(&scenario, &cast, seed, Keep::FIGURES).timeline {
            if let What::Passes { to, .. } = entry.what {
                passes.0 += f64::from(u8::from(to == 3));
                passes.1 += 1.0;
            }
        }
    }
    passes
}

#[test]
#[ignore = "with the player in 83 % of the time, 85 asked: missed since holders see all their mates and pass sooner; nobody else has the player at any time (29 November 2026)"]
fn a_chaser_goes_with_the_player_and_the_others_do_not() {
    let scenario = against("box_and_chaser");
    let cast = cast_untaught(&scenario);
    let (mut near, mut all, mut others) = (0, 0, 0);
    let scenario = Arc::new(scenario);
    for seed in 1..=60 {
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        for f in p.track.iter().filter(|f| f.time > 2.0) {
            all += 1;
            near += usize::from((f.defenders[2] - f.attackers[2]).length() < 2.2);
            let takes = |d: &usize| *d != 2 && f.guards[*d] == 3;
            others += (0..5).filter(takes).count();
        }
    }
    println!("near: {near} of {all} frames; others with the player in {others}");
    assert!(all > 5000 && near * 100 >= all * 85, "{near} of {all}");
    assert_eq!(others, 0);
}

#[test]
fn the_chased_player_gets_the_ball_less_than_against_the_zone() {
    let [boxed, zone] = ["box_and_chaser", "zone_2_3"].map(passes_to_three);
    println!("passes to player 3: {boxed:?} chased, {zone:?} not");
    let share = |of: (f64, f64)| of.0 / of.1;
    let half = |of: (f64, f64)| 1.96 * (share(of) * (1.0 - share(of)) / of.1).sqrt();
    let gap = share(zone) - share(boxed);
    assert!(gap > libm::hypot(half(boxed), half(zone)), "{gap:.3}");
}

#[test]
fn a_box_with_a_chaser_from_the_other_side_is_the_mirror_image() {
    let mut scenario = against("box_and_chaser");
    let mut from = |side| {
        scenario.start = Some(side);
        // The areas are written left and right.
        let areas = scenario.defence.zone.iter_mut().flatten();
        areas
            .filter(|_| side == Side::Left)
            .for_each(|a| a.x = -a.x);
        let cast = cast_untaught(&scenario);
        play_shared(&Arc::new(scenario.clone()), &cast, 5, Keep::ALL)
    };
    let (right, left) = (from(Side::Right), from(Side::Left));
    assert_eq!(right.track.len(), left.track.len());
    for (f, g) in right.track.iter().zip(&left.track) {
        for (p, q) in f.defenders.iter().zip(&g.defenders) {
            assert_eq!((p.x, p.y), (-q.x, q.y), "at {}", f.time);
        }
    }
}

/// Drives to the middle and to the baseline, by an offence that tells them apart.
fn ways_of_drives(scenario: &Scenario) -> (f64, f64) {
    let text = "(name: \"d\", ball: 1, alignment: [(player: 1, at: slot(ball)), (player: 2, at: slot(weak)), (player: 3, \
                at: wing(ball)), (player: 4, at: wing(weak)), (player: 5, at: block(weak))], keep_filled: [slot(ball), \
                slot(weak), wing(ball), wing(weak)], rules: [(name: \"m\", when: drive(from: perimeter, toward: \
                middle), do: [(who: post, does: drop_off)]), (name: \"b\", when: drive(from: perimeter, toward: \
                baseline), do: [(who: post, does: drop_off)])], reading: [shot, drive, drop_off, kick_out, next_pass])";
    let mut scenario = scenario.clone();
    scenario.offence = lanelight::scenario::read_offence(text, "d")
        .unwrap_or_else(|e| panic!("{e}"))
        .value;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let mut ways = (0.0, 0.0);
    for seed in 1..=300 {
        for entry in &play_shared(&scenario, &cast, seed, Keep::ALL).timeline {
            match entry.what {
                What::Rule { rule: 0, .. } => ways.0 += 1.0,
                What::Rule { rule: 1, .. } => ways.1 += 1.0,
                _ => {}
            }
        }
    }
    ways
}

#[test]
fn a_defence_that_forces_to_one_side_is_driven_on_there() {
    let mut middle = against("help_line");
    middle.defence.stances.on_ball.midline = -0.4;
    let all = [against("force_sideline"), against("help_line"), middle];
    let [sideline, straight, middle] = all.map(|scenario| {
        let (m, b) = ways_of_drives(&scenario);
        let share = m / (m + b);
        (
            share,
            1.96 * (share * (1.0 - share) / (m + b)).sqrt(),
            m + b,
        )
    });
    println!(
        "to the middle: {sideline:?} forced to the sideline, {straight:?} not forced, {middle:?} forced to the middle"
    );
    for (less, more) in [(sideline, straight), (straight, middle)] {
        assert!(
            more.0 - less.0 > libm::hypot(less.1, more.1),
            "{less:?} and {more:?}"
        );
    }
}

/// Catches in a corner that are held there for 2.6 s without a drive; in how many of them two defenders are at the ball
/// by then; and of the two team-mates nearest to the ball, how many have one of the three others within 3.5 m.
fn trapped(trap: bool) -> (usize, usize, f64) {
    let (court, level) = (CourtCode::Nfhs, Level::VarsityBoys);
    let offence = "five_out_give_and_go";
    let mut scenario = Scenario::from_parts(court, level, offence, "help_line", &[]).unwrap();
    scenario.defence.trap_corners = trap;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut all, mut two, mut met) = (0, 0, 0);
    for seed in 1..=2400 {
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        for entry in &p.timeline {
            let What::Catches { who, at, off, .. } = entry.what else {
                continue;
            };
            let held = |t: f64| t > entry.time && t < entry.time + 2.6;
            let mut later = p.timeline.iter().filter(|e| held(e.time));
            let drives = later.any(|e| matches!(e.what, What::Drives { .. }));
            let then = p.track.iter().find(|f| f.time > entry.time + 2.6);
            let Some(f) = then.filter(|f| f.holder == Some(who)) else {
                continue;
            };
            let holder = usize::from(who) - 1;
            let ball = f.attackers[holder];
            let in_it = (ball - scenario.court.spot(at)).length() < 1.5;
            if at.name != SpotName::Corner || off > 1.5 || drives || !in_it {
                continue;
            }
            all += 1;
            let far = |i: &usize| (f.defenders[*i] - ball).length();
            let mut five = [0, 1, 2, 3, 4];
            five.sort_by(|a, b| far(a).total_cmp(&far(b)));
            two += usize::from(far(&five[1]) < 1.8);
            let mut mates: Vec<usize> = (0..5).filter(|i| *i != holder).collect();
            let to_ball = |i: &usize| (f.attackers[*i] - ball).length();
            mates.sort_by(|a, b| to_ball(a).total_cmp(&to_ball(b)));
            let near = |mate: &&usize| {
                let off = |d: &usize| (f.defenders[*d] - f.attackers[**mate]).length();
                five[2..].iter().any(|d| off(d) < 3.5)
            };
            met += mates[..2].iter().filter(near).count();
        }
    }
    let met = met as f64 / (2 * all).max(1) as f64;
    println!("trap {trap}: two at the ball in {two} of {all}, next passes met {met:.2}");
    (all, two, met)
}

#[test]
fn a_ball_held_in_the_corner_is_trapped_where_the_file_says_so() {
    let (all, few, _) = trapped(false);
    assert!(all >= 25 && few * 3 < all, "{few} of {all}");
    let (all, most, met) = trapped(true);
    assert!(all >= 25 && most * 10 >= all * 8, "{most} of {all}");
    assert!(met > 0.6, "{met}");
}
