//! A scenario file as it is written.

use serde::{Deserialize, Serialize};

use super::{Drill, Patch, Session};
use crate::court::{CourtCode, Side};
use crate::squad::Level;

/// What a coach writes. A word without `.ron` names a shipped file; with it, a file beside this one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename = "Scenario")]
pub struct RawScenario {
    /// What the coach calls it.
    pub name: String,
    /// A remark; may be empty.
    #[serde(default)]
    pub note: String,
    /// The rule set.
    pub court: CourtCode,
    /// The level of both sides, where nothing else is said.
    #[serde(default)]
    pub level: Option<Level>,
    /// The level of the attackers, where it is another than `level`.
    #[serde(default)]
    pub attack_level: Option<Level>,
    /// The level of the defenders, where it is another than `level`.
    #[serde(default)]
    pub defence_level: Option<Level>,
    /// The offence: a shipped word or a file.
    pub offence: String,
    /// The defence: a shipped word or a file.
    pub defence: String,
    /// The squad that attacks, instead of typical players of the level.
    #[serde(default)]
    pub attackers: Option<String>,
    /// The squad that defends.
    #[serde(default)]
    pub defenders: Option<String>,
    /// Small changes to the offence, in order.
    #[serde(default)]
    pub tweaks: Vec<String>,
    /// The side on which the ball starts.
    #[serde(default)]
    pub start: Start,
    /// Seconds to shoot in; left out, the rule set's own, if it has one.
    #[serde(default)]
    pub shot_clock: Option<f64>,
    /// Switches for walking through the rules.
    #[serde(default)]
    pub drill: Drill,
    /// Other values for numbers of the model, by name.
    #[serde(default, skip_serializing_if = "Patch::is_empty")]
    pub model: Patch,
    /// For the practice sheet.
    #[serde(default, skip_serializing_if = "Session::is_empty")]
    pub practice: Session,
}

/// Where the ball starts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Start {
    /// On the left, as seen from half court.
    Left,
    /// On the right, as seen from half court.
    Right,
    /// Each in turn, by seed.
    #[default]
    Either,
}

impl Start {
    /// The side, if there is only one.
    pub fn side(self) -> Option<Side> {
        match self {
            Start::Left => Some(Side::Left),
            Start::Right => Some(Side::Right),
            Start::Either => None,
        }
    }
}
