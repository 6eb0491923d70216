//! Rules for a screen that is used and for a helper who has left: whom they name and where those go, on both sides.

use lanelight::court::Side;
use lanelight::court::SpotName::{Corner, ShortCorner};
use lanelight::possession::What;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Manner, Order, Pace, Walk, walk_in};

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
    let walk = both(&with(rule, "help_line"), &[Order::Drive], false);
    let entries: Vec<_> = walk.steps.iter().flat_map(|step| &step.timeline).collect();
    let left = entries.iter().find_map(|e| match e.what {
        What::Helps { leaves, .. } => Some(leaves),
        _ => None,
    });
    let left = left.expect("somebody helps");
    let told = entries.iter().find_map(|e| match e.what {
        What::Rule { told, .. } => Some(told),
        _ => None,
    });
    let told = told.expect("the rule fires");
    assert!(told[usize::from(left) - 1].is_some(), "{left}: {told:?}");
}
