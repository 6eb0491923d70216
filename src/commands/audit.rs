//! `audit`: the figures that real play is known by, counted on possessions played or on tracks.

use std::fs::File;
use std::io::BufReader;
use std::path::{Path, PathBuf};

use clap::Args;
use lanelight::audit::{Audit, Track, read};
use lanelight::report::audit::{Whose, definitions, json, page};
use lanelight::report::files::{Output, is_screen};
use lanelight::report::{Heading, clean};

use super::frames::{at_level, level};
use super::{choose, show, warn};
use crate::{Failure, Matchup};

/// Possessions when nothing else is asked for.
const USUAL: u64 = 200;

#[derive(Args)]
pub struct AuditArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// Play this offence instead: a shipped word (see `ways`) or a file.
    #[arg(long, value_name = "OFFENCE")]
    offence: Option<String>,
    /// Typical teams of this level on its usual court, instead of the scenario's: varsity,
    /// professional, ... (real play is professional).
    #[arg(long, value_name = "LEVEL")]
    level: Option<String>,
    /// How many possessions [default: 200].
    #[arg(long, value_name = "N")]
    possessions: Option<u64>,
    /// Seed of the first possession; the rest follow on [default: 1].
    #[arg(long, value_name = "S")]
    seed: Option<u64>,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Play nothing: count these tracks, one possession a CSV file, as `scrimmage --tracks` writes.
    #[arg(long, value_name = "FILE", num_args = 1.., conflicts_with_all = ["file", "against",
        "tweak", "offence", "level", "possessions", "seed", "threads"])]
    tracks: Vec<PathBuf>,
    /// Write the figures as JSON ("-": to the standard output, instead of the page).
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
    /// Say what is counted and how, and play nothing.
    #[arg(long, conflicts_with_all = ["tracks", "json"])]
    definitions: bool,
}

/// Plays or reads, counts, and shows the page or writes it as JSON.
pub fn audit(args: &AuditArgs) -> Result<(), Failure> {
    if args.definitions {
        return Ok(show(&definitions())?);
    }
    let (whose, audit) = if args.tracks.is_empty() {
        played(args)?
    } else {
        let tracks: Result<Vec<Track>, Failure> = args.tracks.iter().map(|p| track(p)).collect();
        let files = args.tracks.len();
        (Whose::Files { files }, Audit::of_tracks(&tracks?))
    };
    if let Some(path) = &args.json {
        Output::whole(path, |out| json(out, &whose, &audit))?;
    }
    if !args.json.as_deref().is_some_and(is_screen) {
        show(&page(&whose, &audit))?;
    }
    Ok(())
}

fn played(args: &AuditArgs) -> Result<(Whose, Audit), Failure> {
    let (mut scenario, tweaks) = choose::scenario_with(&args.matchup, args.offence.as_deref())?;
    if let Some(word) = &args.level {
        at_level(&mut scenario, level(word)?);
    }
    warn(&scenario.warnings);
    if scenario.offence.players < 5 {
        let said =
            "an audit compares with tracked games of five a side: this offence has fewer players";
        return Err(Failure::Wrong(said.into()));
    }
    let first_seed = args.seed.unwrap_or(1);
    let audit = Audit::of(
        &scenario,
        first_seed,
        args.possessions.unwrap_or(USUAL),
        args.threads.map_or(0, usize::from),
    )
    .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    let heading = Heading::of(&scenario, &tweaks);
    let whose = Whose::Played {
        heading,
        first_seed,
    };
    Ok((whose, audit))
}

fn track(path: &Path) -> Result<Track, Failure> {
    let name = clean::line(&path.display().to_string());
    let file = File::open(path).map_err(|e| Failure::Wrong(format!("cannot read {name}: {e}")))?;
    read(BufReader::new(file), &name).map_err(|e| Failure::Wrong(clean::lines(&e.to_string())))
}
