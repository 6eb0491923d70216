//! The team-mates one pass away: whose backdoor cut is open, to whom the pass is shut, and who is denied.

use crate::looks::backdoor;
use crate::possession::{BackdoorNow, Ballwork, DECISION_EVERY, What};

use super::super::choose::SAFE_PASS;
use super::super::parts::*;
use super::super::script::Script;
use super::super::sight::{THERE, closer};
use super::Now;

/// A backdoor cut starts outside: at least this far from the ring, metres (ours).
const OUTSIDE: f64 = 4.5;

/// A defender this near to his man guards him tightly, metres: an arm's length and a step (ours).
const TIGHT: f64 = 1.7;

/// A team-mate is denied when his defender is nearer than this, metres, and the pass no more open than this.
const DENIES: (f64, f64) = (1.7, 0.6);

/// Is a team-mate outside, one pass away?
fn one_away(now: &Now, who: usize) -> bool {
    let old = now.old;
    who != now.me
        && old.scene.pos[who].length() > OUTSIDE
        && old.away[who] == Some(1)
        && matches!(old.doing[who], Doing::Outside)
}

/// The backdoor chances of the players one pass away; a chance is there at the second instant in a row.
pub(super) fn backdoor_chances(now: &Now, hold: &Hold, book: &mut Book) -> Vec<BackdoorNow> {
    let mut chances = Vec::new();
    for who in 0..5 {
        if one_away(now, who) && hold.work != Ballwork::Driving {
            chances.push(backdoor_chance(now, who, book));
        } else {
            book.backdoor[who] = 0;
        }
    }
    chances
}

fn backdoor_chance(now: &Now, who: usize, book: &mut Book) -> BackdoorNow {
    let scene = &now.old.scene;
    let number = who as u8 + 1;
    let open = backdoor::backdoor(&now.play.cast, scene, now.me, who);
    // Behind a defender who is up on him, and for longer than a blink.
    let tight = (0..5)
        .any(|d| scene.guards[d] == who && (scene.pos[5 + d] - scene.pos[who]).length() < TIGHT);
    let is_open = tight && open.value > THERE;
    let there = is_open && book.backdoor[who] > 0;
    let began = there && book.backdoor[who] == 1;
    book.backdoor[who] = if is_open { book.backdoor[who] + 1 } else { 0 };
    if began {
        let defender = scene.guarded_by(who).map_or(0, |d| d as u8 + 1);
        let who = number;
        book.write(now.clock, What::BackdoorThere { who, defender });
    }
    BackdoorNow {
        who: number,
        openness: open.value,
        there,
        closer: closer(now.old, now.clock, &open),
    }
}

/// Counts for how long the pass to each player one pass away has been shut, and for how long he has been denied
/// (a walk-through says who is).
pub(super) fn count_shut_passes(now: &Now, signals: &mut Signals, script: Option<&Script>) {
    let passive = now.play.scenario.drill.passive;
    let longer = |spell: u32, goes_on: bool| {
        if goes_on { spell + DECISION_EVERY } else { 0 }
    };
    for who in 0..5 {
        let one_away = one_away(now, who);
        let unsafe_pass = || now.pass_to(who).is_some_and(|l| l.openness < SAFE_PASS);
        let shut = one_away && !passive && unsafe_pass();
        signals.shut[who] = longer(signals.shut[who], shut);
        let denied = one_away
            && match script {
                Some(script) => script.denies(who),
                None => !passive && is_denied(now, who),
            };
        signals.denied[who] = longer(signals.denied[who], denied);
    }
}

/// Denied: his defender is close and the pass to him is shut by that defender.
fn is_denied(now: &Now, who: usize) -> bool {
    let scene = &now.old.scene;
    let Some(look) = now.pass_to(who) else {
        return false;
    };
    let Some(d) = scene.guarded_by(who) else {
        return false;
    };
    let gap = (scene.pos[5 + d] - scene.pos[who]).length();
    gap < DENIES.0
        && look.openness < DENIES.1
        && look
            .closer
            .is_some_and(|c| usize::from(c.defender) == d + 1)
}
