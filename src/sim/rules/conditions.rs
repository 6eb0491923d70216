//! Conditions of rules and of their lines, read off the floor at the moment of the event.

use crate::court::Spot;
use crate::offence::{By, Condition};

use super::super::parts::*;
use super::super::screens::guard_on_the_way;
use super::super::sight::holder_spot;
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

    /// The first that is not so, of a rule's.
    pub fn first_not_so(&self, conditions: &[Condition]) -> Option<Condition> {
        let mut all = conditions.iter().copied();
        all.find(|one| !self.is_so(*one, None))
    }

    fn is_so(&self, condition: Condition, who: Option<usize>) -> bool {
        let side = self.ball.side;
        // Who is to do something with the ball asks about team-mates.
        let with_it = who.filter(|who| Some(*who) == self.ball.keeper());
        let asks = |i: usize| Some(i) != self.involved.leaving && Some(i) != with_it;
        let held = |takes_in: &dyn Fn(Spot) -> bool| {
            (0..5).any(|i| asks(i) && self.places[i].is_some_and(takes_in))
        };
        match condition {
            Condition::Held(place) => held(&|spot| place.takes_in(spot, side)),
            Condition::Empty(place) => !held(&|spot| place.takes_in(spot, side)),
            Condition::BallAt(place) => self
                .ball_spot()
                .is_some_and(|spot| place.takes_in(spot, side)),
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
            Condition::OffBall => who.is_some_and(|who| Some(who) != self.ball.keeper()),
            Condition::IsPlayer(number) => who.is_some_and(|who| who + 1 == usize::from(number)),
            Condition::NotScreening => who.is_some_and(|who| self.old.screening[who].is_none()),
            Condition::HasBall(number) => self
                .ball
                .keeper()
                .is_some_and(|who| who + 1 == usize::from(number)),
            Condition::ScreenComing => self
                .ball
                .keeper()
                .is_some_and(|who| self.old.screening.contains(&Some(who))),
            Condition::TimeOver(left) => self.clock.left() >= left,
            Condition::TimeUnder(left) => self.clock.left() < left,
        }
    }

    /// Where the ball is held, or the place of the player to whom it is on its way.
    fn ball_spot(&self) -> Option<Spot> {
        let keeper = self.ball.keeper()?;
        match self.ball.hold() {
            Some(_) => Some(holder_spot(self.play, self.old, keeper)),
            None => self.places[keeper],
        }
    }

    /// Is the defender near, and in the way of a pass from where the ball is, or is to be? In a walk-through
    /// the walker says who is denied.
    fn is_overplayed(&self, who: usize) -> bool {
        if self.signals.denied[who] > 0 || self.play.scenario.drill.passive {
            return self.signals.denied[who] > 0;
        }
        let model = &self.play.cast.model.defending;
        let ball = self.old.scene.pos[self.ball.man()];
        let (ahead, off) = guard_on_the_way(self.old, who, ball);
        let near = self.gap(who).is_some_and(|gap| gap < model.overplay_gap);
        near && ahead > 0.0 && off < model.overplay_lane
    }

    /// Has the defender dropped off?
    fn is_sagged_off(&self, who: usize) -> bool {
        let sags = self.play.cast.model.defending.sag_gap;
        self.gap(who).is_none_or(|gap| gap > sags)
    }

    /// How far the defender is from the player, metres.
    fn gap(&self, who: usize) -> Option<f64> {
        let scene = &self.old.scene;
        let guard = scene.guarded_by(who)?;
        Some((scene.pos[5 + guard] - scene.pos[who]).length())
    }
}
