//! The window: the floor lit by the ball, the bench that holds time, and the drawer with one page
//! at a time. It reads recordings and sends scenarios to be played; it changes nothing in a
//! possession.
//!
//! bevy brings window, input and rendering, egui draws everything. [`stage::show`] is one frame of
//! it and knows nothing of bevy, so that the pages are tested without a screen.
//!
//! Not here: sound, several windows.

pub mod bench;
pub mod beside;
pub mod boards;
pub mod caption;
pub mod changes;
pub mod choice;
pub mod chooser;
pub mod clock;
pub mod defence_page;
pub mod desk;
pub mod differs;
pub mod drill;
pub mod drill_find;
pub mod drill_floor;
pub mod drill_judge;
pub mod drill_page;
pub mod drill_place;
pub mod drill_read;
pub mod drill_said;
pub mod drill_task;
pub mod drill_where;
pub mod effect;
pub mod figures;
pub mod files;
pub mod first;
pub mod from_here;
pub mod hints;
pub mod jobs;
pub mod key;
pub mod keys;
pub mod lengths;
pub mod level_choice;
pub mod light;
pub mod moment;
pub mod now;
pub mod numbers;
pub mod offence_page;
pub mod open_page;
pub mod paint;
pub mod palette;
pub mod paper_page;
pub mod phrase;
pub mod recording;
mod rule_begun;
pub mod rule_builder;
pub mod rule_floor;
mod rule_mend;
pub mod said;
pub mod settings;
pub mod squad_page;
pub mod squad_sheet;
pub mod stage;
pub mod store;
pub mod story;
pub mod suggest;
pub mod trial;
pub mod trial_table;
pub mod trial_words;
pub mod variation;
pub mod view;
pub mod why_glance;
pub mod why_page;
pub mod wrong_page;

mod abreast;
mod app;
mod clipboard;
mod keeping;
mod lighting;
mod measure;
mod memory;
pub mod opener;
mod pass;
mod placing;
mod pressed;
pub mod replay;
mod rest;
mod runs;
mod surface;
mod unwritten;
mod verdict;
mod words;
mod words_on_floor;

/// For whoever drives the stage without a screen.
pub use bevy_egui::egui;

pub use app::{NoWindow, Opening, open, there_is_a_display};
