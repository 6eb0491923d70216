//! The ways of runs and cuts, and which passes suit a look.

use crate::ball::PassKind;
use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::model::Looks;
use crate::offence::{CutLane, LookKind, Movement};
use crate::possession::What;

use super::super::parts::*;
use super::super::plans;
use super::super::steer::{crowded, lane_side};

/// A cutter no farther than this from the place that he held cuts from it, metres (ours).
const FROM_THERE: f64 = 3.5;

/// The place from which he cuts: his own is already the one to which he will come out, so that by which the rule
/// found him, or where he is.
pub fn cuts_from(court: &Court, found: Option<Spot>, pos: Vec2, side: Side) -> Spot {
    let found = found.filter(|&spot| (court.spot(spot) - pos).length() < FROM_THERE);
    found.unwrap_or_else(|| court.nearest_spot_on(pos, side))
}

/// Player `who` (1-5) sets out on a cut along `line`: a place to go by, and where it ends.
pub fn cut(
    clock: &Clock,
    book: &mut Book,
    who: u8,
    lane: CutLane,
    from: Spot,
    line: (Option<Vec2>, Vec2),
    unfed: Box<Movement>,
) -> Task {
    book.write(clock, What::Cuts { who, from, lane });
    Task::Cut {
        lane,
        from,
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

/// Whoever comes out of the lane looks this far up his way, metres (ours).
const LOOKS_UP: f64 = 2.5;

/// From so far before the turn of that way on he goes straight to his place, metres (ours).
const BEYOND: f64 = 1.5;

/// From the rim out: along the baseline and round to a wing or a corner, straight up to anywhere else,
/// or by the side of the lane if bodies stand in the way.
pub(super) fn way_out(
    play: &Play,
    old: &Old,
    who: usize,
    spot: Spot,
    goal: Vec2,
    pace: f64,
) -> Task {
    let court = &play.cast.court;
    let scene = &old.scene;
    let pos = scene.pos[who];
    let under = pos.length() < play.cast.model.movement.full_pace_distance;
    if under && spot.name.is_perimeter() && !play.scenario.drill.any() {
        return plans::freest_way_out(play, scene, who, goal, pace);
    }
    // To the top he goes out on the side on which he is.
    let x = if spot.side.is_some() { goal.x } else { pos.x };
    let side = if x < 0.0 { -1.0 } else { 1.0 };
    let low = pos.y < 2.5;
    let pace = if spot.name.is_perimeter() { pace } else { 0.95 };
    if !low || !spot.name.is_wide() {
        let way = goal - pos;
        let up = pos + way * (LOOKS_UP / way.length().max(LOOKS_UP));
        if low && court.in_lane(pos) && crowded(scene, who, pos, up) {
            return run(pos, &[lane_side(&old.scene, who, goal, court), goal], pace);
        }
        return run(pos, &[goal], pace);
    }
    // Below the block, where the post may stand.
    let first = Vec2::new(
        side * (court.lane_width * 0.5 + 0.7),
        -0.1 * court.rim_to_baseline,
    );
    let second = Vec2::new(
        side * (goal.x.abs() * 0.8).max(first.x.abs()),
        (goal.y * 0.4).max(0.2),
    );
    if (pos.x - second.x) * side > -BEYOND {
        run(pos, &[goal], pace)
    } else if (pos.x - first.x) * side > 0.0 {
        run(pos, &[second, goal], pace)
    } else {
        run(pos, &[first, second, goal], pace)
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
    let off = (ball.pos - pos).dot(across);
    let ball_hand = Side::of(off, Side::of(ball.side.sign() * across.x, ball.side)).sign();
    let hand = match lane {
        CutLane::BallSide => ball_hand,
        CutLane::Behind => -ball_hand,
    };
    let defender = old.scene.guarded_by(who);
    let via = defender.and_then(|d| {
        let guard = old.scene.pos[5 + d];
        let ahead = (guard - pos).dot(to_rim);
        // Go round a body that stands between him and the rim.
        (ahead > 0.2 && ahead < 3.5).then(|| guard + across * (hand * 0.9))
    });
    let goal = match lane {
        CutLane::BallSide => to_rim * -1.2 + across * (hand * 0.4),
        CutLane::Behind => crate::looks::backdoor::lay_up_spot(looks, pos) * 0.9,
    };
    (via, goal)
}

/// Which kinds of pass a look may be thrown with.
pub fn kinds_for(look: LookKind) -> &'static [PassKind] {
    use LookKind as L;
    match look {
        L::Backdoor => &[PassKind::Bounce, PassKind::Chest],
        L::GiveAndGo => &[PassKind::Chest, PassKind::Bounce],
        L::Post => &[PassKind::Bounce, PassKind::Chest, PassKind::Overhead],
        L::DropOff => &[PassKind::DropOff, PassKind::Bounce, PassKind::Chest],
        L::KickOut => &[PassKind::Chest, PassKind::Bounce, PassKind::Overhead],
        L::NextPass => &[PassKind::Chest, PassKind::Bounce],
        L::Skip => &[PassKind::Overhead, PassKind::Chest],
        L::Shot | L::Drive => &[],
    }
}
