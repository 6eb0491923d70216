//! From files or embedded texts to a checked [`Scenario`], with every problem of every file at once.

use std::path::Path;

use super::kind::of_kind;
use super::parse::{Read, parse};
use super::patched::{one_tweak, tweaked};
use super::problem::{Problem, Problems};
use super::raw::RawScenario;
use super::shipped::{self, Kind};
use super::source::Source;
use super::together::{cannot_meet, late_clock};
use super::{Drill, Scenario, Session};
use crate::court::{Court, CourtCode};
use crate::defence::{self, Defence};
use crate::model::Model;
use crate::offence::check::{Finding, LONGEST, name, nearest_word, patience_of, within};
use crate::offence::tweak::{Change, Misfit, Tweak};
use crate::offence::{self, Offence};
use crate::squad::{Level, RawSquad, Squad};

/// Most problems reported for one file.
const MOST_PROBLEMS: usize = 60;
/// Most tweaks of one scenario.
const MOST_TWEAKS: usize = 20;

/// Something read and the warnings that came with it.
#[derive(Clone, Debug)]
pub struct Checked<T> {
    /// What was read, fit to be played.
    pub value: T,
    /// What is odd in it.
    pub warnings: Vec<Problem>,
}

/// Reads and checks an offence.
///
/// # Errors
/// Everything wrong with it.
pub fn read_offence(text: &str, file: &str) -> Result<Checked<Offence>, Problems> {
    let source = Source::new(file, text).and_then(|text| of_kind(Kind::Offence, text));
    checked(source, offence::check::check).map(Checked::of)
}

/// Reads and checks a defence.
///
/// # Errors
/// Everything wrong with it.
pub fn read_defence(text: &str, file: &str) -> Result<Checked<Defence>, Problems> {
    let source = Source::new(file, text).and_then(|text| of_kind(Kind::Defence, text));
    checked(source, defence::check::check).map(Checked::of)
}

/// Reads a tweak. Whether it fits an offence shows when it is applied.
///
/// # Errors
/// Everything wrong with it.
pub fn read_tweak(text: &str, file: &str) -> Result<Checked<Tweak>, Problems> {
    let source = Source::new(file, text).and_then(|text| of_kind(Kind::Tweak, text));
    checked(source, check_tweak).map(Checked::of)
}

/// Reads a squad file.
///
/// # Errors
/// The first thing wrong with it, and every misspelt word.
pub fn read_squad(text: &str, file: &str) -> Result<Checked<Squad>, Problems> {
    let source = Source::new(file, text).and_then(|text| of_kind(Kind::Squad, text));
    checked(source, left_out).map(|(read, warnings)| Checked {
        value: read.value.squad(),
        warnings,
    })
}

impl<T> Checked<T> {
    fn of((read, warnings): (Read<T>, Vec<Problem>)) -> Self {
        Checked {
            value: read.value,
            warnings,
        }
    }
}

pub(super) fn check_tweak(tweak: &Tweak) -> Vec<Finding> {
    let mut found = Vec::new();
    name(&tweak.name, "name", &mut found);
    if tweak.changes.is_empty() {
        found.push(Finding::warning("changes", "this tweak changes nothing"));
    }
    for (index, change) in tweak.changes.iter().enumerate() {
        if let Change::SetPatience {
            hold,
            possession,
            asks_more,
            passes_first,
        } = change
        {
            let at = format!("changes/{index}");
            let numbers = (*hold, *possession, *asks_more);
            patience_of(numbers, *passes_first, &at, &mut found);
        }
    }
    found
}

/// Parses, checks and sorts: the value with its warnings, or everything that is wrong.
pub(super) fn checked<T: serde::de::DeserializeOwned>(
    source: Result<Source, Problems>,
    check: impl Fn(&T) -> Vec<Finding>,
) -> Result<(Read<T>, Vec<Problem>), Problems> {
    let mut read: Read<T> = parse(source?).map_err(Problems)?;
    let mended = std::mem::take(&mut read.problems);
    let findings = check(&read.value);
    let mut problems = mended;
    let known = findings.into_iter().filter(|finding| read.knows(finding));
    let shown = known.take(MOST_PROBLEMS);
    problems.extend(shown.map(|finding| read.place(finding)));
    problems.sort_by_key(|problem| (problem.line, problem.column));
    if problems.iter().any(Problem::is_error) {
        return Err(Problems(problems));
    }
    Ok((read, problems))
}

/// Collects the problems of several files and goes on as long as it can.
#[derive(Default)]
pub(super) struct Desk {
    pub(super) problems: Vec<Problem>,
}

impl Desk {
    pub(super) fn keep<T>(
        &mut self,
        read: Result<(Read<T>, Vec<Problem>), Problems>,
    ) -> Option<Read<T>> {
        match read {
            Ok((read, warnings)) => {
                self.problems.extend(warnings);
                Some(read)
            }
            Err(Problems(problems)) => {
                self.problems.extend(problems);
                None
            }
        }
    }

    fn close(self, scenario: Option<Scenario>) -> Result<Scenario, Problems> {
        let wrong = self.problems.iter().any(Problem::is_error);
        match scenario {
            Some(scenario) if !wrong => Ok(Scenario {
                warnings: self.problems,
                ..scenario
            }),
            _ => Err(Problems(self.problems)),
        }
    }
}

/// What a scenario mentions, and from where.
pub(super) struct Mentions<'a> {
    pub(super) raw: &'a Read<RawScenario>,
    /// The folder against which paths are read.
    pub(super) folder: Option<&'a Path>,
}

impl Mentions<'_> {
    /// The text that a word or path means. Problems stand where it is mentioned.
    pub(super) fn source(&self, kind: Kind, mention: &str, at: &str) -> Result<Source, Problems> {
        let here = |finding: Finding| {
            self.raw.place(Finding {
                at: at.to_owned(),
                ..finding
            })
        };
        if mention.ends_with(".ron") {
            let Some(folder) = self.folder else {
                let said = "a text without a file of its own cannot mention other files";
                return Err(here(Finding::error(at, said)).into());
            };
            let text = Source::load(&folder.join(mention));
            return text
                .and_then(|text| of_kind(kind, text))
                .map_err(|Problems(problems)| {
                    let placed = problems.into_iter().map(|problem| match problem.shown {
                        Some(_) => problem,
                        // The file as a whole: show where it is mentioned.
                        None => here(Finding::error(
                            at,
                            format!("{}: {}", problem.file, problem.said),
                        )),
                    });
                    Problems(placed.collect())
                });
        }
        if let Some(file) = shipped::find(kind, mention) {
            return Source::new(mention, file.text);
        }
        let words: Vec<&str> = shipped::all(kind).map(|file| file.word).collect();
        let said = shipped::unknown(kind, mention);
        let finding = Finding::error(at, said)
            .nearest(nearest_word(mention, words.iter().copied()))
            .expected(format!("{}, or a file ending in .ron", words.join(", ")));
        Err(here(finding).into())
    }
}

impl Scenario {
    /// The scenario that runs when nothing else is asked for: an invented varsity team.
    ///
    /// # Examples
    /// ```
    /// # use lanelight_play as lanelight;
    /// use lanelight::scenario::Scenario;
    ///
    /// let scenario = Scenario::demo();
    /// assert_eq!(scenario.shot_clock, Some(35.0));
    /// assert!(scenario.warnings.is_empty());
    /// ```
    ///
    /// # Panics
    /// Never: a test reads the same embedded text.
    pub fn demo() -> Scenario {
        let text = shipped::find(Kind::Scenario, "demo").map_or("", |file| file.text);
        match Self::from_text(text, "demo") {
            Ok(scenario) => scenario,
            Err(problems) => unreachable!("the embedded scenario is sound: {problems}"),
        }
    }

    /// Reads a scenario file and everything that it mentions.
    ///
    /// # Errors
    /// Everything that is wrong, in all files.
    pub fn read(path: &Path) -> Result<Scenario, Problems> {
        let folder = path.parent().unwrap_or(Path::new("")).to_owned();
        Self::from_source(Source::load(path)?, Some(&folder))
    }

    /// Reads a scenario text, which can mention shipped files only.
    ///
    /// # Examples
    /// ```
    /// # use lanelight_play as lanelight;
    /// use lanelight::scenario::Scenario;
    ///
    /// let text = "(name: \"Practice\", court: nfhs, level: varsity_girls,
    ///     offence: \"five_out_give_and_go\", defence: \"denial\")";
    /// let scenario = Scenario::from_text(text, "practice.ron")?;
    /// assert_eq!(scenario.name, "Practice");
    ///
    /// // What is wrong is named together with what may be meant.
    /// let wrong = Scenario::from_text(&text.replace("denial", "denail"), "practice.ron");
    /// assert!(wrong.is_err_and(|problems| problems.to_string().contains("denial")));
    /// # Ok::<(), lanelight::scenario::Problems>(())
    /// ```
    ///
    /// # Errors
    /// Everything that is wrong.
    pub fn from_text(text: &str, file: &str) -> Result<Scenario, Problems> {
        Self::from_source(Source::new(file, text)?, None)
    }

    fn from_source(source: Source, folder: Option<&Path>) -> Result<Scenario, Problems> {
        let mut desk = Desk::default();
        let Some(raw) = desk.keep(checked(of_kind(Kind::Scenario, source), check_raw)) else {
            return desk.close(None);
        };
        let mentions = Mentions { raw: &raw, folder };
        let written = &raw.value;
        let offence = desk.keep(checked(
            mentions.source(Kind::Offence, &written.offence, "offence"),
            offence::check::check,
        ));
        let defence = desk.keep(checked(
            mentions.source(Kind::Defence, &written.defence, "defence"),
            defence::check::check,
        ));
        let offence = tweaked(offence, &mentions, &mut desk);
        let attack_level = written.attack_level.or(written.level);
        let attackers = squad(
            &mentions,
            &written.attackers,
            attack_level,
            "attackers",
            &mut desk,
        );
        let defence_level = written.defence_level.or(written.level);
        let defenders = squad(
            &mentions,
            &written.defenders,
            defence_level,
            "defenders",
            &mut desk,
        );
        let court = *Court::of(written.court);
        let shot_clock = written.shot_clock.or(court.clock.shot);
        let scenario = (|| {
            Some(Scenario {
                name: written.name.clone(),
                note: written.note.clone(),
                court,
                offence: offence?,
                defence: defence?.value,
                attackers: attackers?,
                defenders: defenders?,
                start: written.start.side(),
                shot_clock,
                drill: written.drill,
                model: written.model.model().ok()?,
                practice: written.practice.clone(),
                warnings: Vec::new(),
            })
        })();
        if let Some(scenario) = &scenario {
            late_clock(scenario, &raw, &mut desk);
            if let Some(said) = cannot_meet(&scenario.offence, &scenario.defence) {
                desk.problems
                    .push(raw.place(Finding::error("defence", said)));
            }
        }
        desk.close(scenario)
    }

    /// The same scenario with one more tweak. What is odd or wrong with the outcome is for
    /// [`offence::check::check`] to say.
    ///
    /// # Errors
    /// If the tweak does not fit the offence.
    pub fn with_tweak(&self, tweak: &Tweak) -> Result<Scenario, Misfit> {
        Ok(Scenario {
            offence: tweak.apply(&self.offence)?,
            ..self.clone()
        })
    }

    /// A scenario from its parts, for tests and searches: typical players of a level, and an offence,
    /// a defence and tweaks by shipped word, or by text (which begins with a bracket or a comment).
    ///
    /// # Errors
    /// Everything that is wrong with them.
    pub fn from_parts(
        court: CourtCode,
        level: Level,
        offence: &str,
        defence: &str,
        tweaks: &[&str],
    ) -> Result<Scenario, Problems> {
        let part = |kind: Kind, given: &str| match shipped::find(kind, given) {
            Some(file) => Source::new(given, file.text),
            None if given.contains('(') => Source::new(kind.word(), given),
            None => {
                let nearest = nearest_word(given, shipped::all(kind).map(|file| file.word));
                Err(Problem {
                    nearest,
                    ..Problem::with_file(given, format!("no such {} is shipped", kind.word()))
                }
                .into())
            }
        };
        let mut desk = Desk::default();
        let read = desk.keep(checked(part(Kind::Offence, offence), offence::check::check));
        let defence = desk.keep(checked(part(Kind::Defence, defence), defence::check::check));
        let mut offence = read.map(|read| read.value);
        for given in tweaks {
            let tweak = desk.keep(checked(part(Kind::Tweak, given), check_tweak));
            if let (Some(tweak), Some(before)) = (tweak, offence.take()) {
                offence = one_tweak(&before, &tweak, &mut desk);
            }
        }
        let court = *Court::of(court);
        let scenario = (|| {
            let (offence, defence) = (offence?, defence?.value);
            Some(Scenario {
                name: format!("{} against {}", offence.name, defence.name),
                note: String::new(),
                court,
                offence,
                defence,
                attackers: level.squad("Attackers"),
                defenders: level.squad("Defenders"),
                start: None,
                shot_clock: court.clock.shot,
                drill: Drill::default(),
                model: Model::shipped(),
                practice: Session::default(),
                warnings: Vec::new(),
            })
        })();
        let said = scenario
            .as_ref()
            .and_then(|s| cannot_meet(&s.offence, &s.defence));
        desk.problems
            .extend(said.map(|said| Problem::with_file(Kind::Defence.word(), said)));
        desk.close(scenario)
    }
}

fn check_raw(raw: &RawScenario) -> Vec<Finding> {
    let mut found = Vec::new();
    name(&raw.name, "name", &mut found);
    if let Some(seconds) = raw.shot_clock {
        within(seconds, 1.0, LONGEST, " seconds", "shot_clock", &mut found);
    }
    raw.practice.check("practice", &mut found);
    raw.model.check(&mut found);
    if raw.tweaks.len() > MOST_TWEAKS {
        let said = format!("more than {MOST_TWEAKS} tweaks: write an offence of your own");
        found.push(Finding::error("tweaks", said));
    }
    for (index, tweak) in raw.tweaks.iter().enumerate().take(MOST_TWEAKS) {
        if raw.tweaks[..index].contains(tweak) {
            let at = format!("tweaks/{index}");
            found.push(Finding::error(at, "this tweak is listed twice"));
        }
    }
    let sides = [
        (
            "attackers",
            raw.attackers.is_some(),
            raw.attack_level.is_some(),
            "attack_level",
        ),
        (
            "defenders",
            raw.defenders.is_some(),
            raw.defence_level.is_some(),
            "defence_level",
        ),
    ];
    for (side, squad, level, key) in sides {
        if squad && level {
            let said = format!("`{key}` has no effect: the squad file says its own level");
            found.push(Finding::warning(key, said));
        }
        if !squad && !level && raw.level.is_none() {
            let said = format!("nothing says who the {side} are");
            let expected = format!("`level:`, `{key}:` or `{side}:` with a squad");
            found.push(Finding::error("", said).expected(expected));
        }
    }
    found
}

/// Warns of players who are not in a squad file.
fn left_out(squad: &RawSquad) -> Vec<Finding> {
    let there = |number| squad.players.iter().any(|player| player.number.0 == number);
    let missing: Vec<String> = (1..=5)
        .filter(|number| !there(*number))
        .map(|number: u8| number.to_string())
        .collect();
    match missing.as_slice() {
        [] => Vec::new(),
        [one] => {
            let said =
                format!("player {one} is not in this squad: a typical one of the level plays");
            vec![Finding::warning("players", said)]
        }
        some => {
            let some = some.join(", ");
            let said =
                format!("players {some} are not in this squad: typical ones of the level play");
            vec![Finding::warning("players", said)]
        }
    }
}

fn squad(
    mentions: &Mentions,
    mention: &Option<String>,
    level: Option<Level>,
    at: &str,
    desk: &mut Desk,
) -> Option<Squad> {
    let Some(mention) = mention else {
        let name = if at == "attackers" {
            "Attackers"
        } else {
            "Defenders"
        };
        return Some(level?.squad(name));
    };
    let source = mentions.source(Kind::Squad, mention, at);
    let read = desk.keep(checked(source, left_out))?;
    Some(read.value.squad())
}
