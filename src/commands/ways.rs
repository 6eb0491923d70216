//! `ways`: what comes with the program.

use lanelight::report::clean;
use lanelight::report::wrap::wrap;
use lanelight::scenario::shipped::{self, Kind, Shipped};
use lanelight::scenario::{Scenario, read_defence, read_offence, read_squad, read_tweak};

use super::show;
use crate::Failure;

/// Lists every shipped file by its word, with its name and note.
pub fn ways() -> Result<(), Failure> {
    let mut text = String::new();
    for kind in Kind::ALL {
        let mut files = shipped::all(kind).peekable();
        if files.peek().is_none() {
            continue;
        }
        text += &format!("{}\n", plural(kind));
        for file in files {
            text += &entry(file)?;
        }
        text += "\n";
        if kind == Kind::Offence {
            text += "DRILLS (offences for fewer than five a side)\n";
            for file in shipped::DRILLS {
                text += &entry(file)?;
            }
            text += "\n";
        }
    }
    show(&text)?;
    Ok(())
}

/// A file's word, name and note.
fn entry(file: &Shipped) -> Result<String, Failure> {
    let (name, note) = described(file)?;
    let below = " ".repeat(28);
    let word = format!("  {:<25} ", file.word);
    let mut text = wrap(&clean::line(&name), &word, &below);
    if !note.is_empty() {
        text += &wrap(&clean::line(&note), &below, &below);
    }
    Ok(text)
}

fn plural(kind: Kind) -> &'static str {
    match kind {
        Kind::Offence => "OFFENCES",
        Kind::Defence => "DEFENCES (for --against)",
        Kind::Tweak => "TWEAKS (for --tweak)",
        Kind::Squad => "SQUADS",
        Kind::Scenario => "SCENARIOS",
    }
}

fn described(file: &Shipped) -> Result<(String, String), Failure> {
    let (text, word) = (file.text, file.word);
    Ok(match file.kind {
        Kind::Offence => read_offence(text, word).map(|r| (r.value.name, r.value.note))?,
        Kind::Defence => read_defence(text, word).map(|r| (r.value.name, r.value.note))?,
        Kind::Tweak => read_tweak(text, word).map(|r| (r.value.name, r.value.note))?,
        Kind::Squad => read_squad(text, word).map(|r| (r.value.name, String::new()))?,
        Kind::Scenario => Scenario::from_text(text, word).map(|s| (s.name, s.note))?,
    })
}
