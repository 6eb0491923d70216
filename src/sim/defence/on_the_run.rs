//! Defenders against a player on the run: beside a cutter on the way to the rim, and out of the way
//! of a player who runs elsewhere.

use super::*;

/// What a runner changes about a plan.
pub(super) fn adjust(view: &View, guard: &Guard, plan: &mut Plan) {
    if matches!(plan.duty, Duty::OnBall | Duty::LowHelp | Duty::Rotating) {
        return;
    }
    if let Some((side, along)) = beside(view, plan.place) {
        plan.place = side;
        plan.goes = along;
    }
    // A cutter off a screen has lost the defender for a moment.
    let cuts = matches!(
        view.old.doing[guard.man],
        Doing::Cutting { arrived: false, .. }
    ) && !view.old.awaited[guard.man];
    if !cuts
        && !going_in(view.model, view.man)
        && let Some(aside) = out_of_the_way(view)
    {
        plan.place = aside;
        plan.goes = Vec2::ZERO;
        plan.aside = true;
    }
}

/// A player on the way to the rim is run with, not stood in front of: a place ahead of the player is
/// turned to the ball's side. Where the player is going is no secret, so it is the way to the rim that
/// is run, not every turn. Who runs elsewhere has the defender between them and the rim.
///
/// The place, and the velocity with which it moves.
fn beside(view: &View, place: Vec2) -> Option<(Vec2, Vec2)> {
    let (model, man) = (view.model, view.man);
    let speed = man.vel.length();
    let off = place - man.at;
    let gap = off.length();
    if speed < model.run_by_speed || !(1e-6..=2.0).contains(&gap) {
        return None;
    }
    let along = man.vel / speed;
    if off.dot(along) < 0.5 * gap || along.dot(unit(-man.at)) < model.to_rim_cos {
        return None;
    }
    let along = runs_in(man);
    let mut across = Vec2::new(-along.y, along.x);
    let toward_ball = across.dot(view.ball_at - man.at);
    // With the ball still seen in the player's hands: the middle of the floor's side; on the midline either.
    let off_middle = if man.at.x == 0.0 {
        view.play.hand
    } else {
        man.at.x
    };
    let middle = -across.x * off_middle;
    if toward_ball < 0.0 || toward_ball == 0.0 && middle < 0.0 {
        across = -across;
    }
    let place = man.at + across * model.shoulder + along * model.half_step;
    Some((place, along * (speed * under_control(model, man.at))))
}

/// The direction in which a player on the way to the rim is thought to go on. Where a run is going is no secret: it is the
/// way to the rim, not every turn.
pub(super) fn runs_in(man: Man) -> Vec2 {
    unit(unit(man.vel) + unit(-man.at))
}

/// Is the player on the way in to the rim?
pub(super) fn going_in(model: &Defending, man: Man) -> bool {
    man.vel.dot(unit(-man.at)) > model.to_rim_cos * man.vel.length().max(1e-9)
}

/// Beside the line of a player who runs up to the defender, on the defender's side of it.
fn out_of_the_way(view: &View) -> Option<Vec2> {
    let (model, man, me) = (view.model, view.man, view.body.pos);
    let speed = man.vel.length();
    if speed < model.run_by_speed {
        return None;
    }
    let along = man.vel / speed;
    let across = Vec2::new(-along.y, along.x);
    let (ahead, side) = ((me - man.at).dot(along), (me - man.at).dot(across));
    let meets = 0.0 < ahead && ahead < model.run_by_ahead && side.abs() < model.run_by_side;
    meets.then(|| me + across * (model.run_by_side + 0.1 - side.abs()).copysign(side))
}

/// The share of a cutter's speed with which the defender goes along, the cutter being at `at`.
pub(super) fn under_control(model: &Defending, at: Vec2) -> f64 {
    (at.length() / model.rim_distance).min(1.0)
}
