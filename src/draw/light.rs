//! The lit floor of a decision instant: where a pass thrown now would be caught, and what a catch there is worth; the
//! beam of an open drive; who shuts what. All of it from what the holder decided from (`sim::instant`): the paper, the
//! pages and the window show the same light.

use std::sync::Arc;

use rayon::prelude::*;
use serde::Serialize;

use crate::court::Vec2;
use crate::looks::field::{Grid, over};
use crate::looks::{Cast, Scene as State, driving};
use crate::offence::LookKind;
use crate::possession::{Frame, LookNow, Moment, Possession};
use crate::scenario::Scenario;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;
use crate::sim::play_on::play_on;
use crate::sim::{cast_of, ground, shut_by};

use super::phase::frame_at;
use super::scene::{Item, Scene, scene_of};

/// A closer's thread is drawn from this chance to shut the look on.
const TIES: f64 = 0.25;
/// Points of the light in a picture are so far apart, metres.
pub const GRAIN: f64 = 0.25;
/// So deep is the floor that is lit, metres from the rim: beyond, hardly anybody plays.
pub const DEEP: f64 = 10.6;

/// Openness or light over the half court, at the points of a grid.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Field {
    /// Where the values are taken.
    pub grid: Grid,
    /// Row by row from the baseline up, each from left to right; 0..=1.
    pub values: Vec<f64>,
    /// Counts, not light: on paper the dark is hatched, for it is the dark that tells.
    pub counts: bool,
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

/// A possession with what the holder decided from at each of its moments.
#[derive(Clone)]
pub struct Replay {
    /// The possession's fixed state, as the simulation has it.
    pub play: Play,
    /// The possession with its track.
    pub possession: Possession,
    /// One for each moment of the possession.
    pub instants: Vec<Instant>,
}

impl Replay {
    /// Plays the possession of a seed. Same scenario, same seed: the same possession.
    pub fn of(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64) -> Replay {
        let (possession, instants) = play_on(scenario, cast, seed, &[]);
        Replay {
            play: ground(scenario, cast, seed, possession.side),
            possession,
            instants,
        }
    }

    /// Those of many seeds, in order.
    pub fn many(scenario: &Scenario, seeds: std::ops::Range<u64>) -> Vec<Replay> {
        let (shared, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
        let seeds = seeds.into_par_iter();
        seeds.map(|seed| Replay::of(&shared, &cast, seed)).collect()
    }

    /// A single one.
    pub fn one(scenario: &Scenario, seed: u64) -> Replay {
        Replay::of(&Arc::new(scenario.clone()), &cast_of(scenario), seed)
    }

    /// Number of the decision instant nearest to a time, seconds.
    pub fn nearest(&self, time: f64) -> Option<usize> {
        let off = |m: &Moment| (m.time - time).abs();
        let moments = self.possession.moments.iter().enumerate();
        let near = moments.min_by(|(_, a), (_, b)| off(a).total_cmp(&off(b)));
        near.map(|(i, _)| i)
    }

    /// The light of a decision instant on points at most `step` metres apart.
    pub fn light(&self, moment: usize, step: f64) -> Option<Field> {
        let (instant, now) = (
            self.instants.get(moment)?,
            self.possession.moments.get(moment)?,
        );
        Some(light(&self.play, instant, &now.looks, step))
    }

    /// A decision instant as it lies on the floor: light, the beam of an open drive, threads, bodies and ball.
    pub fn scene(&self, moment: usize) -> Option<Scene> {
        let (instant, now) = (
            self.instants.get(moment)?,
            self.possession.moments.get(moment)?,
        );
        let track = &self.possession.track;
        let frame = track.get(frame_at(track, now.time))?;
        let mut scene = scene_of(&self.play.cast.court, frame);
        scene.add(Item::Light(self.light(moment, GRAIN)?));
        if let Some(beam) = beam(&self.play, instant, &now.looks) {
            scene.add(beam);
        }
        for thread in threads(frame, now) {
            scene.add(thread);
        }
        Some(scene)
    }
}

/// The light of an instant whose looks are these, on points at most `step` metres apart.
pub fn light(play: &Play, instant: &Instant, looks: &[LookNow], step: f64) -> Field {
    let grid = Grid::over(&play.cast.court, step, DEEP);
    Field {
        values: instant.light(play, looks, &grid),
        grid,
        counts: false,
    }
}

/// How likely a pass gets to each point, whoever is there, on points at most `step` metres apart; `holder` 0–4.
pub fn field(cast: &Cast, state: &State, holder: usize, step: f64) -> Field {
    let grid = Grid::over(&cast.court, step, f64::INFINITY);
    Field {
        values: over(cast, state, holder, &grid),
        grid,
        counts: false,
    }
}

/// The driving lane of the holder, where it is open.
pub fn beam(play: &Play, instant: &Instant, looks: &[LookNow]) -> Option<Item> {
    let drive = |l: &&LookNow| l.kind == LookKind::Drive && l.open;
    let openness = looks.iter().find(drive)?.openness;
    let (scene, holder) = (&instant.old.scene, instant.hold.by);
    let way = driving::driving(&play.cast, scene, holder);
    Some(Item::Beam {
        from: scene.pos[holder],
        via: way.via,
        finish: way.finish,
        openness,
    })
}

/// The thread from the closer, of defenders who stand at `defenders`, to where a look is shut: the point nearest to the
/// closer on the way from the ball to the catch, or to where a drive ends, neither in the ball nor at the very end; all
/// metres. `None` for a shot, for what nobody shuts, and for who hardly shuts it.
pub fn thread(look: &LookNow, ball: Vec2, defenders: &[Vec2]) -> Option<Item> {
    let closer = shut_by(look)?;
    let from = *defenders.get(usize::from(closer.defender).checked_sub(1)?)?;
    let way = look.target? - ball;
    let along = (from - ball).dot(way) / way.length_squared().max(1e-6);
    (closer.chance >= TIES).then_some(Item::Thread {
        defender: closer.defender,
        from,
        to: ball + way * along.clamp(0.15, 0.95),
        chance: closer.chance,
    })
}

/// Threads from each closer to where he shuts the pass or the drive.
pub fn threads(frame: &Frame, moment: &Moment) -> Vec<Item> {
    let ball = Vec2::new(frame.ball[0], frame.ball[1]);
    let looks = moment.looks.iter();
    let threads = looks.filter_map(|look| thread(look, ball, &frame.defenders));
    threads.collect()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::defence::{Duty, Relation};
    use crate::possession::Closer;

    #[test]
    fn a_pass_that_gets_there_has_no_thread_and_one_that_is_shut_has() {
        let mut look = LookNow {
            kind: LookKind::KickOut,
            to: Some(4),
            openness: 0.99,
            prize: 0.7,
            value: 0.69,
            pass: None,
            target: Some(Vec2::new(0.0, 6.0)),
            closer: Some(Closer {
                defender: 2,
                duty: Duty::HelpLine,
                relation: Relation::OnePass,
                chance: 0.6,
                since: 0.0,
            }),
            allowed: true,
            open: false,
            spot_up: false,
        };
        let defenders = [Vec2::new(5.0, 5.0), Vec2::new(1.0, 3.0)];
        let tied = |look: &LookNow| thread(look, Vec2::ZERO, &defenders);
        assert_eq!(tied(&look), None);
        look.openness = 0.4;
        let from_closer_to_the_way = Item::Thread {
            defender: 2,
            from: defenders[1],
            to: Vec2::new(0.0, 3.0),
            chance: 0.6,
        };
        assert_eq!(tied(&look), Some(from_closer_to_the_way));
    }
}
