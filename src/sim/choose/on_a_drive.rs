//! The choice on a drive: at the rim the best of what there is; before, whatever is worth more than to drive on.

use super::DRIVE;
use super::Judged;

/// This near to the ring, metres, a driver finishes or passes (ours).
const AT_THE_RING: f64 = 1.9;

impl Judged<'_> {
    /// The driver's choice; `None` to drive on.
    pub(super) fn on_a_drive(&self) -> Option<usize> {
        let at_the_ring = self.distance < AT_THE_RING;
        self.best(|i| i != DRIVE && (at_the_ring || self.is_worth_it(i)))
    }
}
