//! Where do you go? A drill for attackers off the ball: something has just happened, and the learner puts the player
//! where the rules send that player, or leaves the player in place.

use super::desk::Desk;
use super::drill::{NOTHING, Stage, Task};
use super::drill_find::Goes;
use super::words::drills as says;
use crate::court::Vec2;
use crate::offence::words;
use crate::report::clean;

/// How it was, beside what the learner did.
#[derive(Clone, Debug, PartialEq)]
pub struct Gone {
    /// What was asked.
    pub goes: Goes,
    /// The place, metres from the rim.
    pub right: Vec2,
    /// Where the learner put the player, metres from the rim.
    pub put: Vec2,
    /// Metres off.
    pub off: f64,
}

/// What has just happened: what the rule that fires waits for.
pub fn happened(desk: &Desk, goes: &Goes) -> String {
    let rule = desk.recording.scenario.offence.rules.get(goes.rule.0);
    let said = rule.map_or(String::new(), |rule| words::event(&rule.when));
    clean::line(&format!("{}.", words::capital(&said)))
}

/// Why the player goes there: the rule, and what it says to that player.
pub fn because(desk: &Desk, goes: &Goes) -> String {
    let Some(rule) = desk.recording.scenario.offence.rules.get(goes.rule.0) else {
        return String::new();
    };
    let line = goes.rule.1.and_then(|line| rule.actions.get(line));
    let text = match line {
        Some(action) => says::by(&rule.name, &words::action(action)),
        None => says::sends_others_no_rule(&rule.name, &(goes.who + 1)),
    };
    clean::line(&text)
}

/// Tells the learner where the rules send the player.
pub fn reveal(desk: &mut Desk) {
    let Some(goes) = desk.drill.goes.filter(|_| desk.drill.task == Task::Where) else {
        return;
    };
    let right = desk.recording.cast.court.spot(goes.to);
    let put = desk.picture().pos[goes.who];
    let off = (put - right).length();
    let score = 100.0 * (1.0 - off / NOTHING).clamp(0.0, 1.0);
    desk.drill.scores.push(score);
    desk.drill.stage = Stage::Shows {
        answers: Vec::new(),
        read: None,
        gone: Some(Gone {
            goes,
            right,
            put,
            off,
        }),
        score,
    };
}
