//! Orders that nobody could carry out, because of who has the ball: a player who has it, or to whom it is on its
//! way, is never sent away; only the holder can dribble; and a drop-off belongs to a drive.

use super::super::words;
use super::super::{Action, By, Event, Movement, Role, Rule};
use super::Finding;
use super::clash::identify;
use super::events::{Happening, happenings};

/// Has a player the ball as the rule fires, or is it on its way to the player?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ball {
    Has,
    HasNot,
    /// That depends on the play.
    Maybe,
}

/// Has the player whom a role means the ball, in every way in which the event can happen?
fn ball(role: Role, event: &Event) -> Ball {
    let mut all = happenings(event)
        .into_iter()
        .map(|happening| ball_in(role, event, happening));
    let Some(first) = all.next() else {
        return Ball::Maybe;
    };
    if all.all(|other| other == first) {
        first
    } else {
        Ball::Maybe
    }
}

fn ball_in(role: Role, event: &Event, happening: Happening) -> Ball {
    let in_the_air = matches!(event, Event::Pass { .. } | Event::KickOut { .. });
    // Does the event say where the ball is? Then a player at another place has not got it.
    let where_it_is = match event {
        Event::Pass { .. } | Event::Denied { .. } => happening.to.is_some(),
        Event::Drive { .. }
        | Event::Catch { .. }
        | Event::CatchOffScreen { .. }
        | Event::FeedStopped { .. }
        | Event::BallOn { .. } => true,
        _ => false,
    };
    if let Role::At(place) = role
        && matches!(place.parts(), Some((_, Some(By::Own))))
    {
        return Ball::Maybe;
    }
    match identify(role, event, happening) {
        Role::Receiver => Ball::Has,
        Role::Holder if !in_the_air => Ball::Has,
        Role::Driver if matches!(event, Event::Drive { .. }) => Ball::Has,
        Role::Driver if matches!(event, Event::KickOut { .. }) => Ball::HasNot,
        // Who comes off a screen may be the holder.
        Role::Cutter if matches!(event, Event::ScreenSet { .. } | Event::ScreenUsed { .. }) => {
            Ball::Maybe
        }
        Role::Screener | Role::LeftAlone => Ball::HasNot,
        Role::Passer | Role::Cutter | Role::Denied | Role::Next => Ball::HasNot,
        Role::Nearest(_) if !in_the_air => Ball::HasNot,
        Role::At(_) if where_it_is => Ball::HasNot,
        _ => Ball::Maybe,
    }
}

/// Has whoever is screened for surely the ball as the rule fires?
pub(super) fn is_on_the_ball(whom: Role, event: &Event) -> bool {
    ball(whom, event) == Ball::Has
}

/// What of a rule's orders cannot be done.
pub(super) fn check(rule: &Rule, at: &str, found: &mut Vec<Finding>) {
    for (line, action) in rule.actions.iter().enumerate() {
        let at = format!("{at}/do/{line}/does");
        let when = format!("{}/when", at.split("/do/").next().unwrap_or(""));
        let mut tell = |finding: Finding| found.push(finding.rests_on(when.clone()));
        if let Some(finding) = sent_away(action, &rule.when, &at) {
            tell(finding);
        }
        for step in action.steps() {
            if let Movement::ScreenFor { whom, .. } = step
                && matches!(rule.when, Event::Drive { .. })
                && ball(*whom, &rule.when) == Ball::Has
            {
                let said = format!(
                    "{} is on a drive already, where nobody can set a screen",
                    words::role(*whom)
                );
                tell(Finding::error(at.clone(), said).expected("a team-mate without the ball"));
            }
        }
        if let Some(finding) = dribbles(action, &rule.when, &at) {
            tell(finding);
        }
        let drives = matches!(rule.when, Event::Drive { .. });
        let mut steps = action.steps();
        if !drives && steps.any(|step| step.links().any(|m| matches!(m, Movement::DropOff))) {
            let said =
                "`drop_off` waits beside the rim while a team-mate drives; here nobody drives";
            let wanted = "a rule with `when: drive(from: ...)`";
            tell(Finding::error(at, said).expected(wanted));
        }
    }
}

/// A player with the ball who is told to go somewhere.
fn sent_away(action: &Action, event: &Event, at: &str) -> Option<Finding> {
    let in_hand = !matches!(
        event,
        Event::Pass { .. } | Event::KickOut { .. } | Event::Drive { .. }
    );
    let may = in_hand && action.does.is_with_the_ball();
    if may || ball(action.who, event) != Ball::Has {
        return None;
    }
    let who = words::role(action.who);
    let (said, wanted) = match event {
        Event::Pass { .. } | Event::KickOut { .. } => (
            format!("the ball is on its way to {who}: nobody who is to catch it is sent away"),
            "another player here; what the receiver does after passing it on belongs in a rule for that pass, \
             as `who: passer`",
        ),
        Event::Drive { .. } => (
            format!("{who} has the ball on this drive: nobody who has it is sent away"),
            "another player here; what the driver does after the pass belongs in a rule for `kick_out`, as \
             `who: driver`",
        ),
        _ => (
            format!("{who} has the ball: nobody who has it is sent away"),
            "`dribble_at(...)`, a hand-off or `pass_next(...)`, or another player; what the holder does after passing belongs in a \
             rule for that pass, as `who: passer`",
        ),
    };
    Some(Finding::error(at, said).expected(wanted))
}

/// A player without the ball who is told to dribble or to hand it over, or anybody who is told so for later; and a
/// hand-off to a player who has the ball.
fn dribbles(action: &Action, event: &Event, at: &str) -> Option<Finding> {
    let said = if action.does.is_with_the_ball() {
        let taker = match &action.does {
            Movement::PassNext(to) => Some(*to),
            does => does.hands_to(),
        };
        if let Some(taker) = taker.filter(|to| ball(*to, event) == Ball::Has) {
            let said = format!("{} has the ball already", words::role(taker));
            let wanted = "a team-mate without the ball";
            return Some(Finding::error(at, said).expected(wanted));
        }
        if ball(action.who, event) != Ball::HasNot {
            return None;
        }
        format!("{} does not have the ball", words::role(action.who))
    } else if action.does.links().any(Movement::is_with_the_ball) {
        "nobody has the ball after this movement: it cannot go on with a dribble, a hand-off or a pass"
            .to_owned()
    } else {
        return None;
    };
    let wanted =
        "`dribble_at(...)`, a hand-off or `pass_next(...)` for the holder, as the whole of `does`";
    Some(Finding::error(at, said).expected(wanted))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(rule: &str) -> Vec<String> {
        let rule: Rule = ron::from_str(rule).unwrap();
        let mut found = Vec::new();
        check(&rule, "rules/0", &mut found);
        found.into_iter().map(|finding| finding.said).collect()
    }

    fn one(when: &str, who: &str, does: &str) -> Vec<String> {
        said(&format!(
            "(name: \"r\", when: {when}, do: [(who: {who}, does: {does})])"
        ))
    }

    #[test]
    fn an_order_to_whoever_has_the_ball_is_refused_by_whatever_word_he_is_named() {
        let cut = "cut(lane: behind, unfed: fill(top))";
        for (when, who) in [
            ("pass(from: top, to: wing(ball))", "receiver"),
            ("pass(from: top, to: wing(ball))", "at(wing(ball))"),
            ("kick_out(from: top)", "receiver"),
            ("catch(at: wing(ball))", "holder"),
            ("catch(at: wing(ball))", "receiver"),
            ("catch(at: wing(ball))", "at(wing(ball))"),
            ("ball_on(at: top, seconds: 1)", "at(top)"),
            ("denied(at: wing(ball), ball: top, seconds: 1)", "holder"),
            ("drive(from: wing(ball))", "driver"),
            ("drive(from: wing(ball))", "holder"),
            ("ball_crosses", "holder"),
        ] {
            assert_eq!(one(when, who, cut).len(), 1, "{who} at {when}");
            let screen = "use_screen(of: post, unfed: fill(top))";
            assert_eq!(one(when, who, screen).len(), 1, "{who} at {when}");
        }
        for (when, who) in [
            ("pass(from: top, to: wing(ball))", "passer"),
            ("pass(from: any, to: perimeter)", "at(wing(ball))"),
            ("kick_out(from: top)", "driver"),
            ("catch(at: wing(ball))", "passer"),
            ("ball_on(at: top, seconds: 1)", "at(wing(ball))"),
            ("denied(at: wing(ball), ball: top, seconds: 1)", "denied"),
            ("ball_crosses", "player(5)"),
        ] {
            assert_eq!(one(when, who, cut), [""; 0], "{who} at {when}");
        }
    }

    #[test]
    fn only_the_holder_dribbles_and_only_at_once() {
        let at_mate = "dribble_at(at(corner(ball)))";
        let stays = "ball_on(at: wing(ball), seconds: 1)";
        assert!(one(stays, "holder", at_mate).is_empty());
        assert!(one(stays, "at(wing(ball))", at_mate).is_empty());
        assert!(one("clock(left: 5)", "player(1)", at_mate).is_empty());
        assert_eq!(one(stays, "at(top)", at_mate).len(), 1);
        assert_eq!(one("ball_crosses", "next", at_mate).len(), 1);
        let later = format!("cut(lane: behind, unfed: {at_mate})");
        assert_eq!(one(stays, "at(top)", &later).len(), 1);
    }

    #[test]
    fn who_has_the_ball_is_screened_for_unless_he_drives_already() {
        let screen = |whom: &str| format!("screen_for(whom: {whom}, after: fill(top))");
        for (when, whom, wrong) in [
            ("catch(at: wing(ball))", "holder", 0),
            ("ball_on(at: top, seconds: 1)", "at(top)", 0),
            ("pass(from: top, to: wing(ball))", "receiver", 0),
            ("drive(from: wing(ball))", "driver", 1),
        ] {
            assert_eq!(
                one(when, "post", &screen(whom)).len(),
                wrong,
                "{whom} at {when}"
            );
            assert!(
                one(when, "post", &screen("at(wing(weak))")).is_empty(),
                "{when}"
            );
        }
    }

    #[test]
    fn a_drop_off_belongs_to_a_drive() {
        assert!(one("drive(from: top)", "post", "drop_off").is_empty());
        assert_eq!(one("ball_crosses", "post", "drop_off").len(), 1);
    }
}
