//! `why`: many possessions, looked into: who shuts what, what that leaves, where it stalls, and
//! which defender is out of place; as text, JSON, CSV and a page for browser and paper.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use lanelight::report::files::{Output, is_screen};
use lanelight::report::shown::shown;
use lanelight::report::why_sections::Teller;
use lanelight::report::{Heading, html, why_brief, why_page, why_sheet};
use lanelight::why::{Summary, Why, matrix, rivals};

use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::{Failure, Matchup};

/// What is looked into, and where it is written.
#[derive(Args)]
pub struct WhyArgs {
    #[command(flatten)]
    matchup: Matchup,
    /// How many possessions.
    #[arg(long, value_name = "N", default_value_t = 200)]
    possessions: u64,
    /// Seed of the first possession; the rest follow on.
    #[arg(long, value_name = "S", default_value_t = 1)]
    seed: u64,
    /// Threads to play on; the report is the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Possessions of each pair in the table of every defence against this offence (with --all or a file:
    /// every offence); 0: no table.
    #[arg(long, value_name = "N", default_value_t = 100)]
    matrix: u64,
    /// Show the whole report, and not only what fits on two screens.
    #[arg(long)]
    all: bool,
    /// Write the report as one page for the browser and for paper ("-": to the standard output,
    /// instead of the text).
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Write the figures as JSON.
    #[arg(long, value_name = "FILE")]
    json: Option<PathBuf>,
    /// Write the figures as CSV.
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
}

/// Plays, reads, and writes what was asked for.
pub fn why(args: &WhyArgs) -> Result<(), Failure> {
    let plan = Why {
        first_seed: args.seed,
        possessions: args.possessions,
        threads: args.threads.map_or(0, usize::from),
    };
    separate(args)?;
    let (scenario, tweaks) = choose::scenario(&args.matchup)?;
    plan.scrimmage()
        .check()
        .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    warn(&scenario.warnings);
    let start = |path: &Option<PathBuf>| path.as_deref().map(Output::start).transpose();
    let (page_out, json_out, csv_out) = (start(&args.html)?, start(&args.json)?, start(&args.csv)?);

    let stop = stop_on_interrupt();
    let each = Why {
        possessions: args.matrix,
        ..plan
    };
    // Two screens have room for this offence only; whatever has room for all gets all.
    let whole = args.all || outputs(args).next().is_some();
    let pairs = matrix::pairs(&scenario, whole) * each.possessions;
    let bar = bar(plan.possessions + pairs);
    let read = plan.sheets(&scenario, &|done| bar.set_position(done), &stop);
    let sheets = read.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    let rivals = rivals(&scenario);
    let mut summary = Summary::of(&sheets, plan.possessions, &scenario.offence, &rivals);
    if each.possessions > 0 && !summary.interrupted {
        let progress = |done| bar.set_position(plan.possessions + done);
        let cells = matrix::matrix(&each, &scenario, whole, &progress, &stop)
            .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
        match cells {
            Some(cells) => summary.matrix = cells,
            None => summary.interrupted = true,
        }
    }
    bar.finish_and_clear();

    let heading = Heading::of(&scenario, &tweaks);
    let units = scenario.court.units;
    let teller = Teller {
        summary: &summary,
        rivals: &rivals,
        units,
    };
    let sections = teller.sections();
    if let Some(out) = csv_out {
        out.fill(|out| why_sheet::csv(out, &heading, &summary))?;
    }
    if let Some(out) = json_out {
        out.fill(|out| why_sheet::json(out, &heading, &summary))?;
    }
    if let Some(out) = page_out {
        let shown = shown(&scenario, &summary, &teller.named(&sections));
        let page = html::page(&heading, &teller, &sections, &shown);
        out.fill(|out| out.write_all(page.as_bytes()))?;
    }
    if !outputs(args).any(is_screen) {
        show(&match args.all {
            true => why_page::page(&heading, &summary, &sections),
            false => why_brief::page(&heading, &teller),
        })?;
    }
    if summary.interrupted {
        Err(Failure::Interrupted)
    } else {
        Ok(())
    }
}

fn outputs(args: &WhyArgs) -> impl Iterator<Item = &Path> {
    [&args.html, &args.json, &args.csv]
        .into_iter()
        .filter_map(|p| p.as_deref())
}

/// No two outputs may go to the same place, and none over the scenario.
fn separate(args: &WhyArgs) -> Result<(), Failure> {
    let paths: Vec<&Path> = outputs(args).collect();
    super::scrimmage::apart(&paths, args.matchup.file.as_deref())
}
