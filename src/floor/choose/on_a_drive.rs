//! The choice on a drive: the finish first, a pass when the lane closes or the driver is stopped.

use crate::offence::LookKind;

use super::super::parts::*;
use super::super::sight::STOPPED_SHARE;
use super::{DRIVE, Judged, SHOT};

/// A driver looks for a pass when his lane is no more open than this; from two steps away, metres, only when
/// it is as good as shut (ours).
const PULLS_OUT: f64 = 0.45;
const TWO_STEPS: f64 = 3.5;
const COMMITTED: f64 = 0.04;

/// This near to the ring, metres, a driver finishes (ours).
const AT_THE_RING: f64 = 1.9;
/// A pass past the help is thrown from this openness on (ours).
const OPEN_ENOUGH: f64 = 0.6;

/// Once he has put it on the floor a driver goes for so long before he thinks of a pass, unless he is
/// stopped, seconds (ours; common practice: on a drive the shot comes first).
const DRIVES_FOR: f64 = 0.9;

impl Judged<'_> {
    /// The driver's choice; `None` to drive on.
    pub(super) fn on_a_drive(&self) -> Option<usize> {
        let now = self.now;
        if self.helped {
            let own = if self.distance < TWO_STEPS {
                self.seen[SHOT].value
            } else {
                self.through_the_help()
            };
            if let Some(pass) = self.past_the_help(own) {
                return Some(pass);
            }
        }
        if self.distance < AT_THE_RING {
            return self.at_the_ring();
        }
        let stopping = now.hold.drive.is_some_and(|d| d.stuck > 2);
        let just_begun = now
            .hold
            .drive
            .is_some_and(|d| now.clock.tick < d.began + ticks(DRIVES_FOR));
        if just_begun && !stopping && !now.clean() {
            return None;
        }
        let shut = if self.distance < TWO_STEPS {
            COMMITTED
        } else {
            PULLS_OUT
        };
        if now.looks[DRIVE].openness < shut && !self.scores || stopping {
            return self.out_of_the_drive(stopping);
        }
        None
    }

    /// What it is worth to drive on into the help, points.
    fn through_the_help(&self) -> f64 {
        let drive = &self.now.looks[DRIVE];
        drive.openness * drive.prize + (1.0 - drive.openness) * STOPPED_SHARE * self.now.play.usual
    }

    /// The pass that beats the help: to whoever was left, or a kick-out, if it is worth more than `own` points.
    pub(super) fn past_the_help(&self, own: f64) -> Option<usize> {
        self.best(|i| {
            self.now.looks[i].to.is_some()
                && self.seen[i].openness > OPEN_ENOUGH
                && self.seen[i].value > own
        })
    }

    /// At the ring he finishes, unless the drop-off pass is worth more.
    fn at_the_ring(&self) -> Option<usize> {
        let looks = self.now.looks;
        self.best(|i| {
            matches!(looks[i].kind, LookKind::Shot)
                || (looks[i].kind == LookKind::DropOff && looks[i].value > looks[SHOT].value)
        })
    }

    /// The lane is shut or he is stopped: a pass or a shot, if one is good enough.
    fn out_of_the_drive(&self, stopping: bool) -> Option<usize> {
        let (looks, seen, usual) = (self.now.looks, &self.seen, self.now.play.usual);
        let need = if stopping { 0.9 * usual } else { self.bars.rim };
        let lane = looks[DRIVE].openness;
        self.best(|i| match looks[i].kind {
            LookKind::DropOff | LookKind::Backdoor | LookKind::GiveAndGo => {
                seen[i].value >= need && seen[i].openness > 0.6
            }
            LookKind::KickOut => {
                seen[i].openness > 0.75
                    && (looks[i].prize > usual || lane < 0.2)
                    && seen[i].value >= 0.8 * usual
            }
            LookKind::Shot => self.distance < 4.5 && seen[i].value >= self.bars.rim,
            _ => false,
        })
    }
}
