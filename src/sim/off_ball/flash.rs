//! A flash or a seal: the player shows at a spot inside for a while, then goes home.

use crate::body::Intent;
use crate::possession::What;

use super::super::parts::*;
use super::super::steering;
use super::super::ways::run;
use super::{Effects, Inputs};

/// Who flashes shows from this near to his spot on, metres.
const SHOWS: f64 = 1.0;
/// Who is this near to the spot where he is to show need not go round anybody, metres (ours).
const IS_THERE: f64 = 0.7;

/// The player runs to the spot, shows there for his time, and runs home.
pub(super) fn step(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let &Inputs {
        clock, who, pos, ..
    } = input;
    let Task::Flash {
        at,
        goal,
        arrived,
        ticks: stay,
        seal,
    } = task
    else {
        return input.stands(pos);
    };
    let there = (*goal - pos).length() < IS_THERE;
    let goal = if arrived.is_some() || there || input.play.scenario.drill.passive {
        *goal
    } else {
        steering::shows_at(&input.old.scene, who, *goal, input.ball.pos)
    };
    if arrived.is_none() && (goal - pos).length() < SHOWS {
        *arrived = Some(clock.tick);
        let (who, at) = (input.number(), *at);
        let what = if *seal {
            What::Seals { who, at }
        } else {
            What::Flashes { who, to: at }
        };
        effects.book.write(clock, what);
    }
    // Every new holder has the time to feed a player who shows; none, while the ball is on its way to one.
    let shows_since = input.ball.hold().map(|hold| hold.since);
    if let (Some(t), Some(since)) = (arrived.as_mut(), shows_since) {
        *t = since.max(*t);
    }
    if shows_since.is_some() && arrived.is_some_and(|t| clock.tick >= t + *stay) {
        let court = &input.play.cast.court;
        let home = input.place.map_or(goal, |s| court.spot(s));
        effects.showed = Some(*at);
        effects.task = Some(run(pos, &[home], 0.7));
    }
    Intent {
        target: goal,
        arrive: true,
        pace: 1.0,
        face: ((goal - pos).length() < 1.3).then(|| input.to_ball()),
    }
}
