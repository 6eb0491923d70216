//! What became of each order that a rule gave: begun, carried out, or cut short by what.

use serde::Serialize;

/// How an order ended. Every order that a rule gives has exactly one end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum OrderEnd {
    /// Carried out: the place was reached, the cut run, the screen set or used, the flash shown.
    Done,
    /// Waited as told for a defender to leave, who stayed.
    NotNeeded,
    /// The rule names somebody whom there is not, such as a player at a place that nobody holds.
    NobodyThere,
    /// Has the ball or is about to catch it: such a player is never sent away.
    HasTheBall,
    /// Is to dribble, but has no ball.
    NoBall,
    /// Is to dribble, but has used the dribble or is passing already.
    CannotDribble,
    /// An earlier line of the same rule is about the same player.
    ToldAlready,
    /// Something that the line asks for was not so.
    NotSo,
    /// Another rule gave another order.
    AnotherOrder,
    /// Another rule gave another order before there was time to get to the place.
    SentOn,
    /// A pass came first.
    BallCame,
    /// Went after a loose ball.
    LooseBall,
    /// Another player had the place.
    PlaceTaken,
    /// A team-mate stood where the player was to show.
    MateThere,
    /// Had to leave the lane before three seconds.
    LeftTheLane,
    /// The ball that stayed went on first.
    BallWentOn,
    /// The ball that stayed went on before there was time to get to the place.
    BallWentOnEarly,
    /// Drove before the pass that was promised could be thrown.
    DroveFirst,
    /// Passed elsewhere: the pass that was promised was not safe in time.
    NotSafe,
    /// Kept the ball that was to be handed over: the receiver was overplayed.
    KeptIt,
    /// The team-mate to whom the ball was to be handed was cutting, screening or showing inside.
    MateBusy,
    /// No screen came, or not in time.
    NoScreen,
    /// Slipped to the rim before the contact: the screener's defender had stepped out.
    Slipped,
    /// The team-mate for whom the screen was meant was sent elsewhere first.
    UserGone,
    /// The team-mate who was to set the screen was sent elsewhere, or got the ball, first.
    ScreenerGone,
    /// Did not get there in the time that there is for it.
    OutOfTime,
    /// The drive, and with it the reason to wait for a drop-off, was over first.
    DriveOver,
    /// Gave way to a drive.
    GaveWay,
    /// The possession ended first.
    PossessionOver,
    /// Given up for none of these reasons.
    GivenUp,
}

impl OrderEnd {
    /// Every end.
    pub const ALL: [OrderEnd; 30] = [
        OrderEnd::Done,
        OrderEnd::NotNeeded,
        OrderEnd::NobodyThere,
        OrderEnd::HasTheBall,
        OrderEnd::NoBall,
        OrderEnd::CannotDribble,
        OrderEnd::ToldAlready,
        OrderEnd::NotSo,
        OrderEnd::AnotherOrder,
        OrderEnd::SentOn,
        OrderEnd::BallCame,
        OrderEnd::LooseBall,
        OrderEnd::PlaceTaken,
        OrderEnd::MateThere,
        OrderEnd::LeftTheLane,
        OrderEnd::BallWentOn,
        OrderEnd::BallWentOnEarly,
        OrderEnd::DroveFirst,
        OrderEnd::NotSafe,
        OrderEnd::KeptIt,
        OrderEnd::MateBusy,
        OrderEnd::NoScreen,
        OrderEnd::Slipped,
        OrderEnd::UserGone,
        OrderEnd::ScreenerGone,
        OrderEnd::OutOfTime,
        OrderEnd::DriveOver,
        OrderEnd::GaveWay,
        OrderEnd::PossessionOver,
        OrderEnd::GivenUp,
    ];

    /// Was the order carried out?
    pub fn is_done(self) -> bool {
        matches!(self, OrderEnd::Done | OrderEnd::NotNeeded)
    }

    /// Did the play leave time for it? Not if the possession ended, or the player got the ball or went after it.
    pub fn had_time(self) -> bool {
        !matches!(
            self,
            OrderEnd::PossessionOver
                | OrderEnd::BallCame
                | OrderEnd::LooseBall
                | OrderEnd::NotSo
                | OrderEnd::SentOn
                | OrderEnd::BallWentOnEarly
                | OrderEnd::DriveOver
                | OrderEnd::DroveFirst
                | OrderEnd::KeptIt
                | OrderEnd::UserGone
                | OrderEnd::ScreenerGone
                | OrderEnd::Slipped
        )
    }

    /// In a coach's words.
    pub fn word(self) -> &'static str {
        match self {
            OrderEnd::Done => "carried out",
            OrderEnd::NotNeeded => "waited, and the defender stayed",
            OrderEnd::NobodyThere => "nobody there",
            OrderEnd::HasTheBall => "has the ball or is about to catch it",
            OrderEnd::NoBall => "does not have the ball",
            OrderEnd::CannotDribble => "dribble used, or a pass begun",
            OrderEnd::ToldAlready => "an earlier line of this rule is about the same player",
            OrderEnd::NotSo => "what the line asks for was not so",
            OrderEnd::AnotherOrder => "another order",
            OrderEnd::SentOn => "called away before there was time to get there",
            OrderEnd::BallCame => "a pass came on the way",
            OrderEnd::LooseBall => "went after a loose ball",
            OrderEnd::PlaceTaken => "another player had the place",
            OrderEnd::MateThere => "a team-mate stood there",
            OrderEnd::LeftTheLane => "three seconds: had to leave the lane",
            OrderEnd::BallWentOn => "the ball went on first",
            OrderEnd::BallWentOnEarly => "the ball went on before there was time to get there",
            OrderEnd::DroveFirst => "drove first",
            OrderEnd::NotSafe => "passed elsewhere: it was not safe in time",
            OrderEnd::KeptIt => "kept it: the receiver was overplayed",
            OrderEnd::MateBusy => "the receiver was cutting, screening or showing inside",
            OrderEnd::NoScreen => "no screen came",
            OrderEnd::Slipped => "slipped it: the screener's defender had stepped out",
            OrderEnd::UserGone => "the user of the screen was sent elsewhere first",
            OrderEnd::ScreenerGone => "the screener was sent elsewhere first",
            OrderEnd::OutOfTime => "out of time, did not get there",
            OrderEnd::DriveOver => "the drive was over first",
            OrderEnd::GaveWay => "gave way to a drive",
            OrderEnd::PossessionOver => "the possession ended first",
            OrderEnd::GivenUp => "given up",
        }
    }
}

/// One order that a rule gave, or a line of it that could not be given.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OrderRecord {
    /// Index of the rule.
    pub rule: usize,
    /// Line of the rule, from 0.
    pub line: usize,
    /// Step of the line, from 0: `does`, then those of `then`.
    pub step: usize,
    /// Number of the player, 1–5, if the rule found one.
    pub who: Option<u8>,
    /// When the rule fired, seconds.
    pub told: f64,
    /// When it ended, seconds.
    pub ended: f64,
    /// How it ended.
    pub end: OrderEnd,
    /// The rule that gave another order, or sent the player who has the place, if that ended it.
    pub by: Option<usize>,
}
