//! The stance of the file: where a defender stands by the relation of the own player to the ball.

use super::pace::Hurry;
use super::*;

/// A defender in the passing lane may be this much farther from the rim than the own player, metres; nobody
/// else is at all (common practice).
const UP_THE_LANE: f64 = 0.3;

/// The stance of defender `d` for a relation: the defender's own habit before the defence's.
pub fn stance_of(play: &Play, d: usize, relation: Relation) -> Stance {
    let defence = &play.scenario.defence;
    defence
        .overrides
        .iter()
        .filter(|o| usize::from(o.defender) == d + 1)
        .find_map(|o| o.of(relation))
        .copied()
        .unwrap_or(*defence.stances.of(relation))
}

/// Where a stance puts a defender, metres, whose player is at `man`, with the ball at `ball`: never
/// farther from the rim than the player, but for an arm's length in the passing lane.
pub fn station(stance: &Stance, man: Vec2, ball: Vec2) -> Vec2 {
    let sum = (stance.man + stance.ball + stance.rim).max(1e-9);
    let mut p = (man * stance.man + ball * stance.ball) / sum;
    p.x *= 1.0 - stance.midline;
    let off = p - man;
    let gap = off.length();
    if gap > 1e-6 {
        let kept = gap.clamp(stance.gap.0, stance.gap.1);
        p = man + off * (kept / gap);
    } else {
        p = man - man / man.length().max(1e-6) * stance.gap.0;
    }
    let most = man.length() + if stance.deny { UP_THE_LANE } else { 0.0 };
    let far = p.length();
    if far > most { p * (most / far) } else { p }
}

/// The relation of an attacker to the ball.
pub fn relation_of(old: &Old, ball: &Ball, man: usize) -> Relation {
    if ball.man() == man {
        return Relation::OnBall;
    }
    match old.doing[man] {
        Doing::Cutting { .. } => Relation::Cutter,
        Doing::Inside | Doing::DropOff => {
            let x = old.scene.pos[man].x * ball.side.sign();
            if x > -0.6 {
                Relation::PostBallSide
            } else {
                Relation::PostWeakSide
            }
        }
        Doing::Outside => match old.away[man] {
            Some(1) => Relation::OnePass,
            _ => Relation::TwoPasses,
        },
    }
}

/// The place of the stance now, metres, and the velocity with which it moves, m/s: as the player goes,
/// so goes the place.
pub(super) fn moving_station(view: &View) -> (Vec2, Vec2) {
    let model = view.model;
    let goes = if view.relation == Relation::OnBall {
        view.man.vel
    } else {
        view.outside.slows(view.man.at, view.man.vel)
    };
    let planned = view.man.at + goes * model.anticipation;
    let at = |man: Vec2| station(&view.stance, man, view.ball_at);
    let place = at(planned);
    let soon = at(planned + goes * model.station_step);
    (place, (soon - place) / model.station_step)
}

/// At home in the stance.
pub(super) fn plan(view: &View) -> Plan {
    let movement = &view.play.cast.model.movement;
    let (place, goes) = moving_station(view);
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
        hurry: if wrong_side {
            Hurry::Urgent
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
