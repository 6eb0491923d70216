//! What stands on the floor, round it and below it: buttons of time, what the moment is, what was done.

use std::fmt::Display;

pub const LANELIGHT: &str = "Lanelight";
pub fn lanelight(desk: &dyn Display) -> String {
    format!("{desk} – Lanelight")
}
pub const LEAVE_FULL_SCREEN: &str = "leave full screen";
pub const FREEZE: &str = "Freeze";
pub const FREEZE_AT_THE_NEAREST: &str = "Freeze at the nearest decision (space)";
pub const RUN_FROM_HERE: &str = "Run from here";
pub const RUN_ON_WITH_EVERYBODY: &str = "Run on from where you put them (space)";
pub const RUN: &str = "Run";
pub const RUN_ON_SPACE: &str = "Run on (space)";
pub const THE_DECISION_BEFORE_LEFT: &str = "The decision before (left arrow)";
pub const DECISION: &str = "decision";
pub const THE_NEXT_DECISION_RIGHT: &str = "The next decision (right arrow)";
pub const REAL_TIME: &str = "real time";
pub const HALF_SPEED: &str = "half speed";
pub const TO_THE_NEXT: &str = "to the next";
pub fn freeze_where_the_next(jump: &dyn Display, key: &dyn Display) -> String {
    format!("Freeze where the next {jump} begins ({key})")
}
pub const NEXT: &str = "next";
pub const THE_NEXT_POSSESSION_N: &str = "The next possession (N)";
pub const AGAIN: &str = "again";
pub const THE_SAME_POSSESSION_FROM: &str = "The same possession from the start (R)";
pub const BY_HAND: &str = ", by hand";
pub fn opens_on_the_first(looked_at: &dyn Display) -> String {
    format!(
        "What is opened begins with the first possession, of 1 to {looked_at}, that has a pass and lasts at least as long as the middle one of them. N and P show the others."
    )
}
pub fn possession(seed: &dyn Display, own: &dyn Display) -> String {
    format!("possession {seed}{own}")
}
pub fn looking_percent(share: &dyn Display) -> String {
    format!("looking … {share} %")
}
pub const STOP: &str = "stop";
pub const SHOW_ME: &str = "show me …";
pub const LOOK_THROUGH_POSSESSIONS_FOR: &str = "Look through possessions for a story (W)";
pub const SHOW_ME_A_POSSESSION: &str = "Show me a possession where …";
pub const NONE_OF_THESE: &str = "none of these";
pub fn time_of_s_strip(now: &dyn Display, end: &dyn Display) -> String {
    format!("time, {now:.1} of {end:.1} s; strip of light")
}
pub fn of_s(now: &dyn Display, end: &dyn Display) -> String {
    format!("{now:.1} of {end:.1} s")
}
pub const BEFORE: &str = "before";
pub const WITH_IT: &str = "with the change";
pub const I_HAVE_READ_IT: &str = "I have read it";
pub const DISMISS_ESCAPE: &str = "Dismiss (escape)";
pub const QUARTER_SPEED: &str = "quarter speed";
pub const BACKDOOR_CHANCE: &str = "backdoor chance";
pub const OPEN_LANE: &str = "open lane";
pub fn there_is_no_in(to: &dyn Display) -> String {
    format!("There is no {to} in this possession.")
}
pub const THAT_CANNOT_BE_PLAYED: &str = "That cannot be played.";
pub fn that_cannot_be_played(said: &dyn Display) -> String {
    format!("That cannot be played: {said}.")
}
pub fn taken_back(what: &dyn Display) -> String {
    format!("Taken back: {what}.")
}
pub fn made_again(what: &dyn Display) -> String {
    format!("Made again: {what}.")
}
pub fn possession_story(seed: &dyn Display, story: &dyn Display) -> String {
    format!("Possession {seed}: {story}.")
}
pub fn none_of_the_next(most: &dyn Display, story: &dyn Display) -> String {
    format!("None of the next {most} possessions is one where {story}.")
}
pub const THE_POSSESSION_IS_OVER: &str =
    "The possession is over here: go back a little, then move somebody.";
pub fn it_goes_on_from(who: &dyn Display) -> String {
    format!("It goes on from where you put {who}.")
}
pub const THE_POSSESSION_ITSELF_AGAIN: &str = "The possession itself again, nobody moved.";
pub fn moved_at_s(put: &dyn Display, put_2: &dyn Display) -> String {
    format!("{put} moved at {put_2:.1} s")
}
pub fn changed_by_hand(parts: &dyn Display) -> String {
    format!("Changed by hand: {parts}")
}
pub fn and(first: &dyn Display, last: &dyn Display) -> String {
    format!("{first} and {last}")
}
pub fn players(names: &dyn Display) -> String {
    format!("{names} players")
}
pub const YOUR_RULES_NEVER_TAKE: &str = "your rules never take it";
pub const OPEN: &str = "open";
pub fn open_percent(percent: &dyn Display) -> String {
    format!("open, {percent} %")
}
pub fn open_percent_but(percent: &dyn Display, never: &dyn Display) -> String {
    format!("open, {percent} %; but {never}")
}
pub fn x_shuts_it(defender: &dyn Display) -> String {
    format!("X{defender} shuts it")
}
pub fn no_open_shot_there(percent: &dyn Display) -> String {
    format!("{percent} %, no open shot there")
}
pub fn not_open_percent(percent: &dyn Display) -> String {
    format!("not open, {percent} %")
}
pub const NOT_WORTH_IT: &str = "not worth it";
pub fn and_never(shut: &dyn Display, never: &dyn Display) -> String {
    format!("{shut}; and {never}")
}
pub const POST_BALL_SIDE: &str = "post, ball side";
pub const POST_WEAK_SIDE: &str = "post, weak side";
pub const ONE_PASS_AWAY: &str = "one pass away";
pub fn passes_away(n: &dyn Display) -> String {
    format!("{n} passes away")
}
pub fn to_to(kind: &dyn Display, to: &dyn Display) -> String {
    format!("{kind} to {to}")
}
pub fn open_for_but(holder: &dyn Display, never: &dyn Display, no: &dyn Display) -> String {
    format!("Open for {holder}, but {never}: {no}.")
}
pub fn open_for(holder: &dyn Display, yes: &dyn Display) -> String {
    format!("Open for {holder}: {yes}.")
}
pub fn open_for_open_but(
    holder: &dyn Display,
    yes: &dyn Display,
    never: &dyn Display,
    no: &dyn Display,
) -> String {
    format!("Open for {holder}: {yes}. Open, but {never}: {no}.")
}
pub fn it_stalls_s_in(seconds: &dyn Display) -> String {
    format!(": it stalls ({seconds:.1} s in all)")
}
pub fn has_the_ball_and(holder: &dyn Display, stall: &dyn Display) -> String {
    format!("{holder} has the ball and nothing is open{stall}.")
}
pub fn drives_and(holder: &dyn Display) -> String {
    format!("{holder} drives; nothing else is open.")
}
pub fn gets_to(who: &dyn Display) -> String {
    format!(" A pass gets to {who}, but without an open shot there.")
}
pub const CUTTER: &str = "cutter";
pub fn pass_to_the_cutter(to: &dyn Display) -> String {
    format!("pass to the cutter {to}")
}
pub fn of_the_pass(name: &dyn Display, state: &dyn Display) -> String {
    format!("The {name}: {state}.")
}
pub fn no_pass_gets_there(from: &dyn Display, to: &dyn Display) -> String {
    format!("No pass from {from} gets to {to} now: {to} is too far away.")
}
pub fn with_the_change(text: &dyn Display) -> String {
    format!("With the change: {text}")
}
pub const AND: &str = " and ";
pub fn has_the_ball(holder: &dyn Display) -> String {
    format!("{holder} has the ball.")
}
pub fn the_ball_is_in(from: &dyn Display, to: &dyn Display) -> String {
    format!("The ball is in the air, from {from} to {to}.")
}
pub const THE_SHOT_IS_IN: &str = "The shot is in the air.";
pub const THE_BALL_IS_LOOSE: &str = "The ball is loose.";
pub fn could_cut_behind_x(who: &dyn Display, d: &dyn Display) -> String {
    format!(" {who} could cut behind X{d}.")
}
pub fn could_cut_to_the(who: &dyn Display) -> String {
    format!(" {who} could cut to the rim.")
}
pub fn at_s(at: &dyn Display, at_2: &dyn Display, told: &dyn Display) -> String {
    format!("At {at}.{at_2} s, {told}")
}
pub const OFFENCE: &str = "Offence";
pub const DEFENCE: &str = "Defence";
pub const SQUADS: &str = "Squads";
pub const SCRIMMAGE: &str = "Scrimmage";
pub const WHY_IT_STALLS: &str = "Why it stalls";
pub const DRILLS: &str = "Drills";
pub const PAPER: &str = "Paper";
pub const SAVE_AND_OPEN: &str = "Save and open";
pub const HELP: &str = "Help";
pub const YOUR_RULES_SWITCH_THEM: &str = "Your rules: switch them, turn their numbers (O)";
pub const AGAINST_WHOM_YOU_PLAY: &str = "Against whom you play (D)";
pub const WHO_PLAYS_ON_EITHER: &str = "Who plays on either side (Q)";
pub const MANY_POSSESSIONS_IN_FIGURES: &str = "Many possessions in figures (F)";
pub const WHO_SHUTS_WHAT_WHERE: &str = "Who shuts what, where it stalls, and what to try (Y)";
pub const FOR_DEFENDERS_WHERE_TO: &str =
    "For defenders: where to stand. For attackers: who is open, where to go (E)";
pub const PRACTICE_SHEET_CARDS_AND: &str = "Practice sheet, cards and pictures to hand out (J)";
pub const NAME_SAVE_OPEN_V: &str = "Name, save, open (V)";
pub const WHAT_IS_ON_THE: &str = "What is on the floor, and every key (H)";
pub const DRAWER_IN_ESCAPE: &str = "Drawer in (escape)";
pub const HAS_THE_BALL: &str = ", has the ball";
pub fn attacker_near_the(number: &dyn Display, spot: &dyn Display, ball: &dyn Display) -> String {
    format!("attacker {number}, near the {spot}{ball}")
}
pub fn defender_x_guards_near(
    number: &dyn Display,
    man: &dyn Display,
    duty: &dyn Display,
    spot: &dyn Display,
) -> String {
    format!("defender X{number}, guards {man}, {duty}, near the {spot}")
}
pub fn start_of(player: &dyn Display, spot: &dyn Display) -> String {
    format!("start of {player}: {spot}")
}
pub fn start(player: &dyn Display) -> String {
    format!("start {player}")
}
pub const IT_STALLS_FOR_A: &str = "it stalls for a second or more";
pub const A_BACKDOOR_CUT_WAS: &str = "a backdoor cut was there and nobody took it";
pub const A_BACKDOOR_CUT_IS: &str = "a backdoor cut is fed";
pub const A_CUTTER_SCORES: &str = "a cutter scores";
pub const THE_POST_IS_FED: &str = "the post is fed and scores";
pub const A_DRIVE_ENDS_AT: &str = "a drive ends at the rim";
pub const A_HELPER_STOPS_THE: &str = "a helper stops the drive and leaves an attacker free";
pub const A_DEFENDER_TAKES_A: &str = "a defender steals a pass";
pub const IT_LASTS_TWENTY_SECONDS: &str = "it lasts twenty seconds or more";
/// Said of a window on which nothing can be drawn.
pub const SHOWS_NO_COLOURS: &str = "it shows no colours";
