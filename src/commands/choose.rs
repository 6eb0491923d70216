//! The scenario that a command is about, with another defence and tweaks where they are asked for.

use std::path::Path;

use lanelight::offence::check::{check, nearest_word};
use lanelight::offence::tweak::Tweak;
use lanelight::report::clean;
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{
    Checked, Problem, Problems, Scenario, Source, cannot_meet, is_of, kind_of, read_defence,
    read_offence, read_tweak,
};

use super::units;
use crate::{Failure, Matchup};

/// What is played, and the names of the tweaks that were added.
pub fn scenario(matchup: &Matchup) -> Result<(Scenario, Vec<String>), Failure> {
    scenario_with(matchup, None)
}

/// The same with another offence, a shipped word or a file, before the tweaks are applied.
pub fn scenario_with(
    matchup: &Matchup,
    offence: Option<&str>,
) -> Result<(Scenario, Vec<String>), Failure> {
    let mut scenario = start(matchup.file.as_deref())?;
    if let Some(mention) = offence {
        run(&mut scenario, &source(Kind::Offence, mention)?)?;
    }
    if let Some(mention) = &matchup.against {
        defend(&mut scenario, mention)?;
    }
    fits(&scenario)?;
    let mut names = Vec::new();
    for mention in &matchup.tweak {
        names.push(tweak(&mut scenario, mention)?);
    }
    Ok((scenario, names))
}

/// The scenario of a file or a shipped word; without either the demo. A file of an offence alone: the demo with it.
pub fn start(file: Option<&Path>) -> Result<Scenario, Failure> {
    let mut scenario = match file {
        None => Scenario::demo(),
        Some(file) => file_or_word(file)?,
    };
    scenario.court.units = units::or(scenario.court.units);
    Ok(scenario)
}

/// Puts another offence in the scenario.
fn run(scenario: &mut Scenario, source: &Source) -> Result<(), Problems> {
    let read = read_offence(&source.text, &source.file)?;
    scenario.warnings.extend(read.warnings);
    scenario.offence = read.value;
    Ok(())
}

/// Puts another defence in the scenario.
pub fn defend(scenario: &mut Scenario, mention: &str) -> Result<(), Failure> {
    let source = source(Kind::Defence, mention)?;
    let read = read_defence(&source.text, &source.file)?;
    scenario.warnings.extend(read.warnings);
    scenario.defence = read.value;
    fits(scenario)
}

/// Can the defence be played against the offence?
fn fits(scenario: &Scenario) -> Result<(), Failure> {
    let said = cannot_meet(&scenario.offence, &scenario.defence);
    said.map_or(Ok(()), |said| Err(Failure::Wrong(clean::line(&said))))
}

/// Is there something to read? A folder of the name of a shipped word is not meant by it.
pub fn is_file(file: &Path) -> bool {
    file.exists() && !file.is_dir()
}

fn file_or_word(file: &Path) -> Result<Scenario, Problems> {
    let shipped = file
        .to_str()
        .and_then(|word| shipped::find(Kind::Scenario, word));
    match shipped {
        Some(shipped) if !is_file(file) => Scenario::from_text(shipped.text, shipped.word),
        _ => match Source::load(file) {
            // By the teams of the demo, against its defence.
            Ok(source) if kind_of(&source.text) == Some(Kind::Offence) => {
                let mut scenario = Scenario::demo();
                run(&mut scenario, &source)?;
                Ok(scenario)
            }
            _ => Scenario::read(file),
        },
    }
}

/// The text that a word or a path means.
fn source(kind: Kind, mention: &str) -> Result<Source, Failure> {
    if mention.ends_with(".ron") {
        return Ok(Source::load(Path::new(mention))?);
    }
    if let Some(file) = shipped::find(kind, mention) {
        return Ok(Source::new(mention, file.text)?);
    }
    let words: Vec<&str> = shipped::all(kind).map(|file| file.word).collect();
    let nearest = nearest_word(mention, words.iter().copied());
    let nearest = nearest.map_or(String::new(), |n| format!("\n  nearest: {n}"));
    Err(Failure::Wrong(format!(
        "{}\n  expected: {}, or a file ending in .ron{nearest}",
        clean::line(&shipped::unknown(kind, mention)),
        words.join(", "),
    )))
}

/// A tweak for the scenario's offence, with the text that it stands in.
pub fn tweak_for(scenario: &Scenario, mention: &str) -> Result<(Source, Checked<Tweak>), Failure> {
    let source = source(Kind::Tweak, mention)?;
    let read = read_tweak(&source.text, &source.file)?;
    let tweak = &read.value;
    let before = &scenario.offence;
    if let Some(of) = &tweak.of
        && !is_of(of, &source.file, &before.name)
    {
        return Err(Failure::Wrong(format!(
            "the tweak “{}” is for “{}”, not for “{}”",
            clean::line(&tweak.name),
            clean::line(of),
            clean::line(&before.name)
        )));
    }
    Ok((source, read))
}

/// Changes the scenario's offence; gives the tweak's name.
pub fn tweak(scenario: &mut Scenario, mention: &str) -> Result<String, Failure> {
    let (source, read) = tweak_for(scenario, mention)?;
    let tweak = read.value;
    let before = &scenario.offence;
    let after = tweak.apply(before).map_err(|misfit| {
        let nearest = misfit
            .nearest
            .map_or(String::new(), |n| format!("\n  nearest: {n}"));
        Failure::Wrong(clean::lines(&format!(
            "the tweak “{}” does not fit: {}{nearest}",
            tweak.name, misfit.said
        )))
    })?;
    let old = check(before);
    let new = check(&after)
        .into_iter()
        .filter(|f| old.iter().all(|o| o.said != f.said));
    let (errors, odd): (Vec<_>, Vec<_>) = new
        .map(|f| Problem::at(&source.file, &source.text, 0, 0, f))
        .partition(Problem::is_error);
    if !errors.is_empty() {
        return Err(Problems(errors).into());
    }
    scenario.warnings.extend(read.warnings);
    scenario.warnings.extend(odd);
    scenario.offence = after;
    Ok(tweak.name)
}
