//! The tick: every system in the order in which it runs, and the small ones that need no file of their own.

use bevy_ecs::prelude::*;
use bevy_ecs::system::BoxedSystem;

use crate::court::Vec2;
use crate::defence::{Duty, Relation};
use crate::looks::passing::passes_away;
use crate::offence::Movement;
use crate::possession::Frame;

use super::parts::*;
use super::{
    ball, ball_handler, defence, eyes, follow, manner, motion, off_ball, officials, rules, tasks,
    ways,
};

/// The systems of a tick, in their order. (A schedule of bevy would ask every system each time whether it may run, and
/// when: that costs as much as some of them do.)
pub struct Tick(Vec<BoxedSystem>);

impl Tick {
    /// The tick, in the order in which it happens.
    pub fn of(world: &mut World) -> Tick {
        let mut systems = vec![
            boxed(everybody_sees_the_floor),
            boxed(rules::players_answer_the_rules),
            boxed(tasks::players_take_up_their_tasks),
            boxed(ball_handler::holder_decides),
            boxed(off_ball::attackers_run),
            boxed(eyes::defenders_look),
            boxed(defence::defenders_guard),
            boxed(motion::bodies_move),
            boxed(ball::ball_goes_on),
            boxed(officials::referee_watches),
            boxed(write_down),
            boxed(time_passes),
        ];
        for system in &mut systems {
            system.initialize(world);
        }
        Tick(systems)
    }

    /// One tick of this world, the one that it was made for.
    pub fn run(&mut self, world: &mut World) {
        for system in &mut self.0 {
            // It fails if what it needs is not there: it is from the set-up on.
            let ran = system.run((), world);
            debug_assert!(ran.is_ok(), "{}: {ran:?}", system.name());
        }
    }
}

fn boxed<M>(system: impl IntoSystem<(), (), M>) -> BoxedSystem {
    Box::new(IntoSystem::into_system(system))
}

/// The names of the systems in the order of a tick (a golden test prints them).
pub const TICK_ORDER: [&str; 12] = [
    "everybody_sees_the_floor",
    "players_answer_the_rules",
    "players_take_up_their_tasks",
    "holder_decides",
    "attackers_run",
    "defenders_look",
    "defenders_guard",
    "bodies_move",
    "ball_goes_on",
    "referee_watches",
    "write_down",
    "time_passes",
];

/// Where who is to use a screen will wait for it, metres.
fn waits_at(play: &Play, job: &Job) -> Option<Vec2> {
    let found = job.order.found_at;
    found.map(|spot| ways::feet(&play.cast.court, spot))
}

/// The old state: what everybody decides from in this tick.
fn everybody_sees_the_floor(
    floor: ResMut<Floor>,
    attackers: Query<(&Attacker, &Form, &Job)>,
    defenders: Query<(&Defender, &Form, &Guard, &Eyes)>,
) {
    let Floor {
        play,
        clock,
        ball,
        old,
        trail,
        ..
    } = floor.into_inner();
    old.side = ball.side;
    (old.ball_screen, old.screen_comes) = (None, false);
    for (&Attacker(who), form, job) in &attackers {
        old.scene.pos[who] = form.0.pos;
        old.scene.vel[who] = form.0.vel;
        old.scene.facing[who] = form.0.facing;
        old.places[who] = match job.task {
            Task::Flash { at, .. } => Some(at),
            Task::Cut {
                to: Some(at),
                reached: Some(_),
                ..
            } => Some(at),
            _ => job.place,
        };
        let told = job.order.told;
        if let Some(spot) = job.place {
            let at = manner::home_of(play, old, who, told, spot);
            let spot = Some(spot);
            old.homes[who] = Home { told, spot, at };
        }
        old.shown[who] = job.shown(clock.tick);
        old.awaited[who] = job.awaited(clock.tick);
        let uses = |m: &Movement| matches!(m, Movement::UseScreen { .. });
        old.waits[who] = match &job.task {
            Task::UseScreen { at, .. } => Some(*at),
            // Next, or after this cut.
            Task::Cut { unfed, .. } if uses(unfed) => waits_at(play, job),
            _ if job.next.as_ref().is_some_and(uses) => waits_at(play, job),
            _ => None,
        };
        old.waits_from[who] = old.waits[who].and(job.order.found_at);
        old.stops[who] = match &job.task {
            Task::Run { way, legs, .. } => Some(way[usize::from(*legs).max(1) - 1]),
            Task::GetOpen { out: true, .. } => job.place.map(|s| play.cast.court.spot(s)),
            _ => None,
        };
        // Who waits inside for a screen is inside, wherever the screen is to bring him.
        let stands_in = match job.task {
            Task::UseScreen { .. } => job.order.found_at.or(job.place),
            _ => job.place,
        };
        let inside_place = stands_in.is_some_and(|s| !s.name.is_perimeter());
        let deep = form.0.pos.length() < 3.2;
        old.doing[who] = match &job.task {
            Task::Absent => Doing::Absent,
            // Come to the place of the cut: as anybody there.
            Task::Cut {
                to: Some(at),
                reached: Some(_),
                ..
            } => {
                if at.name.is_perimeter() {
                    Doing::Outside
                } else {
                    Doing::Inside
                }
            }
            Task::Cut {
                goal,
                via,
                lane,
                to,
                reached,
                ..
            } => Doing::Cutting {
                lane: *lane,
                via: *via,
                goal: *goal,
                to: *to,
                arrived: reached.is_some(),
            },
            Task::ComeOff { by, goal, .. } => Doing::Cutting {
                lane: crate::offence::CutLane::BallSide,
                via: Some(*by),
                goal: *goal,
                to: None,
                arrived: false,
            },
            Task::AwaitHelp { gone: true, .. } => Doing::DropOff,
            Task::Flash { .. } => Doing::Inside,
            // On his way out from under the rim: still to be treated as a cutter.
            Task::Run { .. } | Task::Stand if deep && !inside_place && job.place.is_some() => {
                Doing::Cutting {
                    lane: crate::offence::CutLane::BallSide,
                    via: None,
                    goal: form.0.pos,
                    to: None,
                    arrived: true,
                }
            }
            _ if inside_place || job.place.is_none() && deep => Doing::Inside,
            Task::Meet { through: true, .. } if deep => Doing::Inside,
            _ => Doing::Outside,
        };
        old.screens[who] = matches!(job.task, Task::Screen { set: Some(_), .. });
        if let Task::Screen {
            whom,
            set,
            on_ball: true,
            ..
        } = job.task
            && ball.hold().is_some_and(|hold| hold.by == whom)
        {
            old.screen_comes = true;
            old.ball_screen = set.map(|_| who).or(old.ball_screen);
        }
        old.screening[who] = job.screening();
        old.outside[who] = matches!(old.doing[who], Doing::Outside);
    }
    for (&Defender(d), form, guard, eyes) in &defenders {
        old.scene.pos[5 + d] = form.0.pos;
        old.scene.vel[5 + d] = form.0.vel;
        old.scene.facing[5 + d] = form.0.facing;
        old.scene.guards[d] = guard.man;
        old.scene.alert[d] = eyes::alertness(play, d, guard, eyes);
        old.scene.aware[d] = eyes::awareness(play, d, guard);
        old.duties[d] = (guard.duty, guard.relation, guard.since);
        old.stations[d] = guard.station;
    }
    old.away = passes_away(&play.cast.model.looks, &old.scene, &old.outside, ball.man());
    trail.put(
        clock.tick,
        TrailFrame {
            pos: old.scene.pos,
            vel: old.scene.vel,
            ball: ball.pos,
        },
    );
}

fn write_down(
    floor: ResMut<Floor>,
    attackers: Query<(&Attacker, &Form, &Job)>,
    defenders: Query<(&Defender, &Form, &Guard)>,
) {
    let floor = floor.into_inner();
    let players = attackers.iter().map(|(who, form, job)| (who.0, form, job));
    follow::follow_orders(floor, players);
    let Floor {
        clock, ball, book, ..
    } = floor;
    if !book.keep_track {
        return;
    }
    let zero = Vec2::ZERO;
    let mut frame = Frame {
        time: clock.seconds(),
        ball: [ball.pos.x, ball.pos.y, ball.height],
        attackers: [zero; 5],
        defenders: [zero; 5],
        attackers_facing: [zero; 5],
        defenders_facing: [zero; 5],
        holder: ball.hold().map(|h| h.by as u8 + 1),
        guards: [0; 5],
        duties: [Duty::OnBall; 5],
        relations: [Relation::OnBall; 5],
    };
    for (&Attacker(i), form, _) in &attackers {
        frame.attackers[i] = form.0.pos;
        frame.attackers_facing[i] = form.0.facing;
    }
    for (&Defender(d), form, guard) in &defenders {
        frame.defenders[d] = form.0.pos;
        frame.defenders_facing[d] = form.0.facing;
        frame.guards[d] = guard.man as u8 + 1;
        frame.duties[d] = guard.duty;
        frame.relations[d] = guard.relation;
    }
    book.track.push(frame);
}

fn time_passes(mut floor: ResMut<Floor>) {
    floor.clock.tick += 1;
}
