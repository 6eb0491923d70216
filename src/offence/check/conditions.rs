//! Conditions and steps: can they ever be so, and can each step be done after the one before?

use super::super::{Action, By, Condition, Movement, Place, Rule, never_both};
use super::{Finding, LONGEST, number, within};

/// What of a rule's conditions and steps cannot be.
pub(super) fn check(rule: &Rule, at: &str, found: &mut Vec<Finding>) {
    conditions(&rule.only_if, &[], false, &format!("{at}/only_if"), found);
    for (line, action) in rule.actions.iter().enumerate() {
        let at = format!("{at}/do/{line}");
        let here = format!("{at}/only_if");
        conditions(&action.only_if, &rule.only_if, true, &here, found);
        steps(action, &at, found);
    }
}

fn conditions(
    all: &[Condition],
    of_the_rule: &[Condition],
    of_a_line: bool,
    at: &str,
    found: &mut Vec<Finding>,
) {
    for (index, one) in all.iter().enumerate() {
        let here = format!("{at}/{index}");
        let own = |by: By| matches!(by, By::Own);
        match *one {
            Condition::BallAt(place) if matches!(place.parts(), Some((_, Some(By::Weak)))) => {
                let said = "the ball is never on the weak side: this can never be so";
                let finding = Finding::error(format!("{here}/0"), said);
                found.push(finding.expected("ball or either"));
            }
            Condition::Held(place) | Condition::Empty(place) | Condition::BallAt(place)
                if place_of_own(place) =>
            {
                let said = "`own` has no meaning here: whose own side would it be?";
                let finding = Finding::error(format!("{here}/0"), said);
                found.push(finding.expected("ball, weak or either"));
            }
            Condition::PostOn(by) if own(by) => {
                let finding = Finding::error(format!("{here}/0"), "`own` has no meaning here");
                found.push(finding.expected("ball, weak or either"));
            }
            Condition::IsPlayer(player) | Condition::HasBall(player) => {
                number(player, &format!("{here}/0"), found);
            }
            Condition::TimeOver(left) | Condition::TimeUnder(left) => {
                within(left, 0.0, LONGEST, " seconds", &format!("{here}/0"), found);
            }
            _ => {}
        }
        if one.is_about_the_player() && !of_a_line {
            let said = "this is about a player, and a rule may name several";
            let wanted =
                "`only_if` in the line of the player: `(who: ..., does: ..., only_if: [...])`";
            found.push(Finding::error(&here, said).expected(wanted));
        }
        if never_both(&[*one], &all[..index]) || never_both(&[*one], of_the_rule) {
            let said = "this and an earlier condition can never both be so";
            found.push(Finding::error(&here, said).rests_on(at));
        }
    }
}

fn place_of_own(place: Place) -> bool {
    matches!(place.parts(), Some((_, Some(By::Own))))
}

/// Steps that have no end of their own come last; and nobody has the ball after a step.
fn steps(action: &Action, at: &str, found: &mut Vec<Finding>) {
    let last = action.then.len();
    for (nth, step) in action.steps().enumerate() {
        let here = match nth {
            0 => format!("{at}/does"),
            _ => format!("{at}/then/{}", nth - 1),
        };
        let said = match step {
            Movement::Hold if nth < last => "`hold` has no end: nothing can follow it",
            step if step.is_with_the_ball() && last > 0 => {
                "what the holder does with the ball stands alone: no steps before or after it"
            }
            Movement::DropOff if nth < last => {
                "`drop_off` has no end of its own: nothing can follow it"
            }
            Movement::DropOff if nth > 0 => {
                "`drop_off` starts with the drive: it is the first step or none"
            }
            _ => continue,
        };
        let wanted = "leave it out, or another movement";
        found.push(Finding::error(here, said).expected(wanted));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(rule: &str) -> Vec<String> {
        let rule: Rule = ron::from_str(rule).unwrap();
        let mut found = Vec::new();
        check(&rule, "rules/0", &mut found);
        found.into_iter().map(|finding| finding.at).collect()
    }

    #[test]
    fn what_can_never_be_so_is_refused_where_it_stands() {
        let rule = |more: &str, line: &str| {
            format!(
                "(name: \"r\", when: ball_crosses, {more}do: [(who: post, does: fill(top), {line})])"
            )
        };
        for (more, line, at) in [
            (
                "only_if: [held(top), empty(top)], ",
                "",
                "rules/0/only_if/1",
            ),
            ("only_if: [overplayed], ", "", "rules/0/only_if/0"),
            ("only_if: [held(wing(own))], ", "", "rules/0/only_if/0/0"),
            (
                "only_if: [held(top)], ",
                "only_if: [empty(top)]",
                "rules/0/do/0/only_if/0",
            ),
            (
                "",
                "only_if: [overplayed, sagged_off]",
                "rules/0/do/0/only_if/1",
            ),
            (
                "",
                "only_if: [time_over(8), time_under(8)]",
                "rules/0/do/0/only_if/1",
            ),
            ("", "only_if: [time_over(500)]", "rules/0/do/0/only_if/0/0"),
            ("", "then: [hold, fill(top)]", "rules/0/do/0/then/0"),
            ("", "then: [dribble_at(next)]", "rules/0/do/0/then/0"),
        ] {
            assert_eq!(said(&rule(more, line)), [at], "{more}{line}");
        }
        for (more, line) in [
            (
                "only_if: [held(wing(either)), post_on(ball)], ",
                "only_if: [overplayed]",
            ),
            (
                "once: true, ",
                "only_if: [time_over(8), time_under(20)], then: [fill(top), hold]",
            ),
        ] {
            assert_eq!(said(&rule(more, line)), [""; 0], "{more}{line}");
        }
    }
}
