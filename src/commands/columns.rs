//! `columns`: what stands in the files of figures.

use lanelight::report::columns;

use super::show;
use crate::Failure;

/// Lists every column and key with its unit and meaning.
pub fn columns() -> Result<(), Failure> {
    show(&columns::page())?;
    Ok(())
}
