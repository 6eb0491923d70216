//! What a holder is told in a walk-through, in place of choosing.

use serde::Serialize;

use crate::court::Vec2;
use crate::possession::{Ballwork, LookNow};

use super::components::Hold;

/// What the floor is told. Players are named by number, 1–5.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Order {
    /// The holder passes to that team-mate: a next pass, a feed, a skip; after a [`Order::Drive`] a
    /// kick-out or a drop-off.
    PassTo(u8),
    /// The holder drives, and stops in front of the rim if nobody stops him before.
    Drive,
    /// The holder dribbles at that team-mate.
    DribbleAt(u8),
    /// The holder keeps the ball for so many seconds.
    Hold(f64),
    /// These players are denied until the floor has settled. The rules answer once one of them is
    /// one pass away from the ball.
    Deny(Vec<u8>),
    /// The post's defender loses sight of him until the floor has settled.
    Forget,
}

/// A driver who is told to drive stops inside this distance of the rim, metres, and looks: soon enough
/// that he has not gathered for the lay-up between two instants of decision.
const STOPS_AT: f64 = 3.5;

/// What the holder is told; the holder's system asks it before he chooses.
#[derive(Default)]
pub struct Script {
    pub told: Option<Order>,
    /// Passes thrown and drives begun since the order was given.
    pub begun: bool,
    pub denied: [bool; 5],
    pub forgotten: bool,
}

impl Script {
    /// Is this attacker (0–4) said to be denied?
    pub fn denies(&self, who: usize) -> bool {
        self.denied[who]
    }

    /// Is the post said to be forgotten?
    pub fn forgets(&self) -> bool {
        self.forgotten
    }

    /// The look that the holder is told to take now.
    pub fn choice(
        &mut self,
        tick: u32,
        hold: &mut Hold,
        looks: &[LookNow],
        pos: Vec2,
    ) -> Option<usize> {
        if hold.work == Ballwork::Driving && hold.drove_from.is_some() {
            if pos.length() < STOPS_AT {
                hold.work = Ballwork::PickedUp;
                hold.picked_up = Some(tick);
                hold.drive = None;
            }
            return None;
        }
        if self.begun || hold.pending.is_some() || tick < hold.ready {
            return None;
        }
        let index = match self.told {
            Some(Order::PassTo(to)) => looks.iter().position(|l| l.to == Some(to)),
            Some(Order::Drive) => looks
                .iter()
                .position(|l| l.kind == crate::offence::LookKind::Drive)
                .filter(|_| hold.work != Ballwork::PickedUp),
            _ => None,
        };
        self.begun = index.is_some();
        index
    }
}
