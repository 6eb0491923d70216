//! The account of orders: each order of a rule from the moment it is given to its end, with the reason. It is
//! kept only when asked for and changes nothing in the play.

use crate::court::Spot;
use crate::defence::Duty;
use crate::offence::Movement;
use crate::possession::orders::{OrderEnd, OrderRecord, Way};

/// An order under way.
#[derive(Clone)]
pub struct Open {
    pub rule: usize,
    pub line: usize,
    /// Step of the line, from 0.
    pub step: usize,
    /// Is it what follows the player's screen?
    pub after_it: bool,
    pub told: f64,
    pub does: Movement,
    /// The place claimed with it.
    pub place: Option<Spot>,
    /// When the player can be at the place, at the player to be screened or where to show at the earliest, s.
    pub due: Option<f64>,
    /// Has the player taken it up?
    pub begun: bool,
    /// Is it a screen on the ball?
    pub on_ball: bool,
    /// Tick until which it is tried, where there is such a limit.
    pub until: Option<u32>,
    /// Where the player shows, once on the way there: the ball side may be another when he comes.
    pub shows: Option<Spot>,
    /// Is the player coming off the screen that was to be used?
    pub off: bool,
    /// How they came off it.
    pub way: Option<Way>,
    /// What the defender who shut the pass that was promised did.
    pub shut: Option<Duty>,
}

impl Open {
    /// Is it before the player can have got there?
    pub fn is_early(&self, now: f64) -> bool {
        self.due.is_some_and(|due| now < due)
    }

    /// The first step of a line of a rule, told now.
    pub fn first(
        (rule, line): (usize, usize),
        told: f64,
        does: Movement,
        (place, due): (Option<Spot>, Option<f64>),
    ) -> Open {
        Open {
            due,
            rule,
            line,
            step: 0,
            after_it: false,
            told,
            does,
            place,
            begun: false,
            on_ball: false,
            until: None,
            shows: None,
            off: false,
            way: None,
            shut: None,
        }
    }
}

/// Orders under way, by player, and those that have ended.
#[derive(Clone, Default)]
pub struct Orders {
    pub open: [Vec<Open>; 5],
    /// Steps that each is to do later, next first.
    pub later: [Vec<Open>; 5],
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
            step: 0,
            who: who.map(|who| who as u8 + 1),
            told: now,
            ended: now,
            end,
            by: None,
            way: None,
            shut: None,
        });
    }

    /// A player is given an order. Those before it end, but for those that the player `finishes` first.
    pub fn give(&mut self, who: usize, new: Open, finishes: bool) {
        let (now, rule) = (new.told, new.rule);
        let stays = matches!(new.does, Movement::Hold);
        // No time for a step means none for those after it; nor has one whose turn has not come since the player is
        // still at the step before, which is carried out.
        let open = &self.open[who];
        let early = finishes || open.is_empty() || open.iter().any(|old| old.is_early(now));
        let end = match early {
            true => OrderEnd::SentOn,
            false => OrderEnd::AnotherOrder,
        };
        // Told the same again, or to hold, the player goes on with what is under way, and with what follows a screen.
        let again = |old: &Open| old.begun && !old.does.is_to_a_place() && old.does == new.does;
        let screens = open.iter().all(|old| old.begun || old.does.is_to_a_place());
        // (Who stands as the screen has set it already.)
        let stands = self.later[who].first().filter(|_| open.is_empty());
        let same = stands.is_some_and(|l| l.after_it && new.does.orders().nth(1) == Some(&l.does));
        let goes_on = same || open.iter().any(again);
        let kept = std::mem::take(&mut self.later[who]);
        let (kept, off): (Vec<Open>, Vec<Open>) = kept
            .into_iter()
            .partition(|later| later.after_it && (goes_on || stays && screens));
        self.later[who] = off;
        self.forgets(who, now, end, Some(rule));
        self.later[who] = kept;
        for old in std::mem::take(&mut self.open[who]) {
            if again(&old) {
                self.open[who].push(old);
                continue;
            }
            // To hold is to stay in place or at what is under way; and who is sent on to where he goes goes on.
            let same_place = old.place.is_some() && (old.place == new.place || stays);
            // What waits for a cut's end to go to a place is not under way yet.
            let under_way = old.begun && !old.does.is_to_a_place();
            if same_place || under_way && (finishes || stays) {
                self.open[who].push(old);
                continue;
            }
            let end = match old.due {
                // By the screener already.
                _ if old.off => OrderEnd::Done,
                Some(due) if now < due => OrderEnd::SentOn,
                _ => OrderEnd::AnotherOrder,
            };
            self.end(who, &old, now, end, Some(rule));
        }
        self.open[who].push(new);
    }

    /// The steps that follow the order which the player has just been given: what comes after a screen, and `then`.
    pub fn expect<'a>(&mut self, who: usize, then: impl Iterator<Item = &'a Movement>) {
        let Some(first) = self.open[who].last().cloned() else {
            return;
        };
        let after = first.does.orders().skip(1).map(|does| (does, true));
        let steps = after.chain(then.flat_map(Movement::orders).map(|does| (does, false)));
        let later = steps.zip(1..).map(|((does, after_it), step)| Open {
            step,
            after_it,
            does: does.clone(),
            place: None,
            due: None,
            ..first.clone()
        });
        self.later[who].extend(later);
    }

    /// The player goes on with what comes after a screen.
    pub fn goes_on(&mut self, who: usize, now: f64, (after, place): (&Movement, Option<Spot>)) {
        // (An order that has come meanwhile is under way already.)
        let told = self.open[who]
            .iter()
            .any(|open| !open.begun && open.does == *after);
        if *after != Movement::Hold && !told {
            self.next_step(who, now, place);
        }
    }

    /// The player goes on with the next step, for which this place is claimed.
    pub fn next_step(&mut self, who: usize, now: f64, place: Option<Spot>) {
        let later = std::mem::take(&mut self.later[who]);
        let first = later.first().map(|first| (first.step, first.does.clone()));
        // (An order that was given again while it was carried out has the same step twice.)
        for mut step in later {
            if first.as_ref() == Some(&(step.step, step.does.clone())) {
                (step.told, step.place) = (now, place.filter(|_| step.does.is_to_a_place()));
                self.open[who].push(step);
            } else {
                self.later[who].push(step);
            }
        }
    }

    /// The steps that the player was still to do are off.
    pub fn forgets(&mut self, who: usize, now: f64, end: OrderEnd, by: Option<usize>) {
        for later in std::mem::take(&mut self.later[who]) {
            self.end(who, &later, now, end, by);
        }
    }

    /// An order has ended.
    pub fn end(&mut self, who: usize, open: &Open, now: f64, end: OrderEnd, by: Option<usize>) {
        self.ended.push(OrderRecord {
            rule: open.rule,
            line: open.line,
            step: open.step,
            who: Some(who as u8 + 1),
            told: open.told,
            ended: now,
            end,
            by,
            way: open.way,
            shut: open.shut,
        });
    }

    /// The possession is over, and with it every order.
    pub fn close(&mut self, now: f64) {
        for who in 0..5 {
            for open in std::mem::take(&mut self.open[who]) {
                let end = match open.off {
                    true => OrderEnd::Done,
                    false => OrderEnd::PossessionOver,
                };
                self.end(who, &open, now, end, None);
            }
            self.forgets(who, now, OrderEnd::PossessionOver, None);
        }
        self.ended.sort_by(|a, b| a.told.total_cmp(&b.told));
    }
}
