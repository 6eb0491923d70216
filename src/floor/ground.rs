//! What is fixed for a possession: players, dice, the yardstick of choices, and what is to be written down.

use std::sync::Arc;

use crate::court::{Court, ShotZone, Side};
use crate::looks::Cast;
use crate::model::Perception;
use crate::scenario::Scenario;

use super::components::{Play, View};
use super::dice::Dice;

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

/// The players of a scenario, for `play_shared`.
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

/// Eyes fixed on one thing take in less to the side than eyes open to both.
fn view(model: &Perception) -> View {
    View {
        open: libm::cos(model.half_view),
        fixed: libm::cos(model.half_view * model.fixed_gaze_share),
    }
}

/// What is fixed for the possession of a seed.
pub fn ground(scenario: &Arc<Scenario>, cast: &Arc<Cast>, seed: u64, side: Side) -> Play {
    Play {
        scenario: scenario.clone(),
        cast: cast.clone(),
        usual: usual(cast),
        dice: Dice::new(seed),
        hand: side.sign(),
        view: view(&cast.model.perception),
    }
}
