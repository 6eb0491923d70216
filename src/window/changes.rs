//! What one edit has that another has not, in a sentence: undo says what it takes back, and the page of the offence
//! what a change has brought.

use super::variation::Edit;
use crate::offence::{Offence, Rule};
use crate::report::clean;

/// What was changed from one edit to the next: "“Backdoor” was switched off". Several changes at once are listed.
pub fn said(old: &Edit, new: &Edit) -> String {
    let mut parts = Vec::new();
    if old.offence.name != new.offence.name && old.offence.rules != new.offence.rules {
        let (new, old) = (&new.offence.name, &old.offence.name);
        parts.push(format!(
            "{} was put in place of {}",
            quoted(new),
            quoted(old)
        ));
    } else {
        offence(&old.offence, &new.offence, &mut parts);
    }
    for rule in &new.offence.rules {
        let name = &rule.name;
        let known = old.offence.rules.iter().any(|r| r.name == *name);
        match (old.off.contains(name), new.off.contains(name)) {
            (false, true) if known => parts.push(format!("{} was switched off", quoted(name))),
            (true, false) => parts.push(format!("{} was switched on", quoted(name))),
            _ => {}
        }
    }
    if old.defence.name != new.defence.name {
        let (new, old) = (&new.defence.name, &old.defence.name);
        parts.push(format!(
            "{} was put in place of {}",
            quoted(new),
            quoted(old)
        ));
    } else if old.defence != new.defence {
        parts.push(format!("{} was changed", quoted(&new.defence.name)));
    }
    if old.attackers != new.attackers || old.defenders != new.defenders {
        parts.push("the players were changed".into());
    }
    for (differs, what) in [
        (old.court != new.court, "the court was changed"),
        (old.start != new.start, "the side of the start was changed"),
        (
            old.shot_clock != new.shot_clock,
            "the shot clock was changed",
        ),
        (old.drill != new.drill, "the kind of play was changed"),
        (old.model != new.model, "a number of the model was changed"),
        (old.name != new.name, "the variation was renamed"),
        (
            old.practice != new.practice,
            "the words for the practice were changed",
        ),
    ] {
        if differs {
            parts.push(what.into());
        }
    }
    match parts.as_slice() {
        [] => "nothing that is played was changed".into(),
        parts => parts.join("; "),
    }
}

fn offence(old: &Offence, new: &Offence, parts: &mut Vec<String>) {
    rules(&old.rules, &new.rules, parts);
    for (differs, what) in [
        (
            old.patience != new.patience,
            "how long the holder looks was changed",
        ),
        (
            old.reading != new.reading,
            "what the holder may take was changed",
        ),
        (old.alignment != new.alignment, "the start was changed"),
        (old.ball != new.ball, "who starts with the ball was changed"),
        (
            old.keep_filled != new.keep_filled,
            "the places to keep filled were changed",
        ),
        (
            old.drive_from != new.drive_from,
            "where drives begin was changed",
        ),
        (old.name != new.name, "the offence was renamed"),
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
        parts.push(format!("{a} was renamed {b}"));
        return;
    }
    for (rules, done) in [(come, "added"), (gone, "taken out")] {
        match rules.as_slice() {
            [] => {}
            [rule] => parts.push(format!("the rule {} was {done}", quoted(&rule.name))),
            // A tweak brings several: their names stand on the page.
            several => parts.push(format!("{} rules were {done}", several.len())),
        }
    }
    for rule in new {
        if old.iter().any(|r| r.name == rule.name && r != rule) {
            parts.push(format!("{} was changed", quoted(&rule.name)));
        }
    }
    let order = |rules: &[Rule], other: &[Rule]| {
        let both = rules.iter().filter(|r| has(other, &r.name));
        both.map(|r| r.name.clone()).collect::<Vec<_>>()
    };
    if order(old, new) != order(new, old) {
        parts.push("the order of the rules was changed".into());
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
        let once = told(&|e| e.offence.rules[0].once = true);
        assert_eq!(once, format!("“{first}” was changed"));
    }
}
