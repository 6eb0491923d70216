//! Room for others, whatever the action is: clear of a drive, round bodies in the way, and out of the lane in time.

use crate::body::Intent;
use crate::court::Vec2;

use super::super::feet::sway;
use super::super::parts::*;
use super::super::screens::guard_of;
use super::super::steering;
use super::Inputs;

/// A player leaves the lane after this long, seconds (the rule allows three).
const LEAVES_LANE: f64 = 1.8;
/// On his way out all the time he looks for another way after this long, seconds (ours).
const HELD_UP: f64 = 2.4;

/// Who stands outside, or runs there, stays clear of a drive.
pub(super) fn leaves_the_driver_room(input: &Inputs, job: &Job, intent: &mut Intent) {
    if !matches!(job.task, Task::Run { .. } | Task::Stand) {
        return;
    }
    let spot = job.place.filter(|s| s.name.is_perimeter());
    let driver = spot.and(driver(input.ball));
    if let Some(driver) = driver.filter(|&d| d != input.who) {
        let at = input.old.scene.pos[driver];
        intent.target = steering::clear_of_the_drive(at, input.pos, intent.target);
    }
}

/// Nobody runs onto a place in which a team-mate still is: he stops short of it until that one has gone. And who
/// stands outside makes room for a team-mate who comes with the ball.
pub(super) fn stops_short_of_a_mate(
    input: &Inputs,
    job: &Job,
    signals: &mut Signals,
    intent: &mut Intent,
) {
    let outside = job.place.is_some_and(|s| s.name.is_perimeter());
    let (comes, runs) = match job.task {
        Task::Stand => (true, false),
        Task::Run { leg, legs, .. } => (leg + 1 >= legs, true),
        _ => (false, false),
    };
    if !(outside && comes) || input.play.scenario.drill.any() {
        return;
    }
    let model = &input.play.cast.model.movement;
    let hold = input.ball.hold().filter(|h| h.at_mate != Some(input.who));
    let mut waits = false;
    for mate in (0..5).filter(|&i| i != input.who) {
        let (at, vel) = (input.old.scene.pos[mate], input.old.scene.vel[mate]);
        let has_it = hold.is_some_and(|h| h.by == mate);
        let stays = runs && vel.length() < model.stands_speed;
        let off = input.pos - at;
        let taken = (intent.target - at).length() < model.own_room;
        if taken && (has_it || stays) && off.length() > 1e-6 {
            let short = at + off * (model.own_room / off.length());
            let in_lane = input.play.cast.court.in_lane(short);
            let far_out = short.length() > input.home().length() + model.own_room;
            intent.target = if in_lane || far_out {
                beside(at, input.home(), (model.own_room, input.play.hand))
            } else {
                short
            };
            waits = true;
        }
    }
    if waits {
        // Nobody waits stock-still.
        let (play, who) = (input.play, input.who);
        let by = play.cast.model.footwork.sway_outside;
        intent.target += sway(play, input.clock, who, by, &mut signals.feet[who]);
    }
}

/// A point outside this far from a team-mate at `at`, on the side of the own place `home`, metres: nobody waits in the lane.
/// For a place on the midline the `hand` of the possession tells the side.
fn beside(at: Vec2, home: Vec2, (room, hand): (f64, f64)) -> Vec2 {
    let side = if home.x == 0.0 { hand } else { home.x.signum() };
    let out = at / at.length().max(1e-6);
    at + Vec2::new(out.y, -out.x) * (side * room)
}

/// Who is on his way anywhere without the ball goes round the bodies in front of him.
pub(super) fn goes_round_bodies(input: &Inputs, job: &Job, intent: &mut Intent) {
    if matches!(
        job.task,
        Task::Handle | Task::Screen { set: Some(_), .. } | Task::Stand | Task::GetOpen { .. }
    ) {
        return;
    }
    // Whom he is to screen he goes to.
    let to = match job.task {
        Task::Screen { whom, .. } => Some(guard_of(input.old, whom)),
        _ => None,
    };
    let (pos, scene) = (input.pos, &input.old.scene);
    let way = intent.target - pos;
    let cuts = matches!(job.task, Task::Cut { .. });
    let clear = steering::steer_clear(scene, (input.who, to), intent.target, cuts) - pos;
    // Who changes places, comes off a screen, cuts or flashes does not stop beside a body that he goes round.
    let goes_on = matches!(
        job.task,
        Task::Run { .. }
            | Task::Screen { .. }
            | Task::ComeOff { .. }
            | Task::Flash { arrived: None, .. }
            | Task::Cut { reached: None, .. }
    );
    let on = if goes_on { way.length() } else { 0.0 };
    intent.target = pos + clear * (on / clear.length().max(1e-9)).max(1.0);
}

/// Three seconds are near: he gets out of the lane, and looks for a way again every so often.
pub(super) fn leaves_the_lane_in_time(input: &Inputs, job: &mut Job, book: &mut Book) {
    let &Inputs {
        play,
        clock,
        old,
        who,
        ..
    } = input;
    let held_up = book.came_in[who].saturating_sub(ticks(HELD_UP));
    let over = book.in_lane[who]
        .saturating_sub(ticks(LEAVES_LANE))
        .max(held_up);
    if over > 0 && over % 15 == 1 {
        steering::leave_the_lane(clock, book, job, who, old, &play.cast.court);
    }
}
