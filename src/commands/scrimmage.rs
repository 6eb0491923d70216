//! `scrimmage`: many possessions, their figures, and the files asked for.

use std::io::{self, IsTerminal};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressStyle};
use lanelight::offence::check::nearest_word;
use lanelight::report::files::{Output, is_screen};
use lanelight::report::track::{self, Form};
use lanelight::report::{Heading, part};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Row, Scrimmage, Until, measures};
use lanelight::sim::{Keep, play};

use super::sheets::{Sheets, paths, unwritten};
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
    let tracks_asked = args.track_seeds.iter().map(Seeds::count);
    let tracks_asked = tracks_asked.fold(0, u64::saturating_add);
    if tracks_asked > MOST_TRACKS as u64 {
        return Err(Failure::Wrong(format!(
            "at most {MOST_TRACKS} tracks at once"
        )));
    }
    apart(&paths(&args.files), args.matchup.file.as_deref())?;
    let (scenario, tweaks) = choose::scenario(&args.matchup)?;
    plan.check()
        .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    warn(&scenario.warnings);

    if let Some(part) = &args.part {
        return play_part(args, &plan, part, &scenario, &tweaks);
    }
    let mut sheets = Sheets::start(&args.files)?;
    let stop = stop_on_interrupt();
    let bar = bar(plan.possessions);
    let mut each = |row: &Row| sheets.add(row);
    let played = plan.run(&scenario, &|done| bar.set_position(done), &mut each, &stop);
    bar.finish_and_clear();
    let results = played.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    sheets.check()?;
    if let Some(folder) = args.tracks.as_deref().filter(|_| !results.interrupted) {
        tracks(args, &scenario, folder, plan.first_seed)?;
    }
    let heading = Heading::of(&scenario, &tweaks);
    sheets.finish(&heading, &results, scenario.court.units)?;
    if results.interrupted {
        Err(Failure::Interrupted)
    } else {
        Ok(())
    }
}

/// "3/8".
fn which_part(text: &str) -> Option<(u32, u32)> {
    let (k, n) = text.split_once('/')?;
    let (k, n) = (k.trim().parse().ok()?, n.trim().parse().ok()?);
    (1..=n).contains(&k).then_some((k, n))
}

/// Plays one part of the plan into its file, whole or not at all.
fn play_part(
    args: &ScrimmageArgs,
    plan: &Scrimmage,
    text: &str,
    scenario: &Scenario,
    tweaks: &[String],
) -> Result<(), Failure> {
    let wrong = |said: &str| Failure::Wrong(format!("--part {text}: {said}"));
    let which = which_part(text).ok_or_else(|| wrong("expected part and parts, as 3/8"))?;
    if u64::from(which.1) > plan.possessions {
        return Err(wrong("there are more parts than possessions"));
    }
    if !paths(&args.files).is_empty() {
        return Err(wrong(
            "figures and rows come of `merge`, once all parts are there",
        ));
    }
    let Some(path) = args.part_file.as_deref() else {
        return Err(wrong("say with --part-file where it goes"));
    };
    apart(&[path], args.matchup.file.as_deref())?;
    let whole = (plan.first_seed, plan.possessions);
    let head = part::Head::new(scenario, Heading::of(scenario, tweaks), whole, which);
    let (first_seed, possessions) = head.seeds();
    let plan = Scrimmage {
        first_seed,
        possessions,
        ..plan.clone()
    };
    let out = Output::start(path)?;
    let mut file = part::Writer::start(out, &head).map_err(|e| unwritten(path, e))?;
    let stop = stop_on_interrupt();
    let bar = bar(possessions);
    let mut broken = None;
    let mut each = |row: &Row| {
        broken = file.add(row).err();
        broken.is_none()
    };
    let played = plan.run(scenario, &|done| bar.set_position(done), &mut each, &stop);
    bar.finish_and_clear();
    let results = played.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    if let Some(error) = broken {
        return Err(unwritten(path, error).into());
    }
    if results.interrupted {
        return Err(Failure::Interrupted);
    }
    file.finish().map_err(|e| unwritten(path, e))?.finish()?;
    if !is_screen(path) {
        let last = first_seed + possessions - 1;
        show(&format!(
            "Part {} of {}: seeds {first_seed} to {last} are in {}.\n",
            which.0,
            which.1,
            path.display()
        ))?;
    }
    Ok(())
}

/// No two outputs may go to the same place, and none over the scenario.
pub(super) fn apart(paths: &[&Path], scenario: Option<&Path>) -> Result<(), Failure> {
    let input = scenario.and_then(|f| f.canonicalize().ok());
    for (i, path) in paths.iter().enumerate() {
        if paths[..i].contains(path) {
            let place = path.display();
            return Err(Failure::Wrong(format!(
                "two files cannot both go to {place}"
            )));
        }
        let real = path.canonicalize().ok();
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

/// Seeds from one to another, as they are asked for: "7" or "1-20".
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Seeds {
    first: u64,
    last: u64,
}

impl Seeds {
    /// How many; not more than can be counted.
    fn count(&self) -> u64 {
        (self.last - self.first).saturating_add(1)
    }
}

impl std::str::FromStr for Seeds {
    type Err = String;
    fn from_str(text: &str) -> Result<Seeds, String> {
        let (first, last) = text.split_once('-').unwrap_or((text, text));
        let seed = |text: &str| text.trim().parse::<u64>().ok();
        match (seed(first), seed(last)) {
            (Some(first), Some(last)) if first <= last => Ok(Seeds { first, last }),
            _ => Err("say a seed, or the first and last as 1-20".to_owned()),
        }
    }
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
        let seeds = args.track_seeds.iter();
        seeds.flat_map(|seeds| seeds.first..=seeds.last).collect()
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
