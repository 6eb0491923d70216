//! The choice on a drive: at the rim the best of what there is; before, whatever is worth more than to drive on.

use super::DRIVE;
use super::Judged;

/// This near to the ring, metres, a driver finishes or passes (ours).
const AT_THE_RING: f64 = 1.9;

impl Judged<'_> {
    /// The driver's choice; `None` to drive on.
    pub(super) fn on_a_drive(&self) -> Option<usize> {
        // Who has gathered the ball lays it up, or passes.
        let gathered = self.now.hold.pending.is_some();
        let at_the_ring = self.distance < AT_THE_RING && !gathered;
        let may = |i: usize| i != DRIVE && !(gathered && self.now.looks[i].to.is_none());
        self.best(|i| may(i) && (at_the_ring || self.is_worth_it(i)))
    }
}
