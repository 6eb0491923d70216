//! Bodies put elsewhere by hand at a tick of a possession.

use super::parts::World;
use crate::body::separate;
use crate::court::{TO_THE_LINE, Vec2};
use crate::looks::BODIES;
use crate::possession::TICK;

/// Bodies that are put elsewhere before a tick is decided. 0–4 attack, 5–9 defend; metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Put {
    pub tick: u32,
    pub to: [Option<Vec2>; BODIES],
}

impl Put {
    /// At the tick nearest to `time`, seconds.
    pub fn at(time: f64, to: [Option<Vec2>; BODIES]) -> Put {
        Put {
            tick: (time / TICK).round().max(0.0) as u32,
            to,
        }
    }

    /// When, seconds.
    pub fn time(&self) -> f64 {
        f64::from(self.tick) * TICK
    }
}

/// Puts bodies where they are to be before this tick.
pub(super) fn put(world: &mut World, puts: &[Put]) {
    let tick = world.floor.clock.tick;
    for put in puts.iter().filter(|p| p.tick == tick) {
        put_one(world, put);
    }
}

fn put_one(world: &mut World, put: &Put) {
    let World {
        floor,
        attackers,
        defenders,
        ..
    } = world;
    let court = floor.play.cast.court;
    let holder = floor.ball.hold().map(|h| h.by);
    let mut forms: Vec<_> = attackers.iter_mut().map(|a| &mut a.form).collect();
    forms.extend(defenders.iter_mut().map(|d| &mut d.form));
    let (mut pos, mut vel) = ([Vec2::ZERO; BODIES], [Vec2::ZERO; BODIES]);
    for (i, form) in forms.iter().enumerate() {
        (pos[i], vel[i]) = match put.to[i] {
            Some(to) => (court.clamp_inside(to, TO_THE_LINE), Vec2::ZERO),
            None => (form.0.pos, form.0.vel),
        };
    }
    // Whoever is put somewhere gives way to those who stand there.
    let radii = floor.play.cast.players.each_ref().map(|p| p.limits.radius);
    let mobile = put.to.map(|to| if to.is_some() { 1.0 } else { 0.0 });
    separate(&mut pos, &mut vel, &radii, &mobile);
    for (i, form) in forms.iter_mut().enumerate() {
        if put.to[i].is_none() {
            continue;
        }
        let at = court.clamp_inside(pos[i], TO_THE_LINE);
        let way = at - form.0.pos;
        form.0.pos = at;
        form.0.vel = Vec2::ZERO;
        if holder == Some(i) {
            floor.ball.pos += way;
        }
    }
}
