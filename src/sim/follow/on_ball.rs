//! Screens on the ball once they stand: what the holder makes of each, and whether it is too late to show after it. And
//! who is fed on the way to a place.

use crate::offence::Movement;
use crate::possession::What;
use crate::possession::orders::{OrderEnd, Way};

use super::super::job::{Job, Task};
use super::super::orders::{Open, Orders, Standing};
use super::super::parts::Attacker;

/// An order of `who` has ended: is it a screen on the ball that stands now?
pub(super) fn stands(orders: &mut Orders, (who, open): (usize, &Open), end: OrderEnd, job: &Job) {
    let screens = matches!(open.does, Movement::ScreenFor { .. }) && open.on_ball;
    if let Task::Screen { whom, .. } = job.task
        && screens
        && end == OrderEnd::Done
    {
        orders.set_for[who] = Some(whom);
        orders.standing.push(Standing {
            record: orders.ended.len() - 1,
            screener: who,
            holder: whom,
        });
    }
}

/// What the holders made of the screens that stand, by what was written down in this tick.
pub(super) fn made_of_it(orders: &mut Orders, written: &[What], attackers: &[Attacker; 5]) {
    for one in std::mem::take(&mut orders.standing) {
        let (holder, screener) = (one.holder as u8 + 1, one.screener as u8 + 1);
        let way = written.iter().find_map(|what| match *what {
            What::ComesOff { who, of, refuses } if (who, of) == (holder, screener) => {
                Some(if refuses { Way::Refused } else { Way::Driven })
            }
            What::Passes { from, .. } | What::HandsOff { from, .. } if from == holder => {
                Some(Way::Passed)
            }
            What::Shoots { who, .. } if who == holder => Some(Way::Shot),
            _ => None,
        });
        let task = &attackers[one.screener].job.task;
        let stands = matches!(*task, Task::Screen { set: Some(_), whom, .. } if whom == one.holder);
        match way {
            None if stands => orders.standing.push(one),
            way => orders.ended[one.record].way = Some(way.unwrap_or(Way::Stood)),
        }
    }
}

/// Is the order to show inside after a screen on the ball?
pub(super) fn shows_after_it(open: &Open) -> bool {
    let shows = matches!(open.does, Movement::Flash { .. } | Movement::Seal { .. });
    shows && open.step > 0 && open.on_ball
}

/// Is it known only now when it can be done: to show after a screen, or to throw a promised pass (one to somebody else may
/// have begun in the tick of the promise)?
pub(super) fn is_timed_now(open: &Open, now: f64) -> bool {
    let promised = matches!(open.does, Movement::PassNext(_)) && now <= open.told;
    promised || shows_after_it(open) && open.due.is_none()
}

/// Does another than the holder for whom `who` set the last screen on the ball have it, or is about to catch it?
pub(super) fn has_gone_on(orders: &Orders, who: usize, keeper: Option<usize>) -> bool {
    let for_whom = orders.set_for[who];
    keeper.is_some_and(|keeper| keeper != who && for_whom.is_some_and(|user| user != keeper))
}

/// The ball is on its way to who is to go to a place: do they come to it all the same, until the catch?
pub(super) fn comes_to_the_place(open: &Open, job: &Job) -> bool {
    open.does.is_to_a_place() && open.place == job.place
}
