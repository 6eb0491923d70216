//! Text from files, made safe to show: no control characters and no characters that turn the
//! direction of writing, so that a name can neither drive a terminal nor dress up as another; no
//! tag of a page; and no cell that a spreadsheet would take for a formula.

/// Marks that turn or isolate the direction of writing (Unicode Standard Annex 9), zero-width
/// spaces, the two separators of lines and paragraphs, and what XML may not hold at all.
fn is_hidden(c: char) -> bool {
    matches!(c,
        '\u{061C}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}'
        | '\u{FEFF}' | '\u{FFFE}' | '\u{FFFF}')
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

/// As [`line()`], no longer than `most` letters: what is cut off leaves an ellipsis.
pub fn cut(text: &str, most: usize) -> String {
    let clean = line(text);
    match clean.char_indices().nth(most) {
        Some((end, _)) => format!("{}…", &clean[..end]),
        None => clean,
    }
}

/// A text as it may stand in SVG and HTML, between tags or in a quoted attribute: nothing in it is
/// a tag, a control character or hidden. Line ends stay.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\n' => safe.push('\n'),
            c if c.is_control() || is_hidden(c) => {}
            c => safe.push(c),
        }
    }
    safe
}

/// Several lines: as [`line()`], but line ends and the space at the start of a line stay.
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
    fn hostile_text_becomes_harmless() {
        let name = "a<script>\u{202E}b\"'\u{0007}\n\tc";
        assert_eq!(escape(&cut(name, 90)), "a&lt;script&gt;b&quot;&#39; c");
        assert_eq!(escape("a\u{202E}\u{0}<\nb"), "a&lt;\nb");
        assert_eq!(cut(&"x".repeat(10_000), 20).chars().count(), 21);
        assert_eq!(cut(&"é".repeat(20), 20).chars().count(), 20);
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
