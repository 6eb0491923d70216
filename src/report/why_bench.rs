//! The why report in words: where the offence stalls; the reverse view for the coach of the
//! defence; and every defence against every offence.

use crate::court::SpotName::*;
use crate::defence::Relation;
use crate::offence::words::capital;
use crate::why::Where;
use crate::why::matrix::Cell;
use crate::why::places::{OUT, OutOfPlace};
use crate::why::stalls::Lately;
use crate::why::summary::Story;

use super::clean::line;
use super::why::{Dots, In, Section, Table, bare};
use super::why_light::{dots, example, replay};
use super::why_sections::{CLOSERS, ROWS, Teller};

/// Stories told with an example.
const STORIES: usize = 2;
/// What is missing in a stall is named if it is the same in this share of the stalls.
const SAME: f64 = 0.25;

impl Teller<'_> {
    pub(super) fn story_sentence(&self, s: &Story) -> String {
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

    pub(super) fn stalls(&self) -> Section {
        let s = &self.summary.stalls;
        let mut sentences = vec![format!(
            "{} stalls in a possession, {} each; the longest lasted {}.",
            self.said(s.often, In::Count),
            self.said(s.length, In::Seconds),
            bare(s.longest, In::Seconds, self.units)
        )];
        for story in s.stories.iter().take(STORIES) {
            let mut text = self.story_sentence(story);
            text += &match story.lately {
                Lately::Nothing => " Nothing has happened for a while.".to_string(),
                lately => format!(" Mostly it comes {}.", lately.words()),
            };
            if let Some((kind, seat, share)) = &story.shut
                && share.is_some_and(|e| e.value >= SAME)
            {
                text += &format!(
                    " The best that is shut then is most often the {}, by {}: {} of these stalls.",
                    kind.word(),
                    seat.who(),
                    self.said(*share, In::Percent)
                );
            }
            text += &replay(Some(story.example));
            sentences.push(text);
        }
        let mut rows = Vec::new();
        for t in s.stories.iter().take(ROWS) {
            rows.push(vec![
                t.rule.as_deref().map_or("before any rule".into(), line),
            ]);
            rows.push(vec![
                format!("  ball {}", at(t.at)),
                self.cell(t.often, In::Count),
                self.cell(t.length, In::Seconds),
                self.cell(t.share, In::Percent),
                example(Some(t.example)),
            ]);
        }
        Section {
            title: "Where it stalls".into(),
            lead: "A stall: the holder has no open look for 0.8 s or more, and is not on a drive."
                .into(),
            sentences,
            plots: Vec::new(),
            named: s.stories.iter().take(ROWS).map(|t| t.example).collect(),
            tables: vec![Table {
                caption: "The last rule and where the ball is: stalls in a possession, their \
                          length, their share of all stalled time, and where to see one"
                    .into(),
                heads: self.heads(
                    "last rule, ball",
                    &[
                        ("often", In::Count),
                        ("length", In::Seconds),
                        ("share", In::Percent),
                        ("seed and time", In::Count),
                    ],
                ),
                rows,
            }],
            note: String::new(),
        }
    }

    fn place_row(&self, p: &OutOfPlace) -> Vec<String> {
        vec![
            name(p),
            self.cell(p.off, In::Metres),
            self.cell(p.nine_in_ten, In::Metres),
            self.cell(p.out, In::Percent),
            self.cell(p.opened, In::Percent),
            self.cell(p.cost, In::PointsPerHundred),
        ]
    }

    pub(super) fn places(&self) -> Section {
        let all = &self.summary.places;
        let heads = |first| {
            self.heads(
                first,
                &[
                    ("off", In::Metres),
                    ("9 in 10", In::Metres),
                    ("out", In::Percent),
                    ("opens", In::Percent),
                    ("costs", In::PointsPerHundred),
                ],
            )
        };
        let mut after: Vec<&OutOfPlace> = all.iter().filter(|p| p.after.is_some()).collect();
        after.sort_by(|a, b| cost(b).total_cmp(&cost(a)));
        after.truncate(ROWS);
        let sentences = after.iter().take(CLOSERS).map(|p| {
            let relation = p.relation.map_or(String::new(), whose);
            format!(
                "{}, {}, is {} from the right place, and nine times in ten within {}. That costs at most \
                 {} points in a hundred possessions.",
                capital(&relation),
                p.after.map_or("", Lately::words),
                self.said(p.off, In::Metres),
                self.said(p.nine_in_ten, In::Metres),
                self.said(p.cost, In::PointsPerHundred)
            )
        });
        let table = |caption: &str, first, list: Vec<&OutOfPlace>| Table {
            caption: caption.into(),
            heads: heads(first),
            rows: list.into_iter().map(|p| self.place_row(p)).collect(),
        };
        let by_relation = |p: &&OutOfPlace| p.relation.is_some() && p.after.is_none();
        Section {
            title: "Which defender is late".into(),
            lead:
                "For the coach of the defence: who is out of place, after what, and what it costs."
                    .into(),
            sentences: sentences.collect(),
            plots: dots(
                "What being out of place costs, at most",
                all.iter()
                    .filter(|p| p.after.is_none())
                    .filter_map(|p| Some((name(p), p.cost?))),
            ),
            named: Vec::new(),
            tables: vec![
                table(
                    "How far from the place that the model asks for (mean; nine times in ten within), \
                     share of the time out of place, share of that in which it opens a better \
                     look, and what it costs at most (points in a hundred \
                     possessions)",
                    "defender",
                    all.iter().filter(|p| p.defender.is_some()).collect(),
                ),
                table(
                    "The same by what the guarded player is to the ball",
                    "guards",
                    all.iter().filter(by_relation).collect(),
                ),
                table(
                    "The same by what happened just before, dearest first",
                    "guards: before it",
                    after.clone(),
                ),
            ],
            note: format!(
                "Out of place: more than {} from where the model puts a defender who sees everything \
                 and has time to get there. Helpers at the rim and rotating defenders left theirs \
                 on purpose and are not counted.",
                bare(OUT, In::Metres, self.units)
            ),
        }
    }

    pub(super) fn matrix(&self) -> Section {
        let cells = &self.summary.matrix;
        let mut rows = Vec::new();
        for (i, c) in cells.iter().enumerate() {
            if i == 0 || cells[i - 1].offence != c.offence {
                rows.push(vec![line(&c.offence)]);
            }
            rows.push(vec![
                format!("  against {}", line(&c.defence)),
                self.cell(c.promised, In::Points),
                self.cell(c.points, In::Points),
                self.cell(c.open_looks, In::Count),
                self.cell(c.stalled, In::Seconds),
            ]);
        }
        let point = |c: &&Cell| c.promised.map_or(0.0, |e| e.value);
        let mine = cells.first().map(|c| &c.offence);
        let of_mine = || cells.iter().filter(|c| Some(&c.offence) == mine);
        let mut sentences = Vec::new();
        if let (Some(hard), Some(easy)) = (
            of_mine().min_by(|a, b| point(a).total_cmp(&point(b))),
            of_mine().max_by(|a, b| point(a).total_cmp(&point(b))),
        ) {
            sentences.push(format!(
                "“{}” gets the least out of “{}”, shots worth {} points in a possession, and the \
                 most out of “{}”, {}.",
                line(&hard.offence),
                line(&hard.defence),
                self.said(hard.promised, In::Points),
                line(&easy.defence),
                self.said(easy.promised, In::Points)
            ));
            let apart =
                matches!((hard.promised, easy.promised), (Some(a), Some(b)) if a.separate_from(&b));
            if !apart {
                sentences
                    .push("The two intervals overlap: play more before you believe it.".into());
            }
        }
        let n = cells.first().and_then(|c| c.points).map_or(0, |e| e.n);
        Section {
            title: "Every defence against every offence".into(),
            lead: format!("The same {n} seeds for every pair; the same squads and court."),
            sentences,
            plots: vec![Dots {
                caption: "What its shots are worth, this offence against each defence".into(),
                axis: "points promised in a possession".into(),
                unit: In::Points,
                bars: false,
                rows: of_mine()
                    .filter_map(|c| Some((line(&c.defence), c.promised?)))
                    .collect(),
            }],
            named: Vec::new(),
            tables: vec![Table {
                caption: "In a possession: what the shots are worth (chance times points), points \
                          scored, windows of scoring looks (shot, drive, feeds to cutters and \
                          inside), time stalled"
                    .into(),
                heads: self.heads(
                    "offence, defence",
                    &[
                        ("worth", In::Points),
                        ("scored", In::Points),
                        ("open looks", In::Count),
                        ("stalled", In::Seconds),
                    ],
                ),
                rows,
            }],
            note: "What the shots are worth leaves out the luck of the ball going in, so it tells \
                   defences apart sooner than points do."
                .into(),
        }
    }
}

pub(super) fn cost(p: &OutOfPlace) -> f64 {
    p.cost.map_or(0.0, |e| e.value)
}

/// "after a pass".
pub(super) fn after_what(p: &OutOfPlace) -> &'static str {
    p.after.map_or("", Lately::words)
}

fn name(p: &OutOfPlace) -> String {
    match (p.defender, p.relation, p.after) {
        (Some(d), ..) => format!("X{d}"),
        (_, Some(r), None) => r.word().to_string(),
        (_, Some(r), Some(a)) => format!("{}: {}", r.word(), a.word()),
        _ => String::new(),
    }
}

/// "the defender one pass away".
fn whose(relation: Relation) -> String {
    match relation {
        Relation::PostBallSide => "the ball-side post's defender".into(),
        Relation::PostWeakSide => "the weak-side post's defender".into(),
        Relation::Cutter => "the cutter's defender".into(),
        relation => format!("the defender {}", relation.word()),
    }
}

/// "on the wing": the ball is always on the ball side.
pub(super) fn at(place: Where) -> String {
    let word = match place.spot {
        Wing | Block => "on",
        Slot | Corner | ShortCorner => "in",
        Top | HighPost | Elbow | Rim => "at",
    };
    format!("{word} the {}", place.spot.word())
}
