//! The player with the ball: what he could do, what of it he sees, and what he chooses.
//!
//! All looks are measured at every decision instant, whether or not the rules use them. The choice
//! is a judgement of value over the looks that he sees and that the rules allow; within his tie
//! margin the rules' order of reading decides; the clock lowers the bar.

use bevy_ecs::prelude::*;

use crate::court::{Side, Spot, Vec2};
use crate::looks::passing::{Going, best_pass};
use crate::looks::{Openness, backdoor, driving, shooting, spacing};
use crate::offence::{CutLane, LookKind};
use crate::possession::{
    BackdoorNow, Ballwork, Closer, DECISION_EVERY, Finish, LookNow, Moment, What,
};

use super::dice::Purpose;
use super::parts::*;
use super::rules::kinds_for;

/// Looks whose values differ by less than this (points) are told apart by the order of reading.
const TIE: f64 = 0.05;
/// A pass that only moves the ball must be this safe at first, and this safe when time presses.
const SAFE_PASS: f64 = 0.88;
const PRESSED_PASS: f64 = 0.72;
/// A catcher looks for at least this long before he moves the ball on, seconds: "every catch
/// outside is a threat to shoot, drive or pass" (common practice).
const THREAT: f64 = 0.4;
/// A shot is open when the nearest defender is this far away, metres: 4 ft (sources 5.2, official bands).
const OPEN_ROOM: f64 = 1.22;
/// A catch on the run is carried this far before the finish: a dribble and two steps, metres
/// (common practice).
const STRIDE: f64 = 2.2;
/// Share of the error of judgement that is left when a player judges his own shot (ours).
const OWN_SHOT: f64 = 0.4;
/// A feed inside is thrown only when it is this open ("if in doubt, keep it").
const FEED_OPEN: f64 = 0.75;
/// A team-mate as open as this beside the rim catches the eye: this share of the chance to overlook him
/// is left (ours).
const CATCHES_THE_EYE: f64 = 0.85;
const STILL_OVERLOOKED: f64 = 0.4;
/// Whoever holds the ball this near to the ring, metres, turns and shoots a shot worth this share of a
/// possession rather than throw it back out (ours; common practice: "go to work").
const UNDER_THE_RIM: f64 = 3.0;
const GOES_TO_WORK: f64 = 0.75;
/// What a possession is still worth with the ball inside, as a share of the usual (ours).
const POST_TOUCH: f64 = 0.92;
/// A cutter is fed for a finish only this near to the rim, metres; farther out his catch is only a catch.
pub const FEED_WITHIN: f64 = 3.6;
/// Nobody kicks it out farther than this, metres: he throws on the move (ours).
const LONGEST_KICK_OUT: f64 = 9.5;
/// Nearer to the ring than this nobody drives: he turns and shoots, metres (ours).
const DRIVES_FROM: f64 = 2.5;
/// A look is "there" above this openness (model: one half).
const THERE: f64 = 0.5;
/// A backdoor cut starts outside: at least this far from the ring, metres (ours).
const OUTSIDE: f64 = 4.5;
/// A defender this near to his man guards him tightly, metres: an arm's length and a step (ours).
const TIGHT: f64 = 1.7;
/// His error about how open a pass is, over his error about values in points (ours).
const MISJUDGES: f64 = 1.2;
/// A denied player takes between these shares of the time that his rule gives to see it (ours).
const SEES_DENIAL: (f64, f64) = (0.8, 1.8);
/// Value of the ball to the team once a drive has been stopped, as a share of the usual (ours).
const STOPPED_SHARE: f64 = 0.7;
/// The same once a driver is past his own man and help has to come (ours).
const ADVANTAGE_SHARE: f64 = 1.1;

fn closer(old: &Old, clock: &Clock, openness: &Openness) -> Option<Closer> {
    let (d, chance) = openness.closer;
    (chance > 0.05).then(|| {
        let (duty, relation, since) = old.duties[d];
        Closer {
            defender: d as u8 + 1,
            duty,
            relation,
            chance,
            since: f64::from(clock.tick.saturating_sub(since)) * crate::possession::TICK,
        }
    })
}

/// The spot at which a player is now: his place, or the nearest spot when he is on the move inside.
pub fn spot_of(play: &Play, old: &Old, who: usize) -> Spot {
    match old.doing[who] {
        Doing::Outside => {
            old.places[who].unwrap_or_else(|| play.cast.court.nearest_spot(old.scene.pos[who]))
        }
        _ => play.cast.court.nearest_spot(old.scene.pos[who]),
    }
}

/// A holder farther than this from the place that he claims is not there, metres (ours).
const NOT_THERE: f64 = 2.5;

/// The spot at which the holder is: the place that he claims, unless he is far from it.
pub fn holder_spot(play: &Play, old: &Old, who: usize) -> Spot {
    let pos = old.scene.pos[who];
    let claimed = spot_of(play, old, who);
    if (play.cast.court.spot(claimed) - pos).norm() > NOT_THERE {
        play.cast.court.nearest_spot(pos)
    } else {
        claimed
    }
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
    let (cast, scene) = (&*play.cast, &old.scene);
    let me = hold.by;
    let reading = &play.scenario.offence.reading;
    let (room, _, value) = shooting::shot_now(cast, scene, me, off_the_catch(clock, hold));
    let value = value * post_share(hold.how == Finish::PostUp, room);
    let (_, near) = scene.nearest_defender(scene.pos[me]);
    looks.push(LookNow {
        kind: LookKind::Shot,
        to: None,
        openness: 1.0,
        prize: value,
        value,
        pass: None,
        closer: (room < OPEN_ROOM).then(|| {
            let (duty, relation, since) = old.duties[near];
            Closer {
                defender: near as u8 + 1,
                duty,
                relation,
                chance: (1.0 - room / OPEN_ROOM).clamp(0.0, 1.0),
                since: f64::from(clock.tick.saturating_sub(since)) * crate::possession::TICK,
            }
        }),
        allowed: reading.contains(&LookKind::Shot),
        open: room >= OPEN_ROOM && value >= 0.9 * play.usual,
        spot_up: false,
    });
    let drive = driving::driving(cast, scene, me);
    let rim_room = shooting::room_after(cast, scene, drive.finish, drive.time).clamp(0.9, 2.0);
    let (_, layup) = shooting::shot_at(cast, me, drive.finish, rim_room, 0.0);
    let prize = layup * shooting::rhythm(drive.finish, rim_room, false);
    let here = holder_spot(play, old, me);
    let ball_side = Side::of(scene.pos[me].x, side);
    let drive_allowed = reading.contains(&LookKind::Drive)
        && play
            .scenario
            .offence
            .drive_from
            .iter()
            .any(|p| p.takes_in(here, ball_side));
    looks.push(LookNow {
        kind: LookKind::Drive,
        to: None,
        openness: drive.openness.value,
        prize,
        value: drive_value(&drive, prize, play.usual),
        pass: None,
        closer: closer(old, clock, &drive.openness),
        allowed: drive_allowed && hold.work != Ballwork::PickedUp,
        open: drive.openness.value > THERE
            && hold.work != Ballwork::PickedUp
            && scene.pos[me].norm() > DRIVES_FROM,
        spot_up: false,
    });
    let driving_now = hold.drive.is_some() || hold.drove_from.is_some();
    for to in 0..5 {
        if to == me {
            continue;
        }
        let stops = Going {
            stops: old.stops[to],
            ..Going::NOWHERE
        };
        let (kind, going) = match old.doing[to] {
            Doing::Cutting {
                arrived: false,
                lane,
                via,
                goal,
            } => {
                let kind = if lane == CutLane::Behind {
                    LookKind::Backdoor
                } else {
                    LookKind::GiveAndGo
                };
                (
                    kind,
                    Going {
                        goal: Some(goal),
                        via,
                        stops: None,
                    },
                )
            }
            Doing::Cutting { .. } => (LookKind::GiveAndGo, Going::NOWHERE),
            Doing::DropOff => (LookKind::DropOff, Going::NOWHERE),
            Doing::Inside if driving_now => (LookKind::DropOff, Going::NOWHERE),
            Doing::Inside => (LookKind::Post, Going::NOWHERE),
            Doing::Outside if driving_now || !here.name.is_perimeter() => {
                (LookKind::KickOut, stops)
            }
            Doing::Outside => match old.away[to] {
                Some(1) => (LookKind::NextPass, stops),
                _ => (LookKind::Skip, stops),
            },
        };
        let Some(pass) = best_pass(cast, scene, me, to, going, kinds_for(kind)) else {
            continue;
        };
        let outside = matches!(
            kind,
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut
        );
        // On the run he takes it on to the rim.
        let stride = if going.goal.is_some() && pass.target.norm() < FEED_WITHIN {
            STRIDE
        } else {
            0.0
        };
        let distance = pass.target.norm().max(1e-6);
        let finish = pass.target * ((distance - stride).max(distance.min(1.2)) / distance);
        let (room, at_once) =
            shooting::catch_and_shoot(cast, scene, to, finish, pass.time + 0.15 * stride);
        let shot_open = room >= OPEN_ROOM && at_once >= play.usual;
        let at_once = at_once * post_share(kind == LookKind::Post, room);
        // A catch is worth the shot or, failing that, what the team goes on to make of it.
        let prize = match kind {
            _ if outside => at_once.max(play.usual),
            LookKind::Post => at_once.max(POST_TOUCH * play.usual),
            _ => at_once,
        };
        let open = pass.openness.value > THERE
            && (kind != LookKind::KickOut || shot_open || hold.work == Ballwork::PickedUp);
        looks.push(LookNow {
            kind,
            to: Some(to as u8 + 1),
            openness: pass.openness.value,
            prize,
            value: pass.openness.value * prize,
            pass: Some(pass.kind),
            closer: closer(old, clock, &pass.openness),
            allowed: reading.contains(&kind),
            open,
            spot_up: outside && shot_open,
        });
    }
    drive
}

/// Share of the chance that is left to a player who was fed in the post, the nearest defender `room`
/// metres away.
pub fn post_share(in_the_post: bool, room: f64) -> f64 {
    if in_the_post {
        shooting::from_the_post(room)
    } else {
        1.0
    }
}

/// Is this still the catch: nothing dribbled, and no more than a second of looking?
pub fn off_the_catch(clock: &Clock, hold: &Hold) -> bool {
    let looked = f64::from(clock.tick.saturating_sub(hold.since)) * crate::possession::TICK;
    let fed = matches!(hold.how, Finish::Cut | Finish::DropOff | Finish::PostUp);
    let at_once = if fed { 1.8 } else { 1.2 };
    hold.drove_from.is_none() && (fed || hold.work == Ballwork::Holding) && looked <= at_once
}

/// A clear lane is worth the finish; a drive that only gets past its own defender draws help and is
/// worth an advantage; one that does not get past him is worth less than the ball in hand.
fn drive_value(drive: &driving::DriveLook, prize: f64, usual: f64) -> f64 {
    let clear = drive.openness.value;
    let help_comes = (1.0 - drive.on_ball) * ADVANTAGE_SHARE + drive.on_ball * STOPPED_SHARE;
    clear * prize + (1.0 - clear) * help_comes * usual
}

/// A look at a team-mate beside the rim, or on his way there.
fn at_the_rim(kind: LookKind) -> bool {
    use LookKind as L;
    matches!(kind, L::Backdoor | L::GiveAndGo | L::Post | L::DropOff)
}

/// What a look promises now, as a scoring chance (a pass that only moves the ball promises none).
fn scoring(look: &LookNow, usual: f64) -> bool {
    match look.kind {
        LookKind::NextPass | LookKind::Skip | LookKind::KickOut => look.prize > usual + 1e-9,
        _ => true,
    }
}

/// At every decision instant: measure, write down, choose.
pub fn holder_decides(floor: ResMut<Floor>, mut script: Option<ResMut<super::walk::Script>>) {
    let Floor {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        ..
    } = floor.into_inner();
    let side = ball.side;
    let Some(hold) = ball.hold_mut() else {
        book.stalled = None;
        return;
    };
    if !(clock.tick - hold.since).is_multiple_of(DECISION_EVERY) {
        return;
    }
    let me = hold.by;
    let scene = &old.scene;
    let mut looks = Vec::with_capacity(6);
    let drive = measure(play, clock, old, hold, side, &mut looks);
    book.see(clock, old, hold, side);
    let here = holder_spot(play, old, me);
    let held = f64::from(clock.tick - hold.since) * crate::possession::TICK;

    // Backdoor chances and denial of the players one pass away.
    let mut chances = Vec::new();
    for who in 0..5 {
        let one_away = who != me
            && scene.pos[who].norm() > OUTSIDE
            && old.away[who] == Some(1)
            && matches!(old.doing[who], Doing::Outside);
        if one_away && hold.work != Ballwork::Driving {
            let open = backdoor::backdoor(&play.cast, scene, me, who);
            // Behind a defender who is up on him, and for longer than a blink.
            let tight = (0..5).any(|d| {
                scene.guards[d] == who && (scene.pos[5 + d] - scene.pos[who]).norm() < TIGHT
            });
            let now = tight && open.value > THERE;
            let there = now && book.backdoor[who] > 0;
            let began = there && book.backdoor[who] == 1;
            book.backdoor[who] = if now { book.backdoor[who] + 1 } else { 0 };
            let shut = closer(old, clock, &open);
            chances.push(BackdoorNow {
                who: who as u8 + 1,
                openness: open.value,
                there,
                closer: shut,
            });
            if began {
                let defender = (0..5)
                    .find(|&d| scene.guards[d] == who)
                    .map_or(0, |d| d as u8 + 1);
                book.write(
                    clock,
                    What::BackdoorThere {
                        who: who as u8 + 1,
                        defender,
                    },
                );
            }
        } else {
            book.backdoor[who] = 0;
        }
        let shut = one_away
            && !play.scenario.drill.passive
            && looks
                .iter()
                .any(|l| l.to == Some(who as u8 + 1) && l.openness < SAFE_PASS);
        signals.shut[who] = if shut {
            signals.shut[who] + DECISION_EVERY
        } else {
            0
        };
        let denied = one_away
            && match &script {
                Some(script) => script.denies(who),
                None => !play.scenario.drill.passive && is_denied(old, &looks, who),
            };
        signals.denied[who] = if denied {
            signals.denied[who] + DECISION_EVERY
        } else {
            0
        };
    }
    let someone_behind = old
        .doing
        .iter()
        .any(|d| matches!(d, Doing::Cutting { arrived: false, .. }));
    let flying_now = hold.pending.is_some() || hold.work == Ballwork::Driving;
    if !someone_behind && !flying_now && held >= 0.2 {
        // The passer's eyes settle on the team-mate denied longest first, of two on the ball side's.
        let mut order: [usize; 5] = [0, 1, 2, 3, 4];
        let weak = |w: usize| -side.sign() * scene.pos[w].x;
        order.sort_by(|&a, &b| {
            let longer = signals.denied[b].cmp(&signals.denied[a]);
            longer.then(weak(a).total_cmp(&weak(b)))
        });
        for who in order
            .into_iter()
            .filter(|&w| signals.denied[w] > 0)
            .collect::<Vec<_>>()
        {
            // One player sees sooner than another that he is denied.
            let sees = if play.scenario.drill.clean {
                1.0
            } else {
                let mut dice = play.dice.at(Purpose::Denied, who, hold.since);
                SEES_DENIAL.0 + (SEES_DENIAL.1 - SEES_DENIAL.0) * dice.unit()
            };
            let spell = f64::from(signals.denied[who] - DECISION_EVERY);
            let event = Happening::Denied {
                at: spot_of(play, old, who),
                ball: here,
                who,
                ticks: (spell / sees) as u32,
            };
            signals.now.push(event);
        }
    }
    if !flying_now {
        signals.now.push(Happening::BallOn {
            at: here,
            ticks: clock.tick - hold.since,
        });
        signals.now.push(Happening::Clock);
        let said = script.as_ref().map(|s| s.forgets());
        post_forgotten(old, signals, said);
    }

    // Stalls.
    let any_open = looks.iter().any(|l| l.open);
    match (any_open, book.stalled) {
        (false, None) => book.stalled = Some(clock.tick),
        (true, Some(since)) => {
            let seconds = f64::from(clock.tick - since) * crate::possession::TICK;
            if seconds >= 0.8 {
                book.write(
                    clock,
                    What::Stall {
                        who: me as u8 + 1,
                        seconds,
                    },
                );
            }
            book.stalled = None;
        }
        _ => {}
    }

    if script.is_none() && clock.tick >= hold.ready {
        dribble_for_an_angle(play, clock, old, hold, here, &looks, book);
    }
    // What he is doing as he decides, not what he does then.
    let work = hold.work;
    let choice = if let Some(script) = &mut script {
        script.choice(clock.tick, hold, &looks, scene.pos[me])
    } else if hold.pending.is_none() && clock.tick >= hold.ready {
        choose(play, clock, old, hold, here, held, &looks, drive.on_ball)
    } else {
        None
    };
    if let Some(index) = choice {
        let look = looks[index];
        act(play, clock, old, hold, here, &look, &drive, signals, book);
    }
    if book.keep_moments {
        book.moments.push(Moment {
            time: clock.seconds(),
            holder: me as u8 + 1,
            at: here,
            ballwork: work,
            held,
            spacing: spacing::spacing(&play.cast, scene, me),
            looks,
            backdoor: chances,
            choice,
            last_rule: signals.last_rule,
        });
    }
}

/// Nothing open and nobody safe to pass to for a while: he puts the ball on the floor and moves round
/// the perimeter for a better angle, toward the middle (common practice: "dribble to improve the
/// pass").
fn dribble_for_an_angle(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &mut Hold,
    here: Spot,
    looks: &[LookNow],
    book: &mut Book,
) {
    let pos = old.scene.pos[hold.by];
    let began = hold.angle_since.unwrap_or(hold.since);
    let waited = f64::from(clock.tick.saturating_sub(began)) * crate::possession::TICK;
    let safe = looks
        .iter()
        .any(|l| l.to.is_some() && l.allowed && l.openness >= SAFE_PASS);
    let may = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling)
        && hold.pending.is_none()
        && hold.at_mate.is_none()
        && here.name.is_perimeter()
        && !play.scenario.drill.clean
        // He looks for the cutter first.
        && !old
            .doing
            .iter()
            .any(|d| matches!(d, Doing::Cutting { arrived: false, .. }));
    if !may || safe || waited < WAITS_FOR_AN_ANGLE {
        return;
    }
    // Round the rim toward the middle of the floor; from the middle to the side with more room.
    let distance = pos.norm().max(1e-6);
    let across = Vec2::new(-pos.y, pos.x) / distance;
    let room = |hand: f64| {
        let to = pos + across * (hand * ANGLE);
        old.scene.nearest_defender(to).0
    };
    let hand = if pos.x.abs() > 1.5 {
        // `across` leads counter-clockwise about the rim: toward the middle from the right.
        pos.x.signum()
    } else if room(1.0) >= room(-1.0) {
        1.0
    } else {
        -1.0
    };
    let to = pos + across * (hand * ANGLE);
    let at = to * (distance / to.norm().max(1e-6));
    hold.angle = Some(play.cast.court.clamp_inside(at, 0.5));
    hold.angle_since = Some(clock.tick);
    hold.work = Ballwork::Dribbling;
    hold.guarded_since = None;
    book.write(
        clock,
        What::Dribbles {
            who: hold.by as u8 + 1,
        },
    );
}

/// So long he waits with nobody safe to pass to, seconds, and so far he then goes, metres (ours).
const WAITS_FOR_AN_ANGLE: f64 = 2.6;
const ANGLE: f64 = 2.2;

/// Denied: his defender is close and the pass to him is shut by that defender.
fn is_denied(old: &Old, looks: &[LookNow], who: usize) -> bool {
    let Some(look) = looks.iter().find(|l| l.to == Some(who as u8 + 1)) else {
        return false;
    };
    let Some(d) = old.scene.guarded_by(who) else {
        return false;
    };
    let gap = (old.scene.pos[5 + d] - old.scene.pos[who]).norm();
    gap < 1.7
        && look.openness < 0.6
        && look
            .closer
            .is_some_and(|c| usize::from(c.defender) == d + 1)
}

/// The post's defender sits deep under the rim or has lost sight of him (or a walk says so).
fn post_forgotten(old: &Old, signals: &mut Signals, said: Option<bool>) {
    let post = (0..5).find(|&i| {
        matches!(old.doing[i], Doing::Inside)
            && old.places[i].is_some_and(|s| !s.name.is_perimeter())
    });
    let Some(post) = post else {
        signals.forgotten = 0;
        return;
    };
    let Some(d) = old.scene.guarded_by(post) else {
        return;
    };
    let guard = old.scene.pos[5 + d];
    let to_post = old.scene.pos[post] - guard;
    let distance = to_post.norm().max(1e-6);
    let deep = guard.norm() < 1.3;
    let unseen = old.scene.facing[5 + d].dot(&(to_post / distance)) < -0.3;
    signals.forgotten = if said.unwrap_or((deep || unseen) && distance > 1.2) {
        signals.forgotten + DECISION_EVERY
    } else {
        0
    };
    if signals.forgotten > 0 {
        let event = Happening::PostForgotten {
            who: post,
            ticks: signals.forgotten - DECISION_EVERY,
        };
        signals.now.push(event);
    }
}

/// How good a look must be now, points.
///
/// A look at the rim has to beat the team's usual possession; a shot from outside also what patience
/// asks early on ("a lay-up any time, the open shot later").
fn bar(play: &Play, clock: &Clock, outside: bool) -> f64 {
    let patience = play.scenario.offence.patience;
    let left = clock.left();
    let early = (left / (f64::from(clock.limit) * crate::possession::TICK)).clamp(0.0, 1.0);
    let press = (left / 7.0).clamp(0.05, 1.0);
    let choosy = if outside {
        patience.choosy * early
    } else {
        0.0
    };
    (play.usual + choosy) * press
}

#[allow(clippy::too_many_arguments)]
fn choose(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    here: Spot,
    held: f64,
    looks: &[LookNow],
    on_ball: f64,
) -> Option<usize> {
    let me = hold.by;
    let player = &play.cast.players[me];
    let clean = play.scenario.drill.clean;
    let judgement = &player.judgement;
    let reading = &play.scenario.offence.reading;
    let facing = old.scene.facing[me];
    let mut noise = play.dice.at(Purpose::Judge, me, hold.since);
    // What he has overlooked he goes on overlooking for a second.
    let mut notice = play
        .dice
        .at(Purpose::Notice, me, clock.tick - clock.tick % 25);
    let mut order = play.dice.at(Purpose::Patience, me, hold.since);
    let mut seen: [(f64, bool); 6] = [(0.0, false); 6];
    // How open each look seems to him.
    let mut seems = [0.0; 6];
    for (i, look) in looks.iter().enumerate().take(6) {
        let (error, luck) = (noise.normal() * judgement.value_error, notice.unit());
        let in_view = look.to.is_none_or(|to| {
            let way = old.scene.pos[usize::from(to) - 1] - old.scene.pos[me];
            let cos = way.dot(&facing) / way.norm().max(1e-6);
            cos > libm::cos(judgement.half_view)
        });
        let far = look.kind == LookKind::KickOut
            && look.to.is_some_and(|to| {
                let way = old.scene.pos[usize::from(to) - 1] - old.scene.pos[me];
                way.norm() > LONGEST_KICK_OUT
            });
        let obvious = look.openness > CATCHES_THE_EYE && at_the_rim(look.kind);
        let overlooks = (1.0 - judgement.notices) * if obvious { STILL_OVERLOOKED } else { 1.0 };
        let sees = clean || (in_view && luck >= overlooks) || look.to.is_none();
        // He knows his own shot better than what a team-mate can do.
        let knows = if look.kind == LookKind::Shot {
            OWN_SHOT
        } else {
            1.0
        };
        let value = if clean {
            look.value
        } else {
            look.value + error * knows
        };
        seen[i] = (value, sees && look.allowed && !far);
        let error = if clean || look.to.is_none() {
            0.0
        } else {
            noise.normal() * judgement.value_error * MISJUDGES
        };
        seems[i] = look.openness + error;
    }
    let rank = |kind: LookKind| {
        reading
            .iter()
            .position(|&k| k == kind)
            .unwrap_or(usize::MAX)
    };
    let best = |ok: &dyn Fn(usize) -> bool| -> Option<usize> {
        let mut found: Option<usize> = None;
        for i in 0..looks.len().min(6) {
            if !seen[i].1 || !ok(i) {
                continue;
            }
            found = Some(match found {
                None => i,
                Some(j) => {
                    let tie = (seen[i].0 - seen[j].0).abs() < TIE;
                    let (new, old) = (rank(looks[i].kind), rank(looks[j].kind));
                    let better = if tie && new != old {
                        new < old
                    } else {
                        seen[i].0 > seen[j].0
                    };
                    if better { i } else { j }
                }
            });
        }
        found
    };
    let levels = [bar(play, clock, false), bar(play, clock, true)];
    let outside_now = old.scene.pos[me].norm() > 3.0;
    let level_of = |kind: LookKind| {
        let outside = match kind {
            LookKind::Shot => outside_now,
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut => true,
            _ => false,
        };
        levels[usize::from(outside)]
    };
    let level = levels[0];
    let distance = old.scene.pos[me].norm();
    match hold.work {
        Ballwork::Driving => {
            let lane = looks[1].openness;
            if distance < 1.9 {
                return best(&|i| {
                    matches!(looks[i].kind, LookKind::Shot)
                        || (looks[i].kind == LookKind::DropOff && looks[i].value > looks[0].value)
                });
            }
            let stopping = hold.drive.is_some_and(|d| d.stuck > 2);
            if lane < 0.45 || stopping {
                let need = if stopping { 0.9 * play.usual } else { level };
                let pass = best(&|i| match looks[i].kind {
                    LookKind::DropOff | LookKind::Backdoor | LookKind::GiveAndGo => {
                        seen[i].0 >= need && seems[i] > 0.6
                    }
                    LookKind::KickOut => {
                        seems[i] > 0.75
                            && (looks[i].prize > play.usual || lane < 0.2)
                            && seen[i].0 >= 0.8 * play.usual
                    }
                    LookKind::Shot => distance < 4.5 && seen[i].0 >= level,
                    _ => false,
                });
                if pass.is_some() {
                    return pass;
                }
            }
            None
        }
        Ballwork::PickedUp => {
            let waited = hold
                .picked_up
                .map_or(0.0, |t| f64::from(clock.tick - t) * crate::possession::TICK);
            let need = if waited > 2.0 {
                0.0
            } else {
                play.usual * (0.9 - 0.3 * waited)
            };
            best(&|i| looks[i].kind != LookKind::Drive && seen[i].0 >= need)
        }
        Ballwork::Holding | Ballwork::Dribbling => {
            let patience = play.scenario.offence.patience;
            // Late in the clock he need only be past his own man.
            let late = clock.left() < 0.55 * f64::from(clock.limit) * crate::possession::TICK;
            let mut scoring_look = best(&|i| {
                let look = &looks[i];
                if !scoring(look, play.usual) || seen[i].0 < level_of(look.kind) {
                    return false;
                }
                match look.kind {
                    // A drive waits until the lane is clear.
                    LookKind::Drive => {
                        (seems[i] > 0.55 || late && on_ball < 0.35) && distance > DRIVES_FROM
                    }
                    LookKind::Shot => true,
                    LookKind::NextPass | LookKind::Skip | LookKind::KickOut => {
                        // Better to pass than to keep only if the catcher's shot beats the bar.
                        seems[i] > 0.7 && held >= THREAT * 0.5
                    }
                    _ => seems[i] > FEED_OPEN,
                }
            });
            let guarded = hold
                .guarded_since
                .map_or(0.0, |t| f64::from(clock.tick - t) * crate::possession::TICK);
            let left = clock.left();
            if scoring_look.is_none() {
                let hold_for = (patience.hold * (0.55 + 0.9 * order.unit())).max(THREAT);
                let pressed = guarded > 3.2 || left < 5.0 || held > 3.0 * patience.hold;
                let inside = !here.name.is_perimeter();
                let under = distance < UNDER_THE_RIM;
                if held >= hold_for || guarded > 3.0 {
                    let safe = if pressed { PRESSED_PASS } else { SAFE_PASS };
                    scoring_look = best(&|i| {
                        matches!(
                            looks[i].kind,
                            LookKind::NextPass | LookKind::KickOut | LookKind::Skip
                        ) && seems[i] >= safe
                            || inside
                                && looks[i].kind == LookKind::Shot
                                && seen[i].0 >= if under { GOES_TO_WORK * level } else { level }
                    });
                }
                let desperate = guarded > 4.0 || left < 2.5;
                if scoring_look.is_none() && desperate {
                    scoring_look = best(&|i| looks[i].value > 0.25);
                }
                // Nothing to pass to: put it on the floor rather than stand with it.
                // He need only get past his own man to draw the help.
                if scoring_look.is_none()
                    && (held > 2.2 * patience.hold && pressed || held > 3.6 || left < 9.0)
                    && distance > DRIVES_FROM
                {
                    scoring_look = best(&|i| looks[i].kind == LookKind::Drive && on_ball < 0.65);
                }
            }
            scoring_look
        }
    }
}

#[allow(clippy::too_many_arguments)]
fn act(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &mut Hold,
    here: Spot,
    look: &LookNow,
    drive: &driving::DriveLook,
    signals: &mut Signals,
    book: &mut Book,
) {
    let me = hold.by;
    let number = me as u8 + 1;
    match (look.kind, look.to) {
        (LookKind::Shot, _) => {
            let finish = match hold.work {
                Ballwork::Driving | Ballwork::PickedUp if hold.how != Finish::Cut => Finish::Drive,
                _ if f64::from(clock.tick - hold.since) * crate::possession::TICK > 1.0
                    && hold.how == Finish::SpotUp =>
                {
                    Finish::OffHold
                }
                _ => hold.how,
            };
            let wait = if old.scene.pos[me].norm() < 2.2 {
                0.2
            } else {
                shooting::RELEASE * 0.7
            };
            hold.pending = Some(Pending::Shot {
                at: clock.tick + ticks(wait),
                finish,
            });
        }
        (LookKind::Drive, _) => {
            let via = ((drive.via - drive.finish).norm() > 0.1).then_some(drive.via);
            hold.work = Ballwork::Driving;
            hold.drive = Some(Drive {
                from: here,
                via,
                finish: drive.finish,
                began: clock.tick,
                stuck: 0,
            });
            hold.drove_from = Some(here);
            signals.last_driver = Some(me);
            signals.now.push(Happening::Drive {
                from: here,
                driver: me,
            });
            book.write(
                clock,
                What::Drives {
                    who: number,
                    from: here,
                },
            );
        }
        (kind, Some(to)) => {
            let release = play.cast.players[me].hands.release;
            hold.pending = Some(Pending::Pass {
                to: usize::from(to) - 1,
                kind: look.pass.unwrap_or(crate::ball::PassKind::Chest),
                look: kind,
                openness: look.openness,
                on_the_run: matches!(
                    old.doing[usize::from(to) - 1],
                    Doing::Cutting { arrived: false, .. }
                ),
                at: clock.tick + ticks(release).max(1),
            });
        }
        _ => {}
    }
}

/// Direction in which the holder faces: the rim, a little toward the middle.
pub fn face_of_holder(pos: Vec2) -> Vec2 {
    -pos
}
