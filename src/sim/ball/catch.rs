//! A catch: where it counts as made, who gives up what for it, how late the defender is, and what the catcher does.

use crate::body::{Body, time_to_reach};
use crate::court::{Spot, SpotName};
use crate::defence::Relation;
use crate::looks::shooting::{readiness, turn};
use crate::possession::{Ballwork, Finish, What};

use super::super::dice::Purpose;
use super::super::parts::*;
use super::super::sight::{NOT_THERE, SHOWN};
use super::super::stance::{stance_of, station};
use super::{BallStep, HELD_AT, IN_FRONT};

/// A defender this near to his man when he catches is not late, metres (ours).
const AT_HIS_MAN: f64 = 1.5;

/// Who came off a screen no longer ago than this catches off it, seconds (ours: the run off it, and a moment there).
const OFF_A_SCREEN: f64 = 3.5;

impl BallStep<'_, '_, '_> {
    /// Attacker `who` has the ball now.
    pub(super) fn caught(&mut self, who: usize, how: Finish) {
        let body = self.mates[who].0.0;
        let at = self.place_of_the_catch(who, how);
        self.takes_the_place(who, at);
        self.writes_the_catch(who, at);
        self.says_who_is_late(who);
        // A catcher who goes on to the rim runs through the place: for rules it is a catch at the rim.
        let place = match self.goes_on_to_the_rim(&body, how) {
            true => Spot::new(SpotName::Rim, self.ball.side),
            false => at,
        };
        self.signals.now.push(Happening::Catch { at: place, who });
        let off = self.signals.off_screen.filter(|off| off.0 == who);
        if let Some((_, screener, since)) = off
            && self.clock.tick < since + ticks(OFF_A_SCREEN)
        {
            let catch = Happening::CatchOffScreen { at, who, screener };
            self.signals.now.push(catch);
        }
        self.ball.state = BallState::Held(self.new_hold(who, how, at));
        self.ball.pos = body.pos + body.facing * IN_FRONT;
        self.ball.height = HELD_AT;
    }

    /// The spot at which the catch counts as made.
    fn place_of_the_catch(&self, who: usize, how: Finish) -> Spot {
        let (form, job) = &self.mates[who];
        let (pos, side) = (form.0.pos, self.old.side);
        let court = &self.play.cast.court;
        match (&job.task, self.old.doing[who]) {
            // Where it was thrown to, if he did not have to go far for it.
            (Task::Meet { spot, .. }, _)
                if spot.name.is_inside() && (court.spot(*spot) - pos).length() < SHOWN =>
            {
                *spot
            }
            (_, Doing::Outside) if how == Finish::SpotUp => job
                .place
                .filter(|&spot| (court.spot(spot) - pos).length() < NOT_THERE)
                .unwrap_or_else(|| court.nearest_spot_on(pos, side)),
            _ if job.place.is_some_and(|s| !s.name.is_perimeter()) => {
                court.nearest_inside(pos, side)
            }
            _ => court.nearest_spot_on(pos, side),
        }
    }

    /// The catcher has the ball, and outside the place, unless he is to go on to his own or a team-mate has been sent
    /// there. Whoever held it looks for another, the passer for the one that the catcher gives up; nobody chases the
    /// ball any more.
    fn takes_the_place(&mut self, who: usize, place: Spot) {
        let outside = place.name.is_perimeter();
        let sent = outside && self.is_sent_there(who, place);
        let job = &mut self.mates[who].1;
        job.task = Task::Handle;
        // What was told meanwhile is about the ball.
        job.next.take_if(|next| !next.is_with_the_ball());
        let (offence, side) = (&self.play.scenario.offence, self.ball.side);
        let goes_on = |home: Spot| sent || offence.goes_on(home, place, side);
        let gives_up = job.place;
        if outside && !job.place.is_some_and(goes_on) {
            job.place = Some(place);
        }
        let takes = outside && job.place == Some(place);
        let passer = self.signals.last_passer;
        for (i, (_, job)) in self.mates.iter_mut().enumerate() {
            if i == who {
                continue;
            }
            if takes && job.place == Some(place) {
                job.place = gives_up.filter(|_| Some(i) == passer);
                if let Task::Run { .. } = job.task {
                    job.task = Task::Stand;
                }
            }
            if matches!(job.task, Task::Chase) {
                job.task = Task::Stand;
            }
        }
    }

    /// Is a team-mate of the catcher, other than the passer, on his way to that place?
    fn is_sent_there(&self, who: usize, place: Spot) -> bool {
        let at = self.play.cast.court.spot(place);
        let passer = self.signals.last_passer;
        let mut mates = self.mates.iter().enumerate();
        mates.any(|(i, (form, job))| {
            let comes = job.place == Some(place) && (form.0.pos - at).length() > NOT_THERE;
            i != who && Some(i) != passer && comes
        })
    }

    /// Writes down who catches where, and how much room he has.
    fn writes_the_catch(&mut self, who: usize, at: Spot) {
        let pos = self.mates[who].0.0.pos;
        let mut near = (f64::INFINITY, 0);
        for (d, room) in self.gaps(pos).into_iter().enumerate() {
            if room < near.0 {
                near = (room, d);
            }
        }
        let catches = What::Catches {
            who: who as u8 + 1,
            at,
            off: (self.play.cast.court.spot(at) - pos).length(),
            room: near.0,
            defender: near.1 as u8 + 1,
        };
        self.book.write(self.clock, catches);
    }

    /// How late his defender is: the time he still needs to his station.
    fn says_who_is_late(&mut self, who: usize) {
        let Some(d) = (0..5).find(|&d| self.others[d].1.man == who) else {
            return;
        };
        let pos = self.mates[who].0.0.pos;
        let guard = self.others[d].0.0;
        let limits = &self.play.cast.players[5 + d].limits;
        let stance = stance_of(self.play, d, Relation::OnBall);
        let station = station(stance, pos, pos);
        let late = time_to_reach(guard.pos, guard.vel, limits, station, 0.3, 0.0);
        if late > 0.25 && (guard.pos - pos).length() > AT_HIS_MAN {
            let is_late = What::Late {
                defender: d as u8 + 1,
                man: who as u8 + 1,
                late,
            };
            self.book.write(self.clock, is_late);
        }
    }

    /// The ball in the catcher's hands. Caught on the run to the rim: he goes on.
    fn new_hold(&self, who: usize, how: Finish, place: Spot) -> Hold {
        let tick = self.clock.tick;
        let body = self.mates[who].0.0;
        let quick = matches!(how, Finish::Cut | Finish::DropOff);
        let on_the_run = self.goes_on_to_the_rim(&body, how);
        let distance = body.pos.length();
        let take_off = self.play.cast.model.looks.take_off_distance;
        let drive = Drive {
            from: place,
            via: None,
            finish: body.pos * (take_off / distance.max(take_off)),
            began: tick,
            stuck: 0,
        };
        let draw = self.play.dice.at(Purpose::Ready, who, tick).normal();
        let shots = &self.play.cast.model.shots;
        let turns = match &self.ball.state {
            BallState::Flying { flight, .. } => turn(shots, body.pos, flight.from),
            _ => 1.0,
        };
        Hold {
            by: who,
            since: tick + 1,
            caught: body.pos,
            pivot: None,
            readiness: readiness(shots, draw, turns),
            work: if on_the_run {
                Ballwork::Driving
            } else {
                Ballwork::Holding
            },
            drive: on_the_run.then_some(drive),
            drove_from: None,
            stops: 0,
            at_mate: None,
            hands: None,
            promised: None,
            handed: None,
            angle: None,
            angle_since: None,
            angle_hand: None,
            pending: None,
            ready: tick + if quick { 1 } else { ticks(0.2) },
            how,
            guarded_since: None,
            picked_up: None,
            stopped: None,
            screened: None,
        }
    }

    /// Has a cutter caught it on the run to the rim?
    fn goes_on_to_the_rim(&self, body: &Body, how: Finish) -> bool {
        let distance = body.pos.length();
        let toward = -body.vel.dot(body.pos) / distance.max(1e-6);
        how == Finish::Cut
            && !self.play.scenario.drill.passive
            && toward > 1.5
            && distance > 1.4
            && distance < 5.0
    }
}
