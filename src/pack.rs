//! Everything to hand out, written into a folder piece by piece: the practice sheet, rule cards,
//! shell positions, a page for the phone, a moving picture, pictures of a moment and of a phase.
//! The command `paper` and the window's drawer order the same pack.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use clap::ValueEnum;
use rayon::prelude::*;

use crate::clean::cut;
use crate::defence::Defence;
use crate::draw::cards::{Card, cards};
use crate::draw::film::Film;
use crate::draw::glow::{LOOKED_THROUGH, glow, light_up};
pub use crate::draw::light::GRAIN;
use crate::draw::light::Replay;
use crate::draw::phase::{Phase, diagram};
use crate::draw::print::{self, Unprintable};
use crate::draw::sheet::handout::{card_pages, diagram_page, shell_pages};
use crate::draw::sheet::positions::{overview_page, place_pages};
use crate::draw::sheet::scout::Scouted;
use crate::draw::sheet::{Paper, Practice};
use crate::draw::svg::{Look, picture};
use crate::draw::text::LONGEST;
use crate::draw::{Scene, page};
use crate::report::files::{Output, Unwritten};
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{Scenario, cannot_meet, read_defence};
use crate::why::{Summary, Why, rivals};

/// Pixels across.
const PICTURE_WIDE: u32 = 1400;
const FILM_WIDE: u16 = 480;
/// Seconds that a diagram shows where nothing else is said.
const PHASE: f64 = 4.0;
/// Possessions behind the sheet's figures when nothing is said.
pub const POSSESSIONS: u64 = 200;

/// One thing of the pack.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, ValueEnum)]
pub enum Piece {
    /// practice_sheet.pdf: what was found, looks to rehearse, a shell drill, a time plan.
    Sheet,
    /// rule_cards.pdf: all rules on a page, for every rule what each of the five does, and the same by place.
    Cards,
    /// shell.pdf: where the defenders stand and why, a scouting page of their defence, and where the others that ship stand.
    Shell,
    /// possession.html: a possession to watch on a phone, with the cards and a quiz.
    Page,
    /// possession.gif and possession.png: the same possession as a moving picture (GIF, APNG).
    Film,
    /// moment.svg and moment.png: a moment with the light: see --at.
    Moment,
    /// phase.svg, phase.png and phase.pdf: a part of the possession as a diagram (see --from).
    Phase,
}

impl Piece {
    /// Every piece, in the order in which they are made.
    pub const ALL: [Piece; 7] = [
        Piece::Sheet,
        Piece::Cards,
        Piece::Shell,
        Piece::Page,
        Piece::Film,
        Piece::Moment,
        Piece::Phase,
    ];

    /// What a coach calls it.
    pub const fn word(self) -> &'static str {
        match self {
            Piece::Sheet => "practice sheet",
            Piece::Cards => "rule cards",
            Piece::Shell => "shell positions",
            Piece::Page => "phone page",
            Piece::Film => "moving picture",
            Piece::Moment => "picture of the moment",
            Piece::Phase => "diagram of a phase",
        }
    }

    /// Its files.
    pub const fn files(self) -> &'static [&'static str] {
        match self {
            Piece::Sheet => &["practice_sheet.pdf"],
            Piece::Cards => &["rule_cards.pdf"],
            Piece::Shell => &["shell.pdf"],
            Piece::Page => &["possession.html"],
            Piece::Film => &["possession.gif", "possession.png"],
            Piece::Moment => &["moment.svg", "moment.png"],
            Piece::Phase => &["phase.svg", "phase.png", "phase.pdf"],
        }
    }
}

/// Which moment is pictured.
#[derive(Clone, Debug, PartialEq)]
pub enum When {
    /// Where a look that was left or never taken added most, of all possessions played.
    MostLeft,
    /// This time of the possession, seconds.
    At(f64),
    /// A scene as it is, and what it shows.
    Drawn(Box<Scene>, String),
}

/// What is wanted. The texts of the sheet are the scenario's own (`scenario.practice`).
#[derive(Clone, Debug)]
pub struct Order {
    /// The folder; made if it is not there.
    pub to: PathBuf,
    /// What is made, in this order.
    pub pieces: Vec<Piece>,
    /// Paper size of everything printed.
    pub paper: Paper,
    /// Does every card show the ball on the left, too?
    pub mirrored: bool,
    /// The possession that is shown.
    pub seed: u64,
    /// Which moment is pictured.
    pub moment: When,
    /// The diagram's phase, seconds.
    pub from: Option<f64>,
    /// Where the phase ends, seconds since the possession began.
    pub until: Option<f64>,
    /// Possessions behind the sheet's figures.
    pub possessions: u64,
    /// Threads to play on, 0 for all there are; the files are the same for any number.
    pub threads: usize,
}

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stage {
    /// So many possessions have been played.
    Played(u64),
    /// This piece is made, or the first comes now; so many are done.
    Makes(Piece, usize),
}

/// A file of the pack, as it was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// Where it was written.
    pub path: PathBuf,
    /// Its size, bytes.
    pub bytes: usize,
}

/// Why a pack is not complete. What was written before stays.
#[derive(Debug, thiserror::Error)]
pub enum Unmade {
    /// The order makes no sense, or there is nothing to show; why.
    #[error("{0}")]
    Wrong(String),
    /// A file could not be written.
    #[error("{0}")]
    Unwritten(#[from] Unwritten),
    /// Stopped from outside.
    #[error("stopped")]
    Stopped,
}

impl From<Unprintable> for Unmade {
    fn from(error: Unprintable) -> Self {
        Unmade::Wrong(error.to_string())
    }
}

/// Plays what is needed and writes the pieces in the order of [`Piece::ALL`].
///
/// # Errors
/// If something asked for makes no sense or cannot be written, or if `stop` was set.
pub fn make(
    scenario: &Scenario,
    order: &Order,
    progress: &(dyn Fn(Stage) + Sync),
    stop: &AtomicBool,
) -> Result<Vec<Written>, Unmade> {
    let plan = Why {
        first_seed: 1,
        possessions: order.possessions,
        threads: order.threads,
    };
    let wrong = |said: &dyn ToString| Unmade::Wrong(said.to_string());
    plan.scrimmage().check().map_err(|unfit| wrong(&unfit))?;
    let mut pieces = order.pieces.clone();
    pieces.sort_unstable();
    pieces.dedup();
    fs::create_dir_all(&order.to).map_err(|error| Unwritten {
        path: order.to.clone(),
        error,
    })?;
    let figures = |p: &Piece| match p {
        Piece::Sheet | Piece::Shell => true,
        Piece::Moment => order.moment == When::MostLeft,
        _ => false,
    };
    let summary = if pieces.iter().any(figures) {
        let sheets = plan
            .sheets(scenario, &|done| progress(Stage::Played(done)), stop)
            .map_err(|unfit| wrong(&unfit))?;
        let rivals = rivals(scenario);
        let all = Summary::of(&sheets, plan.possessions, &scenario.offence, &rivals);
        if all.interrupted {
            return Err(Unmade::Stopped);
        }
        Some(all)
    } else {
        None
    };
    // What several pieces need is made once, before any of them.
    let needs = |list: [Piece; 3]| pieces.iter().any(|p| list.contains(p));
    progress(Stage::Makes(
        pieces.first().copied().unwrap_or(Piece::Sheet),
        0,
    ));
    let (mut cards, (shown, replays)) = rayon::join(
        || match needs([Piece::Sheet, Piece::Cards, Piece::Page]) {
            true => cards(scenario),
            false => Vec::new(),
        },
        || {
            let shown = needs([Piece::Page, Piece::Film, Piece::Phase]);
            let many = needs([Piece::Sheet, Piece::Cards, Piece::Shell]);
            let seeds = plan.first_seed..plan.first_seed.saturating_add(LOOKED_THROUGH);
            (
                shown.then(|| Replay::one(scenario, order.seed)),
                if many {
                    Replay::many(scenario, seeds)
                } else {
                    Vec::new()
                },
            )
        },
    );
    light_up(&mut cards, &glow(scenario.offence.rules.len(), &replays));
    let packer = Packer {
        order,
        scenario,
        summary,
        cards,
        shown,
        replays,
    };
    let done = AtomicUsize::new(0);
    let made = pieces.into_par_iter().map(|piece| {
        if stop.load(Ordering::Relaxed) {
            return Err(Unmade::Stopped);
        }
        let files = packer.files(piece)?;
        progress(Stage::Makes(
            piece,
            done.fetch_add(1, Ordering::Relaxed) + 1,
        ));
        Ok((piece, files))
    });
    let made: Vec<Result<(Piece, Vec<Vec<u8>>), Unmade>> = made.collect();
    let mut written = Vec::new();
    for piece in made {
        let (piece, files) = piece?;
        for (name, bytes) in piece.files().iter().zip(files) {
            written.push(put(&order.to, name, &bytes)?);
        }
    }
    Ok(written)
}

fn put(folder: &Path, name: &str, bytes: &[u8]) -> Result<Written, Unmade> {
    let path = folder.join(name);
    Output::whole(&path, |out| out.write_all(bytes))?;
    let bytes = bytes.len();
    Ok(Written { path, bytes })
}

/// What the pieces are made of.
struct Packer<'a> {
    order: &'a Order,
    scenario: &'a Scenario,
    summary: Option<Summary>,
    cards: Vec<Card>,
    /// The possession that is shown.
    shown: Option<Replay>,
    /// Many, for examples and the light after rules.
    replays: Vec<Replay>,
}

impl Packer<'_> {
    /// The contents of a piece's files; none where there is nothing to show.
    fn files(&self, piece: Piece) -> Result<Vec<Vec<u8>>, Unmade> {
        let (scenario, cards) = (self.scenario, &self.cards);
        let paper = self.order.paper;
        Ok(match piece {
            Piece::Sheet => {
                let Some(summary) = &self.summary else {
                    return Ok(Vec::new());
                };
                let practice = Practice::shown_by(scenario, summary, cards, &self.replays);
                let (pages, _) = practice.pages(scenario, summary, paper);
                vec![print::pdf("Practice sheet", &pages)?]
            }
            Piece::Cards => {
                let mut pages = overview_page(scenario, cards, paper);
                pages.extend(card_pages(scenario, cards, paper, self.order.mirrored));
                pages.extend(place_pages(scenario, paper));
                vec![print::pdf("Rule cards", &pages)?]
            }
            Piece::Shell => {
                let of = |summary| Scouted::of(scenario, summary, &self.replays);
                let scouted = self.summary.as_ref().map(of);
                let pages = shell_pages(scenario, scouted.as_ref(), &others(scenario), paper);
                vec![print::pdf("Shell positions", &pages)?]
            }
            Piece::Page => {
                let text = page::page(scenario, self.shown()?, cards);
                vec![text.into_bytes()]
            }
            Piece::Film => {
                let title = cut(&scenario.name, LONGEST);
                let film = Film::of(self.shown()?, &title, FILM_WIDE)?;
                let (gif, apng) = rayon::join(|| film.gif(), || film.apng());
                vec![gif?, apng?]
            }
            Piece::Moment => {
                let Some(svg) = self.moment()? else {
                    return Ok(Vec::new());
                };
                let png = print::png(&svg, PICTURE_WIDE)?;
                vec![svg.into_bytes(), png]
            }
            Piece::Phase => {
                let (scene, says) = self.phase()?;
                let svg = picture(&scene, &Look::PAPER).file(&says);
                let png = print::png(&svg, PICTURE_WIDE)?;
                let pages = diagram_page(scenario, &scene, &says, paper);
                vec![svg.into_bytes(), png, print::pdf("Diagram", &pages)?]
            }
        })
    }

    fn shown(&self) -> Result<&Replay, Unmade> {
        let none = || Unmade::Wrong("no possession was played".to_string());
        self.shown.as_ref().ok_or_else(none)
    }

    /// A part of the possession as a diagram.
    fn phase(&self) -> Result<(Scene, String), Unmade> {
        let (from, until) = (self.order.from, self.order.until);
        let scenario = self.scenario;
        let possession = &self.shown()?.possession;
        let end = possession.duration;
        let from = from.unwrap_or_else(|| (until.unwrap_or(end) - PHASE).max(0.0));
        let until = until.unwrap_or(from + PHASE).min(end);
        if from >= until {
            return Err(Unmade::Wrong(format!(
                "a diagram from {from} s until {until} s shows nothing: this possession lasts \
                 {end:.1} s"
            )));
        }
        let phase = Phase::between(from, until);
        let (track, told) = (&possession.track, &possession.timeline);
        let scene = diagram(&scenario.court, track, told, &phase)
            .ok_or_else(|| Unmade::Wrong("this possession has no track".to_string()))?;
        let seed = possession.seed;
        let says = format!("Possession {seed}, from {from:.1} s until {until:.1} s");
        Ok((scene, says))
    }

    /// The picture of the moment that is asked for; none where nothing was left.
    fn moment(&self) -> Result<Option<String>, Unmade> {
        let (seed, time) = match &self.order.moment {
            When::Drawn(scene, says) => {
                return Ok(Some(picture(scene, &Look::PAPER).file(says)));
            }
            When::At(time) => (self.order.seed, *time),
            When::MostLeft => {
                let Some(summary) = &self.summary else {
                    return Ok(None);
                };
                let left = summary.left.iter().filter_map(|l| l.light.example);
                let unused = summary.unused.iter().filter_map(|l| l.example);
                match left.chain(unused).next() {
                    Some(example) => example,
                    None => return Ok(None),
                }
            }
        };
        let replay = Replay::one(self.scenario, seed);
        let possession = &replay.possession;
        if time > possession.duration {
            return Err(Unmade::Wrong(format!(
                "there is no moment at {time} s: this possession lasts {:.1} s",
                possession.duration
            )));
        }
        // The decision instant nearest to the time, with the light as the holder had it.
        Ok(replay.nearest(time).and_then(|near| {
            let time = possession.moments.get(near)?.time;
            let says = format!("Possession {seed} at {time:.1} s");
            Some(picture(&replay.scene(near)?, &Look::PAPER).file(&says))
        }))
    }
}

/// Every defence that ships, but for the scenario's own.
fn others(scenario: &Scenario) -> Vec<Defence> {
    let mut all: Vec<Defence> = Vec::new();
    for file in shipped::all(Kind::Defence) {
        if let Ok(read) = read_defence(file.text, file.word)
            && read.value.name != scenario.defence.name
            && all.iter().all(|d| d.name != read.value.name)
            && cannot_meet(&scenario.offence, &read.value).is_none()
        {
            all.push(read.value);
        }
    }
    all
}
