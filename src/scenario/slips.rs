//! Slips for which `ron` has no words that help: a comment, text, list or bracket left open, which it notices
//! much later, a file in another notation, a place with a side too many or too few, and one of our words in
//! quotes or with a dash.

use super::tree::{Node, quoted_length};
use crate::offence::Place;
use crate::offence::check::Finding;

/// Where, and what.
pub(super) type Slip = (usize, usize, Finding);

/// The first list or bracket that is not closed before what cannot stand in it, or before a closing
/// bracket of another kind.
pub(super) fn left_open(tree: &Node, text: &str) -> Option<Slip> {
    open(tree, None, text)
}

fn open(node: &Node, key: Option<&str>, text: &str) -> Option<Slip> {
    if !node.is_group {
        return None;
    }
    let opening = text[node.start + node.word.len()..]
        .trim_start()
        .chars()
        .next()?;
    let (thing, closing) = match opening {
        '[' => ("list", ']'),
        '(' => ("bracket", ')'),
        _ => return None,
    };
    // Reckoned only when it is said: a text may have very many brackets.
    let said = |before: &str| {
        let line = text[..node.start].matches('\n').count() + 1;
        let key = key.map_or(String::new(), |key| format!("{key}: "));
        let word = &node.word;
        let said = format!(
            "the {thing} `{key}{word}{opening}` that opens on line {line} is not closed before \
             `{before}`"
        );
        Finding::error("", said).expected(format!("`{closing}` somewhere before this"))
    };
    for item in &node.items {
        if let (Some(inner), '[') = (&item.key, opening) {
            // No item of a list has a name: this one belongs outside.
            let start = text[..item.node.start].rfind(inner.as_str())?;
            return Some((start, start + inner.len(), said(&format!("{inner}:"))));
        }
        if let Some(slip) = open(&item.node, item.key.as_deref(), text) {
            return Some(slip);
        }
    }
    let last = text[..node.end].chars().next_back()?;
    let other = matches!(last, ')' | ']' | '}') && last != closing;
    other.then(|| (node.end - 1, node.end, said(&last.to_string())))
}

/// A comment or a text in quotes that is not closed.
pub(super) fn not_closed(text: &str) -> Option<Slip> {
    let mut at = 0;
    // The first text in quotes that goes on beyond its line: if one is open at the end, it is most likely this.
    let mut beyond_its_line = None;
    while let Some(next) = text[at..].find(['/', '"', '\'']) {
        let before = &text[at..at + next];
        at += next;
        let rest = &text[at..];
        let raw = raw_hashes(before).filter(|_| rest.starts_with('"'));
        at += if rest.starts_with("//") {
            rest.find('\n').unwrap_or(rest.len())
        } else if rest.starts_with("/*") {
            let Some(length) = comment_length(rest) else {
                let finding = Finding::error("", "this comment is not closed");
                return Some((at, at + 2, finding.expected("`*/` where it ends")));
            };
            length
        } else if let Some(hashes) = raw {
            let closing = format!("\"{}", "#".repeat(hashes));
            let end = rest[1..].find(&closing);
            end.map_or(rest.len(), |end| 1 + end + closing.len())
        } else if rest.starts_with('"') {
            let length = quoted_length(rest, '"');
            let line = rest[..length].find('\n').unwrap_or(length);
            if length > line && beyond_its_line.is_none() {
                beyond_its_line = Some((at, at + line));
            }
            if length == rest.len() && !closed(rest) {
                let (start, end) = beyond_its_line.unwrap_or((at, at + line));
                let said = "the text in quotes that begins here is not closed";
                let finding = Finding::error("", said).expected("`\"` where it ends");
                return Some((start, end.max(start + 1), finding));
            }
            length
        } else {
            character_length(rest).unwrap_or(1)
        };
    }
    None
}

/// How many `#` of a raw text (`r##"`) a text ends with, if it ends as one begins.
fn raw_hashes(before: &str) -> Option<usize> {
    let bare = before.trim_end_matches('#');
    bare.ends_with('r').then_some(before.len() - bare.len())
}

/// Bytes of the block comment with which a text begins; `None` if it is not closed.
fn comment_length(text: &str) -> Option<usize> {
    let (mut depth, mut at) = (0_usize, 0);
    while let Some(next) = text[at..].find(['/', '*']) {
        at += next;
        let rest = &text[at..];
        at += if rest.starts_with("/*") {
            depth += 1;
            2
        } else if rest.starts_with("*/") {
            depth -= 1;
            2
        } else {
            1
        };
        if depth == 0 {
            return Some(at);
        }
    }
    None
}

/// Does a text in quotes that goes to the end of the file end in a quote of its own?
fn closed(text: &str) -> bool {
    let inner = text.get(1..).and_then(|inner| inner.strip_suffix('"'));
    inner.is_some_and(|inner| (inner.len() - inner.trim_end_matches('\\').len()) % 2 == 0)
}

/// Bytes of the character in quotes with which a text begins.
fn character_length(text: &str) -> Option<usize> {
    let inner = text
        .strip_prefix("'\\")
        .or_else(|| text.strip_prefix('\''))?;
    let next = inner.chars().next()?.len_utf8();
    let ends = inner[next..].starts_with('\'');
    ends.then(|| text.len() - inner.len() + next + 1)
}

/// A file that does not begin with the bracket in which everything stands: it may be in another notation.
pub(super) fn no_bracket(tree: &Node) -> Option<Slip> {
    let braced = tree.is_group && tree.word.is_empty();
    let named = tree.word.chars().all(|c| c.is_alphanumeric() || c == '_');
    if tree.is_group && (braced || named) {
        return None;
    }
    let said = "everything in a file stands in one pair of round brackets; this begins without one \
                (is it YAML or another notation?)";
    let finding = Finding::error("", said).expected("(name: \"...\", ...)");
    Some((tree.start, tree.end, finding))
}

/// What is wrong with the side of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// There is none.
    Missing,
    /// There is one where none belongs.
    TooMany,
}

/// A place in the middle with a side, or one beside it without: the word just before byte `at`.
pub(super) fn side_of_a_place(text: &str, at: usize) -> Option<(Slip, Side)> {
    let before = text[..at].trim_end();
    let letters = before.trim_end_matches(|c: char| c.is_alphanumeric() || c == '_');
    let (start, end) = (letters.len(), before.len());
    let word = &before[start..];
    let is_place = |written: &str| ron::from_str::<Place>(written).is_ok();
    let bracket = text[end..].trim_start().starts_with('(');
    let (finding, side) = if bracket && is_place(word) {
        let finding = Finding::error("", format!("`{word}` takes no side"));
        let wanted = format!("`{word}` without brackets");
        (finding.expected(wanted), Side::TooMany)
    } else if !bracket && is_place(&format!("{word}(ball)")) {
        let finding = Finding::error("", format!("`{word}` needs its side"));
        let wanted = format!("`{word}(ball)`, or weak (or own, where a player goes)");
        (finding.expected(wanted), Side::Missing)
    } else {
        return None;
    };
    Some(((start, end, finding), side))
}

/// Something else where one of the program's own words must stand.
pub(super) fn not_a_word(written: &str) -> Finding {
    let plain = written.trim_matches(['"', '\'']);
    let word: String = plain
        .chars()
        .map(|c| if c == ' ' { '_' } else { c })
        .filter(|c| c.is_alphanumeric() || *c == '_')
        .flat_map(char::to_lowercase)
        .collect();
    if !word.starts_with(char::is_alphabetic) {
        return Finding::error("", "a word must stand here");
    }
    let said = if plain.len() < written.len() {
        "the program's own words stand without quotes".to_owned()
    } else {
        format!("`{written}` is not one word")
    };
    Finding::error("", said).nearest(Some(word))
}
