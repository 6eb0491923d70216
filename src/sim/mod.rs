//! The floor: ten players and a ball, one tick at a time.
//!
//! Everybody decides from the old state (`Old`), then everybody moves, then the ball goes on. The
//! whole order of a tick stands in `schedule.rs`; nothing else runs.
//!
//! Not modelled: fouls but on a shot at the rim, rebounds, fatigue, fakes, timeouts, transition.

mod avoid;
pub mod ball;
pub mod ball_handler;
mod ball_screen;
mod book;
mod choose;
mod clock;
mod components;
pub mod defence;
pub mod dice;
mod due;
mod entry;
pub mod eyes;
mod feet;
mod follow;
mod ground;
mod hand_off;
mod hands;
pub mod instant;
mod job;
pub mod lit;
mod manner;
mod motion;
pub mod off_ball;
mod officials;
mod orders;
pub mod parts;
mod pilots;
mod plans;
mod play;
pub mod play_on;
mod puts;
pub mod rules;
mod schedule;
mod screens;
pub mod script;
mod sight;
mod spawn;
pub mod stance;
pub mod steering;
mod tasks;
pub mod walkthrough;
mod ways;

pub use ground::{Keep, ground};
pub use pilots::{cast_of, cast_untaught, learn, play};
pub use play::{
    open_shots_passed_up, play_accounted, play_shared, play_with_silent, play_witnessed,
};
pub use schedule::tick_order;
pub use sight::{THERE, shut_by};
