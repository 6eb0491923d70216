//! A practice set on paper: three pages at most, in black and white.

use crate::clean::cut;
use crate::offence::words::{self, capital};
use crate::scenario::Scenario;
use crate::scenario::session::{MOST_LETTERS, MOST_NOTE, MOST_NOTES};
use crate::why::Summary;

use super::super::CAUTION;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::ages::{LIVE, SMALL_GAME, side};
use super::breakdown::DRILLED;
use super::drills::ENOUGH;
use super::findings::Said;
use super::handout::{SIDES, SIGNS};
use super::pages::Scale;
use super::paper::{Book, MARGIN, Type};
use super::practice::{Practice, numbers};
use super::stands::{stands, who};
use super::turns::{SCORING, Teams, live};

/// What stands at the top of the sheet.
pub(super) fn title(scenario: &Scenario) -> String {
    match cut(&scenario.practice.title, MOST_LETTERS) {
        own if own.is_empty() => cut(&scenario.name, LONGEST),
        own => own,
    }
}

/// What the shading of these pictures is.
const LIGHT: &str = "Bright floor: where a pass thrown now would pay; dark: where it would not.";

/// Where the cards are that the sheet names by number, and how one is walked.
const CARDS: &str = "Cards are numbered on the sheets of rule cards (rule_cards.pdf). To walk one: five stand as it is drawn, one \
     reads it out, they do it slowly on both sides.";

/// So wide, a picture has the signs of a card: as large in print, and more floor between them, points (ours).
const AS_ON_CARDS: f64 = 150.0;
/// What the caution takes under the plan, with the heading of what stands there, points.
const FOR_CAUTION: f64 = 92.0;
/// What a heading takes, points.
const HEADED: f64 = 36.0;
/// What is left on the last page for the signs and the assistants, points.
pub(super) const FOR_SOURCES: f64 = 100.0;

/// Findings, the plan, and the words beside a picture.
const TEXT: Type = Type {
    size: 8.8,
    ..Type::BODY
};

pub(super) struct Setter {
    pub book: Book,
    pub keys: Vec<String>,
    /// What a sentence is of, and its intervals: "finding 1", "99 to 100, 49 to 55". Of two with the same, once.
    pub intervals: Vec<(String, String)>,
    pub scale: Scale,
}

impl Setter {
    /// The words of drills and looks beside their pictures.
    fn beside(&self) -> Type {
        Type {
            size: self.scale.text,
            ..Type::BODY
        }
    }

    /// A sentence without its intervals; these and the keys of its figures are kept.
    fn kept(&mut self, of: &str, said: &Said) -> String {
        for key in &said.keys {
            if !self.keys.contains(key) {
                self.keys.push(key.clone());
            }
        }
        let (text, intervals) = said.split();
        if !intervals.is_empty() {
            let intervals = intervals.join(", ");
            match self.intervals.iter_mut().find(|(_, i)| *i == intervals) {
                Some((known, _)) => *known += &format!(" and {of}"),
                None => self.intervals.push((of.to_string(), intervals)),
            }
        }
        text
    }

    pub fn top(&mut self, scenario: &Scenario) {
        let book = &mut self.book;
        let texts = &scenario.practice;
        book.para(&title(scenario), Type::TITLE);
        book.gap(2.0);
        let date = match cut(&texts.date, MOST_LETTERS) {
            date if date.is_empty() => "Date: ____________________".to_string(),
            date => format!("Date: {date}"),
        };
        let mut line = format!(
            "{date} · Time: {} minutes · {} players, {} baskets",
            texts.minutes(),
            texts.players(),
            texts.baskets()
        );
        let place = cut(&texts.place, MOST_LETTERS);
        if !place.is_empty() {
            line += &format!(" · {place}");
        }
        book.para(&line, Type::BODY);
        let needed = 2 * u32::from(scenario.offence.players);
        if texts.players() < needed {
            let few = format!(
                "The shell drill and the game at the end need {needed} players: coaches fill in."
            );
            book.para(&few, Type::BODY);
        }
        if !scenario.note.trim().is_empty() {
            book.para(&cut(&scenario.note, 300), Type::BODY);
        }
        book.head("What we run, and against what", 40.0);
        let looks: Vec<&str> = scenario.offence.reading.iter().map(|l| l.word()).collect();
        let offence = cut(&scenario.offence.name, LONGEST);
        book.hung("We run", &offence, TEXT, 70.0);
        book.hung("We read", &looks.join(", "), TEXT, 70.0);
        let defence = cut(&scenario.defence.name, LONGEST);
        let units = scenario.court.units;
        let against = format!("{defence}. {}", stands(&scenario.defence, units).join(" "));
        book.hung("Against", &against, TEXT, 70.0);
        // A player without a name of his own is called by his number.
        let named: Vec<String> = scenario
            .attackers
            .players
            .iter()
            .filter(|p| p.name != p.number.to_string())
            .map(|p| format!("{} {}", p.number, cut(&p.name, 24)))
            .collect();
        let who = if named.is_empty() {
            "typical players of the level".to_string()
        } else {
            named.join(", ")
        };
        let squad = match cut(&texts.squad, MOST_LETTERS) {
            own if own.is_empty() => format!("{}: {who}", cut(&scenario.attackers.name, 40)),
            own => own,
        };
        book.hung("Squad", &squad, TEXT, 70.0);
    }

    pub fn findings(&mut self, scenario: &Scenario, practice: &Practice, summary: &Summary) {
        self.book.head("What was found", 60.0);
        let lead = format!(
            "{} possessions, played by the program with players of this speed: {}. Moments: five a second. Open: pass, driver or \
             shot comes before any defender can; shut: a defender comes first. {SIDES} How sure each number is stands at the end, \
             for assistants.",
            summary.possessions,
            scenario.attackers.level.word()
        );
        self.book.para(&lead, Type::SMALL);
        self.book.gap(3.0);
        for (i, said) in practice.findings.iter().enumerate() {
            let text = self.kept(&format!("finding {}", i + 1), said);
            self.book.hung(&format!("{}", i + 1), &text, TEXT, 18.0);
            self.book.gap(0.5);
        }
        if practice.plan.is_empty() {
            let few = format!(
                "{} possessions are too few to plan a practice from: play at least {ENOUGH}.",
                summary.possessions
            );
            self.book.para(&few, Type::STRONG);
        }
    }

    pub fn plan(&mut self, practice: &Practice) {
        if practice.plan.is_empty() {
            return;
        }
        let book = &mut self.book;
        let minutes: u32 = practice.plan.iter().map(|b| b.minutes).sum();
        book.head(&format!("Plan for {minutes} minutes"), 80.0);
        for block in &practice.plan {
            let text = capital(&block.what);
            let wide = book.wide() - 130.0;
            let high = Book::height(&text, TEXT, wide);
            book.need(high + 1.0);
            let y = book.y;
            book.tick(MARGIN, y + 3.5, 9.0);
            let from = format!("{}–{} min", block.starts, block.starts + block.minutes);
            book.set(&from, TEXT, MARGIN + 18.0, y, 70.0);
            let long = format!("{} min", block.minutes);
            book.set(&long, Type::STRONG, MARGIN + 88.0, y, 50.0);
            book.set(&text, TEXT, MARGIN + 130.0, y, wide);
            book.gap(high + 1.0);
        }
        book.gap(2.0);
        book.para(
            &format!("{} {CARDS}", practice.age.words(minutes)),
            Type::SMALL,
        );
    }

    /// What is to be remembered, and lines to write on.
    pub fn notes(&mut self, scenario: &Scenario) {
        let notes: Vec<String> = scenario
            .practice
            .notes
            .iter()
            .map(|note| cut(note, MOST_NOTE))
            .filter(|note| !note.is_empty())
            .take(MOST_NOTES)
            .collect();
        if !notes.is_empty() {
            self.book.head("Notes", 20.0);
            for note in &notes {
                self.book.hung("•", note, Type::BODY, 12.0);
            }
        }
        if self.book.pages() == 1 {
            self.book.notes(notes.is_empty());
        }
    }

    pub fn caution(&mut self) {
        self.book.gap(4.0);
        let high = Book::height(CAUTION, Type::STRONG, self.book.wide());
        self.book.need(high + 8.0);
        let top = self.book.y;
        self.book.gap(3.0);
        self.book.para(CAUTION, Type::STRONG);
        self.book.frame(top);
    }

    /// Drills of a few, each with its picture, what everybody does, whom to read, groups and scoring.
    pub fn breakdowns(&mut self, practice: &Practice) {
        let beside = self.beside();
        if practice.breakdowns.is_empty() {
            return;
        }
        self.book
            .head("Breakdown drills, cut from the rules", 150.0);
        self.book
            .para(&format!("{DRILLED} {SCORING} {SIGNS}"), Type::SMALL);
        self.book.gap(4.0);
        let look = match self.scale.drill >= AS_ON_CARDS {
            true => &Look::CARD,
            false => &Look::PAPER,
        };
        for drill in &practice.breakdowns {
            let block = drill.block();
            let minutes = practice.plan.iter().find(|b| b.what == block);
            let minutes = minutes.map_or("if there is time".to_string(), |b| {
                format!("{} min", b.minutes)
            });
            let of = format!("drill of card {}", drill.rule + 1);
            let why = drill.why.as_ref().map(|said| self.kept(&of, said));
            let mut lines = vec![(format!("{block}, {minutes}"), Type::STRONG)];
            lines.extend(why.map(|why| (why, beside)));
            lines.push((
                format!("Start: as drawn. {} {}", drill.groups, drill.rotation),
                beside,
            ));
            lines.push((format!("{}:", capital(&drill.when)), beside));
            lines.extend(drill.lines.iter().map(|line| (line.clone(), beside)));
            lines.push((
                format!("{} {} {}", drill.finish, drill.cue, drill.next),
                beside,
            ));
            let drawing = picture(&drill.scene, look);
            self.book
                .beside(&[(drawing, "")], self.scale.drill, &lines, (12.0, 3.0));
        }
    }

    pub fn looks(&mut self, scenario: &Scenario, practice: &Practice) {
        let beside = self.beside();
        if practice.looks.is_empty() {
            return;
        }
        self.book.head("Looks to rehearse", 160.0);
        let teams = Teams::of(scenario).words(scenario);
        // What counts has been said with the drills, and what the light is with the shell drill.
        let scoring = match practice.breakdowns.is_empty() {
            true => SCORING,
            false => "Score: as in the breakdown drills.",
        };
        let light = if practice.shells.is_empty() {
            LIGHT
        } else {
            ""
        };
        let words = format!("{teams} {scoring} {light}");
        self.book.para(words.trim(), Type::SMALL);
        self.book.gap(3.0);
        let strong = Type {
            bold: true,
            ..beside
        };
        for (i, look) in practice.looks.iter().enumerate() {
            let reps = match look.each_side {
                0 => "Walk it once on each side.".to_string(),
                1 => "Each team once on each side.".to_string(),
                n => format!("Each team {n} times on each side."),
            };
            let name = format!("Look {}: {}. {reps}", i + 1, look.name);
            let mut lines = vec![(name, strong)];
            if let Some(said) = &look.said {
                let answers = match numbers(look.answers, look.also) {
                    said if said.is_empty() => said,
                    said => format!("{said}. "),
                };
                let text = self.kept(&format!("look {}", i + 1), said);
                lines.push((format!("What for: {answers}{text}"), beside));
            }
            lines.push((look.start.clone(), beside));
            let cue = self.kept(&format!("read of look {}", i + 1), &look.cue);
            lines.push((cue, beside));
            lines.push((format!("Say: {}", look.points.join(" ")), beside));
            let mut drawings = Vec::new();
            let both = self.scale.both || look.begins.is_none();
            drawings.extend(
                look.begins
                    .iter()
                    .map(|start| (picture(start, &Look::PAPER), "The start, and what is done.")),
            );
            if both {
                let says = match look.begins {
                    Some(_) => "The moment when it is open.",
                    None => "The start.",
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
        let lines = live(scenario, practice.looks.len(), wide);
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

    /// The cards that the sheet names and that have no drill here, if there is room on this page but for so much.
    pub fn cards(&mut self, scenario: &Scenario, practice: &Practice, but: f64) -> bool {
        let beside = self.beside();
        let drilled = |rule: &usize| practice.breakdowns.iter().any(|d| d.rule == *rule);
        let named = practice
            .walked
            .iter()
            .copied()
            .filter(|rule| !drilled(rule));
        let lines: Vec<String> = named
            .filter_map(|rule| {
                let said = words::rule(scenario.offence.rules.get(rule)?);
                Some(format!("Card {}: {}", rule + 1, cut(&said, 400)))
            })
            .collect();
        let high: f64 = lines
            .iter()
            .map(|l| Book::height(l, beside, self.book.wide()))
            .sum();
        if lines.is_empty() || self.book.room() < high + HEADED + but {
            return lines.is_empty();
        }
        self.book
            .head("Cards that are walked and have no drill here", high);
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
        let text = format!(
            "What for: every defender knows the places of {} (page 1, “Against”) before looks are rehearsed against it. Set up: {}, one \
             attacks and one defends. First {half}: the attackers stand as drawn and nobody cuts; they pass round the outside and hold \
             the ball two seconds each time; every defender is in the new place before the catch, else the coach stops and puts them \
             there. Then the attackers cut by their cards until a basket or a stop; a stop is 1 for the defenders. Attackers and \
             defenders change every minute; whoever is over comes in then. {LIGHT}",
            cut(&scenario.defence.name, LONGEST),
            Teams::of(scenario).short(scenario),
        );
        let said = practice.shell_said.as_ref();
        let said = said.map(|said| self.kept("shell drill", said));
        let under: Vec<String> = practice
            .shells
            .iter()
            .map(|shell| {
                let ball = format!("Ball: {}", shell.ball.name.word());
                match scenario.defence.zone {
                    Some(_) => ball,
                    None => {
                        let there = scenario.offence.there();
                        let stand = who(&shell.frame.relations, |d| there[d]);
                        format!("{ball}. {stand}.")
                    }
                }
            })
            .collect();
        let low = under
            .iter()
            .map(|words| Book::height(words, Type::SMALL, column));
        let low = low.fold(0.0, f64::max);
        let texts: Vec<String> = std::iter::once(text).chain(said).collect();
        let words: f64 = texts
            .iter()
            .map(|t| Book::height(t, beside, self.book.wide()))
            .sum();
        self.book
            .head("Shell drill for the defenders", words + high + low + 8.0);
        for text in &texts {
            self.book.para(text, beside);
        }
        self.book.gap(4.0);
        let y = self.book.y;
        for (i, ((_, drawing), words)) in drawings.iter().zip(&under).enumerate() {
            let x = MARGIN + i as f64 * (column + 10.0);
            self.book.picture(drawing, x, y, wide);
            self.book.set(words, Type::SMALL, x, y + high, column);
        }
        self.book.gap(high + low + 4.0);
    }

    pub fn sources(&mut self, practice: &Practice, summary: &Summary) {
        let looks = practice.looks.iter().enumerate();
        let looks = looks.map(|(i, look)| format!("look {}: possession {}", i + 1, look.example.0));
        let looks: Vec<String> = looks.collect();
        let watch = match looks.is_empty() {
            true => String::new(),
            false => format!(" To watch the looks in the window: {}.", looks.join(", ")),
        };
        let each = self.intervals.iter().map(|(of, i)| format!("{of}: {i}"));
        let each: Vec<String> = each.collect();
        let sure = match each.is_empty() {
            true => String::new(),
            false => format!(
                " Each number's 95 % interval, in the order in which they stand: {}.",
                each.join("; ")
            ),
        };
        self.book.gap(4.0);
        if practice.breakdowns.is_empty() {
            self.book.para(SIGNS, Type::SMALL);
        }
        let text = format!(
            "For assistants: all numbers are of the {} possessions on page 1, but where it says of how many.{watch}{sure}",
            summary.possessions
        );
        self.book.para(&text, Type::SMALL);
    }
}
