//! `merge`: the parts of a scrimmage that were played apart, put together.

use lanelight::report::part::{Reader, in_order};
use lanelight::scrimmage::{Row, add_up};

use super::scrimmage::apart;
use super::sheets::{Sheets, paths};
use super::units;
use crate::{Failure, MergeArgs};

/// Adds the parts up in order of seed, shows the page, and writes the files.
pub fn merge(args: &MergeArgs) -> Result<(), Failure> {
    let outputs = paths(&args.files);
    for part in &args.parts {
        apart(&outputs, Some(part))?;
    }
    let wrong = |e: lanelight::report::part::Unusable| Failure::Wrong(e.to_string());
    let open = args.parts.iter().map(|path| Reader::open(path));
    let open = open.collect::<Result<Vec<_>, _>>().map_err(wrong)?;
    let parts = in_order(open).map_err(wrong)?;
    let Some(head) = parts.first().map(|p| p.head.clone()) else {
        return Ok(());
    };
    let mut sheets = Sheets::start(&args.files)?;
    let mut parts = parts.into_iter();
    let mut part = parts.next();
    let results = add_up(head.first_seed, || -> Result<Option<Row>, Failure> {
        while let Some(reader) = &mut part {
            if let Some(row) = reader.row().map_err(wrong)? {
                if !sheets.add(&row) {
                    sheets.check()?;
                }
                return Ok(Some(row));
            }
            part = parts.next();
        }
        Ok(None)
    })?;
    sheets.finish(&head.heading, &results, units::or(head.units))
}
