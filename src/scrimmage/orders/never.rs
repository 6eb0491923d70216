//! What never works in a file: rules whose event never came, and lines that were never carried out.

use serde::Serialize;

use crate::offence::Offence;
use crate::possession::orders::OrderEnd;

use super::{LineAccount, RuleAccount};

/// An order that the play left time for at least so often and that was never carried out does not work; nor does one
/// that came at least as often as the second and that other rules left no time for as often as the first; nor one that was never ordered though its rule
/// fired as often as the third: what it asks for may be rare (all ours).
const SEEN: u64 = 3;
const SEEN_WITHOUT: u64 = 10;
const SEEN_UNASKED: u64 = 30;

/// What never works in a file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct NeverWorks {
    /// Index of the rule.
    pub rule: usize,
    /// Line of the rule; `None` if its event never came.
    pub line: Option<usize>,
    /// Is it no fault of the file: does it wait for something that this one defence never did?
    pub excused: bool,
    /// In a sentence.
    pub said: String,
}

/// Whatever never works in these possessions, against so many defences.
pub(super) fn never_works(
    offence: &Offence,
    rules: &[RuleAccount],
    possessions: u64,
    defences: usize,
) -> Vec<NeverWorks> {
    let mut never = Vec::new();
    for (index, rule) in rules.iter().enumerate() {
        if rule.lines.is_empty() {
            continue;
        }
        if rule.fired == 0 {
            let or_not_so = match offence.rules[index].only_if.is_empty() {
                true => "",
                false => ", or what the rule asks for (`only_if`) was never so then",
            };
            let waits_for = &rule.waits_for;
            let said = format!(
                "in {possessions} possessions it never happened that {waits_for}{or_not_so}"
            );
            never.push(NeverWorks {
                rule: index,
                line: None,
                excused: defences == 1 && offence.rules[index].when.is_the_defences(),
                said,
            });
        }
        let before = [None].into_iter().chain(rule.lines.iter().map(Some));
        for (line, before) in rule.lines.iter().zip(before) {
            let before = before.filter(|before| line.step > 0 && before.line == line.line);
            if let Some(said) = line_never_works(rule.fired, line, before) {
                never.push(NeverWorks {
                    rule: index,
                    line: Some(line.line),
                    excused: defences == 1 && line.given == 0 && {
                        let written = &offence.rules[index].actions[line.line];
                        written.only_if.iter().any(|one| one.is_the_defences())
                    },
                    said,
                });
            }
        }
    }
    never
}

/// Why a line, after the step `before` it, never works, if it does not.
fn line_never_works(
    fired: u64,
    line: &LineAccount,
    before: Option<&LineAccount>,
) -> Option<String> {
    let LineAccount {
        who, does, given, ..
    } = line;
    if line.done > 0 {
        return None;
    }
    let mostly = |is: fn(OrderEnd) -> bool| {
        let most = line.ends.iter().find(|ended| is(ended.end))?;
        Some(match &most.nobody {
            Some(nobody) => format!("{} ({nobody})", most.end.word()),
            None => most.end.word().to_owned(),
        })
    };
    if line.had_time >= SEEN {
        let mostly = mostly(OrderEnd::had_time)?;
        return Some(format!(
            "{who} was to {does} {given} times, and never did; mostly: {mostly}"
        ));
    }
    // What follows is another rule's to say, where that comes at once.
    let most = line.ends.first().map(|ended| ended.end);
    let flows_on = line.step > 0 && most == Some(OrderEnd::SentOn);
    // (Where the play cut them off nobody could have done it.)
    let could = line.had_time + line.called_away;
    if *given >= SEEN_WITHOUT && could >= SEEN && !flows_on {
        let mostly = mostly(OrderEnd::is_of_an_order)?;
        let times = match line.had_time {
            0 => "none".to_owned(),
            n => n.to_string(),
        };
        return Some(format!(
            "{who} was to {does} {given} times, and never did; the play left time for {times} of them; mostly: \
             {mostly}"
        ));
    }
    if *given > 0 {
        return None;
    }
    match before {
        Some(before) => (before.done >= SEEN_WITHOUT)
            .then(|| format!("{who} was then to {does}, and never got that far")),
        None => (fired >= SEEN_UNASKED).then(|| {
            format!(
                "{who} was never told to {does}: the rule fired {fired} times, and what the line asks for (`only_if`) \
                 was never so"
            )
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Ended, Watch};
    use super::*;

    /// A line that was never carried out: so often cut off by the play, and so often called away by another rule.
    fn line(cut_off: u64, called_away: u64) -> LineAccount {
        let first = Watch {
            against: "sag".to_owned(),
            seed: 1,
            time: 1.0,
        };
        let ended = |end, count| Ended {
            end,
            count,
            by: None,
            nobody: None,
            shut: None,
            first: first.clone(),
        };
        LineAccount {
            who: "the post".to_owned(),
            line: 0,
            step: 0,
            does: "hold".to_owned(),
            given: cut_off + called_away,
            done: 0,
            cut_off,
            called_away,
            had_time: 0,
            ends: vec![
                ended(OrderEnd::PossessionOver, cut_off),
                ended(OrderEnd::SentOn, called_away),
            ],
            ways: Vec::new(),
        }
    }

    #[test]
    fn an_order_that_the_play_alone_cut_off_is_no_error_and_one_that_other_rules_called_away_is() {
        let works = |cut_off, called_away| {
            line_never_works(40, &line(cut_off, called_away), None).is_none()
        };
        assert!(works(10, 0) && works(40, 2));
        assert!(!works(10, 3) && !works(0, 10));
    }
}
