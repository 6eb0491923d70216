//! Who takes what: threats at the rim are shared out under the file's help rules.
//!
//! The ball on its way to the rim, or caught there, is a threat unless its own defender contains it.
//! Whoever the file names and can be in time goes to stop it, once it is seen and judged. Where the
//! file asks for rotation the others share out the attackers that are left, by time to run and by what
//! it costs to leave one alone; when the ball goes out again, everybody takes the nearest.

use crate::body::time_to_reach;
use crate::defence::Helper;
use crate::possession::What;

use super::super::eyes::awareness;
use super::super::sight::spot_of;
use super::help::meeting_point;
use super::*;

/// A threat at the rim.
#[derive(Clone, Copy)]
struct Threat {
    by: usize,
    /// Where the ball is, or where it will be caught, metres.
    at: Vec2,
    /// Speed toward the rim, m/s, and time until the ball is there, s.
    closing: f64,
    flies: f64,
    /// Tick at which it could first be seen.
    began: u32,
    drive: bool,
}

/// Shares out what threatens at the rim.
pub(super) fn share_out(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    five: &mut Five,
    (signals, book): (&mut Signals, &mut Book),
) {
    tell(play, clock, (ball, old), five, (signals, book));
    for (_, _, guard, _) in five.iter_mut() {
        guard.about_drive = AboutDrive::Nothing;
    }
    let Some(threat) = threat(play, clock, ball, old) else {
        if corner::traps(play, clock, ball, old, five) {
            return;
        }
        let inside = play.cast.model.defending.rim_distance;
        let stopped = ball.hold().is_some() && ball.pos.length() < inside;
        for (_, _, guard, _) in five.iter_mut() {
            guard.sees_threat = None;
        }
        if !stopped && five.iter().any(|f| f.2.cover.away()) {
            goes_out(play, clock, ball, old, five, book);
        }
        return;
    };
    if play.scenario.defence.help.who == Helper::Nobody {
        return;
    }
    for d in 0..5 {
        sees(play, clock, old, &threat, d, five);
    }
    let contained = contained(play, old, &threat);
    // A catch that its own defender contains asks for nobody.
    let asks = threat.drive || !contained;
    if asks {
        stay_in_the_gaps(play, old, &threat, five);
    }
    if threat.at.length() <= play.cast.model.defending.rim_catch {
        dig(play, old, &threat, five);
    }
    if let Some(helper) = (0..5).find(|&d| matches!(five[d].2.cover, Cover::Help { .. })) {
        let asked = play.scenario.defence.help.rotate;
        rotate(play, clock, ball, old, helper, five, asked);
        return;
    }
    if !asks {
        return;
    }
    let Some(d) = helper_for(play, &threat, five) else {
        return;
    };
    get_ready(play, old, &threat, d, five);
    let far = threat.at.length();
    let deep = far < play.cast.model.defending.step_up;
    let early = threat.drive && far > play.scenario.defence.help.within;
    if early || contained && !deep {
        return;
    }
    let guard = &mut *five[d].2;
    let decides = play.cast.players[5 + d].judgement.decision + awareness(play, d, guard);
    let decided = |t: u32| clock.tick >= t + ticks(decides);
    if guard.sees_threat.is_some_and(decided) {
        guard.cover = Cover::Help {
            since: clock.tick,
            from: Some(old.scene.pos[5 + d]),
        };
    }
}

/// Until the ball is stopped nobody who sees it go to the rim runs away from it; whom it goes by within a step steps in.
fn stay_in_the_gaps(play: &Play, old: &Old, threat: &Threat, five: &mut Five) {
    for d in 0..5 {
        let guard = &mut *five[d].2;
        if could_step_in(guard, threat) {
            guard.about_drive = if beside(play, old, threat, d) {
                AboutDrive::StepsIn
            } else {
                AboutDrive::Holds
            };
        }
    }
}

/// Whoever sees the ball at the rim beside them goes to it, whether its own defender contains it or not.
fn dig(play: &Play, old: &Old, threat: &Threat, five: &mut Five) {
    for d in 0..5 {
        let guard = &mut *five[d].2;
        if could_step_in(guard, threat) && beside(play, old, threat, d) {
            guard.about_drive = AboutDrive::Digs;
        }
    }
}

/// Has a defender seen the threat, and nothing else to do about it?
fn could_step_in(guard: &Guard, threat: &Threat) -> bool {
    guard.man != threat.by && guard.cover.at_home() && guard.sees_threat.is_some()
}

/// Is the ball within a step and an arm of defender `d`?
fn beside(play: &Play, old: &Old, threat: &Threat, d: usize) -> bool {
    let near = play.cast.model.defending.dig_distance;
    (old.scene.pos[5 + d] - threat.at).length() < near
}

/// The likely helper, whoever stands beside the way of a drive, and whoever is at the rim get ready.
fn get_ready(play: &Play, old: &Old, threat: &Threat, helper: usize, five: &mut Five) {
    let far = |i: usize| old.scene.pos[5 + i].length();
    let others = (0..5).filter(|&i| five[i].2.man != threat.by);
    let low = others.min_by(|&i, &j| far(i).total_cmp(&far(j)));
    let low = low.filter(|&i| far(i) < play.cast.model.defending.rim_distance);
    for i in 0..5 {
        let guard = &mut *five[i].2;
        // Beside a ball at the rim one digs.
        let digs = guard.about_drive == AboutDrive::Digs;
        let beside = !digs && beside_the_way(play, old, threat, i);
        let called = i == helper || low == Some(i) || beside;
        if called && guard.about_drive != AboutDrive::Nothing {
            guard.about_drive = AboutDrive::Ready;
        }
    }
}

/// The ball on its way to the rim, held there, or in the air to somebody there.
fn threat(play: &Play, clock: &Clock, ball: &Ball, old: &Old) -> Option<Threat> {
    let model = &play.cast.model.defending;
    match &ball.state {
        BallState::Held(hold) => {
            let at = old.scene.pos[hold.by];
            let drive = hold.drive.filter(|_| hold.work == Ballwork::Driving);
            let within = match drive {
                Some(_) => play.scenario.defence.help.within + model.ready_before,
                None => model.rim_catch,
            };
            let closing = old.scene.vel[hold.by].dot(unit(-at)).max(0.0);
            (at.length() <= within).then_some(Threat {
                by: hold.by,
                at,
                closing,
                flies: 0.0,
                began: drive.map_or(hold.since, |drive| drive.began),
                drive: drive.is_some(),
            })
        }
        BallState::Flying {
            flight, began, to, ..
        } => (flight.to.length() <= model.rim_catch).then(|| Threat {
            by: *to,
            at: flight.to,
            closing: old.scene.vel[*to].dot(unit(-flight.to)).max(0.0),
            flies: (flight.duration - f64::from(clock.tick - began) * TICK).max(0.0),
            began: *began,
            drive: false,
        }),
        _ => None,
    }
}

/// Is the ball still between its own defender and the floor, not past?
fn contained(play: &Play, old: &Old, threat: &Threat) -> bool {
    let model = &play.cast.model.defending;
    let to_rim = unit(-threat.at);
    (0..5)
        .filter(|&d| old.scene.guards[d] == threat.by)
        .any(|d| {
            let off = old.scene.pos[5 + d] - threat.at;
            let (ahead, side) = (off.dot(to_rim), off.perp_dot(to_rim).abs());
            ahead > model.contain_lead.min(0.5 * threat.at.length())
                && side < model.contain_side
                && (threat.drive || off.length() < model.contain_catch)
        })
}

/// A defender sees a threat after the reaction to it, or is called.
fn sees(play: &Play, clock: &Clock, old: &Old, threat: &Threat, d: usize, five: &mut Five) {
    let (_, _, guard, eyes) = &mut five[d];
    if guard.sees_threat.is_some() {
        return;
    }
    let called = play.cast.model.defending.call_distance;
    let told = (old.scene.pos[5 + d] - threat.at).length() < called;
    // A pass is no surprise: the arms of the passer have told of it.
    let fake = if threat.flies > 0.0 {
        0.0
    } else {
        play.cast.model.perception.fake_delay
    };
    let knows = play.cast.players[5 + d].limits.reaction + fake;
    if (eyes.sees_ball || told) && clock.tick >= threat.began + ticks(knows) {
        guard.sees_threat = Some(clock.tick);
    }
}

/// Does defender `d` stand beside the way of the ball to the rim?
fn beside_the_way(play: &Play, old: &Old, threat: &Threat, d: usize) -> bool {
    let off = old.scene.pos[5 + d] - threat.at;
    let to_rim = unit(-threat.at);
    let ahead = off.dot(to_rim);
    let side = off.perp_dot(to_rim).abs();
    0.0 < ahead && ahead < threat.at.length() && side < play.cast.model.defending.on_the_way
}

/// Who is to stop the threat.
fn helper_for(play: &Play, threat: &Threat, five: &Five) -> Option<usize> {
    let model = &play.cast.model.defending;
    let meet = meeting_point(play, threat.at);
    let way = (threat.at - meet).length();
    let due = threat.flies + way / threat.closing.max(1.0);
    let mut best: Option<(f64, usize)> = None;
    for d in 0..5 {
        let (form, _, guard, _) = &five[d];
        let pos = form.0.pos;
        // Who is farther from the rim than the ball can't stop it.
        let behind = pos.length() > threat.at.length().max(model.contain_catch);
        let chases = play.scenario.defence.chased_by(d).is_some();
        if guard.man == threat.by || guard.sees_threat.is_none() || behind || chases {
            continue;
        }
        let limits = &play.cast.players[5 + d].limits;
        let reach = time_to_reach(pos, form.0.vel, limits, meet, 0.5, 0.0);
        let late = model.late_cost * (reach - due).max(0.0);
        let score = match play.scenario.defence.help.who {
            Helper::LowMan => {
                let strong = guard.relation == Relation::OnePass;
                pos.length() + if strong { model.strong_side_cost } else { 0.0 } + late
            }
            _ => reach * model.late_cost,
        };
        if best.is_none_or(|(s, _)| score < s) {
            best = Some((score, d));
        }
    }
    best.map(|(_, d)| d)
}

/// The three who neither help nor guard the ball share out the four attackers left, if they are `asked` to, once they
/// have seen the helper go.
pub(super) fn rotate(
    play: &Play,
    clock: &Clock,
    ball: &Ball,
    old: &Old,
    helper: usize,
    five: &mut Five,
    asked: bool,
) {
    let Cover::Help { since, .. } = five[helper].2.cover else {
        return;
    };
    let sees = ticks(play.cast.players[5 + helper].limits.reaction);
    if !asked || clock.tick != since + sees {
        return;
    }
    let by = ball.man();
    let mut free = (0..5).filter(|&d| d != helper && five[d].2.man != by);
    let (Some(a), Some(b), Some(c)) = (free.next(), free.next(), free.next()) else {
        return;
    };
    let free = [a, b, c];
    let costs = costs(play, old, five, |_| 1.0);
    let alone: [f64; 5] = std::array::from_fn(|who| left_alone(play, old, ball, who));
    let mut best: Option<(f64, [usize; 3])> = None;
    for_each_choice(by, |chosen| {
        let run: f64 = (0..3).map(|i| costs[free[i]][chosen[i]]).sum();
        let left = (0..5).filter(|who| *who != by && !chosen.contains(who));
        let total = run + left.map(|who| alone[who]).sum::<f64>();
        if best.is_none_or(|(least, _)| total < least - 1e-9) {
            best = Some((total, chosen));
        }
    });
    let Some((_, chosen)) = best else { return };
    for (&d, &to) in free.iter().zip(&chosen) {
        if five[d].2.man != to {
            five[d].2.cover = Cover::Rotate {
                to,
                from: Some(old.scene.pos[5 + d]),
            };
        }
    }
}

/// Every way in which three defenders take three of the attackers other than `by`.
fn for_each_choice(by: usize, mut with: impl FnMut([usize; 3])) {
    for i in (0..5).filter(|&i| i != by) {
        for j in (0..5).filter(|&j| j != by && j != i) {
            for k in (0..5).filter(|&k| k != by && k != i && k != j) {
                with([i, j, k]);
            }
        }
    }
}

/// What it costs, s, that one who plays takes one who does not, or the other way: it is never the least.
const NEVER: f64 = 1e3;

/// What it costs that defender `d` takes attacker `a`, s: the time to run, less for the own player.
fn costs(play: &Play, old: &Old, five: &Five, weight: impl Fn(usize) -> f64) -> [[f64; 5]; 5] {
    let model = &play.cast.model.defending;
    std::array::from_fn(|d| {
        let (form, _, guard, _) = &five[d];
        let limits = &play.cast.players[5 + d].limits;
        std::array::from_fn(|a| {
            let at = old.scene.pos[a];
            let place = at + unit(-at) * model.cover_off.min(at.length());
            let time = time_to_reach(form.0.pos, form.0.vel, limits, place, 0.5, 0.0);
            if play.cast.has(a) != play.cast.has(d) {
                return NEVER;
            }
            // Whoever was sent elsewhere and has not left yet is still at home.
            let mine = match guard.cover {
                Cover::Rotate { to, from: None } => to == a,
                Cover::Help { from: None, .. } => false,
                _ => guard.man == a,
            };
            weight(a) * time - if mine { model.stay_home } else { 0.0 }
        })
    })
}

/// What it costs to leave an attacker alone, as a time to run, s.
fn left_alone(play: &Play, old: &Old, ball: &Ball, who: usize) -> f64 {
    let model = &play.cast.model.defending;
    let at = old.scene.pos[who];
    let inside = (1.0 - (at.length() - model.rim_catch) / model.rim_catch).clamp(0.0, 1.0);
    let far = ((at - ball.pos).length() - model.rim_distance) / model.rim_distance;
    let outside = model.left_near + (model.left_far - model.left_near) * far.clamp(0.0, 1.0);
    outside + (model.left_inside - outside) * inside
}

/// The ball goes out again. With rotation everybody takes the nearest, the ball first; without, helpers
/// go back to their own.
fn goes_out(play: &Play, clock: &Clock, ball: &Ball, old: &Old, five: &mut Five, book: &mut Book) {
    if play.scenario.defence.help.rotate && play.scenario.defence.zone.is_none() {
        let by = ball.man();
        let model = &play.cast.model.defending;
        let weight = |a: usize| if a == by { model.ball_weight } else { 1.0 };
        let costs = costs(play, old, five, weight);
        let mut best: Option<(f64, [usize; 5])> = None;
        for_each_order(&mut [0, 1, 2, 3, 4], 0, &mut |order| {
            let total: f64 = (0..5).map(|d| costs[d][order[d]]).sum();
            if best.is_none_or(|(least, _)| total < least - 1e-9) {
                best = Some((total, *order));
            }
        });
        for d in 0..5 {
            let Some((_, order)) = best else { break };
            let (_, _, guard, eyes) = &mut five[d];
            if guard.man != order[d] {
                takes(guard, eyes, old, order[d], clock);
                let (defender, to) = (d as u8 + 1, order[d] as u8 + 1);
                if !matches!(guard.cover, Cover::Rotate { from: None, .. }) {
                    book.write(clock, What::Rotates { defender, to });
                }
            }
        }
    }
    let late = play.cast.model.defending.late_catch;
    for d in 0..5 {
        let guard = &mut *five[d].2;
        if guard.cover.away() {
            let far = (old.scene.pos[guard.man] - old.scene.pos[5 + d]).length() > late;
            guard.cover = if far { Cover::CloseOut } else { Cover::Home };
        }
    }
}

/// Every order of five.
fn for_each_order(order: &mut [usize; 5], from: usize, with: &mut impl FnMut(&[usize; 5])) {
    if from == 5 {
        with(order);
        return;
    }
    for i in from..5 {
        order.swap(from, i);
        for_each_order(order, from + 1, with);
        order.swap(from, i);
    }
}

/// That a defender helps, or takes the helper's player, is told once the place is left or the ball is near.
fn tell(
    play: &Play,
    clock: &Clock,
    (ball, old): (&Ball, &Old),
    five: &mut Five,
    (signals, book): (&mut Signals, &mut Book),
) {
    for d in 0..5 {
        let (form, _, guard, _) = &mut five[d];
        let defender = d as u8 + 1;
        let leaves = guard.man as u8 + 1;
        let (from, what) = match &mut guard.cover {
            Cover::Help { from, .. } => (from, What::Helps { defender, leaves }),
            Cover::Rotate { to, from } => {
                let to = *to as u8 + 1;
                (from, What::Rotates { defender, to })
            }
            _ => continue,
        };
        let Some(left) = *from else { continue };
        let pos = form.0.pos;
        let model = &play.cast.model.defending;
        if (pos - left).length() >= model.has_left || (pos - ball.pos).length() <= model.at_ball {
            *from = None;
            book.write(clock, what);
            if let What::Helps { .. } = what {
                let (from, who) = (spot_of(play, old, guard.man), guard.man);
                signals.now.push(Happening::Helped { from, who });
            }
        }
    }
}
