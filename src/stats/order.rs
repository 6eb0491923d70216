//! Quantiles of a sorted sample.
//!
//! Type 7 of Hyndman and Fan 1996, *Sample quantiles in statistical packages*, Amer. Stat. 50
//! 361–365 (from memory).

/// Quantile `q` (0 to 1) of values sorted upward: linear between order statistics, with the
/// least at 0 and the greatest at 1. `None` for no values or `q` outside 0 to 1.
pub fn quantile(sorted: &[f64], q: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    if !(0.0..=1.0).contains(&q) {
        return None;
    }
    let place = q * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    let part = place - below as f64;
    Some(sorted[below] + part * (sorted[above] - sorted[below]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_run_straight_between_order_statistics() {
        let xs = [1.0, 2.0, 4.0, 8.0];
        let q = |q| quantile(&xs, q);
        assert_eq!((q(0.0), q(1.0), q(0.5)), (Some(1.0), Some(8.0), Some(3.0)));
        assert_eq!(q(0.25), Some(1.75));
        assert_eq!((q(-0.1), q(1.1), q(f64::NAN)), (None, None, None));
        assert_eq!(quantile(&[], 0.5), None);
        assert_eq!(quantile(&[3.0], 0.9), Some(3.0));
    }
}
