//! `check`: reads a file and says it back.

use std::path::Path;

use lanelight::offence::{Offence, words};
use lanelight::report::{Heading, clean};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{Scenario, Source, read_defence, read_offence, read_squad, read_tweak};

use super::{show, warn};
use crate::Failure;

/// Reads the file, whatever it describes, and says it back in sentences.
pub fn check(file: &Path) -> Result<(), Failure> {
    let word = file
        .to_str()
        .and_then(|word| shipped::find(Kind::Scenario, word));
    if let Some(shipped) = word.filter(|_| !file.exists()) {
        return scenario(Scenario::from_text(shipped.text, shipped.word)?);
    }
    let source = Source::load(file).map_err(lanelight::scenario::Problems::from)?;
    let (text, name) = (source.text.as_str(), source.file.as_str());
    match kind_of(text) {
        Kind::Scenario => return scenario(Scenario::read(file)?),
        Kind::Offence => {
            let read = read_offence(text, name)?;
            warn(&read.warnings);
            show(&clean::lines(&offence(&read.value)))?;
        }
        Kind::Defence => {
            let read = read_defence(text, name)?;
            warn(&read.warnings);
            show(&good("defence", &read.value.name, &read.value.note))?;
        }
        Kind::Tweak => {
            let read = read_tweak(text, name)?;
            warn(&read.warnings);
            show(&good("tweak", &read.value.name, &read.value.note))?;
        }
        Kind::Squad => {
            let read = read_squad(text, name)?;
            warn(&read.warnings);
            show(&good("squad", &read.value.name, ""))?;
        }
    }
    Ok(())
}

/// What a text describes, by the word that only such a text has at the start of a line.
fn kind_of(text: &str) -> Kind {
    let has = |word: &str| text.lines().any(|line| line.trim_start().starts_with(word));
    if has("alignment:") {
        Kind::Offence
    } else if has("stances:") {
        Kind::Defence
    } else if has("changes:") {
        Kind::Tweak
    } else if has("players:") {
        Kind::Squad
    } else {
        Kind::Scenario
    }
}

fn good(kind: &str, name: &str, note: &str) -> String {
    let note = clean::line(note);
    let gap = if note.is_empty() { "" } else { "\n  " };
    format!("{}{gap}{note}\n\nThe {kind} is sound.\n", clean::line(name))
}

fn offence(offence: &Offence) -> String {
    let mut text = format!("{}\n", clean::line(&offence.name));
    if !offence.note.is_empty() {
        text += &format!("  {}\n", clean::line(&offence.note));
    }
    text += "\n";
    for sentence in words::offence(offence) {
        text += &format!("  {}\n", clean::line(&sentence));
    }
    text
}

fn scenario(scenario: Scenario) -> Result<(), Failure> {
    warn(&scenario.warnings);
    let heading = Heading::of(&scenario, &[]);
    let clock = match scenario.shot_clock {
        Some(seconds) => format!("{seconds} seconds to shoot"),
        None => "no shot clock".to_string(),
    };
    let mut text = format!("{}\n", heading.scenario);
    if !scenario.note.is_empty() {
        text += &format!("  {}\n", clean::line(&scenario.note));
    }
    text += &format!(
        "\n{} against {}, {} court, {clock}.\n\nTHE OFFENCE\n{}\nTHE DEFENCE\n{}\n",
        heading.attackers,
        heading.defenders,
        heading.court,
        offence(&scenario.offence),
        heading.defence,
    );
    if !scenario.defence.note.is_empty() {
        text += &format!("  {}\n", clean::line(&scenario.defence.note));
    }
    show(&text)?;
    Ok(())
}
