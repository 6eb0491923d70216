//! Playing on from a moment that was changed by hand: the possession of a seed goes on as ever up to
//! a tick, there some bodies are put elsewhere, and everybody goes on from that by the same rules,
//! the same eyes and the same dice.
//!
//! Nothing is copied from a recording: the possession is played again from its start, which gives the
//! same floor to the last bit. Whoever is put somewhere stands still there and knows what he knew;
//! the others see him there a reaction later, as they would see anybody.
//!
//! Not modelled: how he got there. A ball in the air flies on.

use std::sync::Arc;

use super::book::Witness;
use super::ground::Keep;
use super::instant::Instant;
use super::play::run;
pub use super::puts::Put;
use crate::looks::Cast;
use crate::possession::Possession;
use crate::scenario::Scenario;

/// Plays the possession of a seed with bodies put elsewhere on the way, and keeps everything of it:
/// track, moments, and what the holder decided from at each of them. Without any such put, it is the
/// possession itself.
pub fn play_on(
    scenario: &Arc<Scenario>,
    cast: &Arc<Cast>,
    seed: u64,
    puts: &[Put],
) -> (Possession, Vec<Instant>) {
    let witness = Witness::of_instants();
    let (possession, seen) = run(scenario, cast, seed, Keep::ALL, witness, puts);
    (possession, seen.instants.unwrap_or_default())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::Vec2;
    use crate::looks::BODIES;
    use crate::possession::TICK;
    use crate::sim::{cast_of, play_shared, play_witnessed};

    fn demo() -> (Arc<Scenario>, Arc<Cast>) {
        let scenario = Arc::new(Scenario::demo());
        let cast = cast_of(&scenario);
        (scenario, cast)
    }

    fn only(body: usize, to: Vec2) -> [Option<Vec2>; BODIES] {
        std::array::from_fn(|i| (i == body).then_some(to))
    }

    #[test]
    fn with_nobody_put_elsewhere_it_is_the_same_possession_bit_for_bit() {
        let (scenario, cast) = demo();
        for seed in 1..12 {
            let (there, instants) = play_on(&scenario, &cast, seed, &[]);
            let as_ever = play_shared(&scenario, &cast, seed, Keep::ALL);
            let (_, witnessed) = play_witnessed(&scenario, &cast, seed);
            assert_eq!(there, as_ever);
            assert_eq!(instants.len(), witnessed.len());
            for time in [0.0, 0.4, 1.0, 2.6] {
                let nobody = Put::at(time, [None; BODIES]);
                assert_eq!(play_on(&scenario, &cast, seed, &[nobody]).0, as_ever);
            }
        }
    }

    #[test]
    fn with_a_defender_put_elsewhere_it_is_the_same_until_then_and_another_after() {
        let (scenario, cast) = demo();
        let mut others = 0;
        for seed in 1..12 {
            let as_ever = play_shared(&scenario, &cast, seed, Keep::ALL);
            let put = Put::at(1.6, only(7, Vec2::new(0.0, 11.0)));
            let (now, _) = play_on(&scenario, &cast, seed, &[put]);
            if as_ever.duration <= put.time() {
                assert_eq!(now, as_ever);
                continue;
            }
            let until = put.tick as usize;
            assert_eq!(now.track[..until], as_ever.track[..until]);
            let before = |p: &Possession| {
                let told = p.timeline.iter().filter(|e| e.time < put.time());
                told.cloned().collect::<Vec<_>>()
            };
            assert_eq!(before(&now), before(&as_ever));
            let there = now.track[until].defenders[2];
            // At rest there: in one tick nobody gets far from a standing start.
            assert!((there - Vec2::new(0.0, 11.0)).length() < 0.1, "{there:?}");
            others += usize::from(now.track[until..] != as_ever.track[until..]);
        }
        assert!(others > 5, "{others}");
    }

    #[test]
    fn whoever_is_put_upon_another_stands_beside_him_and_the_ball_goes_with_its_holder() {
        let (scenario, cast) = demo();
        let as_ever = play_shared(&scenario, &cast, 3, Keep::ALL);
        let frame = (as_ever.track.iter()).position(|f| f.time > 1.0 && f.holder.is_some());
        let until = frame.expect("somebody holds the ball") + 1;
        let before = &as_ever.track[until - 1];
        let holder = usize::from(before.holder.expect("a holder")) - 1;
        let time = until as f64 * TICK;
        // A defender on top of an attacker who is not his.
        let mate = (holder + 1) % 5;
        let put = Put::at(time, only(5 + holder, before.attackers[mate]));
        let (now, _) = play_on(&scenario, &cast, 3, &[put]);
        let frame = &now.track[until];
        let gap = (frame.defenders[holder] - frame.attackers[mate]).length();
        let radii = [mate, 5 + holder].map(|i| cast.players[i].limits.radius);
        assert!(gap > radii[0] + radii[1] - 0.01, "{gap}");
        assert!(gap < 1.2, "{gap}");
        // The holder himself, a step and a half away.
        let to = before.attackers[holder] + Vec2::new(0.0, 1.2);
        let (now, _) = play_on(&scenario, &cast, 3, &[Put::at(time, only(holder, to))]);
        let frame = &now.track[until];
        let ball = Vec2::new(frame.ball[0], frame.ball[1]);
        assert!((frame.attackers[holder] - to).length() < 0.15);
        assert!((ball - to).length() < 1.0, "{ball:?} {to:?}");
    }
}
