//! Bodies and ball, tick by tick, in whatever is played.

use std::sync::Mutex;

use lanelight::body::Limits;
use lanelight::court::Vec2;
use lanelight::possession::{Ending, Frame, Possession, TICK, What};
use lanelight::scenario::Scenario;
use lanelight::sim::{Keep, cast_untaught};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

use super::worlds::{cases, play, scenario, seed};

/// Beyond rounding.
const HAIR: f64 = 1e-6;
/// Bodies nearer to each other than this, beyond touching, may have pushed each other, metres.
const MAY_PUSH: f64 = 0.7;
/// As near as this to the edge, metres, a body may have been kept on the floor.
const EDGE: f64 = lanelight::court::TO_THE_LINE + 0.01;
/// Contact is soft: bodies brush past and lean on each other, as tracked players do (some attacker and defender are
/// nearer than 0.5 m between their middles in 17 % of the time; Xu, Hayet, Karamouzas, SocialVAE, ECCV 2022,
/// computed here). But nobody runs through anybody: in worlds that no sensible file makes (five
/// defenders told to stand on their men) middles come no nearer than this, metres.
const NEAREST: f64 = 0.1;
/// Frames in which two share more than this of their radii, metres, are counted and printed.
const CLOSE: f64 = 0.3;
/// The ball in a hand is not farther from its holder's middle than this, metres.
const IN_HAND: f64 = 0.31;
/// A ball goes over from flight to hand, or from hand to flight round a defender, over no more than an
/// arm and a step, metres.
const HANDED: f64 = 1.35;
/// A hall is at least so high, metres (FIBA Official Basketball Rules, Art. 2, from memory, high).
const ROOF: f64 = 7.0;
/// Nobody throws faster than this, m/s (professional men 12, from memory; a lead over all).
const THROWN: f64 = 18.0;

fn places(frame: &Frame) -> [Vec2; 10] {
    std::array::from_fn(|i| {
        if i < 5 {
            frame.attackers[i]
        } else {
            frame.defenders[i - 5]
        }
    })
}

fn facings(frame: &Frame) -> [Vec2; 10] {
    std::array::from_fn(|i| {
        if i < 5 {
            frame.attackers_facing[i]
        } else {
            frame.defenders_facing[i - 5]
        }
    })
}

fn ball(frame: &Frame) -> Vec2 {
    Vec2::new(frame.ball[0], frame.ball[1])
}

/// May body `i` have touched anybody in this frame?
fn crowded(all: &[Vec2; 10], limits: &[Limits; 10], i: usize) -> bool {
    (0..10).any(|j| {
        j != i && (all[i] - all[j]).length() < limits[i].radius + limits[j].radius + MAY_PUSH
    })
}

/// How deep bodies stood in one another, m, how fast they were shoved, m/s; frames in all and those
/// with somebody closer than usual.
#[derive(Debug, Default)]
struct Worst {
    deep: f64,
    deepest: String,
    shoved: f64,
    frames: u64,
    crowded: u64,
}

/// Nobody beyond his limits, off the floor, not a number, or inside another.
fn bodies(scenario: &Scenario, track: &[Frame], worst: &mut Worst) -> Result<(), String> {
    let cast = cast_untaught(scenario);
    let limits: [Limits; 10] = std::array::from_fn(|i| cast.players[i].limits);
    let free = |all: &[Vec2; 10], i: usize| {
        let kept = cast.court.clamp_inside(all[i], EDGE) != all[i];
        !kept && !crowded(all, &limits, i)
    };
    for (t, frame) in track.iter().enumerate() {
        let now = places(frame);
        let mut deepest = 0.0f64;
        worst.frames += 1;
        let who = |i: usize| {
            let side = if i < 5 { "" } else { "X" };
            format!("{side}{} at {:.2} s", i % 5 + 1, frame.time)
        };
        for i in 0..10 {
            let (x, y) = (now[i].x, now[i].y);
            if !x.is_finite() || !y.is_finite() || !cast.court.in_bounds(now[i]) {
                return Err(format!("{} is off the floor: {x} {y}", who(i)));
            }
            let facing = facings(frame)[i].length();
            if (facing - 1.0).abs() > 1e-6 {
                return Err(format!("{}: his chest points {facing} long", who(i)));
            }
            for j in 0..i {
                let apart = (now[i] - now[j]).length();
                let deep = limits[i].radius + limits[j].radius - apart;
                if deep > deepest.max(worst.deep) {
                    worst.deepest = format!("{} in {}, {:?}", who(i), who(j), frame.duties);
                }
                deepest = deepest.max(deep);
                if apart < NEAREST {
                    return Err(format!("{} is {apart:.3} m from {}", who(i), who(j)));
                }
            }
        }
        worst.deep = worst.deep.max(deepest);
        worst.crowded += u64::from(deepest > CLOSE);
        let Some(before) = t.checked_sub(1).map(|t| places(&track[t])) else {
            continue;
        };
        for i in 0..10 {
            let speed = (now[i] - before[i]).length() / TICK;
            let top = limits[i].top_speed;
            let alone = free(&now, i) && free(&before, i);
            if !alone {
                worst.shoved = worst.shoved.max(speed);
            }
            // What contact may add to a velocity in a tick: by momentum, and by drifting apart.
            let movement = &scenario.model.movement;
            let contact = movement.contact_change + movement.contact_push / TICK;
            if speed > if alone { top + HAIR } else { top + contact } {
                return Err(format!("{} runs {speed:.3} m/s of {top:.3}", who(i)));
            }
            let Some(first) = t.checked_sub(2).map(|t| places(&track[t])) else {
                continue;
            };
            // The mean of the velocities of two ticks changes by no more than the larger bound.
            let change = ((now[i] - before[i]) - (before[i] - first[i])).length() / (TICK * TICK);
            let most = limits[i].accel.max(limits[i].brake).max(limits[i].turn);
            let free_all_along = alone && free(&first, i);
            let inside = |all: &[Vec2; 10]| cast.court.clamp_inside(all[i], EDGE) == all[i];
            let kept = !(inside(&now) && inside(&before) && inside(&first));
            // The drift may end as suddenly as it began.
            let bumped = most + (contact + movement.contact_push / TICK) / TICK;
            if !free_all_along && !kept && change > bumped + 1e-3 {
                return Err(format!("{} is thrown: {change:.1} m/s²", who(i)));
            }
            if free_all_along && change > most + 1e-3 {
                return Err(format!(
                    "{} changes by {change:.3} m/s² of {most:.3}",
                    who(i)
                ));
            }
        }
    }
    Ok(())
}

/// The ball is somewhere at every tick, gets from place to place in time, and is in one hand at most:
/// the one that the timeline says.
fn one_ball(possession: &Possession) -> Result<(), String> {
    let mut holder = None;
    let mut told = possession.timeline.iter().peekable();
    for (t, frame) in possession.track.iter().enumerate() {
        let at = ball(frame);
        let height = frame.ball[2];
        if !at.x.is_finite() || !at.y.is_finite() || !(0.0..ROOF).contains(&height) {
            return Err(format!(
                "{:.2} s: a ball at {at:?}, {height} m high",
                frame.time
            ));
        }
        let mut handed = None;
        while let Some(entry) = told.peek().filter(|e| e.time < frame.time + TICK / 2.0) {
            holder = match entry.what {
                What::Starts { who, .. } | What::Catches { who, .. } => Some(who),
                What::HandsOff { from, to } => {
                    handed = Some((from, to));
                    Some(to)
                }
                What::Passes { .. } | What::Ends { .. } => None,
                _ => holder,
            };
            told.next();
        }
        if frame.holder != holder {
            let says = format!("the track says {:?}, the timeline {holder:?}", frame.holder);
            return Err(format!("{:.2} s: who has the ball? {says}", frame.time));
        }
        if let Some(who) = frame.holder {
            let hand = (at - frame.attackers[usize::from(who) - 1]).length();
            if hand > IN_HAND {
                return Err(format!(
                    "{:.2} s: {who} holds it {hand:.2} m off",
                    frame.time
                ));
            }
        }
        let Some(before) = t.checked_sub(1).map(|t| &possession.track[t]) else {
            continue;
        };
        let way = (at - ball(before)).length();
        let first = t.checked_sub(2).map(|t| possession.track[t].holder);
        // In the last tick it may be caught and be dead at once, as when the clock runs out.
        let changes_hands = frame.holder != before.holder
            || first.is_some_and(|first| first != before.holder)
            || t + 1 == possession.track.len();
        let most = THROWN * TICK + if changes_hands { HANDED } else { 0.0 };
        if way > most {
            return Err(format!("{:.2} s: the ball jumps {way:.2} m", frame.time));
        }
        if let (Some(a), Some(b)) = (before.holder, frame.holder)
            && a != b
            && handed != Some((a, b))
        {
            return Err(format!(
                "{:.2} s: from hand {a} to hand {b} at once",
                frame.time
            ));
        }
    }
    Ok(())
}

/// One beginning, one end, and it is the end that the possession says.
fn told_in_order(possession: &Possession) -> Result<(), String> {
    let line = &possession.timeline;
    let first = line
        .first()
        .is_some_and(|e| matches!(e.what, What::Starts { .. }));
    if !first {
        return Err("it does not begin with a start".into());
    }
    if line.windows(2).any(|w| w[0].time > w[1].time) {
        return Err("the timeline runs backward".into());
    }
    let ends: Vec<&Ending> = line
        .iter()
        .filter_map(|e| match &e.what {
            What::Ends { ending } => Some(ending),
            _ => None,
        })
        .collect();
    // The stop for scenarios without any clock is told by nobody.
    if ends.len() > 1 || ends.first().is_some_and(|e| **e != possession.ending) {
        return Err(format!("it ends {ends:?}, and as {:?}", possession.ending));
    }
    if let Ending::Shot { points, chance, .. } = possession.ending
        && (!(0.0..=1.0).contains(&chance) || !(2..=3).contains(&points))
    {
        return Err(format!("{points} points with a chance of {chance}"));
    }
    Ok(())
}

#[test]
fn nobody_leaves_his_limits_the_floor_or_his_own_skin() {
    let worst = Mutex::new(Worst::default());
    let result = TestRunner::new(cases(2500)).run(&(scenario(), seed()), |(scenario, seed)| {
        let possession = play(&scenario, seed, Keep::ALL);
        prop_assert!(!possession.track.is_empty());
        let mut here = Worst::default();
        let found = bodies(&scenario, &possession.track, &mut here);
        if let Ok(mut worst) = worst.lock() {
            if here.deep > worst.deep {
                worst.deep = here.deep;
                worst.deepest = format!("{}, seed {seed}, {:?}", here.deepest, scenario.defence);
            }
            worst.shoved = worst.shoved.max(here.shoved);
            worst.frames += here.frames;
            worst.crowded += here.crowded;
        }
        prop_assert_eq!(found, Ok(()));
        Ok(())
    });
    println!("{:?}", worst.lock().expect("nobody panicked with it"));
    if let Err(error) = result {
        panic!("{error}");
    }
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn the_ball_is_one_and_gets_everywhere_in_time(scenario in scenario(), seed in seed()) {
        let possession = play(&scenario, seed, Keep::ALL);
        prop_assert_eq!(one_ball(&possession), Ok(()));
        prop_assert_eq!(told_in_order(&possession), Ok(()));
    }
}
