//! `table`: one offence against several defences on the same seeds, side by side.

use std::sync::atomic::AtomicBool;

use lanelight::report::side_by_side::{TELLING, side_by_side};
use lanelight::report::wrap::wrap;
use lanelight::report::{Heading, numbers};
use lanelight::scrimmage::Scrimmage;

use super::frames::{at_level, level};
use super::{choose, show, warn};
use crate::{Failure, Matchup, TableArgs};

/// Possessions against each when nothing else is asked for.
const USUAL: u64 = 500;
/// Against whom when nothing else is asked for.
const MEN: [&str; 3] = ["sag", "denial", "help_line"];

/// Plays against each, and shows their figures side by side.
pub fn table(args: &TableArgs) -> Result<(), Failure> {
    let against: Vec<String> = match args.against.is_empty() {
        true => MEN.map(String::from).to_vec(),
        false => args.against.clone(),
    };
    let mut matchups = Vec::new();
    for defence in against {
        let matchup = Matchup {
            file: args.file.clone(),
            against: Some(defence),
            tweak: args.tweak.clone(),
        };
        let (mut scenario, tweaks) = choose::scenario(&matchup)?;
        if let Some(word) = &args.level {
            at_level(&mut scenario, level(word)?);
        }
        warn(&scenario.warnings);
        matchups.push((scenario, tweaks));
    }
    let plan = Scrimmage {
        first_seed: args.seed.unwrap_or(1),
        possessions: args.possessions.unwrap_or(USUAL),
        threads: args.threads.map_or(0, usize::from),
        until: None,
    };
    let mut columns = Vec::new();
    let mut text = String::new();
    let mut units = None;
    for (scenario, tweaks) in &matchups {
        let stop = AtomicBool::new(false);
        let results = plan
            .run(scenario, &|_| (), &mut |_| true, &stop)
            .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
        let heading = Heading::of(scenario, tweaks);
        if units.is_none() {
            units = Some(scenario.court.units);
            text += &wrap(&heading.offence, "", "  ");
            for tweak in &heading.tweaks {
                text += &wrap(&format!("with the tweak {tweak}"), "", "  ");
            }
            let said = format!(
                "{} against {}, {} court. {} against each, seeds {} on. After ±: half the 95 % interval.",
                heading.attackers,
                heading.defenders,
                heading.court,
                numbers::count(plan.possessions, "possession", "possessions"),
                plan.first_seed,
            );
            text += &format!("\n{}\n", wrap(&said, "", ""));
        }
        columns.push((heading.defence, results));
    }
    let columns: Vec<_> = columns.iter().map(|(h, r)| (h.clone(), r)).collect();
    if let Some(units) = units {
        text += &side_by_side(&columns, &TELLING, units);
    }
    show(&text)?;
    Ok(())
}
