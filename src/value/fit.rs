//! The fit: what it is worth to go on, from paths on which hardly anybody stopped (after Longstaff and Schwartz,
//! 2001, "Valuing American options by simulation: a simple least-squares approach", Review of Financial
//! Studies 14(1), from memory).
//!
//! A path shows every chance that came by. With given bars it is known where it would have been stopped, and
//! for how much; so one set of paths tells what any bars come to. Backward along each path, what is got after a
//! chance is let go is one sample of the worth of going on; the bars are that worth, and a few rounds settle them.

/// One chance to stop.
#[derive(Clone, Copy, Debug)]
pub struct Chance<const N: usize> {
    /// Features of the moment.
    pub features: [f64; N],
    /// Share of the worth of going on that is left (counts run out).
    pub left: f64,
    /// What the best look seems to be worth to who decides, usual possessions; none: minus infinity.
    pub seems: f64,
    /// What it is worth, usual possessions.
    pub worth: f64,
}

/// The chances that came by, in order, and what was got in the end by who let go of all.
#[derive(Clone, Debug, Default)]
pub struct Path<const N: usize> {
    /// Chances in order of time.
    pub chances: Vec<Chance<N>>,
    /// What came in the end, usual possessions.
    pub end: f64,
}

/// Rounds in which the bars settle.
const ROUNDS: usize = 12;

/// Weights of the worth of going on, held near `before` as by `pull` samples of each feature at 1.
pub fn settle<const N: usize>(paths: &[Path<N>], before: &[f64; N], pull: f64) -> [f64; N] {
    let mut weights = *before;
    for _ in 0..ROUNDS {
        let mut samples = Samples::default();
        for path in paths {
            let mut got = path.end;
            for chance in path.chances.iter().rev() {
                samples.add(&chance.features, got);
                let goes_on = super::dot(&weights, &chance.features);
                if chance.seems > goes_on * chance.left {
                    got = chance.worth;
                }
            }
        }
        let new = ridge(&samples, before, pull);
        // Half the way: a round answers the round before it.
        for (old, new) in weights.iter_mut().zip(new) {
            *old += 0.5 * (new - *old);
        }
    }
    weights
}

/// Sums of a regression: what is seen of features and of what came of them.
struct Samples<const N: usize> {
    /// Sums of products of features.
    products: [[f64; N]; N],
    /// Sums of features times outcome.
    outcomes: [f64; N],
}

impl<const N: usize> Default for Samples<N> {
    fn default() -> Self {
        Samples {
            products: [[0.0; N]; N],
            outcomes: [0.0; N],
        }
    }
}

impl<const N: usize> Samples<N> {
    /// Adds one moment: its features, and what came of it.
    fn add(&mut self, features: &[f64; N], outcome: f64) {
        for i in 0..N {
            for j in 0..N {
                self.products[i][j] += features[i] * features[j];
            }
            self.outcomes[i] += features[i] * outcome;
        }
    }
}

/// The weights that fit the samples best, held near `before` as by `pull` samples of each feature at 1.
fn ridge<const N: usize>(samples: &Samples<N>, before: &[f64; N], pull: f64) -> [f64; N] {
    let mut a = samples.products;
    let mut b = samples.outcomes;
    for i in 0..N {
        a[i][i] += pull;
        b[i] += pull * before[i];
    }
    solve(a, b)
}

/// Solves `a x = b`, `a` symmetric and positive definite (Cholesky).
fn solve<const N: usize>(mut a: [[f64; N]; N], mut b: [f64; N]) -> [f64; N] {
    for i in 0..N {
        for j in 0..=i {
            let mut sum = a[i][j];
            for k in 0..j {
                sum -= a[i][k] * a[j][k];
            }
            a[i][j] = if i == j {
                sum.max(1e-12).sqrt()
            } else {
                sum / a[j][j]
            };
        }
    }
    for i in 0..N {
        for k in 0..i {
            b[i] -= a[i][k] * b[k];
        }
        b[i] /= a[i][i];
    }
    for i in (0..N).rev() {
        for k in i + 1..N {
            b[i] -= a[k][i] * b[k];
        }
        b[i] /= a[i][i];
    }
    b
}
