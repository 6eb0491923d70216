//! One picture language for the window, the paper and the shared page: a moment or a phase of a
//! possession as plain data in metres, and what it looks like on each of them.
//!
//! The notation is the trade's, as taught in any coaching clinic: numbers for attackers, X and a
//! number for defenders, solid arrow = run, dashed arrow = pass, wavy line = dribble, bar at the
//! end = screen; a ring marks who has the ball. Nothing is told by colour alone.

pub mod account;
mod arrows;
mod aside;
pub mod cards;
pub mod crossing;
pub mod film;
pub mod finish;
pub mod glow;
pub mod help;
pub mod icon;
pub mod layout;
pub mod light;
pub mod page;
pub mod phase;
mod plain;
pub mod print;
mod promise;
pub mod scene;
mod sent_on;
pub mod sheet;
pub mod shell;
mod shine;
mod steps;
pub mod svg;
pub mod text;
pub(crate) mod theme;
mod told;
pub mod walks;
pub mod way;

/// The caution in full, framed on the practice sheet.
pub const CAUTION: &str = "Warm up before anybody runs any of this. Stop on an injury or a suspected \
    concussion. Your league's and your medical staff's rules come before anything written here; this \
    sheet is no authority on either.";

/// In one line: at the foot of every printed page and at the head of the shared one.
pub const CAUTION_SHORT: &str = "Warm up first. Stop on an injury or a suspected concussion. League \
    and medical rules come first; this is no authority on either.";

pub use scene::{ArrowKind, Item, Scene};
