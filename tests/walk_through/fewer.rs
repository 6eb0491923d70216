//! Two, three and four a side: who ends where in each shipped drill, on both sides, and the others are not there.

use lanelight::court::Spot;
use lanelight::court::SpotName::{Corner, Slot, Top, Wing};
use lanelight::draw::Item;
use lanelight::draw::scene::scene_of;
use lanelight::possession::there::{parked, plays};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::orders::account;
use lanelight::sim::walkthrough::{Order, Step};

use super::common::*;

/// The last step of a walk through a drill, both sides of which are mirror images.
fn last(drill: &str, orders: &[Order]) -> Step {
    let scenario = scenario(drill, "help_line", "");
    let there = scenario.offence.there();
    let walk = walked(&scenario, orders);
    for frame in walk.steps.iter().flat_map(|step| &step.frames) {
        for (i, there) in there.into_iter().enumerate() {
            let (a, d) = (frame.attackers[i], frame.defenders[i]);
            assert_eq!((plays(a), plays(d)), (there, there), "{drill}: {}", i + 1);
            assert!(there || (a, d) == (parked(i), parked(5 + i)));
        }
    }
    // Who does not play is in no picture.
    let step = walk.steps.into_iter().last().unwrap();
    let scene = scene_of(&scenario.court, step.frames.last().unwrap());
    let bodies = scene
        .items
        .iter()
        .filter(|item| matches!(item, Item::Attacker { .. } | Item::Defender { .. }));
    assert_eq!(bodies.count(), 2 * usize::from(scenario.offence.players));
    step
}

/// The places of those who play.
fn places(step: &Step, players: u8) -> Vec<Option<Spot>> {
    let others = players + 1..=5;
    assert!(others.map(|n| step.place(n)).all(|place| place.is_none()));
    (1..=players).map(|n| step.place(n)).collect()
}

#[test]
fn of_two_the_passer_cuts_and_comes_up_when_the_ball_stays() {
    let step = last("two_player_give_and_go", &[Order::PassTo(2)]);
    let top = Spot::new(Top, None);
    assert_eq!(places(&step, 2), [Some(top), Some(right(Wing))]);
    assert!(step.nearest_to_rim(1).unwrap().length() < 2.0);
}

#[test]
fn of_three_the_passer_screens_away_and_the_far_wing_comes_to_the_top() {
    let step = last("three_player_screen_away", &[Order::PassTo(2)]);
    let top = Spot::new(Top, None);
    let wanted = [Some(left(Wing)), Some(right(Wing)), Some(top)];
    assert_eq!(places(&step, 3), wanted);
}

#[test]
fn of_four_all_move_when_one_drives() {
    let step = last("four_player_drive_and_kick", &[Order::Drive]);
    let wanted = [Some(right(Slot)), Some(right(Corner)), Some(left(Corner))];
    assert_eq!(places(&step, 4)[1..], wanted);
}

#[test]
fn of_two_the_screener_stands_beside_the_holders_defender_and_rolls() {
    let scenario = scenario("two_player_ball_screen", "help_line", "");
    let walk = walked(&scenario, &[Order::Hold(3.0), Order::Drive]);
    let frames = walk.steps[0].frames.iter();
    let beside = frames.map(|f| (f.attackers[4] - f.defenders[0]).length());
    let beside = beside.fold(f64::INFINITY, f64::min);
    assert!(beside < 1.2, "{beside} m");
    // Nobody came off it in time: he rolls once he has waited.
    let near = walk.steps.iter().filter_map(|step| step.nearest_to_rim(5));
    assert!(near.map(|p| p.length()).fold(f64::INFINITY, f64::min) < 2.5);
}

#[test]
fn a_driver_who_kicks_out_takes_the_place_that_is_left() {
    let of = |defence: &str| -> Scenario { scenario("four_player_drive_and_kick", defence, "") };
    let account = account(&["sag", "denial", "help_line"].map(of), 1000).unwrap();
    let rule = account
        .rules
        .iter()
        .find(|r| r.name.starts_with("Kick-out"));
    let line = &rule.unwrap().lines[1];
    assert_eq!(line.who, "the driver");
    println!("{} of {}", line.done, line.had_time);
    assert!(
        line.had_time >= 60 && line.done * 10 >= line.had_time * 9,
        "{line:?}"
    );
}
