//! Whom to read in a look that is rehearsed: where the defender is told to stand, and for either what was open at those
//! moments in the possessions. Nothing is coached that was mostly shut there, and nothing for which nobody is there in
//! the start that is drawn.

use crate::court::{Side, Spot, Vec2};
use crate::offence::LookKind;
use crate::possession::there::plays;
use crate::possession::{Frame, Possession};
use crate::scenario::Scenario;
use crate::why::summary::Light;
use crate::why::{Seat, Summary, Where};

use super::super::phase::frame_at;
use super::super::scene::{Item, Scene};

use super::drills::{Chosen, OFTEN};
use super::findings::{Said, percent};
use super::next::with_the_ball_on;
use super::runs::{AT_THE_RIM, way_of};
use super::scoring::COUNTED;
use super::starts::drawn;

/// So large a share of the moments is most of them (ours: more often than not).
pub(super) const MOSTLY: f64 = 0.5;
/// What is taken instead was a look at so many moments of a possession at least (ours).
pub(super) const SEEN: f64 = 1.0;

/// Who is about the place where they are drawn within this distance, metres (ours).
const ABOUT: f64 = 1.8;

/// Who has the ball in a start that is drawn, who gets it, and who is where when the read is made.
pub(super) struct Floor {
    /// Who has the ball then, 1–5.
    holder: u8,
    /// Who gets it by the look, 1–5.
    gets: Option<u8>,
    /// Has the holder just caught it?
    caught: bool,
    /// The side on which the ball is.
    side: Side,
    /// Where everybody stands or runs to as it is drawn, and whether that player is there within the count.
    there: Vec<(u8, Spot, bool)>,
    /// Everybody's place at the moment.
    at: Vec<(u8, Spot)>,
    /// Who cuts to the rim.
    cuts: Vec<u8>,
}

impl Floor {
    /// From the picture of the start (`drawn`) and the possession, at the moment of the look.
    pub(super) fn of(
        scenario: &Scenario,
        possession: &Possession,
        time: f64,
        (holder, gets, caught): (u8, Option<u8>, bool),
        drawn: &Scene,
    ) -> Option<Floor> {
        let (court, track) = (&scenario.court, &possession.track);
        let frame = track.get(frame_at(track, time))?;
        let later = track.get(frame_at(track, time + COUNTED))?;
        let ball = frame.attackers.get(usize::from(holder).checked_sub(1)?)?;
        let way = |who: u8| way_of(drawn, who);
        let players = drawn.items.iter().filter_map(|item| match item {
            Item::Attacker { number, pos, .. } => Some((*number, *pos)),
            _ => None,
        });
        let players: Vec<(u8, Vec2)> = players.collect();
        let there = players.iter().filter_map(|(n, pos)| {
            let end = way(*n).and_then(|w| w.last().copied());
            let i = usize::from(*n).checked_sub(1)?;
            let about = |end: Vec2| (later.attackers[i] - end).length() < ABOUT;
            // Whoever runs away and comes back is not there meanwhile.
            let comes = end.is_none_or(|end| about(end) && (end - *pos).length() > ABOUT);
            Some((*n, court.nearest_spot(end.unwrap_or(*pos)), comes))
        });
        let at = players.iter().filter_map(|(n, pos)| {
            let at = frame.attackers.get(usize::from(*n).checked_sub(1)?)?;
            // Whoever does not run on the picture is where the picture has that player.
            Some((*n, court.nearest_spot(way(*n).map_or(*pos, |_| *at))))
        });
        let near = |p: &Vec2| p.length() < AT_THE_RIM;
        let cuts = players.iter().filter(|(n, pos)| {
            !near(pos) && way(*n).is_some_and(|w| w.iter().any(near)) && *n != holder
        });
        Some(Floor {
            holder,
            gets,
            caught,
            side: court.nearest_spot(*ball).side.unwrap_or(possession.side),
            there: there.collect(),
            at: at.collect(),
            cuts: cuts.map(|(n, _)| *n).collect(),
        })
    }

    /// Sides as they are drawn.
    fn as_drawn(&self, words: &str) -> String {
        with_the_ball_on(self.side, words)
    }

    fn spot(&self, who: u8) -> Option<Spot> {
        let own = self.at.iter().find(|(n, _)| *n == who);
        own.map(|(_, spot)| *spot)
    }

    /// Where the ball is.
    fn ball(&self) -> Option<Where> {
        Some(Where::of(self.spot(self.holder)?, self.side))
    }

    /// A team-mate of the holder at a place, but for whoever gets the ball by the look.
    fn mate(&self, place: Where) -> Option<(u8, Spot)> {
        let mut others = self.others().filter(|(_, _, there)| *there);
        let mate = others.find(|(_, spot, _)| Where::of(*spot, self.side) == place);
        mate.map(|(n, spot, _)| (n, spot))
    }

    fn others(&self) -> impl Iterator<Item = (u8, Spot, bool)> {
        let busy = [Some(self.holder), self.gets];
        let all = self.there.iter().copied();
        all.filter(move |(n, ..)| !busy.contains(&Some(*n)))
    }

    /// The look itself in words of the picture: "4 throws the skip pass to 3 at the left wing".
    fn takes(&self, look: LookKind) -> String {
        let to = self.gets.and_then(|n| Some((n, self.spot(n)?)));
        self.does(look, to)
    }

    /// The same in short, for the title: "4 to 3 at the left wing".
    pub(super) fn short(&self) -> String {
        match self.gets.and_then(|n| Some((n, self.spot(n)?))) {
            Some((n, spot)) => format!("{} to {n} at the {}", self.holder, drawn(spot)),
            None => {
                let at = self.spot(self.holder).map(drawn);
                format!("{} at the {}", self.holder, at.unwrap_or_default())
            }
        }
    }

    fn does(&self, look: LookKind, to: Option<(u8, Spot)>) -> String {
        let holder = self.holder;
        let Some((to, spot)) = to else {
            return match look {
                LookKind::Drive => format!("{holder} drives"),
                _ => format!("{holder} shoots"),
            };
        };
        let at = format!("{to} at the {}", drawn(spot));
        match look {
            LookKind::Skip => format!("{holder} throws the skip pass to {at}"),
            LookKind::Post => format!("{holder} feeds {at}"),
            LookKind::GiveAndGo => format!("{holder} feeds {to} on the cut"),
            LookKind::Backdoor => format!("{holder} feeds {to} on the backdoor cut"),
            LookKind::DropOff => format!("{holder} drops the ball off to {to}"),
            LookKind::KickOut => format!("{holder} kicks out to {at}"),
            _ => format!("{holder} passes to {at}"),
        }
    }

    /// Who shows inside in this start, and where.
    fn inside(&self) -> Option<(u8, Spot)> {
        let mut all = self.there.iter().map(|(n, spot, _)| (*n, *spot));
        all.find(|(n, spot)| *n != self.holder && !spot.name.is_perimeter())
    }

    /// Where a defender is to stand and what to do so that a look is shut, as it is told to that one: `x`, who guards the
    /// player of that number. `to`: who would get the ball; `None` if that is to be found.
    fn order(&self, look: LookKind, x: Option<u8>, to: Option<u8>) -> String {
        let holder = self.holder;
        let at = |(n, spot): (u8, Spot)| {
            format!("stand between {n} and the ball at the {}", drawn(spot))
        };
        let own = |n: u8| Some((n, self.spot(n)?));
        match look {
            LookKind::Drive => format!("stand between {holder} and the rim"),
            LookKind::Shot => format!("stand within an arm of {holder}, a hand up"),
            LookKind::Post | LookKind::DropOff => match to.and_then(own).or(self.inside()) {
                Some(post) => at(post),
                None => "stand between the block and the ball".to_string(),
            },
            LookKind::GiveAndGo | LookKind::Backdoor => match to.or(self.cuts.first().copied()) {
                Some(n) => format!("stay between {n} and the ball on the cut"),
                None => "stand between the rim and the ball".to_string(),
            },
            LookKind::NextPass | LookKind::Skip | LookKind::KickOut => {
                let to = to.or(x.filter(|n| Some(*n) != self.gets && *n != holder));
                match to {
                    Some(n) => format!("stay within an arm of {n}"),
                    None => "stand in the lane of the nearest pass".to_string(),
                }
            }
        }
    }

    /// How a look is taken in this start, and who gets the ball; `None` if nobody is there for it.
    fn can(&self, light: &Light) -> Option<(String, Option<u8>)> {
        let here = light.at.is_none() || light.at == self.ball();
        let to = match light.look {
            LookKind::Shot | LookKind::Drive => {
                return here.then(|| (self.does(light.look, None), None));
            }
            LookKind::NextPass | LookKind::Skip | LookKind::Post => self.mate(light.at?),
            LookKind::GiveAndGo if here => {
                let cutter = self.cuts.iter().find(|n| Some(**n) != self.gets)?;
                Some((*cutter, self.spot(*cutter)?))
            }
            _ => None,
        };
        let to = to?;
        Some((self.does(light.look, Some(to)), Some(to.0)))
    }
}

/// What to do where the look is not there.
struct Other {
    does: String,
    /// Who gets the ball, 1–5.
    to: Option<u8>,
    /// With its figure: "open at 87 % (85 to 90) of the moments with the ball where 4 has it".
    open: String,
    key: String,
    value: f64,
}

/// What was open while that defender shut this look; else the pass that was open most with the ball there. Only what
/// somebody is there for in this start.
fn other(summary: &Summary, drill: &Chosen, floor: &Floor) -> Option<Other> {
    let light = drill.light;
    let left = summary.left.iter().enumerate();
    let closer = drill
        .left
        .and_then(|i| summary.left.get(i))
        .map(|l| l.closer);
    let meanwhile = left.filter_map(|(i, l)| {
        let own = Some(l.closer) == closer && l.shuts == light.look && l.light.look != light.look;
        let there = l.light.there.filter(|t| own && t.low >= OFTEN)?;
        let (does, to) = floor.can(&l.light)?;
        Some(Other {
            does,
            to,
            open: format!(
                "open in {} of possessions when the defender stood so",
                percent(&there)
            ),
            key: format!("left/{i}/light/there"),
            value: there.value,
        })
    });
    let best = meanwhile.max_by(|a, b| a.value.total_cmp(&b.value));
    if best.is_some() {
        return best;
    }
    let from = floor.ball()?;
    let passes = summary.looks.iter().enumerate().filter_map(|(i, l)| {
        let pass = matches!(l.site.kind, LookKind::NextPass | LookKind::Skip);
        let own = pass && l.site.from == Some(from) && l.site.to != light.at;
        let often = l.seen.is_some_and(|s| s.value >= SEEN);
        let open = l.open.filter(|o| own && often && o.low >= MOSTLY)?;
        let mate = floor.mate(l.site.to?)?;
        Some(Other {
            does: floor.does(l.site.kind, Some(mate)),
            to: Some(mate.0),
            open: format!(
                "open at {} of the moments with the ball there",
                percent(&open)
            ),
            key: format!("looks/{i}/open"),
            value: open.value,
        })
    });
    passes.max_by(|a, b| a.value.total_cmp(&b.value))
}

/// The nearest team-mate who is there, outside if one is; else the nearest of those who run to a place.
fn nearest(scenario: &Scenario, floor: &Floor) -> Option<(u8, Spot)> {
    let ball = scenario.court.spot(floor.spot(floor.holder)?);
    let turn = |(_, spot, there): &(u8, Spot, bool)| (!there, !spot.name.is_perimeter());
    let off = |one: &(u8, Spot, bool)| (scenario.court.spot(one.1) - ball).length();
    let order = |a: &(u8, Spot, bool), b: &(u8, Spot, bool)| {
        turn(a).cmp(&turn(b)).then(off(a).total_cmp(&off(b)))
    };
    let near = floor.others().min_by(order);
    near.map(|(n, spot, _)| (n, spot))
}

/// The number of the defender to read, 1–5, at the moment of `frame`: whoever is in that place; else whose player gets the
/// ball, or in a zone whoever is nearest to that player. `ball`: the ball's side.
pub(super) fn number(
    scenario: &Scenario,
    closer: Option<Seat>,
    frame: &Frame,
    (gets, ball): (u8, Side),
) -> Option<u8> {
    let seat = |d: usize| {
        let man = frame
            .attackers
            .get(usize::from(frame.guards[d]).checked_sub(1)?)?;
        let at = Where::of(scenario.court.nearest_spot(*man), ball);
        Some(Seat::of(frame.relations[d], frame.duties[d], at))
    };
    let own = |c: Seat| (0..5).find(|d| seat(*d).is_some_and(|s| s.who() == c.who()));
    let there = closer.and_then(own);
    let there = there.or_else(|| (0..5).find(|d| frame.guards[*d] == gets));
    let gets = frame.attackers.get(usize::from(gets).checked_sub(1)?)?;
    let off = |d: &usize| (frame.defenders[*d] - *gets).length();
    let near = || (0..5).min_by(|a, b| off(a).total_cmp(&off(b)));
    there.or_else(near).map(|d| called(scenario, frame, d))
}

/// The number by which a drill calls defender `d` (0–4) of an instant: that of the player who is guarded, since each begins
/// on the player of the own number; in a zone the own.
fn called(scenario: &Scenario, frame: &Frame, d: usize) -> u8 {
    match scenario.defence.zone {
        Some(_) => d as u8 + 1,
        None => frame.guards[d],
    }
}

/// The defenders of a picture of that instant by those numbers, if no two guard one player.
pub(super) fn call(scenario: &Scenario, frame: &Frame, scene: &mut Scene) {
    let there = |d: &usize| plays(frame.defenders[*d]);
    let mut all: Vec<u8> = (0..5)
        .filter(there)
        .map(|d| called(scenario, frame, d))
        .collect();
    all.sort_unstable();
    all.dedup();
    if all.len() != (0..5).filter(there).count() {
        return;
    }
    for item in &mut scene.items {
        if let Item::Defender { number, .. } = item {
            *number = called(scenario, frame, usize::from(*number).clamp(1, 5) - 1);
        }
    }
}

/// From whom to whom the ball goes where the look is not there, 1–5; `None` if the holder keeps it or does it alone.
pub(super) fn otherwise(
    (scenario, summary): (&Scenario, &Summary),
    drill: &Chosen,
    floor: &Floor,
) -> Option<(u8, u8)> {
    let to = match other(summary, drill, floor) {
        Some(other) => other.to,
        None => nearest(scenario, floor).map(|(n, _)| n),
    };
    Some((floor.holder, to?))
}

/// Whom to read, by the number on the picture, where that defender is, and what to do in either case.
pub(super) fn read(
    (scenario, summary): (&Scenario, &Summary),
    drill: &Chosen,
    floor: &Floor,
    guard: Option<(u8, Option<Spot>)>,
) -> Said {
    let take = floor.takes(drill.light.look);
    let other = other(summary, drill, floor);
    let (instead, keys) = match &other {
        Some(o) => (format!("{}, {}", o.does, o.open), vec![o.key.clone()]),
        None => {
            let near = nearest(scenario, floor);
            let does = near.map(|to| floor.does(LookKind::NextPass, Some(to)));
            let none = || format!("{} keeps the ball, and the turn is over", floor.holder);
            (does.unwrap_or_else(none), Vec::new())
        }
    };
    let left = drill.left.and_then(|i| summary.left.get(i));
    let who = match (guard, left) {
        (Some((x, Some(spot))), _) => format!("X{x} (first near the {})", drawn(spot)),
        (Some((x, None)), _) => format!("X{x}"),
        (None, Some(l)) => floor.as_drawn(&l.closer.who()),
        (None, None) => "the defender of whoever gets the ball".to_string(),
    };
    let when = match floor.caught {
        true => format!("as {} catches", floor.holder),
        false => "on “go”".to_string(),
    };
    let look = drill.light.look;
    let told = guard.map(|(x, _)| x);
    let off = floor.gets.unwrap_or(floor.holder);
    let first = match left {
        Some(l) => floor.order(l.shuts, told, None),
        None => format!("stay two steps off {off}"),
    };
    let second = floor.order(look, told, floor.gets);
    let text =
        format!("Read {who} {when}. Order A, {first}: {take}. Order B, {second}: {instead}.");
    Said { text, keys }
}
