//! From what a player is told to a task: who starts now, and who goes home. How each movement starts stands in
//! `take_up.rs`, the ways of runs and cuts in `sim/ways.rs`.

use crate::court::{Spot, Vec2};
use crate::offence::{Movement, Role};
use crate::possession::orders::OrderEnd;
use crate::possession::{Ballwork, What};

use super::manner::home_of;
use super::parts::*;
use super::plans;
use super::rules::{fill_exactly, first_free, held, no_two_on_one_place, reserve};
use super::screens;
use super::sight::holder_spot;
use super::steering::GOES_OUT_BY_IT;
use super::ways::{feet, lane_side, run};

mod take_up;

/// Farther from his place than this a player with nothing to do goes back to it, metres.
const ASTRAY: f64 = 1.0;

/// Whoever waits for a free way looks again after so many ticks.
const ASKS_EVERY: u32 = 3;

/// In the lane for longer than this, seconds, a post who is to cross it steps out first (ours).
const COUNT_RUNS: f64 = 1.0;

/// He is where he meant to dribble this near to it, metres (ours).
const HAS_DRIBBLED_THERE: f64 = 0.5;
/// Farther from the rim than this is outside, metres (ours).
const FAR_OUT: f64 = 4.5;

/// The attackers' jobs, and what tells who starts what.
struct Tasks<'f, 'j> {
    play: &'f Play,
    clock: &'f Clock,
    ball: &'f Ball,
    old: &'f Old,
    signals: &'f Signals,
    book: &'f mut Book,
    jobs: &'f mut [&'j mut Job; 5],
}

/// Turn what a player is to do next into a task, once his time has come; and send whoever has no
/// place to the first that nobody holds.
pub fn players_take_up_their_tasks(floor: &mut Floor, attackers: &mut [Attacker; 5]) {
    let Floor {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        ..
    } = floor;
    if !attackers_revise(clock.tick) {
        return;
    }
    let mut jobs = attackers.each_mut().map(|attacker| &mut attacker.job);
    // Whose screen is over claims his place only now.
    no_two_on_one_place(play, ball, &mut jobs, ball.keeper());
    let mut tasks = Tasks {
        play,
        clock,
        ball,
        old,
        signals,
        book,
        jobs: &mut jobs,
    };
    if let Some(hold) = ball.hold() {
        tasks.he_holds_where_he_is(hold);
    }
    for who in play.cast.five() {
        if tasks.is_at_the_ball(who) {
            tasks.forgets_his_steps(who);
            continue;
        }
        tasks.is_back_after_a_drive(who);
        tasks.takes_the_next_step(who);
        tasks.goes_home(who);
        if let Some(movement) = tasks.due(who)
            && let Some(movement) = tasks.unless_later(who, movement)
        {
            tasks.take_up(who, movement);
        }
    }
    for job in jobs.iter_mut() {
        let side = job.place.and_then(|place| place.side);
        job.own = side.or(job.own);
    }
}

impl Tasks<'_, '_> {
    /// Has he the ball, or is he on his way to it?
    fn is_at_the_ball(&self, who: usize) -> bool {
        let to_it = matches!(
            self.jobs[who].task,
            Task::Handle | Task::Chase | Task::Meet { .. } | Task::Take { .. }
        );
        to_it || self.ball.hold().is_some_and(|h| h.by == who)
    }

    /// Is he done with what he was told?
    fn is_idle(&self, who: usize) -> bool {
        let job = &self.jobs[who];
        job.next.is_none() && matches!(job.task, Task::Stand)
    }

    /// Who has the ball, or is after it, is done with the steps that he was still to do.
    fn forgets_his_steps(&mut self, who: usize) {
        let job = &mut self.jobs[who];
        job.steps.clear();
        let end = match job.task {
            Task::Chase => OrderEnd::LooseBall,
            _ => OrderEnd::BallCame,
        };
        let now = self.clock.seconds();
        if let Some(account) = &mut self.book.witness.orders {
            account.forgets(who, now, end, None);
        }
    }

    /// Done with one step of a rule's line, he goes on with the next.
    fn takes_the_next_step(&mut self, who: usize) {
        if !self.is_idle(who) {
            return;
        }
        let Some(step) = self.jobs[who].steps.pop_front() else {
            return;
        };
        let places = held(self.jobs);
        let tick = self.clock.tick;
        if step.leaves() {
            self.jobs[who].place = None;
        }
        let job = &mut self.jobs[who];
        job.order.found_at = places[who].or(job.order.found_at);
        (job.order.told, job.order.holds, job.order.left_lane) = (tick, false, false);
        (job.order.user_gone, job.order.screen_first) = (false, false);
        job.then(step, tick);
        reserve(self.ball, self.jobs, who, &places);
        no_two_on_one_place(self.play, self.ball, self.jobs, Some(self.ball.man()));
        let place = self.jobs[who].place;
        let now = self.clock.seconds();
        if let Some(account) = &mut self.book.witness.orders {
            account.next_step(who, now, place);
        }
    }

    /// Away from his place with nothing to do, he goes home; without one, to the first open place.
    fn goes_home(&mut self, who: usize) {
        let idle = self.is_idle(who);
        let job = &self.jobs[who];
        let told = job.order.told;
        let pos = self.old.scene.pos[who];
        let far =
            |home: &Spot| (home_of(self.play, self.old, who, told, *home) - pos).length() > ASTRAY;
        let goes = match job.place {
            _ if !idle => None,
            Some(home) => Some(home).filter(far),
            None => first_free(self.play, self.ball, self.jobs, who),
        };
        if let Some(spot) = goes {
            self.jobs[who].place = Some(spot);
            self.jobs[who].then(fill_exactly(spot, self.ball.side), self.clock.tick);
        }
    }

    /// The drive for which he was moved is over, and the ball is with somebody outside: the place that he left is his again,
    /// or, if a team-mate has it, the first to be kept filled that nobody holds.
    fn is_back_after_a_drive(&mut self, who: usize) {
        let Some(back) = self.jobs[who].back else {
            return;
        };
        let over = self.ball.hold().is_some_and(|hold| {
            let drives = hold.drive.is_some() || hold.drove_from.is_some();
            !drives && self.old.scene.pos[hold.by].length() > FAR_OUT
        });
        if !over || !self.is_idle(who) {
            return;
        }
        let free = |spot: &Spot| !self.jobs.iter().any(|job| job.place == Some(*spot));
        let kept = self.play.scenario.offence.keep_filled.iter();
        let mut kept = kept.filter_map(|place| place.spot(self.ball.side, None));
        let to = Some(back).filter(free).or_else(|| kept.find(free));
        let job = &mut self.jobs[who];
        (job.back, job.place) = (None, to.or(job.place));
    }

    /// The movement that he is to start, if its time has come. Nobody sets out while the ball is loose.
    fn due(&mut self, who: usize) -> Option<Movement> {
        let loose = matches!(self.ball.state, BallState::Loose { .. });
        if loose || self.clock.tick < self.jobs[who].starts {
            return None;
        }
        self.jobs[who].next.take()
    }

    /// The movement, unless he does it already or has to do something else first.
    fn unless_later(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        let movement = self.unless_he_shows(who, movement)?;
        // Nobody crosses in front of a drive: who waits beside the rim does so until it is over.
        let waits = matches!(self.jobs[who].task, Task::AwaitHelp { .. });
        if waits && driver(self.ball).is_some() && movement != Movement::Hold {
            self.jobs[who].next = Some(movement).filter(|m| *m != Movement::DropOff);
            return None;
        }
        let turns = matches!(
            movement,
            Movement::Fill(_) | Movement::Seal { .. } | Movement::Flash { .. }
        );
        if turns && self.crosses_the_lane(who, &movement) {
            self.jobs[who].next = Some(movement);
            return None;
        }
        let movement = self.unless_he_steps_out(who, movement)?;
        self.unless_the_way_is_shut(who, movement)
    }

    /// Three seconds are running: who is to screen or to show in the lane steps out first.
    fn unless_he_steps_out(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        let (scene, court) = (&self.old.scene, &self.play.cast.court);
        let pos = scene.pos[who];
        let through_it = match movement {
            Movement::ScreenFor {
                whom: Role::Player(n),
                ..
            } => usize::from(n)
                .checked_sub(1)
                .filter(|&i| i < 5)
                .is_some_and(|i| court.in_lane(screens::place(self.old, self.ball.pos, who, i))),
            // (A spot beside the lane and near is a way out of it.)
            Movement::Flash { to, .. } | Movement::Seal { at: to, .. } => to
                .spot(self.ball.side, self.jobs[who].own)
                .is_some_and(|spot| (feet(court, spot) - pos).length() >= GOES_OUT_BY_IT),
            _ => false,
        };
        let been_there = self.book.in_lane[who].max(self.book.came_in[who]);
        if !through_it || been_there <= ticks(COUNT_RUNS) {
            return Some(movement);
        }
        if !matches!(self.jobs[who].task, Task::Run { .. }) {
            self.jobs[who].task = run(pos, &[lane_side(scene, who, pos, court)], 0.95);
        }
        self.jobs[who].next = Some(movement);
        None
    }

    /// Who is showing already shows there, for as long from now on; elsewhere he shows afterwards.
    fn unless_he_shows(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        let side = self.ball.side;
        let job = &mut self.jobs[who];
        if let (
            Task::Flash { at, arrived, .. },
            Movement::Flash { to, .. } | Movement::Seal { at: to, .. },
        ) = (&mut job.task, &movement)
        {
            if to.spot(side, job.own) == Some(*at) {
                *arrived = arrived.map(|_| self.clock.tick);
            } else {
                job.next = Some(movement);
            }
            return None;
        }
        Some(movement)
    }

    /// In the middle of the lane a post comes out on the other side before he turns round; so does who has
    /// been there for some time.
    fn crosses_the_lane(&self, who: usize, movement: &Movement) -> bool {
        let (job, scene) = (&self.jobs[who], &self.old.scene);
        let post = job.place.is_some_and(|s| !s.name.is_perimeter());
        let goal = match movement {
            Movement::Flash { to, .. } => to.spot(self.ball.side, job.own),
            _ => job.place,
        };
        let court = &self.play.cast.court;
        let goal = goal.map_or(scene.pos[who], |s| court.spot(s));
        let on_his_way = matches!(
            job.task,
            Task::Run { .. } | Task::Flash { arrived: None, .. }
        );
        self.book.in_lane[who] > 0 && (post || self.turns_late(who, goal)) && on_his_way
    }

    /// Has he been in the lane for some time, and would he have to turn back?
    fn turns_late(&self, who: usize, goal: Vec2) -> bool {
        let scene = &self.old.scene;
        self.book.in_lane[who] > ticks(COUNT_RUNS)
            && (goal - scene.pos[who]).dot(scene.vel[who]) < 0.0
    }

    /// The movement, unless he waits a moment until his way is free.
    fn unless_the_way_is_shut(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        if !self.play.scenario.drill.any() {
            let most = plans::puts_off(self.play, self.ball, self.old, self.jobs, who, &movement);
            let job = &mut self.jobs[who];
            if most.is_some_and(|most| job.waited < ticks(most)) {
                job.waited += ASKS_EVERY;
                job.then(movement, self.clock.tick + ASKS_EVERY);
                return None;
            }
            job.waited = 0;
        }
        Some(movement)
    }

    /// Who has caught the ball outside, far from the place to which he was on his way, holds the place where he
    /// is, so that a team-mate fills the other one; unless it is none of those that are to be kept filled.
    fn he_holds_where_he_is(&mut self, hold: &Hold) {
        let &mut Tasks {
            play, ball, old, ..
        } = self;
        let pos = old.scene.pos[hold.by];
        let beside = |at: Vec2| (at - pos).length() < HAS_DRIBBLED_THERE;
        let stays = match hold.work {
            Ballwork::Holding => true,
            Ballwork::Dribbling => hold.at_mate.is_none() && hold.angle.is_none_or(beside),
            _ => false,
        };
        let Some(claimed) = self.jobs[hold.by].place.filter(|_| stays) else {
            return;
        };
        let here = holder_spot(play, old, hold.by);
        let outside = |spot: Spot| spot.name.is_perimeter();
        // In none of those that are to be kept filled, on his way to one: he takes it out there.
        if play.scenario.offence.goes_on(claimed, here, ball.side) {
            return;
        }
        // What a team-mate has been sent to is not his: he goes on to his own place.
        let taken = (0..5).any(|i| i != hold.by && self.jobs[i].place == Some(here));
        if taken {
            return;
        }
        if here != claimed && outside(here) && outside(claimed) && pos.length() > FAR_OUT {
            self.jobs[hold.by].place = Some(here);
            let who = hold.by as u8 + 1;
            self.book.write(self.clock, What::Holds { who, at: here });
            no_two_on_one_place(play, ball, self.jobs, Some(hold.by));
        }
    }
}
