//! Words on paper: the one font that all pictures carry with them, how wide a text is in it, and
//! how it is broken into lines.
//!
//! The font is Lanelight Sans (see `assets/fonts/LICENCE.txt`): Latin, Greek, Cyrillic and Hebrew
//! letters. Signs that it lacks, such as emoji, are left out; what is all of such signs becomes a
//! question mark ([`shown`]), and the command says so ([`missing`]).

use std::sync::{Arc, OnceLock};

use resvg::usvg::fontdb::Database;
use ttf_parser::{Face, GlyphId};

/// The font's name in pictures.
pub const FAMILY: &str = "Lanelight Sans";

static REGULAR: &[u8] = include_bytes!("../../assets/fonts/LanelightSans-Regular.ttf");
static BOLD: &[u8] = include_bytes!("../../assets/fonts/LanelightSans-Bold.ttf");

/// A text from a user is cut off after this many letters, with an ellipsis (ours).
pub const LONGEST: usize = 90;

/// The font's two weights, for whoever draws text.
pub fn fonts() -> Arc<Database> {
    static FONTS: OnceLock<Arc<Database>> = OnceLock::new();
    FONTS
        .get_or_init(|| {
            let mut fonts = Database::new();
            fonts.load_font_data(REGULAR.to_vec());
            fonts.load_font_data(BOLD.to_vec());
            fonts.set_sans_serif_family(FAMILY);
            Arc::new(fonts)
        })
        .clone()
}

/// A weight of the font as it is measured. Reading it anew for every word would cost more than all
/// else that is done to set a page.
struct Measures {
    face: Option<Face<'static>>,
    /// Width of each of the first letters over the size; none for what the font lacks.
    first: Vec<Option<f64>>,
    /// Width of the sign for what the font lacks.
    lacking: f64,
}

/// So many letters are measured beforehand: Latin with its accents.
const FIRST: u32 = 0x250;

impl Measures {
    fn of(data: &'static [u8]) -> Measures {
        let face = Face::parse(data, 0).ok();
        let sign = face.as_ref().and_then(|f| {
            let em = f64::from(f.units_per_em()).max(1.0);
            Some(f64::from(f.glyph_hor_advance(GlyphId(0))?) / em)
        });
        let mut measures = Measures {
            face,
            first: Vec::new(),
            lacking: sign.unwrap_or(0.6),
        };
        let first = (0..FIRST).map(|c| measures.read(char::from_u32(c)?));
        measures.first = first.collect();
        measures
    }

    fn read(&self, c: char) -> Option<f64> {
        let face = self.face.as_ref()?;
        let em = f64::from(face.units_per_em()).max(1.0);
        let glyph = face.glyph_index(c)?;
        Some(f64::from(face.glyph_hor_advance(glyph).unwrap_or(0)) / em)
    }

    /// Width of a letter over the size; none for what the font lacks.
    fn advance(&self, c: char) -> Option<f64> {
        match self.first.get(c as usize) {
            Some(known) => *known,
            None => self.read(c),
        }
    }
}

fn measures(bold: bool) -> &'static Measures {
    static PLAIN: OnceLock<Measures> = OnceLock::new();
    static HEAVY: OnceLock<Measures> = OnceLock::new();
    match bold {
        true => HEAVY.get_or_init(|| Measures::of(BOLD)),
        false => PLAIN.get_or_init(|| Measures::of(REGULAR)),
    }
}

/// The signs of a text that the font lacks, each once.
pub fn missing(text: &str) -> Vec<char> {
    let font = measures(false);
    let mut out = Vec::new();
    for c in text.chars().filter(|c| !c.is_whitespace()) {
        if font.advance(c).is_none() && !out.contains(&c) {
            out.push(c);
        }
    }
    out
}

/// A text as it can be printed: without the signs that the font lacks; a word of nothing else is a
/// question mark.
pub fn shown(text: &str) -> String {
    let lacks = missing(text);
    if lacks.is_empty() {
        return text.to_string();
    }
    let words = text.split(' ').map(|word| {
        let left: String = word.chars().filter(|c| !lacks.contains(c)).collect();
        let letters = left.chars().any(char::is_alphanumeric);
        match word.is_empty() || letters {
            true => left,
            false => format!("?{left}"),
        }
    });
    let words: Vec<String> = words.collect();
    words.join(" ")
}

/// Width of a text of this size, in the unit of the size; kerning is not counted.
pub fn width(text: &str, size: f64, bold: bool) -> f64 {
    let font = measures(bold);
    let advance = |c: char| font.advance(c).unwrap_or(font.lacking);
    text.chars().map(advance).sum::<f64>() * size
}

/// The words of a text, with what is not to be torn in one piece: a number and its unit ("74 %"),
/// and an interval or a pair ("(67 to 79)", "(31 / 66 %)").
fn pieces(text: &str) -> Vec<String> {
    const UNITS: [&str; 6] = ["%", "s", "m", "ft", "min", "points"];
    let words: Vec<&str> = text.split_whitespace().collect();
    let digit = |word: &str| word.ends_with(|c: char| c.is_ascii_digit());
    let opens = |word: &str| word.starts_with('(') && digit(word);
    let mut out: Vec<String> = Vec::with_capacity(words.len());
    for (i, word) in words.iter().enumerate() {
        let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let last = i.checked_sub(1).map_or("", |l| words[l]);
        let before = i.checked_sub(2).map_or("", |l| words[l]);
        let unit = UNITS.contains(&bare) && digit(last);
        let joins = |word: &str| matches!(word, "to" | "/");
        let inside = joins(word) && opens(last) || joins(last) && opens(before);
        match out.last_mut().filter(|_| unit || inside) {
            Some(piece) => {
                piece.push(' ');
                piece.push_str(word);
            }
            None => out.push(word.to_string()),
        }
    }
    out
}

/// Breaks a text into lines no wider than `most`; a single word that is wider is broken itself. A
/// number stays with its unit, and an interval in one piece.
pub fn wrap(text: &str, size: f64, bold: bool, most: f64) -> Vec<String> {
    let fits = |s: &str| width(s, size, bold) <= most;
    let mut narrow = Vec::new();
    for piece in pieces(text) {
        if fits(&piece) {
            narrow.push(piece);
            continue;
        }
        let mut part = String::new();
        for c in piece.chars() {
            part.push(c);
            if !fits(&part) && part.chars().count() > 1 {
                part.pop();
                narrow.push(std::mem::replace(&mut part, c.to_string()));
            }
        }
        narrow.push(part);
    }
    lines(narrow.iter().map(String::as_str), |_, line| fits(line))
}

/// Words joined by spaces into lines, each as long as `fits` allows; it is given the line's number,
/// from 0, and its text. A single word that does not fit stays whole.
pub fn lines<'a>(
    words: impl IntoIterator<Item = &'a str>,
    fits: impl Fn(usize, &str) -> bool,
) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words {
        let number = lines.len().saturating_sub(1);
        let longer = lines.last().map(|line| format!("{line} {word}"));
        match (lines.last_mut(), longer.filter(|l| fits(number, l))) {
            (Some(line), Some(longer)) => *line = longer,
            _ => lines.push(word.to_string()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_that_the_font_lacks_are_left_out_and_named() {
        assert_eq!(shown("Hawks 🏀 3 März"), "Hawks ? 3 März");
        assert_eq!(shown("Team球 A"), "Team A");
        assert_eq!(shown("籃球"), "?");
        assert_eq!(missing("a 球 b 球 🏀"), ['球', '🏀']);
        for text in ["Four out, one post", "Ωμέγα Волки חולון – “½”"] {
            assert_eq!(shown(text), text);
        }
        assert!(missing(&shown("籃球 🏀 x")).is_empty());
    }

    #[test]
    fn no_line_is_wider_than_asked_and_no_word_is_lost() {
        let text = "When the ball goes from the ball-side slot to the ball-side wing, cut";
        let lines = wrap(text, 10.0, false, 80.0);
        assert!(lines.len() > 3);
        assert!(lines.iter().all(|l| width(l, 10.0, false) <= 80.0));
        assert_eq!(lines.join(" "), text);
        let long = wrap(&"W".repeat(300), 10.0, false, 80.0);
        assert_eq!(long.concat().len(), 300);
        assert!(long.iter().all(|l| width(l, 10.0, false) <= 80.0));
    }

    #[test]
    fn no_number_is_torn_from_its_unit_and_no_interval_in_two() {
        let text = "there in 74 % (67 to 79) of possessions, 1.2 s (1.1 to 1.3) each time, to 5 m, or (0 / 10 %).";
        for most in 60..200 {
            let lines = wrap(text, 10.0, false, f64::from(most));
            assert_eq!(lines.join(" "), text);
            for line in &lines {
                assert!(
                    !["%", "s (", "79)", "to 79", "m,", "/", "10"]
                        .iter()
                        .any(|s| line.starts_with(s)),
                    "{line}"
                );
            }
        }
    }

    #[test]
    fn bold_is_wider_and_a_capital_is_wider_than_a_point() {
        assert!(width("Wing", 10.0, true) > width("Wing", 10.0, false));
        assert!(width("W", 10.0, false) > 2.0 * width(".", 10.0, false));
    }
}
