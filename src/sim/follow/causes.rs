//! What ended an order beyond the player's own doings: a defender who shut a pass, or what a team-mate was told.

use std::collections::BTreeMap;

use crate::defence::Duty;
use crate::offence::{LookKind, Movement, Role};
use crate::possession::Moment;
use crate::possession::orders::{OrderEnd, OrderRecord};

use super::super::choose::safe_after;
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
    let looks = his.flat_map(|m| {
        let to_him = m.looks.iter().filter(|look| look.to == Some(*to));
        to_him.map(|look| (look, safe_after(m.held)))
    });
    let mut shut: BTreeMap<Duty, u32> = BTreeMap::new();
    for (look, safe) in looks {
        // (To the place: a cut of that one is another look.)
        let cut = matches!(look.kind, LookKind::GiveAndGo | LookKind::Backdoor);
        if !cut && look.openness >= safe {
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::court::{Side, Spot, SpotName};
    use crate::possession::{Ballwork, LookNow, Spacing};

    /// A moment in which player 1 has held the ball for so long and this look to player 2 is so open.
    fn moment(held: f64, kind: LookKind, openness: f64) -> Moment {
        let look = LookNow {
            kind,
            to: Some(2),
            openness,
            prize: 0.9,
            value: 0.9 * openness,
            pass: None,
            target: None,
            closer: None,
            allowed: true,
            open: true,
            spot_up: false,
        };
        Moment {
            time: held,
            holder: 1,
            at: Spot::new(SpotName::Wing, Side::Right),
            ballwork: Ballwork::Holding,
            held,
            looks: vec![look],
            backdoor: Vec::new(),
            choice: None,
            spacing: Spacing {
                nearest: 4.0,
                hull: 50.0,
                defence_hull: 20.0,
                one_guards_two: false,
                lane_free: true,
            },
            last_rule: None,
        }
    }

    #[test]
    fn a_promised_pass_was_safe_if_it_was_as_open_as_the_holder_asked_by_then() {
        let end = |held, kind, openness| {
            let does = Movement::PassNext(Role::Player(2));
            let mut open = Open::first((0, 0), 0.0, does, (None, None));
            let moments = [moment(held, kind, openness)];
            was_it_safe(&moments, 0, &mut open, OrderEnd::NotSafe)
        };
        assert_eq!(end(0.2, LookKind::NextPass, 0.95), OrderEnd::NotGiven);
        assert_eq!(end(2.0, LookKind::NextPass, 0.8), OrderEnd::NotGiven);
        assert_eq!(end(0.2, LookKind::NextPass, 0.8), OrderEnd::NotSafe);
        // On a cut it is another pass than the one to the place.
        assert_eq!(end(2.0, LookKind::Backdoor, 0.95), OrderEnd::NotSafe);
    }
}
