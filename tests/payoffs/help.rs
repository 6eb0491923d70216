//! Attacks at the rim on which the post's defender commits to help, and what the ball handler makes
//! of them, read from tracks and timeline alone (no flag of the simulation is asked, so that any
//! simulation with the same record can be measured).
//!
//! * An **attack** begins with a drive, or with a catch within [`AT_THE_RIM`] of the rim, by anybody
//!   but the post. It ends with the attacker's pass, shot or lost ball, or when somebody else has it.
//! * The post's defender has **committed** when, for [`SUSTAINED`] on end, that defender is within
//!   [`NEAR`] of the ball handler, nearer to the ball handler than to the post, at least
//!   [`LEFT_ALONE`] from the post, and no farther from the rim than the ball handler.
//! * The **answer** is a pass after that (drop-off, kick-out or any other): worth what the possession
//!   goes on to promise. A shot counts as **through the help** if it leaves [`IN_TIME`] after the
//!   commitment or later; a sooner one says nothing.

use lanelight::possession::{Frame, Possession, TICK, What};

/// The post's number in the reference offence.
const POST: u8 = 5;
/// A catch this near to the rim is a catch at the rim, metres (ours).
const AT_THE_RIM: f64 = 3.0;
/// A helper this near to the ball handler is on the ball, metres (ours: two long steps).
const NEAR: f64 = 2.0;
/// A post whose defender is this far away is left alone, metres (ours: out of arm's reach).
const LEFT_ALONE: f64 = 1.5;
/// So long it must last to be a commitment and not a passing by, seconds (ours).
const SUSTAINED: f64 = 0.2;
/// A helper who commits so long before the shot could have been read, seconds.
const IN_TIME: f64 = 0.35;

/// What became of one helped attack.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    Pass,
    Shot,
    Lost,
}

/// One helped attack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Helped {
    pub deed: Deed,
    /// Points that the possession goes on to promise from there.
    pub worth: f64,
    /// Seconds since the possession began at which the defender commits.
    pub time: f64,
}

/// Every helped attack of a possession that promised `worth` points at its end.
pub fn helped(p: &Possession, worth: f64) -> Vec<Helped> {
    let mut found = Vec::new();
    let mut over = 0;
    for (i, entry) in p.timeline.iter().enumerate() {
        let who = match entry.what {
            What::Drives { who, .. } => who,
            What::Catches { who, .. } if at_the_rim(p, entry.time, who) => who,
            _ => continue,
        };
        if i < over || who == POST {
            continue;
        }
        let Some((end, deed)) = ends(p, i, who) else {
            continue;
        };
        over = end;
        let until = p.timeline[end].time;
        let Some(time) = commits(p, who, entry.time, until) else {
            continue;
        };
        if deed == Deed::Pass || until - time >= IN_TIME - 1e-9 {
            found.push(Helped { deed, worth, time });
        }
    }
    found
}

fn tick(time: f64) -> usize {
    (time / TICK).round() as usize
}

fn at_the_rim(p: &Possession, time: f64, who: u8) -> bool {
    let frame = p.track.get(tick(time));
    frame.is_some_and(|f| f.attackers[usize::from(who) - 1].length() < AT_THE_RIM)
}

/// Which entry ends the attack that entry `begin` began, and how.
fn ends(p: &Possession, begin: usize, who: u8) -> Option<(usize, Deed)> {
    for (i, entry) in p.timeline.iter().enumerate().skip(begin + 1) {
        let deed = match entry.what {
            What::Passes { from, .. } if from == who => Deed::Pass,
            What::Shoots { who: shooter, .. } if shooter == who => Deed::Shot,
            What::Ends { .. } => Deed::Lost,
            What::Catches { who: other, .. } if other != who => return None,
            _ => continue,
        };
        return Some((i, deed));
    }
    None
}

/// When the post's defender commits to the ball handler, if that happens between the two times.
fn commits(p: &Possession, who: u8, from: f64, until: f64) -> Option<f64> {
    let last = tick(until).min(p.track.len().saturating_sub(1));
    let first = tick(from).min(last);
    let defender = p.track.get(first)?.guards.iter().position(|g| *g == POST)?;
    let mut since = None;
    for frame in &p.track[first..=last] {
        if !on_the_ball(frame, who, defender) {
            since = None;
            continue;
        }
        let began = *since.get_or_insert(frame.time);
        if frame.time - began >= SUSTAINED - 1e-9 {
            return Some(began);
        }
    }
    None
}

fn on_the_ball(frame: &Frame, who: u8, defender: usize) -> bool {
    let (helper, ball) = (
        frame.defenders[defender],
        frame.attackers[usize::from(who) - 1],
    );
    let post = frame.attackers[usize::from(POST) - 1];
    let (to_ball, to_post) = ((helper - ball).length(), (helper - post).length());
    frame.holder == Some(who)
        && to_ball < NEAR
        && to_ball < to_post
        && to_post >= LEFT_ALONE
        && helper.length() <= ball.length()
}
