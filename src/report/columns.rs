//! The registry of columns: what stands in every file of figures, with its unit. The writers take the
//! heads of their sheets from here, and the command `columns` prints it.

use crate::scrimmage::measures;

use super::records;
use super::wrap::wrap;

/// One column or key.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// As it stands in the file.
    pub name: String,
    /// The unit of what stands in it; "word" for a text, "" where the line names the unit.
    pub unit: &'static str,
    /// What it says.
    pub says: String,
}

/// Name, unit and meaning.
pub type Entry = (&'static str, &'static str, &'static str);

/// One file, or what all files of a form have in common.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// How it is asked for.
    pub title: &'static str,
    /// In the order in which they stand there.
    pub columns: Vec<Column>,
}

/// `scrimmage --summary-csv`: a figure a line.
pub const SUMMARY: [Entry; 15] = [
    ("offence", "word", "name of the offence"),
    (
        "tweaks",
        "word",
        "names of the tweaks, with semicolons between",
    ),
    ("defence", "word", "name of the defence"),
    ("attackers", "word", "the squad that attacks"),
    ("defenders", "word", "the squad that defends"),
    (
        "first_seed",
        "count",
        "seed of the first possession; the rest follow on",
    ),
    ("possessions", "count", "possessions played"),
    ("complete", "word", "yes, or interrupted"),
    (
        "figure",
        "word",
        "name of the figure: see the figures below",
    ),
    ("meaning", "word", "what it measures"),
    ("unit", "word", "the unit of the next three columns"),
    ("value", "", "the figure; empty if nothing was seen"),
    ("low_95", "", "lower end of the 95 % interval"),
    ("high_95", "", "upper end of the 95 % interval"),
    ("n", "count", "possessions or cases that it rests on"),
];

/// `why --csv`: a figure a line.
pub const WHY: [Entry; 14] = [
    ("offence", "word", "name of the offence"),
    (
        "tweaks",
        "word",
        "names of the tweaks, with semicolons between",
    ),
    ("defence", "word", "name of the defence"),
    (
        "part",
        "word",
        "look, closer, unused, left, stall, place or matrix",
    ),
    (
        "look",
        "word",
        "kind of look; the last rule for a stall; the offence in the matrix",
    ),
    (
        "from",
        "word",
        "place of the ball; the look that is shut in left; the defence in the matrix",
    ),
    (
        "to",
        "word",
        "place of the receiver, or where the look is there",
    ),
    (
        "closer",
        "word",
        "what the closer's man is to the ball / duty / place, or the defender",
    ),
    (
        "figure",
        "word",
        "name of the figure: the same word as the key in the JSON",
    ),
    ("unit", "word", "the unit of the next three columns"),
    ("value", "", "the figure; empty if nothing was seen"),
    ("low_95", "", "lower end of the 95 % interval"),
    ("high_95", "", "upper end of the 95 % interval"),
    ("n", "count", "possessions that it rests on"),
];

/// `compare --summary-csv`: a difference a line.
pub const COMPARED: [Entry; 20] = [
    (
        "compared_with",
        "word",
        "the variation that the other is held against",
    ),
    ("changed", "word", "the other variation"),
    (
        "first_seed",
        "count",
        "seed of the first possession; the rest follow on",
    ),
    ("possessions", "count", "possessions of each variation"),
    ("complete", "word", "yes, or interrupted"),
    (
        "figure",
        "word",
        "name of the figure: see the figures below",
    ),
    ("meaning", "word", "what it measures"),
    ("unit", "word", "the unit of the next five columns"),
    ("before", "", "the figure with the first variation"),
    ("now", "", "the figure with the other variation"),
    ("difference", "", "the other less the first"),
    (
        "low_95",
        "",
        "lower end of the 95 % interval of the difference",
    ),
    (
        "high_95",
        "",
        "upper end of the 95 % interval of the difference",
    ),
    ("n", "count", "pairs of possessions that it rests on"),
    ("seeds_changed", "count", "seeds on which the two differ"),
    (
        "gain_from_common_seeds",
        "ratio",
        "how many times as many possessions separate seeds would have needed",
    ),
    (
        "family",
        "count",
        "headline differences that Holm's correction is over",
    ),
    (
        "holm_p",
        "share",
        "p-value after Holm's correction; headline figures only",
    ),
    (
        "verdict",
        "word",
        "sure, perhaps, not_told, too_few or alike",
    ),
    ("effect", "word", "the difference in a coach's words"),
];

/// Keys of the JSON of `scrimmage --summary-json`, `compare --summary-json` and `why --json` that are no
/// column of a sheet above. An estimate is an object of value, low, high (95 % interval) and n.
pub const KEYS: [Entry; 66] = [
    ("scenario", "word", "name of the scenario"),
    ("court", "word", "the rule set"),
    ("interrupted", "yes or no", "stopped before it was done"),
    ("confidence", "share", "confidence of every interval"),
    (
        "until",
        "",
        "how the wish for a narrow interval ended, if there was one",
    ),
    ("figures", "list", "the figures of the scrimmage"),
    ("name", "word", "name of the figure"),
    ("sentence", "word", "what it measures"),
    (
        "low",
        "",
        "lower end of the 95 % interval, in the unit of the value",
    ),
    (
        "high",
        "",
        "upper end of the 95 % interval, in the unit of the value",
    ),
    ("who_shuts", "list", "who shuts each kind of look"),
    ("relation", "word", "what the defender's man is to the ball"),
    ("duty", "word", "what the defender is doing"),
    (
        "share",
        "share",
        "of the time that the look is shut; of all stalled time for a stall",
    ),
    ("common", "word", "what all variations have in common"),
    ("comparisons", "list", "one for each pair of variations"),
    (
        "base",
        "word",
        "the variation that the other is held against",
    ),
    ("differences", "list", "one for each figure"),
    (
        "headline",
        "yes or no",
        "one of the figures that count for “surely”",
    ),
    (
        "looks",
        "list",
        "every look at every place that was seen often enough",
    ),
    ("kind", "word", "kind of look"),
    ("spot", "word", "name of a place"),
    ("half", "word", "its side: ball or weak"),
    ("man", "", "where the defender's man is"),
    (
        "seen",
        "instants",
        "decision instants (5 a second) in a possession at which it was a look",
    ),
    ("open", "share", "of these instants at which it was open"),
    (
        "shut",
        "share",
        "of these instants at which it was shut; for a stall: what was shut, and by whom",
    ),
    ("windows", "count", "unbroken open spells in a possession"),
    ("median", "s", "median length of such a spell"),
    ("longest", "s", "the longest of all"),
    (
        "taken",
        "share",
        "of the windows, or of the possessions with it, in which it was taken",
    ),
    ("closers", "list", "who shuts it, most often first"),
    (
        "midline",
        "share",
        "of the closings in which the closer is on the midline",
    ),
    (
        "distance",
        "m",
        "of the closer from the way of ball or driver",
    ),
    ("since", "s", "how long the closer has been at it"),
    (
        "alone",
        "share",
        "of the closings that open with the closer gone",
    ),
    (
        "tight",
        "share",
        "of the closings that open with the closer tight on the own man",
    ),
    (
        "rivals",
        "share",
        "of the closings that open with the closer where another defence puts that player",
    ),
    ("example", "", "seed, and seconds into that possession"),
    ("unused", "list", "light that no rule takes, best first"),
    ("at", "", "the place"),
    ("there", "share", "of the possessions in which it was there"),
    (
        "allowed",
        "share",
        "of its instants at which the rules let it be taken",
    ),
    ("adds", "points", "a possession, at most"),
    (
        "unused_lead",
        "points",
        "by which the first unused light leads the second, a possession",
    ),
    (
        "unused_points",
        "points",
        "left unused in a possession, at most",
    ),
    ("left", "list", "light that closers leave, best first"),
    ("shuts", "word", "what the closer shuts meanwhile"),
    ("light", "", "what is left"),
    (
        "stalls",
        "",
        "spells of 0.8 s or more without an open look and without a drive",
    ),
    ("often", "count", "such stalls in a possession"),
    ("length", "s", "mean length of one"),
    ("stories", "list", "the kinds of stall, most often first"),
    ("rule", "word", "the rule that fired last"),
    ("lately", "word", "what happened just before, most often"),
    ("places", "list", "which defender is out of place"),
    ("defender", "count", "number of the defender"),
    ("after", "word", "what happened just before"),
    (
        "off",
        "m",
        "mean distance from the place that the model gives",
    ),
    (
        "nine_in_ten",
        "m",
        "within which the defender is nine times in ten",
    ),
    ("out", "share", "of the time out of place"),
    (
        "opened",
        "share",
        "of that time in which it opens a better look",
    ),
    ("cost", "points", "a possession, at most"),
    ("matrix", "list", "every offence against every defence"),
    ("points", "points", "a possession"),
    ("promised", "points", "that the shots promise, a possession"),
];

/// The rest of the keys, of the matrix.
pub const MATRIX_KEYS: [Entry; 2] = [
    (
        "open_looks",
        "count",
        "windows of scoring looks in a possession",
    ),
    ("stalled", "s", "stalled in a possession"),
];

/// The heads of a sheet.
pub fn heads<const N: usize>(sheet: &[Entry; N]) -> [&'static str; N] {
    sheet.map(|(name, ..)| name)
}

fn all(entries: &[Entry]) -> Vec<Column> {
    let column = |(name, unit, says): &Entry| Column {
        name: (*name).to_string(),
        unit,
        says: (*says).to_string(),
    };
    entries.iter().map(column).collect()
}

/// Every file.
pub fn sheets() -> Vec<Sheet> {
    let figures = measures().into_iter().map(|m| Column {
        name: m.name,
        unit: m.unit.word(),
        says: m.sentence,
    });
    let rows = records::columns().into_iter().map(|c| c.column);
    vec![
        Sheet {
            title: "scrimmage --rows (CSV) and --records (Parquet): a possession a line",
            columns: rows.collect(),
        },
        Sheet {
            title: "scrimmage --summary-csv: a figure a line",
            columns: all(&SUMMARY),
        },
        Sheet {
            title: "compare --summary-csv: a difference a line",
            columns: all(&COMPARED),
        },
        Sheet {
            title: "why --csv: a figure a line",
            columns: all(&WHY),
        },
        Sheet {
            title: "keys of the JSON of scrimmage, compare and why",
            columns: all(&KEYS).into_iter().chain(all(&MATRIX_KEYS)).collect(),
        },
        Sheet {
            title: "figures of scrimmage and compare (also for --until)",
            columns: figures.collect(),
        },
    ]
}

/// All of it as text.
pub fn page() -> String {
    let lead = "What stands in the files. Units are metric, whatever is shown elsewhere: m, s; a share is 0 \
                to 1; an empty cell is nothing seen. In JSON an estimate is an object of value, low and \
                high (95 % interval) and n (what it rests on).";
    let mut text = wrap(lead, "", "");
    for sheet in sheets() {
        text += &format!("\n{}\n", sheet.title);
        for column in sheet.columns {
            let unit = match column.unit {
                "" => String::new(),
                unit => format!(" [{unit}]"),
            };
            let said = format!("{}{unit}: {}", column.name, column.says);
            text += &wrap(&said, "  ", "      ");
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_column_says_what_it_is_once_and_lengths_and_times_have_a_unit() {
        for sheet in sheets() {
            let mut names: Vec<&str> = sheet.columns.iter().map(|c| c.name.as_str()).collect();
            for column in &sheet.columns {
                assert!(column.says.len() > 3, "{}: {}", sheet.title, column.name);
                for (end, unit) in [("_s", "s"), ("_m", "m"), ("_m2", "m2")] {
                    if sheet.title.contains("--rows") && column.name.ends_with(end) {
                        assert_eq!(column.unit, unit, "{}", column.name);
                    }
                }
            }
            let all = names.len();
            names.sort_unstable();
            names.dedup();
            assert_eq!(names.len(), all, "{}", sheet.title);
        }
        for line in page().lines() {
            assert!(line.chars().count() <= super::super::wrap::WIDTH, "{line}");
        }
    }
}
