//! With a cutter: inside first, then along to the rim.

use super::on_ball::{head_off, is_beaten};
use super::on_the_run::{runs_in, under_control};
use super::pace::Hurry;
use super::*;

/// Stays with a cutter.
pub(super) fn plan(view: &View) -> Plan {
    let movement = &view.play.cast.model.movement;
    let mut plan = home::plan(view);
    plan.hurry = Hurry::Urgent;
    plan.closes = movement.close_rate_urgent;
    let gap = (view.man.at - view.body.pos).length();
    if gap > view.model.lost_gap && is_beaten(view) {
        // Behind the cutter: not after, but across to where the two meet.
        plan.place = head_off(view.model, view.body.pos, view.man, view.limits.top_speed);
        plan.goes = runs_in(view.man) * view.man.vel.length();
    }
    // Nobody runs through the rim: the defender too slows down there.
    plan.goes *= under_control(view.model, view.man.at);
    plan
}
