//! What each rule of an offence is worth: the offence with it, less the same offence without it, on the
//! same seeds.

use std::sync::atomic::AtomicBool;

use crate::offence::check::{Weight, check};
use crate::scenario::Scenario;
use crate::scrimmage::Unfit;
use crate::stats::Estimate;

use super::{Contest, Contrast, Variation};

/// What a rule is worth is counted in this figure: the luck of the ball going in is left out.
const BY: &str = "promised_points";

/// Points that the shots of a possession promise more with each rule than without it, in the order of
/// the rules; `None` for a rule without which the offence does not work, or that changed nothing on any
/// seed. `None` as a whole if stopped on the way.
///
/// # Errors
/// As [`Contest::run`].
pub fn worth(
    plan: &Contest,
    scenario: &Scenario,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Option<Vec<Option<Estimate>>>, Unfit> {
    let rules = &scenario.offence.rules;
    let mut variations = vec![Variation::new("as it is", scenario.clone())];
    let mut contrasts = Vec::new();
    let mut of_rule = vec![None; rules.len()];
    for (i, place) in of_rule.iter_mut().enumerate() {
        let mut without = scenario.clone();
        without.offence.rules.remove(i);
        if errors(&without) > errors(scenario) {
            continue;
        }
        *place = Some(contrasts.len());
        contrasts.push(Contrast {
            base: variations.len(),
            changed: 0,
        });
        variations.push(Variation::new(rules[i].name.clone(), without));
    }
    let found = plan.run(&variations, &contrasts, progress, stop)?;
    if found.interrupted {
        return Ok(None);
    }
    let all = found.differences();
    let by = found.yardsticks.iter().position(|y| y.name == BY);
    let one = |contrast: usize| {
        let list = all.get(contrast)?;
        let own = list.iter().find(|d| Some(d.yardstick) == by)?;
        own.found.difference.filter(|_| own.found.changed > 0)
    };
    Ok(Some(of_rule.into_iter().map(|c| c.and_then(one)).collect()))
}

/// What is wrong with an offence, a count.
fn errors(scenario: &Scenario) -> usize {
    let found = check(&scenario.offence).into_iter();
    found.filter(|f| f.weight == Weight::Error).count()
}

/// How many possessions that takes, for a bar of progress.
pub fn possessions(plan: &Contest, scenario: &Scenario) -> u64 {
    plan.possessions * (1 + scenario.offence.rules.len() as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rule_that_never_fires_is_worth_nothing_and_one_that_does_has_an_interval() {
        let mut scenario = Scenario::demo();
        let keep = ["Slot to slot", "Slot to wing"];
        let kept = |name: &str| keep.iter().any(|k| name.starts_with(k));
        scenario.offence.rules.retain(|r| kept(&r.name));
        let mut idle = scenario.offence.rules[0].clone();
        idle.name = "Never".into();
        idle.when = crate::offence::Event::Clock { left: 0.01 };
        scenario.offence.rules.push(idle);
        let plan = Contest {
            first_seed: 1,
            possessions: 24,
            threads: 2,
        };
        let found = worth(&plan, &scenario, &|_| (), &AtomicBool::new(false));
        let found = found.unwrap().unwrap();
        assert_eq!(found.len(), 3);
        assert_eq!(found[2], None, "{found:?}");
        assert!(found[..2].iter().any(Option::is_some), "{found:?}");
    }
}
