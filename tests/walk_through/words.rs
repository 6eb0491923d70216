//! Words of the language that no shipped offence uses, and orders that cannot be carried out.

use lanelight::court::Side::Right;
use lanelight::court::SpotName::{Block, Corner, Slot, Wing};
use lanelight::scenario::{Scenario, read_tweak};
use lanelight::sim::walkthrough::Order::{Deny, DribbleAt, Hold, PassTo};
use lanelight::sim::walkthrough::walk;

use super::common::*;

/// The reference with a change.
fn changed(change: &str) -> Scenario {
    let text = format!("(name: \"change\", changes: [{change}])");
    let tweak = read_tweak(&text, "change.ron").unwrap_or_else(|e| panic!("{e}"));
    reference("").with_tweak(&tweak.value).unwrap()
}

#[test]
fn replace_takes_the_place_that_a_player_held_before_the_rule() {
    let s = changed(
        "replace_rule(name: \"Slot to wing: the passer cuts and goes through\", with: (
            name: \"The same, said by players\",
            when: pass(from: slot(ball), to: wing(ball)),
            do: [
                (who: passer, does: cut(lane: ball_side, unfed: replace(at(wing(weak))))),
                (who: at(slot(weak)), does: replace(passer)),
                (who: at(wing(weak)), does: replace(player(2))),
            ],
        ))",
    );
    let step = &walked(&s, &[PassTo(3)]).steps[0];
    let places = [
        left(Wing),
        right(Slot),
        right(Wing),
        left(Slot),
        left(Block),
    ];
    ends("replace", &s, step, places);
}

#[test]
fn unfed_names_the_place_from_which_the_cutter_came() {
    let rule = |from: &str| {
        changed(&format!(
            "add_rule(rule: (name: \"Unfed\", when: unfed(from: {from}), do: [(who: cutter, does: fill(corner(weak)))]))"
        ))
    };
    let ended = |s: &Scenario| walked(s, &[PassTo(3)]).steps[0].place(1);
    assert_eq!(ended(&rule("slot(ball)")), Some(left(Corner)));
    assert_eq!(ended(&rule("wing(weak)")), Some(left(Wing)));
}

#[test]
fn nearest_is_the_nearest_player_who_is_free_to_move() {
    let s = changed(
        "add_rule(rule: (name: \"Nearest\", when: ball_on(at: slot(ball), seconds: 1.0),
            do: [(who: nearest(corner(weak)), does: fill(corner(weak)))]))",
    );
    // Of post and weak wing the wing is nearer to the weak corner (4.3 m against 4.5 m).
    let step = &walked(&s, &[Hold(2.0)]).steps[0];
    assert_eq!(step.place(4), Some(left(Corner)));
}

#[test]
fn a_rule_may_let_a_player_wait_before_he_starts() {
    let s = changed(
        "add_rule(rule: (name: \"Later\", when: ball_on(at: slot(ball), seconds: 1.0),
            do: [(who: at(wing(weak)), does: fill(corner(weak)), after: 1.5)]))",
    );
    let step = &walked(&s, &[Hold(2.0)]).steps[0];
    assert_eq!(step.place(4), Some(left(Corner)));
    let start = step.path(4)[0];
    let began = step.path(4).iter().position(|p| (p - start).length() > 0.3);
    let began = began.map_or(0.0, |tick| tick as f64 * 0.04);
    assert!((2.5..3.8).contains(&began), "he set off after {began} s");
}

#[test]
fn orders_that_nobody_can_carry_out_are_given_up_and_change_no_place() {
    let s = reference("");
    for order in [
        PassTo(9),
        PassTo(0),
        PassTo(1),
        DribbleAt(9),
        Deny(vec![0, 1, 9]),
    ] {
        let walk = walk(&s, Right, std::slice::from_ref(&order));
        let step = &walk.steps[0];
        assert!(!step.done, "{order:?}");
        assert_eq!(step.holder, Some(1), "{order:?}");
        for (now, before) in step.standing.iter().zip(&walk.start) {
            assert_eq!(now.place, before.place, "{order:?}");
        }
    }
}
