//! The headline findings, measured: those of the report, of `tests/defences.rs` and of the README.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use lanelight::court::CourtCode;
use lanelight::defence::{Duty, Relation};
use lanelight::model::Model;
use lanelight::offence::LookKind;
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Results, Row, Scrimmage};
use lanelight::squad::Level;
use lanelight::stats::{CONFIDENCE, Estimate, Tally};

use super::data;

/// What became of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// It came out the other way round.
    Gone,
    /// It came out so, but the intervals overlap.
    Weak,
    Clear,
}

impl State {
    pub fn word(self) -> &'static str {
        match self {
            State::Gone => "does not hold",
            State::Weak => "holds, not clearly",
            State::Clear => "clear",
        }
    }
}

#[derive(Clone, Debug)]
pub struct Finding {
    pub name: String,
    pub said: String,
    pub state: State,
    /// By how much it holds, in its own unit: below nothing it has gone.
    pub margin: f64,
}

struct Played {
    results: Results,
    rows: Vec<Row>,
}

impl Played {
    fn figure(&self, name: &str) -> Estimate {
        let nothing = Estimate {
            value: 0.0,
            low: 0.0,
            high: 0.0,
            n: 0,
        };
        self.results.estimate(name).unwrap_or(nothing)
    }
}

fn played(
    scenario: Scenario,
    turns: &[(&str, f64)],
    model: &Arc<Model>,
    possessions: u64,
) -> Played {
    let mut scenario = scenario;
    scenario.model = Arc::clone(model);
    // As in the demo where the rules know no shot clock.
    scenario.shot_clock = scenario.shot_clock.or(Some(35.0));
    for (name, factor) in turns {
        data::turn(&mut scenario, name, *factor);
    }
    let mut rows = Vec::new();
    let plan = Scrimmage {
        first_seed: 1,
        possessions,
        threads: 0,
        until: None,
    };
    let mut each = |row: &Row| {
        rows.push(row.clone());
        true
    };
    let results = plan
        .run(&scenario, &|_| {}, &mut each, &AtomicBool::new(false))
        .expect("a sound plan");
    Played { results, rows }
}

fn more(name: &str, a: Estimate, b: Estimate) -> Finding {
    let state = if a.low > b.high {
        State::Clear
    } else if a.value > b.value {
        State::Weak
    } else {
        State::Gone
    };
    Finding {
        name: name.into(),
        said: format!("{} against {}", short(a.value), short(b.value)),
        state,
        margin: a.value - b.value,
    }
}

fn short(x: f64) -> String {
    if x.abs() < 0.1 {
        format!("{x:.3}")
    } else {
        format!("{x:.2}")
    }
}

fn times(e: Estimate, by: f64) -> Estimate {
    Estimate {
        value: e.value * by,
        low: e.low * by,
        high: e.high * by,
        ..e
    }
}

/// The weaker of several.
fn both(name: &str, parts: Vec<Finding>) -> Finding {
    let said: Vec<String> = parts.iter().map(|p| p.said.clone()).collect();
    let state = parts.iter().map(|p| p.state).min().unwrap_or(State::Gone);
    Finding {
        name: name.into(),
        said: said.join(", "),
        state,
        margin: parts.iter().map(|p| p.margin).fold(f64::INFINITY, f64::min),
    }
}

fn promised(row: &Row) -> f64 {
    row.shot.map_or(0.0, |s| s.chance * f64::from(s.points))
}

/// Points promised per possession that a tweak adds, on the same seeds.
fn gain(before: &Played, now: &Played) -> Option<Estimate> {
    let mut tally = Tally::new();
    for (a, b) in before.rows.iter().zip(&now.rows) {
        tally.push(promised(b) - promised(a));
    }
    tally.mean_estimate(CONFIDENCE)
}

/// Share of the shut instants of a look that is due to one relation and duty.
fn shut_by(played: &Played, look: LookKind, relation: Relation, duty: Duty) -> f64 {
    let (mut his, mut all) = (0u64, 0u64);
    for row in &played.rows {
        let shut = &row.look(look).shut;
        his += u64::from(shut[relation as usize][duty as usize]);
        all += shut.iter().flatten().map(|n| u64::from(*n)).sum::<u64>();
    }
    his as f64 / all.max(1) as f64
}

/// All findings, with some numbers of the data turned or none, by a model turned or not.
pub fn measure(possessions: u64, turns: &[(&str, f64)], model: &Arc<Model>) -> Vec<Finding> {
    let part = |court, level, defence: &str, tweaks: &[&str]| {
        let s = Scenario::from_parts(court, level, "four_out_one_post", defence, tweaks);
        played(s.expect("it ships"), turns, model, possessions)
    };
    let varsity =
        |defence: &str, tweaks: &[&str]| part(CourtCode::Nfhs, Level::VarsityBoys, defence, tweaks);
    let (sag, denial, help) = (
        varsity("sag", &[]),
        varsity("denial", &[]),
        varsity("help_line", &[]),
    );
    let skip = varsity("help_line", &["skip_pass"]);
    let mixed = |court, level| part(court, level, "mixed_professional", &[]);
    let young = mixed(CourtCode::Nfhs, Level::Under14);
    let school = mixed(CourtCode::Nfhs, Level::VarsityBoys);
    let pro = mixed(CourtCode::Nba, Level::ProMen);

    let gap = shut_by(&help, LookKind::NextPass, Relation::OnePass, Duty::Gap);
    let gained = gain(&help, &skip).unwrap_or(help.figure("no such figure"));
    vec![
        more(
            "Sag leaves the next pass more open than the help line",
            sag.figure("next_pass_openness"),
            help.figure("next_pass_openness"),
        ),
        more(
            "Denial shuts the next pass more than the help line (share of the time held)",
            help.figure("next_pass_held"),
            denial.figure("next_pass_held"),
        ),
        more(
            "Denial leaves at least twice the backdoor chances of sag",
            denial.figure("backdoor_cut_there"),
            times(sag.figure("backdoor_cut_there"), 2.0),
        ),
        more(
            "The help line shuts the driving lane more than denial",
            denial.figure("lane_open"),
            help.figure("lane_open"),
        ),
        more(
            "Sag shuts drives more than denial",
            denial.figure("drive_openness"),
            sag.figure("drive_openness"),
        ),
        more(
            "The help line leaves more skip passes than denial",
            help.figure("skip_unused"),
            denial.figure("skip_unused"),
        ),
        more(
            "The help line allows fewer backdoor finishes than denial",
            denial.figure("backdoor_cut_finished"),
            help.figure("backdoor_cut_finished"),
        ),
        more(
            "The help line leaves more weak-side spot-ups than denial",
            help.figure("weak_spot_up_unused"),
            denial.figure("weak_spot_up_unused"),
        ),
        Finding {
            name: "Against the help line the next pass is mostly shut by men in the gap".into(),
            said: format!("{gap:.2} of the time"),
            state: match gap {
                g if g > 0.6 => State::Clear,
                g if g > 0.5 => State::Weak,
                _ => State::Gone,
            },
            margin: gap - 0.5,
        },
        Finding {
            name: "The skip pass alone gains no twentieth of a point against the help line".into(),
            said: format!("{:+.3} (to {:+.3})", gained.value, gained.high),
            state: match (gained.high < 0.05, gained.value < 0.05) {
                (true, _) => State::Clear,
                (_, true) => State::Weak,
                _ => State::Gone,
            },
            margin: 0.05 - gained.value,
        },
        both(
            "Points promised rise from under 14 to varsity to professionals",
            [(&school, &young), (&pro, &school)]
                .map(|(a, b)| more("", a.figure("promised_points"), b.figure("promised_points")))
                .into(),
        ),
        both(
            "Lost balls fall from under 14 to varsity to professionals",
            [(&young, &school), (&school, &pro)]
                .map(|(a, b)| more("", a.figure("turnovers"), b.figure("turnovers")))
                .into(),
        ),
    ]
}

/// One line a finding, for the process that asked.
pub fn print(findings: &[Finding]) {
    for f in findings {
        println!("{}\t{}\t{}\t{}", f.state as u8, f.name, f.said, f.margin);
    }
}

/// Reads those lines.
pub fn parse(text: &str) -> Vec<Finding> {
    let line = |line: &str| {
        let mut parts = line.split('\t');
        let state = match parts.next()? {
            "0" => State::Gone,
            "1" => State::Weak,
            _ => State::Clear,
        };
        Some(Finding {
            state,
            name: parts.next()?.into(),
            said: parts.next()?.into(),
            margin: parts.next()?.parse().ok()?,
        })
    };
    text.lines().filter_map(line).collect()
}
