//! Rules for a screen that is used, for the catch off it, for a helper who has left, for the way a drive goes and for a
//! feed that is stopped: whom they name and where those go, on both sides.

use lanelight::court::SpotName::{Corner, ShortCorner, Top};
use lanelight::court::{Side, Spot};
use lanelight::possession::What;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Manner, Order, Pace, Walk, walk_in};
use lanelight::sim::{Keep, play};

use super::common::*;

fn with(rules: &str, defence: &str) -> Scenario {
    let text = format!(
        "(name: \"e\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
         wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(ball))], keep_filled: [], rules: [{rules}], \
         reading: [next_pass, drive, drop_off, kick_out], drive_from: [any])"
    );
    let read = lanelight::scenario::read_offence(&text, "e.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: read.value,
        ..scenario("four_out_one_post", defence, "")
    }
}

fn both(scenario: &Scenario, orders: &[Order], passive: bool) -> Walk {
    let manner = Manner {
        pace: Pace::Settled,
        passive,
    };
    let [one, two] = [Side::Right, Side::Left].map(|side| walk_in(scenario, side, orders, manner));
    mirrored(&one, &two);
    one
}

#[test]
fn a_screen_that_is_used_is_an_event_with_its_user_and_its_screener() {
    let screen = "(name: \"s\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: at(wing(ball)), does: \
                  screen_for(whom: post, after: hold)), (who: post, does: use_screen(of: at(wing(ball)), to: \
                  wing(ball), unfed: hold))])";
    let used = |at: &str| {
        let rules = format!(
            "{screen}, (name: \"u\", when: screen_used(at: {at}), do: [(who: screener, does: fill(corner(ball))), (who: \
             player(3), does: fill(short_corner(weak)))])"
        );
        both(&with(&rules, "help_line"), &[Order::Hold(4.0)], true)
    };
    let walk = used("block(ball)");
    let step = walk.steps.last().unwrap();
    assert_eq!(step.rules, ["s", "u"]);
    assert_eq!(
        (step.place(2), step.place(3)),
        (Some(right(Corner)), Some(left(ShortCorner)))
    );
    assert_eq!(used("wing(weak)").steps.last().unwrap().rules, ["s"]);
}

#[test]
fn a_screen_that_is_set_is_an_event_with_its_user_and_its_screener() {
    let screen = "(name: \"s\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: at(wing(ball)), does: \
                  screen_for(whom: post, after: hold)), (who: post, does: use_screen(of: at(wing(ball)), to: \
                  wing(ball), unfed: hold))])";
    let set = |at: &str| {
        let rules = format!(
            "{screen}, (name: \"u\", when: screen_set(at: {at}), do: [(who: screener, does: hold), (who: player(3), \
             does: fill(short_corner(weak)))])"
        );
        both(&with(&rules, "help_line"), &[Order::Hold(4.0)], true)
    };
    let walk = set("block(ball)");
    let step = walk.steps.last().unwrap();
    assert_eq!(step.rules, ["s", "u"]);
    assert_eq!(step.place(3), Some(left(ShortCorner)));
    let told = step.timeline.iter().rev().find_map(|e| match e.what {
        What::Rule { told, .. } => Some(told),
        _ => None,
    });
    let named: Vec<usize> = (0..5)
        .filter(|&i| told.is_some_and(|told| told[i].is_some()))
        .collect();
    // Player 2 stood on the wing on the ball side.
    assert_eq!(named, [1, 2]);
    assert_eq!(set("wing(weak)").steps.last().unwrap().rules, ["s"]);
}

#[test]
fn a_helper_who_has_left_is_an_event_with_the_player_left_alone() {
    let rule = "(name: \"h\", when: helped(from: any), once: true, do: [(who: left_alone, does: fill(short_corner(own)))])";
    for start in [Side::Left, Side::Right] {
        let mut scenario = with(rule, "help_line");
        scenario.start = Some(start);
        let last = scenario.offence.rules.len() - 1;
        let mut helped = 0;
        for seed in 1..=40 {
            let possession = play(&scenario, seed, Keep::ALL);
            let left = possession.timeline.iter().find_map(|e| match e.what {
                What::Helps { leaves, .. } => Some((e.time, leaves)),
                _ => None,
            });
            let Some((time, left)) = left else { continue };
            // With the possession over at that moment nobody is told anything, nor with the ball on its way.
            let passed = possession.timeline.iter().any(|e| {
                matches!(e.what, What::Passes { .. }) && (time..time + 0.1).contains(&e.time)
            });
            if passed || possession.duration <= time + 0.2 {
                continue;
            }
            helped += 1;
            let told = possession.timeline.iter().find_map(|e| match e.what {
                What::Rule { rule, told } if rule == last && e.time >= time => Some(told),
                _ => None,
            });
            let told = told.expect("the rule fires");
            assert!(told[usize::from(left) - 1].is_some(), "{left}: {told:?}");
        }
        assert!(helped > 5, "{helped}");
    }
}

/// A walk that goes on so many seconds after each order.
fn at_pace(scenario: &Scenario, orders: &[Order], seconds: f64) -> Walk {
    let manner = Manner {
        pace: Pace::Seconds(seconds),
        passive: true,
    };
    let [one, two] = [Side::Right, Side::Left].map(|side| walk_in(scenario, side, orders, manner));
    mirrored(&one, &two);
    one
}

fn rules(walk: &Walk) -> Vec<&str> {
    let all = walk.steps.iter().flat_map(|step| &step.rules);
    all.map(String::as_str).collect()
}

#[test]
fn the_catch_off_a_screen_is_an_event_with_its_screener() {
    let screen = "(name: \"s\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: at(wing(ball)), does: \
                  screen_for(whom: post, after: hold)), (who: post, does: use_screen(of: at(wing(ball)), to: \
                  wing(ball), unfed: hold))])";
    let caught = |at: &str, by: u8, waits: f64| {
        let rules = format!(
            "{screen}, (name: \"c\", when: catch_off_screen(at: {at}), do: [(who: screener, does: fill(corner(ball)))])"
        );
        let orders = [Order::Hold(waits), Order::PassTo(by)];
        at_pace(&with(&rules, "help_line"), &orders, 0.1)
    };
    let walk = caught("wing(ball)", 5, 4.0);
    assert_eq!(rules(&walk), ["s", "c"]);
    assert_eq!(walk.steps.last().unwrap().place(2), Some(right(Corner)));
    // Not elsewhere, not by anybody else, and not long after it.
    assert_eq!(rules(&caught("corner(ball)", 5, 4.0)), ["s"]);
    assert_eq!(rules(&caught("any", 3, 4.0)), ["s"]);
    assert_eq!(rules(&caught("any", 5, 9.0)), ["s"]);
}

#[test]
fn a_drive_goes_by_the_defender_to_the_middle_or_to_the_baseline() {
    let both_ways = "(name: \"m\", when: drive(from: wing(ball), toward: middle), do: [(who: player(3), does: \
                     fill(short_corner(weak)))]), (name: \"b\", when: drive(from: wing(ball), toward: baseline), do: \
                     [(who: player(3), does: fill(slot(weak)))])";
    let driven = |midline: f64| {
        let mut scenario = with(both_ways, "help_line");
        scenario.defence.stances.on_ball.midline = midline;
        let walk = at_pace(&scenario, &[Order::PassTo(2), Order::Drive], 2.0);
        let drive = walk.steps[1].clone();
        let first = &drive.frames[0];
        let guard = first.guards.iter().position(|man| *man == 2).unwrap();
        let (driver, guard) = (first.attackers[1], first.defenders[guard]);
        (drive.rules, (-driver).perp_dot(guard - driver))
    };
    // A defender on the middle's side is gone by on the baseline's, and the other way round.
    let (rules, side) = driven(0.6);
    assert_eq!(rules, ["b"]);
    let (other, other_side) = driven(-0.6);
    assert_eq!(other, ["m"]);
    assert!(side * other_side < 0.0, "{side} and {other_side}");
}

#[test]
fn a_cutter_who_is_fed_and_cannot_finish_is_an_event_with_the_passer() {
    let fed = |at: &str| {
        let rules = format!(
            "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: cut(lane: ball_side, unfed: \
             fill(corner(weak))))]), (name: \"f\", when: feed_stopped(at: {at}), do: [(who: passer, does: \
             fill(top)), (who: player(4), does: fill(short_corner(weak)))])"
        );
        let orders = [Order::PassTo(2), Order::PassTo(1), Order::Hold(2.0)];
        at_pace(&with(&rules, "help_line"), &orders, 1.3)
    };
    let walk = fed("any");
    assert_eq!(rules(&walk), ["r", "f"]);
    let last = walk.steps.last().unwrap();
    assert_eq!(
        (last.holder, last.place(2)),
        (Some(1), Some(Spot::new(Top, None)))
    );
    // The cutter was fed beyond the rim: the other side is the ball's now.
    assert_eq!(last.ball_side, Side::Left);
    assert_eq!(last.place(4), Some(right(ShortCorner)));
    assert_eq!(rules(&fed("wing(ball)")), ["r"]);
}

#[test]
fn who_is_not_fed_at_the_place_of_the_cut_is_told_apart_from_who_is_not_fed_at_the_rim() {
    let fires = |cut_to: &str, to: &str| {
        let rules = format!(
            "(name: \"c\", when: pass(from: top, to: wing(ball)), do: [(who: at(wing(weak)), does: cut(lane: ball_side, \
             {cut_to}unfed: fill(wing(weak))))]), (name: \"u\", when: unfed(from: wing(weak){to}), do: [(who: player(4), \
             does: fill(short_corner(weak)))])"
        );
        let walk = both(&with(&rules, "help_line"), &[Order::PassTo(2)], true);
        let step = walk.steps.last().unwrap();
        let there = step.place(4) == Some(left(ShortCorner));
        assert_eq!(there, step.rules.len() == 2, "{:?}", step.rules);
        there
    };
    let high = "to: high_post, ";
    for (cut_to, to, fired) in [
        (high, "", true),
        (high, ", to: high_post", true),
        (high, ", to: rim", false),
        ("", "", true),
        ("", ", to: high_post", false),
        ("", ", to: rim", true),
    ] {
        assert_eq!(fires(cut_to, to), fired, "{cut_to}{to}");
    }
}
