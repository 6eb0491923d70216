//! What the holder decided from at one decision instant, kept whole: enough to measure every look
//! again, as it was or with somebody standing elsewhere. Nothing is played on from it.

use crate::court::{Spot, Vec2};
use crate::defence::{Duty, Stance};
use crate::possession::LookNow;

pub use super::book::Instant;
use super::components::Play;
use super::sight;
use super::stance::{shifted, stance_of, station};

impl Instant {
    /// Every look of the holder at this instant, by the very function that the floor uses.
    pub fn looks(&self, play: &Play) -> Vec<LookNow> {
        let mut looks = Vec::with_capacity(6);
        sight::measure(
            play,
            &self.clock,
            &self.old,
            &self.hold,
            self.side,
            &mut looks,
        );
        looks
    }

    /// The spot at which attacker `who` (0–4) is.
    pub fn spot(&self, play: &Play, who: usize) -> Spot {
        sight::spot_of(play, &self.old, who)
    }

    /// Where the ball is, metres.
    pub fn ball(&self) -> Vec2 {
        self.old.scene.pos[self.hold.by]
    }

    /// Where `stance` would have defender `d` (0–4) stand now, were he to see man and ball as they
    /// are and had he had time to get there, metres.
    pub fn place(&self, stance: &Stance, d: usize) -> Vec2 {
        let man = self.old.scene.pos[self.old.scene.guards[d]];
        station(stance, man, self.ball())
    }

    /// Where the scenario's own model would have defender `d` (0–4) stand now, metres.
    pub fn own_place(&self, play: &Play, d: usize) -> Vec2 {
        let (duty, relation, _) = self.old.duties[d];
        let areas = play.scenario.defence.zone.as_deref().unwrap_or_default();
        let mine = areas.iter().find(|a| usize::from(a.defender) == d + 1);
        match mine {
            Some(a) if duty == Duty::Area => shifted(a, self.ball()),
            _ => self.place(stance_of(play, d, relation), d),
        }
    }

    /// Where defender `d` (0–4) is to go now, metres: in his stance to the model's place; on the way to a drive, a
    /// team-mate's player, a cutter or a catcher to where the simulation sends him.
    pub fn goal(&self, play: &Play, d: usize) -> Vec2 {
        match self.old.duties[d].0 {
            Duty::LowHelp | Duty::Rotating | Duty::Trailing | Duty::Recovering => {
                self.old.stations[d]
            }
            _ => self.own_place(play, d),
        }
    }
}
