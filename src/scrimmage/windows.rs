//! Windows: unbroken spells of decision instants in which something holds for one ball holder.
//!
//! A spell ends when the thing no longer holds, when the ball has a new holder, or when the ball
//! has been out of hands in between. Its length is its number of decision instants, each of which
//! stands for [`INSTANT`] seconds.

use crate::possession::{DECISION_EVERY, Moment, TICK};

/// Seconds that one decision instant stands for.
pub const INSTANT: f64 = TICK * DECISION_EVERY as f64;

/// A stall lasts so many decision instants at least, 0.8 s: a shorter one is a breath (ours). The one definition of all
/// figures, reports and pages.
pub const STALL: u16 = 4;

/// One spell: instants `first..first + length` of the possession's moments.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spell {
    /// Index of the first moment.
    pub first: usize,
    /// How many moments, decision instants.
    pub length: u16,
}

/// Does moment `b` follow on moment `a` with the ball in the same hands all the while?
fn goes_on(a: &Moment, b: &Moment) -> bool {
    a.holder == b.holder && b.time - a.time < 1.5 * INSTANT && b.held >= a.held
}

/// The spells in which `holds` is true.
pub fn spells(moments: &[Moment], holds: impl Fn(&Moment) -> bool) -> Vec<Spell> {
    let mut found: Vec<Spell> = Vec::new();
    let mut running = false;
    for (i, moment) in moments.iter().enumerate() {
        if !holds(moment) {
            running = false;
            continue;
        }
        if running && goes_on(&moments[i - 1], moment) {
            if let Some(last) = found.last_mut() {
                last.length = last.length.saturating_add(1);
            }
        } else {
            found.push(Spell {
                first: i,
                length: 1,
            });
        }
        running = true;
    }
    found
}

/// The stalls: spells of [`STALL`] instants or more in which the holder has no open look and is not on a drive.
pub fn stalls(moments: &[Moment]) -> Vec<Spell> {
    let mut found = spells(moments, Moment::stalls);
    found.retain(|spell| spell.length >= STALL);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::possession::Ballwork;
    use crate::scrimmage::fixture::moment;

    #[test]
    fn a_window_ends_when_the_look_shuts_or_the_ball_moves_on() {
        let mut ms: Vec<Moment> = (0..8_u8)
            .map(|i| moment(f64::from(i) * INSTANT, 1))
            .collect();
        let lit = |m: &Moment| m.spacing.lane_free;
        for (i, m) in ms.iter_mut().enumerate() {
            m.spacing.lane_free = i != 2;
        }
        assert_eq!(
            spells(&ms, lit),
            [
                Spell {
                    first: 0,
                    length: 2
                },
                Spell {
                    first: 3,
                    length: 5
                }
            ]
        );
        ms[5].holder = 2;
        assert_eq!(spells(&ms, lit).len(), 4);
        assert_eq!(spells(&[], lit), []);
    }

    #[test]
    fn a_ball_in_the_air_breaks_a_window() {
        let ms = [moment(0.0, 1), moment(INSTANT, 1), moment(5.0 * INSTANT, 1)];
        assert_eq!(spells(&ms, |_| true).len(), 2);
    }

    #[test]
    fn a_breath_is_no_stall() {
        let of = |count: u8| -> Vec<Moment> {
            (0..count)
                .map(|i| moment(f64::from(i) * INSTANT, 1))
                .collect()
        };
        assert_eq!(stalls(&of(3)), []);
        let spell = Spell {
            first: 0,
            length: STALL,
        };
        assert_eq!(stalls(&of(4)), [spell]);
        // A drive is no stall, whatever is open.
        let mut drives = of(9);
        drives[4].ballwork = Ballwork::Driving;
        let after = Spell { first: 5, ..spell };
        assert_eq!(stalls(&drives), [spell, after]);
    }
}
