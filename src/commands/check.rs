//! `check`: reads a file and says it back.

use std::path::Path;

use lanelight::court::Units;
use lanelight::defence::{Defence, Gaze, Helper, Relation, Switch};
use lanelight::model::Table;
use lanelight::offence::{Offence, words};
use lanelight::possession::timeline::length;
use lanelight::report::wrap::wrap;
use lanelight::report::{Heading, clean};
use lanelight::scenario::shipped::{self, Kind};
use lanelight::scenario::{Scenario, Source, read_defence, read_offence, read_squad, read_tweak};

use super::{show, warn};
use crate::Failure;

/// Reads the file, whatever it describes, and says it back in sentences.
pub fn check(file: &Path) -> Result<(), Failure> {
    let word = file
        .to_str()
        .and_then(|word| shipped::find(Kind::Scenario, word));
    if let Some(shipped) = word.filter(|_| !file.exists()) {
        return scenario(Scenario::from_text(shipped.text, shipped.word)?);
    }
    let source = Source::load(file)?;
    let (text, name) = (source.text.as_str(), source.file.as_str());
    match kind_of(text) {
        Kind::Scenario => return scenario(Scenario::read(file)?),
        Kind::Offence => {
            let read = read_offence(text, name)?;
            warn(&read.warnings);
            show(&(offence(&read.value) + "\nThe offence is sound.\n"))?;
        }
        Kind::Defence => {
            let read = read_defence(text, name)?;
            warn(&read.warnings);
            show(&(defence(&read.value, Units::Metric) + "\nThe defence is sound.\n"))?;
        }
        Kind::Tweak => {
            let read = read_tweak(text, name)?;
            warn(&read.warnings);
            show(&good("tweak", &read.value.name, &read.value.note))?;
        }
        Kind::Squad => {
            let read = read_squad(text, name)?;
            warn(&read.warnings);
            show(&good("squad", &read.value.name, ""))?;
        }
    }
    Ok(())
}

/// What a text describes, by the word that only such a text has at the start of a line.
fn kind_of(text: &str) -> Kind {
    let has = |word: &str| text.lines().any(|line| line.trim_start().starts_with(word));
    if has("alignment:") {
        Kind::Offence
    } else if has("stances:") {
        Kind::Defence
    } else if has("changes:") {
        Kind::Tweak
    } else if has("players:") {
        Kind::Squad
    } else {
        Kind::Scenario
    }
}

fn good(kind: &str, name: &str, note: &str) -> String {
    format!("{}\nThe {kind} is sound.\n", titled(name, note))
}

/// The offence in sentences, each rule under its name.
fn offence(offence: &Offence) -> String {
    let mut text = titled(&offence.name, &offence.note) + "\n";
    for sentence in words::offence(offence) {
        if let Some(rule) = offence
            .rules
            .iter()
            .find(|rule| words::rule(rule) == sentence)
        {
            text += &format!("  “{}”\n", clean::line(&rule.name));
            text += &wrap(&clean::line(&sentence), "    ", "    ");
        } else {
            text += &wrap(&clean::line(&sentence), "  ", "    ");
        }
    }
    text
}

/// The defence in sentences: where each defender stands, by his man's relation to the ball.
fn defence(defence: &Defence, units: Units) -> String {
    let mut text = titled(&defence.name, &defence.note) + "\n";
    if defence.zone.is_some() {
        text += "  A zone: each defender has his area and guards whoever is in it.\n";
    }
    for relation in Relation::ALL {
        let s = defence.stances.of(relation);
        let sum = s.man + s.ball + s.rim;
        let shares = [(s.man, "man"), (s.ball, "ball"), (s.rim, "rim")].map(|(share, word)| {
            (share > 0.0).then(|| format!("{:.0} % {word}", 100.0 * share / sum))
        });
        let mix: Vec<String> = shares.into_iter().flatten().collect();
        let midline = match s.midline {
            m if m <= 0.0 => String::new(),
            m if m >= 1.0 => ", on the midline".to_string(),
            m => format!(", drawn {:.0} % of the way to the midline", m * 100.0),
        };
        let eyes = match s.gaze {
            Gaze::Ball => "eyes on the ball",
            Gaze::Man => "eyes on his man",
            Gaze::Both => "open to ball and man",
        };
        let deny = if s.deny {
            ", a hand in the passing lane"
        } else {
            ""
        };
        let (near, far) = (length(units, s.gap.0), length(units, s.gap.1));
        let gap = format!("{near} to {far} from him");
        let said = format!(
            "{}: {}{midline}, {gap}, {eyes}{deny}.",
            relation.word(),
            mix.join(", ")
        );
        text += &wrap(&sentence(&said), "  ", "    ");
    }
    let help = match defence.help.who {
        Helper::Nobody => "Nobody leaves his man to help on a drive.".to_string(),
        Helper::LowMan => "The low man on the weak side helps on a drive".to_string(),
        Helper::Nearest => "Whoever is nearest helps on a drive".to_string(),
    };
    text += &format!(
        "  {help}{}\n",
        match (defence.help.who, defence.help.rotate) {
            (Helper::Nobody, _) => "",
            (_, true) => ", and the next one takes his man.",
            (_, false) => ", and nobody takes his man.",
        }
    );
    if defence.switch == Switch::OnScreens {
        text += "  Screens are switched.\n";
    }
    text
}

fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters
        .next()
        .into_iter()
        .flat_map(char::to_uppercase)
        .collect();
    first + letters.as_str()
}

fn titled(name: &str, note: &str) -> String {
    let note = clean::line(note);
    let note = if note.is_empty() {
        note
    } else {
        wrap(&note, "  ", "  ")
    };
    format!("{}\n{note}", clean::line(name))
}

/// The numbers of the model that the scenario changes.
fn numbers(scenario: &Scenario) -> String {
    let mut text = String::new();
    for (name, shipped, here) in scenario.model.changes() {
        let number = Table::shipped().number(name);
        let unit = number.map_or("", |number| number.unit.as_str());
        let says = number.map_or("", |number| number.says.as_str());
        text += &format!("  {name}: {here} {unit} instead of {shipped}\n");
        text += &wrap(says, "    ", "    ");
    }
    if text.is_empty() {
        return text;
    }
    format!("NUMBERS OF THE MODEL\n{text}\n")
}

fn scenario(scenario: Scenario) -> Result<(), Failure> {
    warn(&scenario.warnings);
    let heading = Heading::of(&scenario, &[]);
    let clock = match scenario.shot_clock {
        Some(seconds) => format!("{seconds} seconds to shoot"),
        None => "no shot clock".to_string(),
    };
    let text = format!(
        "{}\n{} against {}, {} court, {clock}.\n\nTHE OFFENCE: {}\nTHE DEFENCE: {}\n\
         {}The scenario is sound.\n",
        titled(&scenario.name, &scenario.note),
        heading.attackers,
        heading.defenders,
        heading.court,
        offence(&scenario.offence),
        defence(&scenario.defence, scenario.court.units),
        numbers(&scenario),
    );
    show(&text)?;
    Ok(())
}
