//! Plans are public: team-mates see where everybody is going, and nobody starts into a conflict.
//!
//! A player who is about to cut or to change places compares the way with those of the others over the next
//! moments. If they would come too near, or too many would meet at the rim, the player waits a beat and asks again. Whoever is under
//! the rim leaves at once, by the way that is free.

use super::parts::*;
use super::ways::{line_of, run};
use crate::court::{Court, Vec2};
use crate::looks::{BODIES, Scene};
use crate::model::Movement as Numbers;
use crate::offence::Movement;

/// A way: where from, and up to three points.
#[derive(Clone, Copy)]
struct Way {
    points: [Vec2; 4],
    len: usize,
}

impl Way {
    fn new(from: Vec2, to: &[Vec2]) -> Way {
        let mut points = [from; 4];
        let len = 1 + to.len().min(3);
        points[1..len].copy_from_slice(&to[..len - 1]);
        Way { points, len }
    }

    fn end(&self) -> Vec2 {
        self.points[self.len - 1]
    }

    fn legs(&self) -> impl Iterator<Item = (Vec2, Vec2)> + '_ {
        (1..self.len).map(|k| (self.points[k - 1], self.points[k]))
    }

    fn length(&self) -> f64 {
        self.legs().map(|(a, b)| (b - a).length()).sum()
    }

    /// The point after so many metres; the end when there is no more.
    fn after(&self, metres: f64) -> Vec2 {
        let mut left = metres.max(0.0);
        for (a, b) in self.legs() {
            let leg = (b - a).length();
            if left <= leg {
                return a + (b - a) * (left / leg.max(1e-9));
            }
            left -= leg;
        }
        self.end()
    }
}

/// What a team-mate is seen to be about to do: the way, and the speed on it.
fn plan_of(model: &Numbers, ball: &Ball, old: &Old, job: &Job, who: usize) -> (Way, f64) {
    let pos = old.scene.pos[who];
    let speed = old.scene.vel[who].length();
    if driver(ball) == Some(who) {
        let way = Way::new(pos, &[Vec2::ZERO]);
        return (way, speed.max(model.plan_drive_speed));
    }
    match &job.task {
        Task::Run { way, legs, leg, .. } => {
            let left = &way[usize::from(*leg)..usize::from(*legs)];
            (Way::new(pos, left), speed.max(model.plan_run_speed))
        }
        Task::Cut { via, goal, .. } => {
            let way = match via {
                Some(via) => Way::new(pos, &[*via, *goal]),
                None => Way::new(pos, &[*goal]),
            };
            (way, speed.max(model.plan_cut_speed))
        }
        Task::Flash {
            goal,
            arrived: None,
            ..
        } => (Way::new(pos, &[*goal]), speed.max(model.plan_run_speed)),
        Task::Take { from, .. } => {
            let giver = old.scene.pos[*from];
            (Way::new(pos, &[giver]), speed.max(model.plan_run_speed))
        }
        Task::Meet { at, .. } => (Way::new(pos, &[*at]), speed.max(model.plan_meet_speed)),
        _ => (Way::new(pos, &[]), 0.0),
    }
}

/// Steps of the comparison, seconds.
const STEP: f64 = 0.1;

/// For how long in all player `who` may put off `movement` because it leads into a team-mate's plan or
/// into a crowd at the rim, seconds; `None` if it doesn't.
pub(super) fn puts_off(
    play: &Play,
    ball: &Ball,
    old: &Old,
    jobs: &[&mut Job; 5],
    who: usize,
    movement: &Movement,
) -> Option<f64> {
    if super::ball_screen::rolls(ball, who) {
        return None;
    }
    let model = &play.cast.model.movement;
    let pos = old.scene.pos[who];
    let (mine, speed) = match movement {
        Movement::Cut { lane, to, .. } => {
            let (_, (via, goal)) = line_of(play, old, ball, jobs[who], who, (*lane, *to));
            let way = match via {
                Some(via) => Way::new(pos, &[via, goal]),
                None => Way::new(pos, &[goal]),
            };
            (way, model.plan_cut_speed)
        }
        _ if movement.is_to_a_place() => {
            let spot = jobs[who].place?;
            // Out from under the rim at once; a post crosses when no cutter is there.
            if pos.length() < model.full_pace_distance {
                let crosses = !spot.name.is_perimeter() && cut_is_live(ball, jobs, who);
                return crosses.then_some(model.plan_wait);
            }
            let way = Way::new(pos, &[play.cast.court.spot(spot)]);
            (way, model.plan_run_speed)
        }
        _ => return None,
    };
    let others = (0..5).filter(|&i| i != who);
    if matches!(movement, Movement::Cut { to: None, .. }) {
        // Who will still be there then makes no room: for two posts on the blocks no cutter waits.
        let most = model.plan_wait_crowd;
        let crowd = |wait: f64| crowd_at_the_rim(model, ball, old, jobs, (who, wait));
        let now = crowd(0.0);
        if now >= model.rim_crowd as usize && crowd(most) < now {
            return Some(most);
        }
    }
    let meets = others.into_iter().any(|i| {
        let (theirs, fast) = plan_of(model, ball, old, jobs[i], i);
        let now = (old.scene.pos[i] - pos).length();
        let steps = (model.plan_time / STEP) as u32;
        (1..=steps).any(|k| {
            let time = STEP * f64::from(k);
            let me = mine.after(speed * (time - model.plan_start));
            let apart = (me - theirs.after(fast * time)).length();
            let at_the_end = (me - mine.end()).length() < model.plan_end_distance;
            apart < model.plan_distance && apart < now - model.plan_nearer && !at_the_end
        })
    });
    meets.then_some(model.plan_wait)
}

/// Is a team-mate on a cut, or the ball in the air?
fn cut_is_live(ball: &Ball, jobs: &[&mut Job; 5], who: usize) -> bool {
    let cuts = |i: usize| matches!(jobs[i].task, Task::Cut { reached: None, .. });
    matches!(ball.state, BallState::Flying { .. }) || (0..5).any(|i| i != who && cuts(i))
}

/// How many team-mates will be at the rim when a cutter from `who`'s place gets there who sets out after `wait` seconds.
fn crowd_at_the_rim(
    model: &Numbers,
    ball: &Ball,
    old: &Old,
    jobs: &[&mut Job; 5],
    (who, wait): (usize, f64),
) -> usize {
    let way = (old.scene.pos[who].length() - model.rim_crowd_distance).max(0.0);
    let arrives = wait + way / model.plan_cut_speed + model.plan_start;
    let there = |i: &usize| {
        let (theirs, fast) = plan_of(model, ball, old, jobs[*i], *i);
        let mut at = theirs.after(fast * arrives);
        if matches!(jobs[*i].task, Task::Cut { .. }) {
            // A cutter who isn't fed goes on out.
            let over = arrives - theirs.length() / fast - model.rim_stay;
            let far = at.length();
            at *= 1.0 + model.plan_run_speed * over.max(0.0) / far.max(1e-6);
        }
        at.length() < model.rim_crowd_distance
    };
    (0..5).filter(|&i| i != who).filter(there).count()
}

/// Out from under the rim to `goal` by the cheapest of five ways: straight, along the baseline on either
/// side, by either side of the lane. A way costs its length, the turn that it begins with, and how near it comes to others.
pub(super) fn freest_way_out(
    play: &Play,
    scene: &Scene,
    who: usize,
    goal: Vec2,
    pace: f64,
) -> Task {
    let model = &play.cast.model.movement;
    let court: &Court = &play.cast.court;
    let pos = scene.pos[who];
    let half = court.lane_width * 0.5;
    let low = BELOW_THE_RIM * court.rim_to_baseline;
    let by = |x: f64, y: f64| Way::new(pos, &[Vec2::new(x, y), goal]);
    // On the midline either side is as good: the one that the others leave free is told by their places.
    let lean: f64 = scene.pos.iter().map(|p| p.x).sum();
    let hand = if lean < 0.0 { 1.0 } else { -1.0 };
    let ways = [
        Way::new(pos, &[goal]),
        by(hand * (half + BESIDE), low),
        by(-hand * (half + BESIDE), low),
        by(hand * (half + BESIDE), model.way_out_height),
        by(-hand * (half + BESIDE), model.way_out_height),
    ];
    let mut best = (f64::INFINITY, &ways[0]);
    for way in &ways {
        let cost = cost_of(model, scene, who, way);
        if cost < best.0 - 1e-9 {
            best = (cost, way);
        }
    }
    run(pos, &best.1.points[1..best.1.len], pace)
}

/// A way along the baseline passes so far under the ring's centre, as a share of its distance from the line.
const BELOW_THE_RIM: f64 = -0.1;
/// And a way by the side of the lane so far outside it, metres.
const BESIDE: f64 = 0.65;

fn cost_of(model: &Numbers, scene: &Scene, who: usize, way: &Way) -> f64 {
    let mut nearest = f64::INFINITY;
    for k in 2..10 {
        let time = 0.15 * f64::from(k);
        let me = way.after(model.plan_run_speed * time);
        for i in 0..BODIES {
            let own = i >= 5 && scene.guards[i - 5] == who;
            if i == who || own {
                continue;
            }
            let then = scene.pos[i] + scene.vel[i] * time.min(model.plan_start * 3.0);
            let apart = (then - me).length();
            // A defender may be nearer.
            let apart = if i < 5 {
                apart
            } else {
                apart + model.way_out_defender
            };
            nearest = nearest.min(apart);
        }
    }
    let vel = scene.vel[who];
    let first = way.points[1] - scene.pos[who];
    let size = first.length() * vel.length();
    let turn = if vel.length() > 1.0 && size > 1e-6 {
        1.0 - first.dot(vel) / size
    } else {
        0.0
    };
    let crowds = (model.way_out_room - nearest).max(0.0);
    way.length() + model.way_out_turn * turn + model.way_out_crowd * crowds
}
