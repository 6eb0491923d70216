//! The ways of runs and cuts, and which passes suit a look.

use crate::ball::PassKind;
use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::looks::{BODIES, Scene};
use crate::model::Looks;
use crate::offence::{CutLane, LookKind, Movement, Place};
use crate::possession::What;

use super::manner::home_of;
use super::parts::*;

/// A cutter no farther than this from the place that he held cuts from it, metres (ours).
const FROM_THERE: f64 = 3.5;

/// The place from which he cuts: his own is already the one to which he will come out, so that by which the rule
/// found him, or where he is.
pub fn cuts_from(court: &Court, found: Option<Spot>, pos: Vec2, side: Side) -> Spot {
    let found = found.filter(|&spot| (court.spot(spot) - pos).length() < FROM_THERE);
    found.unwrap_or_else(|| court.nearest_spot_on(pos, side))
}

/// Player `who` (1-5) sets out on a cut along `line`: a place to go by, and where it ends; `to` a place, if not to the
/// rim.
pub fn cut(
    clock: &Clock,
    book: &mut Book,
    who: u8,
    lane: CutLane,
    (from, to): (Spot, Option<Spot>),
    line: (Option<Vec2>, Vec2),
    unfed: Box<Movement>,
) -> Task {
    let cuts = What::Cuts {
        who,
        from,
        lane,
        to,
    };
    book.write(clock, cuts);
    Task::Cut {
        lane,
        from,
        to,
        via: line.0,
        goal: line.1,
        unfed,
        reached: None,
        off_a_screen: false,
    }
}

/// Where a player stands at a post spot: a step outside the lane, so that three seconds do not run.
pub(super) fn feet(court: &Court, spot: Spot) -> Vec2 {
    let p = court.spot(spot);
    match spot.name {
        SpotName::Elbow => Vec2::new(p.x + 0.4 * if p.x < 0.0 { -1.0 } else { 1.0 }, p.y),
        SpotName::HighPost => Vec2::new(p.x, p.y + 0.4),
        _ => p,
    }
}

/// A run from a place through up to three points.
pub fn run(from: Vec2, points: &[Vec2], pace: f64) -> Task {
    let mut way = [from; 4];
    let legs = points.len().min(3);
    way[1..=legs].copy_from_slice(&points[..legs]);
    Task::Run {
        way,
        legs: legs as u8 + 1,
        leg: 1,
        pace,
    }
}

/// The line of a cut: in front of his defender, or behind him.
pub fn cut_line(
    looks: &Looks,
    old: &Old,
    ball: &Ball,
    who: usize,
    lane: CutLane,
) -> (Option<Vec2>, Vec2) {
    let pos = old.scene.pos[who];
    let distance = pos.length().max(1e-6);
    let to_rim = -pos / distance;
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let hand = hand_of(ball, pos, across, lane);
    let defender = old.scene.guarded_by(who);
    let via = defender.and_then(|d| {
        let guard = old.scene.pos[5 + d];
        let ahead = (guard - pos).dot(to_rim);
        // Go round a body that stands between him and the rim.
        (ahead > 0.2 && ahead < 3.5).then(|| guard + across * (hand * ROUND))
    });
    let goal = match lane {
        CutLane::BallSide => to_rim * -1.2 + across * (hand * 0.4),
        CutLane::Behind => crate::looks::backdoor::lay_up_spot(looks, pos) * 0.9,
    };
    (via, goal)
}

/// On which hand of the line with `across` to its left a cutter at `pos` goes by the defender, 1 or -1: on the ball's, or
/// on the other.
fn hand_of(ball: &Ball, pos: Vec2, across: Vec2, lane: CutLane) -> f64 {
    let off = (ball.pos - pos).dot(across);
    let ball_hand = Side::of(off, Side::of(ball.side.sign() * across.x, ball.side)).sign();
    match lane {
        CutLane::BallSide => ball_hand,
        CutLane::Behind => -ball_hand,
    }
}

/// A cutter goes round a defender at this distance, metres (ours).
const ROUND: f64 = 0.9;

/// The place where a cut ends that a player is told to make, if that is not the rim.
pub fn end_of(ball: &Ball, job: &Job, to: Option<Place>) -> Option<Spot> {
    let found = job.order.found_at.and_then(|spot| spot.side);
    to.and_then(|place| place.spot(ball.side, found.or(job.own)))
}

/// The line of a cut that a player is told to make, and the place where it ends, if that is not the rim.
pub fn line_of(
    play: &Play,
    old: &Old,
    ball: &Ball,
    job: &Job,
    who: usize,
    (lane, to): (CutLane, Option<Place>),
) -> (Option<Spot>, (Option<Vec2>, Vec2)) {
    let to = end_of(ball, job, to);
    let line = match to {
        None => cut_line(&play.cast.model.looks, old, ball, who, lane),
        // Where he is to stay he stands as he does in a place of his own.
        Some(spot) if job.place == Some(spot) && spot.name.is_perimeter() => {
            let home = home_of(play, old, who, job.order.told, spot);
            line_to(old, ball, who, lane, home)
        }
        Some(spot) => line_to(old, ball, who, lane, feet(&play.cast.court, spot)),
    };
    (to, line)
}

/// The line of a cut to a place, in front of the defender or behind: round a defender who stands in the way.
fn line_to(old: &Old, ball: &Ball, who: usize, lane: CutLane, goal: Vec2) -> (Option<Vec2>, Vec2) {
    let pos = old.scene.pos[who];
    let off = goal - pos;
    let way = off / off.length().max(1e-6);
    let across = Vec2::new(-way.y, way.x);
    let hand = hand_of(ball, pos, across, lane);
    let guard = old.scene.guarded_by(who).map(|d| old.scene.pos[5 + d]);
    let via = guard.and_then(|guard| {
        let ahead = (guard - pos).dot(way);
        let aside = (guard - pos).dot(across).abs();
        let in_the_way = ahead > 0.2 && ahead < off.length().min(3.5) && aside < ASIDE;
        in_the_way.then(|| guard + across * (hand * ROUND))
    });
    (via, goal)
}

/// A defender farther off the line of a cut to a place than this is not in its way, metres (ours).
const ASIDE: f64 = 1.2;

/// Which kinds of pass a look may be thrown with.
pub fn kinds_for(look: LookKind) -> &'static [PassKind] {
    use LookKind as L;
    match look {
        L::Backdoor => &[PassKind::Bounce, PassKind::Chest],
        L::GiveAndGo => &[PassKind::Chest, PassKind::Bounce],
        L::Post => &[PassKind::Bounce, PassKind::Chest, PassKind::Overhead],
        L::DropOff => &[PassKind::DropOff, PassKind::Bounce, PassKind::Chest],
        L::KickOut => &[PassKind::Chest, PassKind::Bounce, PassKind::Overhead],
        L::NextPass => &[PassKind::Chest, PassKind::Bounce, PassKind::Overhead],
        L::Skip => &[PassKind::Overhead, PassKind::Chest],
        L::Shot | L::Drive => &[],
    }
}

/// Out of the lane by the side that is free and the shorter way `to` where he goes; to be out of it soon, `to`
/// is where he is.
pub fn lane_side(scene: &Scene, who: usize, to: Vec2, court: &Court) -> Vec2 {
    let pos = scene.pos[who];
    // He cannot turn on the spot: he goes on for a moment as he goes.
    let soon = pos + scene.vel[who] * GOES_ON;
    let out = |side: f64| {
        let y = soon.y.clamp(BEHIND_THE_RING, HIGHEST_WAY_OUT);
        Vec2::new(side * (court.lane_width * 0.5 + 0.5), y)
    };
    let cost = |side: f64| {
        let exit = out(side);
        let more = if crowded(scene, who, pos, exit) {
            0.7
        } else {
            0.0
        };
        (exit - soon).length() + (to - exit).length() + more
    };
    // On the midline the side is told by where the others are.
    let all: f64 = scene.pos.iter().map(|p| p.x).sum();
    let told = if soon.x == 0.0 { all } else { soon.x };
    let near = if told < 0.0 { -1.0 } else { 1.0 };
    if cost(near) <= cost(-near) {
        out(near)
    } else {
        out(-near)
    }
}

/// Is anybody else in the way between two points?
pub fn crowded(scene: &Scene, who: usize, from: Vec2, to: Vec2) -> bool {
    (0..BODIES).any(|i| i != who && near_segment(scene.pos[i], from, to) < BERTH)
}

/// Distance of a point from the line between two others.
pub fn near_segment(p: Vec2, a: Vec2, b: Vec2) -> f64 {
    let way = b - a;
    let share = ((p - a).dot(way) / way.length_squared().max(1e-9)).clamp(0.0, 1.0);
    (p - a - way * share).length()
}

/// So long a runner goes on before he has turned, seconds; and by the side of the lane nobody goes out farther
/// from the baseline than this above the ring, metres (ours).
const GOES_ON: f64 = 0.35;
const HIGHEST_WAY_OUT: f64 = 3.6;

/// Behind the ring's centre nobody runs farther in than this, metres (ours).
pub(super) const BEHIND_THE_RING: f64 = -0.1;

/// Bodies this near to a runner's line are in the way, metres.
pub(super) const BERTH: f64 = 0.7;
