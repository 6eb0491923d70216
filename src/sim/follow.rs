//! Follows each order of the account through a tick: has the player taken it up, carried it out, or given it up,
//! and why. Reads what the players do; changes nothing but the account.

use std::collections::BTreeMap;

use crate::court::{Side, Vec2};
use crate::defence::Duty;
use crate::offence::{CutLane, Movement, Role};
use crate::possession::orders::{OrderEnd, OrderRecord, Way};
use crate::possession::{Kept, Moment, What};

use super::choose::PRESSED_PASS;
use super::components::*;
use super::due::{self, IN_PLACE};
use super::job::{Job, Task};
use super::orders::{Open, Orders};
use super::parts::{Attacker, Floor};
use super::steering;

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
            hands: hold.is_some_and(|hold| hold.hands.is_some()),
            // The end of the possession ends a promise of its own.
            promised: hold.is_some_and(|hold| hold.promised.is_some() && hold.drive.is_none())
                || floor.book.ending.is_some(),
            written: &about,
        };
        let takes =
            |does: &Movement| due::takes(&floor.play, &floor.ball, &floor.old, job, who, does);
        for mut open in std::mem::take(&mut orders.open[who]) {
            match end(&mut open, &seen, &takes) {
                Some(end) => {
                    let end = was_it_safe(&floor.book.moments, who, &mut open, end);
                    let (end, by) = because_of_a_mate(&orders, attackers, (who, &open), end);
                    orders.end(who, &open, now, end, by);
                }
                None => orders.open[who].push(open),
            }
        }
    }
    floor.book.witness.orders = Some(orders);
}

/// Was a promised pass that was not thrown safe at some moment? If not, what the defender did who shut it is noted.
fn was_it_safe(moments: &[Moment], who: usize, open: &mut Open, end: OrderEnd) -> OrderEnd {
    let (OrderEnd::NotSafe, Movement::PassNext(Role::Player(to))) = (end, &open.does) else {
        return end;
    };
    let since = moments.iter().rev().take_while(|m| m.time >= open.told);
    let his = since.filter(|m| usize::from(m.holder) == who + 1);
    let looks = his.flat_map(|m| m.looks.iter().filter(|look| look.to == Some(*to)));
    let mut shut: BTreeMap<Duty, u32> = BTreeMap::new();
    for look in looks {
        if look.openness >= PRESSED_PASS {
            return OrderEnd::NotGiven;
        }
        if let Some(closer) = look.closer {
            *shut.entry(closer.duty).or_default() += 1;
        }
    }
    open.shut = shut
        .into_iter()
        .max_by_key(|(_, n)| *n)
        .map(|(duty, _)| duty);
    end
}

/// What a team-mate's orders tell of this end of player `who`'s order: whether the screener was sent elsewhere before he
/// could come, and the rule that sent the one who has the place, or the holder before a screen.
fn because_of_a_mate(
    orders: &Orders,
    attackers: &[Attacker; 5],
    (who, open): (usize, &Open),
    end: OrderEnd,
) -> (OrderEnd, Option<usize>) {
    let with_it = |record: &OrderRecord| record.rule == open.rule && record.told == open.told;
    match (end, &open.does) {
        (OrderEnd::NoScreen, Movement::UseScreen { of, .. }) => {
            let of_him = |r: &&OrderRecord| with_it(r) && r.who.map(Role::Player) == Some(*of);
            let screen = orders.ended.iter().find(of_him);
            let gone = screen.is_some_and(|r| !r.end.is_done() && !r.end.had_time());
            let end = if gone { OrderEnd::ScreenerGone } else { end };
            (end, None)
        }
        // Why the user waits no more, the user's own order says.
        (OrderEnd::UserGone, Movement::ScreenFor { whom, .. }) => {
            let his = |r: &&OrderRecord| with_it(r) && r.who.map(Role::Player) == Some(*whom);
            let user = orders.ended.iter().rev().find(his);
            let end = match user.map(|r| r.end) {
                Some(OrderEnd::LeftTheLane) => OrderEnd::UserLeftTheLane,
                Some(OrderEnd::BallCame | OrderEnd::LooseBall) => OrderEnd::UserGotTheBall,
                // The user has waited as long as anybody does.
                Some(OrderEnd::NoScreen) => OrderEnd::OutOfTime,
                _ => end,
            };
            (end, user.and_then(|r| r.by))
        }
        // The holder has gone on by an order of his own.
        (OrderEnd::BallWentOn | OrderEnd::BallWentOnEarly, Movement::ScreenFor { whom, .. }) => {
            let Role::Player(n) = whom else {
                return (end, None);
            };
            let holder = orders.open.get(usize::from(*n).wrapping_sub(1));
            let with_it = |order: &&Open| order.does.is_with_the_ball();
            let order = holder.and_then(|open| open.iter().find(with_it));
            (end, order.map(|order| order.rule))
        }
        (OrderEnd::PlaceTaken, _) if open.place.is_some() => {
            let has_it = |&i: &usize| i != who && attackers[i].job.place == open.place;
            let order = (0..5).find(has_it).and_then(|i| orders.open[i].last());
            (end, order.map(|order| order.rule))
        }
        _ => (end, None),
    }
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
    if let Some(end) = carried_out(open, now).or_else(|| told_why(open, now)) {
        return Some(end);
    }
    match now.job.task {
        // With the ball, at what he is to do with it, or about to begin.
        Task::Handle if open.does.is_with_the_ball() && (waits || at_it) => return None,
        Task::Meet { .. } if open.does.is_with_the_ball() && waits => return None,
        Task::Handle if open.does.is_with_the_ball() => {}
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
        Movement::ScreenFor { .. } if open.on_ball && open.is_early(now.now) => {
            OrderEnd::BallWentOnEarly
        }
        Movement::ScreenFor { .. } if open.on_ball => OrderEnd::BallWentOn,
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
                return Some(if now.job.order.left_lane {
                    OrderEnd::LeftTheLane
                } else {
                    OrderEnd::GaveWay
                });
            }
            true
        }
        // (While he still stands as another screen he has not begun.)
        (Movement::ScreenFor { .. }, Task::Screen { set, .. }) => open.begun && set.is_some(),
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
        } if open.begun => Some(match (lane, to, via) {
            (CutLane::Behind, ..) => Way::BackCut,
            (CutLane::BallSide, Some(_), _) => Way::Curl,
            (CutLane::BallSide, None, Some(_)) => Way::Rim,
            (CutLane::BallSide, None, None) => Way::Wide,
        }),
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
        (Movement::UseScreen { .. }, Task::ComeOff { .. }) => {
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
