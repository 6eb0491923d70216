//! What an error of `ron` means: where it is in the source text, what was expected, and the nearest right word.

use ron::error::{Error as Ron, SpannedError};

use super::parse::{Edit, offset, reached, unedited};
use super::problem::floor_char;
use super::slips::{Side, left_open, not_a_word, side_of_a_place};
use super::tree::Node;
use crate::offence::check::{Finding, nearest_word};
use crate::offence::words::{ROLES, otherwise};

/// Where an error of `ron` is in the source text, and what it means.
pub(super) fn explain(
    error: &SpannedError,
    text: &str,
    edits: &[Edit],
    original: &str,
    tree: &Node,
) -> (usize, usize, Finding, Option<Slip>) {
    let stop = reached(error, text, edits, original);
    if let Some((start, end, finding)) = left_open(tree, original)
        && original[..start].trim_end().len() <= stop
    {
        return (start, end, finding, Some(Slip::LeftOpen));
    }
    if matches!(
        error.code,
        Ron::ExpectedComma
            | Ron::ExpectedStructLike
            | Ron::ExpectedNamedStructLike(_)
            | Ron::ExpectedStructLikeEnd
    ) && let Some(((start, end, finding), side)) = side_of_a_place(original, stop)
    {
        return (start, end, finding, Some(Slip::Side(side)));
    }
    let (start, end, finding) = explain_code(error, text, edits, (original, stop), tree);
    let finding = misplaced(&error.code, &original[end..]).unwrap_or(finding);
    let slip = outside_its_brackets(&error.code).then_some(Slip::LeftOpen);
    (start, end, finding, slip)
}

/// A common slip.
pub(super) enum Slip {
    /// A bracket or list is not closed.
    LeftOpen,
    /// A place has a side too many or too few.
    Side(Side),
}

/// A name for what stands without one, or a player where a place must stand: no nearest word helps. `after` is the text
/// behind the word.
fn misplaced(code: &Ron, after: &str) -> Option<Finding> {
    let Ron::NoSuchEnumVariant {
        expected, found, ..
    } = code
    else {
        return None;
    };
    if after.trim_start().starts_with(':') {
        let said = format!("`{found}:` cannot stand here: what is meant stands without a name");
        return Some(Finding::error("", said).expected(expected.join(", ")));
    }
    let player = ROLES.iter().any(|role| role.word == found);
    let place = expected.contains(&"high_post");
    (player && place).then(|| {
        let said = format!("`{found}` means a player, and a place must stand here");
        Finding::error("", said).expected("a place, as `slot(ball)`")
    })
}

/// Is this a part of a rule or file inside brackets where no such part can be?
fn outside_its_brackets(code: &Ron) -> bool {
    match code {
        Ron::NoSuchStructField {
            expected, found, ..
        } => FIRST_WORDS.contains(&found.as_str()) && !expected.contains(&"when"),
        _ => false,
    }
}

/// The same for what is no common slip.
fn explain_code(
    error: &SpannedError,
    text: &str,
    edits: &[Edit],
    (original, stop): (&str, usize),
    tree: &Node,
) -> (usize, usize, Finding) {
    let until = offset(text, error.span.end);
    let here = |finding: Finding| {
        let end = original[stop..]
            .chars()
            .next()
            .map_or(stop, |c| stop + c.len_utf8());
        let leaf = tree.leaf_at(stop).filter(|leaf| leaf.start == stop);
        (stop, leaf.map_or(end, |leaf| leaf.end), finding)
    };
    let before = |finding: Finding| {
        let last = original[..stop].trim_end().len().saturating_sub(1);
        let leaf = tree.leaf_at(last).or_else(|| tree.leaf_at(stop));
        let (start, end) = leaf.map_or((stop, stop), |leaf| (leaf.start, leaf.end));
        (start, end, finding)
    };
    let group = |finding: Finding| {
        // What lacks something is noticed at its closing bracket, or just behind it.
        let rest = original[stop..].trim_start();
        let closing = if rest.starts_with([')', ']', '}']) {
            original.len() - rest.len()
        } else {
            original[..stop].trim_end().len().saturating_sub(1)
        };
        let (start, end) = tree.group_around(closing).map_or((stop, stop), Node::mark);
        (start, end, finding)
    };
    let word = |found: &str, finding: Finding| match text[..floor_char(text, until + found.len())]
        .rfind(found)
        .filter(|_| !found.is_empty())
    {
        Some(place) => {
            let start = unedited(place, edits);
            (start, unedited(place + found.len(), edits), finding)
        }
        None => (stop, stop, finding),
    };
    match &error.code {
        Ron::NoSuchEnumVariant {
            expected, found, ..
        } => {
            let finding = Finding::error("", format!("`{found}` is not a word known here"));
            if let Some(says) = otherwise(found).filter(|_| expected.contains(&"fill_first")) {
                return word(found, finding.expected(says));
            }
            let hand = ["left", "right"].iter().any(|hand| found.contains(hand));
            if hand && (expected.contains(&"high_post") || expected.contains(&"weak")) {
                let says = "the ball side or the weak side, as `wing(ball)` or `wing(weak)`: left and right are \
                            never written";
                return word(found, finding.expected(says));
            }
            word(found, one_of(finding, expected, found))
        }
        Ron::NoSuchStructField {
            expected, found, ..
        } => {
            if outside_its_brackets(&error.code) {
                let said = format!("`{found}:` cannot stand inside these brackets");
                let wanted = "the brackets before it to be closed: `)`";
                return word(found, Finding::error("", said).expected(wanted));
            }
            let finding = Finding::error("", format!("there is no `{found}:` here"));
            word(found, one_of(finding, expected, found))
        }
        Ron::MissingStructField { field, .. } => {
            group(Finding::error("", format!("`{field}:` is missing here")))
        }
        Ron::DuplicateStructField { field, .. } => word(
            field,
            Finding::error("", format!("`{field}:` is written twice")),
        ),
        Ron::IntegerOutOfBounds => before(
            Finding::error("", "this number is too large or negative")
                .expected("a small whole number"),
        ),
        Ron::ExpectedComma if original.get(stop..).is_some_and(|t| t.starts_with('(')) => here(
            Finding::error("", "no brackets can follow this word")
                .expected("`,` or a closing bracket"),
        ),
        Ron::ExpectedIdentifier | Ron::SuggestRawIdentifier(_) => {
            let leaf = tree.leaf_at(stop).filter(|leaf| leaf.start == stop);
            here(not_a_word(leaf.map_or("", |leaf| &leaf.word)))
        }
        Ron::TrailingCharacters => here(Finding::error(
            "",
            "nothing may follow the last closing bracket",
        )),
        Ron::InvalidValueForType { expected, found } => before(
            Finding::error("", format!("{found} cannot stand here")).expected(expected.as_str()),
        ),
        Ron::ExpectedDifferentLength { expected, .. } => group(
            Finding::error("", "there are too many or too few values here")
                .expected(expected.as_str()),
        ),
        Ron::Message(said) => before(Finding::error("", said.as_str())),
        other => here(match simple(other) {
            Some((said, wanted)) => Finding::error("", said).expected(wanted),
            None => Finding::error("", other.to_string()),
        }),
    }
}

/// What is wrong and what was expected, where the place says the rest.
fn simple(code: &Ron) -> Option<(&'static str, &'static str)> {
    Some(match code {
        Ron::Eof => ("the file ends too early", "a closing bracket"),
        Ron::ExpectedComma => ("a comma is missing before this", "`,` or a closing bracket"),
        Ron::ExpectedArray => ("a list must stand here", "`[` ... `]`"),
        Ron::ExpectedArrayEnd => ("the list is not closed", "`]`"),
        Ron::ExpectedStructLike | Ron::ExpectedNamedStructLike(_) => (
            "brackets with what belongs to it must stand here",
            "`(` ... `)`",
        ),
        Ron::ExpectedStructLikeEnd | Ron::ExpectedOptionEnd => ("the bracket is not closed", "`)`"),
        Ron::ExpectedMapColon => ("a colon is missing here", "`:`"),
        Ron::ExpectedString => ("this is not a text in quotes", "\"...\""),
        Ron::ExpectedStringEnd => ("a text in quotes is not closed", "`\"`"),
        Ron::ExpectedFloat => ("this is not a number", "a number such as 1.5"),
        Ron::ExpectedInteger => ("this is not a whole number", "a whole number such as 3"),
        Ron::ExpectedBoolean => ("this is neither yes nor no", "true or false"),
        Ron::UnclosedBlockComment => ("a comment is not closed", "`*/`"),
        _ => return None,
    })
}

/// Words with which a rule's parts begin: inside other brackets they tell of a bracket left open.
const FIRST_WORDS: [&str; 4] = ["name", "when", "do", "rules"];

fn one_of(finding: Finding, expected: &[&str], found: &str) -> Finding {
    let finding = match expected {
        [] => finding,
        words => finding.expected(words.join(", ")),
    };
    finding.nearest(nearest_word(found, expected.iter().copied()))
}
