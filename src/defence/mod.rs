//! The defence's language: where each defender stands by his man's relation to the ball, where he
//! looks, who helps, who rotates, how he recovers, and whether men are switched.
//!
//! A stance is a mix `man · attacker + ball · ball + rim · rim` (shares are divided by their sum),
//! then drawn toward the midline, then kept within a gap from the man. The mix is that of Franks,
//! Miller, Bornn, Goldsberry (2015), *Characterizing the spatial structure of defensive skill in
//! professional basketball*, Annals of Applied Statistics 9(1) 94–121.

use serde::{Deserialize, Serialize};

pub mod check;

/// The relation of a defender's man to the ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Relation {
    OnBall,
    OnePass,
    TwoPasses,
    PostBallSide,
    PostWeakSide,
    Cutter,
}

impl Relation {
    pub const ALL: [Relation; 6] = [
        Relation::OnBall,
        Relation::OnePass,
        Relation::TwoPasses,
        Relation::PostBallSide,
        Relation::PostWeakSide,
        Relation::Cutter,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Relation::OnBall => "on the ball",
            Relation::OnePass => "one pass away",
            Relation::TwoPasses => "two passes away",
            Relation::PostBallSide => "post, ball side",
            Relation::PostWeakSide => "post, weak side",
            Relation::Cutter => "on a cutter",
        }
    }
}

/// Where a defender's eyes are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Gaze {
    /// At the ball; the man is seen only from the corner of the eye or in a glance.
    Ball,
    /// At the man.
    Man,
    /// Open to both: body turned half way between them.
    Both,
}

/// Where to stand for one relation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stance {
    pub man: f64,
    #[serde(default)]
    pub ball: f64,
    #[serde(default)]
    pub rim: f64,
    /// How far he is drawn to the midline: 0 not at all, 1 onto it.
    #[serde(default)]
    pub midline: f64,
    /// Least and greatest distance from the man, metres.
    #[serde(default = "any_gap")]
    pub gap: (f64, f64),
    #[serde(default = "both")]
    pub gaze: Gaze,
    /// A hand in the passing lane: he anticipates a pass to his man.
    #[serde(default)]
    pub deny: bool,
}

fn any_gap() -> (f64, f64) {
    (0.6, 12.0)
}
fn both() -> Gaze {
    Gaze::Both
}

/// Who leaves his man to stop a drive that has beaten the defender on the ball.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Helper {
    /// Nobody: everyone stays with his man.
    Nobody,
    /// The lowest weak-side defender (nearest the rim).
    LowMan,
    /// Whoever can reach the lane first.
    Nearest,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Help {
    pub who: Helper,
    /// He goes when the driver is nearer to the rim than this, metres, and past his man …
    pub within: f64,
    /// … and how far from the rim he meets the ball, metres.
    pub depth: f64,
    /// Does the next defender take the helper's man?
    #[serde(default)]
    pub rotate: bool,
    /// One pass away: how far a defender stunts toward a drive and back, metres.
    #[serde(default)]
    pub stunt: f64,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Closeout {
    /// How far from a catcher he stops, metres.
    pub short: f64,
    /// Share of top speed at which he comes.
    pub pace: f64,
}

/// When two defenders trade men.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Switch {
    Never,
    OnScreens,
}

#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stances {
    pub on_ball: Stance,
    pub one_pass: Stance,
    pub two_passes: Stance,
    pub post_ball_side: Stance,
    pub post_weak_side: Stance,
    pub cutter: Stance,
}

impl Stances {
    pub fn of(&self, relation: Relation) -> &Stance {
        match relation {
            Relation::OnBall => &self.on_ball,
            Relation::OnePass => &self.one_pass,
            Relation::TwoPasses => &self.two_passes,
            Relation::PostBallSide => &self.post_ball_side,
            Relation::PostWeakSide => &self.post_weak_side,
            Relation::Cutter => &self.cutter,
        }
    }
}

/// One defender's own habits: every stance he does differently.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Override {
    /// The defender's number.
    pub defender: u8,
    #[serde(default)]
    pub on_ball: Option<Stance>,
    #[serde(default)]
    pub one_pass: Option<Stance>,
    #[serde(default)]
    pub two_passes: Option<Stance>,
    #[serde(default)]
    pub post_ball_side: Option<Stance>,
    #[serde(default)]
    pub post_weak_side: Option<Stance>,
    #[serde(default)]
    pub cutter: Option<Stance>,
}

impl Override {
    pub fn of(&self, relation: Relation) -> Option<&Stance> {
        match relation {
            Relation::OnBall => self.on_ball.as_ref(),
            Relation::OnePass => self.one_pass.as_ref(),
            Relation::TwoPasses => self.two_passes.as_ref(),
            Relation::PostBallSide => self.post_ball_side.as_ref(),
            Relation::PostWeakSide => self.post_weak_side.as_ref(),
            Relation::Cutter => self.cutter.as_ref(),
        }
    }
}

/// One area of a zone: where its defender stands with the ball in the middle, how far he shifts with the ball,
/// and how far from his place he picks up an attacker.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Area {
    pub defender: u8,
    /// Metres right of the rim (negative: left).
    pub x: f64,
    /// Metres out from the rim.
    pub y: f64,
    /// Share of the ball's own sideways and outward displacement that he shifts by.
    pub shift: (f64, f64),
    /// He guards an attacker (the ball first) within this distance of his shifted place, metres.
    pub covers: f64,
}

/// A whole defence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Defence {
    pub name: String,
    #[serde(default)]
    pub note: String,
    pub stances: Stances,
    /// A zone: areas instead of men. Stances then say how the attacker in the area is guarded.
    #[serde(default)]
    pub zone: Option<Vec<Area>>,
    pub help: Help,
    pub closeout: Closeout,
    #[serde(default = "never")]
    pub switch: Switch,
    #[serde(default)]
    pub overrides: Vec<Override>,
}

fn never() -> Switch {
    Switch::Never
}

/// What a defender is doing now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Duty {
    OnBall,
    Denying,
    Gap,
    HelpLine,
    LowHelp,
    Post,
    Trailing,
    Rotating,
    Recovering,
    Area,
}

impl Duty {
    pub const ALL: [Duty; 10] = [
        Duty::OnBall,
        Duty::Denying,
        Duty::Gap,
        Duty::HelpLine,
        Duty::LowHelp,
        Duty::Post,
        Duty::Trailing,
        Duty::Rotating,
        Duty::Recovering,
        Duty::Area,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Duty::OnBall => "on the ball",
            Duty::Denying => "denying",
            Duty::Gap => "in the gap",
            Duty::HelpLine => "on the help line",
            Duty::LowHelp => "helping at the rim",
            Duty::Post => "on the post",
            Duty::Trailing => "with the cutter",
            Duty::Rotating => "rotating",
            Duty::Recovering => "recovering",
            Duty::Area => "in his area",
        }
    }
}
