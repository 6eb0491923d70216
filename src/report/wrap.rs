//! Running text broken between words.

use crate::draw::text::lines;

/// Widest line of all text, characters: a plain terminal.
pub const WIDTH: usize = 80;

/// What ties a number to its unit.
const TIED: &str = "\u{a0}";

/// `text` with every number tied to its unit and its interval by spaces that do not break.
pub fn tie(text: &str) -> String {
    let mut tied = text.replace(" ± ", "\u{a0}±\u{a0}");
    tied = tied.replace(" (±", "\u{a0}(±");
    for digit in '0'..='9' {
        tied = tied.replace(&format!(" ({digit}"), &format!("{TIED}({digit}"));
    }
    for unit in ["%", "s", "m", "ft"] {
        for after in [" ", TIED, ",", ".", ")", ";", ":"] {
            tied = tied.replace(&format!(" {unit}{after}"), &format!("{TIED}{unit}{after}"));
        }
    }
    tied
}

/// `text` with `first` before it and `rest` before every further line, broken between words so
/// that no line is wider than [`WIDTH`] (a single longer word stays whole). A number is not torn
/// from its unit or its interval. Ends with a line end.
pub fn wrap(text: &str, first: &str, rest: &str) -> String {
    wrap_to(text, first, rest, WIDTH)
}

/// The same with lines of at most `width` characters.
pub fn wrap_to(text: &str, first: &str, rest: &str, width: usize) -> String {
    let tied = tie(text);
    let before = |number: usize| if number == 0 { first } else { rest };
    let fits =
        |number: usize, line: &str| before(number).chars().count() + line.chars().count() <= width;
    let words = tied.split(' ').filter(|w| !w.is_empty());
    let lines = lines(words, fits).join(&format!("\n{rest}"));
    format!("{first}{lines}\n").replace(TIED, " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn running_text_is_broken_between_words() {
        let text = wrap(&"word ".repeat(60), "1 ", "    ");
        assert!(text.lines().count() > 2);
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH));
        assert!(text.starts_with("1 word") && text.lines().nth(1).unwrap().starts_with("    word"));
    }

    #[test]
    fn a_number_stays_with_its_unit() {
        for n in 0..30 {
            let text = wrap(
                &format!("{}9.5 ± 0.3 s, {}", "a ".repeat(n + 30), "b ".repeat(40)),
                "",
                "",
            );
            assert!(text.contains("9.5 ± 0.3 s,"), "{text}");
            let said = format!(
                "{}78 % (±2), 9.1 s (8–12), {}",
                "a ".repeat(n + 30),
                "b ".repeat(40)
            );
            let text = wrap(&said, "", "");
            assert!(
                text.contains("78 % (±2),") && text.contains("9.1 s (8–12),"),
                "{text}"
            );
        }
    }
}
