//! The why report in words: sections of sentences, tables and figures, made once from the summary
//! and then set as text or as a page for the browser.

use crate::court::Units;
use crate::offence::LookKind;
use crate::stats::Estimate;
use crate::why::places::OUT;
use crate::why::sheet::ON_MIDLINE;
use crate::why::summary::{Closing, LeftBy, Light, LookWhy, OutOfPlace, Story};
use crate::why::{Rival, Summary, Where};

use super::clean::line;
use super::why::{Dots, In, Section, Table, bare, cell, said};

/// A look that exists for less than this many decision instants in a possession is left to the
/// files (ours).
const MAIN: f64 = 2.0;
/// Places named for each kind of look, and closers for each look.
const PLACES: usize = 2;
const CLOSERS: usize = 3;
/// Rows of a table of light, stories, and seats.
const ROWS: usize = 6;
/// A closer stands on the midline "mostly" from this share on.
const MOSTLY: f64 = 0.5;

/// What the sections are made from.
pub struct Teller<'a> {
    pub summary: &'a Summary,
    pub rivals: &'a [Rival],
    pub units: Units,
}

impl Teller<'_> {
    /// All sections, in order.
    pub fn sections(&self) -> Vec<Section> {
        let mut all = vec![
            self.in_short(),
            self.closers(),
            self.alone(),
            self.left(),
            self.unused(),
            self.stalls(),
            self.places(),
        ];
        if !self.summary.matrix.is_empty() {
            all.push(self.matrix());
        }
        all
    }

    fn cell(&self, e: Option<Estimate>, unit: In) -> String {
        cell(e, unit, self.units)
    }

    fn said(&self, e: Option<Estimate>, unit: In) -> String {
        said(e, unit, self.units)
    }

    /// The looks worth a line: by kind, at each the places where it is a look longest.
    fn main(&self) -> Vec<&LookWhy> {
        let seen = |l: &LookWhy| l.seen.map_or(0.0, |e| e.value);
        let mut chosen = Vec::new();
        for kind in LookKind::ALL {
            let of_kind = self.summary.looks.iter().filter(|l| l.site.kind == kind);
            let mut here: Vec<_> = of_kind.filter(|l| seen(l) >= MAIN).collect();
            here.sort_by(|a, b| seen(b).total_cmp(&seen(a)));
            chosen.extend(here.into_iter().take(PLACES));
        }
        chosen
    }

    fn in_short(&self) -> Section {
        let s = self.summary;
        let mut sentences = Vec::new();
        let closed = |l: &&&LookWhy| l.shut.map_or(0.0, |e| e.value);
        let main = self.main();
        let scoring = main.iter().filter(|l| {
            matches!(
                l.site.kind,
                LookKind::Drive | LookKind::GiveAndGo | LookKind::Post
            )
        });
        if let Some(look) = scoring.max_by(|a, b| closed(a).total_cmp(&closed(b))) {
            sentences.push(self.closing_sentence(look, 1));
        }
        match s.unused.first() {
            Some(light) => sentences.push(format!(
                "Best light that no rule takes: {}, there in {} of possessions.",
                light_words(light),
                self.said(light.there, In::Percent),
            )),
            None => sentences.push("Whatever was open, the rules may take.".into()),
        }
        if let Some(story) = s.stalls.stories.first() {
            sentences.push(self.story_sentence(story));
        }
        let worst = s.places.iter().filter(|p| p.defender.is_some());
        if let Some(p) = worst.max_by(|a, b| cost(a).total_cmp(&cost(b))) {
            sentences.push(format!(
                "The defence pays most for X{}: out of place {} of the time, at most {} points in \
                 a hundred possessions.",
                p.defender.unwrap_or(0),
                self.said(p.out, In::Percent),
                self.said(p.cost, In::PointsPerHundred),
            ));
        }
        Section {
            title: "In short".into(),
            lead: "After ± or in brackets: the 95 % interval.".into(),
            sentences,
            ..Section::default()
        }
    }

    /// "The drive from the ball-side slot is shut 78 % (±2) of the time: 54 % (±3) by …".
    fn closing_sentence(&self, look: &LookWhy, most: usize) -> String {
        let by: Vec<String> = look
            .closers
            .iter()
            .take(most)
            .enumerate()
            .filter(|(i, c)| *i == 0 || c.share.is_some_and(|e| e.value >= 0.05))
            .map(|(_, c)| format!("{} by {}", self.said(c.share, In::Percent), closer(c)))
            .collect();
        let mut text = format!(
            "{} is shut {} of the time",
            capital(&look.site.words()),
            self.said(look.shut, In::Percent)
        );
        if by.is_empty() {
            text.push('.');
        } else {
            text += &format!(": {}.", by.join(", "));
        }
        text
    }

    fn closers(&self) -> Section {
        let main = self.main();
        let row = |l: &&LookWhy| {
            vec![
                l.site.short(),
                self.cell(l.open, In::Percent),
                self.cell(l.windows, In::Count),
                l.median
                    .map_or("–".into(), |e| bare(e.value, In::Seconds, self.units)),
                bare(l.longest, In::Seconds, self.units),
                self.cell(l.taken, In::Percent),
                self.cell(l.value, In::Points),
            ]
        };
        let heads = [
            "look", "open", "windows", "median", "longest", "taken", "worth",
        ];
        let where_rows = main.iter().flat_map(|l| {
            let named = l.closers.iter().take(CLOSERS).enumerate();
            named
                .filter(|(i, c)| *i == 0 || c.share.is_some_and(|e| e.value >= 0.05))
                .map(|(i, c)| {
                    vec![
                        if i == 0 {
                            l.site.short()
                        } else {
                            String::new()
                        },
                        c.seat.who().replacen("the ", "", 1),
                        self.cell(c.share, In::Percent),
                        self.cell(c.midline, In::Percent),
                        self.cell(c.distance, In::Metres),
                        self.cell(c.since, In::Seconds),
                    ]
                })
                .collect::<Vec<_>>()
        });
        let midline = bare(ON_MIDLINE, In::Metres, self.units);
        Section {
            title: "Who shuts what".into(),
            lead: "After the colon: shares of the time that the look is shut.".into(),
            sentences: main
                .iter()
                .map(|l| self.closing_sentence(l, CLOSERS))
                .collect(),
            dots: Some(Dots {
                caption: "How much of the time each look is shut".into(),
                axis: "share of the time that it is a look, %".into(),
                unit: In::Percent,
                rows: main
                    .iter()
                    .filter_map(|l| Some((l.site.short(), l.shut?)))
                    .collect(),
            }),
            tables: vec![
                Table {
                    caption: "What was open: share of the time, windows in a possession, their \
                              median and greatest length, share taken, points it is worth"
                        .into(),
                    heads: heads.map(String::from).to_vec(),
                    rows: main.iter().map(row).collect(),
                },
                Table {
                    caption: "Where the closer stands: share of the closings, of his closings on \
                              the midline, distance from the way of the ball, since when"
                        .into(),
                    heads: ["look", "closer", "share", "midline", "off", "since"]
                        .map(String::from)
                        .to_vec(),
                    rows: where_rows.collect(),
                },
            ],
            note: format!(
                "On the midline: within {midline} of it. Looks that are there for only a moment \
                 are in the files."
            ),
        }
    }

    fn alone(&self) -> Section {
        let mut heads: Vec<String> = ["look", "closer", "gone", "tight"]
            .map(String::from)
            .to_vec();
        heads.extend(self.rivals.iter().map(|r| first_word(&r.name)));
        let mut sentences = Vec::new();
        let mut rows = Vec::new();
        for look in self.main() {
            let Some(c) = look.closers.first().filter(|c| c.alone.is_some()) else {
                continue;
            };
            let mut row = vec![
                look.site.short(),
                c.seat.who().replacen("the ", "", 1),
                self.cell(c.alone, In::Percent),
                self.cell(c.tight, In::Percent),
            ];
            row.extend(c.rivals.iter().map(|(_, e)| self.cell(*e, In::Percent)));
            rows.push(row);
            if sentences.len() < ROWS {
                sentences.push(self.alone_sentence(look, c));
            }
        }
        Section {
            title: "Is it his alone?".into(),
            lead: "The same instants, measured again with one defender moved and nobody else."
                .into(),
            sentences,
            tables: vec![Table {
                caption: "Of his closings, how many open with him gone, tight on his own man, or \
                          where another model would have him"
                    .into(),
                heads,
                rows,
            }],
            note: "Exact geometry at that instant; nothing is played on from it. The moved \
                   defender stands still."
                .into(),
            ..Section::default()
        }
    }

    fn alone_sentence(&self, look: &LookWhy, c: &Closing) -> String {
        let share = self.said(c.alone, In::Percent);
        let who = c.seat.who();
        let site = look.site.words();
        match c.alone.map_or(0.0, |e| e.value) {
            v if v >= 0.6 => format!(
                "{} alone shuts {site}: take him away, and {share} of his closings open.",
                capital(&who)
            ),
            v if v >= 0.25 => format!(
                "Without {who}, {site} opens in {share} of his closings; the rest has a second body in it."
            ),
            _ => format!(
                "Moving {who} is not enough to open {site}: without him {share} of his closings open."
            ),
        }
    }

    fn left(&self) -> Section {
        let list: Vec<&LeftBy> = self.summary.left.iter().take(ROWS).collect();
        let rows = list.iter().map(|l| {
            vec![
                l.closer.who().replacen("the ", "", 1),
                l.shuts.word().to_string(),
                light_short(&l.light),
                self.cell(l.light.there, In::Percent),
                self.cell(l.light.allowed, In::Percent),
                self.cell(l.light.taken, In::Percent),
                self.cell(l.light.adds, In::PointsPerHundred),
            ]
        });
        let sentence = |l: &&LeftBy| {
            let may = match l.light.allowed.map_or(0.0, |e| e.value) {
                v if v <= 0.0 => "no rule takes it".to_string(),
                _ => format!(
                    "taken in {} of those",
                    self.said(l.light.taken, In::Percent)
                ),
            };
            format!(
                "{} shuts the {} and leaves {}: there in {} of possessions, {may}.",
                capital(&l.closer.who()),
                l.shuts.word(),
                light_words(&l.light),
                self.said(l.light.there, In::Percent),
            )
        };
        Section {
            title: "What it costs them".into(),
            lead: "Open because the closer is not tight on his own man. Best first.".into(),
            sentences: if list.is_empty() {
                vec!["Nothing that would not be open anyway.".into()]
            } else {
                list.iter().take(CLOSERS).map(sentence).collect()
            },
            dots: dots(
                "What the closers leave, at most",
                "points in a hundred possessions, above the best other look that the rules allow",
                list.iter().filter_map(|l| {
                    let from = l.closer.who().replacen("the ", "", 1);
                    Some((format!("{} ← {from}", light_short(&l.light)), l.light.adds?))
                }),
            ),
            tables: vec![Table {
                caption: "Who leaves what: possessions in which it was there, share of that time \
                          the rules allow it, share taken, points added in a hundred possessions"
                    .into(),
                heads: [
                    "closer", "shuts", "leaves", "there", "allowed", "taken", "adds",
                ]
                .map(String::from)
                .to_vec(),
                rows: rows.collect(),
            }],
            note: ADDS.into(),
        }
    }

    fn unused(&self) -> Section {
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
                "{} is there in {} of possessions and no rule takes it.{}",
                capital(&light_words(l)),
                self.said(l.there, In::Percent),
                replay(l.example),
            )
        };
        let mut sentences: Vec<String> = list.iter().take(CLOSERS).map(sentence).collect();
        if list.is_empty() {
            sentences.push("None: whatever was open, the rules may take.".into());
        } else {
            sentences.push(format!(
                "All of it together: at most {} points in a hundred possessions.",
                self.said(s.unused_points, In::PointsPerHundred)
            ));
        }
        Section {
            title: "Light that no rule takes".into(),
            lead: "Ranked by what it adds to a possession.".into(),
            sentences,
            dots: dots(
                "What the unused light adds, at most",
                "points in a hundred possessions, above the best look that the rules allow",
                list.iter().filter_map(|l| Some((light_short(l), l.adds?))),
            ),
            tables: vec![Table {
                caption: "Possessions in which it was there, its own worth in points, points \
                          added in a hundred possessions, and where to see it"
                    .into(),
                heads: ["light", "there", "worth", "adds", "seed, time"]
                    .map(String::from)
                    .to_vec(),
                rows: rows.collect(),
            }],
            note: ADDS.into(),
        }
    }

    fn story_sentence(&self, s: &Story) -> String {
        let after = match &s.rule {
            Some(rule) => format!("after “{}”", line(rule)),
            None => "before any rule".to_string(),
        };
        format!(
            "It stalls with the ball {} {after}: {} of all stalled time, {} each time.",
            at(s.at),
            self.said(s.share, In::Percent),
            self.said(s.length, In::Seconds)
        )
    }

    fn stalls(&self) -> Section {
        let s = &self.summary.stalls;
        let mut sentences = vec![format!(
            "{} stalls in a possession, {} each; the longest lasted {}.",
            self.said(s.often, In::Count),
            self.said(s.length, In::Seconds),
            bare(s.longest, In::Seconds, self.units)
        )];
        for story in s.stories.iter().take(2) {
            let mut text = self.story_sentence(story);
            text += &format!(" It comes {}.", story.lately.words());
            if let Some((kind, seat, share)) = &story.shut {
                text += &format!(
                    " What is missing is the {}, shut by {} ({} of these stalls).",
                    kind.word(),
                    seat.who(),
                    self.said(*share, In::Percent)
                );
            }
            text += &replay(Some(story.example));
            sentences.push(text);
        }
        let rows = s.stories.iter().take(ROWS).map(|t| {
            vec![
                t.at.short(),
                t.rule.as_deref().map_or("–".into(), line),
                self.cell(t.often, In::Count),
                self.cell(t.length, In::Seconds),
                self.cell(t.share, In::Percent),
                example(Some(t.example)),
            ]
        });
        Section {
            title: "Where it stalls".into(),
            lead: "A stall: the holder has no open look for 0.8 s or more.".into(),
            sentences,
            dots: None,
            tables: vec![Table {
                caption: "Where the ball is, the last rule, stalls in a possession, length, share \
                          of all stalled time, and where to see one"
                    .into(),
                heads: [
                    "ball",
                    "last rule",
                    "often",
                    "length",
                    "share",
                    "seed, time",
                ]
                .map(String::from)
                .to_vec(),
                rows: rows.collect(),
            }],
            note: String::new(),
        }
    }

    fn places(&self) -> Section {
        let all = &self.summary.places;
        let name = |p: &OutOfPlace| match (p.defender, p.relation, p.after) {
            (Some(d), ..) => format!("X{d}"),
            (_, Some(r), None) => r.word().to_string(),
            (_, Some(r), Some(a)) => format!("{}, {}", r.word(), a.words()),
            _ => String::new(),
        };
        let row = |p: &&OutOfPlace| {
            vec![
                name(p),
                self.cell(p.off, In::Metres),
                bare(p.median, In::Metres, self.units),
                bare(p.nine_in_ten, In::Metres, self.units),
                self.cell(p.out, In::Percent),
                self.cell(p.opened, In::Percent),
                self.cell(p.cost, In::PointsPerHundred),
            ]
        };
        let heads = ["", "off", "median", "9 in 10", "out", "opens", "costs"];
        let table = |caption: &str, list: &mut dyn Iterator<Item = &OutOfPlace>| Table {
            caption: caption.into(),
            heads: heads.map(String::from).to_vec(),
            rows: list.map(|p| row(&p)).collect(),
        };
        let mut after: Vec<&OutOfPlace> = all.iter().filter(|p| p.after.is_some()).collect();
        after.sort_by(|a, b| cost(b).total_cmp(&cost(a)));
        after.truncate(ROWS);
        let sentences = after.iter().take(CLOSERS).map(|p| {
            format!(
                "{}: {} out of place on average, nine times in ten within {}; it costs at most {} \
                 points in a hundred possessions.",
                capital(&match p.relation {
                    Some(r) => format!(
                        "the defender {}{}, {}",
                        if matches!(
                            r,
                            crate::defence::Relation::PostBallSide
                                | crate::defence::Relation::PostWeakSide
                        ) {
                            "on the "
                        } else {
                            ""
                        },
                        r.word(),
                        p.after.map_or("", |a| a.words())
                    ),
                    None => name(p),
                }),
                self.said(p.off, In::Metres),
                bare(p.nine_in_ten, In::Metres, self.units),
                self.said(p.cost, In::PointsPerHundred)
            )
        });
        let caption = "How far from his model's place (mean, median, nine in ten), share of the \
                       time out of place, share of that in which it opens a look, and points it \
                       costs at most in a hundred possessions";
        let out = bare(OUT, In::Metres, self.units);
        Section {
            title: "The other bench: our defence out of place".into(),
            lead: "For the coach of the defence: who is late, after what, and what it costs."
                .into(),
            sentences: sentences.collect(),
            dots: dots(
                "What being out of place costs, at most",
                "points in a hundred possessions",
                all.iter()
                    .filter(|p| p.after.is_none())
                    .filter_map(|p| Some((name(p), p.cost?))),
            ),
            tables: vec![
                table(caption, &mut all.iter().filter(|p| p.defender.is_some())),
                table(
                    "The same by what the man is to the ball",
                    &mut all
                        .iter()
                        .filter(|p| p.relation.is_some() && p.after.is_none()),
                ),
                table(
                    "The same by what happened just before, dearest first",
                    &mut after.iter().copied(),
                ),
            ],
            note: format!(
                "Out of place: more than {out} from where the model has him, had he seen \
                 everything and had time to get there. Helpers at the rim and rotating defenders \
                 left theirs on purpose and are not counted."
            ),
        }
    }

    fn matrix(&self) -> Section {
        let cells = &self.summary.matrix;
        let rows = cells.iter().enumerate().map(|(i, c)| {
            let again = i > 0 && cells[i - 1].offence == c.offence;
            vec![
                if again {
                    String::new()
                } else {
                    line(&c.offence)
                },
                line(&c.defence),
                self.cell(c.points, In::Points),
                self.cell(c.open_looks, In::Count),
                self.cell(c.stalled, In::Seconds),
            ]
        });
        let point = |c: &crate::why::matrix::Cell| c.points.map_or(0.0, |e| e.value);
        let mine = cells.first().map(|c| c.offence.clone());
        let of_mine = || cells.iter().filter(|c| Some(&c.offence) == mine.as_ref());
        let hardest = of_mine().min_by(|a, b| point(a).total_cmp(&point(b)));
        let easiest = of_mine().max_by(|a, b| point(a).total_cmp(&point(b)));
        let mut sentences = Vec::new();
        if let (Some(hard), Some(easy)) = (hardest, easiest) {
            sentences.push(format!(
                "“{}” scores least against “{}”, {} points in a possession, and most against “{}”, {}.",
                line(&hard.offence),
                line(&hard.defence),
                self.said(hard.points, In::Points),
                line(&easy.defence),
                self.said(easy.points, In::Points)
            ));
            let apart = match (hard.points, easy.points) {
                (Some(a), Some(b)) => a.separate_from(&b),
                _ => false,
            };
            if !apart {
                sentences.push(
                    "Their intervals overlap: more possessions are needed to tell them apart."
                        .into(),
                );
            }
        }
        let n = cells.first().and_then(|c| c.points).map_or(0, |e| e.n);
        Section {
            title: "Every defence against every offence".into(),
            lead: format!("The same {n} seeds for every pair; the same squads and court."),
            sentences,
            dots: Some(Dots {
                caption: "Points in a possession".into(),
                axis: "points in a possession".into(),
                unit: In::Points,
                rows: cells
                    .iter()
                    .filter_map(|c| {
                        let pair = format!("{} / {}", line(&c.offence), line(&c.defence));
                        Some((pair, c.points?))
                    })
                    .collect(),
            }),
            tables: vec![Table {
                caption: "Points, windows of scoring looks (shot, drive, feeds to cutters and \
                          inside) and seconds stalled, in a possession"
                    .into(),
                heads: ["offence", "defence", "points", "open looks", "stalled"]
                    .map(String::from)
                    .to_vec(),
                rows: rows.collect(),
            }],
            note: String::new(),
        }
    }
}

const ADDS: &str = "What it adds: its worth at its best instant above that of the best other look \
    that the rules allow then. An upper bound, for it takes the look for granted.";

fn cost(p: &OutOfPlace) -> f64 {
    p.cost.map_or(0.0, |e| e.value)
}

/// "the weak-side wing's defender, standing on the midline".
fn closer(c: &Closing) -> String {
    let midline = c.midline.is_some_and(|e| e.value >= MOSTLY);
    c.seat.who() + c.seat.doing(midline)
}

/// "the skip pass to the weak-side wing".
fn light_words(light: &Light) -> String {
    let kind = light.look.word();
    match (light.look, light.at) {
        (_, None) => format!("the {kind}"),
        (LookKind::Shot | LookKind::Drive, Some(at)) => {
            format!("the {kind} from the {}", at.words())
        }
        (LookKind::GiveAndGo | LookKind::Backdoor, Some(at)) => {
            format!("the feed to the {kind} from the {}", at.words())
        }
        (_, Some(at)) => format!("the {kind} to the {}", at.words()),
    }
}

fn light_short(light: &Light) -> String {
    let at = light
        .at
        .map_or(String::new(), |w| format!(", {}", w.short()));
    format!("{}{at}", light.look.word())
}

/// "on the ball-side wing".
fn at(place: Where) -> String {
    use crate::court::SpotName::*;
    let word = match place.spot {
        Wing | Block => "on",
        Slot | Corner | ShortCorner => "in",
        Top | HighPost | Elbow | Rim => "at",
    };
    format!("{word} the {}", place.words())
}

fn example(example: Option<(u64, f64)>) -> String {
    example.map_or("–".into(), |(seed, time)| format!("{seed}, {time:.1} s"))
}

/// How to see it.
fn replay(example: Option<(u64, f64)>) -> String {
    example.map_or(String::new(), |(seed, time)| {
        format!(" See seed {seed} at {time:.1} s.")
    })
}

fn dots(caption: &str, axis: &str, rows: impl Iterator<Item = (String, Estimate)>) -> Option<Dots> {
    let rows: Vec<_> = rows.collect();
    (!rows.is_empty()).then(|| Dots {
        caption: caption.into(),
        axis: axis.into(),
        unit: In::PointsPerHundred,
        rows,
    })
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// "Denial", "Mixed" …: a model's name short enough for the head of a column.
fn first_word(name: &str) -> String {
    let clean = line(name);
    clean.split(' ').next().unwrap_or_default().to_lowercase()
}
