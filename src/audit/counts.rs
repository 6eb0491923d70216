//! What one possession brings to the audit: sums of ratios, lists of values, and cells stood in.

use std::collections::BTreeMap;

use super::clip::{Clip, Track};
use super::guarding::Matches;
use super::{drives, guarding, motion, passes, spacing};

/// What is counted as a ratio of sums.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pair {
    OffenceFast,
    DefenceFast,
    HolderMoves,
    AllFourStand,
    DefenceAbove6,
    DefenceAbove8,
    DefenceAbove10,
    Jumps,
    MatesNear,
    MatesNearFree,
    MatesTight,
    DefendersTight,
    ThreeAtTheRim,
    Outside,
    Passes,
    /// Passes in 10 s, only in possessions with three or more.
    PassesOfMany,
    CatchStanding,
    Drives,
    DriveMate10,
    DriveMate15,
    Cuts,
}

/// What is listed value by value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum List {
    OffenceSpeed,
    DefenceSpeed,
    HolderSpeed,
    OnBallSpeed,
    OffenceAcceleration,
    DefenceAcceleration,
    FirstMover,
    AttackHull,
    DefenceHull,
    NearestMate,
    PassLength,
    ReleaseGap,
    BallSpeedTo4,
    BallSpeedTo6,
    BallSpeedTo8,
    BallSpeedTo10,
    BallSpeedBeyond,
    Touch,
    CatchToAction,
    CutterStays,
    OffOnBall,
    OffOnePass,
    OffTwoPasses,
    OffInside,
    CatchRoom,
    CatchRoomHalf,
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
