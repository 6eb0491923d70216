//! What a text describes, by the names of its outermost parts.

use super::parse::LONGEST_MENDED;
use super::problem::{Problem, Problems};
use super::shipped::Kind;
use super::source::Source;
use super::tree::Node;
use crate::offence::check::nearest_word;

/// The parts that texts of each kind have, as files name them. `name` and `note` stand in all.
const PARTS: [(Kind, &[&str]); 5] = [
    (
        Kind::Offence,
        &[
            "alignment",
            "keep_filled",
            "rules",
            "reading",
            "drive_from",
            "patience",
            "ball",
        ],
    ),
    (
        Kind::Defence,
        &[
            "stances",
            "help",
            "closeout",
            "switch",
            "overrides",
            "zone",
            "chasers",
        ],
    ),
    (Kind::Tweak, &["changes", "of"]),
    (Kind::Squad, &["players", "level"]),
    (
        Kind::Scenario,
        &[
            "court",
            "offence",
            "defence",
            "level",
            "attack_level",
            "defence_level",
            "attackers",
            "defenders",
            "tweaks",
            "start",
            "shot_clock",
            "drill",
            "model",
            "practice",
        ],
    ),
];

/// So many outermost parts are looked at; no file has more.
const MOST_PARTS: usize = 40;

/// The kind with most of the text's outermost parts; a misspelt part counts half. `None` if none is known.
pub fn kind_of(text: &str) -> Option<Kind> {
    let points = points(text)?;
    let most = points.into_iter().max().filter(|most| *most > 0)?;
    let at = points.into_iter().position(|points| points == most)?;
    Some(PARTS[at].0)
}

/// How many of its outermost parts a text shares with each kind.
fn points(text: &str) -> Option<[u32; PARTS.len()]> {
    let tree = Node::of(text).ok()?;
    let items = tree.items.iter().take(MOST_PARTS);
    let keys = items.filter_map(|item| item.key.as_deref());
    let mut points = [0_u32; PARTS.len()];
    for key in keys.filter(|key| !["name", "note"].contains(key)) {
        let known = PARTS.iter().any(|(_, parts)| parts.contains(&key));
        for (points, (_, parts)) in points.iter_mut().zip(PARTS) {
            *points += match parts.contains(&key) {
                true => 2,
                false if !known => u32::from(nearest_word(key, parts.iter().copied()).is_some()),
                false => 0,
            };
        }
    }
    Some(points)
}

/// The text, unless it surely describes something else than `wanted`: it has no part that such a text has.
///
/// # Errors
/// Says what it describes.
pub(super) fn of_kind(wanted: Kind, source: Source) -> Result<Source, Problems> {
    if source.text.len() > LONGEST_MENDED {
        return Ok(source);
    }
    let points = points(&source.text).unwrap_or_default();
    let none = PARTS
        .iter()
        .zip(points)
        .any(|((kind, _), points)| *kind == wanted && points == 0);
    match kind_of(&source.text).filter(|_| none) {
        Some(kind) => {
            let (is, wanted) = (kind.with_article(), wanted.with_article());
            let said = format!("this file describes {is}, and {wanted} must stand here");
            Err(Problem::with_file(&source.file, said).into())
        }
        None => Ok(source),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::shipped::SHIPPED;

    #[test]
    fn every_shipped_text_is_known_for_what_it_is_on_one_line_too() {
        for file in SHIPPED {
            let bare: Vec<&str> = file
                .text
                .lines()
                .filter(|line| !line.trim_start().starts_with("//"))
                .collect();
            for text in [file.text.to_owned(), bare.join(" ")] {
                assert_eq!(kind_of(&text), Some(file.kind), "{}", file.word);
            }
        }
    }

    #[test]
    fn words_in_quotes_and_misspelt_parts_do_not_mislead() {
        let note = "(name: \"a\", note: \"alignment: stances:\", changes: [])";
        assert_eq!(kind_of(note), Some(Kind::Tweak));
        assert_eq!(kind_of("(name: \"a\", stancs: ())"), Some(Kind::Defence));
        assert_eq!(kind_of("(name: \"a\")"), None);
        assert_eq!(kind_of("name: a"), None);
    }
}
