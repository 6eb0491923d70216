//! The desk: all that the window knows, and what can be done to it. Pages and painters read it and
//! call these functions; nothing of the floor's simulation is changed by it, it only plays again.

use std::cell::Cell;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use bevy_egui::egui::{Pos2, Response, TextureHandle};

use super::beside::Beside;
use super::chooser::Chooser;
use super::clock::Time;
use super::drill::{self, Drill};
use super::effect::Effects;
use super::figures::FiguresPage;
use super::files::FilesPage;
use super::first;
use super::jobs::{self, Job};
use super::keeping::Keeps;
use super::lighting::Lit;
use super::paper_page::PaperPage;
use super::recording::{Picture, Recording};
use super::replay::{PATIENCE, Replaying, play};
use super::rule_builder::Builder;
use super::said::Said;
use super::settings::{Page, Settings};
use super::squad_page::SquadPage;
use super::store;
use super::story::Story;
use super::trial::Trial;
use super::variation::{Edit, Variation};
use super::why_page::WhyPage;
use super::words::floor as words;
use crate::court::Vec2;
use crate::looks::BODIES;
use crate::possession::LookNow;
use crate::scenario::Problems;
use crate::sim::play_on::Put;

/// All that the window knows.
pub struct Desk {
    /// What is played, with the way back.
    pub variation: Variation,
    /// The open file, if there is one.
    pub file: Option<PathBuf>,
    /// The seed that is shown.
    pub seed: u64,
    /// The possession of that seed.
    pub recording: Recording,
    /// Where in the possession the window is.
    pub time: Time,
    /// How the coach likes it.
    pub settings: Settings,
    /// Bodies that were moved by hand at the present instant, metres.
    pub moved: [Option<Vec2>; BODIES],
    /// The body that the tab key comes to.
    pub at_hand: usize,
    /// The body under the hand.
    pub held: Option<usize>,
    /// Where players were moved and the possession went on from there, in order of time.
    pub puts: Vec<Put>,
    /// Those that were taken back, the last one last.
    pub puts_back: Vec<Put>,
    /// The light of the possession shown.
    pub(super) lit: Lit,
    /// The picture of the wood, once it is made.
    pub wood: Option<TextureHandle>,
    /// The page of the drawer that is out.
    pub page: Option<Page>,
    /// How far the drawer is out, 0 to 1.
    pub slide: f32,
    /// The page that slides out or in.
    pub last_page: Page,
    /// The rule that is being written.
    pub builder: Builder,
    /// What the last change has brought.
    pub effects: Effects,
    /// The page “Scrimmage”.
    pub figures: FiguresPage,
    /// The page “Why it stalls”.
    pub why: WhyPage,
    /// The page “Paper”.
    pub paper: PaperPage,
    /// A story that is looked for: found at a seed and a time, seconds.
    pub search: Option<(Story, Job<Option<(u64, f64)>>)>,
    /// Is the list of stories open?
    pub searching: bool,
    /// What is said of what has just been done.
    pub said: Option<Said>,
    /// The page “Drills”.
    pub drill: Drill,
    /// The page “Save and open”.
    pub files: FilesPage,
    /// Can settings, and what is not saved, be kept?
    pub(super) keeps: Cell<Keeps>,
    /// The desktop's own window for files, where there is one.
    pub chooser: Chooser,
    /// The page “Squads”.
    pub squads: SquadPage,
    /// Why the last file could not be opened.
    pub problems: Option<Problems>,
    /// The desk's own folder: settings, and what was not saved.
    pub folder: PathBuf,
    /// Is the alignment being moved?
    pub aligning: bool,
    /// A change that is tried against what was there before.
    pub trial: Option<Trial>,
    /// The floor as it was before that change.
    pub beside: Beside,
    /// Full screen, for the gym wall: the floor alone, with letters to be read from 5 m.
    pub wall: bool,
    /// Size of type on the wall: 1 is usual.
    wall_size: f32,
    /// Is the window so low that the key is left out?
    pub low: bool,
    /// Height of the key to the picture when it was last drawn, points of the screen.
    pub key_height: f32,
    /// Seconds for which the present hint has been shown.
    pub hinted: f32,
    /// Which hint that is.
    pub hint_shown: u8,
    /// The possession that is being played again after a change.
    pub replaying: Option<Replaying>,
    /// How long a change may hold up the picture to be seen in it at once.
    pub patience: Duration,
    /// Seconds that the last replay took.
    pub replay_took: f64,
    /// Where some things lie on the screen, for a script that presses them.
    pub marks: Cell<Vec<(&'static str, Pos2)>>,
}

/// Reads the clock on the wall, to measure only.
#[allow(clippy::disallowed_methods)]
pub fn stopwatch() -> std::time::Instant {
    std::time::Instant::now()
}

impl Desk {
    /// A desk with an edit on it. Settings and what was left over come from `folder`.
    pub fn new(edit: Edit, file: Option<PathBuf>, folder: PathBuf) -> Desk {
        let seed = first::shown(&edit);
        let (edit, seed, recording) = match play(&edit, seed, &[]) {
            Some(recording) => (edit, seed, recording),
            None => {
                let demo = Arc::new(crate::scenario::Scenario::demo());
                let seed = first::first(&demo);
                (store::demo(), seed, Recording::of(&demo, seed))
            }
        };
        let mut desk = Desk {
            variation: Variation::new(edit),
            file,
            seed,
            recording,
            time: Time::default(),
            settings: store::read_own(&folder, "settings.ron")
                .map_or_else(Settings::default, Settings::sane),
            moved: [None; BODIES],
            at_hand: 0,
            held: None,
            puts: Vec::new(),
            puts_back: Vec::new(),
            lit: Lit::default(),
            wood: None,
            page: None,
            slide: 0.0,
            last_page: Page::Offence,
            builder: Builder::default(),
            effects: Effects::default(),
            figures: FiguresPage::default(),
            why: WhyPage::default(),
            paper: PaperPage::default(),
            search: None,
            searching: false,
            said: None,
            drill: Drill::new(&folder),
            files: FilesPage::default(),
            keeps: Cell::default(),
            chooser: Chooser::default(),
            squads: SquadPage::default(),
            problems: None,
            folder,
            aligning: false,
            trial: None,
            beside: Beside::default(),
            wall: false,
            wall_size: 1.0,
            low: false,
            key_height: 0.0,
            hinted: 0.0,
            hint_shown: 0,
            replaying: None,
            patience: PATIENCE,
            replay_took: 0.0,
            marks: Cell::default(),
        };
        desk.recover();
        desk
    }

    /// Notes where something lies.
    pub fn mark(&self, name: &'static str, response: &Response) {
        let mut marks = self.marks.take();
        // Nobody may be reading them.
        marks.truncate(64);
        marks.push((name, response.rect.center()));
        self.marks.set(marks);
    }

    /// What is on the desk now.
    pub fn edit(&self) -> &Edit {
        self.variation.now()
    }

    /// Size of type: 1 is usual.
    pub fn size(&self) -> f32 {
        if self.wall {
            self.wall_size
        } else {
            self.settings.type_size
        }
    }

    /// On the wall type grows with the window, points of the screen wide.
    pub fn set_wall_size(&mut self, wide: f32) {
        self.wall_size = (wide / WALL).clamp(1.0, 4.0);
    }

    /// The looks are to be measured anew.
    pub(super) fn forget_looks(&mut self) {
        self.lit.looks.0 = None;
    }

    /// Puts a changed edit on the desk and plays it, if it can be played.
    pub fn change(&mut self, edit: Edit, knob: &str) {
        if !edit.sound() {
            let mut found = edit.findings().into_iter();
            let wrong = found.find(|f| f.weight == crate::offence::check::Weight::Error);
            self.say(wrong.map_or(words::THAT_CANNOT_BE_PLAYED.into(), |f| {
                words::that_cannot_be_played(&f.said)
            }));
            return;
        }
        if self.variation.change(edit, knob) {
            self.changed();
            self.effects.changed(&self.variation, &mut self.builder);
        }
    }

    fn changed(&mut self) {
        drill::break_off(self);
        self.forget_puts();
        self.replay_behind();
        self.trial_changed();
        self.figures.ask(&self.variation);
        self.keep();
    }

    /// Takes back the last change, or the last move by hand, and says what it was.
    pub fn undo(&mut self) {
        if self.take_back_put() {
            return;
        }
        if let Some(what) = self.variation.undo() {
            self.builder.turn_to(None);
            self.effects.taken_back(&self.variation);
            self.changed();
            self.say(words::taken_back(&what));
        }
    }

    /// Makes again what was taken back last, and says what it was.
    pub fn redo(&mut self) {
        if self.put_again() {
            return;
        }
        if let Some(what) = self.variation.redo() {
            self.builder.turn_to(None);
            self.changed();
            self.effects.changed(&self.variation, &mut self.builder);
            self.say(words::made_again(&what));
        }
    }

    /// Another edit on the desk altogether, with a possession worth seeing.
    pub fn open(&mut self, edit: Edit, file: Option<PathBuf>) {
        let seed = first::shown(&edit);
        self.open_at(edit, file, seed);
    }

    /// Another edit on the desk, with the possession of a seed.
    pub(super) fn open_at(&mut self, edit: Edit, file: Option<PathBuf>, seed: u64) {
        self.seed = seed;
        self.variation = Variation::new(edit);
        self.file = file;
        self.files.stamp = None;
        self.problems = None;
        self.time = Time::default();
        drill::break_off(self);
        self.forget_puts();
        self.figures = FiguresPage::default();
        self.why = WhyPage::default();
        self.trial = None;
        self.builder = Builder::default();
        self.effects = Effects::default();
        self.replay();
        self.keep();
    }

    /// Plays the possession of another seed from its start.
    pub fn to_seed(&mut self, seed: u64) {
        self.hush();
        if drill::holds(self) {
            return;
        }
        if seed != self.seed {
            self.forget_puts();
        }
        self.seed = seed.max(1);
        self.time.now = 0.0;
        self.replay();
        self.time.running = true;
    }

    /// The possession of a seed at a time, frozen.
    pub fn show_at(&mut self, seed: u64, time: f64) {
        self.forget_puts();
        self.seed = seed;
        self.replay();
        self.time.go(time, &self.recording);
        self.time.freeze(&self.recording);
    }

    /// Everybody back to where he was.
    pub fn put_back(&mut self) {
        self.moved = [None; BODIES];
        self.held = None;
    }

    /// Is body 0–9 on the floor that is shown: does the player play, and is the place not what a drill asks for?
    pub fn shows(&self, body: usize) -> bool {
        self.recording.cast.has(body) && !self.drill.hides(body)
    }

    /// Who is where now, with those who were moved by hand.
    pub fn picture(&self) -> Picture {
        let mut picture = self.recording.picture(self.time.now);
        for (body, to) in self.moved.iter().enumerate() {
            if let Some(to) = to {
                picture.pos[body] = *to;
                picture.vel[body] = Vec2::ZERO;
                if picture.holder == Some(body) {
                    (picture.ball[0], picture.ball[1]) = (to.x, to.y);
                }
            }
        }
        picture
    }

    /// The decision instant that counts now, if somebody holds the ball.
    pub fn moment(&self) -> Option<usize> {
        self.recording.decision(self.time.now)
    }

    /// The looks now, as the batch measures them, with those who were moved.
    pub fn looks(&mut self) -> &[LookNow] {
        let moment = self.moment();
        if self.lit.looks.0 != moment || self.lit.looks.1 != self.moved {
            let looks = moment.map(|m| self.recording.looks_with(m, &self.moved));
            self.lit.looks = (moment, self.moved, looks.unwrap_or_default());
        }
        if moment.is_none() {
            self.lit.looks.2.clear();
        }
        &self.lit.looks.2
    }

    /// Time goes by: the possession, the light, the jobs. True if something moves on the screen; a job that runs
    /// ([`Desk::busy`]) moves nothing.
    pub fn pass(&mut self, seconds: f32) -> bool {
        if self.time.running && self.moved.iter().any(Option::is_some) {
            self.put_back();
        }
        self.time.pass(f64::from(seconds), &self.recording);
        self.pass_replay();
        drill::pass(self, seconds);
        let lit = self.light(seconds) | self.pass_beside(seconds);
        let slid = self.slide(seconds);
        // Figures that nobody looks at wait for an answer that somebody waits for.
        let waited_for = self.trial.as_ref().is_some_and(Trial::busy);
        if !waited_for || self.page == Some(Page::Figures) {
            self.figures.pass(seconds, &self.variation);
        }
        self.why.pass();
        match self.paper.pass() {
            Some(Ok(said)) => self.say(said),
            Some(Err(said)) => self.warn(said),
            None => {}
        }
        self.found();
        self.pass_chooser();
        self.pass_keeping();
        self.watch_file(seconds);
        self.hint_passes(seconds);
        self.trial_pass();
        let rules_shown = self.page == Some(Page::Offence);
        self.effects.pass(seconds, rules_shown, &self.variation);
        self.pass_said(seconds);
        self.time.running || lit || slid
    }

    /// Does a job run?
    pub fn busy(&self) -> bool {
        let tries = self.trial.as_ref().is_some_and(Trial::busy);
        self.search.is_some()
            || self.replaying.is_some()
            || self.figures.busy()
            || self.why.busy()
            || self.paper.at_work()
            || self.chooser.busy()
            || self.effects.busy()
            || self.drill.busy()
            || tries
    }

    fn slide(&mut self, seconds: f32) -> bool {
        let wanted = if self.page.is_some() { 1.0 } else { 0.0 };
        if let Some(page) = self.page {
            self.last_page = page;
        }
        if self.settings.reduced_motion {
            self.slide = wanted;
        }
        let step = seconds * 5.0;
        let before = self.slide;
        self.slide += (wanted - self.slide).clamp(-step, step);
        before != self.slide
    }

    fn found(&mut self) {
        let Some((story, job)) = &mut self.search else {
            return;
        };
        let story = *story;
        let answer = job.take();
        let over = job.is_over();
        match answer {
            Some(Some((seed, when))) => {
                self.search = None;
                self.show_at(seed, when);
                self.say_here(words::possession_story(&seed, &story.sentence()));
            }
            Some(None) => {
                self.search = None;
                let most = jobs::MOST_SEEDS;
                self.say(words::none_of_the_next(&most, &story.sentence()));
            }
            None if over => self.search = None,
            None => {}
        }
    }
}

/// A window so wide has letters of the usual size on the wall, points of the screen. Letters of 17 points are then a 36th
/// of the width high: on a wall picture 2 m wide 33 mm, where 5 m ask for 25 (ours: a 200th of the distance).
const WALL: f32 = 610.0;
