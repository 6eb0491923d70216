//! What one edit has that another has not, in a sentence: undo says what it takes back, and the page of the offence
//! what a change has brought.

use super::variation::Edit;
use super::words::offence as words;
use crate::offence::{Offence, Rule};
use crate::report::clean;

/// What was changed from one edit to the next: "“Backdoor” was switched off". Several changes at once are listed.
pub fn said(old: &Edit, new: &Edit) -> String {
    let mut parts = Vec::new();
    if old.offence.name != new.offence.name && old.offence.rules != new.offence.rules {
        let (new, old) = (&new.offence.name, &old.offence.name);
        parts.push(words::was_put_in_place(&quoted(new), &quoted(old)));
    } else {
        offence(&old.offence, &new.offence, &mut parts);
    }
    for rule in &new.offence.rules {
        let name = &rule.name;
        let known = old.offence.rules.iter().any(|r| r.name == *name);
        match (old.off.contains(name), new.off.contains(name)) {
            (false, true) if known => parts.push(words::was_switched_off(&quoted(name))),
            (true, false) => parts.push(words::was_switched_on(&quoted(name))),
            _ => {}
        }
    }
    if old.defence.name != new.defence.name {
        let (new, old) = (&new.defence.name, &old.defence.name);
        parts.push(words::was_put_in_place(&quoted(new), &quoted(old)));
    } else if old.defence != new.defence {
        parts.push(words::was_changed(&quoted(&new.defence.name)));
    }
    if old.attackers != new.attackers || old.defenders != new.defenders {
        parts.push(words::THE_PLAYERS_WERE_CHANGED.into());
    }
    for (differs, what) in [
        (old.court != new.court, words::THE_COURT_WAS_CHANGED),
        (old.start != new.start, words::THE_SIDE_OF_THE),
        (old.shot_clock != new.shot_clock, words::THE_SHOT_CLOCK_WAS),
        (old.drill != new.drill, words::THE_KIND_OF_PLAY),
        (old.model != new.model, words::A_NUMBER_OF_THE),
        (old.practice != new.practice, words::THE_WORDS_FOR_THE),
    ] {
        if differs {
            parts.push(what.into());
        }
    }
    // What is tried gets a name of its own with the change: nobody has renamed anything.
    if old.name != new.name && parts.is_empty() {
        parts.push(words::THE_VARIATION_WAS_RENAMED.into());
    }
    match parts.as_slice() {
        [] => words::NOTHING_THAT_IS_PLAYED.into(),
        parts => parts.join("; "),
    }
}

fn offence(old: &Offence, new: &Offence, parts: &mut Vec<String>) {
    rules(&old.rules, &new.rules, parts);
    for (differs, what) in [
        (old.patience != new.patience, words::HOW_LONG_THE_HOLDER),
        (old.reading != new.reading, words::WHAT_THE_HOLDER_MAY),
        (old.alignment != new.alignment, words::THE_START_WAS_CHANGED),
        (old.ball != new.ball, words::WHO_STARTS_WITH_THE),
        (
            old.keep_filled != new.keep_filled,
            words::THE_PLACES_TO_KEEP,
        ),
        (
            old.drive_from != new.drive_from,
            words::WHERE_DRIVES_BEGIN_WAS,
        ),
        (old.name != new.name, words::THE_OFFENCE_WAS_RENAMED),
    ] {
        if differs {
            parts.push(what.into());
        }
    }
}

fn rules(old: &[Rule], new: &[Rule], parts: &mut Vec<String>) {
    let has = |rules: &[Rule], name: &str| rules.iter().any(|r| r.name == name);
    let gone: Vec<&Rule> = old.iter().filter(|r| !has(new, &r.name)).collect();
    let come: Vec<&Rule> = new.iter().filter(|r| !has(old, &r.name)).collect();
    let renamed = |a: &Rule, b: &Rule| {
        Rule {
            name: b.name.clone(),
            ..a.clone()
        } == *b
    };
    if let ([a], [b]) = (gone.as_slice(), come.as_slice())
        && renamed(a, b)
    {
        let (a, b) = (quoted(&a.name), quoted(&b.name));
        parts.push(words::was_renamed(&a, &b));
        return;
    }
    for (rules, done) in [(come, "added"), (gone, words::TAKEN_OUT)] {
        match rules.as_slice() {
            [] => {}
            [rule] => parts.push(words::the_rule_was(&quoted(&rule.name), &done)),
            // A tweak brings several: their names stand on the page.
            several => parts.push(words::rules_were(&several.len(), &done)),
        }
    }
    for rule in new {
        if old.iter().any(|r| r.name == rule.name && r != rule) {
            parts.push(words::was_changed(&quoted(&rule.name)));
        }
    }
    let order = |rules: &[Rule], other: &[Rule]| {
        let both = rules.iter().filter(|r| has(other, &r.name));
        both.map(|r| r.name.clone()).collect::<Vec<_>>()
    };
    if order(old, new) != order(new, old) {
        parts.push(words::THE_ORDER_OF_THE.into());
    }
}

fn quoted(name: &str) -> String {
    format!("“{}”", clean::line(name))
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    #[test]
    fn every_change_of_a_rule_is_told_by_its_name() {
        let old = store::demo();
        let first = old.offence.rules[0].name.clone();
        let told = |change: &dyn Fn(&mut Edit)| {
            let mut new = old.clone();
            change(&mut new);
            said(&old, &new)
        };
        let off = told(&|e| {
            e.off.insert(first.clone());
        });
        assert_eq!(off, format!("“{first}” was switched off"));
        let added = told(&|e| {
            let mut rule = e.offence.rules[0].clone();
            rule.name = "Mine".into();
            e.offence.rules.push(rule);
        });
        assert_eq!(added, "the rule “Mine” was added");
        let two = told(&|e| {
            for name in ["Mine", "Yours"] {
                let mut rule = e.offence.rules[0].clone();
                rule.name = name.into();
                e.offence.rules.push(rule);
            }
        });
        assert_eq!(two, "2 rules were added");
        let renamed = told(&|e| e.offence.rules[0].name = "Mine".into());
        assert_eq!(renamed, format!("“{first}” was renamed “Mine”"));
        let moved = told(&|e| e.offence.rules.swap(0, 1));
        assert_eq!(moved, "the order of the rules was changed");
        let gone = told(&|e| drop(e.offence.rules.remove(0)));
        assert_eq!(gone, format!("the rule “{first}” was taken out"));
        let tried = told(&|e| {
            e.off.insert(first.clone());
            e.name = "Tried".into();
        });
        assert_eq!(tried, off);
        let named = told(&|e| e.name = "Mine".into());
        assert_eq!(named, "the variation was renamed");
        let once = told(&|e| e.offence.rules[0].once = true);
        assert_eq!(once, format!("“{first}” was changed"));
    }
}
