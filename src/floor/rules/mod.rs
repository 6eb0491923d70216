//! The offence's rules at work: what happened → who moves → what he does.

use bevy_ecs::prelude::*;

use crate::court::Spot;
use crate::offence::{Event, Movement, Rule};
use crate::possession::{Told, What};

use super::parts::*;

mod events;
mod places;
mod roles;

use events::{answers, once_in_a_spell};
use places::{leaves, reserve};
use roles::with_names;

pub(super) use events::Involved;
pub(super) use places::{fill_exactly, first_free, no_two_on_one_place};
pub(super) use roles::find;

/// A passer follows one backdoor cutter with his eyes for this long, seconds (ours: about a cut).
const EYES_ON_ONE: f64 = 1.4;

/// Who was in the play himself starts on a rule after so many ticks: he has planned it.
const PLANNED: u32 = 4;

/// Ticks after which a team-mate off the ball starts on a rule: he has to see the pass first
/// (simple reaction, 0.18–0.25 s: from memory, high).
fn start_delay(play: &Play, who: usize) -> u32 {
    if play.scenario.drill.clean {
        2
    } else {
        ticks(play.cast.players[who].limits.reaction)
    }
}

/// The rules at work in one tick.
struct AtWork<'f, 'j> {
    play: &'f Play,
    clock: &'f Clock,
    ball: &'f Ball,
    old: &'f Old,
    signals: &'f mut Signals,
    book: &'f mut Book,
    jobs: &'f mut [&'j mut Job; 5],
    /// Who holds the ball.
    holder: Option<usize>,
    /// He who has the ball, or to whom it is on its way: he catches first, and nobody sends him off.
    keeper: Option<usize>,
    /// Has a denial been answered in this tick?
    looked_at_one: bool,
}

/// What a rule tells each of those whom it names: who does what, after how many seconds.
type Orders = Vec<(usize, Movement, f64)>;

/// Answer the happenings of the last tick.
pub fn players_answer_the_rules(floor: ResMut<Floor>, mut jobs: Query<(&Attacker, &mut Job)>) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor.into_inner();
    let Some(mut jobs) = by_number(jobs.iter_mut().map(|(n, job)| (n.0, job.into_inner()))) else {
        return;
    };
    let happenings = std::mem::take(&mut signals.now);
    let mut rules = AtWork {
        play,
        clock,
        ball,
        old,
        signals: &mut *signals,
        book,
        jobs: &mut jobs,
        holder: ball.hold().map(|h| h.by),
        keeper: match ball.state {
            BallState::Held(hold) => Some(hold.by),
            BallState::Flying { to, .. } => Some(to),
            _ => None,
        },
        looked_at_one: false,
    };
    for &happening in &happenings {
        rules.answer(happening);
    }
    signals.now = happenings;
    signals.now.clear();
}

impl AtWork<'_, '_> {
    /// Every rule that is about this happening fires.
    fn answer(&mut self, happening: Happening) {
        // Two backdoor cuts at once are avoided by the passer's eyes: he looks at one man.
        let denial = matches!(happening, Happening::Denied { .. });
        if denial && (self.looked_at_one || self.clock.tick < self.signals.eyes_on_one) {
            return;
        }
        if let Happening::Drive { driver, .. } = happening {
            // His place is open now: a team-mate may drift into it.
            self.jobs[driver].leaves_it();
        }
        let play = self.play;
        for (index, rule) in play.scenario.offence.rules.iter().enumerate() {
            let found = answers(&rule.when, happening, self.ball, self.clock, self.signals);
            let Some(involved) = found else {
                continue;
            };
            if self.has_been_answered(index, &rule.when) {
                continue;
            }
            let fired = self.fires(index, rule, &involved);
            if fired && denial {
                self.looked_at_one = true;
                self.signals.eyes_on_one = self.clock.tick + ticks(EYES_ON_ONE);
            }
        }
    }

    /// Has this rule answered the present spell of its event? From now on it has.
    fn has_been_answered(&mut self, index: usize, event: &Event) -> bool {
        let bit = 1_u64 << (index as u64 % 64);
        if !once_in_a_spell(event) {
            return false;
        }
        let answered = self.signals.answered & bit != 0;
        self.signals.answered |= bit;
        answered
    }

    /// A rule fires: it tells those whom it names what to do. Does it name anybody?
    fn fires(&mut self, index: usize, rule: &Rule, involved: &Involved) -> bool {
        let places: [Option<Spot>; 5] = std::array::from_fn(|i| self.jobs[i].place);
        let (orders, mut notes) = self.orders(rule, involved, &places);
        if orders.is_empty() {
            return false;
        }
        self.signals.last_rule = Some(index);
        // All leave their places before anybody looks for one that is free.
        for (who, movement, _) in &orders {
            if leaves(movement) {
                self.jobs[*who].place = None;
            }
        }
        for order in orders {
            self.tells(order, rule, involved, &places);
        }
        no_two_on_one_place(self.play, self.ball, self.jobs, self.keeper);
        for (who, note) in notes.iter_mut().enumerate() {
            if let Some(note) = note {
                note.to = self.jobs[who].place.filter(|to| places[who] != Some(*to));
            }
        }
        let what = What::Rule {
            rule: index,
            told: notes,
        };
        self.book.write(self.clock, what);
        true
    }

    /// Who is to do what, in the order in which it is written; the first line about a player counts. And for
    /// each player that line, to be written down.
    fn orders(
        &self,
        rule: &Rule,
        involved: &Involved,
        places: &[Option<Spot>; 5],
    ) -> (Orders, [Option<Told>; 5]) {
        let &AtWork {
            play,
            ball,
            old,
            holder,
            ..
        } = self;
        let who_is = |role| {
            find(
                role,
                involved,
                play,
                ball,
                old,
                self.signals,
                places,
                holder,
            )
        };
        let mut orders: Orders = Vec::with_capacity(rule.actions.len());
        let mut notes = [None; 5];
        for (line, action) in rule.actions.iter().enumerate() {
            let Some(who) = who_is(action.who) else {
                continue;
            };
            let does = with_names(&action.does, &who_is);
            let dribbles = matches!(does, Movement::DribbleAt(_)) && Some(who) == holder;
            let may = Some(who) != self.keeper || dribbles;
            if may && orders.iter().all(|t| t.0 != who) {
                orders.push((who, does, action.after));
                let line = line as u8;
                notes[who] = Some(Told { line, to: None });
            }
        }
        (orders, notes)
    }

    /// A player is told what to do, and claims the place where that ends.
    fn tells(
        &mut self,
        (who, movement, after): (usize, Movement, f64),
        rule: &Rule,
        involved: &Involved,
        places: &[Option<Spot>; 5],
    ) {
        let planned = involved.passer == Some(who)
            || involved.cutter == Some(who)
            || involved.driver == Some(who);
        let delay = if planned {
            PLANNED
        } else {
            start_delay(self.play, who)
        };
        let tick = self.clock.tick;
        let job = &mut self.jobs[who];
        job.order = Order {
            told: tick,
            found_at: places[who].or(job.order.found_at),
            while_it_stays: matches!(rule.when, Event::BallOn { .. }),
            holds: false,
        };
        job.then(movement, tick + delay + ticks(after));
        reserve(self.ball, self.jobs, who, places);
    }
}
