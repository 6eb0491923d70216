//! Figures and possessions as CSV sheets. Units: SI; shares 0 to 1; an empty cell where nothing
//! was seen.

use std::io::{self, Write};

use csv::Writer;

use crate::scrimmage::{Results, Row};

use super::Heading;
use super::clean::cell;
use super::columns::{SUMMARY, heads};
use super::records::{self, Cell};

/// The error beneath, so that a broken pipe is still known for one.
pub(super) fn plain(error: csv::Error) -> io::Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}

/// A cell with a number, empty where there is none.
pub(super) fn number(x: Option<f64>) -> String {
    let number = x.filter(|x| x.is_finite());
    number.map_or(String::new(), |x| x.to_string())
}

/// The figures, one a line, each with the scrimmage that it comes from.
///
/// # Errors
/// If it cannot be written.
pub fn summary(out: &mut impl Write, heading: &Heading, results: &Results) -> io::Result<()> {
    let mut sheet = Writer::from_writer(out);
    sheet.write_record(heads(&SUMMARY)).map_err(plain)?;
    for f in results.figures() {
        sheet
            .write_record([
                cell(&heading.offence),
                cell(&heading.tweaks.join("; ")),
                cell(&heading.defence),
                cell(&heading.attackers),
                cell(&heading.defenders),
                results.first_seed.to_string(),
                results.possessions.to_string(),
                if results.interrupted {
                    "interrupted"
                } else {
                    "yes"
                }
                .to_string(),
                f.name,
                f.sentence,
                f.unit.to_string(),
                number(f.value),
                number(f.low),
                number(f.high),
                f.n.to_string(),
            ])
            .map_err(plain)?;
    }
    sheet.flush()
}

/// One line for each possession, written as they come.
pub struct Rows<W: Write> {
    sheet: Writer<W>,
}

impl<W: Write> Rows<W> {
    /// Starts the sheet with its heads.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn start(out: W) -> io::Result<Self> {
        let mut sheet = Writer::from_writer(out);
        let heads = records::columns().into_iter().map(|c| c.column.name);
        sheet.write_record(heads).map_err(plain)?;
        Ok(Rows { sheet })
    }

    /// Adds a possession.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn add(&mut self, row: &Row) -> io::Result<()> {
        let cells = records::cells(row).into_iter().map(|cell| match cell {
            Cell::Word(word) => word.unwrap_or_default(),
            Cell::Whole(n) => n.map_or(String::new(), |n| n.to_string()),
            Cell::Number(x) => number(x),
            Cell::Time(x) => tidy(x),
        });
        self.sheet.write_record(cells).map_err(plain)
    }

    /// Gives back what was written to.
    ///
    /// # Errors
    /// If the rest cannot be written.
    pub fn finish(self) -> io::Result<W> {
        self.sheet
            .into_inner()
            .map_err(|e| io::Error::from(e.error().kind()))
    }
}

/// Times are whole ticks: written without the dust of binary fractions.
fn tidy(seconds: f64) -> String {
    format!("{seconds:.2}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::possession;

    #[test]
    fn every_possession_is_one_line_as_long_as_its_heads() {
        let mut rows = Rows::start(Vec::new()).unwrap();
        for seed in 1..=4 {
            rows.add(&Row::of(&possession(seed))).unwrap();
        }
        let bytes = rows.finish().unwrap();
        let mut read = csv::Reader::from_reader(bytes.as_slice());
        let heads = read.headers().unwrap().clone();
        let column = |name: &str| heads.iter().position(|h| h == name).unwrap();
        let lines: Vec<_> = read.records().map(Result::unwrap).collect();
        let at = |line: usize, name: &str| lines[line][column(name)].to_string();
        assert_eq!(lines.len(), 4);
        assert_eq!(
            (at(0, "seed"), at(0, "ending")),
            ("1".into(), "made".into())
        );
        assert_eq!(
            (at(1, "ending"), at(1, "points")),
            ("missed".into(), "0".into())
        );
        assert_eq!(
            (at(3, "ending"), at(3, "lost_how")),
            ("lost".into(), "tipped".into())
        );
        assert_eq!(
            (at(3, "lost_to"), at(3, "zone")),
            ("X5".into(), String::new())
        );
        assert_eq!(
            (at(0, "stall_s"), at(0, "skip_unused")),
            ("0.00".into(), "1".into())
        );
    }
}
