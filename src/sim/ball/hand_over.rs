//! A hand-off as the ball sees it: the holder sets out for it, hands the ball over, or keeps it.

use crate::court::Vec2;
use crate::offence::{Movement, Role};
use crate::possession::{Ballwork, Finish, Kept, What};

use super::super::ball_screen;
use super::super::dice::Purpose;
use super::super::due::IN_PLACE;
use super::super::hand_off::{HANDS, OVERPLAYED_FOR, TRIES, is_overplayed};
use super::super::parts::*;
use super::super::rules::fill_exactly;
use super::super::sight::{NOT_THERE, holder_spot, spot_of};
use super::BallStep;
use crate::looks::shooting::readiness;

impl BallStep<'_, '_, '_> {
    /// A holder who has been told to hand the ball to a team-mate sets out for it, if he may and that one is free.
    pub(super) fn sets_out_to_hand_it(&mut self, hold: &mut Hold, movement: &Movement) {
        let me = hold.by;
        let dribbles = matches!(movement, Movement::DribbleHandOff(_));
        let mate = match movement.hands_to() {
            Some(Role::Player(n)) => usize::from(n).checked_sub(1).filter(|&i| i < 5 && i != me),
            _ => None,
        };
        let may = match hold.work {
            Ballwork::Holding | Ballwork::Dribbling => true,
            Ballwork::PickedUp => !dribbles,
            Ballwork::Driving => false,
        };
        let (Some(to), true, None) = (mate, may, hold.pending) else {
            return;
        };
        let free = matches!(
            self.mates[to].1.task,
            Task::Stand | Task::Run { .. } | Task::GetOpen { .. } | Task::Take { .. }
        );
        if !free {
            self.keeps(hold, to, Kept::Busy);
            return;
        }
        hold.hands = Some(Hands {
            to,
            dribbles,
            since: self.clock.tick,
            from: holder_spot(self.play, self.old, me),
            place: spot_of(self.play, self.old, to),
            overplayed: 0,
        });
        (hold.angle, hold.at_mate, hold.handed) = (None, None, None);
        if dribbles {
            hold.dribbles();
        }
        let at = self.waits_for_it_at(to);
        let job = &mut self.mates[to].1;
        job.next = None;
        job.task = Task::Take { from: me, at };
        let (who, toward) = (me as u8 + 1, to as u8 + 1);
        self.book.write(
            self.clock,
            What::SetsOutToHand {
                who,
                toward,
                dribbles,
            },
        );
    }

    /// Where the receiver waits until the giver is near: where they stand, or at the place to which they are on the way.
    fn waits_for_it_at(&self, to: usize) -> Vec2 {
        let (form, job) = &self.mates[to];
        let (pos, home) = (form.0.pos, self.old.homes[to]);
        let place = match (&job.task, job.place) {
            (Task::Run { .. }, Some(place)) if home.spot == Some(place) => home.at,
            (Task::Run { .. }, Some(place)) => self.play.cast.court.spot(place),
            _ => pos,
        };
        if (place - pos).length() > IN_PLACE {
            place
        } else {
            pos
        }
    }

    /// One tick of a hand-off. Has the ball gone over?
    pub(super) fn hands_it_over(&mut self, hold: &mut Hold) -> bool {
        let Some(mut hands) = hold.hands else {
            return false;
        };
        let (me, to) = (hold.by, hands.to);
        let takes = matches!(self.mates[to].1.task, Task::Take { from, .. } if from == me);
        if !takes || hold.work == Ballwork::Driving {
            hold.hands = None;
            return false;
        }
        // A pass or a shot that has begun may still be kept: then the hand-off goes on.
        if hold.pending.is_some() {
            return false;
        }
        let apart = (self.mates[me].0.0.pos - self.mates[to].0.0.pos).length();
        if apart < HANDS {
            self.hands_over(hold, hands);
            return true;
        }
        let overplayed = is_overplayed(self.play, self.old, self.signals, me, to);
        hands.overplayed = if overplayed { hands.overplayed + 1 } else { 0 };
        hold.hands = Some(hands);
        if hands.overplayed >= ticks(OVERPLAYED_FOR) {
            self.keeps(hold, to, Kept::Overplayed);
        } else if self.clock.tick >= hands.since + ticks(TRIES) {
            self.keeps(hold, to, Kept::Late);
        }
        false
    }

    /// The holder keeps the ball, on his dribble if he has one.
    fn keeps(&mut self, hold: &mut Hold, to: usize, why: Kept) {
        if let Some(hands) = hold.hands.take().filter(|hands| hands.dribbles) {
            self.changes_places(hold.by, hands);
        }
        if hold.work == Ballwork::Dribbling {
            (hold.angle, hold.caught) = (None, self.mates[hold.by].0.0.pos);
        }
        let (who, from) = (hold.by as u8 + 1, to as u8 + 1);
        self.book
            .write(self.clock, What::KeepsIt { who, from, why });
    }

    /// Who has dribbled to the receiver's place and keeps the ball holds that place; the receiver goes to the one that
    /// he left, unless somebody else has it.
    fn changes_places(&mut self, me: usize, hands: Hands) {
        let court = &self.play.cast.court;
        let off = (court.spot(hands.place) - self.mates[me].0.0.pos).length();
        let held = |i: usize| self.mates[i].1.place;
        let mut five = self.play.cast.five();
        let free = five.all(|i| i == me || held(i) != Some(hands.from));
        if off > NOT_THERE || !free || held(hands.to) != Some(hands.place) {
            return;
        }
        self.mates[me].1.place = Some(hands.place);
        let (side, tick) = (self.ball.side, self.clock.tick);
        let receiver = &mut self.mates[hands.to].1;
        receiver.place = Some(hands.from);
        receiver.then(fill_exactly(hands.from, side), tick);
    }

    /// The ball goes over: the receiver comes off the giver, who stands as a screen on the ball. After a dribble
    /// hand-off the two have changed places.
    fn hands_over(&mut self, hold: &Hold, hands: Hands) {
        let (me, to) = (hold.by, hands.to);
        let tick = self.clock.tick;
        self.has_gone_on(me, to);
        // Dribbled toward the receiver, it is on that one's side.
        let side = hands.place.side.filter(|_| hands.dribbles);
        self.turn_side(side.unwrap_or(self.ball.side));
        let (from, at) = (me as u8 + 1, to as u8 + 1);
        self.book.write(self.clock, What::HandsOff { from, to: at });
        self.signals.now.push(Happening::HandOff {
            from: hands.from,
            to: hands.place,
            giver: me,
            receiver: to,
        });
        let giver = &mut self.mates[me].1;
        giver.task = Task::Screen {
            whom: to,
            until: tick,
            set: Some(tick),
            on_ball: true,
            awaited: false,
            steps_out: false,
            after: Box::new(Movement::Hold),
        };
        giver.next = None;
        if hands.dribbles {
            giver.place = Some(hands.place);
            self.mates[to].1.place = Some(hands.from);
        }
        let body = self.mates[to].0.0;
        let receiver = &mut self.mates[to].1;
        receiver.task = Task::Handle;
        receiver.next = None;
        let goes_to = receiver.place.map(|spot| self.play.cast.court.spot(spot));
        let (screened, _) = ball_screen::off(self.old, to, me, tick);
        let draw = self.play.dice.at(Purpose::Ready, to, tick).normal();
        self.ball.state = BallState::Held(Hold {
            by: to,
            since: tick + 1,
            caught: body.pos,
            pivot: None,
            readiness: readiness(&self.play.cast.model.shots, draw, 1.0),
            work: Ballwork::Dribbling,
            drive: None,
            drove_from: None,
            stops: 0,
            at_mate: None,
            hands: None,
            promised: None,
            handed: Some(me),
            angle: Some(goes_to.unwrap_or(body.pos)),
            angle_since: Some(tick),
            angle_hand: None,
            pending: None,
            ready: tick + 1,
            how: Finish::SpotUp,
            guarded_since: None,
            picked_up: None,
            stopped: None,
            screened: Some(Screened {
                refuses: false,
                ..screened
            }),
        });
        self.ball.pos = body.pos;
    }
}
