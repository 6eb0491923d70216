//! The account of orders: each order of a rule from the moment it is given to its end, with the reason. It is
//! kept only when asked for and changes nothing in the play.

use std::collections::VecDeque;

use crate::court::Spot;
use crate::defence::Duty;
use crate::offence::Movement;
use crate::possession::orders::{OrderEnd, OrderRecord, Silence, Silent, Way};

/// An event that has not come for so long, seconds, comes anew (ours: two decisions of the holder, and a tick).
const SPELL: f64 = 0.5;

/// An order under way.
#[derive(Clone)]
pub struct Open {
    pub rule: usize,
    pub line: usize,
    /// Step of the line, from 0.
    pub step: usize,
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
    /// Another rule has told the player something else, which they have not taken up yet: what that makes of this order
    /// unless it is carried out before, and the rule.
    pub called_off: Option<(OrderEnd, usize)>,
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
            told,
            does,
            place,
            begun: false,
            on_ball: false,
            until: None,
            shows: None,
            off: false,
            way: None,
            called_off: None,
            shut: None,
        }
    }

    /// May the player still do it before they have seen a new order and start on that?
    fn may_be_done_first(&self) -> bool {
        let shows = matches!(
            self.does,
            Movement::Flash { .. } | Movement::Seal { .. } | Movement::ScreenFor { .. }
        );
        shows && self.begun
    }
}

/// What a player does at one time: for each line that told the same, the movement and what follows its screen.
type Stage = Vec<VecDeque<Open>>;

/// What a player is to do later. A screen that ends takes up the first of `after`, a player who is done the first of
/// `then`.
#[derive(Clone, Default)]
pub struct Later {
    /// What follows the screen that is set, or is next.
    after: Stage,
    /// The steps of `then`: one for each in the player's own list (`Job::steps`).
    then: VecDeque<Stage>,
}

/// A screen on the ball that stands, or stood until just now.
#[derive(Clone, Copy)]
pub struct Standing {
    /// Its record among those that have ended.
    pub record: usize,
    pub screener: usize,
    pub holder: usize,
}

/// Orders under way, by player, and those that have ended.
#[derive(Clone, Default)]
pub struct Orders {
    /// Screens on the ball of which the holder has made nothing yet.
    pub standing: Vec<Standing>,
    /// For whom each player set a screen on the ball last.
    pub set_for: [Option<usize>; 5],
    /// Rules that did not fire, though their event came or nearly did.
    pub silent: Vec<Silent>,
    pub open: [Vec<Open>; 5],
    later: [Later; 5],
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
        let follows = || self.later[who].after.iter().filter_map(VecDeque::front);
        let next = new.does.orders().nth(1);
        let same = open.is_empty() && follows().any(|open| Some(&open.does) == next);
        let goes_on = same || open.iter().any(again);
        let after = std::mem::take(&mut self.later[who].after);
        let stay = goes_on || stays && screens;
        let (kept, off) = if stay {
            (after, Stage::new())
        } else {
            (Stage::new(), after)
        };
        self.later[who].after = off;
        self.forgets(who, now, end, Some(rule));
        self.later[who].after = kept;
        for mut old in std::mem::take(&mut self.open[who]) {
            if again(&old) {
                old.called_off = None;
                self.open[who].push(old);
                continue;
            }
            // To hold is to stay in place or at what is under way, to wait for a drop-off is to do so in place; and who is
            // sent on to where he goes goes on.
            let in_place = stays || new.does == Movement::DropOff;
            let same_place = old.place.is_some() && (old.place == new.place || in_place);
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
            if old.may_be_done_first() {
                old.called_off.get_or_insert((end, rule));
                self.open[who].push(old);
                continue;
            }
            self.end(who, &old, now, end, Some(rule));
        }
        self.open[who].push(new);
    }

    /// The steps that follow the order which the player has just been given: what comes after a screen, and `then`.
    pub fn expect<'a>(&mut self, who: usize, then: impl Iterator<Item = &'a Movement>) {
        let Some(first) = self.open[who].last().cloned() else {
            return;
        };
        let mut step = first.step;
        let mut line = |does: &Movement| {
            let open = Open {
                step,
                does: does.clone(),
                place: None,
                due: None,
                ..first.clone()
            };
            step += 1;
            open
        };
        let mut after: VecDeque<Open> = first.does.orders().map(&mut line).collect();
        after.pop_front();
        let later = &mut self.later[who];
        later.after.extend((!after.is_empty()).then_some(after));
        later.then = then
            .map(|does| vec![does.orders().map(&mut line).collect()])
            .collect();
    }

    /// The player's screen is over: on with what comes after it. (That to hold comes after it, though it was to be
    /// something else, says that the ball for which the player was to show has gone on.)
    pub fn goes_on(&mut self, who: usize, now: f64, (after, place): (&Movement, Option<Spot>)) {
        // (An order that has come meanwhile is under way already.)
        let told = self.open[who]
            .iter()
            .any(|open| !open.begun && open.does == *after);
        if *after == Movement::Hold {
            let off = std::mem::take(&mut self.later[who].after);
            self.end_all(who, off, now, (OrderEnd::BallWentOn, None));
        } else if !told {
            let stage = std::mem::take(&mut self.later[who].after);
            self.opens(who, now, stage, place);
        }
    }

    /// The player gives up a screen, and leaves what comes after it until they are out of the lane: a step of its own.
    pub fn puts_off(&mut self, who: usize) {
        let later = &mut self.later[who];
        let after = std::mem::take(&mut later.after);
        later.then.push_front(after);
    }

    /// The player goes on with the next step, for which this place is claimed.
    pub fn next_step(&mut self, who: usize, now: f64, place: Option<Spot>) {
        let missed = std::mem::take(&mut self.later[who].after);
        self.end_all(who, missed, now, (OrderEnd::GivenUp, None));
        let stage = self.later[who].then.pop_front().unwrap_or_default();
        self.opens(who, now, stage, place);
    }

    /// The first movement of each line is under way, and what follows its screen comes after it.
    fn opens(&mut self, who: usize, now: f64, mut stage: Stage, place: Option<Spot>) {
        for line in &mut stage {
            if let Some(mut open) = line.pop_front() {
                (open.told, open.place) = (now, place.filter(|_| open.does.is_to_a_place()));
                self.open[who].push(open);
            }
        }
        stage.retain(|line| !line.is_empty());
        self.later[who].after = stage;
    }

    /// The steps that the player was still to do are off.
    pub fn forgets(&mut self, who: usize, now: f64, end: OrderEnd, by: Option<usize>) {
        let Later { after, then } = std::mem::take(&mut self.later[who]);
        self.end_all(who, after, now, (end, by));
        for stage in then {
            self.end_all(who, stage, now, (end, by));
        }
    }

    /// Everything in a stage has ended.
    fn end_all(
        &mut self,
        who: usize,
        stage: Stage,
        now: f64,
        (end, by): (OrderEnd, Option<usize>),
    ) {
        for open in stage.into_iter().flatten() {
            self.end(who, &open, now, end, by);
        }
    }

    /// How many steps the player is still to do.
    pub fn steps(&self, who: usize) -> usize {
        self.later[who].then.len()
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

    /// A rule does not fire. An event that lasts comes tick after tick: once is enough.
    pub fn is_silent(&mut self, rule: usize, now: f64, why: Silence) {
        let before = self.silent.iter_mut().rev().find(|one| one.rule == rule);
        match before.filter(|one| one.why == why && now < one.last + SPELL) {
            Some(one) => one.last = now,
            None => self.silent.push(Silent {
                rule,
                since: now,
                last: now,
                why,
            }),
        }
    }

    /// A rule that fires after all, in the spell in which it did not, was late and not silent.
    pub fn fires(&mut self, rule: usize, now: f64) {
        let silent = |one: &Silent| one.rule == rule && now < one.last + SPELL;
        self.silent.retain(|one| !silent(one));
    }

    /// The possession is over, and with it every order.
    pub fn close(&mut self, now: f64) {
        for standing in std::mem::take(&mut self.standing) {
            self.ended[standing.record].way = Some(Way::Lost);
        }
        for who in 0..5 {
            for open in std::mem::take(&mut self.open[who]) {
                let (end, by) = match open.called_off {
                    _ if open.off => (OrderEnd::Done, None),
                    Some((end, by)) => (end, Some(by)),
                    None => (OrderEnd::PossessionOver, None),
                };
                self.end(who, &open, now, end, by);
            }
            self.forgets(who, now, OrderEnd::PossessionOver, None);
        }
        self.ended.sort_by(|a, b| a.told.total_cmp(&b.told));
    }
}

#[cfg(test)]
mod tests {
    use super::{Open, Orders};
    use crate::court::Side;
    use crate::offence::{By, CutLane, Movement, Place, Role};
    use crate::possession::orders::OrderEnd;

    fn screen(after: Movement) -> Movement {
        let whom = Role::Player(2);
        let after = Box::new(after);
        Movement::ScreenFor { whom, after }
    }

    /// An order of the first rule, told at 0 s, with these steps.
    fn told(does: Movement, then: &[Movement]) -> Orders {
        let mut orders = Orders::default();
        orders.give(0, Open::first((0, 0), 0.0, does, (None, None)), false);
        orders.expect(0, then.iter());
        orders
    }

    fn under_way(orders: &Orders) -> Vec<usize> {
        orders.open[0].iter().map(|open| open.step).collect()
    }

    #[test]
    fn a_screen_with_which_a_cut_ends_takes_up_no_step_that_comes_later() {
        let out = || Movement::Fill(Place::Slot(By::Ball));
        let unfed = Box::new(screen(out()));
        let lane = CutLane::BallSide;
        let cut = Movement::Cut {
            lane,
            to: None,
            unfed,
        };
        let mut orders = told(cut, &[screen(Movement::DropOff)]);
        orders.goes_on(0, 1.0, (&out(), None));
        assert_eq!(under_way(&orders), [0]);
        orders.next_step(0, 2.0, None);
        assert_eq!(under_way(&orders), [0, 1]);
        orders.goes_on(0, 3.0, (&Movement::DropOff, None));
        assert_eq!(under_way(&orders), [0, 1, 2]);
    }

    #[test]
    fn who_is_to_wait_for_a_drop_off_goes_on_to_the_place_first() {
        let (block, wing) = (Place::Block(By::Weak), Place::Wing(By::Weak));
        for (then, goes_on) in [(Movement::DropOff, true), (Movement::Fill(wing), false)] {
            let spot = block.spot(Side::Right, None);
            let mut orders = Orders::default();
            let fill = Open::first((0, 0), 0.0, Movement::Fill(block), (spot, Some(2.0)));
            orders.give(0, fill, false);
            orders.give(0, Open::first((1, 0), 1.0, then, (None, None)), false);
            let rules: Vec<usize> = orders.open[0].iter().map(|open| open.rule).collect();
            assert_eq!(rules, if goes_on { vec![0, 1] } else { vec![1] });
        }
    }

    #[test]
    fn what_follows_a_screen_given_up_in_the_lane_is_the_next_step() {
        let mut orders = told(screen(Movement::DropOff), &[Movement::Hold]);
        orders.puts_off(0);
        assert_eq!(orders.steps(0), 2);
        orders.next_step(0, 1.0, None);
        assert_eq!(under_way(&orders), [0, 1]);
    }

    #[test]
    fn what_a_ball_that_stays_asked_for_after_a_screen_ends_when_the_ball_goes_on() {
        let to = Place::HighPost;
        let mut orders = told(screen(Movement::Flash { to, seconds: 1.0 }), &[]);
        orders.goes_on(0, 1.0, (&Movement::Hold, None));
        let ended: Vec<_> = orders.ended.iter().map(|r| (r.step, r.end)).collect();
        assert_eq!(ended, [(1, OrderEnd::BallWentOn)]);
    }
}
