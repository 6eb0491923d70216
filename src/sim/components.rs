//! The parts of the players, the ball and the floor: what the systems read and write.

use std::sync::Arc;

use crate::ball::{Flight, PassKind};
use crate::body::{Body, Intent};
use crate::court::{Side, Spot, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::{BODIES, Cast, Scene};
use crate::offence::{CutLane, LookKind};
use crate::possession::{Ballwork, Finish};
use crate::scenario::Scenario;

use super::dice::Dice;

/// Where a player is, how he moves and faces.
#[derive(Clone, Copy, Debug)]
pub struct Form(pub Body);

/// What he tries to do with his body in this tick, and how firmly he stands (1 gives way, 0 is a set screen).
#[derive(Clone, Copy, Debug)]
pub struct Will {
    pub intent: Intent,
    pub mobile: f64,
    /// Share of his acceleration and braking that he puts into it, 0–1.
    pub effort: f64,
    pub manner: Manner,
    /// What he has added to the velocity that he wishes, m/s, to keep clear of team-mates.
    pub clear: Vec2,
}

/// How a player goes about a movement.
#[derive(Clone, Copy, Debug, Default)]
pub struct Manner {
    /// Time constant with which the velocity closes on the wish, s.
    pub lag: f64,
    /// Toward a place the speed is at most this times the distance left, 1/s; `None`: as braking allows.
    pub settle: Option<f64>,
    /// Share in making room for a team-mate, beside the team-mate's; 0 never makes room.
    pub yields: f64,
    /// Drives to the rim: team-mates keep farther away.
    pub drives: bool,
    /// The team-mate (0–4) to whom the player has to come near: the one who is screened for, or screens.
    pub with: Option<usize>,
}

/// What a defender saw last of something, and when.
#[derive(Clone, Copy, Debug)]
pub struct Seen {
    pub pos: Vec2,
    pub vel: Vec2,
    pub tick: u32,
}

/// What a defender knows of ball and man.
#[derive(Clone, Copy, Debug)]
pub struct Eyes {
    pub man: Seen,
    pub ball: Seen,
    /// Looking away from his policy until this tick.
    pub glance_until: u32,
    /// By how many ticks his glances are off everybody else's.
    pub phase: u32,
    /// Does he see the ball, and his man, now?
    pub sees_ball: bool,
    pub sees_man: bool,
}

/// What a defender is doing.
#[derive(Clone, Copy, Debug)]
pub struct Guard {
    pub man: usize,
    pub duty: Duty,
    pub relation: Relation,
    /// Tick at which he took up this duty.
    pub since: u32,
    /// Tick at which he last traded players on a screen.
    pub traded: Option<u32>,
    /// Since when his man's relation to the ball has been another than the one he acts on.
    pub news: Option<u32>,
    /// Tick at which the own player was last seen to give the ball up.
    pub left_ball: Option<u32>,
    /// What he does beyond the stance.
    pub cover: Cover,
    /// What he does, still with his own player, about a drive that he has seen.
    pub about_drive: AboutDrive,
    /// Sees the threat at the rim since this tick.
    pub sees_threat: Option<u32>,
    /// Where he wants to be now.
    pub station: Vec2,
    /// His small steps while at ease.
    pub feet: Feet,
}

/// Where a player's feet have shifted to in a spell: drawn once, used at every tick of it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Feet {
    /// Tick at which the spell is over.
    pub until: u32,
    pub drawn: (f64, f64),
}

impl Guard {
    /// At home with `man`, at `station`, metres.
    pub fn of(man: usize, relation: Relation, station: Vec2) -> Guard {
        Guard {
            man,
            duty: Duty::OnBall,
            relation,
            since: 0,
            traded: None,
            news: None,
            left_ball: None,
            cover: Cover::Home,
            about_drive: AboutDrive::Nothing,
            sees_threat: None,
            station,
            feet: Feet::default(),
        }
    }
}

/// What a defender off the ball does about a drive while still with the own player; who digs goes to a ball at the rim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AboutDrive {
    Nothing,
    /// The drive's own defender is with it: doesn't go away from its way.
    Holds,
    /// It has beaten its defender: a step in.
    StepsIn,
    /// May have to stop it: half-way in.
    Ready,
    Digs,
}

/// What a defender does beyond guarding the own player from the stance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cover {
    /// Nothing.
    Home,
    /// Runs out to the own player, who has caught the ball.
    CloseOut,
    /// Has left the own player at tick `since` to stop the ball; `from`: the place left, metres, until told.
    Help { since: u32, from: Option<Vec2> },
    /// Covers the attacker `to`, whose defender helps; `from` as above.
    Rotate { to: usize, from: Option<Vec2> },
}

impl Cover {
    /// With the own player?
    pub fn at_home(self) -> bool {
        !self.away()
    }
    /// Away from the own player?
    pub fn away(self) -> bool {
        matches!(self, Cover::Help { .. } | Cover::Rotate { .. })
    }
}

/// A drive under way.
#[derive(Clone, Copy, Debug)]
pub struct Drive {
    pub from: Spot,
    pub via: Option<Vec2>,
    pub finish: Vec2,
    pub began: u32,
    /// Ticks in a row in which he got nowhere.
    pub stuck: u32,
}

/// Something begun that happens at a later tick.
#[derive(Clone, Copy, Debug)]
pub enum Pending {
    Pass {
        to: usize,
        kind: PassKind,
        look: LookKind,
        openness: f64,
        /// To a cutter who has not yet come through.
        on_the_run: bool,
        at: u32,
    },
    Shot {
        /// Ticks at which it began, and at which it leaves the hand.
        since: u32,
        at: u32,
        finish: Finish,
    },
}

/// A held ball.
#[derive(Clone, Copy, Debug)]
pub struct Hold {
    pub by: usize,
    pub since: u32,
    /// Where the holder caught it, metres.
    pub caught: Vec2,
    /// Where the holder came to a stand with the ball, one foot on the floor, metres.
    pub pivot: Option<Vec2>,
    /// How ready he was to shoot as he caught it, a share of his chance.
    pub readiness: f64,
    pub work: Ballwork,
    pub drive: Option<Drive>,
    /// Where the last drive of this hold began.
    pub drove_from: Option<Spot>,
    /// How often a body has stopped a drive of this hold.
    pub stops: u32,
    /// Dribbling at this team-mate.
    pub at_mate: Option<usize>,
    /// A hand-off that he is about.
    pub hands: Option<Hands>,
    /// To whom he is to pass next, and the tick of that promise.
    pub promised: Option<(usize, u32)>,
    /// Who handed the ball to him, until he has come to the place to which he then dribbles.
    pub handed: Option<usize>,
    /// Dribbling to this point for a better angle, metres.
    pub angle: Option<Vec2>,
    /// Tick at which he last set out for one.
    pub angle_since: Option<u32>,
    /// Which way round the rim: 1 counter-clockwise, -1 clockwise.
    pub angle_hand: Option<f64>,
    pub pending: Option<Pending>,
    /// Can do something from this tick on.
    pub ready: u32,
    /// How he got the ball, for the finishing action.
    pub how: Finish,
    /// Tick at which the closely-guarded count began.
    pub guarded_since: Option<u32>,
    /// Tick at which the dribble was picked up.
    pub picked_up: Option<u32>,
    /// Tick in which a defender stopped the last drive.
    pub stopped: Option<u32>,
    /// The last screen on the ball of which this hold has made use.
    pub screened: Option<Screened>,
}

impl Hold {
    /// Puts the ball on the floor, or goes on dribbling. The closely guarded count of dribbling goes on.
    pub fn dribbles(&mut self) {
        if self.work != Ballwork::Dribbling {
            self.guarded_since = None;
        }
        self.work = Ballwork::Dribbling;
    }
}

/// A hand-off that a holder is about.
#[derive(Clone, Copy, Debug)]
pub struct Hands {
    pub to: usize,
    /// Does the holder dribble toward that one?
    pub dribbles: bool,
    pub since: u32,
    /// The places of the two as it began.
    pub from: Spot,
    pub place: Spot,
    /// Ticks in a row in which the receiver was overplayed.
    pub overplayed: u32,
}

/// How a holder came off a screen on the ball.
#[derive(Clone, Copy, Debug)]
pub struct Screened {
    /// The screener.
    pub by: usize,
    pub tick: u32,
    /// From the holder's defender to the screener, across the holder's way to the rim: a unit vector.
    pub along: Vec2,
    /// He went the other way: his defender was on the screen's side.
    pub refuses: bool,
}

/// The ball.
#[derive(Clone, Copy, Debug)]
pub enum BallState {
    Held(Hold),
    Flying {
        flight: Flight,
        began: u32,
        from: usize,
        to: usize,
        look: LookKind,
        tried: [bool; 5],
        how: Finish,
    },
    Loose {
        pos: Vec2,
        vel: Vec2,
        since: u32,
        last: usize,
        by: Option<usize>,
    },
    Dead,
}

#[derive(Clone, Copy, Debug)]
pub struct Ball {
    pub state: BallState,
    /// Where it is, metres: floor and height.
    pub pos: Vec2,
    pub height: f64,
    /// The side on which it is, or from which it last came.
    pub side: Side,
    /// Passes thrown so far.
    pub passes: u32,
}

impl Ball {
    pub fn hold(&self) -> Option<&Hold> {
        match &self.state {
            BallState::Held(hold) => Some(hold),
            _ => None,
        }
    }

    pub fn hold_mut(&mut self) -> Option<&mut Hold> {
        match &mut self.state {
            BallState::Held(hold) => Some(hold),
            _ => None,
        }
    }

    /// The attacker whom the defence has to treat as the man with the ball.
    pub fn man(&self) -> usize {
        match &self.state {
            BallState::Held(hold) => hold.by,
            BallState::Flying { to, .. } => *to,
            BallState::Loose { last, .. } => *last,
            BallState::Dead => 0,
        }
    }

    /// He who has the ball, or to whom it is on its way.
    pub fn keeper(&self) -> Option<usize> {
        match &self.state {
            BallState::Held(hold) => Some(hold.by),
            BallState::Flying { to, .. } => Some(*to),
            _ => None,
        }
    }
}

/// Fixed for a possession.
#[derive(Clone)]
pub struct Play {
    pub scenario: Arc<Scenario>,
    pub cast: Arc<Cast>,
    /// What the team usually scores in a possession, points: the yardstick of its choices.
    pub usual: f64,
    pub dice: Dice,
    /// Sideways draws are toward this hand: the dice are mirrored with the floor.
    pub hand: f64,
    pub view: View,
}

/// Cosines of half of what a defender takes in.
#[derive(Clone, Copy)]
pub struct View {
    /// With eyes open to ball and man.
    pub open: f64,
    /// With eyes fixed on one thing.
    pub fixed: f64,
}

/// What everybody decides from: the floor as it was at the end of the last tick.
#[derive(Clone)]
pub struct Old {
    pub scene: Scene,
    /// Duty, relation and duty's first tick of each defender.
    pub duties: [(Duty, Relation, u32); 5],
    /// Where each defender makes for, metres.
    pub stations: [Vec2; 5],
    /// Attackers who count as outside for passes away.
    pub outside: [bool; 5],
    /// Attackers who stand as a set screen.
    pub screens: [bool; 5],
    /// Who of them has set it for the man with the ball.
    pub ball_screen: Option<usize>,
    /// Does one stand, or come, to set one?
    pub screen_comes: bool,
    /// For whom each sets a screen, or is about to.
    pub screening: [Option<usize>; 5],
    /// Passes away from the man with the ball.
    pub away: [Option<u8>; 5],
    /// What each attacker is doing, for the passer's eyes and the defence.
    pub doing: [Doing; 5],
    pub places: [Option<Spot>; 5],
    /// The side on which the ball is.
    pub side: Side,
    /// Passes thrown so far.
    pub passes: u32,
    /// Where each flashes, or flashed a moment ago.
    pub shown: [Option<Spot>; 5],
    /// For whom a holder waits: who is about to flash or has just come, and who is to use a screen.
    pub awaited: [bool; 5],
    /// Where each who is to use a screen waits for it, metres.
    pub waits: [Option<Vec2>; 5],
    /// The place that each of those held when told to.
    pub waits_from: [Option<Spot>; 5],
    /// Where each who runs to a place will stop.
    pub stops: [Option<Vec2>; 5],
    /// The points of their places.
    pub homes: [Home; 5],
}

/// Where a place is for one player, since he was told to go there last.
#[derive(Clone, Copy, Default)]
pub struct Home {
    pub told: u32,
    pub spot: Option<Spot>,
    /// Metres.
    pub at: Vec2,
}

/// What an attacker is seen to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Doing {
    /// Outside, in or on his way to a place.
    Outside,
    /// Cutting to this point: a place, or the rim.
    Cutting {
        lane: CutLane,
        via: Option<Vec2>,
        goal: Vec2,
        to: Option<Spot>,
        arrived: bool,
    },
    /// Inside.
    Inside,
    /// Sliding in beside the rim.
    DropOff,
    Absent,
}

/// The last second and a bit of everybody's positions, for eyes that are late.
#[derive(Clone)]
pub struct Trail {
    frames: [TrailFrame; TRAIL],
}
#[derive(Clone, Copy)]
pub struct TrailFrame {
    pub pos: [Vec2; BODIES],
    pub vel: [Vec2; BODIES],
    pub ball: Vec2,
}

const TRAIL: usize = 32;

impl Trail {
    pub fn new(frame: TrailFrame) -> Self {
        Trail {
            frames: [frame; TRAIL],
        }
    }
    pub fn put(&mut self, tick: u32, frame: TrailFrame) {
        self.frames[tick as usize % TRAIL] = frame;
    }
    /// The floor `delay` ticks before `tick` (at most a trail's length; at least the first tick).
    pub fn back(&self, tick: u32, delay: u32) -> &TrailFrame {
        let delay = delay.min(TRAIL as u32 - 1);
        &self.frames[tick.saturating_sub(delay) as usize % TRAIL]
    }
}

/// Who drives, or has been stopped on a drive: the others stay out of the way.
pub fn driver(ball: &Ball) -> Option<usize> {
    let stopped = |h: &Hold| h.drove_from.is_some() || h.how == Finish::Cut;
    let drives =
        |h: &&Hold| h.work == Ballwork::Driving || h.work == Ballwork::PickedUp && stopped(h);
    ball.hold().filter(drives).map(|h| h.by)
}
