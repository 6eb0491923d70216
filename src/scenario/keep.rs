//! A file written again with changes: what did not change stays as it was written, comments and all.
//!
//! The text is compared part by part: what it says now, as values, with what it is to say. Only parts that differ are
//! written anew. In a list an item stays itself as long as it, or its name, is the same, wherever it goes.

use ron::extensions::Extensions;
use serde::Serialize;
use serde::de::DeserializeOwned;

use super::tree::Node;

/// Lines that are written anew are at most so long, letters, if they can be broken.
const WIDE: usize = 116;
/// Steps of indentation, letters.
const STEP: usize = 4;

/// As the files are read: what may be missing is written without `Some`.
fn options() -> ron::Options {
    ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// `text` with as much of it as says what `value` says; `None` if it cannot be read, or not be kept.
pub fn kept<T: Serialize + DeserializeOwned + PartialEq>(text: &str, value: &T) -> Option<String> {
    let options = options();
    let said: T = options.from_str(text).ok()?;
    if said == *value {
        return Some(text.to_owned());
    }
    let (was, now) = (
        options.to_string(&said).ok()?,
        options.to_string(value).ok()?,
    );
    let trees = (
        Node::of(text).ok()?,
        Node::of(&was).ok()?,
        Node::of(&now).ok()?,
    );
    let (old, was, now) = (At(text, &trees.0), At(&was, &trees.1), At(&now, &trees.2));
    let new = format!(
        "{}{}{}",
        &text[..old.1.start],
        again(old, was, now),
        &text[old.1.end..]
    );
    // Whatever the text was like: it says what is to be said, or it is not used.
    let read: T = options.from_str(&new).ok()?;
    (read == *value).then_some(new)
}

/// A node with the text in which it stands.
#[derive(Clone, Copy)]
struct At<'a>(&'a str, &'a Node);

impl<'a> At<'a> {
    fn text(self) -> &'a str {
        &self.0[self.1.start..self.1.end]
    }

    fn step(self, key: &str) -> Option<At<'a>> {
        self.1.step(key).map(|node| At(self.0, node))
    }

    fn item(self, at: usize) -> Option<At<'a>> {
        self.1.items.get(at).map(|item| At(self.0, &item.node))
    }

    fn bracket(self) -> Option<char> {
        let after = self.0.get(self.1.start + self.1.word.len()..)?;
        after
            .trim_start()
            .chars()
            .next()
            .filter(|_| self.1.is_group)
    }

    fn is_list(self) -> bool {
        self.bracket() == Some('[')
    }

    fn is_keyed(self) -> bool {
        self.1.is_group && self.1.items.iter().all(|item| item.key.is_some())
    }

    /// How far the line on which it stands is indented, letters.
    fn indent(self) -> usize {
        let line = self.0[..self.1.start].rfind('\n').map_or(0, |at| at + 1);
        self.0[line..].chars().take_while(|c| *c == ' ').count()
    }
}

/// The text of `old`, which says `was`, so that it says `now`.
fn again(old: At, was: At, now: At) -> String {
    if was.text() == now.text() {
        return old.text().to_owned();
    }
    let same = old.1.word == now.1.word && was.1.word == now.1.word;
    if same && [old, was, now].iter().all(|at| at.is_keyed()) {
        return group(old, was, now);
    }
    if [old, was, now].iter().all(|at| at.is_list()) && old.1.items.len() == was.1.items.len() {
        return list(old, was, now);
    }
    pretty(now, old.indent())
}

/// A group of named parts.
fn group(old: At, was: At, now: At) -> String {
    let mut out = String::new();
    let mut at = old.1.start;
    for item in &old.1.items {
        let key = item.key.as_deref().unwrap_or("");
        let here = At(old.0, &item.node);
        let end = item.node.end;
        match (was.step(key), now.step(key)) {
            (Some(was), Some(now)) => {
                out += &old.0[at..item.node.start];
                out += &again(here, was, now);
                at = end;
            }
            (None, Some(now)) => {
                out += &old.0[at..item.node.start];
                out += &pretty(now, here.indent());
                at = end;
            }
            // It is read as nothing where it is not written.
            (_, None) => {
                let blank =
                    old.0[at..].len() - old.0[at..].trim_start_matches([',', ' ', '\n']).len();
                out += if out.ends_with('(') {
                    ""
                } else {
                    &old.0[at..at + blank]
                };
                let rest = &old.0[end..];
                let comma = rest
                    .find(|c: char| !c.is_whitespace())
                    .filter(|i| rest[*i..].starts_with(','));
                at = end + comma.map_or(0, |i| i + 1);
            }
        }
    }
    let missing = now.1.items.iter().filter(|item| {
        let key = item.key.as_deref().unwrap_or("");
        let value = At(now.0, &item.node);
        let is_new = was.step(key).is_none_or(|was| was.text() != value.text());
        old.step(key).is_none() && is_new
    });
    let close = old.1.end.saturating_sub(1).max(at);
    let tail = &old.0[at..close];
    let lines = tail.contains('\n');
    let mut before = out + tail.trim_end();
    for item in missing {
        if !before.ends_with(['(', ',']) {
            before.push(',');
        }
        before += &match lines {
            true => format!("\n{}", " ".repeat(old.indent() + STEP)),
            false if before.ends_with('(') => String::new(),
            false => " ".to_owned(),
        };
        let value = pretty(At(now.0, &item.node), old.indent() + STEP);
        before += &format!("{}: {value}", item.key.as_deref().unwrap_or(""));
        if lines {
            before.push(',');
        }
    }
    let blank = &tail[tail.trim_end().len()..];
    format!("{before}{blank}{}", &old.0[close..old.1.end])
}

/// A list: every item that is still there goes along with the comments over it.
fn list(old: At, was: At, now: At) -> String {
    let chunks = chunks(old);
    let mut free: Vec<bool> = vec![true; chunks.len()];
    let mut found: Vec<Option<usize>> = vec![None; now.1.items.len()];
    let name = |at: At| at.step("name").map(|name| name.text().to_owned());
    let wanted: [&dyn Fn(At, At) -> bool; 2] = [&|a, b| a.text() == b.text(), &|a, b| {
        name(a).is_some() && name(a) == name(b)
    }];
    for same in wanted {
        for (k, found) in found.iter_mut().enumerate().filter(|(_, f)| f.is_none()) {
            let Some(item) = now.item(k) else { continue };
            let hit =
                (0..free.len()).find(|i| free[*i] && was.item(*i).is_some_and(|w| same(w, item)));
            if let Some(i) = hit {
                (*found, free[i]) = (Some(i), false);
            }
        }
    }
    // What stands in the same place and is like nothing else has been changed there.
    for (k, found) in found.iter_mut().enumerate() {
        if found.is_none() && was.1.items.len() == now.1.items.len() && free.get(k) == Some(&true) {
            (*found, free[k]) = (Some(k), false);
        }
    }
    let one_line = !old.text().contains('\n');
    let indent = old
        .item(0)
        .filter(|_| !one_line)
        .map_or(old.indent() + STEP, At::indent);
    let mut out = "[".to_owned();
    for (k, found) in found.iter().enumerate() {
        let Some(item) = now.item(k) else { continue };
        let text = match found.and_then(|i| Some((chunks.get(i)?, old.item(i)?, was.item(i)?))) {
            Some((before, old, was)) => format!("{before}{}", again(old, was, item)),
            None if one_line => pretty(item, indent),
            None => format!("\n{}{}", " ".repeat(indent), pretty(item, indent)),
        };
        let text = match one_line {
            true => text.trim_start().to_owned(),
            false => text,
        };
        out += &match (k, one_line) {
            (0, _) => text,
            (_, true) => format!(", {text}"),
            (_, false) => format!(",{text}"),
        };
    }
    let last = old
        .1
        .items
        .last()
        .map_or(old.1.start + 1, |item| item.node.end);
    let tail = &old.0[last..old.1.end];
    let tail = match (found.is_empty(), tail.starts_with(',') || one_line) {
        (true, _) => "]".to_owned(),
        (false, true) => tail.to_owned(),
        (false, false) => format!(",\n{}]", " ".repeat(old.indent())),
    };
    out + &tail
}

/// What stands before each item of a list: white space and comments.
fn chunks(list: At) -> Vec<String> {
    let mut at = list.1.start + 1;
    let mut chunks = Vec::new();
    for item in &list.1.items {
        let before = &list.0[at..item.node.start];
        chunks.push(before.trim_start_matches(',').to_owned());
        at = item.node.end;
    }
    chunks
}

/// Written anew, on one line if it is short.
fn pretty(at: At, indent: usize) -> String {
    let line = on_a_line(at);
    if indent + line.len() <= WIDE || at.1.items.is_empty() {
        return line;
    }
    let (open, close) = match at.is_list() {
        true => ('[', ']'),
        false => ('(', ')'),
    };
    let deeper = indent + STEP;
    let mut out = format!("{}{open}\n", at.1.word);
    for (key, value) in said(at) {
        let value = pretty(value, deeper);
        out += &format!("{}{key}{value},\n", " ".repeat(deeper));
    }
    out + &" ".repeat(indent) + &close.to_string()
}

fn on_a_line(at: At) -> String {
    if !at.1.is_group {
        return at.1.word.clone();
    }
    let items: Vec<String> = said(at)
        .map(|(key, value)| key + &on_a_line(value))
        .collect();
    let items = items.join(", ");
    match at.is_list() {
        true => format!("[{items}]"),
        false => format!("{}({items})", at.1.word),
    }
}

/// The items with their keys, but for a delay of nothing: that is what is read where none is written.
fn said<'a>(at: At<'a>) -> impl Iterator<Item = (String, At<'a>)> {
    let items = at.1.items.iter();
    let said = items.filter(|item| item.key.as_deref() != Some("after") || item.node.word != "0.0");
    said.map(move |item| {
        let key = item
            .key
            .as_ref()
            .map_or(String::new(), |key| format!("{key}: "));
        (key, At(at.0, &item.node))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::offence::{Offence, Rule};
    use crate::scenario::shipped::{self, Kind};

    fn comments(text: &str) -> Vec<&str> {
        text.lines()
            .map(str::trim)
            .filter(|l| l.starts_with("//"))
            .collect()
    }

    fn shipped_offence(word: &str) -> (&'static str, Offence) {
        let text = shipped::find(Kind::Offence, word).expect("shipped").text;
        (text, options().from_str(text).expect("an offence"))
    }

    #[test]
    fn what_is_not_touched_stays_as_it_was_written() {
        for file in shipped::all(Kind::Offence) {
            let (text, mut offence) = shipped_offence(file.word);
            assert_eq!(kept(text, &offence).as_deref(), Some(text));
            offence.patience.hold += 0.25;
            offence.rules[1].name = "Another name".into();
            let new = kept(text, &offence).expect("kept");
            assert_eq!(comments(&new), comments(text), "{}", file.word);
            let changed = |a: &str, b: &str| {
                let b: Vec<&str> = b.lines().collect();
                a.lines().filter(|line| !b.contains(line)).count()
            };
            assert!(
                changed(&new, text) <= 2 && changed(text, &new) <= 2,
                "{new}"
            );
        }
    }

    #[test]
    fn rules_added_taken_out_and_moved_leave_the_others_with_their_comments() {
        let (text, mut offence) = shipped_offence("five_out_give_and_go");
        let rule: Rule = ron::from_str(
            "(name: \"New\", when: ball_crosses, do: [(who: at(corner(weak)), does: cut(lane: behind, unfed: fill(corner(weak))))])",
        )
        .expect("a rule");
        offence.rules.insert(1, rule);
        offence.rules.swap(0, 2);
        let new = kept(text, &offence).expect("kept");
        assert_eq!(comments(&new).len(), comments(text).len());
        // The comment goes along with its rule.
        let at = |text: &str, what: &str| text.find(what).expect("there");
        let comment = at(&new, "// Away from the ball: weak wing to the top");
        assert!(
            comment > at(&new, "\"New\"") && comment < at(&new, "\"Top to wing: the passer cuts")
        );
        offence.rules.remove(2);
        let less = kept(text, &offence).expect("kept");
        assert_eq!(comments(&less).len() + 1, comments(text).len());
        offence.rules.clear();
        assert!(kept(text, &offence).expect("kept").contains("rules: []"));
    }

    #[test]
    fn a_part_that_was_left_out_is_put_in_and_taken_out_again() {
        let (text, mut offence) = shipped_offence("ball_screen_continuity");
        offence.rules[0].once = true;
        offence.rules[0].actions[0].after = 0.5;
        offence.rules[1].actions[0].only_if.clear();
        let new = kept(text, &offence).expect("kept");
        assert!(
            new.contains("once: true") && new.contains("after: 0.5"),
            "{new}"
        );
        assert_eq!(comments(&new), comments(text));
        offence.rules[0].once = false;
        let back = kept(&new, &offence).expect("kept");
        assert!(!back.contains("once"), "{back}");
    }
}
