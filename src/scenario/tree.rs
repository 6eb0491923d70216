//! Where things stand in a RON text: a lenient tree of words, lists and groups with their places,
//! so that whatever is wrong can be marked at the very word.
//!
//! Reading values is left to the `ron` package; this tree only finds places. A malformed text gives
//! the tree of what could be made out.

/// Deepest nesting of brackets that is read (invented; the shipped files need less than 10).
pub const DEEPEST: usize = 64;

/// A word, number or string, a `[list]`, or a `name(group)`.
#[derive(Clone, Debug, Default)]
pub struct Node {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// The word itself; for a group its name, which may be empty.
    pub word: String,
    /// Has it brackets?
    pub is_group: bool,
    /// What is inside the brackets.
    pub items: Vec<Item>,
}

/// One item in brackets, with its key if it has one.
#[derive(Clone, Debug)]
pub struct Item {
    /// The key, without quotes.
    pub key: Option<String>,
    /// What stands there.
    pub node: Node,
}

/// The text nests deeper than [`DEEPEST`] at this byte.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooDeep(pub usize);

impl Node {
    /// The tree of a text.
    ///
    /// # Errors
    /// If brackets nest too deep.
    pub fn of(text: &str) -> Result<Node, TooDeep> {
        let mut reader = Reader {
            text,
            at: 0,
            depth: 0,
        };
        reader.skip();
        while reader.rest().starts_with("#!") {
            let attribute = reader.rest();
            reader.at += attribute.find(']').map_or(attribute.len(), |i| i + 1);
            reader.skip();
        }
        reader.node()
    }

    /// Follows a path such as `rules/3/do/0/who`: a number takes an item by place, a word by key.
    /// Where the path leads on but the text does not, the last node found is given.
    pub fn find(&self, path: &str) -> &Node {
        let mut here = self.inside_some();
        for step in path.split('/').filter(|step| !step.is_empty()) {
            match here.step(step) {
                Some(next) => here = next.inside_some(),
                None => break,
            }
        }
        here
    }

    /// The item of that key, or number.
    pub fn step(&self, step: &str) -> Option<&Node> {
        match step.parse::<usize>() {
            Ok(index) => self.items.get(index).map(|item| &item.node),
            Err(_) => self
                .items
                .iter()
                .find(|item| item.key.as_deref() == Some(step))
                .map(|item| &item.node),
        }
    }

    fn inside_some(&self) -> &Node {
        match self.items.first() {
            Some(item) if self.word == "Some" && item.key.is_none() => item.node.inside_some(),
            _ => self,
        }
    }

    /// The part to mark: a group's name and opening bracket, or the whole word.
    pub fn mark(&self) -> (usize, usize) {
        if self.is_group {
            (self.start, self.start + self.word.len().max(1))
        } else {
            (self.start, self.end)
        }
    }

    /// The innermost group that takes in byte `at`.
    pub fn group_around(&self, at: usize) -> Option<&Node> {
        if !self.is_group || at < self.start || at >= self.end {
            return None;
        }
        self.items
            .iter()
            .find_map(|item| item.node.group_around(at))
            .or(Some(self))
    }

    /// The leaf that takes in byte `at`, or ends there.
    pub fn leaf_at(&self, at: usize) -> Option<&Node> {
        if at < self.start || at > self.end {
            return None;
        }
        if !self.is_group {
            return Some(self);
        }
        self.items.iter().find_map(|item| item.node.leaf_at(at))
    }
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    depth: usize,
}

impl Reader<'_> {
    fn rest(&self) -> &str {
        &self.text[self.at..]
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// Skips white space and comments.
    fn skip(&mut self) {
        loop {
            let rest = self.rest();
            let trimmed = rest.trim_start();
            self.at += rest.len() - trimmed.len();
            if self.rest().starts_with("//") {
                self.at += self.rest().find('\n').unwrap_or(self.rest().len());
            } else if self.rest().starts_with("/*") {
                self.block_comment();
            } else {
                return;
            }
        }
    }

    fn block_comment(&mut self) {
        let mut depth = 0_usize;
        while self.at < self.text.len() {
            if self.rest().starts_with("/*") {
                depth += 1;
                self.at += 2;
            } else if self.rest().starts_with("*/") {
                depth -= 1;
                self.at += 2;
                if depth == 0 {
                    return;
                }
            } else {
                self.at += self.peek().map_or(1, char::len_utf8);
            }
        }
    }

    fn node(&mut self) -> Result<Node, TooDeep> {
        self.skip();
        let start = self.at;
        let length = self.leaf_length();
        self.at += length;
        let mut node = Node {
            start,
            end: self.at,
            word: self.text[start..self.at].to_owned(),
            ..Node::default()
        };
        let quoted = node.word.contains(['"', '\'']);
        let mark = self.at;
        self.skip();
        match self.peek() {
            Some('(' | '[' | '{') if !quoted => self.group(&mut node)?,
            _ => self.at = mark,
        }
        Ok(node)
    }

    fn group(&mut self, node: &mut Node) -> Result<(), TooDeep> {
        self.depth += 1;
        if self.depth > DEEPEST {
            return Err(TooDeep(self.at));
        }
        node.is_group = true;
        if node.word.is_empty() {
            node.start = self.at;
        }
        self.at += 1;
        loop {
            self.skip();
            match self.peek() {
                None => break,
                Some(')' | ']' | '}') => {
                    self.at += 1;
                    break;
                }
                Some(',' | ':') => self.at += 1,
                Some(_) => {
                    let before = self.at;
                    let mut child = self.node()?;
                    let mut key = None;
                    self.skip();
                    if self.peek() == Some(':') && !child.is_group {
                        self.at += 1;
                        key = Some(
                            child
                                .word
                                .trim_start_matches("r#")
                                .trim_matches('"')
                                .to_owned(),
                        );
                        child = self.node()?;
                    }
                    if self.at == before {
                        self.at += self.peek().map_or(1, char::len_utf8);
                    }
                    node.items.push(Item { key, node: child });
                }
            }
        }
        node.end = self.at;
        self.depth -= 1;
        Ok(())
    }

    /// Bytes of the word, number, string or character that starts here.
    fn leaf_length(&self) -> usize {
        let rest = self.rest();
        let prefix = rest.len() - rest.trim_start_matches(['b', 'r']).len();
        let after = &rest[prefix..];
        let hashes = after.len() - after.trim_start_matches('#').len();
        let raw = rest[..prefix].contains('r');
        if prefix <= 2 && raw && after[hashes..].starts_with('"') {
            let opening = prefix + hashes + 1;
            let closing = format!("\"{}", "#".repeat(hashes));
            return rest[opening..]
                .find(&closing)
                .map_or(rest.len(), |i| opening + i + closing.len());
        }
        if prefix <= 1 && after.starts_with('"') {
            return prefix + quoted_length(after, '"');
        }
        if prefix <= 1 && after.starts_with('\'') {
            return prefix + quoted_length(after, '\'');
        }
        rest.find(|c: char| c.is_whitespace() || "()[]{},:\"'".contains(c) || c == '/')
            .unwrap_or(rest.len())
    }
}

/// Bytes of a quoted text with its quotes, escapes heeded. A character never goes on beyond its line.
pub(super) fn quoted_length(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (index, c) in text.char_indices().skip(1) {
        if escaped {
            escaped = false;
        } else if c == '\\' {
            escaped = true;
        } else if c == quote || (quote == '\'' && c == '\n') {
            return index + c.len_utf8();
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = r##"#![enable(implicit_some)]
// a comment with ( brackets [
( name: "a (b", /* ( /* nested ( */ */ list: [one, two(x: 1.5, y: Some(-2)), r#"raw " ("#],
  'c': 3, last: (4, 5),)"##;

    fn word_at(path: &str) -> &'static str {
        let tree = Node::of(TEXT).unwrap();
        let node = tree.find(path);
        &TEXT[node.start..node.end]
    }

    #[test]
    fn a_path_leads_to_the_very_word() {
        assert_eq!(word_at("name"), "\"a (b\"");
        assert_eq!(word_at("list/0"), "one");
        assert_eq!(word_at("list/1/x"), "1.5");
        assert_eq!(word_at("list/1/y"), "-2");
        assert_eq!(word_at("list/2"), "r#\"raw \" (\"#");
        assert_eq!(word_at("last/1"), "5");
        assert_eq!(word_at("last/7/deeper"), "(4, 5)");
    }

    #[test]
    fn deep_nesting_is_refused_and_brackets_in_strings_do_not_count() {
        assert!(Node::of(&"(".repeat(DEEPEST)).is_ok());
        assert_eq!(Node::of(&"[".repeat(10_000)).unwrap_err(), TooDeep(DEEPEST));
        assert!(Node::of(&format!("(name: \"{}\")", "(".repeat(10_000))).is_ok());
        assert!(Node::of(&"a(".repeat(10_000)).is_err());
    }
}
