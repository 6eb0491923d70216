//! Defenders: what each knows, what the five share out, and each one's duty and step.
//!
//! First the five share out what threatens at the rim (`share`), and in a zone who guards whom
//! (`zone`). Then every defender takes up one duty: from the stance (`stance`), on the ball
//! (`on_ball`), with a cutter (`cutter`), or in help (`help`). A duty says where to be and how the
//! place moves (`Plan`); `pace` turns that into a step, as fast as need be.

use crate::body::{Body, Limits};
use crate::court::Vec2;
use crate::defence::{Duty, Gaze, Relation, Stance, Switch};
use crate::model::Defending;
use crate::possession::{Ballwork, TICK};

use super::dice::Purpose;
use super::eyes::Outside;
use super::feet::small_step;
use super::hands::{goes_for_a_loose_ball, goes_for_it};
use super::parts::*;
use super::stance::{relation_of, stance_of, station, unit};

mod ball_screen;
mod corner;
mod cutter;
mod help;
mod home;
mod on_ball;
mod on_the_run;
mod pace;
mod share;
mod switch;
mod zone;

use pace::Hurry;

/// Where the own player is thought to be now, metres, and how fast, m/s.
#[derive(Clone, Copy)]
pub(super) struct Man {
    at: Vec2,
    vel: Vec2,
}

/// What one defender decides from.
pub(super) struct View<'a> {
    play: &'a Play,
    model: &'a Defending,
    old: &'a Old,
    ball: &'a Ball,
    body: Body,
    limits: &'a Limits,
    man: Man,
    /// Where the ball is seen, metres.
    ball_at: Vec2,
    relation: Relation,
    stance: &'a Stance,
    outside: Outside,
    /// Where the own player's run ends, metres.
    stop: Option<Vec2>,
    /// Who drives now.
    driver: Option<usize>,
    tick: u32,
    /// The ball has just left the own player, who does not cut yet: who is on the way to the rim is run with, and a
    /// jump to the ball would lead across behind the cut.
    jumps: bool,
    /// The own player has cut, was not fed, and is on the way out again.
    turns_out: bool,
}

/// Where a defender is to be, and how to get there.
#[derive(Clone, Copy)]
pub(super) struct Plan {
    duty: Duty,
    /// The place, metres, and the velocity with which it moves, m/s.
    place: Vec2,
    goes: Vec2,
    face: Vec2,
    hurry: Hurry,
    /// Rate at which the gap to the place is closed, 1/s.
    closes: f64,
    /// Share of the top speed, at most.
    pace: f64,
    /// Steps out of a runner's way.
    aside: bool,
}

/// In a walk-through a defender stands still while anybody cuts within this distance, metres.
const MAKES_WAY: f64 = 3.5;
/// How much more than an attacker a defender off the ball gives way in a walk-through.
const GIVES_WAY: f64 = 20.0;

pub(super) type Five<'a> = [(&'a Form, &'a mut Will, &'a mut Guard, &'a mut Eyes); 5];

/// Each defender's duty and step in this tick.
pub fn defenders_guard(floor: &mut Floor, defenders: &mut [Defender; 5]) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        trail,
        ..
    } = floor;
    let mut five = defenders
        .each_mut()
        .map(|d| (&d.form, &mut d.will, &mut d.guard, &mut d.eyes));
    if !play.scenario.drill.passive {
        share::share_out(play, clock, ball, old, &mut five, (signals, book));
    }
    let areas = play.scenario.defence.zone.as_deref();
    if defenders_revise(clock.tick) {
        let outside = Outside::of(&play.cast);
        let zone = areas.map(|areas| zone::share(areas, play, clock, ball, old, trail, &five));
        for d in play.cast.five() {
            let chased = play.scenario.defence.chased_by(d);
            let area = zone.as_ref().filter(|_| chased.is_none());
            let area = area.map(|zone| zone.of(d));
            if let Some(who) = chased.filter(|_| area.is_none()) {
                // With him everywhere, whatever happens elsewhere.
                let (_, _, guard, eyes) = &mut five[d];
                (guard.cover, guard.about_drive) = match guard.cover {
                    Cover::CloseOut => (Cover::CloseOut, AboutDrive::Nothing),
                    _ => (Cover::Home, AboutDrive::Nothing),
                };
                takes(guard, eyes, old, who, clock);
            }
            guards(play, clock, ball, old, d, area, outside, &mut five[d]);
        }
    }
    if areas.is_none() && !play.scenario.drill.passive {
        switch::switch_on_screens(play, clock, ball, old, &mut five, book);
    }
}

/// One defender's duty and step.
#[allow(clippy::too_many_arguments)]
fn guards(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    d: usize,
    area: Option<zone::Place>,
    outside: Outside,
    (form, will, guard, eyes): &mut (&Form, &mut Will, &mut Guard, &mut Eyes),
) {
    let body = &form.0;
    let passive = play.scenario.drill.passive;
    let movement = &play.cast.model.movement;
    if !passive
        && let Some(point) = goes_for_a_loose_ball(play, clock, ball, old, d, body, eyes.sees_ball)
    {
        pace::after_the_ball(movement, will, point, ball.pos - body.pos);
        return;
    }
    // In a zone who has nobody to guard is least of all the defender of the ball, at which others are.
    let left_over = || {
        let area = area.filter(|_| guard.man == ball.man())?;
        Some(zone::nearest_but(play, old, area, ball.man()))
    };
    let picked = area.and_then(|a| a.guards).or_else(left_over);
    let another = picked.is_some_and(|who| who != guard.man);
    if let Some(picked) = picked {
        takes(guard, eyes, old, picked, clock);
    }
    let limits = &play.cast.players[5 + d].limits;
    let man = seen_man(&play.cast.model.defending, clock, eyes, limits, outside);
    if area.is_some_and(|a| a.guards.is_none()) {
        guard.relation = Relation::TwoPasses;
        guard.news = None;
    } else {
        let seen = (area.is_some(), another);
        notices(play, clock, ball, old, d, guard, &man, body, seen);
    }
    let defending = &play.cast.model.defending;
    let view = View {
        play,
        model: defending,
        old,
        ball,
        body: *body,
        limits,
        man,
        ball_at: if guard.relation == Relation::OnBall {
            man.at
        } else {
            eyes.ball.pos
        },
        relation: guard.relation,
        stance: stance_of(play, d, guard.relation),
        outside,
        stop: old.stops[guard.man],
        driver: driver_of(ball),
        tick: clock.tick,
        jumps: guard.relation != Relation::Cutter
            && guard
                .left_ball
                .is_some_and(|t| clock.tick < t + ticks(defending.jump_time)),
        turns_out: matches!(old.doing[guard.man], Doing::Cutting { arrived: true, .. }),
    };
    let mut plan = plan_of(&view, guard, area);
    if passive {
        stands_clear(&view, &mut plan);
    } else {
        if area.is_none() {
            ball_screen::adjust(&view, guard, &mut plan);
        }
        on_the_run::adjust(&view, guard, &mut plan);
    }
    // Toward a ball that goes to the rim a zone closes in from all sides.
    if let Some(area) = area.filter(|_| guard.about_drive == AboutDrive::Nothing) {
        zone::stays_in_it(&view, area, &mut plan);
    }
    // Nor does anybody stand stock-still who holds a place while the ball is driven.
    let holds = plan.hurry == pace::Hurry::AtEase || guard.about_drive == AboutDrive::Holds;
    if holds && guard.relation != Relation::OnBall && !passive {
        plan.place += small_steps(&view, d, &mut guard.feet);
    }
    in_front_of_the_board(&view, &mut plan);
    if guard.duty != plan.duty {
        guard.duty = plan.duty;
        guard.since = clock.tick;
    }
    guard.station = plan.place;
    pace::step(&view, &plan, guard, will);
    if passive && plan.duty != Duty::OnBall {
        will.mobile = GIVES_WAY;
    }
    if !passive
        && eyes.sees_ball
        && let Some(point) = goes_for_it(play, clock, ball, d, body, guard, eyes)
    {
        pace::after_the_ball(movement, will, point, ball.pos - body.pos);
    }
}

/// Who drives now.
fn driver_of(ball: &Ball) -> Option<usize> {
    let hold = ball.hold().filter(|h| h.work == Ballwork::Driving)?;
    Some(hold.by)
}

/// The duty that a defender has now, and where it sends the defender.
fn plan_of(view: &View, guard: &mut Guard, area: Option<zone::Place>) -> Plan {
    if view.play.scenario.drill.passive {
        return match view.relation {
            Relation::OnBall => on_ball::plan(view, guard),
            Relation::Cutter => cutter::plan(view),
            _ => home::plan(view),
        };
    }
    let mut plan = match guard.cover {
        Cover::Help { .. } => return corner::plan(view).unwrap_or_else(|| help::stop(view)),
        Cover::Rotate { to, .. } if !help::sees_it_go_by(view) => return help::cover(view, to),
        _ => match (area, view.relation) {
            (Some(area), relation) if relation != Relation::OnBall => zone::plan(view, area),
            (_, Relation::OnBall) => on_ball::plan(view, guard),
            (_, Relation::Cutter) => cutter::plan(view),
            _ => home::plan(view),
        },
    };
    if guard.about_drive != AboutDrive::Ready && view.relation == Relation::OnePass {
        help::stunts(view, &mut plan);
    }
    match guard.about_drive {
        // Whoever is to take another sees to the ball first.
        AboutDrive::Nothing if matches!(guard.cover, Cover::Rotate { .. }) => {
            help::stays_in_the_gap(view, &mut plan, view.model.gap_step);
        }
        AboutDrive::Nothing => {}
        AboutDrive::Holds => help::stays_in_the_gap(view, &mut plan, 0.0),
        AboutDrive::StepsIn => help::stays_in_the_gap(view, &mut plan, view.model.gap_step),
        AboutDrive::Ready => help::gets_ready(view, &mut plan),
        AboutDrive::Digs => help::digs(view, &mut plan),
    }
    plan
}

/// A defender takes another player.
pub(super) fn takes(guard: &mut Guard, eyes: &mut Eyes, old: &Old, who: usize, clock: &Clock) {
    if guard.man == who {
        return;
    }
    guard.man = who;
    eyes.man = Seen {
        pos: old.scene.pos[who],
        vel: old.scene.vel[who],
        tick: clock.tick,
    };
}

/// That a pass has left, or that the own player cuts, a defender knows once there was time to see it. In a zone that has
/// gone into who guards whom (`already_seen`), and one may have taken `another`, with the ball as the one before.
#[allow(clippy::too_many_arguments)]
fn notices(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    d: usize,
    guard: &mut Guard,
    man: &Man,
    body: &Body,
    (already_seen, another): (bool, bool),
) {
    let relation = relation_of(old, ball, guard.man);
    if relation == guard.relation && !another {
        guard.news = None;
        return;
    }
    let since = *guard.news.get_or_insert(clock.tick);
    // A pass is no surprise: the arms of the passer have told of it.
    let flies = relation == Relation::OnBall && matches!(ball.state, BallState::Flying { .. });
    let fake = if flies {
        0.0
    } else {
        play.cast.model.perception.fake_delay
    };
    let knows = play.cast.players[5 + d].limits.reaction + fake;
    if already_seen || play.scenario.drill.passive || clock.tick >= since + ticks(knows) {
        let late = play.cast.model.defending.late_catch;
        let far = (man.at - body.pos).length() > late;
        if guard.cover.at_home() {
            // A pass to the own player: the defender has to get there.
            guard.cover = if relation == Relation::OnBall && far {
                Cover::CloseOut
            } else {
                Cover::Home
            };
        }
        if guard.relation == Relation::OnBall && relation != Relation::OnBall {
            guard.left_ball = Some(clock.tick);
        }
        guard.relation = relation;
        guard.news = None;
    }
}

/// From what was seen last: the player goes on as seen, for a while.
fn seen_man(
    model: &Defending,
    clock: &Clock,
    eyes: &Eyes,
    limits: &Limits,
    outside: Outside,
) -> Man {
    let age = f64::from(clock.tick.saturating_sub(eyes.man.tick)) * TICK;
    let stale = (age - limits.reaction - TICK).max(0.0) / model.forget_time;
    let goes = outside.slows(eyes.man.pos, eyes.man.vel);
    Man {
        at: eyes.man.pos + goes * age.min(model.unseen_time),
        vel: eyes.man.vel * (1.0 - stale).max(0.0),
    }
}

/// Where a defender off the ball faces: as the stance looks, open to the ball in any case, and to the ball
/// alone when it is driven or in the air.
fn face_of(view: &View) -> Vec2 {
    let to_ball = unit(view.ball_at - view.body.pos);
    let moves = view.driver.is_some() || matches!(view.ball.state, BallState::Flying { .. });
    match view.stance.gaze {
        _ if moves => to_ball,
        Gaze::Ball => to_ball,
        Gaze::Man => opens(view, to_ball, view.model.open_share),
        Gaze::Both => opens(view, to_ball, HALF_WAY),
    }
}

/// Between the ball and the own player.
const HALF_WAY: f64 = 0.5;

/// That share of the angle from the ball to the own player, but never with the back to the ball. With the two on opposite sides
/// the chest is up the floor, the back to the end line.
fn opens(view: &View, to_ball: Vec2, share: f64) -> Vec2 {
    let to_man = unit(view.man.at - view.body.pos);
    let angle = libm::atan2(to_ball.perp_dot(to_man), to_ball.dot(to_man));
    let by = (share * angle.abs()).min(view.model.open_most);
    let (ahead, aside) = (to_ball * libm::cos(by), to_ball.perp() * libm::sin(by));
    let side = if angle.abs() > view.model.opposite_angle {
        // Up the floor is away from the end line.
        aside.y
    } else {
        angle
    };
    ahead + aside * 1f64.copysign(side)
}

/// The small steps of a defender at ease, metres: nobody stands still for long.
fn small_steps(view: &View, d: usize, feet: &mut Feet) -> Vec2 {
    let (play, model) = (view.play, &view.play.cast.model.footwork);
    if view.tick >= feet.until {
        let lasts = ticks(model.sway_time).max(1);
        // Not all in step.
        let begins = play.dice.at(Purpose::Place, d, 0).unit() * f64::from(lasts);
        let spell = (view.tick + begins as u32) / lasts;
        let mut dice = play.dice.at(Purpose::Place, d, 1 + spell);
        let drawn = (dice.normal(), dice.normal());
        let until = (spell + 1) * lasts - begins as u32;
        *feet = Feet { until, drawn };
    }
    small_step(play, feet.drawn, model.sway_defender)
}

/// In a walk-through nobody gets in a cutter's way.
fn stands_clear(view: &View, plan: &mut Plan) {
    let old = view.old;
    let cut_near_by = |who: usize| {
        matches!(old.doing[who], Doing::Cutting { arrived: false, .. })
            && (old.scene.pos[who] - view.body.pos).length() < MAKES_WAY
    };
    if view.relation == Relation::Cutter || view.turns_out || (0..5).any(cut_near_by) {
        plan.place = view.body.pos;
        plan.goes = Vec2::ZERO;
    }
}

/// Nobody guards from behind the board.
fn in_front_of_the_board(view: &View, plan: &mut Plan) {
    let model = view.model;
    let behind = plan.place.x.abs() < model.board_half_width && plan.place.y < model.board_front;
    if behind && (view.relation != Relation::OnBall || view.man.at.y > model.board_front) {
        plan.place.y = model.board_front;
        plan.goes.y = plan.goes.y.max(0.0);
    }
}
