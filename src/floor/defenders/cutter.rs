//! With a cutter: inside first, then along to the rim.

use super::on_the_run::{going_in, under_control};
use super::pace::Hurry;
use super::*;

/// Stays with a cutter.
pub(super) fn plan(view: &View) -> Plan {
    let movement = &view.play.cast.model.movement;
    let mut plan = home::plan(view);
    plan.hurry = Hurry::Urgent;
    plan.closes = movement.close_rate_urgent;
    // Nobody runs through the rim: the defender too slows down there.
    plan.goes *= under_control(view.model, view.man.at);
    let beaten = view.body.pos.length() > view.man.at.length();
    if beaten && going_in(view.model, view.man) {
        plan.place = on_ball::head_off(view.model, view.body.pos, view.man, view.limits.top_speed);
        plan.goes = view.man.vel * under_control(view.model, view.man.at);
    }
    plan
}
