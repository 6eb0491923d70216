//! Numbers of an offence that a search may vary, each under a name that a coach can write.
//!
//! Spacing is not among them: places come from the court, and an offence names them, it does not
//! measure them; other places are a tweak (`set_keep_filled`, `set_alignment`).

use crate::offence::check::{Finding, Weight, check, nearest_word};
use crate::offence::{Event, Movement, Offence};

/// One number, or all numbers of one kind, of an offence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Knob {
    /// Seconds that a holder looks before he moves the ball on.
    Hold,
    /// Seconds after which the offence takes what it gets.
    Possession,
    /// Points more than it is worth to go on that a look must be worth.
    AsksMore,
    /// Seconds of every flash.
    Flash,
    /// Seconds of every seal.
    Seal,
    /// Seconds of denial before a backdoor rule fires.
    Denied,
    /// Seconds that the ball stays at a place before a rule fires.
    BallOn,
}

impl Knob {
    /// Every knob with its name on the command line and in words.
    pub const ALL: [(Knob, &str, &str); 7] = [
        (Knob::Hold, "patience.hold", "hold the ball"),
        (Knob::Possession, "patience.possession", "possession"),
        (Knob::AsksMore, "patience.asks_more", "ask more by"),
        (Knob::Flash, "flash.seconds", "flash for"),
        (Knob::Seal, "seal.seconds", "seal for"),
        (Knob::Denied, "denied.seconds", "denied for"),
        (Knob::BallOn, "ball_on.seconds", "ball there for"),
    ];

    fn unit(self) -> &'static str {
        match self {
            Knob::AsksMore => " points",
            _ => " s",
        }
    }

    /// What a coach calls this knob at a value: "flash for 1.5 s".
    pub fn said(self, value: f64) -> String {
        let words = Knob::ALL.iter().find(|k| k.0 == self).map_or("", |k| k.2);
        format!("{words} {value}{}", self.unit())
    }

    /// The offence with every number of that kind set to `value`.
    ///
    /// # Errors
    /// If the offence has no such number, or is not sound with it.
    pub fn set(self, offence: &Offence, value: f64) -> Result<Offence, String> {
        let mut out = offence.clone();
        let mut met = 0;
        let mut put = |place: &mut f64| {
            *place = value;
            met += 1;
        };
        match self {
            Knob::Hold => put(&mut out.patience.hold),
            Knob::Possession => put(&mut out.patience.possession),
            Knob::AsksMore => put(&mut out.patience.asks_more),
            Knob::Flash | Knob::Seal => {
                for rule in &mut out.rules {
                    for action in &mut rule.actions {
                        self.in_movement(&mut action.does, &mut put);
                        for step in &mut action.then {
                            self.in_movement(step, &mut put);
                        }
                    }
                }
            }
            Knob::Denied | Knob::BallOn => {
                for rule in &mut out.rules {
                    match &mut rule.when {
                        Event::Denied { seconds, .. } if self == Knob::Denied => put(seconds),
                        Event::BallOn { seconds, .. } if self == Knob::BallOn => put(seconds),
                        _ => {}
                    }
                }
            }
        }
        if met == 0 {
            return Err(format!("nothing to set in “{}”", offence.name));
        }
        let old = check(offence);
        let new = |f: &Finding| old.iter().all(|o| o.said != f.said);
        match check(&out)
            .into_iter()
            .find(|f| f.weight == Weight::Error && new(f))
        {
            Some(finding) => Err(finding.said),
            None => Ok(out),
        }
    }

    fn in_movement(self, movement: &mut Movement, put: &mut dyn FnMut(&mut f64)) {
        match movement.last_mut() {
            Movement::Flash { seconds, .. } if self == Knob::Flash => put(seconds),
            Movement::Seal { seconds, .. } if self == Knob::Seal => put(seconds),
            _ => {}
        }
    }
}

/// Values of one knob.
#[derive(Clone, Debug, PartialEq)]
pub struct Range {
    /// The number of the offence that is set.
    pub knob: Knob,
    /// The values to try, in the unit of the knob (seconds; points for `asks_more`).
    pub values: Vec<f64>,
}

/// Most values of one range.
const MOST_VALUES: usize = 50;
/// No number of an offence is larger (invented; reckoning with larger ones would end in no number).
const FARTHEST: f64 = 1e6;

impl Range {
    /// Reads "patience.hold=1.0..2.0/3": from 1 to 2, both ends included, in three values. A name
    /// may be written with a space for the point ("flash seconds=1..2/3").
    ///
    /// # Errors
    /// A sentence that says what is wrong.
    pub fn parse(text: &str) -> Result<Range, String> {
        let form = "expected a name, two ends and a number of values, as patience.hold=1.0..2.0/3";
        let (name, rest) = text.split_once('=').ok_or(form)?;
        let name = name.trim().replace(' ', ".");
        let names = || Knob::ALL.iter().map(|k| k.1);
        let knob = Knob::ALL.iter().find(|k| k.1 == name).ok_or_else(|| {
            let list: Vec<&str> = names().collect();
            let near = nearest_word(&name, names());
            let near = near.map_or(String::new(), |n| format!("\n  nearest: {n}"));
            format!(
                "no number of that name\n  expected: {}{near}",
                list.join(", ")
            )
        })?;
        let (ends, steps) = rest.split_once('/').ok_or(form)?;
        let (low, high) = ends.split_once("..").ok_or(form)?;
        let number = |t: &str| t.trim().parse::<f64>().ok().filter(|x| x.abs() <= FARTHEST);
        let (low, high) = (number(low).ok_or(form)?, number(high).ok_or(form)?);
        let steps: usize = steps.trim().parse().map_err(|_| form)?;
        if !(2..=MOST_VALUES).contains(&steps) || low >= high {
            return Err(format!(
                "the lower end first, and 2 to {MOST_VALUES} values"
            ));
        }
        let width = (high - low) / (steps - 1) as f64;
        let at = |i: usize| {
            let value = if i + 1 == steps {
                high
            } else {
                low + width * i as f64
            };
            // A coach's number: no more than three decimals.
            (value * 1000.0).round() / 1000.0
        };
        Ok(Range {
            knob: knob.0,
            values: (0..steps).map(at).collect(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    #[test]
    fn a_range_takes_in_both_ends() {
        let r = Range::parse("patience.hold=1.0..2.0/3").unwrap();
        assert_eq!((r.knob, r.values), (Knob::Hold, vec![1.0, 1.5, 2.0]));
        let r = Range::parse("flash seconds = 1..2/4").unwrap();
        assert_eq!(
            (r.knob, r.values),
            (Knob::Flash, vec![1.0, 1.333, 1.667, 2.0])
        );
    }

    #[test]
    fn a_wrong_range_says_what_is_expected() {
        for (text, part) in [
            ("patience.hold", "expected a name"),
            ("patience.hold=2..1/3", "lower end first"),
            ("patience.hold=1..2/1", "2 to 50"),
            ("patience.hold=1..nan/3", "expected a name"),
            ("patience.hodl=1..2/3", "nearest: patience.hold"),
        ] {
            let said = Range::parse(text).unwrap_err();
            assert!(said.contains(part), "{text}: {said}");
        }
    }

    #[test]
    fn a_knob_sets_every_number_of_its_kind_and_refuses_what_is_not_sound() {
        let offence = Scenario::demo().offence;
        let flash = Knob::Flash.set(&offence, 2.25).unwrap();
        assert_ne!(flash, offence);
        assert!(ron::to_string(&flash).unwrap().contains("seconds:2.25"));
        assert_eq!(Knob::Hold.set(&offence, 1.9).unwrap().patience.hold, 1.9);
        assert!(Knob::Hold.set(&offence, -1.0).is_err());
        let mut bare = offence.clone();
        bare.rules.clear();
        assert!(Knob::Denied.set(&bare, 1.0).is_err());
    }
}
