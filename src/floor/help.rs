//! Help: who leaves his man for a drive, who takes the helper's man, and who trades men on a screen.

use crate::body::time_to_reach;
use crate::defence::{Helper, Relation};
use crate::possession::{Ballwork, What};

use super::defenders::{AT_THE_RIM, unit};
use super::eyes::awareness;
use super::parts::*;

/// A drive as near as this is called out to him by his team-mates even if he does not see it, metres
/// (common practice: "talk").
const CALLED: f64 = 5.5;

/// Who leaves his man for a drive that has got past its defender, and who takes the helper's man.
pub fn call_for_help(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    driver: Option<usize>,
    five: &mut [(&Form, &mut Will, &mut Guard, &Eyes); 5],
    book: &mut Book,
) {
    let help = play.scenario.defence.help;
    for (_, _, guard, _) in five.iter_mut() {
        guard.shades = false;
    }
    said_once_he_goes(clock, ball, five, book);
    let Some(by) = driver else {
        // The ball is out, or stopped: go home once he no longer holds it inside.
        let stopped_inside = ball
            .hold()
            .is_some_and(|h| h.work == Ballwork::PickedUp && ball.pos.length() < 4.0);
        for (_, _, guard, _) in five.iter_mut() {
            guard.trigger = None;
            if !stopped_inside && (guard.helping || guard.rotated.is_some()) {
                guard.helping = false;
                guard.rotated = None;
                guard.left_from = None;
                guard.closing = true;
            }
        }
        return;
    };
    if help.who == Helper::Nobody {
        return;
    }
    let at = old.scene.pos[by];
    let on_ball = (0..5).find(|&d| five[d].2.man == by);
    let beaten = on_ball.is_none_or(|d| {
        let guard = old.scene.pos[5 + d];
        guard.length() > at.length() - 0.15 || ((guard - at).dot(unit(-at)) < 0.35)
    });
    if at.length() > help.within {
        return;
    }
    if five.iter().any(|(_, _, g, _)| g.helping) {
        rotate(play, old, five);
        return;
    }
    let meet = at * (help.depth / at.length().max(help.depth));
    let mut best: Option<(f64, usize)> = None;
    let mut lowest: Option<(f64, usize)> = None;
    for d in 0..5 {
        let (form, _, guard, eyes) = &five[d];
        let pos = form.0.pos;
        let told = (pos - at).length() < CALLED;
        // Who is farther from the rim than the drive cannot stop it.
        let behind = pos.length() > at.length();
        if Some(d) == on_ball || behind || !eyes.sees_ball && !told {
            continue;
        }
        if lowest.is_none_or(|(far, _)| pos.length() < far) {
            lowest = Some((pos.length(), d));
        }
        let limits = &play.cast.players[5 + d].limits;
        let reach = time_to_reach(pos, form.0.vel, limits, meet, 0.5, 0.0);
        let score = match help.who {
            Helper::LowMan => {
                let strong = matches!(guard.relation, Relation::OnePass);
                pos.length() + if strong { 2.5 } else { 0.0 } + 0.5 * reach
            }
            _ => reach,
        };
        if best.is_none_or(|(s, _)| score < s) {
            best = Some((score, d));
        }
    }
    let Some((_, d)) = best else { return };
    let began = ball.hold().and_then(|h| h.drive).map(|drive| drive.began);
    // He gets ready, and whoever is at the rim does not leave it.
    let at_the_rim = lowest.filter(|(far, _)| *far < AT_THE_RIM);
    for d in [Some(d), at_the_rim.map(|(_, d)| d)].into_iter().flatten() {
        let knows =
            play.cast.players[5 + d].limits.reaction + play.cast.model.perception.fake_delay;
        five[d].2.shades = began.is_some_and(|t| clock.tick >= t + ticks(knows));
    }
    if !beaten && at.length() > DEEP {
        return;
    }
    let slow = awareness(play, d, five[d].2);
    let since = *five[d].2.trigger.get_or_insert(clock.tick);
    let decides = play.cast.players[5 + d].judgement.decision + slow;
    if clock.tick >= since + ticks(decides) {
        let guard = &mut five[d].2;
        guard.helping = true;
        guard.trigger = None;
        guard.left_from = Some(old.scene.pos[5 + d]);
        rotate(play, old, five);
    }
}

/// That a defender helps, or takes the helper's man, is told once he has left where he stood or is at the ball.
fn said_once_he_goes(
    clock: &Clock,
    ball: &Ball,
    five: &mut [(&Form, &mut Will, &mut Guard, &Eyes); 5],
    book: &mut Book,
) {
    for (d, (form, _, guard, _)) in five.iter_mut().enumerate() {
        let Some(from) = guard.left_from else {
            continue;
        };
        let pos = form.0.pos;
        if (pos - from).length() < HAS_LEFT && (pos - ball.pos).length() > AT_THE_BALL {
            continue;
        }
        guard.left_from = None;
        let defender = d as u8 + 1;
        let what = match guard.rotated {
            Some(to) => What::Rotates {
                defender,
                to: to as u8 + 1,
            },
            None => What::Helps {
                defender,
                leaves: guard.man as u8 + 1,
            },
        };
        book.write(clock, what);
    }
}

/// A helper has left his place when he is this far from it, and is at the ball this near to it, metres (ours).
const HAS_LEFT: f64 = 0.5;
const AT_THE_BALL: f64 = 1.2;
/// A drive this near to the rim is stepped up to even if its own defender is still with it, metres
/// (common practice).
const DEEP: f64 = 3.3;
/// Nobody farther from the man left alone than this goes to him, metres (ours).
const ROTATES_FROM: f64 = 5.0;

/// The next defender takes the helper's man.
fn rotate(play: &Play, old: &Old, five: &mut [(&Form, &mut Will, &mut Guard, &Eyes); 5]) {
    if !play.scenario.defence.help.rotate || five.iter().any(|(_, _, g, _)| g.rotated.is_some()) {
        return;
    }
    let Some(helper) = (0..5).find(|&d| five[d].2.helping) else {
        return;
    };
    let left = five[helper].2.man;
    let spot = old.scene.pos[left];
    let mut best: Option<(f64, usize)> = None;
    for d in 0..5 {
        let guard = &five[d].2;
        if d == helper || matches!(guard.relation, Relation::OnBall | Relation::OnePass) {
            continue;
        }
        let distance = (five[d].0.0.pos - spot).length();
        if distance > ROTATES_FROM {
            continue;
        }
        if best.is_none_or(|(s, _)| distance < s) {
            best = Some((distance, d));
        }
    }
    if let Some((_, d)) = best {
        five[d].2.rotated = Some(left);
        five[d].2.left_from = Some(old.scene.pos[5 + d]);
    }
}

/// Trade men where an attacker comes off a team-mate's body and his own defender is caught behind it.
pub fn switch_on_screens(
    clock: &Clock,
    old: &Old,
    five: &mut [(&Form, &mut Will, &mut Guard, &Eyes); 5],
    book: &mut Book,
) {
    for a in 0..5 {
        for b in 0..5 {
            if a == b {
                continue;
            }
            let (man_a, man_b) = (five[a].2.man, five[b].2.man);
            let (pa, pb) = (old.scene.pos[man_a], old.scene.pos[man_b]);
            let guard = old.scene.pos[5 + a];
            // b's man stands against a's defender, and a's man runs by.
            let screened = old.screens[man_b] && (pb - guard).length() < 1.0;
            let running = old.scene.vel[man_a].length() > 2.0
                && (pa - pb).length() < 2.0
                && (pa - guard).length() > 1.0;
            if screened && running {
                five[a].2.man = man_b;
                five[b].2.man = man_a;
                book.write(
                    clock,
                    What::Switches {
                        defender: a as u8 + 1,
                        with: b as u8 + 1,
                    },
                );
                return;
            }
        }
    }
}
