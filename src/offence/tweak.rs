//! A tweak: a small named change to an offence, kept as a patch file that can be applied and taken
//! back.
//!
//! Changes are carried out from the first to the last. What a change names (a rule, a look) must
//! be there, or the tweak does not fit and nothing is changed.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::{LookKind, Offence, Patience, Place, Rule, ShotsFrom, Stand, check::nearest_word};

/// A named change to an offence.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tweak {
    /// What a coach calls it.
    pub name: String,
    /// Why one would want it.
    #[serde(default)]
    pub note: String,
    /// The offence it is for: its name, its shipped word or its file. Without it the tweak may
    /// patch any offence that has what it names.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<String>,
    /// What is changed, in order.
    pub changes: Vec<Change>,
}

/// One change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Change {
    /// A new rule: after or before a named one, or else at the end.
    AddRule {
        /// Name of the rule that it follows.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        after: Option<String>,
        /// Name of the rule that it precedes.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        before: Option<String>,
        /// The new rule.
        rule: Rule,
    },
    /// Another rule in the place of a named one.
    ReplaceRule {
        /// Name of the rule that goes.
        name: String,
        /// The rule that takes its place.
        with: Rule,
    },
    /// A named rule goes.
    RemoveRule(String),
    /// The holder reads one more look: after or before another, or else last.
    Allow {
        /// The look that is added.
        look: LookKind,
        /// The look that it is read after.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        after: Option<LookKind>,
        /// The look that it is read before.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        before: Option<LookKind>,
    },
    /// The holder no longer takes a look.
    Forbid(LookKind),
    /// Other patience; what is not written stays.
    SetPatience {
        /// Seconds that a holder looks before moving the ball on.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hold: Option<f64>,
        /// Seconds after which the offence takes what it gets.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        possession: Option<f64>,
        /// Points more than it is worth to go on that a look must be worth.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        asks_more: Option<f64>,
        /// Passes to throw before anybody shoots or drives from outside.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        passes_first: Option<u8>,
    },
    /// Other places to keep filled.
    SetKeepFilled(Vec<Place>),
    /// Other places to drive from.
    SetDriveFrom(Vec<Place>),
    /// Others who shoot from certain places only.
    SetShotsFrom(Vec<ShotsFrom>),
    /// Another order of reading.
    SetReading(Vec<LookKind>),
    /// Another start: who stands where, and who has the ball.
    SetAlignment {
        /// Number of the player who has the ball, 1–5.
        ball: u8,
        /// Where all five stand.
        alignment: Vec<Stand>,
    },
}

/// Why a tweak does not fit an offence.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{said}")]
pub struct Misfit {
    /// Which change (from 0).
    pub change: usize,
    /// Where in the change, as a path such as `after` or `0`.
    pub at: &'static str,
    /// What is wrong, as a sentence.
    pub said: String,
    /// The nearest right word or rule name.
    pub nearest: Option<String>,
}

/// A [`Misfit`] whose change number is not yet known.
struct Miss {
    at: &'static str,
    said: String,
    nearest: Option<String>,
}

impl Tweak {
    /// The changed offence.
    ///
    /// # Errors
    /// If a change names a rule or look that is not there, or adds one that is.
    pub fn apply(&self, offence: &Offence) -> Result<Offence, Misfit> {
        let mut out = offence.clone();
        for (index, change) in self.changes.iter().enumerate() {
            change.carry_out(&mut out).map_err(|miss| miss.of(index))?;
        }
        Ok(out)
    }

    /// The tweak that takes this one back: applied to `self.apply(offence)` it gives `offence`.
    ///
    /// # Errors
    /// If this tweak does not fit `offence`.
    pub fn inverse(&self, offence: &Offence) -> Result<Tweak, Misfit> {
        let mut now = offence.clone();
        let mut back = Vec::with_capacity(self.changes.len());
        for (index, change) in self.changes.iter().enumerate() {
            back.push(change.undone(&now).map_err(|miss| miss.of(index))?);
            change.carry_out(&mut now).map_err(|miss| miss.of(index))?;
        }
        back.reverse();
        Ok(Tweak {
            name: format!("Take back: {}", self.name),
            note: String::new(),
            of: self.of.clone(),
            changes: back,
        })
    }
}

impl Miss {
    fn of(self, change: usize) -> Misfit {
        Misfit {
            change,
            at: self.at,
            said: self.said,
            nearest: self.nearest,
        }
    }
}

impl Change {
    fn carry_out(&self, offence: &mut Offence) -> Result<(), Miss> {
        match self {
            Change::AddRule {
                after,
                before,
                rule,
            } => {
                no_such_rule_yet(offence, &rule.name, "rule")?;
                let place = match (after, before) {
                    (Some(_), Some(_)) => return Err(both_ways()),
                    (Some(name), None) => find_rule(offence, name, "after")? + 1,
                    (None, Some(name)) => find_rule(offence, name, "before")?,
                    (None, None) => offence.rules.len(),
                };
                offence.rules.insert(place, rule.clone());
            }
            Change::ReplaceRule { name, with } => {
                let place = find_rule(offence, name, "name")?;
                if with.name != *name {
                    no_such_rule_yet(offence, &with.name, "with")?;
                }
                offence.rules[place] = with.clone();
            }
            Change::RemoveRule(name) => {
                let place = find_rule(offence, name, "0")?;
                offence.rules.remove(place);
            }
            Change::Allow {
                look,
                after,
                before,
            } => {
                if offence.reading.contains(look) {
                    return Err(Miss {
                        at: "look",
                        said: format!("the {} is already read in this offence", look.word()),
                        nearest: None,
                    });
                }
                let place = match (after, before) {
                    (Some(_), Some(_)) => return Err(both_ways()),
                    (Some(other), None) => find_look(offence, *other, "after")? + 1,
                    (None, Some(other)) => find_look(offence, *other, "before")?,
                    (None, None) => offence.reading.len(),
                };
                offence.reading.insert(place, *look);
            }
            Change::Forbid(look) => {
                let place = find_look(offence, *look, "0")?;
                offence.reading.remove(place);
            }
            Change::SetPatience {
                hold,
                possession,
                asks_more,
                passes_first,
            } => {
                let old = offence.patience;
                offence.patience = Patience {
                    hold: hold.unwrap_or(old.hold),
                    possession: possession.unwrap_or(old.possession),
                    asks_more: asks_more.unwrap_or(old.asks_more),
                    passes_first: passes_first.unwrap_or(old.passes_first),
                };
            }
            Change::SetKeepFilled(places) => offence.keep_filled.clone_from(places),
            Change::SetDriveFrom(places) => offence.drive_from.clone_from(places),
            Change::SetShotsFrom(shots) => offence.shots_from.clone_from(shots),
            Change::SetReading(looks) => offence.reading.clone_from(looks),
            Change::SetAlignment { ball, alignment } => {
                offence.ball = *ball;
                offence.alignment.clone_from(alignment);
            }
        }
        Ok(())
    }

    /// The change that takes this one back, on the offence as it is before this change.
    fn undone(&self, offence: &Offence) -> Result<Change, Miss> {
        Ok(match self {
            Change::AddRule { rule, .. } => Change::RemoveRule(rule.name.clone()),
            Change::ReplaceRule { name, with } => Change::ReplaceRule {
                name: with.name.clone(),
                with: offence.rules[find_rule(offence, name, "name")?].clone(),
            },
            Change::RemoveRule(name) => {
                let place = find_rule(offence, name, "0")?;
                let named = |index: usize| offence.rules.get(index).map(|rule| rule.name.clone());
                let after = place.checked_sub(1).and_then(named);
                Change::AddRule {
                    before: if after.is_none() { named(1) } else { None },
                    after,
                    rule: offence.rules[place].clone(),
                }
            }
            Change::Allow { look, .. } => Change::Forbid(*look),
            Change::Forbid(look) => {
                let place = find_look(offence, *look, "0")?;
                let read = |index: usize| offence.reading.get(index).copied();
                let after = place.checked_sub(1).and_then(read);
                Change::Allow {
                    look: *look,
                    before: if after.is_none() { read(1) } else { None },
                    after,
                }
            }
            Change::SetPatience { .. } => Change::SetPatience {
                hold: Some(offence.patience.hold),
                possession: Some(offence.patience.possession),
                asks_more: Some(offence.patience.asks_more),
                passes_first: Some(offence.patience.passes_first),
            },
            Change::SetKeepFilled(_) => Change::SetKeepFilled(offence.keep_filled.clone()),
            Change::SetDriveFrom(_) => Change::SetDriveFrom(offence.drive_from.clone()),
            Change::SetShotsFrom(_) => Change::SetShotsFrom(offence.shots_from.clone()),
            Change::SetReading(_) => Change::SetReading(offence.reading.clone()),
            Change::SetAlignment { .. } => Change::SetAlignment {
                ball: offence.ball,
                alignment: offence.alignment.clone(),
            },
        })
    }
}

fn both_ways() -> Miss {
    Miss {
        at: "before",
        said: "say either `after` or `before`, not both".to_owned(),
        nearest: None,
    }
}

fn find_rule(offence: &Offence, name: &str, at: &'static str) -> Result<usize, Miss> {
    offence
        .rules
        .iter()
        .position(|rule| rule.name == name)
        .ok_or_else(|| Miss {
            at,
            said: format!("the offence has no rule named \"{name}\""),
            nearest: nearest_word(name, offence.rules.iter().map(|rule| rule.name.as_str())),
        })
}

fn no_such_rule_yet(offence: &Offence, name: &str, at: &'static str) -> Result<(), Miss> {
    if offence.rules.iter().any(|rule| rule.name == name) {
        return Err(Miss {
            at,
            said: format!("the offence already has a rule named \"{name}\""),
            nearest: None,
        });
    }
    Ok(())
}

fn find_look(offence: &Offence, look: LookKind, at: &'static str) -> Result<usize, Miss> {
    offence
        .reading
        .iter()
        .position(|read| *read == look)
        .ok_or_else(|| Miss {
            at,
            said: format!("the {} is not read in this offence", look.word()),
            nearest: None,
        })
}
