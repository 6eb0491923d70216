//! Where the ways of two on a card meet, who is there first: read off the walk that the card shows, so that nobody on the
//! floor has to guess who gives way.

use crate::court::Vec2;

use super::account::{Account, until};
use super::walks::Walked;

/// Two ways meet where they come so near to each other, metres (ours: shoulder to shoulder nobody is in the way).
const MEETS: f64 = 0.5;
/// Who comes so near to where somebody stood comes to that place, metres (ours: two bodies with room for an elbow).
const COMES_TO: f64 = 0.7;
/// Somebody who is still so near to the start has not left it, metres (ours: a stride); others may take that place.
const LEFT: f64 = 1.2;
/// Two who pass a point with more than this between them are not in each other's way, seconds (ours: a long count of one).
const APART: f64 = 1.5;

/// Screener and user are at the screen as long as they are so near to each other, metres (ours: a stride and a reach).
const AT_THE_SCREEN: f64 = 2.2;

/// The ways of two that meet: who is there first, and who gives way, 1–5.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Crossing {
    /// Passes first.
    pub first: u8,
    /// Gives way.
    pub second: u8,
    /// Does the second come to the place that the first leaves?
    pub follows: bool,
}

impl Crossing {
    /// As a card says it.
    pub fn words(self) -> String {
        let Crossing {
            first,
            second,
            follows,
        } = self;
        let (a, b) = (first.min(second), first.max(second));
        if follows {
            format!("{second} comes to where {first} was: by then {first} has left.")
        } else {
            format!("Where the ways of {a} and {b} meet, {first} is first: {second} slows down.")
        }
    }
}

/// Where a player is, instant by instant, after the start has been left: seconds and metres.
type Way = Vec<(f64, Vec2)>;

/// Does a way come to where somebody else is just leaving?
fn comes_to_a_start(way: &Way, start: (f64, Vec2)) -> bool {
    let (left, at) = start;
    let mut near = way.iter().filter(|(_, p)| (*p - at).length() < COMES_TO);
    near.next().is_some_and(|(t, _)| (t - left).abs() < APART)
}

/// Every two who meet on a card, in order of number: on their ways, or one at the place that the other leaves.
pub(super) fn crossings(account: &Account, walk: &Walked) -> Vec<Crossing> {
    let stops = until(walk);
    let way = |player: u8| -> (Option<(f64, Vec2)>, Way) {
        let i = usize::from(player).clamp(1, 5) - 1;
        let end = stops[i].map_or(account.ends, |t| t.min(account.ends));
        let frames = walk.step.frames.iter();
        let own = frames.filter(|f| f.time >= account.begins - 1e-6 && f.time <= end);
        let all: Way = own.map(|f| (f.time, f.attackers[i])).collect();
        let Some((_, start)) = all.first().copied() else {
            return (None, all);
        };
        let gone = all.iter().position(|(_, p)| (*p - start).length() > LEFT);
        let left = gone.map(|at| (all[at].0, start));
        (left, all[gone.unwrap_or(all.len())..].to_vec())
    };
    let goes = account.deeds.iter().filter(|d| d.starts.is_some());
    let ways: Vec<(u8, (Option<(f64, Vec2)>, Way))> =
        goes.map(|d| (d.player, way(d.player))).collect();
    // A screener and the user are to meet, and the user's words say who waits for whom: until they part.
    let for_the_other = |a: u8, b: u8| {
        let mut deeds = account.deeds.iter();
        deeds.any(|d| d.player == a && d.mate == Some(b))
    };
    let screen = |a: u8, b: u8| for_the_other(a, b) && for_the_other(b, a);
    let mut out = Vec::new();
    for (i, (a, (left_a, one))) in ways.iter().enumerate() {
        for (b, (left_b, other)) in &ways[i + 1..] {
            let leaves =
                |way, left: &Option<_>| left.is_some_and(|left| comes_to_a_start(way, left));
            let screen = screen(*a, *b);
            let meet = match screen {
                true => parted(one, other).and_then(|t| is_first(&after(one, t), &after(other, t))),
                false => is_first(one, other),
            };
            let follows = || {
                if screen {
                    return None;
                }
                let after_a = leaves(other, left_a).then_some(true);
                after_a.or(leaves(one, left_b).then_some(false))
            };
            let Some(a_first) = meet.or_else(follows) else {
                continue;
            };
            let (first, second) = if a_first { (*a, *b) } else { (*b, *a) };
            out.push(Crossing {
                first,
                second,
                follows: meet.is_none(),
            });
        }
    }
    out
}

/// When two have left the screen at which they were together, seconds; `None` if they do not.
fn parted(one: &Way, other: &Way) -> Option<f64> {
    let off = |(t, p): &(f64, Vec2)| {
        let there = other.iter().find(|(u, _)| u == t)?;
        Some((*t, (*p - there.1).length()))
    };
    let mut both = one.iter().filter_map(off);
    both.find(|(_, off)| *off < AT_THE_SCREEN)?;
    both.find(|(_, off)| *off > AT_THE_SCREEN).map(|(t, _)| t)
}

/// The rest of a way, from a time on.
fn after(way: &Way, time: f64) -> Way {
    way.iter().filter(|(t, _)| *t >= time).copied().collect()
}

/// Is the first there before the second where their ways meet; `None` if they do not, or not about the same time.
fn is_first(one: &Way, other: &Way) -> Option<bool> {
    let pairs = one.iter().flat_map(|a| other.iter().map(move |b| (a, b)));
    let meets = pairs.filter(|(a, b)| (a.0 - b.0).abs() < APART && (a.1 - b.1).length() < MEETS);
    let off = |(a, b): &(&(f64, Vec2), &(f64, Vec2))| (a.1 - b.1).length();
    let (a, b) = meets.min_by(|x, y| off(x).total_cmp(&off(y)))?;
    Some(a.0 <= b.0)
}
