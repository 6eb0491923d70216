//! How each movement starts: the task that it begins with.

use crate::court::{Spot, Vec2};
use crate::offence::{CutLane, Movement, OffScreen, Place, Role};
use crate::possession::What;

use super::super::manner::{COMES_OUT, FILLS, SHIFTS, home_of};
use super::super::parts::*;
use super::super::plans;
use super::super::rules::{Involved, fill_exactly, find};
use super::super::screens;
use super::super::ways::{crowded, cut, cuts_from, end_of, feet, lane_side, line_of, run};
use super::{COUNT_RUNS, Tasks};

/// Who is to show where somebody stands looks again after this long, until he has known it for so long,
/// seconds (ours).
const LETS_HIM_BY: f64 = 0.2;
const LETS_HIM_BY_UNTIL: f64 = 4.0;

impl Tasks<'_, '_> {
    /// Player `who` starts a movement.
    pub(super) fn take_up(&mut self, who: usize, movement: Movement) {
        let Some(movement) = self.unless_he_cuts(who, movement) else {
            return;
        };
        match movement {
            Movement::Hold => self.jobs[who].order.holds = true,
            Movement::Fill(_) | Movement::FillFirst(_) | Movement::Replace(_) => self.fills(who),
            Movement::Drift(_) | Movement::Lift(_) => self.shifts(who),
            Movement::CircleOut(_) | Movement::GoThrough(_) => self.comes_out(who),
            Movement::Cut { lane, to, unfed } => self.cuts(who, (lane, to), unfed),
            Movement::ScreenFor { whom, after } => self.sets_a_screen(who, whom, after),
            Movement::UseScreen {
                of,
                to,
                ways,
                unfed,
            } => self.waits_for_a_screen(who, of, to.map(|_| ways), unfed),
            Movement::Flash { .. } | Movement::Seal { .. } => self.shows(who, movement),
            Movement::DropOff => {
                let pos = self.old.scene.pos[who];
                let home = self.place(who).map_or(pos, |(_, at)| at);
                self.jobs[who].task = Task::AwaitHelp { home, gone: false };
            }
            // The ball does it (`ball/held.rs`).
            Movement::DribbleAt(_)
            | Movement::HandOff(_)
            | Movement::DribbleHandOff(_)
            | Movement::PassNext(_) => {}
        }
    }

    /// A cutter on his way finishes his cut first; the new order says where he comes out. Told to cut, he cuts already.
    /// And who stands as a set screen stands until it is over, and who waits for one that is a stride away uses it.
    fn unless_he_cuts(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        let movement = self.unless_he_screens(who, movement)?;
        if let Task::UseScreen { unfed, .. } = &mut self.jobs[who].task
            && self.jobs[who].order.screen_first
        {
            **unfed = movement;
            return None;
        }
        let there = match &movement {
            Movement::Cut { to, .. } => end_of(self.ball, self.jobs[who], *to),
            _ => None,
        };
        if let Task::Cut {
            to,
            unfed,
            reached: None,
            ..
        } = &mut self.jobs[who].task
            && movement != Movement::Hold
        {
            **unfed = match movement {
                Movement::Cut { unfed, .. } if *to == there => *unfed,
                other => other,
            };
            return None;
        }
        Some(movement)
    }

    /// Who stands as a set screen, or is a stride from where it is waited for, screens first; and told to screen for the
    /// same team-mate again goes on with it.
    fn unless_he_screens(&mut self, who: usize, movement: Movement) -> Option<Movement> {
        let (keeper, tick) = (self.ball.keeper(), self.clock.tick);
        let job = &mut *self.jobs[who];
        let first = job.order.screen_first;
        let Task::Screen {
            whom,
            until,
            set,
            on_ball,
            after,
            ..
        } = &mut job.task
        else {
            return Some(movement);
        };
        match movement {
            Movement::ScreenFor {
                whom: Role::Player(n),
                after: next,
            } if usize::from(n) == *whom + 1 && *on_ball == (keeper == Some(*whom)) => {
                *after = next;
                *until = tick + ticks(screens::RUNS);
            }
            other if set.is_none() && !first => return Some(other),
            Movement::Hold => {}
            other => **after = other,
        }
        None
    }

    /// His place, and its point for him.
    fn place(&self, who: usize) -> Option<(Spot, Vec2)> {
        let job = &self.jobs[who];
        let point = |spot| home_of(self.play, self.old, who, job.order.told, spot);
        job.place.map(|spot| (spot, point(spot)))
    }

    fn writes_that_he_fills(&mut self, who: usize, to: Spot) {
        let who = who as u8 + 1;
        self.book.write(self.clock, What::Fills { who, to });
    }

    /// He runs to the place that he is to fill.
    fn fills(&mut self, who: usize) {
        let Some((spot, goal)) = self.place(who) else {
            return;
        };
        let scene = &self.old.scene;
        let pos = scene.pos[who];
        if (goal - pos).length() > 0.5 {
            self.writes_that_he_fills(who, spot);
        }
        // Three seconds are running: out first, then across.
        let steps_out = self.book.in_lane[who] > ticks(COUNT_RUNS) && !spot.name.is_perimeter();
        self.jobs[who].task = if steps_out {
            let exit = lane_side(scene, who, pos, &self.play.cast.court);
            run(pos, &[exit, goal], 0.95)
        } else {
            way_out(self.play, self.old, who, spot, goal, FILLS)
        };
    }

    /// He drifts or lifts: straight to his new place.
    fn shifts(&mut self, who: usize) {
        if let Some((spot, goal)) = self.place(who) {
            self.writes_that_he_fills(who, spot);
            self.jobs[who].task = run(self.old.scene.pos[who], &[goal], SHIFTS);
        }
    }

    /// He circles out, or goes through to the other side.
    fn comes_out(&mut self, who: usize) {
        if let Some((spot, goal)) = self.place(who) {
            self.jobs[who].task = way_out(self.play, self.old, who, spot, goal, COMES_OUT);
        }
    }

    fn cuts(&mut self, who: usize, way: (CutLane, Option<Place>), unfed: Box<Movement>) {
        let old = self.old;
        let found = self.jobs[who].order.found_at;
        let from = cuts_from(&self.play.cast.court, found, old.scene.pos[who], old.side);
        let (to, line) = line_of(self.play, old, self.ball, self.jobs[who], who, way);
        let (number, ends) = (who as u8 + 1, (from, to));
        self.jobs[who].task = cut(self.clock, self.book, number, way.0, ends, line, unfed);
    }

    /// The team-mate, other than he himself, whom a role names when nobody has just moved.
    fn mate(&self, role: Role, passer: Option<usize>) -> Option<usize> {
        let &Tasks {
            play,
            ball,
            old,
            signals,
            ..
        } = self;
        let involved = Involved {
            passer,
            ..Involved::default()
        };
        let hold = ball.hold().map(|h| h.by);
        find(role, &involved, play, ball, old, signals, &old.places, hold)
    }

    /// He runs to screen for a team-mate; if there is none, he goes on with what comes after.
    fn sets_a_screen(&mut self, who: usize, whom: Role, after: Box<Movement>) {
        match self.mate(whom, None) {
            Some(mate) if mate != who => {
                let ordered = self.jobs[who].order.for_the_ball.take();
                self.jobs[who].task = Task::Screen {
                    whom: mate,
                    until: self.clock.tick + ticks(screens::RUNS),
                    set: None,
                    on_ball: self.ball.keeper() == Some(mate) || ordered == Some(mate),
                    awaited: false,
                    steps_out: false,
                    after,
                }
            }
            _ => {
                let (now, place) = (self.clock.seconds(), self.jobs[who].place);
                if let Some(account) = &mut self.book.witness.orders {
                    account.goes_on(who, now, (&after, place));
                }
                self.jobs[who].next = Some(*after);
            }
        }
    }

    /// The point by which he comes out from under the rim to where he waits.
    fn way_out_by(&self, who: usize, to: Vec2) -> Option<Vec2> {
        let scene = &self.old.scene;
        let under = scene.pos[who].length() < self.play.cast.model.movement.full_pace_distance;
        if !under || self.play.scenario.drill.any() {
            return None;
        }
        match plans::freest_way_out(self.play, scene, who, to, 1.0) {
            Task::Run { way, legs: 3, .. } => Some(way[1]),
            _ => None,
        }
    }

    /// He waits for a team-mate's screen; if there is none, he cuts.
    fn waits_for_a_screen(
        &mut self,
        who: usize,
        of: Role,
        to_a_place: Option<Vec<OffScreen>>,
        unfed: Box<Movement>,
    ) {
        let (court, pos) = (&self.play.cast.court, self.old.scene.pos[who]);
        let last_passer = self.signals.last_passer;
        match self.mate(of, last_passer).or(last_passer) {
            Some(mate) if mate != who => {
                let (number, of) = (who as u8 + 1, mate as u8 + 1);
                let waits = What::Waits { who: number, of };
                self.book.write(self.clock, waits);
                // Under the rim he first comes out to the place by which the rule found him.
                let found = self.jobs[who].order.found_at;
                let there = found.map(|spot| (spot.name.is_inside(), feet(court, spot)));
                // Inside he waits beside the lane, so that three seconds do not run.
                let waits = there
                    .filter(|(inside, at)| *inside || (at - pos).length() > screens::NEAR)
                    .map(|(_, at)| at);
                let via = waits.and_then(|at| self.way_out_by(who, at));
                self.jobs[who].task = Task::UseScreen {
                    of: mate,
                    at: waits.unwrap_or(pos),
                    via,
                    since: self.clock.tick,
                    there: None,
                    to_a_place,
                    unfed,
                };
            }
            // To a place he goes without it.
            _ if to_a_place.is_some() => {
                let place = self.jobs[who].place;
                self.jobs[who].next = place.map(|spot| fill_exactly(spot, self.ball.side));
            }
            _ => {
                let lane = CutLane::BallSide;
                self.jobs[who].next = Some(Movement::Cut {
                    lane,
                    to: None,
                    unfed,
                });
            }
        }
    }

    /// He flashes or seals, unless somebody is in the way: then he tries again a little later, for a while.
    fn shows(&mut self, who: usize, movement: Movement) {
        let (to, seconds, seal) = match movement {
            Movement::Flash { to, seconds } => (to, seconds, false),
            Movement::Seal { at, seconds } => (at, seconds, true),
            _ => return,
        };
        let Some(spot) = to.spot(self.ball.side, self.jobs[who].own) else {
            return;
        };
        let (clock, court) = (self.clock, &self.play.cast.court);
        if !self.is_crowded(who, court.spot(spot)) {
            self.jobs[who].task = Task::Flash {
                at: spot,
                goal: feet(court, spot),
                arrived: None,
                ticks: ticks(seconds),
                seal,
            };
        } else if clock.tick < self.jobs[who].order.told + ticks(LETS_HIM_BY_UNTIL) {
            // He lets a cutter by first.
            self.jobs[who].then(movement, clock.tick + ticks(LETS_HIM_BY));
        } else {
            let gives_up = What::NoFlash {
                who: who as u8 + 1,
                to: spot,
                taken: true,
            };
            self.book.write(clock, gives_up);
        }
    }

    /// Is a team-mate beside this point, who is not on his way out again?
    fn is_crowded(&self, who: usize, at: Vec2) -> bool {
        (0..5).any(|i| {
            // Who takes his man in is on his way out again.
            let stays = !matches!(self.jobs[i].task, Task::GetOpen { .. });
            i != who && stays && (self.old.scene.pos[i] - at).length() < 1.2
        })
    }
}

/// From the rim out: along the baseline and round to a wing or a corner, straight up to anywhere else,
/// or by the side of the lane if bodies stand in the way.
fn way_out(play: &Play, old: &Old, who: usize, spot: Spot, goal: Vec2, pace: f64) -> Task {
    let court = &play.cast.court;
    let scene = &old.scene;
    let pos = scene.pos[who];
    let under = pos.length() < play.cast.model.movement.full_pace_distance;
    if under && spot.name.is_perimeter() && !play.scenario.drill.any() {
        return plans::freest_way_out(play, scene, who, goal, pace);
    }
    // To the top he goes out on the side on which he is.
    let x = if spot.side.is_some() { goal.x } else { pos.x };
    let side = if x < 0.0 { -1.0 } else { 1.0 };
    let low = pos.y < 2.5;
    let pace = if spot.name.is_perimeter() { pace } else { 0.95 };
    if !low || !spot.name.is_wide() {
        let way = goal - pos;
        let up = pos + way * (LOOKS_UP / way.length().max(LOOKS_UP));
        if low && court.in_lane(pos) && crowded(scene, who, pos, up) {
            return run(pos, &[lane_side(&old.scene, who, goal, court), goal], pace);
        }
        return run(pos, &[goal], pace);
    }
    // Below the block, where the post may stand.
    let first = Vec2::new(
        side * (court.lane_width * 0.5 + 0.7),
        -0.1 * court.rim_to_baseline,
    );
    let second = Vec2::new(
        side * (goal.x.abs() * 0.8).max(first.x.abs()),
        (goal.y * 0.4).max(0.2),
    );
    if (pos.x - second.x) * side > -BEYOND {
        run(pos, &[goal], pace)
    } else if (pos.x - first.x) * side > 0.0 {
        run(pos, &[second, goal], pace)
    } else {
        run(pos, &[first, second, goal], pace)
    }
}

/// Whoever comes out of the lane looks this far up his way, metres (ours).
const LOOKS_UP: f64 = 2.5;

/// From so far before the turn of that way on he goes straight to his place, metres (ours).
const BEYOND: f64 = 1.5;
