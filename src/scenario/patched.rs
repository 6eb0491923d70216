//! An offence with a scenario's tweaks: whether they fit, and what they bring about that was not
//! there before.

use super::kind::of_kind;
use super::parse::Read;
use super::problem::{Problem, Problems};
use super::read::read_offence;
use super::read::{Desk, Mentions, check_tweak, checked};
use super::shipped;
use super::shipped::Kind;
use super::source::Source;
use crate::offence::check::Finding;
use crate::offence::tweak::{Change, Tweak};
use crate::offence::{self, Offence};
use std::path::Path;

/// The offence with the scenario's tweaks. All tweaks are read, even where the offence cannot be.
pub(super) fn tweaked(
    offence: Option<Read<Offence>>,
    mentions: &Mentions,
    desk: &mut Desk,
) -> Option<Offence> {
    let written = &mentions.raw.value;
    let file = written.offence.as_str();
    let mut now = offence.map(|read| read.value);
    for (index, mention) in written.tweaks.iter().enumerate() {
        let at = format!("tweaks/{index}");
        let source = mentions.source(Kind::Tweak, mention, &at);
        let tweak = desk.keep(checked(source, check_tweak));
        let (Some(tweak), Some(before)) = (tweak, now.take()) else {
            continue;
        };
        match &tweak.value.of {
            Some(of) if of != file && !is_of(of, &tweak.source.file, &before.name) => {
                let said = format!("this tweak is for \"{of}\", not for \"{file}\"");
                let problem = mentions.raw.place(Finding::error(&at, said));
                desk.problems.push(problem);
            }
            _ => now = one_tweak(&before, &tweak, desk),
        }
    }
    now
}

/// The offence with one tweak, and what is wrong with it then that was right before.
pub(super) fn one_tweak(before: &Offence, tweak: &Read<Tweak>, desk: &mut Desk) -> Option<Offence> {
    let after = match tweak.value.apply(before) {
        Ok(after) => after,
        Err(misfit) => {
            let at = format!("changes/{}/{}", misfit.change, misfit.at);
            let finding = Finding::error(at, misfit.said).nearest(misfit.nearest);
            desk.problems.push(tweak.place(finding));
            return None;
        }
    };
    let old = offence::check::check(before);
    for finding in offence::check::check(&after) {
        if old.iter().all(|old| old.said != finding.said) {
            let at = blamed(&finding.at, &after, &tweak.value);
            let said = format!("after this tweak: {}", finding.said);
            desk.problems.push(tweak.place(Finding {
                at,
                said,
                ..finding
            }));
        }
    }
    Some(after)
}

/// The place in a tweak that brought about a place in the changed offence.
fn blamed(at: &str, after: &Offence, tweak: &Tweak) -> String {
    let mut steps = at.splitn(3, '/');
    let (part, index, rest) = (
        steps.next().unwrap_or(""),
        steps.next().unwrap_or(""),
        steps.next().unwrap_or(""),
    );
    let rule = index
        .parse()
        .ok()
        .and_then(|index: usize| after.rules.get(index));
    for (number, change) in tweak.changes.iter().enumerate() {
        let key = match change {
            Change::AddRule { rule: new, .. } if part == "rules" && Some(new) == rule => "rule",
            Change::ReplaceRule { with: new, .. } if part == "rules" && Some(new) == rule => "with",
            _ => continue,
        };
        return format!("changes/{number}/{key}/{rest}");
    }
    for (number, change) in tweak.changes.iter().enumerate() {
        match change {
            Change::SetKeepFilled(_) if part == "keep_filled" => {}
            Change::SetDriveFrom(_) if part == "drive_from" => {}
            Change::SetShotsFrom(_) if part == "shots_from" => {}
            Change::SetReading(_) if part == "reading" => {}
            Change::SetAlignment { .. } if part == "alignment" || part == "ball" => {
                return format!("changes/{number}/{at}");
            }
            Change::SetPatience { .. } if part == "patience" => {
                return format!("changes/{number}/{index}");
            }
            _ => continue,
        }
        return format!("changes/{number}/0/{index}");
    }
    "changes".to_owned()
}

/// Is the offence of that name the one for which a tweak says that it is: by its name, its shipped word, or its
/// file (whose path starts at the folder of the tweak's file)?
pub fn is_of(of: &str, tweak_file: &str, name: &str) -> bool {
    of == name || meant(of, tweak_file).is_ok_and(|offence| offence.is_some_and(|o| o.name == name))
}

/// The offence that a tweak's `of` means, if it is there to be read.
fn meant(of: &str, tweak_file: &str) -> Result<Option<Offence>, Problems> {
    if of.ends_with(".ron") {
        let folder = Path::new(tweak_file).parent().unwrap_or(Path::new(""));
        let source = Source::load(&folder.join(of))?;
        return Ok(Some(read_offence(&source.text, &source.file)?.value));
    }
    for file in shipped::all(Kind::Offence) {
        let offence = read_offence(file.text, file.word)?.value;
        if file.word == of || offence.name == of {
            return Ok(Some(offence));
        }
    }
    Ok(None)
}

/// A tweak, and the offences on which it was tried.
#[derive(Clone, Debug)]
pub struct Tried {
    /// The tweak.
    pub tweak: Tweak,
    /// The names of the offences that it fits.
    pub fits: Vec<String>,
    /// What is odd.
    pub warnings: Vec<Problem>,
}

/// Reads a tweak and applies it to the offence that it says it is for; without that, to each that is shipped.
///
/// # Errors
/// Everything wrong with it, and whatever does not fit the offence named.
pub fn try_tweak(source: Source) -> Result<Tried, Problems> {
    let (read, warnings) = checked(of_kind(Kind::Tweak, source), check_tweak)?;
    let mut desk = Desk { problems: warnings };
    let mut fits = Vec::new();
    let here = |said: String| Finding::warning("of", said);
    match &read.value.of {
        Some(of) => match meant(of, &read.source.file) {
            Ok(Some(offence)) => {
                let after = one_tweak(&offence, &read, &mut desk);
                fits.extend(after.map(|after| after.name));
            }
            Ok(None) => {
                let said =
                    format!("no offence \"{of}\" is shipped: whether this fits it cannot be seen");
                let wanted = "the word or file of an offence, as `of: \"mine.ron\"`";
                desk.problems.push(read.place(here(said).expected(wanted)));
            }
            Err(Problems(problems)) => {
                let said = format!("\"{of}\" cannot be read");
                desk.problems.push(read.place(Finding::error("of", said)));
                desk.problems.extend(problems);
            }
        },
        None => {
            let mut nearest = None;
            for file in shipped::all(Kind::Offence) {
                let offence = read_offence(file.text, file.word)?.value;
                match read.value.apply(&offence) {
                    Ok(_) => fits.push(offence.name),
                    Err(misfit) => nearest = nearest.or(Some((misfit, offence.name))),
                }
            }
            if let Some((misfit, name)) = nearest.filter(|_| fits.is_empty()) {
                let at = format!("changes/{}/{}", misfit.change, misfit.at);
                let said = format!(
                    "this fits no shipped offence (for \"{name}\": {})",
                    misfit.said
                );
                let wanted = "the offence that it is for, as `of: \"mine.ron\"`";
                let finding = Finding::warning(at, said).nearest(misfit.nearest);
                desk.problems.push(read.place(finding.expected(wanted)));
            }
        }
    }
    if desk.problems.iter().any(Problem::is_error) {
        return Err(Problems(desk.problems));
    }
    Ok(Tried {
        tweak: read.value,
        fits,
        warnings: desk.problems,
    })
}
