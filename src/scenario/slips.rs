//! Slips for which `ron` has no words that help: a list or bracket left open, which it notices much
//! later, a place with a side too many or too few, and one of our words in quotes or with a dash.

use super::tree::Node;
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

/// A place in the middle with a side, or one beside it without: the word just before byte `at`.
pub(super) fn side_of_a_place(text: &str, at: usize) -> Option<Slip> {
    let before = text[..at].trim_end();
    let letters = before.trim_end_matches(|c: char| c.is_alphanumeric() || c == '_');
    let (start, end) = (letters.len(), before.len());
    let word = &before[start..];
    let is_place = |written: &str| ron::from_str::<Place>(written).is_ok();
    let bracket = text[end..].trim_start().starts_with('(');
    let finding = if bracket && is_place(word) {
        Finding::error("", format!("`{word}` takes no side"))
            .expected(format!("`{word}` without brackets"))
    } else if !bracket && is_place(&format!("{word}(ball)")) {
        Finding::error("", format!("`{word}` needs its side"))
            .expected(format!("`{word}(ball)`, or weak (or own, where he goes)"))
    } else {
        return None;
    };
    Some((start, end, finding))
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
