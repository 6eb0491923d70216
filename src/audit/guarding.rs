//! Who guards whom, how far off, and how the catcher is closed out.
//!
//! * **Match**: each defender has one man; of all 120 ways the one with the least total distance,
//!   added up over 2 s about the sample (17 samples; fewer at the ends of the part).
//! * **Relation** to the ball: the holder's defender is on the ball. While the holder is at least 4.2 m
//!   from the rim, all attackers so far out are sorted by angle about the rim: the holder's
//!   neighbours are one pass away, the rest two or more; an attacker nearer than 4.2 m is inside.

use super::clip::{Clip, Frame, Hold, OUTSIDE, Pass, samples_within};
use super::counts::{Counts, List};
use crate::scrimmage::franks::nearest_assignment;

/// Half the window of a match, seconds.
const WINDOW: f64 = 1.0;
/// Nearer to the rim than this is inside, metres.
const INSIDE: f64 = 4.2;
/// Seconds after a catch at which its nearest defender is asked for.
const AFTER: [(f64, List); 3] = [
    (0.0, List::CatchRoom),
    (0.5, List::CatchRoomHalf),
    (1.0, List::CatchRoomOne),
];

/// Who guards whom in every sample of a clip.
pub struct Matches(Vec<[usize; 5]>);

impl Matches {
    /// Reckons them.
    pub fn of(clip: &Clip) -> Matches {
        let n = clip.frames.len();
        let mut sums = vec![[[0.0; 5]; 5]];
        for (i, frame) in clip.frames.iter().enumerate() {
            let mut next = sums[i];
            for d in 0..5 {
                for a in 0..5 {
                    next[d][a] += (frame.defenders[d] - frame.attackers[a]).length();
                }
            }
            sums.push(next);
        }
        let about = |i: usize| {
            let reach = samples_within(WINDOW);
            let (from, to) = (i.saturating_sub(reach), (i + reach + 1).min(n));
            let mut costs = sums[to];
            for d in 0..5 {
                for a in 0..5 {
                    costs[d][a] -= sums[from][d][a];
                }
            }
            let men = nearest_assignment(&costs);
            // The defender of each attacker.
            let mut guards = [0; 5];
            men.iter().enumerate().for_each(|(d, &a)| guards[a] = d);
            guards
        };
        Matches((0..n).map(about).collect())
    }

    /// The defender (0–4) of an attacker at a sample.
    pub fn guard_of(&self, i: usize, attacker: usize) -> usize {
        self.0[i][attacker]
    }
}

/// Relations of the attackers to the ball: the list that each one's distance belongs into.
fn relations(frame: &Frame, holder: usize) -> [Option<List>; 5] {
    let mut all = [None; 5];
    all[holder] = Some(List::OffOnBall);
    if frame.out(holder) < INSIDE {
        return all;
    }
    let angle = |a: usize| libm::atan2(frame.attackers[a].x, frame.attackers[a].y);
    let mut outside: Vec<usize> = (0..5).filter(|&a| frame.out(a) >= INSIDE).collect();
    outside.sort_by(|&a, &b| angle(a).total_cmp(&angle(b)));
    let place = outside.iter().position(|&a| a == holder).unwrap_or(0);
    for who in (0..5).filter(|&a| a != holder) {
        all[who] = Some(match outside.iter().position(|&a| a == who) {
            None => List::OffInside,
            Some(other) if other.abs_diff(place) == 1 => List::OffOnePass,
            Some(_) => List::OffTwoPasses,
        });
    }
    all
}

/// Distance of a defender to the matched man, metres, by the man's relation to the ball.
pub fn distances(clip: &Clip, matches: &Matches, counts: &mut Counts) {
    for (i, frame) in clip.frames.iter().enumerate() {
        let Some(holder) = frame.holder else { continue };
        for (who, list) in relations(frame, holder).into_iter().enumerate() {
            if let Some(list) = list {
                let guard = frame.defenders[matches.guard_of(i, who)];
                counts.push(list, (guard - frame.attackers[who]).length());
            }
        }
    }
}

/// Nearest defender to the catcher of a ball caught 5.5 m or more from the rim, metres: at once, and 0.5 s
/// and 1.0 s (0.48 s and 0.96 s by the sample) later if the catcher still has it.
pub fn closeouts(clip: &Clip, passes: &[Pass], holds: &[Hold], counts: &mut Counts) {
    for pass in passes {
        if clip.frames[pass.caught].out(pass.to) < OUTSIDE {
            continue;
        }
        for (seconds, list) in AFTER {
            let i = pass.caught + samples_within(seconds);
            if i < holds[pass.hold].end {
                let frame = &clip.frames[i];
                let off = |d: &crate::court::Vec2| (d - frame.attackers[pass.to]).length();
                let room = frame.defenders.iter().map(off);
                counts.push(list, room.fold(f64::INFINITY, f64::min));
            }
        }
    }
}
