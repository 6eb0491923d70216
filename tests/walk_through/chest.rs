//! What chest and feet do, on possessions with all their noise: who is off the ball keeps an eye on it, who has it looks at
//! the rim, and nobody who is near a drive stands and watches it.

use lanelight::court::Vec2;
use lanelight::possession::{Possession, TICK, What};
use lanelight::sim::{Keep, play};

use super::common::*;

const SEEDS: u64 = 60;

fn possessions(defence: &str) -> Vec<Possession> {
    let s = scenario("four_out_one_post", defence, "");
    (1..=SEEDS).map(|seed| play(&s, seed, Keep::ALL)).collect()
}

fn seconds(frames: usize) -> f64 {
    frames as f64 * TICK
}

/// The cosine of the angle between two directions.
fn cos(a: Vec2, b: Vec2) -> f64 {
    a.dot(b) / (a.length() * b.length()).max(1e-9)
}

/// Stretches on end, of so many frames, in which `so` holds.
fn stretches(frames: usize, so: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut all = vec![0];
    for t in 0..frames {
        match (so(t), all.last_mut()) {
            (true, Some(last)) => *last += 1,
            (false, Some(0)) | (_, None) => {}
            (false, _) => all.push(0),
        }
    }
    all
}

/// Common practice: see the ball. A back turned by more than 115 degrees for a second is one that lost it.
#[test]
fn who_runs_without_the_ball_keeps_an_eye_on_it() {
    for defence in DEFENCES {
        let (mut lost, mut all) = (0, 0);
        for p in possessions(defence) {
            all += p.track.len();
            for i in 0..5 {
                let back = |t: usize| {
                    let f = &p.track[t];
                    let ball = Vec2::new(f.ball[0], f.ball[1]);
                    let off = cos(f.attackers_facing[i], ball - f.attackers[i]);
                    f.holder != Some(i as u8 + 1) && off < libm::cos(115f64.to_radians())
                };
                let spells = stretches(p.track.len(), back);
                lost += spells.iter().filter(|&&n| seconds(n) >= 1.0).count();
            }
        }
        let minutes = seconds(all) / 60.0;
        println!("{defence}: {lost} backs to the ball for a second in {minutes:.1} min");
        // They were 6 to 8 a minute.
        assert!((lost as f64) < minutes, "{defence}: {lost} in {minutes}");
    }
}

/// Common practice: face up. Nobody near, more than five metres out.
#[test]
fn a_holder_outside_whom_nobody_presses_looks_at_the_rim() {
    for defence in DEFENCES {
        let (mut turned, mut all) = (0, 0);
        for p in possessions(defence) {
            all += p.track.len();
            for f in &p.track {
                let Some(who) = f.holder.map(|who| usize::from(who) - 1) else {
                    continue;
                };
                let at = f.attackers[who];
                let pressed = f.defenders.iter().any(|d| d.distance(at) < 1.5);
                let back = cos(f.attackers_facing[who], -at) < libm::cos(100f64.to_radians());
                turned += usize::from(back && !pressed && at.length() > 5.0);
            }
        }
        let (turned, minutes) = (seconds(turned), seconds(all) / 60.0);
        println!("{defence}: back to the rim for {turned:.1} s in {minutes:.1} min");
        // It was 1.6 to 4.5 s a minute.
        assert!(turned < minutes, "{defence}: {turned} in {minutes}");
    }
}

/// Common practice: everybody moves as the ball moves. On a drive of a second and more nobody stands stock-still for 0.6 s.
#[test]
fn hardly_anybody_stands_and_watches_a_drive() {
    for defence in DEFENCES {
        let (mut stood, mut drives) = (0, 0);
        for p in possessions(defence) {
            for entry in &p.timeline {
                let What::Drives { who, .. } = entry.what else {
                    continue;
                };
                let first = (entry.time / TICK).round() as usize;
                let drive = &p.track[first.min(p.track.len())..];
                let lasts = drive.iter().take_while(|f| f.holder == Some(who)).count();
                if seconds(lasts) < 1.0 {
                    continue;
                }
                drives += 1;
                // Nobody is asked to know of it in the first third of a second.
                let drive = &drive[8..lasts];
                for d in 0..5 {
                    let still = |t: usize| {
                        let before = drive[t.saturating_sub(1)].defenders[d];
                        t > 0 && drive[t].defenders[d].distance(before) < 0.15 * TICK
                    };
                    let spells = stretches(drive.len(), still);
                    stood += usize::from(spells.iter().any(|&n| seconds(n) >= 0.6));
                }
            }
        }
        println!("{defence}: {stood} stood still in {drives} drives");
        // It was 28 to 88 in a hundred drives.
        assert!(
            drives > 10 && 5 * stood < drives,
            "{defence}: {stood} of {drives}"
        );
    }
}
