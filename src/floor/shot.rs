//! A shot: how much room, how good a chance, and whether it goes in.

use crate::looks::shooting::{rhythm, shot_at};
use crate::possession::{Ending, Finish, What};

use super::dice::Purpose;
use super::flight::{Mates, Others};
use super::parts::*;
use super::referee::end;

#[allow(clippy::too_many_arguments)]
pub(super) fn shoot(
    play: &Play,
    clock: &Clock,
    hold: &Hold,
    finish: Finish,
    ball: &mut Ball,
    book: &mut Book,
    mates: &mut Mates,
    others: &Others,
) {
    let me = hold.by;
    let body = mates[me].0.0;
    let mut room = f64::INFINITY;
    let mut closing = 0.0;
    for (form, _, _) in others {
        let off = body.pos - form.0.pos;
        let distance = off.length();
        if distance < room {
            room = distance;
            closing = (form.0.vel.dot(off) / distance.max(1e-6)).max(0.0);
        }
    }
    let off_catch = super::sight::off_the_catch(clock, hold);
    let chance = shot_at(&play.cast, me, body.pos, room, closing).0
        * rhythm(&play.cast.model.shots, body.pos, room, off_catch)
        * super::sight::post_share(&play.cast.model.shots, finish == Finish::PostUp, room);
    let points = play.cast.court.points(body.pos);
    let zone = play.cast.court.zone(body.pos);
    let number = me as u8 + 1;
    let distance = body.pos.length();
    book.write(
        clock,
        What::Shoots {
            who: number,
            distance,
            room,
            chance,
            finish,
        },
    );
    let made = play.dice.at(Purpose::Shot, me, 0).unit() < chance;
    end(
        clock,
        ball,
        book,
        Ending::Shot {
            shooter: number,
            points,
            made,
            zone,
            finish,
            distance,
            room,
            chance,
        },
    );
}
