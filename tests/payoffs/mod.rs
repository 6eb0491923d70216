//! Payoffs that a coach knows, measured: match-ups on the same seeds, and what is claimed of them.
//! The bench `payoffs` prints the whole table; `tests/payoffs.rs` asks the same claims at small size.

pub mod claims;
pub mod help;
pub mod lab;
