//! Rough handling: spoilt files, kills, full disks, and whatever else a laptop in a gym goes through.
//!
//! The draws are the same each time. `LANELIGHT_LONG=20 cargo test --release --test rough` tries twenty
//! times as many; `LANELIGHT_SEED=7` other ones. Inputs that once did harm are kept in `tests/corpus/`.

mod killed;
mod mutate;
#[path = "../program/mod.rs"]
mod program;
mod readers;
mod surroundings;

/// How many times as many as usual.
fn factor() -> u64 {
    number("LANELIGHT_LONG", 1).clamp(1, 100_000)
}

/// A number from the environment.
fn number(name: &str, usual: u64) -> u64 {
    let given = std::env::var(name).ok();
    given.and_then(|v| v.parse().ok()).unwrap_or(usual)
}
