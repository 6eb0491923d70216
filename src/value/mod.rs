//! What it is worth to go on: the value of a possession from here, learnt from the play itself.
//!
//! Whoever holds the ball stops (shoots, drives, feeds) when that is worth more than what the team goes on
//! to make from here; this is optimal stopping (Skinner, 2012, "The problem of shot selection in
//! basketball", PLoS ONE 7(1), whose bars the fit reproduces in `tests.rs`; Cervone, D'Amour, Bornn and
//! Goldsberry, 2016, "A multiresolution stochastic process model for predicting basketball possession
//! outcomes", JASA 111, for the idea to value every moment).
//!
//! A value is linear in a few smooth features of the moment, fitted to pilot possessions (`fit.rs`), in units of
//! the team's usual possession, so that one start suits every level.
//!
//! *Not* in it: who holds the ball, and where the defenders stand, but for what the looks say of it.

use crate::offence::LookKind;

mod fit;
mod shipped;
#[cfg(test)]
mod tests;

pub use fit::{Chance, Path, settle};
pub use shipped::{line, shipped};

/// Features of a moment at which the holder goes on.
pub const GOES_ON: usize = 5;
/// Groups of looks that are alike.
pub const GROUPS: usize = 6;
/// The group of what is passed out of a drive.
pub const FROM_A_DRIVE: usize = 5;

/// A moment of a holder who might go on.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct State {
    /// Seconds to shoot in.
    pub left: f64,
    /// Is the ball at a place inside?
    pub inside: bool,
    /// Is the dribble picked up?
    pub picked_up: bool,
}

impl State {
    /// The features of the moment, without unit: nothing with no time left, the first soon level, the third
    /// after half a minute.
    pub fn features(&self) -> [f64; GOES_ON] {
        let [soon, later, long] =
            [1.2, 4.0, 12.0].map(|s| 1.0 - libm::exp(-self.left.max(0.0) / s));
        let on = |there: bool| if there { soon } else { 0.0 };
        [soon, later, long, on(self.inside), on(self.picked_up)]
    }
}

/// What looks of a group are usually worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// Share of what a look promises that comes of it: a shot is hurried, a lane shut, a cutter stopped after all.
    pub comes: f64,
    /// Mean, usual possessions.
    pub mean: f64,
    /// Variance, usual possessions squared.
    pub spread: f64,
}

/// A fitted value, in units of the team's usual possession.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Value {
    /// To go on with the ball in hand: weights of the features of the moment.
    pub goes_on: [f64; GOES_ON],
    /// Looks, by group.
    pub looks: [Usual; GROUPS],
}

impl Default for Value {
    /// The value that is known before anything is played (ours: the mean of twelve match-ups, six offences, five
    /// defences and three levels of play, each learnt by 4,000 pilots).
    fn default() -> Value {
        let usual = |comes, mean, spread| Usual {
            comes,
            mean,
            spread,
        };
        Value {
            goes_on: [0.98, -0.15, 0.16, 0.04, -0.08],
            looks: [
                usual(0.96, 0.66, 0.04),
                usual(1.05, 0.91, 0.007),
                usual(0.96, 0.71, 0.12),
                usual(1.0, 0.14, 0.07),
                usual(0.87, 0.16, 0.075),
                usual(0.94, 0.64, 0.15),
            ],
        }
    }
}

/// The group of a kind of look.
pub fn group(kind: LookKind) -> usize {
    use LookKind as L;
    match kind {
        L::Shot => 0,
        L::Drive => 1,
        L::NextPass | L::Skip => 2,
        L::Post => 3,
        L::GiveAndGo | L::Backdoor => 4,
        L::KickOut | L::DropOff => FROM_A_DRIVE,
    }
}

fn dot<const N: usize>(a: &[f64; N], b: &[f64; N]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Value {
    /// What it is worth to go on, usual possessions.
    pub fn of_going_on(&self, state: &State) -> f64 {
        dot(&self.goes_on, &state.features())
    }

    /// What comes of a look that promises `points` usual possessions, as a rule.
    pub fn of_a_look(&self, kind: LookKind, points: f64) -> f64 {
        self.looks[group(kind)].comes * points
    }

    /// What a holder makes of a look worth `worth` which his eyes misjudge by `error`, whose standard
    /// deviation is `sigma`: he has learnt how good such looks usually are, and trusts his eyes no more than they
    /// deserve (so the luckiest of several errors does not decide: the winner's curse).
    pub fn judged(&self, kind: LookKind, worth: f64, error: f64, sigma: f64) -> f64 {
        let Usual { mean, spread, .. } = self.looks[group(kind)];
        let trust = spread / (spread + sigma * sigma).max(1e-9);
        mean + trust * (worth + error - mean)
    }
}
