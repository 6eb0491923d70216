//! What happens and is written down: happenings that rules may answer, spells that are counted, and
//! the book of the possession.

use crate::court::{Side, Spot};
use crate::offence::{LookKind, Toward};
use crate::possession::{Entry, Frame, Moment, What};
use crate::value::{Chance, GOES_ON};

use super::clock::Clock;
use super::components::{Feet, Hold, Old};
use super::orders::Orders;

/// Something that rules may answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Happening {
    Pass {
        from: Spot,
        to: Spot,
        passer: usize,
        receiver: usize,
    },
    Drive {
        from: Spot,
        driver: usize,
        /// Which way he goes by his defender; `None` from the middle of the floor, or with nobody to go by.
        toward: Option<Toward>,
    },
    KickOut {
        from: Spot,
        driver: usize,
        receiver: usize,
    },
    HandOff {
        from: Spot,
        to: Spot,
        giver: usize,
        receiver: usize,
    },
    Catch {
        at: Spot,
        who: usize,
    },
    CatchOffScreen {
        at: Spot,
        who: usize,
        screener: usize,
    },
    FeedStopped {
        at: Spot,
        who: usize,
    },
    Unfed {
        from: Spot,
        /// The place of the cut; `None`: the rim.
        to: Option<Spot>,
        who: usize,
    },
    ScreenSet {
        at: Spot,
        user: usize,
        screener: usize,
    },
    ScreenUsed {
        at: Spot,
        user: usize,
        screener: usize,
    },
    Helped {
        from: Spot,
        who: usize,
    },
    Denied {
        at: Spot,
        ball: Spot,
        who: usize,
        ticks: u32,
    },
    BallOn {
        at: Spot,
        ticks: u32,
    },
    BallCrosses,
    DribbleAt {
        at: Spot,
        mate: usize,
    },
    PostForgotten {
        who: usize,
        ticks: u32,
    },
    Clock,
}

/// Happenings of this tick, spells that are counted, and what rules have fired in a spell.
#[derive(Default)]
pub struct Signals {
    pub now: Vec<Happening>,
    pub denied: [u32; 5],
    /// Ticks for which the pass to each team-mate one pass away has not been safe.
    pub shut: [u32; 5],
    /// Tick of the last time that each worked to get open.
    pub worked: [Option<u32>; 5],
    pub forgotten: u32,
    /// Rules that have answered the present spell of their event (bit by rule index, up to 64).
    pub answered: u64,
    /// Rules that fire once in a possession and have fired.
    pub once: u64,
    pub last_rule: Option<usize>,
    /// The passer's eyes are on one cutter until this tick.
    pub eyes_on_one: u32,
    pub last_driver: Option<usize>,
    /// Who came off a set screen last, away from the ball: the user, the screener, and the tick.
    pub off_screen: Option<(usize, usize, u32)>,
    pub last_passer: Option<usize>,
    pub feet: [Feet; 5],
    /// Where the ball is held, and the tick since which it is held there.
    pub ball_on: Option<(Spot, u32)>,
}

/// What is written down.
#[derive(Default)]
pub struct Book {
    pub timeline: Vec<Entry>,
    pub moments: Vec<Moment>,
    pub track: Vec<Frame>,
    pub keep_track: bool,
    pub keep_moments: bool,
    pub witness: Witness,
    pub ending: Option<crate::possession::Ending>,
    /// Tick since which the holder has had no open look.
    pub stalled: Option<u32>,
    /// Decision instants in a row at which each attacker's backdoor cut was open.
    pub backdoor: [u32; 5],
    /// Ticks that count against each attacker in the lane, and ticks since he came in.
    pub in_lane: [u32; 5],
    pub came_in: [u32; 5],
}

/// What else is kept of the holder's decisions, if asked for.
#[derive(Clone, Default)]
pub struct Witness {
    /// What the holder decided from, one for each moment.
    pub instants: Option<Vec<Instant>>,
    /// The chances that came by.
    pub chances: Option<Vec<Chance<GOES_ON>>>,
    /// What was taken, and what it promised, usual possessions: of a team that now and then drives for no reason.
    pub taken: Option<Vec<(LookKind, f64)>>,
    /// What became of the rules' orders.
    pub orders: Option<Orders>,
    /// Instants with an open shot worth taking: was it passed up, and by how much, points, was it worth more than to go on?
    pub open_shots: Option<Vec<(bool, f64)>>,
}

impl Witness {
    /// Keeps what the holder decides from.
    pub fn of_instants() -> Witness {
        Witness {
            instants: Some(Vec::new()),
            ..Witness::default()
        }
    }
}

impl Book {
    /// Keeps what the holder decides from, if asked to.
    pub fn see(&mut self, clock: &Clock, old: &Old, hold: &Hold, side: Side) {
        if let Some(instants) = &mut self.witness.instants {
            instants.push(Instant {
                clock: *clock,
                old: old.clone(),
                hold: *hold,
                side,
            });
        }
    }

    pub fn write(&mut self, clock: &Clock, what: What) {
        self.timeline.push(Entry {
            time: clock.seconds(),
            what,
        });
    }
}

/// The old state, the hold and the clock of one decision instant.
#[derive(Clone)]
pub struct Instant {
    pub clock: Clock,
    pub old: Old,
    pub hold: Hold,
    /// The side on which the ball is, or from which it last came.
    pub side: Side,
}
