//! A practice set on paper: three pages at most, in black and white.

use crate::clean::cut;
use crate::offence::words::capital;
use crate::scenario::Scenario;
use crate::scenario::session::{MOST_LETTERS, MOST_NOTE, MOST_NOTES};
use crate::why::Summary;

use super::super::CAUTION;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::breakdown::SCORING;
use super::drills::ENOUGH;
use super::findings::Said;
use super::handout::SIGNS;
use super::paper::{Book, MARGIN, Paper, Type};
use super::practice::{Practice, Teams, numbers};
use super::stands::{stands, who};

impl Practice {
    /// The pages as SVG, and the keys of all figures on them in the order in which they are said.
    pub fn pages(
        &self,
        scenario: &Scenario,
        summary: &Summary,
        paper: Paper,
    ) -> (Vec<String>, Vec<String>) {
        let name = title(scenario);
        let mut setter = Setter {
            book: Book::new(paper, &format!("{name} · made by Lanelight")),
            keys: Vec::new(),
            intervals: Vec::new(),
        };
        setter.top(scenario);
        setter.findings(scenario, self, summary);
        setter.plan(self);
        setter.caution();
        setter.notes(scenario);
        // Notes that had no room on the first page stand before the drills.
        if setter.book.pages() == 1 {
            setter.book.turn();
        }
        setter.breakdowns(self);
        setter.shell(scenario, self);
        setter.looks(scenario, self);
        setter.sources(self, summary);
        (setter.book.finish(), setter.keys)
    }
}

/// What stands at the top of the sheet.
fn title(scenario: &Scenario) -> String {
    match cut(&scenario.practice.title, MOST_LETTERS) {
        own if own.is_empty() => cut(&scenario.name, LONGEST),
        own => own,
    }
}

/// What the shading of these pictures is.
const LIGHT: &str = "Bright floor: where a pass thrown now would pay; dark: where it would not.";

/// Findings, the plan, and the words beside a picture.
const TEXT: Type = Type {
    size: 8.8,
    ..Type::BODY
};

/// The words of drills and looks beside their pictures.
const BESIDE: Type = Type {
    size: 8.5,
    ..Type::BODY
};

struct Setter {
    book: Book,
    keys: Vec<String>,
    /// What a sentence is of, and its intervals: "finding 1", "99 to 100, 49 to 55". Of two with the same, once.
    intervals: Vec<(String, String)>,
}

impl Setter {
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

    fn top(&mut self, scenario: &Scenario) {
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

    fn findings(&mut self, scenario: &Scenario, practice: &Practice, summary: &Summary) {
        self.book.head("What was found", 60.0);
        let lead = format!(
            "{} possessions, played by the program with players of this speed: {}. How sure each number \
             is stands at the end.",
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

    fn plan(&mut self, practice: &Practice) {
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
        book.para(&practice.age.words(minutes), Type::SMALL);
    }

    /// What is to be remembered, and lines to write on.
    fn notes(&mut self, scenario: &Scenario) {
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

    fn caution(&mut self) {
        self.book.gap(4.0);
        let high = Book::height(CAUTION, Type::STRONG, self.book.wide());
        self.book.need(high + 8.0);
        let top = self.book.y;
        self.book.gap(3.0);
        self.book.para(CAUTION, Type::STRONG);
        self.book.frame(top);
    }

    /// Drills of a few, each with its picture, what everybody does, whom to read, groups and scoring.
    fn breakdowns(&mut self, practice: &Practice) {
        if practice.breakdowns.is_empty() {
            return;
        }
        self.book
            .head("Breakdown drills, cut from the rules", 150.0);
        self.book.para(SCORING, Type::SMALL);
        self.book.gap(4.0);
        for drill in &practice.breakdowns {
            let block = drill.block();
            let minutes = practice.plan.iter().find(|b| b.what == block);
            let minutes = minutes.map_or("if there is time".to_string(), |b| {
                format!("{} min", b.minutes)
            });
            let of = format!("drill of card {}", drill.rule + 1);
            let why = drill.why.as_ref().map(|said| self.kept(&of, said));
            let mut lines = vec![(format!("{block}, {minutes}"), Type::STRONG)];
            lines.extend(why.map(|why| (why, BESIDE)));
            lines.push((format!("{}:", capital(&drill.when)), BESIDE));
            lines.extend(drill.lines.iter().map(|line| (line.clone(), BESIDE)));
            lines.push((
                format!("{} {} {}", drill.finish, drill.cue, drill.next),
                BESIDE,
            ));
            lines.push((format!("{} {}", drill.groups, drill.rotation), BESIDE));
            let drawing = picture(&drill.scene, &Look::PAPER);
            self.book.beside(&drawing, 128.0, &lines, (12.0, 3.0));
        }
    }

    fn looks(&mut self, scenario: &Scenario, practice: &Practice) {
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
        self.book
            .para(format!("{teams} {light}").trim(), Type::SMALL);
        self.book.gap(3.0);
        let strong = Type {
            bold: true,
            ..BESIDE
        };
        for (i, look) in practice.looks.iter().enumerate() {
            let reps = match look.each_side {
                0 => "Walk it once on each side.".to_string(),
                1 => "Each team once on each side.".to_string(),
                n => format!("Each team {n} times on each side."),
            };
            let name = format!("{}  {}. {reps}", i + 1, look.name);
            let mut lines = vec![(name, strong)];
            if let Some(said) = &look.said {
                let answers = match numbers(look.answers, look.also) {
                    said if said.is_empty() => said,
                    said => format!("Answers {said}. "),
                };
                let text = answers + &self.kept(&format!("look {}", i + 1), said);
                lines.push((text, BESIDE));
            }
            lines.push((look.start.clone(), BESIDE));
            lines.extend(look.cue.iter().map(|cue| (format!("{cue}."), BESIDE)));
            lines.push((look.points.join(" "), BESIDE));
            let drawing = picture(&look.scene, &Look::PAPER);
            self.book.beside(&drawing, 112.0, &lines, (12.0, 3.0));
        }
    }

    fn shell(&mut self, scenario: &Scenario, practice: &Practice) {
        let column = (self.book.wide() - 20.0) / 3.0;
        let wide = 128.0;
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
        self.book.head("Shell drill for the defenders", high + 60.0);
        let shell = practice.plan.iter().find(|b| b.what.starts_with("Shell"));
        let half = shell.map_or("half of the time".to_string(), |b| {
            format!("{} minutes", b.minutes.div_ceil(2))
        });
        let text = format!(
            "{}, as page 1 says under “Against”. First {half}: the attackers stand where they are drawn and nobody cuts; \
             they pass to the next player round the outside and hold the ball two seconds each time; every defender is in \
             the new place before the ball is caught. Then the attackers cut by their cards, and both sides play until a \
             basket or a stop. Attackers and defenders change every minute; whoever is over comes in then. {LIGHT}",
            cut(&scenario.defence.name, LONGEST)
        );
        self.book.para(&text, BESIDE);
        if let Some(said) = &practice.shell_said {
            let text = self.kept("shell drill", said);
            self.book.para(&text, BESIDE);
        }
        self.book.gap(4.0);
        let y = self.book.y;
        let mut low = 0.0_f64;
        for (i, (ball, drawing)) in drawings.iter().enumerate() {
            let x = MARGIN + i as f64 * (column + 10.0);
            self.book.picture(drawing, x, y, wide);
            let mut words = format!("Ball: {}", ball.name.word());
            if scenario.defence.zone.is_none() {
                let there = scenario.offence.there();
                let stand = who(&practice.shells[i].frame.relations, |d| there[d]);
                words += &format!(". {stand}.");
            }
            low = low.max(self.book.set(&words, Type::SMALL, x, y + high, column));
        }
        self.book.gap(high + low + 4.0);
    }

    fn sources(&mut self, practice: &Practice, summary: &Summary) {
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
        let text = format!(
            "{SIGNS} All numbers are of the {} possessions on page 1, but where it says of how many.{watch}{sure}",
            summary.possessions
        );
        self.book.gap(4.0);
        self.book.para(&text, Type::SMALL);
    }
}
