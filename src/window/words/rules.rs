//! What the sentence builder says round the words of the rules.

use std::fmt::Display;

pub fn my_rule(n: &dyn Display) -> String {
    format!("My rule {n}")
}
pub const NOW_CLICK_IT_ON: &str = "Now click it on the floor.";
pub const SOMETHING_IS_MISSING: &str = "something is missing";
pub const NAME: &str = "Name of the rule";
pub const ANOTHER_RULE_HAS_THAT: &str =
    "Another rule has that name already: choose a name that none has yet.";
pub fn choose_for(name: &dyn Display, now: &dyn Display) -> String {
    format!("choose “{name}” instead of “{now}”")
}
pub const CHOOSE_ANOTHER_WORD: &str = "No one choice mends it: choose other words, or go back.";
pub const ANY_OF_THESE_CAN: &str = "With any one of these it is played:";
pub const PUTS_IT_IN: &str = "Puts it into the sentence";
pub const BACK_TO_PLAYED: &str = "back to the sentence that is played";
pub const WHAT_CANNOT_BE_PLAYED: &str = "What cannot be played is forgotten";
pub const WHEN: &str = "When";
pub const ONLY_IF: &str = "Only if";
pub const ONLY_THE_FIRST_TIME: &str = "only the first time in a possession";
pub fn leave_line_out(k: &dyn Display) -> String {
    format!("leave line {k} out")
}
pub const AND_ANOTHER_PLAYER: &str = "and another player …";
pub const ONE_MORE_LINE_WHO: &str = "One more line: who does what";
pub const THAT_DONE: &str = "; that done,";
pub const ONLY_IF_2: &str = "; only if";
pub const AFTER: &str = ", after";
pub const A_WAIT: &str = "+ a wait";
pub const THE_RUN_STARTS_A: &str = "The run starts a little later";
pub const S_WORD: &str = " s";
pub const EXAMPLE_1_5_OR_1: &str = "1.5 or 1,5";
pub const LEAVE_IT_OUT: &str = "Leave it out";
pub const A_CONDITION: &str = "+ a condition";
pub const A_NEXT_STEP: &str = "+ a next step";
pub const ONE_MORE: &str = "One more";
pub const SAY_IT: &str = "Say it";
pub fn more(joins: &dyn Display) -> String {
    format!("+ {joins} …")
}
pub const POINT_AT_IT_ON: &str = "point at it on the floor";
pub const THE: &str = "the ";
