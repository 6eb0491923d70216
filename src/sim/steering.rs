//! Steering: the way round the bodies ahead, and out of the lane in time.
//!
//! Without a rule: a runner takes the direction that stays free the farthest and turns the least
//! (`steer_clear`); a player leaves the lane before three seconds are
//! counted; a cutter gives way to a drive; and nobody on the perimeter comes near a driver.

use crate::body::{Intent, Limits};
use crate::court::{Court, Vec2};
use crate::looks::Scene;
use crate::offence::Movement;
use crate::possession::{Ballwork, Finish, What};

use super::manner;
use super::parts::*;
use super::screens;
use super::ways::{BERTH, lane_side, near_segment, run};

/// Bodies this near ahead of a runner, and `BERTH` to the side of his line, are gone round, metres.
const LOOKS_AHEAD: f64 = 1.4;
/// Past his own defender, who goes with him, he only slips by: shoulder to shoulder, metres.
const SLIPS_BY: f64 = 0.62;
/// He reckons where a moving body will be when he gets there, at least at this speed, m/s, and for so long ahead
/// at most, seconds (ours).
const STEADY: f64 = 2.0;
const LOOKS_ON: f64 = 0.5;
/// How far to either side of his way he looks for a free one, in steps of 18°, and what a free way is worth beside
/// one that leads where he wants to go (ours).
const STEPS: u32 = 5;
/// A cutter turns off no more than this: beside his man he would run along the rim for good.
const STEPS_OF_A_CUT: u32 = 3;
const STEP: f64 = 0.1 * std::f64::consts::PI;
const GETS_ON: f64 = 0.7;
/// Sine of the angle to a body that he touches at which he goes along it (ours).
const ALONG: f64 = 0.85;

/// The point to make for so as not to run into anybody but `to`: the target itself, or along the way past the bodies
/// ahead that is free the farthest and turns off the least.
pub fn steer_clear(
    scene: &Scene,
    (me, to): (usize, Option<usize>),
    target: Vec2,
    cuts: bool,
) -> Vec2 {
    let pos = scene.pos[me];
    let way = target - pos;
    let distance = way.length();
    if distance < 0.8 {
        return target;
    }
    let along = way / distance;
    let far = LOOKS_AHEAD.min(distance);
    let (free, other) = free_way(scene, (me, to), along, far);
    let Some(other) = other else { return target };
    let across = Vec2::new(-along.y, along.x);
    // Alike on both sides, the lower number goes by on the rim's side, the higher on the far side; on a line straight
    // up the floor each keeps to his own half. So a mirrored floor stays one.
    let tie = if across.y != 0.0 {
        if me < other { -across.y } else { across.y }
    } else {
        across.x * pos.x
    };
    let first = if tie < 0.0 { -1.0 } else { 1.0 };
    let mut best = (free / far + GETS_ON, along);
    let steps = if cuts { STEPS_OF_A_CUT } else { STEPS };
    for step in 1..=steps {
        let (sin, cos) = libm::sincos(f64::from(step) * STEP);
        // Even if it were free all the way it would be no better, and the next ones turn off more.
        if 1.0 + GETS_ON * cos <= best.0 + 1e-9 {
            break;
        }
        for hand in [first, -first] {
            let way = along * cos + across * (hand * sin);
            let worth = free_way(scene, (me, to), way, far).0 / far + GETS_ON * cos;
            if worth > best.0 + 1e-9 {
                best = (worth, way);
            }
        }
    }
    pos + best.1 * far
}

/// How far he can go that way before he runs into somebody other than `to`, at most so far, metres, and into whom.
fn free_way(
    scene: &Scene,
    (me, to): (usize, Option<usize>),
    along: Vec2,
    far: f64,
) -> (f64, Option<usize>) {
    let pos = scene.pos[me];
    let across = Vec2::new(-along.y, along.x);
    let mut nearest = (far, None);
    let beside = 0.8 * scene.vel[me].dot(along).max(1.5);
    let steady = scene.vel[me].length().max(STEADY);
    // Team-mates keep clear of each other (`avoid`).
    for (i, p) in scene.pos.iter().enumerate().skip(5) {
        let off = p - pos;
        let (ahead, side) = (off.dot(along), off.dot(across));
        if !(ahead > 0.0 && ahead < nearest.0) || to == Some(i) {
            continue;
        }
        // A body that runs along with him is not in his way.
        if scene.vel[i].dot(along) > beside {
            continue;
        }
        let own = scene.guards[i - 5] == me;
        // By a body that he touches he goes along it.
        let berth = if own { SLIPS_BY } else { BERTH }.min(ALONG * off.length());
        // Nor one who will have run out of it.
        let soon = off.length() / steady;
        let then = side + scene.vel[i].dot(across) * soon.min(LOOKS_ON);
        let leaves = then.abs() > berth && then.abs() > side.abs();
        if side.abs() < berth && !leaves {
            nearest = (ahead, Some(i));
        }
    }
    nearest
}

/// A runner plans with this share of his braking power (ours).
const BRAKES: f64 = 0.7;

/// How fast a runner with this share of his power may be so as to stop after `room` metres, m/s.
pub fn may_run(limits: &Limits, effort: f64, room: f64) -> f64 {
    (2.0 * BRAKES * limits.brake * effort * room.max(0.0)).sqrt()
}

/// A runner turns within this many metres, the sharper the slower (ours).
const CURLS_WITHIN: f64 = 0.4;

/// The share of his top speed with which he may run to a place where he turns, so as to get round.
pub fn curls(limits: &Limits, pos: Vec2, by: Vec2, to: Vec2) -> f64 {
    let (way, next) = (by - pos, to - by);
    let cos = way.dot(next) / (way.length() * next.length()).max(1e-9);
    let there = (limits.accel * CURLS_WITHIN / (1.0 - cos).max(1e-3)).sqrt();
    let may = (there * there + 2.0 * BRAKES * limits.brake * way.length()).sqrt();
    (may / limits.top_speed).min(1.0)
}

/// Nearer than this to the spot outside the lane where he is to show, metres, he goes there rather than out (ours).
pub const GOES_OUT_BY_IT: f64 = 3.0;
/// On which side he steps out is told by what lies so far on his way home, as a share of it (ours).
const LOOKS_HOME: f64 = 0.4;
/// Who will be out of the lane in so long as he runs now goes on, seconds (ours).
const OUT_SOON: f64 = 0.6;

/// Three seconds are near: a cutter who has not been fed goes on; anybody else steps out.
pub fn leave_the_lane(
    clock: &Clock,
    book: &mut Book,
    job: &mut Job,
    who: usize,
    old: &Old,
    court: &Court,
) {
    let scene = &old.scene;
    match &mut job.task {
        // To the place where the cut ends the cutter goes out as well.
        Task::Cut {
            to: Some(_),
            goal,
            reached: None,
            ..
        } if !court.in_lane(*goal) && (*goal - scene.pos[who]).length() < GOES_OUT_BY_IT => {}
        Task::Cut { reached, .. } if reached.is_none() => {
            *reached = Some(clock.tick.saturating_sub(ticks(1.0)));
        }
        Task::Handle | Task::Meet { .. } | Task::Chase => {}
        // To where he shows he goes out as well.
        Task::Flash {
            goal,
            arrived: None,
            ..
        } if !court.in_lane(*goal) && (*goal - scene.pos[who]).length() < GOES_OUT_BY_IT => {}
        // Nor to where he waits for a screen, or for the drive to be over.
        Task::UseScreen { at, .. } | Task::AwaitHelp { home: at, .. }
            if !court.in_lane(*at) && (*at - scene.pos[who]).length() < GOES_OUT_BY_IT => {}
        // From farther off he goes out of the lane first, and on to there.
        Task::UseScreen { at, via, .. } if !court.in_lane(*at) => {
            let exit = lane_side(scene, who, *at, court);
            *via = Some(via.filter(|by| !court.in_lane(*by)).unwrap_or(exit));
        }
        // Who is a stride from the man whom he screens screens him first.
        Task::Screen { whom, .. } if screens::near(old, who, *whom) => {}
        // Out to the ball he leaves the lane as well.
        Task::Screen {
            whom,
            set: None,
            on_ball: true,
            ..
        } if !court.in_lane(scene.pos[*whom]) => {}
        // To a screen off the ball he goes on once he is out.
        Task::Screen {
            set: None,
            on_ball: false,
            steps_out,
            ..
        } => *steps_out = true,
        // He is as good as out.
        Task::Run { .. } if !court.in_lane(scene.pos[who] + scene.vel[who] * OUT_SOON) => {}
        task => {
            if let Task::Flash {
                at, arrived: None, ..
            } = *task
            {
                let who = who as u8 + 1;
                let to = at;
                let taken = false;
                book.write(clock, What::NoFlash { who, to, taken });
            }
            // Who gives up a screen goes on with what comes after it, unless told something else by now.
            let sent_on = job.next.as_ref().is_some_and(|n| *n != Movement::Hold);
            if let (Task::Screen { after, .. }, false) = (task, sent_on) {
                let after = std::mem::replace(&mut **after, Movement::Hold);
                let later = after != Movement::Hold && !after.is_to_a_place();
                match &mut book.witness.orders {
                    Some(account) if later => account.puts_off(who),
                    Some(account) => account.goes_on(who, clock.seconds(), (&after, job.place)),
                    None => {}
                }
                if later {
                    job.steps.push_front(after);
                }
            }
            let pos = scene.pos[who];
            let place = job.place.map(|s| court.spot(s));
            let home = place.unwrap_or(pos);
            let exit = lane_side(scene, who, pos + (home - pos) * LOOKS_HOME, court);
            let place = place.unwrap_or(exit);
            job.task = run(scene.pos[who], &[exit, place], 1.0);
            job.order.left_lane = true;
        }
    }
}

/// A defender this near to a spot, metres, has beaten his man to it; that one shows so far in front of him, metres
/// (ours; common practice).
const BEATEN_TO_IT: f64 = 0.8;
const IN_FRONT: f64 = 0.9;
/// But no farther from the spot than this: his man follows him, metres (ours).
const AS_FAR: f64 = 1.2;

/// Where a player who flashes to `goal` shows: there, or on the ball's side of a defender who stands on it.
pub fn shows_at(scene: &Scene, who: usize, goal: Vec2, ball: Vec2) -> Vec2 {
    let guard = scene.guarded_by(who).map(|d| scene.pos[5 + d]);
    let on_it = guard.filter(|g| (g - goal).length() < BEATEN_TO_IT);
    let Some(guard) = on_it else {
        return goal;
    };
    let way = ball - guard;
    let off = guard + way * (IN_FRONT / way.length().max(IN_FRONT)) - goal;
    goal + off * (AS_FAR / off.length().max(AS_FAR))
}

/// A cutter who would come this near to a driver, metres, before they are at the ring, farther out than the second,
/// gives way, and as he sees it so long ahead, seconds (ours; common practice).
const GIVES_WAY: (f64, f64) = (1.2, 2.2);
const SEES_AHEAD: f64 = 0.6;

/// Will the cutter `who` run into the driver's way?
pub fn meets(scene: &Scene, who: usize, driver: usize) -> bool {
    let then = |i: usize| scene.pos[i] + scene.vel[i] * SEES_AHEAD;
    scene.pos[who].length() > GIVES_WAY.1 && (then(who) - then(driver)).length() < GIVES_WAY.0
}

/// Nobody on the perimeter comes nearer to a driver than this, metres (ours; common practice: "give him room, be
/// an outlet").
const OUTLET: f64 = 3.6;
/// Nor runs past him nearer than this, metres (ours).
const PASSES_HIM: f64 = 2.4;

/// Where a team-mate outside stops for now, if his way leads too near to the driver at `driver`.
pub fn clear_of_the_drive(driver: Vec2, pos: Vec2, target: Vec2) -> Vec2 {
    let off = pos - driver;
    let clear = near_segment(driver, pos, target) >= PASSES_HIM;
    if (target - driver).length() >= OUTLET && clear || off.length() < 1e-6 {
        return target;
    }
    driver + off * (OUTLET / off.length())
}

/// Share of his dribbling speed at which a holder moves for a better angle, his body between ball and
/// defender (ours).
const AT_A_WALK: f64 = 0.38;

/// A post who was fed nearer to the ring than this, metres, has his back to it and looks to this point, metres
/// (common practice).
pub(super) const POSTS_UP: f64 = 4.5;
const OUTLETS: Vec2 = Vec2::new(0.0, 5.5);

/// The way from `me` to `target` leads round a body at `body`: past its nearer shoulder, at `room` metres; by the `side` (1 or
/// -1, as the body lies to the left or right of the way) if it is straight ahead.
pub(super) fn past_the_shoulder(me: Vec2, target: Vec2, body: Vec2, room: f64, side: f64) -> Vec2 {
    let (to, off) = (target - me, body - me);
    let along = to / to.length().max(1e-9);
    let (ahead, aside) = (off.dot(along), along.perp_dot(off));
    if ahead <= 0.0 || ahead >= to.length() || aside.abs() >= room {
        return target;
    }
    let side = if aside == 0.0 { side } else { -aside.signum() };
    body + along.perp() * (side * room)
}

/// Where a driver makes for: by the way of the drive, past the shoulder of the own defender who is at the chest, and round
/// whoever else is in the way.
fn drives_to(play: &Play, old: &Old, hold: &Hold, drive: &Drive, pos: Vec2) -> Vec2 {
    let model = &play.cast.model.movement;
    let target = drive.via.unwrap_or(drive.finish * 0.6);
    let past = |body, room| past_the_shoulder(pos, target, body, room, play.hand);
    let own = old.scene.guarded_by(hold.by).map(|d| old.scene.pos[5 + d]);
    let near = |body: &Vec2| (*body - pos).length() < model.chest_distance;
    // In a walk-through that one makes way.
    if let Some(body) = own.filter(|body| near(body) && !play.scenario.drill.passive) {
        return past(body, model.chest_room);
    }
    let (room, within) = (model.drive_round_room, model.drive_round_distance);
    let ahead = ahead_of(play, old, (pos, target), within);
    let in_the_way = ahead.filter(|(_, off)| off.x > NOT_BESIDE && off.y.abs() < room);
    match in_the_way.min_by(|(_, a), (_, b)| a.x.total_cmp(&b.x)) {
        Some((d, _)) => past(old.scene.pos[d], room),
        None => target,
    }
}

/// Nearer ahead than this a body is beside the driver rather, metres (ours).
const NOT_BESIDE: f64 = 0.3;

/// The defenders (5–9) ahead on the way from `pos` to `target`, no farther than `within`, metres, and how far each is ahead
/// (x) and to the left (y). In a walk-through they make way.
fn ahead_of(
    play: &Play,
    old: &Old,
    (pos, target): (Vec2, Vec2),
    within: f64,
) -> impl Iterator<Item = (usize, Vec2)> {
    let way = target - pos;
    let along = way / way.length().max(1e-9);
    let all = if play.scenario.drill.passive { 10 } else { 5 };
    (all..10).filter_map(move |d| {
        let off = old.scene.pos[d] - pos;
        let ahead = off.dot(along);
        (0.0 < ahead && ahead <= within).then(|| (d, Vec2::new(ahead, along.perp_dot(off))))
    })
}

/// A driver looks so far ahead for bodies to slow down before, metres (ours: what it takes to stop, and a step).
const SLOWS_WITHIN: f64 = 3.0;

/// The share of the top speed with which a driver may go on to `target` so as not to run a defender down who is in the way,
/// or will be: with so much more than that one's own speed as can be braked away. In the last steps to the ring one goes up
/// through contact. Before all defenders but `but` (5–9), if one asks who reckons with how a driver goes on past them.
pub(super) fn before_bodies(
    play: &Play,
    old: &Old,
    (me, but): (usize, Option<usize>),
    pos: Vec2,
    target: Vec2,
) -> f64 {
    let model = &play.cast.model.movement;
    let limits = &play.cast.players[me].limits;
    if pos.length() < model.drive_last_steps {
        return 1.0;
    }
    let way = target - pos;
    let along = way / way.length().max(1e-9);
    let speed = old.scene.vel[me].length().max(STEADY);
    let mut most = limits.top_speed;
    for (d, off) in ahead_of(play, old, (pos, target), SLOWS_WITHIN) {
        if but == Some(d) {
            continue;
        }
        let vel = old.scene.vel[d];
        let soon = (off.x / speed).min(LOOKS_ON);
        let (now, then) = (off.y.abs(), (off.y + along.perp_dot(vel) * soon).abs());
        let room = model.drive_way_room;
        let stays_out = then > room && (now > room || then > now);
        if !stays_out {
            let stops = may_run(limits, 1.0, off.x - model.contact_soft_distance);
            most = most.min(vel.dot(along).max(0.0) + stops);
        }
    }
    most / limits.top_speed
}

/// The holder's own step: stand, drive, or dribble at a team-mate.
pub(super) fn with_the_ball(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    pos: Vec2,
    job: &Job,
) -> Intent {
    let share = play.cast.players[hold.by].dribble;
    match (hold.work, hold.drive) {
        (Ballwork::Driving, Some(drive)) => {
            let target = drives_to(play, old, hold, &drive, pos);
            let may = before_bodies(play, old, (hold.by, None), pos, target);
            let passes_to = match hold.pending {
                Some(Pending::Pass { to, .. }) => Some(old.scene.pos[to] - pos),
                _ => None,
            };
            Intent {
                target,
                arrive: false,
                pace: share.min(may),
                face: passes_to,
            }
        }
        (Ballwork::Dribbling, _) if hold.pending.is_none() => {
            // To the place that a team-mate leaves, for a better angle, or a few steps about while the holder looks.
            let target = match hold.angle {
                Some(at) if hold.at_mate.is_none() => at,
                None if hold.at_mate.is_none() => manner::drifts_to(play, clock, old, hold, pos),
                _ => job.place.map_or(pos, |s| play.cast.court.spot(s)),
            };
            let near = (target - pos).length() < 0.5;
            let pace = if hold.at_mate.is_some() || hold.handed.is_some() {
                0.8
            } else if hold.angle.is_none() {
                play.cast.model.movement.drift_pace
            } else {
                AT_A_WALK
            };
            let mut intent = Intent {
                target,
                arrive: true,
                pace: share * pace,
                face: near.then_some(-pos),
            };
            // With the ball one looks at the rim, and turns the back to it only in haste.
            let limits = &play.cast.players[hold.by].limits;
            manner::opens_to(limits, pos, old.scene.vel[hold.by], -pos, &mut intent);
            intent
        }
        _ => {
            // With the back to the basket one looks for cutters and outlets, and to whom one passes.
            let face = match hold.pending {
                Some(Pending::Pass { to, .. }) => old.scene.pos[to] - pos,
                None if hold.how == Finish::PostUp && pos.length() < POSTS_UP => OUTLETS - pos,
                _ => -pos,
            };
            Intent {
                target: hold.pivot.filter(|_| hold.pending.is_none()).unwrap_or(pos),
                arrive: true,
                pace: 0.4,
                face: Some(face),
            }
        }
    }
}
