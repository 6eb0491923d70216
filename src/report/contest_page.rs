//! A comparison as one page for the browser and for paper: before and after in figures, in one picture of the
//! differences, and on the floor at the second at which the same seed first goes another way.

use std::fmt::Write as _;
use std::sync::Arc;

use crate::contest::{Comparison, Difference, Variation};
use crate::court::Units;
use crate::draw::light::Replay;
use crate::possession::{Entry, What};
use crate::stats::Estimate;

use super::contest::{Names, headline_rows, shorter};
use super::html::{escape, foot, head, table};
use super::html_plot::svg;
use super::shown::{Still, still};
use super::why::{CAUTION, Dots, In, Table};

/// Seeds that are looked through for one that goes another way (ours).
const LOOKED_THROUGH: u64 = 40;
/// So long after the two part the floor is shown, seconds (ours: a cut is seen by then).
const LATER: f64 = 0.8;

/// The same seed before and after.
#[derive(Clone, Debug)]
pub struct Parted {
    /// When the two part, seconds since the possession began.
    pub time: f64,
    /// Before and after, the same time later.
    pub stills: [Still; 2],
}

/// The first seed, of some from `first` on, that another variation plays another way; on the floor.
pub fn parted(base: &Variation, changed: &Variation, first: u64) -> Option<Parted> {
    (first..first.saturating_add(LOOKED_THROUGH)).find_map(|seed| {
        let [a, b] =
            [base, changed].map(|v| Replay::of(&Arc::new(v.scenario().clone()), v.cast(), seed));
        let told = |r: &Replay| r.possession.timeline.clone();
        let (told_a, told_b) = (told(&a), told(&b));
        // Which rule it is called by is no difference on the floor.
        let rules = |e: &&Entry| !matches!(e.what, What::Rule { .. });
        let mut both = told_a.iter().filter(rules).zip(told_b.iter().filter(rules));
        let (x, y) = both.find(|(x, y)| x != y)?;
        let time = x.time.min(y.time);
        let stills = [still(&a, time + LATER)?, still(&b, time + LATER)?];
        Some(Parted { time, stills })
    })
}

/// The page; `parted`: for each contrast, if there is one.
pub fn page(
    names: &Names,
    comparison: &Comparison,
    parted: &[Option<Parted>],
    units: Units,
) -> String {
    let c = comparison;
    let mut out = head(
        "Before and after",
        "Compared on the same seeds",
        &names.common,
    );
    let last = c.first_seed + c.possessions.saturating_sub(1);
    let _ = writeln!(
        out,
        "<p>{} possessions of each, seeds {} to {last}.{} In brackets: the 95&nbsp;% interval of the difference.</p>",
        c.possessions,
        c.first_seed,
        if c.interrupted {
            " INTERRUPTED: not all were played."
        } else {
            ""
        }
    );
    let _ = writeln!(
        out,
        "<p class=\"caution\">{}</p>\n</header>\n<main>",
        escape(CAUTION)
    );
    for (i, (contrast, list)) in c.contrasts.iter().zip(c.differences()).enumerate() {
        let (base, changed) = (names.of(contrast.base), names.of(contrast.changed));
        let _ = writeln!(
            out,
            "<section>\n<h2>{}</h2>\n<p>compared with: {}</p>",
            escape(changed),
            escape(base)
        );
        table(&mut out, &figures(c, &list, units));
        let dots = changes(c, &list);
        let _ = writeln!(
            out,
            "<figure>\n{}\n<figcaption>{}. Dot: the figure. Line: its 95&nbsp;% interval.</figcaption>\n</figure>",
            svg(&dots, units),
            escape(&dots.caption)
        );
        floors(&mut out, parted.get(i).and_then(Option::as_ref));
        out += "</section>\n";
    }
    foot(&mut out, "");
    out
}

fn figures(c: &Comparison, list: &[Difference], units: Units) -> Table {
    Table {
        caption: "Before and after".into(),
        heads: ["", "before", "after", "difference", "how sure"]
            .map(String::from)
            .to_vec(),
        rows: headline_rows(c, list, units),
    }
}

/// The headline differences as shares of what was before.
fn changes(c: &Comparison, list: &[Difference]) -> Dots {
    let rows = list.iter().filter_map(|d| {
        let y = &c.yardsticks[d.yardstick];
        let (e, before) = (d.found.difference.filter(|_| y.headline)?, d.found.a.abs());
        let share = |x: f64| x / before;
        let of = Estimate {
            value: share(e.value),
            low: share(e.low),
            high: share(e.high),
            n: e.n,
        };
        (before > 0.0).then(|| (shorter(&y.sentence), of))
    });
    Dots {
        caption: "What changes, as a share of what was before".into(),
        axis: "change, % of before".into(),
        unit: In::Percent,
        bars: true,
        rows: rows.collect(),
    }
}

fn floors(out: &mut String, parted: Option<&Parted>) {
    let Some(parted) = parted else {
        let _ = writeln!(
            out,
            "<p class=\"note\">In the first {LOOKED_THROUGH} seeds nobody does anything else.</p>"
        );
        return;
    };
    let _ = writeln!(
        out,
        "<p>The same seed before and after. The two part at {:.1} s; the floor is as it is lit {LATER} s later.</p>\n\
         <div class=\"three two\">",
        parted.time
    );
    for (word, still) in ["Before", "After"].iter().zip(&parted.stills) {
        let _ = writeln!(
            out,
            "<figure class=\"still\">\n{}<figcaption><b>{word}.</b> {}</figcaption>\n</figure>",
            still.svg,
            escape(&still.says)
        );
    }
    *out += "</div>\n";
}
