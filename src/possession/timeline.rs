//! A possession told as a coach would tell it: one line for each instant at which something
//! happens, and under each deed with the ball what else was open and who shut the best of the
//! rest. Attackers are called by number, defenders X and a number.

use crate::court::{Spot, SpotName, Units};
use crate::offence::words::capital;
use crate::offence::{CutLane, LookKind};
use crate::scenario::Scenario;

use super::sends::{answers_the_deed, listed, sends};
use super::{Ending, Entry, Finish, LookNow, Moment, Possession, TICK, Turnover, What};

mod passes;
mod screens;

use passes::not_open;

/// One line: when, and what.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Line {
    /// Tenths of a second since the possession began; `None` for a line that belongs to the one
    /// before it.
    pub tenths: Option<u32>,
    /// What happened, in a coach's words.
    pub text: String,
}

/// Stalls shorter than this, seconds, are not worth a word. Invented.
const WORTH_TELLING: f64 = 1.0;
/// What happens within this time, seconds, is told in one breath: players start on a rule a tick
/// or two after the pass that it answers.
const ONE_BREATH: f64 = 0.13;
/// Said of a team-mate who catches what was meant for another.
const GETS_IT: &str = " gets it";
/// A decision belongs to the deed that follows it within this time, seconds: two decision instants.
const JUST_BEFORE: f64 = 0.41;

/// A length in the units of the court: "16 ft" or "4.9 m".
pub fn length(units: Units, metres: f64) -> String {
    match units {
        Units::Metric => format!("{metres:.1} m"),
        Units::Imperial => format!("{:.0} ft", metres / FOOT),
    }
}

/// Metres in a foot (exact).
pub const FOOT: f64 = 0.3048;

/// A spot with the word that goes before it: "on the right wing", "at the top".
pub fn place(spot: Spot) -> String {
    let word = match spot.name {
        SpotName::Wing | SpotName::Block => "on",
        SpotName::Slot | SpotName::Corner | SpotName::ShortCorner => "in",
        SpotName::Top | SpotName::HighPost | SpotName::Elbow | SpotName::Rim => "at",
    };
    format!("{word} the {spot}")
}

/// Farther from a spot than this a player is not at it yet, metres (ours).
const NOT_THERE: f64 = 1.4;

/// The same for a player `off` metres from the spot that he holds.
fn about(spot: Spot, off: f64) -> String {
    if off > NOT_THERE && !spot.name.is_perimeter() {
        format!("near the {spot}")
    } else if off > NOT_THERE {
        format!("on the way to the {spot}")
    } else {
        place(spot)
    }
}

/// The whole possession as lines.
pub fn lines(possession: &Possession, scenario: &Scenario) -> Vec<Line> {
    let told = Teller {
        possession,
        scenario,
        units: scenario.court.units,
        barred: std::cell::Cell::new(0),
    };
    let mut lines = Vec::new();
    let entries = &possession.timeline;
    let mut from = 0;
    while from < entries.len() {
        let same = |e: &Entry| e.time - entries[from].time < ONE_BREATH;
        let count = entries[from..].iter().take_while(|e| same(e)).count();
        told.instant(from, &entries[from..from + count], &mut lines);
        from += count;
    }
    lines
}

struct Teller<'a> {
    possession: &'a Possession,
    scenario: &'a Scenario,
    units: Units,
    /// Kinds of look of which has been said that no rule takes them (a bit each).
    barred: std::cell::Cell<u32>,
}

impl Teller<'_> {
    /// All that happens in one breath, as one sentence, and what was open.
    fn instant(&self, first: usize, entries: &[Entry], lines: &mut Vec<Line>) {
        let mut clauses: Vec<(String, Vec<String>)> = Vec::new();
        for (i, entry) in entries.iter().enumerate() {
            // Going out to a place and filling it is one thing, and so is sealing and staying there.
            let told = matches!(entry.what, What::Fills { who, to }
                if self.has_it(first, who, to) || self.is_on_the_way(first, who, to)
                    || entries.iter().any(|e| e.what == What::Unfed { who, to }
                    || e.what == What::Seals { who, at: to }));
            let Some((who, does)) = self.clause(first + i, &entry.what).filter(|_| !told) else {
                continue;
            };
            match clauses.iter_mut().find(|c| c.0 == who && !who.is_empty()) {
                // Who gets a pass that was meant for another is said last.
                Some(clause) => {
                    let other = clause.1.last().is_some_and(|d| d.contains(GETS_IT));
                    let at = clause.1.len() - usize::from(other);
                    clause.1.insert(at, does);
                }
                None => clauses.push((who, vec![does])),
            }
        }
        let mut text = String::new();
        for (who, does) in clauses {
            if !text.is_empty() {
                text.push_str("; ");
            }
            text.push_str(format!("{who} {}", listed(&does)).trim());
        }
        let offence = &self.scenario.offence;
        let told_here = |e: &&Entry| match e.what {
            What::Rule { rule, .. } => offence
                .rules
                .get(rule)
                .is_some_and(|rule| answers_the_deed(rule, entries)),
            _ => false,
        };
        // What other rules answer is not told here, and players start a little later.
        let others = entries.iter().filter(|e| !told_here(e));
        for sent in others.filter_map(|e| sends(offence, &e.what)) {
            let before = if text.is_empty() { "" } else { "; " };
            text = format!("{text}{before}{sent}");
        }
        let rules = entries
            .iter()
            .filter(told_here)
            .filter_map(|e| match e.what {
                What::Rule { rule, .. } => offence.rules.get(rule),
                _ => None,
            });
        let quoted: Vec<_> = rules.map(|r| format!("“{}”", r.name)).collect();
        if !quoted.is_empty() {
            let rules = if quoted.len() == 1 { "rule" } else { "rules" };
            text = format!("{text}. By the {rules} {}", quoted.join(" and "));
        }
        if text.is_empty() {
            return;
        }
        let time = entries[0].time;
        lines.push(Line {
            tenths: Some((time * 10.0).round() as u32),
            text: sentence(&text),
        });
        let deed = entries.iter().find(|e| {
            matches!(
                e.what,
                What::Passes { .. } | What::Shoots { .. } | What::Drives { .. }
            )
        });
        let decision = deed.and_then(|deed| self.decision_before(deed.time));
        if let Some(text) = decision.and_then(|m| self.seen(m)) {
            lines.push(Line { tenths: None, text });
        }
    }

    fn decision_before(&self, time: f64) -> Option<&Moment> {
        let moments = self.possession.moments.iter().rev();
        let mut near = moments.filter(|m| {
            m.time <= time + TICK / 2.0 && time - m.time < JUST_BEFORE && m.choice.is_some()
        });
        near.next()
    }

    /// What else was open, whether what he took was, and who shut the best of the rest.
    fn seen(&self, m: &Moment) -> Option<String> {
        let chosen = m.choice.and_then(|i| m.looks.get(i));
        let rest = || {
            m.looks
                .iter()
                .enumerate()
                .filter(|(i, _)| Some(*i) != m.choice)
        };
        let by_value = |a: &&LookNow, b: &&LookNow| b.value.total_cmp(&a.value);
        let outside = m.at.name.is_perimeter();
        let said = |l: &&LookNow| l.open && (outside || l.kind != LookKind::Drive);
        let mut open: Vec<&LookNow> = rest().map(|(_, l)| l).filter(said).collect();
        open.sort_by(by_value);
        let words = |l: &&LookNow| {
            // Said once for each kind of look.
            let first = !l.allowed && self.barred.get() & (1 << l.kind as u32) == 0;
            if first {
                self.barred.set(self.barred.get() | 1 << l.kind as u32);
            }
            let barred = match l.kind {
                LookKind::Shot if l.allowed => " (passed up)",
                LookKind::Shot => " (the rules do not let him shoot from there now)",
                _ if !first => "",
                LookKind::Drive => " (the rules do not let him drive from there now)",
                _ => " (no rule takes it)",
            };
            format!("{}{barred}", self.look(l))
        };
        let list: Vec<_> = open.iter().map(words).collect();
        let list = list.join(", ");
        // A pass that gets there is open, whatever shot comes of it.
        let shut = |look: &&LookNow| !look.open && (look.pass.is_none() || look.openness <= 0.5);
        let mut parts = vec![match chosen.filter(shut) {
            None if open.is_empty() => "nothing else was open".to_string(),
            None => format!("also open: {list}"),
            Some(look) if open.is_empty() => {
                format!(
                    "{} was {}, nor was anything else open",
                    self.look(look),
                    not_open(look)
                )
            }
            Some(look) => format!(
                "{} was {}; open instead: {list}",
                self.look(look),
                not_open(look)
            ),
        }];
        let worth = |l: &LookNow| l.prize;
        let shut = rest()
            .map(|(_, l)| l)
            .filter(|l| !l.open && l.closer.is_some() && worth(l) > 0.0)
            .max_by(|a, b| worth(a).total_cmp(&worth(b)));
        if let Some((look, closer)) = shut.and_then(|l| Some((l, l.closer?))) {
            parts.push(format!(
                "X{}, {}, shut {}",
                closer.defender,
                closer.duty.word(),
                self.look(look)
            ));
        }
        Some(sentence(&parts.join("; ")))
    }

    fn look(&self, look: &LookNow) -> String {
        match look.to {
            Some(to) => format!("the {} to {to}", look.kind.word()),
            None => format!("the {}", look.kind.word()),
        }
    }

    fn length(&self, metres: f64) -> String {
        length(self.units, metres)
    }

    /// Who, and what he does.
    fn clause(&self, index: usize, what: &What) -> Option<(String, String)> {
        let x = |n: u8| format!("X{n}");
        let (who, does) = match *what {
            What::Starts { who, at } => (who.to_string(), format!("has the ball {}", place(at))),
            What::Rule { .. } => return None,
            What::Passes {
                from,
                to,
                kind,
                look,
                length,
                ..
            } => {
                let deed = self.pass(index, to, look);
                let kind = kind.word();
                let kind = kind.strip_suffix(" pass").unwrap_or(kind);
                (
                    from.to_string(),
                    format!("{deed} ({kind}, {})", self.length(length)),
                )
            }
            What::Catches {
                who,
                at,
                off,
                room,
                defender,
            } => (
                who.to_string(),
                format!(
                    "catches {}, X{defender} {} off",
                    about(at, off),
                    self.length(room)
                ),
            ),
            What::Cuts {
                who,
                from,
                lane,
                to,
            } => {
                let lane = match lane {
                    CutLane::BallSide => "cuts ball side",
                    CutLane::Behind => "cuts backdoor",
                };
                let to = to.map(|to| format!(" to the {to}")).unwrap_or_default();
                (who.to_string(), format!("{lane} from the {from}{to}"))
            }
            What::Unfed { who, to } => (
                who.to_string(),
                format!("does not get the ball and goes out to the {to}"),
            ),
            What::Fills { who, to } => (who.to_string(), format!("fills the {to}")),
            What::Fades { who, to } => (who.to_string(), format!("fades to the {to}")),
            What::ComesOff { who, of, refuses } => {
                let how = if refuses {
                    "goes away from"
                } else {
                    "comes off"
                };
                (who.to_string(), format!("{how} {of}'s screen"))
            }
            What::GetsOpen { who } => (
                who.to_string(),
                "takes his man in and comes back out".to_string(),
            ),
            What::Flashes { who, to } => (who.to_string(), format!("flashes to the {to}")),
            What::Seals { who, at } => (who.to_string(), format!("seals {}", place(at))),
            What::Waits { who, of } => (who.to_string(), format!("waits for {of}'s screen")),
            What::Holds { who, at } => (who.to_string(), format!("holds the {at} now")),
            What::Screens { who, on } => (who.to_string(), format!("screens X{on}")),
            What::Drives { who, from } => (who.to_string(), format!("drives from the {from}")),
            What::DribblesAt { who, toward } => (who.to_string(), format!("dribbles at {toward}")),
            What::NoScreen { .. }
            | What::NoFlash { .. }
            | What::LetsBe { .. }
            | What::Slips { .. }
            | What::SetsOutToHand { .. }
            | What::HandsOff { .. }
            | What::KeepsIt { .. } => return screens::clause(what),
            What::Drops { who } => (who.to_string(), "cannot hold it: a loose ball".to_string()),
            What::Dribbles { who, waits_for, to } => {
                let does = match (waits_for, to) {
                    (Some(mate), _) => format!("dribbles where he is and waits for {mate}"),
                    (None, Some(to)) => format!("dribbles out to the {to}"),
                    (None, None) => "dribbles for a better angle".to_string(),
                };
                (who.to_string(), does)
            }
            What::Stopped { who, by, duty } => {
                (x(by), format!("stops {who}'s drive, {}", duty.word()))
            }
            What::Helps { defender, leaves } => (x(defender), format!("leaves {leaves} to help")),
            What::Rotates { defender, to } => (x(defender), format!("rotates to {to}")),
            What::Switches { defender, with } => {
                (x(defender), format!("switches men with X{with}"))
            }
            What::Late {
                defender,
                man,
                late,
            } => (x(defender), format!("is {late:.1} s late on {man}")),
            What::BackdoorThere { who, defender } => (
                String::new(),
                format!("{who}'s backdoor cut behind X{defender} is there"),
            ),
            What::Stall { seconds, .. } if seconds < WORTH_TELLING => return None,
            What::Stall { who, seconds } => (
                who.to_string(),
                format!("has found nothing open for {seconds:.1} s"),
            ),
            What::Shoots {
                who,
                distance,
                room,
                chance,
                finish,
            } => (
                who.to_string(),
                format!(
                    "shoots {} from {}, nearest defender {} off, a {:.0} % shot",
                    finish_word(finish),
                    self.length(distance),
                    self.length(room),
                    chance * 100.0
                ),
            ),
            What::Tips { defender, from, to } => {
                (x(defender), format!("gets a hand to {from}'s pass to {to}"))
            }
            What::Ends { ending } => (String::new(), ends(&ending)),
        };
        Some((who, does))
    }
}

fn finish_word(finish: Finish) -> &'static str {
    match finish {
        Finish::Cut => "off the cut",
        Finish::PostUp => "from the post",
        Finish::DropOff => "off the drop-off",
        Finish::Drive => "off the drive",
        Finish::SpotUp => "off the catch",
        Finish::OffHold => "after a hold",
    }
}

fn ends(ending: &Ending) -> String {
    match *ending {
        Ending::Shot {
            shooter,
            throws: Some(made),
            ..
        } => format!("{shooter} is fouled: {made} of 2 free throws"),
        Ending::Shot {
            made: true, points, ..
        } => format!("it goes in: {points} points"),
        Ending::Shot { made: false, .. } => "no good".to_string(),
        Ending::Turnover { how, who, by } => {
            let by = by.map_or("the defence".to_string(), |b| format!("X{b}"));
            match how {
                Turnover::Intercepted => format!("{by} takes {who}'s pass"),
                Turnover::Tipped => format!("{by} tips {who}'s pass away"),
                Turnover::LostPass => "the ball gets away and is lost".to_string(),
                Turnover::LostDribble => format!("{who} loses the dribble to {by}"),
                Turnover::ShotClock => format!("{who} is caught by the shot clock"),
                Turnover::CloselyGuarded => format!("{who} is called: closely guarded by {by}"),
                Turnover::LaneSeconds => format!("{who} is called: three seconds in the lane"),
            }
        }
    }
}

/// First letter large, a full stop at the end.
fn sentence(text: &str) -> String {
    let stop = if text.ends_with('.') { "" } else { "." };
    capital(text) + stop
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::possession::fixture::possession;

    fn told(seed: u64) -> Vec<String> {
        let lines = lines(&possession(seed), &Scenario::demo());
        let time = |l: &Line| {
            l.tenths
                .map_or("  ".to_string(), |t| format!("{}.{} ", t / 10, t % 10))
        };
        lines
            .iter()
            .map(|l| format!("{}{}", time(l), l.text))
            .collect()
    }

    #[test]
    fn one_instant_is_one_sentence_with_the_rule_by_name() {
        let rule = &Scenario::demo().offence.rules[0].name;
        assert_eq!(
            told(1),
            [
                "0.0 1 has the ball in the right slot.",
                &format!(
                    "1.0 1 passes to 3 on the right wing (chest, 16 ft) and cuts ball side from \
                     the right slot; X1 is 0.3 s late on 1. By the rule “{rule}”."
                ),
                "  Nothing else was open; X5, helping at the rim, shut the drive.",
                "1.4 2 fills the right slot.",
                "1.6 3 catches on the right wing, X3 4 ft off.",
                "2.2 1's backdoor cut behind X1 is there; 1 cuts backdoor from the right slot.",
                "2.6 3 hits 1 on the backdoor cut (bounce, 16 ft).",
                "  Nothing else was open.",
                "4.0 1 shoots off the cut from 3 ft, nearest defender 5 ft off, a 62 % shot; it \
                 goes in: 2 points.",
            ]
        );
    }

    #[test]
    fn a_lost_ball_is_told_with_who_took_it() {
        assert!(told(4).last().unwrap().ends_with("X5 tips 3's pass away."));
    }

    #[test]
    fn lengths_are_told_in_the_units_of_the_court() {
        assert_eq!(length(Units::Metric, 4.876), "4.9 m");
        assert_eq!(length(Units::Imperial, 4.8768), "16 ft");
    }
}
