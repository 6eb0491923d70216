//! With a cutter: inside first, then along to the rim.

use super::on_the_run::under_control;
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
    plan
}
