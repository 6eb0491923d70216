//! How a screened defender gets by a screen, and how the two defenders at a screen on the ball meet it: the one on the ball goes over or under it, the screener's
//! shows, contains, traps or stays. (They trade players in `switch.rs`.)

use super::super::ball_screen::{lately, off as way_off_by};
use super::super::screens::guard_of;
use super::pace::Hurry;
use super::*;
use crate::defence::{BallScreens, Helper, OffBallScreens, Relation};

/// They are at it for so long, seconds, from the moment at which the ball comes off the screen (ours).
const LASTS: f64 = 2.2;
/// A show lasts this long, seconds (ours: two slides out, then back).
const SHOWS: f64 = 0.8;
/// And a trap this long, seconds, unless the ball goes on (ours).
const TRAPS: f64 = 4.0;
/// A screener nearer to a defender's way than this, metres, stands in it; he goes round him at this distance (ours:
/// two bodies).
const IN_THE_WAY: f64 = 0.66;
const ROUND: f64 = 0.74;
/// Who shows stands so far ahead of the ball on its way off the screen, metres; who traps so far beside it (ours).
const AHEAD: f64 = 1.1;
const BESIDE: f64 = 0.85;
/// An early show begins when the screener is this near to the ball's defender, metres; it is so little on the rim's side
/// of the ball, as a share (ours: up to the touch, out of the screener's place).
const COMES_NEAR: f64 = 2.6;
const UP_TO_IT: f64 = 0.25;
/// Who contains keeps this far off the ball, metres, and comes no farther out than this (common practice: at the
/// level of the free-throw line or deeper).
const GIVES: f64 = 1.6;
const DEEP: f64 = 4.2;
/// The ball has its own defender back when he is this near to it, metres, and nearer to the rim (ours).
const IS_BACK: f64 = 1.5;

/// A roller is met a body and a hand in front, between these distances from the ring, metres; and where the roller
/// will be so much later, seconds (ours).
const BODY: f64 = 0.9;
const RING: f64 = 1.2;
const OUT: f64 = 3.0;
const SOON: f64 = 0.3;

/// A screen on the ball, as the defence sees it.
struct Seen {
    screener: usize,
    /// When the ball came off it, and toward where.
    used: Option<Screened>,
}

fn seen(view: &View) -> Option<(usize, Seen)> {
    let hold = view.ball.hold()?;
    let used = lately(hold, view.tick, ticks(TRAPS));
    let screener = used.map(|off| off.by).or(view.old.ball_screen)?;
    Some((hold.by, Seen { screener, used }))
}

/// What a screen on the ball changes about a plan.
pub(super) fn adjust(view: &View, guard: &Guard, plan: &mut Plan) {
    if !guard.cover.at_home() {
        return;
    }
    if let Some(how) = view.play.scenario.defence.off_ball_screens {
        off_the_ball(view, guard, how, plan);
    }
    let how = view.play.scenario.defence.meets_ball_screens();
    if how == BallScreens::ShowEarly
        && let Some((holder, screener)) = comes(view)
        && guard.man == screener
    {
        steps_out(view, (holder, screener), plan);
        return;
    }
    let Some((holder, seen)) = seen(view) else {
        return;
    };
    if guard.man == holder {
        gets_by(view, &seen, how, plan);
    } else if guard.man == seen.screener
        && let Some(off) = seen.used.filter(|off| !off.refuses)
    {
        helps(view, holder, off, how, plan);
    } else if let Some(who) = view.play.scenario.defence.tag
        && seen.used.is_some_and(|off| !off.refuses)
        && how.leaves_the_screener()
        && tags(view, guard, (holder, seen.screener), who)
    {
        meets_the_roller(view, seen.screener, plan);
    }
}

/// A holder, and the screener who comes for him or stands there, before the ball comes off the screen.
fn comes(view: &View) -> Option<(usize, usize)> {
    let (old, hold) = (view.old, view.ball.hold()?);
    if hold.drive.is_some() || lately(hold, view.tick, ticks(SHOWS)).is_some() {
        return None;
    }
    let screened = old.scene.pos[guard_of(old, hold.by)];
    let near = |i: usize| (old.scene.pos[i] - screened).length() < COMES_NEAR;
    let mut five = view.play.cast.five();
    let screener = five.find(|&i| old.screening[i] == Some(hold.by) && near(i))?;
    Some((hold.by, screener))
}

/// The screener's defender steps out in front of the ball, on the side to which the screen is to bring it.
fn steps_out(view: &View, (holder, screener): (usize, usize), plan: &mut Plan) {
    let ball = view.old.scene.pos[holder];
    let (off, _) = way_off_by(view.old, holder, screener, view.tick);
    plan.place = ball + unit(off.along + unit(-ball) * UP_TO_IT) * AHEAD;
    plan.goes = view.old.scene.vel[holder];
    plan.duty = Duty::OnBall;
    plan.hurry = Hurry::Urgent;
    plan.closes = view.play.cast.model.movement.close_rate_urgent;
    plan.pace = 1.0;
    plan.face = ball - view.body.pos;
}

/// Is this the defender who is to meet the roller, whose own defender is away?
fn tags(view: &View, guard: &Guard, (holder, roller): (usize, usize), who: Helper) -> bool {
    let old = view.old;
    let scene = &old.scene;
    let at = scene.pos[roller];
    // From the moment at which the ball comes off the screen: the roll is no secret.
    let rolls = old.screens[roller] || matches!(old.doing[roller], Doing::Cutting { .. });
    let own = scene.guarded_by(roller).map(|d| scene.pos[5 + d]);
    let has_own =
        own.is_some_and(|own| (own - at).length() < IS_BACK && own.length() < at.length());
    if !rolls || has_own {
        return false;
    }
    let cost = |d: usize| {
        let pos = scene.pos[5 + d];
        match who {
            Helper::LowMan => pos.length(),
            _ => (pos - tagged_at(at)).length(),
        }
    };
    let may = |d: &usize| {
        let weak = matches!(
            old.duties[*d].1,
            Relation::TwoPasses | Relation::PostWeakSide
        );
        let man = scene.guards[*d];
        man != holder && man != roller && (weak || who != Helper::LowMan)
    };
    let first = (0..5)
        .filter(may)
        .min_by(|a, b| cost(*a).total_cmp(&cost(*b)));
    who != Helper::Nobody && first.is_some_and(|d| scene.guards[d] == guard.man)
}

/// Where a roller at `at` is met, metres: between the roller and the rim.
fn tagged_at(at: Vec2) -> Vec2 {
    let far = at.length();
    at * ((far - BODY).clamp(RING, OUT).min(far) / far.max(1e-6))
}

/// In front of the roller until that one's own defender is back.
fn meets_the_roller(view: &View, roller: usize, plan: &mut Plan) {
    let scene = &view.old.scene;
    plan.place = tagged_at(scene.pos[roller] + scene.vel[roller] * SOON);
    plan.goes = scene.vel[roller] * 0.5;
    plan.duty = Duty::LowHelp;
    plan.hurry = Hurry::Urgent;
    plan.closes = view.play.cast.model.movement.close_rate_urgent;
    plan.pace = 1.0;
    plan.face = view.ball_at - view.body.pos;
}

/// The defender on the ball: round the screener, on the ball's side or on the rim's.
fn gets_by(view: &View, seen: &Seen, how: BallScreens, plan: &mut Plan) {
    if view.old.screens[seen.screener] && seen.used.is_some() {
        let at = view.old.scene.pos[seen.screener];
        let under = how == BallScreens::Under;
        let toward = if under { -at } else { view.man.at - at };
        round(view, seen.screener, toward, plan);
    }
}

/// The defender of who comes off a screen away from the ball: round the screener, behind the player or on the other
/// side.
fn off_the_ball(view: &View, guard: &Guard, how: OffBallScreens, plan: &mut Plan) {
    let old = view.old;
    let Doing::Cutting {
        via: Some(by),
        arrived: false,
        ..
    } = old.doing[guard.man]
    else {
        return;
    };
    let mut screeners = (0..5).filter(|&i| old.screens[i] && old.ball_screen != Some(i));
    let screener = screeners.find(|&i| old.screening[i] == Some(guard.man));
    if let Some(screener) = screener {
        let toward = match how {
            OffBallScreens::Chase => view.man.at - old.scene.pos[screener],
            OffBallScreens::Under => old.scene.pos[screener] - by,
        };
        round(view, screener, toward, plan);
    }
}

/// Round a screener who stands in the way, on the side to which `toward` points.
fn round(view: &View, screener: usize, toward: Vec2, plan: &mut Plan) {
    let (me, at) = (view.body.pos, view.old.scene.pos[screener]);
    let off = plan.place - me;
    let way = unit(off);
    let ahead = (at - me).dot(way);
    let aside = (at - me).perp_dot(way).abs();
    let in_the_way = ahead > 0.0 && ahead < off.length() + ROUND && aside < IN_THE_WAY;
    if !in_the_way {
        return;
    }
    let across = Vec2::new(-way.y, way.x);
    let hand = toward.dot(across);
    plan.place = at + across * (ROUND * hand.signum());
    plan.hurry = Hurry::Urgent;
}

/// The screener's defender, while the ball's own one is behind it.
fn helps(view: &View, holder: usize, off: Screened, how: BallScreens, plan: &mut Plan) {
    let scene = &view.old.scene;
    let (ball, vel) = (scene.pos[holder], scene.vel[holder]);
    let since = view.tick - off.tick;
    let own = scene.guarded_by(holder).map(|d| scene.pos[5 + d]);
    let is_back = own
        .is_some_and(|own| (own - ball).length() < IS_BACK && own.length() + 0.3 < ball.length());
    let lasts = match how {
        BallScreens::Show | BallScreens::ShowEarly => ticks(SHOWS),
        BallScreens::Trap => ticks(TRAPS),
        _ => ticks(LASTS),
    };
    if since >= lasts {
        return;
    }
    match how {
        BallScreens::Contain if !(is_back && since > ticks(SHOWS)) => {
            let far = ball.length();
            let keeps = (far - GIVES).clamp(0.5 * far.min(2.0), DEEP);
            plan.place = ball * (keeps / far.max(1e-6));
            plan.goes = vel * (keeps / far.max(1e-6)).min(1.0);
            plan.duty = Duty::LowHelp;
        }
        BallScreens::Show | BallScreens::ShowEarly => {
            plan.place = ball + unit(off.along + unit(-ball)) * AHEAD;
            plan.goes = vel;
            plan.duty = Duty::OnBall;
        }
        BallScreens::Trap => {
            let other = own.map_or(off.along, |own| unit(ball - own));
            plan.place = ball + unit(other + off.along + unit(-ball)) * BESIDE;
            plan.goes = vel;
            plan.duty = Duty::OnBall;
        }
        _ => return,
    }
    plan.hurry = Hurry::Urgent;
    plan.pace = 1.0;
    plan.face = ball - view.body.pos;
}
