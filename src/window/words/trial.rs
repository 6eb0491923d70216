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
pub const NOW: &str = "now";
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
    format!("Possession {seed} at {now:.1} s. From {part:.1} s on it is played differently.")
}
pub fn try_it(name: &dyn Display) -> String {
    format!("Try it: {name}")
}
pub const MAKES_A_NEW_VARIATION: &str = "Makes a new variation with this change and plays both, each possession with the same chances drawn. Undo takes it back.";
pub const WATCH_IT: &str = "Watch a moment of which this is true";
pub fn because_because(because: &dyn Display, brings: &dyn Display) -> String {
    format!("Because {because}. {brings}  → show")
}
pub fn at_most_points(points: &dyn Display, told: &dyn Display) -> String {
    format!("As seen so far it is worth at most {points:.1} points in a hundred possessions{told}.")
}
pub fn at_most_seconds(seconds: &dyn Display, told: &dyn Display) -> String {
    format!(
        "Now {seconds:.1} s a possession are stalled so{told}. What it saves can be more or less: play is different then."
    )
}
pub const TOO_LITTLE_TO_TELL: &str = ": less than a trial can tell";
pub fn tried_name(name: &dyn Display) -> String {
    format!("Tried: {name}")
}
pub const TAKE_IT_BACK: &str = "Take it back";
pub const CTRL_Z: &str = "Ctrl+Z";
pub const IT_IS_NOT_ON: &str = "What you have now is without it.";
pub fn in_possession_they_part(seed: &dyn Display, time: &dyn Display) -> String {
    format!("Possession {seed} is played differently from {time:.1} s on  → show")
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
pub const WHAT_THE_WORDS_MEAN: &str = "Better, worse: sure, and large enough to matter. Small: sure, but perhaps too small to matter. Unsure: too close to call, it may still be luck. In 19 of 20 trials all these intervals hold the truth, however often you look while it is played. What is said once is not taken back by more possessions.";
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
/// What takes as much room as a difference usually does.
pub const A_LONG_DIFFERENCE: &str = "−1.26 (−2.40 to −0.10) %";
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
pub const AN_OPEN_LOOK_PROMISES: &str = "a hundred open looks are worth ";
pub const LESS: &str = " less";
pub const PASSES: &str = " passes";
pub const A_POSSESSION_IS: &str = "a possession is ";
pub const MORE_POINTS: &str = "more points";
pub const FEWER_POINTS: &str = "fewer points";
pub const MORE_NOTHING_OPEN: &str = "more time with nothing open";
pub const LESS_NOTHING_OPEN: &str = "less time with nothing open";
pub const MORE_STALLED: &str = "more time stalled";
pub const LESS_STALLED: &str = "less time stalled";
pub const LANE_LONGER: &str = "the lane open longer";
pub const LANE_SHORTER: &str = "the lane open for less";
pub const MORE_TURNOVERS: &str = "more turnovers";
pub const FEWER_TURNOVERS: &str = "fewer turnovers";
pub const LOOKS_BETTER: &str = "open looks worth more";
pub const LOOKS_WORSE: &str = "open looks worth less";
pub const MORE_PASSES: &str = "more passes";
pub const FEWER_PASSES: &str = "fewer passes";
pub const LONGER_POSSESSIONS: &str = "longer possessions";
pub const SHORTER_POSSESSIONS: &str = "shorter possessions";
pub const BETTER_WORD: &str = "better";
pub const WORSE_WORD: &str = "worse";
pub const CHANGED_WORD: &str = "sure";
pub const SMALL_WORD: &str = "small";
pub const CLOSE: &str = "unsure";
pub const DRIVES_ARE_NO_STALLS: &str =
    "Nothing open counts drives and short waits, too; stalled does not.";
pub fn points_too_close(yet: &dyn Display) -> String {
    format!("Points: too close to call{yet}.")
}
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
