//! What holds for every possession of every scenario: thousands of random offences written in the
//! rule language, random squads, courts, defences, tweaks and clocks.
//!
//! The draws are the same each time. `LANELIGHT_LONG=20 cargo test --release --test properties` tries
//! twenty times as many; `LANELIGHT_SEED=7` other ones.

mod alike;
mod cards;
mod fewer;
mod files;
mod orders;
mod playing;
mod shut;
mod sums;
mod worlds;
