//! Hand-offs: who gives the ball to whom, who ends where, and that it is kept from an overplayed team-mate; on both
//! sides.

use lanelight::court::Spot;
use lanelight::court::SpotName::{Block, Corner, Top, Wing};
use lanelight::possession::{Kept, What};
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Order, Step};

use super::common::*;

fn with(rules: &str) -> Scenario {
    let text = format!(
        "(name: \"h\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), \
         (player: 3, at: wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: elbow(ball))], \
         keep_filled: [], rules: [{rules}], reading: [drive, next_pass, post], drive_from: [any])"
    );
    let offence =
        lanelight::scenario::read_offence(&text, "h.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: offence.value,
        ..reference("")
    }
}

/// The last step of a walk on both sides, which are mirror images.
fn last(rules: &str, orders: &[Order]) -> Step {
    walked(&with(rules), orders).steps.pop().unwrap()
}

fn top() -> Spot {
    Spot::new(Top, None)
}

/// When the ball went from whose hand to whose, seconds.
fn handed(step: &Step) -> Vec<(u8, u8)> {
    let entries = step.timeline.iter();
    let handed = entries.filter_map(|e| match e.what {
        What::HandsOff { from, to } => Some((from, to)),
        _ => None,
    });
    handed.collect()
}

const DRIBBLED: &str = "(name: \"d\", when: ball_on(at: top, seconds: 0.6), once: true, do: [(who: holder, does: \
                        dribble_hand_off(at(wing(weak))))])";

#[test]
fn after_a_dribble_hand_off_the_two_have_changed_places() {
    let step = last(DRIBBLED, &[Order::Hold(2.0)]);
    assert_eq!(handed(&step), [(1, 3)]);
    assert_eq!(
        (step.holder, step.place(3), step.place(1)),
        (Some(3), Some(top()), Some(left(Wing)))
    );
    // The giver came to the receiver, who waited until then.
    let at = step
        .timeline
        .iter()
        .find(|e| matches!(e.what, What::HandsOff { .. }))
        .unwrap()
        .time;
    let first = step.frames.first().unwrap();
    let over = step.frames.iter().find(|f| f.time >= at).unwrap();
    let went = |who: usize| (over.attackers[who] - first.attackers[who]).length();
    assert!(
        went(0) > 2.0 && went(2) < went(0) + 1.0,
        "{} and {} m",
        went(0),
        went(2)
    );
    assert!((over.attackers[0] - over.attackers[2]).length() < 1.3);
}

#[test]
fn a_rule_for_the_hand_off_says_what_giver_and_others_do() {
    let rules = format!(
        "{DRIBBLED}, (name: \"h\", when: hand_off(from: top, to: wing(ball)), do: [(who: passer, does: cut(lane: \
         ball_side, unfed: go_through(corner(weak)))), (who: at(corner(ball)), does: fill(wing(ball)))])"
    );
    let step = last(&rules, &[Order::Hold(2.0)]);
    assert_eq!(handed(&step), [(1, 3)]);
    // The ball came to the other side.
    assert_eq!(step.place(3), Some(top()));
    assert_eq!(step.place(1), Some(right(Corner)));
    assert_eq!(step.place(4), Some(left(Wing)));
    assert!(step.nearest_to_rim(1).unwrap().length() < 2.0);
}

#[test]
fn a_post_stands_and_hands_it_to_who_runs_by_and_each_keeps_the_place() {
    let rules = "(name: \"s\", when: catch(at: elbow(ball)), do: [(who: holder, does: hand_off(at(wing(ball))))]), \
                 (name: \"r\", when: hand_off(from: elbow(ball), to: wing(ball)), do: [(who: passer, does: \
                 fill(block(ball)))])";
    let step = last(rules, &[Order::PassTo(5), Order::Hold(2.0)]);
    let first = walked(&with(rules), &[Order::PassTo(5)]).steps.remove(0);
    let all: Vec<(u8, u8)> = handed(&first).into_iter().chain(handed(&step)).collect();
    assert!(all.contains(&(5, 2)), "{all:?}");
    assert_eq!((step.holder, step.place(5)), (Some(2), Some(right(Block))));
    assert_eq!(step.place(2), Some(right(Wing)));
}

#[test]
fn it_is_kept_from_a_team_mate_who_is_overplayed() {
    let step = last(DRIBBLED, &[Order::Deny(vec![3])]);
    let kept = |what: &What| {
        matches!(
            what,
            What::KeepsIt {
                who: 1,
                from: 3,
                why: Kept::Overplayed
            }
        )
    };
    assert!(
        step.timeline.iter().any(|e| kept(&e.what)),
        "{:?}",
        step.timeline
    );
    assert_eq!(step.holder, Some(1));
    assert!(handed(&step).is_empty());
}

/// Before: who was on the way to the place stopped where the order found them, and the giver came across the whole floor.
#[test]
fn a_receiver_on_the_way_to_the_place_goes_on_to_it() {
    let rules = "(name: \"p\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: drift(corner(ball))), (who: \
                 at(wing(weak)), does: fill(top))]), (name: \"c\", when: catch(at: wing(ball)), do: [(who: holder, does: \
                 dribble_hand_off(at(top)))])";
    let step = last(rules, &[Order::PassTo(2)]);
    assert_eq!(handed(&step), [(2, 3)]);
    let mut entries = step.timeline.iter();
    let over = entries.find(|e| matches!(e.what, What::HandsOff { .. }));
    let over = step.frames.iter().find(|f| f.time >= over.unwrap().time);
    let at = over.unwrap().attackers[1];
    let apart = (at - reference("").court.spot(top())).length();
    assert!(
        at.x > 0.0 && apart < 4.5,
        "at {at:?}, {apart} m from the top"
    );
}
