//! The choice when no look scores: feed who shows inside, move the ball on, and when time presses take what
//! there is.

use crate::offence::LookKind;

use super::super::dice::Purpose;
use super::super::manner;
use super::super::sight::DRIVES_FROM;
use super::in_hand::THREAT;
use super::{Judged, PRESSED_PASS, SAFE_PASS, SHOT};

/// Whoever holds the ball this near to the ring, metres, turns and shoots a shot worth this share of a
/// possession rather than throw it back out (ours; common practice: close to the rim, finish).
const UNDER_THE_RIM: f64 = 3.0;
const GOES_TO_WORK: f64 = 0.75;

/// In the lane for so long he is pressed, and for so long he takes what there is, seconds (ours; the rule: three).
const LANE_PRESSES: (f64, f64) = (1.4, 2.1);

/// Inside a holder looks for no longer than this before he moves the ball on or goes to work, and near the ring
/// takes what there is after as long as the second, seconds (ours).
const INSIDE_HE_LOOKS: f64 = 1.4;
const STUCK_UNDER_IT: f64 = 2.6;

/// For a team-mate who is about to flash, or to cut off a screen, he waits so much longer, seconds (ours).
const WAITS_FOR_HIM: f64 = 1.5;

/// So long after he would have moved the ball on a holder asks no more of a pass than when pressed, seconds (ours).
const GETS_IMPATIENT: f64 = 1.6;

/// What presses the holder to do something.
struct Pressure {
    /// For how long he looks before he moves the ball on, seconds.
    hold_for: f64,
    /// For how long he has been closely guarded, seconds.
    guarded: f64,
    /// On the clock, seconds.
    left: f64,
    /// Is he inside, and that under the rim?
    inside: bool,
    under: bool,
    /// Has he been in the lane for long?
    counts: bool,
    /// Is time short in any way?
    pressed: bool,
    /// Is a team-mate about to show?
    shows: bool,
}

impl Judged<'_> {
    /// The choice of a holder for whom no look scores, in the order of how much he would like it.
    pub(super) fn nothing_on(&self) -> Option<usize> {
        let pressure = self.pressure();
        self.feeds_who_shows()
            .or_else(|| self.moves_it_on(&pressure))
            .or_else(|| self.takes_what_there_is(&pressure))
            .or_else(|| self.puts_it_on_the_floor(&pressure))
    }

    fn pressure(&self) -> Pressure {
        let now = self.now;
        let me = now.hold.by;
        let guarded = now.hold.guarded_since.map_or(0.0, |t| now.since(t));
        let left = now.clock.left();
        let inside = !now.here.name.is_perimeter();
        let usual = now.play.scenario.offence.patience.hold;
        let counts = now.in_lane > LANE_PRESSES.0;
        Pressure {
            hold_for: self.hold_for(inside),
            guarded,
            left,
            inside,
            under: self.distance < UNDER_THE_RIM,
            counts,
            pressed: guarded > 3.2 || left < 5.0 || now.held > 3.0 * usual || counts,
            shows: (0..5).any(|i| i != me && now.old.awaited[i]),
        }
    }

    /// For how long he looks this time before he moves the ball on, seconds.
    fn hold_for(&self, inside: bool) -> f64 {
        let now = self.now;
        let usual = now.play.scenario.offence.patience.hold;
        let looks_for = if inside {
            usual.min(INSIDE_HE_LOOKS)
        } else {
            usual
        };
        let dice = &now.play.dice;
        let mut order = dice.at(Purpose::Patience, now.hold.by, now.hold.since);
        if now.clean() || inside {
            (looks_for * (0.55 + 0.9 * order.unit())).max(THREAT)
        } else {
            manner::looks_for(now.play, looks_for, &mut order)
        }
    }

    /// Who shows and is open is fed.
    fn feeds_who_shows(&self) -> Option<usize> {
        let now = self.now;
        if now.held < now.play.cast.model.movement.hold_shortest || now.clean() {
            return None;
        }
        let him = |i: usize| {
            let to = now.looks[i].to;
            to.is_some_and(|to| now.old.shown[usize::from(to) - 1].is_some())
        };
        self.best(|i| {
            self.kind(i) == LookKind::Post && him(i) && self.seen[i].openness >= SAFE_PASS
        })
    }

    /// He has looked for long enough: a safe pass outside or to a post who shows, or inside his own shot.
    fn moves_it_on(&self, pressure: &Pressure) -> Option<usize> {
        let now = self.now;
        let &Pressure {
            hold_for, shows, ..
        } = pressure;
        // He waits for who is about to show, unless he must not.
        let waits =
            shows && now.held < hold_for + WAITS_FOR_HIM && !now.clean() && pressure.left > 5.0;
        let may = now.held >= hold_for && !waits || pressure.guarded > 3.0 || pressure.counts;
        if !may {
            return None;
        }
        // The longer he looks, the less he asks of a pass.
        let waited = ((now.held - hold_for) / GETS_IMPATIENT).clamp(0.0, 1.0);
        let safe = if pressure.pressed { 1.0 } else { waited };
        let safe = SAFE_PASS - (SAFE_PASS - PRESSED_PASS) * safe;
        let level = self.bars.rim;
        let own = if pressure.under {
            GOES_TO_WORK * level
        } else {
            level
        };
        // Under the rim with one defender: go to work.
        let shot = self.seen[SHOT];
        if pressure.under && shot.counts && shot.value >= own {
            return Some(SHOT);
        }
        self.best(|i| match self.kind(i) {
            LookKind::NextPass | LookKind::KickOut | LookKind::Skip => {
                self.seen[i].openness >= safe
            }
            LookKind::Post => shows && self.seen[i].openness >= safe,
            LookKind::Shot => pressure.inside && self.seen[i].value >= own,
            _ => false,
        })
    }

    /// No time is left: anything that is worth a little.
    fn takes_what_there_is(&self, pressure: &Pressure) -> Option<usize> {
        let now = self.now;
        let stuck = pressure.under && !now.clean() && now.held > STUCK_UNDER_IT;
        let desperate =
            pressure.guarded > 4.0 || pressure.left < 2.5 || now.in_lane > LANE_PRESSES.1 || stuck;
        if !desperate {
            return None;
        }
        self.best(|i| now.looks[i].value > 0.25)
    }

    /// Nothing to pass to: put it on the floor rather than stand with it. He need only get past his own man to
    /// draw the help.
    fn puts_it_on_the_floor(&self, pressure: &Pressure) -> Option<usize> {
        let now = self.now;
        let usual = now.play.scenario.offence.patience.hold;
        let long = now.held > 2.2 * usual && pressure.pressed || now.held > 3.6;
        if (long || pressure.left < 9.0) && self.distance > DRIVES_FROM {
            return self.best(|i| self.kind(i) == LookKind::Drive && now.on_ball < 0.5);
        }
        None
    }
}
