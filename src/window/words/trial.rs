//! What a trial says: what is tried, and what came of it.

use std::fmt::Display;

pub const NOW_WITH_THE_CHANGE: &str = "now, with the change";
pub fn is_open_and_your(light: &dyn Display) -> String {
    format!("{light} is open and your rules never take it")
}
pub fn take_the(look: &dyn Display) -> String {
    format!("take the {look}")
}
pub fn the_is_shut_most(look: &dyn Display, seat: &dyn Display) -> String {
    format!("the {look} is shut most by {seat}")
}
pub const IT_STALLS_MOST_AFTER: &str = "it stalls most after that rule";
pub fn switch_off(rule: &dyn Display) -> String {
    format!("switch off “{rule}”")
}
pub const WITH_IT: &str = "with it";
pub fn tried(name: &dyn Display, name_2: &dyn Display) -> String {
    format!("{name}, tried: {name_2}")
}
pub fn try_word(name: &dyn Display) -> String {
    format!("try {name}")
}
pub fn put_in(name: &dyn Display) -> String {
    format!("Put in: {name}. Undo (Ctrl+Z) takes it back.")
}
pub fn possession_the_floors_part(
    seed: &dyn Display,
    now: &dyn Display,
    part: &dyn Display,
) -> String {
    format!("Possession {seed} at {now:.1} s. The two floors part at {part:.1} s.")
}
pub fn try_it(name: &dyn Display) -> String {
    format!("Try it: {name}")
}
pub const MAKES_A_NEW_VARIATION: &str = "Makes a new variation with this change and plays both, with the same luck. Undo takes it back.";
pub fn because_because(because: &dyn Display, brings: &dyn Display) -> String {
    format!("Because {because}. {brings}")
}
pub fn at_most_points(points: &dyn Display, told: &dyn Display) -> String {
    format!("Brings at most {points:.1} points in a hundred possessions{told}.")
}
pub fn at_most_seconds(seconds: &dyn Display, told: &dyn Display) -> String {
    format!("Saves at most the {seconds:.1} s a possession that it stalls so{told}.")
}
pub const TOO_LITTLE_TO_TELL: &str = ": less than a trial can tell";
pub fn tried_name(name: &dyn Display) -> String {
    format!("Tried: {name}")
}
pub const TAKE_IT_BACK: &str = "Take it back";
pub const CTRL_Z: &str = "Ctrl+Z";
pub const IT_IS_NOT_ON: &str = "What you have now is without it.";
pub fn in_possession_they_part(seed: &dyn Display, time: &dyn Display) -> String {
    format!("In possession {seed} the two floors part at {time:.1} s  → show")
}
pub fn possessions_are_played_as(differs: &dyn Display) -> String {
    format!("{differs} possessions are played as before.")
}
pub fn playing_of(played: &dyn Display, all: &dyn Display) -> String {
    format!("Playing: {played} of {all} possessions of each …")
}
pub fn played_of(played: &dyn Display) -> String {
    format!("Played: {played} possessions of each.")
}
pub const GOLD_BETTER_ORANGE_WORSE: &str = "Gold: better. Orange: worse. Grey: may still be luck. In 19 of 20 trials all these intervals hold the truth, however often you look while it is played. What is said once is not taken back by more possessions.";
pub const NOT_KNOWN_YET: &str = "…";
pub fn of_played(most: &dyn Display) -> String {
    format!("of {most}")
}
pub fn first_of_played(played: &dyn Display, most: &dyn Display) -> String {
    format!("first {played} of {most}")
}
pub fn all_played(most: &dyn Display) -> String {
    format!("all {most}")
}
pub const POSSESSIONS_OF_EACH: &str =
    "From so many possessions before and as many now, of those that are played";
pub const DIFFERENCE_95_PERCENT: &str = "difference, 95\u{a0}%";
pub const POINTS: &str = "Points";
pub const POINTS_2: &str = " points";
pub const MORE: &str = " more";
pub const FEWER: &str = " fewer";
pub const IN_A_HUNDRED_POSSESSIONS: &str = " in a hundred possessions, by what the shots are worth";
pub const NOTHING_OPEN: &str = "Nothing open";
pub const SECONDS: &str = " seconds";
pub const WITH_NOTHING_OPEN_OF: &str = " with nothing open, of every hundred";
pub const STALLED: &str = "Stalled";
pub const THE_TEAM_STALLS: &str = "the team stalls ";
pub const THE_DRIVING_LANE_IS: &str = "the driving lane is open ";
pub const S_WORD: &str = " s";
pub const LONGER: &str = " longer";
pub const SHORTER: &str = " shorter";
pub const A_POSSESSION: &str = " a possession";
pub const TURNOVERS: &str = "Turnovers";
pub const POSSESSIONS_IN_A_HUNDRED: &str = " possessions in a hundred lost without a shot";
pub const AN_OPEN_LOOK_PROMISES: &str = "an open look is worth ";
pub const LESS: &str = " less";
pub const PASSES: &str = " passes";
pub const A_POSSESSION_IS: &str = "a possession is ";
pub const BETTER: &str = "Better";
pub const WORSE: &str = "Worse";
pub const CHANGED: &str = "Sure to change";
pub const PERHAPS_TOO_SMALL_TO: &str = "Perhaps too small to matter";
pub fn to(
    before: &dyn Display,
    known: &dyn Display,
    unit: &dyn Display,
    less: &dyn Display,
    after: &dyn Display,
    near: &dyn Display,
    far: &dyn Display,
) -> String {
    format!("{before}{known}{unit}{less}{after} ({near} to {far})")
}
pub fn too_close_to_call(yet: &dyn Display, played: &dyn Display) -> String {
    format!("Too close to call{yet}, after {played} possessions of each.")
}
pub const YET: &str = " yet";
pub fn points_too_close_to(yet: &dyn Display, most: &dyn Display) -> String {
    format!(
        "Points: too close to call{yet}: no difference larger than {most:.0} in a hundred possessions."
    )
}
