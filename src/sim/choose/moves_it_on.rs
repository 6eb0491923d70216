//! The choice when no look is worth more than to go on: feed who shows inside, or move the ball on.

use crate::offence::LookKind;

use super::super::dice::Purpose;
use super::super::manner;
use super::super::sight::{cuts_to, only_moves_the_ball};
use super::in_hand::THREAT;
use super::{Judged, PRESSED_PASS, SAFE_PASS, worth};

/// A pass that is promised to a team-mate who is on the way to a place finds him no farther from it, metres (ours: two
/// steps).
const NEAR_THE_PLACE: f64 = 2.0;

/// Inside a holder looks for no longer than this before he moves the ball on, seconds (ours).
const INSIDE_HE_LOOKS: f64 = 1.4;

/// For a team-mate who is about to flash, or to cut off a screen, he waits so much longer, seconds (ours).
const WAITS_FOR_HIM: f64 = 1.5;

/// But so long from the moment at which that one was told to come, seconds (ours; a flash across the floor takes two to
/// four).
const COMES_ACROSS: f64 = 3.0;

/// And so much for who comes to screen for him (ours: from one side of the floor to the other, as for other screens).
const WAITS_FOR_A_SCREEN: f64 = 4.0;

/// A holder waits so long for the pass that he has promised, from the promise on or from when he would have moved the
/// ball on, before he passes elsewhere, seconds (ours).
const KEEPS_HIS_PROMISE: f64 = 3.0;

/// So long after he would have moved the ball on a holder asks no more of a pass than when pressed, seconds (ours).
const GETS_IMPATIENT: f64 = 1.6;

/// Closely guarded, or in the lane, for so long he is pressed, seconds (ours; the rules: five and three).
const GUARDED: f64 = 3.0;
const IN_LANE: f64 = 1.4;

/// How open a pass has to be that only moves the ball, after so many seconds in which the holder would have thrown it.
pub fn safe_after(waited: f64) -> f64 {
    let asks = (waited / GETS_IMPATIENT).clamp(0.0, 1.0);
    SAFE_PASS - (SAFE_PASS - PRESSED_PASS) * asks
}

impl Judged<'_> {
    /// A safe pass outside or to a post who shows, once he has looked for long enough.
    pub(super) fn moves_it_on(&self) -> Option<usize> {
        self.feeds_who_shows().or_else(|| self.passes_on())
    }

    /// For how long he looks this time before he moves the ball on, seconds.
    fn looks_for(&self) -> f64 {
        let now = self.now;
        let usual = now.play.scenario.offence.patience.hold;
        let inside = !now.here.name.is_perimeter();
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

    /// Is he closely guarded, or in the lane, for too long to wait for anybody?
    fn is_pressed(&self) -> bool {
        let now = self.now;
        let guarded = now.hold.guarded_since.map_or(0.0, |t| now.since(t));
        guarded > GUARDED || now.in_lane > IN_LANE
    }

    /// To whom the next pass is promised, as long as it is waited for: until then no other is thrown.
    pub(super) fn promised(&self) -> Option<usize> {
        let now = self.now;
        let (to, tick) = now.hold.promised?;
        let begins = (now.held - now.since(tick)).max(self.looks_for());
        let over = now.held > begins + KEEPS_HIS_PROMISE;
        (!over && !self.is_pressed()).then_some(to)
    }

    /// Who shows and is open is fed.
    fn feeds_who_shows(&self) -> Option<usize> {
        let now = self.now;
        if now.held < now.play.cast.model.movement.hold_shortest || now.clean() {
            return None;
        }
        let promised = self.promised();
        let shows = |i: usize| {
            let to = now.looks[i].to;
            to.is_some_and(|to| now.old.shown[usize::from(to) - 1].is_some())
        };
        self.best(|i| {
            let may = self.keeps(promised, i) && shows(i);
            self.kind(i) == LookKind::Post && may && self.seen[i].openness >= SAFE_PASS
        })
    }

    fn passes_on(&self) -> Option<usize> {
        let now = self.now;
        let looks_for = self.looks_for();
        let pressed = self.is_pressed();
        // He waits for who is about to show, unless he must not.
        let awaited = (0..5).filter(|&i| i != now.hold.by && now.old.awaited[i]);
        let told = awaited.map(|i| now.old.homes[i].told).max();
        let shows = told.is_some();
        let waits_for = if now.old.screen_comes {
            WAITS_FOR_A_SCREEN
        } else {
            WAITS_FOR_HIM
        };
        // Told to come only now, he takes his time from now on.
        let comes = told.is_some_and(|told| now.since(told) < COMES_ACROSS);
        let waits = shows && (comes || now.held < looks_for + waits_for) && !now.clean();
        // Who is about a hand-off passes only what is worth more than to go on.
        let hands = now.hold.hands.is_some();
        // A pass that is promised leaves as soon as it is safe, whatever that one is doing.
        let promised = self.promised();
        let stays = (now.held < looks_for || waits) && promised.is_none();
        if (stays || hands) && !pressed {
            return None;
        }
        // The longer he looks, the less he asks of a pass; for the one that he has promised he does not look.
        let looked = if promised.is_some() { 0.0 } else { looks_for };
        let waited = if pressed {
            GETS_IMPATIENT
        } else {
            now.held - looked
        };
        let safe = safe_after(waited);
        // As a count runs out a pass need be no surer than what is left of going on.
        let safe = safe.min(worth::counts(now));
        self.best(|i| {
            let kind = self.kind(i);
            let moves = only_moves_the_ball(kind) || shows && kind == LookKind::Post;
            let may = if promised.is_some() {
                let may = now.looks[i].to.is_some() && self.keeps(promised, i);
                may && (pressed || self.comes_to_the_place(i))
            } else {
                moves
            };
            may && self.seen[i].openness >= safe
        })
    }

    /// Does the pass find whoever is on the way to a place near it? Who comes off a screen to the wing is not fed at the
    /// block.
    fn comes_to_the_place(&self, i: usize) -> bool {
        let now = self.now;
        let look = &now.looks[i];
        let Some((to, target)) = look.to.zip(look.target) else {
            return true;
        };
        let who = usize::from(to) - 1;
        let place = cuts_to(now.old, who).map(|spot| now.play.cast.court.spot(spot));
        let stops = place.or(now.old.stops[who]);
        stops.is_none_or(|at| at.distance(target) < NEAR_THE_PLACE)
    }
}
