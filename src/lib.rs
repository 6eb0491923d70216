//! Lanelight: plays a rule-based basketball motion offence against a chosen defence,
//! measures what is open and for how long, and names who shuts it.
//!
//! The modules are layers: each imports only from those above it in this list. The first of them play, and are a
//! package of their own (`play.rs`).

// Wrong input is answered with an error that names the place, never with a panic.
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

pub use lanelight_play::{
    ball, body, checksum, court, defence, looks, model, offence, possession, scenario, scrimmage,
    sim, squad, stats, value,
};

/// A possession written out by hand, for tests: the one that `possession` has for its own.
#[cfg(test)]
#[path = "possession/fixture.rs"]
mod fixture;

pub mod audit;

pub mod why;

pub mod contest;

pub mod clean;

pub mod draw;

pub mod report;

pub mod pack;

#[cfg(feature = "window")]
pub mod window;
