//! How places are judged, and why they are right.

use std::sync::Arc;

use super::super::drill_find::fits;
use super::super::drill_judge::{Opens, WHY_STEP, WORTH_SAYING, fault, judge};
use super::super::drill_page::verdict;
use super::super::recording::Recording;
use super::*;
use crate::scenario::Scenario;
use crate::why::step::way;

fn at(task: Task, seeds: std::ops::Range<u64>) -> Vec<(Recording, usize, Vec<usize>)> {
    let mut all = Vec::new();
    for seed in seeds {
        let recording = Recording::of(&Arc::new(Scenario::demo()), seed);
        let found = fits(&recording.possession, &recording.instants, seed, task);
        let Some(first) = found.into_iter().next() else {
            continue;
        };
        let moment = recording.moment_at(first.time).expect("a decision");
        all.push((recording, moment, first.who));
    }
    all
}

#[test]
fn on_the_models_place_the_score_is_full_and_three_metres_off_it_is_nothing() {
    for task in [Task::One, Task::LowMan, Task::Closeout] {
        let (recording, moment, who) = at(task, 1..40).swap_remove(0);
        let d = who[0];
        let mut moved = [None; BODIES];
        moved[5 + d] = Some(recording.instants[moment].goal(&recording.play, d));
        let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
        assert_eq!((answer.score, answer.fault), (100.0, None), "{task:?}");
        assert!(answer.left_open.is_empty());
        moved[5 + d] = moved[5 + d].map(|p| p + Vec2::new(0.0, NOTHING));
        let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
        assert!(answer.score < 1e-9 && answer.fault.is_some());
    }
}

/// Off the ball every defender has a reason to stand where he stands, or it is said that there is none now; over a few
/// moments the reasons are not all the same.
#[test]
fn what_a_step_off_opens_is_measured_and_is_not_always_the_same() {
    let mut said = std::collections::BTreeSet::new();
    let mut asked = 0;
    for (recording, moment, _) in at(Task::One, 1..20) {
        for answer in judge(&recording, moment, &[0, 1, 2, 3, 4], &[None; BODIES]) {
            asked += 1;
            let gains: Vec<_> = answer
                .opens
                .iter()
                .map(|o| (o.opens(), o.gains()))
                .collect();
            assert!(gains.iter().all(|g| g.0 || g.1 > WORTH_SAYING), "{gains:?}");
            assert!(gains.windows(2).all(|two| two[0] >= two[1]), "{gains:?}");
            for opens in answer.opens {
                assert!((0.0..=1.0).contains(&opens.openness().0));
                said.insert((opens.way, opens.look.kind.word(), opens.look.to));
            }
        }
    }
    println!("{} reasons, {asked} asked", said.len());
    assert!(said.len() >= 8, "{said:?}");
}

/// What is told of a step is what the batch measures with the defender there.
#[test]
fn a_step_that_is_told_is_measured_with_the_defender_there() {
    let mut checked = 0;
    for (recording, moment, who) in at(Task::HelpLine, 1..30) {
        let answer = judge(&recording, moment, &who, &[None; BODIES]).swap_remove(0);
        for opens in answer.opens {
            let mut moved = [None; BODIES];
            moved[5 + who[0]] = Some(opens.stands);
            let looks = recording.looks_with(moment, &moved);
            assert!(looks.contains(&opens.look));
            checked += 1;
        }
    }
    assert!(checked > 3, "{checked}");
}

/// Whoever is put where a step off the right place leads is told the same of it as the reasons tell; and where those say
/// that no step opens anything, no place a step off is said to open something.
#[test]
fn a_verdict_never_says_another_thing_than_its_reason() {
    let (mut moments, mut told, mut quiet) = (0, 0, 0);
    for task in Task::DEFENDERS.into_iter().filter(|t| *t != Task::AllFive) {
        for (recording, moment, who) in at(task, 1..40) {
            moments += 1;
            let d = who[0];
            let reasons = judge(&recording, moment, &[d], &[None; BODIES]).swap_remove(0);
            let place = reasons.right;
            for turn in 0..8 {
                let angle = std::f64::consts::TAU * f64::from(turn) / 8.0;
                let put = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * WHY_STEP;
                let bodies = recording.instants[moment]
                    .old
                    .scene
                    .pos
                    .into_iter()
                    .enumerate();
                // Nobody can stand in another body.
                let stands_free = bodies
                    .filter(|(i, _)| *i != 5 + d)
                    .all(|(_, p)| (p - put).length() > 0.7);
                let mut moved = [None; BODIES];
                moved[5 + d] = Some(put);
                let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
                assert_eq!(
                    answer.opens, reasons.opens,
                    "reasons are of the right place"
                );
                let here = |o: &&Opens| (o.stands - put).length() < 1e-9;
                for reason in reasons.opens.iter().filter(here) {
                    assert!(answer.left_open.contains(reason), "{reason:?}: {answer:?}");
                    assert_eq!(answer.fault, Some(reason.way));
                    told += 1;
                }
                if stands_free && reasons.opens.is_empty() {
                    assert_eq!(answer.left_open, [], "{answer:?}");
                    quiet += 1;
                }
            }
            // A hand's breadth off is right, unless it opens something.
            let mut moved = [None; BODIES];
            moved[5 + d] = Some(place + Vec2::new(0.0, 0.3));
            let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
            let right = verdict(&answer, "0.3 m").contains("right there");
            assert_eq!(right, answer.left_open.is_empty(), "{answer:?}");
        }
    }
    println!(
        "{moments} moments: {told} reasons told of the place itself, {quiet} places that open nothing"
    );
    assert!(
        moments > 150 && told > 100 && quiet > 50,
        "{moments} {told} {quiet}"
    );
}

#[test]
fn a_fault_is_named_by_what_the_defender_is_too_near_to() {
    let (recording, moment, _) = at(Task::One, 1..10).swap_remove(0);
    let mut instant = recording.instants[moment].clone();
    let place = instant.own_place(&recording.play, 0);
    instant.old.scene.pos[5] = place;
    let to = |target: Vec2| place + (target - place) * (1.0 / (target - place).length());
    let near = way(&instant, 0, to(instant.ball()));
    let far = way(&instant, 0, place * 2.0 - to(instant.ball()));
    assert_ne!(near, far);
    assert_ne!(fault(near), near.words());
}
