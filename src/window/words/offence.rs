//! What the page of the offence says: rules, what a change is called, and what it brought.

use std::fmt::Display;

pub fn was_put_in_place(new: &dyn Display, old: &dyn Display) -> String {
    format!("{new} was put in place of {old}")
}
pub fn was_switched_off(name: &dyn Display) -> String {
    format!("{name} was switched off")
}
pub fn was_switched_on(name: &dyn Display) -> String {
    format!("{name} was switched on")
}
pub fn was_changed(name: &dyn Display) -> String {
    format!("{name} was changed")
}
pub const THE_PLAYERS_WERE_CHANGED: &str = "the players were changed";
pub const THE_COURT_WAS_CHANGED: &str = "the court was changed";
pub const THE_SIDE_OF_THE: &str = "the side of the start was changed";
pub const THE_SHOT_CLOCK_WAS: &str = "the shot clock was changed";
pub const THE_KIND_OF_PLAY: &str = "the kind of play was changed";
pub const A_NUMBER_OF_THE: &str = "a number of the model was changed";
pub const THE_VARIATION_WAS_RENAMED: &str = "the variation was renamed";
pub const THE_WORDS_FOR_THE: &str = "the words for the practice were changed";
pub const NOTHING_THAT_IS_PLAYED: &str = "nothing that is played was changed";
pub const HOW_LONG_THE_HOLDER: &str = "how long the player with the ball looks was changed";
pub const WHAT_THE_HOLDER_MAY: &str = "what the player with the ball may take was changed";
pub const THE_START_WAS_CHANGED: &str = "the start was changed";
pub const WHO_STARTS_WITH_THE: &str = "who starts with the ball was changed";
pub const THE_PLACES_TO_KEEP: &str = "the places to keep filled were changed";
pub const WHERE_DRIVES_BEGIN_WAS: &str = "where drives begin was changed";
pub const THE_OFFENCE_WAS_RENAMED: &str = "the offence was renamed";
pub fn was_renamed(a: &dyn Display, b: &dyn Display) -> String {
    format!("{a} was renamed {b}")
}
pub const TAKEN_OUT: &str = "taken out";
pub fn the_rule_was(name: &dyn Display, done: &dyn Display) -> String {
    format!("the rule {name} was {done}")
}
pub fn rules_were(several: &dyn Display, done: &dyn Display) -> String {
    format!("{several} rules were {done}")
}
pub const THE_ORDER_OF_THE: &str = "the order of the rules was changed";
pub const CHANGE_A_RULE_HERE: &str =
    "Change a rule: here you see what it brings: the same possessions, played before and after.";
pub fn last_change(said: &dyn Display) -> String {
    format!("Last change: {said}")
}
pub const PLAYING_BOTH: &str = "playing both …";
pub fn it_never_came_in(possessions: &dyn Display) -> String {
    format!("It never came in {possessions} possessions.")
}
pub fn it_came_carried_out(
    n: &dyn Display,
    possessions: &dyn Display,
    done: &dyn Display,
    given: &dyn Display,
) -> String {
    format!("{n} × in {possessions} possessions: {done} of {given} orders done")
}
pub const COUNTING: &str = "counting what becomes of it …";
pub const WHY_NOT_ALL: &str = "  → why";
pub const WHY_NOT_ALL_NOW: &str = "  → why now";
pub const LEAVE_IT: &str = "  → enough";
pub fn as_counted_in(possessions: &dyn Display) -> String {
    format!("As counted in {possessions} possessions when you asked:")
}
pub const THEN: &str = "then ";
pub fn carried_out_of(
    then: &dyn Display,
    who: &dyn Display,
    done: &dyn Display,
    given: &dyn Display,
) -> String {
    format!("{then}{who}: carried out {done} of {given}")
}
pub fn show(count: &dyn Display, end: &dyn Display, by: &dyn Display) -> String {
    format!("   {count} × {end}{by}  → show")
}
pub const RULES: &str = "Rules";
pub const THE_HOLDER: &str = "With the ball";
pub const THE_START: &str = "The start";
pub const SMALL_CHANGES_TO_TRY: &str = "Small changes to try";
pub const EACH_ADDS_OR_CHANGES: &str = "Press one: it adds or changes a rule, and what it brings is shown. Undo (Ctrl+Z) takes it back.";
pub fn put_in_undo_takes(name: &dyn Display) -> String {
    format!("Put in: {name}. Undo takes it back.")
}
pub fn it_does_not_fit(misfit: &dyn Display) -> String {
    format!("It does not fit: {misfit}.")
}
pub const BALL: &str = ", ball";
pub const DONE_MOVING_THE_START: &str = "Done moving the start";
pub const MOVE_THE_START_ON: &str = "Move the start on the floor";
pub const THE_BALL_STAYS_WITH: &str = "The ball stays with a player for";
pub const S_THEN_MOVES_THE: &str = " s, then moves the ball on";
pub const TAKES_WHAT_IS_THERE: &str = "Takes what is there after";
pub const S_WORD: &str = " s";
pub const A_LOOK_MUST_BE: &str = "A look must be worth";
pub const POINTS_MORE_THAN_TO: &str = " points more than to go on";
pub const BEFORE_A_SHOT: &str = "Before a shot from outside";
pub const PASSES_ARE_THROWN: &str = " passes are thrown";
pub const EXAMPLE_2_5_OR_2: &str = "2.5 or 2,5";
pub const WITH_THE_BALL_A: &str = "With the ball a player may take:";
pub fn take(look: &dyn Display) -> String {
    format!("take {look}")
}
pub const THE_OFFENCE: &str = "The offence";
pub const A_NEW_ONE_WITHOUT: &str = "a new one, without rules";
pub const FIVE_PLAYERS_OUTSIDE_YOU: &str = "Five players outside; you write every rule";
pub const NEW_OFFENCE: &str = "New offence";
pub const ADD_A_RULE: &str = "Add a rule …";
pub const WRITE_A_RULE_OF: &str = "Write a rule of your own";
pub const A_NEW_RULE: &str = "a new rule";
pub const NO_RULE_CAN_BE: &str = "No rule can be added to these: switch one off first.";
pub const ON_OR_OFF: &str = "On: it is played. Off: it is left out, and stays here.";
pub fn play(name: &dyn Display) -> String {
    format!("play “{name}”")
}
pub fn switch(name: &dyn Display) -> String {
    format!("switch {name}")
}
pub fn not_played_yet(problem: &dyn Display) -> String {
    format!("Not played yet: {problem}")
}
pub const FIRED_LAST: &str = "fired last";
pub const THE_OTHER_RULES: &str = "The other rules, in their order";
pub fn place_of(place: &dyn Display, count: &dyn Display) -> String {
    format!("rule {place} of {count}:")
}
pub fn rule(i: &dyn Display) -> String {
    format!("rule {i}")
}
pub fn possession_the_order_ends(
    seed: &dyn Display,
    now: &dyn Display,
    ends: &dyn Display,
) -> String {
    format!("Possession {seed} at {now:.1} s. The order ends at {ends:.1} s.")
}
pub const PUT_THE_SENTENCE_TOGETHER: &str = "Put the sentence together anew";
pub const THE_SENTENCE_IS_FINISHED: &str = "The sentence is finished";
pub const RULES_ANSWER_AN_EVENT: &str = "Rules answer an event in this order";
pub fn move_word(i: &dyn Display, to: &dyn Display) -> String {
    format!("move {i} {to}")
}
pub const TAKE_OUT: &str = "take out";
pub const UNDO_BRINGS_IT_BACK: &str = "Undo brings it back";
pub fn take_out(name: &dyn Display) -> String {
    format!("take out {name}")
}
pub fn point_at_the(spot: &dyn Display) -> String {
    format!("point at the {spot}")
}
