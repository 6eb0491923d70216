//! A cut to the rim, or to a place: at full speed, round a body if need be, and on when no pass comes.

use crate::body::Intent;
use crate::court::{Spot, Vec2};
use crate::offence::Movement;
use crate::possession::What;

use super::super::ball_screen;
use super::super::manner;
use super::super::parts::*;
use super::super::steering;
use super::{Effects, Inputs};

/// A cutter does not brake for his lay-up spot as for a place to stand: he would come to rest this
/// far behind it, metres (ours).
const CUTS_THROUGH: f64 = 1.0;
/// Unless he is to turn back to his own side (ours).
const TURNS_IN: f64 = 0.2;
/// Who runs away from that spot no farther than the first from it has been there, metres, or than the second as near
/// as that to the ring (ours).
const GONE_BY: (f64, f64) = (2.0, 3.2);
const AT_THE_RIM: f64 = 2.4;
/// Who cuts to a place shows from this near to it on, metres; and where he can get no farther, within the first of
/// these, metres, and slower than the second, m/s (ours).
const SHOWS: f64 = 1.0;
const HELD_UP: (f64, f64) = (2.0, 0.4);

/// The cutter runs to the end of his cut, shows there for a moment, and goes on if he is not fed.
pub(super) fn step(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let pos = input.pos;
    let Task::Cut {
        via,
        goal,
        unfed,
        reached,
        from,
        to,
        off_a_screen,
        ..
    } = task
    else {
        return input.stands(pos);
    };
    if via.is_some_and(|v| has_gone_by(pos, v, *goal)) {
        *via = None;
    }
    let target = via.unwrap_or(*goal);
    let ends = match to {
        // Off a screen he first goes by it, be the rim as near.
        None if *off_a_screen && via.is_some() => gives_way(input),
        None => is_at_the_end(input, *via, *goal),
        Some(_) => is_at_the_place(input, *via, *goal),
    };
    if reached.is_none() && ends {
        *reached = Some(input.clock.tick);
    }
    if let Some(t) = *reached {
        // Show for the ball at the rim for a moment, then go on.
        if input.clock.tick >= t + manner::shows_for(input.play, input.order.told, input.who) {
            goes_on_unfed(input, (*from, *to), unfed, effects);
        }
    }
    let target = if via.is_none() && reached.is_none() && to.is_none() {
        runs_through(pos, *goal, unfed)
    } else {
        target
    };
    Intent {
        target,
        arrive: via.is_none(),
        pace: pace(input, *via, *goal),
        face: reached.is_some().then(|| input.to_ball()),
    }
}

/// Has he come to the point `via` of his way, or past it?
fn has_gone_by(pos: Vec2, via: Vec2, goal: Vec2) -> bool {
    let past = (via - pos).dot(goal - via) < 0.0;
    (via - pos).length() < 0.7 || past
}

/// Is the cut over: near its end, gone by it, or in the way of a driver?
fn is_at_the_end(input: &Inputs, via: Option<Vec2>, goal: Vec2) -> bool {
    let &Inputs { play, pos, .. } = input;
    let off = goal - pos;
    let by = if pos.length() < AT_THE_RIM {
        GONE_BY.1
    } else {
        GONE_BY.0
    };
    let gone_by = off.dot(input.vel) < 0.0 && off.length() < by && via.is_none();
    let ends = play.cast.model.movement.cut_end_distance;
    off.length() < ends || gone_by || gives_way(input)
}

/// Is a cut to a place over: there, held up near it, or in the way of a driver?
fn is_at_the_place(input: &Inputs, via: Option<Vec2>, goal: Vec2) -> bool {
    let off = (goal - input.pos).length();
    let held_up = via.is_none() && off < HELD_UP.0 && input.vel.length() < HELD_UP.1;
    off < SHOWS || held_up || gives_way(input)
}

/// Is the cutter in the way of a driver?
fn gives_way(input: &Inputs) -> bool {
    let play = input.play;
    let rolls = ball_screen::rolls(input.ball, input.who);
    let driver = driver(input.ball).filter(|_| !play.scenario.drill.clean && !rolls);
    driver.is_some_and(|d| steering::meets(&input.old.scene, input.who, d))
}

/// No pass came: he goes on with the movement that his cut ends with.
fn goes_on_unfed(
    input: &Inputs,
    (from, ended): (Spot, Option<Spot>),
    unfed: &mut Movement,
    effects: &mut Effects,
) {
    let movement = std::mem::replace(unfed, Movement::Hold);
    let who = input.who;
    effects.signals.now.push(Happening::Unfed {
        from,
        to: ended,
        who,
    });
    // To wait for a screen he goes out to the place by which the rule found him, not yet to where he comes off it.
    let waits = matches!(movement, Movement::UseScreen { .. });
    let goes_to = input.order.found_at.filter(|_| waits).or(input.place);
    effects.next = Some(movement);
    effects.task = Some(Task::Stand);
    if let Some(to) = goes_to.filter(|_| goes_to != ended) {
        let who = input.number();
        effects.book.write(input.clock, What::Unfed { who, to });
    }
}

/// At full speed until he has to gather himself for a lay-up or for the way out: he aims beyond the end.
fn runs_through(pos: Vec2, goal: Vec2, unfed: &Movement) -> Vec2 {
    let off = goal - pos;
    let turns = matches!(unfed, Movement::CircleOut(_));
    let through = if turns { TURNS_IN } else { CUTS_THROUGH };
    goal + off * (through / off.length().max(through))
}

/// The share of the top speed: round a screener's shoulder or another body (`turns_at`) no faster than one can turn there.
fn pace(input: &Inputs, turns_at: Option<Vec2>, goal: Vec2) -> f64 {
    let limits = &input.play.cast.players[input.who].limits;
    let pace = manner::pace_of_cut(input.play, input.order.told, input.who);
    turns_at.map_or(pace, |by| {
        pace.min(steering::curls(limits, input.pos, by, goal))
    })
}
