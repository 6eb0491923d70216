//! The lit floor of one tick: how open a pass to every point is, how wide the driving lane, who
//! shuts what. All of it by the functions of `looks`, so that the picture and the figures agree.
//!
//! *Light* at a point is `looks::field`: openness of the best pass to whoever stood there.
//!
//! What a recorded frame does not hold is worked out again: velocities from the frames before and
//! after, what a defender sees from where he faces. At an instant whose state was kept whole
//! (`sim::instant`), take that state instead.

use std::sync::Arc;

use serde::Serialize;

use crate::court::Vec2;
use crate::looks::field::{Grid, over};
use crate::looks::{BODIES, Cast, Scene as State, driving};
use crate::possession::{Frame, Moment, TICK};
use crate::scenario::Scenario;
use crate::sim::eyes::{alertness, awareness};
use crate::sim::parts::{Eyes, Guard, Play, Seen};
use crate::sim::{cast_of, ground};

use super::scene::Item;

/// A closer's thread is drawn from this chance to shut the look on.
const TIES: f64 = 0.25;

/// Openness over the half court, at the points of a grid.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Field {
    /// Where the values are taken.
    pub grid: Grid,
    /// Row by row from the baseline up, each from left to right; 0..=1.
    pub values: Vec<f64>,
}

impl Field {
    /// Value at a point of the grid; 0 outside it.
    pub fn value(&self, column: usize, row: usize) -> f64 {
        if column >= self.grid.columns {
            return 0.0;
        }
        let at = row * self.grid.columns + column;
        self.values.get(at).copied().unwrap_or(0.0)
    }

    /// Left and right exchanged.
    pub(super) fn mirror(&mut self) {
        let wide = self.grid.columns.max(1);
        self.grid.first.x = -(self.grid.first.x + self.grid.step.x * (wide - 1) as f64);
        for row in self.values.chunks_mut(wide) {
            row.reverse();
        }
    }
}

/// What is fixed while the frames of one possession are drawn.
pub struct Lamp {
    /// The possession's fixed state, as the simulation has it.
    pub play: Play,
    /// Court and players.
    pub cast: Arc<Cast>,
}

impl Lamp {
    /// For possessions of this scenario.
    pub fn new(scenario: &Scenario) -> Self {
        let cast = cast_of(scenario);
        let shared = Arc::new(scenario.clone());
        let side = crate::court::Side::Right;
        Lamp {
            play: ground(&shared, &cast, 0, side),
            cast,
        }
    }

    /// The state behind frame number `at` of a track; `None` if there is no such frame.
    pub fn state(&self, track: &[Frame], at: usize) -> Option<State> {
        let frame = track.get(at)?;
        let zero = Vec2::ZERO;
        let mut state = State {
            pos: [zero; BODIES],
            vel: [zero; BODIES],
            facing: [zero; BODIES],
            alert: [0.3; 5],
            aware: [0.1; 5],
            guards: frame.guards.map(|man| usize::from(man.clamp(1, 5)) - 1),
        };
        let before = track.get(at.wrapping_sub(1)).unwrap_or(frame);
        let after = track.get(at + 1).unwrap_or(frame);
        let seconds = (after.time - before.time).max(TICK);
        for i in 0..5 {
            state.pos[i] = frame.attackers[i];
            state.vel[i] = (after.attackers[i] - before.attackers[i]) / seconds;
            state.facing[i] = frame.attackers_facing[i];
            state.pos[5 + i] = frame.defenders[i];
            state.vel[5 + i] = (after.defenders[i] - before.defenders[i]) / seconds;
            state.facing[5 + i] = frame.defenders_facing[i];
        }
        for d in 0..5 {
            let (guard, eyes) = self.mind(frame, d);
            state.alert[d] = alertness(&self.play, d, &guard, &eyes);
            state.aware[d] = awareness(&self.play, d, &guard);
        }
        Some(state)
    }

    /// What defender `d` (0–4) is doing and sees, as far as a frame tells.
    fn mind(&self, frame: &Frame, d: usize) -> (Guard, Eyes) {
        let man = usize::from(frame.guards[d].clamp(1, 5)) - 1;
        let ball = Vec2::new(frame.ball[0], frame.ball[1]);
        let pos = frame.defenders[d];
        let width = libm::cos(self.cast.players[5 + d].judgement.half_view);
        let sees = |p: Vec2| {
            let way = p - pos;
            let far = way.length();
            far < 1.2 || frame.defenders_facing[d].dot(way) / far >= width
        };
        let seen = |p: Vec2| Seen {
            pos: p,
            vel: Vec2::ZERO,
            tick: 0,
        };
        let guard = Guard {
            duty: frame.duties[d],
            ..Guard::of(man, frame.relations[d], pos)
        };
        let eyes = Eyes {
            man: seen(frame.attackers[man]),
            ball: seen(ball),
            glance_until: 0,
            phase: 0,
            sees_ball: sees(ball),
            sees_man: sees(frame.attackers[man]),
        };
        (guard, eyes)
    }
}

/// The light on the whole half court, on points at most `step` metres apart; `holder` 0–4.
pub fn field(cast: &Cast, state: &State, holder: usize, step: f64) -> Field {
    let grid = Grid::over(&cast.court, step, f64::INFINITY);
    Field {
        values: over(cast, state, holder, &grid),
        grid,
    }
}

/// The driving lane of the holder (0–4).
pub fn beam(cast: &Cast, state: &State, holder: usize) -> Item {
    let look = driving::driving(cast, state, holder);
    Item::Beam {
        from: state.pos[holder],
        via: look.via,
        finish: look.finish,
        openness: look.openness.value,
    }
}

/// Threads from each closer to the look that he shuts: to the team-mate, or to the rim for a drive.
pub fn threads(frame: &Frame, moment: &Moment) -> Vec<Item> {
    let shut = moment.looks.iter().filter(|look| !look.open);
    shut.filter_map(|look| {
        let closer = look.closer.filter(|c| c.chance >= TIES)?;
        let d = usize::from(closer.defender).checked_sub(1)?;
        let to = match look.to {
            Some(mate) => *frame.attackers.get(usize::from(mate).checked_sub(1)?)?,
            None if look.kind == crate::offence::LookKind::Drive => Vec2::ZERO,
            None => return None,
        };
        Some(Item::Thread {
            defender: closer.defender,
            from: *frame.defenders.get(d)?,
            to,
            chance: closer.chance,
        })
    })
    .collect()
}

/// Ball, man and himself for each defender off the ball.
pub fn triangles(frame: &Frame) -> Vec<Item> {
    let ball = Vec2::new(frame.ball[0], frame.ball[1]);
    let off = (0..5).filter(|&d| Some(frame.guards[d]) != frame.holder);
    off.filter_map(|d| {
        let man = frame
            .attackers
            .get(usize::from(frame.guards[d]).checked_sub(1)?)?;
        Some(Item::Triangle {
            ball,
            man: *man,
            own: frame.defenders[d],
        })
    })
    .collect()
}

/// The line from rim to rim on this half.
pub fn midline(court: &crate::court::Court) -> Item {
    Item::Midline {
        from: Vec2::ZERO,
        to: Vec2::new(0.0, court.half_court_y()),
    }
}
