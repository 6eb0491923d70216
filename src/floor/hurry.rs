//! How much a defender hurries: small corrections are walked, a catcher is closed out on under control, and only a drive,
//! a cutter or a lost place is run for with all that the body has.

use super::parts::*;
use crate::body::Body;
use crate::court::Vec2;
use crate::defence::Relation;
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
pub(super) fn manner(model: &Movement, hurry: Hurry, relation: Relation, helps: bool) -> Manner {
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
pub(super) fn past_the_small(model: &Movement, pos: Vec2, station: Vec2) -> Vec2 {
    let off = station - pos;
    let small = model.station_tolerance;
    pos + off * ((off.length() - small) / small).clamp(0.0, 1.0)
}

/// Bounds the speed of a correction, unless the defender is far off.
pub(super) fn no_faster_than_need_be(
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
