//! The why report as text for a terminal.

use super::Heading;
use super::table::table;
use super::why::{CAUTION, Section};
use super::wrap::wrap;
use crate::why::Summary;

/// How an example is seen.
pub const REPLAY: &str = "To see an example: lanelight watch --seed SEED, with the same scenario, \
    defence and tweaks, tells that possession; the time stands at the left of its lines.";

/// The page.
pub fn page(heading: &Heading, summary: &Summary, sections: &[Section]) -> String {
    let mut text = head(heading, summary);
    for section in sections {
        text += &format!("\n{}\n", section.title.to_uppercase());
        if !section.lead.is_empty() {
            text += &wrap(&section.lead, "  ", "  ");
        }
        for sentence in &section.sentences {
            text += &wrap(sentence, "  * ", "    ");
        }
        for t in &section.tables {
            if t.rows.is_empty() {
                continue;
            }
            text += "\n";
            text += &wrap(&format!("{}.", t.caption), "  ", "  ");
            let heads: Vec<&str> = t.heads.iter().map(String::as_str).collect();
            text += &table(&heads, &t.rows);
        }
        if !section.note.is_empty() {
            text += &wrap(&section.note, "  ", "  ");
        }
    }
    text += "\n";
    text += &wrap(REPLAY, "", "");
    text += "\n";
    text += &wrap(CAUTION, "", "");
    text
}

/// Who plays whom, and how often.
pub fn head(heading: &Heading, summary: &Summary) -> String {
    let mut text = format!("Why it stalls, and what to change\n{}\n", heading.top());
    text += &wrap(&played(heading, summary), "", "");
    text
}

/// "Harbour Hawks against Millbrook Owls, …, 200 possessions, seeds 1 to 200."
pub fn played(heading: &Heading, summary: &Summary) -> String {
    let mut text = heading.played(summary.possessions, summary.first_seed);
    if summary.interrupted {
        text += " INTERRUPTED: here is what was played by then, and no more.";
    }
    text
}
