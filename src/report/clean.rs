//! Text from files, made safe to show: no control characters and no characters that turn the
//! direction of writing, so that a name can neither drive a terminal nor dress up as another; and
//! no cell that a spreadsheet would take for a formula.

/// Marks that turn or isolate the direction of writing (Unicode Standard Annex 9), zero-width
/// spaces, and the two separators of lines and paragraphs.
fn is_hidden(c: char) -> bool {
    matches!(c,
        '\u{061C}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
        | '\u{FEFF}')
}

/// One line of text: white space becomes one space, control and hidden characters go.
pub fn line(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    for c in text.trim().chars() {
        if c.is_whitespace() {
            if !clean.ends_with(' ') {
                clean.push(' ');
            }
        } else if !c.is_control() && !is_hidden(c) {
            clean.push(c);
        }
    }
    clean
}

/// Several lines: as [`line`], but line ends and the space at the start of a line stay.
pub fn lines(text: &str) -> String {
    let kept = |c: &char| *c == '\n' || !c.is_control() && !is_hidden(*c);
    text.chars()
        .map(|c| if c == '\t' { ' ' } else { c })
        .filter(kept)
        .collect()
}

/// A text cell: cleaned, and with an apostrophe before whatever a spreadsheet would reckon out.
pub fn cell(text: &str) -> String {
    let clean = line(text);
    if clean.starts_with(['=', '+', '-', '@']) {
        format!("'{clean}")
    } else {
        clean
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_can_neither_drive_a_terminal_nor_turn_the_writing() {
        assert_eq!(line("\u{1b}[31mred\u{7}\u{9b}2J"), "[31mred2J");
        assert_eq!(line("a\u{202E}cba\u{2066}x\u{200B}"), "acbax");
        assert_eq!(line(" two\r\n\tlines "), "two lines");
        assert_eq!(line("Łódź – 東京"), "Łódź – 東京");
        assert_eq!(lines("a\n  b\u{1b}[2J\tc"), "a\n  b[2J c");
    }

    #[test]
    fn no_cell_starts_a_formula() {
        for bad in [
            "=1+1",
            "+1",
            "-1",
            "@A1",
            "\t=1",
            " \r=cmd|' /C calc'!A0",
            "\u{200B}=1",
        ] {
            assert!(cell(bad).starts_with('\''), "{bad}");
        }
        assert_eq!(cell("Denial = tight"), "Denial = tight");
    }
}
