//! An offence with a scenario's tweaks: whether they fit, and what they bring about that was not
//! there before.

use super::parse::Read;
use super::read::{Desk, Mentions, check_tweak, checked};
use super::shipped::Kind;
use crate::offence::check::Finding;
use crate::offence::tweak::{Change, Tweak};
use crate::offence::{self, Offence};

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
            Some(of) if of != file && *of != before.name => {
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
