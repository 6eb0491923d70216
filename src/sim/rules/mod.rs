//! The offence's rules at work: what happened → who moves → what he does.

use crate::court::Spot;
use crate::offence::{Event, Movement, Role, Rule};
use crate::possession::orders::{OrderEnd, Silence};
use crate::possession::{TICK, Told, What};

use super::due;
use super::follow::finishes_first;
use super::orders::Open;
use super::parts::*;
use super::screens;

mod conditions;
mod events;
mod places;
mod roles;

use conditions::Reads;
use events::{answers, moved_off, once_in_a_spell};
use roles::with_names;

pub(super) use events::Involved;
pub(super) use places::{fill_exactly, first_free, held, no_two_on_one_place, reserve};
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

/// What a rule tells one of those whom it names.
struct Line {
    who: usize,
    does: Movement,
    /// What comes next, step by step.
    then: Vec<Movement>,
    /// Seconds to wait.
    after: f64,
    /// Index of the rule, and line in it.
    at: (usize, usize),
}

/// Answer the happenings of the last tick.
pub fn players_answer_the_rules(floor: &mut Floor, attackers: &mut [Attacker; 5]) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor;
    let mut jobs = attackers.each_mut().map(|attacker| &mut attacker.job);
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
        keeper: ball.keeper(),
        looked_at_one: false,
    };
    for &happening in &happenings {
        rules.answer(happening);
    }
    signals.now = happenings;
    signals.now.clear();
}

/// The bit of a rule (at most 60 are read).
fn bit(index: usize) -> u64 {
    1 << (index as u64 % 64)
}

impl AtWork<'_, '_> {
    /// Every rule that is about this happening fires.
    fn answer(&mut self, happening: Happening) {
        // Two backdoor cuts at once are avoided by the passer's eyes: he looks at one man.
        let denial = matches!(happening, Happening::Denied { .. });
        if denial && (self.looked_at_one || self.clock.tick < self.signals.eyes_on_one) {
            return;
        }
        let held_before = held(self.jobs);
        if let Happening::Drive { driver, .. } = happening {
            // His place is open now: a team-mate may drift into it.
            self.jobs[driver].leaves_it();
        }
        let play = self.play;
        // Whom a rule names is settled before any rule about this happening has moved anybody.
        let mut places = held(self.jobs);
        if let Happening::Drive { from, driver, .. } | Happening::KickOut { from, driver, .. } =
            happening
        {
            // Who replaces the driver takes the place from which he drove.
            places[driver] = places[driver].or(Some(from));
        }
        for (index, rule) in play.scenario.offence.rules.iter().enumerate() {
            let found = answers(&rule.when, happening, self.ball, self.clock, self.signals);
            let Some(involved) = found else {
                // Only an account asks why nothing came of it.
                if self.book.witness.orders.is_some() {
                    let floor = (self.ball, self.clock);
                    let moved = moved_off(&rule.when, happening, floor, &held_before);
                    self.is_silent(index, &rule.when, moved.map(Silence::MovedOff));
                }
                continue;
            };
            if self.signals.once & bit(index) != 0 {
                continue;
            }
            let not_so = self.reads(&involved, &places).first_not_so(&rule.only_if);
            if not_so.is_some() {
                self.is_silent(index, &rule.when, not_so.map(Silence::NotSo));
                continue;
            }
            if self.has_been_answered(index, &rule.when) {
                continue;
            }
            if let Some(account) = &mut self.book.witness.orders {
                account.fires(index, self.clock.seconds());
            }
            let fired = self.fires(index, rule, &involved, &places);
            // The clock comes to a time but once; it is for another event to come again (`time_under`).
            if fired && (rule.once || matches!(rule.when, Event::Clock { .. })) {
                self.signals.once |= bit(index);
            }
            if fired && denial {
                self.looked_at_one = true;
                self.signals.eyes_on_one = self.clock.tick + ticks(EYES_ON_ONE);
            }
        }
    }

    /// Has this rule answered the present spell of its event? From now on it has.
    fn has_been_answered(&mut self, index: usize, event: &Event) -> bool {
        if !once_in_a_spell(event) {
            return false;
        }
        let answered = self.signals.answered & bit(index) != 0;
        self.signals.answered |= bit(index);
        answered
    }

    /// The account, if one is kept, says why a rule does not fire; of an event that has been answered, nothing.
    fn is_silent(&mut self, index: usize, event: &Event, why: Option<Silence>) {
        let answered = once_in_a_spell(event) && self.signals.answered & bit(index) != 0;
        let never_again = self.signals.once & bit(index) != 0;
        if let (Some(account), Some(why), false) =
            (&mut self.book.witness.orders, why, answered || never_again)
        {
            account.is_silent(index, self.clock.seconds(), why);
        }
    }

    /// What conditions are read from, for an event about those.
    fn reads<'a>(&'a self, involved: &'a Involved, places: &'a [Option<Spot>; 5]) -> Reads<'a> {
        Reads {
            play: self.play,
            clock: self.clock,
            ball: self.ball,
            old: self.old,
            signals: self.signals,
            involved,
            places,
        }
    }

    /// A rule fires: it tells those whom it names what to do. Does it name anybody?
    fn fires(
        &mut self,
        index: usize,
        rule: &Rule,
        involved: &Involved,
        places: &[Option<Spot>; 5],
    ) -> bool {
        let (orders, mut notes) = self.orders((index, rule), involved, places);
        if orders.is_empty() {
            return false;
        }
        self.signals.last_rule = Some(index);
        // Not `places`, in which a driver still has the place from which the drive began.
        let had = held(self.jobs);
        // All leave their places before anybody looks for one that is free.
        for line in &orders {
            if line.does.leaves() {
                self.jobs[line.who].place = None;
            }
        }
        for order in orders {
            self.tells(order, rule, involved, places);
        }
        no_two_on_one_place(self.play, self.ball, self.jobs, self.keeper);
        for (who, note) in notes.iter_mut().enumerate() {
            if let Some(note) = note {
                note.to = self.jobs[who].place.filter(|to| had[who] != Some(*to));
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
    /// each player that line, to be written down. The account says why a line is left out.
    fn orders(
        &mut self,
        (index, rule): (usize, &Rule),
        involved: &Involved,
        places: &[Option<Spot>; 5],
    ) -> (Vec<Line>, [Option<Told>; 5]) {
        let now = self.clock.seconds();
        let mut account = self.book.witness.orders.take();
        let &mut AtWork {
            play,
            ball,
            old,
            holder,
            keeper,
            ref signals,
            ref jobs,
            ..
        } = self;
        let who_is = |role| find(role, involved, play, ball, old, signals, places, holder);
        let reads = self.reads(involved, places);
        let mut orders: Vec<Line> = Vec::with_capacity(rule.actions.len());
        let mut notes = [None; 5];
        for (line, action) in rule.actions.iter().enumerate() {
            let mut leaves_out = |who, end| {
                if let Some(account) = &mut account {
                    account.not_given((index, line), who, now, end);
                }
            };
            let found = who_is(action.who);
            if !reads.all(&action.only_if, found) {
                leaves_out(found, OrderEnd::NotSo);
                continue;
            }
            let Some(who) = found else {
                leaves_out(None, OrderEnd::NobodyThere);
                continue;
            };
            let does = with_names(&action.does, &who_is);
            let with_it = does.is_with_the_ball();
            // To whom the ball is on its way does with it what it is told, once it is there.
            let holds = Some(who) == holder || Some(who) == keeper;
            let takes = holds || matches!(jobs[who].task, Task::Take { .. });
            if takes && !(with_it && holds) {
                leaves_out(Some(who), OrderEnd::HasTheBall);
            } else if with_it && does.team_mate() == Some(Role::Player(who as u8 + 1)) {
                leaves_out(Some(who), OrderEnd::NobodyThere);
            } else if with_it && !holds {
                leaves_out(Some(who), OrderEnd::NoBall);
            } else if orders.iter().any(|told| told.who == who) {
                // Of lines that ask for something, the first that counts is the player's order.
                let first = rule.actions[..line].iter().any(|a| !a.only_if.is_empty());
                let end = if first {
                    OrderEnd::OtherLine
                } else {
                    OrderEnd::ToldAlready
                };
                leaves_out(Some(who), end);
            } else {
                orders.push(Line {
                    who,
                    does,
                    then: action
                        .then
                        .iter()
                        .map(|step| with_names(step, &who_is))
                        .collect(),
                    after: action.after,
                    at: (index, line),
                });
                let line = line as u8;
                notes[who] = Some(Told { line, to: None });
            }
        }
        self.book.witness.orders = account;
        (orders, notes)
    }

    /// Whom a rule for a drive moves from a place of the team's to one that is none goes back when the drive is over; any
    /// other order says by itself where the player ends.
    fn goes_back_later(&mut self, who: usize, rule: &Rule, places: &[Option<Spot>; 5]) {
        let (offence, side) = (&self.play.scenario.offence, self.ball.side);
        let job = &mut self.jobs[who];
        let ours = |spot: &Spot| offence.has_place(*spot, side);
        if !matches!(rule.when, Event::Drive { .. }) || job.place.as_ref().is_none_or(ours) {
            job.back = None;
            return;
        }
        job.back = places[who].filter(ours).or(job.back);
    }

    /// A player is told what to do, and claims the place where that ends.
    fn tells(
        &mut self,
        Line {
            who,
            does,
            then,
            after,
            at,
        }: Line,
        rule: &Rule,
        involved: &Involved,
        places: &[Option<Spot>; 5],
    ) {
        let planned = involved.passer == Some(who)
            || involved.cutter == Some(who)
            || involved.driver == Some(who);
        let delay = if does.is_with_the_ball() {
            // He has planned it, and it is he whom the others wait for.
            0
        } else if planned {
            PLANNED
        } else {
            start_delay(self.play, who)
        };
        let tick = self.clock.tick;
        let job = &mut self.jobs[who];
        let moves_on = does.is_to_a_place() || does == Movement::DropOff;
        let screen_first = moves_on && screens::is_a_stride_away(self.old, who, &job.task);
        let uses_first = screen_first && matches!(job.task, Task::UseScreen { .. });
        // Where he waits for the screen is where it finds him.
        let found = places[who].filter(|_| !uses_first);
        let for_the_ball = match does {
            Movement::ScreenFor {
                whom: Role::Player(n),
                ..
            } => self.ball.keeper().filter(|who| who + 1 == usize::from(n)),
            _ => None,
        };
        job.order = Order {
            told: tick,
            found_at: found.or(job.order.found_at),
            screen_first,
            while_it_stays: matches!(rule.when, Event::BallOn { .. }),
            left_lane: false,
            user_gone: false,
            for_the_ball,
            holds: false,
        };
        let finishes = screen_first || finishes_first(&job.task, &does);
        let counted = self.book.witness.orders.is_some().then(|| does.clone());
        job.then(does, tick + delay + ticks(after));
        job.steps = then.into();
        reserve(self.ball, self.jobs, who, places);
        self.goes_back_later(who, rule, places);
        if let (Some(account), Some(does)) = (&mut self.book.witness.orders, counted) {
            let takes = due::takes(self.play, self.ball, self.old, self.jobs[who], who, &does);
            let place = self.jobs[who].place.filter(|_| does.is_to_a_place());
            let steps = self.jobs[who].steps.iter();
            let now = self.clock.seconds();
            let wait = f64::from(delay) * TICK + after;
            let due = Some(now + wait + takes.unwrap_or(0.0));
            let open = Open {
                on_ball: for_the_ball.is_some(),
                ..Open::first(at, now, does, (place, due))
            };
            account.give(who, open, finishes);
            account.expect(who, steps);
        }
    }
}
