//! `check`: reads a file and says it back.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use lanelight::court::Units;
use lanelight::model::Table;
use lanelight::report::files::{Output, is_screen};
use lanelight::report::orders;
use lanelight::report::wrap::wrap;
use lanelight::report::{Heading, clean};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{
    Scenario, Source, Tried, kind_of, read_defence, read_offence, read_squad, read_tweak, try_tweak,
};
use lanelight::scrimmage::orders::account;

use super::say::{defence, offence, squad, titled};
use super::{choose, show, units, warn};
use crate::{Failure, Matchup};

/// How many possessions are played when nothing is said.
const USUAL: u64 = 200;
/// Most that are played.
const MOST: u64 = 100_000;
/// An offence alone is played against these in turn: what they leave open differs.
const AGAINST: [&str; 3] = ["sag", "denial", "help_line"];
/// By whom, then, and how a case of it is watched.
const ALONE: &str = "Played by the teams of the demo on its court. To watch a case of an offence:\n\
                     its file, the defence and the seed, as in\n\
                     `watch FILE --against denial --seed 1`.";

#[derive(Args)]
pub struct CheckArgs {
    /// The file, or the word of a shipped scenario, offence or tweak.
    file: PathBuf,
    /// Play it: say of every order of every rule how often it was carried out, what cut the others
    /// short, and where to watch it. Ends with 3 if a rule or an order never works.
    #[arg(long)]
    play: bool,
    /// How many possessions are played [default: 200].
    #[arg(long, value_name = "N", requires = "play",
          value_parser = clap::value_parser!(u64).range(1..=MOST))]
    possessions: Option<u64>,
    /// Play against this defence: a shipped word (see `ways`) or a file. May be given several times
    /// [default: the scenario's; for an offence alone sag, denial and help_line in turn].
    #[arg(long, value_name = "DEFENCE", requires = "play")]
    against: Vec<String>,
    /// Write the account as JSON ("-": to the standard output, instead of the text).
    #[arg(long, value_name = "FILE", requires = "play")]
    json: Option<PathBuf>,
}

/// Reads the file, whatever it describes, and says it back in sentences; or plays it.
pub fn check(args: &CheckArgs) -> Result<(), Failure> {
    if args.play {
        return play(args);
    }
    let file = args.file.as_path();
    let word = file
        .to_str()
        .and_then(|word| shipped::find(Kind::Scenario, word));
    if let Some(shipped) = word.filter(|_| !choose::is_file(file)) {
        return scenario(Scenario::from_text(shipped.text, shipped.word)?);
    }
    let source = Source::load(file)?;
    let (text, name) = (source.text.as_str(), source.file.as_str());
    match kind_of(text).unwrap_or(Kind::Scenario) {
        Kind::Scenario => return scenario(Scenario::read(file)?),
        Kind::Offence => {
            let read = read_offence(text, name)?;
            warn(&read.warnings);
            show(&(offence(&read.value) + "\nThe offence is sound.\n"))?;
        }
        Kind::Defence => {
            let read = read_defence(text, name)?;
            warn(&read.warnings);
            show(&(defence(&read.value, units::or(Units::Metric)) + "\nThe defence is sound.\n"))?;
        }
        Kind::Tweak => {
            let tried = try_tweak(source)?;
            warn(&tried.warnings);
            show(&tweak(&tried))?;
        }
        Kind::Squad => {
            let read = read_squad(text, name)?;
            warn(&read.warnings);
            let said = squad(&read.value, units::or(Units::Metric));
            show(&(said + "\nThe squad is sound.\n"))?;
        }
    }
    Ok(())
}

/// Plays what the file describes, and says what became of every order.
fn play(args: &CheckArgs) -> Result<(), Failure> {
    let (scenario, mut against) = played(&args.file)?;
    let alone = !against.is_empty();
    if !args.against.is_empty() {
        against.clone_from(&args.against);
    }
    warn(&scenario.warnings);
    let mut scenarios = Vec::new();
    for mention in &against {
        let mut scenario = scenario.clone();
        choose::defend(&mut scenario, mention)?;
        scenarios.push(scenario);
    }
    if scenarios.is_empty() {
        scenarios.push(scenario);
    }
    let out = args.json.as_deref().map(Output::start).transpose()?;
    let Some(account) = account(&scenarios, args.possessions.unwrap_or(USUAL)) else {
        return Ok(());
    };
    if let Some(out) = out {
        out.fill(|out| {
            serde_json::to_writer_pretty(&mut *out, &account)?;
            writeln!(out)
        })?;
    }
    if !args.json.as_deref().is_some_and(is_screen) {
        show(&orders::page(&account))?;
        if alone {
            show(&format!("\n{ALONE}\n"))?;
        }
    }
    if let Some(said) = orders::never(&account, true) {
        let _ = writeln!(std::io::stderr(), "{said}");
    }
    orders::never(&account, false).map_or(Ok(()), |said| Err(Failure::NeverWorks(said)))
}

/// The scenario in which a file is played, and the defences, if it names none.
fn played(file: &Path) -> Result<(Scenario, Vec<String>), Failure> {
    let usual = || AGAINST.map(str::to_owned).to_vec();
    let alone = |offence: Option<&str>| {
        let matchup = Matchup::default();
        choose::scenario_with(&matchup, offence).map(|(scenario, _)| scenario)
    };
    let name = file.to_string_lossy();
    let text = if choose::is_file(file) {
        Source::load(file)?.text
    } else {
        let mut all = shipped::SHIPPED.iter().chain(shipped::DRILLS);
        let shipped = all.find(|s| s.word == name);
        shipped.map_or(String::new(), |shipped| shipped.text.to_owned())
    };
    match kind_of(&text) {
        Some(Kind::Offence) => Ok((alone(Some(&name))?, usual())),
        Some(Kind::Tweak) => {
            let of = read_tweak(&text, &name)?.value.of;
            let of = of.map(|of| match file.parent().filter(|_| of.ends_with(".ron")) {
                Some(folder) => folder.join(of).to_string_lossy().into_owned(),
                None => of,
            });
            let mut scenario = alone(of.as_deref())?;
            choose::tweak(&mut scenario, &name)?;
            Ok((scenario, usual()))
        }
        Some(kind @ (Kind::Defence | Kind::Squad)) => Err(Failure::Wrong(format!(
            "{} has no rules to play: check a scenario, an offence or a tweak",
            kind.with_article()
        ))),
        _ => Ok((choose::start(Some(file))?, Vec::new())),
    }
}

/// What a tweak changes, and which offences it fits.
fn tweak(tried: &Tried) -> String {
    let fits = match tried.fits.as_slice() {
        [] => "The tweak can be read.".to_owned(),
        names => {
            let names: Vec<String> = names.iter().map(|name| format!("“{name}”")).collect();
            format!("The tweak is sound, and fits {}.", names.join(" and "))
        }
    };
    let fits = wrap(&clean::line(&fits), "", "");
    format!("{}\n{fits}", titled(&tried.tweak.name, &tried.tweak.note))
}

/// The numbers of the model that the scenario changes.
fn numbers(scenario: &Scenario) -> String {
    let mut text = String::new();
    for (name, shipped, here) in scenario.model.changes() {
        let number = Table::shipped().number(name);
        let unit = number.map_or("", |number| number.unit.as_str());
        let says = number.map_or("", |number| number.says.as_str());
        text += &format!("  {name}: {here} {unit} instead of {shipped}\n");
        text += &wrap(says, "    ", "    ");
    }
    if text.is_empty() {
        return text;
    }
    format!("NUMBERS OF THE MODEL\n{text}\n")
}

fn scenario(mut scenario: Scenario) -> Result<(), Failure> {
    scenario.court.units = units::or(scenario.court.units);
    warn(&scenario.warnings);
    let heading = Heading::of(&scenario, &[]);
    let clock = match scenario.shot_clock {
        Some(seconds) => format!("{seconds} seconds to shoot"),
        None => "no shot clock".to_string(),
    };
    let teams = format!(
        "{} against {}, {} court, {clock}.",
        heading.attackers, heading.defenders, heading.court
    );
    let text = format!(
        "{}\n{}\nTHE OFFENCE: {}\nTHE DEFENCE: {}\n{}The scenario is sound.\n",
        titled(&scenario.name, &scenario.note),
        wrap(&teams, "", ""),
        offence(&scenario.offence),
        defence(&scenario.defence, scenario.court.units),
        numbers(&scenario),
    );
    show(&text)?;
    Ok(())
}
