//! A practice set on paper: three pages at most, in black and white.

use crate::clean::cut;
use crate::offence::LookKind;
use crate::offence::words::{self, capital};
use crate::scenario::Scenario;
use crate::scenario::session::{MOST_LETTERS, MOST_NOTE, MOST_NOTES};
use crate::why::Summary;

use super::super::CAUTION;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::drills::ENOUGH;
use super::findings::{ORDER, Said};
use super::handout::SIDES;
use super::pages::Scale;
use super::paper::{Book, MARGIN, Type};
use super::practice::Practice;
use super::scoring::{self, rules};
use super::stands::stands;
use super::turns::Teams;

/// What stands at the top of the sheet.
pub(super) fn title(scenario: &Scenario) -> String {
    match cut(&scenario.practice.title, MOST_LETTERS) {
        own if own.is_empty() => cut(&scenario.name, LONGEST),
        own => own,
    }
}

/// Where the cards are that the sheet names by number, and how one is walked.
const CARDS: &str = "Cards are numbered on the sheets of rule cards (rule_cards.pdf). To walk one: five stand as it is drawn, one \
     reads it out, they do it slowly on both sides.";

/// So wide, a picture has the signs of a card: as large in print, and more floor between them, points (ours).
const AS_ON_CARDS: f64 = 150.0;
/// What a heading takes, points.
const HEADED: f64 = 36.0;
/// Above the assistants' lines, points.
const ABOVE_SOURCES: f64 = 4.0;

/// "1: pass to 3; …" of "1, right slot: pass to 3; …".
fn unplaced(line: &str) -> String {
    let place = line.split_once(", ").zip(line.split_once(": "));
    match place.filter(|((who, _), (at, _))| who.len() < at.len()) {
        Some(((who, _), (_, does))) => format!("{who}: {does}"),
        None => line.to_string(),
    }
}

/// What is brought to the floor.
fn bring(scenario: &Scenario, practice: &Practice) -> String {
    let numbers: Vec<String> = practice
        .walked
        .iter()
        .map(|r| (r + 1).to_string())
        .collect();
    let cards = match numbers.as_slice() {
        [] => "the rule cards".to_string(),
        [one] => format!("card {one}"),
        all => format!("cards {}", all.join(", ")),
    };
    let teams = Teams::of(scenario);
    format!(
        "Bring: {cards}; balls, one a basket at least ({}); vests for {}.",
        scenario.practice.baskets(),
        teams.size * (teams.teams / 2)
    )
}

pub(super) struct Setter {
    pub book: Book,
    pub keys: Vec<String>,
    /// What a sentence is of, and its intervals: "finding 1", "99 to 100, 49 to 55". Of two with the same, once.
    pub intervals: Vec<(String, String)>,
    pub scale: Scale,
}

impl Setter {
    /// Findings, the plan, and the words of drills and looks beside their pictures.
    pub(super) fn beside(&self) -> Type {
        Type {
            size: self.scale.text,
            ..Type::BODY
        }
    }

    /// A sentence without its intervals; these and the keys of its figures are kept.
    pub(super) fn kept(&mut self, of: &str, said: &Said) -> String {
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
        let kind = self.beside();
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
        book.gap(5.0);
        let offence = cut(&scenario.offence.name, LONGEST);
        book.hung("We run", &offence, kind, 70.0);
        let defence = cut(&scenario.defence.name, LONGEST);
        let units = scenario.court.units;
        let against = format!("{defence}. {}", stands(&scenario.defence, units).join(" "));
        book.hung("Against", &against, kind, 70.0);
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
        book.hung("Squad", &squad, kind, 70.0);
    }

    pub fn findings(&mut self, scenario: &Scenario, practice: &Practice, summary: &Summary) {
        let kind = self.beside();
        self.book.head("What was found", 60.0);
        let lead = format!(
            "{} possessions, played by the program with players of this speed: {}. Moments: five a second. Open: a \
             pass, a driver or a shot comes before any defender; shut: a defender comes first. Stall: for so long the ball holder has \
             nothing open. {SIDES} {ORDER}",
            summary.possessions,
            scenario.attackers.level.word()
        );
        self.book.para(&lead, Type::SMALL);
        self.book.gap(3.0);
        for (i, said) in practice.findings.iter().enumerate() {
            let text = self.kept(&format!("finding {}", i + 1), said);
            self.book.hung(&format!("{}", i + 1), &text, kind, 18.0);
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

    pub fn plan(&mut self, scenario: &Scenario, practice: &Practice) {
        if practice.plan.is_empty() {
            return;
        }
        let kind = self.beside();
        let book = &mut self.book;
        let minutes: u32 = practice.plan.iter().map(|b| b.minutes).sum();
        book.head(&format!("Plan for {minutes} minutes"), 80.0);
        for block in &practice.plan {
            let text = capital(&block.what);
            let wide = book.wide() - 130.0;
            let high = Book::height(&text, kind, wide);
            book.need(high + 1.0);
            let y = book.y;
            book.tick(MARGIN, y + 3.5, 9.0);
            let from = format!("{}–{} min", block.starts, block.starts + block.minutes);
            book.set(&from, kind, MARGIN + 18.0, y, 70.0);
            let long = format!("{} min", block.minutes);
            book.set(&long, Type::STRONG, MARGIN + 88.0, y, 50.0);
            book.set(&text, kind, MARGIN + 130.0, y, wide);
            book.gap(high + 1.0);
        }
        book.gap(2.0);
        book.para(
            &format!(
                "{} {CARDS} {}",
                practice.age.words(minutes),
                bring(scenario, practice)
            ),
            Type::SMALL,
        );
    }

    /// How every drill and look is run and scored, in a box.
    pub fn rules(&mut self, practice: &Practice, summary: &Summary) {
        if practice.plan.is_empty() {
            return;
        }
        let mut drills = practice.breakdowns.iter();
        let drives = drills.any(|d| d.look == LookKind::Drive);
        let lines = rules(summary, (!practice.breakdowns.is_empty(), drives));
        scoring::set(&mut self.book, &lines);
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
            let beside = self.beside();
            self.book.gap(4.0);
            self.book.need(HEADED);
            self.book.para("Notes", Type::STRONG);
            for note in &notes {
                self.book.hung("•", note, beside, 12.0);
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
        self.book.head(
            "Drills of two to four players, each a part of a card",
            150.0,
        );
        let look = match self.scale.drill >= AS_ON_CARDS {
            true => &Look::CARD,
            false => &Look::PAPER,
        };
        let strong = Type {
            bold: true,
            ..beside
        };
        for drill in &practice.breakdowns {
            let block = drill.block();
            let minutes = practice.plan.iter().find(|b| b.what == block);
            let minutes = minutes.map_or("if there is time".to_string(), |b| {
                format!("{} min", b.minutes)
            });
            let of = format!("drill of card {}", drill.rule + 1);
            let why = drill.why.as_ref().map(|said| self.kept(&of, said));
            let mut lines = vec![(format!("{block}, {minutes}"), strong)];
            lines.extend(why.map(|why| (why, beside)));
            lines.push((format!("{} {}", drill.start, drill.signal), beside));
            // Where everybody stands has been said.
            let does = drill.lines.iter().map(|line| unplaced(line));
            match self.scale.lines {
                true => {
                    let labelled = does.enumerate().map(|(i, line)| match i {
                        0 => (format!("Then: {line}"), beside),
                        _ => (line, beside),
                    });
                    lines.extend(labelled);
                }
                false => {
                    let does: Vec<String> = does.collect();
                    lines.push((format!("Then: {}", does.join(" ")), beside));
                }
            }
            lines.push((format!("{} {}", drill.cue, drill.next), beside));
            let turns = match drill.turns {
                0 => String::new(),
                n => format!(" {n} turns at each basket."),
            };
            lines.push((drill.finish.clone(), beside));
            lines.push((
                format!("Rotation: {}{turns} {}", drill.groups, drill.rotation),
                beside,
            ));
            let drawing = picture(&drill.scene, look);
            self.book
                .beside(&[(drawing, "")], self.scale.drill, &lines, (12.0, 3.0));
        }
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

    /// What the assistants' lines take, points.
    pub fn for_sources(&self, practice: &Practice, summary: &Summary) -> f64 {
        let text = self.assistants(practice, summary);
        ABOVE_SOURCES + Book::height(&text, Type::SMALL, self.book.wide())
    }

    pub fn sources(&mut self, practice: &Practice, summary: &Summary) {
        let text = self.assistants(practice, summary);
        self.book.gap(ABOVE_SOURCES);
        self.book.para(&text, Type::SMALL);
    }

    fn assistants(&self, practice: &Practice, summary: &Summary) -> String {
        let looks = practice.looks.iter().enumerate();
        let looks = looks.map(|(i, look)| format!("look {}: possession {}", i + 1, look.example.0));
        let looks: Vec<String> = looks.collect();
        let watch = match looks.is_empty() {
            true => String::new(),
            false => format!(
                " To watch a look, open these two teams in Lanelight: {}.",
                looks.join(", ")
            ),
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
        format!(
            "For assistants: numbers are of the {} possessions on page 1.{watch}{sure}",
            summary.possessions
        )
    }
}
