//! The floor: ten players and a ball as an entity-component simulation, one tick at a time.
//!
//! Everybody decides from the old state (`Old`), then everybody moves, then the ball goes on. The
//! whole order of a tick stands in [`tick_order`]; nothing else runs.
//!
//! Not modelled: contact and fouls, rebounds, fatigue, fakes, timeouts, transition.

use std::sync::Arc;

use bevy_ecs::prelude::*;
use bevy_ecs::schedule::SingleThreadedExecutor;

use crate::body::{Body, Intent, Limits, separate, step};
use crate::court::{Court, ShotZone, Side, Spot, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::passing::passes_away;
use crate::looks::{BODIES, Cast, Scene};
use crate::offence::Movement;
use crate::possession::{Ending, Finish, Frame, Possession, TICK, Turnover, What};
use crate::scenario::Scenario;

pub mod ballwork;
mod book;
pub mod defenders;
pub mod dice;
pub mod eyes;
pub mod help;
pub mod holder;
pub mod instant;
pub mod parts;
pub mod play_on;
pub mod rules;
pub mod runs;
mod screens;
mod stage;
pub mod steer;
pub mod walk;
pub mod zone;

use dice::Dice;
use parts::*;
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
            rules::players_take_up_their_tasks,
            holder::holder_decides,
            runs::attackers_run,
            eyes::defenders_look,
            defenders::defenders_guard,
            bodies_move,
            ballwork::ball_goes_on,
            ballwork::referee_watches,
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
    for (&Attacker(who), form, job) in &attackers {
        old.scene.pos[who] = form.0.pos;
        old.scene.vel[who] = form.0.vel;
        old.scene.facing[who] = form.0.facing;
        old.places[who] = match job.task {
            Task::Flash { at, .. } => Some(at),
            _ => job.place,
        };
        old.stops[who] = match &job.task {
            Task::Run { way, legs, .. } => Some(way[usize::from(*legs).max(1) - 1]),
            Task::GetOpen { out: true, .. } => job.place.map(|s| play.cast.court.spot(s)),
            _ => None,
        };
        let inside_place = job.place.is_some_and(|s| !s.name.is_perimeter());
        let deep = form.0.pos.norm() < 3.2;
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
    old.away = passes_away(&old.scene, &old.outside, ball.man());
    trail.put(
        clock.tick,
        TrailFrame {
            pos: old.scene.pos,
            vel: old.scene.vel,
            ball: ball.pos,
        },
    );
}

/// Everybody moves at once, each by his own will; then bodies that would overlap give way.
fn bodies_move(
    floor: Res<Floor>,
    mut attackers: Query<(&Attacker, &mut Form, &Will)>,
    mut defenders: Query<(&Defender, &mut Form, &Will), Without<Attacker>>,
) {
    let play = &floor.play;
    let mut pos = [Vec2::zeros(); BODIES];
    let mut vel = [Vec2::zeros(); BODIES];
    let mut mobile = [1.0; BODIES];
    let radii = play.cast.players.each_ref().map(|p| p.limits.radius);
    let mut will_be = |i: usize, form: &mut Form, will: &Will| {
        let limits = &play.cast.players[i].limits;
        let effort = Limits {
            accel: limits.accel * will.effort,
            brake: limits.brake * will.effort,
            turn: limits.turn * will.effort,
            ..*limits
        };
        form.0 = step(&form.0, &effort, &will.intent, TICK);
        pos[i] = form.0.pos;
        vel[i] = form.0.vel;
        mobile[i] = will.mobile;
    };
    for (&Attacker(i), mut form, will) in &mut attackers {
        will_be(i, &mut form, will);
    }
    for (&Defender(d), mut form, will) in &mut defenders {
        will_be(5 + d, &mut form, will);
    }
    separate(&mut pos, &mut vel, &radii, &mobile);
    let is_at = |i: usize, form: &mut Form| {
        form.0.pos = play.cast.court.clamp_inside(pos[i], 0.1);
        form.0.vel = vel[i];
    };
    for (&Attacker(i), mut form, _) in &mut attackers {
        is_at(i, &mut form);
    }
    for (&Defender(d), mut form, _) in &mut defenders {
        is_at(5 + d, &mut form);
    }
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
    let zero = Vec2::zeros();
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
/// (share set so that men's professional and college squads come to the level table of sources 5.3).
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
    Arc::new(Cast { court, players })
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

/// Everybody at his alignment, the defenders at their stations, in place of whatever was there.
fn set_up(
    world: &mut World,
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    side: Side,
    keep: Keep,
) {
    if let Some(roster) = world.get_resource::<Roster>().copied() {
        for player in roster.attackers.into_iter().chain(roster.defenders) {
            world.despawn(player);
        }
        // Or what was taken out would be remembered for ever.
        world.clear_trackers();
    }
    let offence = &scenario.offence;
    let holder = usize::from(offence.ball).saturating_sub(1).min(4);
    let mut places = [None; 5];
    for stand in &offence.alignment {
        let i = usize::from(stand.player).saturating_sub(1).min(4);
        places[i] = stand.at.spot(side, None);
    }
    let mut spots = [Spot::new(crate::court::SpotName::Top, None); 5];
    for i in 0..5 {
        spots[i] = places[i].unwrap_or(spots[i]);
    }
    let at: [Vec2; 5] = std::array::from_fn(|i| cast.court.spot(spots[i]));
    let ball_at = at[holder];
    let outside: [bool; 5] = std::array::from_fn(|i| spots[i].name.is_perimeter());
    let zero = Vec2::zeros();
    let mut scene = Scene {
        pos: [zero; BODIES],
        vel: [zero; BODIES],
        facing: [Vec2::new(0.0, -1.0); BODIES],
        alert: [0.3; 5],
        aware: [0.1; 5],
        guards: [0, 1, 2, 3, 4],
    };
    scene.pos[..5].copy_from_slice(&at);
    let away = passes_away(&scene, &outside, holder);
    let dice = Dice::new(seed);
    let looks_for = if scenario.drill.clean {
        0.4
    } else {
        0.6 + 0.8 * dice.at(dice::Purpose::Patience, holder, 0).unit()
    };
    let ball = Ball {
        state: BallState::Held(Hold {
            by: holder,
            since: 0,
            work: crate::possession::Ballwork::Holding,
            drive: None,
            drove_from: None,
            at_mate: None,
            angle: None,
            angle_since: None,
            pending: None,
            ready: ticks(looks_for),
            how: Finish::SpotUp,
            guarded_since: None,
            picked_up: None,
        }),
        pos: ball_at,
        height: 1.2,
        side,
    };
    let doing: [Doing; 5] = std::array::from_fn(|i| {
        if outside[i] {
            Doing::Outside
        } else {
            Doing::Inside
        }
    });
    let mut old = Old {
        scene,
        duties: [(Duty::OnBall, Relation::OnBall, 0); 5],
        outside,
        screens: [false; 5],
        screening: [None; 5],
        away,
        doing,
        places: std::array::from_fn(|i| Some(spots[i])),
        stops: [None; 5],
    };
    let play = ground(scenario, cast, seed, side);
    let still = Intent {
        target: zero,
        arrive: true,
        pace: 0.0,
        face: None,
    };
    let attackers = std::array::from_fn(|i| {
        let to_ball = ball_at - at[i];
        let facing = if i == holder { -at[i] } else { to_ball };
        world
            .spawn((
                Attacker(i),
                Form(Body {
                    pos: at[i],
                    vel: zero,
                    facing: facing / facing.norm().max(1e-6),
                }),
                Will {
                    intent: Intent {
                        target: at[i],
                        ..still
                    },
                    mobile: 1.0,
                    effort: 1.0,
                },
                Job {
                    place: Some(spots[i]),
                    own: spots[i].side,
                    task: if i == holder {
                        Task::Handle
                    } else {
                        Task::Stand
                    },
                    starts: 0,
                    next: None::<Movement>,
                },
            ))
            .id()
    });
    let areas = scenario.defence.zone.as_deref();
    let defenders = std::array::from_fn(|d| {
        let relation = defenders::relation_of(&old, &ball, d);
        let stance = defenders::stance_of(&play, d, relation);
        let mut pos = defenders::station(&stance, at[d], ball_at);
        if let Some(area) =
            areas.and_then(|list| list.iter().find(|a| usize::from(a.defender) == d + 1))
        {
            pos = Vec2::new(
                area.x + area.shift.0 * ball_at.x,
                area.y + area.shift.1 * (ball_at.y - 6.0),
            );
        }
        if !play.scenario.drill.clean {
            let mut dice = play.dice.at(dice::Purpose::Place, d, 0);
            pos += Vec2::new(play.hand * dice.normal(), dice.normal()) * 0.15;
        }
        old.scene.pos[5 + d] = pos;
        let facing = ball_at - pos;
        let seen = |p: Vec2| Seen {
            pos: p,
            vel: zero,
            tick: 0,
        };
        world
            .spawn((
                Defender(d),
                Form(Body {
                    pos,
                    vel: zero,
                    facing: facing / facing.norm().max(1e-6),
                }),
                Will {
                    intent: Intent {
                        target: pos,
                        ..still
                    },
                    mobile: 1.0,
                    effort: 1.0,
                },
                Guard {
                    man: d,
                    duty: Duty::OnBall,
                    relation,
                    since: 0,
                    news: None,
                    helping: false,
                    rotated: None,
                    closing: false,
                    station: pos,
                    trigger: None,
                    shades: false,
                },
                Eyes {
                    man: seen(at[d]),
                    ball: seen(ball_at),
                    glance_until: 0,
                    phase: eyes::phase(&play, d),
                    sees_ball: true,
                    sees_man: true,
                },
            ))
            .id()
    });
    let limit = scenario.shot_clock.or(cast.court.clock.shot);
    let clock = Clock {
        tick: 0,
        limit: ticks(limit.unwrap_or(offence.patience.possession)),
        ruled: limit.is_some(),
    };
    let mut book = Book {
        keep_track: keep.track,
        keep_moments: keep.moments,
        ..Book::default()
    };
    book.write(
        &clock,
        What::Starts {
            who: holder as u8 + 1,
            at: spots[holder],
        },
    );
    let trail = Trail::new(TrailFrame {
        pos: old.scene.pos,
        vel: old.scene.vel,
        ball: ball_at,
    });
    world.insert_resource(Roster {
        attackers,
        defenders,
    });
    world.insert_resource(Floor {
        play,
        clock,
        ball,
        old,
        trail,
        signals: Signals::default(),
        book,
    });
}
