//! Everybody moves at once: each by the own wish, clear of team-mates, with the lag of a human body and
//! within its limits; then bodies that meet give way, and nobody leaves the court.

use bevy_ecs::prelude::*;

use super::avoid::{Mate, Team};
use super::parts::*;
use super::steer;
use crate::body::{Body, Limits, Wish, contact, follow, wish};
use crate::court::{TO_THE_LINE, Vec2};
use crate::looks::BODIES;
use crate::possession::TICK;

/// One player's body before the tick, and what it means to do.
struct Before<'a> {
    body: &'a Body,
    will: &'a Will,
    /// The player's own bounds, by the share of the power that goes into it.
    limits: Limits,
    wish: Wish,
}

/// Everybody moves.
pub(super) fn bodies_move(
    floor: Res<Floor>,
    mut attackers: Query<(&Attacker, &mut Form, &Will)>,
    mut defenders: Query<(&Defender, &mut Form, &Will), Without<Attacker>>,
) {
    let five = by_number(attackers.iter().map(|(n, form, will)| (n.0, (form, will))));
    let others = by_number(defenders.iter().map(|(n, form, will)| (n.0, (form, will))));
    let (Some(five), Some(others)) = (five, others) else {
        return;
    };
    let play = &floor.play;
    let all: [Before; BODIES] = std::array::from_fn(|who| {
        let (form, will) = if who < 5 { five[who] } else { others[who - 5] };
        before(play, who, &form.0, will)
    });
    let after = moved(play, &all);
    for (&Attacker(i), mut form, _) in &mut attackers {
        form.0 = after[i];
    }
    for (&Defender(d), mut form, _) in &mut defenders {
        form.0 = after[5 + d];
    }
}

fn before<'a>(play: &Play, who: usize, body: &'a Body, will: &'a Will) -> Before<'a> {
    let limits = &play.cast.players[who].limits;
    let effort = Limits {
        accel: limits.accel * will.effort,
        brake: limits.brake * will.effort,
        turn: limits.turn * will.effort,
        ..*limits
    };
    let intent = steer::in_front_of_the_board(body, limits, &will.intent);
    let settle = will.manner.settle.unwrap_or(f64::INFINITY);
    Before {
        body,
        will,
        wish: wish(&play.cast.model, body, &effort, &intent, TICK, settle),
        limits: effort,
    }
}

/// All bodies at the end of the tick, each decided from the same state before it.
fn moved(play: &Play, all: &[Before; BODIES]) -> [Body; BODIES] {
    let model = &play.cast.model.movement;
    let drilled = play.scenario.drill.any();
    let team = |first: usize, keeps: (f64, f64)| {
        let mates = std::array::from_fn(|i| Mate {
            pos: all[first + i].body.pos,
            vel: all[first + i].body.vel,
            manner: &all[first + i].will.manner,
        });
        Team::of(model, mates, keeps)
    };
    let teams = [
        team(0, (model.avoid_distance, model.avoid_time)),
        team(
            5,
            (model.avoid_defender_distance, model.avoid_defender_time),
        ),
    ];
    let mut after = all.each_ref().map(|b| *b.body);
    for (who, before) in all.iter().enumerate() {
        let (side, number) = (who / 5, who % 5);
        let mut wish = before.wish;
        let mut limits = &before.limits;
        let mut lag = before.will.manner.lag;
        if !drilled {
            let top = limits.top_speed;
            wish.vel = teams[side].clear_of_mates(model, number, wish.vel, top);
        }
        // A player sees the line and stops in front of it.
        let soon = before.body.pos + before.body.vel * model.line_look_ahead;
        let out = soon - play.cast.court.clamp_inside(soon, TO_THE_LINE);
        if out != Vec2::ZERO {
            let outward = out / out.length();
            wish.vel -= outward * wish.vel.dot(outward).max(0.0);
            lag = 0.0;
            limits = &play.cast.players[who].limits;
        }
        after[who] = follow(before.body, limits, &wish, TICK, lag);
    }
    let mut pos = after.map(|b| b.pos);
    let mut vel = after.map(|b| b.vel);
    contact(
        model,
        &mut pos,
        &mut vel,
        &all.each_ref().map(|b| b.will.mobile),
    );
    for who in 0..BODIES {
        after[who].pos = play.cast.court.clamp_inside(pos[who], TO_THE_LINE);
        after[who].vel = vel[who];
    }
    after
}
