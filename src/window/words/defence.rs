//! What the page of the defence says.

use std::fmt::Display;

pub const PLAY_AGAINST: &str = "Play against";
pub fn model(name: &dyn Display) -> String {
    format!("model {name}")
}
pub const WHERE_THEY_STAND: &str = "Where they stand";
pub const EACH_PLACE_IS_A: &str = "Each place is a mix of the player guarded, the ball and the rim, drawn toward the midline, at a distance from that player.";
pub const HELP: &str = "Help";
pub const WHAT_WOULD_ANOTHER_MODEL: &str = "What would another model do?";
pub const MARKS_ON_THE_FLOOR: &str =
    "Marks on the floor where it would have each of them, while somebody holds the ball.";
pub const ONE_DEFENDER_OTHERWISE: &str = "One defender differently";
pub const DRAWN_TO_THE_MIDLINE: &str = "drawn to the midline";
pub const EXAMPLE_40_OR_40_PERCENT: &str = "40 or 40 %";
pub const GAP_FROM: &str = "gap from";
pub const TO: &str = "to";
pub fn gap(name: &dyn Display) -> String {
    format!("{name} gap")
}
pub const EYES_ON: &str = "eyes on";
pub fn gaze(name: &dyn Display) -> String {
    format!("{name} gaze")
}
pub const A_HAND_IN_THE: &str = "a hand in the passing lane (deny)";
pub fn deny(name: &dyn Display) -> String {
    format!("{name} deny")
}
pub const A_DRIVE_IS_MET: &str = "A drive is met by";
pub const THE_LOW_MAN: &str = "the low man";
pub const THE_NEAREST: &str = "the nearest";
pub const WHEN_IT_IS_NEARER: &str = "when it is nearer to the rim than";
pub const SO_FAR_FROM_THE: &str = "it is met so far from the rim";
pub const ONE_PASS_AWAY_THEY: &str = "one pass away they stunt by";
pub const CLOSE_OUTS_STOP_SHORT: &str = "close-outs stop short by";
pub const THE_NEXT_DEFENDER_TAKES: &str = "the next defender takes the helper's player";
pub const THEY_SWITCH_ON_SCREENS: &str = "they switch on screens";
pub const AS_THE_MODEL_SAYS: &str = "as the model says";
pub fn own(number: &dyn Display) -> String {
    format!("own {number}")
}
pub fn own_name(number: &dyn Display, name: &dyn Display) -> String {
    format!("own {number} {name}")
}
