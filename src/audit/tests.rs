//! Sights worked out by hand on small clips.

use super::counts::{Counts, List, Pair};
use super::*;
use crate::court::Vec2;

/// Samples of the usual clip: 3.6 s.
const N: usize = 30;

/// Five spots about the rim, 7 m out and 5 m or so apart, from corner to corner.
fn spot(who: usize) -> Vec2 {
    let spots = [
        (-7.0, 0.0),
        (-4.95, 4.95),
        (0.0, 7.0),
        (4.95, 4.95),
        (7.0, 0.0),
    ];
    Vec2::new(spots[who].0, spots[who].1)
}

/// Everybody on a spot, each one's defender a metre nearer to the rim, nobody with the ball.
fn still(samples: usize) -> Clip {
    let frame = Frame {
        attackers: [0, 1, 2, 3, 4].map(spot),
        defenders: [0, 1, 2, 3, 4].map(|who| spot(who) * (6.0 / 7.0)),
        ball: Vec2::ZERO,
        holder: None,
    };
    Clip {
        frames: vec![frame; samples],
        to_end: true,
    }
}

/// A clip in which the holders follow one another: (attacker or none, samples).
fn held(by: &[(Option<usize>, usize)]) -> Clip {
    let holders: Vec<_> = by
        .iter()
        .flat_map(|&(who, samples)| vec![who; samples])
        .collect();
    let mut clip = still(holders.len());
    for (frame, holder) in clip.frames.iter_mut().zip(holders) {
        frame.holder = holder;
    }
    clip
}

fn put(clip: &mut Clip, who: usize, at: impl Fn(usize) -> Vec2) {
    for (i, frame) in clip.frames.iter_mut().enumerate() {
        match who {
            0..5 => frame.attackers[who] = at(i),
            _ => frame.defenders[who - 5] = at(i),
        }
    }
}

fn time(i: usize) -> f64 {
    i as f64 * STEP
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

fn counted(clip: &Clip, count: impl Fn(&Clip, &mut Counts)) -> Counts {
    let mut counts = Counts::default();
    count(clip, &mut counts);
    counts
}

#[test]
fn speeds_are_those_of_the_run_and_the_fast_share_counts_samples() {
    let mut clip = held(&[(Some(2), N)]);
    put(&mut clip, 0, |i| spot(0) + Vec2::new(0.0, 4.0 * time(i)));
    put(&mut clip, 2, |i| spot(2) - Vec2::new(1.5 * time(i), 0.0));
    // This defender is nearest to the holder all the while.
    put(&mut clip, 7, |i| {
        Vec2::new(-1.5 * time(i), 6.0 - 0.5 * time(i))
    });
    let c = counted(&clip, |clip, c| {
        motion::speeds(clip, &Matches::of(clip), c);
    });
    let speeds = c.list(List::OffenceSpeed);
    assert_eq!(speeds.len(), 5 * N);
    assert!(speeds.iter().step_by(5).all(|v| near(*v, 4.0)));
    assert_eq!(c.pair(Pair::OffenceFast), (N as f64, 5.0 * N as f64));
    assert_eq!(c.pair(Pair::DefenceFast), (0.0, 5.0 * N as f64));
    assert!(c.list(List::HolderSpeed).iter().all(|v| near(*v, 1.5)));
    let on_ball = 2.5_f64.sqrt();
    assert!(c.list(List::OnBallSpeed).iter().all(|v| near(*v, on_ball)));
    assert_eq!(c.pair(Pair::HolderMoves), (N as f64, N as f64));
    assert_eq!(c.pair(Pair::AllFourStand), (0.0, N as f64));
    let stand = counted(&held(&[(Some(2), N), (None, 9)]), |clip, c| {
        motion::speeds(clip, &Matches::of(clip), c);
    });
    assert_eq!(stand.pair(Pair::AllFourStand), (N as f64, N as f64));
}

#[test]
fn a_steady_push_has_its_own_acceleration_and_stays_under_the_next_limit() {
    let mut clip = still(N);
    put(&mut clip, 6, |i| {
        spot(1) + Vec2::new(3.5 * time(i) * time(i), 0.0)
    });
    put(&mut clip, 3, |i| {
        spot(3) + Vec2::new(0.0, 1.0 * time(i) * time(i))
    });
    let c = counted(&clip, motion::accelerations);
    let of = |list, who: usize| c.list(list).iter().skip(who).step_by(5).copied();
    assert_eq!(c.list(List::DefenceAcceleration).len(), 5 * (N - 4));
    assert!(of(List::DefenceAcceleration, 1).all(|a| near(a, 7.0)));
    assert!(of(List::DefenceAcceleration, 0).all(|a| near(a, 0.0)));
    assert!(of(List::OffenceAcceleration, 3).all(|a| near(a, 2.0)));
    let samples = (N - 4) as f64;
    assert_eq!(c.pair(Pair::DefenceAbove6), (samples, 5.0 * samples));
    assert_eq!(c.pair(Pair::DefenceAbove8), (0.0, 5.0 * samples));
    assert_eq!(c.pair(Pair::DefenceAbove10), (0.0, 5.0 * samples));
}

#[test]
fn a_jump_is_a_change_of_more_than_three_metres_a_second_between_samples() {
    for (turn, jumps) in [(1.6, 1.0), (1.4, 0.0)] {
        let mut clip = still(N);
        // There and back at the same speed: the velocity changes by twice that.
        let back = |i: usize| (time(10) - (time(i) - time(10)).abs()) * turn;
        put(&mut clip, 8, |i| spot(3) + Vec2::new(back(i), 0.0));
        let c = counted(&clip, motion::jumps);
        let (y, x) = c.pair(Pair::Jumps);
        assert_eq!(y, 60.0 * jumps, "{turn} m/s");
        assert!(near(x, 3.6));
    }
}

#[test]
fn the_first_mover_is_an_attacker_without_the_ball() {
    let mut clip = held(&[(Some(0), N)]);
    let run = |start: usize| move |i: usize| Vec2::new(0.0, 3.0 * time(i.saturating_sub(start)));
    put(&mut clip, 0, |i| spot(0) + run(2)(i));
    put(&mut clip, 9, |i| spot(4) + run(3)(i));
    let none = counted(&clip, motion::first_mover);
    assert!(near(none.list(List::FirstMover)[0], 3.6));
    put(&mut clip, 4, |i| spot(4) + run(10)(i));
    // At sample 10 the central difference is half of 3 m/s, at 11 it is all of it.
    let c = counted(&clip, motion::first_mover);
    assert!(near(c.list(List::FirstMover)[0], 11.0 * STEP));
}

#[test]
fn a_spell_counts_from_the_nearest_sample_on_and_the_holder_can_be_left_out() {
    let beside = |from: usize, long: usize, who: usize, off: f64| {
        move |i: usize| match (from..from + long).contains(&i) {
            true => spot(who) + Vec2::new(0.0, off),
            false => spot(who) + Vec2::new(0.0, 3.0),
        }
    };
    let rate = |clip: &Clip, pair| counted(clip, spacing::crowding).pair(pair);
    for (long, spells) in [(7, 0.0), (8, 1.0), (20, 1.0)] {
        let mut clip = still(N);
        put(&mut clip, 1, beside(4, long, 0, 1.4));
        let (y, x) = rate(&clip, Pair::MatesNear);
        assert_eq!(y, 10.0 * spells, "{long} samples");
        assert!(near(x, 2.6));
        assert_eq!(rate(&clip, Pair::MatesNearFree).0, 10.0 * spells);
        assert_eq!(rate(&clip, Pair::MatesTight).0, 0.0);
        clip.frames.iter_mut().for_each(|f| f.holder = Some(1));
        assert_eq!(rate(&clip, Pair::MatesNear).0, 10.0 * spells);
        assert_eq!(rate(&clip, Pair::MatesNearFree).0, 0.0);
    }
    for (long, spells) in [(3, 0.0), (4, 1.0)] {
        let mut clip = still(N);
        put(&mut clip, 1, beside(4, long, 0, 0.9));
        put(&mut clip, 6, beside(4, long, 3, 3.0));
        put(&mut clip, 8, beside(4, long, 3, 3.8));
        let (y, x) = rate(&clip, Pair::MatesTight);
        assert_eq!(y, 10.0 * spells);
        assert!(near(x, 3.1));
        // Defenders: one within 0.8 m of another's spot for as long.
        let mut apart = clip.clone();
        put(&mut apart, 6, beside(0, N, 1, 5.0));
        assert_eq!(rate(&apart, Pair::DefendersTight).0, 0.0);
        put(&mut apart, 8, beside(4, long, 1, 5.8));
        assert_eq!(rate(&apart, Pair::DefendersTight).0, 10.0 * spells);
    }
}

#[test]
fn places_are_counted_sample_by_sample() {
    let mut clip = held(&[(Some(0), N)]);
    put(&mut clip, 1, |_| Vec2::new(-1.0, 1.0));
    put(&mut clip, 2, |_| Vec2::new(1.0, 1.0));
    put(&mut clip, 3, |i| {
        Vec2::new(0.0, if i < 6 { 2.0 } else { 4.0 })
    });
    let c = counted(&clip, spacing::places);
    assert_eq!(c.pair(Pair::ThreeAtTheRim), (6.0, N as f64));
    assert_eq!(c.pair(Pair::Outside), (2.0 * N as f64, N as f64));
    // From the corners to the player at (±1, 1): √(36 + 1).
    let away = 37.0_f64.sqrt();
    assert!(c.list(List::NearestMate).iter().all(|d| near(*d, away)));
    // Triangle of the corners and the player at (0, 4): 14 · 4 / 2; at (0, 2) it is half of that.
    assert!(near(c.list(List::AttackHull)[29], 28.0) && near(c.list(List::AttackHull)[0], 14.0));
    // Defenders: half a regular octagon, radius 6: four triangles of 36 · sin 45° / 2.
    let hull = 72.0 * 0.5_f64.sqrt();
    assert!((c.list(List::DefenceHull)[0] - hull).abs() < 0.02);
    // The holder outside is not counted, the other corner is, by its mirrored cell.
    assert_eq!(
        c.cells().iter().collect::<Vec<_>>(),
        [(&(14, 0), &(N as u32))]
    );
    let mirrored = counted(&still(N), spacing::places);
    assert_eq!(mirrored.cells()[&(14, 0)], 2 * N as u32);
}

#[test]
fn passes_are_transfers_from_1_8_metres_on() {
    let mut clip = held(&[
        (Some(0), 10),
        (None, 5),
        (Some(1), 5),
        (None, 3),
        (Some(1), 4),
        (Some(3), 6),
    ]);
    let spots = 4.95 - 7.0_f64;
    let first = (spots * spots + 4.95 * 4.95).sqrt();
    let holds = clip.holds();
    assert_eq!(holds.len(), 4);
    let passes = clip.passes(&holds);
    // 0 to 1, and 1 to 3 from one sample to the next; picking up one's own ball is no pass.
    assert_eq!(passes.len(), 2);
    assert_eq!((passes[0].from, passes[0].to), (0, 1));
    assert_eq!((passes[0].release, passes[0].caught), (9, 15));
    assert!(near(passes[0].length, first) && near(passes[1].length, 9.9));
    let c = counted(&clip, |clip, c| passes::passes(clip, &passes, c));
    assert!(near(c.pair(Pair::Passes).0, 20.0) && near(c.pair(Pair::Passes).1, 33.0 * STEP));
    assert!(near(c.list(List::BallSpeedTo6)[0], first / (6.0 * STEP)));
    assert!(near(c.list(List::BallSpeedTo10)[0], 9.9 / STEP));
    assert!(near(c.list(List::ReleaseGap)[0], (26.0 - 9.0) * STEP));
    // A hand-off: 1 comes to 3 and hands the ball over.
    put(&mut clip, 1, |_| spot(3) + Vec2::new(0.0, 1.7));
    assert_eq!(clip.passes(&clip.holds()).len(), 1);
}

#[test]
fn touches_catches_and_next_actions() {
    let catches = |clip: &Clip| {
        let holds = clip.holds();
        let passes = clip.passes(&holds);
        counted(clip, |clip, c| passes::catches(clip, &passes, &holds, c))
    };
    let mut clip = held(&[
        (Some(0), 8),
        (None, 4),
        (Some(2), 10),
        (None, 4),
        (Some(4), 6),
    ]);
    let c = catches(&clip);
    let touches = c.list(List::Touch);
    assert!(
        near(touches[0], 1.2) && near(touches[1], 0.72),
        "{touches:?}"
    );
    // Nobody goes anywhere: the next action is the release, and the shot at the end.
    assert_eq!(c.list(List::CatchToAction), touches);
    assert_eq!(c.pair(Pair::CatchStanding), (2.0, 2.0));
    // Not the end of the possession: the last touch is cut off.
    clip.to_end = false;
    assert_eq!(catches(&clip).list(List::Touch).len(), 1);
    // 2 is on the move at the catch, at 2 m/s: 1.2 m after 0.6 s.
    put(&mut clip, 2, |i| {
        spot(2) + Vec2::new(2.0 * time(i) - 2.0, 0.0)
    });
    let c = catches(&clip);
    assert_eq!(c.pair(Pair::CatchStanding), (1.0, 2.0));
    assert!(near(c.list(List::CatchToAction)[0], 0.6));
    // Caught inside: no outside catch.
    put(&mut clip, 2, |_| Vec2::new(0.0, 5.4));
    assert!(catches(&clip).list(List::CatchToAction).is_empty());
}

#[test]
fn a_drive_gains_two_and_a_half_metres_in_time_and_ends_when_it_stops() {
    // 3 m/s straight to the rim from sample 5 to 15: from 7 m to 3.4 m; then back out.
    let drive = |speed: f64| {
        move |i: usize| {
            let on = time(i.clamp(5, 15) - 5) - 0.2 * time(i.max(15) - 15);
            Vec2::new(0.0, 7.0 - speed * on)
        }
    };
    let mut clip = held(&[(Some(2), N)]);
    put(&mut clip, 2, drive(3.0));
    let drives = find_drives(&clip, &clip.holds());
    assert_eq!(drives.len(), 1);
    // The first sample from which 2.5 m are gained within ten: 7 of the run's steps of 0.36 m.
    let [d] = drives[..] else { panic!("one drive") };
    assert_eq!((d.who, d.start, d.end), (2, 2, 15));
    let count = |clip: &Clip| {
        let holds = clip.holds();
        counted(clip, |clip, c| drives::drives(clip, &holds, c))
    };
    assert_eq!(count(&clip).pair(Pair::Drives).0, 10.0);
    assert_eq!(count(&clip).pair(Pair::DriveMate15), (0.0, 1.0));
    // A team-mate 1.2 m from its end is within 1.5 m, not within 1.0 m; outside 5 m nobody asks.
    put(&mut clip, 1, |_| Vec2::new(1.2, 3.4));
    put(&mut clip, 3, |_| Vec2::new(0.3, 6.5));
    assert_eq!(count(&clip).pair(Pair::DriveMate15), (1.0, 1.0));
    assert_eq!(count(&clip).pair(Pair::DriveMate10), (0.0, 1.0));
    // Too slow (2 m/s: 2.4 m in 1.2 s), not by one holder, or not begun outside 5 m: no drive.
    let mut slow = held(&[(Some(2), N)]);
    put(&mut slow, 2, drive(2.0));
    assert_eq!(count(&slow).pair(Pair::Drives).0, 0.0);
    let mut shared = clip.clone();
    shared.frames[10].holder = None;
    assert_eq!(count(&shared).pair(Pair::Drives).0, 0.0);
    let mut inside = clip.clone();
    put(&mut inside, 2, |i| drive(3.0)(i) - Vec2::new(0.0, 2.1));
    assert_eq!(count(&inside).pair(Pair::Drives).0, 0.0);
}

#[test]
fn a_cut_is_quick_and_off_the_ball_and_its_stay_ends_three_metres_out() {
    // From 7 m at 5 m/s (0.6 m a sample) to 1 m, four samples there, and out again.
    let cut = |i: usize| {
        let out: f64 = match i {
            0..5 => 7.0,
            5..15 => 7.0 - 0.6 * (i - 4) as f64,
            15..19 => 1.0,
            _ => (1.0 + 0.6 * (i - 18) as f64).min(7.0),
        };
        Vec2::new(0.0, out)
    };
    let count = |clip: &Clip| counted(clip, drives::cuts);
    let mut clip = still(N);
    put(&mut clip, 2, cut);
    let c = count(&clip);
    assert_eq!(c.pair(Pair::Cuts).0, 10.0);
    // Nearer than 2.5 m from sample 12 (2.2 m) on; the last within 3 m is 21 (2.8 m).
    assert_eq!(c.list(List::CutterStays).len(), 1);
    assert!(near(c.list(List::CutterStays)[0], (21.0 - 12.0) * STEP));
    // Fed: the cut counts, the stay does not.
    let mut fed = clip.clone();
    (15..18).for_each(|i| fed.frames[i].holder = Some(2));
    assert_eq!(count(&fed).pair(Pair::Cuts).0, 10.0);
    assert!(count(&fed).list(List::CutterStays).is_empty());
    // With the ball on the way in it is no cut.
    let mut with_it = clip.clone();
    (8..10).for_each(|i| with_it.frames[i].holder = Some(2));
    assert_eq!(count(&with_it).pair(Pair::Cuts).0, 0.0);
    // From 6 m to 2.5 m in 2.7 s is too slow.
    let mut slow = still(N);
    put(&mut slow, 2, |i| Vec2::new(0.0, 7.0 - 1.3 * time(i)));
    assert_eq!(count(&slow).pair(Pair::Cuts).0, 0.0);
}

#[test]
fn the_match_is_the_least_total_over_two_seconds_and_not_that_of_an_instant() {
    let mut clip = still(N);
    // For three samples defenders 1 and 2 stand in each other's place.
    put(&mut clip, 5, |i| {
        spot(usize::from((14..17).contains(&i))) * (6.0 / 7.0)
    });
    put(&mut clip, 6, |i| {
        spot(usize::from(!(14..17).contains(&i))) * (6.0 / 7.0)
    });
    let matches = Matches::of(&clip);
    for i in 0..N {
        assert_eq!(
            [0, 1, 2, 3, 4].map(|a| matches.guard_of(i, a)),
            [0, 1, 2, 3, 4]
        );
    }
    // From the middle on they have changed men for good.
    put(&mut clip, 5, |i| spot(usize::from(i >= 15)) * (6.0 / 7.0));
    put(&mut clip, 6, |i| spot(usize::from(i < 15)) * (6.0 / 7.0));
    let matches = Matches::of(&clip);
    assert_eq!((matches.guard_of(0, 0), matches.guard_of(29, 0)), (0, 1));
}

#[test]
fn distances_are_told_by_the_relation_to_the_ball() {
    let mut clip = held(&[(Some(1), N)]);
    // 4 is inside; X1 to X5 are 1.0, 1.1, 1.2, 1.3 and 0.5 m off.
    put(&mut clip, 4, |_| Vec2::new(3.0, 0.0));
    for (who, off) in [(0, 1.0), (1, 1.1), (2, 1.2), (3, 1.3)] {
        put(&mut clip, 5 + who, |_| spot(who) * ((7.0 - off) / 7.0));
    }
    put(&mut clip, 9, |_| Vec2::new(2.5, 0.0));
    let tell = |clip: &Clip| {
        counted(clip, |clip, c| {
            guarding::distances(clip, &Matches::of(clip), c);
        })
    };
    let c = tell(&clip);
    let only = |list, wanted: &[f64]| {
        let values = c.list(list);
        assert_eq!(values.len(), wanted.len() * N, "{list:?}");
        // The spots on the diagonals lie 7.0004 m out.
        let each = values.iter().zip(wanted.iter().cycle());
        each.for_each(|(v, w)| assert!((v - w).abs() < 1e-3, "{list:?}: {v}, not {w}"));
    };
    only(List::OffOnBall, &[1.1]);
    only(List::OffOnePass, &[1.0, 1.2]);
    only(List::OffTwoPasses, &[1.3]);
    only(List::OffInside, &[0.5]);
    // With the holder inside 4.2 m only the ball is told.
    clip.frames.iter_mut().for_each(|f| f.holder = Some(4));
    let c = tell(&clip);
    assert_eq!(c.list(List::OffOnBall).len(), N);
    assert!(c.list(List::OffOnePass).is_empty() && c.list(List::OffInside).is_empty());
}

#[test]
fn a_closeout_is_seen_at_once_and_after_half_a_second_and_a_second() {
    let mut clip = held(&[(Some(0), 8), (None, 4), (Some(2), 14)]);
    // X3 comes from 3 m at 2 m/s from the catch (sample 12) on.
    let off = |i: usize| 3.0 - 2.0 * time(i.max(12) - 12);
    put(&mut clip, 7, |i| spot(2) - Vec2::new(0.0, off(i)));
    let close = |clip: &Clip| {
        let holds = clip.holds();
        let passes = clip.passes(&holds);
        counted(clip, |clip, c| {
            guarding::closeouts(clip, &passes, &holds, c)
        })
    };
    let c = close(&clip);
    assert!(near(c.list(List::CatchRoom)[0], 3.0));
    assert!(near(c.list(List::CatchRoomHalf)[0], 3.0 - 2.0 * 0.48));
    assert!(near(c.list(List::CatchRoomOne)[0], 3.0 - 2.0 * 0.96));
    // The ball is passed on after 0.6 s: nothing is asked after a second.
    clip.frames[17..].iter_mut().for_each(|f| f.holder = None);
    let c = close(&clip);
    assert_eq!(c.list(List::CatchRoomHalf).len(), 1);
    assert!(c.list(List::CatchRoomOne).is_empty());
}

#[test]
fn only_settled_parts_up_to_the_shot_are_counted() {
    let frames = |n| held(&[(Some(0), n)]).frames;
    let track = |frames: Vec<Frame>, shot| Track {
        frames,
        every: 1,
        shot,
    };
    let lengths = |t: &Track| -> Vec<usize> { t.clips().iter().map(|c| c.frames.len()).collect() };
    assert_eq!(lengths(&track(frames(60), None)), [60]);
    assert_eq!(lengths(&track(frames(60), Some(40))), [41]);
    // 2.88 s are too short, 3.0 s are enough.
    assert_eq!(lengths(&track(frames(24), None)), [0_usize; 0]);
    assert_eq!(lengths(&track(frames(25), None)), [25]);
    // One defender behind the half-court line at sample 30.
    let mut behind = frames(60);
    behind[30].defenders[2].y = FRONT + 0.1;
    assert_eq!(lengths(&track(behind.clone(), None)), [30, 29]);
    let clips = track(behind, None).clips();
    assert_eq!([clips[0].to_end, clips[1].to_end], [false, true]);
    // Without a shot the end of the last hold of 0.24 s is the end.
    let mut lost = frames(60);
    lost[50..].iter_mut().for_each(|f| f.holder = None);
    lost[55].holder = Some(3);
    assert_eq!(lengths(&track(lost, None)), [50]);
    // Every third frame of 25 a second.
    let mut ticks = track(frames(178), Some(176));
    ticks.every = 3;
    assert_eq!(lengths(&ticks), [59]);
}

#[test]
fn possessions_with_three_passes_are_counted_a_second_time() {
    let pass = |n: usize| {
        let holds: Vec<_> = (0..=n).map(|i| (Some(i % 5), 10)).collect();
        Counts::of(&Track {
            frames: held(&holds).frames,
            every: 1,
            shot: None,
        })
    };
    assert!(near(pass(2).pair(Pair::Passes).0, 20.0));
    assert_eq!(pass(2).pair(Pair::PassesOfMany), (0.0, 0.0));
    assert!(near(pass(3).pair(Pair::PassesOfMany).0, 30.0));
}
