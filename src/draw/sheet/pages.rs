//! The pages of a practice sheet: what stands on them in which order, with the largest pictures for which there is room.

use crate::scenario::Scenario;
use crate::why::Summary;

use super::paper::{Book, Paper};
use super::practice::Practice;
use super::set::{Setter, title};

/// How wide pictures are, points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    /// Picture of a drill, points.
    pub drill: f64,
    /// Pictures of a look, points.
    pub look: f64,
    /// Picture of the shell, points.
    pub shell: f64,
    /// Height of the letters beside them, points.
    pub text: f64,
    /// Has everybody of a drill a line of their own?
    pub lines: bool,
    /// Does the moment of a look stand under its start?
    pub both: bool,
    /// Are the cards told that have no drill on the sheet?
    pub cards: bool,
}

/// With these the sheet has as few pages as it can have (ours: a number is read at arm's length).
const SMALLEST: Scale = Scale {
    drill: 128.0,
    look: 106.0,
    shell: 96.0,
    text: 7.2,
    lines: false,
    both: false,
    cards: false,
};
/// Letters beside pictures, points, but where that would take a page more.
const PLAIN: f64 = 8.0;
/// The same where there is room, points.
const TEXT: f64 = 8.5;
/// Wider ones, the widest first, points: of each kind the first that asks for no further page, and
/// leaves the cards that are named on the sheet.
const WIDER: [f64; 6] = [200.0, 184.0, 168.0, 150.0, 136.0, 120.0];

impl Practice {
    /// The pages as SVG, and the keys of all figures on them in the order in which they are said.
    pub fn pages(
        &self,
        scenario: &Scenario,
        summary: &Summary,
        paper: Paper,
    ) -> (Vec<String>, Vec<String>) {
        let set = |scale| self.set(scenario, summary, paper, scale);
        let mut scale = SMALLEST;
        let (mut pages, mut keys, mut carded) = set(scale);
        let changes: [fn(Scale, f64) -> Scale; 8] = [
            |scale, _| Scale {
                cards: true,
                ..scale
            },
            |scale, _| Scale {
                text: PLAIN,
                ..scale
            },
            |scale, _| Scale {
                lines: true,
                ..scale
            },
            |scale, _| Scale {
                text: TEXT,
                ..scale
            },
            |scale, look| Scale { look, ..scale },
            |scale, drill| Scale { drill, ..scale },
            |scale, _| Scale {
                both: true,
                ..scale
            },
            |scale, shell| Scale { shell, ..scale },
        ];
        for change in changes {
            for wide in WIDER {
                let wider = change(scale, wide);
                let larger = set(wider);
                if larger.0.len() <= pages.len() && larger.2 >= carded {
                    scale = wider;
                    (pages, keys, carded) = larger;
                    break;
                }
            }
        }
        (pages, keys)
    }

    fn set(
        &self,
        scenario: &Scenario,
        summary: &Summary,
        paper: Paper,
        scale: Scale,
    ) -> (Vec<String>, Vec<String>, bool) {
        let name = title(scenario);
        let mut setter = Setter {
            book: Book::new(paper, &format!("{name} · made by Lanelight")),
            keys: Vec::new(),
            intervals: Vec::new(),
            scale,
        };
        setter.top(scenario);
        setter.findings(scenario, self, summary);
        setter.plan(scenario, self);
        let lived = setter.live(scenario, self, true);
        setter.caution();
        setter.notes(scenario);
        // Notes that had no room on the first page stand before the drills.
        if setter.book.pages() == 1 {
            setter.book.turn();
        }
        setter.rules(self, summary);
        setter.breakdowns(self);
        let mut carded = !scale.cards || setter.cards(scenario, self, 0.0);
        setter.shell(scenario, self);
        setter.looks(scenario, self);
        if !lived {
            setter.live(scenario, self, false);
        }
        let left = setter.for_sources(self, summary);
        carded = carded || setter.cards(scenario, self, left);
        setter.sources(self, summary);
        (setter.book.finish(), setter.keys, carded)
    }
}
