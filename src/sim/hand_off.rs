//! Hand-offs: the holder stands, or dribbles toward a team-mate, who comes by on the side away from his defender and
//! takes the ball. From there on it is a screen on the ball: the giver is the screener (`ball_screen.rs`). A holder
//! whose team-mate is overplayed keeps the ball.

use crate::body::Intent;
use crate::court::Vec2;

use super::parts::*;
use super::screens::guard_of;
use super::stance::unit;

/// The receiver comes for the ball when the giver has dribbled this near, metres (ours: a few steps for each).
const COMES_FROM: f64 = 4.2;
/// The giver stops when the receiver is this near, metres (ours: he stands before the other's defender comes by).
const STOPS: f64 = 2.2;
/// The ball goes over at this distance of the two, metres (ours: two arms, bodies side by side).
pub const HANDS: f64 = 1.05;
/// The receiver passes the giver's middle at this distance, metres: shoulder to shoulder (ours).
const SHOULDER: f64 = 0.75;
/// He runs on past it, so that he takes it on the move, metres (ours).
const RUNS_ON: f64 = 0.8;
/// Share of the top speed with which he comes (ours: under control).
const COMES_AT: f64 = 0.75;
/// Share of his dribbling speed with which the giver comes (ours: as at a team-mate).
const DRIBBLES_AT: f64 = 0.8;
/// Nearer than this to the giver the receiver is overplayed by a defender who stands in his way, no farther off it
/// than the second, metres, for so long, seconds (ours; common practice: "keep it if he is overplayed").
const NEAR: f64 = 3.2;
const IN_THE_WAY: f64 = 0.5;
pub const OVERPLAYED_FOR: f64 = 0.28;
/// The holder gives a hand-off up after this long, seconds (ours: from one side of the floor to the other).
pub const TRIES: f64 = 4.0;

/// Where the receiver goes by the giver, metres: on the side on which his defender is not.
fn by(old: &Old, giver: usize, receiver: usize) -> Vec2 {
    let (pos, at) = (old.scene.pos[receiver], old.scene.pos[giver]);
    let way = unit(at - pos);
    let across = Vec2::new(-way.y, way.x);
    let guard = old.scene.pos[guard_of(old, receiver)];
    let off = (guard - at).dot(across);
    // With the defender on the line itself, on the side away from the rim.
    let off = if off == 0.0 { -at.dot(across) } else { off };
    at - across * (SHOULDER * off.signum()) + way * RUNS_ON
}

/// The receiver's step: he waits until the giver is near, then comes for the ball; `None` if it is off.
pub fn comes(ball: &Ball, old: &Old, who: usize, giver: usize) -> Option<Option<Intent>> {
    let hands = ball.hold().and_then(|hold| hold.hands);
    let hands = hands.filter(|hands| hands.to == who)?;
    let away = (old.scene.pos[giver] - old.scene.pos[who]).length();
    if hands.dribbles && away > COMES_FROM {
        return Some(None);
    }
    Some(Some(Intent {
        target: by(old, giver, who),
        arrive: false,
        pace: COMES_AT,
        face: None,
    }))
}

/// The giver's step: toward the receiver, and still once that one is near.
pub fn gives(play: &Play, old: &Old, hold: &Hold, hands: &Hands) -> Intent {
    let (pos, mate) = (old.scene.pos[hold.by], old.scene.pos[hands.to]);
    let stands = !hands.dribbles || (mate - pos).length() < STOPS;
    Intent {
        target: if stands { pos } else { mate },
        arrive: true,
        pace: play.cast.players[hold.by].dribble * DRIBBLES_AT,
        face: stands.then_some(mate - pos),
    }
}

/// Is the receiver overplayed? In a walk-through the walker says who is.
pub fn is_overplayed(play: &Play, old: &Old, signals: &Signals, giver: usize, to: usize) -> bool {
    if play.scenario.drill.passive {
        return signals.denied[to] > 0;
    }
    let (pos, at) = (old.scene.pos[to], old.scene.pos[giver]);
    let way = unit(at - pos);
    let apart = (at - pos).length();
    let guard = old.scene.pos[guard_of(old, to)] - pos;
    let ahead = guard.dot(way);
    let off = (guard - way * ahead).length();
    apart < NEAR && ahead > 0.0 && ahead < apart && off < IN_THE_WAY
}
