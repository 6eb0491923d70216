//! An attacker in place: small shifts of the feet, a step toward the ball while the pass is shut, and
//! the start of getting open when it stays shut.

use crate::body::Intent;
use crate::court::{Side, Vec2};
use crate::possession::What;

use super::super::dice::Purpose;
use super::super::feet::{shorten, sway, takes_him_in};
use super::super::manner;
use super::super::parts::*;
use super::{Effects, Inputs};

/// A player on the perimeter to whom the pass has been shut for this long, seconds, works to get open, at most
/// this often, seconds (common practice). Not all go at once: it takes him as
/// long again for each so many metres that he is from the ball, and this share more on the weak side.
const SHUT_FOR: f64 = 0.4;
const LATER_BY: f64 = 18.0;
const WEAK_SIDE_WAITS: f64 = 0.4;
const WORKS_EVERY: f64 = 2.6;
/// Shares of that time, and of the usual way in: the least, and what chance adds (ours).
const WAITS: (f64, f64) = (0.7, 1.3);
const GOES_IN: (f64, f64) = (0.55, 0.8);

/// The player stands in his place, and begins to get open when the pass to him stays shut.
pub(super) fn step(input: &Inputs, effects: &mut Effects) -> Intent {
    let &Inputs {
        play, who, order, ..
    } = input;
    let before = &input.old.homes[who];
    let home = if manner::waits_at_home(before, &order, input.has_next) {
        before.at
    } else {
        input.place.map_or(input.pos, |s| {
            manner::home_of(play, input.old, who, order.told, s)
        })
    };
    let outside = input.place.is_some_and(|s| s.name.is_perimeter());
    let at = stands_at(input, home, outside, effects.signals);
    let works = outside && works_to_get_open(input, home, effects.signals);
    if let Some(turn) = takes_him_in(&play.cast, input.old, who).filter(|_| works) {
        gets_open(input, turn, effects);
    }
    input.stands(at)
}

/// Where he stands: at home, nearer to the ball while the pass is shut, and a small shift off that. Far from
/// home he stays where he is.
fn stands_at(input: &Inputs, home: Vec2, outside: bool, signals: &mut Signals) -> Vec2 {
    let &Inputs { play, who, .. } = input;
    let footwork = &play.cast.model.footwork;
    let mut at = home;
    if signals.shut[who] > 0 && !input.order.holds {
        at = shorten(footwork, at, input.ball.pos);
    }
    if (at - input.pos).length() > 2.5 {
        at = input.pos;
    } else if !play.scenario.drill.clean {
        let by = if outside {
            footwork.sway_outside
        } else {
            footwork.sway_inside
        };
        at += sway(play, input.clock, who, by, &mut signals.feet[who]);
    }
    at
}

/// Has the pass to him been shut for so long that he works to get open?
fn works_to_get_open(input: &Inputs, home: Vec2, signals: &Signals) -> bool {
    let &Inputs {
        clock,
        ball,
        who,
        pos,
        ..
    } = input;
    !input.play.scenario.drill.clean
        && !input.has_next
        && !input.order.holds
        && driver(ball).is_none()
        && signals.shut[who] >= ticks(SHUT_FOR * later(ball, pos))
        && signals.worked[who].is_none_or(|t| clock.tick >= t + ticks(waits(input, t)))
        && (home - pos).length() < 1.5
}

/// For how long who worked to get open at that tick waits before the next time, seconds: never the same twice.
fn waits(input: &Inputs, tick: u32) -> f64 {
    let mut dice = input.play.dice.at(Purpose::GetsOpen, input.who, tick);
    WORKS_EVERY * (WAITS.0 + WAITS.1 * dice.unit())
}

/// How much longer than the nearest a player waits before he works to get open.
fn later(ball: &Ball, pos: Vec2) -> f64 {
    let weak = Side::of(pos.x, ball.side) != ball.side;
    1.0 + (ball.pos - pos).length() / LATER_BY + if weak { WEAK_SIDE_WAITS } else { 0.0 }
}

/// From now on he gets open: in as far as `turn`, then back out.
fn gets_open(input: &Inputs, turn: Vec2, effects: &mut Effects) {
    let clock = input.clock;
    effects.signals.worked[input.who] = Some(clock.tick);
    let who = input.number();
    let mut dice = input.play.dice.at(Purpose::GetsOpen, input.who, clock.tick);
    let far = GOES_IN.0 + GOES_IN.1 * dice.unit();
    effects.book.write(clock, What::GetsOpen { who });
    effects.task = Some(Task::GetOpen {
        turn: input.pos + (turn - input.pos) * far,
        out: false,
        until: clock.tick + ticks(1.4),
    });
}
