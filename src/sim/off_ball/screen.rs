//! Setting a screen: the screener runs to his team-mate's defender, stands there, and goes on when it is over.

use crate::body::Intent;
use crate::defence::BallScreens;
use crate::offence::Movement;
use crate::possession::What;

use super::super::parts::*;
use super::super::screens::guard_of;
use super::super::sight::holder_spot;
use super::super::ways::lane_side;
use super::super::{ball_screen, screens};
use super::{Effects, Inputs};

/// The screener runs to where the screen is needed, or stands as a set screen.
pub(super) fn step(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let &Inputs {
        clock,
        old,
        who,
        pos,
        ..
    } = input;
    let Task::Screen {
        whom,
        until,
        set,
        on_ball,
        awaited,
        steps_out,
        after,
    } = task
    else {
        return input.stands(pos);
    };
    let court = &input.play.cast.court;
    *steps_out &= court.in_lane(pos);
    let mate = old.scene.pos[*whom];
    let there = if *steps_out {
        false
    } else if *on_ball {
        ball_screen::there(old, who, *whom)
    } else {
        screens::there(old, who, *whom)
    };
    // Whose defender shows early slips to the rim before the contact (common practice), if he was to roll.
    let rolls = matches!(**after, Movement::Cut { to: None, .. });
    let shows_early = input.play.scenario.defence.meets_ball_screens() == BallScreens::ShowEarly;
    if set.is_none() && *on_ball && rolls && shows_early && ball_screen::is_left(old, who, *whom) {
        let (number, on) = (input.number(), guard_of(old, who) as u8 - 4);
        effects.book.write(clock, What::Slips { who: number, on });
        goes_on(input, after, effects);
        return input.stands(pos);
    }
    if set.is_none() && there {
        *set = Some(clock.tick);
        let (number, on) = (input.number(), *whom as u8 + 1);
        effects.book.write(clock, What::Screens { who: number, on });
        let held = old.waits_from[*whom].or(old.places[*whom]);
        let has_it = || holder_spot(input.play, old, *whom);
        let at = held.filter(|_| !*on_ball).unwrap_or_else(has_it);
        effects.signals.now.push(Happening::ScreenSet {
            at,
            user: *whom,
            screener: who,
        });
    }
    // The time to get there runs from when the user has come to where he waits.
    if set.is_none() && !*on_ball && !screens::is_out(old, *whom) {
        *until = clock.tick + ticks(screens::RUNS);
    }
    // Whom he was to screen for does not wait for it any more: it is off.
    let waits = old.waits[*whom].is_some();
    *awaited |= waits;
    let off = *awaited && !waits && set.is_none();
    effects.user_gone = off;
    let over = match *set {
        None if off => true,
        None if *on_ball && ball_screen::has_gone_on(input.ball, *whom) => true,
        None => clock.tick >= *until,
        Some(t) if *on_ball => ball_screen::is_over(input.ball, who, *whom, clock.tick - t),
        Some(t) => screens::stands_no_more(old, *whom, clock.tick - t),
    };
    if over {
        goes_on(input, after, effects);
    }
    effects.stands_firm = set.is_some();
    let comes = !*on_ball && !*steps_out;
    let stops = set.is_some() || comes && screens::reaches(old, who, *whom);
    let (target, pace) = if stops {
        (pos, 0.0)
    } else if *steps_out {
        (lane_side(&old.scene, who, mate, court), 1.0)
    } else if *on_ball {
        (ball_screen::makes_for(old, who, *whom), 0.9)
    } else {
        (
            screens::makes_for(court, old, input.ball.pos, who, *whom),
            0.9,
        )
    };
    Intent {
        target,
        arrive: true,
        pace,
        face: Some(mate - pos),
    }
}

/// His screen is over: he goes on with what comes after it.
fn goes_on(input: &Inputs, after: &mut Movement, effects: &mut Effects) {
    let after = std::mem::replace(after, Movement::Hold);
    let account = effects.book.witness.orders.as_mut();
    if let Some(account) = account.filter(|_| !input.sent_on) {
        account.goes_on(input.who, input.clock.seconds(), (&after, input.place));
    }
    effects.next = Some(after);
    effects.task = Some(Task::Stand);
}
