//! The check list of the reference offence (common practice of the trade), walked through rule by
//! rule on noise-free possessions with passive defenders: who ends where after each pass, drive and
//! cut, on both halves of the floor, and again with each shipped tweak. Then sequences of passes, words of the
//! language that no shipped offence uses, and what a holder does with a catch when he is not told.

#[path = "walk_through/ball_screens.rs"]
mod ball_screens;
#[path = "walk_through/bodies.rs"]
mod bodies;
#[path = "walk_through/chest.rs"]
mod chest;
#[path = "walk_through/common.rs"]
mod common;
#[path = "walk_through/conditions.rs"]
mod conditions;
#[path = "walk_through/cuts.rs"]
mod cuts;
#[path = "walk_through/defence_words.rs"]
mod defence_words;
#[path = "walk_through/drives.rs"]
mod drives;
#[path = "walk_through/fewer.rs"]
mod fewer;
#[path = "walk_through/hand_offs.rs"]
mod hand_offs;
#[path = "walk_through/holder.rs"]
mod holder;
#[path = "walk_through/places.rs"]
mod places;
#[path = "walk_through/post.rs"]
mod post;
#[path = "walk_through/register.rs"]
mod register;
#[path = "walk_through/sequences.rs"]
mod sequences;
#[path = "walk_through/told_events.rs"]
mod told_events;
#[path = "walk_through/tweaks.rs"]
mod tweaks;
#[path = "walk_through/ways.rs"]
mod ways;
#[path = "walk_through/words.rs"]
mod words;
