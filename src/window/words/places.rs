//! Where a defender is to stand, in a sentence.

use std::fmt::Display;

pub fn the_rule_the_low(player: &dyn Display, depth: &dyn Display) -> String {
    format!("The rule: the low man leaves {player} and meets the drive, here {depth} from the rim.")
}
pub fn the_rule_the_helper(player: &dyn Display, x: &dyn Display) -> String {
    format!("The rule: the helper has left {player}; X{x} takes {player}.")
}
pub fn the_rule_has_just(player: &dyn Display, x: &dyn Display, short: &dyn Display) -> String {
    format!("The rule: {player} has just caught it; X{x} closes out and stops {short} off.")
}
pub fn the_rule_x_shifts(x: &dyn Display) -> String {
    format!("The rule: X{x} shifts with the ball in an area of the zone.")
}
pub const THE_BALL: &str = "the ball";
pub const THE_RIM: &str = "the rim";
pub fn with(only: &dyn Display) -> String {
    format!("with {only}")
}
pub const HALF_WAY: &str = "half way";
pub fn nearer_to(a: &dyn Display) -> String {
    format!("nearer to {a},")
}
pub fn between_and(nearer: &dyn Display, a: &dyn Display, b: &dyn Display) -> String {
    format!("{nearer} between {a} and {b}")
}
pub fn between_and_c(a: &dyn Display, b: &dyn Display, c: &dyn Display) -> String {
    format!("between {a}, {b} and {c}")
}
pub const ON_THE_MIDLINE_SIDE: &str =
    ", on the midline side, so that the ball is forced to the sideline";
pub const ON_THE_MIDLINE: &str = ", on the midline";
pub const MOST_OF_THE_WAY: &str = ", most of the way to the midline";
pub const A_LITTLE_TOWARD_THE: &str = ", a little toward the midline";
pub const SO_THAT_THE_BALL: &str = ", so that the ball is forced to the middle";
pub const EYES_ON_THE_BALL: &str = "eyes on the ball";
pub const EYES_ON_THE_PLAYER: &str = "eyes on the player";
pub const SEEING_BOTH_BALL_AND: &str = "seeing both ball and player";
pub const A_HAND_IN_THE: &str = ", a hand in the passing lane";
pub fn the_rule_to_off(
    relation: &dyn Display,
    place: &dyn Display,
    (here, player): (&dyn Display, &dyn Display),
    (least, most): (&dyn Display, &dyn Display),
    sees: &dyn Display,
) -> String {
    format!(
        "The rule, {relation}: {place}; here {here} off {player} (as a rule {least} to {most}), {sees}."
    )
}
