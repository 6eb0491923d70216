//! What an attacker is doing, and what comes next.
//!
//! A flash triggered by a stationary ball is cancelled when the ball moves (`Job::let_it_be`). The
//! holder waits for a player who is about to flash or to cut off a screen (`Job::awaited`).

use std::collections::VecDeque;

use crate::court::{Side, Spot, Vec2};
use crate::offence::{CutLane, Movement, OffScreen, Role};

use super::clock::ticks;

/// What an attacker is doing.
#[derive(Clone, Debug)]
pub enum Task {
    /// In his place, facing the ball.
    Stand,
    /// On his way, by up to three points.
    Run {
        /// Where he set out, and where he goes.
        way: [Vec2; 4],
        legs: u8,
        leg: u8,
        pace: f64,
    },
    /// Cutting to the rim, or to a place.
    Cut {
        lane: CutLane,
        from: Spot,
        /// The place where it ends, if that is not the rim.
        to: Option<Spot>,
        via: Option<Vec2>,
        goal: Vec2,
        unfed: Box<Movement>,
        reached: Option<u32>,
        off_a_screen: bool,
    },
    /// Showing at a spot for a while.
    Flash {
        at: Spot,
        goal: Vec2,
        arrived: Option<u32>,
        ticks: u32,
        seal: bool,
    },
    /// Getting open: a step or two toward the rim, then back out hard to the ball.
    GetOpen {
        /// How far in he goes.
        turn: Vec2,
        out: bool,
        /// Given up at this tick.
        until: u32,
    },
    /// Setting a screen for a team-mate.
    Screen {
        whom: usize,
        /// Given up at this tick if he has not got there.
        until: u32,
        set: Option<u32>,
        /// For whoever has the ball, or is about to catch it?
        on_ball: bool,
        /// Has that one been seen to wait for it?
        awaited: bool,
        /// Three seconds were near on the way: he steps out of the lane first.
        steps_out: bool,
        after: Box<Movement>,
    },
    /// Coming for the ball that a team-mate is to hand over.
    Take {
        from: usize,
        /// Where he waits until that one is near, metres.
        at: Vec2,
    },
    /// Waiting for a screen to come.
    UseScreen {
        of: usize,
        /// Where he waits, metres, and the point by which he comes out to there from under the rim.
        at: Vec2,
        via: Option<Vec2>,
        since: u32,
        /// Since when he has been there, or has come as near as he gets.
        there: Option<u32>,
        /// To come off to the own place rather than to the rim, and the other ways that are allowed.
        to_a_place: Option<Vec<OffScreen>>,
        unfed: Box<Movement>,
    },
    /// Coming off a screen to the own place.
    ComeOff {
        /// The screener.
        of: usize,
        /// By the screener's shoulder (so far off the screener's middle), and where to, metres.
        past: Vec2,
        by: Vec2,
        goal: Vec2,
        /// Where he comes from, metres; and is he on his way round the screener to the rim?
        from: Vec2,
        curls: bool,
        /// What he may do instead, by what the defender does.
        ways: Vec<OffScreen>,
        unfed: Box<Movement>,
    },
    /// Beside the rim while a team-mate drives: goes when his defender has left.
    AwaitHelp {
        /// Where he waits, metres: other orders wait until the drive is over.
        home: Vec2,
        gone: bool,
    },
    /// A pass is on its way to him.
    Meet {
        at: Vec2,
        through: bool,
        /// Tick at which the ball is there.
        when: u32,
        /// Where he catches it, for the rules.
        spot: Spot,
    },
    /// Has the ball.
    Handle,
    /// After a loose ball.
    Chase,
    /// Does not play: fewer than five do.
    Absent,
}

/// Who flashes has just come for so long, seconds (ours).
const JUST_COME: f64 = 0.6;

/// What the last rule that named a player knew of him.
#[derive(Clone, Copy, Debug, Default)]
pub struct Order {
    /// Tick of that rule.
    pub told: u32,
    /// The place that he held, or was on his way to, when it found him.
    pub found_at: Option<Spot>,
    /// Given because the ball stays somewhere: once it goes on he need not flash any more.
    pub while_it_stays: bool,
    /// Three seconds were near: he gave up what he did and left the lane.
    pub left_lane: bool,
    /// The user of the screen that he was to set was sent elsewhere.
    pub user_gone: bool,
    /// Told to go to a place with the screen that he is to use, or to set for one who waits, a stride away: it comes first.
    pub screen_first: bool,
    /// The team-mate whom he was to screen for because that one had the ball, until he sets out: a ball that has gone on
    /// meanwhile needs no screen.
    pub for_the_ball: Option<usize>,
    /// To hold: he stays where he is until the ball moves on.
    pub holds: bool,
}

/// An attacker's job.
#[derive(Clone, Debug)]
pub struct Job {
    /// The place that he holds, is on his way to, or will come out to.
    pub place: Option<Spot>,
    /// The side of the last place that he held.
    pub own: Option<Side>,
    pub task: Task,
    /// He starts at this tick.
    pub starts: u32,
    /// What he is to do then.
    pub next: Option<Movement>,
    pub order: Order,
    /// The place inside that he left with the ball, to which he goes back if nothing else is open.
    pub left: Option<Spot>,
    /// The place of the team's that a rule for a drive moved him from, to which he goes back when the drive is over.
    pub back: Option<Spot>,
    /// Where he flashed last, and the tick at which he left it.
    pub showed: Option<(Spot, u32)>,
    /// What follows when this is done, step by step.
    pub steps: VecDeque<Movement>,
    /// Ticks for which the player has waited for a free way.
    pub waited: u32,
}

impl Job {
    /// This is what he does next, from a tick on.
    pub fn then(&mut self, movement: Movement, from: u32) {
        (self.next, self.starts) = (Some(movement), from);
    }

    pub fn cutting(&self) -> bool {
        matches!(self.task, Task::Cut { .. })
    }

    /// Is he one for whom the holder (0–4) waits: about to flash, on his way there or just come, about to cut off a
    /// screen, or to set one for the holder?
    pub fn awaited(&self, tick: u32, holder: Option<usize>) -> bool {
        let for_the_holder = |role: &Role| match role {
            Role::Player(n) => holder == usize::from(*n).checked_sub(1),
            _ => false,
        };
        let shows = |m: &Movement| match m {
            Movement::Flash { .. } => true,
            Movement::ScreenFor { whom, .. } => holder.is_some() && for_the_holder(whom),
            _ => false,
        };
        match &self.task {
            Task::Flash {
                arrived,
                seal: false,
                ..
            } => arrived.is_none_or(|t| tick < t + ticks(JUST_COME)),
            Task::Cut {
                unfed,
                reached,
                off_a_screen,
                ..
            } => shows(unfed) || *off_a_screen && reached.is_none(),
            Task::UseScreen { .. }
            | Task::ComeOff { .. }
            | Task::Take { .. }
            | Task::Screen { on_ball: true, .. } => true,
            Task::Screen { after, .. } if shows(after) => true,
            _ => self.next.as_ref().is_some_and(shows),
        }
    }

    /// The ball for which he was to flash has gone on: unless he is there already he goes home. Was he to?
    pub fn let_it_be(&mut self) -> bool {
        let shows = |m: &Movement| matches!(m, Movement::Flash { .. } | Movement::Seal { .. });
        if !self.order.while_it_stays {
            return false;
        }
        match &mut self.task {
            Task::Flash { arrived: None, .. } => self.task = Task::Stand,
            Task::Cut { unfed: next, .. } | Task::Screen { after: next, .. } if shows(next) => {
                **next = Movement::Hold;
            }
            _ if self.next.as_ref().is_some_and(shows) => self.next = None,
            _ => return false,
        }
        true
    }

    /// Where he flashes or seals, or did a moment ago.
    pub fn shown(&self, tick: u32) -> Option<Spot> {
        let lately = self.showed.filter(|s| tick < s.1 + ticks(JUST_COME));
        match self.task {
            Task::Flash { at, .. } => Some(at),
            Task::Cut {
                to: Some(at),
                reached: Some(_),
                ..
            } if at.name.is_inside() => Some(at),
            _ => lately.map(|s| s.0),
        }
    }

    /// He leaves his place with the ball; one inside he remembers.
    pub fn leaves_it(&mut self) {
        self.left = self.place.take().filter(|s| !s.name.is_perimeter());
    }

    /// Is his place the one to which he goes after a screen that he sets, or is to set? Until then whoever holds it
    /// keeps it.
    pub fn screens_first(&self) -> bool {
        let elsewhere = |m: &Movement| match m {
            Movement::ScreenFor { after, .. } => after.leaves(),
            _ => false,
        };
        match (&self.next, &self.task) {
            (Some(next), _) => elsewhere(next),
            (None, Task::Screen { after, .. }) => after.leaves(),
            (None, Task::Cut { unfed, .. }) => elsewhere(unfed),
            _ => false,
        }
    }

    /// For whom he sets a screen, or will when he is done with what he does.
    pub fn screening(&self) -> Option<usize> {
        let planned = |m: &Movement| match m {
            Movement::ScreenFor {
                whom: Role::Player(n),
                ..
            } => usize::from(*n).checked_sub(1),
            _ => None,
        };
        match &self.task {
            Task::Screen { whom, .. } => Some(*whom),
            Task::Cut { unfed, .. } => planned(unfed),
            _ => self.next.as_ref().and_then(planned),
        }
    }
}
