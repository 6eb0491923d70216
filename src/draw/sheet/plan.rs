//! A timed plan: blocks of whole minutes that add up to the time there is.

/// Least time for a block to be worth starting, minutes (ours).
const LEAST: u32 = 3;

/// One block of a practice.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// Minutes since the start.
    pub starts: u32,
    /// How long it lasts, minutes.
    pub minutes: u32,
    /// What is practised.
    pub what: String,
}

/// A block as it is wished for: its share of the time, and how much it matters (0 goes last).
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// What is practised.
    pub what: String,
    /// Its share of the time, relative to the other blocks' shares.
    pub share: f64,
    /// The block with the largest rank is dropped first.
    pub rank: u32,
}

/// Fits blocks into `minutes`. Whole minutes by the largest remainder; if a block would fall under
/// three minutes, the one that matters least is left out. Always adds up to `minutes`.
pub fn fit(mut wanted: Vec<Wanted>, minutes: u32) -> Vec<Block> {
    loop {
        if wanted.is_empty() {
            return Vec::new();
        }
        let sum: f64 = wanted.iter().map(|w| w.share).sum();
        let exact: Vec<f64> = wanted
            .iter()
            .map(|w| f64::from(minutes) * w.share / sum.max(1e-9))
            .collect();
        let mut whole: Vec<u32> = exact.iter().map(|e| *e as u32).collect();
        let mut order: Vec<usize> = (0..wanted.len()).collect();
        let rest = |i: usize| exact[i] - f64::from(whole[i]);
        order.sort_by(|&a, &b| rest(b).total_cmp(&rest(a)).then(a.cmp(&b)));
        let left = minutes.saturating_sub(whole.iter().sum());
        for &i in order.iter().cycle().take(left as usize) {
            whole[i] += 1;
        }
        let short = whole.iter().any(|m| *m < LEAST);
        if short && wanted.len() > 1 {
            let least = wanted.iter().enumerate().max_by_key(|(_, w)| w.rank);
            if let Some((i, _)) = least {
                wanted.remove(i);
            }
            continue;
        }
        let mut starts = 0;
        return wanted
            .into_iter()
            .zip(whole)
            .map(|(w, minutes)| {
                let block = Block {
                    starts,
                    minutes,
                    what: w.what,
                };
                starts += minutes;
                block
            })
            .collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn wanted(n: usize) -> Vec<Wanted> {
        let list = (0..n).map(|i| Wanted {
            what: format!("{i}"),
            share: 1.0 + i as f64,
            rank: i as u32,
        });
        list.collect()
    }

    proptest! {
        #[test]
        fn a_plan_fills_the_time_exactly_without_gaps(n in 1_usize..9, minutes in 1_u32..240) {
            let plan = fit(wanted(n), minutes);
            prop_assert!(!plan.is_empty());
            let mut at = 0;
            for block in &plan {
                prop_assert_eq!(block.starts, at);
                at += block.minutes;
                prop_assert!(plan.len() == 1 || block.minutes >= LEAST);
            }
            prop_assert_eq!(at, minutes);
        }
    }

    #[test]
    fn what_matters_least_is_left_out_first() {
        let plan = fit(wanted(8), 12);
        assert!(plan.iter().all(|b| b.what != "7"));
        assert!(plan.iter().any(|b| b.what == "0"));
    }
}
