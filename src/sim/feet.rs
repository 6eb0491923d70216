//! How a player without the ball stands: small steps about his place, and to meet a pass that is shut.

use crate::court::Vec2;
use crate::looks::Cast;
use crate::model::Footwork;

use super::dice::Purpose;
use super::parts::*;

/// His place, shortened toward the ball.
pub(super) fn shorten(model: &Footwork, place: Vec2, ball: Vec2) -> Vec2 {
    let way = ball - place;
    let distance = way.length();
    place
        + way
            * ((distance - model.meet_pass_nearest).clamp(0.0, model.meet_pass_distance)
                / distance.max(1e-6))
}

/// Where a player without the ball has shifted to, off his place.
pub(super) fn sway(play: &Play, clock: &Clock, who: usize, by: f64, feet: &mut Feet) -> Vec2 {
    let model = &play.cast.model.footwork;
    if clock.tick >= feet.until {
        let lasts = f64::from(ticks(model.sway_time));
        let mut dice = play.dice.at(Purpose::Feet, who, clock.tick);
        let drawn = (dice.normal(), dice.normal());
        // Not all in step: the first spell is over at any time.
        let share = if feet.until == 0 { dice.unit() } else { 1.0 };
        let until = clock.tick + 1 + (lasts * share) as u32;
        *feet = Feet { until, drawn };
    }
    small_step(play, feet.drawn, by)
}

/// A small step that was drawn (deviations to the side and up the floor), `by` metres a deviation.
pub(super) fn small_step(play: &Play, (x, y): (f64, f64), by: f64) -> Vec2 {
    let most = play.cast.model.footwork.sway_limit;
    Vec2::new(play.hand * x.clamp(-most, most), y.clamp(-most, most)) * by
}

/// Where he turns who takes his man in to come back out: past that man's other side. `None` if he has nobody up on him,
/// or a team-mate shows there.
pub(super) fn takes_him_in(cast: &Cast, old: &Old, who: usize) -> Option<Vec2> {
    let (court, model) = (&cast.court, &cast.model.footwork);
    let pos = old.scene.pos[who];
    let to_rim = -pos / pos.length().max(1e-6);
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let (room, near) = old.scene.nearest_defender(pos);
    let near = old.scene.pos[5 + near] - pos;
    let hand = if near.dot(across) > 0.0 { -1.0 } else { 1.0 };
    let turn = pos + to_rim * model.v_cut_depth + across * (hand * model.v_cut_width);
    let onto = |i: usize| {
        let shows = old.shown[i].filter(|_| i != who);
        shows.is_some_and(|spot| (court.spot(spot) - turn).length() < model.v_cut_mate_distance)
    };
    (room < model.v_cut_defender_distance && !(0..5).any(onto)).then_some(turn)
}
