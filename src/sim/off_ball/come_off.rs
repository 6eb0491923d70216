//! Coming off a screen: the player waits for the screener, then cuts off the screen, or straight if none came.

use crate::body::Intent;
use crate::offence::{CutLane, Movement};
use crate::possession::What;

use super::super::parts::*;
use super::super::screens;
use super::super::ways::{cut, cuts_from};
use super::{Effects, Inputs};

/// The player comes out to where he waits, waits there, and cuts.
pub(super) fn step(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let &Inputs {
        clock, old, pos, ..
    } = input;
    let Task::UseScreen {
        of,
        at,
        since,
        unfed,
    } = task
    else {
        return input.stands(pos);
    };
    let comes = old.screening[*of] == Some(input.who);
    let set = comes && old.screens[*of];
    let away = (*at - pos).length() > screens::NEAR;
    if away && clock.tick < *since + ticks(screens::COMES_OUT) {
        return Intent {
            target: *at,
            arrive: true,
            pace: 0.9,
            face: None,
        };
    }
    if set || clock.tick >= *since + screens::waits(comes) {
        let unfed = Box::new(std::mem::replace(&mut **unfed, Movement::Hold));
        if set {
            cuts_off_the_screen(input, *of, unfed, effects);
        } else {
            cuts_without_it(input, *of, unfed, effects);
        }
    }
    // A body that leans on him does not move him on: in the lane three seconds would run.
    input.stands(*at)
}

/// The screen of team-mate `of` is set: he cuts past that one's shoulder.
fn cuts_off_the_screen(input: &Inputs, of: usize, unfed: Box<Movement>, effects: &mut Effects) {
    let &Inputs {
        play,
        clock,
        ball,
        old,
        who,
        ..
    } = input;
    let from = cuts_from(&play.cast.court, input.order.found_at, input.pos, old.side);
    let line = screens::line_off(&play.cast.model.looks, old, ball, who, of);
    let (number, lane) = (input.number(), CutLane::BallSide);
    let mut task = cut(clock, effects.book, number, lane, from, line, unfed);
    if let Task::Cut { off_a_screen, .. } = &mut task {
        *off_a_screen = true;
    }
    effects.task = Some(task);
}

/// He has waited long enough for team-mate `of`: he cuts straight.
fn cuts_without_it(input: &Inputs, of: usize, unfed: Box<Movement>, effects: &mut Effects) {
    let (who, of) = (input.number(), of as u8 + 1);
    effects.book.write(input.clock, What::NoScreen { who, of });
    let lane = CutLane::BallSide;
    effects.next = Some(Movement::Cut { lane, unfed });
    effects.task = Some(Task::Stand);
}
