//! The stance of the file: where a defender stands by the relation of the own player to the ball.

use crate::court::Vec2;
use crate::defence::{Area, Relation, Stance};

use super::components::*;

/// A defender in the passing lane may be this much farther from the rim than the own player, metres; nobody
/// else is at all (common practice).
const UP_THE_LANE: f64 = 0.3;

/// The stance of defender `d` for a relation: the defender's own habit before the defence's.
pub fn stance_of(play: &Play, d: usize, relation: Relation) -> &Stance {
    let defence = &play.scenario.defence;
    defence
        .overrides
        .iter()
        .filter(|o| usize::from(o.defender) == d + 1)
        .find_map(|o| o.of(relation))
        .unwrap_or_else(|| defence.stances.of(relation))
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
        // Who comes out again from the rim is no threat any more.
        Doing::Cutting { arrived: true, .. } if goes_out(old, man) => Relation::TwoPasses,
        // Nor is a cutter who was not fed run with any longer: that one is inside, as a post is.
        Doing::Cutting { arrived: true, .. } | Doing::Inside | Doing::DropOff => {
            let side = if ball.pos.x.abs() > ACROSS {
                ball.pos.x.signum()
            } else {
                ball.side.sign()
            };
            let x = old.scene.pos[man].x * side;
            if x > -0.6 {
                Relation::PostBallSide
            } else {
                Relation::PostWeakSide
            }
        }
        Doing::Cutting { .. } => Relation::Cutter,
        Doing::Absent => Relation::TwoPasses,
        Doing::Outside => match old.away[man] {
            Some(1) => Relation::OnePass,
            _ => Relation::TwoPasses,
        },
    }
}

/// A ball farther than this from the middle is on the side where it is, metres; in the middle on the side where it was (ours).
const ACROSS: f64 = 1.0;

/// Is a cutter on the way out from the rim?
fn goes_out(old: &Old, man: usize) -> bool {
    let pos = old.scene.pos[man];
    pos.length() > GONE_OUT.0 && old.scene.vel[man].dot(pos) > GONE_OUT.1 * pos.length()
}

/// Farther from the rim than the first, metres, and faster outward than the second, m/s (ours).
const GONE_OUT: (f64, f64) = (1.8, 0.8);

/// Where an area is with the ball at `ball`, metres.
pub(super) fn shifted(area: &Area, ball: Vec2) -> Vec2 {
    Vec2::new(
        area.x + area.shift.0 * ball.x,
        area.y + area.shift.1 * (ball.y - 6.0),
    )
}

/// The direction of a vector; up the floor if it has none.
pub(super) fn unit(v: Vec2) -> Vec2 {
    let n = v.length();
    if n > 1e-9 { v / n } else { Vec2::new(0.0, 1.0) }
}
