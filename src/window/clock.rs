//! Time in the window: running or frozen, real, half or quarter speed, and steps from decision to
//! decision.

use super::desk::Desk;
use super::drill;
use super::jobs;
use super::recording::{Recording, Spell};
use super::story::Story;
use super::words::floor as words;
use crate::possession::TICK;

/// Speeds at which a possession is shown, with their names.
pub const RATES: [(f64, &str); 3] = [
    (1.0, words::REAL_TIME),
    (0.5, words::HALF_SPEED),
    (0.25, words::QUARTER_SPEED),
];

/// What one can jump to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Jump {
    /// The next stall.
    Stall,
    /// The next backdoor chance.
    Backdoor,
    /// The next spell with the driving lane open.
    Lane,
}

impl Jump {
    /// All of them, in the order of the buttons.
    pub const ALL: [Jump; 3] = [Jump::Stall, Jump::Backdoor, Jump::Lane];

    /// The word of the button.
    pub fn word(self) -> &'static str {
        match self {
            Jump::Stall => "stall",
            Jump::Backdoor => words::BACKDOOR_CHANCE,
            Jump::Lane => words::OPEN_LANE,
        }
    }

    /// The spells of a recording that it means.
    pub fn spells(self, recording: &Recording) -> &[Spell] {
        match self {
            Jump::Stall => &recording.stalls,
            Jump::Backdoor => &recording.backdoors,
            Jump::Lane => &recording.lanes,
        }
    }
}

/// Where in the possession the window is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Time {
    /// Seconds since the possession began.
    pub now: f64,
    /// Running; otherwise frozen.
    pub running: bool,
    /// Seconds of the possession in one second on the wall.
    pub rate: f64,
}

impl Default for Time {
    fn default() -> Self {
        Time {
            now: 0.0,
            running: true,
            rate: 1.0,
        }
    }
}

impl Time {
    /// `seconds` of the clock on the wall have gone by.
    pub fn pass(&mut self, seconds: f64, recording: &Recording) {
        if self.running {
            self.now += seconds.clamp(0.0, 0.25) * self.rate;
            if self.now >= recording.end() {
                self.now = recording.end();
                self.running = false;
            }
        }
    }

    /// Runs on (from the start, if it is at the end), or freezes at the nearest decision.
    pub fn toggle(&mut self, recording: &Recording) {
        if self.running {
            self.freeze(recording);
        } else {
            if self.now >= recording.end() - TICK {
                self.now = 0.0;
            }
            self.running = true;
        }
    }

    /// Freezes at the nearest decision instant, if there is one within a step of it.
    pub fn freeze(&mut self, recording: &Recording) {
        self.running = false;
        if let Some(i) = recording.moment_near(self.now) {
            let at = recording.possession.moments[i].time;
            if (at - self.now).abs() < NEAR {
                self.now = at;
            }
        }
    }

    /// To a time, frozen.
    pub fn go(&mut self, to: f64, recording: &Recording) {
        self.running = false;
        self.now = to.clamp(0.0, recording.end());
    }

    /// To the next decision instant (or the one before); false if there is none.
    pub fn step(&mut self, forward: bool, recording: &Recording) -> bool {
        self.running = false;
        let moments = &recording.possession.moments;
        let next = if forward {
            moments.iter().find(|m| m.time > self.now + 1e-6)
        } else {
            moments.iter().rev().find(|m| m.time < self.now - 1e-6)
        };
        if let Some(moment) = next {
            self.now = moment.time;
        }
        next.is_some()
    }

    /// One tick on or back.
    pub fn tick(&mut self, forward: bool, recording: &Recording) {
        let step = if forward { TICK } else { -TICK };
        let tick = (self.now / TICK).round() * TICK;
        self.go(tick + step, recording);
    }

    /// To the start of the next such spell, frozen; round to the first one after the last.
    pub fn jump(&mut self, to: Jump, recording: &Recording) -> bool {
        let spells = to.spells(recording);
        let next = spells.iter().find(|s| s.from > self.now + 0.05);
        match next.or(spells.first()) {
            Some(spell) => {
                self.now = spell.from;
                self.freeze(recording);
                true
            }
            None => false,
        }
    }
}

impl Desk {
    /// To the next such spell of this possession; says so if there is none.
    pub fn jump(&mut self, to: Jump) {
        self.hush();
        if drill::holds(self) {
            return;
        }
        self.put_back();
        if !self.time.jump(to, &self.recording) {
            self.say(words::there_is_no_in(&to.word()));
        }
    }

    /// Looks for the next possession with a story.
    pub fn find(&mut self, story: Story) {
        if drill::holds(self) {
            return;
        }
        self.settle();
        let scenario = self.recording.scenario.clone();
        self.search = Some((story, jobs::search(scenario, story, self.seed)));
    }
}

/// How far a freeze may reach for a decision, seconds: half the way between two of them and a bit.
pub(super) const NEAR: f64 = 0.16;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;
    use std::sync::Arc;

    #[test]
    fn steps_go_from_decision_to_decision_and_back() {
        let recording = Recording::of(&Arc::new(Scenario::demo()), 1);
        let mut time = Time::default();
        let mut stops = vec![];
        while time.step(true, &recording) {
            assert!(recording.moment_at(time.now).is_some());
            stops.push(time.now);
        }
        let wanted: Vec<f64> = recording
            .possession
            .moments
            .iter()
            .map(|m| m.time)
            .collect();
        let wanted: Vec<f64> = wanted.into_iter().filter(|t| *t > 1e-6).collect();
        assert_eq!(stops, wanted);
        for at in stops.iter().rev().skip(1) {
            time.step(false, &recording);
            assert_eq!(time.now, *at);
        }
    }

    #[test]
    fn it_stops_at_the_end_and_begins_again() {
        let recording = Recording::of(&Arc::new(Scenario::demo()), 1);
        let mut time = Time::default();
        for _ in 0..4000 {
            time.pass(0.04, &recording);
        }
        assert_eq!((time.now, time.running), (recording.end(), false));
        time.toggle(&recording);
        assert_eq!((time.now, time.running), (0.0, true));
    }

    #[test]
    fn a_jump_lands_where_such_a_spell_begins() {
        let scenario = Arc::new(Scenario::demo());
        for jump in Jump::ALL {
            let recording = (1..400)
                .map(|seed| Recording::of(&scenario, seed))
                .find(|r| !jump.spells(r).is_empty())
                .expect("a possession with such a spell");
            let mut time = Time::default();
            assert!(time.jump(jump, &recording));
            let first = jump.spells(&recording)[0].from;
            assert!((time.now - first).abs() < 0.2, "{jump:?}");
        }
    }
}
