//! What the page of help says: keys, signs and hints.

use std::fmt::Display;

pub const EXAMPLE_1_OF_3_BRIGHT: &str = "1 of 3   Bright floor: a pass there now is worth it. Dark floor: nothing is open. The strip below is the whole possession. Press space: it freezes at a decision.";
pub const EXAMPLE_2_OF_3_DRAG: &str = "2 of 3   Drag a defender between the ball and the light: behind them the floor goes dark. Then press space: it goes on from there.";
pub const EXAMPLE_3_OF_3_OPEN: &str =
    "3 of 3   Open Why it stalls, then Look into it: it says who shuts what, and what to try.";
pub const SKIP_THE_HINTS: &str = "skip the hints";
pub const THE_POSSESSION_AS_THE: &str = "The possession as it was, nobody moved (X)";
pub const BACK_TO_THE_POSSESSION: &str = "back to the possession itself";
pub const WHERE_THE_POSSESSION_HAD: &str = "Where the possession had them (backspace)";
pub const PUT_EVERYBODY_BACK: &str = "put everybody back";
pub const FLOOR: &str = "Floor:";
pub const LIGHT_A_BALL_GETS: &str = "light: a ball gets there first";
pub const DARK_A_DEFENDER_DOES: &str = "dark: a defender does";
pub const LIGHT_A_PASS_THERE: &str = "light: a pass there now is worth it";
pub const DARK_NONE_IS: &str = "dark: none is";
pub const DOTTED_THREAD_WHO_SHUTS: &str = "dotted line: who shuts it";
pub const DASHED_A_PASS: &str = "dashed: a pass";
pub const ARROW_A_RUN: &str = "arrow: a run";
pub const RING_AND_GLOW: &str = "ring, glow: has the ball";
pub const STRIP_START_TO_END: &str = "Strip:";
pub const A_GOOD_LOOK_IS: &str = "a good look is open";
pub const ONLY_A_PASS_IS: &str = "only a pass is";
pub const NOTHING_IS: &str = "nothing is";
pub const STALL_FROM: &str = "stall (0.8 s or longer, no drive)";
pub const THIN_LINE: &str = "thin line: ball in the air";
pub const OF_A_HUNDRED: &str = "84\u{a0}%: of 100, 84 get there";
pub const DEFENDER_STOPS_IT: &str = "defender stops it";
pub const THE_BALL_IS_IN: &str = "the ball is in the air";
pub const THE_BALL_HAS_JUST: &str = "the ball has just been caught";
pub const NOTHING_IS_OPEN: &str = "nothing is open";
pub const ONLY_WHAT_MOVES_THE: &str = "only what moves the ball on is open";
pub const A_LOOK_WORTH_TAKING: &str = "a look worth taking is open";
pub fn s_word(time: &dyn Display, light: &dyn Display) -> String {
    format!("{time:.1} s: {light}")
}
pub fn stall_of_s_nobody(to: &dyn Display) -> String {
    format!("\nstall of {to:.1} s")
}
pub fn s_word_name(at: &dyn Display, name: &dyn Display) -> String {
    format!("\n{at:.1} s: {name}")
}
pub fn passes_to(from: &dyn Display, to: &dyn Display, look: &dyn Display) -> String {
    format!("{from} passes to {to} ({look})")
}
pub fn drives(who: &dyn Display) -> String {
    format!("{who} drives")
}
pub fn cuts(who: &dyn Display) -> String {
    format!("{who} cuts")
}
pub fn shoots(who: &dyn Display) -> String {
    format!("{who} shoots")
}
pub fn x_gets_a_hand(defender: &dyn Display) -> String {
    format!("X{defender} gets a hand to the pass")
}
pub fn x_stops_the_drive(by: &dyn Display, who: &dyn Display) -> String {
    format!("X{by} stops the drive of {who}")
}
pub const RUN_WITH_PLAYERS_MOVED: &str =
    "run (with players moved: from there), or freeze at the nearest decision";
pub const NEXT_DECISION: &str = "next decision";
pub const DECISION_BEFORE: &str = "decision before";
pub const A_MOMENT_ON_1: &str = "a moment on (1/25 s)";
pub const A_MOMENT_BACK: &str = "a moment back";
pub const REAL_TIME: &str = "real time";
pub const HALF_SPEED: &str = "half speed";
pub const QUARTER_SPEED: &str = "quarter speed";
pub const TO_THE_NEXT_STALL: &str = "to the next stall";
pub const TO_THE_NEXT_BACKDOOR: &str = "to the next backdoor chance";
pub const TO_THE_NEXT_OPEN: &str = "to the next open lane";
pub const THE_SAME_POSSESSION_AGAIN: &str = "the same possession again";
pub const NEXT_POSSESSION: &str = "next possession";
pub const POSSESSION_BEFORE: &str = "possession before";
pub const SHOW_ME_ONE_WHERE: &str = "show me one where …";
pub const THE_OFFENCES_RULES: &str = "the offence's rules";
pub const THE_DEFENCE: &str = "the defence";
pub const THE_SQUADS: &str = "the squads";
pub const THE_SCRIMMAGES_FIGURES: &str = "the scrimmage's figures";
pub const WHY_IT_STALLS: &str = "why it stalls";
pub const THE_DRILLS: &str = "the drills";
pub const PAPER_EVERYTHING_TO_HAND: &str = "paper: everything to hand out";
pub const SAVE_AND_OPEN: &str = "save, open, and the name of what is on the floor";
pub const THIS_HELP: &str = "this help";
pub const STOP_LOOKING_OR_DRAWER: &str = "stop looking, or drawer in";
pub const BALL_MAN_RIM_TRIANGLES: &str = "ball–man–rim triangles";
pub const PASSES_AWAY: &str = "passes away";
pub const WHERE_THE_MODEL_WOULD: &str = "where the model would have them";
pub const THREADS_WHO_SHUTS_WHAT: &str = "dotted lines: who shuts what";
pub const LIGHT_WHERE_A_BALL: &str = "light: where a ball arrives at all";
pub const PUT_MOVED_PLAYERS_BACK: &str = "put moved players back";
pub const BACK_TO_THE_POSSESSION_AS: &str =
    "back to the possession as it was before you moved anybody";
pub const IN_A_DRILL_BEGIN: &str = "in a drill: begin, judge, next moment";
pub const OPEN_A_FILE: &str = "open a file";
pub const NEW_VARIATION: &str = "new variation";
pub const LARGER_TYPE: &str = "larger type";
pub const SMALLER_TYPE: &str = "smaller type";
pub const FEET_OR_METRES: &str = "feet or metres";
pub const FULL_SCREEN_THE_FLOOR: &str = "full screen: the floor alone, for the gym wall";
pub const WHERE_THEY_SHOULD_STAND: &str = "where they should stand";
pub const LIGHT_WHERE_A_BALL_ARRIVES: &str =
    "light: where a ball arrives at all, worth a pass or not";
pub const THE_BALL_IS_A: &str = "The ball is a lamp: floor is lit where a team-mate can catch a pass now and it is worth throwing. The brighter, the more points come of it; where it stalls the floor is dark. Worth it means that the ball gets there and that the catch leads to more: a shot that is open, or a ball that moves on. Inside, a pass that is sure to arrive stays dark as long as the catcher has no open shot. Shift and I show instead where a ball arrives at all, whoever is there.";
pub const ON_THE_FLOOR: &str = "On the floor";
pub const DISC_WITH_A_NUMBER: &str = "Disc with a number: attacker. A ring: has the ball. The orange glow is round the ball at any time: it says nothing of what is open.";
pub const X_WITH_A_NUMBER: &str = "X with a number: defender; the bar shows the shoulders.";
pub const BEAM_TO_THE_RIM: &str =
    "Band of light to the rim: the drive is open; the wider, the more so.";
pub const THREAD_WITH_A_KNOT: &str =
    "Dotted line with a square at its end: from a defender to what that defender shuts.";
pub const SOLID_ARROW_A_RUN: &str = "Solid arrow: a run. Dashed arrow: a pass.";
pub const TAB_THROUGH_THE_PAGE: &str = "Tab: through the page, then to the floor. There arrows go from player to player, shift and arrows move one.";
pub const STRIP_BELOW_THE_POSSESSION: &str = "Strip below: the possession from start to end, bright where looks were open, dark where nothing was; the blue line is a stall. Point at it: it says what is there.";
pub const LAID_OVER_THE_FLOOR: &str = "Laid over the floor";
pub const TO_YOUR_LIKING: &str = "To your liking";
pub const SIZE_OF_TYPE: &str = "size of type";
pub const REDUCED_MOTION: &str = "reduced motion";
pub const WHAT_THE_SIGNS_MEAN: &str = "what the signs mean, over the controls";
pub const SHOW_THE_FIRST_HINTS: &str = "Show the first hints again";
pub const LENGTHS_IN_METRES_NOT: &str = "lengths in metres, not feet";
pub const FULL_SCREEN_FOR_THE: &str = "Full screen, for the gym wall (F11)";
pub const KEYS: &str = "Keys";
pub const SHIFT: &str = "shift ";
pub const CTRL: &str = "ctrl ";
pub const NO_MARKS: &str = "no marks";
pub const THEIR_OWN_MODEL: &str = "their own model";
