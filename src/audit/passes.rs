//! Passes, catches and touches.

use super::clip::{Clip, OUTSIDE, Pass, STEP};
use super::counts::{Counts, List, Pair};
use super::motion::STANDS;

/// A catcher so far from the place of the catch has done something, metres.
const ACTS: f64 = 1.2;
/// Upper ends of the lengths by which the ball's speed is told, metres.
const LENGTHS: [(f64, List); 5] = [
    (4.0, List::BallSpeedTo4),
    (6.0, List::BallSpeedTo6),
    (8.0, List::BallSpeedTo8),
    (10.0, List::BallSpeedTo10),
    (f64::INFINITY, List::BallSpeedBeyond),
];

/// Passes in 10 s, their lengths (m), the ball's speed (m/s: length over the time from release to
/// catch by the sample), and the seconds from one release to the next.
pub fn passes(clip: &Clip, passes: &[Pass], counts: &mut Counts) {
    let count = passes.len() as f64 * 10.0;
    counts.add(Pair::Passes, count, clip.seconds());
    for pass in passes {
        counts.push(List::PassLength, pass.length);
        let seconds = (pass.caught - pass.release) as f64 * STEP;
        let list = LENGTHS.iter().find(|(most, _)| pass.length < *most);
        if let Some((_, list)) = list {
            counts.push(*list, pass.length / seconds);
        }
    }
    for pair in passes.windows(2) {
        let gap = (pair[1].release - pair[0].release) as f64 * STEP;
        counts.push(List::ReleaseGap, gap);
    }
}

/// Touches (s, from the catch to the next release; a shot is one), the share of catches by a
/// receiver slower than 0.5 m/s, and for catches 5.5 m or more from the rim the seconds until the
/// catcher is 1.2 m from the place of the catch or the ball is gone. What the end of the part cuts off is not counted.
pub fn catches(clip: &Clip, passes: &[Pass], holds: &[super::clip::Hold], counts: &mut Counts) {
    for pass in passes {
        let hold = &holds[pass.hold];
        let place = |i: usize| clip.frames[i].attackers[pass.to];
        let caught = place(pass.caught);
        counts.share(
            Pair::CatchStanding,
            clip.speed(pass.to, pass.caught) < STANDS,
        );
        let over = clip.is_over(hold);
        if over {
            counts.push(List::Touch, (hold.end - hold.start) as f64 * STEP);
        }
        if caught.length() >= OUTSIDE {
            let mut held = hold.start..hold.end;
            let acts = held.find(|&i| (place(i) - caught).length() >= ACTS);
            if let Some(at) = acts.or(over.then_some(hold.end)) {
                counts.push(List::CatchToAction, (at - hold.start) as f64 * STEP);
            }
        }
    }
}
