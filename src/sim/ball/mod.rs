//! The ball: passes leave, fly, are caught, taken or lost; drives get on or get stopped; shots go up.
//!
//! Without a rule: a passer keeps the ball if the lane shuts as the ball is about to leave. A pass to a
//! player who stands goes to the hand away from the defender (`looks::passing::aim`).

use crate::court::{Side, Vec2};
use crate::possession::{Ending, Turnover, What};

use super::officials::end;
use super::parts::*;
use super::sight::holder_spot;

mod catch;
mod drive;
mod flying;
mod hand_over;
mod held;
mod loose;
mod shot;
mod throw;

/// Height of a ball that is held, and how far it is in front of the body, metres.
const HELD_AT: f64 = 1.2;
const IN_FRONT: f64 = 0.3;

type Mates<'a, 'b> = [(&'a Form, &'b mut Job); 5];

type Others<'a> = [(&'a Form, &'a Guard, &'a Eyes); 5];

/// All that a step of the ball reads and writes: the floor, the attackers with their jobs, the defenders.
struct BallStep<'f, 'a, 'b> {
    play: &'f Play,
    clock: &'f Clock,
    old: &'f Old,
    ball: &'f mut Ball,
    signals: &'f mut Signals,
    book: &'f mut Book,
    mates: &'f mut Mates<'a, 'b>,
    others: &'f Others<'a>,
}

/// The ball in this tick, after everybody has moved.
pub fn ball_goes_on(floor: &mut Floor, attackers: &mut [Attacker; 5], defenders: &[Defender; 5]) {
    let Floor {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        ..
    } = floor;
    let mut mates = attackers.each_mut().map(|a| (&a.form, &mut a.job));
    let others = defenders.each_ref().map(|d| (&d.form, &d.guard, &d.eyes));
    let mut step = BallStep {
        play,
        clock,
        old,
        ball,
        signals,
        book,
        mates: &mut mates,
        others: &others,
    };
    match step.ball.state {
        BallState::Held(hold) => step.held(hold),
        BallState::Flying { .. } => step.flying(),
        BallState::Loose { .. } => step.loose(),
        BallState::Dead => {}
    }
    let ball = &*step.ball;
    // Whoever holds a place in the middle, a step off it, holds the ball in the middle; a drive takes it along.
    let stays = ball.hold().filter(|hold| hold.drive.is_none());
    let in_the_middle =
        stays.is_some_and(|hold| holder_spot(step.play, step.old, hold.by).name.is_centre());
    // The side from which a drive begins is the ball side, though the ball be hardly over the midline yet.
    let drives_from = ball
        .hold()
        .and_then(|hold| hold.drive)
        .filter(|drive| drive.began == step.clock.tick)
        .and_then(|drive| drive.from.side);
    let side = match ball.state {
        BallState::Flying { .. } | BallState::Dead => ball.side,
        // A ball in the middle keeps the side from which it came.
        _ if in_the_middle => ball.side,
        _ if ball.pos.x > 1.2 => Side::Right,
        _ if ball.pos.x < -1.2 => Side::Left,
        _ => ball.side,
    };
    step.turn_side(drives_from.unwrap_or(side));
}

impl BallStep<'_, '_, '_> {
    /// The ball is on this side from now on.
    fn turn_side(&mut self, side: Side) {
        if side != self.ball.side {
            self.ball.side = side;
            self.signals.now.push(Happening::BallCrosses);
        }
    }

    /// The ball goes from one attacker to another (0–4): spells that are counted begin anew, and what was to be done
    /// while it stayed is off.
    fn has_gone_on(&mut self, from: usize, to: usize) {
        self.signals.last_passer = Some(from);
        self.signals.answered = 0;
        self.signals.denied = [0; 5];
        self.signals.forgotten = 0;
        self.book.stalled = None;
        for (i, (_, job)) in self.mates.iter_mut().enumerate() {
            job.order.holds = false;
            if i != to && job.let_it_be() {
                let who = i as u8 + 1;
                self.book.write(self.clock, What::LetsBe { who });
            }
        }
    }

    /// Attacker `who` (0–4) loses the ball, `by` a defender (0–4) if one took it.
    fn turnover(&mut self, how: Turnover, who: usize, by: Option<usize>) {
        let ending = Ending::Turnover {
            how,
            who: who as u8 + 1,
            by: by.map(|d| d as u8 + 1),
        };
        end(self.clock, self.ball, self.book, ending);
    }

    /// How far each defender is from a point, metres.
    fn gaps(&self, pos: Vec2) -> [f64; 5] {
        self.others
            .each_ref()
            .map(|(form, _, _)| (form.0.pos - pos).length())
    }
}
