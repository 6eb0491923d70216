//! The parts of a practice in which all five of a team work, set on paper: shell drill, looks to rehearse, live play.

use crate::clean::cut;
use crate::scenario::Scenario;

use super::super::shell::Shell;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::ages::{LIVE, SMALL_GAME, side};
use super::groups::live_turns;
use super::paper::{Book, MARGIN, Type};
use super::practice::{Practice, numbers};
use super::runs::short_of_starts;
use super::set::Setter;
use super::stands::who;
use super::starts::drawn;
use super::turns::{Teams, live};

/// What the shading of these pictures is.
const LIGHT: &str = "Bright floor: a pass there arrives, and the catcher can score; dark: not.";
/// Words beside the pictures of the shell have so much room, points (ours).
const BESIDE: f64 = 230.0;
/// What the caution takes under the plan, with the heading of what stands there, points.
const FOR_CAUTION: f64 = 92.0;

impl Setter {
    pub fn looks(&mut self, scenario: &Scenario, practice: &Practice) {
        let beside = self.beside();
        if practice.looks.is_empty() {
            return;
        }
        self.book.head("Looks to rehearse", 160.0);
        let teams = Teams::of(scenario).words(scenario);
        // What the light is has been said with the shell drill.
        let light = if practice.shells.is_empty() {
            LIGHT
        } else {
            ""
        };
        let words = format!("{teams} {light}");
        self.book.para(words.trim(), Type::SMALL);
        self.book.gap(3.0);
        let strong = Type {
            bold: true,
            ..beside
        };
        for (i, look) in practice.looks.iter().enumerate() {
            let reps = match look.each_side {
                0 => "walk it once on each side.".to_string(),
                1 => "each team once on each side.".to_string(),
                n => format!("each team {n} times on each side."),
            };
            let name = format!("Look {}: {} ({})", i + 1, look.name, look.here);
            let mut lines = vec![(name, strong)];
            if let Some(said) = &look.said {
                let answers = match numbers(look.answers.into_iter().chain(look.also)) {
                    said if said.is_empty() => said,
                    said => format!("{said}. "),
                };
                let text = self.kept(&format!("look {}", i + 1), said);
                lines.push((format!("What for: {answers}{text}"), beside));
            }
            lines.push((look.start.clone(), beside));
            let cue = self.kept(&format!("read of look {}", i + 1), &look.cue);
            lines.push((cue, beside));
            let ends = format!("End and score: as in the box. Rotation: {reps}");
            lines.push((format!("{ends} Say: {}", look.points.join(" ")), beside));
            let mut drawings = Vec::new();
            // A single picture is the start, as the words have it.
            let under = match self.scale.both {
                true => "The start, and what is done.",
                false => "",
            };
            let both = self.scale.both || look.begins.is_none();
            drawings.extend(
                look.begins
                    .iter()
                    .map(|start| (picture(&short_of_starts(start), &Look::PAPER), under)),
            );
            if both {
                let says = match look.begins {
                    Some(_) => "The moment when it is open.",
                    None => "",
                };
                drawings.push((picture(&look.scene, &Look::PAPER), says));
            }
            self.book
                .beside(&drawings, self.scale.look, &lines, (12.0, 4.0));
        }
    }

    /// The game at the end, if the plan has one. `early`: under the plan, if there is room beside the caution.
    pub fn live(&mut self, scenario: &Scenario, practice: &Practice, early: bool) -> bool {
        let beside = self.beside();
        let Some(block) = practice.plan.iter().find(|b| b.what.starts_with(LIVE)) else {
            return true;
        };
        let wide = match practice.age.small {
            true => SMALL_GAME,
            false => side(scenario.offence.players),
        };
        let rehearsed = (practice.looks.len(), &*practice.looks_for());
        let turns = live_turns(block.minutes, practice.age.repetition());
        let lines = [live(scenario, rehearsed, (wide, turns)).join(" ")];
        let high: f64 = lines
            .iter()
            .map(|l| Book::height(l, beside, self.book.wide()))
            .sum();
        let head = format!("{LIVE}, {wide} on {wide}: {} min", block.minutes);
        if early && self.book.room() < high + FOR_CAUTION {
            return false;
        }
        self.book.gap(5.0);
        self.book.need(high + 16.0);
        self.book.para(&head, Type::STRONG);
        for line in &lines {
            self.book.para(line, beside);
        }
        true
    }

    pub fn shell(&mut self, scenario: &Scenario, practice: &Practice) {
        let beside = self.beside();
        let column = (self.book.wide() - 20.0) / 3.0;
        let wide = self.scale.shell.min(column);
        let drawings: Vec<_> = practice
            .shells
            .iter()
            .map(|s| (s.ball, picture(&s.scene, &Look::PAPER)))
            .collect();
        let Some(high) = drawings
            .iter()
            .map(|(_, d)| d.height_at(wide))
            .reduce(f64::max)
        else {
            return;
        };
        let shell = practice.plan.iter().find(|b| b.what.starts_with("Shell"));
        let half = shell.map_or("half of the time".to_string(), |b| {
            format!("{} minutes", b.minutes.div_ceil(2))
        });
        let teams = Teams::of(scenario);
        let over = match teams.over > 0 || teams.turns > 2 {
            true => "; whoever waits comes in then",
            false => "",
        };
        let answers = match practice.shell_for() {
            said if said.is_empty() => said,
            said => format!("{said}. "),
        };
        let after = match practice.looks.len() {
            0 => "live play".to_string(),
            1 => "look 1".to_string(),
            2 => "looks 1 and 2".to_string(),
            n => format!("looks 1 to {n}"),
        };
        let first = practice.hardest.as_ref().map_or(String::new(), |at| {
            format!("Look first at the defender {at}. ")
        });
        let text = format!(
            "What for: {answers}Your own players learn the places of {defence} (page 1, “Against”) for {after}. Start: {}, \
             one attacks and one defends, all as in the first picture. Signal: the coach says “pass”. Then: first {half} nobody \
             cuts and nobody shoots; the attackers stay and pass round the outside on the coach's word, each time when all \
             defenders are right; whoever is late is put there. {first}Then the same mirrored, from the left. After that they \
             cut by their cards, and shots are allowed. End and score: no points at first, then as in the box, without reads. \
             Rotation: teams change every minute{over}. {LIGHT}",
            teams.short(scenario),
            defence = cut(&scenario.defence.name, LONGEST),
        );
        let under: Vec<String> = practice
            .shells
            .iter()
            .map(|s| caption(scenario, s))
            .collect();
        // Small pictures leave room for the words beside them.
        let each = wide + 10.0;
        let room = self.book.wide() - each * drawings.len() as f64;
        let (words, aside, under_wide) = match room >= BESIDE {
            true => (text, room, wide),
            false => (text, self.book.wide(), column),
        };
        let low = under
            .iter()
            .map(|words| Book::height(words, Type::SMALL, under_wide));
        let low = low.fold(0.0, f64::max);
        let tall = Book::height(&words, beside, aside);
        let (step, down, all) = match room >= BESIDE {
            true => (each, 0.0, tall.max(high + low)),
            false => (column + 10.0, tall + 4.0, tall + 4.0 + high + low),
        };
        self.book.head("Shell drill for the defenders", all + 4.0);
        let (top, x) = (self.book.y, MARGIN + self.book.wide() - aside);
        self.book.set(&words, beside, x, top, aside);
        let y = top + down;
        for (i, ((_, drawing), words)) in drawings.iter().zip(&under).enumerate() {
            let x = MARGIN + i as f64 * step;
            self.book.picture(drawing, x, y, wide);
            self.book.set(words, Type::SMALL, x, y + high, under_wide);
        }
        self.book.gap(all + 4.0);
    }
}

/// Where the ball is on a picture of the shell, and who is what to it.
fn caption(scenario: &Scenario, shell: &Shell) -> String {
    let ball = format!("Ball: {}", drawn(shell.ball));
    match scenario.defence.zone {
        Some(_) => ball,
        None => {
            let there = scenario.offence.there();
            let stand = who(&shell.frame.relations, |d| there[d]);
            format!("{ball}. {stand}.")
        }
    }
}
