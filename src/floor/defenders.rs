//! Defenders: relation to the ball, then duty, then a station, then a step toward it.
//!
//! A defender keeps up with his man: the velocity that he wishes is that of his station (as far as
//! he sees his man move) and as much more as closes the gap to it, never more than he could brake
//! away before he gets there. He puts no more power into it than the change of velocity asks for.
//!
//! A defender who would have to help moves half-way in as soon as they see the drive.

use bevy_ecs::prelude::*;

use crate::body::{Body, Intent, Limits, speed_limit};
use crate::court::Vec2;
use crate::defence::{Duty, Gaze, Relation, Stance, Switch};
use crate::model::Movement;
use crate::possession::{Ballwork, TICK};

use super::eyes::Outside;
use super::hands::{goes_for_a_loose_ball, goes_for_it};
use super::hurry::{Hurry, manner, no_faster_than_need_be, past_the_small};
use super::on_the_run::{LETS_HIM_BY, beside, cut_off, going_in, out_of_his_way, under_control};
use super::parts::*;
use super::{help, zone};

/// Faster than this share of his shuffle a defender turns and runs (common practice: "slide if you
/// can, run if you must").
const TURNS_FROM: f64 = 0.8;
/// Least share of his power that he puts into a small correction, and the change of velocity, m/s,
/// that asks for all of it (ours: a defender's velocity relaxes over about a second, Cervone et al.,
/// EPV demo output).
const EASY: f64 = 0.3;
const ALL_OF_IT: f64 = 3.0;
/// The least share on the ball and in denial.
const CLOSE_WORK: f64 = 0.65;
/// How far ahead of what he sees a defender plans for his man, seconds (ours).
const ANTICIPATES: f64 = 0.12;
/// This much farther from the rim than his man he is on the wrong side of him and hurries, metres (ours).
const WRONG_SIDE: f64 = 0.4;
/// Whoever would have to help goes this share of the way to this far in front of the ring while the drive
/// is still with its own defender, metres (common practice: "be early").
const SHADES: f64 = 0.5;
const SHADES_TO: f64 = 1.5;
/// How much more than an attacker a defender off the ball gives way in a walk-through.
const GIVES_WAY: f64 = 20.0;
/// In a walk-through a defender stands still while anybody cuts within this distance, metres.
const MAKES_WAY: f64 = 3.5;
/// Nearer to the rim than this a cutter's defender brings himself under control, the slower the nearer his
/// man is to it, and whoever shades to a drive does not go out with his man, metres (ours: the way to brake
/// from a sprint).
pub(super) const AT_THE_RIM: f64 = 4.0;
/// A defender off the ball stays in front of the board: within this of the middle, at least so far
/// up the floor from the ring, metres (ours).
const BOARD: f64 = 1.8;
const IN_FRONT: f64 = 0.3;
/// Over so short a time he takes his man's motion for straight, seconds (ours).
const SOON: f64 = 0.1;
/// Share of his braking power that he plans with.
const BRAKES: f64 = 0.7;
/// What he saw of his man's speed is worth nothing after this time, seconds (ours).
const FORGETS: f64 = 0.5;
/// A passing-lane defender may be this much farther from the rim than his man, metres; nobody else
/// is at all (common practice).
const UP_THE_LANE: f64 = 0.3;

pub(super) fn unit(v: Vec2) -> Vec2 {
    let n = v.length();
    if n > 1e-9 { v / n } else { Vec2::new(0.0, 1.0) }
}

/// The stance of defender `d` for a relation, his own habit before the model's.
pub fn stance_of(play: &Play, d: usize, relation: Relation) -> Stance {
    let defence = &play.scenario.defence;
    defence
        .overrides
        .iter()
        .filter(|o| usize::from(o.defender) == d + 1)
        .find_map(|o| o.of(relation))
        .copied()
        .unwrap_or(*defence.stances.of(relation))
}

/// Where a stance puts a defender whose man is at `man`, with the ball at `ball`: never farther from
/// the rim than his man, but for an arm's length in the passing lane.
pub fn station(stance: &Stance, man: Vec2, ball: Vec2) -> Vec2 {
    let sum = (stance.man + stance.ball + stance.rim).max(1e-9);
    let mut p = (man * stance.man + ball * stance.ball) / sum;
    p.x *= 1.0 - stance.midline;
    let off = p - man;
    let gap = off.length();
    if gap > 1e-6 {
        let kept = gap.clamp(stance.gap.0, stance.gap.1);
        p = man + off * (kept / gap);
    } else {
        p = man - man / man.length().max(1e-6) * stance.gap.0;
    }
    let most = man.length() + if stance.deny { UP_THE_LANE } else { 0.0 };
    let far = p.length();
    if far > most { p * (most / far) } else { p }
}

/// The relation of an attacker to the ball.
pub fn relation_of(old: &Old, ball: &Ball, man: usize) -> Relation {
    if ball.man() == man {
        return Relation::OnBall;
    }
    match old.doing[man] {
        Doing::Cutting { .. } => Relation::Cutter,
        Doing::Inside | Doing::DropOff => {
            let x = old.scene.pos[man].x * ball.side.sign();
            if x > -0.6 {
                Relation::PostBallSide
            } else {
                Relation::PostWeakSide
            }
        }
        Doing::Outside => match old.away[man] {
            Some(1) => Relation::OnePass,
            _ => Relation::TwoPasses,
        },
    }
}

/// Each defender's duty and step in this tick.
pub fn defenders_guard(
    floor: ResMut<Floor>,
    mut defenders: Query<(&Defender, &Form, &mut Will, &mut Guard, &Eyes)>,
) {
    let Floor {
        play,
        clock,
        ball,
        old,
        book,
        ..
    } = floor.into_inner();
    let five = defenders.iter_mut();
    let five = five.map(|(n, form, will, guard, eyes)| {
        (n.0, (form, will.into_inner(), guard.into_inner(), eyes))
    });
    let Some(mut five) = by_number(five) else {
        return;
    };
    let passive = play.scenario.drill.passive;
    let driver = ball
        .hold()
        .filter(|h| h.work == Ballwork::Driving)
        .map(|h| h.by);
    if !passive {
        help::call_for_help(play, clock, ball, old, driver, &mut five, book);
    }
    let areas = play.scenario.defence.zone.as_deref();
    let model = &play.cast.model.movement;
    let outside = Outside::of(&play.cast);
    for d in 0..5 {
        let (form, will, guard, eyes) = &mut five[d];
        let body = &form.0;
        let limits = &play.cast.players[5 + d].limits;
        let loose = goes_for_a_loose_ball(play, clock, ball, old, d, eyes.sees_ball);
        if let Some(point) = loose.filter(|_| !passive) {
            goes_after(model, will, point, ball.pos - body.pos);
            continue;
        }
        let mut man = seen_man(clock, eyes, limits, outside);
        let mut ball_seen = if guard.relation == Relation::OnBall {
            man.at
        } else {
            eyes.ball.pos
        };
        if let Some(areas) = areas
            && let Some((place, picked)) = zone::area(areas, d, old, ball, ball_seen)
        {
            let Some(picked) = picked else {
                guard.relation = Relation::TwoPasses;
                set_duty(guard, Duty::Area, clock);
                guard.station = place;
                let still = Vec2::ZERO;
                keep_up(
                    will,
                    body,
                    limits,
                    place,
                    still,
                    model.close_rate_easy,
                    ball_seen - body.pos,
                );
                will.manner = manner(model, Hurry::AtEase, Relation::TwoPasses, false);
                continue;
            };
            guard.man = picked;
            man = seen_man(clock, eyes, limits, outside);
        }
        let relation = relation_of(old, ball, guard.man);
        // That a pass has left, or that his man cuts, he knows once he has had time to see it.
        if relation == guard.relation {
            guard.news = None;
        } else {
            let since = *guard.news.get_or_insert(clock.tick);
            // A pass is no surprise: the arms of the passer have told of it.
            let flies =
                relation == Relation::OnBall && matches!(ball.state, BallState::Flying { .. });
            let knows = limits.reaction
                + if flies {
                    0.0
                } else {
                    play.cast.model.perception.fake_delay
                };
            if passive || clock.tick >= since + ticks(knows) {
                // A pass to his man: he has to get there.
                guard.closing = relation == Relation::OnBall && (man.at - body.pos).length() > 2.2;
                guard.relation = relation;
                guard.news = None;
            }
        }
        let relation = guard.relation;
        let stance = stance_of(play, d, relation);
        if relation == Relation::OnBall {
            ball_seen = man.at;
        }
        let comes = if relation == Relation::OnBall {
            man.vel
        } else {
            outside.slows(man.at, man.vel)
        };
        let planned = man.at + comes * ANTICIPATES;
        let mut target = station(&stance, planned, ball_seen);
        let mut pace = 1.0;
        let mut hurry = Hurry::AtEase;
        let mut closes = if stance.deny || relation == Relation::OnBall {
            model.close_rate_near
        } else {
            model.close_rate_easy
        };
        // As his man moves, so does his place.
        let soon = station(&stance, planned + comes * SOON, ball_seen);
        let mut goes = (soon - target) / SOON;
        let mut face = match stance.gaze {
            Gaze::Ball => ball_seen - body.pos,
            Gaze::Man => man.at - body.pos,
            Gaze::Both => unit(ball_seen - body.pos) + unit(man.at - body.pos),
        };
        let mut duty = match relation {
            Relation::OnBall => Duty::OnBall,
            Relation::OnePass if stance.deny => Duty::Denying,
            Relation::OnePass => Duty::Gap,
            Relation::TwoPasses => Duty::HelpLine,
            Relation::PostBallSide | Relation::PostWeakSide => Duty::Post,
            Relation::Cutter => Duty::Trailing,
        };
        if body.pos.length() > man.at.length() + WRONG_SIDE {
            hurry = Hurry::Urgent;
        }
        if relation == Relation::OnBall && !passive {
            // Off a holder as far as the stance says, but no farther than a step: he could shoot.
            let off = target - man.at;
            target = man.at + off * (model.holder_gap / off.length().max(model.holder_gap));
        }
        match relation {
            Relation::OnBall => {
                face = man.at - body.pos;
                if driver == Some(guard.man) {
                    goes = man.vel;
                    target = cut_off(body.pos, man.at, man.vel, limits.top_speed);
                    hurry = Hurry::Urgent;
                } else if guard.closing {
                    // Under control to where the stance is, not inside it: no run past the place and back.
                    let gap = (man.at - body.pos).length();
                    let stands = (target - man.at).length().min(model.closeout_gap);
                    let stands = stands.max(play.scenario.defence.closeout.short);
                    if gap < stands + model.closeout_over {
                        guard.closing = false;
                    }
                    let off = body.pos - man.at;
                    target = man.at + unit(unit(off) + unit(-man.at)) * stands;
                    goes = man.vel;
                    pace = play.scenario.defence.closeout.pace;
                    duty = Duty::Recovering;
                    hurry = Hurry::ClosesOut;
                    closes = model.closeout_rate;
                }
            }
            Relation::Cutter => {
                hurry = Hurry::Urgent;
                // Nobody runs through the rim: he too slows down there.
                goes *= under_control(man.at);
            }
            _ => {}
        }
        if !passive {
            if guard.helping {
                duty = Duty::LowHelp;
                let depth = play.scenario.defence.help.depth;
                target = ball.pos * (depth / ball.pos.length().max(depth));
                goes = Vec2::ZERO;
                face = ball.pos - body.pos;
                hurry = Hurry::Urgent;
            } else if let Some(other) = guard.rotated {
                duty = Duty::Rotating;
                target = old.scene.pos[other] * 0.75 + ball_seen * 0.1;
                goes = Vec2::ZERO;
                hurry = Hurry::Urgent;
            } else if let (Some(by), Relation::OnePass) = (driver, relation) {
                let stunt = play.scenario.defence.help.stunt;
                let to_driver = old.scene.pos[by] - target;
                if stunt > 0.0 && to_driver.length() < 4.5 {
                    target += unit(to_driver) * stunt;
                }
            }
        }
        if guard.shades && !guard.helping && guard.rotated.is_none() {
            let meet = old.scene.pos[driver.unwrap_or(guard.man)];
            let meet = meet * (SHADES_TO / meet.length().max(SHADES_TO));
            if body.pos.length() < target.length().min(AT_THE_RIM) {
                // His man goes out from under the rim: he does not run out of the drive's way with him.
                target = body.pos;
                goes = Vec2::ZERO;
            }
            target += (meet - target) * SHADES;
            goes *= 1.0 - SHADES;
            hurry = Hurry::Urgent;
        }
        let cut_near_by = |who: usize| {
            matches!(old.doing[who], Doing::Cutting { arrived: false, .. })
                && (old.scene.pos[who] - body.pos).length() < MAKES_WAY
        };
        if guard.trigger.is_some() && !guard.helping && !guard.shades {
            // He sees the drive come and does not run away from it.
            target = body.pos;
            goes = Vec2::ZERO;
        }
        if passive && (relation == Relation::Cutter || (0..5).any(cut_near_by)) {
            // In a walk-through nobody gets in a cutter's way.
            target = body.pos;
            goes = Vec2::ZERO;
        }
        if !passive
            && !matches!(duty, Duty::OnBall | Duty::LowHelp | Duty::Rotating)
            && let Some((side, with_him)) = beside(target, man.at, man.vel, ball_seen, play.hand)
        {
            target = side;
            goes = with_him;
        }
        if relation != Relation::OnBall && target.x.abs() < BOARD && target.y < IN_FRONT {
            // Not behind the board after a man who goes out there.
            target.y = IN_FRONT;
            goes.y = goes.y.max(0.0);
        }
        // Who cuts off a screen has lost him for a moment.
        let cuts = matches!(old.doing[guard.man], Doing::Cutting { arrived: false, .. })
            && !old.awaited[guard.man];
        let lets_by = !passive
            && !cuts
            && !matches!(duty, Duty::OnBall | Duty::LowHelp | Duty::Rotating)
            && !going_in(man.at, man.vel);
        if lets_by && let Some(aside) = out_of_his_way(body.pos, man.at, man.vel) {
            target = aside;
            goes = Vec2::ZERO;
        }
        set_duty(guard, duty, clock);
        guard.station = target;
        let at_ease = hurry == Hurry::AtEase && !passive && !lets_by;
        if hurry == Hurry::Urgent {
            closes = model.close_rate_urgent;
        }
        if at_ease {
            target = past_the_small(model, body.pos, target);
        }
        keep_up(will, body, limits, target, goes, closes, face);
        will.manner = if passive {
            Manner::default()
        } else {
            manner(model, hurry, relation, guard.helping)
        };
        if at_ease {
            no_faster_than_need_be(model, will, body, guard.station, relation);
        }
        if lets_by {
            will.mobile = LETS_HIM_BY;
        }
        will.intent.pace = will.intent.pace.min(pace);
        if passive && duty != Duty::OnBall {
            will.mobile = GIVES_WAY;
        }
        let urgent = matches!(duty, Duty::LowHelp | Duty::Recovering | Duty::Rotating)
            || relation == Relation::Cutter
            || hurry != Hurry::AtEase;
        if urgent {
            will.effort = 1.0;
        } else if stance.deny || relation == Relation::OnBall {
            will.effort = will.effort.max(CLOSE_WORK);
        }
        if !passive
            && eyes.sees_ball
            && let Some(point) = goes_for_it(play, clock, ball, d, body, guard, eyes)
        {
            goes_after(model, will, point, ball.pos - body.pos);
        }
    }
    if play.scenario.defence.switch == Switch::OnScreens && areas.is_none() {
        help::switch_on_screens(clock, old, &mut five, book);
    }
}

/// With all that the body has, to the ball.
fn goes_after(model: &Movement, will: &mut Will, point: Vec2, face: Vec2) {
    will.effort = 1.0;
    will.mobile = 1.0;
    will.manner.lag = model.lag_urgent;
    will.manner.yields = 0.0;
    will.intent = Intent {
        target: point,
        arrive: false,
        pace: 1.0,
        face: Some(face),
    };
}

fn set_duty(guard: &mut Guard, duty: Duty, clock: &Clock) {
    if guard.duty != duty {
        guard.duty = duty;
        guard.since = clock.tick;
    }
}

/// Where a defender takes his man to be now, and how fast.
struct Man {
    at: Vec2,
    vel: Vec2,
}

/// From what he saw last: the man goes on as he was seen to go, for a while.
fn seen_man(clock: &Clock, eyes: &Eyes, limits: &Limits, outside: Outside) -> Man {
    let age = f64::from(clock.tick - eyes.man.tick) * TICK;
    let fresh = (1.0 - (age - limits.reaction - TICK).max(0.0) / FORGETS).max(0.0);
    Man {
        at: eyes.man.pos + outside.slows(eyes.man.pos, eyes.man.vel) * age.min(0.6),
        vel: eyes.man.vel * fresh,
    }
}

/// The step toward a station that moves with velocity `goes`: sliding if he is fast enough so, else
/// he turns and runs.
fn keep_up(
    will: &mut Will,
    body: &Body,
    limits: &Limits,
    station: Vec2,
    goes: Vec2,
    closes: f64,
    face: Vec2,
) {
    let off = station - body.pos;
    let gap = off.length();
    let stops = (2.0 * BRAKES * limits.brake * gap).sqrt();
    let wish = goes + unit(off) * (closes * gap).min(stops);
    let speed = wish.length();
    let along = unit(wish);
    let runs = speed > TURNS_FROM * limits.shuffle * limits.top_speed;
    let facing = if runs { along } else { unit(face) };
    will.intent = Intent {
        target: body.pos + wish,
        arrive: false,
        pace: (speed / speed_limit(limits, facing, along)).min(1.0),
        face: if runs { None } else { Some(face) },
    };
    will.mobile = 1.0;
    let change = (wish - body.vel).length();
    will.effort = (EASY + (1.0 - EASY) * change / ALL_OF_IT).min(1.0);
}
