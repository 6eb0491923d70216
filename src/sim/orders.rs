//! The account of orders: each order of a rule from the moment it is given to its end, with the reason. It is
//! kept only when asked for and changes nothing in the play.

use crate::court::Spot;
use crate::offence::Movement;
use crate::possession::orders::{OrderEnd, OrderRecord};

/// An order under way.
#[derive(Clone)]
pub struct Open {
    pub rule: usize,
    pub line: usize,
    pub told: f64,
    pub does: Movement,
    /// The place claimed with it.
    pub place: Option<Spot>,
    /// Has the player taken it up?
    pub begun: bool,
    /// Tick until which it is tried, where there is such a limit.
    pub until: Option<u32>,
}

/// Orders under way, by player, and those that have ended.
#[derive(Clone, Default)]
pub struct Orders {
    pub open: [Vec<Open>; 5],
    pub ended: Vec<OrderRecord>,
    /// Entries of the timeline that have been seen.
    pub seen: usize,
}

impl Orders {
    /// A line of a rule that names nobody, or a player who cannot do it now.
    pub fn not_given(
        &mut self,
        (rule, line): (usize, usize),
        who: Option<usize>,
        now: f64,
        end: OrderEnd,
    ) {
        self.ended.push(OrderRecord {
            rule,
            line,
            who: who.map(|who| who as u8 + 1),
            told: now,
            ended: now,
            end,
            by: None,
        });
    }

    /// A player is given an order. Those before it end, but for those that the player `finishes` first.
    pub fn give(&mut self, who: usize, new: Open, finishes: bool) {
        let (now, rule) = (new.told, new.rule);
        for old in std::mem::take(&mut self.open[who]) {
            if finishes && old.begun {
                self.open[who].push(old);
            } else {
                self.end(who, &old, now, OrderEnd::AnotherOrder, Some(rule));
            }
        }
        self.open[who].push(new);
    }

    /// An order has ended.
    pub fn end(&mut self, who: usize, open: &Open, now: f64, end: OrderEnd, by: Option<usize>) {
        self.ended.push(OrderRecord {
            rule: open.rule,
            line: open.line,
            who: Some(who as u8 + 1),
            told: open.told,
            ended: now,
            end,
            by,
        });
    }

    /// The possession is over, and with it every order.
    pub fn close(&mut self, now: f64) {
        for who in 0..5 {
            for open in std::mem::take(&mut self.open[who]) {
                self.end(who, &open, now, OrderEnd::PossessionOver, None);
            }
        }
        self.ended.sort_by(|a, b| a.told.total_cmp(&b.told));
    }
}
