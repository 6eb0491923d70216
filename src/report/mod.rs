//! What a scrimmage or a possession came to, for people and for other programs: a page of text,
//! JSON, CSV, and where everybody was 25 times a second.

pub mod audit;
pub mod columns;
pub mod contest;
pub mod contest_page;
pub mod contest_search;
pub mod contest_words;
pub mod files;
pub mod frames;
pub mod html;
pub mod html_plot;
pub mod json;
pub mod numbers;
pub mod orders;
pub mod page;
#[cfg(feature = "parquet")]
pub mod parquet;
pub mod part;
pub mod records;
pub mod sheets;
pub mod shown;
pub mod side_by_side;
pub mod table;
pub mod track;
pub mod units;
pub mod why;
pub mod why_bench;
pub mod why_brief;
pub mod why_light;
pub mod why_page;
pub mod why_sections;
pub mod why_sheet;
pub mod wrap;

pub use crate::clean;

use crate::scenario::Scenario;

/// Who plays what against whom, as a report's heading says it. Text from files is cleaned.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Heading {
    /// Name of the scenario.
    pub scenario: String,
    /// Name of the offence.
    pub offence: String,
    /// Tweaks applied to the offence, in order.
    pub tweaks: Vec<String>,
    /// Name of the defence.
    pub defence: String,
    /// Name of the squad that attacks.
    pub attackers: String,
    /// Name of the squad that defends.
    pub defenders: String,
    /// The rule set and its lines.
    pub court: String,
}

impl Heading {
    /// The heading of a scenario with the names of the tweaks that were applied to it.
    pub fn of(scenario: &Scenario, tweaks: &[String]) -> Heading {
        Heading {
            scenario: clean::line(&scenario.name),
            offence: clean::line(&scenario.offence.name),
            tweaks: tweaks.iter().map(|t| clean::line(t)).collect(),
            defence: clean::line(&scenario.defence.name),
            attackers: clean::line(&scenario.attackers.name),
            defenders: clean::line(&scenario.defenders.name),
            court: scenario.court.name.to_string(),
        }
    }

    /// The first lines of a page: the offence, the defence, the tweaks.
    pub fn top(&self) -> String {
        let mut text = wrap::wrap(&self.offence, "", "  ");
        text += &wrap::wrap(&format!("against {}", self.defence), "", "  ");
        for tweak in &self.tweaks {
            text += &wrap::wrap(&format!("with the tweak {tweak}"), "", "  ");
        }
        text
    }

    /// "Harbour Hawks against Millbrook Owls, …, 200 possessions, seeds 1 to 200."
    pub fn played(&self, possessions: u64, first_seed: u64) -> String {
        format!(
            "{} against {}, {} court. {}, seeds {first_seed} to {}.",
            self.attackers,
            self.defenders,
            self.court,
            numbers::count(possessions, "possession", "possessions"),
            first_seed + possessions.saturating_sub(1),
        )
    }
}
