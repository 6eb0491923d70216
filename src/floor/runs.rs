//! Attackers: each task becomes one step.
//!
//! Without a rule: a player whose passing lane stays shut takes the defender in toward the rim and
//! comes back out to the ball, and a player in place shifts their feet (`feet.rs`).

use bevy_ecs::prelude::*;

use crate::body::Intent;
use crate::court::{Side, Vec2};
use crate::offence::{CutLane, Movement};
use crate::possession::{TICK, What};

use super::feet::{shorten, sway, takes_him_in};
use super::manner;
use super::parts::*;
use super::tasks::{cut, cuts_from, run};
use super::{screens, steer};

/// A runner counts as there within this distance, metres.
const THERE: f64 = 0.35;
/// Beside the lane within this distance, metres, as long as he gets on faster than this, m/s (ours).
const BESIDE_THE_LANE: f64 = 0.15;
const GETS_ON: f64 = 0.4;
/// Who flashes shows from this near to his spot on, metres.
const SHOWS: f64 = 1.0;
/// Share of his braking power with which a runner goes into a corner of the floor (ours).
const EASES: f64 = 0.55;
/// Who is this near to the spot where he is to show need not go round anybody, metres (ours).
const IS_THERE: f64 = 0.7;
/// A post whose defender is farther than this, or helps, has been left, metres.
const LEFT_ALONE: f64 = 2.2;
const COMES_BACK: f64 = 1.3;

/// A player leaves the lane after this long, seconds (the rule allows three).
const LEAVES_LANE: f64 = 1.8;
/// On his way out all the time he looks for another way after this long, seconds (ours).
const HELD_UP: f64 = 2.4;

/// A cutter does not brake for his lay-up spot as for a place to stand: he would come to rest this
/// far behind it, metres (ours).
const CUTS_THROUGH: f64 = 1.0;
/// Unless he is to turn back to his own side (ours).
const TURNS_IN: f64 = 0.2;
/// Who runs away from that spot no farther than the first from it has been there, metres, or than the second as near
/// as that to the ring (ours).
const GONE_BY: (f64, f64) = (2.0, 3.2);
const AT_THE_RIM: f64 = 2.4;
/// A player on the perimeter to whom the pass has been shut for this long, seconds, works to get open, at most
/// this often, seconds (common practice). Not all go at once: it takes him as
/// long again for each so many metres that he is from the ball, and this share more on the weak side.
const SHUT_FOR: f64 = 0.4;
const LATER_BY: f64 = 18.0;
const WEAK_SIDE_WAITS: f64 = 0.4;
const WORKS_EVERY: f64 = 2.6;
/// How much longer than the nearest a player waits before he works to get open.
fn later(ball: &Ball, pos: Vec2) -> f64 {
    let weak = Side::of(pos.x, ball.side) != ball.side;
    1.0 + (ball.pos - pos).length() / LATER_BY + if weak { WEAK_SIDE_WAITS } else { 0.0 }
}

fn stand(at: Vec2, face: Vec2) -> Intent {
    Intent {
        target: at,
        arrive: true,
        pace: 0.5,
        face: Some(face),
    }
}

/// Each attacker's step in this tick.
pub fn attackers_run(
    floor: ResMut<Floor>,
    mut attackers: Query<(&Attacker, &Form, &mut Will, &mut Job)>,
) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor.into_inner();
    let court = &play.cast.court;
    for (&Attacker(who), form, mut will, mut job) in &mut attackers {
        let pos = form.0.pos;
        let to_ball = ball.pos - pos;
        will.mobile = 1.0;
        will.effort = manner::effort_of(&job.task);
        will.manner = manner::of_attacker(play, ball, old, &job, who, pos);
        let mut replaced: Option<Task> = None;
        let job = &mut *job;
        will.intent = match &mut job.task {
            Task::Stand => {
                let told = job.order.told;
                let home = job
                    .place
                    .map_or(pos, |s| manner::place_of(play, who, told, s));
                let outside = job.place.is_some_and(|s| s.name.is_perimeter());
                let mut at = home;
                if signals.shut[who] > 0 && !job.order.holds {
                    at = shorten(&play.cast.model.footwork, at, ball.pos);
                }
                if (at - pos).length() > 2.5 {
                    at = pos;
                } else if !play.scenario.drill.clean {
                    let footwork = &play.cast.model.footwork;
                    let by = if outside {
                        footwork.sway_outside
                    } else {
                        footwork.sway_inside
                    };
                    at += sway(play, clock, who, by, &mut signals.feet[who]);
                }
                let works = outside
                    && !play.scenario.drill.clean
                    && job.next.is_none()
                    && !job.order.holds
                    && steer::driver(ball).is_none()
                    && signals.shut[who] >= ticks(SHUT_FOR * later(ball, pos))
                    && signals.worked[who].is_none_or(|t| clock.tick >= t + ticks(WORKS_EVERY))
                    && (home - pos).length() < 1.5;
                if let Some(turn) = takes_him_in(&play.cast, old, who).filter(|_| works) {
                    signals.worked[who] = Some(clock.tick);
                    let number = who as u8 + 1;
                    book.write(clock, What::GetsOpen { who: number });
                    replaced = Some(Task::GetOpen {
                        turn,
                        out: false,
                        until: clock.tick + ticks(1.4),
                    });
                }
                stand(at, to_ball)
            }
            Task::GetOpen { turn, out, until } => {
                let home = job.place.map_or(pos, |s| court.spot(s));
                // Nobody runs in toward a drive.
                let late = clock.tick >= *until || !*out && steer::driver(ball).is_some();
                if !*out && ((*turn - pos).length() < 0.4 || late) {
                    *out = true;
                    *until = clock.tick + ticks(1.2);
                } else if *out && ((home - pos).length() < THERE || late) {
                    replaced = Some(Task::Stand);
                }
                Intent {
                    target: if *out { home } else { *turn },
                    arrive: true,
                    pace: if *out { 1.0 } else { 0.7 },
                    face: None,
                }
            }
            Task::Run {
                way,
                legs,
                leg,
                pace,
            } => {
                let last = *leg + 1 >= *legs;
                let target = way[usize::from(*leg)];
                let near = (target - pos).length();
                // Where his way turns back he has to get to, and to brake, too.
                let next = way[usize::from(*leg + 1).min(way.len() - 1)];
                let came = target - way[usize::from(*leg) - 1];
                let turns_back = !last && (next - target).dot(came) < 0.0;
                let there = match job.place {
                    _ if turns_back => THERE,
                    _ if !last => 0.9,
                    // Beside the lane he is there when he is out of it, or can get no farther.
                    Some(s) if !s.name.is_perimeter() && form.0.vel.length() > GETS_ON => {
                        BESIDE_THE_LANE
                    }
                    _ => THERE,
                };
                // Who has come past a point of his way need not go back to it.
                let off = target - pos;
                let past =
                    !last && !turns_back && (off.dot(came) < 0.0 || off.dot(next - target) < 0.0);
                if near < there || past {
                    if last {
                        replaced = Some(Task::Stand);
                    } else {
                        *leg += 1;
                    }
                }
                let face = if near < 2.0 && last {
                    Some(to_ball)
                } else {
                    None
                };
                let legs_made = (1..usize::from(*legs)).map(|k| (way[k] - way[k - 1]).length());
                let (length, asked) = (legs_made.sum(), *pace);
                let (legs, leg, way) = (*legs, *leg, *way);
                let mut pace = manner::pace_of_run(play, job, who, pos, length, asked);
                if !last && job.place.is_some_and(|s| s.name.is_wide()) {
                    // Into a corner of the floor he runs no faster than he can stop there.
                    let mut left = near;
                    for k in usize::from(leg)..usize::from(legs).max(1) - 1 {
                        left += (way[k + 1] - way[k]).length();
                    }
                    let limits = &play.cast.players[who].limits;
                    let may = steer::may_run(limits, will.effort * EASES, left);
                    pace = pace.min(may / limits.top_speed);
                }
                Intent {
                    target,
                    arrive: last || turns_back,
                    pace,
                    face,
                }
            }
            Task::Cut {
                via,
                goal,
                unfed,
                reached,
                from,
                off_a_screen,
                ..
            } => {
                if let Some(v) = via {
                    let past = (*v - pos).dot(*goal - *v) < 0.0;
                    if (*v - pos).length() < 0.7 || past {
                        *via = None;
                    }
                }
                let target = via.unwrap_or(*goal);
                let off = *goal - pos;
                let by = if pos.length() < AT_THE_RIM {
                    GONE_BY.1
                } else {
                    GONE_BY.0
                };
                let gone_by = off.dot(form.0.vel) < 0.0 && off.length() < by && via.is_none();
                let driver = steer::driver(ball).filter(|_| !play.scenario.drill.clean);
                let in_the_way = driver.is_some_and(|d| steer::meets(&old.scene, who, d));
                let ends = play.cast.model.movement.cut_end_distance;
                if reached.is_none() && (off.length() < ends || gone_by || in_the_way) {
                    *reached = Some(clock.tick);
                }
                if let Some(t) = *reached {
                    // Show for the ball at the rim for a moment, then go on.
                    if clock.tick >= t + manner::shows_for(play, job.order.told, who) {
                        let movement = std::mem::replace(&mut **unfed, Movement::Hold);
                        signals.now.push(Happening::Unfed { from: *from, who });
                        // An order that he has just been given stands.
                        if job.next.is_none() {
                            (job.next, job.starts) = (Some(movement), clock.tick);
                        }
                        replaced = Some(Task::Stand);
                        if let Some(to) = job.place {
                            book.write(
                                clock,
                                What::Unfed {
                                    who: who as u8 + 1,
                                    to,
                                },
                            );
                        }
                    }
                }
                // At full speed until he has to gather himself for a lay-up or for the way out.
                let turns = matches!(**unfed, Movement::CircleOut(_));
                let through = if turns { TURNS_IN } else { CUTS_THROUGH };
                let target = if via.is_none() && reached.is_none() {
                    target + (target - pos) * (through / off.length().max(through))
                } else {
                    target
                };
                // Round a screener's shoulder he runs no faster than he can turn there.
                let turns = via.filter(|_| *off_a_screen);
                let limits = &play.cast.players[who].limits;
                let pace = manner::pace_of_cut(play, job.order.told, who);
                let pace = turns.map_or(pace, |by| pace.min(steer::curls(limits, pos, by, *goal)));
                Intent {
                    target,
                    arrive: via.is_none(),
                    pace,
                    face: None,
                }
            }
            Task::Flash {
                at,
                goal,
                arrived,
                ticks: stay,
                seal,
            } => {
                let there = (*goal - pos).length() < IS_THERE;
                let goal = if arrived.is_some() || there || play.scenario.drill.passive {
                    *goal
                } else {
                    steer::shows_at(&old.scene, who, *goal, ball.pos)
                };
                if arrived.is_none() && (goal - pos).length() < SHOWS {
                    *arrived = Some(clock.tick);
                    let (who, at) = (who as u8 + 1, *at);
                    book.write(
                        clock,
                        if *seal {
                            What::Seals { who, at }
                        } else {
                            What::Flashes { who, to: at }
                        },
                    );
                }
                if arrived.is_some_and(|t| clock.tick >= t + *stay) {
                    let home = job.place.map_or(goal, |s| court.spot(s));
                    job.showed = Some((*at, clock.tick));
                    replaced = Some(run(pos, &[home], 0.7));
                }
                Intent {
                    target: goal,
                    arrive: true,
                    pace: 1.0,
                    face: ((goal - pos).length() < 1.3).then_some(to_ball),
                }
            }
            Task::Screen {
                whom,
                until,
                set,
                after,
            } => {
                let mate = old.scene.pos[*whom];
                let face = Some(mate - pos);
                if set.is_none() && screens::there(old, who, *whom) {
                    *set = Some(clock.tick);
                    let (who, on) = (who as u8 + 1, *whom as u8 + 1);
                    book.write(clock, What::Screens { who, on });
                }
                let over = match *set {
                    None => clock.tick >= *until,
                    Some(t) => screens::stands_no_more(old, *whom, clock.tick - t),
                };
                if over {
                    let after = std::mem::replace(&mut **after, Movement::Hold);
                    (job.next, job.starts) = (Some(after), clock.tick);
                    replaced = Some(Task::Stand);
                }
                let (target, pace) = if set.is_some() {
                    will.mobile = 0.0;
                    (pos, 0.0)
                } else {
                    (screens::place(old, ball.pos, who, *whom), 0.9)
                };
                Intent {
                    target,
                    arrive: true,
                    pace,
                    face,
                }
            }
            Task::UseScreen {
                of,
                at,
                since,
                unfed,
            } => {
                let comes = old.screening[*of] == Some(who);
                let set = comes && old.screens[*of];
                let away = (*at - pos).length() > screens::NEAR;
                if away && clock.tick < *since + ticks(screens::COMES_OUT) {
                    Intent {
                        target: *at,
                        arrive: true,
                        pace: 0.9,
                        face: None,
                    }
                } else {
                    if set || clock.tick >= *since + screens::waits(comes) {
                        let unfed = Box::new(std::mem::replace(&mut **unfed, Movement::Hold));
                        let number = who as u8 + 1;
                        let lane = CutLane::BallSide;
                        if set {
                            let from = cuts_from(court, job.order.found_at, pos, old.side);
                            let line =
                                screens::line_off(&play.cast.model.looks, old, ball, who, *of);
                            let mut task = cut(clock, book, number, lane, from, line, unfed);
                            if let Task::Cut { off_a_screen, .. } = &mut task {
                                *off_a_screen = true;
                            }
                            replaced = Some(task);
                        } else {
                            let of = *of as u8 + 1;
                            book.write(clock, What::NoScreen { who: number, of });
                            let straight = Movement::Cut { lane, unfed };
                            (job.next, job.starts) = (Some(straight), clock.tick);
                            replaced = Some(Task::Stand);
                        }
                    }
                    stand(pos, to_ball)
                }
            }
            Task::AwaitHelp { gone } => {
                let guard = old.scene.guarded_by(who);
                // Who has stepped in waits at home again if his man comes back to him.
                let far = if *gone { COMES_BACK } else { LEFT_ALONE };
                *gone = guard.is_none_or(|d| {
                    let away = (old.scene.pos[5 + d] - pos).length() > far;
                    away || old.duties[d].0 == crate::defence::Duty::LowHelp
                });
                let over = ball.hold().is_none_or(|h| h.drove_from.is_none());
                if over {
                    let home = job.place.map_or(pos, |s| court.spot(s));
                    replaced = Some(run(pos, &[home], 0.7));
                }
                let home = job.place.map_or(pos, |s| court.spot(s));
                // Beside the rim, away from the ball: a step in from the block.
                let side = Side::of(home.x, ball.side.other());
                let open = Vec2::new(side.sign() * (court.lane_width * 0.5 + 0.12), 0.3);
                let target = if *gone { open } else { home };
                Intent {
                    target,
                    arrive: true,
                    pace: 0.9,
                    face: Some(to_ball),
                }
            }
            Task::Meet {
                at, through, when, ..
            } => {
                let distance = (*at - pos).length();
                let face = (!*through || distance <= 0.8).then_some(to_ball);
                // A runner times his run to the ball; he who stands goes to meet it.
                let left = f64::from(when.saturating_sub(clock.tick).max(1)) * TICK;
                let needed = distance / left / play.cast.players[who].limits.top_speed;
                // Nobody waits for a pass: the catch is made on the move.
                Intent {
                    target: *at,
                    arrive: play.scenario.drill.clean && !*through,
                    pace: needed.clamp(0.25, 1.0),
                    face,
                }
            }
            Task::Chase => Intent {
                target: ball.pos,
                arrive: false,
                pace: 1.0,
                face: None,
            },
            Task::Handle => match ball.hold() {
                Some(hold) if hold.by == who => steer::with_the_ball(play, clock, hold, pos, job),
                _ => {
                    replaced = Some(Task::Stand);
                    stand(pos, to_ball)
                }
            },
        };
        if matches!(job.task, Task::Run { .. } | Task::Stand) {
            let spot = job.place.filter(|s| s.name.is_perimeter());
            if let Some(driver) = spot.and(steer::driver(ball)).filter(|&d| d != who) {
                let at = old.scene.pos[driver];
                will.intent.target = steer::clear_of_the_drive(at, pos, will.intent.target);
            }
        }
        if !matches!(
            job.task,
            Task::Handle | Task::Screen { .. } | Task::Stand | Task::GetOpen { .. }
        ) {
            let way = will.intent.target - pos;
            let home = matches!(job.task, Task::Run { .. });
            let cuts = matches!(job.task, Task::Cut { .. });
            let clear = steer::steer_clear(&old.scene, who, will.intent.target, home, cuts) - pos;
            // Who changes places, cuts or flashes does not stop beside a body that he goes round.
            let goes_on = matches!(
                job.task,
                Task::Run { .. }
                    | Task::Flash { arrived: None, .. }
                    | Task::Cut { reached: None, .. }
            );
            let on = if goes_on { way.length() } else { 0.0 };
            will.intent.target = pos + clear * (on / clear.length().max(1e-9)).max(1.0);
        }
        let held_up = book.came_in[who].saturating_sub(ticks(HELD_UP));
        let over = book.in_lane[who]
            .saturating_sub(ticks(LEAVES_LANE))
            .max(held_up);
        if over > 0 && over % 15 == 1 {
            steer::leave_the_lane(clock, book, job, who, old, court);
        }
        if let Some(task) = replaced {
            job.task = task;
        }
    }
}
