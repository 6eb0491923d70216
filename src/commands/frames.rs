//! `frames`: what tracking data of the same possessions would show.

use lanelight::court::{Court, CourtCode};
use lanelight::report::files::{Output, is_screen};
use lanelight::report::{Heading, clean, frames};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::frames::Frames;
use lanelight::squad::Level;

use super::{choose, show, warn};
use crate::{Failure, FramesArgs};

/// Possessions when nothing else is asked for.
const USUAL: u64 = 500;

/// Plays, measures, and shows the page or writes it as JSON.
pub fn frames(args: &FramesArgs) -> Result<(), Failure> {
    let (mut scenario, tweaks) = choose::scenario(&args.matchup)?;
    if let Some(word) = &args.level {
        at_level(&mut scenario, level(word)?);
    }
    warn(&scenario.warnings);
    let out = args.json.as_deref().map(Output::start).transpose()?;
    let measured = Frames::of(
        &scenario,
        args.seed.unwrap_or(1),
        args.possessions.unwrap_or(USUAL),
        args.threads.map_or(0, usize::from),
    )
    .map_err(|unfit| Failure::Wrong(unfit.to_string()))?;
    let heading = Heading::of(&scenario, &tweaks);
    if let Some(out) = out {
        out.fill(|out| frames::json(out, &heading, &measured))?;
    }
    if !args.json.as_deref().is_some_and(is_screen) {
        show(&frames::page(&heading, &measured))?;
    }
    Ok(())
}

/// A level by its word in files.
pub fn level(word: &str) -> Result<Level, Failure> {
    ron::from_str(word).map_err(|_| {
        let words: Vec<String> = Level::ALL
            .iter()
            .filter_map(|l| ron::to_string(l).ok())
            .collect();
        Failure::Wrong(format!(
            "there is no level “{}”\n  expected: {}, or plainly varsity, college or professional",
            clean::line(word),
            words.join(", ")
        ))
    })
}

/// Both teams typical of a level, on its usual court by that court's shot clock (where its rules
/// have none, the scenario's).
pub fn at_level(scenario: &mut Scenario, level: Level) {
    let code = match level {
        Level::Under10 => CourtCode::Youth,
        Level::CollegeMen | Level::CollegeWomen => CourtCode::Ncaa,
        Level::ProMen => CourtCode::Nba,
        Level::ProWomen => CourtCode::Fiba,
        _ => CourtCode::Nfhs,
    };
    scenario.court = *Court::of(code);
    scenario.court.units = super::units::or(scenario.court.units);
    scenario.shot_clock = scenario.court.clock.shot.or(scenario.shot_clock);
    let squad = |side: &str| level.squad(&format!("{} {side}", level.word()));
    scenario.attackers = squad("attackers");
    scenario.defenders = squad("defenders");
}
