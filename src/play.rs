//! What plays: the languages of offence and defence, the simulation of a possession, and the figures of many.
//!
//! The modules are layers: each imports only from those above it in this list. `lib.rs` goes on with the list; there
//! these modules have the same names.

#![forbid(unsafe_code)]
// Wrong input is answered with an error that names the place, never with a panic.
#![cfg_attr(
    not(test),
    warn(clippy::unwrap_used, clippy::expect_used, clippy::panic)
)]

pub mod checksum;

pub mod court;

pub mod model;

pub mod body;

pub mod ball;

pub mod stats;

pub mod squad;

pub mod offence;

pub mod defence;

pub mod scenario;

pub mod possession;

pub mod value;

pub mod looks;

// Replaced by the play issue.
#[allow(missing_docs, clippy::missing_errors_doc)]
pub mod sim;

pub mod scrimmage;
