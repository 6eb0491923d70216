//! Help: on the way in to a threat, stopping it, covering the helper's player, and the stunt.

use crate::body::time_to_reach;

use super::pace::{Hurry, takes_the_chest};
use super::*;

/// Where a helper meets a threat at `at`, metres: as deep as the file says, and always between the
/// threat and the rim.
pub(super) fn meeting_point(play: &Play, at: Vec2) -> Vec2 {
    let depth = play.scenario.defence.help.depth;
    let far = at.length().max(1e-6);
    at * (depth.min(play.cast.model.defending.stop_share * far) / far)
}

/// Where the ball is, or where the pass that is in the air ends, metres.
fn ball_ends(view: &View) -> Vec2 {
    match &view.ball.state {
        BallState::Flying { flight, .. } => flight.to,
        _ => view.ball.pos,
    }
}

/// Has left the own player to stop the ball at the rim: goes to meet it, and once in front of it stays and takes the chest.
pub(super) fn stop(view: &View) -> Plan {
    let at = ball_ends(view);
    let me = view.body.pos;
    let in_front = takes_the_chest(view) && (at - me).length() < view.model.stands_from;
    Plan {
        duty: Duty::LowHelp,
        place: if in_front {
            nearest_on(at, Vec2::ZERO, me)
        } else {
            in_time(view, at)
        },
        ..hurried(view, view.ball.pos - me)
    }
}

/// The point on the way of the ball to the rim, metres, as far out as the file says but where the helper is in time;
/// at the rim if nowhere else.
fn in_time(view: &View, at: Vec2) -> Vec2 {
    let first = meeting_point(view.play, at);
    let closing = view.old.scene.vel[view.ball.man()].dot(unit(-at)).max(1.0);
    let rim = view.model.ring_stop;
    let far = at.length();
    [1.0, 0.7, 0.4]
        .map(|share| first * share)
        .into_iter()
        .filter(|p| p.length() > rim)
        .find(|p| {
            let me = &view.body;
            let time = time_to_reach(me.pos, me.vel, view.limits, *p, 0.4, 0.0);
            time < (far - p.length()) / closing
        })
        .unwrap_or(at * (rim.min(view.model.stop_share * far) / far.max(1e-6)))
}

/// On the way to the player whom a helper has left.
pub(super) fn cover(view: &View, who: usize) -> Plan {
    let at = view.old.scene.pos[who];
    let goes = view.old.scene.vel[who];
    Plan {
        duty: Duty::Rotating,
        place: at + unit(unit(-at) + unit(view.ball_at - at)) * view.model.cover_off,
        goes,
        ..hurried(view, view.ball_at - view.body.pos)
    }
}

fn hurried(view: &View, face: Vec2) -> Plan {
    Plan {
        duty: Duty::LowHelp,
        place: view.body.pos,
        goes: Vec2::ZERO,
        face,
        hurry: Hurry::Urgent,
        closes: view.play.cast.model.movement.close_rate_urgent,
        pace: 1.0,
        aside: false,
    }
}

/// Doesn't go away from the way of the drive with the own player, goes up to `step` metres in toward it, and drops back
/// to the level of the ball. Who guards a player at the rim stays there.
pub(super) fn stays_in_the_gap(view: &View, plan: &mut Plan, step: f64) {
    let model = view.model;
    let at_the_rim = matches!(view.relation, Relation::Cutter | Relation::PostBallSide);
    if at_the_rim || view.relation == Relation::OnBall {
        return;
    }
    let to_way = |from: Vec2| nearest_on(view.ball.pos, Vec2::ZERO, from) - from;
    // As far from the way as now, but along it with the stance.
    let (now, off) = (to_way(view.body.pos).length(), to_way(plan.place));
    if now < off.length() {
        plan.place += unit(off) * (off.length() - now);
        plan.goes = Vec2::ZERO;
    }
    let off = to_way(plan.place);
    plan.place += unit(off) * step.min((off.length() - model.gap_room).max(0.0));
    // Whom the ball has gone by, or is about to, drops back toward its level.
    let soon =
        view.ball.pos.length() - view.old.scene.vel[view.ball.man()].length() * model.drop_lead;
    let behind = (plan.place.length() - soon.max(model.ring_stop)).max(0.0);
    plan.place -= unit(plan.place) * (model.drop_share * behind).min(model.drop_most);
    let movement = &view.play.cast.model.movement;
    (plan.hurry, plan.closes) = if step > 0.0 && beside_the_ball(view) {
        // It goes by within a step and an arm.
        (Hurry::Urgent, movement.close_rate_urgent)
    } else {
        // Under control: the ball may go out to the own player at any moment.
        (Hurry::ClosesOut, movement.close_rate_near)
    };
}

/// Is the ball driven by within a step and an arm? Nobody turns from it to another player before it has gone by.
pub(super) fn sees_it_go_by(view: &View) -> bool {
    view.driver.is_some() && beside_the_ball(view)
}

/// Is the ball within a step and an arm?
fn beside_the_ball(view: &View) -> bool {
    (view.ball.pos - view.body.pos).length() < view.model.dig_distance
}

/// From where they stand to a ball at the rim, to an arm's length; who is with a cutter stays with the cutter.
pub(super) fn digs(view: &View, plan: &mut Plan) {
    if matches!(view.relation, Relation::Cutter | Relation::OnBall) {
        return;
    }
    let model = view.model;
    let ball = ball_ends(view);
    let off = ball - view.body.pos;
    plan.place = view.body.pos + unit(off) * (off.length() - model.dig_room).max(0.0);
    plan.goes = Vec2::ZERO;
    plan.face = ball - view.body.pos;
    plan.hurry = Hurry::Urgent;
}

/// The point of the line from `a` to `b` that is nearest to `p`.
fn nearest_on(a: Vec2, b: Vec2, p: Vec2) -> Vec2 {
    let way = b - a;
    a + way * ((p - a).dot(way) / way.length_squared().max(1e-9)).clamp(0.0, 1.0)
}

/// Half-way in while the drive is still with its own defender.
pub(super) fn gets_ready(view: &View, plan: &mut Plan) {
    let model = view.model;
    let ball = ball_ends(view);
    if view.body.pos.length() < plan.place.length().min(model.rim_distance) {
        // The own player leaves the rim: the defender doesn't run out of the drive's way along.
        plan.place = view.body.pos;
        plan.goes = Vec2::ZERO;
    }
    let meet = ball * (model.shade_distance / ball.length().max(model.shade_distance));
    plan.place += (meet - plan.place) * model.shade_share;
    plan.goes *= 1.0 - model.shade_share;
    plan.hurry = Hurry::Urgent;
    plan.closes = view.play.cast.model.movement.close_rate_urgent;
}

/// One pass away: a step at the drive and back.
pub(super) fn stunts(view: &View, plan: &mut Plan) {
    let stunt = view.play.scenario.defence.help.stunt;
    let Some(by) = view.driver else { return };
    let to_driver = view.old.scene.pos[by] - plan.place;
    if stunt > 0.0 && to_driver.length() < view.model.stunt_distance {
        plan.place += unit(to_driver) * stunt;
    }
}
