//! What is shown after the last recorded frame: the ball goes to the rim, and the result stands for a
//! while. A possession's record ends as the shot leaves the hand; whether it goes in is known by then.
//!
//! The flight is drawn, not simulated: an arc of the time that a ball takes over the distance, and
//! everybody stands. Times and heights are ours.

use crate::court::Vec2;
use crate::possession::{Ending, Frame, Possession, TICK, Turnover};

/// Height of the rim, metres (rule books: ten feet).
const RIM: f64 = 3.05;
/// The result stands so long, seconds.
const STANDS: f64 = 2.0;
/// How far beside the rim a miss comes down, metres.
const OFF: f64 = 1.2;

/// The frames after the record, at the rate of the record; none without a track.
pub fn after(possession: &Possession) -> Vec<Frame> {
    let Some(last) = possession.track.last() else {
        return Vec::new();
    };
    let ticks = |seconds: f64| libm::round(seconds / TICK) as usize;
    let mut out = Vec::new();
    let mut ball = last.ball;
    let mut holder = last.holder;
    if let Ending::Shot { made, throws, .. } = possession.ending {
        holder = None;
        let from = Vec2::new(ball[0], ball[1]);
        let far = from.length();
        // A shot from the line takes about a second.
        let flight = ticks((0.45 + far / 11.0).min(1.4));
        let top = 0.5 + 0.22 * far;
        let goes_in = made || throws.is_some_and(|made| made > 0);
        let down = if goes_in { Vec2::ZERO } else { beside(from) };
        for i in 1..=flight {
            let share = i as f64 / flight as f64;
            let at = from * (1.0 - share);
            let high = ball[2] + (RIM - ball[2]) * share + top * 4.0 * share * (1.0 - share);
            out.push([at.x, at.y, high]);
        }
        let falls = ticks(0.4);
        for i in 1..=falls {
            let share = i as f64 / falls as f64;
            let at = down * share;
            out.push([at.x, at.y, RIM - (RIM - 1.0) * share * share]);
        }
    }
    ball = out.last().copied().unwrap_or(ball);
    out.extend(std::iter::repeat_n(ball, ticks(STANDS)));
    let frames = out.into_iter().enumerate();
    let frames = frames.map(|(i, ball)| Frame {
        time: last.time + TICK * (i + 1) as f64,
        ball,
        holder,
        ..*last
    });
    frames.collect()
}

/// A miss from here comes down on the other side of the rim.
fn beside(from: Vec2) -> Vec2 {
    let far = from.length().max(1e-6);
    let on = -from / far * OFF;
    // Not behind the board.
    Vec2::new(on.x, on.y.max(0.2))
}

/// When the result is known, seconds: as the ball is at the rim, or at the end of the record. `after`: the frames
/// after the record.
pub fn known(possession: &Possession, after: &[Frame]) -> f64 {
    let stands = libm::round(STANDS / TICK) as usize;
    let first = after.len().checked_sub(stands).and_then(|i| after.get(i));
    first.map_or(possession.duration, |f| f.time)
}

/// The result in words: "In: 2 points.", "Missed: no points.", "The ball is lost: no points."
pub fn result(possession: &Possession) -> String {
    let points = match possession.ending.points() {
        0 => "no points".to_string(),
        1 => "1 point".to_string(),
        n => format!("{n} points"),
    };
    let how = match possession.ending {
        Ending::Shot {
            throws: Some(made), ..
        } => format!("Fouled, {made} of 2 free throws"),
        Ending::Shot { made: true, .. } => "In".to_string(),
        Ending::Shot { .. } => "Missed".to_string(),
        Ending::Turnover { how, .. } => match how {
            Turnover::Intercepted => "Pass intercepted",
            Turnover::Tipped => "Pass tipped and lost",
            Turnover::LostPass => "Pass lost",
            Turnover::LostDribble => "Dribble lost",
            Turnover::ShotClock => "Shot clock over",
            Turnover::CloselyGuarded => "Closely guarded too long",
            Turnover::LaneSeconds => "Too long in the lane",
        }
        .to_string(),
    };
    format!("{how}: {points}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;
    use crate::sim::{Keep, play};

    #[test]
    fn eighty_possessions_are_shown_to_their_result() {
        let scenario = Scenario::demo();
        let (mut ins, mut misses) = (0, 0);
        for seed in 1..=80 {
            let possession = play(&scenario, seed, Keep::ALL);
            let after = after(&possession);
            let last = after.last().expect("frames");
            let words = result(&possession);
            assert!(
                known(&possession, &after) >= possession.duration - 2.0 * TICK,
                "{words}"
            );
            assert!(last.time >= known(&possession, &after) + 1.5, "{words}");
            let points = possession.ending.points();
            assert_eq!(words.ends_with("no points"), points == 0, "{words}");
            if let Ending::Shot { made, .. } = possession.ending {
                let at_the_rim = after.iter().any(|f| {
                    let off = Vec2::new(f.ball[0], f.ball[1]).length();
                    off < 0.05 && (f.ball[2] - RIM).abs() < 0.05
                });
                assert!(at_the_rim, "seed {seed}: the ball never comes to the rim");
                let rests = Vec2::new(last.ball[0], last.ball[1]).length();
                assert!(
                    points == 0 || rests < 0.3,
                    "seed {seed}: {words}, {rests} m off"
                );
                ins += u32::from(made);
                misses += u32::from(points == 0);
            }
            // One step after the other.
            let times = possession.track.iter().chain(&after).map(|f| f.time);
            let times: Vec<f64> = times.collect();
            assert!(times.windows(2).all(|w| w[1] > w[0]), "seed {seed}");
        }
        assert!(ins > 5 && misses > 5, "{ins} in, {misses} missed");
    }
}
