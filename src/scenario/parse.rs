//! RON text → a value of the language, with every problem at its place.
//!
//! A length written `ft(15)`, `ft_in(15, 6)` or `m(4.5)` becomes metres before `ron` reads the text. A mistake
//! is noted and mended (`mend.rs`), and the text read again, so that one reading tells all mistakes.

use ron::error::{Error as Ron, Position, SpannedError};
use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

use super::explain::{Slip, explain};
use super::mend::{Mend, mends};
use super::problem::{Problem, floor_char};
use super::slips::{no_bracket, not_closed};
use super::source::Source;
use super::tree::{DEEPEST, Node, TooDeep};
use crate::offence::check::Finding;

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
/// Bytes read again in all, while mends are tried, and how often at most; in a longer text than the last nothing is
/// mended (ours: the longest shipped file has a tenth of it, and hostile files must not cost time).
const READ_AGAIN: usize = 1_500_000;
const MOST_TRIES: usize = 400;
pub(super) const LONGEST_MENDED: usize = 100_000;

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
        options
            .from_str::<T>(&text)
            .map_err(|error| Box::new((error, text)))
    };
    let length = source.text.len().max(1);
    let mut tries = match length {
        ..=LONGEST_MENDED => (READ_AGAIN / length).min(MOST_TRIES),
        _ => 0,
    };
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
            Err(wrong) => *wrong,
        };
        let (start, end, finding, slip) = explain(&error, &text, &edits, &source.text, &tree);
        problems.push(at(start, end, finding.clone()));
        let side = match slip {
            // Nobody knows what belongs where.
            Some(Slip::LeftOpen) => return Err(problems),
            Some(Slip::Side(side)) => Some(side),
            None => None,
        };
        if problems.len() >= MOST_MENDED || tries == 0 {
            return Err(problems);
        }
        let stop = reached(&error, &text, &edits, &source.text);
        let mut farther = None;
        let place = (start, end, &finding);
        for Mend { edit, set_aside } in mends(&error.code, place, side, &tree, &source.text) {
            // What stands in place of something else has to be read to its end.
            let least = match set_aside {
                Some(_) if edit.end > edit.start => edit.end,
                _ => 0,
            };
            if tries == 0 {
                break;
            }
            let Some(all) = with(&edits, edit) else {
                continue;
            };
            tries -= 1;
            let next = read(&all);
            let comes_farther = next.as_ref().err().is_none_or(|wrong| {
                let (e, text) = &**wrong;
                let new = reached(e, text, &all, &source.text);
                let farther = new > stop || new == stop && another_is_missing(&error.code, &e.code);
                farther && new > least
            });
            if comes_farther {
                farther = Some((next, all, set_aside));
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
pub(super) fn reached(error: &SpannedError, text: &str, edits: &[Edit], original: &str) -> usize {
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
pub(super) fn unedited(at: usize, edits: &[Edit]) -> usize {
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

pub(super) fn offset(text: &str, position: Position) -> usize {
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
