//! The ball: passes leave, fly, are caught, taken or lost; drives get on or get stopped; shots go up.

use bevy_ecs::prelude::*;

use crate::ball::Flight;
use crate::court::{Side, Spot, SpotName, Vec2};
use crate::looks::passing::{Going, HANDS, aim, flight, lead, on_release};
use crate::looks::shooting::{rhythm, shot_at};
use crate::offence::{LookKind, Movement, Role};
use crate::possession::{Ballwork, Ending, Finish, TICK, Turnover, What};

use super::dice::Purpose;
use super::holder::{holder_spot, spot_of};
use super::parts::*;

/// A ball within this distance of a receiver's body can be caught, metres (arm's length in front).
const CATCH: f64 = 0.75;
/// A pass that is no more open than this when it is about to leave his hands is kept (unless he knew it
/// for a gamble), and he looks again after so long, seconds (ours).
const KEEPS_IT: f64 = 0.4;
const LOOKS_AGAIN: f64 = 0.2;
/// A ball with a defender this near to it is caught as soon as it can be, metres (ours).
const SNATCHES: f64 = 1.3;
/// A catch with a defender within a metre, and one at arm's length beside him, is dropped this much more
/// often; a dropped ball bounces off at about so many m/s (ours, no source).
const CROWDED: f64 = 2.0;
const BESIDE_HIM: f64 = 3.0;
const BOUNCES_OFF: f64 = 2.5;
/// Chance that hands which get there turn the pass into a loose ball or take it: if he is set for it,
/// and if he is not looking (ours, no source; with the first the openness of a pass is about the
/// share of such passes that arrive, which a test checks).
const TAKES_SET: f64 = 1.0;
const TAKES_BLIND: f64 = 0.4;
/// A lead pass to a runner misses by this much more (ours, no source).
const ON_THE_RUN: f64 = 1.9;
/// A defender nearer than this presses the passer, metres; with a body on him he misses by this much
/// more again (ours; defensive pressure lowers passing: IJERPH 18(3) 1165, 2021, direction only).
const PRESSURE_FROM: f64 = 1.4;
const PRESSED: f64 = 2.0;
/// Of the balls he gets a hand on, the share that he holds.
const HOLDS: f64 = 0.55;
/// Body to body on a drive the ball is lost this much more often than under pressure at arm's length
/// (ours: about one drive in sixteen is lost among professionals, from memory, low).
const STRIPPED: f64 = 4.5;
/// A second defender at the ball multiplies the chance to lose it by this (ours, no source).
const SECOND_HAND: f64 = 3.0;
/// A driver picks the ball up for the lay-up this far from the ring and lays it up this far from it,
/// metres (common practice: two steps).
const GATHERS: f64 = 2.0;
const LAYS_UP: f64 = 0.9;
/// A driver is stopped when a body is this near in front of him, metres …
const BLOCKED: f64 = 1.0;
/// … and he has got nowhere for so many ticks.
const STUCK: u32 = 6;

/// The ball in this tick, after everybody has moved.
#[allow(clippy::too_many_arguments)]
pub fn ball_goes_on(
    floor: ResMut<Floor>,
    mut attackers: Query<(&Attacker, &Form, &mut Job)>,
    defenders: Query<(&Defender, &Form, &Guard, &Eyes)>,
) {
    let Floor {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        ..
    } = floor.into_inner();
    let mates = attackers
        .iter_mut()
        .map(|(n, form, job)| (n.0, (form, job.into_inner())));
    let others = defenders.iter();
    let others = others.map(|(n, form, guard, eyes)| (n.0, (form, guard, eyes)));
    let (Some(mut mates), Some(others)) = (by_number(mates), by_number(others)) else {
        return;
    };
    match ball.state {
        BallState::Held(hold) => held(
            play, clock, old, hold, ball, signals, book, &mut mates, &others,
        ),
        BallState::Flying { .. } => {
            flying(play, clock, old, ball, signals, book, &mut mates, &others)
        }
        BallState::Loose { .. } => {
            loose(play, clock, old, ball, signals, book, &mut mates, &others)
        }
        BallState::Dead => {}
    }
    let side = match ball.state {
        BallState::Flying { .. } | BallState::Dead => ball.side,
        // A ball in the middle keeps the side from which it came.
        _ if ball.pos.x > 1.2 => Side::Right,
        _ if ball.pos.x < -1.2 => Side::Left,
        _ => ball.side,
    };
    turn_side(ball, side, signals);
}

fn turn_side(ball: &mut Ball, side: Side, signals: &mut Signals) {
    if side != ball.side {
        ball.side = side;
        signals.now.push(Happening::BallCrosses);
    }
}

type Mates<'a, 'b> = [(&'a Form, &'b mut Job); 5];
type Others<'a> = [(&'a Form, &'a Guard, &'a Eyes); 5];

#[allow(clippy::too_many_arguments)]
fn held(
    play: &Play,
    clock: &Clock,
    old: &Old,
    mut hold: Hold,
    ball: &mut Ball,
    signals: &mut Signals,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
) {
    let me = hold.by;
    let body = mates[me].0.0;
    ball.pos = body.pos + body.facing * 0.3;
    ball.height = if hold.work == Ballwork::Driving || hold.work == Ballwork::Dribbling {
        0.7
    } else {
        1.2
    };

    match hold.pending {
        Some(Pending::Pass {
            to,
            kind,
            look,
            openness,
            on_the_run,
            at,
        }) if clock.tick >= at => {
            throw(
                play, clock, old, &hold, to, kind, look, openness, on_the_run, ball, signals, book,
                mates,
            );
            return;
        }
        Some(Pending::Shot { at, finish }) if clock.tick >= at => {
            shoot(play, clock, &hold, finish, ball, book, mates, others);
            return;
        }
        _ => {}
    }
    if hold.work == Ballwork::Driving
        && let Some(drive) = &mut hold.drive
    {
        if let Some(via) = drive.via {
            let past = (via - body.pos).dot(&(drive.finish - via)) < 0.0;
            if (via - body.pos).norm() < 0.6 || past {
                drive.via = None;
            }
        }
        let to_rim = -body.pos / body.pos.norm().max(1e-6);
        let gain = body.vel.dot(&to_rim);
        let (blocker, gap) = in_front(body.pos, to_rim, others);
        let slow = clock.tick > drive.began + 8 && gain < 1.0;
        if slow && gap < BLOCKED {
            drive.stuck += 1;
        } else {
            drive.stuck = drive.stuck.saturating_sub(1);
        }
        let distance = body.pos.norm();
        let near = gap < 0.95
            && others
                .iter()
                .any(|(f, _, _)| (f.0.pos - body.pos).norm() < 0.95);
        if near && !play.scenario.drill.clean {
            let crowd = others
                .iter()
                .filter(|(f, _, _)| (f.0.pos - body.pos).norm() < 1.2)
                .count();
            let hands = if crowd > 1 { SECOND_HAND } else { 1.0 };
            let chance = play.cast.players[me].loses * STRIPPED * hands * TICK;
            if play.dice.at(Purpose::Dribble, me, clock.tick).unit() < chance {
                let by = Some(blocker as u8 + 1);
                end(
                    clock,
                    ball,
                    book,
                    Ending::Turnover {
                        how: Turnover::LostDribble,
                        who: me as u8 + 1,
                        by,
                    },
                );
                return;
            }
        }
        if distance < GATHERS && hold.pending.is_none() {
            let finish = if hold.how == Finish::Cut {
                Finish::Cut
            } else {
                Finish::Drive
            };
            let left = (distance - LAYS_UP) / gain.max(2.0);
            hold.pending = Some(Pending::Shot {
                at: clock.tick + ticks(left.max(TICK)),
                finish,
            });
        } else if drive.stuck >= STUCK && hold.pending.is_none() {
            let (_, guard, _) = others[blocker];
            book.write(
                clock,
                What::Stopped {
                    who: me as u8 + 1,
                    by: blocker as u8 + 1,
                    duty: guard.duty,
                },
            );
            hold.work = Ballwork::PickedUp;
            hold.picked_up = Some(clock.tick);
            hold.drive = None;
        }
    }
    if hold.work == Ballwork::Dribbling && hold.at_mate.is_some() {
        let place = mates[me].1.place.map(|s| play.cast.court.spot(s));
        if place.is_none_or(|p| (p - body.pos).norm() < 0.5) {
            hold.at_mate = None;
            hold.work = Ballwork::Holding;
        }
    }
    if let Some(Movement::DribbleAt(at)) = mates[me].1.next {
        mates[me].1.next = None;
        let mate = match at {
            Role::Player(n) => usize::from(n).checked_sub(1).filter(|&i| i < 5 && i != me),
            _ => None,
        };
        if let (Some(mate), Ballwork::Holding, None) = (mate, hold.work, hold.pending) {
            let at = spot_of(play, old, mate);
            hold.work = Ballwork::Dribbling;
            hold.at_mate = Some(mate);
            // The dribbler takes that place; the team-mate, if no rule sends him, what is left.
            mates[me].1.place = Some(at);
            mates[mate].1.place = None;
            book.write(
                clock,
                What::DribblesAt {
                    who: me as u8 + 1,
                    toward: mate as u8 + 1,
                },
            );
            signals.now.push(Happening::DribbleAt { at, mate });
        }
    }
    // Closely guarded.
    if let Some(rule) = play.cast.court.clock.closely_guarded {
        let counts = hold.work != Ballwork::Driving
            && (rule.while_dribbling || hold.work != Ballwork::Dribbling);
        let near = others
            .iter()
            .any(|(f, _, _)| (f.0.pos - body.pos).norm() <= rule.distance);
        if counts && near {
            let since = *hold.guarded_since.get_or_insert(clock.tick);
            if f64::from(clock.tick - since) * TICK > rule.seconds
                && hold.pending.is_none()
                && !play.scenario.drill.passive
            {
                end(
                    clock,
                    ball,
                    book,
                    Ending::Turnover {
                        how: Turnover::CloselyGuarded,
                        who: me as u8 + 1,
                        by: None,
                    },
                );
                return;
            }
        } else {
            hold.guarded_since = None;
        }
    }
    ball.state = BallState::Held(hold);
}

/// The nearest defender ahead of a driver: who, and how far.
fn in_front(pos: Vec2, to_rim: Vec2, others: &Others) -> (usize, f64) {
    let mut best = (0, f64::INFINITY);
    for (d, (form, _, _)) in others.iter().enumerate() {
        let off = form.0.pos - pos;
        if off.dot(&to_rim) > -0.1 && off.norm() < best.1 {
            best = (d, off.norm());
        }
    }
    best
}

#[allow(clippy::too_many_arguments)]
fn throw(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &Hold,
    to: usize,
    kind: crate::ball::PassKind,
    look: LookKind,
    openness: f64,
    fed_on_the_run: bool,
    ball: &mut Ball,
    signals: &mut Signals,
    book: &mut Book,
    mates: &mut Mates,
) {
    let me = hold.by;
    let going = match old.doing[to] {
        Doing::Cutting {
            goal,
            via,
            arrived: false,
            ..
        } => Going {
            goal: Some(goal),
            via,
            stops: None,
        },
        _ => Going {
            stops: old.stops[to],
            ..Going::NOWHERE
        },
    };
    let mut scene = old.scene;
    for (i, (form, _)) in mates.iter().enumerate() {
        scene.pos[i] = form.0.pos;
        scene.vel[i] = form.0.vel;
    }
    let mut target = scene.pos[to];
    for _ in 0..2 {
        let f = flight(&play.cast, &scene, me, to, kind, target);
        // In a walk-through nobody has to be passed away from a defender.
        target = if play.scenario.drill.clean {
            lead(&play.cast, &scene, to, going, f.duration)
        } else {
            aim(&play.cast, &scene, me, to, going, f.duration)
        };
    }
    let as_meant = flight(&play.cast, &scene, me, to, kind, target);
    let now = on_release(&play.cast, &scene, me, to, &as_meant).value;
    // The cutter is not where a feed would finish him, or a defender has come into the way since: the
    // passer keeps it.
    let gone = match going.goal {
        Some(_) => target.norm() > super::holder::FEED_WITHIN + 0.6,
        None => fed_on_the_run && matches!(look, LookKind::GiveAndGo | LookKind::Backdoor),
    };
    let shut = !play.scenario.drill.clean && now < KEEPS_IT.min(openness);
    if gone || shut {
        let mut kept = *hold;
        kept.pending = None;
        kept.ready = clock.tick + ticks(LOOKS_AGAIN);
        ball.state = BallState::Held(kept);
        return;
    }
    let mut aimed = target;
    if !play.scenario.drill.clean {
        let mut aim = play.dice.at(Purpose::Aim, me, clock.tick);
        let lead = if going.goal.is_some() {
            ON_THE_RUN
        } else {
            1.0
        };
        let room = old.scene.nearest_defender(scene.pos[me]).0;
        let pressed = ((PRESSURE_FROM - room) / (PRESSURE_FROM - 0.6)).clamp(0.0, 1.0);
        let wild = lead * (1.0 + PRESSED * pressed);
        let angle = play.hand * aim.normal() * play.cast.players[me].hands.pass_error * wild;
        let stretch = 1.0 + 0.5 * aim.normal() * play.cast.players[me].hands.pass_error;
        let way = target - scene.pos[me];
        let (sin, cos) = (libm::sin(angle), libm::cos(angle));
        aimed = scene.pos[me]
            + Vec2::new(way.x * cos - way.y * sin, way.x * sin + way.y * cos) * stretch;
    }
    let f: Flight = flight(&play.cast, &scene, me, to, kind, aimed);
    let from_spot = holder_spot(play, old, me);
    // A pass that leads a cutter is a pass to the rim.
    let to_spot = if going.goal.is_some() {
        Spot::new(SpotName::Rim, None)
    } else {
        spot_of(play, old, to)
    };
    book.write(
        clock,
        What::Passes {
            from: me as u8 + 1,
            to: to as u8 + 1,
            kind,
            look,
            openness: now,
            length: (aimed - scene.pos[me]).norm(),
        },
    );
    // The ball side is the side on which it will be.
    let side = to_spot.side.unwrap_or(if aimed.x > 1.2 {
        Side::Right
    } else if aimed.x < -1.2 {
        Side::Left
    } else {
        ball.side
    });
    turn_side(ball, side, signals);
    let how = match look {
        LookKind::GiveAndGo | LookKind::Backdoor => Finish::Cut,
        LookKind::Post => Finish::PostUp,
        LookKind::DropOff => Finish::DropOff,
        _ => Finish::SpotUp,
    };
    if let Some(from) = hold.drove_from {
        signals.now.push(Happening::KickOut {
            from,
            driver: me,
            receiver: to,
        });
    } else {
        signals.now.push(Happening::Pass {
            from: from_spot,
            to: to_spot,
            passer: me,
            receiver: to,
        });
    }
    signals.last_passer = Some(me);
    signals.answered = 0;
    signals.denied = [0; 5];
    signals.forgotten = 0;
    book.stalled = None;
    let job = &mut mates[me].1;
    job.task = Task::Stand;
    if hold.drove_from.is_some() {
        job.place = None;
    }
    let through = going.goal.is_some();
    let job = &mut mates[to].1;
    job.next = None;
    job.task = Task::Meet {
        at: aimed,
        through,
        when: clock.tick + ticks(f.duration),
    };
    ball.state = BallState::Flying {
        flight: f,
        began: clock.tick,
        from: me,
        to,
        look,
        tried: [false; 5],
        how,
    };
}

#[allow(clippy::too_many_arguments)]
fn flying(
    play: &Play,
    clock: &Clock,
    old: &Old,
    ball: &mut Ball,
    signals: &mut Signals,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
) {
    let BallState::Flying {
        flight,
        began,
        from,
        to,
        look,
        mut tried,
        how,
    } = ball.state
    else {
        return;
    };
    let t = f64::from(clock.tick - began) * TICK;
    let (pos, height) = flight.at(t.min(flight.duration));
    ball.pos = pos;
    ball.height = height;
    let clean = play.scenario.drill.clean;
    // Defenders' hands.
    if !play.scenario.drill.passive {
        for (d, (form, guard, eyes)) in others.iter().enumerate() {
            if tried[d] {
                continue;
            }
            let player = &play.cast.players[5 + d];
            let off = (form.0.pos - pos).norm();
            let early = (pos - flight.from).norm() < 1.1;
            let receiver = mates[to].0.0.pos;
            let blocked = (receiver - form.0.pos).norm() < (pos - form.0.pos).norm()
                && (receiver - pos).norm() < 1.0;
            let reach = if blocked {
                player.limits.reach * 0.35
            } else {
                player.limits.reach * HANDS
            };
            let low = height < 0.55;
            let reach = if low { reach * 0.75 } else { reach };
            if early
                || off > reach
                || height > player.limits.standing_reach + 0.2
                || t < super::eyes::alertness(play, d, guard, eyes)
            {
                continue;
            }
            tried[d] = true;
            let chance = if eyes.sees_ball {
                TAKES_SET
            } else {
                TAKES_BLIND
            };
            let mut dice = play.dice.at(Purpose::Take, d, clock.tick);
            if dice.unit() < chance {
                let holds = dice.unit() < HOLDS;
                if holds {
                    let (who, by) = (from as u8 + 1, Some(d as u8 + 1));
                    end(
                        clock,
                        ball,
                        book,
                        Ending::Turnover {
                            how: Turnover::Intercepted,
                            who,
                            by,
                        },
                    );
                    return;
                }
                book.write(
                    clock,
                    What::Tips {
                        defender: d as u8 + 1,
                        from: from as u8 + 1,
                        to: to as u8 + 1,
                    },
                );
                let angle = play.hand * (dice.unit() - 0.5) * 2.4;
                let along = (flight.to - flight.from) / flight.distance.max(1e-6);
                let (sin, cos) = (libm::sin(angle), libm::cos(angle));
                let vel = Vec2::new(along.x * cos - along.y * sin, along.x * sin + along.y * cos)
                    * (2.0 + 2.0 * dice.unit());
                free_ball(clock, ball, pos, vel, from, Some(d), mates);
                return;
            }
        }
    }
    let body = mates[to].0.0;
    let near = (body.pos - pos).norm();
    // Who is led lets it come to the point where he is to have it, unless a defender is near it.
    let led = matches!(mates[to].1.task, Task::Meet { through: true, .. })
        && others
            .iter()
            .all(|(f, _, _)| (f.0.pos - pos).norm() > SNATCHES);
    let arriving = t >= flight.duration * if led { 0.85 } else { 0.55 };
    if arriving && near < CATCH && height < play.cast.players[to].limits.standing_reach + 0.3 {
        let mut dice = play.dice.at(Purpose::Catch, to, clock.tick);
        let crowd = others
            .iter()
            .any(|(f, _, _)| (f.0.pos - body.pos).norm() < 1.0);
        let beside = near / CATCH;
        let drops = play.cast.players[to].fumbles
            * if crowd { CROWDED } else { 1.0 }
            * (1.0 + BESIDE_HIM * beside * beside);
        if !clean && dice.unit() < drops {
            let vel = Vec2::new(play.hand * dice.normal(), dice.normal()) * BOUNCES_OFF;
            free_ball(clock, ball, pos, vel, to, None, mates);
            return;
        }
        caught(
            play, clock, old, ball, signals, book, mates, others, to, how,
        );
        return;
    }
    if t > flight.duration + 0.2 {
        let along = (flight.to - flight.from) / flight.distance.max(1e-6);
        free_ball(
            clock,
            ball,
            pos,
            along * flight.ground_speed(flight.duration) * 0.5,
            from,
            None,
            mates,
        );
        return;
    }
    ball.state = BallState::Flying {
        flight,
        began,
        from,
        to,
        look,
        tried,
        how,
    };
}

fn free_ball(
    clock: &Clock,
    ball: &mut Ball,
    pos: Vec2,
    vel: Vec2,
    last: usize,
    by: Option<usize>,
    mates: &mut Mates,
) {
    ball.pos = pos;
    ball.height = 0.3;
    ball.state = BallState::Loose {
        pos,
        vel,
        since: clock.tick,
        last,
        by,
    };
    // The two nearest attackers go for it.
    let mut order = [0, 1, 2, 3, 4];
    order.sort_by(|&a, &b| {
        (mates[a].0.0.pos - pos)
            .norm()
            .total_cmp(&(mates[b].0.0.pos - pos).norm())
            .then(a.cmp(&b))
    });
    for (rank, &i) in order.iter().enumerate() {
        let job = &mut mates[i].1;
        if rank < 2 {
            job.task = Task::Chase;
            job.next = None;
        } else if matches!(job.task, Task::Meet { .. } | Task::Handle) {
            job.task = Task::Stand;
        }
    }
}

#[allow(clippy::too_many_arguments)]
fn caught(
    play: &Play,
    clock: &Clock,
    old: &Old,
    ball: &mut Ball,
    signals: &mut Signals,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
    who: usize,
    how: Finish,
) {
    let body = mates[who].0.0;
    let place = match old.doing[who] {
        Doing::Outside if (how == Finish::SpotUp) => mates[who]
            .1
            .place
            .unwrap_or_else(|| play.cast.court.nearest_spot(body.pos)),
        _ => play.cast.court.nearest_spot(body.pos),
    };
    let mut near = (f64::INFINITY, 0);
    for (d, (form, _, _)) in others.iter().enumerate() {
        let room = (form.0.pos - body.pos).norm();
        if room < near.0 {
            near = (room, d);
        }
    }
    let outside = place.name.is_perimeter();
    {
        let job = &mut mates[who].1;
        job.task = Task::Handle;
        job.next = None;
        if outside {
            job.place = Some(place);
        }
    }
    if outside {
        for i in 0..5 {
            if i != who && mates[i].1.place == Some(place) {
                mates[i].1.place = None;
                if let Task::Run { .. } = mates[i].1.task {
                    mates[i].1.task = Task::Stand;
                }
            }
        }
    }
    for i in 0..5 {
        if i != who && matches!(mates[i].1.task, Task::Chase) {
            mates[i].1.task = Task::Stand;
        }
    }
    book.write(
        clock,
        What::Catches {
            who: who as u8 + 1,
            at: place,
            off: (play.cast.court.spot(place) - body.pos).norm(),
            room: near.0,
            defender: near.1 as u8 + 1,
        },
    );
    if let Some(d) = (0..5).find(|&d| others[d].1.man == who) {
        // How late his defender is: the time he still needs to his station.
        let (form, _, _) = others[d];
        let limits = &play.cast.players[5 + d].limits;
        let station = super::defenders::station(
            &super::defenders::stance_of(play, d, crate::defence::Relation::OnBall),
            body.pos,
            body.pos,
        );
        let late = crate::body::time_to_reach(form.0.pos, form.0.vel, limits, station, 0.3, 0.0);
        if late > 0.25 {
            book.write(
                clock,
                What::Late {
                    defender: d as u8 + 1,
                    man: who as u8 + 1,
                    late,
                },
            );
        }
    }
    signals.now.push(Happening::Catch { at: place, who });
    let quick = matches!(how, Finish::Cut | Finish::DropOff);
    // Caught on the run to the rim: he goes on.
    let distance = body.pos.norm();
    let toward = -body.vel.dot(&body.pos) / distance.max(1e-6);
    let on_the_run = how == Finish::Cut
        && !play.scenario.drill.passive
        && toward > 1.5
        && distance > 1.4
        && distance < 5.0;
    let finish = body.pos
        * (crate::looks::driving::TAKE_OFF / distance.max(crate::looks::driving::TAKE_OFF));
    let drive = Drive {
        from: place,
        via: None,
        finish,
        began: clock.tick,
        stuck: 0,
    };
    ball.state = BallState::Held(Hold {
        by: who,
        since: clock.tick + 1,
        work: if on_the_run {
            Ballwork::Driving
        } else {
            Ballwork::Holding
        },
        drive: on_the_run.then_some(drive),
        drove_from: None,
        at_mate: None,
        angle: None,
        angle_since: None,
        pending: None,
        ready: clock.tick + if quick { 1 } else { ticks(0.2) },
        how,
        guarded_since: None,
        picked_up: None,
    });
    ball.pos = body.pos + body.facing * 0.3;
    ball.height = 1.2;
}

#[allow(clippy::too_many_arguments)]
fn loose(
    play: &Play,
    clock: &Clock,
    old: &Old,
    ball: &mut Ball,
    signals: &mut Signals,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
) {
    let BallState::Loose {
        pos,
        vel,
        since,
        last,
        by,
    } = ball.state
    else {
        return;
    };
    // Rolls on and slows (ours: a bouncing ball loses speed at about 1.5 m/s²).
    let speed = vel.norm();
    let slower = (speed - 1.5 * TICK).max(0.0);
    let vel = if speed > 1e-9 {
        vel * (slower / speed)
    } else {
        vel
    };
    let pos = pos + vel * TICK;
    ball.pos = pos;
    let who = last as u8 + 1;
    let how = if by.is_some() {
        Turnover::Tipped
    } else {
        Turnover::LostPass
    };
    if !play.cast.court.in_bounds(pos) {
        end(
            clock,
            ball,
            book,
            Ending::Turnover {
                how,
                who,
                by: by.map(|d| d as u8 + 1),
            },
        );
        return;
    }
    let mut first: Option<(f64, usize, bool)> = None;
    for i in 0..5 {
        let mine = (mates[i].0.0.pos - pos).norm();
        let theirs = (others[i].0.0.pos - pos).norm();
        for (distance, attacker) in [(mine, true), (theirs, false)] {
            if distance < 0.7 && first.is_none_or(|(d, _, _)| distance < d) {
                first = Some((distance, i, attacker));
            }
        }
    }
    match first {
        _ if clock.tick < since + 4 => {
            ball.state = BallState::Loose {
                pos,
                vel,
                since,
                last,
                by,
            }
        }
        Some((_, i, true)) => caught(
            play,
            clock,
            old,
            ball,
            signals,
            book,
            mates,
            others,
            i,
            Finish::OffHold,
        ),
        Some((_, d, false)) => end(
            clock,
            ball,
            book,
            Ending::Turnover {
                how,
                who,
                by: Some(d as u8 + 1),
            },
        ),
        None if clock.tick > since + ticks(3.0) => {
            end(clock, ball, book, Ending::Turnover { how, who, by: None })
        }
        None => {
            ball.state = BallState::Loose {
                pos,
                vel,
                since,
                last,
                by,
            }
        }
    }
}

#[allow(clippy::too_many_arguments)]
fn shoot(
    play: &Play,
    clock: &Clock,
    hold: &Hold,
    finish: Finish,
    ball: &mut Ball,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
) {
    let me = hold.by;
    let body = mates[me].0.0;
    let mut room = f64::INFINITY;
    let mut closing = 0.0;
    for (form, _, _) in others {
        let off = body.pos - form.0.pos;
        let distance = off.norm();
        if distance < room {
            room = distance;
            closing = (form.0.vel.dot(&off) / distance.max(1e-6)).max(0.0);
        }
    }
    let off_catch = super::holder::off_the_catch(clock, hold);
    let chance = shot_at(&play.cast, me, body.pos, room, closing).0
        * rhythm(body.pos, room, off_catch)
        * super::holder::post_share(finish == Finish::PostUp, room);
    let points = play.cast.court.points(body.pos);
    let zone = play.cast.court.zone(body.pos);
    let number = me as u8 + 1;
    let distance = body.pos.norm();
    book.write(
        clock,
        What::Shoots {
            who: number,
            distance,
            room,
            chance,
            finish,
        },
    );
    let made = play.dice.at(Purpose::Shot, me, 0).unit() < chance;
    end(
        clock,
        ball,
        book,
        Ending::Shot {
            shooter: number,
            points,
            made,
            zone,
            finish,
            distance,
            room,
            chance,
        },
    );
}

pub fn end(clock: &Clock, ball: &mut Ball, book: &mut Book, ending: Ending) {
    book.write(clock, What::Ends { ending });
    book.ending = Some(ending);
    ball.state = BallState::Dead;
}

/// A player who is leaving the lane is called all the same once he has been in it for this much longer
/// than the rule allows, seconds (ours).
const ALLOWANCE: f64 = 1.5;

/// The referee: shot clock and lane seconds; and, without a shot clock, the end of patience.
pub fn referee_watches(floor: ResMut<Floor>, attackers: Query<(&Attacker, &Form, &Job)>) {
    let Floor {
        play,
        clock,
        ball,
        book,
        ..
    } = floor.into_inner();
    if book.ending.is_some() || play.scenario.drill.passive {
        return;
    }
    if let Some(allowed) = play.cast.court.clock.lane_seconds {
        for (&Attacker(who), form, job) in &attackers {
            let driving = ball.hold().is_some_and(|h| h.by == who);
            let inside = play.cast.court.in_lane(form.0.pos);
            // Allowances are made for a player who is leaving the lane (FIBA Official Basketball
            // Rules, Art. 26, from memory): his count stands still, though not for long.
            let came_in = book.came_in[who];
            let leaving = matches!(job.task, Task::Run { .. })
                && form.0.vel.norm() > 0.6
                && f64::from(came_in) * TICK < allowed + ALLOWANCE;
            (book.in_lane[who], book.came_in[who]) = match (inside && !driving, leaving) {
                (false, _) => (0, 0),
                (true, true) => (book.in_lane[who].max(1), came_in + 1),
                // In all he has the rule's time and the allowance.
                (true, false) => (
                    (book.in_lane[who] + 1).max((came_in + 1).saturating_sub(ticks(ALLOWANCE))),
                    came_in + 1,
                ),
            };
            if f64::from(book.in_lane[who]) * TICK > allowed {
                end(
                    clock,
                    ball,
                    book,
                    Ending::Turnover {
                        how: Turnover::LaneSeconds,
                        who: who as u8 + 1,
                        by: None,
                    },
                );
                return;
            }
        }
    }
    let over = clock.tick >= clock.limit + if clock.ruled { 0 } else { ticks(20.0) };
    let released = !matches!(
        ball.state,
        BallState::Held(_) | BallState::Flying { .. } | BallState::Loose { .. }
    );
    if over && !released {
        let who = ball.man() as u8 + 1;
        end(
            clock,
            ball,
            book,
            Ending::Turnover {
                how: Turnover::ShotClock,
                who,
                by: None,
            },
        );
    }
}

/// The spot helper for tests and the timeline.
pub fn name_of(spot: Spot) -> String {
    spot.to_string()
}
