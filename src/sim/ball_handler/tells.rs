//! What the holder's eyes tell the rules: who is denied, where the ball is held and for how long, and that the
//! post's defender has forgotten him.

use crate::possession::{Ballwork, DECISION_EVERY};

use super::super::dice::Purpose;
use super::super::parts::*;
use super::super::script::Script;
use super::super::sight::spot_of;
use super::Now;

/// A denied player takes between these shares of the time that his rule gives to see it (ours).
const SEES_DENIAL: (f64, f64) = (0.8, 1.8);

/// He looks for a denied team-mate only after he has held the ball for so long, seconds.
const LOOKS_UP: f64 = 0.2;

/// The happenings of this instant, unless a pass, a shot or a drive is under way.
pub(super) fn tell(now: &Now, hold: &Hold, signals: &mut Signals, script: Option<&Script>) {
    if hold.work == Ballwork::Driving {
        // A ball that is driven does not stay, wherever the drive is stopped.
        signals.ball_on = None;
        return;
    }
    if hold.pending.is_some() {
        return;
    }
    if !now.someone_cuts() && now.held >= LOOKS_UP {
        tell_who_is_denied(now, hold, signals);
    }
    tell_where_the_ball_is(now, hold, signals);
    signals.now.push(Happening::Clock);
    tell_of_a_forgotten_post(now.play, now.old, signals, script.map(Script::forgets));
}

/// The passer's eyes settle on the team-mate denied longest first, of two on the ball side's.
fn tell_who_is_denied(now: &Now, hold: &Hold, signals: &mut Signals) {
    let &Now { play, old, me, .. } = now;
    let mut order: [usize; 5] = [0, 1, 2, 3, 4];
    let weak = |w: usize| -now.side.sign() * old.scene.pos[w].x;
    order.sort_by(|&a, &b| {
        let longer = signals.denied[b].cmp(&signals.denied[a]);
        longer.then(weak(a).total_cmp(&weak(b)))
    });
    for who in order {
        // Who is to be handed the ball gets it or does not.
        let takes = hold.hands.is_some_and(|hands| hands.to == who);
        if signals.denied[who] == 0 || takes {
            continue;
        }
        // One holder sees sooner than another that a team-mate is denied.
        let sees = if play.scenario.drill.clean {
            1.0
        } else {
            let mut dice = play.dice.at(Purpose::Denied, me, hold.since);
            SEES_DENIAL.0 + (SEES_DENIAL.1 - SEES_DENIAL.0) * dice.unit()
        };
        let spell = f64::from(signals.denied[who] - DECISION_EVERY);
        let event = Happening::Denied {
            at: spot_of(play, old, who),
            ball: now.here,
            who,
            ticks: (spell / sees) as u32,
        };
        signals.now.push(event);
    }
}

/// The ball is held at a spot, and has been for so long.
fn tell_where_the_ball_is(now: &Now, hold: &Hold, signals: &mut Signals) {
    // On the way to hand it over, or from there to his place, it does not stay.
    if hold.hands.is_some() || hold.handed.is_some() {
        signals.ball_on = None;
        return;
    }
    let (here, tick) = (now.here, now.clock.tick);
    let there = signals.ball_on.filter(|b| b.0 == here && b.1 >= hold.since);
    let (_, since) = *signals.ball_on.insert(there.unwrap_or((here, tick)));
    signals.now.push(Happening::BallOn {
        at: here,
        ticks: tick - since,
    });
}

/// The post's defender sits deep under the rim or has lost sight of him (or a walk says so), since he is in place: on the
/// way across nobody counts.
fn tell_of_a_forgotten_post(play: &Play, old: &Old, signals: &mut Signals, said: Option<bool>) {
    let post = (0..5).find(|&i| {
        matches!(old.doing[i], Doing::Inside)
            && old.places[i].is_some_and(|s| !s.name.is_perimeter())
    });
    let Some(post) = post else {
        signals.forgotten = 0;
        return;
    };
    let Some(d) = old.scene.guarded_by(post) else {
        return;
    };
    let guard = old.scene.pos[5 + d];
    let to_post = old.scene.pos[post] - guard;
    let distance = to_post.length().max(1e-6);
    let deep = guard.length() < 1.3;
    let unseen = old.scene.facing[5 + d].dot(to_post / distance) < -0.3;
    let stands = old.scene.vel[post].length() < play.cast.model.movement.stands_speed;
    signals.forgotten = if said.unwrap_or(stands && (deep || unseen) && distance > 1.2) {
        signals.forgotten + DECISION_EVERY
    } else {
        0
    };
    if signals.forgotten > 0 {
        let event = Happening::PostForgotten {
            who: post,
            ticks: signals.forgotten - DECISION_EVERY,
        };
        signals.now.push(event);
    }
}
