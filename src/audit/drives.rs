//! Drives with the ball and cuts without it.

use super::clip::{Clip, Hold, STEP, samples_within};
use super::counts::{Counts, List, Pair};

/// A drive starts farther out than this and ends nearer, metres.
const DRIVE: f64 = 5.0;
/// It brings the holder so much nearer to the rim, metres, ...
const GAINS: f64 = 2.5;
/// ... within so many seconds.
const GAINS_WITHIN: f64 = 1.2;
/// A cut comes from farther out than this, metres, ...
const CUT_FROM: f64 = 6.0;
/// ... nearer than this ...
const CUT_TO: f64 = 2.5;
/// ... within so many seconds.
const CUT_WITHIN: f64 = 2.5;
/// Farther out than this the next cut can begin, metres.
const CUT_AGAIN: f64 = 3.5;
/// A cutter farther out than this has left, metres.
const STAYS: f64 = 3.0;

/// A drive, from sample `start` to sample `end`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drive {
    /// The driver, 0–4.
    pub who: usize,
    /// The sample in which it begins.
    pub start: usize,
    /// The sample in which it ends.
    pub end: usize,
}

/// Drives: the same player holds the ball, and from more than 5 m the distance to the rim falls by at
/// least 2.5 m within 1.2 s; a drive ends when it stops falling.
pub fn find_drives(clip: &Clip, holds: &[Hold]) -> Vec<Drive> {
    let mut drives = Vec::new();
    for hold in holds {
        let out = |i: usize| clip.frames[i].out(hold.who);
        let mut i = hold.start;
        while i < hold.end {
            let last = (i + samples_within(GAINS_WITHIN)).min(hold.end - 1);
            let there = (i + 1..=last).find(|&j| out(i) > DRIVE && out(i) - out(j) >= GAINS);
            if let Some(mut end) = there {
                while end + 1 < hold.end && out(end + 1) < out(end) {
                    end += 1;
                }
                drives.push(Drive {
                    who: hold.who,
                    start: i,
                    end,
                });
                i = end;
            }
            i += 1;
        }
    }
    drives
}

/// Drives that end inside 5 m, in 10 s; of these the share in which a team-mate is within 1.0 m
/// (1.5 m) of the driver at any sample of the drive inside 5 m.
pub fn drives(clip: &Clip, holds: &[Hold], counts: &mut Counts) {
    let mut inside = 0_u32;
    for drive in find_drives(clip, holds) {
        if clip.frames[drive.end].out(drive.who) >= DRIVE {
            continue;
        }
        inside += 1;
        let frames = &clip.frames[drive.start..=drive.end];
        let nearest = frames
            .iter()
            .filter(|f| f.out(drive.who) < DRIVE)
            .flat_map(|f| {
                let mates = (0..5).filter(|&m| m != drive.who);
                mates.map(|m| (f.attackers[m] - f.attackers[drive.who]).length())
            })
            .fold(f64::INFINITY, f64::min);
        counts.share(Pair::DriveMate10, nearest < 1.0);
        counts.share(Pair::DriveMate15, nearest < 1.5);
    }
    counts.add(Pair::Drives, f64::from(inside) * 10.0, clip.seconds());
}

/// Cuts in 10 s: off the ball from more than 6 m to less than 2.5 m from the rim within 2.5 s; a
/// new one only after more than 3.5 m. Of a cutter who does not get the ball: seconds from the first
/// sample nearer than 2.5 m to the last one before the cutter is more than 3 m out.
pub fn cuts(clip: &Clip, counts: &mut Counts) {
    let mut cuts = 0_u32;
    let frames = &clip.frames;
    for who in 0..5 {
        let (mut far, mut armed) = (None, true);
        for (i, frame) in frames.iter().enumerate() {
            let out = frame.out(who);
            if frame.holder == Some(who) {
                far = None;
            } else if out > CUT_FROM {
                far = Some(i);
            }
            armed |= out > CUT_AGAIN;
            let in_time = far.is_some_and(|far| i - far <= samples_within(CUT_WITHIN));
            if out >= CUT_TO || !armed || !in_time {
                continue;
            }
            armed = false;
            cuts += 1;
            let stay = frames[i..].iter().position(|f| f.out(who) > STAYS);
            if let Some(stay) = stay
                && frames[i..i + stay].iter().all(|f| f.holder != Some(who))
            {
                counts.push(List::CutterStays, (stay - 1) as f64 * STEP);
            }
        }
    }
    counts.add(Pair::Cuts, f64::from(cuts) * 10.0, clip.seconds());
}
