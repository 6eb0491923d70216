//! The nearest right word for a wrong one.

/// Words more different than this are no help (share of letters that agree, invented): with half of the letters
/// wrong, `roll` would give `hold`.
const ALIKE: f64 = 0.6;
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
