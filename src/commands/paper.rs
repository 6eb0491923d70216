//! `paper`: everything to hand out, in one go: the practice sheet, rule cards, shell positions, a
//! page to share, a moving picture and a picture of one moment.

use std::fs;
use std::io::{self, IsTerminal, Write};
use std::path::PathBuf;
use std::sync::atomic::Ordering;

use clap::{Args, ValueEnum};
use indicatif::{ProgressBar, ProgressStyle};
use lanelight::defence::Defence;
use lanelight::draw::cards::{Card, cards};
use lanelight::draw::film::Film;
use lanelight::draw::light::{Lamp, beam, field, threads};
use lanelight::draw::phase::{Phase, diagram, frame_at};
use lanelight::draw::print::{self, Unprintable};
use lanelight::draw::scene::scene_of;
use lanelight::draw::sheet::handout::{card_pages, shell_pages};
use lanelight::draw::sheet::{Paper, Practice, Wish};
use lanelight::draw::svg::{Look, picture};
use lanelight::draw::{Item, page};
use lanelight::floor::{Keep, play};
use lanelight::possession::Possession;
use lanelight::report::files::{Output, Unwritten};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{Scenario, read_defence};
use lanelight::why::{Summary, Why, rivals};

use super::scrimmage::{bar, stop_on_interrupt};
use super::{choose, show, warn};
use crate::{Failure, Matchup};

/// Pixels across.
const PICTURE_WIDE: u32 = 1400;
const FILM_WIDE: u16 = 480;
/// Seconds that a diagram shows where nothing else is said.
const PHASE: f64 = 4.0;
/// Points of the light in a picture are so far apart, metres.
const GRAIN: f64 = 0.25;

/// One thing of the pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub enum Piece {
    /// practice_sheet.pdf: what the scrimmage shows, looks to rehearse, a shell drill, a time plan.
    Sheet,
    /// rule_cards.pdf: for every rule of the offence what each of the five does.
    Cards,
    /// shell.pdf: where the defenders stand, for this defence and every one that ships.
    Shell,
    /// possession.html: a possession to watch on a phone, with the cards and a quiz.
    Page,
    /// possession.gif and possession.png: the same possession as a moving picture (GIF, APNG).
    Film,
    /// moment.svg and moment.png: the moment at which most was left open, with the light.
    Moment,
    /// phase.svg, phase.png and phase.pdf: a part of the possession as a diagram (see --from).
    Phase,
}

/// Paper sizes by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Size {
    A4,
    Letter,
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
    /// Minutes of the practice.
    #[arg(long, value_name = "N", default_value_t = 60,
          value_parser = clap::value_parser!(u32).range(5..=300))]
    minutes: u32,
    /// The date as it is to stand on the sheet [default: a line to write on].
    #[arg(long, value_name = "TEXT", default_value = "")]
    date: String,
    /// Paper size.
    #[arg(long, value_enum, default_value = "a4")]
    size: Size,
    /// Which possession is shown moving: the same seed is always the same possession.
    #[arg(long, value_name = "S", default_value_t = 1)]
    seed: u64,
    /// The diagram begins at this time of the possession, seconds [default: 4 s before its end].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    from: Option<f64>,
    /// The diagram ends at this time, seconds [default: 4 s after it begins].
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    until: Option<f64>,
    /// Possessions behind the sheet's figures.
    #[arg(long, value_name = "N", default_value_t = 200)]
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

/// Plays what is needed and writes the pack.
pub fn paper(args: &PaperArgs) -> Result<(), Failure> {
    let (scenario, _) = choose::scenario(&args.matchup)?;
    let plan = Why {
        first_seed: 1,
        possessions: args.possessions,
        threads: args.threads.map_or(0, usize::from),
    };
    plan.scrimmage()
        .check()
        .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    warn(&scenario.warnings);
    fs::create_dir_all(&args.to).map_err(|error| Unwritten {
        path: args.to.clone(),
        error,
    })?;
    let mut pieces = if args.only.is_empty() {
        Piece::value_variants().to_vec()
    } else {
        args.only.clone()
    };
    pieces.sort_unstable();
    pieces.dedup();

    let stop = stop_on_interrupt();
    let figures = pieces
        .iter()
        .any(|p| matches!(p, Piece::Sheet | Piece::Moment));
    let mut summary = None;
    if figures {
        let bar = bar(plan.possessions);
        let read = plan.sheets(&scenario, &|done| bar.set_position(done), &stop);
        bar.finish_and_clear();
        let sheets = read.map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
        let rivals = rivals(&scenario);
        let all = Summary::of(&sheets, plan.possessions, &scenario.offence, &rivals);
        if all.interrupted {
            return Err(Failure::Interrupted);
        }
        summary = Some(all);
    }
    let mut packer = Packer {
        args,
        scenario: &scenario,
        summary,
        cards: None,
        possession: None,
        written: Vec::new(),
    };
    let steps = steps(pieces.len() as u64);
    for piece in pieces {
        if stop.load(Ordering::Relaxed) {
            steps.finish_and_clear();
            return Err(Failure::Interrupted);
        }
        steps.set_message(file_of(piece));
        packer.write(piece)?;
        steps.inc(1);
    }
    steps.finish_and_clear();
    show(&packer.written.join(""))?;
    Ok(())
}

fn file_of(piece: Piece) -> &'static str {
    match piece {
        Piece::Sheet => "practice_sheet.pdf",
        Piece::Cards => "rule_cards.pdf",
        Piece::Shell => "shell.pdf",
        Piece::Page => "possession.html",
        Piece::Film => "possession.gif",
        Piece::Moment => "moment.svg",
        Piece::Phase => "phase.svg",
    }
}

fn steps(count: u64) -> ProgressBar {
    if !io::stderr().is_terminal() {
        return ProgressBar::hidden();
    }
    let bar = ProgressBar::new(count);
    if let Ok(style) = ProgressStyle::with_template("{bar:40} {pos} of {len} files, now {msg}") {
        bar.set_style(style);
    }
    bar.tick();
    bar
}

/// A picture that cannot be made is a fault of this program or of its limits; said as such.
fn unprintable(error: Unprintable) -> Failure {
    Failure::Wrong(error.to_string())
}

/// Makes each piece; what two of them need is made once.
struct Packer<'a> {
    args: &'a PaperArgs,
    scenario: &'a Scenario,
    summary: Option<Summary>,
    cards: Option<Vec<Card>>,
    possession: Option<Possession>,
    written: Vec<String>,
}

impl Packer<'_> {
    fn write(&mut self, piece: Piece) -> Result<(), Failure> {
        let paper = match self.args.size {
            Size::A4 => Paper::A4,
            Size::Letter => Paper::Letter,
        };
        let scenario = self.scenario;
        let name = file_of(piece);
        let pdf = |title: &str, pages: &[String]| print::pdf(title, pages).map_err(unprintable);
        match piece {
            Piece::Sheet => {
                let Some(summary) = &self.summary else {
                    return Ok(());
                };
                let wish = Wish {
                    date: self.args.date.clone(),
                    minutes: self.args.minutes,
                };
                let practice = Practice::of(scenario, summary, &wish);
                let (pages, _) = practice.pages(scenario, summary, paper);
                let bytes = pdf("Practice sheet", &pages)?;
                self.put(name, &bytes)
            }
            Piece::Cards => {
                let pages = card_pages(scenario, self.cards(), paper);
                let bytes = pdf("Rule cards", &pages)?;
                self.put(name, &bytes)
            }
            Piece::Shell => {
                let pages = shell_pages(scenario, &defences(scenario), paper);
                let bytes = pdf("Shell positions", &pages)?;
                self.put(name, &bytes)
            }
            Piece::Page => {
                self.possession();
                self.cards();
                let (Some(possession), Some(cards)) = (&self.possession, &self.cards) else {
                    return Ok(());
                };
                let text = page::page(scenario, possession, cards);
                self.put(name, text.as_bytes())
            }
            Piece::Film => {
                let film =
                    Film::of(&scenario.court, self.possession(), FILM_WIDE).map_err(unprintable)?;
                self.put(name, &film.gif().map_err(unprintable)?)?;
                self.put("possession.png", &film.apng().map_err(unprintable)?)
            }
            Piece::Moment => {
                let Some(svg) = self.moment() else {
                    return Ok(());
                };
                self.put(name, svg.as_bytes())?;
                let bytes = print::png(&svg, PICTURE_WIDE).map_err(unprintable)?;
                self.put("moment.png", &bytes)
            }
            Piece::Phase => {
                let svg = self.phase()?;
                self.put(name, svg.as_bytes())?;
                let bytes = print::png(&svg, PICTURE_WIDE).map_err(unprintable)?;
                self.put("phase.png", &bytes)?;
                let bytes = pdf("A phase of a possession", &[svg])?;
                self.put("phase.pdf", &bytes)
            }
        }
    }

    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), Failure> {
        let path = self.args.to.join(name);
        Output::whole(&path, |out| out.write_all(bytes))?;
        let line = format!("{} ({} kB)\n", path.display(), bytes.len().div_ceil(1000));
        self.written.push(lanelight::report::clean::lines(&line));
        Ok(())
    }

    fn cards(&mut self) -> &[Card] {
        let scenario = self.scenario;
        self.cards.get_or_insert_with(|| cards(scenario))
    }

    fn possession(&mut self) -> &Possession {
        let (scenario, seed) = (self.scenario, self.args.seed);
        self.possession
            .get_or_insert_with(|| play(scenario, seed, Keep::ALL))
    }

    /// A part of the possession as a diagram.
    fn phase(&mut self) -> Result<String, Failure> {
        let (from, until) = (self.args.from, self.args.until);
        let scenario = self.scenario;
        let possession = self.possession();
        let end = possession.duration;
        let from = from.unwrap_or_else(|| (until.unwrap_or(end) - PHASE).max(0.0));
        let until = until.unwrap_or(from + PHASE).min(end);
        if from >= until {
            return Err(Failure::Wrong(format!(
                "a diagram from {from} s until {until} s shows nothing: this possession lasts \
                 {end:.1} s"
            )));
        }
        let phase = Phase::between(from, until);
        let (track, told) = (&possession.track, &possession.timeline);
        let scene = diagram(&scenario.court, track, told, &phase)
            .ok_or_else(|| Failure::Wrong("this possession has no track".to_string()))?;
        let says = format!("From {from:.1} s until {until:.1} s");
        Ok(picture(&scene, &Look::PAPER).file(&says))
    }

    /// The moment at which a look that was left or never taken added most.
    fn moment(&self) -> Option<String> {
        let summary = self.summary.as_ref()?;
        let left = summary.left.iter().filter_map(|l| l.light.example);
        let unused = summary.unused.iter().filter_map(|l| l.example);
        let (seed, time) = left.chain(unused).next()?;
        let possession = play(self.scenario, seed, Keep::ALL);
        let near = |m: &&lanelight::possession::Moment| (m.time - time).abs();
        let moment = possession
            .moments
            .iter()
            .min_by(|a, b| near(a).total_cmp(&near(b)))?;
        let at = frame_at(&possession.track, moment.time);
        let frame = possession.track.get(at)?;
        let lamp = Lamp::new(self.scenario);
        let state = lamp.state(&possession.track, at)?;
        let holder = usize::from(moment.holder).checked_sub(1)?;
        let mut scene = scene_of(&self.scenario.court, frame);
        scene.add(Item::Light(field(&lamp.cast, &state, holder, GRAIN)));
        scene.add(beam(&lamp.cast, &state, holder));
        for thread in threads(frame, moment) {
            scene.add(thread);
        }
        let says = format!("Possession {seed} at {:.1} s", moment.time);
        Some(picture(&scene, &Look::PAPER).file(&says))
    }
}

/// The scenario's defence, then every one that ships.
fn defences(scenario: &Scenario) -> Vec<Defence> {
    let mut all = vec![scenario.defence.clone()];
    for file in shipped::all(Kind::Defence) {
        if let Ok(read) = read_defence(file.text, file.word)
            && all.iter().all(|d| d.name != read.value.name)
        {
            all.push(read.value);
        }
    }
    all
}
