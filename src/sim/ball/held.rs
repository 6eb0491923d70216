//! A held ball: it goes with the holder, a pass or a shot that is due leaves, and the closely guarded count runs.

use crate::court::Vec2;
use crate::offence::{Movement, Role};
use crate::possession::{Ballwork, TICK, Turnover, What};

use super::super::ball_handler::COUNTED;
use super::super::manner;
use super::super::parts::*;
use super::super::sight::spot_of;
use super::super::steering::POSTS_UP;
use super::{BallStep, HELD_AT, IN_FRONT};

/// Height of a ball that is dribbled, metres.
const DRIBBLED_AT: f64 = 0.7;

impl BallStep<'_, '_, '_> {
    /// One tick of a held ball.
    pub(super) fn held(&mut self, mut hold: Hold) {
        let body = self.mates[hold.by].0.0;
        self.ball.pos = body.pos + body.facing * IN_FRONT;
        let dribbles = hold.work == Ballwork::Driving || hold.work == Ballwork::Dribbling;
        self.ball.height = if dribbles { DRIBBLED_AT } else { HELD_AT };
        if self.lets_go(&hold) || self.loses_it_on_a_drive(&mut hold) {
            return;
        }
        self.puts_it_on_the_floor(&mut hold, body.pos, body.vel.length());
        self.stands_with_a_feed(&hold);
        if self.hands_it_over(&mut hold) {
            return;
        }
        self.comes_to_the_mate(&mut hold);
        self.sets_out_for_a_mate(&mut hold);
        if self.is_guarded_too_long(&mut hold) {
            return;
        }
        self.ball.state = BallState::Held(hold);
    }

    /// A holder who would walk dribbles, since carried it would be a travel: who has looked for long enough and waits on,
    /// and who came too fast to stop within the steps of a catch.
    fn puts_it_on_the_floor(&mut self, hold: &mut Hold, pos: Vec2, speed: f64) {
        let model = &self.play.cast.model.movement;
        let in_hand = matches!(hold.work, Ballwork::Holding | Ballwork::PickedUp);
        if !in_hand || hold.pending.is_some() || self.play.scenario.drill.any() {
            return;
        }
        if speed < model.pivot_speed {
            hold.pivot.get_or_insert(pos);
        }
        if hold.work == Ballwork::PickedUp {
            return;
        }
        let (from, step) = match hold.pivot {
            Some(pivot) => (pivot, model.pivot_distance),
            None => (hold.caught, model.carried_distance),
        };
        // With a defender close by the ball stays in both hands until the count presses.
        let due = match hold.guarded_since {
            Some(tick) => tick + ticks(COUNTED),
            None => hold.since + manner::looks_before_a_dribble(self.play, hold),
        };
        let waits = self.clock.tick >= due && pos.length() > POSTS_UP;
        if waits || (pos - from).length() > step {
            hold.caught = pos;
            hold.dribbles();
        }
    }

    /// A pass or a shot that is due leaves his hands. Did one?
    fn lets_go(&mut self, hold: &Hold) -> bool {
        let tick = self.clock.tick;
        match hold.pending {
            Some(Pending::Pass { at, to, .. }) if tick >= at && self.faces(hold, to) => {
                self.throw(hold);
            }
            Some(Pending::Shot { at, finish, .. }) if tick >= at => self.shoot(hold, finish),
            _ => return false,
        }
        true
    }

    /// Has the holder turned to the team-mate?
    fn faces(&self, hold: &Hold, to: usize) -> bool {
        let body = &self.mates[hold.by].0.0;
        let way = self.mates[to].0.0.pos - body.pos;
        let within = libm::cos(self.play.cast.model.movement.passes_within);
        let turned = way.dot(body.facing) >= within * way.length();
        turned || self.play.scenario.drill.any()
    }

    /// Who dribbles at a team-mate is done when he is in the place that he took over; and so is who was handed the ball.
    fn comes_to_the_mate(&self, hold: &mut Hold) {
        if hold.work == Ballwork::Dribbling && (hold.at_mate.is_some() || hold.handed.is_some()) {
            let (form, job) = &self.mates[hold.by];
            let place = job.place.map(|s| self.play.cast.court.spot(s));
            if place.is_none_or(|p| (p - form.0.pos).length() < 0.5) {
                (hold.at_mate, hold.handed) = (None, None);
                hold.work = Ballwork::Holding;
            }
        }
    }

    /// A holder who has been told to dribble at a team-mate, or to hand him the ball, does so, if he may still dribble.
    fn sets_out_for_a_mate(&mut self, hold: &mut Hold) {
        let me = hold.by;
        let job = &mut self.mates[me].1;
        let due = self.clock.tick >= job.starts;
        let Some(next) = job.next.take_if(|m| due && m.is_with_the_ball()) else {
            return;
        };
        let at = match next {
            Movement::DribbleAt(at) => at,
            Movement::PassNext(Role::Player(n)) => {
                let to = usize::from(n).checked_sub(1).filter(|&i| i < 5 && i != me);
                hold.promised = to.map(|to| (to, self.clock.tick));
                return;
            }
            other => {
                self.sets_out_to_hand_it(hold, &other);
                return;
            }
        };
        let mate = match at {
            Role::Player(n) => usize::from(n).checked_sub(1).filter(|&i| i < 5 && i != me),
            _ => None,
        };
        let may = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling);
        if let (Some(mate), true, None) = (mate, may, hold.pending) {
            let at = spot_of(self.play, self.old, mate);
            (hold.angle, hold.hands, hold.handed) = (None, None, None);
            hold.work = Ballwork::Dribbling;
            hold.at_mate = Some(mate);
            // The dribbler takes that place; the team-mate, if no rule sends him, what is left.
            self.mates[me].1.place = Some(at);
            let left = self.mates[mate].1.place.take();
            self.mates[mate].1.order.found_at = left;
            let (who, toward) = (me as u8 + 1, mate as u8 + 1);
            self.book
                .write(self.clock, What::DribblesAt { who, toward });
            self.signals.now.push(Happening::DribbleAt { at, mate });
        }
    }

    /// Counts for how long he is closely guarded. Is it too long?
    fn is_guarded_too_long(&mut self, hold: &mut Hold) -> bool {
        let Some(rule) = self.play.cast.court.clock.closely_guarded else {
            return false;
        };
        let counts = hold.work != Ballwork::Driving
            && (rule.while_dribbling || hold.work != Ballwork::Dribbling);
        let gaps = self.gaps(self.mates[hold.by].0.0.pos);
        let near = gaps.iter().any(|&gap| gap <= rule.distance);
        if !counts || !near {
            hold.guarded_since = None;
            return false;
        }
        let tick = self.clock.tick;
        let since = *hold.guarded_since.get_or_insert(tick);
        let over = f64::from(tick - since) * TICK > rule.seconds
            && hold.pending.is_none()
            && !self.play.scenario.drill.passive;
        if over {
            self.turnover(Turnover::CloselyGuarded, hold.by, None);
        }
        over
    }
}
