//! The player with the ball: what he could do, what of it he sees, and what he chooses.
//!
//! All looks are measured at every decision instant, whether or not the rules use them. The choice
//! is a judgement of value over the looks that he sees and that the rules allow; within his tie
//! margin the rules' order of reading decides; the clock lowers the bar.
//!
//! Without a rule: a holder with nobody safe to pass to dribbles for a better angle; a holder who waits
//! for a team-mate dribbles in place before the closely guarded count runs out; and a holder who caught
//! the ball beside their place dribbles out to it (all three in `angle.rs`).

use crate::court::{Side, Spot};
use crate::looks::{driving, spacing};
use crate::possession::light::it_stalls;
use crate::possession::{BackdoorNow, Ballwork, DECISION_EVERY, LookNow, Moment, TICK, What};

use super::choose::{Decision, choose};
use super::dice::Purpose;
use super::parts::*;
use super::script::Script;
use super::sight::{holder_spot, measure};

mod act;
mod angle;
mod chances;
mod tells;

pub(super) use angle::COUNTED;

/// Longer than this without an open look is a stall, seconds.
const STALLS: f64 = 0.8;

/// What there is for the holder at a decision instant.
struct Now<'a> {
    play: &'a Play,
    clock: &'a Clock,
    old: &'a Old,
    side: Side,
    /// The holder, 0–4, and the spot at which he is.
    me: usize,
    here: Spot,
    /// For how long he has held the ball, seconds.
    held: f64,
    looks: Vec<LookNow>,
    drive: driving::DriveLook,
}

impl Now<'_> {
    /// Is a team-mate cutting to the rim?
    fn someone_cuts(&self) -> bool {
        let cuts = |d: &Doing| matches!(d, Doing::Cutting { arrived: false, .. });
        self.old.doing.iter().any(cuts)
    }

    /// The look of a pass to a team-mate, 0–4.
    fn pass_to(&self, who: usize) -> Option<&LookNow> {
        self.looks.iter().find(|l| l.to == Some(who as u8 + 1))
    }
}

/// At every decision instant: measure, write down, choose.
pub fn holder_decides(floor: &mut Floor, script: Option<&mut Script>) {
    let Floor {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        ..
    } = floor;
    let side = ball.side;
    let Some(hold) = ball.hold_mut() else {
        book.stalled = None;
        return;
    };
    if !(clock.tick - hold.since).is_multiple_of(DECISION_EVERY) {
        return;
    }
    let now = what_there_is(play, clock, old, hold, side);
    book.see(clock, old, hold, side);
    let backdoor = chances::backdoor_chances(&now, hold, book);
    chances::count_shut_passes(&now, signals, script.as_deref());
    tells::tell(&now, hold, signals, script.as_deref());
    count_the_stall(&now, hold, book);
    if script.is_none() && clock.tick >= hold.ready {
        angle::dribble_for_an_angle(&now, hold, book);
    }
    // What he is doing as he decides, not what he does then.
    let work = hold.work;
    let choice = choice(&now, hold, book, script);
    if let Some(index) = choice {
        act::act(&now, hold, &now.looks[index], signals, book);
    }
    if book.keep_moments {
        let moment = moment(now, work, backdoor, choice, signals.last_rule);
        book.moments.push(moment);
    }
}

/// Measures all looks.
fn what_there_is<'a>(
    play: &'a Play,
    clock: &'a Clock,
    old: &'a Old,
    hold: &Hold,
    side: Side,
) -> Now<'a> {
    let mut looks = Vec::with_capacity(6);
    let drive = measure(play, clock, old, hold, side, &mut looks);
    Now {
        play,
        clock,
        old,
        side,
        me: hold.by,
        here: holder_spot(play, old, hold.by),
        held: f64::from(clock.tick - hold.since) * TICK,
        looks,
        drive,
    }
}

/// A spell in which it stalls is written down when it ends, if it was long.
fn count_the_stall(now: &Now, hold: &Hold, book: &mut Book) {
    let clock = now.clock;
    match (it_stalls(&now.looks, hold.work), book.stalled) {
        (true, None) => book.stalled = Some(clock.tick),
        (false, Some(since)) => {
            let seconds = f64::from(clock.tick - since) * TICK;
            if seconds >= STALLS {
                let who = now.me as u8 + 1;
                book.write(clock, What::Stall { who, seconds });
            }
            book.stalled = None;
        }
        _ => {}
    }
}

/// Share of the instants at which a pilot that learns what drives bring drives (ours: one in some six seconds).
const EXPLORES: f64 = 0.04;

/// The look that he takes: told by the script of a walk-through, or chosen once he is ready.
fn choice(
    now: &Now,
    hold: &mut Hold,
    book: &mut Book,
    script: Option<&mut Script>,
) -> Option<usize> {
    if let Some(script) = script {
        let pos = now.old.scene.pos[now.me];
        return script.choice(now.clock.tick, hold, &now.looks, pos);
    }
    // Who has gathered the ball for a lay-up may still pass it.
    let lays_up =
        hold.work == Ballwork::Driving && matches!(hold.pending, Some(Pending::Shot { .. }));
    if hold.pending.is_some() && !lays_up || now.clock.tick < hold.ready {
        return None;
    }
    let choice = choose(&Decision {
        play: now.play,
        clock: now.clock,
        old: now.old,
        hold,
        here: now.here,
        held: now.held,
        in_lane: f64::from(book.in_lane[now.me]) * TICK,
        looks: &now.looks,
        explores: book.witness.taken.is_some() && explores(now),
    });
    if let (Some(taken), Some(i)) = (&mut book.witness.taken, choice.takes) {
        let look = &now.looks[i];
        taken.push((look.kind, look.value / now.play.usual));
    }
    if let (Some(chances), Some(chance)) = (&mut book.witness.chances, choice.chance) {
        chances.push(chance);
    }
    if let (Some(shots), Some(passes_up)) = (&mut book.witness.open_shots, choice.passes_up) {
        shots.push(passes_up);
    }
    choice.takes
}

/// Does a pilot drive now?
fn explores(now: &Now) -> bool {
    let mut dice = now.play.dice.at(Purpose::Explores, now.me, now.clock.tick);
    dice.unit() < EXPLORES
}

/// What is kept of a decision instant.
fn moment(
    now: Now,
    work: Ballwork,
    backdoor: Vec<BackdoorNow>,
    choice: Option<usize>,
    last_rule: Option<usize>,
) -> Moment {
    Moment {
        time: now.clock.seconds(),
        holder: now.me as u8 + 1,
        at: now.here,
        ballwork: work,
        held: now.held,
        spacing: spacing::spacing(&now.play.cast, &now.old.scene, now.me),
        looks: now.looks,
        backdoor,
        choice,
        last_rule,
    }
}
