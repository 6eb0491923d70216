//! The why report's figures for other programs: JSON whole, CSV one figure a line. Units: SI;
//! shares 0 to 1; an empty cell where nothing was seen.

use std::io::{self, Write};

use csv::Writer;
use serde::Serialize;

use crate::scrimmage::codes::look_code;
use crate::stats::Estimate;
use crate::why::summary::Light;
use crate::why::{Seat, Summary, Where};

use super::Heading;
use super::clean::cell;
use super::columns::{WHY, heads};
use super::sheets::{number, plain};

#[derive(Serialize)]
struct Whole<'a> {
    #[serde(flatten)]
    heading: &'a Heading,
    #[serde(flatten)]
    summary: &'a Summary,
}

/// Writes the JSON.
///
/// # Errors
/// If it cannot be written.
pub fn json(out: &mut impl Write, heading: &Heading, summary: &Summary) -> io::Result<()> {
    serde_json::to_writer_pretty(&mut *out, &Whole { heading, summary })?;
    writeln!(out)
}

struct Sheet<W: Write> {
    sheet: Writer<W>,
    heading: [String; 3],
}

impl<W: Write> Sheet<W> {
    /// One figure: `what` it is about (part, look, from, to, closer).
    fn line(
        &mut self,
        what: [&str; 5],
        figure: &str,
        unit: &str,
        e: Option<Estimate>,
    ) -> io::Result<()> {
        let [part, look, from, to, closer] = what.map(cell);
        let [offence, tweaks, defence] = self.heading.clone();
        self.sheet
            .write_record([
                offence,
                tweaks,
                defence,
                part,
                look,
                from,
                to,
                closer,
                cell(figure),
                unit.to_string(),
                number(e.map(|e| e.value)),
                number(e.map(|e| e.low)),
                number(e.map(|e| e.high)),
                e.map_or(String::new(), |e| e.n.to_string()),
            ])
            .map_err(plain)
    }

    fn light(&mut self, part: &str, closer: &str, shuts: &str, l: &Light) -> io::Result<()> {
        let at = place(l.at);
        let what = [part, look_code(l.look), shuts, at.as_str(), closer];
        self.line(what, "there", "share", l.there)?;
        self.line(what, "allowed", "share", l.allowed)?;
        self.line(what, "taken", "share", l.taken)?;
        self.line(what, "adds", "points", l.adds)?;
        self.line(what, "value", "points", l.value)
    }
}

fn place(at: Option<Where>) -> String {
    at.map_or(String::new(), Where::code)
}

fn code<T: Serialize>(x: T) -> String {
    match serde_json::to_value(x) {
        Ok(serde_json::Value::String(word)) => word,
        _ => String::new(),
    }
}

fn seat(s: &Seat) -> String {
    let man = place(s.man);
    format!("{}/{}/{man}", code(s.relation), code(s.duty))
        .trim_end_matches('/')
        .to_string()
}

/// Writes the CSV. In the part `left` the column `from` says which look the closer shuts.
///
/// # Errors
/// If it cannot be written.
pub fn csv(out: &mut impl Write, heading: &Heading, summary: &Summary) -> io::Result<()> {
    let mut s = Sheet {
        sheet: Writer::from_writer(out),
        heading: [
            cell(&heading.offence),
            cell(&heading.tweaks.join("; ")),
            cell(&heading.defence),
        ],
    };
    s.sheet.write_record(heads(&WHY)).map_err(plain)?;
    for l in &summary.looks {
        let (from, to) = (place(l.site.from), place(l.site.to));
        let look = look_code(l.site.kind);
        let what = ["look", look, &from, &to, ""];
        s.line(what, "seen", "instants", l.seen)?;
        s.line(what, "open", "share", l.open)?;
        s.line(what, "shut", "share", l.shut)?;
        s.line(what, "windows", "count", l.windows)?;
        s.line(what, "median", "s", l.median)?;
        s.line(what, "longest", "s", alone(l.longest))?;
        s.line(what, "taken", "share", l.taken)?;
        s.line(what, "value", "points", l.value)?;
        for c in &l.closers {
            let who = seat(&c.seat);
            let what = ["closer", look, &from, &to, &who];
            s.line(what, "share", "share", c.share)?;
            s.line(what, "midline", "share", c.midline)?;
            s.line(what, "distance", "m", c.distance)?;
            s.line(what, "since", "s", c.since)?;
            s.line(what, "alone", "share", c.alone)?;
            s.line(what, "tight", "share", c.tight)?;
            for (model, e) in &c.rivals {
                s.line(what, &format!("rivals: {model}"), "share", *e)?;
            }
        }
    }
    for l in &summary.unused {
        s.light("unused", "", "", l)?;
    }
    for l in &summary.left {
        s.light("left", &seat(&l.closer), look_code(l.shuts), &l.light)?;
    }
    for t in &summary.stalls.stories {
        let at = t.at.code();
        let rule = t.rule.as_deref().unwrap_or_default();
        let what = ["stall", rule, &at, "", ""];
        s.line(what, "often", "count", t.often)?;
        s.line(what, "length", "s", t.length)?;
        s.line(what, "share", "share", t.share)?;
    }
    for p in &summary.places {
        let who = match (p.defender, p.relation) {
            (Some(d), _) => format!("X{d}"),
            (_, Some(r)) => code(r),
            _ => String::new(),
        };
        let after = p.after.map_or(String::new(), code);
        let what = ["place", "", &after, "", &who];
        s.line(what, "off", "m", p.off)?;
        s.line(what, "nine_in_ten", "m", p.nine_in_ten)?;
        s.line(what, "out", "share", p.out)?;
        s.line(what, "opened", "share", p.opened)?;
        s.line(what, "cost", "points", p.cost)?;
    }
    for c in &summary.matrix {
        let what = ["matrix", c.offence.as_str(), c.defence.as_str(), "", ""];
        s.line(what, "points", "points", c.points)?;
        s.line(what, "promised", "points", c.promised)?;
        s.line(what, "open_looks", "count", c.open_looks)?;
        s.line(what, "stalled", "s", c.stalled)?;
    }
    s.sheet.flush()
}

/// A plain number: it has no interval, and its cells for one stay empty.
fn alone(x: f64) -> Option<Estimate> {
    Some(Estimate {
        value: x,
        low: f64::NAN,
        high: f64::NAN,
        n: 0,
    })
}
