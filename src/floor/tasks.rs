//! From what a player is told to a task: who starts now, who goes home, and the ways of runs and cuts.

use bevy_ecs::prelude::*;

use crate::ball::PassKind;
use crate::court::{Court, Side, Spot, SpotName, Vec2};
use crate::looks::Scene;
use crate::model::Looks;
use crate::offence::{CutLane, Movement};
use crate::possession::{Ballwork, What};

use super::manner::place_of;
use super::parts::*;
use super::plans;
use super::rules::{Involved, fill_exactly, find, first_free, no_two_on_one_place};
use super::screens;
use super::sight::holder_spot;
use super::steer::{crowded, lane_side};

/// Farther from his place than this a player with nothing to do goes back to it, metres.
const ASTRAY: f64 = 1.0;

/// Who is to show where somebody stands looks again after this long, until he has known it for so long,
/// seconds (ours).
const LETS_HIM_BY: f64 = 0.2;
const LETS_HIM_BY_UNTIL: f64 = 4.0;

/// Turn what a player is to do next into a task, once his time has come; and send whoever has no
/// place to the first that nobody holds.
pub fn players_take_up_their_tasks(floor: ResMut<Floor>, mut jobs: Query<(&Attacker, &mut Job)>) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor.into_inner();
    let Some(mut jobs) = by_number(jobs.iter_mut().map(|(n, job)| (n.0, job.into_inner()))) else {
        return;
    };
    let holder = ball.hold().map(|h| h.by);
    if let Some(hold) = ball.hold() {
        he_holds_where_he_is(play, clock, ball, old, hold, &mut jobs, book);
    }
    for who in 0..5 {
        if Some(who) == holder
            || matches!(
                jobs[who].task,
                Task::Handle | Task::Chase | Task::Meet { .. }
            )
        {
            continue;
        }
        let idle = jobs[who].next.is_none() && matches!(jobs[who].task, Task::Stand);
        // Away from his place with nothing to do, he goes home; without one, to the first open place.
        let told = jobs[who].order.told;
        let far =
            |home: &Spot| (place_of(play, who, told, *home) - old.scene.pos[who]).length() > ASTRAY;
        let goes = match jobs[who].place {
            _ if !idle => None,
            Some(home) => Some(home).filter(far),
            None => first_free(play, ball, &jobs, who),
        };
        if let Some(spot) = goes {
            jobs[who].place = Some(spot);
            jobs[who].then(fill_exactly(spot, ball.side), clock.tick);
        }
        if clock.tick < jobs[who].starts {
            continue;
        }
        let Some(movement) = jobs[who].next.take() else {
            continue;
        };
        // Who is showing already shows there, for as long from now on; elsewhere he shows afterwards.
        let own = jobs[who].own;
        if let (
            Task::Flash { at, arrived, .. },
            Movement::Flash { to, .. } | Movement::Seal { at: to, .. },
        ) = (&mut jobs[who].task, &movement)
        {
            if to.spot(ball.side, own) == Some(*at) {
                *arrived = arrived.map(|_| clock.tick);
            } else {
                jobs[who].next = Some(movement);
            }
            continue;
        }
        // In the middle of the lane a post comes out on the other side before he turns round; so does who has
        // been there for some time.
        let post = jobs[who].place.is_some_and(|s| !s.name.is_perimeter());
        let goal = match &movement {
            Movement::Flash { to, .. } => to.spot(ball.side, jobs[who].own),
            _ => jobs[who].place,
        };
        let goal = goal.map_or(old.scene.pos[who], |s| play.cast.court.spot(s));
        let crossing = book.in_lane[who] > 0
            && (post || turns_late(book.in_lane[who], &old.scene, who, goal))
            && matches!(
                jobs[who].task,
                Task::Run { .. } | Task::Flash { arrived: None, .. }
            );
        if crossing
            && matches!(
                movement,
                Movement::Fill(_) | Movement::Seal { .. } | Movement::Flash { .. }
            )
        {
            jobs[who].next = Some(movement);
            continue;
        }
        if !play.scenario.drill.any() {
            let most = plans::puts_off(play, ball, old, &jobs, who, &movement);
            if most.is_some_and(|most| jobs[who].waited < ticks(most)) {
                jobs[who].waited += ASKS_EVERY;
                jobs[who].then(movement, clock.tick + ASKS_EVERY);
                continue;
            }
            jobs[who].waited = 0;
        }
        take_up(
            play, clock, ball, old, &mut jobs, who, movement, signals, book,
        );
    }
    for job in jobs.iter_mut() {
        let side = job.place.and_then(|place| place.side);
        job.own = side.or(job.own);
    }
}

/// Whoever waits for a free way looks again after so many ticks.
const ASKS_EVERY: u32 = 3;

/// Has he been in the lane for some time, and would he have to turn back?
fn turns_late(in_lane: u32, scene: &Scene, who: usize, goal: Vec2) -> bool {
    in_lane > ticks(COUNT_RUNS) && (goal - scene.pos[who]).dot(scene.vel[who]) < 0.0
}

/// Who has caught the ball outside, far from the place to which he was on his way, holds the place where he
/// is, so that a team-mate fills the other one; unless it is none of those that are to be kept filled.
fn he_holds_where_he_is(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    hold: &Hold,
    jobs: &mut [&mut Job; 5],
    book: &mut Book,
) {
    let pos = old.scene.pos[hold.by];
    let beside = |at: Vec2| (at - pos).length() < HAS_DRIBBLED_THERE;
    let stays = match hold.work {
        Ballwork::Holding => true,
        Ballwork::Dribbling => hold.at_mate.is_none() && hold.angle.is_some_and(beside),
        _ => false,
    };
    let Some(claimed) = jobs[hold.by].place.filter(|_| stays) else {
        return;
    };
    let here = holder_spot(play, old, hold.by);
    let outside = |spot: Spot| spot.name.is_perimeter();
    // In none of those that are to be kept filled, on his way to one: he takes it out there.
    let offence = &play.scenario.offence;
    if offence.goes_on(claimed, here, ball.side) {
        return;
    }
    if here != claimed && outside(here) && outside(claimed) && pos.length() > FAR_OUT {
        jobs[hold.by].place = Some(here);
        let who = hold.by as u8 + 1;
        book.write(clock, What::Holds { who, at: here });
        no_two_on_one_place(play, ball, jobs, Some(hold.by));
    }
}

/// He is where he meant to dribble this near to it, metres (ours).
const HAS_DRIBBLED_THERE: f64 = 0.5;
/// Farther from the rim than this is outside, metres (ours).
const FAR_OUT: f64 = 4.5;

#[allow(clippy::too_many_arguments)]
fn take_up(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    jobs: &mut [&mut Job; 5],
    who: usize,
    movement: Movement,
    signals: &Signals,
    book: &mut Book,
) {
    let court = &play.cast.court;
    let pos = old.scene.pos[who];
    let number = who as u8 + 1;
    // A cutter on his way finishes his cut first; the new order says where he comes out.
    if let Task::Cut {
        unfed,
        reached: None,
        ..
    } = &mut jobs[who].task
        && !matches!(movement, Movement::Cut { .. } | Movement::Hold)
    {
        **unfed = movement;
        return;
    }
    match movement {
        Movement::Hold => jobs[who].order.holds = true,
        Movement::Fill(_) | Movement::FillFirst(_) | Movement::Replace(_) => {
            if let Some(spot) = jobs[who].place {
                let goal = place_of(play, who, jobs[who].order.told, spot);
                if (goal - pos).length() > 0.5 {
                    book.write(
                        clock,
                        What::Fills {
                            who: number,
                            to: spot,
                        },
                    );
                }
                // Three seconds are running: out first, then across.
                let steps_out = book.in_lane[who] > ticks(COUNT_RUNS) && !spot.name.is_perimeter();
                jobs[who].task = if steps_out {
                    run(pos, &[lane_side(&old.scene, who, pos, court), goal], 0.95)
                } else {
                    way_out(play, old, who, spot, goal, 0.75)
                };
            }
        }
        Movement::Drift(_) | Movement::Lift(_) => {
            if let Some(spot) = jobs[who].place {
                book.write(
                    clock,
                    What::Fills {
                        who: number,
                        to: spot,
                    },
                );
                let goal = place_of(play, who, jobs[who].order.told, spot);
                jobs[who].task = run(old.scene.pos[who], &[goal], 0.7);
            }
        }
        Movement::CircleOut(_) | Movement::GoThrough(_) => {
            if let Some(spot) = jobs[who].place {
                let goal = place_of(play, who, jobs[who].order.told, spot);
                jobs[who].task = way_out(play, old, who, spot, goal, 0.8);
            }
        }
        Movement::Cut { lane, unfed } => {
            let from = cuts_from(court, jobs[who].order.found_at, pos, old.side);
            let line = cut_line(&play.cast.model.looks, old, ball, who, lane);
            jobs[who].task = cut(clock, book, number, lane, from, line, unfed);
        }
        Movement::ScreenFor { whom, after } => {
            let places: [Option<Spot>; 5] = std::array::from_fn(|i| old.places[i]);
            let involved = Involved::default();
            let hold = ball.hold().map(|h| h.by);
            match find(whom, &involved, play, ball, old, signals, &places, hold) {
                Some(mate) if mate != who => {
                    jobs[who].task = Task::Screen {
                        whom: mate,
                        until: clock.tick + ticks(super::screens::RUNS),
                        set: None,
                        after,
                    }
                }
                _ => jobs[who].next = Some(*after),
            }
        }
        Movement::UseScreen { of, unfed } => {
            let places: [Option<Spot>; 5] = std::array::from_fn(|i| old.places[i]);
            let involved = Involved {
                passer: signals.last_passer,
                ..Involved::default()
            };
            let hold = ball.hold().map(|h| h.by);
            let mate = find(of, &involved, play, ball, old, signals, &places, hold)
                .or(signals.last_passer);
            match mate {
                Some(mate) if mate != who => {
                    let of = mate as u8 + 1;
                    book.write(clock, What::Waits { who: number, of });
                    // Under the rim he first comes out to the place by which the rule found him.
                    let there = jobs[who].order.found_at.map(|spot| court.spot(spot));
                    let waits = there.filter(|at| (at - pos).length() > screens::NEAR);
                    jobs[who].task = Task::UseScreen {
                        of: mate,
                        at: waits.unwrap_or(pos),
                        since: clock.tick,
                        unfed,
                    };
                }
                _ => {
                    jobs[who].next = Some(Movement::Cut {
                        lane: crate::offence::CutLane::BallSide,
                        unfed,
                    })
                }
            }
        }
        Movement::Flash { to, seconds } | Movement::Seal { at: to, seconds } => {
            let seal = matches!(movement, Movement::Seal { .. });
            if let Some(spot) = to.spot(ball.side, jobs[who].own) {
                // Who takes his man in is on his way out again.
                let crowded = (0..5).any(|i| {
                    let stays = !matches!(jobs[i].task, Task::GetOpen { .. });
                    i != who && stays && (old.scene.pos[i] - court.spot(spot)).length() < 1.2
                });
                if crowded {
                    // He lets a cutter by first.
                    if clock.tick < jobs[who].order.told + ticks(LETS_HIM_BY_UNTIL) {
                        jobs[who].then(movement, clock.tick + ticks(LETS_HIM_BY));
                    } else {
                        let number = who as u8 + 1;
                        book.write(
                            clock,
                            What::NoFlash {
                                who: number,
                                to: spot,
                                taken: true,
                            },
                        );
                    }
                } else {
                    jobs[who].task = Task::Flash {
                        at: spot,
                        goal: feet(court, spot),
                        arrived: None,
                        ticks: ticks(seconds),
                        seal,
                    };
                }
            }
        }
        Movement::DropOff => jobs[who].task = Task::AwaitHelp { gone: false },
        Movement::DribbleAt(_) => {}
    }
}

/// A cutter no farther than this from the place that he held cuts from it, metres (ours).
const FROM_THERE: f64 = 3.5;

/// The place from which he cuts: his own is already the one to which he will come out, so that by which the rule
/// found him, or where he is.
pub(super) fn cuts_from(court: &Court, found: Option<Spot>, pos: Vec2, side: Side) -> Spot {
    let found = found.filter(|&spot| (court.spot(spot) - pos).length() < FROM_THERE);
    found.unwrap_or_else(|| court.nearest_spot_on(pos, side))
}

/// Player `who` (1-5) sets out on a cut along `line`: a place to go by, and where it ends.
pub(super) fn cut(
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
fn feet(court: &Court, spot: Spot) -> Vec2 {
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

/// In the lane for longer than this, seconds, a post who is to cross it steps out first (ours).
const COUNT_RUNS: f64 = 1.0;

/// Whoever comes out of the lane looks this far up his way, metres (ours).
const LOOKS_UP: f64 = 2.5;

/// From so far before the turn of that way on he goes straight to his place, metres (ours).
const BEYOND: f64 = 1.5;

/// From the rim out: along the baseline and round to a wing or a corner, straight up to anywhere else,
/// or by the side of the lane if bodies stand in the way.
fn way_out(play: &Play, old: &Old, who: usize, spot: Spot, goal: Vec2, pace: f64) -> Task {
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
    lane: crate::offence::CutLane,
) -> (Option<Vec2>, Vec2) {
    let pos = old.scene.pos[who];
    let distance = pos.length().max(1e-6);
    let to_rim = -pos / distance;
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let off = (ball.pos - pos).dot(across);
    let ball_hand = Side::of(off, Side::of(ball.side.sign() * across.x, ball.side)).sign();
    let hand = match lane {
        crate::offence::CutLane::BallSide => ball_hand,
        crate::offence::CutLane::Behind => -ball_hand,
    };
    let defender = old.scene.guarded_by(who);
    let via = defender.and_then(|d| {
        let guard = old.scene.pos[5 + d];
        let ahead = (guard - pos).dot(to_rim);
        // Go round a body that stands between him and the rim.
        (ahead > 0.2 && ahead < 3.5).then(|| guard + across * (hand * 0.9))
    });
    let goal = match lane {
        crate::offence::CutLane::BallSide => to_rim * -1.2 + across * (hand * 0.4),
        crate::offence::CutLane::Behind => crate::looks::backdoor::lay_up_spot(looks, pos) * 0.9,
    };
    (via, goal)
}

/// Which kinds of pass a look may be thrown with.
pub fn kinds_for(look: crate::offence::LookKind) -> &'static [PassKind] {
    use crate::offence::LookKind as L;
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
