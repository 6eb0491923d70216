//! Screens on the ball: the screener stands beside the holder's defender, the holder drives by the screener, and the
//! screener goes on; on both sides.

use lanelight::court::Side;
use lanelight::court::SpotName::Elbow;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::{Order, Pace, Step, Walker};

use super::common::*;

fn with(line: &str) -> Scenario {
    let text = format!(
        "(name: \"b\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), \
         (player: 3, at: wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: elbow(ball))], \
         keep_filled: [], rules: [(name: \"r\", when: pass(from: top, to: wing(ball)), do: [{line}])], \
         reading: [drive, next_pass], drive_from: [any])"
    );
    let offence =
        lanelight::scenario::read_offence(&text, "b.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: offence.value,
        ..reference("")
    }
}

/// The pass to the wing, and what the post does for so long after; then the drive.
fn pass_and_drive(line: &str, side: Side) -> [Step; 2] {
    let mut walker = Walker::new(&with(line), side, true);
    let pass = walker.carry_out(&Order::PassTo(2), Pace::Seconds(2.4));
    [pass, walker.carry_out(&Order::Drive, Pace::Settled)]
}

/// How near two players come in a step, metres.
fn nearest(step: &Step, one: u8, two: u8) -> f64 {
    let pairs = step.path(one).into_iter().zip(step.path(two));
    pairs
        .map(|(a, b)| (a - b).length())
        .fold(f64::INFINITY, f64::min)
}

#[test]
fn the_holder_drives_by_the_screener_who_then_goes_on() {
    let line = "(who: post, does: screen_for(whom: receiver, after: fill(elbow(weak))))";
    let [[pass, drive], [pass_left, drive_left]] =
        [Side::Right, Side::Left].map(|side| pass_and_drive(line, side));
    for (right, left) in [(&pass, &pass_left), (&drive, &drive_left)] {
        for (f, g) in right.frames.iter().zip(&left.frames) {
            for (p, q) in f.attackers.iter().zip(&g.attackers) {
                assert_eq!((p.x, p.y), (-q.x, q.y), "{:?} at {}", right.order, f.time);
            }
        }
    }
    let set = pass.frames.last().unwrap();
    let beside = (set.attackers[4] - set.defenders[1]).length();
    assert!(beside < 1.2, "{beside} m");
    // Toward the middle: the screener is nearer to the midline than the defender.
    assert!(set.attackers[4].x < set.defenders[1].x);
    let by = nearest(&drive, 2, 5);
    assert!(by < 1.3, "{by} m");
    assert_eq!(drive.place(5), Some(left(Elbow)));
}
