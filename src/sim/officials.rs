//! What ends a possession but a shot: clocks, closely guarded, lane seconds.

use crate::possession::{Ballwork, Ending, TICK, Turnover, What};

use super::parts::*;

pub fn end(clock: &Clock, ball: &mut Ball, book: &mut Book, ending: Ending) {
    book.write(clock, What::Ends { ending });
    book.ending = Some(ending);
    ball.state = BallState::Dead;
}

/// A player who is leaving the lane is called all the same once he has been in it for this much longer
/// than the rule allows, seconds (ours).
const ALLOWANCE: f64 = 1.5;

/// The referee: shot clock and lane seconds; and, without a shot clock, the end of patience.
pub fn referee_watches(floor: &mut Floor, attackers: &[Attacker; 5]) {
    let Floor {
        play,
        clock,
        ball,
        book,
        ..
    } = floor;
    if book.ending.is_some() || play.scenario.drill.passive {
        return;
    }
    if let Some(allowed) = play.cast.court.clock.lane_seconds {
        for (who, Attacker { form, job, .. }) in attackers.iter().enumerate() {
            if !play.cast.court.in_lane(form.0.pos) {
                (book.in_lane[who], book.came_in[who]) = (0, 0);
                continue;
            }
            // Nor does it run while he goes to the basket.
            let driving = ball.hold().is_some_and(|h| {
                let shoots = matches!(h.pending, Some(Pending::Shot { .. }));
                h.by == who && (h.work == Ballwork::Driving || shoots)
            });
            // Allowances are made for a player who is leaving the lane (FIBA Official Basketball
            // Rules, Art. 26, from memory): his count stands still, though not for long.
            let came_in = book.came_in[who];
            let leaves = matches!(
                job.task,
                Task::Run { .. }
                    | Task::Flash { arrived: None, .. }
                    | Task::Screen { set: None, .. }
                    | Task::UseScreen { .. }
                    | Task::AwaitHelp { .. }
            );
            let leaving = leaves
                && form.0.vel.length() > 0.6
                && f64::from(came_in) * TICK < allowed + ALLOWANCE;
            (book.in_lane[who], book.came_in[who]) = match (driving, leaving) {
                (true, _) => (0, 0),
                (false, true) => (book.in_lane[who].max(1), came_in + 1),
                // In all he has the rule's time and the allowance.
                (false, false) => (
                    (book.in_lane[who] + 1).max((came_in + 1).saturating_sub(ticks(ALLOWANCE))),
                    came_in + 1,
                ),
            };
            if f64::from(book.in_lane[who]) * TICK > allowed {
                end(
                    clock,
                    ball,
                    book,
                    Ending::Turnover {
                        how: Turnover::LaneSeconds,
                        who: who as u8 + 1,
                        by: None,
                    },
                );
                return;
            }
        }
    }
    let over = clock.tick >= clock.limit + if clock.ruled { 0 } else { ticks(20.0) };
    let released = !matches!(
        ball.state,
        BallState::Held(_) | BallState::Flying { .. } | BallState::Loose { .. }
    );
    if over && !released {
        let who = ball.man() as u8 + 1;
        end(
            clock,
            ball,
            book,
            Ending::Turnover {
                how: Turnover::ShotClock,
                who,
                by: None,
            },
        );
    }
}
