//! What the holder can see: every look of his, how open it is, what it is worth and who shuts it.

use crate::court::{Side, Spot, Vec2};
use crate::looks::passing::{Going, PassLook, best_pass};
use crate::looks::{Cast, Openness, driving, shooting};
use crate::model::Shots;
use crate::offence::{CutLane, LookKind};
use crate::possession::{Ballwork, Closer, Finish, LookNow};

use super::ball_screen::way_off;
use super::parts::*;
use super::ways::kinds_for;

/// A shot is open when the nearest defender is this far away, metres: 4 ft, where the official band
/// "open" begins (read: several data-API notes).
const OPEN_ROOM: f64 = 1.22;

/// A catch on the run is carried this far before the finish: a dribble and two steps, metres
/// (common practice).
const STRIDE: f64 = 2.2;

/// What a possession is still worth with the ball inside, as a share of the usual (ours).
const POST_TOUCH: f64 = 0.92;

/// A post who is fed farther from the ring than this, metres, faces it (ours).
const HIGH: f64 = 4.0;

/// A cutter is fed for a finish only this near to the rim, metres; farther out his catch is only a catch.
pub const FEED_WITHIN: f64 = 3.6;

/// Nearer to the ring than this nobody drives: he turns and shoots, metres (ours).
pub(super) const DRIVES_FROM: f64 = 2.5;

/// Who has it at a place inside, nearer than this, may go to the rim, wherever the file lets drives begin, metres (ours).
const GOES_TO_WORK_FROM: f64 = 4.5;

/// A look is "there" above this openness, a share: above it nobody shuts a pass (ours: one half).
pub const THERE: f64 = 0.5;

/// Who shuts a look that is not open. Nobody shuts what gets there all the same: that it is not open has another
/// reason, such as a catcher who is guarded. A shot always gets off, and who is near shuts it.
pub fn shut_by(look: &LookNow) -> Option<Closer> {
    let gets_there = look.kind != LookKind::Shot && look.openness > THERE;
    look.closer.filter(|_| !look.open && !gets_there)
}

pub(super) fn closer(old: &Old, clock: &Clock, openness: &Openness) -> Option<Closer> {
    let (d, chance) = openness.closer;
    (chance > 0.05).then(|| shuts_it(old, clock, d, chance))
}

/// Defender `d` shuts a look with this chance.
fn shuts_it(old: &Old, clock: &Clock, d: usize, chance: f64) -> Closer {
    let (duty, relation, since) = old.duties[d];
    Closer {
        defender: d as u8 + 1,
        duty,
        relation,
        chance,
        since: f64::from(clock.tick.saturating_sub(since)) * crate::possession::TICK,
    }
}

/// The spot at which a player is now: his place, or the nearest spot when he is on the move inside.
pub fn spot_of(play: &Play, old: &Old, who: usize) -> Spot {
    match old.doing[who] {
        Doing::Outside => old.places[who].unwrap_or_else(|| {
            play.cast
                .court
                .nearest_spot_on(old.scene.pos[who], old.side)
        }),
        _ => play
            .cast
            .court
            .nearest_spot_on(old.scene.pos[who], old.side),
    }
}

/// Who shows inside is fed there from this near on; who is fed as near to a place inside as the second, and this
/// far from his own, is fed inside, metres (ours).
pub(super) const SHOWN: f64 = 2.0;
const INSIDE: (f64, f64) = (1.5, 3.5);

/// The spot at which a pass to `to` that is caught at `point` reaches him: the place that he holds or shows at,
/// or where he catches it on his way.
pub(super) fn fed_at(play: &Play, old: &Old, to: usize, point: Vec2) -> Spot {
    let court = &play.cast.court;
    let off = |spot: Spot| (court.spot(spot) - point).length();
    let here = court.nearest_spot_on(point, old.side);
    if let Some(shows) = old.shown[to].filter(|&s| off(s) < SHOWN) {
        return shows;
    }
    match (old.doing[to], old.places[to]) {
        (Doing::Outside, Some(home)) => {
            let inside = !here.name.is_perimeter() && off(here) < INSIDE.0 && off(home) > INSIDE.1;
            if inside { here } else { home }
        }
        (Doing::Inside, Some(shows)) if off(shows) < SHOWN => shows,
        // A post stays one, wherever he is fed.
        (Doing::Inside, Some(home)) if !home.name.is_perimeter() => {
            court.nearest_inside(point, old.side)
        }
        _ => here,
    }
}

/// A holder farther than this from the place that he claims is not there, metres (ours).
pub(super) const NOT_THERE: f64 = 2.5;

/// A place to be kept filled that nobody else holds is his within this distance, metres (ours).
const THEIRS: f64 = 3.2;

/// The spot at which the holder is: the place that he claims, unless he is far from it; then, outside, the nearest
/// free place of those that the offence keeps filled, if one is near, or the nearest of all.
pub fn holder_spot(play: &Play, old: &Old, who: usize) -> Spot {
    let court = &play.cast.court;
    let pos = old.scene.pos[who];
    let claimed = spot_of(play, old, who);
    let off = |spot: Spot| (court.spot(spot) - pos).length();
    // A place is another step off the spot for everybody: it is held where it is for this player.
    let own = Some(old.homes[who]).filter(|home| home.spot == Some(claimed));
    let there = own.is_some_and(|home| (home.at - pos).length() <= NOT_THERE);
    if there || off(claimed) <= NOT_THERE {
        return claimed;
    }
    let here = court.nearest_spot_on(pos, old.side);
    if !here.name.is_perimeter() {
        return here;
    }
    let free = |spot: &Spot| (0..5).all(|i| i == who || old.places[i] != Some(*spot));
    let kept = play.scenario.offence.keep_filled.iter();
    kept.filter_map(|place| place.spot(old.side, here.side))
        .filter(|spot| free(spot) && off(*spot) < THEIRS)
        .min_by(|&a, &b| off(a).total_cmp(&off(b)))
        .unwrap_or(here)
}

/// The drive that the holder has now. The steps of a holder who looks are no start, in hand or on the dribble: the drive
/// begins from rest.
fn drive_from_here(cast: &Cast, old: &Old, hold: &Hold, tick: u32) -> driving::DriveLook {
    let mut scene = old.scene;
    if hold.work == Ballwork::Holding || hold.work == Ballwork::Dribbling && hold.angle.is_none() {
        scene.vel[hold.by] = Vec2::ZERO;
    }
    match way_off(old, hold.by, tick).filter(|_| may_come_off(old, hold)) {
        Some((off, via)) => {
            let held_up = if off.refuses { 0.0 } else { HELD_UP };
            driving::by_way(cast, &scene, hold.by, via, held_up)
        }
        None => driving::driving(cast, &scene, hold.by),
    }
}

/// Round a screen it takes the defender so much longer, seconds (ours: a step back and a step to the side).
const HELD_UP: f64 = 0.4;

/// Is a screen set for the holder, off which he may come?
pub fn may_come_off(old: &Old, hold: &Hold) -> bool {
    let free = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling);
    let busy = hold.at_mate.is_some() || hold.hands.is_some();
    old.ball_screen.is_some() && free && !busy
}

/// All looks of the holder now. The vector's order is fixed: shot, drive, then team-mates by number.
pub(super) fn measure(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    side: Side,
    looks: &mut Vec<LookNow>,
) -> driving::DriveLook {
    let here = holder_spot(play, old, hold.by);
    let drive = drive_from_here(&play.cast, old, hold, clock.tick);
    looks.push(shot_look(play, clock, old, hold, here));
    looks.push(drive_look(play, clock, old, hold, &drive, (here, side)));
    let mates = play.cast.five();
    let passes = mates.filter_map(|to| pass_look(play, clock, old, hold, here, to));
    looks.extend(passes);
    drive
}

/// When so little time is left nobody waits for more passes, seconds (ours).
const TAKES_WHAT_THERE_IS: f64 = 6.0;

/// Are so many passes as many as the coach asks first, or is the time nearly up?
fn are_passes_enough(play: &Play, clock: &Clock, passes: u32) -> bool {
    let first = play.scenario.offence.patience.passes_first;
    passes >= u32::from(first) || clock.left() < TAKES_WHAT_THERE_IS
}

/// May attacker `who` shoot at `point`, which is at that spot, after so many passes? At the rim everybody may.
fn may_shoot(
    (play, clock, old): (&Play, &Clock, &Old),
    who: usize,
    (point, spot): (Vec2, Spot),
    passes: u32,
) -> bool {
    let ball_side = Side::of(point.x, old.side);
    let from_here = || {
        let mut named = play.scenario.offence.shots_from.iter();
        let his = named.find(|shots| usize::from(shots.player) == who + 1);
        his.is_none_or(|s| s.from.iter().any(|p| p.takes_in(spot, ball_side)))
    };
    point.length() < DRIVES_FROM || are_passes_enough(play, clock, passes) && from_here()
}

/// The holder's own shot.
fn shot_look(play: &Play, clock: &Clock, old: &Old, hold: &Hold, here: Spot) -> LookNow {
    let (cast, scene, me) = (&*play.cast, &old.scene, hold.by);
    let (room, _, value) = shooting::shot_now(cast, scene, me, off_the_catch(clock, hold));
    let value = value * post_share(&cast.model.shots, hold.how == Finish::PostUp, room);
    let (_, near) = scene.nearest_defender(scene.pos[me]);
    LookNow {
        kind: LookKind::Shot,
        to: None,
        openness: 1.0,
        prize: value,
        value,
        pass: None,
        target: None,
        closer: (room < OPEN_ROOM)
            .then(|| shuts_it(old, clock, near, (1.0 - room / OPEN_ROOM).clamp(0.0, 1.0))),
        allowed: play.scenario.offence.reading.contains(&LookKind::Shot)
            && may_shoot((play, clock, old), me, (scene.pos[me], here), old.passes),
        open: room >= OPEN_ROOM && value >= 0.9 * play.usual,
        spot_up: false,
    }
}

/// The holder's drive from the spot where he is.
fn drive_look(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    drive: &driving::DriveLook,
    (here, side): (Spot, Side),
) -> LookNow {
    let (cast, scene, me) = (&*play.cast, &old.scene, hold.by);
    let guarded = shooting::guarded_on_the_way(cast, scene, me, drive.finish, drive.time);
    let (_, prize) = shooting::shot_at(cast, me, drive.finish, &guarded);
    let ball_side = Side::of(scene.pos[me].x, side);
    // Who has it at a place inside goes to work from there; from a place outside the file says who may drive.
    let inside = !here.name.is_perimeter() && scene.pos[me].length() < GOES_TO_WORK_FROM;
    let offence = &play.scenario.offence;
    let from = &offence.drive_from;
    let from_here = may_come_off(old, hold) || from.iter().any(|p| p.takes_in(here, ball_side));
    let outside = from_here && are_passes_enough(play, clock, old.passes);
    let allowed = offence.reading.contains(&LookKind::Drive) && (inside || outside);
    LookNow {
        kind: LookKind::Drive,
        to: None,
        openness: drive.openness.value,
        prize,
        value: prize,
        pass: None,
        target: Some(drive.finish),
        closer: closer(old, clock, &drive.openness),
        allowed: allowed && hold.work != Ballwork::PickedUp,
        open: drive.openness.value > THERE
            && hold.work != Ballwork::PickedUp
            && scene.pos[me].length() > DRIVES_FROM,
        spot_up: false,
    }
}

/// The pass to a team-mate, 0–4; `None` if none gets there.
fn pass_look(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    here: Spot,
    to: usize,
) -> Option<LookNow> {
    if to == hold.by {
        return None;
    }
    let (kind, going) = pass_to(old, hold, here, to);
    let pass = best_pass(&play.cast, &old.scene, hold.by, to, going, kinds_for(kind))?;
    let (prize, shot_open) =
        worth_of_a_catch((play, clock, old), (hold.by, to), kind, going, &pass);
    let open = pass.openness.value > THERE
        && (kind != LookKind::KickOut || shot_open || hold.work == Ballwork::PickedUp);
    Some(LookNow {
        kind,
        to: Some(to as u8 + 1),
        openness: pass.openness.value,
        prize,
        value: pass.openness.value * prize,
        pass: Some(pass.kind),
        target: Some(pass.target),
        closer: closer(old, clock, &pass.openness),
        allowed: play.scenario.offence.reading.contains(&kind),
        open,
        spot_up: only_moves_the_ball(kind) && shot_open,
    })
}

/// A pass that only moves the ball, unless the catcher can shoot.
pub(super) fn only_moves_the_ball(kind: LookKind) -> bool {
    use LookKind as L;
    matches!(kind, L::NextPass | L::Skip | L::KickOut)
}

/// Which kind of look a pass to this team-mate is, by what he does, and where he goes.
pub(super) fn pass_to(old: &Old, hold: &Hold, here: Spot, to: usize) -> (LookKind, Going) {
    let driving_now = hold.drive.is_some() || hold.drove_from.is_some();
    let stops = Going {
        stops: old.stops[to],
        ..Going::NOWHERE
    };
    if let Some(on_the_cut) = pass_to_a_cutter(old, to) {
        return on_the_cut;
    }
    match old.doing[to] {
        Doing::Cutting { .. } => (LookKind::GiveAndGo, Going::NOWHERE),
        // Nobody passes to one who does not play.
        Doing::DropOff | Doing::Absent => (LookKind::DropOff, Going::NOWHERE),
        Doing::Inside if driving_now => (LookKind::DropOff, Going::NOWHERE),
        Doing::Inside => (LookKind::Post, Going::NOWHERE),
        Doing::Outside if driving_now || !here.name.is_perimeter() => (LookKind::KickOut, stops),
        Doing::Outside => match old.away[to] {
            Some(1) => (LookKind::NextPass, stops),
            _ => (LookKind::Skip, stops),
        },
    }
}

/// The same for who is on a cut.
pub(super) fn pass_to_a_cutter(old: &Old, to: usize) -> Option<(LookKind, Going)> {
    let Doing::Cutting {
        arrived: false,
        lane,
        via,
        goal,
        ..
    } = old.doing[to]
    else {
        return None;
    };
    let kind = match lane {
        CutLane::Behind => LookKind::Backdoor,
        CutLane::BallSide => LookKind::GiveAndGo,
    };
    let going = Going {
        goal: Some(goal),
        via,
        stops: None,
    };
    Some((kind, going))
}

/// The place to which a team-mate is cutting, if not to the rim.
pub(super) fn cuts_to(old: &Old, who: usize) -> Option<Spot> {
    match old.doing[who] {
        Doing::Cutting { to, .. } => to,
        _ => None,
    }
}

/// What a catch is worth, points: the shot or, failing that, what the team goes on to make of it. And could he
/// shoot at once?
pub(super) fn worth_of_a_catch(
    (play, clock, old): (&Play, &Clock, &Old),
    (by, to): (usize, usize),
    kind: LookKind,
    going: Going,
    pass: &PassLook,
) -> (f64, bool) {
    let (cast, scene) = (&*play.cast, &old.scene);
    // On the run he takes it on to the rim, unless the cut ends at a place.
    let place = cuts_to(old, to);
    let stride = if going.goal.is_some() && pass.target.length() < FEED_WITHIN && place.is_none() {
        STRIDE
    } else {
        0.0
    };
    let distance = pass.target.length().max(1e-6);
    let finish = pass.target * ((distance - stride).max(distance.min(1.2)) / distance);
    let (room, at_once) =
        shooting::catch_and_shoot(cast, scene, to, finish, pass.time + 0.15 * stride);
    let may = || {
        let spot = fed_at(play, old, to, finish);
        may_shoot((play, clock, old), to, (finish, spot), old.passes + 1)
    };
    let bound = play.scenario.offence.bounds_shots();
    let at_once = if bound && !may() { 0.0 } else { at_once };
    let shot_open = room >= OPEN_ROOM && at_once >= play.usual;
    let at_once = at_once * post_share(&cast.model.shots, kind == LookKind::Post, room);
    let goes_on = match kind {
        _ if only_moves_the_ball(kind) => play.usual,
        // Out there he faces the rim as on the perimeter.
        LookKind::Post if finish.length() > HIGH => play.usual,
        LookKind::Post => POST_TOUCH * play.usual,
        _ if place.is_some() && finish.length() > HIGH => play.usual,
        _ if place.is_some() => POST_TOUCH * play.usual,
        _ => 0.0,
    };
    let shots = &cast.model.shots;
    let prize = shooting::worth_of_a_catch(shots, finish, scene.pos[by], at_once, goes_on);
    (prize, shot_open)
}

/// Share of the chance that is left to a player who was fed in the post, the nearest defender `room`
/// metres away.
pub fn post_share(shots: &Shots, in_the_post: bool, room: f64) -> f64 {
    if in_the_post {
        shooting::from_the_post(shots, room)
    } else {
        1.0
    }
}

/// Is this still the catch: nothing dribbled, and no more than a second of looking? Then how ready he is.
pub fn off_the_catch(clock: &Clock, hold: &Hold) -> Option<f64> {
    let looked = f64::from(clock.tick.saturating_sub(hold.since)) * crate::possession::TICK;
    let fed = matches!(hold.how, Finish::Cut | Finish::DropOff | Finish::PostUp);
    let at_once = if fed { 1.8 } else { 1.2 };
    // Who starts with the ball has brought it up and hasn't caught it.
    let still = hold.since > 0
        && hold.drove_from.is_none()
        && (fed || hold.work == Ballwork::Holding)
        && looked <= at_once;
    still.then_some(hold.readiness)
}

/// A look at a team-mate beside the rim, or on his way there.
pub(super) fn at_the_rim(kind: LookKind) -> bool {
    use LookKind as L;
    matches!(kind, L::Backdoor | L::GiveAndGo | L::Post | L::DropOff)
}
