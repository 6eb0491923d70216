//! Time adds up: what is said of looks is said of all the time that the ball is held, and of no other.

use std::collections::BTreeMap;

use lanelight::offence::LookKind;
use lanelight::possession::{Ballwork, DECISION_EVERY, Possession};
use lanelight::scrimmage::Row;
use lanelight::scrimmage::windows::STALL;
use lanelight::sim::Keep;
use proptest::prelude::*;

use super::worlds::{cases, play, scenario, seed};

/// Decision instants by the track: every fifth tick from the one after somebody got the ball, as long
/// as the tick before left it in his hands. (Frame `t` is the end of tick `t`.)
fn held_by_the_track(possession: &Possession) -> usize {
    let track = &possession.track;
    let mut since = Some(0);
    let mut count = 0;
    for t in 0..track.len() {
        let before = t.checked_sub(1).map(|t| &track[t]);
        if let Some(before) = before {
            // Handed over, it is got anew.
            let first = t.checked_sub(2).and_then(|t| track[t].holder);
            let handed = first.is_some() && before.holder != first;
            since = match before.holder {
                Some(_) if handed => Some(t),
                Some(_) => since.or(Some(t)),
                None => None,
            };
        }
        count +=
            usize::from(since.is_some_and(|s| (t - s).is_multiple_of(DECISION_EVERY as usize)));
    }
    count
}

fn adds_up(possession: &Possession) -> Result<(), String> {
    let row = Row::of(possession);
    let moments = &possession.moments;
    let held = held_by_the_track(possession);
    if moments.len() != held || row.instants as usize != held {
        return Err(format!(
            "{} instants with looks, {held} with the ball in hand",
            moments.len()
        ));
    }
    let still = moments.iter().filter(|m| m.ballwork != Ballwork::Driving);
    if still.count() != row.held as usize {
        return Err("held instants are not those without a drive".into());
    }
    let mut open_by_kind: BTreeMap<LookKind, u32> = BTreeMap::new();
    for m in moments {
        let mut keys: Vec<_> = m.looks.iter().map(|l| (l.kind, l.to)).collect();
        keys.sort_unstable();
        let count = keys.len();
        keys.dedup();
        if keys.len() != count {
            return Err(format!("{:.2} s: a look is measured twice", m.time));
        }
        if m.looks.iter().any(|l| l.to == Some(m.holder)) {
            return Err(format!("{:.2} s: a pass to himself", m.time));
        }
        for look in &m.looks {
            let numbers = [look.openness, look.prize, look.value];
            if numbers.iter().any(|n| !n.is_finite()) || !(0.0..=1.0).contains(&look.openness) {
                return Err(format!("{:.2} s: {look:?}", m.time));
            }
            if look.open {
                *open_by_kind.entry(look.kind).or_default() += 1;
            }
        }
    }
    // Every look is open, or shut by one defender, or shut by nobody in particular; windows are the
    // open time cut into spells, stalls the longer ones of the time with nothing open.
    for kind in LookKind::ALL {
        let look = row.look(kind);
        let of_kind = || {
            moments
                .iter()
                .flat_map(|m| &m.looks)
                .filter(|l| l.kind == kind)
        };
        let nobody = of_kind().filter(|l| !l.open && l.closer.is_none()).count() as u32;
        if look.seen != of_kind().count() as u32 || look.seen != look.open + look.closed() + nobody
        {
            return Err(format!("{kind:?}: seen {} do not add up", look.seen));
        }
        let shut: u32 = look.shut.iter().flatten().map(|n| u32::from(*n)).sum();
        if shut != look.closed() {
            return Err(format!(
                "{kind:?}: shut {shut} by duty, {} by number",
                look.closed()
            ));
        }
        let windows: u32 = look.windows.iter().map(|n| u32::from(*n)).sum();
        let open = open_by_kind.get(&kind).copied().unwrap_or(0);
        if windows != open || look.open != open {
            return Err(format!(
                "{kind:?}: {windows} instants in windows, {open} open"
            ));
        }
        if look.open_instants > row.instants || look.held_open > row.held {
            return Err(format!("{kind:?}: open for longer than held"));
        }
    }
    let stalled: u32 = row.stalls.iter().map(|n| u32::from(*n)).sum();
    let dark = moments
        .iter()
        .filter(|m| m.looks.iter().all(|l| !l.open))
        .count();
    let short = row.stalls.iter().any(|n| *n < STALL);
    if stalled as usize > dark || short {
        return Err(format!(
            "{stalled} instants in stalls, {dark} with nothing open: {:?}",
            row.stalls
        ));
    }
    Ok(())
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn time_in_looks_sums_to_the_time_held(scenario in scenario(), seed in seed()) {
        let possession = play(&scenario, seed, Keep::ALL);
        prop_assert_eq!(adds_up(&possession), Ok(()));
    }
}
