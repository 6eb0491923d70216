//! How long an order needs: the time in which its player would be there, running as players of the model run, with
//! nobody in the way. For the account of orders only.

use crate::body::{Body, Intent, follow, wish};
use crate::court::Vec2;
use crate::offence::{Movement, Place, Role};
use crate::possession::TICK;

use super::manner::{COMES_OUT, FILLS, SHIFTS, effort_of, pace_of_run};
use super::parts::*;
use super::screens::COMES_TO_WAIT;
use super::ways::{feet, run};

/// A player is in the place within this distance, metres (ours: a step).
pub const IN_PLACE: f64 = 1.0;
/// Nothing takes longer than this, seconds.
const LONGEST: f64 = 10.0;

/// A run: how fast, with how much of the player's power, with what lag, and how he eases up.
struct Going {
    pace: f64,
    effort: f64,
    lag: f64,
    settle: f64,
}

/// How long a player needs at least to where a movement is carried out, seconds, with nobody in the way: to the
/// place, to where to show, or both the screener and his team-mate to where that one waits.
pub fn takes(
    play: &Play,
    ball: &Ball,
    old: &Old,
    job: &Job,
    who: usize,
    does: &Movement,
) -> Option<f64> {
    let scene = &old.scene;
    let court = &play.cast.court;
    let model = &play.cast.model.movement;
    let number = |role: &Role| match role {
        Role::Player(n) => usize::from(*n).checked_sub(1).filter(|i| *i < 5),
        _ => None,
    };
    let spot = |place: &Place| place.spot(ball.side, job.own).map(|spot| court.spot(spot));
    let hard = |pace| Going {
        pace,
        effort: 1.0,
        lag: model.lag,
        settle: f64::INFINITY,
    };
    let time = |runner: usize, to: Vec2, going: &Going| {
        let body = Body {
            pos: scene.pos[runner],
            vel: scene.vel[runner],
            facing: scene.facing[runner],
        };
        runs(play, runner, body, to, going)
    };
    Some(match does {
        Movement::Flash { to, .. }
        | Movement::Seal { at: to, .. }
        | Movement::Cut { to: Some(to), .. } => time(who, spot(to)?, &hard(1.0)),
        Movement::Cut { to: None, .. } => time(who, Vec2::ZERO, &hard(1.0)),
        // Both have to come there.
        Movement::ScreenFor { whom, .. } => {
            let mate = number(whom)?;
            let at = old.waits[mate].unwrap_or(scene.pos[mate]);
            time(who, at, &hard(1.0)).max(time(mate, at, &hard(COMES_TO_WAIT)))
        }
        Movement::UseScreen { of, .. } => {
            let at = job.order.found_at.map(|spot| feet(court, spot));
            let at = at.unwrap_or(scene.pos[who]);
            time(number(of)?, at, &hard(1.0)).max(time(who, at, &hard(COMES_TO_WAIT)))
        }
        // No sooner than a pass to somebody else has left that had begun before.
        Movement::PassNext(to) => {
            let hold = ball.hold().filter(|hold| hold.by == who)?;
            match hold.pending {
                Some(Pending::Pass { to: other, at, .. }) if Some(other) != number(to) => {
                    f64::from((at + 1).saturating_sub(job.order.told)) * TICK
                }
                _ => return None,
            }
        }
        Movement::HandOff(to) => time(number(to)?, scene.pos[who], &hard(1.0)),
        Movement::DribbleHandOff(to) => {
            // The two come together.
            let half = (scene.pos[number(to)?] + scene.pos[who]) * 0.5;
            time(who, half, &hard(play.cast.players[who].dribble))
        }
        does if does.is_to_a_place() => {
            let to = court.spot(job.place?);
            let pos = scene.pos[who];
            let asked = asks(does);
            let going = Going {
                pace: pace_of_run(play, who, pos, (to - pos).length(), asked),
                effort: effort_of(&run(pos, &[to], asked)),
                lag: model.lag,
                settle: model.settle_rate,
            };
            time(who, to, &going)
        }
        _ => return None,
    })
}

/// The share of the top speed that such a run asks for.
fn asks(does: &Movement) -> f64 {
    match does {
        Movement::Drift(_) | Movement::Lift(_) => SHIFTS,
        Movement::CircleOut(_) | Movement::GoThrough(_) => COMES_OUT,
        _ => FILLS,
    }
}

/// Seconds until a body that makes for `to` and stops there is a step before it.
fn runs(play: &Play, who: usize, mut body: Body, to: Vec2, going: &Going) -> f64 {
    let model = &play.cast.model;
    let limits = play.cast.players[who].limits.with_effort(going.effort);
    let intent = Intent {
        target: to,
        arrive: true,
        pace: going.pace,
        face: None,
    };
    let mut time = 0.0;
    while (to - body.pos).length() >= IN_PLACE && time < LONGEST {
        let wish = wish(model, &body, &limits, &intent, TICK, going.settle);
        body = follow(&body, &limits, &wish, TICK, going.lag);
        time += TICK;
    }
    time
}
