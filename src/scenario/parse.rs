//! RON text → a value of the language, with every problem at its place.
//!
//! A length written `ft(15)`, `ft_in(15, 6)` or `m(4.5)` becomes metres before `ron` reads the text. A mistake
//! is noted and mended (`mend.rs`), and the text read again, so that one reading tells all mistakes.

use ron::error::{Error as Ron, Position, SpannedError};
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

use super::mend::mends;
use super::problem::{Problem, floor_char};
use super::slips::{Side, left_open, no_bracket, not_a_word, not_closed, side_of_a_place};
use super::source::Source;
use super::tree::{DEEPEST, Node, TooDeep};
use crate::offence::check::{Finding, nearest_word};
use crate::offence::words::otherwise;

/// Metres in a foot (exact, by definition of the foot).
const FOOT: f64 = 0.3048;
/// Keys of lengths which squads read themselves.
const SQUADS_OWN: [&str; 2] = ["height", "standing_reach"];
/// Keys under which a length may be written with its unit.
const LENGTHS: [&str; 8] = [
    "gap", "within", "depth", "stunt", "short", "covers", "x", "y",
];
/// Most mistakes mended, and wrong lengths reported, in one file.
const MOST_MENDED: usize = 40;
/// Bytes read again in all, while mends are tried; and how often at least and at most.
const READ_AGAIN: usize = 1_000_000;
const TRIES: (usize, usize) = (1, 400);

/// A value and the text from which it was read.
#[derive(Clone, Debug)]
pub struct Read<T> {
    pub value: T,
    pub source: Source,
    pub tree: Node,
    /// What could not be read; the value is only good for further checks if there is any.
    pub problems: Vec<Problem>,
    /// Parts of the text (first byte, one past the last) in whose place something else was read.
    pub set_aside: Vec<(usize, usize)>,
}

impl<T> Read<T> {
    /// A finding, placed in the text.
    pub fn place(&self, finding: Finding) -> Problem {
        let (start, end) = self.tree.find(&finding.at).mark();
        Problem::at(&self.source.file, &self.source.text, start, end, finding)
    }

    /// Was everything read on which a finding rests?
    pub fn knows(&self, finding: &Finding) -> bool {
        let paths = std::iter::once(&finding.at).chain(&finding.rests_on);
        let nodes: Vec<&Node> = paths.map(|path| self.tree.find(path)).collect();
        let apart = |(start, end): &(usize, usize)| {
            let beside = |node: &&Node| *end < node.start || node.end <= *start;
            nodes.iter().all(beside)
        };
        self.set_aside.iter().all(apart)
    }
}

/// A piece of the source text for which another text is read.
#[derive(Clone)]
pub(super) struct Edit {
    pub start: usize,
    pub end: usize,
    pub text: String,
}

/// Reads one value.
///
/// # Errors
/// If the text cannot be read as a `T`; the problems found up to there.
pub fn parse<T: DeserializeOwned>(source: Source) -> Result<Read<T>, Vec<Problem>> {
    let at = |start, end, finding| Problem::at(&source.file, &source.text, start, end, finding);
    let tree = Node::of(&source.text).map_err(|TooDeep(place)| {
        let said = format!("brackets nest deeper than {DEEPEST}");
        vec![at(place, place + 1, Finding::error("", said))]
    })?;
    if tree.start == tree.end {
        let finding = Finding::error("", "the file is empty").expected("(name: \"...\", ...)");
        return Err(vec![at(0, 0, finding)]);
    }
    if let Some((start, end, finding)) = not_closed(&source.text).or_else(|| no_bracket(&tree)) {
        return Err(vec![at(start, end, finding)]);
    }
    let mut edits = Vec::new();
    let mut problems = Vec::new();
    lengths(
        &tree,
        None,
        &source.text,
        &mut edits,
        &mut |node: &Node, finding| {
            if problems.len() < MOST_MENDED {
                problems.push(at(node.start, node.end, finding));
            }
        },
    );
    let options = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let read = |edits: &[Edit]| {
        let text = edited(&source.text, edits);
        options.from_str::<T>(&text).map_err(|error| (error, text))
    };
    let mut tries = (READ_AGAIN / source.text.len().max(1)).clamp(TRIES.0, TRIES.1);
    let mut set_aside = Vec::new();
    edits.sort_by_key(|edit| edit.start);
    let mut now = read(&edits);
    loop {
        let (error, text) = match now {
            Ok(value) => {
                return Ok(Read {
                    value,
                    tree,
                    problems,
                    source,
                    set_aside,
                });
            }
            Err(wrong) => wrong,
        };
        let (start, end, finding, slip) = explain(&error, &text, &edits, &source.text, &tree);
        problems.push(at(start, end, finding.clone()));
        let side = match slip {
            // Nobody knows what belongs where.
            Some(Slip::LeftOpen) => return Err(problems),
            Some(Slip::Side(side)) => Some(side),
            None => None,
        };
        if problems.len() >= MOST_MENDED {
            return Err(problems);
        }
        let stop = reached(&error, &text, &edits, &source.text);
        let mut farther = None;
        let place = (start, end, &finding);
        for mend in mends(&error.code, place, side, &tree, &source.text) {
            // What stands in place of something else has to be read to its end.
            let least = match &mend.set_aside {
                Some(_) if mend.edit.end > mend.edit.start => mend.edit.end,
                _ => 0,
            };
            let Some(all) = with(&edits, mend.edit) else {
                continue;
            };
            if tries == 0 {
                break;
            }
            tries -= 1;
            let next = read(&all);
            let comes_farther = next.as_ref().err().is_none_or(|(e, text)| {
                let new = reached(e, text, &all, &source.text);
                let farther = new > stop || new == stop && another_is_missing(&error.code, &e.code);
                farther && new > least
            });
            if comes_farther {
                farther = Some((next, all, mend.set_aside));
                break;
            }
        }
        let Some((next, all, aside)) = farther else {
            return Err(problems);
        };
        set_aside.extend(aside);
        (now, edits) = (next, all);
    }
}

/// How far into the source text the reading came.
fn reached(error: &SpannedError, text: &str, edits: &[Edit], original: &str) -> usize {
    let until = offset(text, error.span.end);
    floor_char(original, unedited(until, edits))
}

/// What lacks two parts is noticed twice at the same place.
fn another_is_missing(one: &Ron, two: &Ron) -> bool {
    match (one, two) {
        (
            Ron::MissingStructField { field: one, .. },
            Ron::MissingStructField { field: two, .. },
        ) => one != two,
        _ => false,
    }
}

/// The edits with one more, in order, without those inside it; `None` if it cuts across one, or is there already.
fn with(edits: &[Edit], new: Edit) -> Option<Vec<Edit>> {
    let inside = |edit: &Edit| new.start <= edit.start && edit.end <= new.end;
    let apart = |edit: &Edit| edit.end <= new.start || new.end <= edit.start;
    let same = |edit: &Edit| (edit.start, edit.end, &edit.text) == (new.start, new.end, &new.text);
    let insert = new.start == new.end;
    let good = |edit: &Edit| apart(edit) || inside(edit) && !insert;
    if edits.iter().any(|edit| !good(edit) || same(edit)) {
        return None;
    }
    let mut all: Vec<Edit> = edits
        .iter()
        .filter(|edit| insert || !inside(edit))
        .cloned()
        .collect();
    all.push(new);
    all.sort_by_key(|edit| (edit.start, edit.end));
    Some(all)
}

fn edited(text: &str, edits: &[Edit]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    for edit in edits {
        out.push_str(&text[from..edit.start]);
        out.push_str(&edit.text);
        from = edit.end;
    }
    out.push_str(&text[from..]);
    out
}

/// The byte of the source text that byte `at` of the edited text came from.
fn unedited(at: usize, edits: &[Edit]) -> usize {
    let (mut old, mut new) = (0, 0);
    for edit in edits {
        let new_start = new + (edit.start - old);
        if at <= new_start {
            break;
        }
        if at < new_start + edit.text.len() {
            return edit.start;
        }
        old = edit.end;
        new = new_start + edit.text.len();
    }
    old + at.saturating_sub(new)
}

/// Turns lengths with a unit into metres, and finds those that stand where no length is.
fn lengths(
    node: &Node,
    key: Option<&str>,
    text: &str,
    edits: &mut Vec<Edit>,
    wrong: &mut impl FnMut(&Node, Finding),
) {
    if !node.is_group || !["m", "ft", "ft_in"].contains(&node.word.as_str()) {
        for item in &node.items {
            lengths(&item.node, item.key.as_deref().or(key), text, edits, wrong);
        }
        return;
    }
    if key.is_some_and(|key| SQUADS_OWN.contains(&key)) {
        return;
    }
    let parts: Vec<Option<f64>> = node
        .items
        .iter()
        .map(|item| text[item.node.start..item.node.end].parse().ok())
        .collect();
    let metres = match (node.word.as_str(), &parts[..]) {
        ("m", [Some(metres)]) => Some(*metres),
        ("ft", [Some(feet)]) => Some(feet * FOOT),
        ("ft_in", [Some(feet), Some(inches)]) => Some((feet + inches / 12.0) * FOOT),
        _ => None,
    };
    let metres = metres.filter(|metres| metres.is_finite());
    if !key.is_some_and(|key| LENGTHS.contains(&key)) {
        let said = format!(
            "`{}` can be written only where a length is meant",
            node.word
        );
        wrong(node, Finding::error("", said));
    } else if metres.is_none() {
        let finding = Finding::error("", "this length cannot be read");
        wrong(
            node,
            finding.expected("`m(4.5)`, `ft(15)` or `ft_in(15, 6)`"),
        );
    }
    edits.push(Edit {
        start: node.start,
        end: node.end,
        text: format!("{:?}", metres.unwrap_or(1.0)),
    });
}

fn offset(text: &str, position: Position) -> usize {
    let mut start = 0;
    for _ in 1..position.line {
        start += text[start..]
            .find('\n')
            .map_or(text.len() - start, |i| i + 1);
    }
    let column = position.col.saturating_sub(1);
    text[start..]
        .char_indices()
        .nth(column)
        .map_or(text.len(), |(i, _)| start + i)
}

/// Where an error of `ron` is in the source text, and what it means.
fn explain(
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
    let slip = outside_its_brackets(&error.code).then_some(Slip::LeftOpen);
    (start, end, finding, slip)
}

/// A common slip.
enum Slip {
    /// A bracket or list is not closed.
    LeftOpen,
    /// A place has a side too many or too few.
    Side(Side),
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
        Ron::Eof => {
            here(Finding::error("", "the file ends too early").expected("a closing bracket"))
        }
        Ron::ExpectedComma if original.get(stop..).is_some_and(|t| t.starts_with('(')) => here(
            Finding::error("", "no brackets can follow this word")
                .expected("`,` or a closing bracket"),
        ),
        Ron::ExpectedComma => here(
            Finding::error("", "a comma is missing before this")
                .expected("`,` or a closing bracket"),
        ),
        Ron::ExpectedArray => {
            here(Finding::error("", "a list must stand here").expected("`[` ... `]`"))
        }
        Ron::ExpectedArrayEnd => here(Finding::error("", "the list is not closed").expected("`]`")),
        Ron::ExpectedStructLike | Ron::ExpectedNamedStructLike(_) => here(
            Finding::error("", "brackets with what belongs to it must stand here")
                .expected("`(` ... `)`"),
        ),
        Ron::ExpectedStructLikeEnd | Ron::ExpectedOptionEnd => {
            here(Finding::error("", "the bracket is not closed").expected("`)`"))
        }
        Ron::ExpectedMapColon => {
            here(Finding::error("", "a colon is missing here").expected("`:`"))
        }
        Ron::ExpectedString => {
            here(Finding::error("", "this is not a text in quotes").expected("\"...\""))
        }
        Ron::ExpectedStringEnd => {
            here(Finding::error("", "a text in quotes is not closed").expected("`\"`"))
        }
        Ron::ExpectedFloat => {
            here(Finding::error("", "this is not a number").expected("a number such as 1.5"))
        }
        Ron::ExpectedInteger => here(
            Finding::error("", "this is not a whole number").expected("a whole number such as 3"),
        ),
        Ron::ExpectedBoolean => {
            here(Finding::error("", "this is neither yes nor no").expected("true or false"))
        }
        Ron::ExpectedIdentifier | Ron::SuggestRawIdentifier(_) => {
            let leaf = tree.leaf_at(stop).filter(|leaf| leaf.start == stop);
            here(not_a_word(leaf.map_or("", |leaf| &leaf.word)))
        }
        Ron::TrailingCharacters => here(Finding::error(
            "",
            "nothing may follow the last closing bracket",
        )),
        Ron::UnclosedBlockComment => {
            here(Finding::error("", "a comment is not closed").expected("`*/`"))
        }
        Ron::InvalidValueForType { expected, found } => before(
            Finding::error("", format!("{found} cannot stand here")).expected(expected.as_str()),
        ),
        Ron::ExpectedDifferentLength { expected, .. } => group(
            Finding::error("", "there are too many or too few values here")
                .expected(expected.as_str()),
        ),
        Ron::Message(said) => before(Finding::error("", said.as_str())),
        other => here(Finding::error("", other.to_string())),
    }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_of_the_edited_text_lead_back_to_the_source_text() {
        let source = "ab ft(3) cd ft(9999) ef";
        let edit = |text: &str, new: &str| {
            let start = source.find(text).unwrap();
            Edit {
                start,
                end: start + text.len(),
                text: new.to_owned(),
            }
        };
        let edits = [edit("ft(3)", "0.9144000001"), edit("ft(9999)", "3")];
        let text = edited(source, &edits);
        assert_eq!(text, "ab 0.9144000001 cd 3 ef");
        for word in ["ab", "cd", "ef"] {
            let place = unedited(text.find(word).unwrap(), &edits);
            assert_eq!(place, source.find(word).unwrap(), "{word}");
        }
        assert_eq!(unedited(text.len(), &edits), source.len());
        assert_eq!(unedited(text.find("144").unwrap(), &edits), 3);
    }

    #[test]
    fn a_position_counts_characters_and_a_place_counts_bytes() {
        let text = "é\nüx";
        assert_eq!(
            offset(text, Position { line: 2, col: 2 }),
            text.find('x').unwrap()
        );
        assert_eq!(offset(text, Position { line: 9, col: 9 }), text.len());
    }
}
