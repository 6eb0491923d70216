//! The looks that may end in a shot, with the ball in hand.

use crate::possession::Ballwork;

use super::super::sight::{DRIVES_FROM, only_moves_the_ball};
use super::{DRIVE, Judged};

/// After a catch the ball is held for at least this long, seconds, so that the defender has to respect a
/// shot, a drive and a pass alike (common practice).
pub(super) const THREAT: f64 = 0.4;

impl Judged<'_> {
    /// Does a look end in a shot, if all goes well? A pass outside only moves the ball, but to who can shoot at once.
    pub(super) fn scores(&self, i: usize) -> bool {
        let free = self.now.hold.work != Ballwork::PickedUp;
        // While a team-mate comes to screen for him he drives only if the lane is open as it is.
        let old = self.now.old;
        let waits = old.screen_comes && old.ball_screen.is_none() && !self.now.looks[i].open;
        let may = i != DRIVE || free && !waits && self.distance > DRIVES_FROM;
        may && (!only_moves_the_ball(self.kind(i)) || self.finds_a_shooter(i))
    }

    /// Is it a pass to a team-mate outside who can shoot at once? On the drive, too, such a one is passed to: a drive that
    /// only served to see him was one too many.
    pub(super) fn finds_a_shooter(&self, i: usize) -> bool {
        let now = self.now;
        now.looks[i].spot_up && now.held > THREAT && !now.clean()
    }
}
