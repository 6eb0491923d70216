//! `compare`: variations on the same seeds.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use lanelight::contest::{Contest, Contrast, Variation};
use lanelight::report::contest::{self, Names};
use lanelight::report::contest_page::{self, parted};
use lanelight::report::files::{Output, is_screen};
use lanelight::scenario::Scenario;

use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::Failure;

/// Possessions of each variation when nothing else is asked for.
const USUAL: u64 = 500;

/// What is compared. With a tweak or another scenario: each with the scenario as it is, once
/// against every defence named. With defences only: each with the first one named, or with the
/// scenario's own if only one is.
#[derive(Args)]
pub struct CompareArgs {
    /// A scenario: a file, or the word of a shipped one. Without it: the demo.
    file: Option<PathBuf>,
    /// A tweak to compare with the offence as it is: a shipped word (see `ways`) or a file;
    /// "A+B" for both at once. May be given several times.
    #[arg(long, value_name = "TWEAK")]
    tweak: Vec<String>,
    /// Another scenario to compare with. May be given several times.
    #[arg(long = "with", value_name = "SCENARIO")]
    other: Vec<PathBuf>,
    /// Play against this defence: a shipped word (see `ways`) or a file. May be given several
    /// times.
    #[arg(long, value_name = "DEFENCE")]
    against: Vec<String>,
    /// How many possessions of each variation.
    #[arg(long, value_name = "N", default_value_t = USUAL)]
    possessions: u64,
    /// Seed of the first possession; the rest follow on.
    #[arg(long, value_name = "S", default_value_t = 1)]
    seed: u64,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Write the differences as JSON ("-": to the standard output, instead of the page).
    #[arg(long, value_name = "FILE")]
    summary_json: Option<PathBuf>,
    /// Write the differences as CSV.
    #[arg(long, value_name = "FILE")]
    summary_csv: Option<PathBuf>,
    /// Write before and after as one page for the browser and for paper, with the floor.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

/// Plays, shows the page, and writes the files.
pub fn compare(args: &CompareArgs) -> Result<(), Failure> {
    let plan = Contest {
        first_seed: args.seed,
        possessions: args.possessions,
        threads: args.threads.map_or(0, usize::from),
    };
    plan.check()
        .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    let files = [&args.summary_json, &args.summary_csv, &args.html];
    let files: Vec<&PathBuf> = files.into_iter().flatten().collect();
    if (1..files.len()).any(|i| files[..i].contains(&files[i])) {
        return Err(Failure::Wrong(
            "two files cannot both go to the same place".into(),
        ));
    }
    let base = choose::start(args.file.as_deref())?;
    let (variations, contrasts) = variations(args, &base)?;
    warn(&base.warnings);

    // Whatever cannot be written is to be known before anything is played.
    let start = |path: &Option<PathBuf>| path.as_deref().map(Output::start).transpose();
    let (json_out, csv_out) = (start(&args.summary_json)?, start(&args.summary_csv)?);
    let html_out = start(&args.html)?;
    let stop = stop_on_interrupt();
    let bar = bar(args.possessions.saturating_mul(variations.len() as u64));
    let played = plan.run(&variations, &contrasts, &|n| bar.set_position(n), &stop);
    bar.finish_and_clear();
    let comparison = played.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;

    let names = Names::new(&common(&base), variations.iter().map(|v| v.name.clone()));
    if let Some(out) = csv_out {
        out.fill(|out| contest::csv(out, &names, &comparison))?;
    }
    if let Some(out) = json_out {
        out.fill(|out| contest::json(out, &names, &comparison))?;
    }
    if let Some(out) = html_out {
        let parts = contrasts.iter();
        let parted = |c: &Contrast| parted(&variations[c.base], &variations[c.changed], args.seed);
        let parts: Vec<_> = parts.map(parted).collect();
        let page = contest_page::page(&names, &comparison, &parts, base.court.units);
        out.fill(|out| out.write_all(page.as_bytes()))?;
    }
    let to_screen = |path: &Option<PathBuf>| path.as_deref().is_some_and(is_screen);
    if ![&args.summary_json, &args.summary_csv, &args.html]
        .into_iter()
        .any(to_screen)
    {
        show(&contest::page(&names, &comparison, base.court.units))?;
    }
    if comparison.interrupted {
        Err(Failure::Interrupted)
    } else {
        Ok(())
    }
}

/// What all variations have in common, as far as the scenario says it.
pub(super) fn common(base: &Scenario) -> String {
    format!(
        "{}; {} against {}, {} court",
        base.offence.name, base.attackers.name, base.defenders.name, base.court.name
    )
}

fn variations(
    args: &CompareArgs,
    base: &Scenario,
) -> Result<(Vec<Variation>, Vec<Contrast>), Failure> {
    let mut changed: Vec<(String, Scenario)> = Vec::new();
    for mention in &args.tweak {
        let mut scenario = base.clone();
        let mut names = Vec::new();
        for part in parts(mention) {
            names.push(choose::tweak(&mut scenario, part)?);
        }
        warn(&scenario.warnings[base.warnings.len()..]);
        changed.push((names.join(" + "), scenario));
    }
    for file in &args.other {
        let scenario = choose::start(Some(file))?;
        warn(&scenario.warnings);
        changed.push((scenario.name.clone(), scenario));
    }
    if changed.is_empty() && args.against.is_empty() {
        return Err(Failure::Wrong(
            "nothing to compare with: give --tweak, --with or --against".into(),
        ));
    }
    let named =
        |name: &str, s: Scenario| Variation::new(format!("{name}, against {}", s.defence.name), s);
    let against = |scenario: &Scenario, mention: &Option<&String>| {
        let mut scenario = scenario.clone();
        if let Some(mention) = mention {
            let known = scenario.warnings.len();
            choose::defend(&mut scenario, mention)?;
            warn(&scenario.warnings[known..]);
        }
        Ok::<Scenario, Failure>(scenario)
    };
    let mut defences: Vec<Option<&String>> = args.against.iter().map(Some).collect();
    if defences.is_empty() || changed.is_empty() && defences.len() == 1 {
        defences.insert(0, None);
    }
    let mut variations = Vec::new();
    let mut contrasts = Vec::new();
    for defence in &defences {
        let start = variations.len();
        variations.push(named("as it is", against(base, defence)?));
        for (name, scenario) in &changed {
            contrasts.push(Contrast {
                base: start,
                changed: variations.len(),
            });
            variations.push(named(name, against(scenario, defence)?));
        }
    }
    if changed.is_empty() {
        contrasts.extend((1..variations.len()).map(|changed| Contrast { base: 0, changed }));
    }
    Ok((variations, contrasts))
}

/// "A+B" is two tweaks, unless it is the name of a file.
fn parts(mention: &str) -> Vec<&str> {
    if Path::new(mention).exists() {
        vec![mention]
    } else {
        mention.split('+').map(str::trim).collect()
    }
}
