//! What can be drilled, and how fast.

use super::words::drills as words;
use crate::defence::Duty;

/// What is drilled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Task {
    /// One defender off the ball, whatever the duty.
    One,
    /// A defender on the help line.
    HelpLine,
    /// A defender in the gap.
    Gap,
    /// A defender who denies.
    Deny,
    /// The low man, who stops a drive.
    LowMan,
    /// The defender who takes the player whom a helper has left.
    Rotate,
    /// The defender who stays with a cutter.
    Tag,
    /// The defender who closes out.
    Closeout,
    /// All five defenders at once.
    AllFive,
    /// Which attacker's cut is on, and who is open?
    Read,
    /// Where does a player off the ball go?
    Where,
}

impl Task {
    /// The defenders' drills, in the order of the buttons.
    pub const DEFENDERS: [Task; 9] = [
        Task::One,
        Task::HelpLine,
        Task::Gap,
        Task::Deny,
        Task::LowMan,
        Task::Rotate,
        Task::Tag,
        Task::Closeout,
        Task::AllFive,
    ];
    /// The attackers' drills, in the order of the buttons.
    pub const ATTACKERS: [Task; 2] = [Task::Read, Task::Where];

    /// The words of the button, and the key of its scores.
    pub fn word(self) -> &'static str {
        match self {
            Task::One => words::ANY_DUTY,
            Task::HelpLine => words::HELP_LINE,
            Task::Gap => "gap",
            Task::Deny => "deny",
            Task::LowMan => words::LOW_MAN,
            Task::Rotate => words::HELP_THE_HELPER,
            Task::Tag => words::TAG_THE_CUTTER,
            Task::Closeout => "closeout",
            Task::AllFive => words::ALL_FIVE,
            Task::Read => words::WHO_IS_OPEN,
            Task::Where => words::WHERE_DO_YOU_GO,
        }
    }

    /// What it means, in a sentence.
    pub fn means(self) -> &'static str {
        match self {
            Task::One => words::ANY_DUTY_MEANS,
            Task::HelpLine => words::HELP_LINE_MEANS,
            Task::Gap => words::GAP_MEANS,
            Task::Deny => words::DENY_MEANS,
            Task::LowMan => words::LOW_MAN_MEANS,
            Task::Rotate => words::HELP_THE_HELPER_MEANS,
            Task::Tag => words::TAG_THE_CUTTER_MEANS,
            Task::Closeout => words::CLOSEOUT_MEANS,
            Task::AllFive => words::ALL_FIVE_MEANS,
            Task::Read => words::WHO_IS_OPEN_MEANS,
            Task::Where => words::WHERE_DO_YOU_GO_MEANS,
        }
    }

    /// The duty that is drilled, if it is one.
    pub fn duty(self) -> Option<Duty> {
        match self {
            Task::HelpLine => Some(Duty::HelpLine),
            Task::Gap => Some(Duty::Gap),
            Task::Deny => Some(Duty::Denying),
            Task::LowMan => Some(Duty::LowHelp),
            Task::Rotate => Some(Duty::Rotating),
            Task::Tag => Some(Duty::Trailing),
            Task::Closeout => Some(Duty::Recovering),
            Task::One | Task::AllFive | Task::Read | Task::Where => None,
        }
    }
}

/// How fast it goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Speed {
    /// The floor stands, and there is no clock.
    Still,
    /// The possession comes at half speed.
    Half,
    /// The possession comes in real time.
    Real,
}

impl Speed {
    /// Every speed, in the order of the buttons.
    pub const ALL: [Speed; 3] = [Speed::Still, Speed::Half, Speed::Real];

    /// The words of the button.
    pub fn word(self) -> &'static str {
        match self {
            Speed::Still => words::NO_CLOCK,
            Speed::Half => words::HALF_SPEED,
            Speed::Real => words::REAL_TIME,
        }
    }

    /// How fast the possession comes, and how long the learner has, seconds (ours).
    pub fn pace(self) -> Option<(f64, f32)> {
        match self {
            Speed::Still => None,
            Speed::Half => Some((0.5, 8.0)),
            Speed::Real => Some((1.0, 4.0)),
        }
    }
}
