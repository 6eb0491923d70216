//! One seeded possession, written down: timeline, looks at every decision instant, its end, and (if asked for) its track.

use serde::Serialize;

use crate::ball::PassKind;
use crate::court::{Side, Spot, Vec2};
use crate::defence::{Duty, Relation};
use crate::offence::{CutLane, LookKind};

mod ending;
#[cfg(test)]
pub(crate) mod fixture;
pub mod light;
pub mod orders;
mod sends;
pub mod there;
pub mod timeline;

pub use ending::{Ending, Finish, Turnover};
pub use sends::listed;

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
    /// The possession begins.
    Starts {
        /// Who has the ball.
        who: u8,
        /// Where.
        at: Spot,
    },
    /// Rule number `rule` of the offence fires; what it tells each player, in order of number.
    Rule {
        /// Index into the offence's rules.
        rule: usize,
        /// What it tells each player, in order of number.
        told: [Option<Told>; 5],
    },
    /// A pass leaves the hand.
    Passes {
        /// The passer.
        from: u8,
        /// The receiver.
        to: u8,
        /// Chest, bounce or overhead.
        kind: PassKind,
        /// The look that the pass takes.
        look: LookKind,
        /// Chance that it gets there, 0..=1, as it is thrown.
        openness: f64,
        /// From the passer to the point aimed at, metres.
        length: f64,
    },
    /// A player catches the ball.
    Catches {
        /// The receiver.
        who: u8,
        /// The spot nearest to the catch.
        at: Spot,
        /// Distance from that spot, metres.
        off: f64,
        /// Distance of the nearest defender, metres.
        room: f64,
        /// Number of that defender.
        defender: u8,
    },
    /// A cut to the rim, or to a place, begins.
    Cuts {
        /// The cutter.
        who: u8,
        /// Where the cut begins.
        from: Spot,
        /// On which side of the defender.
        lane: CutLane,
        /// The place where it is to end; `None`: the rim.
        #[serde(skip_serializing_if = "Option::is_none")]
        to: Option<Spot>,
    },
    /// The cutter comes out to `to`.
    Unfed {
        /// The cutter.
        who: u8,
        /// Where the cutter goes on to.
        to: Spot,
    },
    /// Goes to fill a place.
    Fills {
        /// Who goes.
        who: u8,
        /// The place.
        to: Spot,
    },
    /// Comes off a screen away from it and from the ball: the defender has gone under.
    Fades {
        /// Who fades.
        who: u8,
        /// The place.
        to: Spot,
    },
    /// The holder comes off a screen on the ball, or goes away from it.
    ComesOff {
        /// The holder.
        who: u8,
        /// The screener.
        of: u8,
        /// The other way: his defender was on the screen's side.
        refuses: bool,
    },
    /// Takes his man in and comes back out hard.
    GetsOpen {
        /// Who gets open.
        who: u8,
    },
    /// A flash begins.
    Flashes {
        /// Who flashes.
        who: u8,
        /// Where to.
        to: Spot,
    },
    /// Holds the defender on the back.
    Seals {
        /// Who seals.
        who: u8,
        /// Where.
        at: Spot,
    },
    /// Stands and waits for a screen.
    Waits {
        /// Who waits.
        who: u8,
        /// The screener.
        of: u8,
    },
    /// Goes to set a screen.
    Screens {
        /// The screener.
        who: u8,
        /// The team-mate whose defender is screened.
        on: u8,
    },
    /// Leaves a screen on the ball before the contact: the own defender has stepped out.
    Slips {
        /// The screener.
        who: u8,
        /// That defender.
        on: u8,
    },
    /// The screen for which he waited does not come: he goes without it.
    NoScreen {
        /// Who waited.
        who: u8,
        /// The screener.
        of: u8,
    },
    /// He is to flash, and a team-mate stands there too long; or he has to leave the lane before he gets there.
    NoFlash {
        /// Who was to flash.
        who: u8,
        /// Where to.
        to: Spot,
        /// A team-mate stood there.
        taken: bool,
    },
    /// Caught or dribbled away from the place to which he was going, he holds another now.
    Holds {
        /// Who holds it.
        who: u8,
        /// The place held from now on.
        at: Spot,
    },
    /// The ball that stayed has gone on before he could flash: he lets it be.
    LetsBe {
        /// Who was to flash.
        who: u8,
    },
    /// A drive begins.
    Drives {
        /// The driver.
        who: u8,
        /// Where it begins.
        from: Spot,
    },
    /// Dribbles at a team-mate.
    DribblesAt {
        /// The dribbler.
        who: u8,
        /// The team-mate.
        toward: u8,
    },
    /// Sets out to give a team-mate the ball by hand.
    SetsOutToHand {
        /// The holder.
        who: u8,
        /// The team-mate.
        toward: u8,
        /// Dribbles toward that one, rather than stands.
        dribbles: bool,
    },
    /// The ball goes over from hand to hand.
    HandsOff {
        /// The giver.
        from: u8,
        /// The receiver.
        to: u8,
    },
    /// The holder keeps the ball that he was to hand over.
    KeepsIt {
        /// The holder.
        who: u8,
        /// The team-mate who does not get it.
        from: u8,
        /// Why.
        why: Kept,
    },
    /// Dribbles along the perimeter for a better angle to pass.
    Dribbles {
        /// The dribbler.
        who: u8,
        /// On the spot, until this team-mate has come.
        waits_for: Option<u8>,
        /// Out to his place, beside which he caught the ball.
        to: Option<Spot>,
    },
    /// A defender stops the drive.
    Stopped {
        /// The driver.
        who: u8,
        /// Number of the defender.
        by: u8,
        /// What that defender was doing.
        duty: Duty,
    },
    /// A defender leaves his man to help.
    Helps {
        /// The helper.
        defender: u8,
        /// The man left.
        leaves: u8,
    },
    /// A defender takes the helper's man.
    Rotates {
        /// Who rotates.
        defender: u8,
        /// The man taken.
        to: u8,
    },
    /// Two defenders trade men.
    Switches {
        /// One of the two.
        defender: u8,
        /// The other.
        with: u8,
    },
    /// A defender is `late` seconds behind the man he guards when that man gets the ball or cuts past.
    Late {
        /// Who is late.
        defender: u8,
        /// The man guarded.
        man: u8,
        /// How late, seconds.
        late: f64,
    },
    /// A backdoor chance opens.
    BackdoorThere {
        /// Who could cut.
        who: u8,
        /// The defender behind whom the way is free.
        defender: u8,
    },
    /// The ball holder has had no open look for so long (the spell ends now).
    Stall {
        /// The holder.
        who: u8,
        /// How long it lasted, seconds.
        seconds: f64,
    },
    /// A shot leaves the hand.
    Shoots {
        /// The shooter.
        who: u8,
        /// Distance from the rim, metres.
        distance: f64,
        /// Distance of the nearest defender, metres.
        room: f64,
        /// Chance to go in, 0..=1.
        chance: f64,
        /// The action that it came from.
        finish: Finish,
    },
    /// Cannot hold a pass that reached him: the ball is loose.
    Drops {
        /// The receiver.
        who: u8,
    },
    /// A defender gets a hand on a pass.
    Tips {
        /// The defender.
        defender: u8,
        /// The passer.
        from: u8,
        /// The receiver.
        to: u8,
    },
    /// The possession is over.
    Ends {
        /// How.
        ending: Ending,
    },
}

/// Why a ball that was to be handed over is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kept {
    /// The receiver's defender is in the way.
    Overplayed,
    /// The receiver is cutting, screening or showing inside.
    Busy,
    /// The two have not come together in time.
    Late,
}

/// One thing that happened, and when.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Entry {
    /// Seconds since the possession began.
    pub time: f64,
    /// What happened.
    pub what: What,
}

/// The defender who shuts a look now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Closer {
    /// Number, 1–5.
    pub defender: u8,
    /// What the defender is doing.
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
    /// What could be done.
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
    /// Where the pass would be caught, or the drive would end, metres; `None` for a shot. Not in files.
    #[serde(skip)]
    pub target: Option<Vec2>,
    /// Who shuts it most; `None` if nobody is near.
    pub closer: Option<Closer>,
    /// Do the rules of the offence ever take this look?
    pub allowed: bool,
    /// Is it open: would a coach say "it's there"?
    pub open: bool,
    /// A pass outside whose catcher could shoot at once: unguarded, and a shot worth the usual possession or more.
    pub spot_up: bool,
}

/// A player one pass away who could cut behind his defender now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct BackdoorNow {
    /// Number of the player, 1–5.
    pub who: u8,
    /// Chance that a pass gets there behind the defender, 0..=1.
    pub openness: f64,
    /// Is it open?
    pub there: bool,
    /// Who shuts it most; `None` if nobody is near.
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

/// How the ten are spread over the floor.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Spacing {
    /// Mean distance of each attacker to his nearest team-mate, metres.
    pub nearest: f64,
    /// Hull area of the five attackers and of the five defenders, square metres.
    pub hull: f64,
    /// The same for the defenders, square metres.
    pub defence_hull: f64,
    /// Can one defender guard two attackers without the ball?
    pub one_guards_two: bool,
    /// Is the strip holder–rim, 0.9 m to either side, free of all but the holder's own defender?
    pub lane_free: bool,
}

/// One decision instant.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Moment {
    /// Seconds since the possession began.
    pub time: f64,
    /// Number of the holder, 1–5.
    pub holder: u8,
    /// The spot nearest to the holder.
    pub at: Spot,
    /// What the holder is doing.
    pub ballwork: Ballwork,
    /// Seconds that he has had the ball.
    pub held: f64,
    /// Everything that could be done now.
    pub looks: Vec<LookNow>,
    /// Players one pass away who might cut backdoor.
    pub backdoor: Vec<BackdoorNow>,
    /// Index into `looks` of what he does, if he does something now.
    pub choice: Option<usize>,
    /// How the ten are spread over the floor.
    pub spacing: Spacing,
    /// The rule that fired last, if any.
    pub last_rule: Option<usize>,
}

/// Where everybody is at one tick. Attackers 1–5 and defenders X1–X5 in order of number.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Frame {
    /// Seconds since the possession began.
    pub time: f64,
    /// The ball: x, y, and height above the floor, metres.
    pub ball: [f64; 3],
    /// Places, metres from the rim.
    pub attackers: [Vec2; 5],
    /// Places, metres from the rim.
    pub defenders: [Vec2; 5],
    /// Where each chest points, unit vectors.
    pub attackers_facing: [Vec2; 5],
    /// Where each chest points, unit vectors.
    pub defenders_facing: [Vec2; 5],
    /// Number of the holder, 1–5; `None` while the ball is in the air or loose.
    pub holder: Option<u8>,
    /// The man each defender guards (number).
    pub guards: [u8; 5],
    /// What each defender is doing.
    pub duties: [Duty; 5],
    /// The relation of each defender's man to the ball.
    pub relations: [Relation; 5],
}

/// A possession, written down.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Possession {
    /// Seed that replays it.
    pub seed: u64,
    /// The side on which the ball started.
    pub side: Side,
    /// How long it lasted, seconds.
    pub duration: f64,
    /// How it ended.
    pub ending: Ending,
    /// What happened, in order of time.
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
