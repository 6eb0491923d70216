//! What is wrong with a file, said so that a coach can mend it: file, line, column, what was
//! expected and the nearest right word.

use std::fmt;

use crate::offence::check::{Finding, Weight};

/// Most characters of a source line that are shown.
const SHOWN: usize = 100;
/// Characters shown before the place that is wrong, in a line too long to show.
const SHOWN_BEFORE: usize = 50;

/// One thing that is wrong (or odd) in a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// The file as it was named, or the shipped word.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is wrong, as a sentence.
    pub said: String,
    /// What would be right, if that can be said.
    pub expected: Option<String>,
    /// The nearest right word.
    pub nearest: Option<String>,
    /// Error or warning.
    pub weight: Weight,
    /// The piece of the source line that is shown, and where in it the mark stands (from 0) and
    /// how wide it is, in characters.
    pub shown: Option<(String, usize, usize)>,
}

impl Problem {
    /// A problem at the bytes `start..end` of a text.
    pub fn at(file: &str, text: &str, start: usize, end: usize, finding: Finding) -> Self {
        let start = floor_char(text, start);
        let end = floor_char(text, end.max(start));
        let line_start = text[..start].rfind('\n').map_or(0, |i| i + 1);
        let line_end = text[start..].find('\n').map_or(text.len(), |i| start + i);
        let column = text[line_start..start].chars().count();
        let width = text[start..end.min(line_end)].chars().count().max(1);
        let skip = if text[line_start..line_end].chars().count() > SHOWN {
            column.saturating_sub(SHOWN_BEFORE)
        } else {
            0
        };
        let piece: String = text[line_start..line_end]
            .chars()
            .skip(skip)
            .take(SHOWN)
            .map(|c| if c.is_control() { ' ' } else { c })
            .collect();
        let mark = column - skip;
        Problem {
            file: file.to_owned(),
            line: text[..start].matches('\n').count() + 1,
            column: column + 1,
            said: finding.said,
            expected: finding.expected,
            nearest: finding.nearest,
            weight: finding.weight,
            shown: Some((
                piece.trim_end().to_owned(),
                mark,
                width.min(SHOWN - mark.min(SHOWN - 1)),
            )),
        }
    }

    /// A problem with a file as a whole.
    pub fn with_file(file: &str, said: impl Into<String>) -> Self {
        Problem {
            file: file.to_owned(),
            line: 1,
            column: 1,
            said: said.into(),
            expected: None,
            nearest: None,
            weight: Weight::Error,
            shown: None,
        }
    }

    /// Does this problem keep the file from being played?
    pub fn is_error(&self) -> bool {
        self.weight == Weight::Error
    }
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let weight = match self.weight {
            Weight::Error => "error",
            Weight::Warning => "warning",
        };
        write!(
            f,
            "{}:{}:{}: {weight}: {}",
            self.file, self.line, self.column, self.said
        )?;
        if let Some((piece, mark, width)) = &self.shown {
            let number = self.line.to_string();
            write!(f, "\n  {number} | {piece}")?;
            write!(
                f,
                "\n  {:pad$} | {:mark$}{}",
                "",
                "",
                "^".repeat(*width),
                pad = number.len()
            )?;
        }
        if let Some(expected) = &self.expected {
            write!(f, "\n  expected: {expected}")?;
        }
        if let Some(nearest) = &self.nearest {
            write!(f, "\n  nearest: {nearest}")?;
        }
        Ok(())
    }
}

/// Everything that is wrong, in the order of files and lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problems(pub Vec<Problem>);

impl fmt::Display for Problems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.0.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Problems {}

impl From<Problem> for Problems {
    fn from(problem: Problem) -> Self {
        Problems(vec![problem])
    }
}

/// The greatest character boundary not beyond `at`.
pub(super) fn floor_char(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mark_stands_under_the_word_even_in_a_long_line_with_accents() {
        let text = format!("é\n{}wrong{}", "ü".repeat(300), " ".repeat(300));
        let start = text.find("wrong").unwrap();
        let problem = Problem::at("a.ron", &text, start, start + 5, Finding::error("", "no"));
        assert_eq!((problem.line, problem.column), (2, 301));
        let (piece, mark, width) = problem.shown.unwrap();
        let marked: String = piece.chars().skip(mark).take(width).collect();
        assert_eq!(marked, "wrong");
    }
}
