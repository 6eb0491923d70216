//! The looks that may end in a shot, with the ball in hand.

use crate::possession::Ballwork;

use super::super::sight::{DRIVES_FROM, only_moves_the_ball};
use super::{DRIVE, Judged};

/// After a catch the ball is held for at least this long, seconds, so that the defender has to respect a
/// shot, a drive and a pass alike (common practice).
pub(super) const THREAT: f64 = 0.4;

impl Judged<'_> {
    /// Does a look end in a shot, if all goes well? A pass outside only moves the ball.
    pub(super) fn scores(&self, i: usize) -> bool {
        let free = self.now.hold.work != Ballwork::PickedUp;
        // While a team-mate comes to screen for him he drives only if the lane is open as it is.
        let old = self.now.old;
        let waits = old.screen_comes && old.ball_screen.is_none() && !self.now.looks[i].open;
        let may = i != DRIVE || free && !waits && self.distance > DRIVES_FROM;
        may && !only_moves_the_ball(self.kind(i))
    }
}
