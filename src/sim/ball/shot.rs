//! A shot: how much room, how good a chance, and whether it goes in.

use crate::looks::shooting::{foul_chance, rhythm, shot_at};
use crate::possession::{Ending, Finish, What};
use crate::squad::shot::Guarded;

use super::super::dice::{Draw, Purpose};
use super::super::officials::end;
use super::super::parts::*;
use super::super::sight::{off_the_catch, post_share};
use super::BallStep;

impl BallStep<'_, '_, '_> {
    /// The shot leaves his hand, and ends the possession.
    pub(super) fn shoot(&mut self, hold: &Hold, finish: Finish) {
        let (play, me) = (self.play, hold.by);
        let body = self.mates[me].0.0;
        let others = self
            .others
            .iter()
            .map(|(form, _, _)| (form.0.pos, form.0.vel));
        let guarded = Guarded::by(&play.cast.model, body.pos, others);
        let room = guarded.room;
        let off_catch = off_the_catch(self.clock, hold);
        let chance = shot_at(&play.cast, me, body.pos, &guarded).0
            * rhythm(&play.cast.model.shots, body.pos, off_catch)
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
        let shot = Ending::Shot {
            shooter: who,
            points: play.cast.court.points(body.pos),
            made: play.dice.at(Purpose::Shot, me, 0).unit() < chance,
            throws: None,
            zone: play.cast.court.zone(body.pos),
            finish,
            distance,
            room,
            chance,
        };
        let mut dice = play.dice.at(Purpose::Foul, me, 0);
        let ending = if dice.unit() < foul_chance(&play.cast, me, body.pos, room) {
            fouled(shot, play.cast.players[me].shooting.free_throw, &mut dice)
        } else {
            shot
        };
        end(self.clock, self.ball, self.book, ending);
    }
}

/// The same shot, fouled: two free throws, each made with this chance.
fn fouled(shot: Ending, free_throw: f64, dice: &mut Draw) -> Ending {
    let makes = (0..2).map(|_| u8::from(dice.unit() < free_throw)).sum();
    match shot {
        Ending::Shot {
            shooter,
            zone,
            finish,
            distance,
            room,
            ..
        } => Ending::Shot {
            shooter,
            points: 2,
            made: false,
            throws: Some(makes),
            zone,
            finish,
            distance,
            room,
            chance: free_throw,
        },
        lost => lost,
    }
}
