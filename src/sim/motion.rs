//! Everybody moves at once: each by the own wish, clear of team-mates, with the lag of a human body and
//! within its limits; then bodies that meet give way, and nobody leaves the court.

use super::avoid::{Mate, Team};
use super::parts::*;
use super::ways::BEHIND_THE_RING;
use crate::body::{Body, arrival_speed, contact, faces, follow, wish};
use crate::court::{Court, TO_THE_LINE, Vec2};
use crate::looks::BODIES;
use crate::model::Movement;
use crate::possession::TICK;

/// Nobody runs in behind the board: whoever will be within this of the middle so soon, metres and seconds, stops
/// `BEHIND_THE_RING` above the ring's centre at least (ours).
const BOARD: f64 = 2.4;
const SOON: f64 = 0.2;

/// Whom team-mates lead aside by more than this, m/s, turns that way (ours).
const LED_ASIDE: f64 = 1.0;

/// Beyond every line, m.
const FAR: f64 = 1e3;

/// Everybody moves.
pub(super) fn bodies_move(
    floor: &Floor,
    attackers: &mut [Attacker; 5],
    defenders: &mut [Defender; 5],
) {
    let (play, tick) = (&floor.play, floor.clock.tick);
    let lines = Lines::of(&play.cast.court);
    let five = attackers.each_ref().map(|a| (&a.form, &a.will));
    let others = defenders.each_ref().map(|d| (&d.form, &d.will));
    let steps = steps(play, tick, &lines, &five, &others);
    let after = moved(play, &lines, steps.map(|step| step.0), &five, &others);
    let parts = attackers.iter_mut().map(|a| (&mut a.form, &mut a.will));
    let parts = parts.chain(defenders.iter_mut().map(|d| (&mut d.form, &mut d.will)));
    for (((form, will), body), (_, clear)) in parts.zip(after).zip(steps) {
        (form.0, will.clear) = (body, clear);
    }
}

/// Five players as they are before they move.
type Five<'a> = [(&'a Form, &'a Will); 5];

/// Each body after the tick, if nobody touches it, and what keeps it clear of team-mates; all decided from the same state
/// before it.
fn steps(
    play: &Play,
    tick: u32,
    lines: &Lines,
    five: &Five,
    others: &Five,
) -> [(Body, Vec2); BODIES] {
    let model = &play.cast.model.movement;
    let ours = (model.avoid_distance, model.avoid_time);
    let theirs = (model.avoid_defender_distance, model.avoid_defender_time);
    let apart = !play.scenario.drill.any();
    let team = |revises: bool, five, keeps| (apart && revises).then(|| team(model, five, keeps));
    let teams = [
        team(attackers_revise(tick), five, ours),
        team(defenders_revise(tick), others, theirs),
    ];
    std::array::from_fn(|who| {
        let (form, will) = if who < 5 { five[who] } else { others[who - 5] };
        if !play.cast.has(who) {
            return (form.0, Vec2::ZERO);
        }
        let clear = |wish: Vec2, top: f64| match &teams[who / 5] {
            Some(team) => team.clear_of_mates(model, who % 5, wish, top) - wish,
            None => will.clear,
        };
        alone(play, who, &form.0, will, lines, clear)
    })
}

/// All bodies at the end of the tick: those that meet give way, and nobody leaves the court.
fn moved(
    play: &Play,
    lines: &Lines,
    after: [Body; BODIES],
    five: &Five,
    others: &Five,
) -> [Body; BODIES] {
    let model = &play.cast.model.movement;
    let mut pos = after.map(|b| b.pos);
    let mut vel = after.map(|b| b.vel);
    let mobile = |who: usize| if who < 5 { five[who].1 } else { others[who - 5].1 }.mobile;
    let mobile: [f64; BODIES] = std::array::from_fn(mobile);
    // In a walk-through nobody holds anybody up; and team-mates let each other slide by, shoulder to shoulder off a screen.
    let grip = |one: usize, other: usize| {
        let team_mates = (one < 5) == (other < 5);
        if team_mates || play.scenario.drill.any() {
            0.0
        } else {
            model.contact_grip
        }
    };
    contact(model, grip, &mut pos, &mut vel, &mobile);
    std::array::from_fn(|who| {
        if !play.cast.has(who) {
            return after[who];
        }
        let kept = pos[who].clamp(lines.low, lines.high);
        Body {
            pos: kept,
            // Whom the line stops is at rest across it: who runs up behind him must see that.
            vel: without(vel[who], pos[who] - kept),
            facing: after[who].facing,
        }
    })
}

/// The velocity less what of it goes along `out` (any length).
fn without(vel: Vec2, out: Vec2) -> Vec2 {
    if out == Vec2::ZERO {
        return vel;
    }
    let outward = out / out.length();
    vel - outward * vel.dot(outward).max(0.0)
}

fn team<'a>(model: &Movement, five: &Five<'a>, keeps: (f64, f64)) -> Team<'a> {
    let mates = five.map(|(form, will)| Mate {
        pos: form.0.pos,
        vel: form.0.vel,
        manner: &will.manner,
    });
    Team::of(model, mates, keeps)
}

/// A player's body after the tick, if nobody touches it, and what `clear` adds to the wish, m/s, so that it keeps clear of
/// team-mates.
fn alone(
    play: &Play,
    who: usize,
    body: &Body,
    will: &Will,
    lines: &Lines,
    clear: impl Fn(Vec2, f64) -> Vec2,
) -> (Body, Vec2) {
    let model = &play.cast.model;
    let own = &play.cast.players[who].limits;
    let effort = own.with_effort(will.effort);
    let settle = will.manner.settle.unwrap_or(f64::INFINITY);
    let mut wish = wish(model, body, &effort, &will.intent, TICK, settle);
    let clear = clear(wish.vel, own.top_speed);
    wish.vel += clear;
    if will.intent.face.is_none() && clear.length_squared() > LED_ASIDE * LED_ASIDE {
        // Who has to go another way than where he wants to looks where he goes.
        wish.facing = faces(model, body, wish.vel, TICK);
    }
    // A player sees the lines and stops in front of them.
    let brake = model.body.planned_braking_share * own.brake;
    let after = if lines.stop(brake, body, &mut wish.vel) {
        follow(body, own, &wish, TICK, 0.0)
    } else {
        follow(body, &effort, &wish, TICK, will.manner.lag)
    };
    (after, clear)
}

/// Where a body may be: within the lines, metres.
struct Lines {
    low: Vec2,
    high: Vec2,
}

impl Lines {
    fn of(court: &Court) -> Self {
        let edge = |p: Vec2| court.clamp_inside(p, TO_THE_LINE);
        let (low, high) = (edge(Vec2::splat(-FAR)), edge(Vec2::splat(FAR)));
        Lines { low, high }
    }

    /// Takes out of a wish what is too fast toward a line to stop in front of it, braking with `brake` m/s²; whether
    /// the body is too fast already.
    fn stop(&self, brake: f64, body: &Body, wish: &mut Vec2) -> bool {
        let (low, high) = (body.pos - self.low, self.high - body.pos);
        let mut late = false;
        let board = self.to_the_board(body);
        for (room, out) in [
            (low.x, Vec2::NEG_X),
            (high.x, Vec2::X),
            (board.unwrap_or(low.y), Vec2::NEG_Y),
            (high.y, Vec2::Y),
        ] {
            let (goes, wants) = (body.vel.dot(out), wish.dot(out));
            let fastest = goes.max(wants);
            let left = room - 0.5 * goes * TICK;
            // As in `arrival_speed`, without its root: there is room to stop from what is wanted.
            if fastest <= 0.0 || fastest * (TICK + 0.5 * fastest / brake) < left {
                continue;
            }
            let most = arrival_speed(left, brake, TICK);
            *wish -= out * (wants - most).max(0.0);
            late |= goes > most;
        }
        late
    }

    /// How far a body that is in front of the board, and will be soon, may run on toward the baseline, metres.
    fn to_the_board(&self, body: &Body) -> Option<f64> {
        let room = body.pos.y - BEHIND_THE_RING;
        let soon = body.pos.x + SOON * body.vel.x;
        (room >= 0.0 && soon.abs() < BOARD).then_some(room)
    }
}
