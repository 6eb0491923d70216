//! No order is dropped in silence: each that the checks accept is carried out, or its end is told with a reason.

use std::sync::Arc;

use lanelight::possession::orders::OrderEnd;
use lanelight::scenario::Scenario;
use lanelight::sim::{cast_untaught, play_accounted};
use proptest::prelude::*;

use super::worlds::{cases, scenario, seed};

/// Every order of this possession ends with a reason.
pub fn no_order_is_given_up(scenario: Scenario, seed: u64) -> Result<(), TestCaseError> {
    let cast = cast_untaught(&scenario);
    let scenario = Arc::new(scenario);
    let (_, orders) = play_accounted(&scenario, &cast, seed);
    for order in &orders {
        let action = &scenario.offence.rules[order.rule].actions[order.line];
        prop_assert!(order.end != OrderEnd::GivenUp, "{order:?}: {action:?}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn every_order_has_one_end(scenario in scenario(), seed in seed()) {
        let cast = cast_untaught(&scenario);
        let scenario = Arc::new(scenario);
        let (possession, orders) = play_accounted(&scenario, &cast, seed);
        for (index, rule) in scenario.offence.rules.iter().enumerate() {
            let of_line = |line| orders.iter().filter(|o| (o.rule, o.line, o.step) == (index, line, 0)).count();
            for line in 1..rule.actions.len() {
                prop_assert_eq!(of_line(line), of_line(0), "{}, line {}", rule.name, line);
            }
        }
        for order in &orders {
            prop_assert!(order.told <= order.ended && order.ended <= possession.duration + 1e-9);
        }
    }

    #[test]
    fn every_order_ends_with_a_reason(scenario in scenario(), seed in seed()) {
        no_order_is_given_up(scenario, seed)?;
    }
}
