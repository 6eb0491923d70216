//! How good a look must be now, points: what the team usually scores, what patience asks on top, and less as
//! the clock runs down.

use crate::offence::LookKind;
use crate::possession::TICK;

use super::super::parts::*;
use super::Decision;

/// With the nearest defender as far as the first, metres, an open shot is taken sooner; as far as the second
/// no patience but this share is left (ours; common practice: unguarded, shoot).
const LEFT_OPEN: (f64, f64) = (2.8, 4.2);
const STILL_PATIENT: f64 = 0.2;

/// What a look has to be worth, points.
pub(super) struct Bars {
    /// A look at the rim.
    pub rim: f64,
    /// A pass that only moves the ball.
    outside: f64,
    /// The holder's own shot.
    own_shot: f64,
}

impl Bars {
    pub(super) fn of(now: &Decision) -> Bars {
        let &Decision {
            play, clock, old, ..
        } = now;
        let choosy = play.scenario.offence.patience.choosy;
        let pos = old.scene.pos[now.hold.by];
        let room = old.scene.nearest_defender(pos).0;
        let left_open = ((room - LEFT_OPEN.0) / (LEFT_OPEN.1 - LEFT_OPEN.0)).clamp(0.0, 1.0);
        let rim = bar(play, clock, 0.0);
        let patience = choosy * (1.0 - (1.0 - STILL_PATIENT) * left_open);
        let outside_now = pos.length() > 3.0;
        Bars {
            rim,
            outside: bar(play, clock, choosy),
            own_shot: if outside_now {
                bar(play, clock, patience)
            } else {
                rim
            },
        }
    }

    /// The bar for a kind of look.
    pub(super) fn for_a(&self, kind: LookKind) -> f64 {
        match kind {
            LookKind::Shot => self.own_shot,
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut => self.outside,
            _ => self.rim,
        }
    }
}

/// How good a look must be now, points.
///
/// A look at the rim has to beat the team's usual possession; a shot from outside also what patience
/// (`choosy`, points) asks early on (ours).
fn bar(play: &Play, clock: &Clock, choosy: f64) -> f64 {
    let left = clock.left();
    let early = (left / (f64::from(clock.limit) * TICK)).clamp(0.0, 1.0);
    let press = (left / 7.0).clamp(0.05, 1.0);
    (play.usual + choosy * early) * press
}
