//! Whom a role means now.

use crate::court::Spot;
use crate::offence::{Movement, Role};

use super::super::parts::*;
use super::Involved;

/// The same movement with the team-mate whom it names told by number: who is meant is settled when
/// the rule fires, before anybody has moved.
pub(super) fn with_names(movement: &Movement, named: &dyn Fn(Role) -> Option<usize>) -> Movement {
    let number = |role: &Role| named(*role).map_or(*role, |i| Role::Player(i as u8 + 1));
    match movement {
        Movement::ScreenFor { whom, after } => Movement::ScreenFor {
            whom: number(whom),
            after: Box::new(with_names(after, named)),
        },
        Movement::UseScreen {
            of,
            to,
            ways,
            unfed,
        } => Movement::UseScreen {
            of: number(of),
            to: *to,
            ways: ways.clone(),
            unfed: Box::new(with_names(unfed, named)),
        },
        Movement::Cut { lane, to, unfed } => Movement::Cut {
            lane: *lane,
            to: *to,
            unfed: Box::new(with_names(unfed, named)),
        },
        Movement::DribbleAt(at) => Movement::DribbleAt(number(at)),
        Movement::PassNext(to) => Movement::PassNext(number(to)),
        Movement::HandOff(to) => Movement::HandOff(number(to)),
        Movement::DribbleHandOff(to) => Movement::DribbleHandOff(number(to)),
        // A place that nobody holds can be taken all the same.
        Movement::Replace(Role::At(place)) => Movement::Fill(*place),
        Movement::Replace(of) => Movement::Replace(number(of)),
        other => other.clone(),
    }
}

/// The player whom a role names now.
#[allow(clippy::too_many_arguments)]
pub fn find(
    role: Role,
    involved: &Involved,
    play: &Play,
    ball: &Ball,
    old: &Old,
    signals: &Signals,
    places: &[Option<Spot>; 5],
    holder: Option<usize>,
) -> Option<usize> {
    // (A driver from inside is no post any more.)
    let inside = |nth: usize| {
        (0..5)
            .filter(|&i| Some(i) != involved.driver)
            .filter(|&i| places[i].is_some_and(|s| !s.name.is_perimeter()))
            .nth(nth)
    };
    match role {
        Role::Passer => involved.passer.or(signals.last_passer),
        Role::Receiver => involved.receiver,
        // With a pass in the air: whoever is to have it.
        Role::Holder => holder.or(ball.keeper()),
        Role::Driver => involved.driver.or(signals.last_driver),
        Role::Cutter => involved.cutter,
        Role::Denied => involved.denied,
        Role::Screener => involved.screener,
        Role::LeftAlone => involved.left_alone,
        Role::Post => inside(0),
        Role::SecondPost => inside(1),
        Role::At(place) => (0..5).find(|&i| {
            Some(i) != involved.leaving && places[i].is_some_and(|s| place.takes_in(s, ball.side))
        }),
        Role::Next => (0..5)
            .filter(|&i| old.away[i] == Some(1) && Some(i) != involved.passer)
            .max_by(|&a, &b| {
                let weak = |i: usize| -old.scene.pos[i].x * ball.side.sign();
                weak(a).total_cmp(&weak(b))
            }),
        Role::Nearest(place) => {
            let at = play.cast.court.spot(place.spot(ball.side, None)?);
            play.cast
                .five()
                .filter(|&i| Some(i) != holder && Some(i) != involved.passer)
                .min_by(|&a, &b| {
                    (old.scene.pos[a] - at)
                        .length()
                        .total_cmp(&(old.scene.pos[b] - at).length())
                })
        }
        Role::Player(number) => {
            Some(usize::from(number).checked_sub(1)?).filter(|&i| i < 5 && play.cast.has(i))
        }
    }
}
