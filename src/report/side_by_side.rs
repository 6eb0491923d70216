//! Scrimmages side by side: the same figures of several, one column each.

use crate::court::Units;
use crate::scrimmage::Results;

use super::numbers::{NONE, short};
use super::table::table;

/// What tells one defence from another: what is open, what is shut, what is left unused.
pub const TELLING: [&str; 21] = [
    "points",
    "turnovers",
    "duration",
    "passes",
    "next_pass_held",
    "next_pass_openness",
    "lane_open",
    "drive_openness",
    "finishes_drive",
    "backdoor_cut_there",
    "backdoor_cut_there_time",
    "backdoor_cut_fed",
    "backdoor_cut_finished",
    "post_open",
    "skip_open",
    "skip_unused",
    "skip_value",
    "unused_points",
    "shots_rim",
    "shot_room",
    "stall_time",
];

/// So many columns have room beside their words on a plain terminal; the rest come below.
const AT_ONCE: usize = 3;

/// The figures `names` of each scrimmage under its head, with half their 95 % intervals.
pub fn side_by_side(columns: &[(String, &Results)], names: &[&str], units: Units) -> String {
    let figures: Vec<_> = columns.iter().map(|(_, r)| r.figures()).collect();
    let each = columns.iter().zip(&figures).collect::<Vec<_>>();
    let parts = each.chunks(AT_ONCE).map(|part| {
        let mut heads = vec![""];
        heads.extend(part.iter().map(|((head, _), _)| head.as_str()));
        let rows: Vec<Vec<String>> = names
            .iter()
            .map(|name| {
                let found = part
                    .iter()
                    .map(|(_, list)| list.iter().find(|f| f.name == *name));
                let found: Vec<_> = found.collect();
                let sentence = found.iter().flatten().next().map(|f| f.sentence.clone());
                let mut cells = vec![sentence.unwrap_or_else(|| (*name).to_string())];
                let said = |f: &Option<&_>| f.map_or(NONE.to_string(), |f| short(f, units));
                cells.extend(found.iter().map(said));
                cells
            })
            .collect();
        table(&heads, &rows)
    });
    parts.collect::<Vec<_>>().join("\n")
}
