//! How places are judged, and why they are right.

use std::sync::Arc;

use super::super::drill_find::fits;
use super::super::drill_judge::{WORTH_SAYING, judge, way};
use super::super::recording::Recording;
use super::*;
use crate::scenario::Scenario;

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
            let gains: Vec<f64> = answer.opens.iter().map(|o| o.gains()).collect();
            assert!(gains.iter().all(|g| *g > WORTH_SAYING), "{gains:?}");
            assert!(gains.windows(2).all(|two| two[0] >= two[1]), "{gains:?}");
            for opens in answer.opens {
                assert!((0.0..=1.0).contains(&opens.before.0));
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
    for (recording, moment, who) in at(Task::HelpLine, 1..12) {
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

#[test]
fn a_fault_is_named_by_what_the_defender_is_too_near_to() {
    let (recording, moment, _) = at(Task::One, 1..10).swap_remove(0);
    let instant = &recording.instants[moment];
    let place = instant.own_place(&recording.play, 0);
    let to = |target: Vec2| place + (target - place) * (1.0 / (target - place).length());
    let near = way(instant, 0, place, to(instant.ball())).expect("a fault");
    let far = way(instant, 0, place, place * 2.0 - to(instant.ball())).expect("a fault");
    assert_ne!(near, far);
    assert_ne!(near.fault(), near.step());
}
