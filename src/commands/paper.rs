//! `paper`: everything to hand out, in one go: the practice sheet, rule cards, shell positions, a
//! page to share, a moving picture and a picture of one moment.

use std::fmt::Write as _;
use std::io::{self, IsTerminal, Write as _};
use std::path::PathBuf;
use std::sync::OnceLock;
use std::time::Instant;

use clap::{Args, ValueEnum};
use indicatif::{ProgressBar, ProgressStyle};
use lanelight::clean;
use lanelight::draw::sheet::Paper;
use lanelight::draw::text::missing;
use lanelight::pack::{self, Order, POSSESSIONS, Piece, Stage, Unmade, When};
use lanelight::scenario::Scenario;
use lanelight::scenario::session::{LEAST_MINUTES, MOST_MINUTES};

use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::{Failure, Matchup};

/// Paper sizes by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Size {
    A4,
    Letter,
}

impl From<Size> for Paper {
    fn from(size: Size) -> Paper {
        match size {
            Size::A4 => Paper::A4,
            Size::Letter => Paper::Letter,
        }
    }
}

/// What is put into the pack, and where.
#[derive(Args)]
pub struct PaperArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// The folder for the files; made if it is not there.
    #[arg(long, value_name = "DIR", default_value = "paper")]
    to: PathBuf,
    /// Only these pieces [default: all].
    #[arg(long, value_name = "PIECES", value_delimiter = ',')]
    only: Vec<Piece>,
    /// Minutes of the practice [default: the scenario's, else 60].
    #[arg(long, value_name = "N", value_parser = minutes)]
    minutes: Option<u32>,
    /// Players who come, for groups [default: the scenario's, else 10].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(2..=40))]
    players: Option<u32>,
    /// Baskets that there are [default: the scenario's, else 2].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=12))]
    baskets: Option<u32>,
    /// The sheet's heading [default: the scenario's title, else its name].
    #[arg(long, value_name = "TEXT")]
    title: Option<String>,
    /// The date as it is to stand on the sheet [default: the scenario's, else a line to write on].
    #[arg(long, value_name = "TEXT")]
    date: Option<String>,
    /// Where the practice is [default: the scenario's].
    #[arg(long, value_name = "TEXT")]
    place: Option<String>,
    /// Who practises [default: the scenario's, else the names of the squad that attacks].
    #[arg(long, value_name = "TEXT")]
    squad: Option<String>,
    /// A line under Notes; may be given several times [default: the scenario's].
    #[arg(long, value_name = "TEXT")]
    note: Vec<String>,
    /// Paper size.
    #[arg(long, value_enum, default_value = "a4")]
    size: Size,
    /// Show on every card the ball on the left, too.
    #[arg(long)]
    mirrored: bool,
    /// Which possession is shown moving: the same seed is always the same possession.
    #[arg(long, value_name = "S", default_value_t = 1)]
    seed: u64,
    /// The picture shows this time of the possession, seconds [default: where most was left open,
    /// of all possessions played].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    at: Option<f64>,
    /// The diagram begins at this time of the possession, seconds [default: 4 s before its end].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    from: Option<f64>,
    /// The diagram ends at this time, seconds [default: 4 s after it begins].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    until: Option<f64>,
    /// Possessions behind the sheet's figures.
    #[arg(long, value_name = "N", default_value_t = POSSESSIONS)]
    possessions: u64,
    /// Threads to play on; the files are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

/// A time of a possession.
fn seconds(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(s) if (0.0..=100.0).contains(&s) => Ok(s),
        _ => Err("expected: seconds from 0 to 100, such as 3.5".to_string()),
    }
}

/// Minutes of a practice.
fn minutes(text: &str) -> Result<u32, String> {
    match text.parse() {
        Ok(n) if (LEAST_MINUTES..=MOST_MINUTES).contains(&n) => Ok(n),
        _ => Err(format!(
            "expected: whole minutes from {LEAST_MINUTES} to {MOST_MINUTES}"
        )),
    }
}

impl From<Unmade> for Failure {
    fn from(unmade: Unmade) -> Self {
        match unmade {
            Unmade::Wrong(said) => Failure::Wrong(said),
            Unmade::Unwritten(error) => Failure::Unwritten(error),
            Unmade::Stopped => Failure::Interrupted,
        }
    }
}

/// Plays what is needed, writes the pack, and says what was written and how long it took.
pub fn paper(args: &PaperArgs) -> Result<(), Failure> {
    let (mut scenario, _) = choose::scenario(&args.matchup)?;
    warn(&scenario.warnings);
    let texts = &mut scenario.practice;
    for (text, given) in [
        (&mut texts.title, &args.title),
        (&mut texts.date, &args.date),
        (&mut texts.place, &args.place),
        (&mut texts.squad, &args.squad),
    ] {
        if let Some(given) = given {
            text.clone_from(given);
        }
    }
    texts.minutes = args.minutes.or(texts.minutes);
    texts.players = args.players.or(texts.players);
    texts.baskets = args.baskets.or(texts.baskets);
    if !args.note.is_empty() {
        texts.notes.clone_from(&args.note);
    }
    let pieces: Vec<Piece> = if args.only.is_empty() {
        Piece::ALL.to_vec()
    } else {
        args.only.clone()
    };
    let order = Order {
        to: args.to.clone(),
        paper: args.size.into(),
        mirrored: args.mirrored,
        seed: args.seed,
        moment: args.at.map_or(When::MostLeft, When::At),
        from: args.from,
        until: args.until,
        possessions: args.possessions,
        threads: args.threads.map_or(0, usize::from),
        pieces,
    };
    unprintable(&scenario);
    let stop = stop_on_interrupt();
    let played = bar(args.possessions);
    let files = OnceLock::new();
    let (began, since) = (stopwatch(), OnceLock::new());
    let progress = |stage: Stage| match stage {
        Stage::Played(done) => played.set_position(done),
        Stage::Makes(piece, done) => {
            played.finish_and_clear();
            since.get_or_init(stopwatch);
            let bar = files.get_or_init(|| steps(order.pieces.len() as u64));
            bar.set_message(piece.word());
            bar.set_position(done as u64);
        }
    };
    let made = pack::make(&scenario, &order, &progress, &stop);
    played.finish_and_clear();
    if let Some(bar) = files.get() {
        bar.finish_and_clear();
    }
    let written = made?;
    let mut said = String::new();
    for file in &written {
        let kilobytes = file.bytes.div_ceil(1000);
        let _ = writeln!(said, "{} ({kilobytes} kB)", file.path.display());
    }
    let making = since.get().unwrap_or(&began).elapsed().as_secs_f64();
    let playing = (began.elapsed().as_secs_f64() - making).max(0.0);
    let _ = writeln!(
        said,
        "{} files in {making:.1} s, after {playing:.1} s of playing",
        written.len()
    );
    show(&clean::lines(&said))?;
    Ok(())
}

/// Says which signs of the scenario's texts the font of all print lacks.
fn unprintable(scenario: &Scenario) {
    let texts = &scenario.practice;
    let players = scenario.attackers.players.iter().map(|p| p.name.as_str());
    let rules = scenario.offence.rules.iter().map(|r| r.name.as_str());
    let own = [
        &scenario.name,
        &scenario.note,
        &scenario.offence.name,
        &scenario.defence.name,
        &scenario.defence.note,
        &scenario.attackers.name,
        &texts.title,
        &texts.date,
        &texts.place,
        &texts.squad,
    ];
    let own = own.into_iter().chain(&texts.notes).map(String::as_str);
    let all: Vec<&str> = own.chain(players).chain(rules).collect();
    let lacks: String = missing(&clean::line(&all.join(" "))).into_iter().collect();
    if !lacks.is_empty() {
        let said = "The font for paper lacks these signs; they are left out:";
        let _ = writeln!(io::stderr(), "{said} {lacks}");
    }
}

/// Reads the clock on the wall, to say how long it took.
#[allow(clippy::disallowed_methods)]
fn stopwatch() -> Instant {
    Instant::now()
}

fn steps(count: u64) -> ProgressBar {
    if !io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(count);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len}, now the {msg}") {
        bar.set_style(style);
    }
    bar.tick();
    bar
}
