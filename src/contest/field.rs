//! The candidates of a search: the offence as it is, single tweaks, values of numbers, and pairs
//! of these.

use crate::offence::Offence;
use crate::offence::check::{Weight, check};
use crate::offence::tweak::Tweak;

use super::knobs::{Knob, Range};

/// Most candidates of one search; more would need a budget that nobody has. Invented.
pub const MOST: usize = 400;

/// One candidate.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// What a coach calls it: the names of its tweaks and settings.
    pub name: String,
    /// The offence that it plays.
    pub offence: Offence,
}

/// All candidates; the first is the offence as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Those to play.
    pub candidates: Vec<Candidate>,
    /// What was not taken in, and why.
    pub left_out: Vec<(String, String)>,
}

/// One change, and which others it cannot go with: two values of one number exclude each other.
struct Step<'a> {
    name: String,
    axis: usize,
    change: Change<'a>,
}

enum Change<'a> {
    Tweak(&'a Tweak),
    Knob(Knob, f64),
}

impl Change<'_> {
    fn make(&self, offence: &Offence) -> Result<Offence, String> {
        let after = match self {
            Change::Knob(knob, value) => return knob.set(offence, *value),
            Change::Tweak(tweak) => tweak.apply(offence).map_err(|misfit| misfit.said)?,
        };
        let old = check(offence);
        let new = check(&after)
            .into_iter()
            .find(|f| f.weight == Weight::Error && old.iter().all(|o| o.said != f.said));
        match new {
            Some(finding) => Err(finding.said),
            None => Ok(after),
        }
    }
}

impl Field {
    /// The candidates from tweaks and ranges, with all pairs of them if asked for. What does not
    /// fit, or comes to the same as another, is left out and named.
    ///
    /// # Errors
    /// If there is nothing to search, or too much.
    pub fn new(
        base: &Offence,
        tweaks: &[Tweak],
        ranges: &[Range],
        pairs: bool,
    ) -> Result<Field, String> {
        let mut steps = Vec::new();
        for (axis, tweak) in tweaks.iter().enumerate() {
            steps.push(Step {
                name: tweak.name.clone(),
                axis,
                change: Change::Tweak(tweak),
            });
        }
        for (i, range) in ranges.iter().enumerate() {
            for value in &range.values {
                steps.push(Step {
                    name: range.knob.said(*value),
                    axis: tweaks.len() + i,
                    change: Change::Knob(range.knob, *value),
                });
            }
        }
        let singles = steps.len();
        let most = if pairs {
            singles * (singles + 1) / 2
        } else {
            singles
        };
        if most > MOST {
            return Err(format!(
                "{most} candidates are too many to search; at most {MOST}"
            ));
        }
        let mut field = Field {
            candidates: vec![Candidate {
                name: "as it is".to_string(),
                offence: base.clone(),
            }],
            left_out: Vec::new(),
        };
        for step in &steps {
            field.take(step.name.clone(), step.change.make(base));
        }
        for (i, a) in steps.iter().enumerate().filter(|_| pairs) {
            for b in steps[i + 1..].iter().filter(|b| b.axis != a.axis) {
                let one = |x: &Step, y: &Step| y.change.make(&x.change.make(base)?);
                // The order matters only where one change needs what the other brings.
                let both = one(a, b).or_else(|said| one(b, a).map_err(|_| said));
                field.take(format!("{} + {}", a.name, b.name), both);
            }
        }
        if field.candidates.len() < 2 {
            let why: Vec<String> = (field.left_out.iter())
                .map(|(name, why)| format!("\n  {name}: {why}"))
                .collect();
            return Err(format!("there is nothing to search{}", why.concat()));
        }
        Ok(field)
    }

    fn take(&mut self, name: String, made: Result<Offence, String>) {
        match made {
            Err(why) => self.left_out.push((name, why)),
            Ok(offence) => match self.candidates.iter().find(|c| c.offence == offence) {
                Some(same) => {
                    let why = format!("comes to the same as “{}”", same.name);
                    self.left_out.push((name, why));
                }
                None => self.candidates.push(Candidate { name, offence }),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::shipped::{Kind, all};
    use crate::scenario::{Scenario, read_tweak};

    fn shipped() -> Vec<Tweak> {
        all(Kind::Tweak)
            .map(|f| read_tweak(f.text, f.word).unwrap().value)
            .collect()
    }

    #[test]
    fn the_offence_as_it_is_comes_first_and_every_shipped_tweak_after_it() {
        let base = Scenario::demo().offence;
        let field = Field::new(&base, &shipped(), &[], false).unwrap();
        assert_eq!(field.candidates[0].offence, base);
        assert_eq!(
            field.candidates.len(),
            1 + shipped().len(),
            "{:?}",
            field.left_out
        );
    }

    #[test]
    fn pairs_that_do_not_fit_are_left_out_and_named() {
        let base = Scenario::demo().offence;
        let n = shipped().len();
        let field = Field::new(&base, &shipped(), &[], true).unwrap();
        let all = 1 + n + n * (n - 1) / 2;
        assert_eq!(field.candidates.len() + field.left_out.len(), all);
        // The exchange is to stand after a rule that the screen away replaces: other way round
        // both fit.
        let name = |c: &Candidate| c.name.contains("Screen away") && c.name.contains("exchange");
        assert!(field.candidates.iter().any(name), "{:?}", field.left_out);
    }

    #[test]
    fn two_values_of_one_number_are_never_a_pair() {
        let base = Scenario::demo().offence;
        let ranges = [Range::parse("patience.hold=1.0..2.0/3").unwrap()];
        let field = Field::new(&base, &[], &ranges, true).unwrap();
        assert_eq!(field.candidates.len() + field.left_out.len(), 4);
        let same = Range {
            knob: Knob::Hold,
            values: vec![base.patience.hold],
        };
        let said = Field::new(&base, &[], &[same], true).unwrap_err();
        assert!(said.contains("comes to the same as “as it is”"), "{said}");
    }

    #[test]
    fn a_search_of_nothing_or_of_too_much_is_refused() {
        let base = Scenario::demo().offence;
        assert!(Field::new(&base, &[], &[], true).is_err());
        let wide = |t: &str| Range::parse(t).unwrap();
        let ranges = [wide("patience.hold=1..2/50"), wide("flash seconds=1..2/50")];
        assert!(Field::new(&base, &[], &ranges, true).is_err());
    }
}
