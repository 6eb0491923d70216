//! On the ball: off a holder by the stance, ahead of a driver, and out to a catcher under control.

use super::super::steering;
use super::on_the_run::runs_in;
use super::pace::Hurry;
use super::*;

/// Guards the holder.
pub(super) fn plan(view: &View, guard: &mut Guard) -> Plan {
    let mut plan = home::plan(view);
    plan.face = view.man.at - view.body.pos;
    if view.play.scenario.drill.passive {
        return plan;
    }
    let movement = &view.play.cast.model.movement;
    // Off a holder as far as the stance says, but no farther than a step: the holder could shoot.
    let off = plan.place - view.man.at;
    plan.place = view.man.at + off * (movement.holder_gap / off.length().max(movement.holder_gap));
    if view.driver == Some(guard.man) || is_beaten(view) {
        let man = goes_on(view, guard.man);
        plan.goes = man.vel;
        if view.body.pos.length() < man.at.length() {
            plan.goes = gives_ground(view.model, man);
        }
        plan.place = head_off(view.model, view.body.pos, man, view.limits.top_speed);
        plan.hurry = Hurry::Urgent;
        plan.closes = movement.close_rate_urgent;
    } else if guard.cover == Cover::CloseOut {
        close_out(view, guard, &mut plan);
    }
    if shoots(view) && view.driver.is_none() {
        contest(view, &mut plan, view.model.contest_gap);
    } else if dribble_is_over(view) {
        contest(view, &mut plan, view.model.crowd_gap);
    }
    plan
}

/// Has the defender had time to see that the own player has picked the ball up, and can only pass or shoot?
fn dribble_is_over(view: &View) -> bool {
    let picked_up = view.ball.hold().and_then(|hold| hold.picked_up);
    picked_up.is_some_and(|since| view.tick >= since + ticks(view.limits.reaction))
}

/// The driver, no faster than whoever else stands in the way lets that one be: nobody runs on past a driver who has to stop.
fn goes_on(view: &View, who: usize) -> Man {
    let man = view.man;
    let me = (0..5).find(|&d| view.old.scene.guards[d] == who);
    let (but, ahead) = ((who, me.map(|d| 5 + d)), man.at + man.vel);
    let may = steering::before_bodies(view.play, view.old, but, man.at, ahead)
        * view.play.cast.players[who].limits.top_speed;
    Man {
        vel: man.vel * (may / man.vel.length().max(may)),
        ..man
    }
}

/// Has the defender had time to see that the own player shoots?
fn shoots(view: &View) -> bool {
    let pending = view.ball.hold().and_then(|hold| hold.pending.as_ref());
    let sees = ticks(view.limits.reaction);
    matches!(pending, Some(Pending::Shot { since, .. }) if view.tick >= since + sees)
}

/// A hand up: straight at the player with the ball, to this distance, metres.
fn contest(view: &View, plan: &mut Plan, gap: f64) {
    let movement = &view.play.cast.model.movement;
    let off = view.body.pos - view.man.at;
    plan.place = view.man.at + unit(off) * gap.min(off.length());
    plan.goes = Vec2::ZERO;
    plan.hurry = Hurry::Urgent;
    plan.closes = movement.close_rate_urgent;
    plan.pace = 1.0;
}

/// Has the own player only the rim before them, and the defender behind?
pub(super) fn is_beaten(view: &View) -> bool {
    (view.body.pos - view.man.at).dot(view.man.at) > 0.0
}

/// To a catcher under control: to where the stance is, not inside it. No run past the place and back.
fn close_out(view: &View, guard: &mut Guard, plan: &mut Plan) {
    let movement = &view.play.cast.model.movement;
    let closeout = view.play.scenario.defence.closeout;
    let gap = (view.man.at - view.body.pos).length();
    let stands = (plan.place - view.man.at).length();
    let stands = stands.min(movement.closeout_gap).max(closeout.short);
    if gap < stands + movement.closeout_over {
        guard.cover = Cover::Home;
    }
    let off = unit(view.body.pos - view.man.at);
    plan.place = view.man.at + unit(off + unit(-view.man.at)) * stands;
    // Who backs out with the ball is not run after at full speed: it is the way in that counts.
    let out = unit(view.man.at);
    plan.goes = view.man.vel - out * view.man.vel.dot(out).max(0.0);
    plan.pace = closeout.pace;
    plan.duty = Duty::Recovering;
    plan.hurry = Hurry::ClosesOut;
    plan.closes = movement.closeout_rate;
}

/// How fast to go back before a player on the way to the rim, m/s: across as fast as that player, but back only at
/// a share of the speed.
fn gives_ground(model: &Defending, man: Man) -> Vec2 {
    let in_ward = unit(-man.at);
    let back = man.vel.dot(in_ward).max(0.0);
    man.vel - in_ward * (back * (1.0 - model.gives_ground))
}

/// Where to meet a player on the way to the rim, metres: between the player and the rim, as soon as
/// the player can be headed off, and never beyond the ring.
pub(super) fn head_off(model: &Defending, me: Vec2, man: Man, top: f64) -> Vec2 {
    let far = man.at.length();
    let closing = man.vel.dot(unit(-man.at));
    let until = |t: f64| {
        if closing > 1e-6 {
            t.min((far - model.ring_stop).max(0.0) / closing)
        } else {
            t
        }
    };
    if me.length() < far - 0.1 {
        // Holds this distance from the rim, across the player's way (`goes` gives ground), but comes up from afar.
        let lead = man.at + gives_ground(model, man) * until(model.driver_lead);
        let off = (lead - me).length().min(model.driver_cushion);
        unit(lead) * me.length().max(lead.length() - off)
    } else {
        // Beaten: to the rim's side of where the player will be.
        let t =
            ((man.at - me).length() / top.max(1.0) + model.driver_lead).min(model.chase_longest);
        let goes = if closing > 1e-6 {
            runs_in(man) * man.vel.length()
        } else {
            man.vel
        };
        let lead = man.at + goes * until(t);
        lead + unit(-lead) * model.chase_inside.min(0.6 * lead.length())
    }
}
