//! One file for each command, and what they share.

pub mod audit;
pub mod check;
pub mod choose;
pub mod columns;
pub mod compare;
pub mod complete;
pub mod frames;
pub mod manual;
pub mod merge;
pub mod numbers;
pub mod package_files;
pub mod paper;
pub mod say;
pub mod scrimmage;
pub mod search;
pub mod series;
pub mod sheets;
pub mod table;
pub mod units;
pub mod watch;
pub mod ways;
pub mod why;
pub mod window;

use std::io::{self, Write};

use lanelight::scenario::Problem;

/// Writes to the standard output in one go.
pub fn show(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

/// Says what is odd on the standard error, without stopping for it.
pub fn warn(warnings: &[Problem]) {
    for warning in warnings {
        let text = lanelight::report::clean::lines(&warning.to_string());
        let _ = writeln!(io::stderr(), "{text}");
    }
}
