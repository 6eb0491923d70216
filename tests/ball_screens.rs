//! Screens on the ball, as a file that a coach writes: set and used when they are ordered, and met as the defence
//! says.

use std::sync::Arc;

use lanelight::court::SpotName;
use lanelight::defence::{BallScreens, Duty, Helper};
use lanelight::offence::Event;
use lanelight::offence::LookKind;
use lanelight::possession::orders::{OrderEnd, Silence, Way};
use lanelight::possession::{Entry, Frame, Possession, TICK, What};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::orders::account;
use lanelight::sim::{Keep, cast_of, cast_untaught, play_accounted, play_shared, play_with_silent};

/// A possession of the continuity lasts long enough for both wings after this long, seconds (ours: two screens, each
/// with its reversal, of some seven seconds).
const LASTS: f64 = 15.0;

/// Possessions of each claim.
const POSSESSIONS: u64 = 50;

fn scenario(defence: &str, how: Option<BallScreens>) -> Scenario {
    let text = format!(
        "(name: \"b\", court: nfhs, level: varsity, offence: \"four_out_one_post\", defence: \"{defence}\")"
    );
    let mut scenario = Scenario::from_text(&text, "b.ron").unwrap_or_else(|e| panic!("{e}"));
    let text = std::fs::read_to_string("scenarios/offences/ball_screen_continuity.ron").unwrap();
    let read = lanelight::scenario::read_offence(&text, "o").unwrap_or_else(|e| panic!("{e}"));
    scenario.offence = read.value;
    scenario.defence.ball_screens = how;
    scenario
}

/// A holder comes off a screen.
struct Use {
    possession: Possession,
    time: f64,
    user: usize,
    screener: usize,
}

impl Use {
    fn frames(&self, from: f64, to: f64) -> impl Iterator<Item = &Frame> {
        let between = move |f: &&Frame| f.time > self.time + from && f.time <= self.time + to;
        self.possession.track.iter().filter(between)
    }

    /// The defenders of the user and of the screener at that moment.
    fn two(&self) -> Option<(usize, usize)> {
        let frame = self.frames(-0.1, 0.1).next()?;
        let of = |man: usize| frame.guards.iter().position(|g| usize::from(*g) == man + 1);
        Some((of(self.user)?, of(self.screener)?))
    }

    /// The best chance of the user to drive to the rim in the two seconds after.
    fn opens(&self) -> f64 {
        let moments = self.possession.moments.iter();
        let soon = moments.filter(|m| usize::from(m.holder) == self.user + 1);
        let soon = soon.filter(|m| m.time > self.time + 0.3 && m.time < self.time + 2.3);
        let drives = soon
            .flat_map(|m| &m.looks)
            .filter(|look| look.kind == LookKind::Drive);
        drives.map(|look| look.openness).fold(0.0, f64::max)
    }
}

/// The screens that holders came off, none refused, and how many were set.
fn uses(how: BallScreens) -> (Vec<Use>, usize) {
    uses_against(how, Helper::LowMan, POSSESSIONS)
}

fn uses_against(how: BallScreens, helper: Helper, possessions: u64) -> (Vec<Use>, usize) {
    let mut scenario = scenario("help_line", Some(how));
    scenario.defence.help.who = helper;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut all, mut set) = (Vec::new(), 0);
    for seed in 1..=possessions {
        let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
        let entries = possession.timeline.clone();
        for entry in entries {
            set += usize::from(matches!(entry.what, What::Screens { .. }));
            if let What::ComesOff { who, of, refuses } = entry.what {
                if refuses {
                    set -= 1;
                    continue;
                }
                all.push(Use {
                    possession: possession.clone(),
                    time: entry.time,
                    user: usize::from(who) - 1,
                    screener: usize::from(of) - 1,
                });
            }
        }
    }
    (all, set)
}

/// In how many of the uses it is so, of how many, in words.
fn share(all: &[Use], is: impl Fn(&Use, usize, usize) -> bool) -> (usize, usize) {
    let two = all.iter().filter_map(|one| one.two().map(|two| (one, two)));
    let so = two
        .clone()
        .filter(|(one, (own, other))| is(one, *own, *other));
    (so.count(), two.count())
}

fn at_least(what: &str, percent: usize, (so, all): (usize, usize)) {
    println!("{what}: {so} of {all}");
    assert!(
        all >= 30 && so * 100 >= all * percent,
        "{what}: {so} of {all}"
    );
}

/// Does a defender pass the screener on the rim's side?
fn goes_under(one: &Use, own: usize, _: usize) -> bool {
    let off = |f: &&Frame| (f.defenders[own] - f.attackers[one.screener]).length();
    let nearest = one
        .frames(0.0, 1.5)
        .min_by(|f, g| off(f).total_cmp(&off(g)));
    nearest.is_some_and(|f| f.defenders[own].length() < f.attackers[one.screener].length())
}

/// Does the driver leave the own defender behind?
fn beats(one: &Use, own: usize, _: usize) -> bool {
    let past = |f: &Frame| f.attackers[one.user].length() + 0.3 < f.defenders[own].length();
    one.frames(0.5, 1.6).any(past)
}

/// Does the screener's defender come to the ball?
fn comes_out(one: &Use, _: usize, other: usize) -> bool {
    let near = |f: &Frame| (f.defenders[other] - f.attackers[one.user]).length() < 1.7;
    one.frames(0.0, 1.2).any(near)
}

/// Is that one back between ball and rim a moment later, if the ball has not gone on?
fn drops(one: &Use, _: usize, other: usize) -> bool {
    let mut frames = one.frames(0.6, 1.0);
    let Some(f) = frames
        .next()
        .filter(|f| f.holder == Some(one.user as u8 + 1))
    else {
        return true;
    };
    f.defenders[other].length() < f.attackers[one.user].length() && f.duties[other] == Duty::LowHelp
}

#[test]
fn a_screen_on_the_ball_is_set_and_used_when_it_is_ordered() {
    let against = ["sag", "denial", "help_line"];
    let scenarios: Vec<Scenario> = against.iter().map(|d| scenario(d, None)).collect();
    let account = account(&scenarios, 120).unwrap();
    let line = &account.rules[0].lines[0];
    println!("set: {} of {}; {:?}", line.done, line.had_time, line.ends);
    assert!(line.had_time > 60 && line.done * 10 >= line.had_time * 9);
    assert_eq!(account.never, []);
    let (all, set) = uses(BallScreens::Over);
    println!("used: {} of {set}", all.len());
    assert!(set >= 30 && all.len() * 10 >= set * 9);
}

#[test]
#[ignore = "167 of 188 in 150 possessions, 30 November 2026, since who has the ball faces the rim: 89 % where 95 are asked"]
fn gone_under_the_holders_defender_passes_the_screener_on_the_rims_side() {
    at_least(
        "under, on the rim's side",
        95,
        share(&uses(BallScreens::Under).0, goes_under),
    );
}

#[test]
fn each_way_to_meet_it_is_met_so() {
    use BallScreens as B;
    let over = uses(B::Over).0;
    at_least("contain, drops", 85, share(&uses(B::Contain).0, drops));
    let switches = uses(B::Switch).0;
    let traded = |u: &Use, _: usize, _: usize| {
        let soon = |t: f64| t >= u.time && t < u.time + 1.0;
        let mut entries = u.possession.timeline.iter();
        entries.any(|e| soon(e.time) && matches!(e.what, What::Switches { .. }))
    };
    at_least("switch, traded", 95, share(&switches, traded));
    // And gone over, the screener's man does none of it.
    let out = share(&over, comes_out);
    assert!(out.0 * 2 < out.1, "over, comes out: {out:?}");
    assert_eq!(share(&over, traded).0, 0);
}

#[test]
#[ignore = "46 of 55, 29 November 2026, since a chase closes its gap at 2.4 in a second and not 3.5: 84 % where 85 are asked"]
fn gone_over_the_holders_defender_stays_on_the_balls_side() {
    let over = uses(BallScreens::Over).0;
    at_least(
        "over, on the ball's side",
        85,
        share(&over, |u, a, b| !goes_under(u, a, b)),
    );
}

#[test]
fn where_it_is_trapped_the_screeners_man_comes_out() {
    at_least("trap", 85, share(&uses(BallScreens::Trap).0, comes_out));
}

#[test]
fn where_it_is_shown_the_screeners_man_comes_out() {
    at_least("show", 85, share(&uses(BallScreens::Show).0, comes_out));
}

#[test]
fn gone_over_the_holder_leaves_his_own_man_behind_and_gone_under_seldom() {
    let [over, under] =
        [BallScreens::Over, BallScreens::Under].map(|how| share(&uses(how).0, beats));
    println!("over {over:?}, under {under:?}");
    at_least("over", 50, over);
    assert!(under.0 * 2 * over.1 < over.0 * under.1, "under {under:?}");
}

#[test]
#[ignore = "against the shipped help line the lane stays shut by the helpers either way: best drive openness within 2.3 s of the use 0.006 over, 0.006 under (55 and 54 uses, 29 November 2026)"]
fn the_lane_opens_less_against_under_than_against_over() {
    let [over, under] = [BallScreens::Over, BallScreens::Under].map(|how| {
        let all = uses(how).0;
        let best: Vec<f64> = all.iter().map(Use::opens).collect();
        best.iter().sum::<f64>() / best.len() as f64
    });
    println!("over {over:.3}, under {under:.3}");
    assert!(under < 0.5 * over);
}

/// How open the best drive is within 2.3 s of the use where nobody helps, gone over and gone under, each with half its
/// interval.
fn opens_where_nobody_helps(possessions: u64) -> [(f64, f64); 2] {
    [BallScreens::Over, BallScreens::Under].map(|how| {
        let all = uses_against(how, Helper::Nobody, possessions).0;
        let best: Vec<f64> = all.iter().map(Use::opens).collect();
        let n = best.len() as f64;
        let mean = best.iter().sum::<f64>() / n;
        let spread = best.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0);
        let half = 1.96 * (spread / n).sqrt();
        println!("{how:?}: {mean:.3} ± {half:.3} of {n}");
        (mean, half)
    })
}

#[test]
fn where_nobody_helps_the_lane_opens_less_against_under_than_against_over() {
    let [over, under] = opens_where_nobody_helps(3 * POSSESSIONS);
    let half = (under.1 * under.1 + over.1 * over.1).sqrt();
    assert!(under.0 + half < over.0);
}

#[test]
#[ignore = "0.49 ± 0.07 gone under, 0.64 ± 0.07 gone over (184 and 168 uses, 30 November 2026), since who has the ball faces the rim: the share is 0.76 where 0.7 is asked"]
fn where_nobody_helps_the_lane_opens_hardly_more_than_half_as_much_against_under() {
    let [over, under] = opens_where_nobody_helps(3 * POSSESSIONS);
    assert!(under.0 < 0.7 * over.0);
}

#[test]
// (Of 400 seeds with nobody taught, as was asked before, 30 of 55: too few to tell 55 from 60 in 100.)
fn the_continuity_comes_to_a_screen_on_either_wing_in_most_possessions_that_last() {
    let scenario = scenario("sag", None);
    let cast = cast_of(&scenario);
    let scenario = Arc::new(scenario);
    let (mut cycles, mut long) = (0, 0);
    for seed in 1..=4000 {
        let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
        let wings: Vec<f64> = possession
            .timeline
            .iter()
            .filter(|e| matches!(e.what, What::Screens { .. }))
            .filter_map(|e| possession.track.iter().find(|f| f.time >= e.time))
            .map(|f| f.ball[0].signum())
            .collect();
        let both = wings.windows(2).any(|two| two[0] != two[1]);
        if possession.duration >= LASTS {
            long += 1;
            cycles += usize::from(both);
        }
    }
    at_least("both wings", 60, (cycles, long));
}

/// Before: 29 of 201, whenever the one who held the top stood more than 1.2 m beside it.
#[test]
fn a_ball_held_on_top_keeps_the_side_from_which_it_came() {
    let text = "(name: \"Crosses\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, \
                at: wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: corner(ball))], keep_filled: [top, \
                wing(ball), wing(weak), corner(ball), corner(weak)], rules: [(name: \"It crosses\", when: ball_crosses, \
                do: [(who: at(corner(weak)), does: lift(wing(weak)))])], reading: [next_pass], drive_from: \
                [high_post], patience: (hold: 1.0))";
    let mut scenario = scenario("sag", None);
    scenario.offence = lanelight::scenario::read_offence(text, "crosses")
        .unwrap_or_else(|e| panic!("{e}"))
        .value;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut catches, mut crosses) = (0, 0);
    for seed in 1..=2 * POSSESSIONS {
        let possession = play_shared(&scenario, &cast, seed, Keep::FIGURES);
        let mut on_top = false;
        for entry in &possession.timeline {
            match entry.what {
                What::Catches { at, .. } => {
                    on_top = at.name == SpotName::Top;
                    catches += usize::from(on_top);
                }
                What::Passes { .. } => on_top = false,
                What::Rule { .. } => crosses += usize::from(on_top),
                _ => {}
            }
        }
    }
    println!("crossed with the ball on top: {crosses}, caught there: {catches}");
    assert!(
        catches >= 60 && crosses * 50 <= catches,
        "{crosses} of {catches}"
    );
}

/// An offence of one rule: a screen for the holder on top, after which the screener pops to a place.
fn pops_to(place: &str) -> (usize, usize) {
    let rule = format!("screen_for(whom: holder, after: {place})");
    let text = format!(
        "(name: \"Pop\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
         wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(ball))], keep_filled: [top, wing(ball), \
         wing(weak), corner(weak)], rules: [(name: \"P\", when: ball_on(at: top, seconds: 0.3), do: [(who: player(5), \
         does: {rule})]), (name: \"D\", when: drive(from: top), do: [(who: at(wing(ball)), does: \
         drift(corner(ball)))])], reading: [shot, drive, kick_out, next_pass], drive_from: [corner(either)], patience: \
         (hold: 2.0))"
    );
    let mut scenario = scenario("sag", None);
    scenario.offence = lanelight::scenario::read_offence(&text, "pop")
        .unwrap_or_else(|e| panic!("{e}"))
        .value;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut there, mut all) = (0, 0);
    for seed in 1..=2 * POSSESSIONS {
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        let off = p.timeline.iter().find_map(|e| match e.what {
            What::ComesOff { of: 5, .. } => Some(e.time),
            _ => None,
        });
        let Some(off) = off else { continue };
        // To the first place that is said after it; nobody asks more of a possession that is over before.
        let fills = p.timeline.iter().find_map(|e| match e.what {
            What::Fills { who: 5, to } if e.time >= off => Some(to.name),
            _ => None,
        });
        all += usize::from(fills.is_some());
        there += usize::from(fills == Some(SpotName::Top));
    }
    (there, all)
}

#[test]
fn a_pop_goes_to_the_place_that_the_holder_leaves_and_a_rule_may_answer_the_drive_off_the_screen() {
    at_least("fill(top)", 90, pops_to("fill(top)"));
    at_least("replace(holder)", 90, pops_to("replace(holder)"));
}

/// Rolls of a second and a half, and those in which a defender other than the two at the screen comes between the
/// roller and the rim.
fn tagged(how: BallScreens, tag: Option<Helper>) -> (f64, f64) {
    let mut scenario = scenario("help_line", Some(how));
    scenario.defence.tag = tag;
    // Where a helper goes to the ball the roller is met on the way: it is the tag alone that is looked at.
    scenario.defence.help.who = Helper::Nobody;
    scenario.defence.help.rotate = false;
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut met, mut all) = (0.0, 0.0);
    for seed in 1..=3 * POSSESSIONS {
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        for entry in &p.timeline {
            let What::ComesOff {
                of, refuses: false, ..
            } = entry.what
            else {
                continue;
            };
            let one = Use {
                possession: p.clone(),
                time: entry.time,
                user: match entry.what {
                    What::ComesOff { who, .. } => usize::from(who) - 1,
                    _ => continue,
                },
                screener: usize::from(of) - 1,
            };
            let Some((own, other)) = one.two() else {
                continue;
            };
            let between = |f: &Frame| {
                let at = f.attackers[one.screener];
                (0..5).filter(|d| *d != own && *d != other).any(|d| {
                    let guard = f.defenders[d];
                    (guard - at).length() < 1.6 && guard.length() < at.length()
                })
            };
            all += 1.0;
            met += f64::from(u8::from(
                one.frames(0.4, 2.4).filter(|f| between(f)).count() >= 5,
            ));
        }
    }
    (met, all)
}

#[test]
fn a_roller_is_met_by_who_tags_when_the_own_defender_shows() {
    for how in [BallScreens::Show, BallScreens::Trap] {
        let without = tagged(how, None);
        let [low, near] = [Helper::LowMan, Helper::Nearest].map(|who| tagged(how, Some(who)));
        println!("{how:?}: nobody {without:?}, low man {low:?}, nearest {near:?}");
        for with in [low, near] {
            let share = |of: (f64, f64)| of.0 / of.1;
            let half = |of: (f64, f64)| 1.96 * (share(of) * (1.0 - share(of)) / of.1).sqrt();
            let gap = share(with) - share(without);
            assert!(
                gap > libm::hypot(half(with), half(without)),
                "{how:?}: {gap}"
            );
        }
    }
}

/// Rolls that begin before the contact, and screens on the ball that are set; and how often the defender of the
/// screener who slips is on the ball's side of the slipper for the next half second.
fn slips(how: BallScreens) -> (usize, usize, usize) {
    let scenario = scenario("help_line", Some(how));
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut slips, mut screens, mut behind) = (0, 0, 0);
    for seed in 1..=7 * POSSESSIONS {
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        for entry in &p.timeline {
            match entry.what {
                What::Screens { .. } => screens += 1,
                What::Slips { who, on } => {
                    slips += 1;
                    let later = p.track.iter().find(|f| f.time > entry.time + 0.5);
                    let (who, on) = (usize::from(who) - 1, usize::from(on) - 1);
                    let beaten = |f: &Frame| f.defenders[on].length() > f.attackers[who].length();
                    behind += usize::from(later.is_some_and(beaten));
                }
                _ => {}
            }
        }
    }
    println!("{how:?}: {slips} slips, {behind} of them free of their man, {screens} screens");
    (slips, screens, behind)
}

#[test]
fn a_screener_slips_only_where_the_defence_shows_early_and_leaves_his_man_behind() {
    for how in [BallScreens::Over, BallScreens::Show, BallScreens::Contain] {
        assert_eq!(slips(how).0, 0);
    }
    let (slips, _, behind) = slips(BallScreens::ShowEarly);
    at_least("free of his man", 80, (behind, slips));
    assert!(slips >= 20, "{slips}");
}

/// The ball-screen offence that a newcomer wrote from the guide alone: screens for the holder of a slot.
#[test]
fn a_screen_for_the_holder_of_a_slot_is_on_the_side_of_the_middle() {
    let text = std::fs::read_to_string("tests/ball_screens/spread_and_swing.ron").unwrap();
    let read = lanelight::scenario::read_offence(&text, "o").unwrap_or_else(|e| panic!("{e}"));
    let mut scenario = scenario("sag", None);
    scenario.offence = read.value;
    let cast = cast_of(&scenario);
    let scenario = Arc::new(scenario);
    let (mut right, mut all) = (0, 0);
    for seed in 1..=2 * POSSESSIONS {
        let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
        let entries = &possession.timeline;
        for (at, entry) in entries.iter().enumerate() {
            let What::Screens { who, on } = entry.what else {
                continue;
            };
            // Which slot it was is told by the drive off the screen.
            let drives = entries[at..].iter().find_map(|e| match e.what {
                What::Drives { who, from } if who == on && e.time < entry.time + 2.0 => Some(from),
                _ => None,
            });
            let slot = drives.filter(|from| from.name == SpotName::Slot);
            let frame = possession.track.iter().find(|f| f.time >= entry.time);
            let (Some(side), Some(frame)) = (slot.and_then(|slot| slot.side), frame) else {
                continue;
            };
            let Some(guard) = frame.guards.iter().position(|man| *man == on) else {
                continue;
            };
            let off = frame.attackers[usize::from(who) - 1] - frame.defenders[guard];
            all += 1;
            right += u64::from(off.x * side.sign() < 0.0);
        }
    }
    println!("on the side of the middle: {right} of {all}");
    assert!(all >= 60 && right * 100 >= all * 97, "{right} of {all}");
}

/// Before: "the ball went on first", as of a flash, whatever the holder did.
#[test]
fn of_a_screen_that_never_arrives_is_told_whether_the_holder_passed_or_drove() {
    // A newcomer's file, against the defence that is up on everybody; and the holder may drive from anywhere.
    let mut scenario = scenario("denial", None);
    let text = std::fs::read_to_string("tests/ball_screens/follows_the_ball.ron").unwrap();
    let read = lanelight::scenario::read_offence(&text, "o").unwrap_or_else(|e| panic!("{e}"));
    scenario.offence = read.value;
    scenario.offence.drive_from = vec![lanelight::offence::Place::Any];
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut passed, mut drove) = (0, 0);
    for seed in 1..=400 {
        let (possession, orders) = play_accounted(&scenario, &cast, seed);
        let entries = &possession.timeline;
        let then = |time: f64, is: fn(&What) -> bool| {
            entries
                .iter()
                .any(|e| (e.time - time).abs() < 0.5 && is(&e.what))
        };
        for order in &orders {
            match order.end {
                OrderEnd::HolderDrove | OrderEnd::HolderDroveEarly => {
                    drove += 1;
                    assert!(
                        then(order.ended, |w| matches!(w, What::Drives { .. })),
                        "{seed}: {order:?}"
                    );
                }
                OrderEnd::HolderPassed | OrderEnd::HolderPassedEarly => {
                    passed += 1;
                    assert!(
                        then(order.ended, |w| matches!(
                            w,
                            What::Passes { .. } | What::Shoots { .. }
                        )),
                        "{seed}: {order:?}"
                    );
                }
                _ => {}
            }
        }
    }
    println!("passed {passed}, drove {drove}");
    assert!(passed > 0 && drove > 0);
}

/// A newcomer's file, written from the guide alone.
fn newcomers(file: &str, defence: &str) -> Scenario {
    let mut scenario = scenario(defence, None);
    let text = std::fs::read_to_string(file).unwrap();
    let read = lanelight::scenario::read_offence(&text, "o").unwrap_or_else(|e| panic!("{e}"));
    scenario.offence = read.value;
    scenario
}

/// Before: a screen that stood counted as carried out, and nothing told that the holder passed, shot or stood.
#[test]
fn of_a_screen_that_stands_is_told_what_the_holder_makes_of_it() {
    let scenario = Arc::new(newcomers("tests/screens/two_levels.ron", "sag"));
    let cast = cast_untaught(&scenario);
    let late = scenario.offence.rules.len() - 1;
    let (mut used, mut passed, mut stood) = (0, 0, 0);
    for seed in 1..=400 {
        let (possession, orders) = play_accounted(&scenario, &cast, seed);
        let set = orders
            .iter()
            .filter(|o| (o.rule, o.step, o.end) == (late, 0, OrderEnd::Done));
        for order in set {
            let way = order.way.unwrap_or_else(|| panic!("{seed}: {order:?}"));
            assert!(way.is_on_the_ball(), "{seed}: {order:?}");
            let after = possession.timeline.iter().filter(|e| e.time >= order.ended);
            let screens = |of: u8| Some(of) == order.who;
            // The next thing that a holder does with the ball is what is told.
            let mut next = after.filter_map(|e| match e.what {
                What::ComesOff { of, .. } if screens(of) => Some((Way::Driven, e.time)),
                What::Passes { .. } => Some((Way::Passed, e.time)),
                What::Shoots { .. } => Some((Way::Shot, e.time)),
                _ => None,
            });
            let (what, time) = next.next().unwrap_or((Way::Lost, f64::INFINITY));
            match way {
                Way::Driven | Way::Refused => assert_eq!(what, Way::Driven, "{seed}: {order:?}"),
                Way::Passed | Way::Shot => assert_eq!(what, way, "{seed}: {order:?}"),
                _ => assert!(time > order.ended + 1.0, "{seed}: {order:?}"),
            }
            used += u32::from(way == Way::Driven);
            passed += u32::from(way == Way::Passed);
            stood += u32::from(way == Way::Stood);
        }
    }
    println!("used {used}, passed {passed}, stood {stood}");
    assert!(used > 10 && passed > 3 && stood > 3);
}

/// Before: carried out wherever the ball was (28 of 28).
#[test]
fn to_show_after_a_screen_on_the_ball_is_too_late_once_somebody_else_has_it() {
    let scenario = Arc::new(newcomers("tests/ball_screens/slots.ron", "sag"));
    let cast = cast_untaught(&scenario);
    let short_roll = |rule: usize| scenario.offence.rules[rule].name.contains("short roll");
    let (mut shown, mut late) = (0, 0);
    for seed in 1..=200 {
        let (possession, orders) = play_accounted(&scenario, &cast, seed);
        for order in orders.iter().filter(|o| short_roll(o.rule) && o.step == 1) {
            let passes = possession.timeline.iter().any(|e| match e.what {
                What::Passes { to, .. } => {
                    Some(to) != order.who && e.time > order.told && e.time < order.ended - 0.1
                }
                _ => false,
            });
            match order.end {
                OrderEnd::Done => {
                    assert!(!passes, "{seed}: {order:?}");
                    shown += 1;
                }
                OrderEnd::BallWentOn | OrderEnd::BallWentOnEarly => late += 1,
                _ => {}
            }
        }
    }
    println!("shown {shown}, too late {late}");
    assert!(shown > 0 && late > 0);
}

/// Before: who was fed on a backdoor cut through the high post caught it "at the high post".
#[test]
fn a_catch_at_a_place_is_none_of_a_cutter_who_runs_through_it() {
    let mut scenario = newcomers("tests/ball_screens/slots.ron", "denial");
    let index = scenario.offence.rules.len();
    for at in ["inside", "perimeter", "rim"] {
        let rule = format!(
            "(name: \"{at}\", when: catch(at: {at}), do: [(who: player(1), does: hold), (who: player(5), does: hold)])"
        );
        scenario.offence.rules.push(ron::from_str(&rule).unwrap());
    }
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (mut through, mut there) = (0, 0);
    for seed in 1..=120 {
        let possession = play_shared(&scenario, &cast, seed, Keep::ALL);
        for entry in &possession.timeline {
            let What::Catches { who, .. } = entry.what else {
                continue;
            };
            let body = |time: f64| {
                let frame = possession.track.iter().find(|f| f.time > time - 0.02)?;
                Some(frame.attackers[usize::from(who) - 1])
            };
            let Some((at, before)) = body(entry.time).zip(body(entry.time - 0.08)) else {
                continue;
            };
            let cut = possession.timeline.iter().rev().find(|e| {
                e.time <= entry.time
                    && matches!(e.what, What::Cuts { who: w, .. } | What::Fills { who: w, .. } | What::Unfed { who: w, .. } if w == who)
            });
            let cuts = cut.is_some_and(|e| matches!(e.what, What::Cuts { .. }));
            let runs = (before.length() - at.length()) / 0.08;
            let answers = |wanted: usize| {
                let mut near = possession
                    .timeline
                    .iter()
                    .filter(|e| (e.time - entry.time).abs() < 0.1);
                near.any(|e| matches!(e.what, What::Rule { rule, .. } if rule == wanted))
            };
            let fired = answers(index) || answers(index + 1);
            // (Well within the bounds of who goes on to the rim.)
            if cuts && runs > 3.0 && at.length() > 1.8 && at.length() < 4.6 {
                let right = !fired && answers(index + 2);
                assert!(right, "{seed}, {:.1} s", entry.time);
                through += 1;
            }
            there += u32::from(fired);
        }
    }
    println!("through {through}, there {there}");
    assert!(through > 3 && there > 50);
}

/// A cut to the rim lasts longer than this, seconds.
const STILL_CUTTING: f64 = 0.9;

/// Before: thrown a moment after the cut had begun, it was the next pass, as it had been chosen, and the cutter caught it as
/// if to shoot from there (3 of 99).
#[test]
fn a_pass_to_a_cutter_is_one_also_where_the_cut_began_after_it_was_chosen() {
    let scenario = Arc::new(newcomers("tests/ball_screens/slots.ron", "denial"));
    let cast = cast_untaught(&scenario);
    let (mut passes, mut other) = (0, Vec::new());
    for seed in 1..=900 {
        let played = play_shared(&scenario, &cast, seed, Keep::ALL);
        for (i, entry) in played.timeline.iter().enumerate() {
            let What::Passes { to, look, .. } = entry.what else {
                continue;
            };
            let his = |e: &&Entry| match e.what {
                What::Cuts { who, .. } | What::Unfed { who, .. } => who == to,
                _ => false,
            };
            // (In the tick in which the pass leaves nobody has seen a cut that begins.)
            let since = |e: &Entry| entry.time - e.time;
            let last = played.timeline[..i].iter().rev().find(his);
            let cuts = last.is_some_and(|e| {
                let now = since(e) > 0.5 * TICK && since(e) < STILL_CUTTING;
                now && matches!(e.what, What::Cuts { to: None, .. })
            });
            passes += u32::from(cuts);
            if cuts && !matches!(look, LookKind::GiveAndGo | LookKind::Backdoor) {
                other.push((seed, entry.time, look));
            }
        }
    }
    println!("{passes} passes to cutters, others: {other:?}");
    assert!(passes > 60 && other.is_empty(), "{passes}: {other:?}");
}

/// Before: a rule that did not fire was silent.
#[test]
fn of_a_rule_that_does_not_fire_is_told_why() {
    let scenario = Arc::new(newcomers("tests/screens/two_levels.ron", "sag"));
    let cast = cast_untaught(&scenario);
    let (mut not_so, mut moved) = (0, 0);
    for seed in 1..=100 {
        let (possession, orders, silent) = play_with_silent(&scenario, &cast, seed);
        for one in &silent {
            let rule = &scenario.offence.rules[one.rule];
            let fired = orders
                .iter()
                .any(|o| o.rule == one.rule && (o.told - one.since).abs() < 0.04 && o.step == 0);
            assert!(!fired, "{seed}: {one:?}");
            let Event::Pass { .. } = rule.when else {
                continue;
            };
            let passed = possession
                .timeline
                .iter()
                .any(|e| (e.time - one.since).abs() < 0.1 && matches!(e.what, What::Passes { .. }));
            assert!(passed, "{seed}: {one:?}");
            match one.why {
                Silence::NotSo(asks) => {
                    assert!(rule.only_if.contains(&asks), "{seed}: {one:?}");
                    not_so += 1;
                }
                Silence::MovedOff(_) => moved += 1,
            }
        }
    }
    println!("not so {not_so}, moved off {moved}");
    assert!(not_so > 10 && moved > 10);
}
