//! The player with the ball: what he could do, what of it he sees, and what he chooses.
//!
//! All looks are measured at every decision instant, whether or not the rules use them. The choice
//! is a judgement of value over the looks that he sees and that the rules allow; within his tie
//! margin the rules' order of reading decides; the clock lowers the bar.
//!
//! Without a rule: a holder with nobody safe to pass to dribbles for a better angle; a holder who waits
//! for a team-mate dribbles in place before the closely guarded count runs out; and a holder who caught
//! the ball beside their place dribbles out to it.

use bevy_ecs::prelude::*;

use crate::court::{Side, Spot, Vec2};
use crate::looks::{backdoor, driving, spacing};
use crate::offence::LookKind;
use crate::possession::{BackdoorNow, Ballwork, DECISION_EVERY, Finish, LookNow, Moment, What};

use super::choose::{Decision, choose};
use super::dice::Purpose;
use super::parts::*;
use super::sight::{THERE, closer, holder_spot, measure, spot_of};

/// A pass that only moves the ball must be this safe at first, and this safe when time presses.
pub(super) const SAFE_PASS: f64 = 0.88;
pub(super) const PRESSED_PASS: f64 = 0.72;

/// A backdoor cut starts outside: at least this far from the ring, metres (ours).
const OUTSIDE: f64 = 4.5;

/// A defender this near to his man guards him tightly, metres: an arm's length and a step (ours).
const TIGHT: f64 = 1.7;

/// A denied player takes between these shares of the time that his rule gives to see it (ours).
const SEES_DENIAL: (f64, f64) = (0.8, 1.8);

/// At every decision instant: measure, write down, choose.
pub fn holder_decides(floor: ResMut<Floor>, mut script: Option<ResMut<super::walk::Script>>) {
    let Floor {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        ..
    } = floor.into_inner();
    let side = ball.side;
    let Some(hold) = ball.hold_mut() else {
        book.stalled = None;
        return;
    };
    if !(clock.tick - hold.since).is_multiple_of(DECISION_EVERY) {
        return;
    }
    let me = hold.by;
    let scene = &old.scene;
    let mut looks = Vec::with_capacity(6);
    let drive = measure(play, clock, old, hold, side, &mut looks);
    book.see(clock, old, hold, side);
    let here = holder_spot(play, old, me);
    let held = f64::from(clock.tick - hold.since) * crate::possession::TICK;

    // Backdoor chances and denial of the players one pass away.
    let mut chances = Vec::new();
    for who in 0..5 {
        let one_away = who != me
            && scene.pos[who].length() > OUTSIDE
            && old.away[who] == Some(1)
            && matches!(old.doing[who], Doing::Outside);
        if one_away && hold.work != Ballwork::Driving {
            let open = backdoor::backdoor(&play.cast, scene, me, who);
            // Behind a defender who is up on him, and for longer than a blink.
            let tight = (0..5).any(|d| {
                scene.guards[d] == who && (scene.pos[5 + d] - scene.pos[who]).length() < TIGHT
            });
            let now = tight && open.value > THERE;
            let there = now && book.backdoor[who] > 0;
            let began = there && book.backdoor[who] == 1;
            book.backdoor[who] = if now { book.backdoor[who] + 1 } else { 0 };
            let shut = closer(old, clock, &open);
            chances.push(BackdoorNow {
                who: who as u8 + 1,
                openness: open.value,
                there,
                closer: shut,
            });
            if began {
                let defender = scene.guarded_by(who).map_or(0, |d| d as u8 + 1);
                book.write(
                    clock,
                    What::BackdoorThere {
                        who: who as u8 + 1,
                        defender,
                    },
                );
            }
        } else {
            book.backdoor[who] = 0;
        }
        let shut = one_away
            && !play.scenario.drill.passive
            && looks
                .iter()
                .any(|l| l.to == Some(who as u8 + 1) && l.openness < SAFE_PASS);
        signals.shut[who] = if shut {
            signals.shut[who] + DECISION_EVERY
        } else {
            0
        };
        let denied = one_away
            && match &script {
                Some(script) => script.denies(who),
                None => !play.scenario.drill.passive && is_denied(old, &looks, who),
            };
        signals.denied[who] = if denied {
            signals.denied[who] + DECISION_EVERY
        } else {
            0
        };
    }
    let someone_behind = old
        .doing
        .iter()
        .any(|d| matches!(d, Doing::Cutting { arrived: false, .. }));
    let flying_now = hold.pending.is_some() || hold.work == Ballwork::Driving;
    if !someone_behind && !flying_now && held >= 0.2 {
        // The passer's eyes settle on the team-mate denied longest first, of two on the ball side's.
        let mut order: [usize; 5] = [0, 1, 2, 3, 4];
        let weak = |w: usize| -side.sign() * scene.pos[w].x;
        order.sort_by(|&a, &b| {
            let longer = signals.denied[b].cmp(&signals.denied[a]);
            longer.then(weak(a).total_cmp(&weak(b)))
        });
        for who in order
            .into_iter()
            .filter(|&w| signals.denied[w] > 0)
            .collect::<Vec<_>>()
        {
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
                ball: here,
                who,
                ticks: (spell / sees) as u32,
            };
            signals.now.push(event);
        }
    }
    if !flying_now {
        let there = signals.ball_on.filter(|b| b.0 == here && b.1 >= hold.since);
        let (_, since) = *signals.ball_on.insert(there.unwrap_or((here, clock.tick)));
        signals.now.push(Happening::BallOn {
            at: here,
            ticks: clock.tick - since,
        });
        signals.now.push(Happening::Clock);
        let said = script.as_ref().map(|s| s.forgets());
        post_forgotten(old, signals, said);
    }

    // Stalls.
    let any_open = looks.iter().any(|l| l.open) || hold.work == Ballwork::Driving;
    match (any_open, book.stalled) {
        (false, None) => book.stalled = Some(clock.tick),
        (true, Some(since)) => {
            let seconds = f64::from(clock.tick - since) * crate::possession::TICK;
            if seconds >= 0.8 {
                book.write(
                    clock,
                    What::Stall {
                        who: me as u8 + 1,
                        seconds,
                    },
                );
            }
            book.stalled = None;
        }
        _ => {}
    }

    if script.is_none() && clock.tick >= hold.ready {
        dribble_for_an_angle(play, clock, old, hold, here, &looks, book);
    }
    // What he is doing as he decides, not what he does then.
    let work = hold.work;
    let choice = if let Some(script) = &mut script {
        script.choice(clock.tick, hold, &looks, scene.pos[me])
    } else if hold.pending.is_none() && clock.tick >= hold.ready {
        let in_lane = f64::from(book.in_lane[me]) * crate::possession::TICK;
        choose(&Decision {
            play,
            clock,
            old,
            hold,
            here,
            held,
            in_lane,
            looks: &looks,
            on_ball: drive.on_ball,
        })
    } else {
        None
    };
    if let Some(index) = choice {
        let look = looks[index];
        // A drive, a pass or a shot starts at once: no `denied` or `ball_on` rule is answered at this instant.
        let waits =
            |h: &Happening| matches!(h, Happening::Denied { .. } | Happening::BallOn { .. });
        signals.now.retain(|h| !waits(h));
        act(play, clock, old, hold, here, &look, &drive, signals, book);
    }
    if book.keep_moments {
        book.moments.push(Moment {
            time: clock.seconds(),
            holder: me as u8 + 1,
            at: here,
            ballwork: work,
            held,
            spacing: spacing::spacing(&play.cast, scene, me),
            looks,
            backdoor: chances,
            choice,
            last_rule: signals.last_rule,
        });
    }
}

/// Nothing open and nobody safe to pass to for a while: he puts the ball on the floor and moves round
/// the perimeter for a better angle, toward the middle (common practice: move the ball to open a
/// passing lane).
fn dribble_for_an_angle(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &mut Hold,
    here: Spot,
    looks: &[LookNow],
    book: &mut Book,
) {
    let pos = old.scene.pos[hold.by];
    let began = hold.angle_since.unwrap_or(hold.since);
    let waited = f64::from(clock.tick.saturating_sub(began)) * crate::possession::TICK;
    let safe = looks
        .iter()
        .any(|l| l.to.is_some() && l.allowed && l.openness >= SAFE_PASS);
    let may = matches!(hold.work, Ballwork::Holding | Ballwork::Dribbling)
        && hold.pending.is_none()
        && hold.at_mate.is_none()
        && !play.scenario.drill.clean;
    if !may {
        return;
    }
    let home = old.places[hold.by].filter(|spot| spot.name.is_perimeter());
    let off = |spot: Spot| (play.cast.court.spot(spot) - pos).length();
    let beside = !here.name.is_perimeter() || play.cast.court.in_lane(pos);
    if beside || home.is_some_and(|home| home != here) {
        // Beside his place outside he caught it: he takes it out there.
        let looked = clock.tick >= hold.since + ticks(TAKES_IT_OUT.0);
        let far = if beside {
            TAKES_IT_OUT.1
        } else {
            TAKES_IT_OUT.2
        };
        if let Some(home) = home.filter(|&spot| looked && off(spot) < far)
            && hold.how == Finish::SpotUp
            && hold.work == Ballwork::Holding
            && hold.drove_from.is_none()
        {
            let to = play.cast.court.spot(home);
            puts_it_down(clock, hold, to, (None, Some(home)), book);
        }
        return;
    }
    // Closely guarded, the holder dribbles on the spot while a team-mate is on the way, so that the count stops.
    let comes = (0..5).find(|&i| i != hold.by && old.awaited[i]);
    let counted = |t| f64::from(clock.tick - t) * crate::possession::TICK > COUNTED;
    if let Some(mate) = comes {
        if hold.work == Ballwork::Holding && hold.guarded_since.is_some_and(counted) {
            puts_it_down(clock, hold, pos, (Some(mate as u8 + 1), None), book);
        }
        return;
    }
    // He looks for the cutter first.
    let may = !old
        .doing
        .iter()
        .any(|d| matches!(d, Doing::Cutting { arrived: false, .. }));
    // Nor away from a team-mate who comes to him, or before he would have moved the ball on.
    let comes = old.screening.iter().any(Option::is_some);
    let waits = WAITS_FOR_AN_ANGLE.max(play.scenario.offence.patience.hold);
    if !may || safe || comes || waited < waits {
        return;
    }
    // Round the rim toward the middle of the floor; from the middle to the side with more room.
    let distance = pos.length().max(1e-6);
    let across = Vec2::new(-pos.y, pos.x) / distance;
    let room = |hand: f64| {
        let to = pos + across * (hand * ANGLE);
        old.scene.nearest_defender(to).0
    };
    let hand = if pos.x.abs() > 1.5 {
        // `across` leads counter-clockwise about the rim: toward the middle from the right.
        pos.x.signum()
    } else {
        // As much on both sides: told by the ball side.
        Side::of(room(1.0) - room(-1.0), old.side).sign()
    };
    let to = pos + across * (hand * ANGLE);
    let at = to * (distance / to.length().max(1e-6));
    // Not on to a team-mate's place.
    let taken = |i: usize| {
        let home = old.places[i].filter(|spot| i != hold.by && spot.name.is_perimeter());
        home.is_some_and(|spot| (play.cast.court.spot(spot) - at).length() < LEAVES_HIM_ROOM)
    };
    if (0..5).any(taken) {
        return;
    }
    let at = play.cast.court.clamp_inside(at, 0.5);
    puts_it_down(clock, hold, at, (None, None), book);
}

fn puts_it_down(
    clock: &Clock,
    hold: &mut Hold,
    at: Vec2,
    (waits_for, to): (Option<u8>, Option<Spot>),
    book: &mut Book,
) {
    hold.angle = Some(at);
    hold.angle_since = Some(clock.tick);
    hold.work = Ballwork::Dribbling;
    hold.guarded_since = None;
    let who = hold.by as u8 + 1;
    book.write(clock, What::Dribbles { who, waits_for, to });
}

/// Who caught it beside his place looks for so long before he takes it out there, seconds, if it is no farther
/// than this, metres (ours).
const TAKES_IT_OUT: (f64, f64, f64) = (0.6, 5.5, 8.0);

/// A closely guarded holder who waits for a team-mate starts to dribble after this long, seconds (ours; the
/// rule: five).
const COUNTED: f64 = 2.5;
/// With no safe pass the holder starts to dribble after this long, seconds, and goes this far, metres (ours).
const WAITS_FOR_AN_ANGLE: f64 = 1.8;
const ANGLE: f64 = 2.2;
/// So near to a team-mate's place he does not dribble, metres (ours: nearer than that he would stand on it).
const LEAVES_HIM_ROOM: f64 = 1.8;

/// Denied: his defender is close and the pass to him is shut by that defender.
fn is_denied(old: &Old, looks: &[LookNow], who: usize) -> bool {
    let Some(look) = looks.iter().find(|l| l.to == Some(who as u8 + 1)) else {
        return false;
    };
    let Some(d) = old.scene.guarded_by(who) else {
        return false;
    };
    let gap = (old.scene.pos[5 + d] - old.scene.pos[who]).length();
    gap < 1.7
        && look.openness < 0.6
        && look
            .closer
            .is_some_and(|c| usize::from(c.defender) == d + 1)
}

/// The post's defender sits deep under the rim or has lost sight of him (or a walk says so).
fn post_forgotten(old: &Old, signals: &mut Signals, said: Option<bool>) {
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
    signals.forgotten = if said.unwrap_or((deep || unseen) && distance > 1.2) {
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

#[allow(clippy::too_many_arguments)]
fn act(
    play: &Play,
    clock: &Clock,
    old: &Old,
    hold: &mut Hold,
    here: Spot,
    look: &LookNow,
    drive: &driving::DriveLook,
    signals: &mut Signals,
    book: &mut Book,
) {
    let me = hold.by;
    let number = me as u8 + 1;
    match (look.kind, look.to) {
        (LookKind::Shot, _) => {
            let finish = match hold.work {
                Ballwork::Driving | Ballwork::PickedUp if hold.how != Finish::Cut => Finish::Drive,
                _ if f64::from(clock.tick - hold.since) * crate::possession::TICK > 1.0
                    && hold.how == Finish::SpotUp =>
                {
                    Finish::OffHold
                }
                _ => hold.how,
            };
            let wait = if old.scene.pos[me].length() < 2.2 {
                0.2
            } else {
                play.cast.model.shots.catch_to_release * 0.7
            };
            hold.pending = Some(Pending::Shot {
                at: clock.tick + ticks(wait),
                finish,
            });
        }
        (LookKind::Drive, _) => {
            let via = ((drive.via - drive.finish).length() > 0.1).then_some(drive.via);
            hold.work = Ballwork::Driving;
            hold.drive = Some(Drive {
                from: here,
                via,
                finish: drive.finish,
                began: clock.tick,
                stuck: 0,
            });
            hold.drove_from = Some(here);
            signals.last_driver = Some(me);
            signals.now.push(Happening::Drive {
                from: here,
                driver: me,
            });
            book.write(
                clock,
                What::Drives {
                    who: number,
                    from: here,
                },
            );
        }
        (kind, Some(to)) => {
            let release = play.cast.players[me].hands.release;
            hold.pending = Some(Pending::Pass {
                to: usize::from(to) - 1,
                kind: look.pass.unwrap_or(crate::ball::PassKind::Chest),
                look: kind,
                openness: look.openness,
                on_the_run: matches!(
                    old.doing[usize::from(to) - 1],
                    Doing::Cutting { arrived: false, .. }
                ),
                at: clock.tick + ticks(release).max(1),
            });
        }
        _ => {}
    }
}

/// Direction in which the holder faces: the rim, a little toward the middle.
pub fn face_of_holder(pos: Vec2) -> Vec2 {
    -pos
}
