//! The floor at the tip of a possession: ten bodies at their places, eyes, jobs and what is shared.

use std::sync::Arc;

use crate::body::{Body, Intent, separate};
use crate::court::{Side, Spot, SpotName, TO_THE_LINE, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::passing::passes_away;
use crate::looks::{BODIES, Cast, Scene};
use crate::possession::there::parked;
use crate::possession::{Ballwork, Finish, What};
use crate::scenario::Scenario;

use super::ground::{Keep, ground};
use super::parts::*;
use super::{dice, entry, eyes, manner, stance};

/// Everybody at his alignment, the defenders at their stations.
pub(super) fn set_up(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    side: Side,
    keep: Keep,
) -> World {
    let play = ground(scenario, cast, seed, side);
    let start = Start::of(&play, side);
    let ball = first_ball(&play, &start, side);
    let mut old = first_old(&play, &start, side);
    let attackers = first_attackers(&play, &start);
    let relations = place_defenders(&play, &start, &ball, &mut old);
    let defenders = first_defenders(&play, &start, &old, relations);
    let clock = first_clock(&play);
    let book = first_book(&start, &clock, keep);
    let trail = Trail::new(TrailFrame {
        pos: old.scene.pos,
        vel: old.scene.vel,
        ball: ball.pos,
    });
    let floor = Floor {
        play,
        clock,
        ball,
        old,
        trail,
        signals: Signals::default(),
        book,
    };
    World {
        floor,
        attackers,
        defenders,
        script: None,
    }
}

/// How the attackers start, in order of number.
struct Start {
    /// Who has the ball, 0–4.
    holder: usize,
    /// The place that each goes to, and its point on the floor.
    spots: [Spot; 5],
    goals: [Vec2; 5],
    /// Where each is, and how he moves.
    at: [Vec2; 5],
    vel: [Vec2; 5],
    /// Whose place is on the perimeter?
    outside: [bool; 5],
}

impl Start {
    /// Everybody on the way to his place in the offence's alignment.
    fn of(play: &Play, side: Side) -> Start {
        let offence = &play.scenario.offence;
        let holder = usize::from(offence.ball).saturating_sub(1).min(4);
        let mut places = [None; 5];
        for stand in &offence.alignment {
            let i = usize::from(stand.player).saturating_sub(1).min(4);
            places[i] = stand.at.spot(side, None);
        }
        let parked = |i: usize| (parked(i), Vec2::ZERO);
        let there = play.cast.there;
        let spots = places.map(|place| place.unwrap_or(Spot::new(SpotName::Top, None)));
        let goals: [Vec2; 5] = std::array::from_fn(|i| manner::place_of(play, i, 0, spots[i]));
        let come: [(Vec2, Vec2); 5] = std::array::from_fn(|i| match there[i] {
            true => entry::comes_in(play, i, spots[i], goals[i], i == holder),
            false => parked(i),
        });
        let mut at = come.map(|c| c.0);
        if !play.scenario.drill.any() {
            // Two who come to places near each other start a few steps apart.
            let cast = &play.cast;
            let room = 0.5 * cast.model.movement.entry_room;
            separate(&mut at, &mut [Vec2::ZERO; 5], &[room; 5], &[1.0; 5]);
            for i in cast.five() {
                at[i] = cast.court.clamp_inside(at[i], TO_THE_LINE);
            }
        }
        Start {
            holder,
            spots,
            goals,
            at,
            vel: come.map(|c| c.1),
            outside: std::array::from_fn(|i| there[i] && spots[i].name.is_perimeter()),
        }
    }

    /// Where the ball is, metres.
    fn ball(&self) -> Vec2 {
        self.at[self.holder]
    }
}

/// The ball in the hands of the first holder, who looks for a moment before he does anything.
fn first_ball(play: &Play, start: &Start, side: Side) -> Ball {
    let looks_for = if play.scenario.drill.clean {
        0.4
    } else {
        let mut dice = play.dice.at(dice::Purpose::Patience, start.holder, 0);
        0.6 + 0.8 * dice.unit()
    };
    Ball {
        state: BallState::Held(Hold {
            by: start.holder,
            since: 0,
            caught: start.ball(),
            pivot: None,
            readiness: 1.0,
            // The ball has been brought up: the dribble is alive.
            work: if play.scenario.drill.any() {
                Ballwork::Holding
            } else {
                Ballwork::Dribbling
            },
            drive: None,
            drove_from: None,
            stops: 0,
            at_mate: None,
            hands: None,
            promised: None,
            handed: None,
            angle: None,
            angle_since: None,
            angle_hand: None,
            pending: None,
            ready: ticks(looks_for),
            how: Finish::SpotUp,
            guarded_since: None,
            picked_up: None,
            stopped: None,
            screened: None,
        }),
        pos: start.ball(),
        height: 1.2,
        side,
        passes: 0,
    }
}

/// What everybody sees in the first tick; the defenders have no places yet.
fn first_old(play: &Play, start: &Start, side: Side) -> Old {
    let zero = Vec2::ZERO;
    let mut scene = Scene {
        pos: [zero; BODIES],
        vel: [zero; BODIES],
        facing: [Vec2::new(0.0, -1.0); BODIES],
        alert: [0.3; 5],
        aware: [0.1; 5],
        guards: [0, 1, 2, 3, 4],
    };
    scene.pos[..5].copy_from_slice(&start.at);
    scene.vel[..5].copy_from_slice(&start.vel);
    let outside = start.outside;
    let away = passes_away(&play.cast.model.looks, &scene, &outside, start.holder);
    let doing = |i| match (play.cast.has(i), outside[i]) {
        (false, _) => Doing::Absent,
        (true, true) => Doing::Outside,
        (true, false) => Doing::Inside,
    };
    Old {
        scene,
        duties: [(Duty::OnBall, Relation::OnBall, 0); 5],
        stations: [Vec2::ZERO; 5],
        outside,
        screens: [false; 5],
        ball_screen: None,
        screen_comes: false,
        screening: [None; 5],
        away,
        doing: std::array::from_fn(doing),
        places: std::array::from_fn(|i| play.cast.has(i).then_some(start.spots[i])),
        awaited: [false; 5],
        waits: [None; 5],
        waits_from: [None; 5],
        side,
        passes: 0,
        shown: [None; 5],
        stops: [None; 5],
        homes: [Home::default(); 5],
    }
}

/// A player's will before the first tick: he stays where he is.
fn first_will(at: Vec2) -> Will {
    Will {
        intent: Intent {
            target: at,
            arrive: true,
            pace: 0.0,
            face: None,
        },
        mobile: 1.0,
        effort: 1.0,
        manner: Manner::default(),
        clear: Vec2::ZERO,
    }
}

/// A body that faces `way`.
fn first_form(pos: Vec2, vel: Vec2, way: Vec2) -> Form {
    Form(Body {
        pos,
        vel,
        facing: way / way.length().max(1e-6),
    })
}

/// Puts the attackers on the floor, each facing the ball, the holder facing the rim.
fn first_attackers(play: &Play, start: &Start) -> [Attacker; 5] {
    std::array::from_fn(|i| {
        let at = start.at[i];
        let to_ball = start.ball() - at;
        let holds = i == start.holder;
        let facing = if holds { -at } else { to_ball };
        let job = Job {
            place: play.cast.has(i).then_some(start.spots[i]),
            own: start.spots[i].side,
            task: if !play.cast.has(i) {
                Task::Absent
            } else if holds {
                Task::Handle
            } else {
                entry::first_task(at, start.goals[i])
            },
            starts: 0,
            next: None,
            order: Order::default(),
            left: None,
            back: None,
            showed: None,
            steps: std::collections::VecDeque::new(),
            waited: 0,
        };
        Attacker {
            form: first_form(at, start.vel[i], facing),
            will: first_will(at),
            job,
        }
    })
}

/// Finds each defender's place, and his man's relation to the ball.
fn place_defenders(play: &Play, start: &Start, ball: &Ball, old: &mut Old) -> [Relation; 5] {
    let mut relations = [Relation::OnBall; 5];
    for d in 0..5 {
        relations[d] = stance::relation_of(old, ball, d);
        if !play.cast.has(d) {
            old.scene.pos[5 + d] = parked(5 + d);
            continue;
        }
        let pos = station(play, start, d, relations[d]);
        old.scene.pos[5 + d] = play.cast.court.clamp_inside(pos, TO_THE_LINE);
    }
    // Two stances may send two men to one place.
    let radii = play.cast.players.each_ref().map(|p| p.limits.radius);
    let mobile = std::array::from_fn::<f64, BODIES, _>(|i| if i < 5 { 0.0 } else { 1.0 });
    separate(
        &mut old.scene.pos,
        &mut [Vec2::ZERO; BODIES],
        &radii,
        &mobile,
    );
    relations
}

/// Where a defender's stance or his area of a zone has him stand, a little off it.
fn station(play: &Play, start: &Start, d: usize, relation: Relation) -> Vec2 {
    let ball_at = start.ball();
    let stance = stance::stance_of(play, d, relation);
    let mut pos = stance::station(stance, start.at[d], ball_at);
    let areas = play.scenario.defence.zone.as_deref();
    if let Some(area) =
        areas.and_then(|list| list.iter().find(|a| usize::from(a.defender) == d + 1))
    {
        pos = stance::shifted(area, ball_at);
    }
    if !play.scenario.drill.clean {
        let mut dice = play.dice.at(dice::Purpose::Place, d, 0);
        pos += Vec2::new(play.hand * dice.normal(), dice.normal()) * 0.15;
    }
    pos
}

/// Puts the defenders on the floor, each facing the ball, each with his own man.
fn first_defenders(
    play: &Play,
    start: &Start,
    old: &Old,
    relations: [Relation; 5],
) -> [Defender; 5] {
    let share = play.cast.model.movement.entry_defender_share;
    std::array::from_fn(|d| {
        let pos = old.scene.pos[5 + d];
        Defender {
            form: first_form(pos, start.vel[d] * share, start.ball() - pos),
            will: first_will(pos),
            guard: Guard::of(d, relations[d], pos),
            eyes: first_eyes(play, start, d),
        }
    })
}

fn first_eyes(play: &Play, start: &Start, d: usize) -> Eyes {
    let seen = |pos: Vec2, vel: Vec2| Seen { pos, vel, tick: 0 };
    Eyes {
        man: seen(start.at[d], start.vel[d]),
        ball: seen(start.ball(), Vec2::ZERO),
        glance_until: 0,
        phase: eyes::phase(play, d),
        sees_ball: true,
        sees_man: true,
    }
}

/// The shot clock, or the offence's patience where there is none.
fn first_clock(play: &Play) -> Clock {
    let scenario = &play.scenario;
    let limit = scenario.shot_clock.or(play.cast.court.clock.shot);
    Clock {
        tick: 0,
        limit: ticks(limit.unwrap_or(scenario.offence.patience.possession)),
        ruled: limit.is_some(),
    }
}

/// The book with its first line: who starts with the ball, and where.
fn first_book(start: &Start, clock: &Clock, keep: Keep) -> Book {
    let mut book = Book {
        keep_track: keep.track,
        keep_moments: keep.moments,
        ..Book::default()
    };
    let who = start.holder as u8 + 1;
    let at = start.spots[start.holder];
    book.write(clock, What::Starts { who, at });
    book
}
