//! `--measure`: prints what a script that presses real keys has to know (what is on the desk, where
//! things lie, where the pointer is), how soon the first lit frame came, and the rate of frames.

use std::collections::BTreeMap;
use std::time::Instant;

use bevy::ecs::prelude::*;
use bevy_egui::egui::Pos2;

use super::desk::Desk;
use super::rest::Pictures;
use super::trial_words::FIGURES;

/// A rate is reckoned over so long, seconds.
const SPAN: f32 = 2.0;
/// So many frames with light are laid out when the first of them is on the screen: one is shown while the next is drawn.
const WHOLE: u8 = 3;

/// What has been measured and said so far.
#[derive(Resource)]
pub struct Measure {
    on: bool,
    began: Instant,
    lit: u8,
    said: bool,
    /// Lengths of the frames of this span, seconds.
    frames: Vec<f32>,
    /// Was it playing in all of them?
    playing: bool,
    /// Made and drawn until the last span.
    pictures: Pictures,
    told: String,
    marks: BTreeMap<&'static str, String>,
}

impl Measure {
    pub fn new(began: Instant, on: bool) -> Measure {
        Measure {
            on,
            began,
            lit: 0,
            said: false,
            frames: Vec::new(),
            playing: true,
            pictures: Pictures::default(),
            told: String::new(),
            marks: BTreeMap::new(),
        }
    }

    /// A frame has been drawn, `seconds` after the one before.
    pub fn frame(&mut self, desk: &Desk, seconds: f32, pointer: Option<Pos2>, pictures: Pictures) {
        if !self.on {
            return;
        }
        if self.lit < WHOLE && desk.lit.shade.grid().is_some() {
            self.lit += 1;
        }
        if self.lit == WHOLE && !self.said {
            self.said = true;
            let took = self.began.elapsed().as_secs_f64();
            println!("first lit frame after {took:.2} s");
        }
        if let Some(took) = desk.figures.took.take() {
            println!("first figures {took:.2} s after the change");
        }
        // Where things lie comes first: whoever reads the state finds them as they are with it.
        let mut marks = desk.marks.take();
        marks.extend(pointer.map(|at| ("pointer", at)));
        for (name, at) in marks {
            let line = format!("{name} at {:.0} {:.0}", at.x, at.y);
            if self.marks.insert(name, line.clone()).as_ref() != Some(&line) {
                println!("{line}");
            }
        }
        let told = state(desk);
        if told != self.told {
            println!("{told}");
            self.told = told;
        }
        self.rate(desk, seconds, pictures);
    }

    fn rate(&mut self, desk: &Desk, seconds: f32, pictures: Pictures) {
        self.playing &= desk.time.running;
        self.frames.push(seconds);
        let span: f32 = self.frames.iter().sum();
        if span < SPAN {
            return;
        }
        let rate = self.frames.len() as f32 / span;
        self.frames.sort_by(f32::total_cmp);
        let slow = self.frames[self.frames.len() * 19 / 20];
        let what = if self.playing {
            "playing"
        } else {
            "not playing all the time"
        };
        let before = std::mem::replace(&mut self.pictures, pictures);
        println!(
            "{rate:.1} frames a second, {what}; one in twenty takes {:.0} ms or longer; drawn {} of {}, {} of them called for",
            slow * 1000.0,
            pictures.new + pictures.called - before.new - before.called,
            pictures.made - before.made,
            pictures.called - before.called,
        );
        self.frames.clear();
        self.playing = true;
    }
}

/// The desk in a line.
fn state(desk: &Desk) -> String {
    let moved = desk.moved.iter().filter(|m| m.is_some()).count();
    let word = |yes: bool, a: &'static str, b: &'static str| if yes { a } else { b };
    let drawer = if desk.slide <= 0.0 {
        "in"
    } else {
        word(desk.slide >= 1.0, "out", "moving")
    };
    let replay = match desk.replaying {
        Some(_) => "under way".to_owned(),
        None => format!("{:.1} ms", desk.replay_took * 1000.0),
    };
    let trial = desk.trial.as_ref().map_or("none".to_owned(), |trial| {
        let told = FIGURES
            .iter()
            .filter(|f| trial.of(f.name).is_some_and(|k| k.told_at.is_some()));
        format!("of {} told {}", trial.played(), told.count())
    });
    format!(
        "desk: {}, page {}, drawer {drawer}, seed {}, {} rules off, {moved} moved, {} by hand, {}, figures {}, {} judged, drill {}, sheet {}, type {:.1}, trial {}, last replay {replay}",
        word(desk.time.running, "playing", "frozen"),
        desk.page.map_or("none", |p| p.word()),
        desk.seed,
        desk.edit().off.len(),
        desk.puts.len(),
        word(desk.variation.changed(), "changed", "unchanged"),
        word(desk.figures.figure("points").is_some(), "there", "none"),
        desk.drill.scores.len(),
        desk.drill.stage.word(),
        word(desk.squads.open.is_some(), "open", "none"),
        desk.size(),
        trial,
    )
}
