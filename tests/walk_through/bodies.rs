//! How bodies come near each other, on possessions with all their noise: team-mates keep their distance from the start, a
//! driver is not stopped dead nor welded to a defender, and nobody is carried past the player or the ring.

use std::sync::LazyLock;

use lanelight::possession::{Frame, Possession, TICK, What};
use lanelight::sim::{Keep, play};

use super::common::*;

const SEEDS: u64 = 150;
/// Farther than this from the rim is outside, metres.
const OUTSIDE: f64 = 5.5;

type Played = Vec<(&'static str, Vec<Possession>)>;

static PLAYED: LazyLock<Played> = LazyLock::new(|| {
    let played = DEFENCES.map(|defence| {
        let s = scenario("four_out_one_post", defence, "");
        let list = (1..=SEEDS).map(|seed| play(&s, seed, Keep::ALL)).collect();
        (defence, list)
    });
    played.into()
});

/// So many frames.
fn frames(seconds: f64) -> usize {
    (seconds / TICK).round() as usize
}

fn minutes(possessions: &[Possession]) -> f64 {
    let all: usize = possessions.iter().map(|p| p.track.len()).sum();
    all as f64 * TICK / 60.0
}

fn holder(frame: &Frame) -> Option<usize> {
    frame.holder.map(|who| usize::from(who) - 1)
}

/// Common practice: keep the room to the next player. 15 starts in 100 had two outside within 2.5 m after a second and a half,
/// with places drawn for each alone.
#[test]
fn nobody_comes_to_stand_beside_a_team_mate_at_the_start() {
    for (defence, possessions) in PLAYED.iter() {
        let (mut close, mut starts) = (0, 0);
        for p in possessions {
            let Some(frame) = p.track.get(frames(1.5)) else {
                continue;
            };
            starts += 1;
            let out: Vec<_> = frame
                .attackers
                .iter()
                .filter(|a| a.length() > OUTSIDE)
                .collect();
            let near = |i: usize| (0..i).any(|j| out[i].distance(*out[j]) < 2.5);
            close += usize::from((0..out.len()).any(near));
        }
        println!("{defence}: {close} of {starts}");
        assert!(starts > 100 && 20 * close < starts, "{defence}: {close}");
    }
}

/// A driver sees a body in the way and slows down for it. Before, 38 of 100 drives against denial and 22 to 28 against the others
/// lost 2.5 m/s within a quarter of a second, mostly before anybody was touched.
#[test]
fn hardly_any_driver_is_stopped_dead() {
    let (mut dead, mut drives) = (0, 0);
    for (_, possessions) in PLAYED.iter() {
        for p in possessions {
            drives += p
                .timeline
                .iter()
                .filter(|e| matches!(e.what, What::Drives { .. }))
                .count();
            let mut until = 0;
            for t in 7..p.track.len() {
                let (then, now) = (&p.track[t - 6], &p.track[t]);
                let Some(who) = holder(now).filter(|_| then.holder == now.holder && t >= until)
                else {
                    continue;
                };
                let speed = |t: usize| {
                    let (a, b) = (&p.track[t - 1].attackers[who], p.track[t].attackers[who]);
                    a.distance(b) / TICK
                };
                if speed(t - 6) - speed(t) > 2.5 {
                    dead += 1;
                    until = t + frames(1.0);
                }
            }
        }
    }
    println!("{dead} in {drives} drives");
    // All four together: 29 in 100 before.
    assert!(drives > 300 && 5 * dead < drives, "{dead} in {drives}");
}

/// Nobody pushes a defender before them to the rim: 3.4 spells of 0.8 s within 0.6 m of a defender a minute against denial, 1.0 to
/// 1.3 against the others before.
#[test]
fn hardly_any_holder_is_welded_to_a_defender() {
    for (defence, possessions) in PLAYED.iter() {
        let mut welded = 0;
        for p in possessions {
            let mut run = (None, 0);
            for frame in &p.track {
                let touches = holder(frame).and_then(|who| {
                    let at = frame.attackers[who];
                    (0..5)
                        .find(|&d| frame.defenders[d].distance(at) < 0.6)
                        .map(|d| (who, d))
                });
                run = match touches {
                    Some(pair) if run.0 == Some(pair) => (Some(pair), run.1 + 1),
                    pair => (pair, 0),
                };
                welded += usize::from(run.1 == frames(0.8));
            }
        }
        let minutes = minutes(possessions);
        println!("{defence}: {welded} in {minutes:.1} min");
        let most = if *defence == "denial" { 2.3 } else { 1.0 };
        assert!((welded as f64) < most * minutes, "{defence}: {welded}");
    }
}

/// Nobody guards from behind the ring: 4.0, 4.3 and 2.0 spells of half a second a minute before (sag, help line, denial).
#[test]
fn hardly_any_defender_is_carried_behind_the_ring() {
    for (defence, possessions) in PLAYED.iter().filter(|(d, _)| *d != "zone_2_3") {
        let mut spells = 0;
        for p in possessions {
            for d in 0..5 {
                let mut run = 0;
                for frame in &p.track {
                    let at = frame.defenders[d];
                    run = if at.y < 0.15 && at.x.abs() < 2.0 {
                        run + 1
                    } else {
                        0
                    };
                    spells += usize::from(run == frames(0.5));
                }
            }
        }
        let minutes = minutes(possessions);
        println!("{defence}: {spells} in {minutes:.1} min");
        let most = if *defence == "denial" { 1.5 } else { 3.0 };
        assert!((spells as f64) < most * minutes, "{defence}: {spells}");
    }
}

/// Common practice: look at whom you pass to. 3 of 10 kick-outs left the hands more than 85° off the chest before.
#[test]
fn whoever_passes_has_turned_to_the_receiver() {
    let (mut blind, mut passes) = (0, 0);
    for (_, possessions) in PLAYED.iter() {
        for p in possessions {
            for event in &p.timeline {
                let What::Passes { from, to, .. } = event.what else {
                    continue;
                };
                let Some(frame) = p.track.get(frames(event.time)) else {
                    continue;
                };
                let (from, to) = (usize::from(from) - 1, usize::from(to) - 1);
                let way = frame.attackers[to] - frame.attackers[from];
                let cos = way.dot(frame.attackers_facing[from]) / way.length();
                passes += 1;
                blind += usize::from(cos < -0.1);
            }
        }
    }
    println!("{blind} of {passes}");
    assert!(passes > 1000 && 100 * blind < passes, "{blind} of {passes}");
}

/// The drives of one possession: who, when it begins, and what ends it when.
fn drives(p: &Possession) -> Vec<(usize, f64, Option<(&What, f64)>)> {
    let drives = |i: usize| match p.timeline[i].what {
        What::Drives { who, .. } => Some(usize::from(who) - 1),
        _ => None,
    };
    let ends = |what: &What| {
        matches!(
            what,
            What::Passes { .. } | What::Stopped { .. } | What::Shoots { .. } | What::Drives { .. }
        )
    };
    let all = (0..p.timeline.len()).filter_map(|i| drives(i).map(|who| (i, who)));
    all.map(|(i, who)| {
        let after = p.timeline[i + 1..].iter().find(|e| ends(&e.what));
        (who, p.timeline[i].time, after.map(|e| (&e.what, e.time)))
    })
    .collect()
}

/// A drive is judged as it seemed when it was chosen, and a shooter outside is passed to without a drive first: half of all
/// kick-outs came within 0.55 s of the drive before, when nothing had happened yet.
#[test]
fn hardly_any_drive_is_given_up_at_once() {
    let (mut early, mut passes) = (0, 0);
    for (_, possessions) in PLAYED.iter() {
        for (_, begins, end) in possessions.iter().flat_map(drives) {
            if let Some((What::Passes { .. }, time)) = end {
                passes += 1;
                early += usize::from(time - begins < 0.55);
            }
        }
    }
    println!("{early} of {passes}");
    assert!(passes > 60 && 5 * early < 2 * passes, "{early} of {passes}");
}

/// Who has been stopped thinks less of the next drive: three drives and more in one spell with the ball came .76 times a minute
/// against denial before, .26 and .15 against the help line and the zone.
#[test]
fn hardly_anybody_drives_again_and_again() {
    for (defence, possessions) in PLAYED.iter() {
        let mut again = 0;
        for p in possessions {
            let all = drives(p);
            for three in all.windows(3) {
                let [(who, from, _), (second, _, _), (third, to, _)] = three else {
                    continue;
                };
                let holds = p.track[frames(*from)..=frames(*to)].iter();
                let one = who == second && who == third;
                again += usize::from(one && holds.clone().all(|f| holder(f) == Some(*who)));
            }
        }
        let minutes = minutes(possessions);
        println!("{defence}: {again} in {minutes:.1} min");
        assert!((again as f64) < 0.15 * minutes, "{defence}: {again}");
    }
}

/// A driver goes for the shoulder: a quarter of all drives against denial, the help line and the zone never got over 2 m/s before,
/// with the middle one at 2.5 to 3.0 m/s.
#[test]
fn a_drive_is_no_walk() {
    for (defence, possessions) in PLAYED.iter() {
        let mut fastest = Vec::new();
        for p in possessions {
            for (who, begins, end) in drives(p) {
                let first = frames(begins);
                let last = frames(end.map_or(begins + 2.0, |(_, t)| t.min(begins + 2.0)));
                let last = last.min(p.track.len() - 1);
                if last < first + frames(0.48) {
                    continue;
                }
                let speed = |t: usize| {
                    let (a, b) = (p.track[t - 3].attackers[who], p.track[t].attackers[who]);
                    a.distance(b) / (3.0 * TICK)
                };
                fastest.push((first + 3..=last).map(speed).fold(0.0, f64::max));
            }
        }
        fastest.sort_by(f64::total_cmp);
        let middle = fastest[fastest.len() / 2];
        println!("{defence}: {middle:.2} m/s, of {}", fastest.len());
        assert!(fastest.len() > 50 && middle > 3.5, "{defence}: {middle}");
    }
}
