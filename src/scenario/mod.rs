//! A scenario: a court, an offence, a defence, two squads and what to start from, read from files
//! and checked. The floor takes only checked scenarios.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::court::{Court, Side};
use crate::defence::Defence;
use crate::model::Model;
use crate::offence::Offence;
use crate::squad::Squad;

mod explain;
pub mod keep;
mod kind;
mod mend;
mod parse;
mod patch;
mod patched;
mod problem;
mod raw;
mod read;
pub mod session;
pub mod shipped;
mod slips;
mod source;
mod together;
pub mod tree;

pub use kind::kind_of;
pub use patch::Patch;
pub use patched::{Tried, is_of, try_tweak};
pub use problem::{Problem, Problems};
pub use raw::{RawScenario, Start};
pub use read::{Checked, read_defence, read_offence, read_squad, read_tweak};
pub use session::Session;
pub use source::{MOST_BYTES, Source};
pub use together::cannot_meet;

/// Everything that one possession needs except its seed.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// What the coach calls it.
    pub name: String,
    /// A remark of the coach; may be empty.
    pub note: String,
    /// The court and its rules.
    pub court: Court,
    /// The offence, with its tweaks applied.
    pub offence: Offence,
    /// The defence.
    pub defence: Defence,
    /// The five who attack.
    pub attackers: Squad,
    /// The five who defend.
    pub defenders: Squad,
    /// The side on which the ball starts; `None` takes each in turn, by seed.
    pub start: Option<Side>,
    /// Seconds to shoot in; `None` where the rules know no shot clock.
    pub shot_clock: Option<f64>,
    /// Drill switches: `passive` defenders keep to their men and never help or go for a pass; and
    /// `clean` play has no error of judgement or execution.
    pub drill: Drill,
    /// The numbers by which everything is played and judged.
    pub model: Arc<Model>,
    /// What the coach says about the practice, for the sheet only.
    pub practice: Session,
    /// What is odd, but does not keep it from being played.
    pub warnings: Vec<Problem>,
}

/// Switches that take the noise or the defence out, to walk through the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Drill {
    /// Defenders keep to their men and never help or go for a pass.
    pub passive: bool,
    /// No error of judgement or execution.
    pub clean: bool,
}

impl Drill {
    /// Is this a walk-through of either kind? Then everybody is exactly where the words say.
    pub fn any(&self) -> bool {
        self.passive || self.clean
    }
}
