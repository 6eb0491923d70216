//! A shot: how much room, how good a chance, and whether it goes in.

use crate::looks::shooting::{rhythm, shot_at};
use crate::possession::{Ending, Finish, What};

use super::super::dice::Purpose;
use super::super::parts::*;
use super::super::referee::end;
use super::super::sight::{off_the_catch, post_share};
use super::BallStep;

impl BallStep<'_, '_, '_> {
    /// The shot leaves his hand, and ends the possession.
    pub(super) fn shoot(&mut self, hold: &Hold, finish: Finish) {
        let (play, me) = (self.play, hold.by);
        let body = self.mates[me].0.0;
        let mut room = f64::INFINITY;
        let mut closing = 0.0;
        for (form, _, _) in self.others {
            let off = body.pos - form.0.pos;
            let distance = off.length();
            if distance < room {
                room = distance;
                closing = (form.0.vel.dot(off) / distance.max(1e-6)).max(0.0);
            }
        }
        let off_catch = off_the_catch(self.clock, hold);
        let chance = shot_at(&play.cast, me, body.pos, room, closing).0
            * rhythm(&play.cast.model.shots, body.pos, room, off_catch)
            * post_share(&play.cast.model.shots, finish == Finish::PostUp, room);
        let who = me as u8 + 1;
        let distance = body.pos.length();
        let shoots = What::Shoots {
            who,
            distance,
            room,
            chance,
            finish,
        };
        self.book.write(self.clock, shoots);
        let made = play.dice.at(Purpose::Shot, me, 0).unit() < chance;
        let ending = Ending::Shot {
            shooter: who,
            points: play.cast.court.points(body.pos),
            made,
            zone: play.cast.court.zone(body.pos),
            finish,
            distance,
            room,
            chance,
        };
        end(self.clock, self.ball, self.book, ending);
    }
}
