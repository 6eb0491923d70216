//! A variation: the offence, defence and squads as the coach has them on the desk, with every change
//! undoable. It is data; a change gives a new [`Edit`], and the possession replays from it.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::changes;
use super::words::files as words;
use crate::court::{Court, CourtCode};
use crate::defence::Defence;
use crate::offence::check::{Finding, LONGEST, Weight, check};
use crate::offence::{Event, LookKind, Movement, Offence, Rule};
use crate::scenario::shipped::{self, Kind};
use crate::scenario::{Drill, Patch, Scenario, Session, Start, read_squad};
use crate::squad::{Level, RawSquad, Squad};

/// Who plays on one side.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Side {
    /// A squad that comes with the program.
    Shipped(String),
    /// Typical players of a level.
    Typical(Level),
    /// The text of a squad file.
    Sheet(String),
}

impl Side {
    /// The five players; `None` if the text is no squad.
    pub fn squad(&self, name: &str) -> Option<Squad> {
        match self {
            Side::Typical(level) => Some(level.squad(name)),
            Side::Shipped(word) => {
                let text = shipped::find(Kind::Squad, word)?.text;
                read_squad(text, word).ok().map(|read| read.value)
            }
            Side::Sheet(text) => read_squad(text, name).ok().map(|read| read.value),
        }
    }

    /// What was measured of its players, to be written on; `None` if the text is no squad.
    pub fn raw(&self, name: &str) -> Option<RawSquad> {
        match self {
            Side::Typical(level) => Some(RawSquad {
                name: name.to_string(),
                level: *level,
                note: String::new(),
                players: Vec::new(),
            }),
            Side::Shipped(word) => {
                let text = shipped::find(Kind::Squad, word)?.text;
                crate::squad::read_squad(text).ok()
            }
            Side::Sheet(text) => crate::squad::read_squad(text).ok(),
        }
    }

    /// "Harbour Hawks", "typical varsity boys".
    pub fn word(&self) -> String {
        match self {
            Side::Typical(level) => words::typical(&level.word()),
            side => side
                .squad("squad")
                .map_or_else(|| "unreadable".into(), |s| s.name),
        }
    }
}

/// The text of the file in which the offence was written, for its comments. It plays no part in what is the same.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
pub struct WrittenAs(pub String);

impl PartialEq for WrittenAs {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// Everything that can be changed on the desk.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Edit {
    /// What the coach calls it.
    pub name: String,
    /// A remark of the coach; may be empty.
    pub note: String,
    /// The rule set.
    pub court: CourtCode,
    /// The offence, with the rules that are switched off.
    pub offence: Offence,
    /// How the offence was written in its file.
    #[serde(default)]
    pub written: WrittenAs,
    /// Names of rules that are switched off.
    pub off: BTreeSet<String>,
    /// The defence.
    pub defence: Defence,
    /// Who attacks.
    pub attackers: Side,
    /// Who defends.
    pub defenders: Side,
    /// The side on which the ball starts.
    pub start: Start,
    /// Seconds to shoot in; `None`: the rule set's own, if it has one.
    pub shot_clock: Option<f64>,
    /// Switches for walking through the rules.
    pub drill: Drill,
    /// Other values for numbers of the model.
    #[serde(default)]
    pub model: Patch,
    /// What the coach says about the practice.
    #[serde(default)]
    pub practice: Session,
}

impl Edit {
    /// The scenario that is played: without the rules that are switched off. `None` if a squad
    /// or a number of the model cannot be read.
    pub fn scenario(&self) -> Option<Scenario> {
        let mut offence = self.offence.clone();
        offence.rules.retain(|rule| !self.off.contains(&rule.name));
        let court = *Court::of(self.court);
        Some(Scenario {
            name: self.name.clone(),
            note: self.note.clone(),
            court,
            offence,
            defence: self.defence.clone(),
            attackers: self.attackers.squad(words::ATTACKERS)?,
            defenders: self.defenders.squad(words::DEFENDERS)?,
            start: self.start.side(),
            shot_clock: self.shot_clock.or(court.clock.shot),
            drill: self.drill,
            model: self.model.model().ok()?,
            practice: self.practice.clone(),
            warnings: Vec::new(),
        })
    }

    /// What is wrong or odd in the offence as it would be played.
    pub fn findings(&self) -> Vec<Finding> {
        let mut offence = self.offence.clone();
        offence.rules.retain(|rule| !self.off.contains(&rule.name));
        let mut found = check(&offence);
        found.extend(crate::defence::check::check(&self.defence));
        found
    }

    /// Is the same played? What it is called and what is written beside it play no part.
    pub fn plays_as(&self, other: &Edit) -> bool {
        let same = Edit {
            name: self.name.clone(),
            note: self.note.clone(),
            practice: self.practice.clone(),
            ..other.clone()
        };
        same == *self
    }

    /// Can it be played?
    pub fn sound(&self) -> bool {
        let clock = self.shot_clock.is_none_or(|s| (1.0..=LONGEST).contains(&s));
        clock && self.findings().iter().all(|f| f.weight != Weight::Error)
    }
}

/// A number of a rule that may be turned: what it says, what it is now, and its ends.
pub struct Number<'a> {
    /// What it is, with its unit where it has one.
    pub label: String,
    /// What it is now, in the unit of the label.
    pub value: &'a mut f64,
    /// Least value, in the unit of the label.
    pub least: f64,
    /// Greatest value, in the unit of the label.
    pub most: f64,
}

/// The numbers of a rule, in the order in which its sentence has them.
pub fn numbers(rule: &mut Rule) -> Vec<Number<'_>> {
    let mut found = Vec::new();
    let mut put = |label: &str, value, least, most| {
        found.push(Number {
            label: label.to_string(),
            value,
            least,
            most,
        });
    };
    match &mut rule.when {
        Event::Denied { seconds, .. } => put(words::DENIED_FOR, seconds, 0.2, 5.0),
        Event::BallOn { seconds, .. } => put(words::BALL_THERE_FOR, seconds, 0.2, 10.0),
        Event::PostForgotten { seconds } => put(words::FORGOTTEN_FOR, seconds, 0.2, 5.0),
        Event::Clock { left } => put(words::SECONDS_LEFT, left, 1.0, 30.0),
        _ => {}
    }
    for action in &mut rule.actions {
        in_movement(&mut action.does, &mut put);
        for step in &mut action.then {
            in_movement(step, &mut put);
        }
        if action.after > 0.0 {
            put(words::STARTS_AFTER, &mut action.after, 0.0, 5.0);
        }
    }
    found
}

fn in_movement<'a>(movement: &'a mut Movement, put: &mut impl FnMut(&str, &'a mut f64, f64, f64)) {
    match movement.last_mut() {
        Movement::Flash { seconds, .. } => put(words::FLASH_FOR, seconds, 0.2, 5.0),
        Movement::Seal { seconds, .. } => put(words::SEAL_FOR, seconds, 0.2, 5.0),
        _ => {}
    }
}

/// Takes a look into the reading, at its usual place, or out of it.
pub fn allow(offence: &mut Offence, look: LookKind, take: bool) {
    offence.reading.retain(|l| *l != look);
    if take {
        // Where the order of all looks has it among those that are read.
        let rank = |l: LookKind| USUAL.iter().position(|u| *u == l);
        let place = offence.reading.iter().position(|l| rank(*l) > rank(look));
        let place = place.unwrap_or(offence.reading.len());
        offence.reading.insert(place, look);
    }
}

/// The order in which looks are usually read (common practice: rim first, then ball movement).
pub const USUAL: [LookKind; 9] = [
    LookKind::Backdoor,
    LookKind::GiveAndGo,
    LookKind::Post,
    LookKind::DropOff,
    LookKind::Drive,
    LookKind::Shot,
    LookKind::KickOut,
    LookKind::Skip,
    LookKind::NextPass,
];

/// Most steps that can be taken back.
const MOST_STEPS: usize = 200;

/// The edit on the desk and the way that led to it.
#[derive(Clone, Debug)]
pub struct Variation {
    now: Edit,
    past: Vec<Edit>,
    future: Vec<Edit>,
    saved: Edit,
    /// What was changed last: several turns of the same knob are one step.
    knob: Option<String>,
}

impl Variation {
    /// A variation in which nothing is changed yet.
    pub fn new(edit: Edit) -> Variation {
        Variation {
            saved: edit.clone(),
            now: edit,
            past: Vec::new(),
            future: Vec::new(),
            knob: None,
        }
    }

    /// What is on the desk.
    pub fn now(&self) -> &Edit {
        &self.now
    }

    /// Puts a changed edit on the desk. `knob` names what was turned.
    pub fn change(&mut self, edit: Edit, knob: &str) -> bool {
        if edit == self.now {
            return false;
        }
        let same = self.knob.as_deref() == Some(knob) && !self.past.is_empty();
        let old = std::mem::replace(&mut self.now, edit);
        self.future.clear();
        self.knob = Some(knob.to_string());
        if same && self.past.last() == Some(&self.now) {
            // Turned back to where it was: that is no step.
            self.past.pop();
            self.knob = None;
        } else if !same {
            self.past.push(old);
            if self.past.len() > MOST_STEPS {
                self.past.remove(0);
            }
        }
        true
    }

    /// The next turn of the same knob is a step of its own.
    pub fn let_go(&mut self) {
        self.knob = None;
    }

    /// Is there a change to take back?
    pub fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Is there a change that was taken back?
    pub fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    /// Takes back the last change, and says what it was; `None` if there is none.
    pub fn undo(&mut self) -> Option<String> {
        self.knob = None;
        let old = self.past.pop()?;
        let new = std::mem::replace(&mut self.now, old);
        let said = changes::said(&self.now, &new);
        self.future.push(new);
        Some(said)
    }

    /// Makes again what was taken back last, and says what it was; `None` if there is nothing.
    pub fn redo(&mut self) -> Option<String> {
        self.knob = None;
        let next = self.future.pop()?;
        let old = std::mem::replace(&mut self.now, next);
        let said = changes::said(&old, &self.now);
        self.past.push(old);
        Some(said)
    }

    /// What was on the desk before the last change.
    pub fn before(&self) -> Option<&Edit> {
        self.past.last()
    }

    /// Is it other than what was saved?
    pub fn changed(&self) -> bool {
        self.now != self.saved
    }

    /// What is on the desk is now on the disk.
    pub fn is_saved(&mut self) {
        self.saved = self.now.clone();
    }

    /// What the desk would go back to.
    pub fn saved(&self) -> &Edit {
        &self.saved
    }

    /// As after a crash: on the desk what was there, on the disk something else.
    pub fn recovered(edit: Edit, saved: Edit) -> Variation {
        Variation {
            past: vec![saved.clone()],
            saved,
            ..Variation::new(edit)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    #[test]
    fn undo_and_redo_lead_back_to_the_same_edit() {
        let demo = store::demo();
        let mut variation = Variation::new(demo.clone());
        let mut edit = demo.clone();
        for turn in [1.5, 1.6, 1.7] {
            edit.offence.patience.hold = turn;
            assert!(variation.change(edit.clone(), "hold"));
        }
        let name = edit.offence.rules[0].name.clone();
        edit.off.insert(name);
        variation.change(edit.clone(), "switch");
        assert!(variation.changed());
        variation.undo();
        assert_eq!(variation.now().offence.patience.hold, 1.7);
        variation.undo();
        assert_eq!(variation.now(), &demo);
        assert!(!variation.can_undo());
        variation.redo();
        variation.redo();
        assert_eq!(variation.now(), &edit);
        // Switched on again, nothing is left to take back but what was before.
        let off = edit.clone();
        edit.off.clear();
        variation.change(edit.clone(), "again");
        let steps = variation.past.len();
        variation.change(off.clone(), "again");
        assert_eq!((variation.now(), variation.past.len()), (&off, steps - 1));
    }

    #[test]
    fn a_rule_switched_off_is_not_played_and_switched_on_is_in_its_old_place() {
        let mut edit = store::demo();
        let all = edit.scenario().expect("a scenario").offence.rules;
        edit.off.insert(all[2].name.clone());
        let fewer = edit.scenario().expect("a scenario").offence.rules;
        assert_eq!(fewer.len() + 1, all.len());
        edit.off.clear();
        assert_eq!(edit.scenario().expect("a scenario").offence.rules, all);
    }

    #[test]
    fn every_number_of_a_rule_can_be_turned() {
        let mut edit = store::demo();
        let mut seen = 0;
        for rule in &mut edit.offence.rules {
            let before = rule.clone();
            let count = numbers(rule).len();
            for i in 0..count {
                *numbers(rule)[i].value += 0.1;
            }
            assert_eq!(count == 0, *rule == before);
            seen += count;
        }
        assert!(seen >= 6, "{seen}");
    }

    #[test]
    fn a_look_is_taken_into_the_reading_once_and_out_again() {
        let mut offence = store::demo().offence;
        let before = offence.reading.clone();
        allow(&mut offence, LookKind::Skip, true);
        allow(&mut offence, LookKind::Skip, true);
        assert_eq!(offence.reading.len(), before.len() + 1);
        allow(&mut offence, LookKind::Skip, false);
        assert_eq!(offence.reading, before);
    }
}
