//! A holder who has nothing to do yet dribbles: out to his place, on the spot while he waits, or round the rim
//! for a better angle.

use crate::court::{Side, Spot, Vec2};
use crate::possession::{Ballwork, Finish, TICK, What};

use super::super::choose::SAFE_PASS;
use super::super::parts::*;
use super::Now;

/// Who caught it beside his place looks for so long before he takes it out there, seconds, if it is no farther
/// than this, metres (ours).
const TAKES_IT_OUT: (f64, f64, f64) = (0.6, 5.5, 8.0);

/// A closely guarded holder who waits starts to dribble after this long, seconds (ours; the
/// rule: five).
pub const COUNTED: f64 = 2.5;
/// With no safe pass the holder starts to dribble after this long, seconds, and goes this far, metres (ours).
const WAITS_FOR_AN_ANGLE: f64 = 1.8;
const ANGLE: f64 = 2.2;
/// So near to a team-mate's place he does not dribble, metres (ours: nearer than that one defender guards both).
const LEAVES_HIM_ROOM: f64 = 3.0;

/// Nothing open and nobody safe to pass to for a while: he puts the ball on the floor and moves round
/// the perimeter for a better angle, toward the middle (common practice: move the ball to open a
/// passing lane). Before that, he goes to his place if he caught it elsewhere, or waits for who is on the way.
pub(super) fn dribble_for_an_angle(now: &Now, hold: &mut Hold, book: &mut Book) {
    let &Now {
        play, old, here, ..
    } = now;
    let pos = old.scene.pos[hold.by];
    let may = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling)
        && hold.pending.is_none()
        && hold.at_mate.is_none()
        && hold.hands.is_none()
        && hold.handed.is_none()
        && !play.scenario.drill.clean;
    if !may {
        return;
    }
    if picks_it_up(now.clock, hold) {
        return;
    }
    let home = old.places[hold.by].filter(|spot| spot.name.is_perimeter());
    let beside = !here.name.is_perimeter() || play.cast.court.in_lane(pos);
    if beside || home.is_some_and(|home| home != here) {
        takes_it_out(now, hold, (home, beside), book);
        return;
    }
    if let Some(mate) = (0..5).find(|&i| i != hold.by && old.awaited[i]) {
        waits_for_him(now, hold, mate, book);
        return;
    }
    if !wants_an_angle(now, hold) {
        return;
    }
    let hand = hold.angle_hand.unwrap_or_else(|| way_round(old, pos));
    // Not on to a team-mate's place; rather a short way.
    let taken = |at: Vec2| {
        (0..5).any(|i| {
            let home = old.places[i].filter(|spot| i != hold.by && spot.name.is_perimeter());
            home.is_some_and(|spot| (play.cast.court.spot(spot) - at).length() < LEAVES_HIM_ROOM)
        })
    };
    let ways = [ANGLE, 0.5 * ANGLE].map(|way| round_the_rim(pos, hand, way));
    let Some(at) = ways.into_iter().find(|at| !taken(*at)) else {
        return;
    };
    let at = play.cast.court.clamp_inside(at, 0.5);
    hold.angle_hand = Some(hand);
    puts_it_down(now.clock, hold, Some(at), (None, None), book);
}

/// Closely guarded for so long on the dribble he picks it up, seconds (ours; the rule: five on the dribble, and five
/// with the ball in hand).
const PICKS_UP: f64 = 4.2;

/// Who cannot get away from the defender on the dribble picks it up before the count is over: another begins. Does
/// that happen now?
fn picks_it_up(clock: &Clock, hold: &mut Hold) -> bool {
    let counted = |t| f64::from(clock.tick - t) * TICK > PICKS_UP;
    let now = hold.work == Ballwork::Dribbling && hold.guarded_since.is_some_and(counted);
    if now {
        hold.work = Ballwork::PickedUp;
        hold.pivot = None;
        (hold.picked_up, hold.guarded_since) = (Some(clock.tick), None);
        (hold.angle, hold.drove_from) = (None, None);
    }
    now
}

/// Beside his place outside he caught it: he takes it out there.
fn takes_it_out(now: &Now, hold: &mut Hold, (home, beside): (Option<Spot>, bool), book: &mut Book) {
    let court = &now.play.cast.court;
    let pos = now.old.scene.pos[hold.by];
    let off = |spot: Spot| (court.spot(spot) - pos).length();
    let looked = now.clock.tick >= hold.since + ticks(TAKES_IT_OUT.0);
    let far = if beside {
        TAKES_IT_OUT.1
    } else {
        TAKES_IT_OUT.2
    };
    if let Some(home) = home.filter(|&spot| looked && off(spot) < far)
        && hold.how == Finish::SpotUp
        && hold.angle.is_none()
        && hold.drove_from.is_none()
    {
        let at = Some(court.spot(home));
        puts_it_down(now.clock, hold, at, (None, Some(home)), book);
    }
}

/// Closely guarded, the holder dribbles on the spot while a team-mate is on the way, so that the count stops.
fn waits_for_him(now: &Now, hold: &mut Hold, mate: usize, book: &mut Book) {
    let clock = now.clock;
    let counted = |t| f64::from(clock.tick - t) * TICK > COUNTED;
    if hold.work == Ballwork::Holding && hold.guarded_since.is_some_and(counted) {
        puts_it_down(clock, hold, None, (Some(mate as u8 + 1), None), book);
    }
}

/// Has he waited for long with no safe pass, no cutter to look for and nobody who comes to him?
fn wants_an_angle(now: &Now, hold: &Hold) -> bool {
    let safe = now
        .looks
        .iter()
        .any(|l| l.to.is_some() && l.allowed && l.openness >= SAFE_PASS);
    // Nor away from a team-mate who comes to him, or before he would have moved the ball on.
    let comes = now.old.screening.iter().any(Option::is_some);
    let began = hold.angle_since.unwrap_or(hold.since);
    let waited = f64::from(now.clock.tick.saturating_sub(began)) * TICK;
    let waits = WAITS_FOR_AN_ANGLE.max(now.play.scenario.offence.patience.hold);
    // He looks for the cutter first.
    !(now.someone_cuts() || safe || comes || waited < waits)
}

/// Which way round the rim: toward the middle of the floor; from the middle to the side with more room.
fn way_round(old: &Old, pos: Vec2) -> f64 {
    let room = |hand: f64| {
        old.scene
            .nearest_defender(round_the_rim(pos, hand, ANGLE))
            .0
    };
    if pos.x.abs() > 1.5 {
        // Counter-clockwise about the rim leads toward the middle from the right.
        pos.x.signum()
    } else {
        // As much on both sides: told by the ball side.
        Side::of(room(1.0) - room(-1.0), old.side).sign()
    }
}

/// A stretch of `way` metres round the rim from `pos`; the same way as before, so that nobody dribbles to and fro.
fn round_the_rim(pos: Vec2, hand: f64, way: f64) -> Vec2 {
    let distance = pos.length().max(1e-6);
    let across = Vec2::new(-pos.y, pos.x) / distance;
    let to = pos + across * (hand * way);
    to * (distance / to.length().max(1e-6))
}

fn puts_it_down(
    clock: &Clock,
    hold: &mut Hold,
    at: Option<Vec2>,
    (waits_for, to): (Option<u8>, Option<Spot>),
    book: &mut Book,
) {
    hold.angle = at;
    hold.angle_since = Some(clock.tick);
    hold.dribbles();
    let who = hold.by as u8 + 1;
    book.write(clock, What::Dribbles { who, waits_for, to });
}
