//! What a walk is told and what it tells: orders, the manner of walking, and after each order where
//! everybody stands, by which way he came, and which rules sent him.

use serde::Serialize;

use super::super::script::Order;

use crate::court::{Court, Side, Spot, Vec2};
use crate::possession::{Ending, Entry, Frame, TICK};

/// Within this distance of a spot a player counts as having been there, metres.
const VISITS: f64 = 1.0;

/// How long the floor runs on after an order that has been carried out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Pace {
    /// Until everybody has settled.
    Settled,
    /// For so many seconds, settled or not; until everybody has settled after the last order.
    Seconds(f64),
}

/// How a walk is to be walked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Manner {
    pub pace: Pace,
    /// Passive defenders keep to their men. Active ones help, rotate and go for the ball, so that
    /// the walk may end in a turnover.
    pub passive: bool,
}

impl Default for Manner {
    fn default() -> Self {
        Manner {
            pace: Pace::Settled,
            passive: true,
        }
    }
}

/// Where one attacker is: the place that he holds, and his feet, metres.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Standing {
    pub place: Option<Spot>,
    pub pos: Vec2,
}

/// One order and what came of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Step {
    pub order: Order,
    /// Was the order carried out? Not so if the pass is out of range, or nobody answers a denial.
    pub done: bool,
    /// Did everybody settle within the time allowed?
    pub settled: bool,
    /// Number of the player who has the ball at the end.
    pub holder: Option<u8>,
    /// The side on which the ball is at the end.
    pub ball_side: Side,
    /// Each attacker at the end, in order of number.
    pub standing: [Standing; 5],
    /// Names of the rules that fired, in order.
    pub rules: Vec<String>,
    /// What was written down.
    pub timeline: Vec<Entry>,
    /// Everybody at every tick of this step.
    pub frames: Vec<Frame>,
}

impl Step {
    /// The way of a player by number, metres, 25 points a second. Empty for other numbers.
    pub fn path(&self, player: u8) -> Vec<Vec2> {
        let i = usize::from(player).wrapping_sub(1);
        let points = self.frames.iter().filter_map(|f| f.attackers.get(i));
        points.copied().collect()
    }

    /// The point of his way nearest to the rim, metres.
    pub fn nearest_to_rim(&self, player: u8) -> Option<Vec2> {
        let path = self.path(player);
        path.into_iter()
            .min_by(|a, b| a.length().total_cmp(&b.length()))
    }

    /// His highest speed in this step, m/s; 0 if he is not on the floor.
    pub fn top_speed(&self, player: u8) -> f64 {
        let path = self.path(player);
        let speeds = path.windows(2).map(|w| (w[1] - w[0]).length() / TICK);
        speeds.fold(0.0, f64::max)
    }

    /// The spots that he came by, in order, each once in a row.
    pub fn visited(&self, player: u8, court: &Court) -> Vec<Spot> {
        let mut spots: Vec<Spot> = Vec::new();
        for p in self.path(player) {
            let near = court.nearest_spot(p);
            if (court.spot(near) - p).length() < VISITS && spots.last() != Some(&near) {
                spots.push(near);
            }
        }
        spots
    }

    /// The place that a player holds at the end.
    pub fn place(&self, player: u8) -> Option<Spot> {
        let i = usize::from(player).wrapping_sub(1);
        self.standing.get(i).and_then(|s| s.place)
    }

    /// Number of the player who holds that place at the end.
    pub fn at(&self, spot: Spot) -> Option<u8> {
        let found = self.standing.iter().position(|s| s.place == Some(spot));
        found.map(|i| i as u8 + 1)
    }
}

/// A whole walk.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Walk {
    /// The side on which the ball started.
    pub side: Side,
    /// Where everybody started.
    pub start: [Standing; 5],
    /// One for each order, as far as the walk went.
    pub steps: Vec<Step>,
    /// How it ended, if it ended before the orders did (never with passive defenders).
    pub ended: Option<Ending>,
}
