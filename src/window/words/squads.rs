//! What the page of the squads says, and how levels, lengths and numbers are read.

use std::fmt::Display;

pub const EXAMPLE_1_4_M_1: &str = "1.4 m, 1,4 m or 4.6 ft";
pub fn m_s(metres: &dyn Display) -> String {
    format!("{metres:.1} m/s")
}
pub fn ft_s(metres: &dyn Display) -> String {
    format!("{metres:.1} ft/s")
}
pub fn m_word(metres: &dyn Display) -> String {
    format!("{metres:.2} m")
}
pub fn ft(inches: &dyn Display, inches_2: &dyn Display) -> String {
    format!("{inches} ft {inches_2}")
}
pub fn ft_metres(metres: &dyn Display) -> String {
    format!("{metres:.1} ft")
}
pub const VARSITY_INVENTED_SQUADS: &str = "varsity (example squads)";
pub const EACH_SIDE_ITS_OWN: &str = "each side its own";
pub fn changed_not_saved(file: &dyn Display) -> String {
    format!("{file}, changed, not saved")
}
pub const AS_IT_SHIPS: &str = "as it ships";
pub const NOT_SAVED: &str = "not saved";
pub fn against(
    name: &dyn Display,
    name_2: &dyn Display,
    edit: &dyn Display,
    desk: &dyn Display,
) -> String {
    format!("{name} against {name_2}, {edit}; {desk}")
}
pub fn against_name(name: &dyn Display) -> String {
    format!("against {name}")
}
pub const LEVEL: &str = "Level";
pub const TYPICAL_PLAYERS_OF_THAT: &str = "Typical players of that level on both sides: how fast they run, throw and react. Each side by itself: page Squads.";
pub const UNDO_THE_LAST_CHANGE: &str = "undo the last change";
pub const CTRL_Z: &str = "Ctrl+Z";
pub const LEVEL_OF_BOTH_SIDES: &str = "level of both sides";
pub fn both_sides_are_now(said: &dyn Display) -> String {
    format!("Both sides are now: {said}. Undo (Ctrl+Z) takes it back.")
}
pub const IS_NO_NUMBER: &str = "is no number";
pub fn is_no_number(text: &dyn Display, like: &dyn Display) -> String {
    format!("“{text}” is no number. Write it like {like}.")
}
pub const ATTACK: &str = "Attack";
pub const DEFENCE: &str = "Defence";
pub const COURT: &str = "Court";
pub fn who_plays(title: &dyn Display) -> String {
    format!("{title}: who plays")
}
pub const PRESS_A_PLAYERS_NAME: &str = "Press a player's name to write down what you measured: a sprint, the lane-agility run, height, and open shots made. What you leave out is typical of the level.";
pub fn invented(this: &dyn Display) -> String {
    format!("{this} (example)")
}
pub fn squad(title: &dyn Display) -> String {
    format!("{title} squad")
}
pub fn typical(level: &dyn Display) -> String {
    format!("typical {level}")
}
pub const TOP_SPEED: &str = "top speed";
pub const FAR_SHOT: &str = "far shot";
pub const WHAT_WAS_MEASURED: &str = "What was measured";
pub fn s_word(reaction: &dyn Display) -> String {
    format!("{reaction:.2} s")
}
pub fn was_was(was: &dyn Display) -> String {
    format!("was {was}")
}
pub const WAS_AS_IT_IS: &str =
    "“was”: as it is saved. The figures on the page Scrimmage show both, too.";
pub const SQUAD: &str = "Squad";
pub fn name(which: &dyn Display) -> String {
    format!("{which} name")
}
pub const OWN_SQUAD: &str = "Own squad";
pub const SPRINT_75_FT: &str = "sprint, 75 ft";
pub const LANE_AGILITY: &str = "lane agility";
pub const STANDING_REACH: &str = "standing reach";
pub const OPEN_SHOTS_MADE_OF: &str = "Open shots: made of tried";
pub const AT_THE_RIM: &str = "at the rim";
pub const IN_THE_PAINT: &str = "in the paint";
pub const CORNER_THREE: &str = "corner three";
pub const OTHER_THREES: &str = "other threes";
pub const FREE_THROWS: &str = "free throws";
pub fn that_cannot_be(wrong: &dyn Display) -> String {
    format!("That cannot be: {wrong}.")
}
pub fn sheet_of(number: &dyn Display, before: &dyn Display) -> String {
    format!("sheet of {number}: {before}")
}
pub const SECONDS_BY_HAND_FROM: &str =
    "Seconds by hand from a standing start on the baseline to the far free-throw line.";
pub const SECONDS_FOR_THE_RUN: &str =
    "Seconds for the run round the lane and back: sprint, shuffle, back-pedal, shuffle.";
pub fn player(number: &dyn Display) -> String {
    format!("Player {number}")
}
pub const NAME: &str = "name";
pub fn not_measured_as_usual(said: &dyn Display) -> String {
    format!("not measured: {said}, as usual")
}
pub fn s_word_usual(usual: &dyn Display) -> String {
    format!("{usual:.2} s")
}
pub const S_WORD: &str = " s";
pub const EXAMPLE_3_40_OR_3: &str = "3.40 or 3,40";
pub const EXAMPLE_6_FT_2_74: &str = "6 ft 2, 74 in or 1.88 m";
pub const OF_WORD: &str = "of";
pub const NOT_COUNTED: &str = "not counted";
