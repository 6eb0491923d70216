//! What one possession brings to the audit: sums of ratios, lists of values, and cells stood in.

use std::collections::BTreeMap;

use super::clip::{Clip, Track};
use super::guarding::Matches;
use super::{drives, guarding, motion, passes, spacing};

/// What is counted as a ratio of sums.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pair {
    /// Attackers faster than 3 m/s, share of their frames.
    OffenceFast,
    /// Defenders faster than 3 m/s, share of their frames.
    DefenceFast,
    /// The holder moves faster than 1 m/s, share of held time.
    HolderMoves,
    /// All four attackers without the ball stand, share of held time.
    AllFourStand,
    /// Defenders above 6 m/s², per cent of their frames.
    DefenceAbove6,
    /// The same above 8 m/s².
    DefenceAbove8,
    /// The same above 10 m/s².
    DefenceAbove10,
    /// Jumps of velocity, a minute.
    Jumps,
    /// Two attackers within 1.5 m for a second, spells in 10 s.
    MatesNear,
    /// The same without the holder.
    MatesNearFree,
    /// Two attackers within 1.0 m for half a second, spells in 10 s.
    MatesTight,
    /// Two defenders within 0.9 m for half a second, spells in 10 s.
    DefendersTight,
    /// Three or more attackers within 3 m of the rim, share of time.
    ThreeAtTheRim,
    /// Attackers 5.5 m or more from the rim, mean count.
    Outside,
    /// Passes in 10 s.
    Passes,
    /// Passes in 10 s, only in possessions with three or more.
    PassesOfMany,
    /// Receivers slower than 0.5 m/s at the catch, share.
    CatchStanding,
    /// Drives that reach 5 m from the rim, in 10 s.
    Drives,
    /// Those with a team-mate within 1.0 m of the driver, share.
    DriveMate10,
    /// Those with a team-mate within 1.5 m, share.
    DriveMate15,
    /// Cuts in 10 s.
    Cuts,
}

/// What is listed value by value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum List {
    /// Speed of attackers, m/s.
    OffenceSpeed,
    /// Speed of defenders, m/s.
    DefenceSpeed,
    /// Speed of the holder, m/s.
    HolderSpeed,
    /// Speed of the on-ball defender, m/s.
    OnBallSpeed,
    /// Acceleration of attackers, m/s².
    OffenceAcceleration,
    /// Acceleration of defenders, m/s².
    DefenceAcceleration,
    /// Until the first attacker without the ball is faster than 2 m/s, seconds.
    FirstMover,
    /// Hull of the attackers, m².
    AttackHull,
    /// Hull of the defenders, m².
    DefenceHull,
    /// From an outside attacker to the nearest team-mate, metres.
    NearestMate,
    /// Length of a pass, metres.
    PassLength,
    /// From one release to the next, seconds.
    ReleaseGap,
    /// Speed of passes under 4 m, m/s.
    BallSpeedTo4,
    /// Speed of passes of 4 to 6 m, m/s.
    BallSpeedTo6,
    /// Speed of passes of 6 to 8 m, m/s.
    BallSpeedTo8,
    /// Speed of passes of 8 to 10 m, m/s.
    BallSpeedTo10,
    /// Speed of longer passes, m/s.
    BallSpeedBeyond,
    /// From a catch to the next release, seconds.
    Touch,
    /// From an outside catch to the next action, seconds.
    CatchToAction,
    /// How long a cutter who is not fed stays at the rim, seconds.
    CutterStays,
    /// From the on-ball defender to the holder, metres.
    OffOnBall,
    /// From a defender one pass away to the attacker guarded, metres.
    OffOnePass,
    /// The same two or more passes away.
    OffTwoPasses,
    /// The same inside.
    OffInside,
    /// From the catcher outside to the nearest defender at the catch, metres.
    CatchRoom,
    /// The same half a second later.
    CatchRoomHalf,
    /// The same a second later.
    CatchRoomOne,
}

/// One possession.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Counts {
    pairs: BTreeMap<Pair, (f64, f64)>,
    lists: BTreeMap<List, Vec<f64>>,
    cells: BTreeMap<(i32, i32), u32>,
    seconds: f64,
}

impl Counts {
    /// All that the settled parts of a track bring.
    pub fn of(track: &Track) -> Counts {
        let mut counts = Counts::default();
        let clips = track.clips();
        for (i, clip) in clips.iter().enumerate() {
            counts.clip(clip);
            if i == 0 {
                motion::first_mover(clip, &mut counts);
            }
        }
        counts.many_passes();
        counts
    }

    fn clip(&mut self, clip: &Clip) {
        self.seconds += clip.seconds();
        let matches = Matches::of(clip);
        let holds = clip.holds();
        let passed = clip.passes(&holds);
        motion::speeds(clip, &matches, self);
        motion::accelerations(clip, self);
        motion::jumps(clip, self);
        spacing::crowding(clip, self);
        spacing::places(clip, self);
        passes::passes(clip, &passed, self);
        passes::catches(clip, &passed, &holds, self);
        drives::drives(clip, &holds, self);
        drives::cuts(clip, self);
        guarding::distances(clip, &matches, self);
        guarding::closeouts(clip, &passed, &holds, self);
    }

    /// The rate of passes counts a second time in possessions with three passes or more.
    fn many_passes(&mut self) {
        let (y, x) = self.pair(Pair::Passes);
        if y >= 30.0 {
            self.add(Pair::PassesOfMany, y, x);
        }
    }

    /// Adds to both sums of a ratio.
    pub fn add(&mut self, pair: Pair, y: f64, x: f64) {
        let sums = self.pairs.entry(pair).or_default();
        *sums = (sums.0 + y, sums.1 + x);
    }

    /// One case of a share.
    pub fn share(&mut self, pair: Pair, hit: bool) {
        self.add(pair, f64::from(u8::from(hit)), 1.0);
    }

    /// One value of a list.
    pub fn push(&mut self, list: List, value: f64) {
        self.lists.entry(list).or_default().push(value);
    }

    /// One sample in a cell of the floor.
    pub fn stand_in(&mut self, cell: (i32, i32)) {
        *self.cells.entry(cell).or_default() += 1;
    }

    /// Both sums of a ratio.
    pub fn pair(&self, pair: Pair) -> (f64, f64) {
        self.pairs.get(&pair).copied().unwrap_or_default()
    }

    /// The values of a list, in order of time.
    pub fn list(&self, list: List) -> &[f64] {
        self.lists.get(&list).map_or(&[], Vec::as_slice)
    }

    /// Samples in each cell.
    pub fn cells(&self) -> &BTreeMap<(i32, i32), u32> {
        &self.cells
    }

    /// Settled play, seconds.
    pub fn seconds(&self) -> f64 {
        self.seconds
    }
}
