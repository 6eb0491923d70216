//! Which looks are worth a drill, and in which order.
//!
//! A look is drilled if it is there often enough and adds something, both by the end of the interval that
//! speaks against it: of these those that add most, as many as there are minutes for. One that there is no time for is
//! told. One look goes before another only if the intervals support it by a difference that matters on the floor; what
//! cannot be told apart so stands in a fixed order: as the offence reads its looks, then those that no rule takes. So
//! the same drills come of twice as many possessions that say the same.

use crate::offence::LookKind;
use crate::scenario::Scenario;
use crate::stats::Estimate;
use crate::why::Summary;
use crate::why::summary::Light;

use super::ages::Age;

/// With fewer possessions there is no plan: the 95 % interval of a share may be wider than 10 in a
/// hundred to either side (Wilson, 96 possessions).
pub const ENOUGH: u64 = 100;
/// A look worth a drill is there in so large a share of the possessions (ours: once in ten).
pub(super) const OFTEN: f64 = 0.1;
/// A smaller difference does not matter: points per possession (ours: one in a hundred possessions),
const POINTS_APART: f64 = 0.01;
/// and share of the possessions (ours).
const SHARE_APART: f64 = 0.1;
/// With fewer kinds of look than this, one comes again at another place.
const KINDS: usize = 2;

/// A look that is worth a drill.
#[derive(Clone, Debug)]
pub struct Chosen<'a> {
    /// The look with its figures.
    pub light: &'a Light,
    /// Where it stands in the summary: "left/0/light", "unused/3".
    pub key: String,
    /// The defender to read: the place among what is left while a defender shuts something.
    pub left: Option<usize>,
    there: Estimate,
    adds: Estimate,
}

impl Chosen<'_> {
    /// Does it add less than what matters on the floor?
    pub fn is_small(&self) -> bool {
        self.adds.high < POINTS_APART
    }

    /// Do the figures put this one first?
    fn is_before(&self, other: &Chosen) -> bool {
        let more = |a: &Estimate, b: &Estimate, by: f64| a.low > b.high + by;
        more(&self.adds, &other.adds, POINTS_APART)
            || !more(&other.adds, &self.adds, POINTS_APART)
                && more(&self.there, &other.there, SHARE_APART)
    }
}

/// Every look that is there often and adds something: one for each kind and place, where it adds most.
fn open_often(summary: &Summary) -> Vec<Chosen<'_>> {
    let left = summary.left.iter().enumerate();
    let left = left.map(|(i, l)| (&l.light, format!("left/{i}/light"), Some(i)));
    let unused = summary.unused.iter().enumerate();
    let unused = unused.map(|(i, l)| (l, format!("unused/{i}"), None));
    let mut out: Vec<Chosen> = Vec::new();
    for (light, key, left) in left.chain(unused) {
        let (Some(there), Some(adds), true) = (light.there, light.adds, light.example.is_some())
        else {
            continue;
        };
        let one = Chosen {
            light,
            key,
            left,
            there,
            adds,
        };
        let same = |c: &&mut Chosen| c.light.look == light.look && c.light.at == light.at;
        match out.iter_mut().find(same) {
            Some(known) if known.adds.value < adds.value => {
                let left = one.left.or(known.left);
                *known = Chosen { left, ..one };
            }
            Some(known) => known.left = known.left.or(one.left),
            None => out.push(one),
        }
    }
    out.retain(|c| is_often(&c.there, &c.adds));
    out
}

/// Is a look there often, and does it add something?
fn is_often(there: &Estimate, adds: &Estimate) -> bool {
    there.low >= OFTEN && adds.low > 0.0
}

/// The look that is there most often of those that there is no time to drill, if it is of no kind that is drilled.
pub fn no_time_for<'a>(summary: &'a Summary, drills: &[Chosen]) -> Option<Chosen<'a>> {
    let known = |c: &Chosen| drills.iter().any(|d| d.light.look == c.light.look);
    let all = open_often(summary).into_iter();
    let all = all.filter(|c| !known(c));
    all.max_by(|a, b| a.there.value.total_cmp(&b.there.value))
}

/// Is no kind of look that is open often and has no drill worth more than this one?
pub(super) fn is_best_left(summary: &Summary, drills: &[Chosen], one: &Chosen) -> bool {
    let known = |c: &Chosen| drills.iter().any(|d| d.light.look == c.light.look);
    let mut all = open_often(summary).into_iter();
    all.all(|c| known(&c) || c.adds.value <= one.adds.value)
}

/// How many of these go before one.
fn behind(one: &Chosen, all: &[Chosen]) -> usize {
    all.iter().filter(|other| other.is_before(one)).count()
}

/// The looks to drill, in order; none if there are too few possessions.
pub fn drills<'a>(scenario: &Scenario, summary: &'a Summary, age: Age) -> Vec<Chosen<'a>> {
    if summary.possessions < ENOUGH {
        return Vec::new();
    }
    let all = open_often(summary);
    let count = age.looks(scenario.practice.minutes());
    let mut best: Vec<Chosen> = Vec::new();
    let mut others: Vec<Chosen> = Vec::new();
    for kind in LookKind::ALL {
        let own = all.iter().filter(|c| c.light.look == kind).cloned();
        let mut own: Vec<Chosen> = own.collect();
        // Of the places of one kind the one that adds most is the likeliest to be the best.
        own.sort_by(|a, b| b.adds.value.total_cmp(&a.adds.value));
        let beaten: Vec<Chosen> = own.clone();
        own.sort_by_key(|c| behind(c, &beaten));
        let mut own = own.into_iter();
        best.extend(own.next());
        others.extend(own);
    }
    let reading = &scenario.offence.reading;
    let read = |kind: LookKind| reading.iter().position(|k| *k == kind);
    let turn = |c: &Chosen| read(c.light.look).unwrap_or(reading.len());
    best.sort_by(|a, b| b.adds.value.total_cmp(&a.adds.value));
    best.truncate(count);
    let ranked = best.clone();
    best.sort_by_key(|c| (behind(c, &ranked), turn(c), c.light.look));
    let ranked = others.clone();
    others.sort_by_key(|c| (behind(c, &ranked), turn(c), c.light.look, c.light.at));
    let missing = KINDS.min(count).saturating_sub(best.len());
    best.extend(others.into_iter().take(missing));
    best
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::SpotName;
    use crate::squad::Level;
    use crate::why::Where;

    fn light(look: LookKind, there: [f64; 3], adds: [f64; 3]) -> Light {
        let of = |[low, value, high]: [f64; 3]| Estimate {
            value,
            low,
            high,
            n: 400,
        };
        Light {
            look,
            at: Some(Where {
                spot: SpotName::Top,
                half: None,
            }),
            there: Some(of(there)),
            allowed: None,
            taken: None,
            adds: Some(of(adds)),
            value: None,
            example: Some((1, 1.0)),
            tweaks: Vec::new(),
        }
    }

    fn order(unused: Vec<Light>, minutes: u32) -> Vec<LookKind> {
        let mut scenario = Scenario::demo();
        scenario.practice.minutes = Some(minutes);
        let mut summary = Summary::of(&[], 0, &scenario.offence, &[]);
        summary.possessions = 400;
        summary.unused = unused;
        let age = Age::of(Level::VarsityBoys);
        let drills = drills(&scenario, &summary, age);
        drills.iter().map(|c| c.light.look).collect()
    }

    #[test]
    fn a_rank_that_the_intervals_do_not_support_does_not_decide() {
        use LookKind::{Drive, NextPass, Post, Skip};
        let some = [0.3, 0.35, 0.4];
        // The skip has the higher value, and is not told apart; the offence does not read it.
        let near = vec![
            light(Skip, some, [0.010, 0.016, 0.022]),
            light(NextPass, some, [0.008, 0.014, 0.020]),
            light(Post, some, [0.009, 0.012, 0.015]),
        ];
        assert_eq!(order(near.clone(), 90), [Post, NextPass, Skip]);
        // Where there is time for two, the two that add most are taken.
        assert_eq!(order(near.clone(), 60), [NextPass, Skip]);
        assert_eq!(order(near, 30), [Skip]);
        // By far the best of them goes first.
        let far = vec![
            light(Post, some, [0.010, 0.012, 0.014]),
            light(Skip, some, [0.030, 0.035, 0.040]),
        ];
        assert_eq!(order(far, 90), [Skip, Post]);
        // What is seldom there, or may add nothing, is no drill.
        let seldom = vec![
            light(Drive, [0.02, 0.03, 0.05], [0.010, 0.012, 0.014]),
            light(NextPass, some, [-0.001, 0.004, 0.009]),
        ];
        assert_eq!(order(seldom, 90), []);
    }
}
