//! Attackers: each task becomes one step of a tick. One action a file; this file chooses among them.
//!
//! Without a rule: a player whose passing lane stays shut takes the defender in toward the rim and
//! comes back out to the ball (`get_open.rs`), and a player in place shifts their feet (`stand.rs`).

use crate::body::Intent;
use crate::court::{Spot, Vec2};
use crate::offence::Movement;

use super::manner;
use super::parts::*;

mod come_off;
mod cut;
mod drop_off;
mod flash;
mod get_open;
mod handle;
mod meet;
mod room;
mod run;
mod screen;
mod stand;
mod take;

/// A runner counts as there within this distance, metres.
const THERE: f64 = 0.35;

/// What an action reads: the floor as it was at the end of the last tick, and its own player.
struct Inputs<'a> {
    play: &'a Play,
    clock: &'a Clock,
    ball: &'a Ball,
    old: &'a Old,
    who: usize,
    pos: Vec2,
    vel: Vec2,
    /// The place that he holds, is on his way to, or will come out to.
    place: Option<Spot>,
    order: Order,
    /// Has he already been told what to do next, and is that to go elsewhere (who is to hold goes on with what he does)?
    has_next: bool,
    sent_on: bool,
    /// Share of his acceleration and braking that he puts into this action, 0–1.
    effort: f64,
}

impl Inputs<'_> {
    /// His number, 1–5.
    fn number(&self) -> u8 {
        self.who as u8 + 1
    }

    fn to_ball(&self) -> Vec2 {
        self.ball.pos - self.pos
    }

    /// The exact point of his place, or where he is if he has none.
    fn home(&self) -> Vec2 {
        let court = &self.play.cast.court;
        self.place.map_or(self.pos, |s| court.spot(s))
    }

    /// He stands at a point and faces the ball.
    fn stands(&self, at: Vec2) -> Intent {
        Intent {
            target: at,
            arrive: true,
            pace: 0.5,
            face: Some(self.to_ball()),
        }
    }
}

/// What an action writes besides the state of its own task.
struct Effects<'a> {
    signals: &'a mut Signals,
    book: &'a mut Book,
    /// His task from the next tick on, if this one is over.
    task: Option<Task>,
    /// A movement that he is to start now.
    next: Option<Movement>,
    /// The place inside where he has just shown.
    showed: Option<Spot>,
    /// The place that he holds from now on.
    holds: Option<Spot>,
    /// Is the screen that he was to set off, because its user was sent elsewhere?
    user_gone: bool,
    /// Does he stand as a set screen, which gives way to nobody?
    stands_firm: bool,
}

/// Each attacker's step in this tick.
pub fn attackers_run(floor: &mut Floor, attackers: &mut [Attacker; 5]) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor;
    for (who, attacker) in attackers.iter_mut().enumerate() {
        let Attacker { form, will, job } = attacker;
        if !play.cast.has(who) {
            continue;
        }
        let input = Inputs {
            play,
            clock,
            ball,
            old,
            who,
            pos: form.0.pos,
            vel: form.0.vel,
            place: job.place,
            order: job.order,
            has_next: job.next.is_some(),
            sent_on: job.next.as_ref().is_some_and(|n| *n != Movement::Hold),
            effort: manner::effort_of(&job.task),
        };
        // The ball is looked after all the time.
        if ball.man() == who || attackers_revise(clock.tick) {
            runs(&input, will, job, (signals, book));
        }
        room::leaves_the_lane_in_time(&input, job, book);
    }
}

/// An attacker revises what to do.
fn runs(
    input: &Inputs,
    will: &mut Will,
    job: &mut Job,
    (signals, book): (&mut Signals, &mut Book),
) {
    let mut effects = Effects {
        signals,
        book,
        task: None,
        next: None,
        showed: None,
        holds: None,
        user_gone: false,
        stands_firm: false,
    };
    will.effort = input.effort;
    will.manner = manner::of_attacker(input.play, input.ball, input.old, job, input.who, input.pos);
    will.intent = act(input, job, &mut effects);
    will.mobile = if effects.stands_firm { 0.0 } else { 1.0 };
    // An order that he has just been given stands.
    if let Some(movement) = effects.next.take().filter(|_| !input.sent_on) {
        job.order.holds |= input.has_next;
        job.then(movement, input.clock.tick);
        job.order.told = input.clock.tick;
    }
    job.order.user_gone |= effects.user_gone;
    job.place = effects.holds.take().or(job.place);
    if let Some(spot) = effects.showed {
        job.showed = Some((spot, input.clock.tick));
    }
    let over = effects.task.take();
    room::leaves_the_driver_room(input, job, &mut will.intent);
    room::stops_short_of_a_mate(input, job, effects.signals, &mut will.intent);
    room::goes_round_bodies(input, job, &mut will.intent);
    faces_the_ball(input, &mut will.intent);
    if let Some(task) = over {
        job.task = task;
    }
}

/// Off the ball the chest stays to the ball as far as that costs no haste.
fn faces_the_ball(input: &Inputs, intent: &mut Intent) {
    if input.ball.man() != input.who {
        let limits = &input.play.cast.players[input.who].limits;
        manner::opens_to(limits, input.pos, input.vel, input.to_ball(), intent);
    }
}

/// One step of the task that he has.
fn act(input: &Inputs, job: &mut Job, effects: &mut Effects) -> Intent {
    match &mut job.task {
        Task::Stand => stand::step(input, effects),
        Task::GetOpen { turn, out, until } => get_open::step(input, *turn, out, until, effects),
        Task::Run {
            way,
            legs,
            leg,
            pace,
        } => run::step(input, (way, *legs, *pace), leg, effects),
        task @ Task::Cut { .. } => cut::step(input, task, effects),
        task @ Task::Flash { .. } => flash::step(input, task, effects),
        task @ Task::Screen { .. } => screen::step(input, task, effects),
        task @ Task::UseScreen { .. } => come_off::step(input, task, effects),
        task @ Task::ComeOff { .. } => come_off::comes_off(input, task, effects),
        Task::AwaitHelp { home, gone } => drop_off::step(input, *home, gone, effects),
        &mut Task::Take { from, at } => take::step(input, from, at, effects),
        Task::Meet {
            at, through, when, ..
        } => meet::meets_a_pass(input, *at, *through, *when),
        Task::Chase => meet::chases(input),
        Task::Absent => input.stands(input.pos),
        Task::Handle => handle::step(input, job, effects),
    }
}
