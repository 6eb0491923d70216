//! The why report on two screens of a terminal: the five figures that matter first, then the first
//! rows of each part. The whole is in `why_page`.

use crate::defence::Relation;
use crate::why::places::OutOfPlace;
use crate::why::summary::Light;

use super::Heading;
use super::clean::{cut, line};
use super::table::table;
use super::why::{In, whole};
use super::why_bench::{after_what, at, cost};
use super::why_light::light_short;
use super::why_page::played;
use super::why_sections::Teller;
use super::wrap::wrap;

/// Lines that two screens of a plain terminal hold.
pub const LINES: usize = 48;
/// Rows of the parts, from what a large screen would hold to the least that says anything: looks,
/// left by closers, never taken, stalls, late defenders, defences.
const ROWS: [[usize; 6]; 7] = [
    [9, 3, 2, 3, 3, 7],
    [8, 3, 2, 2, 3, 7],
    [7, 2, 2, 2, 2, 6],
    [6, 2, 1, 2, 2, 6],
    [5, 2, 1, 2, 2, 6],
    [4, 1, 1, 1, 1, 5],
    [3, 1, 1, 1, 1, 3],
];

/// Under the page; a shorter caution than on paper, with the same meaning.
const FOOT: &str = "All of it: why --all. An example: watch --seed SEED. Warm up before anybody \
    runs any of this; league and medical rules come first.";

/// The page: as many rows of each part as fit on two screens.
pub fn page(heading: &Heading, teller: &Teller) -> String {
    let mut text = String::new();
    for rows in ROWS {
        text = of_rows(heading, teller, rows);
        if text.lines().count() <= LINES {
            break;
        }
    }
    text
}

fn of_rows(heading: &Heading, teller: &Teller, rows: [usize; 6]) -> String {
    let [looks, left, unused, stalls, late, defences] = rows;
    let title = format!("{}, against {}", heading.offence, heading.defence);
    let mut text = wrap(&title, "", "  ");
    for tweak in &heading.tweaks {
        text += &wrap(&format!("with the tweak {tweak}"), "", "  ");
    }
    let played = played(heading, teller.summary);
    text += &wrap(
        &format!("{played} After ± and in brackets: the 95 % interval."),
        "",
        "",
    );
    for (title, part) in [
        ("THE FIVE FIGURES THAT MATTER FIRST", teller.five()),
        (
            "WHO SHUTS WHAT (gone: opens with this closer gone)",
            teller.shut(looks),
        ),
        (
            "WHAT IS OPEN ALL THE SAME, share of possessions",
            teller.open(left, unused),
        ),
        ("WHERE IT STALLS", teller.stalled(stalls)),
        ("WHICH DEFENDER IS LATE", teller.late(late)),
        (
            "AGAINST EVERY DEFENCE, in a possession",
            teller.against(defences),
        ),
    ] {
        if !part.is_empty() {
            text += &format!("\n{title}\n{part}");
        }
    }
    text + "\n" + &wrap(FOOT, "", "")
}

/// Letters of a rule's name (ours: a line holds them with its figures).
const LONGEST: usize = 28;

/// What lets the rules take it.
fn tweak(light: &Light) -> String {
    let word = light.tweaks.first();
    word.map_or(String::new(), |w| format!(" (tweak {w})"))
}

impl Teller<'_> {
    /// One row for each of the five.
    fn five(&self) -> String {
        let s = self.summary;
        let mut rows = vec![vec![
            "Time without an open look, in a possession".to_string(),
            self.said(s.stalls.total, In::Seconds),
        ]];
        if let Some(story) = s.stalls.stories.first() {
            rows.push(vec![
                format!("Most of it with the ball {}", at(story.at)),
                self.said(story.share, In::Percent),
            ]);
        }
        if let Some(look) = self.most_shut() {
            rows.push(vec![
                format!("Most shut: {}", look.site.words()),
                self.said(look.shut, In::Percent),
            ]);
        }
        // "adds 1.2 (±0.2) points in 100".
        let hundred = |word: &str, e| format!("{word} {}*", self.said(e, In::PointsPerHundred));
        rows.push(match s.unused.first() {
            Some(light) => vec![
                format!("Never taken: {}", light.words()),
                hundred("adds", light.adds),
            ],
            None => vec!["Whatever was open, the rules may take".to_string()],
        });
        if let Some(p) = self.dearest() {
            rows.push(vec![
                format!("Out of place: X{}", p.defender.unwrap_or(0)),
                hundred("costs", p.cost),
            ]);
        }
        table(&["", ""], &rows) + "  * points in a hundred possessions, at most\n"
    }

    fn dearest(&self) -> Option<&OutOfPlace> {
        let own = self.summary.places.iter().filter(|p| p.defender.is_some());
        own.max_by(|a, b| cost(a).total_cmp(&cost(b)))
    }

    fn shut(&self, rows: usize) -> String {
        let rows: Vec<Vec<String>> = self
            .main(1)
            .into_iter()
            .take(rows)
            .map(|look| {
                let first = look.closers.first();
                let who = first.map_or(String::new(), |c| {
                    format!(": {}", c.seat.who().replacen("the ", "", 1))
                });
                vec![
                    format!("{}{who}", look.site.short()),
                    whole(look.shut),
                    whole(first.and_then(|c| c.share)),
                    whole(first.and_then(|c| c.alone)),
                ]
            })
            .collect();
        let units = [
            ("shut", In::Percent),
            ("by", In::Percent),
            ("gone", In::Percent),
        ];
        self.set("look: first closer", &units, &rows)
    }

    /// What the closers leave, then what no rule takes.
    fn open(&self, rows: usize, never: usize) -> String {
        let s = self.summary;
        let left = s.left.iter().take(rows).map(|l| {
            let who = l.closer.who().replacen("the ", "", 1);
            (
                format!("{}, left by {who}", light_short(&l.light)),
                &l.light,
            )
        });
        let unused = s.unused.iter().take(never);
        let unused = unused.map(|l| {
            (
                format!("{}: no rule takes it{}", light_short(l), tweak(l)),
                l,
            )
        });
        let rows: Vec<Vec<String>> = left
            .chain(unused)
            .map(|(words, light)| {
                vec![
                    words,
                    self.cell(light.there, In::Percent),
                    self.cell(light.adds, In::PointsPerHundred),
                ]
            })
            .collect();
        let units = [("there", In::Percent), ("adds", In::PointsPerHundred)];
        self.set("look", &units, &rows)
    }

    fn stalled(&self, rows: usize) -> String {
        let rows: Vec<Vec<String>> = self
            .summary
            .stalls
            .stories
            .iter()
            .take(rows)
            .map(|story| {
                let rule = story.rule.as_deref().map_or("before any rule".into(), |r| {
                    format!("after “{}”", cut(r, LONGEST))
                });
                let (seed, time) = story.example;
                vec![
                    format!("{}, {rule}", at(story.at)),
                    self.cell(story.share, In::Percent),
                    self.cell(story.length, In::Seconds),
                    format!("{seed} at {time:.1} s"),
                ]
            })
            .collect();
        let units = [
            ("share", In::Percent),
            ("each", In::Seconds),
            ("seed and time", In::Count),
        ];
        self.set("ball", &units, &rows)
    }

    fn late(&self, rows: usize) -> String {
        let after = self.summary.places.iter().filter(|p| p.after.is_some());
        let mut after: Vec<&OutOfPlace> = after.collect();
        after.sort_by(|a, b| cost(b).total_cmp(&cost(a)));
        let rows: Vec<Vec<String>> = after
            .into_iter()
            .take(rows)
            .map(|p| {
                vec![
                    format!(
                        "{}, {}",
                        p.relation.map_or("", Relation::word),
                        after_what(p)
                    ),
                    self.cell(p.off, In::Metres),
                    self.cell(p.out, In::Percent),
                    self.cell(p.cost, In::PointsPerHundred),
                ]
            })
            .collect();
        let units = [
            ("off", In::Metres),
            ("out of place", In::Percent),
            ("costs", In::PointsPerHundred),
        ];
        self.set("whose man is", &units, &rows)
    }

    fn against(&self, rows: usize) -> String {
        let cells = &self.summary.matrix;
        let mine = cells.first().map(|c| &c.offence);
        let rows: Vec<Vec<String>> = cells
            .iter()
            .filter(|c| Some(&c.offence) == mine)
            .take(rows)
            .map(|c| {
                vec![
                    line(&c.defence),
                    self.cell(c.promised, In::Points),
                    self.cell(c.points, In::Points),
                    self.cell(c.stalled, In::Seconds),
                ]
            })
            .collect();
        let units = [
            ("shots worth", In::Points),
            ("scored", In::Points),
            ("stalled", In::Seconds),
        ];
        self.set("defence", &units, &rows)
    }

    fn set(&self, first: &str, units: &[(&str, In)], rows: &[Vec<String>]) -> String {
        if rows.is_empty() {
            return String::new();
        }
        let heads = self.heads(first, units);
        let heads: Vec<&str> = heads.iter().map(String::as_str).collect();
        table(&heads, rows)
    }
}
