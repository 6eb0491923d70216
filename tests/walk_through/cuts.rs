//! Passes around the outside, and backdoor cuts.

use lanelight::court::Side::{Left, Right};
use lanelight::court::SpotName::{Block, Slot, Wing};
use lanelight::offence::CutLane;
use lanelight::possession::What;
use lanelight::sim::walkthrough::Order::{Deny, PassTo};
use lanelight::sim::walkthrough::{Step, walk};

use super::common::*;

/// A cutter comes this near to the rim, metres.
const AT_THE_RIM: f64 = 1.5;

fn cut_lane(step: &Step, player: u8) -> Option<CutLane> {
    step.timeline.iter().find_map(|e| match e.what {
        What::Cuts { who, lane, .. } if who == player => Some(lane),
        _ => None,
    })
}

fn nobody_else_moved(what: &str, step: &Step, but: u8) {
    for player in (1..=5).filter(|&p| p != but && !flashed(step, p)) {
        let far = strayed(step, player);
        assert!(far < 0.5, "{what}: {player} went {far} m");
    }
}

/// Did a rule for a ball that stays on its place send him to show?
fn flashed(step: &Step, player: u8) -> bool {
    let shows = |e: &&lanelight::possession::Entry| matches!(e.what, What::Flashes { who, .. } if who == player);
    step.timeline.iter().find(shows).is_some()
}

#[test]
fn a_slot_to_wing_pass_sends_the_passer_through_to_the_far_wing() {
    for (what, s) in variants(&["screen_away", "weak_side_exchange"]) {
        let step = &walked(&s, &[PassTo(3)]).steps[0];
        let places = [
            left(Wing),
            right(Slot),
            right(Wing),
            left(Slot),
            left(Block),
        ];
        ends(what, &s, step, places);
        assert_eq!(cut_lane(step, 1), Some(CutLane::BallSide));
        let nearest = step.nearest_to_rim(1).map_or(9.0, |p| p.length());
        assert!(nearest < AT_THE_RIM, "{what}: {nearest} m from the rim");
        assert!(came_out_by_the_baseline(step, 1, Left), "{what}");
    }
}

#[test]
fn the_passer_runs_between_his_defender_and_the_ball() {
    let s = reference("");
    let step = &walked(&s, &[PassTo(3)]).steps[0];
    // Half way to the rim, beside his defender.
    let frame = step
        .frames
        .iter()
        .find(|f| f.attackers[0].length() < 4.0)
        .unwrap();
    let guard = (0..5).find(|&d| frame.guards[d] == 1).unwrap();
    let ball = s.court.spot(right(Wing));
    let mine = (frame.attackers[0] - ball).length();
    let his = (frame.defenders[guard] - ball).length();
    assert!(
        mine < his,
        "cutter {mine} m, his defender {his} m from the ball"
    );
}

#[test]
fn a_wing_to_slot_pass_brings_the_wing_back_to_his_wing_and_moves_nobody_else() {
    for (what, s) in variants(&[]) {
        let first = walked(&s, &[PassTo(3)]);
        let slot = at(&first.steps[0], right(Slot));
        let walk = walked(&s, &[PassTo(3), PassTo(slot)]);
        let step = &walk.steps[1];
        assert_eq!(step.place(3), Some(right(Wing)), "{what}");
        let nearest = step.nearest_to_rim(3).map_or(9.0, |p| p.length());
        assert!(nearest < AT_THE_RIM, "{what}: {nearest} m from the rim");
        assert!(came_out_by_the_baseline(step, 3, Right), "{what}");
        assert_eq!(cut_lane(step, 3), Some(CutLane::BallSide), "{what}");
        nobody_else_moved(what, step, 3);
    }
}

#[test]
fn a_slot_to_slot_pass_sends_the_passer_to_his_own_wing_that_wing_up_and_the_post_across() {
    for (what, s) in variants(&[]) {
        let step = &walked(&s, &[PassTo(2)]).steps[0];
        let places = [
            right(Wing),
            left(Slot),
            right(Slot),
            left(Wing),
            right(Block),
        ];
        ends(what, &s, step, places);
        assert!(came_out_by_the_baseline(step, 1, Right), "{what}");
        assert_eq!(cut_lane(step, 1), Some(CutLane::BallSide), "{what}");
    }
}

#[test]
fn the_post_changes_sides_with_the_ball_and_only_then() {
    for (what, s) in variants(&[]) {
        let walk = walked(&s, &[PassTo(2), PassTo(4)]);
        assert_eq!(walk.steps[0].place(5), Some(right(Block)), "{what}");
        assert_eq!(walk.steps[1].place(5), Some(right(Block)), "{what}");
    }
}

#[test]
fn a_near_slot_who_is_denied_with_the_ball_on_the_wing_cuts_behind_and_goes_through() {
    for (what, s) in variants(&[]) {
        let first = walked(&s, &[PassTo(3)]);
        let [cutter, other, far] =
            [right(Slot), left(Slot), left(Wing)].map(|spot| at(&first.steps[0], spot));
        let step = &walked(&s, &[PassTo(3), Deny(vec![cutter])]).steps[1];
        assert_eq!(step.rules[0], "Backdoor from the near slot", "{what}");
        assert_eq!(cut_lane(step, cutter), Some(CutLane::Behind), "{what}");
        assert_eq!(step.place(cutter), Some(left(Wing)), "{what}");
        assert_eq!(step.place(other), Some(right(Slot)), "{what}");
        assert_eq!(step.place(far), Some(left(Slot)), "{what}");
        assert!(came_out_by_the_baseline(step, cutter, Left), "{what}");
    }
}

#[test]
fn a_near_wing_who_is_denied_with_the_ball_on_a_slot_cuts_behind_and_circles_back() {
    for (what, s) in variants(&["dribble_at_backdoor"]) {
        let step = &walked(&s, &[Deny(vec![3])]).steps[0];
        assert_eq!(cut_lane(step, 3), Some(CutLane::Behind), "{what}");
        assert_eq!(step.place(3), Some(right(Wing)), "{what}");
        let nearest = step.nearest_to_rim(3).map_or(9.0, |p| p.length());
        assert!(nearest < AT_THE_RIM, "{what}: {nearest} m from the rim");
        assert!(came_out_by_the_baseline(step, 3, Right), "{what}");
        nobody_else_moved(what, step, 3);
    }
}

#[test]
fn the_other_slot_who_is_denied_cuts_behind_to_his_own_wing_and_that_wing_moves_up() {
    for (what, s) in variants(&[]) {
        let step = &walked(&s, &[Deny(vec![2])]).steps[0];
        assert_eq!(cut_lane(step, 2), Some(CutLane::Behind), "{what}");
        assert_eq!(step.place(2), Some(left(Wing)), "{what}");
        assert_eq!(step.place(4), Some(left(Slot)), "{what}");
    }
}

#[test]
fn a_backdoor_cut_goes_on_the_far_side_of_the_defender_from_the_ball() {
    let s = scenario("four_out_one_post", "denial", "");
    let step = &walked(&s, &[Deny(vec![3])]).steps[0];
    let frame = step
        .frames
        .iter()
        .find(|f| f.attackers[2].length() < 3.5)
        .unwrap();
    let guard = (0..5).find(|&d| frame.guards[d] == 3).unwrap();
    let ball = s.court.spot(right(Slot));
    let mine = (frame.attackers[2] - ball).length();
    let his = (frame.defenders[guard] - ball).length();
    assert!(
        mine > his,
        "cutter {mine} m, his defender {his} m from the ball"
    );
}

#[test]
fn nobody_cuts_backdoor_from_two_passes_away() {
    for (what, s) in variants(&[]) {
        // The ball on the right slot: the left wing is two passes away.
        for side in [Right, Left] {
            let walk = walk(&s, side, &[Deny(vec![4])]);
            let step = &walk.steps[0];
            assert_eq!(cut_lane(step, 4), None, "{what}");
            assert!(strayed(step, 4) < 0.5, "{what}");
        }
    }
}

#[test]
fn two_backdoor_cuts_at_once_are_avoided() {
    for (what, s) in variants(&[]) {
        let step = &walked(&s, &[Deny(vec![2, 3])]).steps[0];
        let mut cutting: Option<u8> = None;
        let mut cuts = 0;
        for entry in &step.timeline {
            match entry.what {
                What::Cuts { who, .. } => {
                    let time = entry.time;
                    assert_eq!(cutting, None, "{what}: {who} cuts too at {time} s");
                    cutting = Some(who);
                    cuts += 1;
                }
                What::Unfed { who, .. } if cutting == Some(who) => cutting = None,
                _ => {}
            }
        }
        assert!(cuts >= 1, "{what}");
    }
}

#[test]
fn cuts_are_run_as_fast_as_tracked_ones_and_end_at_the_rim() {
    for (what, s) in variants(&["screen_away", "dribble_at_backdoor", "high_post_flash"]) {
        for (cutter, order) in [
            (1, PassTo(3)),
            (1, PassTo(2)),
            (3, Deny(vec![3])),
            (2, Deny(vec![2])),
        ] {
            let step = &walked(&s, std::slice::from_ref(&order)).steps[0];
            let path = step.path(cutter);
            let near = step.nearest_to_rim(cutter).unwrap();
            assert!(near.length() < AT_THE_RIM, "{what} {order:?}: {near:?}");
            // What a straight way allows him (the way round his defender costs up to a good fifth: 0.79 is the least that is reached): him who has to be able to gather himself at the rim.
            let limits = s.attackers.players[usize::from(cutter) - 1].limits;
            let way = (path[0] - near).length();
            let allowed = (2.0 * way / (1.0 / limits.accel + 1.0 / limits.brake)).sqrt();
            // Cuts are run at about 0.6 of the top speed (tracked ones peak at 3.9 m/s), some faster, some slower.
            let movement = s.model.movement;
            let (mean, spread) = (movement.cut_pace, movement.cut_pace_spread);
            let allowed = allowed.min(limits.top_speed * (mean - 2.0 * spread));
            let until = path.iter().position(|p| *p == near).unwrap();
            let speeds = path[..=until]
                .windows(2)
                .map(|w| (w[1] - w[0]).length() * 25.0);
            let reached = speeds.fold(0.0, f64::max);
            assert!(
                reached >= 0.78 * allowed,
                "{what} {order:?}: {reached:.2} of {allowed:.2} m/s"
            );
            let most = limits.top_speed * (mean + 4.0 * spread);
            assert!(reached <= most, "{what} {order:?}: {reached:.2} m/s");
        }
    }
}
