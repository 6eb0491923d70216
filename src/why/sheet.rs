//! One possession reduced to what the reasons are counted from.
//!
//! Counted in decision instants while somebody has the ball. A look is **shut** when it is not
//! open and its openness is at most one half (a shot: when a defender is too near); a look that
//! would get there but is not worth taking is neither. A drive is a look only while the dribble is
//! still to be used. The **closer** is the defender with the largest chance to shut it.
//!
//! A closing is **his alone** when the look is open with him gone and everybody else where he is.
//! **Left** is a look of the closer's own man (a pass to him; his shot or drive if he has the ball)
//! that is open and would be shut if the closer stood tight on him; one who is late (closing out,
//! trailing a cutter) leaves nothing on purpose and is not counted.
//! What a look **adds** is its value less that of the best other look which the rules allow at
//! that instant (nought if that is better): what taking it could bring at most.

use std::collections::BTreeMap;

use crate::court::Vec2;
use crate::defence::Duty;
use crate::offence::LookKind;
use crate::possession::{Ballwork, LookNow, Moment, Possession};
use crate::scrimmage::windows::spells;
use crate::sim::instant::Instant;
use crate::sim::parts::Play;

use super::places::{self, Out, OutRow};
use super::stalls::{self, Stall};
use super::whatif::{Instead, WhatIf, looks_if};
use super::{Rival, Seat, Site, Where};

/// Nearer to the line from rim to rim than this, a defender stands on it, metres: a body to either
/// side (radius 0.3 m, from memory).
pub const ON_MIDLINE: f64 = 0.6;

/// How often one closer shut one look.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShutRow {
    /// Instants at which this closer shut it.
    pub shut: u32,
    /// When he shut it first, seconds.
    pub first: f64,
    /// Instants of these with the closer on the midline.
    pub midline: u32,
    /// Sums over the closings: his distance from the way of ball or driver, metres, and how long
    /// he had been at it, seconds.
    pub distance: f64,
    /// Sum of the time at this duty, seconds.
    pub since: f64,
    /// Closings in which the look is open with him gone, tight on his man, or where each rival
    /// model would have him.
    pub alone: u32,
    /// Closings in which the look is open with the closer tight on the man guarded.
    pub tight: u32,
    /// Closings in which the look is open with the closer where a rival model would stand, for each
    /// rival.
    pub rivals: Vec<u32>,
}

/// One look at one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SiteRow {
    /// Instants at which it was a look at all.
    pub seen: u32,
    /// Instants at which it was open.
    pub open: u32,
    /// Sum of its value while open, points.
    pub value: f64,
    /// Instants at which it was shut.
    pub shut: u32,
    /// Decision instants.
    pub windows: Vec<u16>,
    /// Windows in which it was taken.
    pub windows_taken: u32,
    /// Who shut it, and how.
    pub by: BTreeMap<Seat, ShutRow>,
}

/// What a closer left while he shut something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Left {
    /// The closer.
    pub seat: Seat,
    /// The best of what he shut.
    pub shuts: LookKind,
    /// The look that the closer's own man had.
    pub look: LookKind,
    /// Where the receiver was.
    pub to: Option<Where>,
}

/// Light of one kind in one possession.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LightRow {
    /// Instants at which it was there.
    pub instants: u32,
    /// Instants at which the rules let the holder take it.
    pub allowed: u32,
    /// The holder took it at least once.
    pub taken: bool,
    /// The most that it added, points; and its value at that instant.
    pub adds: f64,
    /// Its value at that instant, points.
    pub value: f64,
    /// When that was, seconds.
    pub when: f64,
}

impl LightRow {
    fn see(&mut self, m: &Moment, i: usize) {
        let look = &m.looks[i];
        self.instants += 1;
        self.allowed += u32::from(look.allowed);
        self.taken |= m.choice == Some(i);
        let others = m.looks.iter().enumerate();
        let best = others
            .filter(|(j, l)| *j != i && l.allowed)
            .map(|(_, l)| l.value)
            .fold(0.0, f64::max);
        let adds = (look.value - best).max(0.0);
        if adds > self.adds || self.instants == 1 {
            (self.adds, self.value, self.when) = (adds, look.value, m.time);
        }
    }
}

/// One possession.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sheet {
    /// Seed that replays the possession.
    pub seed: u64,
    /// Decision instants with somebody holding the ball.
    pub instants: u32,
    /// Each kind of look at each place.
    pub sites: BTreeMap<Site, SiteRow>,
    /// What closers left while they shut something.
    pub left: BTreeMap<Left, LightRow>,
    /// Open, but never taken by the rules: by kind and place of the receiver (of the holder for a
    /// drive or a shot).
    pub unused: BTreeMap<(LookKind, Option<Where>), LightRow>,
    /// The most that any unused light added, points.
    pub unused_points: f64,
    /// Spells without an open look.
    pub stalls: Vec<Stall>,
    /// How far defenders were from their places.
    pub out: BTreeMap<Out, OutRow>,
}

/// One instant with its moment, ready to be asked.
pub struct Asked<'a> {
    /// The possession's fixed state.
    pub play: &'a Play,
    /// What was written down.
    pub moment: &'a Moment,
    /// Where everybody was.
    pub instant: &'a mut Instant,
}

impl Asked<'_> {
    /// The ball side: the holder's own, in the middle that from which the ball came.
    pub fn place(&self, who: usize) -> Where {
        let ball = self.moment.at.side.unwrap_or(self.instant.side);
        Where::of(self.instant.spot(self.play, who), ball)
    }

    /// Where the ball is, told by ball side.
    pub fn here(&self) -> Where {
        let ball = self.moment.at.side.unwrap_or(self.instant.side);
        Where::of(self.moment.at, ball)
    }

    /// The kind of a look and its places.
    pub fn site(&self, look: &LookNow) -> Site {
        let to = look.to.map(|n| self.place(usize::from(n.clamp(1, 5)) - 1));
        Site::of(look.kind, self.here(), to)
    }

    /// The seat of defender 0–4.
    pub fn seat(&self, d: usize) -> Seat {
        let (duty, relation, _) = self.instant.old.duties[d];
        Seat::of(relation, duty, self.place(self.instant.old.scene.guards[d]))
    }

    /// The looks of this instant with defender `d` (0–4) elsewhere.
    pub fn looks_if(&mut self, d: usize, instead: Instead) -> Vec<LookNow> {
        let what_if = WhatIf {
            defender: d as u8 + 1,
            instead,
        };
        looks_if(self.play, self.instant, &what_if)
    }

    /// His distance from the straight way of the ball, or of the driver to the rim, metres.
    fn off_the_way(&self, look: &LookNow, d: usize) -> f64 {
        let scene = &self.instant.old.scene;
        let from = scene.pos[self.instant.hold.by];
        let to = match look.to {
            Some(n) => scene.pos[usize::from(n.clamp(1, 5)) - 1],
            None if look.kind == LookKind::Shot => from,
            None => Vec2::ZERO,
        };
        let (way, me) = (to - from, scene.pos[5 + d] - from);
        let share = (me.dot(way) / way.length_squared().max(1e-9)).clamp(0.0, 1.0);
        (me - way * share).length()
    }
}

/// Is this a look at all: not a drive that is under way or can no longer be begun?
pub fn counts(look: &LookNow, m: &Moment) -> bool {
    look.kind != LookKind::Drive || matches!(m.ballwork, Ballwork::Holding | Ballwork::Dribbling)
}

/// The defender who shuts it, 0–4.
pub fn shut_by(look: &LookNow) -> Option<usize> {
    crate::sim::shut_by(look).map(|closer| usize::from(closer.defender.clamp(1, 5)) - 1)
}

fn open_in(looks: &[LookNow], look: &LookNow) -> bool {
    looks
        .iter()
        .any(|l| (l.kind, l.to) == (look.kind, look.to) && l.open)
}

impl Sheet {
    /// The sheet of a possession and the instants of its moments.
    pub fn of(p: &Possession, instants: &mut [Instant], play: &Play, rivals: &[Rival]) -> Sheet {
        let mut sheet = Sheet {
            seed: p.seed,
            instants: p.moments.len() as u32,
            ..Sheet::default()
        };
        let mut sites = Vec::with_capacity(p.moments.len());
        for (moment, instant) in p.moments.iter().zip(instants.iter_mut()) {
            let mut asked = Asked {
                play,
                moment,
                instant,
            };
            sites.push(sheet.read(&mut asked, rivals));
            places::read(p, &mut asked, &mut sheet.out);
        }
        sheet.windows(&p.moments, &sites);
        sheet.stalls = stalls::read(p, instants, play);
        sheet
    }

    fn read(&mut self, asked: &mut Asked, rivals: &[Rival]) -> Vec<Site> {
        let m = asked.moment;
        let sites: Vec<Site> = m.looks.iter().map(|l| asked.site(l)).collect();
        let mut shuts: [Option<usize>; 5] = [None; 5];
        for (i, look) in m.looks.iter().enumerate().filter(|(_, l)| counts(l, m)) {
            let row = self.sites.entry(sites[i]).or_default();
            row.seen += 1;
            if look.open {
                row.open += 1;
                row.value += look.value;
            }
            if let Some(d) = shut_by(look) {
                row.shut += 1;
                let better = |j: usize| m.looks[j].prize < look.prize;
                if shuts[d].is_none_or(better) {
                    shuts[d] = Some(i);
                }
            }
            if look.open && !look.allowed {
                let at = sites[i].to.or(sites[i].from);
                let row = self.unused.entry((look.kind, at)).or_default();
                row.see(m, i);
                self.unused_points = self.unused_points.max(row.adds);
            }
        }
        for (d, best) in shuts.into_iter().enumerate() {
            if let Some(best) = best {
                self.ask(asked, rivals, &sites, d, best);
            }
        }
        sites
    }

    /// All what-ifs about one closer.
    fn ask(&mut self, asked: &mut Asked, rivals: &[Rival], sites: &[Site], d: usize, best: usize) {
        let m = asked.moment;
        let seat = asked.seat(d);
        let gone = asked.looks_if(d, Instead::Gone);
        let tight = asked.looks_if(d, Instead::Tight);
        let moved: Vec<_> = rivals
            .iter()
            .map(|r| asked.looks_if(d, Instead::Model(Box::new(r.stances))))
            .collect();
        let midline = asked.instant.old.scene.pos[5 + d].x.abs() <= ON_MIDLINE;
        let here_on_purpose = !matches!(seat.duty, Duty::Recovering | Duty::Trailing);
        let man = asked.instant.old.scene.guards[d];
        let holder = asked.instant.hold.by;
        let owner = |look: &LookNow| look.to.map_or(holder, |n| usize::from(n.clamp(1, 5)) - 1);
        for (i, look) in m.looks.iter().enumerate().filter(|(_, l)| counts(l, m)) {
            if shut_by(look) == Some(d) {
                let distance = asked.off_the_way(look, d);
                let site = self.sites.entry(sites[i]).or_default();
                let row = site.by.entry(seat).or_default();
                row.rivals.resize(rivals.len(), 0);
                if row.shut == 0 {
                    row.first = m.time;
                }
                row.shut += 1;
                row.midline += u32::from(midline);
                row.distance += distance;
                row.since += look.closer.map_or(0.0, |c| c.since);
                row.alone += u32::from(open_in(&gone, look));
                row.tight += u32::from(open_in(&tight, look));
                for (n, looks) in row.rivals.iter_mut().zip(&moved) {
                    *n += u32::from(open_in(looks, look));
                }
            } else if here_on_purpose && look.open && owner(look) == man && !open_in(&tight, look) {
                let left = Left {
                    seat,
                    shuts: m.looks[best].kind,
                    look: look.kind,
                    to: sites[i].to.or(sites[i].from),
                };
                self.left.entry(left).or_default().see(m, i);
            }
        }
    }

    fn windows(&mut self, moments: &[Moment], sites: &[Vec<Site>]) {
        let mut keys: Vec<(LookKind, Option<u8>)> = Vec::new();
        for m in moments {
            for look in m.looks.iter().filter(|l| l.open && counts(l, m)) {
                if !keys.contains(&(look.kind, look.to)) {
                    keys.push((look.kind, look.to));
                }
            }
        }
        for key in keys {
            let find = |m: &Moment| {
                m.looks
                    .iter()
                    .position(|l| (l.kind, l.to) == key && l.open && counts(l, m))
            };
            for spell in spells(moments, |m| find(m).is_some()) {
                let span = &moments[spell.first..spell.first + usize::from(spell.length)];
                let taken = span
                    .iter()
                    .any(|m| m.choice.is_some() && m.choice == find(m));
                let Some(i) = find(&moments[spell.first]) else {
                    continue;
                };
                let row = self.sites.entry(sites[spell.first][i]).or_default();
                row.windows.push(spell.length);
                row.windows_taken += u32::from(taken);
            }
        }
    }
}
