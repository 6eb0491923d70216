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
    /// The man has the ball.
    OnBall,
    /// The man is the next one outside to the ball's left or right.
    OnePass,
    /// The man is outside and farther off.
    TwoPasses,
    /// The man is inside, on the side of the ball or near the midline.
    PostBallSide,
    /// The man is inside, on the other side.
    PostWeakSide,
    /// The man cuts.
    Cutter,
}

impl Relation {
    /// Every relation, in the order in which reports list them.
    pub const ALL: [Relation; 6] = [
        Relation::OnBall,
        Relation::OnePass,
        Relation::TwoPasses,
        Relation::PostBallSide,
        Relation::PostWeakSide,
        Relation::Cutter,
    ];

    /// In a coach's words.
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
    /// Share of the man's place in the mix.
    pub man: f64,
    /// Share of the ball's place in the mix.
    #[serde(default)]
    pub ball: f64,
    /// Share of the rim's place in the mix.
    #[serde(default)]
    pub rim: f64,
    /// Share of the way to the midline by which he is drawn to it: 0 not at all, 1 onto it; on the ball below 0 away
    /// from it.
    #[serde(default)]
    pub midline: f64,
    /// Least and greatest distance from the man, metres.
    #[serde(default = "any_gap")]
    pub gap: (f64, f64),
    /// Where the eyes are.
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

/// What happens when a drive has beaten the defender on the ball.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Help {
    /// Who leaves his man.
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

/// How a defender comes out to a catcher.
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
    /// Everybody keeps his man.
    Never,
    /// The two defenders at a screen trade men.
    OnScreens,
}

/// How the two defenders at a screen on the ball meet it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum BallScreens {
    /// The defender on the ball goes over the screen, after the ball; the other stays with the screener.
    Over,
    /// The defender on the ball goes under the screen and meets the ball on the other side.
    Under,
    /// The two trade men.
    Switch,
    /// Over; the screener's defender steps out in front of the ball for a moment, and recovers.
    Show,
    /// The same, but steps out before the ball comes, as the screener does.
    ShowEarly,
    /// Over; the screener's defender drops back between ball and rim until the ball has its own defender again.
    Contain,
    /// Over; both stay on the ball until it is passed.
    Trap,
}

impl BallScreens {
    /// In a coach's words, of both.
    pub fn word(self) -> &'static str {
        match self {
            BallScreens::Over => {
                "the defender on the ball goes over them, the other stays with the screener"
            }
            BallScreens::Under => {
                "the defender on the ball goes under them, the other stays with the screener"
            }
            BallScreens::Switch => "the two defenders trade men",
            BallScreens::Show => {
                "the defender on the ball goes over them, the other shows in front of the ball and recovers"
            }
            BallScreens::ShowEarly => {
                "the defender on the ball goes over them, the other steps out before the ball comes and recovers"
            }
            BallScreens::Contain => {
                "the defender on the ball goes over them, the other contains the ball, deep, until the first is back"
            }
            BallScreens::Trap => "both defenders stay on the ball",
        }
    }
}

/// How the defender of a player who comes off a screen away from the ball gets by the screener.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum OffBallScreens {
    /// Behind the own player, on the way that the player takes.
    Chase,
    /// On the other side of the screener than the player, to meet the player beyond.
    Under,
}

impl OffBallScreens {
    /// In a coach's words.
    pub fn word(self) -> &'static str {
        match self {
            OffBallScreens::Chase => "the screened defender chases the own player round them",
            OffBallScreens::Under => "the screened defender goes under them",
        }
    }
}

/// A stance for each relation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stances {
    /// The man has the ball.
    pub on_ball: Stance,
    /// The man is one pass away.
    pub one_pass: Stance,
    /// The man is two or more passes away.
    pub two_passes: Stance,
    /// The man is inside on the ball side.
    pub post_ball_side: Stance,
    /// The man is inside on the weak side.
    pub post_weak_side: Stance,
    /// The man cuts.
    pub cutter: Stance,
}

impl Stances {
    /// The stance for this relation.
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
    /// Instead of the stance on the ball.
    #[serde(default)]
    pub on_ball: Option<Stance>,
    /// Instead of the stance one pass away.
    #[serde(default)]
    pub one_pass: Option<Stance>,
    /// Instead of the stance two passes away.
    #[serde(default)]
    pub two_passes: Option<Stance>,
    /// Instead of the stance on a post on the ball side.
    #[serde(default)]
    pub post_ball_side: Option<Stance>,
    /// Instead of the stance on a post on the weak side.
    #[serde(default)]
    pub post_weak_side: Option<Stance>,
    /// Instead of the stance on a cutter.
    #[serde(default)]
    pub cutter: Option<Stance>,
}

impl Override {
    /// This defender's own stance for the relation, if there is one.
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
    /// Number of the defender who guards this area, 1–5.
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

/// A defender of a zone who has no area but goes with one attacker everywhere, and helps nobody.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Chaser {
    /// Number of the defender, 1–5.
    pub defender: u8,
    /// Number of the attacker with whom he goes, 1–5.
    pub player: u8,
}

/// A whole defence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Defence {
    /// What the coach calls it.
    pub name: String,
    /// A remark of the coach; may be empty.
    #[serde(default)]
    pub note: String,
    /// Where each defender stands.
    pub stances: Stances,
    /// A zone: areas instead of men. Stances then say how the attacker in the area is guarded.
    #[serde(default)]
    pub zone: Option<Vec<Area>>,
    /// Defenders of a zone who go with one attacker everywhere.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub chasers: Vec<Chaser>,
    /// Who stops a drive that gets by, and where.
    pub help: Help,
    /// How a defender comes out to a catcher.
    pub closeout: Closeout,
    /// When two defenders trade men.
    #[serde(default = "never")]
    pub switch: Switch,
    /// How a screen on the ball is met; left out: as other screens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ball_screens: Option<BallScreens>,
    /// How the screened defender gets by a screen away from the ball; left out: as the feet find.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off_ball_screens: Option<OffBallScreens>,
    /// Who meets a screener who rolls while the screener's defender is with the ball; left out: nobody.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tag: Option<Helper>,
    /// Is a ball held in a corner trapped: does the defender of the next pass go to it as well, and the others to
    /// the next passes?
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub trap_corners: bool,
    /// What single defenders do differently.
    #[serde(default)]
    pub overrides: Vec<Override>,
}

impl Defence {
    /// The attacker (0–4) with whom defender `d` (0–4) of a zone goes everywhere.
    pub fn chased_by(&self, d: usize) -> Option<usize> {
        let mut chasers = self.chasers.iter();
        let own = chasers.find(|chaser| usize::from(chaser.defender) == d + 1)?;
        usize::from(own.player)
            .checked_sub(1)
            .filter(|who| *who < 5)
    }

    /// How a screen on the ball is met: where nothing is said, switched if other screens are, or gone over.
    pub fn meets_ball_screens(&self) -> BallScreens {
        self.ball_screens.unwrap_or(match self.switch {
            Switch::OnScreens => BallScreens::Switch,
            Switch::Never => BallScreens::Over,
        })
    }
}

impl BallScreens {
    /// Does the screener's defender leave the screener for the ball?
    pub fn leaves_the_screener(self) -> bool {
        matches!(
            self,
            BallScreens::Show | BallScreens::ShowEarly | BallScreens::Contain | BallScreens::Trap
        )
    }
}

fn never() -> Switch {
    Switch::Never
}

/// What a defender is doing now.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Duty {
    /// Guards the holder.
    OnBall,
    /// In the passing lane, one pass away.
    Denying,
    /// One pass away, off the man and toward the ball.
    Gap,
    /// Two or more passes away, toward the midline.
    HelpLine,
    /// Has left the man to stop a drive at the rim.
    LowHelp,
    /// Guards a player inside.
    Post,
    /// Stays with a cutter.
    Trailing,
    /// On the way to the man that a helper left.
    Rotating,
    /// Closes out to the man, who has caught the ball.
    Recovering,
    /// Guards an area of a zone.
    Area,
}

impl Duty {
    /// Every duty, in the order in which reports list them.
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

    /// In a coach's words.
    pub fn word(self) -> &'static str {
        match self {
            Duty::OnBall => "on the ball",
            Duty::Denying => "denying",
            Duty::Gap => "in the gap",
            Duty::HelpLine => "on the help line",
            Duty::LowHelp => "helping at the rim",
            Duty::Post => "guarding inside",
            Duty::Trailing => "with the cutter",
            Duty::Rotating => "rotating",
            Duty::Recovering => "recovering",
            Duty::Area => "in his area",
        }
    }
}
