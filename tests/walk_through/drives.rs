//! Drives, kick-outs and drop-offs.

use std::sync::Arc;

use lanelight::court::SpotName::{Block, Corner, Slot, Wing};
use lanelight::court::{Spot, Vec2};
use lanelight::offence::Event;
use lanelight::possession::What;
use lanelight::possession::orders::{OrderEnd, OrderRecord};
use lanelight::sim::walkthrough::Order::{Drive, PassTo};
use lanelight::sim::{Keep, cast_untaught, play, play_accounted, play_shared};

use super::common::*;

/// Before a wing drive: 3 has the ball on the right wing; these hold the other places.
fn on_the_wing(s: &lanelight::scenario::Scenario) -> [u8; 3] {
    let walk = walked(s, &[PassTo(3)]);
    [right(Slot), left(Slot), left(Wing)].map(|spot| at(&walk.steps[0], spot))
}

#[test]
fn on_a_drive_the_post_waits_as_long_as_his_defender_stays() {
    for (what, s) in variants(&[]) {
        for orders in [vec![Drive], vec![PassTo(3), Drive]] {
            let walk = walked(&s, &orders);
            let step = &walk.steps[orders.len() - 1];
            let far = strayed(step, 5);
            assert!(far < 0.5, "{what} {orders:?}: the post went {far} m");
        }
    }
}

/// In play, not in a walk: whether the post's defender helps is his affair.
#[test]
fn the_post_steps_in_for_the_drop_off_once_his_defender_has_left_to_help() {
    let (mut helped, mut waited, mut came, mut crossed) = (0, 0, 0, 0);
    for defence in ["help_line", "sag", "mixed_professional"] {
        let s = scenario("four_out_one_post", defence, "");
        for seed in 0..500 {
            let p = play(&s, seed, Keep::ALL);
            let frame =
                |time: f64| &p.track[((time * 25.0).round() as usize).min(p.track.len() - 1)];
            for (i, e) in p.timeline.iter().enumerate() {
                let What::Drives { .. } = e.what else {
                    continue;
                };
                let rest = p.timeline[i..].iter();
                let during = rest.take_while(|e| !matches!(e.what, What::Passes { .. }));
                let gone = during.clone().find_map(|e| match e.what {
                    What::Helps { leaves: 5, .. } => Some(e.time),
                    _ => None,
                });
                let over = during.last().map_or(e.time, |e| e.time);
                let home = frame(e.time).attackers[4];
                // At home on his block, and with time to step in before the ball is gone.
                let block = [right(Block), left(Block)];
                let near = block
                    .iter()
                    .any(|b| (s.court.spot(*b) - home).length() < 0.6);
                let Some(gone) = gone.filter(|t| near && over - t > 0.6) else {
                    continue;
                };
                // Whom the ball has sent across the lane meanwhile steps in on the other side.
                if frame(over).attackers[4].x * home.x < 0.0 {
                    crossed += 1;
                    continue;
                }
                helped += 1;
                let hand = if home.x < 0.0 { -1.0 } else { 1.0 };
                let beside = Vec2::new(hand * (s.court.lane_width * 0.5 + 0.12), 0.3);
                let place = |t: f64| frame(t).attackers[4];
                let ticks = |a: f64, b: f64| {
                    (0..)
                        .map(move |n| a + f64::from(n) * 0.04)
                        .take_while(move |t| *t < b)
                };
                waited += u32::from(ticks(e.time, gone).all(|t| (place(t) - home).length() < 0.9));
                came += u32::from(ticks(gone, over).any(|t| (place(t) - beside).length() < 0.3));
            }
        }
    }
    println!(
        "{helped} helped off the post, {crossed} sent across: he waited {waited} times, came {came} times"
    );
    assert!(helped >= 10, "{helped}");
    // Left alone by more than 2.2 m before the help is called, he need not wait; and a step takes time.
    assert!(waited * 2 >= helped && came * 2 >= helped);
}

#[test]
fn on_a_wing_drive_the_near_slot_drifts_behind_the_driver() {
    for (what, s) in variants(&[]) {
        let [near, other, far] = on_the_wing(&s);
        let step = &walked(&s, &[PassTo(3), Drive]).steps[1];
        assert_eq!(step.place(near), Some(right(Wing)), "{what}");
        assert!(strayed(step, near) > 3.0, "{what}");
        assert_eq!(step.place(other), Some(left(Slot)), "{what}");
        let waits = if what == "weak_side_corner_drift" {
            left(Corner)
        } else {
            left(Wing)
        };
        assert_eq!(step.place(far), Some(waits), "{what}");
    }
}

#[test]
fn after_a_wing_drive_and_kick_out_the_driver_circles_back_to_his_wing() {
    for (what, s) in variants(&["weak_side_corner_drift", "weak_side_exchange"]) {
        let [near, other, far] = on_the_wing(&s);
        for to in [other, far] {
            let step = &walked(&s, &[PassTo(3), Drive, PassTo(to)]).steps[2];
            assert_eq!(step.place(3), Some(right(Wing)), "{what}: {to} has it");
            assert_eq!(step.place(near), Some(right(Slot)), "{what}");
            assert_eq!(step.place(other), Some(left(Slot)), "{what}");
            assert_eq!(step.place(far), Some(left(Wing)), "{what}");
            assert_eq!(step.place(5), Some(right(Block)), "{what}");
        }
    }
}

#[test]
fn where_the_kick_out_goes_to_his_own_wing_the_driver_takes_the_slot_left_behind() {
    for (what, s) in variants(&["weak_side_exchange"]) {
        let [near, other, far] = on_the_wing(&s);
        let step = &walked(&s, &[PassTo(3), Drive, PassTo(near)]).steps[2];
        assert_eq!(step.place(near), Some(right(Wing)), "{what}");
        assert_eq!(step.place(3), Some(right(Slot)), "{what}");
        assert_eq!(step.place(other), Some(left(Slot)), "{what}");
        assert_eq!(step.place(far), Some(left(Wing)), "{what}");
        assert_eq!(step.place(5), Some(left(Block)), "{what}");
    }
}

#[test]
fn after_a_slot_drive_and_kick_out_the_driver_fills_his_slot_and_the_corner_comes_back_up() {
    for (what, s) in variants(&["weak_side_corner_drift", "weak_side_exchange"]) {
        let drive = &walked(&s, &[Drive]).steps[0];
        assert_eq!(drive.place(3), Some(right(Corner)), "{what}");
        for to in [2, 4] {
            let step = &walked(&s, &[Drive, PassTo(to)]).steps[1];
            let places = [
                right(Slot),
                left(Slot),
                right(Wing),
                left(Wing),
                right(Block),
            ];
            ends_but_the_holder(what, step, places, to);
        }
    }
}

fn ends_but_the_holder(
    what: &str,
    step: &lanelight::sim::walkthrough::Step,
    places: [Spot; 5],
    holder: u8,
) {
    assert_eq!(step.holder, Some(holder));
    for (i, place) in places.into_iter().enumerate() {
        assert_eq!(step.standing[i].place, Some(place), "{what}: {}", i + 1);
    }
}

#[test]
fn a_ball_kicked_out_to_the_corner_finds_a_team_mate_one_pass_away() {
    for (what, s) in variants(&["weak_side_corner_drift", "weak_side_exchange"]) {
        let step = &walked(&s, &[Drive, PassTo(3)]).steps[1];
        // The driver comes out to the wing next to it, the other slot comes over.
        let places = [
            right(Wing),
            right(Slot),
            right(Corner),
            left(Wing),
            left(Block),
        ];
        ends(what, &s, step, places);
        // And from there the offence gets its shape back.
        let step = &walked(&s, &[Drive, PassTo(3), PassTo(1)]).steps[2];
        let places = [
            right(Wing),
            right(Slot),
            left(Wing),
            left(Slot),
            left(Block),
        ];
        ends(what, &s, step, places);
    }
}

#[test]
fn on_a_drive_from_the_corner_the_post_flashes_to_the_open_spot_in_the_lane() {
    for (what, s) in variants(&["weak_side_exchange"]) {
        let walk = walked(&s, &[Drive, PassTo(3), Drive]);
        let step = &walk.steps[2];
        let shown = step.timeline.iter().find_map(|e| match e.what {
            What::Flashes { who: 5, to } => Some(to),
            _ => None,
        });
        let Some(to) = shown else {
            panic!("{what}: the post did not flash")
        };
        let stay = seconds_near(step, 5, s.court.spot(to), 0.9);
        assert!((1.0..=2.4).contains(&stay), "{what}: {stay} s");
        assert_eq!(step.place(5), Some(left(Block)), "{what}");
    }
}

#[test]
fn after_a_corner_drive_and_kick_out_five_players_hold_five_places_again() {
    for (_, s) in variants(&[]) {
        let walk = walked(&s, &[Drive, PassTo(3), Drive]);
        let wing = at(&walk.steps[2], right(Wing));
        let far = at(&walk.steps[2], left(Wing));
        for to in [wing, far] {
            let step = &walked(&s, &[Drive, PassTo(3), Drive, PassTo(to)]).steps[3];
            for spot in [right(Wing), right(Slot), left(Slot), left(Wing)] {
                at(step, spot);
            }
        }
    }
}

#[test]
fn a_drop_off_finds_the_post_and_the_driver_goes_home() {
    for (what, s) in variants(&[]) {
        let step = &walked(&s, &[PassTo(3), Drive, PassTo(5)]).steps[2];
        assert_eq!(step.holder, Some(5), "{what}");
        assert_eq!(step.place(3), Some(right(Wing)), "{what}");
        for spot in [right(Slot), left(Slot), left(Wing)] {
            at(step, spot);
        }
    }
}

/// Before: in 0 of 241 such orders, since the place of a driver is open at once.
#[test]
fn who_replaces_the_driver_takes_the_place_from_which_the_driver_drove() {
    for (event, orders) in [("drive", vec![Drive]), ("kick_out", vec![Drive, PassTo(2)])] {
        let text = format!(
            "(name: \"w\", ball: 1, alignment: [(player: 1, at: slot(ball)), (player: 2, at: slot(weak)), (player: 3, \
             at: corner(ball)), (player: 4, at: corner(weak)), (player: 5, at: block(weak))], keep_filled: [], rules: \
             [(name: \"r\", when: {event}(from: slot(either)), do: [(who: player(3), does: \
             replace(driver))])], reading: [next_pass, drive, kick_out], drive_from: [any])"
        );
        let read =
            lanelight::scenario::read_offence(&text, "w.ron").unwrap_or_else(|e| panic!("{e}"));
        let scenario = lanelight::scenario::Scenario {
            offence: read.value,
            ..scenario("four_out_one_post", "help_line", "")
        };
        let walk = walked(&scenario, &orders);
        let last = walk.steps.last().unwrap();
        assert_eq!(at(last, right(Slot)), 3, "{event}");
    }
}

/// Before: stopped on the way along the baseline and on at once, the driver drove "from the corner", and the rule for that
/// drive came before anybody had gone where the rule for the first one sends them.
#[test]
fn who_is_stopped_and_drives_on_at_once_is_on_the_same_drive() {
    let (mut on, mut anew) = (0, Vec::new());
    for defence in ["sag", "denial", "help_line"] {
        let s = Arc::new(scenario("five_out_give_and_go", defence, ""));
        let cast = cast_untaught(&s);
        let is_of_a_drive = |rule: usize| matches!(s.offence.rules[rule].when, Event::Drive { .. });
        for seed in 1..=300 {
            let played = play_shared(&s, &cast, seed, Keep::ALL);
            for (i, entry) in played.timeline.iter().enumerate() {
                let What::Drives { who, .. } = entry.what else {
                    continue;
                };
                let mut before = played.timeline[..i].iter().rev();
                let stopped = before.any(|e| {
                    e.time > entry.time - 0.45
                        && matches!(e.what, What::Stopped { who: w, .. } if w == who)
                });
                if !stopped {
                    continue;
                }
                on += 1;
                let mut after = played.timeline[i..].iter();
                let fires = after.any(|e| {
                    e.time < entry.time + 0.1
                        && matches!(e.what, What::Rule { rule, .. } if is_of_a_drive(rule))
                });
                if fires {
                    anew.push((defence, seed, entry.time));
                }
            }
        }
    }
    println!("{on} drives went on, anew: {anew:?}");
    assert!(on > 20 && anew.is_empty(), "{on}: {anew:?}");
}

/// Before: with a team-mate on the wing from which the ball was driven the top stayed, and the weak wing ran there all the
/// same (24 of 398).
#[test]
fn five_out_the_weak_wing_lifts_only_where_the_top_makes_room() {
    let (mut lifts, mut onto) = (0, Vec::new());
    for defence in ["sag", "denial", "help_line"] {
        let s = Arc::new(scenario("five_out_give_and_go", defence, ""));
        let cast = cast_untaught(&s);
        let of = |name: &str| {
            s.offence
                .rules
                .iter()
                .position(|r| r.name.starts_with(name))
        };
        let rule = of("Drive from the wing").unwrap();
        let (top, wing) = (1, 2);
        for seed in 1..=200 {
            let (_, orders) = play_accounted(&s, &cast, seed);
            let of_it = |line: usize| {
                let his = move |r: &&OrderRecord| r.rule == rule && r.line == line && r.step == 0;
                orders.iter().filter(his)
            };
            for order in of_it(wing).filter(|r| r.end != OrderEnd::NotSo && r.who.is_some()) {
                lifts += 1;
                let mut same = of_it(top).filter(|r| r.told == order.told);
                if same.any(|r| r.end == OrderEnd::NotSo) {
                    onto.push((defence, seed, order.told));
                }
            }
        }
    }
    println!("{lifts} lifts, onto a held top: {onto:?}");
    assert!(lifts > 100 && onto.is_empty(), "{lifts}: {onto:?}");
}
