//! What is read in place of what cannot be read, so that one reading tells as many mistakes as it can.
//!
//! A misspelt word gives way to the nearest right one, a place without a side gets one, a missing comma is put
//! in. Anything else is set aside: in its place is read the first neutral value with which the reading comes
//! farther; if none does, what is around it is set aside. What rests on something set aside is not judged.

use ron::error::Error as Ron;

use super::parse::Edit;
use super::slips::Side;
use super::tree::Node;
use crate::offence::check::Finding;

/// One thing that may be read instead.
pub(super) struct Mend {
    pub edit: Edit,
    /// The part of the text that is no longer known.
    pub set_aside: Option<(usize, usize)>,
}

/// Values that say as little as can be, one for each thing that files are made of.
const NEUTRAL: [&str; 19] = [
    "hold",
    "next",
    "top",
    "ball",
    "ball_crosses",
    "ball_side",
    "shot",
    "1",
    "\"x\"",
    "[]",
    "true",
    "varsity",
    "nfhs",
    "never",
    "low_man",
    "(man: 1)",
    "(1, 2)",
    "(who: low_man, within: 5, depth: 2)",
    "(short: 1, pace: 0.9)",
];

/// What may be read instead, in the order in which it is tried.
pub(super) fn mends(
    code: &Ron,
    (start, end, finding): (usize, usize, &Finding),
    side: Option<Side>,
    tree: &Node,
    text: &str,
) -> Vec<Mend> {
    let mut out = Vec::new();
    let edit = |start, end, text: &str| Edit {
        start,
        end,
        text: text.to_owned(),
    };
    if let Some(word) = finding.nearest.as_deref().filter(|_| is_word(code)) {
        let edit = edit(start, end, word);
        let set_aside = None;
        out.push(Mend { edit, set_aside });
    }
    let chain = chain(tree, start);
    match (side, code) {
        (Some(Side::Missing), _) => out.push(Mend {
            edit: edit(end, end, "(ball)"),
            set_aside: Some((start, end)),
        }),
        (Some(Side::TooMany), _) => {
            if let Some(node) = chain.last() {
                out.push(Mend {
                    edit: edit(start, node.end, &text[start..end]),
                    set_aside: None,
                });
            }
        }
        (None, Ron::NoSuchStructField { found, .. }) => {
            out.extend(without(&chain, found, start, text));
        }
        (None, Ron::DuplicateStructField { field, .. }) => {
            out.extend(without(&chain, field, start, text));
        }
        (None, Ron::MissingStructField { field, .. }) => {
            if let Some(at) = chain.last().and_then(|node| opening(node, text)) {
                out.extend(NEUTRAL.map(|value| Mend {
                    edit: edit(at, at, &format!("{field}: {value}, ")),
                    set_aside: Some((at, at)),
                }));
            }
        }
        (None, Ron::ExpectedComma) => out.push(Mend {
            edit: edit(start, start, ", "),
            set_aside: None,
        }),
        _ => {}
    }
    for node in chain.iter().skip(1).rev() {
        for value in NEUTRAL {
            out.push(Mend {
                edit: edit(node.start, node.end, value),
                set_aside: Some((node.start, node.end)),
            });
        }
    }
    out
}

fn is_word(code: &Ron) -> bool {
    matches!(
        code,
        Ron::NoSuchEnumVariant { .. }
            | Ron::NoSuchStructField { .. }
            | Ron::ExpectedIdentifier
            | Ron::SuggestRawIdentifier(_)
    )
}

/// The nodes around byte `at`, from the whole text inward.
fn chain(tree: &Node, at: usize) -> Vec<&Node> {
    let mut chain = vec![tree];
    let mut here = tree;
    while let Some(item) = here
        .items
        .iter()
        .find(|item| item.node.start <= at && at < item.node.end)
    {
        here = &item.node;
        chain.push(here);
    }
    chain
}

/// Just behind the opening bracket of a group.
fn opening(node: &Node, text: &str) -> Option<usize> {
    let from = node.start + node.word.len();
    let bracket = text.get(from..)?.find(['(', '[', '{'])?;
    Some(from + bracket + 1).filter(|_| node.is_group)
}

/// The part named `key` that begins at byte `start` taken out, with the comma behind it.
fn without(chain: &[&Node], key: &str, start: usize, text: &str) -> Option<Mend> {
    let items = chain.iter().rev().flat_map(|node| &node.items);
    let item = items
        .filter(|item| item.key.as_deref() == Some(key))
        .find(|item| item.node.start > start)?;
    let rest = text.get(item.node.end..)?;
    let blank = rest.len() - rest.trim_start().len();
    let comma = usize::from(rest.trim_start().starts_with(','));
    let end = item.node.end + if comma == 1 { blank + 1 } else { 0 };
    let edit = Edit {
        start,
        end,
        text: String::new(),
    };
    let set_aside = None;
    Some(Mend { edit, set_aside })
}
