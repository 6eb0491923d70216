//! A ball held in a corner is trapped, if the file says so: the defender of the next pass goes to it as well, and the
//! other three take the three next passes (common practice: the sideline and the baseline are two more defenders).

use crate::court::SpotName;

use super::pace::Hurry;
use super::share::rotate;
use super::*;

/// As near to the corner's place as this, metres, the ball is in it (ours).
const IN_IT: f64 = 2.0;
/// The second stands so far from the ball, metres, and so much on the rim's side of it, as a share (ours: up to the
/// touch, beside the first).
const BESIDE: f64 = 0.85;
const INSIDE: f64 = 0.3;

/// The ball held in a corner that is trapped; `None` if it is anywhere else, or driven.
fn cornered<'a>(play: &Play, ball: &'a Ball, old: &Old) -> Option<&'a Hold> {
    let hold = ball.hold().filter(|_| play.scenario.defence.trap_corners)?;
    let at = old.scene.pos[hold.by];
    let court = &play.cast.court;
    let spot = court.nearest_spot(at);
    let inside = spot.name == SpotName::Corner && (court.spot(spot) - at).length() < IN_IT;
    (inside && hold.work != Ballwork::Driving).then_some(hold)
}

/// Sends the second to a ball in the corner, and the others to the next passes. Is there such a ball?
pub(super) fn traps(play: &Play, clock: &Clock, ball: &Ball, old: &Old, five: &mut Five) -> bool {
    let Some(hold) = cornered(play, ball, old) else {
        return false;
    };
    let helps = |d: &usize| matches!(five[*d].2.cover, Cover::Help { .. });
    if let Some(second) = play.cast.five().find(helps) {
        rotate(play, clock, ball, old, second, five, true);
        return true;
    }
    let may = |d: &usize| five[*d].2.man != hold.by && five[*d].3.sees_ball;
    let cost = |d: usize| {
        let next = old.away[five[d].2.man] == Some(1);
        let far = (old.scene.pos[5 + d] - old.scene.pos[hold.by]).length();
        (!next, far)
    };
    let nearer = |a: &usize, b: &usize| {
        let (a, b) = (cost(*a), cost(*b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    };
    if let Some(d) = play.cast.five().filter(may).min_by(nearer) {
        let player = &play.cast.players[5 + d];
        let knows = player.limits.reaction + player.judgement.decision;
        if clock.tick >= hold.since + ticks(knows) {
            five[d].2.cover = Cover::Help {
                since: clock.tick,
                from: Some(old.scene.pos[5 + d]),
            };
        }
    }
    true
}

/// The second on a ball in the corner: out along the sideline beside it; `None` if it is not there any more.
pub(super) fn plan(view: &View) -> Option<Plan> {
    let hold = cornered(view.play, view.ball, view.old)?;
    let ball = view.old.scene.pos[hold.by];
    Some(Plan {
        duty: Duty::OnBall,
        place: ball + unit(Vec2::Y + unit(-ball) * INSIDE) * BESIDE,
        goes: view.old.scene.vel[hold.by],
        face: ball - view.body.pos,
        hurry: Hurry::Urgent,
        closes: view.play.cast.model.movement.close_rate_urgent,
        pace: 1.0,
        aside: false,
    })
}
