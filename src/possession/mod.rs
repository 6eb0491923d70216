//! One seeded possession, written down: its timeline, the looks at every decision instant, how it
//! ended, and (if asked for) where everybody was 25 times a second.

use serde::{Deserialize, Serialize};

use crate::ball::PassKind;
use crate::court::{ShotZone, Side, Spot, Vec2};
use crate::defence::{Duty, Relation};
use crate::offence::{CutLane, LookKind};

#[cfg(test)]
pub(crate) mod fixture;
mod sends;
pub mod timeline;

/// Why a possession ended without a shot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Turnover {
    /// A defender took a pass.
    Intercepted,
    /// A defender tipped a pass and his side got the ball, or it went out.
    Tipped,
    /// A bad pass or a dropped ball that the defence got.
    LostPass,
    /// The dribbler lost the ball.
    LostDribble,
    ShotClock,
    CloselyGuarded,
    LaneSeconds,
}

/// How the shot came about (the finishing action).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Finish {
    /// Catch on a cut (ball side or backdoor) and finish.
    Cut,
    /// Post catch and finish.
    PostUp,
    /// Post or team-mate beside the rim fed out of a drive.
    DropOff,
    /// Drive and finish or pull up.
    Drive,
    /// Catch and shoot on the perimeter.
    SpotUp,
    /// Shot off the hold, after looking.
    OffHold,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    Shot {
        shooter: u8,
        points: u8,
        made: bool,
        zone: ShotZone,
        finish: Finish,
        distance: f64,
        room: f64,
        chance: f64,
    },
    Turnover {
        how: Turnover,
        who: u8,
        by: Option<u8>,
    },
}

impl Ending {
    /// Points scored.
    pub fn points(&self) -> u8 {
        match *self {
            Ending::Shot {
                points, made: true, ..
            } => points,
            _ => 0,
        }
    }
}

/// What a rule tells one player.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Told {
    /// Line of the rule, from 0.
    pub line: u8,
    /// Another place than the one that he held until now.
    pub to: Option<Spot>,
}

/// What happened, for the timeline. Attackers and defenders are named by number (1–5).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    Starts {
        who: u8,
        at: Spot,
    },
    /// Rule number `rule` of the offence fires; what it tells each player, in order of number.
    Rule {
        rule: usize,
        told: [Option<Told>; 5],
    },
    Passes {
        from: u8,
        to: u8,
        kind: PassKind,
        look: LookKind,
        openness: f64,
        length: f64,
    },
    /// `off`: how far he is from the spot, metres; `room`: distance of the nearest defender, metres.
    Catches {
        who: u8,
        at: Spot,
        off: f64,
        room: f64,
        defender: u8,
    },
    Cuts {
        who: u8,
        from: Spot,
        lane: CutLane,
    },
    /// The cutter comes out to `to`.
    Unfed {
        who: u8,
        to: Spot,
    },
    Fills {
        who: u8,
        to: Spot,
    },
    /// Takes his man in and comes back out hard.
    GetsOpen {
        who: u8,
    },
    Flashes {
        who: u8,
        to: Spot,
    },
    Seals {
        who: u8,
        at: Spot,
    },
    /// Stands and waits for a screen.
    Waits {
        who: u8,
        of: u8,
    },
    Screens {
        who: u8,
        on: u8,
    },
    /// The screen for which he waited does not come: he goes without it.
    NoScreen {
        who: u8,
        of: u8,
    },
    /// He is to flash, and a team-mate stands there until it is too late; or he does not get there before he has
    /// to leave the lane.
    NoFlash {
        who: u8,
        to: Spot,
        taken: bool,
    },
    /// Caught or dribbled away from the place to which he was going, he holds another now.
    Holds {
        who: u8,
        at: Spot,
    },
    /// The ball that stayed has gone on before he could flash: he lets it be.
    LetsBe {
        who: u8,
    },
    Drives {
        who: u8,
        from: Spot,
    },
    DribblesAt {
        who: u8,
        toward: u8,
    },
    /// Dribbles along the perimeter for a better angle to pass.
    Dribbles {
        who: u8,
        /// On the spot, until this team-mate has come.
        waits_for: Option<u8>,
        /// Out to his place, beside which he caught the ball.
        to: Option<Spot>,
    },
    /// A defender stops the drive.
    Stopped {
        who: u8,
        by: u8,
        duty: Duty,
    },
    /// A defender leaves his man to help.
    Helps {
        defender: u8,
        leaves: u8,
    },
    /// A defender takes the helper's man.
    Rotates {
        defender: u8,
        to: u8,
    },
    /// Two defenders trade men.
    Switches {
        defender: u8,
        with: u8,
    },
    /// A defender is `late` seconds behind the man he guards when that man gets the ball or cuts past.
    Late {
        defender: u8,
        man: u8,
        late: f64,
    },
    /// A backdoor chance opens.
    BackdoorThere {
        who: u8,
        defender: u8,
    },
    /// The ball holder has had no open look for so long (the spell ends now).
    Stall {
        who: u8,
        seconds: f64,
    },
    Shoots {
        who: u8,
        distance: f64,
        room: f64,
        chance: f64,
        finish: Finish,
    },
    /// Cannot hold a pass that reached him: the ball is loose.
    Drops {
        who: u8,
    },
    Tips {
        defender: u8,
        from: u8,
        to: u8,
    },
    Ends {
        ending: Ending,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// Seconds since the possession began.
    pub time: f64,
    pub what: What,
}

/// The defender who shuts a look now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Closer {
    /// Number, 1–5.
    pub defender: u8,
    pub duty: Duty,
    /// His man's relation to the ball.
    pub relation: Relation,
    /// His chance to shut it alone.
    pub chance: f64,
    /// How long he has been in this duty, seconds.
    pub since: f64,
}

/// One look at one instant.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LookNow {
    pub kind: LookKind,
    /// The team-mate passed to.
    pub to: Option<u8>,
    /// Chance that the ball gets there (1 for a shot).
    pub openness: f64,
    /// Points it is worth if it gets there.
    pub prize: f64,
    /// Points it is worth, all in all.
    pub value: f64,
    /// The kind of pass that would be thrown.
    pub pass: Option<PassKind>,
    pub closer: Option<Closer>,
    /// Do the rules of the offence ever take this look?
    pub allowed: bool,
    /// Is it open: would a coach say "it's there"?
    pub open: bool,
    /// A pass outside whose catcher could shoot at once: unguarded, and a shot worth the team's
    /// usual possession or more.
    pub spot_up: bool,
}

/// A player one pass away who could cut behind his defender now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BackdoorNow {
    pub who: u8,
    pub openness: f64,
    pub there: bool,
    pub closer: Option<Closer>,
}

/// What the holder is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ballwork {
    /// Holding, dribble still to use.
    Holding,
    /// On the way to the rim.
    Driving,
    /// Dribbling at a team-mate or to keep the ball alive.
    Dribbling,
    /// Dribble used up.
    PickedUp,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Spacing {
    /// Mean distance of each attacker to his nearest team-mate, metres.
    pub nearest: f64,
    /// Hull area of the five attackers and of the five defenders, square metres.
    pub hull: f64,
    pub defence_hull: f64,
    /// Can one defender guard two attackers without the ball?
    pub one_guards_two: bool,
    /// Is the strip holder–rim, 0.9 m to either side, free of all but the holder's own defender?
    pub lane_free: bool,
}

/// One decision instant.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Moment {
    pub time: f64,
    pub holder: u8,
    pub at: Spot,
    pub ballwork: Ballwork,
    /// Seconds that he has had the ball.
    pub held: f64,
    pub looks: Vec<LookNow>,
    pub backdoor: Vec<BackdoorNow>,
    /// Index into `looks` of what he does, if he does something now.
    pub choice: Option<usize>,
    pub spacing: Spacing,
    /// The rule that fired last, if any.
    pub last_rule: Option<usize>,
}

/// Where everybody is at one tick. Attackers 1–5 and defenders X1–X5 in order of number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Frame {
    pub time: f64,
    pub ball: [f64; 3],
    pub attackers: [Vec2; 5],
    pub defenders: [Vec2; 5],
    pub attackers_facing: [Vec2; 5],
    pub defenders_facing: [Vec2; 5],
    pub holder: Option<u8>,
    /// The man each defender guards (number).
    pub guards: [u8; 5],
    pub duties: [Duty; 5],
    pub relations: [Relation; 5],
}

/// A possession, written down.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Possession {
    pub seed: u64,
    /// The side on which the ball started.
    pub side: Side,
    pub duration: f64,
    pub ending: Ending,
    pub timeline: Vec<Entry>,
    /// One for each decision instant, `DECISION_EVERY` ticks apart, while somebody has the ball.
    pub moments: Vec<Moment>,
    /// Empty unless the track was asked for.
    pub track: Vec<Frame>,
}

/// Seconds between ticks: 1/25, the rate of published tracking data.
pub const TICK: f64 = 0.04;
/// Ticks between decision instants.
pub const DECISION_EVERY: u32 = 5;
