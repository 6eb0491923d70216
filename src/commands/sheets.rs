//! The files that the figures and possessions of a scrimmage go to, played here or put together.

use std::io;
use std::path::Path;

use lanelight::court::Units;
use lanelight::report::files::{Output, Unwritten, is_screen};
#[cfg(feature = "parquet")]
use lanelight::report::parquet::Records;
use lanelight::report::sheets::Rows;
use lanelight::report::{Heading, json, page, sheets};
use lanelight::scrimmage::{Results, Row};

use super::show;
use crate::{Failure, SheetArgs};

/// Every path that was asked for.
pub fn paths(args: &SheetArgs) -> Vec<&Path> {
    let list = [&args.summary_json, &args.summary_csv, &args.rows];
    #[cfg(feature = "parquet")]
    let list = list.into_iter().chain([&args.records]);
    list.into_iter().filter_map(|p| p.as_deref()).collect()
}

/// The files, started: whatever cannot be written is known before anything is played.
pub struct Sheets<'a> {
    args: &'a SheetArgs,
    json: Option<Output>,
    csv: Option<Output>,
    rows: Option<(&'a Path, Rows<Output>)>,
    #[cfg(feature = "parquet")]
    records: Option<(&'a Path, Records<Output>)>,
    broken: Option<Unwritten>,
}

impl<'a> Sheets<'a> {
    /// Starts them all.
    pub fn start(args: &'a SheetArgs) -> Result<Self, Failure> {
        let start = |path: &'a Option<std::path::PathBuf>| -> Result<_, Unwritten> {
            let begin = |path: &'a Path| Output::start(path).map(|out| (path, out));
            path.as_deref().map(begin).transpose()
        };
        let rows = start(&args.rows)?.map(|(path, out)| {
            let sheet = Rows::start(out).map_err(|e| unwritten(path, e));
            sheet.map(|sheet| (path, sheet))
        });
        #[cfg(feature = "parquet")]
        let records = start(&args.records)?.map(|(path, out)| {
            let sheet = Records::start(out).map_err(|e| unwritten(path, e));
            sheet.map(|sheet| (path, sheet))
        });
        Ok(Sheets {
            args,
            json: start(&args.summary_json)?.map(|s| s.1),
            csv: start(&args.summary_csv)?.map(|s| s.1),
            rows: rows.transpose()?,
            #[cfg(feature = "parquet")]
            records: records.transpose()?,
            broken: None,
        })
    }

    /// Adds a possession; false once something cannot be written.
    pub fn add(&mut self, row: &Row) -> bool {
        if let Some((path, sheet)) = &mut self.rows
            && let Err(e) = sheet.add(row)
        {
            self.broken = Some(unwritten(path, e));
        }
        #[cfg(feature = "parquet")]
        if let Some((path, sheet)) = &mut self.records
            && let Err(e) = sheet.add(row)
        {
            self.broken = Some(unwritten(path, e));
        }
        self.broken.is_none()
    }

    /// Was there something that could not be written?
    pub fn check(&mut self) -> Result<(), Failure> {
        match self.broken.take() {
            Some(error) => Err(error.into()),
            None => Ok(()),
        }
    }

    /// Finishes the files; the screen shows the page unless a file goes there.
    pub fn finish(self, heading: &Heading, results: &Results, units: Units) -> Result<(), Failure> {
        if let Some((path, sheet)) = self.rows {
            sheet.finish().map_err(|e| unwritten(path, e))?.finish()?;
        }
        #[cfg(feature = "parquet")]
        if let Some((path, sheet)) = self.records {
            sheet.finish().map_err(|e| unwritten(path, e))?.finish()?;
        }
        if let Some(out) = self.csv {
            out.fill(|out| sheets::summary(out, heading, results))?;
        }
        if let Some(out) = self.json {
            out.fill(|out| json::summary(out, heading, results))?;
        }
        if !paths(self.args).into_iter().any(is_screen) {
            show(&page::page(heading, results, units))?;
        }
        Ok(())
    }
}

pub fn unwritten(path: &Path, error: io::Error) -> Unwritten {
    Unwritten {
        path: path.to_path_buf(),
        error,
    }
}
