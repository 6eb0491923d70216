//! Conditions of rules and of their lines, read off the floor at the moment of the event.

use crate::court::Spot;
use crate::offence::{By, Condition};

use super::super::parts::*;
use super::super::stance::unit;
use super::Involved;

/// What conditions are read from.
pub(super) struct Reads<'a> {
    pub play: &'a Play,
    pub clock: &'a Clock,
    pub ball: &'a Ball,
    pub old: &'a Old,
    pub signals: &'a Signals,
    pub involved: &'a Involved,
    /// Who holds what, before any rule about this event has moved anybody.
    pub places: &'a [Option<Spot>; 5],
}

impl Reads<'_> {
    /// Is all of it so, for the player of the line, if it is a line's?
    pub fn all(&self, conditions: &[Condition], who: Option<usize>) -> bool {
        conditions.iter().all(|one| self.is_so(*one, who))
    }

    fn is_so(&self, condition: Condition, who: Option<usize>) -> bool {
        let side = self.ball.side;
        let held = |takes_in: &dyn Fn(Spot) -> bool| {
            (0..5).any(|i| Some(i) != self.involved.leaving && self.places[i].is_some_and(takes_in))
        };
        match condition {
            Condition::Held(place) => held(&|spot| place.takes_in(spot, side)),
            Condition::Empty(place) => !held(&|spot| place.takes_in(spot, side)),
            Condition::PostOn(by) => held(&|spot| {
                let on = match by {
                    By::Ball => spot.side == Some(side),
                    By::Weak => spot.side == Some(side.other()),
                    By::Own | By::Either => true,
                };
                on && spot.name.is_inside()
            }),
            Condition::Overplayed => who.is_some_and(|who| self.is_overplayed(who)),
            Condition::SaggedOff => who.is_some_and(|who| self.is_sagged_off(who)),
            Condition::TimeOver(left) => self.clock.left() >= left,
            Condition::TimeUnder(left) => self.clock.left() < left,
        }
    }

    /// Is the defender near, and in the way of a pass from where the ball is, or is to be? In a walk-through
    /// the walker says who is denied.
    fn is_overplayed(&self, who: usize) -> bool {
        if self.signals.denied[who] > 0 || self.play.scenario.drill.passive {
            return self.signals.denied[who] > 0;
        }
        let scene = &self.old.scene;
        let model = &self.play.cast.model.defending;
        let pos = scene.pos[who];
        let Some(guard) = scene.guarded_by(who).map(|d| scene.pos[5 + d] - pos) else {
            return false;
        };
        let to_ball = unit(scene.pos[self.ball.man()] - pos);
        let along = guard.dot(to_ball);
        let off = (guard - to_ball * along).length();
        guard.length() < model.overplay_gap && along > 0.0 && off < model.overplay_lane
    }

    /// Has the defender dropped off?
    fn is_sagged_off(&self, who: usize) -> bool {
        let scene = &self.old.scene;
        let guard = scene.guarded_by(who);
        let gap = |d: usize| (scene.pos[5 + d] - scene.pos[who]).length();
        guard.is_none_or(|d| gap(d) > self.play.cast.model.defending.sag_gap)
    }
}
