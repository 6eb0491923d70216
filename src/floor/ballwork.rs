//! The ball: passes leave, fly, are caught, taken or lost; drives get on or get stopped; shots go up.
//!
//! Without a rule: a passer keeps the ball if the lane shuts as the ball is about to leave. A pass to a
//! player who stands goes to the hand away from the defender (`looks::passing::aim`).

use bevy_ecs::prelude::*;

use crate::ball::Flight;
use crate::court::{Side, Spot, SpotName, Vec2};
use crate::looks::passing::{Going, aim, flight, lead, on_release};
use crate::offence::{LookKind, Movement, Role};
use crate::possession::{Ballwork, Ending, Finish, TICK, Turnover, What};

use super::dice::Purpose;
use super::flight::{Mates, Others, flying, loose};
use super::parts::*;
use super::referee::end;
use super::shot::shoot;
use super::sight::{fed_at, holder_spot, spot_of};

/// A cutter who is fed this far from the middle takes the ball side with him, metres (ours).
const ASIDE: f64 = 1.2;

/// A pass that is no more open than this when it is about to leave his hands is kept (unless he knew it
/// for a gamble), and he looks again after so long, seconds (ours).
const KEEPS_IT: f64 = 0.4;
const LOOKS_AGAIN: f64 = 0.2;

/// A lead pass to a runner misses by this much more (ours, no source).
const ON_THE_RUN: f64 = 1.9;

/// A defender nearer than this presses the passer, metres; with a body on him he misses by this much
/// more again (ours; defensive pressure lowers passing: IJERPH 18(3) 1165, 2021, direction only).
const PRESSURE_FROM: f64 = 1.4;
const PRESSED: f64 = 2.0;

/// Body to body on a drive the ball is lost this much more often than under pressure at arm's length
/// (ours: about one drive in sixteen is lost among professionals, from memory, low).
const STRIPPED: f64 = 3.2;

/// A second defender at the ball multiplies the chance to lose it by this (ours, no source).
const SECOND_HAND: f64 = 2.0;

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
            let past = (via - body.pos).dot(drive.finish - via) < 0.0;
            if (via - body.pos).length() < 0.6 || past {
                drive.via = None;
            }
        }
        let to_rim = -body.pos / body.pos.length().max(1e-6);
        let gain = body.vel.dot(to_rim);
        let (blocker, gap) = in_front(body.pos, to_rim, others);
        let slow = clock.tick > drive.began + 8 && gain < 1.0;
        if slow && gap < BLOCKED {
            drive.stuck += 1;
        } else {
            drive.stuck = drive.stuck.saturating_sub(1);
        }
        let distance = body.pos.length();
        let near = gap < 0.95
            && others
                .iter()
                .any(|(f, _, _)| (f.0.pos - body.pos).length() < 0.95);
        if near && !play.scenario.drill.clean {
            let crowd = others
                .iter()
                .filter(|(f, _, _)| (f.0.pos - body.pos).length() < 1.2)
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
        if place.is_none_or(|p| (p - body.pos).length() < 0.5) {
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
        let may = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling);
        if let (Some(mate), true, None) = (mate, may, hold.pending) {
            let at = spot_of(play, old, mate);
            hold.angle = None;
            hold.work = Ballwork::Dribbling;
            hold.at_mate = Some(mate);
            // The dribbler takes that place; the team-mate, if no rule sends him, what is left.
            mates[me].1.place = Some(at);
            mates[mate].1.order.found_at = mates[mate].1.place.take();
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
            .any(|(f, _, _)| (f.0.pos - body.pos).length() <= rule.distance);
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
        if off.dot(to_rim) > -0.1 && off.length() < best.1 {
            best = (d, off.length());
        }
    }
    best
}

/// A receiver farther from the rim than this is met on the near side, metres (ours).
const FAR_OUT: f64 = 5.0;

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
        Some(_) => target.length() > super::sight::FEED_WITHIN + 0.6,
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
    let stands = going.goal.is_none() && going.stops.is_none();
    if stands && !play.scenario.drill.clean && scene.pos[to].length() > FAR_OUT {
        // To the near side of a receiver outside, who comes to meet it.
        let model = &play.cast.model.movement;
        let mut dice = play.dice.at(Purpose::Lead, to, clock.tick);
        let way = (scene.pos[me] - aimed) / (scene.pos[me] - aimed).length().max(1e-6);
        let side = Vec2::new(-way.y, way.x);
        let nearer = model.meet_lead * (0.4 + 0.8 * dice.unit());
        aimed += way * nearer + side * (play.hand * model.meet_side * dice.normal());
    }
    let f: Flight = flight(&play.cast, &scene, me, to, kind, aimed);
    let from_spot = holder_spot(play, old, me);
    // A pass that leads a cutter is a pass to the rim.
    let to_spot = if going.goal.is_some() {
        Spot::new(SpotName::Rim, None)
    } else {
        fed_at(play, old, to, aimed)
    };
    book.write(
        clock,
        What::Passes {
            from: me as u8 + 1,
            to: to as u8 + 1,
            kind,
            look,
            openness: now,
            length: (aimed - scene.pos[me]).length(),
        },
    );
    // The ball side is the side on which it will be.
    let side = match to_spot.name {
        SpotName::Rim if aimed.x.abs() > ASIDE => Side::of(aimed.x, ball.side),
        _ => to_spot.side.unwrap_or(ball.side),
    };
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
    for (i, (_, job)) in mates.iter_mut().enumerate() {
        job.order.holds = false;
        if i != to && job.let_it_be() {
            book.write(clock, What::LetsBe { who: i as u8 + 1 });
        }
    }
    let through = going.goal.is_some();
    let job = &mut mates[to].1;
    job.next = None;
    job.task = Task::Meet {
        at: aimed,
        through,
        when: clock.tick + ticks(f.duration),
        spot: to_spot,
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

/// The spot helper for tests and the timeline.
pub fn name_of(spot: Spot) -> String {
    spot.to_string()
}
