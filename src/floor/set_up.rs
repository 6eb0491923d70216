//! The floor at the tip of a possession: ten bodies at their places, eyes, jobs and what is shared.

use bevy_ecs::prelude::*;
use std::sync::Arc;

use crate::body::{Body, Intent, separate};
use crate::court::{Side, Spot, TO_THE_LINE, Vec2};
use crate::defence::{Duty, Relation};
use crate::looks::passing::passes_away;
use crate::looks::{BODIES, Cast, Scene};
use crate::possession::{Finish, What};
use crate::scenario::Scenario;

use super::dice::Dice;
use super::parts::*;
use super::{Keep, defenders, dice, entry, eyes, ground, manner};

/// Everybody at his alignment, the defenders at their stations, in place of whatever was there.
pub(super) fn set_up(
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
    let play = ground(scenario, cast, seed, side);
    let goals: [Vec2; 5] = std::array::from_fn(|i| manner::place_of(&play, i, 0, spots[i]));
    let come: [(Vec2, Vec2); 5] =
        std::array::from_fn(|i| entry::comes_in(&play, i, spots[i], goals[i], i == holder));
    let mut at = come.map(|c| c.0);
    if !scenario.drill.any() {
        // Two who come to places near each other do not start on one spot.
        let radii = std::array::from_fn::<f64, 5, _>(|i| cast.players[i].limits.radius);
        separate(&mut at, &mut [Vec2::ZERO; 5], &radii, &[1.0; 5]);
        at = at.map(|p| cast.court.clamp_inside(p, TO_THE_LINE));
    }
    let at = at;
    let ball_at = at[holder];
    let outside: [bool; 5] = std::array::from_fn(|i| spots[i].name.is_perimeter());
    let zero = Vec2::ZERO;
    let mut scene = Scene {
        pos: [zero; BODIES],
        vel: [zero; BODIES],
        facing: [Vec2::new(0.0, -1.0); BODIES],
        alert: [0.3; 5],
        aware: [0.1; 5],
        guards: [0, 1, 2, 3, 4],
    };
    scene.pos[..5].copy_from_slice(&at);
    scene.vel[..5].copy_from_slice(&come.map(|c| c.1));
    let away = passes_away(&cast.model.looks, &scene, &outside, holder);
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
            caught: ball_at,
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
        awaited: [false; 5],
        side,
        shown: [None; 5],
        stops: [None; 5],
    };
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
                    vel: come[i].1,
                    facing: facing / facing.length().max(1e-6),
                }),
                Will {
                    intent: Intent {
                        target: at[i],
                        ..still
                    },
                    mobile: 1.0,
                    effort: 1.0,
                    manner: Manner::default(),
                },
                Job {
                    place: Some(spots[i]),
                    own: spots[i].side,
                    task: if i == holder {
                        Task::Handle
                    } else {
                        entry::first_task(at[i], goals[i])
                    },
                    starts: 0,
                    next: None,
                    order: Order::default(),
                    left: None,
                    showed: None,
                    waited: 0,
                },
            ))
            .id()
    });
    let areas = scenario.defence.zone.as_deref();
    let mut relations = [Relation::OnBall; 5];
    for d in 0..5 {
        relations[d] = defenders::relation_of(&old, &ball, d);
        let stance = defenders::stance_of(&play, d, relations[d]);
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
        old.scene.pos[5 + d] = cast.court.clamp_inside(pos, TO_THE_LINE);
    }
    // Two stances may send two men to one place.
    let radii = play.cast.players.each_ref().map(|p| p.limits.radius);
    let mobile = std::array::from_fn::<f64, BODIES, _>(|i| if i < 5 { 0.0 } else { 1.0 });
    separate(&mut old.scene.pos, &mut [zero; BODIES], &radii, &mobile);
    let defenders = std::array::from_fn(|d| {
        let pos = old.scene.pos[5 + d];
        let facing = ball_at - pos;
        let seen = |p: Vec2, vel: Vec2| Seen {
            pos: p,
            vel,
            tick: 0,
        };
        world
            .spawn((
                Defender(d),
                Form(Body {
                    pos,
                    vel: come[d].1 * play.cast.model.movement.entry_defender_share,
                    facing: facing / facing.length().max(1e-6),
                }),
                Will {
                    intent: Intent {
                        target: pos,
                        ..still
                    },
                    mobile: 1.0,
                    effort: 1.0,
                    manner: Manner::default(),
                },
                Guard::of(d, relations[d], pos),
                Eyes {
                    man: seen(at[d], come[d].1),
                    ball: seen(ball_at, zero),
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
