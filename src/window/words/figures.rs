//! What the page of the scrimmage says.

use std::fmt::Display;

pub const POINTS_PER_POSSESSION: &str = "Points per possession";
pub const WHAT_WAS_SCORED_THE: &str = "what was scored, the luck of the shot included";
pub const LOST_WITHOUT_A_SHOT: &str = "Lost without a shot";
pub const POSSESSIONS_THAT_ENDED_IN: &str = "possessions that ended in a lost ball";
pub const SPELLS_WITH_NOTHING_OPEN: &str = "Stalls";
pub const PER_POSSESSION_FROM_0: &str = "per possession: for 0.8 s or more the player with the ball has nothing open, and is not on a drive";
pub const SECONDS_WITH_NOTHING_OPEN: &str = "Seconds stalled";
pub const ALL_THOSE_SPELLS_OF: &str = "all stalls of a possession together";
pub const BACKDOOR_CHANCES_THERE: &str = "Backdoor chances there";
pub const PER_POSSESSION_A_CUT: &str = "per possession: a cut behind a defender was on";
pub const BACKDOOR_CUTS_TAKEN: &str = "Backdoor cuts taken";
pub const PER_POSSESSION_SOMEBODY_MADE: &str = "per possession: somebody made the cut";
pub const BACKDOOR_CUTS_FED: &str = "Backdoor cuts fed";
pub const PER_POSSESSION_THE_CUTTER: &str = "per possession: the cutter was thrown the ball";
pub const SECONDS_WITH_AN_OPEN: &str = "Seconds with an open lane";
pub const PER_POSSESSION_A_DRIVE: &str = "per possession: a drive to the rim was there";
pub const SHOTS_AT_THE_RIM: &str = "Shots at the rim";
pub const SHARE_OF_ALL_SHOTS: &str = "share of all shots";
pub const PASSES_PER_POSSESSION: &str = "Passes per possession";
pub const POINTS_LEFT_UNUSED: &str = "Points left unused";
pub const AT_MOST_WHAT_WAS: &str = "at most: what was open and your rules never take";
pub const LENGTH_OF_A_POSSESSION: &str = "Length of a possession";
pub const MANY_POSSESSIONS_OF_WHAT: &str = "Many possessions of what you have now, the same ones each time, so that what differs is the change and not luck. The bar is where the figure lies with 95\u{a0}% confidence.";
pub const PLAY_AGAIN: &str = "Play again";
pub const PLAY_THE_SCRIMMAGE: &str = "Play the scrimmage";
pub fn playing_percent(job: &dyn Display) -> String {
    format!("playing … {job:.0} %")
}
pub fn possessions(n: &dyn Display) -> String {
    format!("{n} possessions")
}
pub const NOW: &str = "now";
pub const BEFORE_THE_CHANGE: &str = "before the change";
pub const AS_SAVED: &str = "as saved";
pub const TRUST_WHICH_OF_TWO: &str = "Which of two is larger can be trusted more than by how much. Bars that overlap a lot may well be the same.";
