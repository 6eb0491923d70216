//! The why report in words: sections of sentences, tables and figures, made once from the summary
//! and then set as text or as a page for the browser. This file: the whole, who shuts what, and
//! whether it is his alone; `why_light` and `why_bench` have the rest.

use crate::court::Units;
use crate::defence::Relation;
use crate::offence::LookKind;
use crate::offence::words::capital;
use crate::stats::Estimate;
use crate::why::sheet::ON_MIDLINE;
use crate::why::summary::{Closing, LookWhy};
use crate::why::{Rival, Summary};

use super::clean::line;
use super::table::columns_with_room;
use super::why::{Dots, In, Section, Table, bare, cell, head, said, whole};
use super::why_light::try_it;

/// A look that exists for less than this many decision instants in a possession is left to the
/// files (ours).
const MAIN: f64 = 2.0;
/// Places named for each kind of look, and closers for each look.
const PLACES: usize = 2;
pub(super) const CLOSERS: usize = 3;
/// Rows of a ranked table.
pub(super) const ROWS: usize = 6;
/// What moving one defender leaves out.
const STILL: &str = "Exact geometry at that instant; nothing is played on from it. The moved defender stands still.";
/// A closer stands on the midline "mostly" from this share on.
const MOSTLY: f64 = 0.5;
/// A closer with a smaller share than this is not named.
const NAMED: f64 = 0.05;

/// What the sections are made from.
pub struct Teller<'a> {
    /// The figures.
    pub summary: &'a Summary,
    /// The other models that closers are compared with.
    pub rivals: &'a [Rival],
    /// Metres or feet.
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

    pub(super) fn cell(&self, e: Option<Estimate>, unit: In) -> String {
        cell(e, unit, self.units)
    }

    pub(super) fn said(&self, e: Option<Estimate>, unit: In) -> String {
        said(e, unit, self.units)
    }

    /// A plain number without its unit, for a table.
    pub(super) fn plain(&self, value: f64, unit: In) -> String {
        let text = bare(value, unit, self.units);
        text.split(' ').next().unwrap_or_default().to_string()
    }

    /// Heads of a table: the first column's word, then words with their units.
    pub(super) fn heads(&self, first: &str, rest: &[(&str, In)]) -> Vec<String> {
        let mut heads = vec![first.to_string()];
        heads.extend(
            rest.iter()
                .map(|(word, unit)| head(word, *unit, self.units)),
        );
        heads
    }

    /// The looks worth a line: by kind, at each the places where it is a look longest.
    pub(super) fn main(&self, places: usize) -> Vec<&LookWhy> {
        let seen = |l: &LookWhy| l.seen.map_or(0.0, |e| e.value);
        let mut chosen = Vec::new();
        for kind in LookKind::ALL {
            let of_kind = self.summary.looks.iter().filter(|l| l.site.kind == kind);
            let mut here: Vec<_> = of_kind.filter(|l| seen(l) >= MAIN).collect();
            here.sort_by(|a, b| seen(b).total_cmp(&seen(a)));
            chosen.extend(here.into_iter().take(places));
        }
        chosen
    }

    /// The look that is shut for the most time, of those that are worth a line; that a shot is shut by
    /// whoever stands in front of it is no news.
    pub(super) fn most_shut(&self) -> Option<&LookWhy> {
        let time = |l: &LookWhy| l.shut.map_or(0.0, |e| e.value) * l.seen.map_or(0.0, |e| e.value);
        let all = self.main(PLACES).into_iter();
        let all = all.filter(|l| l.site.kind != LookKind::Shot && !l.closers.is_empty());
        all.max_by(|a, b| time(a).total_cmp(&time(b)))
    }

    fn in_short(&self) -> Section {
        let s = self.summary;
        let mut sentences = Vec::new();
        let main = self.main(PLACES);
        let drive = main.iter().find(|l| l.site.kind == LookKind::Drive);
        if let Some(look) = drive {
            sentences.push(self.closing_sentence(look, 1));
        }
        sentences.push(match s.unused.first() {
            Some(light) => format!(
                "The best light that no rule takes is {}: there in {} of possessions, and it adds \
                 at most {} points in a hundred of them.",
                light.words(),
                self.said(light.there, In::Percent),
                self.said(light.adds, In::PointsPerHundred),
            ),
            None => "Whatever was open, the rules may take.".into(),
        });
        sentences.extend(s.unused.first().and_then(try_it));
        if let Some(story) = s.stalls.stories.first() {
            sentences.push(self.story_sentence(story));
        }
        let cost = super::why_bench::cost;
        let ours = s.places.iter().filter(|p| p.defender.is_some());
        if let Some(p) = ours.max_by(|a, b| cost(a).total_cmp(&cost(b))) {
            sentences.push(format!(
                "The defence pays most for X{}: out of place {} of the time, which costs at most \
                 {} points in a hundred possessions.",
                p.defender.unwrap_or(0),
                self.said(p.out, In::Percent),
                self.said(p.cost, In::PointsPerHundred),
            ));
        }
        Section {
            title: "In short".into(),
            lead: "After ± and in brackets: the 95 % interval.".into(),
            sentences,
            ..Section::default()
        }
    }

    /// The three findings of the first page, each with where to see it: what is shut most, what no rule
    /// takes, where it stalls.
    pub fn first(&self) -> Vec<(String, Option<(u64, f64)>)> {
        let s = self.summary;
        let shut = self.most_shut().map(|look| {
            let example = look.closers.first().and_then(|c| c.example);
            (self.closing_sentence(look, 1), example)
        });
        let unused = s.unused.first().map(|light| {
            let said = format!(
                "The best light that no rule takes is {}: there in {} of possessions, and it adds \
                 at most {} points in a hundred of them.",
                light.words(),
                self.said(light.there, In::Percent),
                self.said(light.adds, In::PointsPerHundred),
            );
            (said, light.example)
        });
        let stall = s.stalls.stories.first();
        let stall = stall.map(|story| (self.story_sentence(story), Some(story.example)));
        [shut, unused, stall].into_iter().flatten().collect()
    }

    /// Every second that these sections and the first page name: seed and time, s.
    pub fn named(&self, sections: &[Section]) -> Vec<(u64, f64)> {
        let first = self.first().into_iter().filter_map(|f| f.1);
        first
            .chain(sections.iter().flat_map(|s| s.named.iter().copied()))
            .collect()
    }

    /// What to try, in a sentence.
    pub fn to_try(&self) -> String {
        let tip = self.summary.unused.first().and_then(try_it);
        tip.unwrap_or_else(|| {
            "Try a tweak of your own on the same seeds: lanelight compare --tweak.".into()
        })
    }

    /// "The drive from the ball-side slot is shut 78 % (±2) of the time: 54 % (±3) by …".
    fn closing_sentence(&self, look: &LookWhy, most: usize) -> String {
        let by: Vec<String> = named(look, most)
            .map(|c| format!("{} by {}", self.said(c.share, In::Percent), closer(c)))
            .collect();
        let mut text = format!(
            "{} is shut {} of the time",
            capital(&look.site.words()),
            self.said(look.shut, In::Percent)
        );
        match by.as_slice() {
            [] => text.push('.'),
            by => text += &format!(": {}.", by.join("; ")),
        }
        text
    }

    /// Where the first closer stands, and since when.
    fn standing(&self, look: &LookWhy) -> String {
        let named: Vec<&Closing> = named(look, CLOSERS).collect();
        let Some(c) = named.first().filter(|c| c.distance.is_some()) else {
            return String::new();
        };
        let who = if named.len() > 1 {
            "The first of them"
        } else {
            "He"
        };
        let way = match look.site.kind {
            LookKind::Drive => "driver's",
            _ => "ball's",
        };
        format!(
            " {who} is then {} off the {way} way, and has been at it for {}.",
            self.said(c.distance, In::Metres),
            self.said(c.since, In::Seconds)
        )
    }

    fn closers(&self) -> Section {
        let main = self.main(PLACES);
        let row = |l: &&LookWhy| {
            vec![
                l.site.short(),
                self.cell(l.open, In::Percent),
                self.cell(l.windows, In::Count),
                l.median.map_or("–".into(), |e| {
                    let longest = self.plain(l.longest, In::Seconds);
                    format!("{} / {longest}", self.plain(e.value, In::Seconds))
                }),
                self.cell(l.taken, In::Percent),
                self.cell(l.value, In::Points),
            ]
        };
        let mut standing = Vec::new();
        for look in &main {
            standing.push(vec![look.site.short()]);
            standing.extend(named(look, CLOSERS).map(|c| {
                vec![
                    seat(c),
                    self.cell(c.share, In::Percent),
                    self.cell(c.midline, In::Percent),
                    self.cell(c.distance, In::Metres),
                    self.cell(c.since, In::Seconds),
                ]
            }));
        }
        let told = self.main(1);
        let bars = told.iter().flat_map(|look| {
            named(look, CLOSERS).filter_map(|c| {
                let who = c.seat.who().replacen("the ", "", 1);
                Some((format!("{}: {who}", look.site.short()), c.share?))
            })
        });
        let bars = bars.collect();
        let of = |figure: fn(&LookWhy) -> Option<Estimate>| {
            let rows = main
                .iter()
                .filter_map(|l| Some((l.site.short(), figure(l)?)));
            rows.collect::<Vec<_>>()
        };
        let sentence = |l: &LookWhy| self.closing_sentence(l, CLOSERS) + &self.standing(l);
        let told = told.iter().filter(|l| l.site.kind != LookKind::Shot);
        Section {
            title: "Who shuts what".into(),
            lead: "After the colon: shares of the time that the look is shut.".into(),
            sentences: told.map(|l| sentence(l)).collect(),
            plots: vec![
                Dots {
                    caption: "How much of the time each look is shut".into(),
                    axis: "share of the time that it is a look, %".into(),
                    unit: In::Percent,
                    bars: false,
                    rows: of(|l| l.shut),
                },
                Dots {
                    caption: "Who shuts it: share of the time that the look is shut".into(),
                    axis: "share of the time that it is shut, %".into(),
                    unit: In::Percent,
                    bars: true,
                    rows: bars,
                },
                Dots {
                    caption: "How long a window lasts: the median of each look".into(),
                    axis: "length of the middle window, s".into(),
                    unit: In::Seconds,
                    bars: true,
                    rows: of(|l| l.median),
                },
            ],
            named: main
                .iter()
                .filter_map(|l| l.closers.first()?.example)
                .take(CLOSERS)
                .collect(),
            tables: vec![
                Table {
                    caption: "What was open: share of the time, windows in a possession, their \
                              length (median / longest), share taken, points it is worth"
                        .into(),
                    heads: self.heads(
                        "look",
                        &[
                            ("open", In::Percent),
                            ("windows", In::Count),
                            ("lasting", In::Seconds),
                            ("taken", In::Percent),
                            ("worth", In::Points),
                        ],
                    ),
                    rows: main.iter().map(row).collect(),
                },
                Table {
                    caption: "Where the closer stands: share of the closings, how often on the \
                              midline then, how far off the way of ball or driver (from the \
                              shooter, for a shot), and for how long already"
                        .into(),
                    heads: self.heads(
                        "look, closer",
                        &[
                            ("share", In::Percent),
                            ("midline", In::Percent),
                            ("off", In::Metres),
                            ("since", In::Seconds),
                        ],
                    ),
                    rows: standing,
                },
            ],
            note: format!(
                "On the midline: within {} of it. The intervals of the lengths, and looks that are \
                 there for only a moment, are in the files (--json, --csv).",
                bare(ON_MIDLINE, In::Metres, self.units)
            ),
        }
    }

    fn alone(&self) -> Section {
        let mut columns = vec![("gone", In::Count), ("tight", In::Count)];
        let models: Vec<String> = self.rivals.iter().map(|r| first_word(&r.name)).collect();
        columns.extend(models.iter().map(|m| (m.as_str(), In::Count)));
        let mut sentences = Vec::new();
        let mut rows = Vec::new();
        for look in self.main(PLACES) {
            let Some(c) = look.closers.first().filter(|c| c.alone.is_some()) else {
                continue;
            };
            let mut row = vec!["  opens, %".to_string(), whole(c.alone), whole(c.tight)];
            row.extend(c.rivals.iter().map(|(_, e)| whole(*e)));
            let who = c.seat.who().replacen("the ", "", 1);
            rows.push(vec![format!("{}: {who}", look.site.short())]);
            rows.push(row);
            let plain = matches!(look.site.kind, LookKind::Shot)
                || c.seat.relation == Relation::Cutter && look.site.to.is_none();
            if sentences.len() < ROWS && !plain {
                sentences.push(self.alone_sentence(look, c));
            }
        }
        // The files have all models.
        let mut heads = self.heads("with the closer", &columns);
        let room = columns_with_room(&heads, &rows);
        let all = heads.len();
        heads.truncate(room);
        rows.iter_mut().for_each(|row| row.truncate(room));
        Section {
            title: "Does one defender shut it alone?".into(),
            lead: "The same instants, measured again with one defender moved and nobody else."
                .into(),
            sentences,
            tables: vec![Table {
                caption: "The look and its first closer; in per cent, how many of those closings \
                          open with the closer gone, tight on the own player, or where another \
                          model puts that defender"
                    .into(),
                heads,
                rows,
            }],
            note: match room < all {
                true => format!("{STILL} More models are in the files (--json, --csv)."),
                false => STILL.into(),
            },
            ..Section::default()
        }
    }

    fn alone_sentence(&self, look: &LookWhy, c: &Closing) -> String {
        let share = self.said(c.alone, In::Percent);
        let (who, site) = (c.seat.who(), look.site.words());
        match c.alone.map_or(0.0, |e| e.value) {
            v if v >= 0.9 => format!(
                "{} shuts {site} alone: take this one away and {share} of those looks open up.",
                capital(&who)
            ),
            v if v >= 0.6 => format!(
                "{} mostly shuts {site} alone: take this one away and {share} of those looks open up.",
                capital(&who)
            ),
            v if v >= 0.25 => format!(
                "Take {who} away, and of the times that this one shuts {site} {share} open up; \
                 behind the rest stands a second defender."
            ),
            v if v >= 0.05 => {
                format!("Moving {who} seldom opens {site}: {share} of those looks open up.")
            }
            _ => format!("Moving {who} does not open {site}: {share} of those looks open up."),
        }
    }
}

/// The closers worth a word: the first, and those with a share that counts.
fn named(look: &LookWhy, most: usize) -> impl Iterator<Item = &Closing> {
    let counts = |c: &Closing| c.share.is_some_and(|e| e.value >= NAMED);
    let list = look.closers.iter().take(most).enumerate();
    list.filter(move |(i, c)| *i == 0 || counts(c))
        .map(|(_, c)| c)
}

/// "the weak-side wing's defender, standing on the midline".
fn closer(c: &Closing) -> String {
    let midline = c.midline.is_some_and(|e| e.value >= MOSTLY);
    c.seat.who() + c.seat.doing(midline)
}

/// The same for a table, where the midline has a column of its own.
fn seat(c: &Closing) -> String {
    let doing = c.seat.doing(false);
    format!("  {}{doing}", c.seat.who().replacen("the ", "", 1))
}

/// "denial", "mixed" …: a model's name short enough for the head of a column.
fn first_word(name: &str) -> String {
    let clean = line(name);
    clean.split(' ').next().unwrap_or_default().to_lowercase()
}
