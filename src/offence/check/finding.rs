//! What a check finds, and the nearest right word for a wrong one.

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

    /// Adds the nearest right word, if there is one.
    pub fn nearest(self, nearest: Option<String>) -> Self {
        Finding { nearest, ..self }
    }
}

/// Words more different than this are no help (share of letters that agree, invented).
const ALIKE: f64 = 0.5;
/// Longest word compared, characters.
const COMPARED: usize = 120;

/// "u14" for "under_14": first letters and whole numbers of a word of several parts.
fn short(word: &str) -> String {
    let parts = word.split('_').filter_map(|part| {
        let number = part.chars().all(|c| c.is_ascii_digit());
        if number { Some(part) } else { part.get(..1) }
    });
    parts.collect()
}

/// The word for which `word` is short, or the one most like it (Damerau–Levenshtein), if one is at
/// all alike. The first of equals.
pub fn nearest_word<'a>(word: &str, words: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let plain = |word: &str| -> String {
        let cut = word.chars().take(COMPARED);
        cut.flat_map(char::to_lowercase)
            .map(|c| if c == ' ' { '_' } else { c })
            .collect()
    };
    let wanted = plain(word);
    let letters: String = wanted.chars().filter(|c| c.is_alphanumeric()).collect();
    let mut best: Option<(f64, &str)> = None;
    for candidate in words {
        let alike = if candidate.contains('_') && letters == short(candidate) {
            1.0
        } else {
            strsim::normalized_damerau_levenshtein(&wanted, &plain(candidate))
        };
        if alike >= ALIKE && best.is_none_or(|(most, _)| alike > most) {
            best = Some((alike, candidate));
        }
    }
    best.map(|(_, word)| word.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_of_the_pen_finds_its_word_and_nonsense_finds_none() {
        let words = ["pass", "drive", "kick_out", "post_forgotten"];
        assert_eq!(nearest_word("Kickout", words).as_deref(), Some("kick_out"));
        assert_eq!(nearest_word("pss", words).as_deref(), Some("pass"));
        assert_eq!(nearest_word("elephant", words), None);
        let levels = ["under_12", "under_14", "junior_varsity"];
        for (written, meant) in [("U14", 1), ("u_14", 1), ("under14", 1), ("JV", 2)] {
            assert_eq!(
                nearest_word(written, levels).as_deref(),
                Some(levels[meant])
            );
        }
        assert_eq!(nearest_word("", words), None);
    }
}
