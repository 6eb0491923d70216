//! A player on the floor was pressed: by a learner, by whoever writes a rule, or by somebody who wants to know what a
//! pass there is worth.

use super::desk::Desk;
use super::words::floor as words;
use super::{drill_floor, moment, now, rule_floor};

/// Body `body`, 0–9, was pressed.
pub fn player(desk: &mut Desk, body: usize) {
    let drilling = drill_floor::at_work(desk);
    if drilling {
        drill_floor::player(desk, body);
    }
    if rule_floor::asks(desk) {
        rule_floor::player(desk, body);
    } else if !drilling
        && !desk.drill.asking()
        && !desk.time.running
        && let Some(text) = of_the_pass(desk, body)
    {
        desk.say_here(text);
    }
}

/// What is known of the pass to that team-mate now: also that none gets there, where the floor says nothing.
pub fn of_the_pass(desk: &mut Desk, body: usize) -> Option<String> {
    let holder = desk.picture().holder?;
    let gave = now::gave(desk);
    let looks = desk.looks().to_vec();
    if body >= 5 || body == holder || looks.is_empty() {
        return None;
    }
    let to = body as u8 + 1;
    let look = looks.iter().find(|look| look.to == Some(to));
    Some(match look {
        Some(look) => words::of_the_pass(&now::name(look, gave), &moment::state(look)),
        None => words::no_pass_gets_there(&(holder + 1), &to),
    })
}

#[cfg(test)]
mod tests {
    use super::super::store;
    use super::*;

    /// Whoever is pressed is spoken of, also where the floor has no word beside them, and then it is said why.
    #[test]
    fn every_team_mate_who_is_pressed_has_a_word_about_the_pass() {
        let folder = tempfile::tempdir().expect("a folder");
        let mut desk = Desk::new(store::demo(), None, folder.path().to_owned());
        let (mut named, mut far) = (0, 0);
        for seed in 1..40 {
            desk.to_seed(seed);
            desk.time.running = false;
            let times: Vec<f64> = desk
                .recording
                .possession
                .moments
                .iter()
                .map(|m| m.time)
                .collect();
            for time in times {
                desk.time.go(time, &desk.recording);
                let looks = desk.looks().to_vec();
                let holder = desk.picture().holder;
                for body in (0..5).filter(|b| !looks.is_empty() && Some(*b) != holder) {
                    let said = of_the_pass(&mut desk, body).expect("a word");
                    let look = looks.iter().any(|l| l.to == Some(body as u8 + 1));
                    assert_eq!(said.starts_with("No pass from "), !look, "{said}");
                    named += usize::from(look);
                    far += usize::from(!look);
                }
            }
        }
        assert!(named > 1000 && far > 0, "{named} {far}");
    }
}
