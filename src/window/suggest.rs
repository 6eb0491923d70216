//! What could be tried against a stall, by what was seen: none of it is known to help before it is tried.

use super::variation::{Edit, allow};
use super::words::trial as words;
use crate::defence::Duty;
use crate::offence::LookKind;
use crate::offence::tweak::Tweak;
use crate::scenario::read_tweak;
use crate::scenario::shipped::{self, Kind};
use crate::why::Summary;

/// A change that could be tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// What the change is called.
    pub name: String,
    /// Why just this.
    pub because: String,
    /// What would be on the desk with it.
    pub edit: Edit,
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

/// What could be tried, from what was seen: for the light that is left unused, for the commonest
/// closer, and for the rule after which it stalls most. None of it is known to help.
pub fn suggestions(edit: &Edit, summary: &Summary) -> Vec<Suggestion> {
    let mut list: Vec<Suggestion> = Vec::new();
    let mut put = |name: String, because: String, edit: Edit| {
        if list.iter().all(|s| s.name != name) {
            list.push(Suggestion {
                name,
                because,
                edit,
            });
        }
    };
    if let Some(light) = summary.unused.first() {
        let because = words::is_open_and_your(&light.words());
        let tweaks = light.tweaks.iter();
        let found = tweaks.filter_map(|word| with_tweak(edit, word)).next();
        match found {
            Some((name, edit)) => put(name, because, edit),
            None => {
                let mut with = edit.clone();
                allow(&mut with.offence, light.look, true);
                put(words::take_the(&light.look.word()), because, with);
            }
        }
    }
    let commonest = summary
        .looks
        .iter()
        .filter_map(|l| {
            let closer = l.closers.first()?;
            let weight = l.seen?.value * l.shut?.value * closer.share?.value;
            Some((weight, l.site.kind, closer.seat))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, look, seat)) = commonest {
        let because = words::the_is_shut_most(&look.word(), &seat.who());
        let found = against(seat.duty, look)
            .iter()
            .find_map(|word| with_tweak(edit, word));
        if let Some((name, edit)) = found {
            put(name, because, edit);
        }
    }
    if let Some(rule) = summary.stalls.stories.iter().find_map(|s| s.rule.clone())
        && !edit.off.contains(&rule)
    {
        let mut without = edit.clone();
        without.off.insert(rule.clone());
        if without.sound() {
            let because = words::IT_STALLS_MOST_AFTER.to_string();
            put(words::switch_off(&rule), because, without);
        }
    }
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
        for s in &list {
            assert!(s.edit.sound(), "{}", s.name);
            let played = |e: &Edit| e.scenario().expect("a scenario").offence;
            assert_ne!(played(&s.edit), played(&edit), "{}", s.name);
        }
    }
}
