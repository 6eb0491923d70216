//! Commands: what can be asked for on the command line, and how it ends.
//!
//! Ends with 0 when all went well (also when the reader of a pipe has had enough), 2 for wrong
//! input, 3 if `check --play` finds what never works, 1 if something cannot be written, 130 if interrupted.

#![forbid(unsafe_code)]
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

mod commands;

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand};
use lanelight::report::files::Unwritten;
use lanelight::scenario::Problems;

/// Plays a motion offence against a defence, again and again, and shows what is open, what is
/// shut, and by whom. Without a command: the window, where there is a screen for it; else a
/// scrimmage of the team that comes with the program.
#[derive(Parser)]
#[command(name = "lanelight", version)]
struct Cli {
    /// Lengths in feet or in metres, in all that is shown and printed; files of figures keep to metres
    /// [default: as set in the window, else as the court's rule book has it].
    #[arg(long, global = true, value_enum)]
    units: Option<commands::units::Word>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Subcommand)]
enum Command {
    /// Open the window: the floor lit by the ball, possession by possession.
    Window(commands::window::WindowArgs),
    /// Read a file (scenario, offence, defence, tweak or squad), say it back in sentences, and
    /// point out what is wrong or odd in it. With --play: play it, and say of every order of every
    /// rule how often it was carried out.
    Check(commands::check::CheckArgs),
    /// Play one possession and tell it.
    Watch(WatchArgs),
    /// Play many possessions and report what was open, who shut it, and what the rules never take.
    Scrimmage(ScrimmageArgs),
    /// Put together the parts of a scrimmage that were played apart (`scrimmage --part`): the same
    /// page and files, to the last bit, as one run.
    Merge(MergeArgs),
    /// Say why it stalls: who shuts what and where he stands, what that leaves open, what no rule
    /// takes, and which defender is out of place; as text, as files, and as a page to print.
    Why(commands::why::WhyArgs),
    /// Play variations (tweaks, other scenarios, other defences) on the same seeds, and show what
    /// the change brings and how sure that is.
    Compare(commands::compare::CompareArgs),
    /// Try many tweaks, pairs and numbers on the same seeds, and put the worse ones aside until the
    /// best is known or the budget ends.
    Search(commands::search::SearchArgs),
    /// Write everything to hand out into a folder: practice sheet, rule cards, shell positions, a
    /// page for the phone, a moving picture.
    Paper(commands::paper::PaperArgs),
    /// Write practices over weeks as one PDF: what comes first, and what builds on what, by what each
    /// rule is worth when it is left out on the same seeds.
    Series(commands::series::SeriesArgs),
    /// Measure what tracking data of the same possessions would show (speeds, passes, distances,
    /// where defenders stand), beside what is published.
    Frames(FramesArgs),
    /// Count what real play is known by (speeds, spacing, passes, drives, cuts, closeouts) on
    /// possessions played here or on tracks from files, beside tracked professional games.
    Audit(commands::audit::AuditArgs),
    /// Play against several defences on the same seeds, and show the figures side by side.
    Table(TableArgs),
    /// List the numbers of the model, with unit, source, plausible range and meaning.
    Numbers(commands::numbers::NumbersArgs),
    /// List the columns and keys of the files of figures (CSV, JSON, Parquet), with unit and meaning.
    Columns,
    /// List the offences, defences, tweaks, squads and scenarios that come with the program.
    Ways,
    /// Write what an installed program brings beside itself: manual page, completions, menu entry, icons.
    #[command(hide = true)]
    PackageFiles(commands::package_files::PackageArgs),
}

/// What is played.
#[derive(Args, Clone, Default)]
struct Matchup {
    /// A scenario: a file, or the word of a shipped one. Without it: the demo.
    file: Option<PathBuf>,
    /// Play against this defence instead: a shipped word (see `ways`) or a file.
    #[arg(long, value_name = "DEFENCE")]
    against: Option<String>,
    /// Change the offence with this tweak: a shipped word (see `ways`) or a file. May be given
    /// several times.
    #[arg(long, value_name = "TWEAK")]
    tweak: Vec<String>,
}

#[derive(Args)]
struct WatchArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// Which possession: the same seed is always the same possession.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Write where everybody was, 25 times a second: FILE.csv, or FILE.jsonl for JSON Lines.
    #[arg(long, value_name = "FILE")]
    track: Option<PathBuf>,
}

/// Files that the figures of a scrimmage go to.
#[derive(Args, Clone, Default)]
struct SheetArgs {
    /// Write the figures as JSON ("-": to the standard output, instead of the page).
    #[arg(long, value_name = "FILE")]
    summary_json: Option<PathBuf>,
    /// Write the figures as CSV.
    #[arg(long, value_name = "FILE")]
    summary_csv: Option<PathBuf>,
    /// Write one line for each possession as CSV.
    #[arg(long, value_name = "FILE")]
    rows: Option<PathBuf>,
    /// Write one record for each possession as Parquet.
    #[cfg(feature = "parquet")]
    #[arg(long, value_name = "FILE")]
    records: Option<PathBuf>,
}

#[derive(Args)]
struct MergeArgs {
    /// The part files, all of them, in any order.
    #[arg(required = true, value_name = "PARTS")]
    parts: Vec<PathBuf>,
    #[command(flatten)]
    files: SheetArgs,
}

#[derive(Args, Default)]
struct ScrimmageArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// How many possessions; with --until, at most [default: 500; with --until: 20000].
    #[arg(long, value_name = "N")]
    possessions: Option<u64>,
    /// Seed of the first possession; the rest follow on [default: 1].
    #[arg(long, value_name = "S")]
    seed: Option<u64>,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Play until the 95 % interval of a figure is this narrow (half its width), as "points:0.05".
    #[arg(long, value_name = "FIGURE:WIDTH")]
    until: Option<String>,
    #[command(flatten)]
    files: SheetArgs,
    /// Play only this part of the possessions, as "3/8" for part 3 of 8, and keep it in --part-file;
    /// `merge` puts the parts together.
    #[arg(long, value_name = "K/N", requires = "part_file", conflicts_with_all = ["until", "tracks"])]
    part: Option<String>,
    /// Where the part goes.
    #[arg(long, value_name = "FILE", requires = "part")]
    part_file: Option<PathBuf>,
    /// Write tracks (where everybody was, 25 times a second) into this folder.
    #[arg(long, value_name = "DIR")]
    tracks: Option<PathBuf>,
    /// Seeds whose tracks are written, as "3", "1,4,7" or "1-20" [default: the first].
    #[arg(long, value_name = "SEEDS", value_delimiter = ',', requires = "tracks")]
    track_seeds: Vec<commands::scrimmage::Seeds>,
    /// Write tracks as JSON Lines instead of CSV.
    #[arg(long, requires = "tracks")]
    track_jsonl: bool,
}

#[derive(Args)]
struct FramesArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// Typical teams of this level on its usual court, instead of the scenario's: under_12, varsity,
    /// professional, ...
    #[arg(long, value_name = "LEVEL")]
    level: Option<String>,
    /// How many possessions [default: 500].
    #[arg(long, value_name = "N")]
    possessions: Option<u64>,
    /// Seed of the first possession; the rest follow on [default: 1].
    #[arg(long, value_name = "S")]
    seed: Option<u64>,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Write the figures as JSON ("-": to the standard output, instead of the page).
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
}

#[derive(Args)]
struct TableArgs {
    /// A scenario: a file, or the word of a shipped one. Without it: the demo.
    file: Option<PathBuf>,
    /// Play against this defence: a shipped word (see `ways`) or a file. May be given several times
    /// [default: sag, denial, help_line].
    #[arg(long, value_name = "DEFENCE")]
    against: Vec<String>,
    /// Change the offence with this tweak: a shipped word (see `ways`) or a file. May be given
    /// several times.
    #[arg(long, value_name = "TWEAK")]
    tweak: Vec<String>,
    /// Typical teams of this level on its usual court, instead of the scenario's.
    #[arg(long, value_name = "LEVEL")]
    level: Option<String>,
    /// How many possessions against each [default: 500].
    #[arg(long, value_name = "N")]
    possessions: Option<u64>,
    /// Seed of the first possession; the rest follow on [default: 1].
    #[arg(long, value_name = "S")]
    seed: Option<u64>,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

/// Why a command did not come to its end.
enum Failure {
    /// What was asked for makes no sense; said so that it can be mended.
    Wrong(String),
    /// Something could not be written.
    Unwritten(Unwritten),
    /// The screen could not be written to.
    Screen(io::Error),
    /// What was played does not work; all has been written.
    NeverWorks(String),
    /// Stopped from outside; all that was complete has been written.
    Interrupted,
}

impl From<Problems> for Failure {
    fn from(problems: Problems) -> Self {
        Failure::Wrong(lanelight::report::clean::lines(&problems.to_string()))
    }
}

impl From<Unwritten> for Failure {
    fn from(error: Unwritten) -> Self {
        Failure::Unwritten(error)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Failure::Screen(error)
    }
}

fn main() -> ExitCode {
    let Cli { units, command } = Cli::parse();
    commands::units::ask(units);
    let unsaid = || {
        if commands::window::is_wanted() {
            Command::Window(commands::window::WindowArgs::default())
        } else {
            Command::Scrimmage(ScrimmageArgs::default())
        }
    };
    let done = match command.unwrap_or_else(unsaid) {
        Command::Window(args) => commands::window::window(&args),
        Command::Check(args) => commands::check::check(&args),
        Command::Watch(args) => commands::watch::watch(&args),
        Command::Scrimmage(args) => commands::scrimmage::scrimmage(&args),
        Command::Merge(args) => commands::merge::merge(&args),
        Command::Why(args) => commands::why::why(&args),
        Command::Compare(args) => commands::compare::compare(&args),
        Command::Search(args) => commands::search::search(&args),
        Command::Paper(args) => commands::paper::paper(&args),
        Command::Series(args) => commands::series::series(&args),
        Command::Frames(args) => commands::frames::frames(&args),
        Command::Audit(args) => commands::audit::audit(&args),
        Command::Table(args) => commands::table::table(&args),
        Command::Numbers(args) => commands::numbers::numbers(&args),
        Command::Columns => commands::columns::columns(),
        Command::Ways => commands::ways::ways(),
        Command::PackageFiles(args) => commands::package_files::package_files(&args),
    };
    let (code, said) = match done {
        Ok(()) => (0, None),
        Err(Failure::Wrong(said)) => (2, Some(said)),
        Err(Failure::NeverWorks(said)) => (3, Some(said)),
        Err(Failure::Unwritten(e)) if e.error.kind() == io::ErrorKind::BrokenPipe => (0, None),
        Err(Failure::Screen(e)) if e.kind() == io::ErrorKind::BrokenPipe => (0, None),
        Err(Failure::Unwritten(e)) => (1, Some(e.to_string())),
        Err(Failure::Screen(e)) => (1, Some(format!("cannot write: {e}"))),
        Err(Failure::Interrupted) => (130, Some("interrupted".to_string())),
    };
    if let Some(said) = said {
        // If even this cannot be said, the code still tells.
        let _ = writeln!(io::stderr(), "{said}");
    }
    ExitCode::from(code)
}
