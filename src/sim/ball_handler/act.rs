//! The holder begins what he has chosen: a shot, a drive or a pass.

use crate::ball::PassKind;
use crate::offence::LookKind;
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
        Ballwork::Driving | Ballwork::PickedUp if hold.how != Finish::Cut => Finish::Drive,
        _ if f64::from(clock.tick - hold.since) * TICK > 1.0 && hold.how == Finish::SpotUp => {
            Finish::OffHold
        }
        _ => hold.how,
    };
    let wait = if old.scene.pos[now.me].length() < 2.2 {
        0.2
    } else {
        play.cast.model.shots.catch_to_release * 0.7
    };
    Pending::Shot {
        at: clock.tick + ticks(wait),
        finish,
    }
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
    // Stopped, and on again from there: the others have answered this drive.
    let again = hold.drove_from.replace(from) == Some(from);
    let driver = now.me;
    signals.last_driver = Some(driver);
    if !again {
        signals.now.push(Happening::Drive { from, driver });
    }
    let who = driver as u8 + 1;
    book.write(now.clock, What::Drives { who, from });
}

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
