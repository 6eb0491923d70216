//! A loose ball: it rolls, attackers run after it, and whoever gets there first has it.

use crate::court::Vec2;
use crate::possession::{Finish, TICK, Turnover};

use super::super::hands::rolls;
use super::super::parts::*;
use super::BallStep;

/// Nearer than this to a loose ball a player picks it up, metres.
const PICKS_UP: f64 = 0.7;
/// Nobody has a ball that has just come loose for so many ticks; and nobody gets it at all after so long, seconds.
const JUST_LOOSE: u32 = 4;
const NOBODY_GETS_IT: f64 = 3.0;

impl BallStep<'_, '_, '_> {
    /// One tick of a loose ball.
    pub(super) fn loose(&mut self) {
        let BallState::Loose {
            pos,
            vel,
            since,
            last,
            by,
        } = self.ball.state
        else {
            return;
        };
        let (pos, vel) = rolls(pos, vel, TICK);
        self.ball.pos = pos;
        let how = if by.is_some() {
            Turnover::Tipped
        } else {
            Turnover::LostPass
        };
        if !self.play.cast.court.in_bounds(pos) {
            self.turnover(how, last, by);
            return;
        }
        let tick = self.clock.tick;
        let first = self.first_to(pos).filter(|_| tick >= since + JUST_LOOSE);
        match first {
            Some((i, true)) => self.caught(i, Finish::OffHold),
            Some((d, false)) => self.turnover(how, last, Some(d)),
            None if tick > since + ticks(NOBODY_GETS_IT) => self.turnover(how, last, None),
            None => {
                self.sends_chasers(pos);
                self.ball.state = BallState::Loose {
                    pos,
                    vel,
                    since,
                    last,
                    by,
                }
            }
        }
    }

    /// Whoever is nearest by now goes for it, and whoever is beside it.
    fn sends_chasers(&mut self, pos: Vec2) {
        let off = self
            .mates
            .each_ref()
            .map(|(form, _)| (form.0.pos - pos).length());
        let nearest = (1..5).fold(0, |n, i| if off[i] < off[n] { i } else { n });
        let beside = self.play.cast.model.movement.loose_ball_distance;
        for (i, (_, job)) in self.mates.iter_mut().enumerate() {
            if i == nearest || off[i] < beside {
                (job.task, job.next) = (Task::Chase, None);
            }
        }
    }

    /// The player nearest to the ball who can pick it up: his number, 0–4, and is he an attacker?
    fn first_to(&self, pos: Vec2) -> Option<(usize, bool)> {
        let gaps = self.gaps(pos);
        let mut first: Option<(f64, usize, bool)> = None;
        for i in 0..5 {
            let mine = (self.mates[i].0.0.pos - pos).length();
            for (distance, attacker) in [(mine, true), (gaps[i], false)] {
                if distance < PICKS_UP && first.is_none_or(|(d, _, _)| distance < d) {
                    first = Some((distance, i, attacker));
                }
            }
        }
        first.map(|(_, i, attacker)| (i, attacker))
    }

    /// The ball comes loose here, last touched `by` a defender if one did.
    pub(super) fn free_ball(&mut self, pos: Vec2, vel: Vec2, last: usize, by: Option<usize>) {
        self.ball.pos = pos;
        self.ball.height = 0.3;
        self.ball.state = BallState::Loose {
            pos,
            vel,
            since: self.clock.tick,
            last,
            by,
        };
        // The nearest attacker goes for it, everybody beside it, and the next who has nothing else to do.
        let beside = self.play.cast.model.movement.loose_ball_distance;
        let mates = &mut *self.mates;
        let mut order = [0, 1, 2, 3, 4];
        order.sort_by(|&a, &b| {
            (mates[a].0.0.pos - pos)
                .length()
                .total_cmp(&(mates[b].0.0.pos - pos).length())
                .then(a.cmp(&b))
        });
        let mut chasers = 0;
        for (rank, &i) in order.iter().enumerate() {
            let idle = mates[i].1.next.is_none()
                && matches!(
                    mates[i].1.task,
                    Task::Stand | Task::Run { .. } | Task::GetOpen { .. } | Task::Meet { .. }
                );
            let is_beside = (mates[i].0.0.pos - pos).length() < beside;
            let job = &mut mates[i].1;
            if rank == 0 || is_beside || chasers < 2 && idle {
                chasers += 1;
                job.task = Task::Chase;
                job.next = None;
            } else if matches!(job.task, Task::Meet { .. } | Task::Handle) {
                job.task = Task::Stand;
            }
        }
    }
}
