//! The why report in words: what the closers leave, and the light that no rule takes.

use crate::offence::words::capital;
use crate::stats::Estimate;
use crate::why::summary::{LeftBy, Light};

use super::why::{Dots, In, Section, Table};
use super::why_sections::{CLOSERS, ROWS, Teller};

const ADDS: &str = "What it adds: its worth at its best instant above that of the best other look \
    that the rules allow then. An upper bound, for it takes the look for granted.";

impl Teller<'_> {
    pub(super) fn left(&self) -> Section {
        let list: Vec<&LeftBy> = self.summary.left.iter().take(ROWS).collect();
        let mut rows = Vec::new();
        for l in &list {
            let who = l.closer.who().replacen("the ", "", 1);
            rows.push(vec![format!("{who}, shutting the {}", l.shuts.word())]);
            rows.push(vec![
                format!("  leaves the {}", light_short(&l.light)),
                self.cell(l.light.there, In::Percent),
                self.cell(l.light.allowed, In::Percent),
                self.cell(l.light.taken, In::Percent),
                self.cell(l.light.value, In::Points),
                self.cell(l.light.adds, In::PointsPerHundred),
            ]);
        }
        let sentence = |l: &&LeftBy| {
            let taken = match (l.light.allowed, l.light.taken) {
                (Some(a), _) if a.value <= 0.0 => "No rule takes it.".to_string(),
                (_, Some(t)) if t.value <= 0.0 => "It was never taken.".to_string(),
                (_, taken) => format!("It is taken in {} of those.", self.said(taken, In::Percent)),
            };
            format!(
                "{} shuts the {} and leaves {}, in {} of possessions; it adds at most {} points in \
                 a hundred of them. {taken}",
                capital(&l.closer.who()),
                l.shuts.word(),
                l.light.words(),
                self.said(l.light.there, In::Percent),
                self.said(l.light.adds, In::PointsPerHundred),
            )
        };
        let mut sentences: Vec<String> = list.iter().take(CLOSERS).map(sentence).collect();
        if list.is_empty() {
            sentences.push("Nothing that would not be open anyway.".into());
        }
        Section {
            title: "What it costs them".into(),
            lead: "Open because the closer is not tight on his own man. Best first.".into(),
            sentences,
            plots: dots(
                "What the closers leave, at most",
                list.iter().filter_map(|l| {
                    let who = l.closer.who().replacen("the ", "", 1);
                    let who = who.replace("-side", "").replace("'s defender", "'s man");
                    Some((
                        format!("{} (by {who})", light_short(&l.light)),
                        l.light.adds?,
                    ))
                }),
            ),
            named: list.iter().filter_map(|l| l.light.example).collect(),
            tables: vec![Table {
                caption: "Who leaves what: possessions in which it was there, share of that time \
                          the rules allow it, how often it was taken then, its own worth in points, and \
                          what it adds to a hundred possessions"
                    .into(),
                heads: self.heads(
                    "closer, light",
                    &[
                        ("there", In::Percent),
                        ("allowed", In::Percent),
                        ("taken", In::Percent),
                        ("worth", In::Points),
                        ("adds", In::PointsPerHundred),
                    ],
                ),
                rows,
            }],
            note: ADDS.into(),
        }
    }

    pub(super) fn unused(&self) -> Section {
        let s = self.summary;
        let list: Vec<&Light> = s.unused.iter().take(ROWS).collect();
        let rows = list.iter().map(|l| {
            vec![
                light_short(l),
                self.cell(l.there, In::Percent),
                self.cell(l.value, In::Points),
                self.cell(l.adds, In::PointsPerHundred),
                example(l.example),
            ]
        });
        let sentence = |l: &&Light| {
            format!(
                "No rule takes {}. It is there in {} of possessions, worth {} points, and adds at \
                 most {} in a hundred possessions.{}",
                l.words(),
                self.said(l.there, In::Percent),
                self.said(l.value, In::Points),
                self.said(l.adds, In::PointsPerHundred),
                replay(l.example),
            )
        };
        let mut sentences: Vec<String> = list.iter().take(CLOSERS).map(sentence).collect();
        if let Some(lead) = s.unused_lead {
            sentences.push(if lead.excludes(0.0) {
                let lead = self.said(Some(lead), In::PointsPerHundred);
                format!("The first leads the second by {lead} points in a hundred possessions.")
            } else {
                "Which of the first two adds more cannot be told yet: play more possessions.".into()
            });
        }
        sentences.extend(list.first().and_then(|l| try_it(l)));
        sentences.push(if list.is_empty() {
            "None: whatever was open, the rules may take.".into()
        } else {
            format!(
                "All of it together adds at most {} points in a hundred possessions.",
                self.said(s.unused_points, In::PointsPerHundred)
            )
        });
        Section {
            title: "Light that no rule takes".into(),
            lead: "Ranked by what it adds to a possession.".into(),
            sentences,
            plots: dots(
                "What the unused light adds, at most",
                list.iter().filter_map(|l| Some((light_short(l), l.adds?))),
            ),
            named: list.iter().filter_map(|l| l.example).collect(),
            tables: vec![Table {
                caption: "Possessions in which it was there, its own worth in points then, what it adds to a hundred \
                          possessions, \
                          and where to see it"
                    .into(),
                heads: self.heads(
                    "light",
                    &[
                        ("there", In::Percent),
                        ("worth", In::Points),
                        ("adds", In::PointsPerHundred),
                        ("seed and time", In::Count),
                    ],
                ),
                rows: rows.collect(),
            }],
            note: ADDS.into(),
        }
    }
}

/// What to type to see whether taking it pays.
pub(super) fn try_it(light: &Light) -> Option<String> {
    let word = light.tweaks.first()?;
    Some(format!(
        "Being open is not yet paying: try it with lanelight compare --tweak {word}."
    ))
}

pub(super) fn light_short(light: &Light) -> String {
    let at = light
        .at
        .map_or(String::new(), |w| format!(", {}", w.short()));
    format!("{}{at}", light.look.word())
}

/// "65 at 13.9 s", for a table.
pub(super) fn example(example: Option<(u64, f64)>) -> String {
    example.map_or("–".into(), |(seed, time)| {
        format!("{seed} at {time:.1} s")
    })
}

/// How to see it.
pub(super) fn replay(example: Option<(u64, f64)>) -> String {
    example.map_or(String::new(), |(seed, time)| {
        format!(" See seed {seed} at {time:.1} s.")
    })
}

/// A figure of points in a hundred possessions.
pub(super) fn dots(caption: &str, rows: impl Iterator<Item = (String, Estimate)>) -> Vec<Dots> {
    let dots = Dots {
        caption: caption.into(),
        axis: "points in a hundred possessions".into(),
        unit: In::PointsPerHundred,
        bars: false,
        rows: rows.collect(),
    };
    Vec::from_iter((!dots.rows.is_empty()).then_some(dots))
}
