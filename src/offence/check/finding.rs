//! What a check finds.

/// Does a finding keep a file from being played?
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// The file cannot be played.
    Error,
    /// Odd, but it can be played.
    Warning,
}

/// Something wrong with a value of the language.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Where, as a path through the file: `rules/3/do/0/who`.
    pub at: String,
    /// What is wrong, as a sentence.
    pub said: String,
    /// What would be right, if that can be said.
    pub expected: Option<String>,
    /// The nearest right word.
    pub nearest: Option<String>,
    /// Does it keep the file from being played?
    pub weight: Weight,
    /// Other places on which it rests, as paths; the empty path is the whole file. Where one of them could not be
    /// read, the finding may be false, and is not told.
    pub rests_on: Vec<String>,
}

impl Finding {
    /// An error at the place `at`, said in the words of `said`.
    pub fn error(at: impl Into<String>, said: impl Into<String>) -> Self {
        Finding {
            at: at.into(),
            said: said.into(),
            expected: None,
            nearest: None,
            weight: Weight::Error,
            rests_on: Vec::new(),
        }
    }

    /// A warning at the place `at`, said in the words of `said`.
    pub fn warning(at: impl Into<String>, said: impl Into<String>) -> Self {
        Finding {
            weight: Weight::Warning,
            ..Self::error(at, said)
        }
    }

    /// Adds what would be right.
    pub fn expected(self, expected: impl Into<String>) -> Self {
        Finding {
            expected: Some(expected.into()),
            ..self
        }
    }

    /// Adds a place on which it rests.
    pub fn rests_on(mut self, path: impl Into<String>) -> Self {
        self.rests_on.push(path.into());
        self
    }

    /// Adds the nearest right word, if there is one.
    pub fn nearest(self, nearest: Option<String>) -> Self {
        Finding { nearest, ..self }
    }
}
