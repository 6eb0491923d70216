//! The offence's rules at work: what happened → who moves → what he does.

use bevy_ecs::prelude::*;

use crate::court::{Side, Spot};
use crate::offence::{Event, Movement, Place, Role};
use crate::possession::{Told, What};

use super::parts::*;

/// Ticks after which a team-mate off the ball starts on a rule: he has to see the pass first
/// (simple reaction, 0.18–0.25 s: from memory, high).
fn start_delay(play: &Play, who: usize) -> u32 {
    if play.scenario.drill.clean {
        2
    } else {
        ticks(play.cast.players[who].limits.reaction)
    }
}

/// A passer follows one backdoor cutter with his eyes for this long, seconds (ours: about a cut).
const EYES_ON_ONE: f64 = 1.4;

/// The players that an event is about.
#[derive(Clone, Copy, Default)]
pub(super) struct Involved {
    pub(super) passer: Option<usize>,
    pub(super) receiver: Option<usize>,
    pub(super) driver: Option<usize>,
    pub(super) cutter: Option<usize>,
    pub(super) denied: Option<usize>,
    /// He who is leaving the place that he still holds: it is not he who is meant by that place.
    pub(super) leaving: Option<usize>,
}

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
    let holder = ball.hold().map(|h| h.by);
    // He who has the ball, or to whom it is on its way: he catches first, and nobody sends him off.
    let keeper = match ball.state {
        BallState::Held(hold) => Some(hold.by),
        BallState::Flying { to, .. } => Some(to),
        _ => None,
    };
    let happenings = std::mem::take(&mut signals.now);
    // Two backdoor cuts at once are avoided by the passer's eyes: he looks at one man.
    let mut looked_at_one = false;
    for &happening in &happenings {
        let denial = matches!(happening, Happening::Denied { .. });
        if denial && (looked_at_one || clock.tick < signals.eyes_on_one) {
            continue;
        }
        if let Happening::Drive { driver, .. } = happening {
            // His place is open now: a team-mate may drift into it.
            jobs[driver].leaves_it();
        }
        for (index, rule) in play.scenario.offence.rules.iter().enumerate() {
            let Some(involved) = answers(&rule.when, happening, ball, clock, signals) else {
                continue;
            };
            let bit = 1_u64 << (index as u64 % 64);
            if once_in_a_spell(&rule.when) {
                if signals.answered & bit != 0 {
                    continue;
                }
                signals.answered |= bit;
            }
            let places: [Option<Spot>; 5] = std::array::from_fn(|i| jobs[i].place);
            let who_is =
                |role: Role| find(role, &involved, play, ball, old, signals, &places, holder);
            // In the order in which they are written; the first line about a player counts.
            let mut told: Vec<(usize, Movement, f64)> = Vec::with_capacity(rule.actions.len());
            let mut notes = [None; 5];
            for (line, action) in rule.actions.iter().enumerate() {
                let Some(who) = who_is(action.who) else {
                    continue;
                };
                let does = with_names(&action.does, &who_is);
                let dribbles = matches!(does, Movement::DribbleAt(_)) && Some(who) == holder;
                let may = Some(who) != keeper || dribbles;
                if may && told.iter().all(|t| t.0 != who) {
                    told.push((who, does, action.after));
                    let line = line as u8;
                    notes[who] = Some(Told { line, to: None });
                }
            }
            if told.is_empty() {
                continue;
            }
            if denial {
                looked_at_one = true;
                signals.eyes_on_one = clock.tick + ticks(EYES_ON_ONE);
            }
            signals.last_rule = Some(index);
            // All leave their places before anybody looks for one that is free.
            for (who, movement, _) in &told {
                if leaves(movement) {
                    jobs[*who].place = None;
                }
            }
            for (who, movement, after) in told {
                let planned = involved.passer == Some(who)
                    || involved.cutter == Some(who)
                    || involved.driver == Some(who);
                let delay = if planned { 4 } else { start_delay(play, who) };
                jobs[who].order = Order {
                    told: clock.tick,
                    found_at: places[who].or(jobs[who].order.found_at),
                    while_it_stays: matches!(rule.when, Event::BallOn { .. }),
                    holds: false,
                };
                jobs[who].then(movement, clock.tick + delay + ticks(after));
                reserve(ball, &mut jobs, who, &places);
            }
            no_two_on_one_place(play, ball, &mut jobs, keeper);
            for (who, note) in notes.iter_mut().enumerate() {
                if let Some(note) = note {
                    note.to = jobs[who].place.filter(|to| places[who] != Some(*to));
                }
            }
            book.write(
                clock,
                What::Rule {
                    rule: index,
                    told: notes,
                },
            );
        }
    }
    signals.now = happenings;
    signals.now.clear();
}

/// The same movement with the team-mate whom it names told by number: who is meant is settled when
/// the rule fires, before anybody has moved.
fn with_names(movement: &Movement, named: &dyn Fn(Role) -> Option<usize>) -> Movement {
    let number = |role: &Role| named(*role).map_or(*role, |i| Role::Player(i as u8 + 1));
    match movement {
        Movement::ScreenFor { whom, after } => Movement::ScreenFor {
            whom: number(whom),
            after: Box::new(with_names(after, named)),
        },
        Movement::UseScreen { of, unfed } => Movement::UseScreen {
            of: number(of),
            unfed: Box::new(with_names(unfed, named)),
        },
        Movement::Cut { lane, unfed } => Movement::Cut {
            lane: *lane,
            unfed: Box::new(with_names(unfed, named)),
        },
        Movement::DribbleAt(at) => Movement::DribbleAt(number(at)),
        // A place that nobody holds can be taken all the same.
        Movement::Replace(Role::At(place)) => Movement::Fill(*place),
        Movement::Replace(of) => Movement::Replace(number(of)),
        other => other.clone(),
    }
}

/// Events that would match tick after tick are answered once until the ball changes hands.
fn once_in_a_spell(event: &Event) -> bool {
    matches!(
        event,
        Event::Denied { .. }
            | Event::BallOn { .. }
            | Event::PostForgotten { .. }
            | Event::Clock { .. }
    )
}

fn answers(
    event: &Event,
    happening: Happening,
    ball: &Ball,
    clock: &Clock,
    signals: &Signals,
) -> Option<Involved> {
    let side = ball.side;
    let none = Involved::default();
    match (event, happening) {
        (
            Event::Pass { from, to },
            Happening::Pass {
                from: f,
                to: t,
                passer,
                receiver,
            },
        ) => (from.takes_in(f, side) && to.takes_in(t, side)).then_some(Involved {
            passer: Some(passer),
            receiver: Some(receiver),
            leaving: Some(passer),
            ..none
        }),
        (Event::Drive { from }, Happening::Drive { from: f, driver }) => {
            from.takes_in(f, side).then_some(Involved {
                driver: Some(driver),
                leaving: Some(driver),
                ..none
            })
        }
        (
            Event::KickOut { from },
            Happening::KickOut {
                from: f,
                driver,
                receiver,
            },
        ) => from.takes_in(f, side).then_some(Involved {
            driver: Some(driver),
            passer: Some(driver),
            receiver: Some(receiver),
            leaving: Some(driver),
            ..none
        }),
        (Event::Catch { at }, Happening::Catch { at: a, who }) => {
            at.takes_in(a, side).then_some(Involved {
                receiver: Some(who),
                passer: signals.last_passer,
                ..none
            })
        }
        (Event::Unfed { from }, Happening::Unfed { from: f, who }) => {
            from.takes_in(f, side).then_some(Involved {
                cutter: Some(who),
                ..none
            })
        }
        (
            Event::Denied {
                at,
                ball: on,
                seconds,
            },
            Happening::Denied {
                at: a,
                ball: b,
                who,
                ticks: n,
            },
        ) => (at.takes_in(a, side) && on.takes_in(b, side) && n >= ticks(*seconds)).then_some(
            Involved {
                denied: Some(who),
                cutter: Some(who),
                ..none
            },
        ),
        (Event::BallOn { at, seconds }, Happening::BallOn { at: a, ticks: n }) => {
            (at.takes_in(a, side) && n >= ticks(*seconds)).then_some(none)
        }
        (Event::BallCrosses, Happening::BallCrosses) => Some(none),
        (Event::DribbleAt { at }, Happening::DribbleAt { at: a, mate }) => {
            at.takes_in(a, side).then_some(Involved {
                denied: Some(mate),
                cutter: Some(mate),
                ..none
            })
        }
        (Event::PostForgotten { seconds }, Happening::PostForgotten { ticks: n, .. }) => {
            (n >= ticks(*seconds)).then_some(none)
        }
        (Event::Clock { left }, Happening::Clock) => (clock.left() <= *left).then_some(none),
        _ => None,
    }
}

/// The player whom a role names now.
#[allow(clippy::too_many_arguments)]
pub(super) fn find(
    role: Role,
    involved: &Involved,
    play: &Play,
    ball: &Ball,
    old: &Old,
    signals: &Signals,
    places: &[Option<Spot>; 5],
    holder: Option<usize>,
) -> Option<usize> {
    let inside = |nth: usize| {
        (0..5)
            .filter(|&i| places[i].is_some_and(|s| !s.name.is_perimeter()))
            .nth(nth)
    };
    match role {
        Role::Passer => involved.passer.or(signals.last_passer),
        Role::Receiver => involved.receiver,
        Role::Holder => holder,
        Role::Driver => involved.driver.or(signals.last_driver),
        Role::Cutter => involved.cutter,
        Role::Denied => involved.denied,
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
            (0..5)
                .filter(|&i| Some(i) != holder && Some(i) != involved.passer)
                .min_by(|&a, &b| {
                    (old.scene.pos[a] - at)
                        .length()
                        .total_cmp(&(old.scene.pos[b] - at).length())
                })
        }
        Role::Player(number) => Some(usize::from(number).checked_sub(1)?).filter(|&i| i < 5),
    }
}

/// The place in which a movement will end, for a player with his own side `own`.
fn destination(
    movement: &Movement,
    ball: Side,
    own: Option<Side>,
    taken: &dyn Fn(Spot) -> bool,
    places: &[Option<Spot>; 5],
) -> Option<Spot> {
    let spot = |p: &Place| p.spot(ball, own);
    match movement {
        Movement::Fill(p)
        | Movement::CircleOut(p)
        | Movement::GoThrough(p)
        | Movement::Drift(p)
        | Movement::Lift(p) => spot(p),
        Movement::FillFirst(list) => list
            .iter()
            .filter_map(spot)
            .find(|&s| !taken(s))
            .or_else(|| list.first().and_then(spot)),
        Movement::Cut { unfed, .. } | Movement::UseScreen { unfed, .. } => {
            destination(unfed, ball, own, taken, places)
        }
        Movement::ScreenFor { after, .. } => destination(after, ball, own, taken, places),
        Movement::Replace(Role::Player(n)) => places
            .get(usize::from(*n).wrapping_sub(1))
            .copied()
            .flatten(),
        Movement::Replace(_)
        | Movement::Hold
        | Movement::Flash { .. }
        | Movement::Seal { .. }
        | Movement::DropOff
        | Movement::DribbleAt(_) => None,
    }
}

/// Does this movement end in another place, so that the old one is open from now on?
fn leaves(movement: &Movement) -> bool {
    match movement {
        Movement::Fill(_)
        | Movement::FillFirst(_)
        | Movement::CircleOut(_)
        | Movement::GoThrough(_)
        | Movement::Drift(_)
        | Movement::Lift(_)
        | Movement::Replace(_) => true,
        Movement::Cut { unfed, .. } | Movement::UseScreen { unfed, .. } => leaves(unfed),
        Movement::ScreenFor { after, .. } => leaves(after),
        Movement::Hold
        | Movement::Flash { .. }
        | Movement::Seal { .. }
        | Movement::DropOff
        | Movement::DribbleAt(_) => false,
    }
}

/// Claim the place in which his next movement ends, at once, so that nobody else fills it.
fn reserve(ball: &Ball, jobs: &mut [&mut Job; 5], who: usize, places: &[Option<Spot>; 5]) {
    let claimed: [Option<Spot>; 5] =
        std::array::from_fn(|i| if i == who { None } else { jobs[i].place });
    let taken = |s: Spot| claimed.contains(&Some(s));
    let own = jobs[who].own;
    if let Some(movement) = &jobs[who].next
        && let Some(spot) = destination(movement, ball.side, own, &taken, places)
    {
        jobs[who].place = Some(spot);
    }
}

/// Two on one place: he who has just been told to go there has it; the other (unless he has the
/// ball, or it is on its way to him) takes the first place of `keep_filled` that nobody holds.
pub(super) fn no_two_on_one_place(
    play: &Play,
    ball: &Ball,
    jobs: &mut [&mut Job; 5],
    keeper: Option<usize>,
) {
    for a in 0..5 {
        for b in a + 1..5 {
            let Some(place) = jobs[a].place else { continue };
            if jobs[b].place != Some(place) {
                continue;
            }
            let goes = if Some(a) == keeper
                || (jobs[a].next.is_some() && Some(b) != keeper && jobs[b].next.is_none())
            {
                b
            } else {
                a
            };
            match first_free(play, ball, jobs, goes) {
                Some(spot) => {
                    jobs[goes].place = Some(spot);
                    let told = jobs[goes].next.is_some();
                    match &mut jobs[goes].task {
                        Task::Cut { unfed, .. } if !told => **unfed = fill_exactly(spot, ball.side),
                        _ => jobs[goes].next = Some(fill_exactly(spot, ball.side)),
                    }
                }
                None => jobs[goes].place = None,
            }
        }
    }
}

/// The movement "take that very spot".
pub(super) fn fill_exactly(spot: Spot, ball: Side) -> Movement {
    Movement::Fill(Place::of(spot, ball))
}

/// The place inside that he left with the ball, or the first to be kept filled, that nobody holds.
pub(super) fn first_free(
    play: &Play,
    ball: &Ball,
    jobs: &[&mut Job; 5],
    who: usize,
) -> Option<Spot> {
    let filled = play.scenario.offence.keep_filled.iter();
    let mut places = filled
        .chain(ELSEWHERE.iter())
        .filter_map(|p| p.spot(ball.side, None));
    let free = |s: &Spot| !jobs.iter().any(|j| j.place == Some(*s));
    jobs[who].left.filter(free).or_else(|| places.find(free))
}

/// Where a player goes for whom no place of the offence is left, in this order.
const ELSEWHERE: [Place; 3] = [
    Place::Corner(crate::offence::By::Weak),
    Place::Corner(crate::offence::By::Ball),
    Place::Top,
];
