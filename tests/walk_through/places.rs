//! Cuts to a place: they end there and not at the rim, are fed there, and go on; on both sides.

use std::sync::Arc;

use lanelight::court::Side;
use lanelight::court::SpotName::{Corner, Elbow, ShortCorner, Wing};
use lanelight::court::{Spot, Vec2};
use lanelight::possession::What;
use lanelight::possession::orders::OrderEnd;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::Order::PassTo;
use lanelight::sim::walkthrough::{Manner, Pace, Step, walk_in};
use lanelight::sim::{cast_untaught, play_accounted};

use super::common::*;

/// Within this of a place a cut has come to it, metres: a step.
const THERE: f64 = 1.2;

fn with(rules: &str) -> Scenario {
    let text = format!(
        "(name: \"c\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
         wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(ball))], keep_filled: [], rules: [{rules}], \
         reading: [next_pass, give_and_go, backdoor, post, shot], drive_from: [])"
    );
    let read = lanelight::scenario::read_offence(&text, "c.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: read.value,
        ..reference("")
    }
}

/// The far wing cuts as the words of `cut` say when the ball goes to the other wing.
fn far_wing(cut: &str) -> Scenario {
    with(&format!(
        "(name: \"r\", when: pass(from: top, to: wing(ball)), do: [(who: at(wing(weak)), does: cut({cut}))]), (name: \
         \"u\", when: unfed(from: wing(weak)), do: [(who: player(4), does: fill(short_corner(weak)))])"
    ))
}

fn nearest(step: &Step, player: u8, point: Vec2) -> f64 {
    let path = step.path(player).into_iter();
    path.map(|p| (p - point).length())
        .fold(f64::INFINITY, f64::min)
}

/// The far wing's cut, walked through: by which spot it comes, and where it comes out.
fn comes_by(cut: &str, by: Spot, out: Spot) -> Step {
    let s = far_wing(cut);
    let step = walked(&s, &[PassTo(2)]).steps[0].clone();
    let near = nearest(&step, 3, s.court.spot(by));
    assert!(near < THERE, "{cut}: {near} m from {by}");
    assert_eq!(step.place(3), Some(out), "{cut}");
    assert_eq!(step.rules, ["r", "u"], "{cut}");
    assert_eq!(step.place(4), Some(left(ShortCorner)), "{cut}");
    step
}

#[test]
fn a_cut_to_a_place_ends_there_and_not_at_the_rim() {
    let step = comes_by(
        "lane: ball_side, to: elbow(ball), unfed: fill(wing(weak))",
        right(Elbow),
        left(Wing),
    );
    let rim = nearest(&step, 3, Vec2::ZERO);
    assert!(rim > 3.0, "{rim} m from the rim");
    // Without the place the same cut goes to the rim.
    let cut = far_wing("lane: ball_side, unfed: fill(wing(weak))");
    let step = &walked(&cut, &[PassTo(2)]).steps[0];
    assert!(nearest(step, 3, Vec2::ZERO) < 1.5);
    let cuts = step.timeline.iter().find_map(|e| match e.what {
        What::Cuts { to, .. } => Some(to),
        _ => None,
    });
    assert_eq!(cuts, Some(None));
}

#[test]
fn a_cutter_stays_at_the_place_if_that_is_where_he_goes_on() {
    comes_by(
        "lane: behind, to: corner(ball), unfed: fill(corner(ball))",
        right(Corner),
        right(Corner),
    );
    // His own side is that of the place from which he cuts.
    comes_by(
        "lane: ball_side, to: short_corner(own), unfed: fill(wing(own))",
        left(ShortCorner),
        left(Wing),
    );
}

#[test]
fn a_cutter_to_a_place_is_fed_there() {
    let s = far_wing("lane: ball_side, to: elbow(ball), unfed: fill(wing(weak))");
    let manner = Manner {
        pace: Pace::Seconds(2.6),
        passive: true,
    };
    let orders = [PassTo(2), PassTo(3)];
    let [one, two] = [Side::Right, Side::Left].map(|side| walk_in(&s, side, &orders, manner));
    mirrored(&one, &two);
    let step = &one.steps[1];
    assert!(step.done, "the pass is not thrown");
    let caught = step.timeline.iter().find_map(|e| match e.what {
        What::Catches { who: 3, at, .. } => Some(at),
        _ => None,
    });
    assert_eq!(caught, Some(right(Elbow)));
}

#[test]
fn cuts_to_a_place_are_carried_out_and_sometimes_fed() {
    let s = far_wing("lane: ball_side, to: elbow(ball), unfed: fill(wing(weak))");
    let cast = cast_untaught(&s);
    let s = Arc::new(s);
    let (mut done, mut left, mut fed) = (0, 0, 0);
    for seed in 1..=120 {
        let (possession, orders) = play_accounted(&s, &cast, seed);
        for order in orders.iter().filter(|o| o.rule == 0) {
            match order.end {
                OrderEnd::Done => done += 1,
                OrderEnd::PossessionOver => {}
                end => {
                    println!("{seed}: {end:?} at {:.1}", order.told);
                    left += 1;
                }
            }
        }
        let mut to = None;
        for entry in &possession.timeline {
            match entry.what {
                What::Cuts { who, .. } => to = Some(who),
                What::Unfed { .. } => to = None,
                What::Passes { to: who, .. } => fed += u32::from(to == Some(who)),
                _ => {}
            }
        }
    }
    println!("{done} carried out, {left} not, {fed} fed");
    assert!(done >= 9 * left && done > 40);
    assert!(fed > 0);
}
