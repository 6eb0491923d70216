//! What if one defender stood elsewhere at this instant? Exact geometry: the looks are measured
//! again with everybody else where he is; nothing is played.
//!
//! A what-if is plain data that is laid over an instant and taken back; taken back, the instant is
//! what it was to the last bit. A moved defender stands still; his eyes and his reaction stay his
//! own, so that the answer is about where he stands and about nothing else.

use serde::Serialize;

use crate::court::Vec2;
use crate::defence::{Gaze, Stance, Stances};
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

/// Where a defender who only minds his own man would be: an arm's length off, between him and ball
/// and rim (common practice: "arm's length"; an adult's reach to the side is 0.9 m, from memory).
pub const TIGHT: Stance = Stance {
    man: 0.8,
    ball: 0.12,
    rim: 0.08,
    midline: 0.0,
    gap: (0.9, 0.9),
    gaze: Gaze::Man,
    deny: false,
};

/// Off the floor: far behind half court, metres.
const GONE: Vec2 = Vec2::new(0.0, 1000.0);

/// Where he is instead.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Instead {
    /// Not on the floor.
    Gone,
    /// Tight on his own man.
    Tight,
    /// Where the scenario's own model has its defender.
    InPlace,
    /// Where another model would have him.
    Model(Box<Stances>),
}

/// One defender, elsewhere.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WhatIf {
    /// 1–5; nothing happens for any other number.
    pub defender: u8,
    /// Where that defender is instead.
    pub instead: Instead,
}

/// What a what-if has put aside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Undo {
    body: usize,
    pos: Vec2,
    vel: Vec2,
}

impl WhatIf {
    /// Lays it over the instant.
    pub fn apply(&self, play: &Play, instant: &mut Instant) -> Undo {
        let d = usize::from(self.defender.clamp(1, 5)) - 1;
        let undo = Undo {
            body: 5 + d,
            pos: instant.old.scene.pos[5 + d],
            vel: instant.old.scene.vel[5 + d],
        };
        if !(1..=5).contains(&self.defender) {
            return undo;
        }
        let relation = instant.old.duties[d].1;
        let place = match &self.instead {
            Instead::Gone => GONE,
            Instead::Tight => instant.place(&TIGHT, d),
            Instead::InPlace => instant.own_place(play, d),
            Instead::Model(stances) => instant.place(stances.of(relation), d),
        };
        instant.old.scene.pos[5 + d] = place;
        instant.old.scene.vel[5 + d] = Vec2::ZERO;
        undo
    }
}

impl Undo {
    /// Takes it back.
    pub fn undo(self, instant: &mut Instant) {
        instant.old.scene.pos[self.body] = self.pos;
        instant.old.scene.vel[self.body] = self.vel;
    }
}

/// The looks of an instant under a what-if; the instant is left as it was.
pub fn looks_if(
    play: &Play,
    instant: &mut Instant,
    what_if: &WhatIf,
) -> Vec<crate::possession::LookNow> {
    let undo = what_if.apply(play, instant);
    let looks = instant.looks(play);
    undo.undo(instant);
    looks
}
