//! Defenders: eyes, then relation to the ball, then duty, then a step.

use bevy_ecs::prelude::*;

use crate::body::{Intent, time_to_reach};
use crate::court::Vec2;
use crate::defence::{Duty, Gaze, Helper, Relation, Stance, Switch};
use crate::possession::{Ballwork, TICK, What};

use super::dice::Purpose;
use super::parts::*;

/// Farther from his station than this, a defender turns and runs, metres.
const RUN_FROM: f64 = 1.6;
/// Nearer to his station than this he moves at ease, metres, with this share of his power (ours: a
/// defender's velocity relaxes over about a second, Cervone et al., EPV demo output).
const AT_EASE: f64 = 0.3;
const EASY: f64 = 0.35;
/// The same on the ball and in denial.
const CLOSE_WORK: f64 = 0.75;
/// How far ahead of what he sees a defender plans for his man, seconds (ours).
const ANTICIPATES: f64 = 0.12;
/// A defender who runs with his man closes the gap to his station in about 1/this seconds (ours).
const CLOSES: f64 = 2.5;
/// Half the angle that a defender takes in, radians: about 100° to either side (common practice:
/// "see ball and man").
const HALF_VIEW: f64 = 1.75;
/// A glance away from where he looks lasts this long, and comes about this often, seconds.
const GLANCE: f64 = 0.24;
const GLANCE_EVERY: f64 = 1.0;
/// Hand in the lane: what a denying defender saves of his reaction to a pass, seconds.
const HAND_IN_LANE: f64 = 0.12;
/// A pass or a drive has to be told from a fake: choice over simple reaction, seconds (sources 4:
/// 0.30–0.50 against 0.18–0.25).
const CHOICE: f64 = 0.08;
/// Not seeing the ball costs this much more, seconds.
const UNSEEN: f64 = 0.25;

/// What each defender sees: late by his reaction, and only what is in his view.
pub fn defenders_look(
    play: Res<Play>,
    clock: Res<Clock>,
    trail: Res<Trail>,
    ball: Res<Ball>,
    mut defenders: Query<(&Defender, &Form, &Guard, &mut Eyes)>,
) {
    let cos = libm::cos(HALF_VIEW);
    // Eyes fixed on one thing take in less to the side than eyes open to both.
    let fixed = libm::cos(HALF_VIEW * 0.62);
    for (&Defender(d), form, guard, mut eyes) in &mut defenders {
        let late = if play.scenario.drill.passive {
            2
        } else {
            ticks(play.cast.players[5 + d].limits.reaction)
        };
        let then = trail.back(clock.tick, late);
        let stance = stance_of(&play, d, guard.relation);
        let pos = form.0.pos;
        let (to_ball, to_man) = (unit(then.ball - pos), unit(then.pos[guard.man] - pos));
        let every = ticks(GLANCE_EVERY).max(1);
        if clock.tick >= eyes.glance_until && (clock.tick + 5 * d as u32).is_multiple_of(every) {
            let jitter = (play.dice.at(Purpose::Glance, d, clock.tick).unit() * 8.0) as u32;
            eyes.glance_until = clock.tick + ticks(GLANCE) + jitter;
        }
        let glancing =
            clock.tick < eyes.glance_until && clock.tick + ticks(GLANCE) >= eyes.glance_until;
        let look = match (stance.gaze, glancing) {
            (Gaze::Ball, false) | (Gaze::Man, true) => to_ball,
            (Gaze::Man, false) | (Gaze::Ball, true) => to_man,
            (Gaze::Both, _) => unit(to_ball + to_man),
        };
        let width = if stance.gaze == Gaze::Both {
            cos
        } else {
            fixed
        };
        eyes.sees_ball = look.dot(&to_ball) >= width || (then.ball - pos).norm() < 1.2;
        eyes.sees_man = look.dot(&to_man) >= width || (then.pos[guard.man] - pos).norm() < 1.0;
        let seen_at = clock.tick.saturating_sub(late);
        if eyes.sees_ball {
            // A pass is read from the passer's arms: they move while the ball is in the air.
            let goes_to = match &ball.state {
                BallState::Flying { flight, began, .. } if clock.tick >= began + late => flight.to,
                _ => then.ball,
            };
            eyes.ball = Seen {
                pos: goes_to,
                vel: Vec2::zeros(),
                tick: seen_at,
            };
        }
        if eyes.sees_man || play.scenario.drill.passive {
            eyes.man = Seen {
                pos: then.pos[guard.man],
                vel: then.vel[guard.man],
                tick: seen_at,
            };
        }
    }
}

fn unit(v: Vec2) -> Vec2 {
    let n = v.norm();
    if n > 1e-9 { v / n } else { Vec2::new(0.0, 1.0) }
}

/// The stance of defender `d` for a relation, his own habit before the model's.
pub fn stance_of(play: &Play, d: usize, relation: Relation) -> Stance {
    let defence = &play.scenario.defence;
    defence
        .overrides
        .iter()
        .filter(|o| usize::from(o.defender) == d + 1)
        .find_map(|o| o.of(relation))
        .copied()
        .unwrap_or(*defence.stances.of(relation))
}

/// Where a stance puts a defender whose man is at `man`, with the ball at `ball`.
pub fn station(stance: &Stance, man: Vec2, ball: Vec2) -> Vec2 {
    let sum = (stance.man + stance.ball + stance.rim).max(1e-9);
    let mut p = (man * stance.man + ball * stance.ball) / sum;
    p.x *= 1.0 - stance.midline;
    let off = p - man;
    let gap = off.norm();
    if gap > 1e-6 {
        let kept = gap.clamp(stance.gap.0, stance.gap.1);
        p = man + off * (kept / gap);
    } else {
        p = man - man / man.norm().max(1e-6) * stance.gap.0;
    }
    p
}

/// The relation of an attacker to the ball.
pub fn relation_of(old: &Old, ball: &Ball, man: usize) -> Relation {
    if ball.man() == man {
        return Relation::OnBall;
    }
    match old.doing[man] {
        Doing::Cutting { .. } => Relation::Cutter,
        Doing::Inside | Doing::DropOff => {
            let x = old.scene.pos[man].x * ball.side.sign();
            if x > -0.6 {
                Relation::PostBallSide
            } else {
                Relation::PostWeakSide
            }
        }
        Doing::Outside => match old.away[man] {
            Some(1) => Relation::OnePass,
            _ => Relation::TwoPasses,
        },
    }
}

/// Each defender's duty and step in this tick.
pub fn defenders_guard(
    play: Res<Play>,
    clock: Res<Clock>,
    ball: Res<Ball>,
    old: Res<Old>,
    roster: Res<Roster>,
    mut book: ResMut<Book>,
    mut defenders: Query<(&Form, &mut Will, &mut Guard, &Eyes), With<Defender>>,
) {
    let Ok(mut five) = defenders.get_many_mut(roster.defenders) else {
        return;
    };
    let passive = play.scenario.drill.passive;
    let driver = ball
        .hold()
        .filter(|h| h.work == Ballwork::Driving)
        .map(|h| h.by);
    if !passive {
        call_for_help(&play, &clock, &ball, &old, driver, &mut five, &mut book);
    }
    let zone = play.scenario.defence.zone.as_deref();
    for d in 0..5 {
        let (form, will, guard, eyes) = &mut five[d];
        let body = &form.0;
        let limits = &play.cast.players[5 + d].limits;
        let mut duty;
        let mut man_seen =
            eyes.man.pos + eyes.man.vel * (f64::from(clock.tick - eyes.man.tick) * TICK).min(0.6);
        let mut ball_seen = eyes.ball.pos;
        if guard.relation == Relation::OnBall {
            ball_seen = man_seen;
        }
        if let Some(areas) = zone
            && let Some((place, picked)) = area(areas, d, &old, &ball, ball_seen)
        {
            guard.man = picked.unwrap_or(guard.man);
            if picked.is_none() {
                guard.relation = Relation::TwoPasses;
                set_duty(guard, Duty::Area, &clock);
                guard.station = place;
                step_to(will, body, place, ball_seen - body.pos);
                continue;
            }
            man_seen = eyes.man.pos
                + eyes.man.vel * (f64::from(clock.tick - eyes.man.tick) * TICK).min(0.6);
        }
        let relation = relation_of(&old, &ball, guard.man);
        if relation != guard.relation {
            // A pass to his man: he has to get there.
            guard.closing = relation == Relation::OnBall && (man_seen - body.pos).norm() > 2.2;
            guard.relation = relation;
        }
        let stance = stance_of(&play, d, relation);
        let planned = man_seen + eyes.man.vel * ANTICIPATES;
        let mut target = station(&stance, planned, ball_seen);
        let mut pace = 1.0;
        let mut face = match stance.gaze {
            Gaze::Ball => ball_seen - body.pos,
            Gaze::Man => man_seen - body.pos,
            Gaze::Both => unit(ball_seen - body.pos) + unit(man_seen - body.pos),
        };
        duty = match relation {
            Relation::OnBall => Duty::OnBall,
            Relation::OnePass if stance.deny => Duty::Denying,
            Relation::OnePass => Duty::Gap,
            Relation::TwoPasses => Duty::HelpLine,
            Relation::PostBallSide | Relation::PostWeakSide => Duty::Post,
            Relation::Cutter => Duty::Trailing,
        };
        if relation == Relation::OnBall {
            face = man_seen - body.pos;
            if driver == Some(guard.man) {
                target = cut_off(body.pos, man_seen, eyes.man.vel, limits.top_speed);
            } else if guard.closing {
                let gap = (man_seen - body.pos).norm();
                let short = play.scenario.defence.closeout.short;
                if gap < short + 0.3 {
                    guard.closing = false;
                }
                let off = body.pos - man_seen;
                target = man_seen + unit(unit(off) + unit(-man_seen)) * short;
                pace = play.scenario.defence.closeout.pace;
                duty = Duty::Recovering;
            }
        }
        if relation == Relation::Cutter && !guard.helping {
            // Stay between the cutter and the rim, and on the ball's side of him if he can.
            let lead = man_seen + eyes.man.vel * ANTICIPATES;
            target = station(&stance, lead, ball_seen);
            if target.norm() > lead.norm() {
                target *= (lead.norm() / target.norm().max(1e-6)).min(1.0);
            }
        }
        if !passive {
            if guard.helping {
                duty = Duty::LowHelp;
                let depth = play.scenario.defence.help.depth;
                let on_line = ball.pos * (depth / ball.pos.norm().max(depth));
                target = on_line;
                face = ball.pos - body.pos;
            } else if let Some(other) = guard.rotated {
                duty = Duty::Rotating;
                let free = old.scene.pos[other];
                target = free * 0.75 + ball_seen * 0.1;
            } else if let (Some(by), Relation::OnePass) = (driver, relation) {
                let stunt = play.scenario.defence.help.stunt;
                let to_driver = old.scene.pos[by] - target;
                if stunt > 0.0 && to_driver.norm() < 4.5 {
                    target += unit(to_driver) * stunt;
                }
            }
        }
        if !eyes.sees_man
            && !matches!(duty, Duty::OnBall | Duty::LowHelp)
            && relation != Relation::Cutter
        {
            // Lost him: hold the ground on the line to where he was.
            target = station(&stance, eyes.man.pos, ball_seen);
        }
        if passive && relation == Relation::Cutter {
            // In a walk-through nobody gets in a cutter's way.
            target = body.pos;
        }
        if !passive && !matches!(duty, Duty::OnBall | Duty::LowHelp | Duty::Rotating) {
            target = beside(target, man_seen, eyes.man.vel, ball_seen);
        }
        set_duty(guard, duty, &clock);
        guard.station = target;
        step_to(will, body, target, face);
        will.intent.pace = pace;
        let on_the_run = !passive && eyes.man.vel.norm() > 1.5;
        if on_the_run
            && matches!(
                duty,
                Duty::Trailing | Duty::Denying | Duty::Post | Duty::Gap
            )
        {
            run_with(will, body, target, eyes.man.vel, limits.top_speed);
        }
        let urgent = matches!(
            duty,
            Duty::LowHelp | Duty::Recovering | Duty::Trailing | Duty::Rotating
        ) || driver == Some(guard.man);
        if urgent {
            will.effort = 1.0;
        } else if stance.deny || relation == Relation::OnBall {
            will.effort = will.effort.max(CLOSE_WORK);
        }
        if !passive
            && eyes.sees_ball
            && let Some(point) = goes_for_it(&play, &clock, &ball, d, body, guard, eyes)
        {
            will.effort = 1.0;
            will.intent = Intent {
                target: point,
                arrive: false,
                pace: 1.0,
                face: Some(ball.pos - body.pos),
            };
        }
        if guard.closing {
            will.intent.arrive = true;
        }
    }
    if play.scenario.defence.switch == Switch::OnScreens && zone.is_none() {
        switch_on_screens(&clock, &old, &mut five, &mut book);
    }
}

fn set_duty(guard: &mut Guard, duty: Duty, clock: &Clock) {
    if guard.duty != duty {
        guard.duty = duty;
        guard.since = clock.tick;
    }
}

/// Shuffle there if it is near, else turn and run.
fn step_to(will: &mut Will, body: &crate::body::Body, target: Vec2, face: Vec2) {
    let far = (target - body.pos).norm() > RUN_FROM;
    will.intent = Intent {
        target,
        arrive: true,
        pace: 1.0,
        face: if far { None } else { Some(face) },
    };
    will.mobile = 1.0;
    let off = (target - body.pos).norm();
    will.effort = (EASY + (1.0 - EASY) * (off - AT_EASE) / (RUN_FROM - AT_EASE)).clamp(EASY, 1.0);
}

/// A pass is in the air and he thinks that he gets a hand on it: the point where.
fn goes_for_it(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    d: usize,
    body: &crate::body::Body,
    guard: &Guard,
    eyes: &Eyes,
) -> Option<Vec2> {
    let BallState::Flying { flight, began, .. } = &ball.state else {
        return None;
    };
    let gone = f64::from(clock.tick - began) * TICK;
    if gone < alertness(play, d, guard, eyes) {
        return None;
    }
    let limits = &play.cast.players[5 + d].limits;
    let reach = limits.reach * crate::looks::passing::HANDS;
    let top = limits.standing_reach + 0.2;
    for step in 1..=6 {
        let t = gone + (flight.duration - gone) * f64::from(step) / 6.0;
        let (p, height) = flight.at(t);
        if height > top || (p - flight.from).norm() < 1.1 {
            continue;
        }
        if time_to_reach(body.pos, body.vel, limits, p, reach, 0.0) <= t - gone + GAMBLE {
            return Some(p);
        }
    }
    None
}

/// He goes for balls that he would miss by this much, seconds (ours: hope).
const GAMBLE: f64 = 0.02;

/// A man on the run is run with, not stood in front of: a place ahead of him is turned to his side,
/// the ball's side.
fn beside(target: Vec2, man: Vec2, vel: Vec2, ball: Vec2) -> Vec2 {
    let speed = vel.norm();
    let off = target - man;
    let gap = off.norm();
    if speed < 1.5 || !(1e-6..=2.0).contains(&gap) {
        return target;
    }
    let along = vel / speed;
    if off.dot(&along) < 0.5 * gap {
        return target;
    }
    let mut across = Vec2::new(-along.y, along.x);
    let toward_ball = across.dot(&(ball - man));
    // With the ball still seen in his hands: the middle of the floor's side.
    let middle = -across.x * man.x;
    if toward_ball < 0.0 || toward_ball == 0.0 && middle < 0.0 {
        across = -across;
    }
    man + across * 0.75 + along * 0.35
}

/// Keep up with a man on the run: his velocity, and what is still missing to the station beside him.
fn run_with(will: &mut Will, body: &crate::body::Body, station: Vec2, vel: Vec2, top: f64) {
    let wish = vel + (station - body.pos) * CLOSES;
    let speed = wish.norm();
    will.intent = Intent {
        target: body.pos + wish,
        arrive: false,
        pace: (speed / top).min(1.0),
        face: if speed > 2.5 { None } else { will.intent.face },
    };
}

/// Where to meet a driver: ahead of him, between him and the rim, as soon as he can be headed off.
fn cut_off(me: Vec2, man: Vec2, vel: Vec2, top: f64) -> Vec2 {
    let to_rim = unit(-man);
    let ahead_of_him = me.norm() < man.norm() - 0.1;
    if ahead_of_him {
        let lead = man + vel * 0.3;
        lead + to_rim * 0.75
    } else {
        // Beaten: run to the rim side of where he will be.
        let gap = (man - me).norm();
        let t = (gap / top.max(1.0) + 0.3).min(0.9);
        let lead = man + vel * t;
        lead + to_rim * 0.5
    }
}

/// Who leaves his man for a drive that has got past its defender, and who takes the helper's man.
fn call_for_help(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    driver: Option<usize>,
    five: &mut [(&Form, Mut<Will>, Mut<Guard>, &Eyes); 5],
    book: &mut Book,
) {
    let help = play.scenario.defence.help;
    let Some(by) = driver else {
        // The ball is out, or stopped: go home once he no longer holds it inside.
        let stopped_inside = ball
            .hold()
            .is_some_and(|h| h.work == Ballwork::PickedUp && ball.pos.norm() < 4.0);
        for (_, _, guard, _) in five.iter_mut() {
            guard.trigger = None;
            if !stopped_inside && (guard.helping || guard.rotated.is_some()) {
                guard.helping = false;
                guard.rotated = None;
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
        guard.norm() > at.norm() - 0.15 || ((guard - at).dot(&unit(-at)) < 0.35)
    });
    if at.norm() > help.within || !beaten {
        return;
    }
    if five.iter().any(|(_, _, g, _)| g.helping) {
        rotate(play, clock, old, five, book);
        return;
    }
    let meet = at * (help.depth / at.norm().max(help.depth));
    let mut best: Option<(f64, usize)> = None;
    for d in 0..5 {
        let (form, _, guard, eyes) = &five[d];
        if Some(d) == on_ball || !eyes.sees_ball {
            continue;
        }
        let pos = form.0.pos;
        let limits = &play.cast.players[5 + d].limits;
        let reach = time_to_reach(pos, form.0.vel, limits, meet, 0.5, 0.0);
        let score = match help.who {
            Helper::LowMan => {
                let strong = matches!(guard.relation, Relation::OnePass);
                pos.norm() + if strong { 2.5 } else { 0.0 } + 0.5 * reach
            }
            _ => reach,
        };
        if best.is_none_or(|(s, _)| score < s) {
            best = Some((score, d));
        }
    }
    let Some((_, d)) = best else { return };
    let guard = &mut five[d].2;
    let since = *guard.trigger.get_or_insert(clock.tick);
    let slow = awareness(play, d, guard);
    if clock.tick >= since + ticks(play.cast.players[5 + d].judgement.decision + slow) {
        guard.helping = true;
        guard.trigger = None;
        let leaves = guard.man as u8 + 1;
        book.write(
            clock,
            What::Helps {
                defender: d as u8 + 1,
                leaves,
            },
        );
        rotate(play, clock, old, five, book);
    }
}

/// The next defender takes the helper's man.
fn rotate(
    play: &Play,
    clock: &Clock,
    old: &Old,
    five: &mut [(&Form, Mut<Will>, Mut<Guard>, &Eyes); 5],
    book: &mut Book,
) {
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
        let distance = (five[d].0.0.pos - spot).norm();
        if best.is_none_or(|(s, _)| distance < s) {
            best = Some((distance, d));
        }
    }
    if let Some((_, d)) = best {
        five[d].2.rotated = Some(left);
        book.write(
            clock,
            What::Rotates {
                defender: d as u8 + 1,
                to: left as u8 + 1,
            },
        );
    }
}

/// Trade men where an attacker comes off a team-mate's body and his own defender is caught behind it.
fn switch_on_screens(
    clock: &Clock,
    old: &Old,
    five: &mut [(&Form, Mut<Will>, Mut<Guard>, &Eyes); 5],
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
            let screened = old.screens[man_b] && (pb - guard).norm() < 1.0;
            let running = old.scene.vel[man_a].norm() > 2.0
                && (pa - pb).norm() < 2.0
                && (pa - guard).norm() > 1.0;
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

/// A zone defender's place now, and the attacker in his area, the ball first.
fn area(
    areas: &[crate::defence::Area],
    d: usize,
    old: &Old,
    ball: &Ball,
    ball_seen: Vec2,
) -> Option<(Vec2, Option<usize>)> {
    let area = areas.iter().find(|a| usize::from(a.defender) == d + 1)?;
    let place = Vec2::new(
        area.x + area.shift.0 * ball_seen.x,
        area.y + area.shift.1 * (ball_seen.y - 6.0),
    );
    let nearest_area = |p: Vec2| {
        let mut best = (f64::INFINITY, 0);
        for a in areas {
            let q = Vec2::new(
                a.x + a.shift.0 * ball_seen.x,
                a.y + a.shift.1 * (ball_seen.y - 6.0),
            );
            let distance = (q - p).norm();
            if distance < best.0 {
                best = (distance, usize::from(a.defender));
            }
        }
        best.1
    };
    let holder = ball.man();
    let mut picked: Option<(f64, usize)> = None;
    for who in 0..5 {
        let pos = old.scene.pos[who];
        let distance = (pos - place).norm();
        let mine = nearest_area(pos) == d + 1;
        if !mine || distance > area.covers && who != holder {
            continue;
        }
        let score = distance - if who == holder { 100.0 } else { 0.0 };
        if picked.is_none_or(|(s, _)| score < s) {
            picked = Some((score, who));
        }
    }
    Some((place, picked.map(|(_, who)| who)))
}

/// Seconds before each defender acts on a pass or a drive that starts now.
pub fn alertness(play: &Play, d: usize, guard: &Guard, eyes: &Eyes) -> f64 {
    if play.scenario.drill.passive {
        return 9.0;
    }
    let reaction = play.cast.players[5 + d].limits.reaction;
    let stance = stance_of(play, d, guard.relation);
    let mut alert = reaction + CHOICE;
    if stance.deny && guard.relation != Relation::OnBall {
        alert -= HAND_IN_LANE;
    }
    if !eyes.sees_ball {
        alert += UNSEEN;
    }
    alert.max(0.05)
}

/// Seconds more before he answers what another man does: by where his eyes are (ours, no source).
pub fn awareness(play: &Play, d: usize, guard: &Guard) -> f64 {
    match stance_of(play, d, guard.relation).gaze {
        Gaze::Ball => 0.0,
        Gaze::Both => 0.1,
        Gaze::Man => 0.5,
    }
}
