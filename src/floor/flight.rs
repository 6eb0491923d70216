//! The ball in the air and on the floor: who gets a hand on it, who catches it, who picks it up.

use crate::ball::PassKind;
use crate::court::{Spot, Vec2};
use crate::possession::{Ballwork, Ending, Finish, TICK, Turnover, What};

use super::dice::Purpose;
use super::parts::*;
use super::referee::end;
use super::sight::{NOT_THERE, SHOWN};

/// A ball within this distance of a receiver's body can be caught, metres (arm's length in front).
const CATCH: f64 = 0.75;

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

/// A defender this near to his man when he catches is not late, metres (ours).
const AT_HIS_MAN: f64 = 1.5;

/// Of the balls he gets a hand on, the share that he holds.
const HOLDS: f64 = 0.55;

pub(super) type Mates<'a, 'b> = [(&'a Form, &'b mut Job); 5];

pub(super) type Others<'a> = [(&'a Form, &'a Guard, &'a Eyes); 5];

#[allow(clippy::too_many_arguments)]
pub(super) fn flying(
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
            let off = (form.0.pos - pos).length();
            let looks = &play.cast.model.looks;
            let early = (pos - flight.from).length() < looks.pivot_distance;
            let receiver = mates[to].0.0.pos;
            let blocked = (receiver - form.0.pos).length() < (pos - form.0.pos).length()
                && (receiver - pos).length() < 1.0;
            let reach = if blocked {
                player.limits.reach * looks.behind_receiver_reach_share
            } else {
                player.limits.reach * looks.hand_reach_share
            };
            let low = height < looks.low_ball_height;
            let reach = if low {
                reach * looks.low_ball_reach_share
            } else {
                reach
            };
            if early
                || off > reach
                || height > player.limits.standing_reach + looks.hop_height
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
    let near = (body.pos - pos).length();
    // Who is led lets it come to the point where he is to have it, unless a defender is near it.
    let led = matches!(mates[to].1.task, Task::Meet { through: true, .. })
        && others
            .iter()
            .all(|(f, _, _)| (f.0.pos - pos).length() > SNATCHES);
    let from_then_on = match flight.kind {
        _ if led => 0.85,
        // Not before it has come up from the floor.
        PassKind::Bounce => 0.8,
        _ => 0.55,
    };
    let arriving = t >= flight.duration * from_then_on;
    if arriving && near < CATCH && height < play.cast.players[to].limits.standing_reach + 0.3 {
        let mut dice = play.dice.at(Purpose::Catch, to, clock.tick);
        let crowd = others
            .iter()
            .any(|(f, _, _)| (f.0.pos - body.pos).length() < 1.0);
        let beside = near / CATCH;
        let drops = play.cast.players[to].fumbles
            * if crowd { CROWDED } else { 1.0 }
            * (1.0 + BESIDE_HIM * beside * beside);
        if !clean && dice.unit() < drops {
            let vel = Vec2::new(play.hand * dice.normal(), dice.normal()) * BOUNCES_OFF;
            book.write(clock, What::Drops { who: to as u8 + 1 });
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
    // The nearest attacker goes for it, and the next who has nothing else to do.
    let mut order = [0, 1, 2, 3, 4];
    order.sort_by(|&a, &b| {
        (mates[a].0.0.pos - pos)
            .length()
            .total_cmp(&(mates[b].0.0.pos - pos).length())
            .then(a.cmp(&b))
    });
    let mut chasers = 0;
    for (rank, &i) in order.iter().enumerate() {
        let job = &mut mates[i].1;
        let idle = job.next.is_none()
            && matches!(
                job.task,
                Task::Stand | Task::Run { .. } | Task::GetOpen { .. } | Task::Meet { .. }
            );
        if rank == 0 || chasers < 2 && idle {
            chasers += 1;
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
    let court = &play.cast.court;
    let place = match (&mates[who].1.task, old.doing[who]) {
        // Where it was thrown to, if he did not have to go far for it.
        (Task::Meet { spot, .. }, _)
            if spot.name.is_inside() && (court.spot(*spot) - body.pos).length() < SHOWN =>
        {
            *spot
        }
        (_, Doing::Outside) if how == Finish::SpotUp => mates[who]
            .1
            .place
            .filter(|&spot| (court.spot(spot) - body.pos).length() < NOT_THERE)
            .unwrap_or_else(|| court.nearest_spot_on(body.pos, old.side)),
        _ if mates[who].1.place.is_some_and(|s| !s.name.is_perimeter()) => {
            court.nearest_inside(body.pos, old.side)
        }
        _ => court.nearest_spot_on(body.pos, old.side),
    };
    let mut near = (f64::INFINITY, 0);
    for (d, (form, _, _)) in others.iter().enumerate() {
        let room = (form.0.pos - body.pos).length();
        if room < near.0 {
            near = (room, d);
        }
    }
    let outside = place.name.is_perimeter();
    {
        let job = &mut mates[who].1;
        job.task = Task::Handle;
        job.next = None;
        let side = ball.side;
        let goes_on = |home: Spot| play.scenario.offence.goes_on(home, place, side);
        if outside && !job.place.is_some_and(goes_on) {
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
            off: (play.cast.court.spot(place) - body.pos).length(),
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
        if late > 0.25 && (form.0.pos - body.pos).length() > AT_HIS_MAN {
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
    let distance = body.pos.length();
    let toward = -body.vel.dot(body.pos) / distance.max(1e-6);
    let on_the_run = how == Finish::Cut
        && !play.scenario.drill.passive
        && toward > 1.5
        && distance > 1.4
        && distance < 5.0;
    let take_off = play.cast.model.looks.take_off_distance;
    let finish = body.pos * (take_off / distance.max(take_off));
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
        caught: body.pos,
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
pub(super) fn loose(
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
    let speed = vel.length();
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
    // Whoever is nearest by now goes for it.
    let off = |mates: &Mates, i: usize| (mates[i].0.0.pos - pos).length();
    let nearest = (1..5).fold(0, |n, i| if off(mates, i) < off(mates, n) { i } else { n });
    let beside = play.cast.model.movement.loose_ball_distance;
    for i in 0..5 {
        if i == nearest || off(mates, i) < beside {
            let job = &mut mates[i].1;
            (job.task, job.next) = (Task::Chase, None);
        }
    }
    let mut first: Option<(f64, usize, bool)> = None;
    for i in 0..5 {
        let mine = (mates[i].0.0.pos - pos).length();
        let theirs = (others[i].0.0.pos - pos).length();
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
