//! What an offence, a defence and a scenario can't be together, each of them sound by itself.

use super::Scenario;
use super::parse::Read;
use super::raw::RawScenario;
use super::read::Desk;
use crate::defence::Defence;
use crate::offence::check::{Finding, Weight};
use crate::offence::{Event, Offence};

/// Why this defence can't be played against that offence; `None` if it can.
pub fn cannot_meet(offence: &Offence, defence: &Defence) -> Option<String> {
    let (there, players) = (offence.there(), offence.players);
    let plays = |number: u8| there.get(usize::from(number).wrapping_sub(1)) == Some(&true);
    if players < 5 && defence.zone.is_some() {
        return Some(format!(
            "a zone takes five; this offence plays {players} a side"
        ));
    }
    let mut own = defence.overrides.iter().map(|own| own.defender);
    let number = own.find(|number| !plays(*number))?;
    Some(format!(
        "`overrides` names defender {number}, who does not play: this offence plays {players} a side"
    ))
}

/// Warns of rules that wait for a time on the clock which this scenario never shows.
pub(super) fn late_clock(scenario: &Scenario, raw: &Read<RawScenario>, desk: &mut Desk) {
    let full = scenario
        .shot_clock
        .unwrap_or(scenario.offence.patience.possession);
    for rule in &scenario.offence.rules {
        if let Event::Clock { left } = rule.when
            && left > full
        {
            let said = format!(
                "the rule \"{}\" waits for {left} s on the clock, which starts at {full} s",
                rule.name
            );
            let finding = Finding {
                weight: Weight::Warning,
                ..Finding::error("offence", said)
            };
            desk.problems.push(raw.place(finding));
        }
    }
}
