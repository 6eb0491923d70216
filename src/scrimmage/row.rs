//! One possession reduced to numbers: what the scrimmage's figures are made of.
//!
//! Time is counted in decision instants while somebody has the ball; **held** instants leave out
//! those of a drive on its way. A window is a spell in the hands of one ball holder (see
//! `windows`); each look is one kind of thing done with one team-mate.
//!
//! A look is **unused light** when it is open but the rules of the offence never take it. What a
//! possession leaves unused is the most that such a look promised above the best look that the
//! rules allow at the same instant: an upper bound, for it takes the look for granted.
//!
//! A backdoor chance is *there* in windows, *taken* when a player cuts behind his defender, *fed*
//! when the pass is thrown to such a cutter, *finished* when he then shoots off the cut.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::court::{ShotZone, Side};
use crate::defence::{Duty, Relation};
use crate::offence::{CutLane, LookKind};
use crate::possession::{Ballwork, Ending, Finish, Moment, Possession, Turnover, What};

use super::windows::{INSTANT, spells, stalls};

/// A driving lane counts as open above this openness, a chance (definition of open-lane time).
pub const OPEN_LANE: f64 = 0.5;

/// One kind of look in one possession.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct LookRow {
    /// Instants at which at least one look of this kind was open.
    pub open_instants: u32,
    /// The same, without those of a drive on its way.
    pub held_open: u32,
    /// Looks of this kind seen, open or not, over all instants, and the sum of their openness.
    pub seen: u32,
    /// Sum of the openness of the looks seen, each a chance in 0..=1.
    pub openness: f64,
    /// Looks of this kind open, over all instants, and the sum of their value, points.
    pub open: u32,
    /// Sum of the value of the open looks, points.
    pub value: f64,
    /// Length of each window, decision instants.
    pub windows: Vec<u16>,
    /// Windows in which the look was taken, and windows that the rules never take.
    pub windows_taken: u32,
    /// Windows that the rules never take.
    pub windows_unused: u32,
    /// Times it was taken, open or not.
    pub taken: u32,
    /// Closed looks by the closer's relation and duty, and by his number.
    pub shut: [[u16; Duty::ALL.len()]; Relation::ALL.len()],
    /// Closed looks by the closer's number, X1 first.
    pub shut_by: [u16; 5],
}

impl LookRow {
    /// Closed looks with somebody who shut them.
    pub fn closed(&self) -> u32 {
        self.shut_by.iter().map(|n| u32::from(*n)).sum()
    }
}

/// A shot, if the possession came to one.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shot {
    /// Number of the shooter, 1–5.
    pub shooter: u8,
    /// Points that it counts if it goes in, 2 or 3.
    pub points: u8,
    /// Did it go in?
    pub made: bool,
    /// After a foul on the shot: free throws made, of two. Then `points` is 2 and `chance` that of one throw.
    pub throws: Option<u8>,
    /// The zone from which it was taken.
    pub zone: ShotZone,
    /// The action that it came from.
    pub finish: Finish,
    /// Distance from the rim, metres.
    pub distance: f64,
    /// Distance of the nearest defender, metres.
    pub room: f64,
    /// Chance to go in, 0..=1.
    pub chance: f64,
}

/// One possession in numbers. Sums of spacing are over all instants.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// Seed that replays it.
    pub seed: u64,
    /// The side on which the ball started.
    pub side: Side,
    /// Points scored.
    pub points: u8,
    /// The shot, if it came to one.
    pub shot: Option<Shot>,
    /// How the ball was lost, the attacker who lost it and the defender who got it (numbers 1–5).
    pub turnover: Option<(Turnover, u8, Option<u8>)>,
    /// Seconds.
    pub duration: f64,
    /// Passes thrown.
    pub passes: u32,
    /// Seconds between one pass and the next, summed, and how many such gaps.
    pub pass_gaps: (f64, u32),
    /// Decision instants with somebody holding the ball.
    pub instants: u32,
    /// The same, without those of a drive on its way.
    pub held: u32,
    /// Held instants with the driving lane open.
    pub lane_open: u32,
    /// In the order of [`LookKind::ALL`].
    pub looks: [LookRow; LookKind::ALL.len()],
    /// Windows of open skip passes to a team-mate who could shoot at once, which no rule takes.
    pub weak_spot_ups: u32,
    /// Length of each window of a backdoor chance, decision instants.
    pub backdoor_windows: Vec<u16>,
    /// Backdoor cuts made.
    pub backdoor_taken: u32,
    /// Passes thrown to a backdoor cutter.
    pub backdoor_fed: u32,
    /// Shots off a backdoor cut.
    pub backdoor_finished: u32,
    /// Length of each stall, decision instants.
    pub stalls: Vec<u16>,
    /// Instants with nothing open that the rules take.
    pub dark: u32,
    /// Points per possession left unused at most.
    pub unused_points: f64,
    /// Sum of the mean distance to the nearest team-mate, metres.
    pub nearest: f64,
    /// Sum of the hull area of the attackers, square metres.
    pub hull: f64,
    /// Sum of the hull area of the defenders, square metres.
    pub defence_hull: f64,
    /// Instants at which one defender can guard two attackers.
    pub one_guards_two: u32,
    /// Instants at which the lane from holder to rim is free.
    pub lane_free: u32,
}

impl Row {
    /// The numbers of one possession.
    pub fn of(p: &Possession) -> Row {
        let (shot, turnover) = match p.ending {
            Ending::Shot {
                shooter,
                points,
                made,
                throws,
                zone,
                finish,
                distance,
                room,
                chance,
            } => (
                Some(Shot {
                    shooter,
                    points,
                    made,
                    throws,
                    zone,
                    finish,
                    distance,
                    room,
                    chance,
                }),
                None,
            ),
            Ending::Turnover { how, who, by } => (None, Some((how, who, by))),
        };
        let mut row = Row {
            seed: p.seed,
            side: p.side,
            points: p.ending.points(),
            shot,
            turnover,
            duration: p.duration,
            passes: 0,
            pass_gaps: (0.0, 0),
            instants: p.moments.len() as u32,
            held: 0,
            lane_open: 0,
            looks: Default::default(),
            weak_spot_ups: 0,
            backdoor_windows: Vec::new(),
            backdoor_taken: 0,
            backdoor_fed: 0,
            backdoor_finished: 0,
            stalls: stalls(&p.moments).iter().map(|s| s.length).collect(),
            dark: 0,
            unused_points: 0.0,
            nearest: 0.0,
            hull: 0.0,
            defence_hull: 0.0,
            one_guards_two: 0,
            lane_free: 0,
        };
        row.read_timeline(p);
        for m in &p.moments {
            row.read_moment(m);
        }
        row.read_windows(&p.moments);
        row
    }

    /// The look of that kind.
    pub fn look(&self, kind: LookKind) -> &LookRow {
        &self.looks[index(kind)]
    }

    fn read_timeline(&mut self, p: &Possession) {
        let mut last_pass: Option<(f64, LookKind, u8)> = None;
        for entry in &p.timeline {
            match entry.what {
                What::Passes { to, look, .. } => {
                    self.passes += 1;
                    if let Some((before, ..)) = last_pass {
                        self.pass_gaps.0 += entry.time - before;
                        self.pass_gaps.1 += 1;
                    }
                    self.backdoor_fed += u32::from(look == LookKind::Backdoor);
                    last_pass = Some((entry.time, look, to));
                }
                What::Cuts {
                    lane: CutLane::Behind,
                    ..
                } => self.backdoor_taken += 1,
                _ => {}
            }
        }
        if let (Some(shot), Some((_, LookKind::Backdoor, to))) = (self.shot, last_pass)
            && shot.finish == Finish::Cut
            && shot.shooter == to
        {
            self.backdoor_finished += 1;
        }
    }

    fn read_moment(&mut self, m: &Moment) {
        let held = m.ballwork != Ballwork::Driving;
        self.held += u32::from(held);
        let drive_open =
            |l: &&crate::possession::LookNow| l.kind == LookKind::Drive && l.openness > OPEN_LANE;
        self.lane_open += u32::from(held && m.looks.iter().any(|l| drive_open(&l)));
        let mut open = [false; LookKind::ALL.len()];
        for look in &m.looks {
            open[index(look.kind)] |= look.open;
        }
        for (row, open) in self.looks.iter_mut().zip(open) {
            row.open_instants += u32::from(open);
            row.held_open += u32::from(open && held);
        }
        for look in &m.looks {
            let row = &mut self.looks[index(look.kind)];
            row.seen += 1;
            row.openness += look.openness;
            if look.open {
                row.open += 1;
                row.value += look.value;
            } else if let Some(closer) = look.closer {
                let cell = &mut row.shut[closer.relation as usize][closer.duty as usize];
                *cell = cell.saturating_add(1);
                let who = usize::from(closer.defender.clamp(1, 5)) - 1;
                row.shut_by[who] = row.shut_by[who].saturating_add(1);
            }
        }
        if let Some(look) = m.choice.and_then(|i| m.looks.get(i)) {
            self.looks[index(look.kind)].taken += 1;
        }
        self.dark += u32::from(m.looks.iter().all(|l| !(l.open && l.allowed)));
        let best = |allowed: bool| {
            let of = |l: &&crate::possession::LookNow| l.allowed == allowed && (allowed || l.open);
            m.looks
                .iter()
                .filter(of)
                .map(|l| l.value)
                .fold(f64::NEG_INFINITY, f64::max)
        };
        let left = best(false) - best(true).max(0.0);
        self.unused_points = self.unused_points.max(left);
        self.nearest += m.spacing.nearest;
        self.hull += m.spacing.hull;
        self.defence_hull += m.spacing.defence_hull;
        self.one_guards_two += u32::from(m.spacing.one_guards_two);
        self.lane_free += u32::from(m.spacing.lane_free);
    }

    fn read_windows(&mut self, moments: &[Moment]) {
        let keys: BTreeSet<(LookKind, Option<u8>)> = moments
            .iter()
            .flat_map(|m| m.looks.iter().filter(|l| l.open).map(|l| (l.kind, l.to)))
            .collect();
        for (kind, to) in keys {
            let of = |m: &Moment| {
                m.looks
                    .iter()
                    .position(|l| (l.kind, l.to) == (kind, to) && l.open)
            };
            let row = &mut self.looks[index(kind)];
            for spell in spells(moments, |m| of(m).is_some()) {
                let span = &moments[spell.first..spell.first + usize::from(spell.length)];
                let taken = span.iter().any(|m| m.choice.is_some() && m.choice == of(m));
                let unused = span
                    .iter()
                    .all(|m| of(m).is_some_and(|i| !m.looks[i].allowed));
                row.windows.push(spell.length);
                row.windows_taken += u32::from(taken);
                row.windows_unused += u32::from(unused);
            }
        }
        for who in 1..=5 {
            let weak = |m: &Moment| {
                m.looks.iter().any(|l| {
                    l.to == Some(who)
                        && l.kind == LookKind::Skip
                        && l.open
                        && l.spot_up
                        && !l.allowed
                })
            };
            self.weak_spot_ups += spells(moments, weak).len() as u32;
            let there = |m: &Moment| m.backdoor.iter().any(|b| b.who == who && b.there);
            self.backdoor_windows.extend(lengths(moments, there));
        }
    }
}

fn lengths(moments: &[Moment], holds: impl Fn(&Moment) -> bool) -> Vec<u16> {
    spells(moments, holds)
        .into_iter()
        .map(|s| s.length)
        .collect()
}

/// Place of a kind in [`LookKind::ALL`].
pub fn index(kind: LookKind) -> usize {
    kind as usize
}

/// Seconds of so many decision instants.
pub fn seconds(instants: u32) -> f64 {
    f64::from(instants) * INSTANT
}
