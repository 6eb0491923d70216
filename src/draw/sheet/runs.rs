//! The runs of a turn that is rehearsed: everybody whom a card tells to go as the ball leaves, or who fills a place, is
//! followed beyond the look, to where that leads; in the order in which they go.

use crate::court::{Court, Side, Spot, Vec2};
use crate::offence::Movement;
use crate::possession::there::plays;
use crate::possession::{Possession, Told, What};
use crate::scenario::Scenario;

use super::super::account::{ARRIVES, COMES, LEAVES, shown_at, walked_links};
use super::super::phase::{STIRS, frame_at};
use super::super::scene::{ArrowKind, Item, Scene};
use super::super::way;

/// Runs are followed so long after the look, seconds (ours: a cut and the way out again).
const RUNS_ON: f64 = 5.0;
/// Nearer than this is at the rim for a cut, metres (ours: half-way to a block and back).
pub(super) const AT_THE_RIM: f64 = 2.6;
/// A cut that has come so close has come to the rim; before that, one is still going in whose last step is the nearest to it
/// but for so much, metres (ours: a long step, and a foot).
const CLOSE: f64 = 1.5;
const GOING_IN: f64 = 0.3;
/// A cut that was broken off before is led on to here beside the rim, on the cutter's side, metres (ours).
const BESIDE_THE_RIM: (f64, f64) = (0.6, 0.8);
/// Steps so near to the first or the last place of a way are about that place, metres (ours: a stride).
const ABOUT: f64 = 1.2;
/// So far before a body a way to its place is drawn, metres (ours: there the defender of that one stands, too).
const BEFORE: f64 = 1.6;
/// The same, by steps of so much, metres.
const STEP: f64 = 0.05;
/// Whoever comes back to the own place has run if the way leads so far from it, metres (ours).
const AWAY: f64 = 3.0;

/// What sent a player.
struct Sent {
    /// The rule, and its line.
    rule: Option<(usize, Told)>,
    /// The place that is filled.
    fills: Option<Spot>,
}

/// What last sent a player (0–4) between two times.
fn sent(possession: &Possession, (begins, time): (f64, f64), i: usize) -> Option<Sent> {
    let within = |t: f64| t >= begins - 1e-6 && t <= time + 1e-6;
    let mut out = None;
    for entry in possession.timeline.iter().filter(|e| within(e.time)) {
        match &entry.what {
            What::Rule { rule, told } => {
                let own = told[i].map(|told| Sent {
                    rule: Some((*rule, told)),
                    fills: None,
                });
                out = own.or(out);
            }
            What::Fills { who, to } if usize::from(*who) == i + 1 => {
                let rule = out.and_then(|sent| sent.rule);
                out = Some(Sent {
                    rule,
                    fills: Some(*to),
                });
            }
            _ => {}
        }
    }
    out
}

/// Until when each attacker's way is drawn: of whoever has been sent on beyond the look, until something else is told.
pub(super) fn until(
    possession: &Possession,
    (begins, time): (f64, f64),
    holder: u8,
) -> [Option<f64>; 5] {
    std::array::from_fn(|i| {
        let number = i as u8 + 1;
        if number == holder || sent(possession, (begins, time), i).is_none() {
            return Some(time);
        }
        let next = possession.timeline.iter().filter(|e| e.time > begins);
        let next = next.filter_map(|e| match &e.what {
            What::Rule { told, .. } if e.time > time && told[i].is_some() => Some(e.time),
            What::Flashes { who, .. } | What::Seals { who, .. } if *who == number => {
                Some(e.time + COMES)
            }
            _ => None,
        });
        let gets = possession.track.iter();
        let mut gets = gets.filter(|f| f.time > time && f.holder == Some(number));
        let gets = gets.next().map(|f| f.time);
        let first = next.chain(gets).fold(time + RUNS_ON, f64::min);
        Some(first)
    })
}

/// When an attacker (1–5) leaves the place of a time, seconds.
fn leaves(possession: &Possession, from: f64, who: u8) -> f64 {
    let i = usize::from(who).wrapping_sub(1);
    let track = &possession.track[frame_at(&possession.track, from)..];
    let at = |f: &crate::possession::Frame| f.attackers.get(i).copied().unwrap_or_default();
    let Some(first) = track.first().map(at) else {
        return from;
    };
    let mut gone = track.iter().filter(|f| (at(f) - first).length() > LEAVES);
    gone.next().map_or(f64::INFINITY, |f| f.time)
}

/// The rest of a way that the play broke off: by the rim for a cut, and on to where it is to end.
fn rest(
    court: &Court,
    way: &[Vec2],
    (movement, to): (Option<&Movement>, Option<Spot>),
    tie: Side,
) -> Vec<Vec2> {
    use Movement as M;
    let (Some(&first), Some(&last)) = (way.first(), way.last()) else {
        return Vec::new();
    };
    let from = court.nearest_spot_on(first, tie);
    let mut out = Vec::new();
    let least = way.iter().map(|p| p.length()).fold(f64::INFINITY, f64::min);
    // Somebody who has turned round before the rim has cut; who was still going in has been broken off.
    let going_in = last.length() < least + GOING_IN;
    let by_the_rim = || least < CLOSE || least < AT_THE_RIM && !going_in;
    let goal = match movement {
        None => to,
        Some(cut @ M::Cut { to: cut_to, .. }) => {
            if cut_to.is_none() && !by_the_rim() {
                let (x, y) = BESIDE_THE_RIM;
                out.push(Vec2::new(x * last.x.signum(), y));
            }
            let mut links = walked_links(cut);
            to.or(Some(from).filter(|_| links.any(Movement::is_to_a_place)))
        }
        Some(M::Fill(_) | M::FillFirst(_) | M::Replace(_) | M::CircleOut(_))
        | Some(M::GoThrough(_) | M::Drift(_) | M::Lift(_)) => to.or(Some(from)),
        Some(shows @ (M::Flash { .. } | M::Seal { .. })) => shown_at(shows, tie, from.side),
        Some(_) => None,
    };
    let end = out.last().copied().unwrap_or(last);
    // Nobody looks for a place that the card does not name.
    let off = |goal: &Spot| {
        (court.spot(*goal) - end).length() > ARRIVES.0 || court.nearest_spot(end) != *goal
    };
    out.extend(goal.filter(off).map(|goal| court.spot(goal)));
    out
}

/// Is an arrow the way of this player?
pub(super) fn is_way(item: &Item, who: u8) -> bool {
    matches!(item, Item::Arrow { kind, who: w, .. } if *kind != ArrowKind::Pass && *w == who)
}

/// The last way of this player on a picture; `None` if the player stays.
pub(super) fn way_of(scene: &Scene, who: u8) -> Option<&Vec<Vec2>> {
    scene.items.iter().rev().find_map(|item| match item {
        Item::Arrow { path, .. } if is_way(item, who) => Some(path),
        _ => None,
    })
}

/// Leads every run to where it is to end, drops those that lead nowhere, and puts them in the order in which they begin.
pub(super) fn finish(
    scenario: &Scenario,
    possession: &Possession,
    (begins, time): (f64, f64),
    (scene, holder): (&mut Scene, u8),
) {
    let court = &scenario.court;
    let stands: Vec<(u8, Vec2)> = scene.items.iter().filter_map(stands).collect();
    for (number, stands) in stands {
        let i = usize::from(number).wrapping_sub(1);
        let sent = sent(possession, (begins, time), i).filter(|_| number != holder);
        let Some(Sent { rule, fills }) = sent else {
            continue;
        };
        let does = rule.and_then(|(rule, told)| {
            let rule = scenario.offence.rules.get(rule)?;
            Some(&rule.actions.get(usize::from(told.line))?.does)
        });
        let to = fills.or(rule.and_then(|(_, told)| told.to));
        let side = Side::of(stands.x, possession.side);
        let last = scene
            .items
            .iter_mut()
            .filter(|item| is_way(item, number))
            .last();
        // Whoever has driven runs on from where the drive ends.
        let from = match last {
            Some(Item::Arrow { path, kind, .. }) if *kind == ArrowKind::Run => {
                let more = rest(court, path, (does, to), side);
                path.extend(more);
                continue;
            }
            Some(Item::Arrow { path, .. }) => path.last().copied().unwrap_or(stands),
            _ => stands,
        };
        let mut path = vec![from];
        path.extend(rest(court, &path, (does, to), side));
        if path.iter().any(|p| (*p - from).length() > STIRS) {
            scene.add(Item::Arrow {
                kind: ArrowKind::Run,
                path,
                who: number,
            });
        }
    }
    for item in &mut scene.items {
        if let Item::Arrow { kind, path, .. } = item
            && matches!(kind, ArrowKind::Run | ArrowKind::Screen)
        {
            straighten(path);
        }
    }
    // Who only moves about a place does not run.
    scene.items.retain(|item| match item {
        Item::Arrow {
            kind: ArrowKind::Run,
            path,
            ..
        } => goes(court, path),
        _ => true,
    });
    in_turn(possession, begins, scene);
}

/// Takes the steps about the first and the last place off a way: nobody is told to walk them.
fn straighten(path: &mut Vec<Vec2>) {
    let (Some(&first), Some(&last)) = (path.first(), path.last()) else {
        return;
    };
    let goes_on = |p: &Vec2| (*p - last).length() > ABOUT;
    let there = path.iter().rposition(goes_on).map_or(0, |i| i + 1);
    path.truncate(there.max(1));
    path.push(last);
    let gone = path.iter().position(|p| (*p - first).length() > ABOUT);
    // Whoever comes back has the whole way.
    if let Some(gone) = gone {
        path.drain(1..gone);
    }
}

/// A picture on which whoever runs to where a team-mate stands at the start is drawn to just before that one: a line
/// that is led round the bodies there could not be followed.
pub(super) fn short_of_starts(scene: &Scene) -> Scene {
    let mut out = scene.clone();
    let bodies: Vec<(u8, Vec2)> = scene.items.iter().filter_map(stands).collect();
    for item in &mut out.items {
        let Item::Arrow {
            kind: ArrowKind::Run,
            path,
            who,
        } = item
        else {
            continue;
        };
        let Some(&last) = path.last() else { continue };
        let at = |(n, pos): &&(u8, Vec2)| n != who && (*pos - last).length() < ARRIVES.0;
        let Some((_, pos)) = bodies.iter().find(at) else {
            continue;
        };
        let mut long = way::length(path);
        while long > ABOUT && (way::at(path, long).0 - *pos).length() < BEFORE {
            long -= STEP;
        }
        *path = way::part(path, 0.0, long);
    }
    out
}

/// The ways in the order in which they begin, in the places among the items that they have.
fn in_turn(possession: &Possession, begins: f64, scene: &mut Scene) {
    let way = |item: &Item| match item {
        Item::Arrow { kind, who, .. } if *kind != ArrowKind::Pass => Some(*who),
        _ => None,
    };
    let at: Vec<usize> = (0..scene.items.len())
        .filter(|i| way(&scene.items[*i]).is_some())
        .collect();
    let mut ways: Vec<Item> = at.iter().map(|i| scene.items[*i].clone()).collect();
    let turn = |item: &Item| way(item).map_or(0.0, |who| leaves(possession, begins, who));
    ways.sort_by(|a, b| turn(a).total_cmp(&turn(b)));
    for (i, item) in at.into_iter().zip(ways) {
        scene.items[i] = item;
    }
}

fn stands(item: &Item) -> Option<(u8, Vec2)> {
    match item {
        Item::Attacker { number, pos, .. } if plays(*pos) => Some((*number, *pos)),
        _ => None,
    }
}

/// Does a way lead to another place, or far enough from its own and back?
fn goes(court: &Court, path: &[Vec2]) -> bool {
    let (Some(first), Some(last)) = (path.first(), path.last()) else {
        return false;
    };
    let far = path.iter().any(|p| (*p - *first).length() > AWAY);
    far || court.nearest_spot(*first) != court.nearest_spot(*last)
}

/// The way in words, to the place as it is drawn; where everybody starts has been said: "1 runs to the rim and out to the
/// left wing". `spot`: a place in words.
pub(super) fn words(who: u8, path: &[Vec2], spot: impl Fn(&Vec2) -> String) -> Option<String> {
    let (first, last) = (path.first()?, path.last()?);
    let at_the_rim = |p: &Vec2| p.length() < AT_THE_RIM;
    let by = path.iter().any(at_the_rim) && !at_the_rim(first);
    let to = match (by, last.length() < AT_THE_RIM / 2.0) {
        (_, true) => "the rim".to_string(),
        (true, _) if !at_the_rim(last) => format!("the rim and out to the {}", spot(last)),
        _ => format!("the {}", spot(last)),
    };
    Some(format!("{who} runs to {to}"))
}
