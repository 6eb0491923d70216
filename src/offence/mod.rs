//! The offence's language: what a coach writes in a scenario file and what the floor plays.
//!
//! An offence is an alignment and rules of the form *event → who → what*, all stated by ball side;
//! left and right are never written. In every rule the **ball side** is the side on which the ball
//! is once the event has happened (the receiver's side for a pass). A ball in the middle keeps the
//! side from which it came. Nothing in Rust knows a particular offence.

use serde::{Deserialize, Serialize};

use crate::court::{Side, Spot, SpotName};

pub mod check;
mod condition;
mod event;
mod look;
mod patience;
pub mod tweak;
pub mod words;

pub use condition::{Condition, never_both};
pub use event::{Event, Toward};
pub use look::LookKind;
pub use patience::{Patience, ShotsFrom};

/// A side of the floor, relative to the ball (or to the player who moves).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum By {
    /// The side on which the ball is after the event.
    Ball,
    /// The other side.
    Weak,
    /// The side of the place that the player himself held.
    Own,
    /// Either side (in the `when` of a rule only).
    Either,
}

/// A spot, or a pattern of spots, stated by ball side.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Place {
    /// Any spot (in `when` only).
    Any,
    /// Any spot outside: top, slots, wings, corners (in `when` only).
    Perimeter,
    /// Any post spot: blocks, short corners, elbows, high post (in `when` only).
    Inside,
    /// Outside, on the midline.
    Top,
    /// At the free-throw line, on the midline.
    HighPost,
    /// At the rim.
    Rim,
    /// Outside, between top and wing.
    Slot(By),
    /// Outside, at the free-throw line extended.
    Wing(By),
    /// Outside, near the baseline.
    Corner(By),
    /// A corner of the free-throw line.
    Elbow(By),
    /// On the edge of the lane, near the rim.
    Block(By),
    /// Between block and corner, near the baseline.
    ShortCorner(By),
}

impl Place {
    /// The place that means this very spot while the ball is on side `ball`.
    pub fn of(spot: Spot, ball: Side) -> Place {
        let by = match spot.side {
            Some(side) if side == ball => By::Ball,
            _ => By::Weak,
        };
        match spot.name {
            SpotName::Top => Place::Top,
            SpotName::HighPost => Place::HighPost,
            SpotName::Rim => Place::Rim,
            SpotName::Slot => Place::Slot(by),
            SpotName::Wing => Place::Wing(by),
            SpotName::Corner => Place::Corner(by),
            SpotName::Elbow => Place::Elbow(by),
            SpotName::Block => Place::Block(by),
            SpotName::ShortCorner => Place::ShortCorner(by),
        }
    }

    /// The spot's name and its side, or `None` for a pattern such as `any`.
    pub fn parts(self) -> Option<(SpotName, Option<By>)> {
        Some(match self {
            Place::Any | Place::Perimeter | Place::Inside => return None,
            Place::Top => (SpotName::Top, None),
            Place::HighPost => (SpotName::HighPost, None),
            Place::Rim => (SpotName::Rim, None),
            Place::Slot(by) => (SpotName::Slot, Some(by)),
            Place::Wing(by) => (SpotName::Wing, Some(by)),
            Place::Corner(by) => (SpotName::Corner, Some(by)),
            Place::Elbow(by) => (SpotName::Elbow, Some(by)),
            Place::Block(by) => (SpotName::Block, Some(by)),
            Place::ShortCorner(by) => (SpotName::ShortCorner, Some(by)),
        })
    }

    /// The spot meant, when the ball is on side `ball` and the player's own side is `own`.
    /// `None` for a pattern or `either`.
    pub fn spot(self, ball: Side, own: Option<Side>) -> Option<Spot> {
        let (name, by) = self.parts()?;
        let side = match by {
            None => None,
            Some(By::Ball) => Some(ball),
            Some(By::Weak) => Some(ball.other()),
            Some(By::Own) => Some(own.unwrap_or(ball)),
            Some(By::Either) => return None,
        };
        Some(Spot { name, side })
    }

    /// Does this pattern take in `spot`, when the ball is on side `ball`?
    pub fn takes_in(self, spot: Spot, ball: Side) -> bool {
        match self {
            Place::Any => true,
            Place::Perimeter => spot.name.is_perimeter(),
            Place::Inside => spot.name.is_inside(),
            _ => self.parts().is_some_and(|(name, by)| {
                name == spot.name
                    && match by {
                        None | Some(By::Either) | Some(By::Own) => true,
                        Some(By::Ball) => spot.side == Some(ball),
                        Some(By::Weak) => spot.side == Some(ball.other()),
                    }
            }),
        }
    }
}

/// Who moves.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The passer of the pass that this event is about.
    Passer,
    /// The receiver of the pass or catch that this event is about.
    Receiver,
    /// He who has the ball now.
    Holder,
    /// He who drives, or drove last.
    Driver,
    /// He whose cut this event is about.
    Cutter,
    /// He whom this event says is denied, or at whom the ball is dribbled.
    Denied,
    /// He who has set the screen that this event is about.
    Screener,
    /// He whose defender has left to help.
    LeftAlone,
    /// Whoever plays inside (the first inside player for offences with two).
    Post,
    /// The second inside player.
    SecondPost,
    /// He who holds that place.
    At(Place),
    /// The next player along the perimeter from the ball, on the ball's weak-side hand.
    Next,
    /// The nearest player without the ball to that place who is free to move.
    Nearest(Place),
    /// Player by number.
    Player(u8),
}

/// On which side of his defender a cutter goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CutLane {
    /// In front of the defender, between him and the ball.
    BallSide,
    /// Behind the defender's back: a backdoor cut.
    Behind,
}

/// How the user of a screen may come off it to the rim, when the place is not what the defender gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OffScreen {
    /// The defender chases round the screen: tight round the screener to the rim.
    Curl,
    /// The defender goes under the screen: away from screener and ball, to the next place along the perimeter.
    Fade,
    /// The defender is in front of the screen already: behind his back to the rim.
    BackCut,
}

/// What he does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Movement {
    /// Stay, and face the ball.
    Hold,
    /// Take that place.
    Fill(Place),
    /// Take the first of these places that nobody holds.
    FillFirst(Vec<Place>),
    /// Take the place which that player holds (or held before he left it).
    Replace(Role),
    /// Cut to the rim, or to a place, at full speed; if the ball does not come, go on with `unfed`.
    Cut {
        /// On which side of the defender.
        lane: CutLane,
        /// The place where the cut ends; left out: the rim.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        to: Option<Place>,
        /// What follows if the ball does not come.
        unfed: Box<Movement>,
    },
    /// From the rim out along the baseline and round to that place.
    CircleOut(Place),
    /// From the rim on, under it, to that place.
    GoThrough(Place),
    /// Set a screen on the defender of that player, then go on with `after`.
    ScreenFor {
        /// The team-mate whose defender is screened.
        whom: Role,
        /// What follows once the screen is used.
        after: Box<Movement>,
    },
    /// Wait for the screener, then come off his shoulder: to the rim, or to a place. Who has come to the rim goes on
    /// with `unfed`.
    UseScreen {
        /// The screener.
        of: Role,
        /// The place to come off to; left out: the rim.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        to: Option<Place>,
        /// Beside straight to that place, by what the defender does.
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        ways: Vec<OffScreen>,
        /// What follows if the ball does not come.
        unfed: Box<Movement>,
    },
    /// Show at that place for so long, facing the ball; then go back.
    Flash {
        /// The place.
        to: Place,
        /// How long, seconds.
        seconds: f64,
    },
    /// Keep the defender behind at that place for so long, open to the ball; then go back.
    Seal {
        /// The place.
        at: Place,
        /// How long, seconds.
        seconds: f64,
    },
    /// Stay until the defender leaves to stop the drive, then step to the lane line beside the rim for a short pass.
    DropOff,
    /// Move along the perimeter away from the drive to that place, facing the ball.
    Drift(Place),
    /// Move up along the perimeter to that place, facing the ball.
    Lift(Place),
    /// (Holder) dribble at that team-mate.
    DribbleAt(Role),
    /// (Holder) stand, and give the ball by hand to that team-mate, who comes for it.
    HandOff(Role),
    /// (Holder) dribble toward that team-mate, and give him the ball by hand.
    DribbleHandOff(Role),
    /// (Holder) pass to that team-mate next, as soon as it is safe.
    PassNext(Role),
}

impl Movement {
    /// The movement, and what a player goes on with after cuts and screens, link by link.
    pub fn links(&self) -> impl Iterator<Item = &Movement> {
        std::iter::successors(Some(self), |link| match link {
            Movement::Cut { unfed: next, .. }
            | Movement::UseScreen { unfed: next, .. }
            | Movement::ScreenFor { after: next, .. } => Some(next),
            _ => None,
        })
    }

    /// The movement, and what the player does after a screen: an order of its own, unless it is to hold.
    pub fn orders(&self) -> impl Iterator<Item = &Movement> {
        std::iter::successors(Some(self), |link| match link {
            Movement::ScreenFor { after, .. } => Some(&**after).filter(|m| **m != Movement::Hold),
            _ => None,
        })
    }

    /// The last link: what a player goes on with after cuts and screens, or the movement itself.
    pub fn last_mut(&mut self) -> &mut Movement {
        match self {
            Movement::Cut { unfed: next, .. }
            | Movement::UseScreen { unfed: next, .. }
            | Movement::ScreenFor { after: next, .. } => next.last_mut(),
            last => last,
        }
    }

    /// Does it end in another place, so that the old one is open from now on?
    pub fn leaves(&self) -> bool {
        match self {
            Movement::UseScreen { to: Some(_), .. } => true,
            Movement::Cut { unfed: next, .. }
            | Movement::UseScreen { unfed: next, .. }
            | Movement::ScreenFor { after: next, .. } => next.leaves(),
            _ => self.is_to_a_place(),
        }
    }

    /// The team-mate of a hand-off, whether the holder stands or dribbles toward him.
    pub fn hands_to(&self) -> Option<Role> {
        match self {
            Movement::HandOff(to) | Movement::DribbleHandOff(to) => Some(*to),
            _ => None,
        }
    }

    /// The team-mate of what only the holder does, with the ball.
    pub fn team_mate(&self) -> Option<Role> {
        match self {
            Movement::DribbleAt(mate) | Movement::PassNext(mate) => Some(*mate),
            other => other.hands_to(),
        }
    }

    /// Is it something that only the holder does, with the ball?
    pub fn is_with_the_ball(&self) -> bool {
        self.team_mate().is_some()
    }

    /// Does the player go to a place of the offence, which is theirs from the moment of the order?
    pub fn is_to_a_place(&self) -> bool {
        use Movement as M;
        matches!(
            self,
            M::Fill(_)
                | M::FillFirst(_)
                | M::Replace(_)
                | M::CircleOut(_)
                | M::GoThrough(_)
                | M::Drift(_)
                | M::Lift(_)
        )
    }
}

/// One line of a rule: who does what.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Action {
    /// The player told.
    pub who: Role,
    /// What that player is to do.
    pub does: Movement,
    /// Seconds to wait before he starts.
    #[serde(default)]
    pub after: f64,
    /// What he does next, one after the other, each when the one before is done.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub then: Vec<Movement>,
    /// What has to be so for this line to count.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub only_if: Vec<Condition>,
}

impl Action {
    /// The movements, one after the other.
    pub fn steps(&self) -> impl Iterator<Item = &Movement> {
        std::iter::once(&self.does).chain(&self.then)
    }

    /// The movements as they are counted: each step, and after it what follows a screen.
    pub fn orders(&self) -> impl Iterator<Item = &Movement> {
        self.steps().flat_map(Movement::orders)
    }
}

/// One rule: when this happens, these players do that.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rule {
    /// What the coach calls it; a tweak names the rule so.
    pub name: String,
    /// The event at which it fires.
    pub when: Event,
    /// What each player is to do.
    #[serde(rename = "do")]
    pub actions: Vec<Action>,
    /// What has to be so for the rule to count.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub only_if: Vec<Condition>,
    /// Does it fire only once in a possession?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub once: bool,
}

/// Where a player stands when the possession begins.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stand {
    /// Number of the player, 1–5.
    pub player: u8,
    /// The place.
    pub at: Place,
}

/// A whole offence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Offence {
    /// What the coach calls it.
    pub name: String,
    /// A remark of the coach; may be empty.
    #[serde(default)]
    pub note: String,
    /// How many play on each side: five, or the two, three or four of a drill.
    #[serde(default = "five", skip_serializing_if = "are_five")]
    pub players: u8,
    /// The number of the player who starts with the ball.
    pub ball: u8,
    /// Where those who play stand as the possession begins: five, or the two, three or four of a drill.
    pub alignment: Vec<Stand>,
    /// Places outside that are always to be filled, in order of importance; a player with nothing
    /// else to do takes the first that nobody holds.
    pub keep_filled: Vec<Place>,
    /// The rules, in the order in which they answer an event.
    pub rules: Vec<Rule>,
    /// The looks that the holder may take, in the order in which he reads them. A look not listed
    /// is measured but never taken.
    pub reading: Vec<LookKind>,
    /// Places from which the rules let a player drive.
    #[serde(default = "anywhere")]
    pub drive_from: Vec<Place>,
    /// Who shoots from certain places only; the others from anywhere.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shots_from: Vec<ShotsFrom>,
    /// How long the holder looks, and what the team asks of a look.
    #[serde(default)]
    pub patience: Patience,
}

impl Offence {
    /// Does it say how many passes come first, or who shoots from where?
    pub fn bounds_shots(&self) -> bool {
        self.patience.passes_first > 0 || !self.shots_from.is_empty()
    }

    /// Is this a place that is to be kept filled, the ball being on `side`?
    pub fn keeps(&self, spot: Spot, side: Side) -> bool {
        self.keep_filled
            .iter()
            .any(|place| place.takes_in(spot, side))
    }

    /// Is this a place of the team's: one to be kept filled, or one of the line-up, on either side?
    pub fn has_place(&self, spot: Spot, side: Side) -> bool {
        let starts = |stand: &Stand| stand.at.takes_in(spot, side);
        self.keeps(spot, side) || self.alignment.iter().any(starts)
    }

    /// Which of the five play, in order of number: those whom the alignment places.
    pub fn there(&self) -> [bool; 5] {
        std::array::from_fn(|i| {
            let mut stands = self.alignment.iter();
            stands.any(|stand| usize::from(stand.player) == i + 1)
        })
    }

    /// Who was on his way to `claimed` has come to stand at `here`: does he go on there?
    pub fn goes_on(&self, claimed: Spot, here: Spot, side: Side) -> bool {
        self.keeps(claimed, side) && !self.keeps(here, side)
    }
}

fn five() -> u8 {
    5
}

fn are_five(players: &u8) -> bool {
    *players == 5
}

fn anywhere() -> Vec<Place> {
    vec![Place::Any]
}
