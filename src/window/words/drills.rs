//! What the drills ask and answer.

use std::fmt::Display;

pub const NO_NAME: &str = "no name";
pub const A_ROUND_OF_THE: &str = "A round of the drill is on: judge it, or leave the round.";
pub fn in_possessions_against_there(
    drill_find: &dyn Display,
    defence: &dyn Display,
    task: &dyn Display,
) -> String {
    format!(
        "In {drill_find} possessions against “{defence}” there is no such moment ({task}). Choose another duty, or another defence."
    )
}
pub const A_PLACE_FOR_THE: &str = "a place for the drill";
pub const FLOOR_CLICK_A_PLACE: &str = "floor: click a place";
pub fn x_here(defender: &dyn Display) -> String {
    format!("X{defender} here")
}
pub const STAYS_HERE: &str = "stays here";
pub const TOO_NEAR_TO: &str = "too near to";
pub const TOO_FAR_FROM: &str = "too far from";
pub fn the_ball(toward: &dyn Display) -> String {
    format!("{toward} the ball")
}
pub const TOO_DEEP_TOWARD_THE: &str = "too deep, toward the rim";
pub const TOO_HIGH_AWAY_FROM: &str = "too high, away from the rim";
pub const TOO_FAR_TOWARD_THE: &str = "too far toward the midline";
pub const TOO_FAR_FROM_THE: &str = "too far from the midline";
pub const TOO_FAR_ACROSS_TO_THE_BALL: &str = "too far across the midline, toward the ball";
pub const TOO_FAR_ACROSS_FROM_THE_BALL: &str = "too far across the midline, away from the ball";
pub fn fault_off_not(fault: &dyn Display, put: &dyn Display, right: &dyn Display) -> String {
    format!("{fault} ({put} off, not {right})")
}
pub const ON_THE_REAL_FLOOR: &str = "On the real floor: warm up first, stop on any injury or suspected concussion, \
    and follow your league's and medical staff's rules. This is a drill for the eyes and claims no authority.";
pub const LEARNER: &str = "Learner";
pub const NAME: &str = "name";
pub const FOR_DEFENDERS_WHICH_DUTY: &str = "For defenders: which duty?";
pub const FOR_ATTACKERS: &str = "For attackers";
pub const HOW_FAST: &str = "How fast?";
pub const THE_FLOOR_FREEZES_WITH: &str = "The floor freezes with the light off. Say whose cut behind a defender is on, and who is open for a pass; then the light tells.";
pub const THE_FLOOR_FREEZES_AS: &str = "The floor freezes as a rule fires. Put the player where the rules want that player next. Staying can be right.";
pub const THE_FLOOR_FREEZES_WITHOUT: &str = "The floor freezes without the defender. Put the defender where the model would, and see what a step off that place opens.";
pub const THE_POSSESSION_COMES_WITHOUT: &str = "The possession comes without the defender and freezes. Put the defender where the model would before the time is over.";
pub fn you_have_seconds_for(seconds: &dyn Display) -> String {
    format!("You have {seconds:.0} seconds for each.")
}
pub fn begin_a_round_of(round: &dyn Display) -> String {
    format!("Begin a round of {round}")
}
pub const BEGIN_WITH_THIS_MOMENT: &str = "Begin with this moment";
pub fn moment_of(turn: &dyn Display, round: &dyn Display, task: &dyn Display) -> String {
    format!("Moment {turn} of {round}: {task}")
}
pub const LOOKING_FOR_A_MOMENT: &str = "looking for a moment …";
pub const WATCH_IT_FREEZES_IN: &str = "Watch: it freezes in a moment, and your time begins.";
pub const LEAVE_THE_ROUND: &str = "Leave the round";
pub fn s_left(left: &dyn Display) -> String {
    format!("{left:.1} s left")
}
pub const JUDGE_IT: &str = "Judge it";
pub const ENTER: &str = "enter";
pub fn x_guards(number: &dyn Display, player: &dyn Display, job: &dyn Display) -> String {
    format!("X{number} guards {player}: {job}.")
}
pub fn you_are_x_click(only: &dyn Display) -> String {
    format!("You are X{only}. Click where you stand, or drag X{only} there from the side.")
}
pub const DRAG_EACH_OF_THEM: &str = "Drag each of them from the side to the right place.";
pub fn you_are_click_where(number: &dyn Display) -> String {
    format!(
        "You are {number}. Click where you are to be next (after a cut: where you end up if you are not fed). To stay, judge it at once."
    )
}
pub const WHOSE_CUT_BEHIND_A: &str = "Whose cut behind a defender is on now?";
pub fn cut_of(who: &dyn Display) -> String {
    format!("cut of {who}")
}
pub const NOBODYS_CUT: &str = "nobody's cut";
pub const AND_WHO_IS_OPEN: &str = "And who is open for a pass? All of them; nobody, if none.";
pub fn is_open(who: &dyn Display) -> String {
    format!("{who} is open")
}
pub fn of_100(score: &dyn Display) -> String {
    format!("{score:.0} of 100")
}
pub fn the_score_goes_by(desk: &dyn Display) -> String {
    format!("The score goes by the distance: 100 on the model's spot, 0 from {desk} off.")
}
pub const THE_SCORE_IS_FULL: &str =
    "The score is 100 where your place leaves less open than the model's.";
pub fn shuts_it_only_with(by: &dyn Display, x: &dyn Display) -> String {
    format!(", which X{by} shuts only together with X{x}")
}
pub const END_THE_ROUND: &str = "End the round";
pub const NEXT_MOMENT: &str = "Next moment";
pub fn x_right_there_off(number: &dyn Display, off: &dyn Display) -> String {
    format!("X{number}: right there, {off} off.")
}
pub fn x_off(number: &dyn Display, off: &dyn Display, fault: &dyn Display) -> String {
    format!("X{number}: {off} off, {fault}.")
}
pub fn x_shuts_more(number: &dyn Display, off: &dyn Display) -> String {
    format!("X{number}: {off} off, and your place shuts more here.")
}
pub const YOUR_PLACE_SHUTS: &str = "Your place shuts, beside the model's:";
pub const BUT_IT_SHUTS: &str = "But it shuts, beside the model's:";
pub fn the_model_shuts(name: &dyn Display, figures: &dyn Display) -> String {
    format!("The model's place is for the {name}, which it shuts: off it, {figures}.")
}
pub fn the_model_is_for(name: &dyn Display, figures: &dyn Display) -> String {
    format!("The model's place is for the {name}: off it, {figures}.")
}
pub const THE_MODEL_IS_FOR_THE_NEXT_PASS: &str = "The model's place is for the next pass.";
pub const THAT_OPENS: &str = "That gives away:";
pub fn on_the_screen(way: &dyn Display) -> String {
    format!("{way} on the screen")
}
pub const THAT_OPENS_HARDLY_ANYTHING: &str = "At this instant hardly more is open than from the right place: that place is for the next pass, so the score goes by the distance.";
pub const ON_THE_FLOOR_WITH: &str = "On the floor, with the light of it:";
pub const AS_YOU_PUT_IT: &str = "as you put it";
pub const THE_RIGHT_PLACE: &str = "the right place";
pub fn why_there_what_a(step: &dyn Display) -> String {
    format!("Why there: what a step ({step}) off the right place gives away")
}
pub fn x_word(defender: &dyn Display) -> String {
    format!("X{defender} ")
}
pub fn at_this_instant_in(step: &dyn Display) -> String {
    format!(
        "At this instant {step} in any direction opens hardly anything: the place is for the next pass."
    )
}
pub fn worth_points_not(value: &dyn Display, worth: &dyn Display) -> String {
    format!("worth {value:.2} points if taken, not {worth:.2}")
}
pub fn the_lane_is_free(openness: &dyn Display, open: &dyn Display) -> String {
    format!("the lane is free in {openness} of 100, not {open}; ")
}
pub fn it_gets_there_in(openness: &dyn Display, open: &dyn Display) -> String {
    format!("it gets there in {openness} of 100, not {open}; ")
}
pub fn the(name: &dyn Display, figures: &dyn Display) -> String {
    format!("The {name}: {figures}.")
}
pub fn but(moment: &dyn Display) -> String {
    format!(" (but {moment})")
}
pub fn to_never(kind: &dyn Display, to: &dyn Display, never: &dyn Display) -> String {
    format!("{kind} to {to}{never}")
}
pub fn stays_at_the_you(number: &dyn Display, to: &dyn Display, off: &dyn Display) -> String {
    format!("{number} stays at the {to}: you are {off} off.")
}
pub fn goes_to_the_you(number: &dyn Display, to: &dyn Display, off: &dyn Display) -> String {
    format!("{number} goes to the {to}: you are {off} off.")
}
pub const AND: &str = " and ";
pub fn right_the_cut_was(on: &dyn Display) -> String {
    format!("Right: the cut was on for {on}.")
}
pub const RIGHT_NOBODYS_CUT_WAS: &str = "Right: nobody's cut was on.";
pub fn not_this_time_the(on: &dyn Display) -> String {
    format!("Not this time: the cut was on for {on}.")
}
pub fn open_for_a_pass(open: &dyn Display) -> String {
    format!("Open for a pass: {open}.")
}
pub fn open_and_you_did(missed: &dyn Display) -> String {
    format!("Open, and you did not say so: {missed}.")
}
pub fn you_said_open_and(shut: &dyn Display) -> String {
    format!("You said open, and it was shut: {shut}.")
}
pub fn round_over_of_100(mean: &dyn Display) -> String {
    format!("Round over: {mean:.0} of 100")
}
pub const ANOTHER_ROUND: &str = "Another round";
pub const CHOOSE_ANOTHER_DRILL: &str = "Choose another drill";
pub const SO_FAR: &str = "So far";
pub const SAY_FIRST_WHOSE_CUT: &str = "Say first whose cut is on, or nobody's.";
pub const ANY_DUTY: &str = "any duty";
pub const HELP_LINE: &str = "help line";
pub const ANY_DUTY_MEANS: &str = "Any duty: one defender off the ball, whichever it is.";
pub const HELP_LINE_MEANS: &str =
    "Help line: on the midline, from rim to rim, seeing both the ball and the player guarded.";
pub const GAP_MEANS: &str =
    "Gap: one pass away, between the player guarded and the ball, off the player.";
pub const DENY_MEANS: &str = "Deny: one pass away, a hand in the passing lane.";
pub const LOW_MAN_MEANS: &str =
    "Low man: the weak-side defender nearest the baseline, who meets a drive at the rim.";
pub const HELP_THE_HELPER_MEANS: &str =
    "Help the helper: take the player whom the low man has left.";
pub const TAG_THE_CUTTER_MEANS: &str =
    "Tag the cutter: go with the cutter, body between cutter and ball.";
pub const CLOSEOUT_MEANS: &str =
    "Closeout: run at the player who catches, and stop short under control.";
pub const ALL_FIVE_MEANS: &str = "All five: place the whole defence.";
pub const WHO_IS_OPEN_MEANS: &str = "Who is open: read the cut and the passes with the light off.";
pub const WHERE_DO_YOU_GO_MEANS: &str = "Where do you go: as the rules send you.";
pub const LOW_MAN: &str = "low man";
pub const HELP_THE_HELPER: &str = "help the helper";
pub const TAG_THE_CUTTER: &str = "tag the cutter";
pub const ALL_FIVE: &str = "all five";
pub const WHO_IS_OPEN: &str = "who is open?";
pub const WHERE_DO_YOU_GO: &str = "where do you go?";
pub const NO_CLOCK: &str = "no clock";
pub const HALF_SPEED: &str = "half speed";
pub const REAL_TIME: &str = "real time";
pub fn by(name: &dyn Display, action: &dyn Display) -> String {
    format!("By “{name}”: {action}.")
}
pub fn sends_others_no_rule(name: &dyn Display, who: &dyn Display) -> String {
    format!("“{name}” sends others; no rule sends {who} anywhere.")
}
