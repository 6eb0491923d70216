//! The holder begins what he has chosen: a shot, a drive or a pass.

use crate::ball::PassKind;
use crate::court::Vec2;
use crate::offence::{LookKind, Toward};
use crate::possession::{Ballwork, Finish, LookNow, TICK, What};

use super::super::ball_screen;
use super::super::parts::*;
use super::Now;

/// Begins the look that he takes. A drive, a pass or a shot starts at once: no `denied` or `ball_on` rule is
/// answered at this instant.
pub(super) fn act(
    now: &Now,
    hold: &mut Hold,
    look: &LookNow,
    signals: &mut Signals,
    book: &mut Book,
) {
    let waits = |h: &Happening| matches!(h, Happening::Denied { .. } | Happening::BallOn { .. });
    signals.now.retain(|h| !waits(h));
    match (look.kind, look.to) {
        (LookKind::Shot, _) => hold.pending = Some(shot(now, hold)),
        (LookKind::Drive, _) => drive(now, hold, signals, book),
        (_, Some(to)) => hold.pending = Some(pass(now, look, usize::from(to) - 1)),
        _ => {}
    }
}

/// A shot after a moment, told apart by how he came to it.
fn shot(now: &Now, hold: &Hold) -> Pending {
    let &Now {
        play, clock, old, ..
    } = now;
    let finish = match hold.work {
        Ballwork::Driving if hold.how != Finish::Cut => Finish::Drive,
        Ballwork::PickedUp if hold.how != Finish::Cut && hold.drove_from.is_some() => Finish::Drive,
        _ if hold.how == Finish::SpotUp && !is_off_the_catch(clock, hold) => Finish::OffHold,
        _ => hold.how,
    };
    let wait = if old.scene.pos[now.me].length() < 2.2 {
        0.2
    } else {
        play.cast.model.shots.catch_to_release * 0.7
    };
    Pending::Shot {
        since: clock.tick,
        at: clock.tick + ticks(wait),
        finish,
    }
}

/// Is it still a catch and shot: nothing dribbled, and no more than a second of looking?
fn is_off_the_catch(clock: &Clock, hold: &Hold) -> bool {
    let looked = f64::from(clock.tick - hold.since) * TICK;
    looked <= 1.0 && hold.work == Ballwork::Holding
}

/// A drive from here, at once.
fn drive(now: &Now, hold: &mut Hold, signals: &mut Signals, book: &mut Book) {
    let (from, drive) = (now.here, &now.drive);
    let mut via = ((drive.via - drive.finish).length() > 0.1).then_some(drive.via);
    let mut finish = drive.finish;
    // Off a screen: by the screener, and from there to the rim.
    if let Some((off, by)) = ball_screen::way_off(now.old, now.me, now.clock.tick) {
        via = Some(by);
        finish = by * (finish.length() / by.length().max(1e-6));
        hold.screened = Some(off);
        let (who, of) = (now.me as u8 + 1, off.by as u8 + 1);
        let refuses = off.refuses;
        book.write(now.clock, What::ComesOff { who, of, refuses });
        if !refuses {
            signals.now.push(Happening::ScreenUsed {
                at: from,
                user: now.me,
                screener: off.by,
            });
        }
    }
    hold.work = Ballwork::Driving;
    hold.handed = None;
    hold.drive = Some(Drive {
        from,
        via,
        finish,
        began: now.clock.tick,
        stuck: 0,
    });
    // Stopped, and on again from there, or at once from where that was: the others have answered this drive.
    let stopped = hold.stopped.take();
    let at_once = stopped.is_some_and(|tick| now.clock.tick < tick + ticks(GOES_ON));
    let origin = hold.drove_from.filter(|_| at_once).unwrap_or(from);
    let again = hold.drove_from.replace(origin) == Some(origin);
    let driver = now.me;
    signals.last_driver = Some(driver);
    if !again {
        let toward = toward(now, via.unwrap_or(finish));
        signals.now.push(Happening::Drive {
            from,
            driver,
            toward,
        });
    }
    let who = driver as u8 + 1;
    book.write(now.clock, What::Drives { who, from });
}

/// Which way a drive that makes for `first` goes by the driver's defender: by the way itself or, where that is straight,
/// by the side on which the defender is not.
fn toward(now: &Now, first: Vec2) -> Option<Toward> {
    now.here.side?;
    let scene = &now.old.scene;
    let pos = scene.pos[now.me];
    let to_rim = -pos / pos.length().max(1e-6);
    let across = Vec2::new(-to_rim.y, to_rim.x);
    let middle = (MIDDLE - pos).dot(across);
    let bends = (first - pos).dot(across);
    let hand = if bends.abs() > STRAIGHT {
        bends
    } else {
        let guard = scene.guarded_by(now.me)?;
        -(scene.pos[5 + guard] - pos).dot(across)
    };
    Some(if hand * middle > 0.0 {
        Toward::Middle
    } else {
        Toward::Baseline
    })
}

/// Who is stopped and drives on no later than this is still on the same drive, seconds (ours: about two decisions).
const GOES_ON: f64 = 0.5;

/// The middle of the floor for a driver, metres: the free-throw line's.
const MIDDLE: Vec2 = Vec2::new(0.0, 4.2);
/// A way to the rim that bends by less than this is straight, metres (ours).
const STRAIGHT: f64 = 0.15;

/// A pass as soon as the ball is out of his hands.
fn pass(now: &Now, look: &LookNow, to: usize) -> Pending {
    let release = now.play.cast.players[now.me].hands.release;
    Pending::Pass {
        to,
        kind: look.pass.unwrap_or(PassKind::Chest),
        look: look.kind,
        openness: look.openness,
        on_the_run: matches!(now.old.doing[to], Doing::Cutting { arrived: false, .. }),
        at: now.clock.tick + ticks(release).max(1),
    }
}
