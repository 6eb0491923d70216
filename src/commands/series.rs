//! `series`: practices over weeks, as one PDF.

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use lanelight::contest::Contest;
use lanelight::contest::worth::{possessions, worth};
use lanelight::draw::cards::cards;
use lanelight::draw::glow::{LOOKED_THROUGH, glow, light_up};
use lanelight::draw::light::Replay;
use lanelight::draw::print;
use lanelight::draw::sheet::series::Series;
use lanelight::report::files::Output;
use lanelight::why::{Summary, Why, rivals};

use super::paper::Size;
use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::{Failure, Matchup};

/// What the series is made for.
#[derive(Args)]
pub struct SeriesArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// The file.
    #[arg(long, value_name = "FILE", default_value = "series.pdf")]
    to: PathBuf,
    /// Weeks.
    #[arg(long, value_name = "N", default_value_t = 4,
          value_parser = clap::value_parser!(u8).range(1..=26))]
    weeks: u8,
    /// Practices a week.
    #[arg(long, value_name = "N", default_value_t = 2,
          value_parser = clap::value_parser!(u8).range(1..=7))]
    each: u8,
    /// Minutes of a practice [default: the scenario's, else 60].
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(30..=120))]
    minutes: Option<u32>,
    /// Paper size.
    #[arg(long, value_enum, default_value = "a4")]
    size: Size,
    /// Possessions with each rule left out.
    #[arg(long, value_name = "N", default_value_t = 100,
          value_parser = clap::value_parser!(u64).range(2..=100_000))]
    possessions: u64,
    /// Threads to play on; the file is the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
}

/// Plays with each rule left out, orders the rules, and writes the practices.
pub fn series(args: &SeriesArgs) -> Result<(), Failure> {
    let (mut scenario, _) = choose::scenario(&args.matchup)?;
    warn(&scenario.warnings);
    let minutes = args.minutes.unwrap_or(scenario.practice.minutes());
    scenario.practice.minutes = Some(minutes.clamp(30, 120));
    let threads = args.threads.map_or(0, usize::from);
    let out = Output::start(&args.to)?;
    let stop = stop_on_interrupt();
    let wrong = |unfit: &dyn ToString| Failure::Wrong(unfit.to_string());
    let plan = Contest {
        first_seed: 1,
        possessions: args.possessions,
        threads,
    };
    let all = possessions(&plan, &scenario);
    let bar = bar(all + args.possessions);
    let found = worth(&plan, &scenario, &|done| bar.set_position(done), &stop);
    let found = found.map_err(|unfit| wrong(&unfit))?;
    let why = Why {
        first_seed: 1,
        possessions: args.possessions,
        threads,
    };
    let sheets = why
        .sheets(&scenario, &|done| bar.set_position(all + done), &stop)
        .map_err(|unfit| wrong(&unfit))?;
    bar.finish_and_clear();
    let rivals = rivals(&scenario);
    let summary = Summary::of(&sheets, why.possessions, &scenario.offence, &rivals);
    let Some(worth) = found.filter(|_| !summary.interrupted) else {
        return Err(Failure::Interrupted);
    };
    let series = Series::of(
        &scenario,
        worth,
        usize::from(args.weeks),
        usize::from(args.each),
    );
    let mut cards = cards(&scenario);
    let replays = Replay::many(&scenario, 1..1 + LOOKED_THROUGH);
    light_up(&mut cards, &glow(scenario.offence.rules.len(), &replays));
    let pages = series.pages(&scenario, &summary, &cards, args.size.into());
    let bytes = print::pdf("Series of practices", &pages).map_err(|e| wrong(&e))?;
    out.fill(|out| out.write_all(&bytes))?;
    let said = format!(
        "{}: {} practices on {} pages\n",
        args.to.display(),
        series.days.len(),
        pages.len()
    );
    show(&lanelight::clean::lines(&said))?;
    Ok(())
}
