//! Backdoor chance: could a player one pass away, by cutting behind his defender now, meet a
//! leading bounce pass at a lay-up spot before his own defender and before any helper?

use super::passing::{flight, flight_openness};
use super::{Cast, Openness, Scene, chance_to_cut, hopeless};
use crate::ball::PassKind;
use crate::body::{surely_later, time_to_reach_within, travel_time};
use crate::court::Vec2;
use crate::model::Looks;

/// Where a player at `pos` would lay the ball up after a backdoor cut.
pub fn lay_up_spot(looks: &Looks, pos: Vec2) -> Vec2 {
    let distance = pos.length().max(1e-6);
    pos * (looks.backdoor_finish_distance / distance)
}

/// Openness of the backdoor cut of `cutter`, fed by `passer`, if it began now.
pub fn backdoor(cast: &Cast, scene: &Scene, passer: usize, cutter: usize) -> Openness {
    let looks = &cast.model.looks;
    let spot = lay_up_spot(looks, scene.pos[cutter]);
    let limits = &cast.players[cutter].limits;
    let run = limits.reaction * looks.backdoor_start_share
        + travel_time(scene.pos[cutter], scene.vel[cutter], limits, spot, 1.0);
    let f = flight(cast, scene, passer, cutter, PassKind::Bounce, spot);
    let release = (run - f.duration).max(cast.players[passer].hands.release);
    let arrive = release + f.duration;
    let (hopeless, spoils) = (hopeless(looks), looks.backdoor_block_distance);
    let mut chances = [0.0; 5];
    for (d, chance) in chances.iter_mut().enumerate() {
        let body = 5 + d;
        let limits = &cast.players[body].limits;
        let own = scene.guards[d] == cutter;
        let reaction = scene.alert[d].max(limits.reaction)
            + if own {
                looks.backdoor_turn_delay
            } else {
                looks.backdoor_help_delay + scene.aware[d]
            };
        let (pos, vel) = (scene.pos[body], scene.vel[body]);
        let most = arrive + hopeless;
        if surely_later(pos, vel, limits, spot, spoils, reaction, most) {
            continue;
        }
        let margin = time_to_reach_within(pos, vel, limits, spot, spoils, reaction, most) - arrive;
        if margin < hopeless {
            *chance = chance_to_cut(looks, margin);
        }
    }
    let meet = Openness::of(&chances);
    // Shut for certain there: no matter what the flight meets.
    if meet.closer.1 >= 1.0 {
        return meet;
    }
    // The flight itself: whoever is not on the cutter answers it when the ball leaves the hands, not
    // when the cut begins.
    let mut later = *scene;
    for d in 0..5 {
        if scene.guards[d] != cutter {
            later.alert[d] = scene.alert[d] + release;
        }
    }
    let air = flight_openness(cast, &later, passer, &f, release);
    let closer = if meet.closer.1 >= air.closer.1 {
        meet.closer
    } else {
        air.closer
    };
    Openness {
        value: air.value.min(meet.value),
        closer,
    }
}
