//! What could be tried against a stall, by what was seen: none of it is known to help before it is tried.

use std::collections::BTreeSet;

use super::variation::{Edit, allow};
use super::words::trial as words;
use crate::defence::Duty;
use crate::offence::LookKind;
use crate::offence::tweak::Tweak;
use crate::scenario::read_tweak;
use crate::scenario::shipped::{self, Kind};
use crate::why::Summary;
use crate::why::summary::Story;

/// A change that could be tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// What the change is called.
    pub name: String,
    /// Why just this.
    pub because: String,
    /// What it can bring at most, by what was seen.
    pub brings: Brings,
    /// A moment of which that is true: possession and time, seconds.
    pub example: Option<(u64, f64)>,
    /// What would be on the desk with it.
    pub edit: Edit,
}

/// What a change can bring at most: the worth of what is given up, or the stalled time that it is about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Brings {
    /// Points a possession.
    Points(f64),
    /// Seconds a possession.
    Seconds(f64),
}

/// A smaller difference a whole trial seldom tells: points and seconds a possession (ours, by the width of the intervals
/// after 1,600 possessions of each).
const TOLD: (f64, f64) = (0.05, 0.1);

impl Brings {
    /// How many times what a trial can tell.
    pub fn told(self) -> f64 {
        match self {
            Brings::Points(points) => points / TOLD.0,
            Brings::Seconds(seconds) => seconds / TOLD.1,
        }
    }

    /// In a sentence.
    pub fn words(self) -> String {
        let told = match self.told() < 1.0 {
            true => words::TOO_LITTLE_TO_TELL,
            false => "",
        };
        match self {
            Brings::Points(points) => words::at_most_points(&(100.0 * points), &told),
            Brings::Seconds(seconds) => words::at_most_seconds(&seconds, &told),
        }
    }
}

/// Seconds a possession of the stalls that are such.
fn stalled(summary: &Summary, is: impl Fn(&Story) -> bool) -> f64 {
    let total = summary.stalls.total.map_or(0.0, |total| total.value);
    let stories = summary.stalls.stories.iter().filter(|story| is(story));
    total
        * stories
            .filter_map(|s| s.share)
            .map(|s| s.value)
            .sum::<f64>()
}

/// A stall of the kind that lasts most of those that are such.
fn longest(summary: &Summary, is: impl Fn(&Story) -> bool) -> Option<(u64, f64)> {
    let share = |s: &Story| s.share.map_or(0.0, |share| share.value);
    let stories = summary.stalls.stories.iter().filter(|story| is(story));
    let most = stories.max_by(|a, b| share(a).total_cmp(&share(b)));
    most.map(|story| story.example)
}

/// The rules by the stalled time after each, most first, with that time, seconds a possession.
fn stalls_after(summary: &Summary) -> Vec<(String, f64)> {
    let rules: BTreeSet<&String> = summary
        .stalls
        .stories
        .iter()
        .filter_map(|s| s.rule.as_ref())
        .collect();
    let time = |rule: &String| stalled(summary, |s| s.rule.as_ref() == Some(rule));
    let mut rules: Vec<_> = rules.into_iter().map(|r| (r.clone(), time(r))).collect();
    rules.sort_by(|a, b| b.1.total_cmp(&a.1));
    rules
}

/// The shipped tweak of that word, put into an edit, if it fits.
fn with_tweak(edit: &Edit, word: &str) -> Option<(String, Edit)> {
    let file = shipped::find(Kind::Tweak, word)?;
    let tweak: Tweak = read_tweak(file.text, file.word).ok()?.value;
    let offence = tweak.apply(&edit.offence).ok()?;
    let edit = Edit {
        offence,
        ..edit.clone()
    };
    edit.sound().then_some((tweak.name, edit))
}

/// Why just this is to be tried, with a moment of which that is true.
type Reason = (String, Option<(u64, f64)>);

/// What could be tried, from what was seen: for the light that is left unused, for the commonest
/// closer, and for the rule after which it stalls most: first what a trial can tell best. None of it is known to help.
pub fn suggestions(edit: &Edit, summary: &Summary) -> Vec<Suggestion> {
    let mut list: Vec<Suggestion> = Vec::new();
    let mut put = |name: String, (because, example): Reason, brings: Brings, edit: Edit| {
        if list.iter().all(|s| s.name != name) {
            list.push(Suggestion {
                name,
                because,
                brings,
                example,
                edit,
            });
        }
    };
    if let Some(light) = summary.unused.first() {
        let because = (words::is_open_and_your(&light.words()), light.example);
        let brings = Brings::Points(light.adds.map_or(0.0, |adds| adds.high));
        let tweaks = light.tweaks.iter();
        let found = tweaks.filter_map(|word| with_tweak(edit, word)).next();
        match found {
            Some((name, edit)) => put(name, because, brings, edit),
            None => {
                let mut with = edit.clone();
                allow(&mut with.offence, light.look, true);
                put(words::take_the(&light.look.word()), because, brings, with);
            }
        }
    }
    let commonest = summary
        .looks
        .iter()
        .filter_map(|l| {
            let closer = l.closers.first()?;
            let weight = l.seen?.value * l.shut?.value * closer.share?.value;
            Some((weight, l.site.kind, closer))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, look, closer)) = commonest {
        let seat = closer.seat;
        let because = words::the_is_shut_most(&look.word(), &seat.who());
        let because = (because, closer.example);
        let found = against(seat.duty, look)
            .iter()
            .find_map(|word| with_tweak(edit, word));
        let shut = |s: &Story| s.shut.is_some_and(|(l, by, _)| (l, by) == (look, seat));
        // Against a closer who makes nothing stall there is nothing to gain.
        let seconds = stalled(summary, shut);
        if let Some((name, edit)) = found.filter(|_| seconds > 0.0) {
            put(name, because, Brings::Seconds(seconds), edit);
        }
    }
    let most = stalls_after(summary).into_iter().next();
    if let Some((rule, seconds)) = most.filter(|(rule, _)| !edit.off.contains(rule)) {
        let mut without = edit.clone();
        without.off.insert(rule.clone());
        if without.sound() {
            let because = words::IT_STALLS_MOST_AFTER.to_string();
            let because = (
                because,
                longest(summary, |s| s.rule.as_ref() == Some(&rule)),
            );
            let brings = Brings::Seconds(seconds);
            put(words::switch_off(&rule), because, brings, without);
        }
    }
    list.sort_by(|a, b| b.brings.told().total_cmp(&a.brings.told()));
    list
}

/// Shipped tweaks that move or use such a closer, by common practice (their notes say how).
fn against(duty: Duty, look: LookKind) -> &'static [&'static str] {
    match duty {
        Duty::Denying | Duty::Gap => &["dribble_at_backdoor", "screen_away"],
        Duty::HelpLine => &["weak_side_exchange", "skip_pass"],
        Duty::LowHelp | Duty::Rotating => &["weak_side_corner_drift", "high_post_flash"],
        Duty::Post => &["high_post_flash"],
        // He on the ball is not moved by what is done away from it.
        _ if look == LookKind::Shot => &[],
        _ if look == LookKind::Drive => &["weak_side_corner_drift", "screen_away"],
        _ => &["screen_away", "high_post_flash"],
    }
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;
    use crate::scenario::Scenario;
    use crate::why::{Why, rivals};
    use std::sync::atomic::AtomicBool;

    #[test]
    fn for_the_unused_skip_the_skip_tweak_is_suggested_and_every_suggestion_changes_what_is_played()
    {
        let scenario = Scenario::demo();
        let plan = Why {
            first_seed: 1,
            possessions: 60,
            threads: 1,
        };
        let stop = AtomicBool::new(false);
        let sheets = plan.sheets(&scenario, &|_| (), &stop).expect("sheets");
        let summary = Summary::of(&sheets, 60, &scenario.offence, &rivals(&scenario));
        let edit = store::demo();
        let list = suggestions(&edit, &summary);
        assert!(list.len() >= 2, "{list:?}");
        assert!(list.iter().any(|s| s.name == "Skip pass"));
        // First what a trial can tell; and beside each how much it can bring at most, by what was seen.
        assert!(
            list.is_sorted_by(|a, b| a.brings.told() >= b.brings.told()),
            "{list:?}"
        );
        let skip = list.iter().find(|s| s.name == "Skip pass").expect("there");
        let adds = summary.unused[0].adds.expect("known");
        assert_eq!(skip.brings, Brings::Points(adds.high));
        let said = skip.brings.words();
        assert!(
            said.contains(&format!("at most {:.1} points", 100.0 * adds.high)),
            "{said}"
        );
        let total = summary.stalls.total.expect("it stalls").value;
        for s in &list {
            let within = |x: f64| x > 0.0 && x <= total;
            assert!(
                !matches!(s.brings, Brings::Seconds(x) if !within(x)),
                "{s:?}"
            );
            assert_eq!(
                s.brings.told() < 1.0,
                s.brings.words().contains("less than a trial can tell")
            );
        }
        for s in &list {
            assert!(s.edit.sound(), "{}", s.name);
            let played = |e: &Edit| e.scenario().expect("a scenario").offence;
            assert_ne!(played(&s.edit), played(&edit), "{}", s.name);
        }
    }
}
