//! The tick: every system in the order in which it runs, and the small ones that need no file of their own.

use crate::court::{Spot, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::passing::passes_away;
use crate::offence::Movement;
use crate::possession::Frame;

use super::parts::*;
use super::{
    ball, ball_handler, defence, eyes, follow, manner, motion, off_ball, officials, rules, tasks,
    ways,
};

/// A step of the tick: its name, and what of the world it is given.
type System = (&'static str, fn(&mut World));

/// The systems of a tick, in the order in which they run; each is given what it reads and writes, and no more.
const TICK: [System; 12] = [
    ("everybody_sees_the_floor", |w| {
        everybody_sees_the_floor(&mut w.floor, &w.attackers, &w.defenders);
    }),
    ("players_answer_the_rules", |w| {
        rules::players_answer_the_rules(&mut w.floor, &mut w.attackers);
    }),
    ("players_take_up_their_tasks", |w| {
        tasks::players_take_up_their_tasks(&mut w.floor, &mut w.attackers);
    }),
    ("holder_decides", |w| {
        ball_handler::holder_decides(&mut w.floor, w.script.as_mut());
    }),
    ("attackers_run", |w| {
        off_ball::attackers_run(&mut w.floor, &mut w.attackers);
    }),
    ("defenders_look", |w| {
        eyes::defenders_look(&w.floor, &mut w.defenders);
    }),
    ("defenders_guard", |w| {
        defence::defenders_guard(&mut w.floor, &mut w.defenders);
    }),
    ("bodies_move", |w| {
        motion::bodies_move(&w.floor, &mut w.attackers, &mut w.defenders);
    }),
    ("ball_goes_on", |w| {
        ball::ball_goes_on(&mut w.floor, &mut w.attackers, &w.defenders);
    }),
    ("referee_watches", |w| {
        officials::referee_watches(&mut w.floor, &w.attackers);
    }),
    ("write_down", |w| {
        write_down(&mut w.floor, &w.attackers, &w.defenders);
    }),
    ("time_passes", |w| w.floor.clock.tick += 1),
];

/// The names of the systems in the order of a tick.
pub fn tick_order() -> [&'static str; 12] {
    TICK.map(|(name, _)| name)
}

/// One tick of this world.
pub fn tick(world: &mut World) {
    for (_, system) in TICK {
        system(world);
    }
}

/// The place at which who is to use a screen waits for it, and where that is, metres: the one at which the order finds
/// him, or the one to which he goes first.
fn waits_at(play: &Play, job: &Job) -> (Option<Spot>, Option<Vec2>) {
    let uses = |m: &Movement| matches!(m, Movement::UseScreen { .. });
    let found = job.order.found_at;
    let from = match &job.task {
        Task::UseScreen { at, .. } => return (found, Some(*at)),
        // Next, or after this cut or the screen that he stands as.
        Task::Cut { unfed: next, .. } | Task::Screen { after: next, .. } if uses(next) => found,
        _ if job.next.as_ref().is_some_and(uses) => found,
        _ if job.steps.iter().any(uses) => job.place,
        _ => None,
    };
    let at = from.map(|spot| ways::feet(&play.cast.court, spot));
    (from, at)
}

/// The old state: what everybody decides from in this tick.
fn everybody_sees_the_floor(
    floor: &mut Floor,
    attackers: &[Attacker; 5],
    defenders: &[Defender; 5],
) {
    let Floor {
        play,
        clock,
        ball,
        old,
        trail,
        ..
    } = floor;
    (old.side, old.passes) = (ball.side, ball.passes);
    (old.ball_screen, old.screen_comes) = (None, false);
    for (who, Attacker { form, job, .. }) in attackers.iter().enumerate() {
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
        if manner::waits_at_home(&old.homes[who], &job.order, job.next.is_some()) {
            old.homes[who].told = told;
        } else if let Some(spot) = job.place {
            let at = manner::home_of(play, old, who, told, spot);
            let spot = Some(spot);
            old.homes[who] = Home { told, spot, at };
        }
        old.shown[who] = job.shown(clock.tick);
        old.awaited[who] = job.awaited(clock.tick, ball.hold().map(|hold| hold.by));
        (old.waits_from[who], old.waits[who]) = waits_at(play, job);
        old.stops[who] = stops_at(play, job);
        old.doing[who] = doing_of(job, form.0.pos);
        old.screens[who] = matches!(job.task, Task::Screen { set: Some(_), .. });
        sees_a_ball_screen(old, ball, who, job);
        old.screening[who] = job.screening();
        old.outside[who] = matches!(old.doing[who], Doing::Outside);
    }
    for (d, defender) in defenders.iter().enumerate() {
        let Defender {
            form, guard, eyes, ..
        } = defender;
        old.scene.pos[5 + d] = form.0.pos;
        old.scene.vel[5 + d] = form.0.vel;
        old.scene.facing[5 + d] = form.0.facing;
        old.scene.guards[d] = guard.man;
        // What these go by has changed if the defenders revised in the last tick.
        if attackers_revise(clock.tick) {
            old.scene.alert[d] = eyes::alertness(play, d, guard, eyes);
            old.scene.aware[d] = eyes::awareness(play, d, guard);
        }
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

/// Where an attacker will stop, if on the way to a place to stand.
fn stops_at(play: &Play, job: &Job) -> Option<Vec2> {
    match &job.task {
        Task::Run { way, legs, .. } => Some(way[usize::from(*legs).max(1) - 1]),
        Task::GetOpen { out: true, .. } => job.place.map(|s| play.cast.court.spot(s)),
        _ => None,
    }
}

/// What an attacker at `pos` is doing, as everybody sees it.
fn doing_of(job: &Job, pos: Vec2) -> Doing {
    // Who waits inside for a screen is inside, wherever the screen is to bring him.
    let stands_in = match job.task {
        Task::UseScreen { .. } => job.order.found_at.or(job.place),
        _ => job.place,
    };
    let inside_place = stands_in.is_some_and(|s| !s.name.is_perimeter());
    let deep = pos.length() < 3.2;
    match &job.task {
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
                goal: pos,
                to: None,
                arrived: true,
            }
        }
        _ if inside_place || job.place.is_none() && deep => Doing::Inside,
        Task::Meet { through: true, .. } if deep => Doing::Inside,
        _ => Doing::Outside,
    }
}

/// Everybody sees who comes to screen for the holder, and who stands there.
fn sees_a_ball_screen(old: &mut Old, ball: &Ball, who: usize, job: &Job) {
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
}

fn write_down(floor: &mut Floor, attackers: &[Attacker; 5], defenders: &[Defender; 5]) {
    follow::follow_orders(floor, attackers);
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
    for (i, Attacker { form, .. }) in attackers.iter().enumerate() {
        frame.attackers[i] = form.0.pos;
        frame.attackers_facing[i] = form.0.facing;
    }
    for (d, Defender { form, guard, .. }) in defenders.iter().enumerate() {
        frame.defenders[d] = form.0.pos;
        frame.defenders_facing[d] = form.0.facing;
        frame.guards[d] = guard.man as u8 + 1;
        frame.duties[d] = guard.duty;
        frame.relations[d] = guard.relation;
    }
    book.track.push(frame);
}
