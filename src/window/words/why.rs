//! What the page “Why it stalls” says.

use std::fmt::Display;

pub fn against_it_never_stalls(defence: &dyn Display) -> String {
    format!("Against “{defence}” it never stalls.")
}
pub fn against_you_stall_s(
    defence: &dyn Display,
    value: &dyn Display,
    low: &dyn Display,
    high: &dyn Display,
) -> String {
    format!("Against “{defence}” you stall {value} s a possession ({low} to {high})")
}
pub fn so_many_of_so_long(often: &dyn Display, length: &dyn Display) -> String {
    format!(": {often:.0} stalls in a hundred possessions, of {length:.1} s each.")
}
pub fn most_of_all_percent(share: &dyn Display, at: &dyn Display, lately: &dyn Display) -> String {
    format!(" Most of all ({share:.0} % of that) with the ball at the {at}, {lately}")
}
pub fn shuts_the_and_nothing(who: &dyn Display, doing: &dyn Display, look: &dyn Display) -> String {
    format!(": {who}{doing} shuts the {look}, and nothing else is open.")
}
pub const NOTHING_IS_OPEN_THERE: &str = ": nothing is open there.";
pub const ALL_TOGETHER: &str = "all together";
pub fn seconds_a_possession(possessions: &dyn Display) -> String {
    format!(
        "Seconds a possession, from {possessions} possessions; the thin line is the 95\u{a0}% interval. Click a bar, or its letter on the floor, to watch one."
    )
}
pub fn s_a_possession(words: &dyn Display, value: &dyn Display) -> String {
    format!("{words}: {value} s a possession")
}
pub const UNDER_A_HUNDREDTH: &str = "under 0.01";
pub fn s_word(value: &dyn Display) -> String {
    format!("{value} s")
}
pub const WATCH_ONE_OF_THESE: &str = "Watch one of these";
pub fn stalls_s(k: &dyn Display, seconds: &dyn Display) -> String {
    format!("{k}   stalls {seconds} s")
}
pub fn place(k: &dyn Display, at: &dyn Display) -> String {
    format!("place {k}: {at}")
}
pub const A_STALL_THE_PLAYER: &str =
    "A stall: the player with the ball has nobody open, no drive and no shot, for 0.8 s or longer.";
pub const LOOK_AGAIN: &str = "Look again";
pub const LOOK_INTO_IT: &str = "Look into it";
pub fn looking_percent(job: &dyn Display) -> String {
    format!("looking … {job:.0} %")
}
pub const FOUND_BEFORE_THE_LAST: &str = "found before the last change";
pub fn plays_possessions_and_says(possessions: &dyn Display) -> String {
    format!(
        "Plays {possessions} possessions, and says where it stalls, who shuts it, and what is open that no rule takes."
    )
}
pub const AT_THIS_MOMENT: &str = "At this moment";
pub const MOST_WORTH_TRYING: &str = "Most worth trying";
pub const WHERE_IT_STALLS_ONE: &str = "Where it stalls, one by one";
pub const OPEN_NEVER_USED: &str = "Open, never used";
pub const WHO_SHUTS_WHAT: &str = "Who shuts what";
pub fn possession_at_s(seed: &dyn Display, time: &dyn Display) -> String {
    format!("Possession {seed} at {time:.1} s.")
}
pub const NO_DRIBBLE_LEFT: &str = "the dribble is used up";
pub const UNDER_WAY: &str = "under way";
pub const STILL_CLOSING_OUT: &str = "still closing out";
pub fn shut_by_x(defender: &dyn Display, duty: &dyn Display) -> String {
    format!("shut by X{defender}, {duty}")
}
pub fn shut_by_x_and(x: &dyn Display, duty: &dyn Display, moment: &dyn Display) -> String {
    format!("shut by X{x}, {duty}; and {moment}")
}
pub const HOW_TO_READ_IT: &str =
    "How to read it: “open, 84 %” means that of a hundred such passes 84 get there.";
pub fn to(value: &dyn Display, low: &dyn Display, high: &dyn Display) -> String {
    format!("{value} ({low} to {high})")
}
pub fn show(title: &dyn Display) -> String {
    format!("{title}  → show")
}
pub fn with_the_ball_at(at: &dyn Display, lately: &dyn Display) -> String {
    format!("With the ball at the {at}, {lately}")
}
pub fn of_all_stalled_time(share: &dyn Display) -> String {
    format!("{share} of all stalled time")
}
pub fn the_last_rule_was(rule: &dyn Display) -> String {
    format!("; the last rule was “{rule}”")
}
pub fn the_is_shut_by(look: &dyn Display, seat: &dyn Display) -> String {
    format!("; the {look} is shut by {seat}")
}
pub fn there_in_of_possessions(there: &dyn Display, adds: &dyn Display) -> String {
    format!("there in {there} of possessions; worth at most {adds} points per 100 possessions")
}
pub fn open_open(site: &dyn Display, open: &dyn Display) -> String {
    format!("{site}: open {open}")
}
pub fn shut_mostly_by_in(seat: &dyn Display, seat_2: &dyn Display, share: &dyn Display) -> String {
    format!("shut mostly by {seat}{seat_2}, in {share} of it")
}
