//! The paper page: what can be handed out of what is on the desk, where it goes, how far it is, and
//! what came of it. The pack itself is the one of the command `paper`.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::Ordering;

use bevy_egui::egui::{Button, DragValue, ProgressBar, RichText, TextEdit, Ui};

use super::bench::word as small;
use super::choice;
use super::desk::Desk;
use super::jobs::Job;
use super::moment;
use super::offence_page::heading;
use super::opener::Opener;
use super::palette::*;
use super::unwritten;
use super::words::paper as words;
use crate::clean;
use crate::court::Units;
use crate::draw::light::field;
use crate::draw::sheet::Paper;
use crate::draw::{Item, Scene};
use crate::pack::{self, GRAIN, Order, POSSESSIONS, Piece, Stage, Unmade, When, Written};
use crate::scenario::Scenario;
use crate::scenario::session::{LEAST_MINUTES, MOST_MINUTES, MOST_NOTES};

/// A piece counts as so many possessions for the bar (ours).
const PIECE: u64 = 60;

type Outcome = Result<Vec<Written>, String>;

/// What the page knows.
#[derive(Default)]
pub struct PaperPage {
    /// The folder as it is written; empty: beside the open file.
    folder: String,
    /// US letter, or A4; `None`: as the court's country has it.
    letter: Option<bool>,
    /// What is being made, and the pieces of it.
    job: Option<(Vec<Piece>, Job<Outcome>)>,
    outcome: Option<Outcome>,
    /// What opens the folder and the files.
    pub opener: Opener,
}

impl PaperPage {
    /// Is something being made?
    pub fn busy(&self) -> bool {
        self.job.is_some()
    }

    /// Is anything being made or opened?
    pub fn at_work(&self) -> bool {
        self.busy() || self.opener.busy()
    }

    /// Looks whether it is done; a sentence if it is.
    pub fn pass(&mut self) -> Option<Result<String, String>> {
        if let Some(told) = self.opener.pass() {
            return Some(told);
        }
        let (_, job) = self.job.as_mut()?;
        let outcome = match job.take() {
            Some(outcome) => outcome,
            None if job.is_over() => Err(words::IT_ENDED_WITHOUT_AN.into()),
            None => return None,
        };
        self.job = None;
        let said = sentence(&outcome);
        let said = if outcome.is_ok() { Ok(said) } else { Err(said) };
        self.outcome = Some(outcome);
        Some(said)
    }

    /// How it ended, if anything was made since the page was opened first.
    pub fn outcome(&self) -> Option<&Result<Vec<Written>, String>> {
        self.outcome.as_ref()
    }

    /// Where the files are to go.
    pub fn write_to(&mut self, folder: &Path) {
        self.folder = folder.display().to_string();
    }
}

fn sentence(outcome: &Outcome) -> String {
    match outcome {
        Ok(files) if files.len() == 1 => words::DONE_ONE_FILE_WAS.into(),
        Ok(files) => words::done_files_were_written(&files.len()),
        Err(said) => words::not_done(&clean::line(said).trim_end_matches('.')),
    }
}

/// Is it US letter? Where courts are marked in feet, it is.
fn letter(desk: &Desk) -> bool {
    let units = desk.recording.scenario.court.units;
    desk.paper.letter.unwrap_or(units == Units::Imperial)
}

/// Beside the open file, or where the program was started.
fn usual(desk: &Desk) -> PathBuf {
    let beside = desk.file.as_deref().and_then(Path::parent);
    beside.unwrap_or(Path::new("")).join("paper")
}

/// Where the files go.
fn folder(desk: &Desk) -> PathBuf {
    match desk.paper.folder.trim() {
        "" => usual(desk),
        own => PathBuf::from(own),
    }
}

/// Shows the page.
pub fn show(ui: &mut Ui, desk: &mut Desk) {
    ui.label(RichText::new(words::FOR_PLAYERS_AND_ASSISTANTS).color(QUIET));
    heading(ui, words::WHERE_IT_GOES);
    ui.horizontal(|ui| {
        let label = ui.label(words::FOLDER);
        let hint = usual(desk).display().to_string();
        let field = TextEdit::singleline(&mut desk.paper.folder)
            .hint_text(hint)
            .desired_width(280.0);
        ui.add(field).labelled_by(label.id);
    });
    let to = folder(desk);
    let to = std::path::absolute(&to).unwrap_or(to);
    let whole = words::the_files_go_to(&to.display());
    ui.label(RichText::new(clean::line(&whole)).color(QUIET).small());
    ui.horizontal(|ui| {
        ui.label(words::PAPER);
        let letter = letter(desk);
        for (is, name) in [(false, "A4"), (true, words::US_LETTER)] {
            if choice::choice(ui, letter == is, name).clicked() {
                desk.paper.letter = Some(is);
            }
        }
    });
    if desk.paper.busy() {
        working(ui, desk);
    } else {
        came(ui, desk);
    }
    heading(ui, words::WHAT_IS_MADE);
    if let Some(pieces) = choice(ui, desk) {
        begin(desk, pieces);
    }
    heading(ui, words::ON_THE_PRACTICE_SHEET);
    texts(ui, desk);
}

/// How far it is, and a way to stop it.
fn working(ui: &mut Ui, desk: &mut Desk) {
    let Some((pieces, job)) = &desk.paper.job else {
        return;
    };
    let total = PIECE * pieces.len() as u64;
    let done = (job.share() * job.of as f32).round() as u64;
    let played = job.of - total;
    let words = if done < played {
        words::PLAYS_THE_POSSESSIONS_BEHIND.to_string()
    } else {
        let at = ((done - played) / PIECE) as usize;
        let piece = pieces.get(at).or(pieces.last());
        words::makes_the(&piece.map_or("files", |p| p.word()))
    };
    ui.add_space(6.0);
    ui.add(ProgressBar::new(job.share()).text(RichText::new(&words).color(INK)));
    ui.label(format!("{words} … {:.0} %", 100.0 * job.share()));
    if ui.button(words::STOP).clicked() {
        desk.paper.job = None;
        desk.paper.outcome = Some(Err(words::STOPPED_WHAT_WAS_COMPLETE.into()));
    }
}

/// What came of it, in words, with every file: the folder can be opened, and what is to be printed.
fn came(ui: &mut Ui, desk: &mut Desk) {
    let Some(outcome) = &desk.paper.outcome else {
        return;
    };
    ui.add_space(6.0);
    let colour = if outcome.is_ok() { BALL } else { WARN };
    ui.label(RichText::new(sentence(outcome)).color(colour).strong());
    let files: Vec<Written> = outcome.iter().flatten().cloned().collect();
    let mut wanted = None;
    let beside = files.first().and_then(|file| file.path.parent());
    if let Some(to) = beside {
        let button = ui.button(words::OPEN_THE_FOLDER);
        desk.mark("folder", &button);
        if button.clicked() {
            wanted = Some(to.to_owned());
        }
    }
    let mut print = None;
    let is_sheet = |file: &Written| file.path.extension().is_some_and(|kind| kind == "pdf");
    for file in &files {
        let size = file.bytes.div_ceil(1000);
        let line = clean::line(&words::kb(&file.path.display(), &size));
        let link = ui.link(RichText::new(words::open(&line)).color(QUIET).small());
        if link.clicked() {
            wanted = Some(file.path.clone());
        }
        let name = file
            .path
            .file_name()
            .map(|name| clean::line(&name.display().to_string()));
        let prints = is_sheet(file) && !desk.paper.opener.printer.is_empty();
        let button = name.filter(|_| prints).map(|name| words::print(&name));
        if button.is_some_and(|text| small(ui, &text, false, words::ON_THE_USUAL_PRINTER).clicked())
        {
            print = Some(file.path.clone());
        }
    }
    if files.iter().any(is_sheet) {
        let text = words::FOR_ANOTHER_PRINTER_OR;
        ui.label(RichText::new(text).color(QUIET).small());
    }
    if let Some(path) = print {
        desk.paper.opener.print(&path);
    }
    if let Some(path) = wanted {
        desk.paper.opener.open(&path);
        desk.say(words::opening(&clean::line(&path.display().to_string())));
    }
}

/// The buttons: what was pressed.
fn choice(ui: &mut Ui, desk: &Desk) -> Option<Vec<Piece>> {
    let mut pressed = None;
    let free = !desk.paper.busy();
    let whole = Button::new(RichText::new(words::WHOLE_PACK).strong().color(INK)).fill(BALL);
    let whole = ui.add_enabled(free, whole);
    desk.mark("pack", &whole);
    if whole.clicked() {
        pressed = Some(Piece::ALL.to_vec());
    }
    let about = words::EVERYTHING_BELOW_IN_SOME;
    ui.label(RichText::new(about).color(QUIET).small());
    let time = desk.time.now;
    let seed = desk.seed;
    for (piece, name, about) in [
        (
            Piece::Sheet,
            words::PRACTICE_SHEET,
            words::TWO_PAGES_FINDINGS_LOOKS.to_string(),
        ),
        (
            Piece::Cards,
            words::RULE_CARDS,
            words::FOR_EVERY_RULE_WHAT.to_string(),
        ),
        (
            Piece::Shell,
            words::SHELL_POSITIONS,
            words::WHERE_THE_DEFENDERS_STAND.to_string(),
        ),
        (
            Piece::Page,
            words::PHONE_PAGE,
            words::possession_to_play_and(&seed),
        ),
        (
            Piece::Film,
            words::MOVING_PICTURE,
            words::possession_as_gif_and(&seed),
        ),
        (
            Piece::Moment,
            words::PICTURE_OF_THIS_MOMENT,
            words::the_floor_as_you(&time),
        ),
        (
            Piece::Phase,
            words::DIAGRAM_OF_WHAT_COMES,
            words::runs_passes_and_dribbles(&time),
        ),
    ] {
        ui.add_space(3.0);
        let button = ui
            .add_enabled(free, Button::new(name))
            .on_hover_text(&about);
        if button.clicked() {
            pressed = Some(vec![piece]);
        }
        ui.label(RichText::new(about).color(QUIET).small());
    }
    pressed
}

/// The floor as it is seen now, with its light.
fn seen(desk: &mut Desk) -> (Scene, String) {
    let mut scene = moment::scene(desk);
    let picture = desk.picture();
    if picture.holder.is_some() && desk.settings.layers.light {
        let (mut state, holder) = desk.recording.scene(&picture);
        state.pos = picture.pos;
        let light = field(&desk.recording.cast, &state, holder, GRAIN);
        scene.add(Item::Light(light));
    }
    let moved = desk.moved.iter().any(Option::is_some);
    let by_hand = if moved { words::MOVED_BY_HAND } else { "" };
    let says = words::possession_at_s(&desk.seed, &picture.time, &by_hand);
    (scene, says)
}

/// Starts to make the pieces.
fn begin(desk: &mut Desk, pieces: Vec<Piece>) {
    let (scene, says) = seen(desk);
    let to = folder(desk);
    // A phase needs some time before the end.
    let ends = desk.recording.possession.duration - 0.5;
    let order = Order {
        to,
        pieces: pieces.clone(),
        paper: if letter(desk) {
            Paper::Letter
        } else {
            Paper::A4
        },
        mirrored: false,
        seed: desk.seed,
        moment: When::Drawn(Box::new(scene), says),
        from: (desk.time.now < ends).then_some(desk.time.now),
        until: None,
        possessions: POSSESSIONS,
        threads: 1,
    };
    desk.settle();
    // What is written for the sheet does not wait for the possession to be played again.
    let mut scenario: Scenario = (*desk.recording.scenario).clone();
    scenario.court.units = desk.units();
    scenario.name.clone_from(&desk.edit().name);
    scenario.practice.clone_from(&desk.edit().practice);
    desk.paper.outcome = None;
    desk.paper.job = Some((pieces, job(Arc::new(scenario), order)));
}

fn job(scenario: Arc<Scenario>, order: Order) -> Job<Outcome> {
    let played = if order.pieces.contains(&Piece::Sheet) {
        order.possessions
    } else {
        0
    };
    let of = played + PIECE * order.pieces.len() as u64;
    Job::start("paper", of, move |stop, done| {
        let progress = |stage: Stage| {
            let now = match stage {
                Stage::Played(n) => n,
                Stage::Makes(_, pieces) => played + PIECE * pieces as u64,
            };
            done.fetch_max(now, Ordering::Relaxed);
        };
        let made = pack::make(&scenario, &order, &progress, stop);
        Some(made.map_err(|unmade| match unmade {
            Unmade::Unwritten(unwritten) => unwritten::said(&unwritten),
            other => other.to_string(),
        }))
    })
}

/// The texts of the sheet; kept with the variation, undoable.
fn texts(ui: &mut Ui, desk: &mut Desk) {
    let mut edit = desk.edit().clone();
    let texts = &mut edit.practice;
    let name = edit.name.clone();
    for (label, text, hint) in [
        (words::TITLE, &mut texts.title, name.as_str()),
        (words::DATE, &mut texts.date, words::A_LINE_TO_WRITE),
        (words::PLACE, &mut texts.place, ""),
        (words::WHO, &mut texts.squad, words::THE_NAMES_OF_THE),
    ] {
        ui.horizontal(|ui| {
            let label = ui.add_sized([60.0, 20.0], bevy_egui::egui::Label::new(label));
            let field = TextEdit::singleline(text)
                .hint_text(hint)
                .desired_width(260.0);
            ui.add(field).labelled_by(label.id);
        });
    }
    let mut minutes = texts.minutes();
    ui.horizontal(|ui| {
        let label = ui.add_sized([60.0, 20.0], bevy_egui::egui::Label::new(words::MINUTES));
        let field = DragValue::new(&mut minutes).range(LEAST_MINUTES..=MOST_MINUTES);
        ui.add(field).labelled_by(label.id);
    });
    if minutes != texts.minutes() {
        texts.minutes = Some(minutes);
    }
    let label = ui.label(words::notes_a_line_each(&MOST_NOTES));
    let mut notes = texts.notes.join("\n");
    let field = TextEdit::multiline(&mut notes)
        .desired_rows(3)
        .desired_width(330.0);
    if ui.add(field).labelled_by(label.id).changed() {
        texts.notes = match notes.as_str() {
            "" => Vec::new(),
            notes => notes.split('\n').map(str::to_string).collect(),
        };
    }
    if edit != *desk.edit() {
        desk.variation.change(edit, "practice");
        desk.keep();
    }
}
