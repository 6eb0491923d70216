//! Many passes in a row: the floor keeps its shape whatever the order of passes.

use lanelight::court::Side::{Left, Right};
use lanelight::court::SpotName::{Corner, Slot, Top, Wing};
use lanelight::court::{Side, Spot, SpotName};
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Order, Pace, Standing, Step, Walker};

use super::common::*;

/// Sequences of each kind, and passes in each.
const SEQUENCES: u64 = 6;
const PASSES: usize = 12;

/// A row of numbers by a seed (SplitMix64).
struct Row(u64);

impl Row {
    fn below(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % n as u64) as usize
    }
}

/// The outside from one corner round to the other.
fn round() -> Vec<Spot> {
    let half = [Corner, Wing, Slot];
    let left = half.map(|name| Spot::new(name, Left));
    let mut spots = left.to_vec();
    spots.push(Spot::new(Top, Left));
    spots.extend(left.iter().rev().map(|s| s.mirrored()));
    spots
}

/// Players outside in order round the perimeter, by place.
fn outside(standing: &[Standing; 5]) -> Vec<u8> {
    let held = |spot: &Spot| standing.iter().position(|s| s.place == Some(*spot));
    round()
        .iter()
        .filter_map(held)
        .map(|i| i as u8 + 1)
        .collect()
}

fn neighbours(standing: &[Standing; 5], holder: u8) -> Vec<u8> {
    let order = outside(standing);
    let Some(i) = order.iter().position(|&p| p == holder) else {
        return order;
    };
    let before = i.checked_sub(1).map(|i| order[i]);
    before
        .into_iter()
        .chain(order.get(i + 1).copied())
        .collect()
}

fn five_different_places(said: &str, standing: &[Standing; 5]) {
    for a in 0..5 {
        assert!(
            standing[a].place.is_some(),
            "{said}: {} has no place",
            a + 1
        );
        for b in a + 1..5 {
            let (p, q) = (standing[a].place, standing[b].place);
            assert_ne!(p, q, "{said}: {} and {}", a + 1, b + 1);
        }
    }
}

/// The places outside that the offence keeps filled are filled.
fn filled(said: &str, scenario: &Scenario, step: &Step) {
    for place in &scenario.offence.keep_filled {
        let spot = place.spot(step.ball_side, None).unwrap();
        assert!(step.at(spot).is_some(), "{said}: nobody at {spot}");
    }
}

/// Neighbours outside stand so far apart, feet.
fn gaps(step: &Step) -> Vec<f64> {
    let order = outside(&step.standing);
    let pos = |p: u8| step.standing[usize::from(p) - 1].pos;
    let gap = |w: &[u8]| (pos(w[0]) - pos(w[1])).length() / FOOT;
    order.windows(2).map(gap).collect()
}

/// Pass to a random neighbour again and again, on both halves of the floor, and look after each. False
/// if the ball was lost on the way: a quick pass to a man who turns just then.
fn passes(scenario: &Scenario, seed: u64, pace: Pace, look: &dyn Fn(&str, &Step, u8)) -> bool {
    let mut walkers = [Right, Left].map(|side| Walker::new(scenario, side, true));
    let mut row = Row(seed);
    let mut holder = scenario.offence.ball;
    let mut said = format!("seed {seed}: {holder}");
    for nth in 0..PASSES {
        let near = neighbours(&walkers[0].standing(), holder);
        let to = near[row.below(near.len())];
        said.push_str(&format!("-{to}"));
        let pace = if nth + 1 == PASSES {
            Pace::Settled
        } else {
            pace
        };
        let order = Order::PassTo(to);
        let [step, image] = walkers.each_mut().map(|w| w.carry_out(&order, pace));
        for (s, t) in step.standing.iter().zip(&image.standing) {
            assert_eq!((s.pos.x, s.pos.y), (-t.pos.x, t.pos.y), "{said}");
            assert_eq!(s.place, t.place.map(Spot::mirrored), "{said}");
        }
        if walkers[0].ended().is_some() && matches!(pace, Pace::Seconds(_)) {
            return false;
        }
        look(&said, &step, holder);
        holder = step.holder.unwrap_or(holder);
    }
    true
}

#[test]
fn after_any_row_of_passes_four_outside_stand_fifteen_to_eighteen_feet_apart() {
    for (what, s) in variants(&[]) {
        for seed in 0..SEQUENCES {
            passes(&s, seed, Pace::Settled, &|said, step, passer| {
                let said = format!("{what} {said}");
                assert!(step.done && step.settled, "{said}");
                five_different_places(&said, &step.standing);
                filled(&said, &s, step);
                for gap in gaps(step) {
                    assert!((15.0..=18.0).contains(&gap), "{said}: {gap} ft");
                }
                let side = step.ball_side.other();
                let home = Spot::new(SpotName::Block, side);
                assert_eq!(step.place(5), Some(home), "{said}");
                let went = strayed(step, passer);
                assert!(went > 3.0, "{said}: {passer} passed and stood ({went} m)");
            });
        }
    }
}

#[test]
fn quick_passes_before_all_have_settled_end_in_the_same_shape() {
    let (mut played, mut lost) = (0, 0);
    for (what, s) in variants(&[]) {
        for seed in 0..SEQUENCES {
            let quick = 0.6 + 0.2 * seed as f64;
            let kept = passes(&s, seed, Pace::Seconds(quick), &|said, step, _| {
                let said = format!("{what} {said}");
                if step.settled {
                    five_different_places(&said, &step.standing);
                    // With the ball in a corner the slots come one place nearer, and with the ball
                    // inside its feeder slides away: the four are asked for with the ball outside.
                    let at_home = step.holder.is_some_and(|h| {
                        let standing = step.standing[usize::from(h) - 1];
                        standing.place.is_some_and(|spot| {
                            let off = (s.court.spot(spot) - standing.pos).length();
                            spot.name != Corner && off < 1.0
                        })
                    });
                    if at_home {
                        filled(&said, &s, step);
                    }
                }
                let last = said.matches('-').count() == PASSES;
                assert!(!last || step.settled, "{said}: not everybody settled");
            });
            played += 1;
            lost += u64::from(!kept);
        }
    }
    println!("{lost} of {played} rows of quick passes ended with a lost ball");
    assert!(lost * 20 <= played, "{lost} of {played}");
}

#[test]
fn in_five_out_five_players_hold_five_places_after_every_pass() {
    every_pass("five_out_give_and_go");
}

#[test]
fn in_three_out_five_players_hold_five_places_after_every_pass() {
    every_pass("three_out_two_in");
}

fn every_pass(offence: &str) {
    let s = scenario(offence, "help_line", "");
    for seed in 0..SEQUENCES {
        passes(&s, seed, Pace::Settled, &|said, step, passer| {
            let said = format!("{offence} {said}");
            assert!(step.done && step.settled, "{said}");
            five_different_places(&said, &step.standing);
            filled(&said, &s, step);
            let went = strayed(step, passer);
            assert!(went > 3.0, "{said}: {passer} passed and stood ({went} m)");
        });
    }
}

#[test]
fn after_drives_and_kick_outs_in_between_five_players_hold_five_places() {
    drives_in_between(&["four_out_one_post", "five_out_give_and_go"]);
}

#[test]
fn in_three_out_they_do_so_too() {
    drives_in_between(&["three_out_two_in"]);
}

fn drives_in_between(offences: &[&str]) {
    for &offence in offences {
        for tweak in VARIANTS {
            if offence != "four_out_one_post" && !tweak.is_empty() {
                continue;
            }
            let s = scenario(offence, "help_line", tweak);
            for seed in 0..SEQUENCES {
                drives(&s, seed, &format!("{offence} {tweak}"));
            }
        }
    }
}

fn drives(s: &Scenario, seed: u64, what: &str) {
    let side = if seed.is_multiple_of(2) {
        Side::Right
    } else {
        Side::Left
    };
    let mut walker = Walker::new(s, side, true);
    let mut row = Row(1000 + seed);
    let mut holder = s.offence.ball;
    let mut said = format!("{what} seed {seed}: {holder}");
    for nth in 0..PASSES {
        let drive = nth % 3 == 1;
        if drive {
            said.push_str(" drives");
            let step = walker.carry_out(&Order::Drive, Pace::Settled);
            assert!(step.done && step.settled, "{said}");
        }
        let standing = walker.standing();
        let near = if drive {
            let mut all = outside(&standing);
            all.retain(|&p| p != holder);
            all
        } else {
            neighbours(&standing, holder)
        };
        let to = near[row.below(near.len())];
        said.push_str(&format!("-{to}"));
        let step = walker.carry_out(&Order::PassTo(to), Pace::Settled);
        assert!(step.done && step.settled, "{said}");
        five_different_places(&said, &step.standing);
        for gap in gaps(&step) {
            assert!(gap > 14.0, "{said}: {gap} ft");
        }
        let went = strayed(&step, holder);
        assert!(went > 1.5, "{said}: {holder} passed and stood ({went} m)");
        holder = to;
    }
}
