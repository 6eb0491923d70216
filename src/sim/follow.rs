//! Follows each order of the account through a tick: has the player taken it up, carried it out, or given it up,
//! and why. Reads what the players do; changes nothing but the account.

use crate::court::{Side, Vec2};
use crate::offence::{CutLane, Movement, Role};
use crate::possession::orders::{OrderEnd, Way};
use crate::possession::{Kept, What};

use super::components::*;
use super::due::{self, IN_PLACE};
use super::job::{Job, Task};
use super::orders::Open;
use super::parts::{Attacker, Floor};
use super::steering;

mod causes;
mod on_ball;

use causes::{because_of_a_mate, was_it_safe};

/// A cut that ends farther than this from its goal, metres, gave way to a drive (ours; `cut.rs` ends none
/// farther away for another reason).
const CUT_SHORT: f64 = 3.3;
/// And one to a place that ends farther than this from it (ours: held up near it counts, `cut.rs`).
const SHORT_OF_IT: f64 = 2.0;

/// What is known of one player at the end of a tick.
struct Now<'a> {
    job: &'a Job,
    form: &'a Form,
    /// The player's place as points: the spot itself, and where this player stands there, metres.
    places: Option<[Vec2; 2]>,
    side: Side,
    /// Seconds, and ticks.
    now: f64,
    tick: u32,
    in_lane: bool,
    /// Is he held up on his way by a team-mate's drive?
    waits_behind: bool,
    /// Is the ball driven, or has it been given to nobody: is it loose?
    driven: bool,
    loose: bool,
    /// Does a team-mate have the ball, or is about to, for whom the player did not set the screen on it?
    gone_on: bool,
    /// With the ball: is he about a hand-off, and has he promised a pass?
    hands: bool,
    promised: bool,
    /// What was written down of the player in this tick.
    written: &'a [What],
}

/// Looks at every order under way at the end of a tick.
pub fn follow_orders(floor: &mut Floor, attackers: &[Attacker; 5]) {
    let Some(mut orders) = floor.book.witness.orders.take() else {
        return;
    };
    let entries = floor.book.timeline.get(orders.seen..).unwrap_or_default();
    let written: Vec<What> = entries.iter().map(|entry| entry.what).collect();
    orders.seen = floor.book.timeline.len();
    let now = floor.clock.seconds();
    for (who, Attacker { form, job, .. }) in attackers.iter().enumerate() {
        let court = &floor.play.cast.court;
        debug_assert_eq!(orders.steps(who), job.steps.len());
        let about: Vec<What> = written
            .iter()
            .copied()
            .filter(|w| is_about(w, who))
            .collect();
        let hold = floor.ball.hold().filter(|hold| hold.by == who);
        let seen = Now {
            job,
            form,
            places: job.place.map(|spot| {
                let home = floor.old.homes[who];
                let own = home.at;
                let spot_at = court.spot(spot);
                [
                    spot_at,
                    if home.spot == Some(spot) {
                        own
                    } else {
                        spot_at
                    },
                ]
            }),
            side: floor.ball.side,
            now,
            tick: floor.clock.tick,
            in_lane: floor.book.in_lane[who] > 0 || floor.book.came_in[who] > 0,
            waits_behind: waits_behind_a_drive(floor, job, form, who),
            driven: floor.ball.hold().is_some_and(|hold| hold.drive.is_some()),
            loose: matches!(floor.ball.state, BallState::Loose { .. }),
            gone_on: on_ball::has_gone_on(&orders, who, floor.ball.keeper()),
            hands: hold.is_some_and(|hold| hold.hands.is_some()),
            // The end of the possession ends a promise of its own.
            promised: hold.is_some_and(|hold| hold.promised.is_some() && hold.drive.is_none())
                || floor.book.ending.is_some(),
            written: &about,
        };
        let takes =
            |does: &Movement| due::takes(&floor.play, &floor.ball, &floor.old, job, who, does);
        for mut open in std::mem::take(&mut orders.open[who]) {
            match end_or_called_off(&mut open, &seen, &takes) {
                Some(end) => {
                    let end = was_it_safe(&floor.book.moments, who, &mut open, end);
                    let (end, by) = match open.called_off {
                        Some((_, by)) if !end.is_done() => (end, Some(by)),
                        _ => because_of_a_mate(&orders, attackers, (who, &open), end),
                    };
                    orders.end(who, &open, now, end, by);
                    on_ball::stands(&mut orders, (who, &open), end, job);
                }
                None => orders.open[who].push(open),
            }
        }
    }
    on_ball::made_of_it(&mut orders, &written, attackers);
    floor.book.witness.orders = Some(orders);
}

/// Does the player stop on the way to his place outside because a team-mate drives there?
fn waits_behind_a_drive(floor: &Floor, job: &Job, form: &Form, who: usize) -> bool {
    let Some(driver) = driver(&floor.ball).filter(|&driver| driver != who) else {
        return false;
    };
    let outside = job.place.filter(|spot| spot.name.is_perimeter());
    outside.is_some_and(|spot| {
        let (pos, to) = (form.0.pos, floor.play.cast.court.spot(spot));
        steering::clear_of_the_drive(floor.old.scene.pos[driver], pos, to) != to
    })
}

/// Is this about that player, and of those that tell how an order ends?
fn is_about(what: &What, player: usize) -> bool {
    let number = player as u8 + 1;
    match *what {
        What::NoFlash { who, .. }
        | What::LetsBe { who }
        | What::NoScreen { who, .. }
        | What::Slips { who, .. }
        | What::DribblesAt { who, .. }
        | What::Drives { who, .. }
        | What::Shoots { who, .. }
        | What::Fades { who, .. }
        | What::KeepsIt { who, .. }
        | What::Passes { from: who, .. }
        | What::HandsOff { from: who, .. } => who == number,
        _ => false,
    }
}

/// The end of an order, if it has come. One that another rule has called off counts if it is carried out before the player
/// starts on the new one.
fn end_or_called_off(
    open: &mut Open,
    now: &Now,
    takes: &dyn Fn(&Movement) -> Option<f64>,
) -> Option<OrderEnd> {
    let came = end(open, now, takes);
    let Some((why, _)) = open.called_off else {
        return came;
    };
    let goes_on = came.is_none() && is_at_it(open, now);
    (!goes_on).then(|| came.filter(|end| end.is_done()).unwrap_or(why))
}

/// The end of an order, if it has come.
fn end(open: &mut Open, now: &Now, takes: &dyn Fn(&Movement) -> Option<f64>) -> Option<OrderEnd> {
    let waits = waits_for_it(open, now.job);
    // What is finished first takes its own time, and so does the wait for a way that a team-mate's plan leaves free.
    let may_go = now.tick >= now.job.starts || now.job.waited > 0;
    let finishes = waits && (now.job.next.is_none() || may_go);
    // Who is to come behind a drive waits on the way until the driver has gone on.
    if finishes || open.does.is_to_a_place() && now.waits_behind {
        open.due = Some(now.now + takes(&open.does).unwrap_or(0.0));
    }
    let at_it = !waits && is_at_it(open, now);
    open.way = open.way.or_else(|| way_off(open, now));
    if on_ball::is_timed_now(open, now.now) {
        open.due = Some(now.now + takes(&open.does).unwrap_or(0.0));
    }
    if let Some(end) = carried_out(open, now).or_else(|| told_why(open, now)) {
        return Some(end);
    }
    if on_ball::shows_after_it(open) && now.gone_on {
        return Some(if open.is_early(now.now) {
            OrderEnd::BallWentOnEarly
        } else {
            OrderEnd::BallWentOn
        });
    }
    match now.job.task {
        // With the ball, at what he is to do with it, or about to begin.
        Task::Handle if open.does.is_with_the_ball() && (waits || at_it) => return None,
        Task::Meet { .. } if open.does.is_with_the_ball() && waits => return None,
        Task::Handle if open.does.is_with_the_ball() => {}
        Task::Meet { .. } if on_ball::comes_to_the_place(open, now.job) => return None,
        Task::Meet { .. } | Task::Handle | Task::Take { .. } => {
            let fed = open.begun && ends_with_the_ball(&open.does);
            return Some(if fed {
                OrderEnd::Done
            } else {
                OrderEnd::BallCame
            });
        }
        Task::Chase => return Some(OrderEnd::LooseBall),
        _ => {}
    }
    if is_another_of_the_list(open, now) {
        open.place = now.job.place;
    }
    // Whose place a catcher has taken is given another in the next tick: of the list, or not.
    let looks_on = matches!(open.does, Movement::FillFirst(_)) && open.place.is_some();
    if looks_on && now.job.place.is_none() {
        return None;
    }
    if open.does.is_to_a_place() && (open.place.is_none() || now.job.place != open.place) {
        let held_one = open.place.is_some();
        return Some(if held_one {
            OrderEnd::PlaceTaken
        } else {
            OrderEnd::NobodyThere
        });
    }
    if waits || at_it {
        return None;
    }
    let drives = |what: &What| matches!(what, What::Drives { .. });
    let passes = |what: &What| matches!(what, What::Passes { .. });
    let shoots = |what: &What| matches!(what, What::Shoots { .. });
    Some(match open.does {
        Movement::PassNext(_) if now.written.iter().any(shoots) => OrderEnd::PossessionOver,
        Movement::PassNext(_) if now.written.iter().any(drives) => OrderEnd::DroveFirst,
        Movement::PassNext(_) if now.written.iter().any(passes) && open.is_early(now.now) => {
            OrderEnd::BallWentOnEarly
        }
        Movement::PassNext(_) if now.written.iter().any(passes) => OrderEnd::NotSafe,
        Movement::DribbleAt(_) => OrderEnd::CannotDribble,
        Movement::HandOff(_) | Movement::DribbleHandOff(_) if !open.begun => {
            OrderEnd::CannotDribble
        }
        _ if open.does.is_with_the_ball() && open.is_early(now.now) => OrderEnd::BallWentOnEarly,
        _ if open.does.is_with_the_ball() => OrderEnd::BallWentOn,
        Movement::ScreenFor { .. } if now.job.order.user_gone => OrderEnd::UserGone,
        _ if open.until.is_some_and(|until| now.tick >= until) => OrderEnd::OutOfTime,
        Movement::ScreenFor { .. } if open.on_ball => never_arrives(open, now),
        Movement::DropOff if open.begun && !now.job.order.left_lane => OrderEnd::NotNeeded,
        _ if now.job.order.left_lane || open.begun && now.in_lane => OrderEnd::LeftTheLane,
        Movement::DropOff => OrderEnd::DriveOver,
        // (Who waits for another screen is at it as the order comes.)
        Movement::UseScreen { .. } => OrderEnd::NobodyThere,
        Movement::ScreenFor { .. } if !open.begun => OrderEnd::NobodyThere,
        _ if now.job.next.is_some() => OrderEnd::PlaceTaken,
        _ => OrderEnd::GivenUp,
    })
}

/// The holder did not wait for the screen on the ball: why it never came.
fn never_arrives(open: &Open, now: &Now) -> OrderEnd {
    match (now.loose, now.driven, open.is_early(now.now)) {
        (true, ..) => OrderEnd::BallWentLoose,
        (_, true, true) => OrderEnd::HolderDroveEarly,
        (_, true, false) => OrderEnd::HolderDrove,
        (_, false, true) => OrderEnd::HolderPassedEarly,
        (_, false, false) => OrderEnd::HolderPassed,
    }
}

/// Is the player, sent to the first free of several places, on the way to another of them instead?
fn is_another_of_the_list(open: &Open, now: &Now) -> bool {
    let Movement::FillFirst(places) = &open.does else {
        return false;
    };
    let own = now.job.own;
    let mut spots = places.iter().filter_map(|place| place.spot(now.side, own));
    open.place.is_some() && spots.any(|spot| now.job.place == Some(spot))
}

/// Movements that end well when the player is fed.
fn ends_with_the_ball(does: &Movement) -> bool {
    matches!(
        does,
        Movement::Cut { .. } | Movement::Flash { .. } | Movement::Seal { .. } | Movement::DropOff
    )
}

/// Is it still to be taken up: next, or after the cut under way?
fn waits_for_it(open: &Open, job: &Job) -> bool {
    let later = match &job.task {
        Task::Cut { unfed, .. } | Task::UseScreen { unfed, .. } | Task::ComeOff { unfed, .. } => {
            is_the_same(unfed, &open.does)
        }
        Task::Screen {
            set: Some(_),
            after,
            ..
        } => is_the_same(after, &open.does),
        _ => false,
    };
    let next = job.next.as_ref();
    !open.begun && (next.is_some_and(|next| is_the_same(next, &open.does)) || later)
}

/// The same movement, wherever it ends? (Whose place has been taken ends elsewhere.)
fn is_the_same(one: &Movement, other: &Movement) -> bool {
    let ends = |m: &Movement| {
        let mut m = m.clone();
        *m.last_mut() = Movement::Hold;
        m
    };
    one == other || ends(one) == ends(other) && ends(one) != Movement::Hold
}

/// Has it been carried out?
fn carried_out(open: &Open, now: &Now) -> Option<OrderEnd> {
    let near = |at: Vec2| (at - now.form.0.pos).length() < IN_PLACE;
    let there = || {
        now.places
            .is_some_and(|places| places.into_iter().any(near))
    };
    let done = match (&open.does, &now.job.task) {
        (Movement::Hold, _) => !waits_for_it(open, now.job),
        (does, task) if does.is_to_a_place() => {
            let cuts = matches!(task, Task::Cut { .. });
            !cuts && there() && now.job.place == open.place
        }
        (
            Movement::Cut { .. },
            Task::Cut {
                goal,
                to,
                reached: Some(_),
                ..
            },
        ) if open.begun => {
            let short = to.map_or(CUT_SHORT, |_| SHORT_OF_IT);
            if (*goal - now.form.0.pos).length() > short {
                return Some(cut_short(now));
            }
            true
        }
        // (While he still stands as another screen he has not begun.)
        (Movement::ScreenFor { .. }, Task::Screen { set, .. }) => open.begun && set.is_some(),
        // The cut ended before the player had come by the screener.
        (
            Movement::UseScreen { .. },
            Task::Cut {
                off_a_screen: true,
                via: Some(_),
                reached: Some(_),
                ..
            },
        ) if open.way.is_none() => return Some(cut_short(now)),
        (Movement::UseScreen { .. }, _) => open.way.is_some(),
        (
            Movement::Flash { to: place, .. } | Movement::Seal { at: place, .. },
            Task::Flash {
                at,
                arrived: Some(_),
                ..
            },
        ) => open.shows.or(place.spot(now.side, now.job.own)) == Some(*at),
        (Movement::DropOff, Task::AwaitHelp { gone, .. }) => *gone,
        (Movement::DribbleAt(_), _) => {
            let dribbles = |what: &What| matches!(what, What::DribblesAt { .. });
            now.written.iter().any(dribbles)
        }
        (Movement::PassNext(Role::Player(n)), _) => {
            let passes = |what: &What| matches!(what, What::Passes { to, .. } if to == n);
            now.written.iter().any(passes)
        }
        (Movement::HandOff(_) | Movement::DribbleHandOff(_), _) => {
            let hands = |what: &What| matches!(what, What::HandsOff { .. });
            now.written.iter().any(hands)
        }
        _ => false,
    };
    done.then_some(OrderEnd::Done)
}

/// Why a cut ended before its goal.
fn cut_short(now: &Now) -> OrderEnd {
    if now.job.order.left_lane {
        OrderEnd::LeftTheLane
    } else {
        OrderEnd::GaveWay
    }
}

/// How the player has come off the screen, once that is told.
fn way_off(open: &Open, now: &Now) -> Option<Way> {
    let Movement::UseScreen { to, .. } = &open.does else {
        return None;
    };
    let fades = |what: &What| matches!(what, What::Fades { .. });
    match &now.job.task {
        Task::Cut {
            off_a_screen: true,
            lane,
            via,
            ..
        } if open.begun => match (lane, to, via) {
            (CutLane::Behind, ..) => Some(Way::BackCut),
            // Not by the screener yet.
            (CutLane::BallSide, _, Some(_)) => None,
            (CutLane::BallSide, Some(_), None) => Some(Way::Curl),
            (CutLane::BallSide, None, None) if open.off => Some(Way::Rim),
            (CutLane::BallSide, None, None) => Some(Way::Wide),
        },
        _ if !open.off => None,
        Task::ComeOff { .. } | Task::Chase => None,
        Task::Meet { .. } | Task::Handle | Task::Take { .. } => Some(Way::Fed),
        _ if now.written.iter().any(fades) => Some(Way::Fade),
        _ => Some(Way::Place),
    }
}

/// What was written down of the player says why.
fn told_why(open: &Open, now: &Now) -> Option<OrderEnd> {
    now.written.iter().find_map(|what| match what {
        What::NoFlash { taken: true, .. } => Some(OrderEnd::MateThere),
        What::NoFlash { .. } => Some(OrderEnd::LeftTheLane),
        What::LetsBe { .. } if open.is_early(now.now) => Some(OrderEnd::BallWentOnEarly),
        What::LetsBe { .. } => Some(OrderEnd::BallWentOn),
        What::NoScreen { .. } if matches!(open.does, Movement::UseScreen { .. }) => {
            Some(OrderEnd::NoScreen)
        }
        What::Slips { .. } if matches!(open.does, Movement::ScreenFor { .. }) => {
            Some(OrderEnd::Slipped)
        }
        What::KeepsIt { why, .. } if open.does.hands_to().is_some() => Some(match why {
            Kept::Overplayed => OrderEnd::KeptIt,
            Kept::Busy => OrderEnd::MateBusy,
            Kept::Late => OrderEnd::OutOfTime,
        }),
        _ => None,
    })
}

/// Is the player at it? From the first time on, it is begun.
fn is_at_it(open: &mut Open, now: &Now) -> bool {
    let at_it = match (&open.does, &now.job.task) {
        // On the way, or on some other errand first: the place stays claimed.
        (does, _) if does.is_to_a_place() => true,
        (Movement::Cut { .. }, Task::Cut { .. })
        | (Movement::UseScreen { .. }, Task::UseScreen { .. })
        | (Movement::DropOff, Task::AwaitHelp { .. }) => true,
        (
            Movement::UseScreen { .. },
            Task::ComeOff { .. }
            | Task::Cut {
                off_a_screen: true,
                via: Some(_),
                ..
            },
        ) => {
            open.off = open.begun;
            true
        }
        // (The ball may have changed sides since he took it up.)
        (Movement::Flash { .. } | Movement::Seal { .. }, Task::Flash { at, .. }) => {
            open.shows = open.shows.or(Some(*at));
            true
        }
        (Movement::HandOff(_) | Movement::DribbleHandOff(_), _) => now.hands,
        (Movement::PassNext(_), _) => now.promised,
        (Movement::ScreenFor { .. }, Task::Screen { until, on_ball, .. })
            if screens_for(&open.does, now.job) =>
        {
            open.until = Some(*until);
            open.on_ball = *on_ball;
            true
        }
        _ => false,
    };
    open.begun |= at_it;
    at_it
}

/// Is the screen that the player is about the one of this order? (Of one that named nobody when the order came, only
/// that nothing else is next tells: it was found as the player took it up.)
fn screens_for(does: &Movement, job: &Job) -> bool {
    match (does, &job.task) {
        (Movement::ScreenFor { whom, .. }, Task::Screen { whom: mate, .. }) => match whom {
            Role::Player(n) => usize::from(*n) == mate + 1,
            _ => job.next.as_ref().is_none_or(|next| *next == Movement::Hold),
        },
        _ => false,
    }
}

/// Does the player who is doing this finish it before such a new order?
pub fn finishes_first(task: &Task, new: &Movement) -> bool {
    match task {
        Task::Cut { reached: None, .. } => *new != Movement::Hold,
        Task::Flash { .. } => matches!(new, Movement::Flash { .. } | Movement::Seal { .. }),
        Task::AwaitHelp { .. } | Task::Screen { set: Some(_), .. } => true,
        _ => false,
    }
}
