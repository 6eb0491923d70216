//! Where a change is to be seen: the first possession, from the one that is shown on, in which it plays differently, and
//! when. Most possessions play a rule that is tried once or never, and two floors that are alike say nothing.

use std::sync::Arc;
use std::sync::atomic::Ordering;

use super::jobs::Job;
use super::variation::Edit;
use crate::court::Vec2;
use crate::possession::Frame;
use crate::sim::cast_of;
use crate::sim::play_on::play_on;

/// So many possessions are looked through.
pub const SEEDS: u64 = 60;
/// Players farther from each other than this are seen to be elsewhere, metres (ours).
const SEEN: f64 = 0.5;
/// So long the rest of the possession has to be, seconds: there has to be something to see.
const LEFT: f64 = 1.5;

/// A possession, and when it begins to be another, seconds.
pub type Parts = (u64, f64);

/// Looks for it from seed `from` on.
pub fn find(base: &Edit, changed: &Edit, from: u64) -> Job<Option<Parts>> {
    let both = [base.clone(), changed.clone()];
    Job::start("parts", SEEDS, move |stop, done| {
        let [base, changed] = both.map(|edit| edit.scenario().map(Arc::new));
        let (base, changed) = (base?, changed?);
        let casts = [cast_of(&base), cast_of(&changed)];
        for seed in (from..u64::MAX).take(SEEDS as usize) {
            if stop.load(Ordering::Relaxed) {
                return None;
            }
            let (one, _) = play_on(&base, &casts[0], seed, &[]);
            let (other, _) = play_on(&changed, &casts[1], seed, &[]);
            if let Some(time) = parts(&one.track, &other.track) {
                return Some(Some((seed, time)));
            }
            done.fetch_add(1, Ordering::Relaxed);
        }
        Some(None)
    })
}

/// When two tracks begin to differ so that it is seen, seconds, if something is left of both then.
fn parts(one: &[Frame], other: &[Frame]) -> Option<f64> {
    let ends = |track: &[Frame]| track.last().map_or(0.0, |f| f.time);
    let first = one.iter().zip(other).find(|(a, b)| apart(a, b))?;
    let time = first.0.time;
    (time + LEFT <= ends(one).min(ends(other))).then_some(time)
}

fn apart(a: &Frame, b: &Frame) -> bool {
    let far =
        |a: &[Vec2; 5], b: &[Vec2; 5]| a.iter().zip(b).any(|(a, b)| (*a - *b).length() > SEEN);
    far(&a.attackers, &b.attackers) || far(&a.defenders, &b.defenders) || a.holder != b.holder
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::super::variation::allow;
    use super::*;
    use crate::offence::LookKind;
    use std::time::Duration;

    #[test]
    fn both_play_alike_until_they_part_and_a_change_that_changes_nothing_is_nowhere_seen() {
        let base = store::demo();
        let mut changed = base.clone();
        allow(&mut changed.offence, LookKind::Skip, true);
        let mut job = find(&base, &changed, 3);
        let found = job.take_within(Duration::from_secs(120)).flatten();
        let (seed, time) = found.expect("a possession");
        assert!(seed >= 3);
        let track = |edit: &Edit| {
            let scenario = Arc::new(edit.scenario().expect("sound"));
            play_on(&scenario, &cast_of(&scenario), seed, &[]).0.track
        };
        let (one, other) = (track(&base), track(&changed));
        for (a, b) in one.iter().zip(&other) {
            assert_eq!(apart(a, b), a.time >= time - 1e-9, "{} {time}", a.time);
            if a.time >= time {
                break;
            }
        }
        let mut same = find(&base, &base, 1);
        let found = same.take_within(Duration::from_secs(120));
        assert_eq!(found, Some(None));
    }
}
