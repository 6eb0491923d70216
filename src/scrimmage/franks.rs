//! Where defenders stand as a mix of man, ball and rim.
//!
//! Franks, Miller, Bornn and Goldsberry (2015), *Characterizing the spatial structure of defensive
//! skill in professional basketball*, Ann. Appl. Stat. 9(1) 94–121: the mean place of a
//! man-to-man defender is `a · attacker + b · ball + c · hoop`, `a + b + c = 1`, with 0.62 / 0.11 /
//! 0.27 (± 0.02, 0.01, 0.02) over 100 games at 25 Hz. Code seen in public swaps two of the weights;
//! the paper's order is attacker, ball, hoop.
//!
//! Here: ordinary least squares of all defenders' places in both coordinates. With the hoop at the
//! origin the constraint drops out, and `a` and `b` solve a 2×2 system. The paper lets each frame's
//! match-ups be latent and fits by expectation and maximisation; here a match-up is either the
//! guard that the simulation knows, or the assignment with the least total distance to the paper's
//! places (the optimum that the Hungarian method finds; with five players all 120 are tried). The
//! interval is a percentile bootstrap over possessions.

use serde::Serialize;

use crate::court::Vec2;
use crate::defence::Relation;
use crate::possession::Frame;
use crate::possession::there::plays;
use crate::stats::{CONFIDENCE, Estimate, bootstrap_replicates, quantile};

/// The paper's weights of attacker, ball and hoop, shares that add up to 1.
pub const PAPER: (f64, f64, f64) = (0.62, 0.11, 0.27);
/// Resamples of the possessions (common practice).
const REPLICATES: usize = 1000;
/// Their generator's seed, any will do.
const BOOTSTRAP_SEED: u64 = 2015;

/// Who is taken to guard whom.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Matching {
    /// As the simulation has it.
    Given,
    /// The assignment nearest to the paper's places.
    Nearest,
    /// As the simulation has it, and only defenders whose man is two or more passes away or inside
    /// on the weak side.
    GivenWeakSide,
}

impl Matching {
    /// Every way, in the order of the report.
    pub const ALL: [Matching; 3] = [Matching::Given, Matching::Nearest, Matching::GivenWeakSide];
}

/// Weights of attacker, ball and hoop, each with its 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Fit {
    /// Who is taken to guard whom.
    pub matching: Matching,
    /// Weight of the attacker guarded, a share.
    pub attacker: Estimate,
    /// Weight of the ball, a share.
    pub ball: Estimate,
    /// Weight of the hoop, a share.
    pub hoop: Estimate,
    /// Root mean square distance of a defender from his fitted place, metres.
    pub off: f64,
}

/// Sums of products that the fit needs; they add up over frames and possessions.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Products {
    n: f64,
    oo: f64,
    ob: f64,
    bb: f64,
    od: f64,
    bd: f64,
    dd: f64,
}

impl Products {
    /// Adds the five defenders of one frame.
    pub fn add_frame(&mut self, frame: &Frame, matching: Matching) {
        let ball = Vec2::new(frame.ball[0], frame.ball[1]);
        let men = match matching {
            Matching::Given | Matching::GivenWeakSide => {
                frame.guards.map(|g| usize::from(g.clamp(1, 5)) - 1)
            }
            Matching::Nearest => nearest_assignment(&costs(frame, ball)),
        };
        let weak = |r| matches!(r, Relation::TwoPasses | Relation::PostWeakSide);
        for (d, man) in men.into_iter().enumerate() {
            if !plays(frame.defenders[d]) || !plays(frame.attackers[man]) {
                continue;
            }
            if matching == Matching::GivenWeakSide && !weak(frame.relations[d]) {
                continue;
            }
            self.add(frame.attackers[man], ball, frame.defenders[d]);
        }
    }

    fn add(&mut self, o: Vec2, b: Vec2, d: Vec2) {
        self.n += 1.0;
        self.oo += o.dot(o);
        self.ob += o.dot(b);
        self.bb += b.dot(b);
        self.od += o.dot(d);
        self.bd += b.dot(d);
        self.dd += d.dot(d);
    }

    fn plus(&self, q: &Products) -> Products {
        Products {
            n: self.n + q.n,
            oo: self.oo + q.oo,
            ob: self.ob + q.ob,
            bb: self.bb + q.bb,
            od: self.od + q.od,
            bd: self.bd + q.bd,
            dd: self.dd + q.dd,
        }
    }

    fn sum<'a>(parts: impl Iterator<Item = &'a Products>) -> Products {
        parts.fold(Products::default(), |sum, p| sum.plus(p))
    }

    /// Weights of attacker, ball and hoop; `None` if attacker and ball cannot be told apart.
    pub fn weights(&self) -> Option<(f64, f64, f64)> {
        let det = self.oo * self.bb - self.ob * self.ob;
        if det <= 1e-9 * self.oo * self.bb {
            return None;
        }
        let a = (self.od * self.bb - self.bd * self.ob) / det;
        let b = (self.bd * self.oo - self.od * self.ob) / det;
        Some((a, b, 1.0 - a - b))
    }

    fn off(&self, (a, b, _): (f64, f64, f64)) -> f64 {
        ((self.dd - a * self.od - b * self.bd) / self.n)
            .max(0.0)
            .sqrt()
    }
}

/// The fit over possessions, each with its sums. `None` with fewer than two, or if attacker and
/// ball cannot be told apart.
pub fn fit(possessions: &[Products], matching: Matching) -> Option<Fit> {
    let all = Products::sum(possessions.iter());
    let weights = all.weights()?;
    if possessions.len() < 2 {
        return None;
    }
    let estimate = |value: f64, of: fn((f64, f64, f64)) -> f64| {
        let replicate = |drawn: &[usize]| {
            let sum = Products::sum(drawn.iter().map(|&i| &possessions[i]));
            sum.weights().map_or(f64::NAN, of)
        };
        let sorted = bootstrap_replicates(possessions.len(), REPLICATES, BOOTSTRAP_SEED, replicate);
        let tail = (1.0 - CONFIDENCE) / 2.0;
        Some(Estimate {
            value,
            low: quantile(&sorted, tail)?,
            high: quantile(&sorted, 1.0 - tail)?,
            n: possessions.len() as u64,
        })
    };
    Some(Fit {
        matching,
        attacker: estimate(weights.0, |w| w.0)?,
        ball: estimate(weights.1, |w| w.1)?,
        hoop: estimate(weights.2, |w| w.2)?,
        off: all.off(weights),
    })
}

/// Distance of each defender (row) from the paper's place for each attacker (column).
fn costs(frame: &Frame, ball: Vec2) -> [[f64; 5]; 5] {
    frame.defenders.map(|d| {
        frame
            .attackers
            .map(|o| (d - (o * PAPER.0 + ball * PAPER.1)).length())
    })
}

/// The assignment of rows to columns with the least total, by trying every one; of equals the
/// first in the order of numbers.
pub fn nearest_assignment(costs: &[[f64; 5]; 5]) -> [usize; 5] {
    struct Search<'a> {
        costs: &'a [[f64; 5]; 5],
        best: (f64, [usize; 5]),
    }
    impl Search<'_> {
        fn from(&mut self, row: usize, taken: u8, sum: f64, chosen: &mut [usize; 5]) {
            if sum >= self.best.0 {
                return;
            }
            if row == 5 {
                self.best = (sum, *chosen);
                return;
            }
            for column in 0..5 {
                if taken & (1 << column) == 0 {
                    chosen[row] = column;
                    let sum = sum + self.costs[row][column];
                    self.from(row + 1, taken | (1 << column), sum, chosen);
                }
            }
        }
    }
    let mut search = Search {
        costs,
        best: (f64::INFINITY, [0, 1, 2, 3, 4]),
    };
    search.from(0, 0, 0.0, &mut [0; 5]);
    search.best.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::defence::Duty;

    fn scattered(seed: u64) -> Frame {
        let mut state = seed;
        let mut next = || {
            state = state
                .wrapping_mul(6364136223846793005)
                .wrapping_add(1442695040888963407);
            (state >> 11) as f64 / (1_u64 << 53) as f64
        };
        let mut place = || Vec2::new(next() * 14.0 - 7.0, next() * 9.0);
        let attackers: [Vec2; 5] = std::array::from_fn(|_| place());
        let ball = attackers[(seed % 5) as usize];
        let swapped = [1, 0, 2, 4, 3];
        let noise = |i: usize| Vec2::new(if i.is_multiple_of(2) { 0.2 } else { -0.2 }, 0.0);
        let defenders = std::array::from_fn(|i| {
            attackers[swapped[i]] * 0.5 + ball * 0.2 + noise(i + seed as usize)
        });
        Frame {
            time: 0.0,
            ball: [ball.x, ball.y, 1.0],
            attackers,
            defenders,
            attackers_facing: [Vec2::ZERO; 5],
            defenders_facing: [Vec2::ZERO; 5],
            holder: Some(1),
            guards: swapped.map(|g| g as u8 + 1),
            duties: [Duty::Gap; 5],
            relations: [Relation::OnePass; 5],
        }
    }

    #[test]
    fn the_fit_finds_the_weights_that_the_places_were_made_with() {
        let parts: Vec<Products> = (0..60)
            .map(|seed| {
                let mut p = Products::default();
                p.add_frame(&scattered(seed), Matching::Given);
                p
            })
            .collect();
        let fit = fit(&parts, Matching::Given).expect("attackers apart");
        for (e, wanted) in [(fit.attacker, 0.5), (fit.ball, 0.2), (fit.hoop, 0.3)] {
            assert!((e.value - wanted).abs() < 0.01, "{e:?}, not {wanted}");
            assert!(e.low < e.value && e.value < e.high, "{e:?}");
        }
        assert!((fit.off - 0.2).abs() < 0.01, "{}", fit.off);
        let sum = fit.attacker.value + fit.ball.value + fit.hoop.value;
        assert!((sum - 1.0).abs() < 1e-12);
    }

    #[test]
    fn the_assignment_is_the_best_of_all_and_not_the_greedy_one() {
        let mut costs = [[9.0; 5]; 5];
        // Row 0 would like column 0 best, but row 1 can hardly do without it.
        costs[0][0] = 1.0;
        costs[0][1] = 2.0;
        costs[1][0] = 1.5;
        for i in 2..5 {
            costs[i][i] = 1.0;
        }
        assert_eq!(nearest_assignment(&costs), [1, 0, 2, 3, 4]);
    }

    #[test]
    fn on_the_ball_alone_attacker_and_ball_cannot_be_told_apart() {
        let mut p = Products::default();
        for i in 0..9 {
            let o = Vec2::new(f64::from(i), 3.0);
            p.add(o, o, o * 0.73);
        }
        assert_eq!(p.weights(), None);
    }
}
