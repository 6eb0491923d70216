//! `search`: the best of many tweaks, by successive elimination on common seeds.

use std::fs;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

use clap::Args;
use lanelight::contest::elimination::Rule;
use lanelight::contest::knobs::Range;
use lanelight::contest::yardstick::SEARCHABLE;
use lanelight::contest::{
    Better, Comparison, Contest, Contrast, Ended, Field, Plan, Search, Source, Variation,
    Yardstick, kept, yardsticks,
};
use lanelight::offence::check::nearest_word;
use lanelight::report::contest_search::{self, Found};
use lanelight::report::files::{Output, is_screen};
use lanelight::scenario::Scenario;
use lanelight::scenario::shipped::{self, Kind};
use std::io::Write;

use super::compare::common;
use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::Failure;

/// Most candidates that are checked against every defence in the end.
const MOST_CHECKED: usize = 5;
/// Longest file that is read as a kept search, bytes: some ten million possessions (invented).
const LONGEST_KEPT: u64 = 256 << 20;

/// What is searched.
#[derive(Args)]
pub struct SearchArgs {
    /// A scenario: a file, or the word of a shipped one. Without it: the demo.
    file: Option<PathBuf>,
    /// Search against this defence: a shipped word (see `ways`) or a file. May be given several
    /// times; the mean over all of them counts [default: the scenario's own].
    #[arg(long, value_name = "DEFENCE")]
    against: Vec<String>,
    /// Tweaks to try: "all" that are shipped and fit, or words and files. May be given several
    /// times, or with commas between.
    #[arg(long, value_name = "TWEAKS", value_delimiter = ',')]
    tweaks: Vec<String>,
    /// A number to try values of, as "patience.hold=1.0..2.0/3" or "flash seconds=1..2/3". May be
    /// given several times.
    #[arg(long, value_name = "NUMBER=LOW..HIGH/VALUES")]
    range: Vec<String>,
    /// Try every pair of these, too.
    #[arg(long)]
    pairs: bool,
    /// The figure to go by.
    #[arg(long, value_name = "FIGURE", default_value = "promised_points")]
    by: String,
    /// Least difference worth telling apart, in the figure's unit.
    #[arg(long, value_name = "WIDTH", default_value_t = 0.05)]
    margin: f64,
    /// How sure the best is to be.
    #[arg(long, value_name = "SHARE", default_value_t = 0.95)]
    confidence: f64,
    /// Possessions at most.
    #[arg(long, value_name = "N", default_value_t = 20_000)]
    budget: u64,
    /// Possessions of each survivor against each defence in the end, on seeds that the search did
    /// not see; 0 for none.
    #[arg(long, value_name = "N", default_value_t = 300)]
    check: u64,
    /// Seed of the first possession; the rest follow on.
    #[arg(long, value_name = "S", default_value_t = 1)]
    seed: u64,
    /// Threads to play on; the figures are the same for any number [default: all that there are].
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    threads: Option<u16>,
    /// Keep the search in this file after every round, and go on from it if it is there.
    #[arg(long, value_name = "FILE")]
    keep: Option<PathBuf>,
    /// Write the outcome as JSON ("-": to the standard output, instead of the page).
    #[arg(long, value_name = "FILE")]
    summary_json: Option<PathBuf>,
}

/// The floor as a source of values.
struct Floor {
    /// Candidate by candidate, in each one variation for each defence.
    variations: Vec<Variation>,
    defences: usize,
    yardstick: Yardstick,
    /// −1 if fewer is better.
    sign: f64,
}

impl Source for Floor {
    fn value(&self, candidate: usize, defence: usize, seed: u64) -> f64 {
        let row = self.variations[candidate * self.defences + defence].row(seed);
        self.sign * self.yardstick.pair(&row).0
    }
}

/// Searches, keeps, and reports.
pub fn search(args: &SearchArgs) -> Result<(), Failure> {
    let (yardstick, better) = yardstick(&args.by)?;
    let base = choose::start(args.file.as_deref())?;
    warn(&base.warnings);
    let defended = defences(args, &base)?;
    let field = field(args, &base)?;
    let rule =
        Rule::new(field.candidates.len(), args.margin, args.confidence).ok_or_else(|| {
            Failure::Wrong(
                "the margin must be above zero, and the confidence above 0.5 and below 1".into(),
            )
        })?;
    if args.seed.checked_add(args.budget).is_none() {
        return Err(Failure::Wrong("not so many seeds are left".into()));
    }
    let mut variations = Vec::new();
    for candidate in &field.candidates {
        for scenario in &defended {
            variations.push(Variation::new(
                &candidate.name,
                Scenario {
                    offence: candidate.offence.clone(),
                    ..scenario.clone()
                },
            ));
        }
    }
    let plan = Plan {
        candidates: field.candidates.len(),
        defences: defended.len(),
        first_seed: args.seed,
        budget: args.budget,
        rule,
    };
    let rest = format!(
        "{} {} {} {} {}",
        args.by,
        args.margin,
        args.confidence,
        args.seed,
        defended.len()
    );
    let fingerprint = kept::fingerprint(&variations, &rest);
    let floor = Floor {
        variations,
        defences: defended.len(),
        yardstick,
        sign: if better == Better::Fewer { -1.0 } else { 1.0 },
    };
    let mut search = take_up(args, &fingerprint, plan, &floor)?;
    let json_out = args
        .summary_json
        .as_deref()
        .map(Output::start)
        .transpose()?;

    let threads = args.threads.map_or(0, usize::from);
    let pool = rayon::ThreadPoolBuilder::new()
        .num_threads(threads)
        .build()
        .map_err(|e| Failure::Wrong(format!("the threads could not be started: {e}")))?;
    let stop = stop_on_interrupt();
    let bar = bar(args.budget);
    let mut broken = None;
    let mut keep = |search: &Search| {
        let Some(path) = &args.keep else {
            return true;
        };
        let text = kept::text(search, &fingerprint);
        broken = Output::whole(path, |out| out.write_all(text.as_bytes())).err();
        broken.is_none()
    };
    let ended = search.run(&floor, &pool, &|n| bar.set_position(n), &mut keep, &stop);
    bar.finish_and_clear();
    if let Some(error) = broken {
        return Err(error.into());
    }

    let checked: Vec<usize> = search
        .ranking()
        .iter()
        .filter(|s| s.alive && s.candidate != 0)
        .map(|s| s.candidate)
        .take(MOST_CHECKED)
        .collect();
    let checks = match ended {
        Ended::Interrupted => Vec::new(),
        _ => checks(args, &base, &field, &defended, &checked, &search, &stop)?,
    };
    let interrupted = ended == Ended::Interrupted || checks.iter().any(|c| c.2.interrupted);
    let found = Found {
        common: common(&base),
        candidates: field.candidates.iter().map(|c| c.name.clone()).collect(),
        defences: defended.iter().map(|s| s.defence.name.clone()).collect(),
        left_out: &field.left_out,
        search: &search,
        ended,
        yardstick: &floor.yardstick,
        sign: floor.sign,
        confidence: args.confidence,
        checks,
        checked,
    };
    if let Some(out) = json_out {
        out.fill(|out| contest_search::json(out, &found))?;
    }
    if !args.summary_json.as_deref().is_some_and(is_screen) {
        show(&contest_search::page(&found, base.court.units))?;
    }
    if interrupted {
        Err(Failure::Interrupted)
    } else {
        Ok(())
    }
}

fn yardstick(name: &str) -> Result<(Yardstick, Better), Failure> {
    let known = SEARCHABLE.iter().find(|(n, _)| *n == name);
    let found = yardsticks().into_iter().find(|y| y.name == name);
    if let (Some((_, better)), Some(yardstick)) = (known, found) {
        return Ok((yardstick, *better));
    }
    let names: Vec<&str> = SEARCHABLE.iter().map(|(n, _)| *n).collect();
    let near = nearest_word(name, names.iter().copied());
    let near = near.map_or(String::new(), |n| format!("\n  nearest: {n}"));
    Err(Failure::Wrong(format!(
        "--by {name}: a search goes by a figure that counts once in every possession\n  \
         expected: {}{near}",
        names.join(", ")
    )))
}

/// The scenario against each defence searched against.
fn defences(args: &SearchArgs, base: &Scenario) -> Result<Vec<Scenario>, Failure> {
    if args.against.is_empty() {
        return Ok(vec![base.clone()]);
    }
    let mut list: Vec<Scenario> = Vec::new();
    for mention in &args.against {
        let mut scenario = base.clone();
        choose::defend(&mut scenario, mention)?;
        if list.iter().any(|s| s.defence == scenario.defence) {
            return Err(Failure::Wrong(format!(
                "--against {mention} is named twice"
            )));
        }
        list.push(scenario);
    }
    Ok(list)
}

fn field(args: &SearchArgs, base: &Scenario) -> Result<Field, Failure> {
    let mut tweaks = Vec::new();
    let mut unfit = Vec::new();
    for mention in &args.tweaks {
        if mention == "all" {
            for file in shipped::all(Kind::Tweak) {
                match choose::tweak_for(base, file.word) {
                    Ok((_, read)) => tweaks.push(read.value),
                    Err(Failure::Wrong(said)) => unfit.push((file.word.to_string(), said)),
                    Err(other) => return Err(other),
                }
            }
        } else {
            let (_, read) = choose::tweak_for(base, mention)?;
            warn(&read.warnings);
            tweaks.push(read.value);
        }
    }
    let mut ranges = Vec::new();
    for text in &args.range {
        let range = Range::parse(text);
        ranges.push(range.map_err(|said| Failure::Wrong(format!("--range {text}: {said}")))?);
    }
    if tweaks.is_empty() && ranges.is_empty() && unfit.is_empty() {
        return Err(Failure::Wrong(
            "nothing to search: give --tweaks all, or --range".into(),
        ));
    }
    let mut field =
        Field::new(&base.offence, &tweaks, &ranges, args.pairs).map_err(Failure::Wrong)?;
    field.left_out.splice(0..0, unfit);
    Ok(field)
}

/// The search of the kept file, if it is there and still the same.
fn take_up(
    args: &SearchArgs,
    fingerprint: &str,
    plan: Plan,
    floor: &Floor,
) -> Result<Search, Failure> {
    let Some(path) = args.keep.as_deref().filter(|path| path.exists()) else {
        return Ok(Search::new(plan));
    };
    let wrong = |said: String| Failure::Wrong(format!("--keep {}: {said}", path.display()));
    let is = fs::metadata(path).map_err(|e| wrong(e.to_string()))?;
    if !is.is_file() || is.len() > LONGEST_KEPT {
        return Err(wrong("it is not a kept search".into()));
    }
    let text = fs::read_to_string(path).map_err(|e| wrong(e.to_string()))?;
    let search = kept::read(&text, fingerprint, plan).map_err(|e| wrong(e.to_string()))?;
    // A program that plays otherwise than the one that kept it would mix two games.
    if !search.agrees_with(floor) {
        return Err(wrong(kept::Unkept::Changed.to_string()));
    }
    Ok(search)
}

/// The survivors against every defence, on seeds that the search did not see.
fn checks(
    args: &SearchArgs,
    base: &Scenario,
    field: &Field,
    searched: &[Scenario],
    checked: &[usize],
    search: &Search,
    stop: &AtomicBool,
) -> Result<Vec<(String, bool, Comparison)>, Failure> {
    if args.check == 0 || checked.is_empty() {
        return Ok(Vec::new());
    }
    let mut all: Vec<(bool, Scenario)> = searched.iter().map(|s| (true, s.clone())).collect();
    for file in shipped::all(Kind::Defence) {
        let mut scenario = base.clone();
        if choose::defend(&mut scenario, file.word).is_err() {
            // Fewer than five do not meet a zone.
            continue;
        }
        if all.iter().all(|(_, s)| s.defence != scenario.defence) {
            all.push((false, scenario));
        }
    }
    let plan = Contest {
        first_seed: args.seed.saturating_add(search.seeds()),
        possessions: args.check,
        threads: args.threads.map_or(0, usize::from),
    };
    let contrasts: Vec<Contrast> = (1..=checked.len())
        .map(|changed| Contrast { base: 0, changed })
        .collect();
    let each = args.check.saturating_mul(checked.len() as u64 + 1);
    let bar = bar(each.saturating_mul(all.len() as u64));
    let mut list = Vec::new();
    for (i, (was_searched, scenario)) in all.into_iter().enumerate() {
        let variations: Vec<Variation> = std::iter::once(&0)
            .chain(checked)
            .map(|c| {
                let candidate = &field.candidates[*c];
                let offence = candidate.offence.clone();
                let played = Scenario {
                    offence,
                    ..scenario.clone()
                };
                Variation::new(&candidate.name, played)
            })
            .collect();
        let before = each * i as u64;
        let progress = |n| bar.set_position(before + n);
        let comparison = plan
            .run(&variations, &contrasts, &progress, stop)
            .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
        if comparison.possessions > 0 {
            list.push((scenario.defence.name, was_searched, comparison));
        }
    }
    bar.finish_and_clear();
    Ok(list)
}
