//! What ended an order beyond the player's own doings: a defender who shut a pass, or what a team-mate was told.

use std::collections::BTreeMap;

use crate::defence::Duty;
use crate::offence::{Movement, Role};
use crate::possession::Moment;
use crate::possession::orders::{OrderEnd, OrderRecord};

use super::super::choose::PRESSED_PASS;
use super::super::orders::{Open, Orders};
use super::super::parts::Attacker;

/// Was a promised pass that was not thrown safe at some moment? If not, what the defender did who shut it is noted.
pub(super) fn was_it_safe(
    moments: &[Moment],
    who: usize,
    open: &mut Open,
    end: OrderEnd,
) -> OrderEnd {
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
pub(super) fn because_of_a_mate(
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
            match screen.map(|r| (r.by, r.end)) {
                Some((by @ Some(_), _)) => (OrderEnd::ScreenerGone, by),
                Some((None, OrderEnd::BallCame | OrderEnd::LooseBall)) => {
                    (OrderEnd::ScreenerGotTheBall, None)
                }
                _ => (end, None),
            }
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
        (
            OrderEnd::HolderPassed
            | OrderEnd::HolderPassedEarly
            | OrderEnd::HolderDrove
            | OrderEnd::HolderDroveEarly,
            Movement::ScreenFor { whom, .. },
        ) => {
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
