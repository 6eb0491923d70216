//! At home: in the stance of the file, as the own player moves.

use super::pace::Hurry;
use super::*;

/// The place of the stance now, metres, and the velocity with which it moves, m/s: as the player goes,
/// so goes the place.
pub(super) fn moving_station(view: &View) -> (Vec2, Vec2) {
    let model = view.model;
    let goes = if view.relation == Relation::OnBall {
        view.man.vel
    } else {
        comes_to_a_stop(view, view.outside.slows(view.man.at, view.man.vel))
    };
    let planned = view.man.at + goes * model.anticipation;
    let at = |man: Vec2| station(view.stance, man, view.ball_at);
    let place = at(planned);
    let soon = at(planned + goes * model.station_step);
    (place, (soon - place) / model.station_step)
}

/// The velocity of the own player, no faster than stops where the run ends: where everybody is going is no secret.
fn comes_to_a_stop(view: &View, goes: Vec2) -> Vec2 {
    let Some(stop) = view.stop else {
        return goes;
    };
    let room = (stop - view.man.at).length();
    let may = (2.0 * view.model.brake_share * view.limits.brake * room).sqrt();
    goes * (may / goes.length().max(may))
}

/// The step of a jump to the ball from a place of the stance, metres: never nearer to the ball than to the own player.
fn jump(view: &View, place: Vec2) -> Vec2 {
    let halfway = 0.5 * (view.ball_at - view.man.at).length();
    let room = halfway - (place - view.man.at).length();
    unit(view.ball_at - place) * view.model.jump_step.min(room.max(0.0))
}

/// At home in the stance.
pub(super) fn plan(view: &View) -> Plan {
    let movement = &view.play.cast.model.movement;
    let (mut place, goes) = moving_station(view);
    if view.jumps {
        place += jump(view, place);
    }
    let near = view.stance.deny || view.relation == Relation::OnBall;
    let wrong_side = view.body.pos.length() > view.man.at.length() + view.model.wrong_side;
    Plan {
        duty: match view.relation {
            Relation::OnBall => Duty::OnBall,
            Relation::OnePass if view.stance.deny => Duty::Denying,
            Relation::OnePass => Duty::Gap,
            Relation::TwoPasses => Duty::HelpLine,
            Relation::PostBallSide | Relation::PostWeakSide => Duty::Post,
            Relation::Cutter => Duty::Trailing,
        },
        place,
        goes,
        face: face_of(view),
        // The ball has just left the own player: a jump to it, so that no cut goes in front.
        hurry: if wrong_side || view.jumps {
            Hurry::Urgent
        } else if view.turns_out {
            // The run with the cutter is over: one stops with him.
            Hurry::ClosesOut
        } else {
            Hurry::AtEase
        },
        closes: if near {
            movement.close_rate_near
        } else {
            movement.close_rate_easy
        },
        pace: 1.0,
        aside: false,
    }
}
