//! How bright a look is: one measure behind the light on the floor, the strip of a possession, what is said of a
//! moment, and the stalls of the figures.
//!
//! A look that is open has light, and one that is not has none. The light says what the look is worth: dim where it
//! is worth no more than to keep the ball, full where it is as good as a lay-up.

use super::{Ballwork, LookNow, Moment};

/// Light of an open look that is worth no more than to go on, 0 to 1: a pass that only moves the ball.
pub const DIM: f64 = 0.3;

/// Worth, in the team's usual possessions, up to which an open look is dim, and from which it is as bright as can
/// be (ours).
const WORTH: (f64, f64) = (0.9, 1.5);

/// Openness at which light begins, and at which it is all there: the openness above which a look is open (ours; the
/// nearer the two, the harder the edge of the light).
const COMES_UP: (f64, f64) = (0.1, 0.5);

/// Is a look of this openness dark, whatever it is worth?
pub fn is_dark(openness: f64) -> bool {
    openness <= COMES_UP.0
}

/// Light, 0 to 1, of a look of this openness (0 to 1) that is worth `value` points all in all, where a possession
/// usually brings `usual` points.
pub fn shine(openness: f64, value: f64, usual: f64) -> f64 {
    let share = |(from, to): (f64, f64), at: f64| ((at - from) / (to - from)).clamp(0.0, 1.0);
    let up = share(COMES_UP, openness);
    let worth = share(WORTH, value / usual.max(0.1));
    up * up * (3.0 - 2.0 * up) * (DIM + (1.0 - DIM) * worth)
}

impl LookNow {
    /// The light of this look, 0 to 1: none unless it is open.
    pub fn light(&self, usual: f64) -> f64 {
        if self.open {
            shine(self.openness, self.value, usual)
        } else {
            0.0
        }
    }
}

/// The light of a moment, 0 to 1: that of its brightest look.
pub fn brightest(looks: &[LookNow], usual: f64) -> f64 {
    looks
        .iter()
        .map(|look| look.light(usual))
        .fold(0.0, f64::max)
}

/// Has the holder nothing open: no pass that is worth one now, no drive, no shot? A pass out of a drive that gets there
/// is worth none while its catcher has no open shot.
fn is_dark_now(looks: &[LookNow]) -> bool {
    looks.iter().all(|look| !look.open)
}

/// Does it stall? The holder has nothing open and is not on a drive: the one definition, in play and of all figures.
pub fn it_stalls(looks: &[LookNow], ballwork: Ballwork) -> bool {
    is_dark_now(looks) && ballwork != Ballwork::Driving
}

impl Moment {
    /// Has the holder nothing open now?
    pub fn nothing_open(&self) -> bool {
        is_dark_now(&self.looks)
    }

    /// Does it stall now?
    pub fn stalls(&self) -> bool {
        it_stalls(&self.looks, self.ballwork)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_open_is_at_least_dim_and_what_is_worth_more_is_brighter() {
        let usual = 0.9;
        assert_eq!(shine(0.51, 0.46, usual), DIM);
        assert_eq!(shine(1.0, usual * 0.9, usual), DIM);
        assert!((shine(1.0, usual * 1.5, usual) - 1.0).abs() < 1e-12);
        assert!(shine(1.0, 1.1, usual) > shine(1.0, 1.0, usual));
        assert_eq!(shine(0.1, 1.4, usual), 0.0);
        assert!(shine(0.4, 1.4, usual) < shine(0.45, 1.4, usual));
    }
}
