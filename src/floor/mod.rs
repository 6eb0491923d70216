//! The floor: ten players and a ball as an entity-component simulation, one tick at a time.
//!
//! Everybody decides from the old state (`Old`), then everybody moves, then the ball goes on. The
//! whole order of a tick stands in [`tick_order`]; nothing else runs.
//!
//! Not modelled: fouls, rebounds, fatigue, fakes, timeouts, transition.

use std::sync::Arc;

use bevy_ecs::prelude::*;
use bevy_ecs::schedule::SingleThreadedExecutor;

use crate::court::{Court, ShotZone, Side, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::Cast;
use crate::looks::passing::passes_away;
use crate::possession::{Ending, Frame, Possession, Turnover};
use crate::scenario::Scenario;

mod avoid;
pub mod ballwork;
mod book;
mod choose;
mod components;
pub mod defenders;
pub mod dice;
mod entry;
pub mod eyes;
mod feet;
mod hands;
pub mod holder;
pub mod instant;
mod job;
mod manner;
mod motion;
pub mod off_ball;
pub mod parts;
mod plans;
pub mod play_on;
mod referee;
pub mod rules;
mod screens;
mod set_up;
mod sight;
mod stage;
pub mod stance;
pub mod steer;
mod tasks;
pub mod walk;

use dice::Dice;
use parts::*;
use set_up::set_up;
use stage::Stage;

/// A possession never lasts longer than this many ticks (a stop for scenarios without any clock).
const LONGEST: u32 = 25 * 90;

/// The tick, in the order in which it happens.
pub fn tick_order(schedule: &mut Schedule) {
    schedule.set_executor(SingleThreadedExecutor::new());
    schedule.add_systems(
        (
            everybody_sees_the_floor,
            rules::players_answer_the_rules,
            tasks::players_take_up_their_tasks,
            holder::holder_decides,
            off_ball::attackers_run,
            eyes::defenders_look,
            defenders::defenders_guard,
            motion::bodies_move,
            ballwork::ball_goes_on,
            referee::referee_watches,
            write_down,
            time_passes,
        )
            .chain(),
    );
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
    for (&Attacker(who), form, job) in &attackers {
        old.scene.pos[who] = form.0.pos;
        old.scene.vel[who] = form.0.vel;
        old.scene.facing[who] = form.0.facing;
        old.places[who] = match job.task {
            Task::Flash { at, .. } => Some(at),
            _ => job.place,
        };
        old.shown[who] = job.shown(clock.tick);
        old.awaited[who] = job.awaited(clock.tick);
        old.stops[who] = match &job.task {
            Task::Run { way, legs, .. } => Some(way[usize::from(*legs).max(1) - 1]),
            Task::GetOpen { out: true, .. } => job.place.map(|s| play.cast.court.spot(s)),
            _ => None,
        };
        let inside_place = job.place.is_some_and(|s| !s.name.is_perimeter());
        let deep = form.0.pos.length() < 3.2;
        old.doing[who] = match &job.task {
            Task::Cut {
                goal,
                via,
                lane,
                reached,
                ..
            } => Doing::Cutting {
                lane: *lane,
                via: *via,
                goal: *goal,
                arrived: reached.is_some(),
            },
            Task::AwaitHelp { gone: true } => Doing::DropOff,
            Task::Flash { .. } => Doing::Inside,
            // On his way out from under the rim: still to be treated as a cutter.
            Task::Run { .. } | Task::Stand if deep && !inside_place && job.place.is_some() => {
                Doing::Cutting {
                    lane: crate::offence::CutLane::BallSide,
                    via: None,
                    goal: form.0.pos,
                    arrived: true,
                }
            }
            _ if inside_place || job.place.is_none() && deep => Doing::Inside,
            Task::Meet { through: true, .. } if deep => Doing::Inside,
            _ => Doing::Outside,
        };
        old.screens[who] = matches!(job.task, Task::Screen { set: Some(_), .. });
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
    attackers: Query<(&Attacker, &Form)>,
    defenders: Query<(&Defender, &Form, &Guard)>,
) {
    let Floor {
        clock, ball, book, ..
    } = floor.into_inner();
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
    for (&Attacker(i), form) in &attackers {
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

/// What to write down besides the timeline and the ending.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Keep {
    /// Everybody's place at every tick.
    pub track: bool,
    /// The looks at every decision instant.
    pub moments: bool,
}

impl Keep {
    pub const FIGURES: Keep = Keep {
        track: false,
        moments: true,
    };
    pub const ALL: Keep = Keep {
        track: true,
        moments: true,
    };
}

/// Points that this team usually scores in a possession: the yardstick of its choices. The mean of
/// an open shot at the rim and an open one from outside, less what defence and lost balls take
/// (ours: a share that suits men's professional squads, NBA 2022-24, from memory, med–high, and
/// college squads, NCAA Division I, from memory, med).
fn usual(cast: &Cast) -> f64 {
    let mut sum = 0.0;
    for player in &cast.players[..5] {
        let rim = 2.0 * player.shooting.open(ShotZone::Rim);
        let far = (3.0 * player.shooting.open(ShotZone::ArcThree))
            .max(2.0 * player.shooting.open(ShotZone::MidRange));
        sum += 0.5 * (rim + far);
    }
    0.7 * sum / 5.0
}

/// Play one possession. Same scenario and same seed: the same possession, bit for bit.
///
/// # Examples
/// ```
/// use lanelight::floor::{Keep, play};
/// use lanelight::scenario::Scenario;
///
/// let scenario = Scenario::demo();
/// let possession = play(&scenario, 7, Keep::ALL);
/// assert_eq!(possession, play(&scenario, 7, Keep::ALL));
/// assert!(possession.duration > 0.0 && !possession.timeline.is_empty());
/// ```
pub fn play(scenario: &Scenario, seed: u64, keep: Keep) -> Possession {
    play_shared(&Arc::new(scenario.clone()), &cast_of(scenario), seed, keep)
}

/// The players of a scenario, for [`play_shared`].
pub fn cast_of(scenario: &Scenario) -> Arc<Cast> {
    let mut court: Court = scenario.court;
    if scenario.shot_clock.is_some() {
        court.clock.shot = scenario.shot_clock;
    }
    let players = std::array::from_fn(|i| {
        if i < 5 {
            scenario.attackers.players[i].clone()
        } else {
            scenario.defenders.players[i - 5].clone()
        }
    });
    let model = Arc::clone(&scenario.model);
    Arc::new(Cast {
        court,
        players,
        model,
    })
}

/// The same without copying the scenario for each possession.
pub fn play_shared(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    keep: Keep,
) -> Possession {
    run(scenario, cast, seed, keep, None, &[]).0
}

/// The same, and what the holder decided from at each of its moments (memory only when asked for).
pub fn play_witnessed(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
) -> (Possession, Vec<instant::Instant>) {
    run(scenario, cast, seed, Keep::FIGURES, Some(Vec::new()), &[])
}

fn run(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    keep: Keep,
    instants: Option<Vec<instant::Instant>>,
    puts: &[play_on::Put],
) -> (Possession, Vec<instant::Instant>) {
    let side = scenario.start.unwrap_or(if seed.is_multiple_of(2) {
        Side::Right
    } else {
        Side::Left
    });
    let mut stage = Stage::take();
    let Stage { world, schedule } = &mut *stage;
    set_up(world, scenario, cast, seed, side, keep);
    world.resource_mut::<Floor>().book.instants = instants;
    loop {
        let floor = world.resource::<Floor>();
        if floor.book.ending.is_some() || floor.clock.tick >= LONGEST {
            break;
        }
        if !puts.is_empty() {
            play_on::put(world, puts);
        }
        schedule.run(world);
    }
    let floor = world.resource_mut::<Floor>().into_inner();
    let (clock, ball) = (floor.clock, floor.ball);
    let mut book = std::mem::take(&mut floor.book);
    stage.keep();
    let ending = book.ending.unwrap_or(Ending::Turnover {
        how: Turnover::ShotClock,
        who: ball.man() as u8 + 1,
        by: None,
    });
    let instants = book.instants.take().unwrap_or_default();
    let possession = Possession {
        seed,
        side,
        duration: clock.seconds(),
        ending,
        timeline: std::mem::take(&mut book.timeline),
        moments: std::mem::take(&mut book.moments),
        track: std::mem::take(&mut book.track),
    };
    (possession, instants)
}

/// What is fixed for the possession of a seed.
pub fn ground(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64, side: Side) -> Play {
    Play {
        scenario: scenario.clone(),
        cast: cast.clone(),
        usual: usual(cast),
        dice: Dice::new(seed),
        hand: side.sign(),
    }
}
