//! A rule to begin with, where one is added in the window.

use super::variation::Edit;
use super::words::rules as words;
use crate::offence::{Offence, Rule};

/// A name that no rule of the offence has yet.
fn free_name(offence: &Offence) -> String {
    let taken = |name: &String| offence.rules.iter().any(|r| r.name == *name);
    let mut names = (1..).map(|n| words::my_rule(&n));
    names.find(|name| !taken(name)).unwrap_or_default()
}

/// What a new rule may begin with: an event, who and what.
const BEGUN: [&str; 4] = [
    "(name: \"\", when: pass(from: perimeter, to: wing(ball)), do: [(who: passer, does: cut(lane: ball_side, unfed: go_through(corner(weak))))])",
    "(name: \"\", when: ball_on(at: wing(ball), seconds: 1.4), do: [(who: at(wing(weak)), does: cut(lane: behind, unfed: fill(wing(weak))))])",
    "(name: \"\", when: clock(left: 7.0), do: [(who: nearest(top), does: fill(top))])",
    "(name: \"\", when: ball_crosses, do: [(who: nearest(top), does: fill(top))])",
];

/// Adds a rule to begin with, the first that goes with those that are there; its place, if one does.
pub fn add(edit: &mut Edit) -> Option<usize> {
    let name = free_name(&edit.offence);
    for text in BEGUN {
        let Ok(rule) = ron::from_str::<Rule>(text) else {
            continue;
        };
        let mut tried = edit.clone();
        tried.offence.rules.push(Rule {
            name: name.clone(),
            ..rule
        });
        if tried.sound() {
            *edit = tried;
            return Some(edit.offence.rules.len() - 1);
        }
    }
    None
}
