//! How good and how open each look seems to the holder, and which of the looks count for the holder at all.

use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow};

use super::super::dice::Purpose;
use super::super::sight::{at_the_rim, may_come_off};
use super::lane::lane_is_taken;
use super::{Decision, LOOKS, worth};

/// Share of the error of judgement that is left when a player judges his own shot (ours: how far it is, how much room
/// there is and how often he makes it he knows) …
const OWN_SHOT: f64 = 0.05;
/// … and when he judges his own drive, or watches the team-mate (ours).
const OWN_LOOK: f64 = 0.4;

/// A team-mate as open as this beside the rim catches the eye: this share of the chance to overlook him
/// is left (ours).
const CATCHES_THE_EYE: f64 = 0.85;
const STILL_OVERLOOKED: f64 = 0.4;

/// Nobody kicks it out farther than the first, feeds the post from farther than the second (common practice:
/// from the ball side), or throws to a team-mate nearer than the third, metres (ours).
const LONGEST_KICK_OUT: f64 = 8.0;
const LONGEST_FEED: f64 = 6.5;
const SHORTEST: f64 = 2.0;

/// His error about how open a pass is, over his error about values in points (ours).
const MISJUDGES: f64 = 1.2;

/// What it brings to come off a screen on the ball with the lane shut, beside going on, as a share of the usual
/// possession (ours: two defenders have to deal with it).
const OFF_A_SCREEN: f64 = 0.03;

/// Seconds until the ball leaves the shooter's hands, from now (ours).
const SHOT_TAKES: f64 = 0.5;
const DRIVE_TAKES: f64 = 1.6;
const PASS_AND_SHOT_TAKE: f64 = 1.4;

/// A look as it seems to the holder.
#[derive(Clone, Copy, Default)]
pub(super) struct Seen {
    /// What it seems to be worth, points.
    pub value: f64,
    /// How open it seems.
    pub openness: f64,
    /// May he take it: is it allowed, and does he see it?
    pub counts: bool,
}

/// Every look as it seems to the holder. What he misjudges he misjudges for as long as he holds the ball.
pub(super) fn perceive(now: &Decision) -> [Seen; LOOKS] {
    let &Decision {
        play, clock, hold, ..
    } = now;
    let me = hold.by;
    let value_error = play.cast.players[me].judgement.value_error;
    let mut noise = play.dice.at(Purpose::Judge, me, hold.since);
    // What he has overlooked he goes on overlooking for a second.
    let spell = clock.tick - clock.tick % 25;
    let mut notice = play.dice.at(Purpose::Notice, me, spell);
    let mut seen = [Seen::default(); LOOKS];
    for (seen, look) in seen.iter_mut().zip(now.looks) {
        let (error, luck) = (noise.normal() * value_error, notice.unit());
        seen.value = value(now, look, error, value_error);
        seen.counts = (look.allowed || watches(now, look))
            && match (look.to, look.kind) {
                (Some(to), _) => pass_counts(now, look, usize::from(to) - 1, luck),
                (None, LookKind::Drive) => drive_counts(now),
                _ => true,
            };
        let error = if now.clean() || look.to.is_none() {
            0.0
        } else {
            let watched = if watches(now, look) { OWN_LOOK } else { 1.0 };
            noise.normal() * value_error * MISJUDGES * watched
        };
        seen.openness = look.openness + error;
    }
    seen
}

/// Is it a pass to whom he has promised the next one? That one he watches: he misjudges whether the pass gets there no
/// more than a look of his own, does not overlook it, and throws it whatever the kind.
fn watches(now: &Decision, look: &LookNow) -> bool {
    let promised = now.hold.promised.map(|(to, _)| to);
    promised.is_some() && look.to.map(|to| usize::from(to) - 1) == promised
}

/// What a look seems to be worth, points, as far as his eyes are to be trusted. He knows
/// his own shot and drive better than what a team-mate can do.
fn value(now: &Decision, look: &LookNow, error: f64, sigma: f64) -> f64 {
    let seems = judged(now, look, error, sigma);
    let screened = now.hold.handed.is_none() && may_come_off(now.old, now.hold);
    if look.kind == LookKind::Drive && screened {
        // With the lane shut he pulls the ball back and goes on.
        seems.max(worth::in_hand(now) + OFF_A_SCREEN * now.play.usual)
    } else {
        seems
    }
}

/// The same, were there nothing else to come of it.
fn judged(now: &Decision, look: &LookNow, error: f64, sigma: f64) -> f64 {
    if now.clean() {
        return look.value;
    }
    let knows = match (look.kind, look.to) {
        (LookKind::Shot, _) => OWN_SHOT,
        (_, None) => OWN_LOOK,
        _ => 1.0,
    };
    let (usual, value) = (now.play.usual, &now.play.cast.value);
    let share = knows / usual;
    let worth = worth_in_time(now, look) / usual;
    usual * (value.judged(look.kind, worth, error * share, sigma * share) + taste(now, look))
}

/// The taste for a drive, usual possessions: the same for as long as he holds the ball, but for what he has learnt from
/// each drive of it that was stopped.
fn taste(now: &Decision, look: &LookNow) -> f64 {
    if look.kind != LookKind::Drive {
        return 0.0;
    }
    let mut dice = now
        .play
        .dice
        .at(Purpose::Drives, now.hold.by, now.hold.since);
    let model = &now.play.cast.model.perception;
    let stopped = f64::from(now.hold.stops);
    model.impulse * dice.normal() - model.stopped_costs * stopped
}

/// What comes of a look as a rule, points: nothing if the ball can't leave the shooter's hands in time.
pub(super) fn worth_in_time(now: &Decision, look: &LookNow) -> f64 {
    let takes = match look.kind {
        LookKind::Shot => SHOT_TAKES,
        LookKind::Drive => DRIVE_TAKES,
        _ => PASS_AND_SHOT_TAKE,
    };
    if now.clock.ruled && now.clock.left() < takes {
        return 0.0;
    }
    now.play.cast.value.of_a_look(look.kind, look.value)
}

/// Nobody drives who dribbles at a team-mate, nor starts into a lane that a team-mate takes.
fn drive_counts(now: &Decision) -> bool {
    let starts = now.hold.work != Ballwork::Driving && !now.clean();
    let busy = now.hold.at_mate.is_some() || now.hold.hands.is_some();
    let taken = || starts && lane_is_taken(now.play, now.old, now.hold.by);
    !busy && !taken()
}

/// A pass counts if he sees the team-mate, who is in range, not about to set a screen, nor on the way to take the ball from
/// his hands.
fn pass_counts(now: &Decision, look: &LookNow, to: usize, luck: f64) -> bool {
    now.clean()
        || in_view(now, to)
            && (watches(now, look) || luck >= overlooks(now, look))
            && in_range(now, look.kind, to)
            && now.old.screening[to].is_none()
            && now.hold.hands.is_none_or(|hands| hands.to != to)
}

/// Does he face the team-mate at least half? Who does not drive turns the head, and has everybody in view.
fn in_view(now: &Decision, to: usize) -> bool {
    if now.hold.work != Ballwork::Driving {
        return true;
    }
    let (scene, me) = (&now.old.scene, now.hold.by);
    let way = scene.pos[to] - scene.pos[me];
    let cos = way.dot(scene.facing[me]) / way.length().max(1e-6);
    cos > libm::cos(now.play.cast.players[me].judgement.half_view)
}

/// The chance that he overlooks the team-mate.
fn overlooks(now: &Decision, look: &LookNow) -> f64 {
    let notices = now.play.cast.players[now.hold.by].judgement.notices;
    let obvious = look.openness > CATCHES_THE_EYE && at_the_rim(look.kind);
    (1.0 - notices) * if obvious { STILL_OVERLOOKED } else { 1.0 }
}

/// Is the team-mate neither too near nor too far for this kind of pass?
fn in_range(now: &Decision, kind: LookKind, to: usize) -> bool {
    let way = (now.old.scene.pos[to] - now.old.scene.pos[now.hold.by]).length();
    let longest = match kind {
        LookKind::KickOut => LONGEST_KICK_OUT,
        LookKind::Post => LONGEST_FEED,
        _ => f64::INFINITY,
    };
    !(way < SHORTEST || way > longest)
}
