//! A zone: areas that shift with the ball. One guards the ball, each other one attacker in the own area.

use crate::body::time_to_reach;
use crate::defence::Area;

use super::super::stance::shifted;

use super::*;

/// Where a zone defender's own place is now, whom the defender guards, and how far the area reaches, metres.
#[derive(Clone, Copy)]
pub(super) struct Place {
    pub at: Vec2,
    pub guards: Option<usize>,
    reach: f64,
}

/// Everybody's places in a zone.
pub(super) struct Zone([Place; 5]);

impl Zone {
    /// The place of defender `d`.
    pub(super) fn of(&self, d: usize) -> Place {
        self.0[d]
    }
}

/// Who guards whom: the ball by the defender who is there first, the nearer to the own place the
/// rather; then everybody else the most dangerous attacker in the own area.
pub(super) fn share(
    areas: &[Area],
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    trail: &Trail,
    five: &Five,
) -> Zone {
    let late = ticks(play.cast.players[5].limits.reaction);
    // A pass is read from the passer's arms: a zone moves while the ball is in the air.
    let (ball_at, ball_man) = match &ball.state {
        BallState::Flying {
            flight, began, to, ..
        } if clock.tick >= began + late => (flight.to, Some(*to)),
        BallState::Held(hold) => (trail.back(clock.tick, late).ball, Some(hold.by)),
        _ => (trail.back(clock.tick, late).ball, None),
    };
    let mut zone = Zone(std::array::from_fn(|d| {
        let area = areas.iter().find(|a| usize::from(a.defender) == d + 1);
        Place {
            at: area.map_or(old.scene.pos[5 + d], |area| shifted(area, ball_at)),
            guards: None,
            reach: area.map_or(0.0, |area| area.covers),
        }
    }));
    let chased = &play.scenario.defence;
    let chaser = |d: usize| chased.chased_by(d).is_some();
    let is_chased = |who: usize| (0..5).any(|d| chased.chased_by(d) == Some(who));
    let free = ball_man.filter(|man| !is_chased(*man));
    let on_ball = free.and_then(|man| on_ball(play, (ball, old), man, ball_at, &zone, five));
    if let (Some(d), Some(man)) = (on_ball, ball_man) {
        zone.0[d].guards = Some(man);
    }
    for who in (0..5).filter(|&who| ball_man != Some(who) && !is_chased(who)) {
        let at = old.scene.pos[who];
        let off = |d: usize| (zone.0[d].at - at).length();
        let nearest = (0..5).filter(|&d| Some(d) != on_ball && !chaser(d));
        let Some(d) = nearest.min_by(|&a, &b| off(a).total_cmp(&off(b))) else {
            continue;
        };
        // Of two in one area the one nearer to the rim is guarded.
        let other = zone.0[d].guards.map(|i| old.scene.pos[i].length());
        if off(d) <= zone.0[d].reach && other.is_none_or(|far| at.length() < far) {
            zone.0[d].guards = Some(who);
        }
    }
    zone
}

/// A zone defender is at the ball within this distance of where the holder is guarded from, metres (ours).
const IS_AT_THE_BALL: f64 = 1.5;

/// The defender who takes the ball.
fn on_ball(
    play: &Play,
    (ball, old): (&Ball, &Old),
    man: usize,
    ball_at: Vec2,
    zone: &Zone,
    five: &Five,
) -> Option<usize> {
    let model = &play.cast.model.defending;
    let at = if (old.scene.pos[man] - ball_at).length() < model.late_catch {
        old.scene.pos[man]
    } else {
        ball_at
    };
    let now = at;
    // A driver is met where he will be.
    let driven = driver_of(ball).map_or(Vec2::ZERO, |by| old.scene.vel[by]);
    let at = at + driven * model.driver_lead;
    let stand = at + unit(-at) * model.cover_off.min(0.5 * at.length());
    let costs: [f64; 5] = std::array::from_fn(|d| {
        let (form, _, guard, _) = &five[d];
        let limits = &play.cast.players[5 + d].limits;
        let time = time_to_reach(form.0.pos, form.0.vel, limits, stand, 0.3, 0.0);
        let far = (zone.of(d).at - at).length();
        // Who is at the ball stays with it, beside a driver too until passed; who only had it in the own area hands it on.
        let (ahead, beside) = ((form.0.pos - stand).length(), (form.0.pos - now).length());
        let passed = form.0.pos.length() > now.length();
        let is_there = ahead < IS_AT_THE_BALL || beside < IS_AT_THE_BALL && !passed;
        let stays = is_there && guard.man == man && guard.relation == Relation::OnBall;
        time + model.zone_reach_cost * far - if stays { model.zone_stay } else { 0.0 }
    });
    let has_area = |d: &usize| play.scenario.defence.chased_by(*d).is_none();
    (0..5)
        .filter(has_area)
        .min_by(|&a, &b| costs[a].total_cmp(&costs[b]))
}

/// The attacker, other than `man`, who is nearest to an area's place.
pub(super) fn nearest_but(play: &Play, old: &Old, area: Place, man: usize) -> usize {
    let off = |who: &usize| (old.scene.pos[*who] - area.at).length();
    let others = play.cast.five().filter(|&who| who != man);
    others
        .min_by(|a, b| off(a).total_cmp(&off(b)))
        .unwrap_or(man)
}

/// In the own area: between the attacker who is there and the rim, but never far from the own place.
pub(super) fn plan(view: &View, area: Place) -> Plan {
    let mut plan = home::plan(view);
    plan.duty = Duty::Area;
    plan.face = view.ball_at - view.body.pos;
    plan.hurry = pace::Hurry::AtEase;
    if area.guards.is_none() {
        // Nobody to guard: in toward the way of the ball to the rim.
        let ball = view.ball_at;
        let model = view.model;
        let rim = ball * (model.shade_distance / ball.length().max(model.shade_distance));
        plan.place = area.at + (rim - area.at) * model.zone_sink;
        plan.goes = Vec2::ZERO;
        return plan;
    }
    if matches!(view.relation, Relation::Cutter) {
        plan.hurry = pace::Hurry::Urgent;
        plan.closes = view.play.cast.model.movement.close_rate_urgent;
    }
    plan
}

/// Nobody leaves the own area with an attacker, however that one runs: the next area's defender takes over.
pub(super) fn stays_in_it(view: &View, area: Place, plan: &mut Plan) {
    if plan.duty != Duty::Area {
        return;
    }
    let off = plan.place - area.at;
    let most = area.reach * view.model.zone_leash;
    if off.length() > most {
        plan.place = area.at + off * (most / off.length());
        plan.goes = Vec2::ZERO;
    }
    // Nor does one go in behind the others with a cutter.
    let (far, least) = (
        plan.place.length(),
        area.at.length() - view.model.zone_depth,
    );
    if far < least {
        plan.place *= least / far.max(1e-6);
        plan.goes = Vec2::ZERO;
    }
}
