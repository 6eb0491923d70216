//! What became of each order that a rule gave: begun, carried out, or cut short by what.

use serde::Serialize;

use crate::defence::Duty;
use crate::offence::{Condition, Place};

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
    /// Another line of the same rule counted for that player: of lines that ask for something, the first that counts.
    OtherLine,
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
    /// The holder passed before the screen on the ball came.
    HolderPassed,
    /// The same, before there was time to get there.
    HolderPassedEarly,
    /// The holder drove before the screen on the ball came.
    HolderDrove,
    /// The same, before there was time to get there.
    HolderDroveEarly,
    /// The ball was loose before the screen on it came.
    BallWentLoose,
    /// Drove before the pass that was promised could be thrown.
    DroveFirst,
    /// Passed elsewhere: the pass that was promised was at no moment safe.
    NotSafe,
    /// Passed elsewhere, though the pass that was promised had been safe.
    NotGiven,
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
    /// The team-mate for whom the screen was meant had to leave the lane before three seconds.
    UserLeftTheLane,
    /// The team-mate for whom the screen was meant got the ball, or went after it, first.
    UserGotTheBall,
    /// The team-mate who was to set the screen was sent elsewhere first.
    ScreenerGone,
    /// The team-mate who was to set the screen got the ball, or went after it, first.
    ScreenerGotTheBall,
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
    /// Was the order carried out?
    pub fn is_done(self) -> bool {
        matches!(self, OrderEnd::Done | OrderEnd::NotNeeded)
    }

    /// Was it ordered at all?
    pub fn is_of_an_order(self) -> bool {
        !matches!(self, OrderEnd::NotSo | OrderEnd::OtherLine)
    }

    /// Was there time for it? Not if the possession ended, if the player got the ball or went after it, or if another rule
    /// came too soon. Which of the two, tells [`OrderRecord::is_cut_off`].
    pub fn had_time(self) -> bool {
        !matches!(
            self,
            OrderEnd::PossessionOver
                | OrderEnd::BallCame
                | OrderEnd::LooseBall
                | OrderEnd::NotSo
                | OrderEnd::OtherLine
                | OrderEnd::SentOn
                | OrderEnd::BallWentOnEarly
                | OrderEnd::HolderPassedEarly
                | OrderEnd::HolderDroveEarly
                | OrderEnd::BallWentLoose
                | OrderEnd::DriveOver
                | OrderEnd::DroveFirst
                | OrderEnd::KeptIt
                | OrderEnd::NotSafe
                | OrderEnd::UserGone
                | OrderEnd::UserLeftTheLane
                | OrderEnd::UserGotTheBall
                | OrderEnd::ScreenerGone
                | OrderEnd::ScreenerGotTheBall
                | OrderEnd::Slipped
        )
    }

    /// Does it always come of another rule's order, to this player or to the other one of a screen?
    pub fn is_a_rules_doing(self) -> bool {
        matches!(
            self,
            OrderEnd::SentOn | OrderEnd::UserGone | OrderEnd::ScreenerGone
        )
    }

    /// All of them, in the order in which they are declared.
    pub const ALL: [OrderEnd; 40] = {
        use OrderEnd as E;
        [
            E::Done,
            E::NotNeeded,
            E::NobodyThere,
            E::HasTheBall,
            E::NoBall,
            E::CannotDribble,
            E::ToldAlready,
            E::OtherLine,
            E::NotSo,
            E::AnotherOrder,
            E::SentOn,
            E::BallCame,
            E::LooseBall,
            E::PlaceTaken,
            E::MateThere,
            E::LeftTheLane,
            E::BallWentOn,
            E::BallWentOnEarly,
            E::HolderPassed,
            E::HolderPassedEarly,
            E::HolderDrove,
            E::HolderDroveEarly,
            E::BallWentLoose,
            E::DroveFirst,
            E::NotSafe,
            E::NotGiven,
            E::KeptIt,
            E::MateBusy,
            E::NoScreen,
            E::Slipped,
            E::UserGone,
            E::UserLeftTheLane,
            E::UserGotTheBall,
            E::ScreenerGone,
            E::ScreenerGotTheBall,
            E::OutOfTime,
            E::DriveOver,
            E::GaveWay,
            E::PossessionOver,
            E::GivenUp,
        ]
    };

    /// In a coach's words.
    pub fn word(self) -> &'static str {
        self.told().0
    }

    /// What it means, for the guide: a sentence without its full stop.
    pub fn meaning(self) -> &'static str {
        self.told().1
    }

    /// Word and meaning.
    fn told(self) -> (&'static str, &'static str) {
        match self {
            OrderEnd::Done => ("carried out", "as the text above the table says"),
            OrderEnd::NotNeeded => (
                "waited, and the defender stayed",
                "beside the rim (`drop_off`): nobody left to stop the drive; counts as carried out",
            ),
            OrderEnd::NobodyThere => (
                "nobody there",
                "nobody held the place that the line names, or there is no such player; who was looked for stands in \
                 brackets",
            ),
            OrderEnd::HasTheBall => (
                "has the ball or is about to catch it",
                "such a player is never sent away",
            ),
            OrderEnd::NoBall => (
                "does not have the ball",
                "the line is one for the holder, and the player whom it names was not",
            ),
            OrderEnd::CannotDribble => (
                "dribble used, or a pass begun",
                "so the holder cannot dribble at anybody, nor hand the ball over on the dribble",
            ),
            OrderEnd::ToldAlready => (
                "an earlier line of this rule is about the same player",
                "the first line counts",
            ),
            OrderEnd::OtherLine => (
                "an earlier line of this rule counted for the same player",
                "of lines that ask for something (`only_if`) the first that counts; not counted at all",
            ),
            OrderEnd::NotSo => (
                "what the line asks for was not so",
                "so it is not counted at all",
            ),
            OrderEnd::AnotherOrder => (
                "another order",
                "a later rule sent the player elsewhere; the rule that did so most often is named",
            ),
            OrderEnd::SentOn => (
                "called away before there was time to get there",
                "the same, but too soon for anybody to have got there; the two rules come too close on each other",
            ),
            OrderEnd::BallCame => ("a pass came on the way", "the player got the ball first"),
            OrderEnd::LooseBall => (
                "went after a loose ball",
                "a loose ball comes before everything",
            ),
            OrderEnd::PlaceTaken => (
                "another player had the place",
                "the place was taken when the player was to go there, or on the way; the rule that sent the other one \
                 there is named",
            ),
            OrderEnd::MateThere => (
                "a team-mate stood there",
                "the place of a flash was not free for four seconds",
            ),
            OrderEnd::LeftTheLane => (
                "three seconds: had to leave the lane",
                "the player left the lane before the order was carried out",
            ),
            OrderEnd::BallWentOn => (
                "the ball went on first",
                "a flash that a ball that stays asked for, or a hand-off",
            ),
            OrderEnd::BallWentOnEarly => (
                "the ball went on before there was time to get there",
                "the same, but too soon for anybody to have got there; a promised pass: another had begun before",
            ),
            OrderEnd::HolderPassed => (
                "the screen never came: the holder passed first",
                "a screen on the ball; if the holder was told to, that rule is named",
            ),
            OrderEnd::HolderPassedEarly => (
                "the screen could not come: the holder passed before there was time to get there",
                "the same, but too soon for anybody to have got there",
            ),
            OrderEnd::HolderDrove => (
                "the screen never came: the holder drove first",
                "a screen on the ball; `drive_from` and `reading` say from where the holder may drive without it",
            ),
            OrderEnd::HolderDroveEarly => (
                "the screen could not come: the holder drove before there was time to get there",
                "the same, but too soon for anybody to have got there",
            ),
            OrderEnd::BallWentLoose => (
                "the ball was loose before the screen came",
                "a screen on the ball that the holder lost",
            ),
            OrderEnd::DroveFirst => (
                "drove first",
                "a promised pass: the holder drove, as `reading` and `drive_from` allow",
            ),
            OrderEnd::NotSafe => (
                "passed elsewhere: it was never safe",
                "a promised pass: three seconds were over, or the holder was closely guarded; what the defender who \
                 shut it did stands in brackets",
            ),
            OrderEnd::NotGiven => (
                "passed elsewhere, though it had been safe",
                "the same, but the holder could have thrown it",
            ),
            OrderEnd::KeptIt => (
                "kept it: the receiver was overplayed",
                "the receiver's defender was in the way of the hand-off",
            ),
            OrderEnd::MateBusy => (
                "the receiver was cutting, screening or showing inside",
                "nobody can take a hand-off meanwhile",
            ),
            OrderEnd::NoScreen => (
                "no screen came",
                "the user of a screen waited and went without it",
            ),
            OrderEnd::Slipped => (
                "slipped it: the screener's defender had stepped out",
                "the screener left for the rim before the contact",
            ),
            OrderEnd::UserGone => (
                "the user of the screen was sent elsewhere first",
                "by another rule, which is named",
            ),
            OrderEnd::UserLeftTheLane => (
                "the user of the screen had to leave the lane first: three seconds",
                "so does the user's line say",
            ),
            OrderEnd::UserGotTheBall => (
                "the user of the screen got the ball, or went after it, first",
                "so does the user's line say",
            ),
            OrderEnd::ScreenerGone => (
                "the screener was sent elsewhere first",
                "by another rule, which is named; so no screen came",
            ),
            OrderEnd::ScreenerGotTheBall => (
                "the screener got the ball, or went after it, first",
                "so no screen came",
            ),
            OrderEnd::OutOfTime => (
                "out of time, did not get there",
                "the screener could not get to the defender in 4.5 s, or the receiver of a hand-off in 4 s",
            ),
            OrderEnd::DriveOver => (
                "the drive was over first",
                "and with it the reason to wait beside the rim (`drop_off`)",
            ),
            OrderEnd::GaveWay => (
                "gave way to a drive",
                "the cut would have run into the driver",
            ),
            OrderEnd::PossessionOver => (
                "the possession ended first",
                "by a shot, a lost ball or a whistle",
            ),
            OrderEnd::GivenUp => (
                "given up",
                "for none of these reasons: a fault of the program",
            ),
        }
    }
}

/// How the user of a screen came off it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// By the screener to the rim, as ordered without a place.
    Rim,
    /// To the rim, but not by the screener: the defender sagged, and the screen was far from the way.
    Wide,
    /// To the place.
    Place,
    /// Round the screener to the rim, chased.
    Curl,
    /// Away from the screen, along the perimeter.
    Fade,
    /// Behind the defender, who was in front of the screen.
    BackCut,
    /// Fed while still beside the screener.
    Fed,
    /// Of a screen on the ball: the holder drove off it.
    Driven,
    /// The holder went away from it, to the other side.
    Refused,
    /// The holder passed, and used it not at all.
    Passed,
    /// The holder shot.
    Shot,
    /// The holder stood until the screener went on.
    Stood,
    /// The possession ended, or the ball was lost, before any of these.
    Lost,
}

impl Way {
    /// In a coach's words.
    pub fn word(self) -> &'static str {
        match self {
            Way::Rim => "by the screener to the rim",
            Way::Wide => "to the rim wide of the screener",
            Way::Place => "to the place",
            Way::Curl => "curled to the rim",
            Way::Fade => "faded",
            Way::BackCut => "cut backdoor",
            Way::Fed => "fed beside the screener",
            Way::Driven => "used",
            Way::Refused => "gone away from",
            Way::Passed => "passed",
            Way::Shot => "shot",
            Way::Stood => "stood until the screener went on",
            Way::Lost => "lost the ball, or the possession ended",
        }
    }

    /// Did the holder make nothing of a screen on the ball that stood?
    pub fn is_unused(self) -> bool {
        matches!(self, Way::Passed | Way::Shot | Way::Stood | Way::Lost)
    }

    /// Is it what a holder made of a screen on the ball?
    pub fn is_on_the_ball(self) -> bool {
        self.is_unused() || matches!(self, Way::Driven | Way::Refused)
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
    /// How the player came off a screen, where that was the order and it was seen; of a screen on the ball, what the
    /// holder made of it.
    pub way: Option<Way>,
    /// What the defender who shut a promised pass most of the time did.
    pub shut: Option<Duty>,
}

impl OrderRecord {
    /// Did the play cut the order off: did the possession end, did the player get the ball, or was there some other end
    /// that left no time for it and was no rule's doing?
    pub fn is_cut_off(&self) -> bool {
        !self.end.had_time() && !self.end.is_a_rules_doing() && self.by.is_none()
    }

    /// Did another rule of the file end the order before there was time for it?
    pub fn is_called_away(&self) -> bool {
        !self.end.had_time() && !self.is_cut_off()
    }
}

/// Why a rule did not fire, though its event came or nearly did.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Silence {
    /// This is the first of the things for which the rule asks that was not so.
    NotSo(Condition),
    /// Whoever has the ball holds the place that the event names, but had moved off it with the ball: to this place.
    MovedOff(Place),
}

/// A rule that did not fire.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Silent {
    /// Index of the rule.
    pub rule: usize,
    /// When, seconds; where the event lasts, when that began.
    pub since: f64,
    /// When the event was last so, seconds.
    pub last: f64,
    /// Why.
    pub why: Silence,
}

#[cfg(test)]
mod tests {
    use super::OrderEnd;

    #[test]
    fn the_list_of_ends_is_in_the_order_of_their_declaration_and_has_the_last() {
        assert_eq!(OrderEnd::ALL.last(), Some(&OrderEnd::GivenUp));
        let in_order = |(i, end): (usize, &OrderEnd)| *end as usize == i;
        assert!(OrderEnd::ALL.iter().enumerate().all(in_order));
    }
}
