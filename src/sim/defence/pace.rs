//! How much a defender hurries: small corrections are walked, a catcher is closed out on under control, and only a drive,
//! a cutter or a lost place is run for with all that the body has.

use super::super::steering;
use super::*;
use crate::body::{Intent, arrival_speed, speed_limit};
use crate::model::Movement;

/// How much a defender hurries.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Hurry {
    /// Small corrections: nobody sprints to them.
    AtEase,
    /// To a catcher, under control.
    ClosesOut,
    /// To a drive, a cutter, or back between man and rim.
    Urgent,
}

/// The manner that goes with it. The defender on the ball and a helper do not make room for team-mates.
fn manner(model: &Movement, hurry: Hurry, relation: Relation, helps: bool) -> Manner {
    let cutter = relation == Relation::Cutter;
    let lag = match hurry {
        _ if cutter => model.lag_cutter_defender,
        // The defender on the ball mirrors the holder.
        Hurry::AtEase if relation == Relation::OnBall => model.lag_handler,
        Hurry::AtEase => model.lag,
        Hurry::ClosesOut | Hurry::Urgent => model.lag_urgent,
    };
    let yields = match relation {
        Relation::OnBall => 0.0,
        _ if helps => 0.0,
        Relation::Cutter => model.yield_cutter,
        _ => 1.0,
    };
    Manner {
        lag,
        yields,
        ..Manner::default()
    }
}

/// The station, but small errors are left as they are.
fn past_the_small(model: &Movement, pos: Vec2, station: Vec2) -> Vec2 {
    let off = station - pos;
    let small = model.station_tolerance;
    pos + off * ((off.length() - small) / small).clamp(0.0, 1.0)
}

/// Bounds the speed of a correction, unless the defender is far off.
fn no_faster_than_need_be(
    model: &Movement,
    will: &mut Will,
    body: &Body,
    station: Vec2,
    relation: Relation,
) {
    let usual = if relation == Relation::OnBall {
        model.defender_speed * model.on_ball_speed_share
    } else {
        model.defender_speed
    };
    let gap = (station - body.pos).length();
    let most = usual + (gap - model.far_off).max(0.0);
    let wish = (will.intent.target - body.pos).length();
    will.intent.pace *= most / wish.max(most);
}

/// The step toward the place of a plan.
pub(super) fn step(view: &View, plan: &Plan, guard: &Guard, will: &mut Will) {
    let movement = &view.play.cast.model.movement;
    let passive = view.play.scenario.drill.passive;
    let at_ease = plan.hurry == Hurry::AtEase && !passive && !plan.aside;
    let place = if at_ease {
        past_the_small(movement, view.body.pos, plan.place)
    } else {
        plan.place
    };
    let closes = match plan.hurry {
        Hurry::Urgent => movement.close_rate_urgent,
        _ => plan.closes,
    };
    let place = if passive {
        place
    } else {
        round_bodies(view, place)
    };
    let closes = (closes, plan.hurry);
    keep_up(view, will, place, plan.goes, closes, plan.face);
    will.manner = if passive {
        Manner::default()
    } else {
        let helps = matches!(guard.cover, Cover::Help { .. });
        manner(movement, plan.hurry, view.relation, helps)
    };
    if at_ease {
        no_faster_than_need_be(movement, will, &view.body, plan.place, view.relation);
    }
    if takes_the_chest(view) {
        will.mobile = view.model.stands_share;
    }
    if plan.aside {
        will.mobile = view.model.run_by_yield;
    }
    will.intent.pace = will.intent.pace.min(plan.pace);
    let urgent = plan.hurry != Hurry::AtEase || view.relation == Relation::Cutter;
    if urgent {
        will.effort = 1.0;
    } else if view.stance.deny || view.relation == Relation::OnBall {
        will.effort = will.effort.max(view.model.close_effort);
    }
}

/// The way to a place beyond the player with the ball, whom the defender guards, leads round that player's body, past the
/// nearer shoulder. And so beyond any attacker at arm's length: nobody pushes on through a body that is no screen
/// (`ball_screen.rs`).
fn round_bodies(view: &View, place: Vec2) -> Vec2 {
    let (me, room, hand) = (view.body.pos, view.model.round_room, -view.play.hand);
    let scene = &view.old.scene;
    let near = (0..5).filter(|&i| !view.old.screens[i] && (scene.pos[i] - me).length() < room);
    let holder = Some(view.man.at).filter(|_| view.relation == Relation::OnBall);
    // Behind whoever runs by.
    let soon = |i: usize| scene.pos[i] + scene.vel[i] * RUNS_ON;
    let bodies = holder.into_iter().chain(near.map(soon));
    let mut ways = bodies.map(|body| steering::past_the_shoulder(me, place, body, room, hand));
    let Some(way) = ways.find(|way| *way != place) else {
        return place;
    };
    // Nobody stops beside a body that is only gone round.
    let off = way - me;
    me + off * ((place - me).length() / off.length().max(1e-9)).max(1.0)
}

/// So far ahead a runner in the way is reckoned to be gone, seconds (ours).
const RUNS_ON: f64 = 0.3;

/// The velocity wished (m/s) on the way to a place, turned past a team-mate in the way who does not run on ahead: straight
/// at each other both would only stop.
fn round_mates(view: &View, place: Vec2, wish: Vec2) -> Vec2 {
    let (me, scene) = (view.body.pos, &view.old.scene);
    let movement = &view.play.cast.model.movement;
    let way = unit(wish);
    let goal = me + way * (place - me).length();
    let keep = movement.avoid_defender_distance + SPARES;
    let past = |i: usize| {
        let off = (scene.pos[i] - me).length();
        let stays = scene.vel[i].dot(way) < movement.stands_speed;
        if !stays || off == 0.0 || off > LOOKS_AHEAD {
            return None;
        }
        let by = steering::past_the_shoulder(me, goal, scene.pos[i], keep, -view.play.hand);
        (by != goal).then(|| unit(by - me) * wish.length())
    };
    (5..10).find_map(past).unwrap_or(wish)
}

/// What a defender leaves a team-mate beside the distance that both keep, metres (ours: a hand).
const SPARES: f64 = 0.3;
/// A defender sees a team-mate in the way from so far off, metres (ours).
const LOOKS_AHEAD: f64 = 2.0;

/// Squarely in front of a driver, who may not run into a body that is there first.
pub(super) fn takes_the_chest(view: &View) -> bool {
    let Some(by) = view.driver else { return false };
    let at = view.old.scene.pos[by];
    let (off, in_ward) = (view.body.pos - at, unit(-at));
    off.dot(in_ward) > off.perp_dot(in_ward).abs()
}

/// With all that the body has, to the ball.
pub(super) fn after_the_ball(model: &Movement, will: &mut Will, point: Vec2, face: Vec2) {
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

/// Who goes with a place that moves faster than this share of what can be slid runs with it (ours).
const RUNS_WITH: f64 = 0.5;

/// The step toward a place that moves with velocity `goes`: sliding if that is fast enough, else the
/// defender turns and runs. The velocity wished is that of the place and as much more as closes the gap,
/// never more than can be braked away before it, under control a moment sooner; a small change of velocity gets little power.
/// The gap is the one that will be left when a change takes effect.
fn keep_up(
    view: &View,
    will: &mut Will,
    place: Vec2,
    goes: Vec2,
    (closes, hurry): (f64, Hurry),
    face: Vec2,
) {
    let (model, body, limits) = (view.model, &view.body, view.limits);
    let lag = match hurry {
        Hurry::AtEase => model.own_lag_at_ease,
        Hurry::ClosesOut | Hurry::Urgent => model.own_lag,
    };
    let off = place - body.pos - (body.vel - goes) * lag;
    let gap = off.length();
    let stops = stops_within(view, gap, hurry == Hurry::ClosesOut);
    let mut wish = goes + unit(off) * (closes * gap).min(stops);
    wish = not_past_the_rim(view, place, goes, wish);
    if !view.play.scenario.drill.passive {
        wish = round_mates(view, place, wish);
    }
    let speed = wish.length();
    let along = unit(wish);
    // For a step or two nobody turns.
    let slides = model.turn_and_run_share * limits.shuffle * limits.top_speed;
    let moves = goes.length() > RUNS_WITH * slides;
    let runs = speed > slides && (gap > model.turns_from || moves);
    let facing = if runs { along } else { unit(face) };
    let facing = turns_by_the_ball(view, facing);
    will.intent = Intent {
        target: body.pos + wish,
        arrive: false,
        pace: (speed / speed_limit(limits, facing, along)).min(1.0),
        face: Some(facing),
    };
    will.mobile = 1.0;
    let change = (wish - body.vel).length() / model.full_effort_change;
    will.effort = (model.least_effort + (1.0 - model.least_effort) * change).min(1.0);
}

/// Where to turn to on the way to `facing` (unit): whose shorter way round would lead through the back to the ball turns by
/// the ball.
fn turns_by_the_ball(view: &View, facing: Vec2) -> Vec2 {
    let (now, ball) = (view.body.facing, unit(view.ball_at - view.body.pos));
    let (from, to) = (now.perp_dot(ball), ball.perp_dot(facing));
    let short = now.perp_dot(facing);
    // The ball lies between the two the long way round.
    let by_the_back = from * short < 0.0 && to * short < 0.0;
    if by_the_back { ball } else { facing }
}

/// How fast a defender may be so as to stop within `room` metres, m/s; under control the braking begins as much sooner as it
/// takes to change what one does.
fn stops_within(view: &View, room: f64, controlled: bool) -> f64 {
    let brake = view.model.brake_share * view.limits.brake;
    let lag = view.play.cast.model.movement.lag_urgent;
    arrival_speed(room.max(0.0), brake, if controlled { lag } else { 0.0 })
}

/// A player who runs in will stop at the rim: nobody runs by there, or to the board, faster than can be braked away. With a
/// drive on it is the own player's way that is run; without, everybody comes to the rim under control.
fn not_past_the_rim(view: &View, place: Vec2, goes: Vec2, wish: Vec2) -> Vec2 {
    let (model, me) = (view.model, view.body.pos);
    let controlled = view.driver.is_none();
    let along = if controlled { unit(-me) } else { unit(goes) };
    let mut wish = wish;
    if controlled || along.dot(unit(-place)) > model.to_rim_cos {
        let room = (-me).dot(along) - model.ring_stop;
        let over = wish.dot(along) - stops_within(view, room, controlled);
        wish -= along * over.max(0.0);
    }
    let room = me.y - place.y.min(model.board_front);
    wish.y = wish.y.max(-stops_within(view, room, false));
    wish
}
