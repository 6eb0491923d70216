//! Two, three or four a side: only those who play do anything, and all of them do what five would.

use std::sync::Arc;

use lanelight::possession::there::{parked, plays};
use lanelight::sim::{Keep, cast_untaught, play_shared};
use proptest::prelude::*;

use super::orders::no_order_is_given_up;
use super::worlds::{cases, fewer, seed};

proptest! {
    #![proptest_config(cases(150))]

    #[test]
    fn who_does_not_play_stands_aside_and_nobody_has_to_do_with_him(scenario in fewer(), seed in seed()) {
        let there = scenario.offence.there();
        let is_there = |number: u8| there[usize::from(number) - 1];
        let cast = cast_untaught(&scenario);
        let scenario = Arc::new(scenario);
        let p = play_shared(&scenario, &cast, seed, Keep::ALL);
        for frame in &p.track {
            for i in 0..5 {
                let (attacker, defender) = (frame.attackers[i], frame.defenders[i]);
                if there[i] {
                    prop_assert!(plays(attacker) && plays(defender));
                    prop_assert!(is_there(frame.guards[i]), "X{} guards {}", i + 1, frame.guards[i]);
                } else {
                    prop_assert_eq!((attacker, defender), (parked(i), parked(5 + i)));
                }
            }
            prop_assert!(frame.holder.is_none_or(is_there));
        }
        for moment in &p.moments {
            for look in &moment.looks {
                prop_assert!(look.to.is_none_or(is_there), "{:?}", look);
                prop_assert!(look.closer.is_none_or(|c| is_there(c.defender)), "{:?}", look);
            }
            prop_assert!(moment.spacing.nearest < 40.0, "{:?}", moment.spacing);
        }
        for entry in &p.timeline {
            if let lanelight::possession::What::Rule { told, .. } = entry.what {
                prop_assert!((0..5).all(|i| there[i] || told[i].is_none()));
            }
        }
    }

    #[test]
    fn every_order_of_fewer_than_five_ends_with_a_reason(scenario in fewer(), seed in seed()) {
        no_order_is_given_up(scenario, seed)?;
    }
}
