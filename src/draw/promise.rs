//! What a rule says and its picture alone does not: the place by which it names a player who is elsewhere, and the pass
//! that it promises: who has the ball is told to whom the next pass goes. The card ends before it is thrown.

use crate::court::{Side, Spot};
use crate::offence::{Movement, Role};
use crate::possession::Frame;

use super::account::{Account, Deed};
use super::scene::{ArrowKind, Item};

impl Deed {
    /// The place by which the rule names the player, if the player is not there when the card begins.
    pub(super) fn misplaced(&self, rule: usize, side: Side) -> Option<Spot> {
        match self.sent.as_ref().filter(|s| s.rule == rule)?.who {
            Role::At(place) => place.spot(side, None).filter(|spot| *spot != self.from),
            _ => None,
        }
    }
}

impl Account {
    /// Draws it, from where its passer stands to where its receiver does.
    pub(super) fn promise(&mut self, rule: usize, first: &Frame) {
        let own = |d: &&Deed| d.sent.as_ref().is_some_and(|s| s.rule == rule);
        let promised = self.deeds.iter().filter(own).find_map(|d| {
            let to = match d.sent.as_ref()?.does {
                Movement::PassNext(Role::Player(n)) => n,
                Movement::PassNext(Role::At(place)) => {
                    let spot = place.spot(self.side, d.from.side)?;
                    self.deeds.iter().find(|mate| mate.from == spot)?.player
                }
                _ => return None,
            };
            (to != d.player && !self.passes.contains(&(d.player, to))).then_some((d.player, to))
        });
        let at = |n: u8| first.attackers.get(usize::from(n).checked_sub(1)?).copied();
        if let Some((from, to)) = promised
            && let (Some(a), Some(b)) = (at(from), at(to))
        {
            self.promised = promised;
            self.scene.add(Item::Arrow {
                kind: ArrowKind::Pass,
                path: vec![a, b],
                who: from,
            });
        }
    }
}
