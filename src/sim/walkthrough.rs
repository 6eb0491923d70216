//! A walk-through: the offence walked through on orders, as a coach does it on an empty afternoon.
//!
//! The holder does what he is told instead of choosing; nothing is noisy (`Drill::clean`), no clock
//! runs, and the defenders, unless asked for, keep to their men without helping or going for the
//! ball (`Drill::passive`). After each order the floor runs on until everybody has settled: the
//! others off the ball stand in their places and the ball is held. What moves them are the rules of
//! the offence and nothing else, so a walk shows what a rule does: who ends where, and by which way.
//!
//! Denial and a post whose defender has lost sight of him are said by order ([`Order::Deny`],
//! [`Order::Forget`]) and never found in the passive defenders' places.

use std::sync::Arc;

use crate::court::Side;
use crate::offence::{Movement, Role};
use crate::possession::{Ballwork, Ending, What};
use crate::scenario::{Drill, Scenario};

use super::ground::Keep;
use super::parts::*;
use super::pilots::cast_of;
use super::schedule::tick;
use super::script::Script;
use super::spawn::set_up;

mod account;

pub use super::script::Order;
pub use account::{Manner, Pace, Standing, Step, Walk};

/// An order is given up after this long, seconds.
const GIVES_UP: f64 = 6.0;
/// The floor has this long to settle after an order, seconds.
const SETTLES_WITHIN: f64 = 14.0;
/// A player has settled within this distance of his place, metres, and below this speed, m/s.
const IN_PLACE: f64 = 0.1;
const STILL: f64 = 0.3;
/// Everybody has to be settled for so many ticks on end.
const CALM: u32 = 5;
/// Nobody has settled before the holder has looked for so long, seconds: time for the rules that
/// wait for the ball to stay.
const LOOKS: f64 = 1.3;
/// The dice of a walk: with a clean drill they decide only where active defenders glance.
const SEED: u64 = 1;

/// Walk through an offence with passive defenders, everybody settling after each order.
pub fn walk(scenario: &Scenario, side: Side, orders: &[Order]) -> Walk {
    walk_in(scenario, side, orders, Manner::default())
}

/// Walk through an offence in another manner.
pub fn walk_in(scenario: &Scenario, side: Side, orders: &[Order], manner: Manner) -> Walk {
    let mut walker = Walker::new(scenario, side, manner.passive);
    let start = walker.standing();
    let mut steps = Vec::with_capacity(orders.len());
    for (nth, order) in orders.iter().enumerate() {
        if walker.ended().is_some() {
            break;
        }
        let last = nth + 1 == orders.len();
        let pace = if last { Pace::Settled } else { manner.pace };
        steps.push(walker.carry_out(order, pace));
    }
    Walk {
        side,
        start,
        steps,
        ended: walker.ended(),
    }
}

/// A walk order by order, for orders that depend on what came of the last one.
pub struct Walker {
    scenario: Arc<Scenario>,
    world: World,
}

impl Walker {
    /// Everybody at his alignment, the ball on that side. The scenario's own drill switches,
    /// clock and start do not count.
    pub fn new(scenario: &Scenario, side: Side, passive: bool) -> Self {
        let mut scenario = scenario.clone();
        scenario.drill = Drill {
            passive,
            clean: true,
        };
        let cast = cast_of(&scenario);
        let scenario = Arc::new(scenario);
        let mut world = set_up(&scenario, &cast, SEED, side, Keep::ALL);
        world.script = Some(Script::default());
        world.floor.clock.limit = u32::MAX;
        world.floor.clock.ruled = false;
        Walker { scenario, world }
    }

    /// How it ended, if it has.
    pub fn ended(&self) -> Option<Ending> {
        self.world.floor.book.ending
    }

    /// Where everybody is now.
    pub fn standing(&self) -> [Standing; 5] {
        self.world.attackers.each_ref().map(|a| Standing {
            place: a.job.place,
            pos: a.form.0.pos,
        })
    }

    /// Give an order, see it carried out, and run on. After the end nothing moves any more.
    pub fn carry_out(&mut self, order: &Order, pace: Pace) -> Step {
        let book = &self.world.floor.book;
        let (entries, first_frame) = (book.timeline.len(), book.track.len());
        self.give(order);
        let mut done = false;
        let began = self.world.floor.clock.tick;
        for _ in 0..ticks(GIVES_UP) {
            if self.ended().is_some() {
                break;
            }
            tick(&mut self.world);
            done = self.is_done(order, began, entries);
            if done {
                break;
            }
        }
        let (least, most) = match pace {
            Pace::Settled => (CALM, ticks(SETTLES_WITHIN)),
            Pace::Seconds(s) => (u32::MAX, ticks(s)),
        };
        let mut calm = 0;
        for _ in 0..most {
            if calm >= least || self.ended().is_some() {
                break;
            }
            tick(&mut self.world);
            calm = if self.is_settled() { calm + 1 } else { 0 };
        }
        self.world.script = Some(Script::default());
        self.world.floor.book.moments.clear();
        let ball = self.world.floor.ball;
        let standing = self.standing();
        let book = &self.world.floor.book;
        let timeline = book.timeline[entries..].to_vec();
        let rules = &self.scenario.offence.rules;
        let fired = timeline.iter().filter_map(|entry| match entry.what {
            What::Rule { rule, .. } => rules.get(rule).map(|r| r.name.clone()),
            _ => None,
        });
        Step {
            order: order.clone(),
            done,
            settled: calm >= CALM,
            holder: ball.hold().map(|h| h.by as u8 + 1),
            ball_side: ball.side,
            standing,
            rules: fired.collect(),
            frames: book.track[first_frame..].to_vec(),
            timeline,
        }
    }

    fn give(&mut self, order: &Order) {
        let mut script = Script::default();
        match order {
            Order::Deny(players) => {
                for &player in players {
                    if let Some(d) = script.denied.get_mut(usize::from(player).wrapping_sub(1)) {
                        *d = true;
                    }
                }
            }
            Order::Forget => script.forgotten = true,
            Order::DribbleAt(mate) => {
                let holder = self.world.floor.ball.hold().map(|h| h.by);
                if let Some(holder) = holder {
                    let job = &mut self.world.attackers[holder].job;
                    job.next = Some(Movement::DribbleAt(Role::Player(*mate)));
                }
            }
            Order::PassTo(_) | Order::Drive | Order::Hold(_) => {}
        }
        script.told = Some(order.clone());
        self.world.script = Some(script);
    }

    fn is_done(&self, order: &Order, began: u32, entries: usize) -> bool {
        let now = self.world.floor.clock.tick;
        let hold = self.world.floor.ball.hold();
        let written = &self.world.floor.book.timeline[entries..];
        let ruled = || written.iter().any(|e| matches!(e.what, What::Rule { .. }));
        match order {
            Order::PassTo(to) => {
                let thrown = written
                    .iter()
                    .any(|e| matches!(e.what, What::Passes { .. }));
                thrown && hold.is_some_and(|h| h.by as u8 + 1 == *to)
            }
            Order::Drive => {
                hold.is_some_and(|h| h.drove_from.is_some() && h.work == Ballwork::PickedUp)
            }
            Order::DribbleAt(_) => {
                let began = written
                    .iter()
                    .any(|e| matches!(e.what, What::DribblesAt { .. }));
                began && hold.is_some_and(|h| h.work == Ballwork::Holding)
            }
            Order::Hold(seconds) => now >= began + ticks(*seconds),
            Order::Deny(_) | Order::Forget => ruled(),
        }
    }

    /// The ball is held, and everybody off it stands in his place with nothing else to do.
    fn is_settled(&self) -> bool {
        let Some(hold) = self.world.floor.ball.hold().copied() else {
            return false;
        };
        let court = self.world.floor.play.cast.court;
        // Who has kept a ball that he was to hand over dribbles where he is.
        let keeps = hold.angle_since.is_none() && hold.at_mate.is_none() && hold.hands.is_none();
        let dribbles = hold.work == Ballwork::Dribbling && !keeps;
        let busy = hold.work == Ballwork::Driving || dribbles;
        let clock = self.world.floor.clock;
        if clock.tick < hold.since + ticks(LOOKS) {
            return false;
        }
        if busy || hold.pending.is_some() {
            return false;
        }
        let mut attackers = self.world.attackers.iter().enumerate();
        attackers.all(|(who, Attacker { form, job, .. })| {
            let still = form.0.vel.length() < STILL;
            if who == hold.by {
                return still;
            }
            let home = job
                .place
                .is_some_and(|s| (court.spot(s) - form.0.pos).length() < IN_PLACE);
            let calm = match job.task {
                Task::Stand => home,
                Task::AwaitHelp { .. } | Task::Absent => true,
                _ => false,
            };
            calm && still && job.next.is_none()
        })
    }
}
