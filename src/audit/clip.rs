//! Tracks as the audit looks at them: where ten players and the ball are at 25/3 Hz, and who holds
//! the ball, cut down to the settled parts of a possession.
//!
//! * **Sample**: every 0.12 s ([`STEP`]), the rate of the games that the figures are compared with;
//!   our own tracks have 25 frames a second, of which every third is taken.
//! * **Settled**: all ten in the front half ([`FRONT`]), at least 3 s on end, and nothing after the
//!   release of the shot; without a shot nothing after the end of the last hold.
//! * **Hold**: the same holder for at least 0.24 s, two samples. What is shorter counts as no hold.
//! * **Pass**: one player's hold after another's, at least 1.8 m away (from the passer at the last
//!   sample of the one hold to the catcher at the first of the other). Nearer is a hand-off or a loose
//!   ball. The release is the passer's last sample, the catch the catcher's first.
//!
//! Frame of reference: metres, the ring's centre at the origin, y toward half court.

use crate::court::Vec2;
use crate::possession::{Possession, TICK, What};

/// Seconds between two samples.
pub const STEP: f64 = 0.12;
/// Half-court line of a court of 94 ft, metres from the rim (47 ft less 5.25 ft).
pub const FRONT: f64 = 12.725;
/// Shortest settled part, seconds.
pub const SETTLED: f64 = 3.0;
/// Shortest hold, seconds.
pub const HOLD: f64 = 0.24;
/// Shortest pass, metres.
pub const PASS: f64 = 1.8;
/// Farther from the rim than this is outside, metres.
pub const OUTSIDE: f64 = 5.5;

/// The number of samples nearest to so many seconds: 4 for 0.5 s (0.48 s), 8 for 1 s (0.96 s).
pub(super) fn samples(seconds: f64) -> usize {
    (seconds / STEP).round() as usize
}

/// Samples that fit into so many seconds.
pub(super) fn samples_within(seconds: f64) -> usize {
    (seconds / STEP + 1e-9).floor() as usize
}

/// Where everybody is at one instant.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Places of the attackers, metres.
    pub attackers: [Vec2; 5],
    /// Places of the defenders, metres.
    pub defenders: [Vec2; 5],
    /// Where the ball is over the floor, metres.
    pub ball: Vec2,
    /// Index of the attacker who holds the ball, 0–4.
    pub holder: Option<usize>,
}

impl Frame {
    /// Place of a player, 0–4 attackers, 5–9 defenders.
    pub fn player(&self, who: usize) -> Vec2 {
        if who < 5 {
            self.attackers[who]
        } else {
            self.defenders[who - 5]
        }
    }

    /// Distance of an attacker from the rim, metres.
    pub fn out(&self, attacker: usize) -> f64 {
        self.attackers[attacker].length()
    }
}

/// A whole possession as it was tracked, before anything is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    /// Frames of 0.12 s, or of a whole part of it: every `every`-th is a sample.
    pub frames: Vec<Frame>,
    /// Frames from one sample to the next, a count.
    pub every: usize,
    /// Frame of the last shot's release.
    pub shot: Option<usize>,
}

impl Track {
    /// The track of a possession of our own (empty unless the track was kept).
    pub fn of(possession: &Possession) -> Track {
        let frame = |f: &crate::possession::Frame| Frame {
            attackers: f.attackers,
            defenders: f.defenders,
            ball: Vec2::new(f.ball[0], f.ball[1]),
            holder: f.holder.map(|h| usize::from(h.clamp(1, 5)) - 1),
        };
        let mut shots = possession.timeline.iter().rev();
        let shot = shots.find(|e| matches!(e.what, What::Shoots { .. }));
        let last = possession.track.len().saturating_sub(1);
        Track {
            frames: possession.track.iter().map(frame).collect(),
            every: (STEP / TICK).round() as usize,
            // The first tick at or after it, as `report::track` writes it.
            shot: shot.map(|e| ((e.time / TICK + 0.5).floor() as usize).min(last)),
        }
    }

    /// The settled parts, in order.
    pub fn clips(&self) -> Vec<Clip> {
        let sampled = self.frames.iter().step_by(self.every.max(1));
        let mut frames: Vec<Frame> = sampled.copied().collect();
        drop_short_holds(&mut frames);
        let end = match self.shot {
            Some(shot) => shot / self.every.max(1) + 1,
            None => frames
                .iter()
                .rposition(|f| f.holder.is_some())
                .map_or(0, |i| i + 1),
        };
        frames.truncate(end);
        let settled = |f: &Frame| (0..10).all(|who| f.player(who).y <= FRONT);
        let mut clips = Vec::new();
        let mut start = 0;
        for i in 0..=frames.len() {
            if frames.get(i).is_some_and(settled) {
                continue;
            }
            if i - start >= samples(SETTLED) {
                clips.push(Clip {
                    frames: frames[start..i].to_vec(),
                    to_end: i == frames.len(),
                });
            }
            start = i + 1;
        }
        clips
    }
}

fn drop_short_holds(frames: &mut [Frame]) {
    let mut start = 0;
    while start < frames.len() {
        let holder = frames[start].holder;
        let rest = &frames[start..];
        let long = rest.iter().take_while(|f| f.holder == holder).count();
        if long < samples(HOLD) {
            frames[start..start + long]
                .iter_mut()
                .for_each(|f| f.holder = None);
        }
        start += long;
    }
}

/// An unbroken hold, from sample `start` to before sample `end`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hold {
    /// The attacker, 0–4.
    pub who: usize,
    /// First sample with the ball.
    pub start: usize,
    /// First sample without it.
    pub end: usize,
}

/// A pass: see the head of this file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pass {
    /// The passer, 0–4.
    pub from: usize,
    /// The catcher, 0–4.
    pub to: usize,
    /// The passer's last sample with the ball.
    pub release: usize,
    /// The catcher's first sample with the ball.
    pub caught: usize,
    /// Metres.
    pub length: f64,
    /// The catcher's hold, in the list of holds.
    pub hold: usize,
}

/// A settled part of a possession: samples [`STEP`] apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Clip {
    /// The samples, in order of time.
    pub frames: Vec<Frame>,
    /// It goes on to the shot, or to the end of the last hold.
    pub to_end: bool,
}

impl Clip {
    /// Its length, seconds.
    pub fn seconds(&self) -> f64 {
        self.frames.len() as f64 * STEP
    }

    /// Who held the ball and from when to when, in order.
    pub fn holds(&self) -> Vec<Hold> {
        let mut holds: Vec<Hold> = Vec::new();
        for (i, frame) in self.frames.iter().enumerate() {
            let Some(who) = frame.holder else { continue };
            match holds.last_mut() {
                Some(h) if h.who == who && h.end == i => h.end = i + 1,
                _ => holds.push(Hold {
                    who,
                    start: i,
                    end: i + 1,
                }),
            }
        }
        holds
    }

    /// The passes, in order.
    pub fn passes(&self, holds: &[Hold]) -> Vec<Pass> {
        let pass = |(i, pair): (usize, &[Hold])| {
            let (from, to) = (pair[0], pair[1]);
            let release = from.end - 1;
            let place = self.frames[release].attackers[from.who];
            let length = (self.frames[to.start].attackers[to.who] - place).length();
            (from.who != to.who && length >= PASS).then_some(Pass {
                from: from.who,
                to: to.who,
                release,
                caught: to.start,
                length,
                hold: i + 1,
            })
        };
        holds.windows(2).enumerate().filter_map(pass).collect()
    }

    /// Has this hold come to its end within the part (or with the possession)?
    pub fn is_over(&self, hold: &Hold) -> bool {
        hold.end < self.frames.len() || self.to_end
    }

    /// Velocity of a player, m/s: central difference over 0.24 s, at the ends over 0.12 s.
    pub fn velocity(&self, who: usize, i: usize) -> Vec2 {
        let (a, b) = (i.saturating_sub(1), (i + 1).min(self.frames.len() - 1));
        (self.frames[b].player(who) - self.frames[a].player(who)) / ((b - a).max(1) as f64 * STEP)
    }

    /// Speed of a player, m/s.
    pub fn speed(&self, who: usize, i: usize) -> f64 {
        self.velocity(who, i).length()
    }

    /// How often `is` holds for at least `seconds` on end, to the nearest sample.
    pub(super) fn spells(&self, seconds: f64, is: impl Fn(&Frame) -> bool) -> u32 {
        let least = samples(seconds);
        let (mut count, mut run) = (0, 0);
        for frame in &self.frames {
            run = if is(frame) { run + 1 } else { 0 };
            count += u32::from(run == least);
        }
        count
    }
}
