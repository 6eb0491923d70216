//! Kinematics: how fast everybody moves, and how suddenly that changes.

use super::clip::{Clip, STEP};
use super::counts::{Counts, List, Pair};
use super::guarding::Matches;

/// Faster than this is fast, m/s.
const FAST: f64 = 3.0;
/// A holder faster than this moves, m/s.
const MOVES: f64 = 1.0;
/// Slower than this is standing, m/s.
pub(super) const STANDS: f64 = 0.5;
/// Faster than this an attacker has set off, m/s.
const SETS_OFF: f64 = 2.0;
/// Change of velocity from one sample to the next that is a jump, m/s.
const JUMP: f64 = 3.0;

/// Speeds of all ten in every sample (m/s, central difference over 0.24 s), and the share of samples
/// faster than 3 m/s; the same of the holder and of the defender matched with the holder.
pub fn speeds(clip: &Clip, matches: &Matches, counts: &mut Counts) {
    for (i, frame) in clip.frames.iter().enumerate() {
        for who in 0..10 {
            let speed = clip.speed(who, i);
            let (list, fast) = match who < 5 {
                true => (List::OffenceSpeed, Pair::OffenceFast),
                false => (List::DefenceSpeed, Pair::DefenceFast),
            };
            counts.push(list, speed);
            counts.share(fast, speed > FAST);
        }
        let Some(holder) = frame.holder else { continue };
        let speed = clip.speed(holder, i);
        counts.push(List::HolderSpeed, speed);
        counts.share(Pair::HolderMoves, speed > MOVES);
        let on_ball = 5 + matches.guard_of(i, holder);
        counts.push(List::OnBallSpeed, clip.speed(on_ball, i));
        let mut mates = (0..5).filter(|&mate| mate != holder);
        let all_stand = mates.all(|mate| clip.speed(mate, i) < STANDS);
        counts.share(Pair::AllFourStand, all_stand);
    }
}

/// Accelerations in every sample (m/s²): the second derivative of the parabola fitted to five
/// samples (Savitzky and Golay, order 2 over 0.60 s). The first and last two samples have none.
pub fn accelerations(clip: &Clip, counts: &mut Counts) {
    let n = clip.frames.len();
    for i in 2..n.saturating_sub(2) {
        for who in 0..10 {
            let at = |k: usize| clip.frames[k].player(who);
            let bend = (at(i - 2) + at(i + 2)) * 2.0 - at(i - 1) - at(i + 1) - at(i) * 2.0;
            let size = bend.length() / (7.0 * STEP * STEP);
            if who < 5 {
                counts.push(List::OffenceAcceleration, size);
                continue;
            }
            counts.push(List::DefenceAcceleration, size);
            counts.share(Pair::DefenceAbove6, size > 6.0);
            counts.share(Pair::DefenceAbove8, size > 8.0);
            counts.share(Pair::DefenceAbove10, size > 10.0);
        }
    }
}

/// Velocity jumps, all ten players together, a minute of play: the velocity from one sample to the
/// next differs by more than 3 m/s from that before it.
pub fn jumps(clip: &Clip, counts: &mut Counts) {
    let mut jumps = 0_u32;
    for three in clip.frames.windows(3) {
        for who in 0..10 {
            let [a, b, c] = [0, 1, 2].map(|k| three[k].player(who));
            jumps += u32::from((c - b * 2.0 + a).length() / STEP > JUMP);
        }
    }
    counts.add(Pair::Jumps, f64::from(jumps) * 60.0, clip.seconds());
}

/// Seconds from the start of a possession's first settled part until one of those without the ball
/// is faster than 2 m/s; the whole part where nobody ever is.
pub fn first_mover(clip: &Clip, counts: &mut Counts) {
    let moves = |i: &usize| {
        let holder = clip.frames[*i].holder;
        (0..5).any(|who| holder != Some(who) && clip.speed(who, *i) > SETS_OFF)
    };
    let n = clip.frames.len();
    let first = (0..n).find(moves).unwrap_or(n);
    counts.push(List::FirstMover, first as f64 * STEP);
}
