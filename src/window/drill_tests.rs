//! How places are judged, and why they are right.

use std::sync::Arc;

use super::super::drill_find::fits;
use super::super::drill_judge::{Answer, Opens, WHY_STEP, WORTH_SAYING, judge};
use super::super::drill_place::rule;
use super::super::drill_said::{fault, gains, names, told, verdict};
use super::super::recording::Recording;
use super::*;
use crate::scenario::Scenario;
use crate::why::step::{Way, can_stand, way};

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
        let wanted = if answer.shuts_more { 100.0 } else { 0.0 };
        assert!((answer.score - wanted).abs() < 1e-9 && answer.fault.is_some());
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
            assert!(gains.iter().all(|g| g.1 > WORTH_SAYING), "{gains:?}");
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
    for (recording, moment, who) in at(Task::HelpLine, 1..120) {
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

/// A length as the window writes it.
fn feet(metres: f64) -> String {
    crate::possession::timeline::length(crate::court::Units::Imperial, metres)
}

/// The verdict, and all that is told after it.
fn said(answer: &Answer) -> Vec<String> {
    let told = told(answer).into_iter().map(|(_, text)| text);
    std::iter::once(verdict(answer, &feet))
        .chain(told)
        .collect()
}

/// The figures of a sentence.
fn figures(text: &str) -> Vec<&str> {
    let words = text.split([' ', ';', ',']).map(|w| w.trim_end_matches('.'));
    words.filter(|w| w.parse::<f64>().is_ok()).collect()
}

/// Answers over many moments: every duty, and places near the right one and far from it.
fn each_place(mut f: impl FnMut(&Recording, usize, &Answer)) {
    for task in Task::DEFENDERS.into_iter().filter(|t| *t != Task::AllFive) {
        for (recording, moment, who) in at(task, 1..25) {
            let d = who[0];
            let place = recording.instants[moment].goal(&recording.play, d);
            for (turn, off) in [0.2, 0.7, 1.0, 1.6, 2.4, 3.5, 0.45, 1.3]
                .into_iter()
                .enumerate()
            {
                let angle = std::f64::consts::TAU * turn as f64 / 8.0;
                let put = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * off;
                let mut moved = [None; BODIES];
                moved[5 + d] = Some(put);
                let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
                f(&recording, moment, &answer);
            }
        }
    }
}

/// No "100 of 100, not 100": what is told differs in the figures as they are shown; and what is right is told nothing.
#[test]
fn no_sentence_of_the_drill_has_two_equal_figures() {
    let (mut sentences, mut right) = (0, 0);
    each_place(|_, _, answer| {
        let reasons = answer.opens.iter().map(|o| gains(answer, o));
        for text in told(answer)
            .into_iter()
            .map(|(_, text)| text)
            .chain(reasons)
        {
            if let Some((_, worth)) = text.split_once("worth ") {
                sentences += 1;
                let worth = figures(worth);
                assert!(worth.len() == 2 && worth[0] != worth[1], "{text}");
            }
            for often in ["free in ", "there in "] {
                let Some((_, often)) = text.split_once(often) else {
                    continue;
                };
                let often = figures(often.split(';').next().unwrap_or_default());
                assert!(often.len() == 3 && often[0] != often[2], "{text}");
            }
        }
        if answer.off < 0.5 {
            right += 1;
            assert!(said(answer)[0].contains("right there") && said(answer).len() == 1);
            assert!(answer.left_open.is_empty() && answer.shut.is_empty());
        }
    });
    println!("{sentences} sentences with figures, {right} places that are right");
    assert!(sentences > 300 && right > 100, "{sentences} {right}");
}

/// The places are weighed by the looks themselves, measured anew with the defender at either of them.
#[test]
fn no_place_that_leaves_less_open_than_the_models_is_told_to_be_worse() {
    let (mut less, mut worse) = (0, 0);
    each_place(|recording, moment, answer| {
        let d = answer.defender;
        let looks = |at: Vec2| {
            let mut moved = [None; BODIES];
            moved[5 + d] = Some(at);
            recording.looks_with(moment, &moved)
        };
        let (put, right) = (looks(answer.put), looks(answer.right));
        // What one place has open and worth more than the other, of what the rules take.
        let more = |a: &[crate::possession::LookNow], b: &[crate::possession::LookNow]| -> f64 {
            let gains = a.iter().filter(|l| l.open && l.allowed).map(|l| {
                let other = b.iter().find(|o| o.kind == l.kind && o.to == l.to);
                l.value - other.map_or(0.0, |o| o.value)
            });
            gains.filter(|g| *g > WORTH_SAYING).sum()
        };
        let (opens, shuts) = (more(&put, &right), more(&right, &put));
        let text = said(answer);
        let less_open = answer.fault.is_some() && shuts - opens > WORTH_SAYING;
        if less_open && answer.off < NOTHING {
            less += 1;
            assert_eq!(answer.score, 100.0);
            assert!(text[0].contains("shuts more here"), "{text:?}");
            // What the model's place leaves open is named, and what it is for.
            let first = answer.shut.first().expect("a look that it shuts");
            let to = first
                .look
                .to
                .map_or(String::new(), |to| format!(" to {to}"));
            assert!(text[2].contains(&format!("{}{to}", first.look.kind.word())));
            assert!(
                text.last()
                    .expect("lines")
                    .contains("The model's place is for")
            );
        } else if answer.fault.is_some() {
            worse += 1;
            assert!(!answer.shuts_more && answer.score < 100.0, "{answer:?}");
            // What it shuts all the same is told.
            assert!(!less_open || text.iter().any(|t| t.starts_with("But it shuts")));
        }
    });
    println!("{less} places leave less open than the model's, {worse} do not");
    assert!(less > 10 && worse > 300, "{less} {worse}");
}

/// A reason is a look that the rules take; what they never take is told alone, and as that.
#[test]
fn a_look_that_the_rules_never_take_is_told_only_alone_and_as_that() {
    let (mut taken, mut never) = (0, 0);
    each_place(|_, _, answer| {
        for list in [&answer.opens, &answer.left_open, &answer.shut] {
            let first = list.first().is_none_or(|o| o.look.allowed);
            for opens in list {
                assert_eq!(opens.look.allowed, first, "{list:?}");
                let noted = gains(answer, opens).contains("your rules never take it");
                assert_eq!(noted, !opens.look.allowed);
                taken += usize::from(first);
                never += usize::from(!first);
            }
        }
    });
    println!("{taken} looks that are taken, {never} that never are");
    assert!(taken > 300, "{taken}");
}

/// The fault and the rule are of the same distances: who is called too near is nearer than the rule says.
#[test]
fn the_rule_that_is_told_and_the_fault_are_of_the_same_numbers() {
    let mut faults = 0;
    each_place(|recording, moment, answer| {
        let rule = rule(recording, moment, answer, &feet);
        let text = verdict(answer, &feet);
        if rule.contains("low man") {
            let rim = feet(answer.right.length());
            assert!(rule.contains(&format!("here {rim} from the rim")), "{rule}");
        }
        if let Some(Way::Player(near, _)) = answer.fault {
            assert_eq!(near, answer.gap.0 < answer.gap.1, "{text}");
            if rule.contains("as a rule") && text.contains("too ") {
                let right = feet(answer.gap.1);
                assert!(rule.contains(&format!("here {right} off")), "{rule}");
                let other = feet(answer.gap.0) != right;
                assert_eq!(text.contains(&format!("not {right})")), other, "{text}");
                faults += 1;
            }
        }
    });
    println!("{faults} faults beside a rule");
    assert!(faults > 20, "{faults}");
}

/// What the page tells is open on the floor that shows it, so that the caption names it: one source.
#[test]
fn what_is_told_of_a_place_is_open_on_the_floor_that_shows_it() {
    let mut told = 0;
    let mut check =
        |recording: &Recording, moment, moved: &[Option<Vec2>; BODIES], of: &[Opens]| {
            let floor = recording.looks_with(moment, moved);
            for opens in of {
                let known = floor.iter().find(|l| opens.is_of(l));
                assert!(known.is_some_and(|l| l.open), "{opens:?}");
                told += 1;
            }
        };
    each_place(|recording, moment, answer| {
        let floor = |at: Vec2| {
            let mut moved = [None; BODIES];
            moved[5 + answer.defender] = Some(at);
            moved
        };
        check(recording, moment, &floor(answer.put), &answer.left_open);
        check(recording, moment, &floor(answer.right), &answer.shut);
        for opens in &answer.opens {
            let one = std::slice::from_ref(opens);
            check(recording, moment, &floor(opens.stands), one);
        }
    });
    for (recording, moment, who) in at(Task::AllFive, 1..25) {
        let mut moved = [None; BODIES];
        for &d in &who {
            let place = recording.instants[moment].goal(&recording.play, d);
            moved[5 + d] = Some(place * 0.7);
        }
        for answer in judge(&recording, moment, &who, &moved) {
            check(&recording, moment, &moved, &answer.left_open);
        }
    }
    println!("{told} looks told");
    assert!(told > 300, "{told}");
}

#[test]
fn no_two_steps_that_lead_elsewhere_are_called_the_same() {
    let mut asked = 0;
    each_place(|_, _, answer| {
        let mut answer = answer.clone();
        answer.opens.truncate(1);
        let Some(first) = answer.opens.first().cloned() else {
            return;
        };
        // The same words for every direction: each has a name of its own all the same.
        for turn in 1..8 {
            let (sin, cos) = libm::sincos(std::f64::consts::TAU * f64::from(turn) / 8.0);
            let off = first.stands - answer.right;
            let turned = Vec2::new(off.x * cos - off.y * sin, off.x * sin + off.y * cos);
            let mut other = first.clone();
            other.stands = answer.right + turned;
            answer.opens.push(other);
        }
        let named: std::collections::BTreeSet<_> = names(&answer).into_iter().collect();
        assert_eq!(named.len(), 8, "{named:?}");
        asked += 1;
    });
    assert!(asked > 50, "{asked}");
}

#[test]
fn over_the_midline_it_is_said_toward_what() {
    let toward = fault(Way::Across(true));
    assert!(toward.contains("across the midline, toward the ball"));
    assert_ne!(toward, fault(Way::Across(false)));
    assert!(Way::Across(false).words().contains("away from the ball"));
}

#[test]
fn whoever_waits_to_be_placed_lies_on_nobody() {
    let mut asked = 0;
    for task in [Task::One, Task::AllFive] {
        for (recording, moment, who) in at(task, 1..90) {
            let court = &recording.cast.court;
            let scene = &recording.instants[moment].old.scene;
            let mut taken: Vec<Vec2> = (0..BODIES)
                .filter(|i| *i < 5 || !who.contains(&(i - 5)))
                .map(|i| scene.pos[i])
                .collect();
            for _ in &who {
                let place = beside(court, &taken);
                assert!(taken.iter().all(|p| p.distance(place) >= CLEAR));
                assert!(place.x.abs() < court.width / 2.0);
                taken.push(place);
                asked += 1;
            }
        }
    }
    assert!(asked > 200, "{asked}");
}

/// Whoever is put where a step off the right place leads is told the same of it as the reasons tell; and where those say
/// that no step opens anything, no place a step off is said to open something.
#[test]
fn a_verdict_never_says_another_thing_than_its_reason() {
    let (mut moments, mut told, mut quiet) = (0, 0, 0);
    for task in Task::DEFENDERS.into_iter().filter(|t| *t != Task::AllFive) {
        for (recording, moment, who) in at(task, 1..90) {
            moments += 1;
            let d = who[0];
            let reasons = judge(&recording, moment, &[d], &[None; BODIES]).swap_remove(0);
            let place = reasons.right;
            for turn in 0..8 {
                let angle = std::f64::consts::TAU * f64::from(turn) / 8.0;
                let put = place + Vec2::new(libm::cos(angle), libm::sin(angle)) * WHY_STEP;
                // Nobody can stand in another body, or under the board.
                let pos = &recording.instants[moment].old.scene.pos;
                let stands_free = can_stand(&recording.cast.court, pos, d, put);
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
            // A hand's breadth off is right, and opens nothing that is told.
            let mut moved = [None; BODIES];
            moved[5 + d] = Some(place + Vec2::new(0.0, 0.3));
            let answer = judge(&recording, moment, &[d], &moved).swap_remove(0);
            assert!(said(&answer)[0].contains("right there"), "{answer:?}");
            assert_eq!(said(&answer).len(), 1, "{answer:?}");
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
