//! The choice with the ball in hand: a look that scores, if one is good enough.

use crate::offence::LookKind;
use crate::possession::TICK;

use super::super::sight::{DRIVES_FROM, scoring};
use super::{DRIVE, Judged, SHOT};

/// After a catch the ball is held for at least this long, seconds, so that the defender has to respect a
/// shot, a drive and a pass alike (common practice).
pub(super) const THREAT: f64 = 0.4;

/// A feed inside is thrown only when it is this open (ours).
const FEED_OPEN: f64 = 0.75;

/// Nearer to the ring than this, metres, he feeds a team-mate only who promises this much more, points (ours).
const AT_THE_RING: f64 = 2.0;
const MUCH_BETTER: f64 = 0.25;
/// A holder this near to the ring reads the help as a driver does, metres (ours).
const THROUGH_HELP: f64 = 4.5;

impl Judged<'_> {
    /// The choice of a holder who holds the ball or dribbles on the perimeter.
    pub(super) fn in_hand(&self) -> Option<usize> {
        let now = self.now;
        if self.helped
            && self.distance < THROUGH_HELP
            && let Some(pass) = self.past_the_help(self.seen[SHOT].value)
        {
            return Some(pass);
        }
        if self.scores {
            let drives = self.distance > DRIVES_FROM && now.looks[DRIVE].allowed;
            return Some(if drives { DRIVE } else { SHOT });
        }
        // Late in the clock he need only be past his own man.
        let late = now.clock.left() < 0.62 * f64::from(now.clock.limit) * TICK;
        self.best(|i| self.is_worth_it(i) && self.is_on(i, late))
            .or_else(|| self.nothing_on())
    }

    /// Does a look score, and is it worth more than to wait?
    fn is_worth_it(&self, i: usize) -> bool {
        let look = &self.now.looks[i];
        let value = self.seen[i].value;
        if !scoring(look, self.now.play.usual) || value < self.bars.for_a(look.kind) {
            return false;
        }
        let much = if self.helped { 0.0 } else { MUCH_BETTER };
        let own = self.seen[SHOT].value + much;
        !(self.distance < AT_THE_RING && look.to.is_some() && value < own)
    }

    /// Is a look open enough for its kind?
    fn is_on(&self, i: usize, late: bool) -> bool {
        let openness = self.seen[i].openness;
        match self.kind(i) {
            // Not before the lane looks open, unless time is short.
            LookKind::Drive => {
                (openness > 0.55 || late && self.now.on_ball < 0.35) && self.distance > DRIVES_FROM
            }
            LookKind::Shot => true,
            // Better to pass than to keep only if the catcher's shot beats the bar.
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut => {
                openness > 0.7 && self.now.held >= THREAT * 0.5
            }
            _ => openness > FEED_OPEN,
        }
    }
}
