//! `scrimmage`: many possessions, their figures, and the files asked for.

use std::io::{self, IsTerminal};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressStyle};
use lanelight::floor::{Keep, play};
use lanelight::offence::check::nearest_word;
use lanelight::report::files::{Output, Unwritten, is_screen};
use lanelight::report::sheets::Rows;
use lanelight::report::track::{self, Form};
use lanelight::report::{Heading, json, page, sheets};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Row, Scrimmage, Until, measures};

use super::{choose, show, warn};
use crate::{Failure, ScrimmageArgs};

/// Possessions when nothing else is asked for.
const USUAL: u64 = 500;
/// Most possessions of a run that goes on until an interval is narrow enough.
const AT_MOST: u64 = 20_000;
/// Most tracks written at once.
const MOST_TRACKS: usize = 1000;

/// Plays, shows the page, and writes the files.
pub fn scrimmage(args: &ScrimmageArgs) -> Result<(), Failure> {
    let until = args.until.as_deref().map(until).transpose()?;
    let plan = Scrimmage {
        first_seed: args.seed.unwrap_or(1),
        possessions: args
            .possessions
            .unwrap_or(if until.is_some() { AT_MOST } else { USUAL }),
        threads: args.threads.map_or(0, usize::from),
        until,
    };
    if args.track_seeds.len() > MOST_TRACKS {
        return Err(Failure::Wrong(format!(
            "at most {MOST_TRACKS} tracks at once"
        )));
    }
    separate(args)?;
    let (scenario, tweaks) = choose::scenario(&args.matchup)?;
    plan.check()
        .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    warn(&scenario.warnings);

    // Whatever cannot be written is to be known before anything is played.
    let start = |path: &Option<PathBuf>| path.as_deref().map(Output::start).transpose();
    let (json_out, csv_out) = (start(&args.summary_json)?, start(&args.summary_csv)?);
    let mut rows = match &args.rows {
        None => None,
        Some(path) => {
            let sheet = Rows::start(Output::start(path)?);
            Some((path.as_path(), sheet.map_err(|e| unwritten(path, e))?))
        }
    };

    let stop = stop_on_interrupt();
    let bar = bar(plan.possessions);
    let mut broken = None;
    let mut each = |row: &Row| {
        let Some((path, sheet)) = &mut rows else {
            return true;
        };
        let added = sheet.add(row);
        broken = added.err().map(|e| unwritten(path, e));
        broken.is_none()
    };
    let played = plan.run(&scenario, &|done| bar.set_position(done), &mut each, &stop);
    bar.finish_and_clear();
    let results = played.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    if let Some(error) = broken {
        return Err(error.into());
    }

    let heading = Heading::of(&scenario, &tweaks);
    if let Some((path, sheet)) = rows {
        sheet.finish().map_err(|e| unwritten(path, e))?.finish()?;
    }
    if let Some(out) = csv_out {
        out.fill(|out| sheets::summary(out, &heading, &results))?;
    }
    if let Some(out) = json_out {
        out.fill(|out| json::summary(out, &heading, &results))?;
    }
    if let Some(folder) = args.tracks.as_deref().filter(|_| !results.interrupted) {
        tracks(args, &scenario, folder, plan.first_seed)?;
    }
    if !outputs(args).any(is_screen) {
        show(&page::page(&heading, &results, scenario.court.units))?;
    }
    if results.interrupted {
        Err(Failure::Interrupted)
    } else {
        Ok(())
    }
}

fn unwritten(path: &Path, error: io::Error) -> Unwritten {
    Unwritten {
        path: path.to_path_buf(),
        error,
    }
}

fn outputs(args: &ScrimmageArgs) -> impl Iterator<Item = &Path> {
    [&args.summary_json, &args.summary_csv, &args.rows]
        .into_iter()
        .filter_map(|p| p.as_deref())
}

/// No two outputs may go to the same place, and none over the scenario.
fn separate(args: &ScrimmageArgs) -> Result<(), Failure> {
    let paths: Vec<&Path> = outputs(args).collect();
    for (i, path) in paths.iter().enumerate() {
        if paths[..i].contains(path) {
            let place = path.display();
            return Err(Failure::Wrong(format!(
                "two files cannot both go to {place}"
            )));
        }
        let real = path.canonicalize().ok();
        let input = args
            .matchup
            .file
            .as_ref()
            .and_then(|f| f.canonicalize().ok());
        if real.is_some() && real == input {
            let place = path.display();
            return Err(Failure::Wrong(format!(
                "{place} is the scenario that is to be read"
            )));
        }
    }
    Ok(())
}

/// "points:0.05".
fn until(text: &str) -> Result<Until, Failure> {
    let wrong = |said: String| Failure::Wrong(format!("--until {text}: {said}"));
    let (name, width) = text
        .split_once(':')
        .ok_or_else(|| wrong("expected a figure and a width, as points:0.05".into()))?;
    let half_width: f64 = width
        .parse()
        .ok()
        .filter(|w: &f64| w.is_finite() && *w > 0.0)
        .ok_or_else(|| wrong(format!("“{width}” is no width above nought")))?;
    let list = measures();
    if list.iter().all(|m| m.name != name) {
        let near = nearest_word(name, list.iter().map(|m| m.name.as_str()));
        let near = near.map_or(String::new(), |n| format!("\n  nearest: {n}"));
        return Err(wrong(format!("there is no figure “{name}”{near}")));
    }
    Ok(Until {
        measure: name.to_string(),
        half_width,
    })
}

fn tracks(
    args: &ScrimmageArgs,
    scenario: &Scenario,
    folder: &Path,
    first: u64,
) -> Result<(), Failure> {
    std::fs::create_dir_all(folder).map_err(|e| unwritten(folder, e))?;
    let seeds = if args.track_seeds.is_empty() {
        vec![first]
    } else {
        args.track_seeds.clone()
    };
    let (form, ending) = match args.track_jsonl {
        true => (Form::JsonLines, "jsonl"),
        false => (Form::Csv, "csv"),
    };
    for seed in seeds {
        let possession = play(scenario, seed, Keep::ALL);
        let path = folder.join(format!("seed-{seed}.{ending}"));
        Output::whole(&path, |out| track::write(out, &possession, form))?;
    }
    Ok(())
}

/// Set by the first Ctrl-C; the second ends at once.
pub(super) fn stop_on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let flag = Arc::clone(&stop);
    // Without a handler Ctrl-C ends the program as usual, and no half file is left.
    let _ = ctrlc::set_handler(move || {
        if flag.swap(true, Ordering::Relaxed) {
            std::process::exit(130);
        }
    });
    stop
}

/// A bar on a terminal, nothing elsewhere.
pub(super) fn bar(possessions: u64) -> ProgressBar {
    if !io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(possessions);
    if let Ok(style) =
        ProgressStyle::with_template("{bar:40} {pos} of {len} possessions, {eta} to go")
    {
        bar.set_style(style);
    }
    bar
}
