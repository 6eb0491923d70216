//! How an attacker goes about what it does: with how much effort and lag, how fast, and who makes room.
//!
//! Least effort that is in time is the rule; full effort is for beating a defender, leaving the rim and saving
//! a ball. Tracked players behave so: half of all accelerations are below 1.6 m/s², and cuts peak at 3.9 m/s.

use super::dice::Purpose;
use super::parts::*;
use super::stance::unit;
use crate::body::{Intent, Limits, speed_limit, turned_by};
use crate::court::{Court, Spot, Vec2};

/// Is a runner at `pos` on the way out from under the rim?
fn leaves_the_rim(play: &Play, pos: Vec2) -> bool {
    pos.length() < play.cast.model.movement.full_pace_distance
}

/// Share of the player's power that a task asks for (ours).
pub(super) fn effort_of(task: &Task) -> f64 {
    match task {
        Task::Stand => 0.5,
        Task::GetOpen { out, .. } => {
            if *out {
                1.0
            } else {
                0.7
            }
        }
        Task::Run { pace, .. } => 0.5 + 0.45 * pace.min(1.0),
        _ => 1.0,
    }
}

/// The manner of attacker `who` at `pos` in this tick.
pub(super) fn of_attacker(
    play: &Play,
    ball: &Ball,
    old: &Old,
    job: &Job,
    who: usize,
    pos: Vec2,
) -> Manner {
    let model = &play.cast.model.movement;
    let drives = matches!(job.task, Task::Handle) && driver(ball) == Some(who);
    let at_ease = Some(model.settle_rate);
    let (lag, settle) = match &job.task {
        Task::Stand => (model.lag_standing, at_ease),
        Task::Handle if drives => (model.lag_urgent, None),
        Task::Handle => (model.lag_handler, None),
        Task::Cut { .. } | Task::ComeOff { .. } => (model.lag_cut, None),
        Task::Run { .. } if leaves_the_rim(play, pos) => (model.lag_urgent, None),
        Task::GetOpen { out: true, .. } | Task::Chase => (model.lag_urgent, None),
        // A screener runs to the screen, and does not ease up as one does who comes to a place.
        Task::Meet { .. }
        | Task::Take { .. }
        | Task::Flash { .. }
        | Task::Screen { on_ball: false, .. } => (model.lag, None),
        _ => (model.lag, at_ease),
    };
    let yields = match &job.task {
        Task::Handle if drives => 0.0,
        Task::Handle => model.yield_handler,
        Task::Meet { .. } | Task::Chase | Task::Screen { set: Some(_), .. } => 0.0,
        Task::Cut { .. } | Task::ComeOff { .. } => model.yield_cutter,
        Task::Stand => model.yield_standing,
        _ => model.yield_runner,
    };
    let with = match &job.task {
        Task::Screen { whom, .. } => Some(*whom),
        Task::UseScreen { of, .. } | Task::ComeOff { of, .. } => Some(*of),
        Task::Take { from, .. } => Some(*from),
        Task::Handle => ball
            .hold()
            .and_then(|hold| hold.hands)
            .map(|hands| hands.to),
        Task::Cut {
            off_a_screen: true, ..
        } => (0..5).find(|&i| old.screening[i] == Some(who)),
        _ => None,
    };
    Manner {
        lag,
        settle,
        yields,
        drives,
        with,
    }
}

/// The share of the top speed with which a run of `length` metres is made: in time, not in haste; out from
/// under the rim as fast as the rule asks.
pub(super) fn pace_of_run(play: &Play, who: usize, pos: Vec2, length: f64, asked: f64) -> f64 {
    let model = &play.cast.model.movement;
    if leaves_the_rim(play, pos) {
        return asked;
    }
    let hurries = asked >= IN_A_HURRY || play.cast.court.in_lane(pos);
    let least = if hurries {
        model.lane_slowest
    } else {
        model.run_slowest
    };
    let speed = (length / model.run_time).clamp(least, model.run_fastest);
    asked.min(speed / play.cast.players[who].limits.top_speed)
}

/// The share of the top speed that a run to fill a place asks for, one along the perimeter behind a drive, and one
/// out from the rim (ours).
pub(super) const FILLS: f64 = 0.75;
pub(super) const SHIFTS: f64 = 0.7;
pub(super) const COMES_OUT: f64 = 0.8;

/// A run asked for with at least this share of the top speed is one to leave the lane by.
const IN_A_HURRY: f64 = 0.95;

/// The share of the top speed of a cut; no two are alike.
pub(super) fn pace_of_cut(play: &Play, told: u32, who: usize) -> f64 {
    let model = &play.cast.model.movement;
    let mut dice = play.dice.at(Purpose::Cut, who, told);
    let pace = model.cut_pace + model.cut_pace_spread * dice.normal();
    pace.clamp(SLOWEST_CUT, 1.0)
}

/// How long a cutter who wasn't fed shows for the ball at the rim, ticks.
pub(super) fn shows_for(play: &Play, told: u32, who: usize) -> u32 {
    let model = &play.cast.model.movement;
    if play.scenario.drill.clean {
        return ticks(model.cut_show_time);
    }
    let mut dice = play.dice.at(Purpose::Show, who, told);
    let time = model.cut_show_time * libm::exp(model.cut_show_spread * dice.normal());
    ticks(time.min(model.cut_show_longest)).max(1)
}

/// A cut is run with at least this share of the top speed: slower is a walk.
const SLOWEST_CUT: f64 = 0.3;

/// Where a place is for one player: nobody finds it to the inch, and each order is another step off it. But five who keep
/// their distance lie off to the same side: drawn for each alone, two often came to stand side by side.
/// Places inside and places of a walk-through are exact.
pub(super) fn place_of(play: &Play, who: usize, told: u32, spot: Spot) -> Vec2 {
    let court: &Court = &play.cast.court;
    let exact = court.spot(spot);
    if !spot.name.is_perimeter() || play.scenario.drill.any() {
        return exact;
    }
    // Along the arc to either side, but not as far as the next player's place; outward more than inward, so that
    // outside stays outside.
    let model = &play.cast.model.movement;
    let mut dice = play.dice.at(Purpose::Stands, who, told);
    let out = exact / exact.length().max(1e-6);
    let across = Vec2::new(-out.y, out.x);
    let most = model.place_scatter_most;
    let together = play.dice.at(Purpose::Stands, TOGETHER, 0).normal();
    let side = together * model.place_scatter_together + dice.normal() * model.place_scatter;
    let side = play.hand * side.clamp(-most, most);
    let back = (dice.normal().abs() * model.place_scatter_out).min(most) - model.place_scatter_in;
    court.clamp_inside(exact + across * side + out * back, IN_BOUNDS)
}

/// The same, as it was worked out in the last tick if he was to be there.
pub(super) fn home_of(play: &Play, old: &Old, who: usize, told: u32, spot: Spot) -> Vec2 {
    let home = &old.homes[who];
    if home.told == told && home.spot == Some(spot) {
        home.at
    } else {
        place_of(play, who, told, spot)
    }
}

/// Who waits for the time of an order stays at home where it found him, whatever place it claims for later.
pub(super) fn waits_at_home(home: &Home, order: &Order, waits: bool) -> bool {
    waits && home.spot.is_some() && home.spot == order.found_at
}

/// Whose draw all five share: none of the ten players'.
const TOGETHER: usize = 10;

/// A place is no nearer to a line than this, metres: room to catch.
pub(super) const IN_BOUNDS: f64 = 0.5;

/// How long a holder outside looks before moving the ball on, seconds, about the `usual` time.
pub(super) fn looks_for(play: &Play, usual: f64, order: &mut super::dice::Draw) -> f64 {
    let model = &play.cast.model.movement;
    let time = usual * libm::exp(model.hold_spread * order.normal());
    time.clamp(model.hold_shortest, model.hold_longest)
}

/// For how many ticks a holder outside looks, with the ball in both hands, before a dribble.
pub(super) fn looks_before_a_dribble(play: &Play, hold: &Hold) -> u32 {
    let model = &play.cast.model.movement;
    let mut dice = play.dice.at(Purpose::Drift, hold.by, hold.since);
    ticks(model.looks_first * libm::exp(model.looks_first_spread * dice.normal()))
}

/// Does a holder who waits drift on the dribble? Inside the arc nobody does.
pub(super) fn drifts(play: &Play, hold: &Hold) -> bool {
    play.cast.court.points(hold.caught) >= BEYOND_THE_ARC
}

/// Where a holder outside who waits at `pos` drifts to: a step to one side of the catch, nearer or farther every moment, and
/// rather in than out. Always to the same side: nobody goes to and fro; and not up to a team-mate. Inside the arc one stays.
pub(super) fn drifts_to(play: &Play, clock: &Clock, old: &Old, hold: &Hold, pos: Vec2) -> Vec2 {
    let model = &play.cast.model.movement;
    if !drifts(play, hold) {
        return hold.caught;
    }
    let spell = clock.tick.saturating_sub(hold.since) / ticks(model.drift_time).max(1);
    let side_of = play.dice.at(Purpose::Drift, hold.by, hold.since).unit();
    let mut dice = play
        .dice
        .at(Purpose::Drift, hold.by, hold.since + 1 + spell);
    let out = hold.caught / hold.caught.length().max(1e-6);
    let across = Vec2::new(-out.y, out.x);
    let hand = if side_of < 0.5 { play.hand } else { -play.hand };
    let side = hand * model.drift_distance * (0.5 + dice.unit());
    let in_ward = model.drift_in * dice.normal().abs();
    let at = hold.caught + across * side - out * in_ward;
    let at = play.cast.court.clamp_inside(at, IN_BOUNDS);
    let crowds = |i: usize| {
        let (then, now) = (old.scene.pos[i] - at, old.scene.pos[i] - pos);
        then.length() < model.own_room && then.length() < now.length()
    };
    if (0..5).any(|i| i != hold.by && crowds(i)) {
        pos
    } else {
        at
    }
}

/// Points of a shot from outside the arc.
const BEYOND_THE_ARC: u8 = 3;

/// Share of what the feet can do with the chest turned from the way that comes without haste (ours).
const EASILY: f64 = 0.8;

/// The chest of whoever is at `pos` with velocity `vel` turns as far from the way toward `to` (any length) as the pace leaves
/// without haste: who walks faces it, who runs opens half to it, and only who sprints turns the back. The pace stays what it
/// was.
pub(super) fn opens_to(limits: &Limits, pos: Vec2, vel: Vec2, to: Vec2, intent: &mut Intent) {
    let off = intent.target - pos;
    if intent.face.is_some() || off == Vec2::ZERO || to == Vec2::ZERO {
        return;
    }
    let stops = if intent.arrive {
        (limits.brake * off.length()).sqrt()
    } else {
        f64::INFINITY
    };
    let speed = (intent.pace * limits.top_speed)
        .min(stops)
        .max(vel.length());
    let (way, to) = (unit(off), unit(to));
    let face = if speed <= EASILY * speed_limit(limits, to, way) {
        to
    } else {
        // As far as the feet allow it: `speed_limit`, solved for the angle.
        let may = (speed / (EASILY * limits.top_speed)).min(1.0);
        let cos2 = (may - limits.shuffle) / (1.0 - limits.shuffle);
        let cos = cos2.clamp(0.0, 1.0).sqrt();
        if way.dot(to) >= cos {
            to
        } else {
            turned_by(way, to, pos, ((1.0 - cos * cos).sqrt(), cos))
        }
    };
    let may = speed_limit(limits, face, way);
    intent.face = Some(face);
    intent.pace = (intent.pace * limits.top_speed / may).min(1.0);
}
