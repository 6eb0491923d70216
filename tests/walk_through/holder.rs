//! What a holder does when nobody tells him: every catch outside is a threat, and a drive waits
//! until the lane is clear. On possessions with all their noise, so these are means and not rules.

use lanelight::offence::LookKind;
use lanelight::possession::{Ballwork, Frame, Moment};
use lanelight::sim::{Keep, play};

use super::common::*;

const SEEDS: u64 = 240;

fn moments() -> Vec<Moment> {
    let s = reference("");
    let all = (0..SEEDS).flat_map(|seed| play(&s, seed, Keep::FIGURES).moments);
    let free = |m: &Moment| matches!(m.ballwork, Ballwork::Holding | Ballwork::Dribbling);
    all.filter(|m| m.at.name.is_perimeter() && free(m))
        .collect()
}

fn chosen(m: &Moment) -> Option<LookKind> {
    m.choice.map(|i| m.looks[i].kind)
}

#[test]
fn whoever_catches_outside_looks_at_shot_drive_and_passes_before_he_moves_the_ball_on() {
    let all = moments();
    let moved: Vec<&Moment> = all
        .iter()
        .filter(|m| chosen(m) == Some(LookKind::NextPass))
        .collect();
    assert!(moved.len() > 50, "{} passes", moved.len());
    for m in moved {
        assert!(
            m.held >= 0.2 - 1e-9,
            "{} passed on after {} s",
            m.holder,
            m.held
        );
    }
    for m in &all {
        for kind in [LookKind::Shot, LookKind::Drive] {
            assert!(m.looks.iter().any(|l| l.kind == kind && l.allowed));
        }
    }
}

/// A loose ball run down by half court leaves nearly everybody out of range, and now everybody beside it goes for it.
#[test]
fn a_holder_has_two_passes_in_range_but_for_one_instant_in_five_hundred() {
    let all = moments();
    let passes = |m: &&Moment| m.looks.iter().filter(|l| l.to.is_some()).count() >= 2;
    let lonely = all.len() - all.iter().filter(passes).count();
    println!(
        "{lonely} of {} instants with fewer than two passes in range",
        all.len()
    );
    assert!(lonely * 500 <= all.len());
}

/// A clear lane is rare, and most drives start with a body to get past; but they start oftener where it is clear.
#[test]
fn a_drive_waits_until_the_lane_is_clear() {
    let all = moments();
    let lane = |m: &Moment| {
        m.looks
            .iter()
            .find(|l| l.kind == LookKind::Drive)
            .map_or(0.0, |l| l.openness)
    };
    let mean = |list: &[f64]| list.iter().sum::<f64>() / list.len().max(1) as f64;
    let (driven, kept): (Vec<&Moment>, Vec<&Moment>) =
        all.iter().partition(|m| chosen(m) == Some(LookKind::Drive));
    let driven: Vec<f64> = driven.into_iter().map(lane).collect();
    let kept: Vec<f64> = kept.into_iter().map(lane).collect();
    println!(
        "{} drives, lane {:.3}; {} other instants, lane {:.3}",
        driven.len(),
        mean(&driven),
        kept.len(),
        mean(&kept)
    );
    assert!(driven.len() >= 10, "{} drives", driven.len());
    assert!(
        mean(&driven) > 2.0 * mean(&kept),
        "{} against {}",
        mean(&driven),
        mean(&kept)
    );
}

/// High-school players may not dribble closely guarded (within six feet) for five seconds (NFHS 4-10, 9-10), nor dribble
/// a second time (NFHS 9-5).
#[test]
fn whoever_cannot_shake_the_defender_off_picks_the_dribble_up_in_time_and_does_not_dribble_again() {
    const SIX_FEET: f64 = 1.8288;
    let (mut given_up, mut longest) = (0, 0.0f64);
    for defence in ["denial", "help_line"] {
        let s = scenario("four_out_one_post", defence, "");
        for seed in 0..800 {
            let p = play(&s, seed, Keep::ALL);
            let mut began = None;
            for (a, b) in p.moments.iter().zip(p.moments.iter().skip(1)) {
                let same = a.holder == b.holder && b.held > a.held;
                let again = same && a.ballwork == Ballwork::PickedUp && b.ballwork != a.ballwork;
                assert!(
                    !again,
                    "{defence}, seed {seed}, {:.2} s: dribbles again",
                    b.time
                );
                let near = |f: &Frame| {
                    let at = f.attackers[usize::from(a.holder) - 1];
                    f.defenders.iter().any(|x| x.distance(at) <= SIX_FEET)
                };
                let mut between = p.track.iter();
                let near = between.all(|f| f.time < a.time || f.time > b.time || near(f));
                if !(same && near && a.ballwork == Ballwork::Dribbling) {
                    began = None;
                    continue;
                }
                let dribbled = b.time - *began.get_or_insert(a.time);
                longest = longest.max(dribbled);
                given_up += usize::from(b.ballwork == Ballwork::PickedUp && dribbled > 3.9);
            }
        }
    }
    println!("{given_up} picked up, the longest closely guarded dribble lasts {longest:.2} s");
    assert!(given_up > 4 && longest < 5.0, "{given_up}, {longest}");
}
