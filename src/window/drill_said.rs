//! What is said of an answer in the defenders' drill: the verdict, what the place opens and shuts, and what the steps off
//! the right place are called.

use super::drill_judge::{Answer, Opens, Way};
use super::words::drills as words;
use crate::court::Vec2;
use crate::offence::LookKind;
use crate::possession::LookNow;
use crate::sim::shut_by;

/// As a fault: "too near to the ball".
pub fn fault(way: Way) -> String {
    let near = |toward: bool| {
        if toward {
            words::TOO_NEAR_TO
        } else {
            words::TOO_FAR_FROM
        }
    };
    match way {
        Way::Ball(toward) => words::the_ball(&near(toward)),
        Way::Player(toward, who) => format!("{} {who}", near(toward)),
        Way::Rim(true) => words::TOO_DEEP_TOWARD_THE.into(),
        Way::Rim(false) => words::TOO_HIGH_AWAY_FROM.into(),
        Way::Midline(true) => words::TOO_FAR_TOWARD_THE.into(),
        Way::Midline(false) => words::TOO_FAR_FROM_THE.into(),
        Way::Across(true) => words::TOO_FAR_ACROSS_TO_THE_BALL.into(),
        Way::Across(false) => words::TOO_FAR_ACROSS_FROM_THE_BALL.into(),
    }
}

/// How far off and which way; a place that leaves less open than the right one has no fault.
pub fn verdict(answer: &Answer, length: &dyn Fn(f64) -> String) -> String {
    let (number, off) = (answer.defender + 1, length(answer.off));
    let Some(way) = answer.fault else {
        return words::x_right_there_off(&number, &off);
    };
    if answer.shuts_more {
        return words::x_shuts_more(&number, &off);
    }
    let (put, right) = (length(answer.gap.0), length(answer.gap.1));
    let fault = match way {
        Way::Player(..) if put != right => words::fault_off_not(&fault(way), &put, &right),
        _ => fault(way),
    };
    words::x_off(&number, &off, &fault)
}

/// What the place opens or shuts, in lines; true before those that tell against it.
pub fn told(answer: &Answer) -> Vec<(bool, String)> {
    let mut lines = Vec::new();
    let open = answer.left_open.iter().map(|o| (true, gains(answer, o)));
    let shut = answer.shut.iter().map(|o| (false, loses(o)));
    if answer.fault.is_none() {
        return lines;
    }
    if answer.shuts_more {
        lines.push((false, words::YOUR_PLACE_SHUTS.into()));
        lines.extend(shut);
        let known = answer.left_open.first();
        lines.push(match known.or(answer.opens.first()) {
            Some(o) => (false, model_is_for(o)),
            None => (false, words::THE_MODEL_IS_FOR_THE_NEXT_PASS.into()),
        });
        return lines;
    }
    if answer.left_open.is_empty() {
        lines.push((false, words::THAT_OPENS_HARDLY_ANYTHING.into()));
    } else {
        lines.push((true, words::THAT_OPENS.into()));
        lines.extend(open);
    }
    if !answer.shut.is_empty() {
        lines.push((false, words::BUT_IT_SHUTS.into()));
        lines.extend(shut);
    }
    lines
}

/// What the right place is for.
fn model_is_for(opens: &Opens) -> String {
    let name = name(&opens.look);
    if opens.opens() {
        words::the_model_shuts(&name, &figures(opens, false))
    } else {
        words::the_model_is_for(&name, &figures(opens, false))
    }
}

/// What a place off the right one opens, with what it is worth. Where another defender is seen to shut it, it is said
/// that both are needed for that.
pub fn gains(answer: &Answer, opens: &Opens) -> String {
    let x = answer.defender + 1;
    let shut = opens.before.as_ref().filter(|_| opens.opens());
    let by = shut.and_then(shut_by).map(|c| c.defender);
    let mut name = name(&opens.look);
    if let Some(by) = by.filter(|by| usize::from(*by) != x) {
        name += &words::shuts_it_only_with(&by, &x);
    }
    words::the(&name, &figures(opens, false))
}

/// What the learner's place shuts, beside the right one.
fn loses(opens: &Opens) -> String {
    words::the(&name(&opens.look), &figures(opens, true))
}

/// The figures in which a look differs with the defender off the place and on it, or turned round: only those that
/// differ as they are shown.
fn figures(opens: &Opens, turned: bool) -> String {
    let turn = |(before, after): (f64, f64)| {
        if turned {
            (before, after)
        } else {
            (after, before)
        }
    };
    let times = |share: f64| format!("{:.0}", 100.0 * share);
    let (open, other) = turn(opens.openness());
    let (open, other) = (times(open), times(other));
    let arrives = match opens.look.kind {
        _ if open == other => String::new(),
        LookKind::Shot => String::new(),
        LookKind::Drive => words::the_lane_is_free(&open, &other),
        _ => words::it_gets_there_in(&open, &other),
    };
    let (worth, other) = turn(opens.worth());
    arrives + &words::worth_points_not(&worth, &other)
}

/// "skip pass to 4".
fn name(look: &LookNow) -> String {
    let never = if look.allowed {
        String::new()
    } else {
        words::but(&(super::moment::NEVER))
    };
    match look.to {
        Some(to) => words::to_never(&look.kind.word(), &to, &never),
        None => format!("{}{never}", look.kind.word()),
    }
}

/// What each step off the right place is called; two that lead elsewhere by the same words say where on the screen.
pub fn names(answer: &Answer) -> Vec<String> {
    let all = &answer.opens;
    let named = all.iter().map(|opens| {
        let words = opens.way.words();
        let elsewhere = |o: &Opens| o.way == opens.way && o.stands != opens.stands;
        if all.iter().any(elsewhere) {
            format!("{words}, {}", on_screen(opens.stands - answer.right))
        } else {
            words
        }
    });
    named.collect()
}

/// Where a way leads as the floor is drawn, with the basket on top.
fn on_screen(off: Vec2) -> String {
    // Steps are taken in eighths of a turn: less than this share of one across is straight on.
    const STRAIGHT: f64 = 0.2;
    let least = STRAIGHT * off.length();
    let side = (off.x.abs() > least).then_some(if off.x < 0.0 { "left" } else { "right" });
    let along = (off.y.abs() > least).then_some(if off.y < 0.0 { "up" } else { "down" });
    let parts: Vec<&str> = along.into_iter().chain(side).collect();
    words::on_the_screen(&parts.join(words::AND))
}
