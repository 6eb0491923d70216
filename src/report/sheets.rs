//! Figures and possessions as CSV sheets. Units: SI; shares 0 to 1; an empty cell where nothing
//! was seen.

use std::io::{self, Write};

use csv::Writer;

use crate::offence::LookKind;
use crate::scrimmage::codes::{FINISHES, TURNOVERS, look_code, zone_code};
use crate::scrimmage::row::seconds;
use crate::scrimmage::windows::INSTANT;
use crate::scrimmage::{Results, Row};

use super::Heading;
use super::clean::cell;

/// The error beneath, so that a broken pipe is still known for one.
fn plain(error: csv::Error) -> io::Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}

fn number(x: Option<f64>) -> String {
    x.map_or(String::new(), |x| x.to_string())
}

/// The figures, one a line, each with the scrimmage that it comes from.
///
/// # Errors
/// If it cannot be written.
pub fn summary(out: &mut impl Write, heading: &Heading, results: &Results) -> io::Result<()> {
    let mut sheet = Writer::from_writer(out);
    sheet
        .write_record([
            "offence",
            "tweaks",
            "defence",
            "attackers",
            "defenders",
            "first_seed",
            "possessions",
            "complete",
            "figure",
            "meaning",
            "unit",
            "value",
            "low_95",
            "high_95",
            "n",
        ])
        .map_err(plain)?;
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
        let mut heads: Vec<String> = [
            "seed",
            "side",
            "points",
            "ending",
            "who",
            "zone",
            "finish",
            "distance_m",
            "room_m",
            "chance",
            "lost_how",
            "lost_to",
            "duration_s",
            "held_s",
            "passes",
            "lane_open_s",
            "stalls",
            "stall_s",
            "backdoor_there",
            "backdoor_taken",
            "backdoor_fed",
            "backdoor_finished",
            "unused_points",
            "nearest_m",
            "hull_m2",
            "defence_hull_m2",
            "one_guards_two",
            "lane_free",
        ]
        .map(String::from)
        .to_vec();
        for kind in LookKind::ALL {
            let code = look_code(kind);
            heads.extend(["open_s", "windows", "taken", "unused"].map(|w| format!("{code}_{w}")));
        }
        sheet.write_record(heads).map_err(plain)?;
        Ok(Rows { sheet })
    }

    /// Adds a possession.
    ///
    /// # Errors
    /// If it cannot be written.
    pub fn add(&mut self, row: &Row) -> io::Result<()> {
        let word = |x: Option<&str>| x.unwrap_or("").to_string();
        let shot = row.shot;
        let finish = shot
            .and_then(|s| FINISHES.iter().find(|f| f.0 == s.finish))
            .map(|f| f.1);
        let lost = row
            .turnover
            .and_then(|t| TURNOVERS.iter().find(|x| x.0 == t.0))
            .map(|x| x.1);
        let who = shot.map(|s| s.shooter).or(row.turnover.map(|t| t.1));
        let ending = match shot {
            Some(s) if s.made => "made",
            Some(_) => "missed",
            None => "lost",
        };
        let side = match row.side {
            crate::court::Side::Left => "left",
            crate::court::Side::Right => "right",
        };
        let share = |n: f64| number((row.instants > 0).then(|| n / f64::from(row.instants)));
        let stalled: f64 = row.stalls.iter().map(|s| f64::from(*s)).sum();
        let mut cells = vec![
            row.seed.to_string(),
            side.to_string(),
            row.points.to_string(),
            ending.to_string(),
            who.map_or(String::new(), |w| w.to_string()),
            word(shot.map(|s| zone_code(s.zone))),
            word(finish),
            number(shot.map(|s| s.distance)),
            number(shot.map(|s| s.room)),
            number(shot.map(|s| s.chance)),
            word(lost),
            row.turnover
                .and_then(|t| t.2)
                .map_or(String::new(), |b| format!("X{b}")),
            tidy(row.duration),
            tidy(seconds(row.held)),
            row.passes.to_string(),
            tidy(seconds(row.lane_open)),
            row.stalls.len().to_string(),
            tidy(stalled * INSTANT),
            row.backdoor_windows.len().to_string(),
            row.backdoor_taken.to_string(),
            row.backdoor_fed.to_string(),
            row.backdoor_finished.to_string(),
            row.unused_points.to_string(),
            share(row.nearest),
            share(row.hull),
            share(row.defence_hull),
            share(f64::from(row.one_guards_two)),
            share(f64::from(row.lane_free)),
        ];
        for look in &row.looks {
            cells.push(tidy(seconds(look.open_instants)));
            cells.push(look.windows.len().to_string());
            cells.push(look.taken.to_string());
            cells.push(look.windows_unused.to_string());
        }
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
    use crate::scrimmage::fixture::possession;

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
            ("0.60".into(), "1".into())
        );
    }
}
