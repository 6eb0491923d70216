//! Coming off a screen: the player waits for the screener, then cuts off the screen, or straight if none came.

use crate::body::Intent;
use crate::court::{Spot, Vec2};
use crate::offence::{CutLane, Movement, OffScreen};
use crate::possession::What;

use super::super::parts::*;
use super::super::rules::fill_exactly;
use super::super::screens;
use super::super::ways::{cut, cut_line, cuts_from, run};
use super::{Effects, Inputs};

/// So near to the screener's shoulder he has come to it, metres (ours).
const GONE_BY: f64 = 0.6;

/// So near to the point by which he comes out he has passed it, metres (ours).
const PASSES: f64 = 0.5;

/// The player comes out to where he waits, waits there, and cuts.
pub(super) fn step(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let &Inputs {
        clock, old, pos, ..
    } = input;
    let Task::UseScreen {
        of,
        at,
        via,
        since,
        there,
        to_a_place,
        unfed,
    } = task
    else {
        return input.stands(pos);
    };
    let comes = old.screening[*of] == Some(input.who);
    let set = comes && old.screens[*of];
    let away = (*at - pos).length() > screens::NEAR;
    *via = via.filter(|by| (*by - pos).length() > PASSES && (*by - pos).dot(*at - pos) > 0.0);
    // Nobody waits in the lane.
    let court = &input.play.cast.court;
    let steps_out = !set && court.in_lane(pos) && !court.in_lane(*at);
    if (away || steps_out) && clock.tick < *since + ticks(screens::COMES_OUT) {
        return Intent {
            target: via.unwrap_or(*at),
            arrive: via.is_none(),
            pace: if court.in_lane(pos) {
                1.0
            } else {
                screens::COMES_TO_WAIT
            },
            face: None,
        };
    }
    // A screener who comes has the time to get there from then on.
    let there = *there.get_or_insert(clock.tick);
    let from = if comes { there } else { *since };
    if set || clock.tick >= from + screens::waits(comes) {
        let unfed = Box::new(std::mem::replace(&mut **unfed, Movement::Hold));
        if set {
            let at = input.order.found_at;
            effects.signals.off_screen = Some((input.who, *of, clock.tick));
            effects.signals.now.push(Happening::ScreenUsed {
                at: at.unwrap_or_else(|| court.nearest_spot_on(pos, old.side)),
                user: input.who,
                screener: *of,
            });
        }
        if let Some(ways) = to_a_place {
            if set {
                comes_off_to_a_place(input, *of, ways, unfed, effects);
            } else {
                goes_without_it(input, *of, effects);
            }
        } else if set {
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
        ball,
        old,
        who,
        ..
    } = input;
    let line = screens::line_off(&play.cast.model.looks, old, ball, who, of);
    cuts(input, CutLane::BallSide, line, unfed, effects);
}

/// He cuts along `line`, for a screen that is set.
fn cuts(
    input: &Inputs,
    lane: CutLane,
    line: (Option<Vec2>, Vec2),
    unfed: Box<Movement>,
    effects: &mut Effects,
) {
    let court = &input.play.cast.court;
    let from = cuts_from(court, input.order.found_at, input.pos, input.old.side);
    let number = input.number();
    let ends = (from, None);
    let mut task = cut(input.clock, effects.book, number, lane, ends, line, unfed);
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
    effects.next = Some(Movement::Cut {
        lane,
        to: None,
        unfed,
    });
    effects.task = Some(Task::Stand);
}

/// The screen of team-mate `of` is set: he comes off it to his place, or cuts backdoor if he may and his defender is
/// in front of the screen already.
fn comes_off_to_a_place(
    input: &Inputs,
    of: usize,
    ways: &[OffScreen],
    unfed: Box<Movement>,
    effects: &mut Effects,
) {
    let (old, who, goal) = (input.old, input.who, input.home());
    let by = screens::shoulder(old, who, of, goal);
    if ways.contains(&OffScreen::BackCut) && screens::is_overplayed(old, who, by) {
        let looks = &input.play.cast.model.looks;
        let line = cut_line(looks, old, input.ball, who, CutLane::Behind);
        cuts(input, CutLane::Behind, line, unfed, effects);
        return;
    }
    // Round a screener who is not on the way there is no curl.
    let ahead = (old.scene.pos[of] - input.pos).dot(goal - input.pos) > 0.0;
    let ways = ways.iter().copied();
    let ways = ways.filter(|way| ahead || *way != OffScreen::Curl);
    effects.task = Some(Task::ComeOff {
        of,
        past: by - old.scene.pos[of],
        by,
        goal,
        from: input.pos,
        curls: false,
        ways: ways.collect(),
        unfed,
    });
}

/// No screen came: he goes to his place without it.
fn goes_without_it(input: &Inputs, of: usize, effects: &mut Effects) {
    let (who, of) = (input.number(), of as u8 + 1);
    effects.book.write(input.clock, What::NoScreen { who, of });
    let place = input.place;
    effects.next = place.map(|spot| fill_exactly(spot, input.old.side));
    effects.task = Some(Task::Stand);
}

/// On his way off a screen: by the screener's shoulder. Before it he fades if his defender goes under; there he curls
/// round the screener if he is chased, or goes on to his place.
pub(super) fn comes_off(input: &Inputs, task: &mut Task, effects: &mut Effects) -> Intent {
    let &Inputs { old, who, pos, .. } = input;
    let Task::ComeOff {
        of,
        past,
        by,
        goal,
        from,
        curls,
        ways,
        unfed,
    } = task
    else {
        return input.stands(pos);
    };
    if !*curls {
        // A screener who is leaned on gives a little.
        *by = old.scene.pos[*of] + *past;
        // By a shoulder to which the defender has come nobody gets: by the other one.
        if screens::is_shut(old, who, *by) {
            *by = screens::shoulder(old, who, *of, *goal);
            *past = *by - old.scene.pos[*of];
        }
    }
    let may = |way| ways.contains(&way);
    let gone_by = (*by - pos).length() < GONE_BY || (*by - pos).dot(*goal - *by) < 0.0;
    if *curls {
        let beyond = (pos - *by).dot(*by - old.scene.pos[*of]) > 0.0;
        if beyond || (*by - pos).length() < GONE_BY {
            let unfed = Box::new(std::mem::replace(&mut **unfed, Movement::Hold));
            let looks = &input.play.cast.model.looks;
            let (_, rim) = cut_line(looks, old, input.ball, who, CutLane::BallSide);
            cuts(input, CutLane::BallSide, (None, rim), unfed, effects);
        }
    } else if may(OffScreen::Fade) && screens::is_cheated_under(old, who, *of, (*by, *goal)) {
        fades(input, effects);
    } else if gone_by && may(OffScreen::Curl) && screens::is_chased(old, who, *goal) {
        // Round the screener, also where the rim is no way off.
        *curls = true;
        *by = screens::round_it(old, *of, *from);
    } else if gone_by {
        if let Some(to) = input.place {
            let who = input.number();
            effects.book.write(input.clock, What::Fills { who, to });
        }
        effects.task = Some(run(pos, &[*goal], 1.0));
    }
    Intent {
        target: *by,
        arrive: false,
        pace: 1.0,
        face: None,
    }
}

/// He fades: away from the ball, to the next place along the perimeter, if nobody holds it.
fn fades(input: &Inputs, effects: &mut Effects) {
    let court = &input.play.cast.court;
    let free = |spot: &Spot| !input.old.places.contains(&Some(*spot));
    let to = input.place.and_then(|place| {
        let away = |spot: &Spot| (court.spot(*spot) - input.ball.pos).length();
        let far = away(&place);
        let beside = place.beside().into_iter().flatten();
        let farther = beside.filter(|spot| away(spot) > far && free(spot));
        // As far on both sides: the weak side.
        let weak = |spot: &Spot| spot.side == Some(input.old.side.other());
        farther.max_by(|a, b| away(a).total_cmp(&away(b)).then(weak(a).cmp(&weak(b))))
    });
    let Some(to) = to else { return };
    let who = input.number();
    effects.book.write(input.clock, What::Fades { who, to });
    effects.holds = Some(to);
    effects.task = Some(run(input.pos, &[court.spot(to)], 1.0));
}
