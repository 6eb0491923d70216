//! The same basketball: mirrored from left to right, and with the numbers on the shirts changed.

use std::sync::Arc;

use lanelight::court::{Side, Spot, Vec2};
use lanelight::offence::{Movement, Offence, Role};
use lanelight::possession::{Entry, Frame, Moment, Possession, Told, What};
use lanelight::scenario::Scenario;
use lanelight::scrimmage::{Results, Row, add_up};
use lanelight::sim::{Keep, cast_untaught, play_shared};
use proptest::prelude::*;
use serde::Serialize;
use serde_json::Value;

use super::worlds::{cases, play, scenario, seed};

fn flipped(v: Vec2) -> Vec2 {
    Vec2::new(-v.x, v.y)
}

/// The scenario that begins on the right, and its mirror image.
fn both(scenario: &Scenario) -> [Scenario; 2] {
    let mut pair = [scenario.clone(), scenario.clone()];
    pair[0].start = Some(Side::Right);
    pair[1].start = Some(Side::Left);
    for area in pair[1].defence.zone.iter_mut().flatten() {
        area.x = -area.x;
    }
    pair
}

fn frame(f: &Frame) -> Frame {
    Frame {
        ball: [-f.ball[0], f.ball[1], f.ball[2]],
        attackers: f.attackers.map(flipped),
        defenders: f.defenders.map(flipped),
        attackers_facing: f.attackers_facing.map(flipped),
        defenders_facing: f.defenders_facing.map(flipped),
        ..*f
    }
}

fn what(w: What) -> What {
    let other = Spot::mirrored;
    match w {
        What::Starts { who, at } => What::Starts { who, at: other(at) },
        What::Catches {
            who,
            at,
            off,
            room,
            defender,
        } => What::Catches {
            who,
            at: other(at),
            off,
            room,
            defender,
        },
        What::Cuts {
            who,
            from,
            lane,
            to,
        } => What::Cuts {
            who,
            from: other(from),
            lane,
            to: to.map(other),
        },
        What::Unfed { who, to } => What::Unfed { who, to: other(to) },
        What::Fills { who, to } => What::Fills { who, to: other(to) },
        What::Fades { who, to } => What::Fades { who, to: other(to) },
        What::Flashes { who, to } => What::Flashes { who, to: other(to) },
        What::Dribbles { who, waits_for, to } => What::Dribbles {
            who,
            waits_for,
            to: to.map(other),
        },
        What::Holds { who, at } => What::Holds { who, at: other(at) },
        What::NoFlash { who, to, taken } => What::NoFlash {
            who,
            to: other(to),
            taken,
        },
        What::Seals { who, at } => What::Seals { who, at: other(at) },
        What::Drives { who, from } => What::Drives {
            who,
            from: other(from),
        },
        What::Rule { rule, told } => What::Rule {
            rule,
            told: told.map(|one| {
                one.map(|told| Told {
                    to: told.to.map(other),
                    ..told
                })
            }),
        },
        same => same,
    }
}

/// Sums in another order and roots found to a microsecond may differ in what is measured. By this share
/// anything measured may differ. In what is played nothing may.
const ROUNDING: f64 = 1e-3;

fn value<T: Serialize>(measured: &T) -> Value {
    serde_json::to_value(measured).expect("plain numbers and words")
}

fn near(a: &Value, b: &Value) -> bool {
    match (a, b) {
        (Value::Array(a), Value::Array(b)) => {
            a.len() == b.len() && a.iter().zip(b).all(|(a, b)| near(a, b))
        }
        (Value::Object(a), Value::Object(b)) => {
            a.len() == b.len() && a.iter().all(|(k, a)| b.get(k).is_some_and(|b| near(a, b)))
        }
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap_or(0.0), b.as_f64().unwrap_or(0.0));
            (a - b).abs() <= ROUNDING * a.abs().max(b.abs()) + 1e-9
        }
        _ => a == b,
    }
}

/// The first thing in which `b` is not the mirror image of `a`.
fn differ(a: &Possession, b: &Possession) -> Option<String> {
    for (one, two) in a.track.iter().zip(&b.track) {
        if frame(one) != *two {
            let time = one.time;
            return Some(format!(
                "{time:.2} s: {:?}\nis not the mirror image of\n{two:?}",
                frame(one)
            ));
        }
    }
    for (one, two) in a.timeline.iter().zip(&b.timeline) {
        let image = Entry {
            time: one.time,
            what: what(one.what),
        };
        if !near(&value(&image), &value(two)) {
            return Some(format!("{image:?}\nis not the mirror image of\n{two:?}"));
        }
    }
    for (one, two) in a.moments.iter().zip(&b.moments) {
        let image = Moment {
            at: one.at.mirrored(),
            ..one.clone()
        };
        if !near(&value(&image), &value(two)) {
            return Some(format!("{image:?}\nis not the mirror image of\n{two:?}"));
        }
    }
    let same = near(&value(&a.ending), &value(&b.ending))
        && a.duration == b.duration
        && a.track.len() == b.track.len()
        && a.timeline.len() == b.timeline.len()
        && a.moments.len() == b.moments.len();
    (!same).then(|| format!("{:?}\n{:?}", a.ending, b.ending))
}

/// A known miss: in a drill without any error a player may stand exactly on the midline and his man exactly
/// behind him; he turns about by his left then, mirrored or not (`body/step.rs`).
fn turns_on_the_midline(scenario: &Scenario) -> bool {
    let of = &scenario.offence;
    let said = format!("{:?} {:?} {:?}", of.alignment, of.keep_filled, of.rules);
    let midline = ["Top", "HighPost", "Rim"];
    scenario.drill.clean && midline.iter().any(|place| said.contains(place))
}

proptest! {
    #![proptest_config(cases(800))]

    #[test]
    fn a_mirrored_scenario_with_mirrored_dice_is_the_mirrored_possession(
        scenario in scenario(), seed in seed(),
    ) {
        prop_assume!(!turns_on_the_midline(&scenario));
        let [right, left] = both(&scenario).map(|s| play(&s, seed, Keep::ALL));
        prop_assert_eq!((right.side, left.side), (Side::Right, Side::Left));
        let found = differ(&right, &left);
        prop_assert!(found.is_none(), "{}", found.unwrap_or_default());
    }
}

/// Player `i` (0–4) wears number `to[i]` + 1, and so does his defender.
fn renumbered(scenario: &Scenario, to: [usize; 5]) -> Scenario {
    let number = |n: u8| to[usize::from(n) - 1] as u8 + 1;
    let mut out = scenario.clone();
    out.offence = shirts(&scenario.offence, &number);
    for (i, &new) in to.iter().enumerate() {
        for (side, old) in [
            (&mut out.attackers, &scenario.attackers),
            (&mut out.defenders, &scenario.defenders),
        ] {
            side.players[new] = old.players[i].clone();
            side.players[new].number = new as u8 + 1;
        }
    }
    for area in out.defence.zone.iter_mut().flatten() {
        area.defender = number(area.defender);
    }
    for own in &mut out.defence.overrides {
        own.defender = number(own.defender);
    }
    out
}

fn shirts(offence: &Offence, number: &dyn Fn(u8) -> u8) -> Offence {
    fn role(r: &mut Role, number: &dyn Fn(u8) -> u8) {
        if let Role::Player(n) = r {
            *n = number(*n);
        }
    }
    fn movement(m: &mut Movement, number: &dyn Fn(u8) -> u8) {
        match m {
            Movement::Replace(r)
            | Movement::DribbleAt(r)
            | Movement::HandOff(r)
            | Movement::DribbleHandOff(r)
            | Movement::PassNext(r) => role(r, number),
            Movement::Cut { unfed, .. } => movement(unfed, number),
            Movement::ScreenFor { whom, after } => {
                role(whom, number);
                movement(after, number);
            }
            Movement::UseScreen { of, unfed, .. } => {
                role(of, number);
                movement(unfed, number);
            }
            _ => {}
        }
    }
    let mut out = offence.clone();
    out.ball = number(out.ball);
    for stand in &mut out.alignment {
        stand.player = number(stand.player);
    }
    for action in out.rules.iter_mut().flat_map(|r| &mut r.actions) {
        role(&mut action.who, number);
        movement(&mut action.does, number);
    }
    out
}

/// Figures of possessions played by what is known before anything is learnt: what is learnt differs by the luck
/// of its pilots.
fn figures(scenario: &Scenario, first_seed: u64, possessions: u64) -> Results {
    let cast = cast_untaught(scenario);
    let scenario = Arc::new(scenario.clone());
    let rows = |seeds: std::ops::Range<u64>| -> Vec<Row> {
        let one = |seed| Row::of(&play_shared(&scenario, &cast, seed, Keep::FIGURES));
        seeds.map(one).collect()
    };
    let half = first_seed + possessions / 2;
    let mut all = std::thread::scope(|scope| {
        let first = scope.spawn(|| rows(first_seed..half));
        let last = rows(half..first_seed + possessions);
        first.join().expect("played").into_iter().chain(last)
    });
    add_up(first_seed, || Ok::<_, ()>(all.next())).expect("rows")
}

/// Half a million to one against, were a difference of this many standard errors chance.
const ERRORS: f64 = 5.0;

/// Every player and every use of chance has a stream of its own, so that other numbers mean other
/// luck: what must be the same is the basketball, over many possessions.
#[test]
fn renumbered_players_play_the_same_basketball() {
    const POSSESSIONS: u64 = 1500;
    let names = [
        "points",
        "turnovers",
        "duration",
        "passes",
        "next_pass_openness",
        "drive_openness",
        "next_pass_held",
        "backdoor_cut_there",
        "skip_open",
        "stall_time",
        "nearest",
        "hull",
        "defence_hull",
    ];
    let mut seen = 0;
    let mut wrong = Vec::new();
    for word in [
        "four_out_one_post",
        "five_out_give_and_go",
        "three_out_two_in",
    ] {
        for defence in ["denial", "help_line"] {
            let scenario = Scenario::from_parts(
                lanelight::court::CourtCode::Nfhs,
                lanelight::squad::Level::VarsityBoys,
                word,
                defence,
                &[],
            )
            .expect("shipped");
            let one = figures(&scenario, 1, POSSESSIONS);
            let two = figures(&renumbered(&scenario, [2, 4, 0, 1, 3]), 1, POSSESSIONS);
            for name in names {
                let (Some(a), Some(b)) = (one.estimate(name), two.estimate(name)) else {
                    continue;
                };
                seen += 1;
                let error = libm::hypot(a.half_width(), b.half_width()) / 1.96;
                let off = (a.value - b.value).abs();
                if off > ERRORS * error.max(1e-9) {
                    let said = format!(
                        "{word}, {defence}: {name} {:.4} as numbered, {:.4} otherwise",
                        a.value, b.value
                    );
                    wrong.push(said);
                }
            }
        }
    }
    assert!(seen > 60, "only {seen} figures compared");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
