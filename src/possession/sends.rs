//! Whom a rule sends where, in words, for a timeline: players start a little later than the rule, so
//! that nothing may be seen yet.

use crate::court::Spot;
use crate::offence::{CutLane, Event, Movement, Offence, Rule, words};

use super::{Entry, What};

/// "“Turn” sends 2 to the top after 0.5 s and 4 to set a screen"; `None` for anything but a rule,
/// and if it moves nobody.
pub(super) fn sends(offence: &Offence, what: &What) -> Option<String> {
    let What::Rule { rule, told } = what else {
        return None;
    };
    let rule = offence.rules.get(*rule)?;
    let parts = (1..).zip(told).filter_map(|(who, told)| {
        let told = (*told)?;
        let action = rule.actions.get(usize::from(told.line))?;
        let errand = errand(&action.does, told.to)?;
        let after = match action.after {
            after if after > 0.0 => format!(" after {after} s"),
            _ => String::new(),
        };
        let then = action.then.iter().filter(|step| **step != Movement::Hold);
        let then: String = then
            .map(|step| format!(", then to {}", words::bare(step)))
            .collect();
        Some(format!("{who} {errand}{after}{then}"))
    });
    let parts: Vec<_> = parts.collect();
    (!parts.is_empty()).then(|| format!("“{}” sends {}", rule.name, listed(&parts)))
}

/// What one player is sent to do; `None` if he stays where he is.
fn errand(movement: &Movement, to: Option<Spot>) -> Option<String> {
    Some(match movement {
        Movement::Hold => return None,
        Movement::DribbleAt(at) => format!("to dribble at {}", words::role(*at)),
        Movement::PassNext(to) => format!("to pass to {} next", words::role(*to)),
        Movement::HandOff(to) | Movement::DribbleHandOff(to) => {
            format!("to hand the ball to {}", words::role(*to))
        }
        Movement::Fill(_)
        | Movement::FillFirst(_)
        | Movement::Replace(_)
        | Movement::CircleOut(_)
        | Movement::GoThrough(_)
        | Movement::Drift(_)
        | Movement::Lift(_) => format!("to the {}", to?),
        Movement::Cut { lane, to, .. } => {
            let cut = match lane {
                CutLane::BallSide => "on a cut",
                CutLane::Behind => "on a backdoor cut",
            };
            let to = to.map(|to| format!(" to {}", words::place(to)));
            format!("{cut}{}", to.unwrap_or_default())
        }
        Movement::ScreenFor { .. } => "to set a screen".to_string(),
        Movement::UseScreen { .. } => "to wait for a screen".to_string(),
        Movement::Flash { to, .. } => format!("to flash to {}", words::place(*to)),
        Movement::Seal { at, .. } => format!("to seal at {}", words::place(*at)),
        Movement::DropOff => "beside the rim as soon as his man helps".to_string(),
    })
}

/// Is the rule told with the deed that it answers, or that it asks for: a dribble at a team-mate?
fn told_with(rule: &Rule, what: &What) -> bool {
    let dribbles = |m: &Movement| matches!(m, Movement::DribbleAt(_));
    let asks = rule.actions.iter().all(|action| dribbles(&action.does));
    asks && matches!(what, What::DribblesAt { .. })
        || matches!(
            (&rule.when, what),
            (
                Event::Pass { .. } | Event::KickOut { .. } | Event::BallCrosses,
                What::Passes { .. }
            ) | (
                Event::Catch { .. } | Event::CatchOffScreen { .. },
                What::Catches { .. }
            ) | (Event::Drive { .. }, What::Drives { .. })
                | (Event::DribbleAt { .. }, What::DribblesAt { .. })
                | (Event::HandOff { .. }, What::HandsOff { .. })
                | (Event::Helped { .. }, What::Helps { .. })
                | (Event::Unfed { .. }, What::Unfed { .. })
        )
}

/// Does the rule answer what the holder does in this breath, and no other deed of the holder?
pub(super) fn answers_the_deed(rule: &Rule, entries: &[Entry]) -> bool {
    let deed = |e: &&Entry| {
        matches!(
            e.what,
            What::Passes { .. } | What::Drives { .. } | What::HandsOff { .. }
        )
    };
    entries.iter().any(|e| told_with(rule, &e.what))
        && entries
            .iter()
            .filter(deed)
            .all(|e| told_with(rule, &e.what))
}

/// "a, b and c".
pub fn listed(parts: &[String]) -> String {
    match parts {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => parts.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::SpotName;
    use crate::possession::Told;
    use crate::scenario::Scenario;

    #[test]
    fn a_rule_is_told_by_whom_it_sends_where_and_not_at_all_if_it_moves_nobody() {
        let mut offence = Scenario::demo().offence;
        let text = "(name: \"Turn\", when: ball_crosses, do: [
            (who: at(slot(weak)), does: fill(top), after: 0.5),
            (who: post, does: hold),
            (who: at(wing(ball)), does: screen_for(whom: post, after: hold)),
            (who: at(wing(weak)), does: lift(slot(weak))),
        ])";
        offence.rules = vec![ron::from_str(text).unwrap()];
        let to = Some(Spot::new(SpotName::Top, None));
        let line = |line| Some(Told { line, to: None });
        let first = Some(Told { line: 0, to });
        let tell = |told| sends(&offence, &What::Rule { rule: 0, told });
        assert_eq!(
            tell([None, first, line(3), line(2), line(1)]).as_deref(),
            Some("“Turn” sends 2 to the top after 0.5 s and 4 to set a screen")
        );
        // The post holds, and 3 is at his place already.
        assert_eq!(tell([None, None, line(3), None, line(1)]), None);
    }
}
