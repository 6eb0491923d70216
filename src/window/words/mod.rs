//! Every sentence of the window, a file a page: what a coach reads stands here, where it can be read aloud in one go.
//! (`tests/house.rs` lets no sentence stand anywhere else in the window. Names of things that the language knows, like
//! places and duties, come from their own registers.)

pub mod defence;
pub mod drills;
pub mod figures;
pub mod files;
pub mod floor;
pub mod keys;
pub mod offence;
pub mod paper;
pub mod places;
pub mod rules;
pub mod spoken;
pub mod squads;
pub mod trial;
pub mod why;
