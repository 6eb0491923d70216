//! How a moment that is rehearsed comes about: where all stand before it, the drive or the pass that leads to it, and the
//! picture of that start.

use crate::court::{Side, Spot, Vec2};
use crate::offence::Event;
use crate::possession::there::plays;
use crate::possession::{Entry, Possession, What};
use crate::scenario::Scenario;

use super::super::phase::{Phase, diagram, frame_at};
use super::super::scene::{ArrowKind, Item, Scene};
use super::breakdown::brief;

/// Two at one place at the start blur it as if everybody together were so far off, metres (ours: nobody can set it up).
const TWO_ON_ONE: f64 = 4.0;

/// A moment before which nobody has passed is as if everybody together were so far off, metres (ours: looks are rehearsed out
/// of the pass before).
const OF_ITSELF: f64 = 5.0;

/// How a moment came about.
pub(super) struct Start {
    /// In words, with the sides as they are drawn.
    pub text: String,
    /// The card that answers the pass before it.
    pub card: Option<usize>,
    /// Has the holder just caught the ball?
    pub caught: bool,
    /// When the turn starts, seconds; `None`: at the moment itself.
    pub begins: Option<f64>,
}

/// The pass before a moment.
struct Before {
    from: u8,
    to: u8,
    thrown: f64,
    /// The drive that it came out of: from where.
    driven: Option<Spot>,
    /// When the drive began, else when the ball was thrown, seconds.
    begins: f64,
}

/// "left slot".
pub(super) fn drawn(spot: Spot) -> String {
    match spot.side {
        Some(Side::Left) => format!("left {}", spot.name.word()),
        Some(Side::Right) => format!("right {}", spot.name.word()),
        None => spot.name.word().to_string(),
    }
}

/// What was told until a time, the last first.
fn told(possession: &Possession, time: f64) -> impl Iterator<Item = &Entry> {
    let before = move |e: &&Entry| e.time <= time + 1e-6;
    possession.timeline.iter().filter(before).rev()
}

/// The last pass before a moment; `None` if there was none.
fn before(possession: &Possession, time: f64) -> Option<Before> {
    let (from, to, thrown) = told(possession, time).find_map(|e| match e.what {
        What::Passes { from, to, .. } => Some((from, to, e.time)),
        _ => None,
    })?;
    let earlier = told(possession, time).filter(|e| e.time < thrown - 1e-6);
    let mut earlier = earlier.take_while(|e| !matches!(e.what, What::Passes { .. }));
    let driven = earlier.find_map(|e| match e.what {
        What::Drives { who, from: spot } if who == from => Some((spot, e.time)),
        _ => None,
    });
    let begins = driven.map_or(thrown, |(_, time)| time);
    possession.track.get(frame_at(&possession.track, begins))?;
    Some(Before {
        from,
        to,
        thrown,
        driven: driven.map(|(spot, _)| spot),
        begins,
    })
}

/// The places at which the offence begins or that it keeps filled, with the ball on either side.
fn homes(scenario: &Scenario) -> Vec<Spot> {
    let offence = &scenario.offence;
    let begin = offence.alignment.iter().map(|stand| stand.at);
    let all = begin.chain(offence.keep_filled.iter().copied());
    let mut spots: Vec<Spot> = all
        .flat_map(|place| [Side::Left, Side::Right].map(|side| place.spot(side, None)))
        .flatten()
        .collect();
    spots.sort();
    spots.dedup();
    spots
}

/// How hard a start is to set up: how far everybody is from a place of the offence, metres, and who shares one.
pub(super) fn unready(scenario: &Scenario, possession: &Possession, moment: f64) -> f64 {
    let time = before(possession, moment).map_or(moment, |b| b.begins);
    let court = &scenario.court;
    let Some(frame) = possession.track.get(frame_at(&possession.track, time)) else {
        return 0.0;
    };
    let unbegun = if before(possession, moment).is_none() {
        OF_ITSELF
    } else {
        0.0
    };
    let there: Vec<_> = frame.attackers.iter().filter(|p| plays(**p)).collect();
    let homes = homes(scenario);
    let nearest = |p: &Vec2| {
        let off = |spot: &Spot| (court.spot(*spot) - *p).length();
        let near = homes.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
        near.map(|spot| (*spot, off(spot)))
    };
    let stands: Vec<(Spot, f64)> = there.iter().filter_map(|p| nearest(p)).collect();
    let off: f64 = stands.iter().map(|(_, off)| off).sum();
    let spots: Vec<Spot> = stands.iter().map(|(spot, _)| *spot).collect();
    let shared = |i: usize| spots[..i].contains(&spots[i]);
    let shared = (0..spots.len()).filter(|i| shared(*i)).count();
    unbegun + off + TWO_ON_ONE * shared as f64
}

/// How the moment came about: where the five stood, the pass before it, and the rule that had fired.
pub(super) fn start(scenario: &Scenario, possession: &Possession, time: f64) -> Option<Start> {
    let moment = possession.moments.iter().rev();
    let moment = moment.into_iter().find(|m| m.time <= time + 1e-6)?;
    let place = |who: u8, time: f64| {
        let frame = possession.track.get(frame_at(&possession.track, time))?;
        let at = frame.attackers.get(usize::from(who).checked_sub(1)?)?;
        plays(*at).then(|| drawn(scenario.court.nearest_spot(*at)))
    };
    let Some(pass) = before(possession, time) else {
        let holder = moment.holder;
        return Some(Start {
            text: format!(
                "Start: as drawn; {holder} has the ball at the {}. Go: on the coach's word all is live.",
                place(holder, time)?
            ),
            card: None,
            caught: false,
            begins: None,
        });
    };
    let Before {
        from,
        to,
        thrown,
        driven,
        begins,
    } = pass;
    // The card that answers this very pass, if one does.
    let rule = told(possession, time).take_while(|e| e.time >= thrown - 1e-6);
    let rule = rule.filter_map(|e| match e.what {
        What::Rule { rule, .. } => Some(rule),
        _ => None,
    });
    let answers = |rule: &usize| {
        let rule = scenario.offence.rules.get(*rule);
        rule.is_some_and(|r| matches!(r.when, Event::Pass { .. } | Event::KickOut { .. }))
    };
    let rule = rule.filter(answers).last();
    let card = rule.and_then(|rule| {
        let name = &scenario.offence.rules.get(rule)?.name;
        Some(format!(" (card {}, {})", rule + 1, brief(name)))
    });
    let card = card.unwrap_or_default();
    let at = place(to, time)?;
    let goes = match driven {
        Some(spot) => format!(
            "{from} drives from the {} and kicks out to {to} at the {at}{card}",
            drawn(spot)
        ),
        None => format!(
            "{from} passes from the {} to {to} at the {at}{card}",
            place(from, thrown)?
        ),
    };
    Some(Start {
        text: format!(
            "Start: as drawn, {from} with the ball. Go: {goes}. All is live from the catch."
        ),
        card: rule,
        caught: true,
        begins: Some(begins),
    })
}

/// All ten where a turn starts, their ways to the moment, and what is done there: `moment` is its picture.
pub(super) fn from_there(
    scenario: &Scenario,
    possession: &Possession,
    (begins, time): (f64, f64),
    moment: &Scene,
) -> Option<Scene> {
    let phase = Phase::between(begins, time);
    let mut scene = diagram(
        &scenario.court,
        &possession.track,
        &possession.timeline,
        &phase,
    )?;
    scene.items.retain(|item| match item {
        Item::Attacker { pos, .. } | Item::Defender { pos, .. } => plays(*pos),
        _ => true,
    });
    let holder = moment.items.iter().find_map(|item| match item {
        Item::Attacker {
            number,
            has_ball: true,
            ..
        } => Some(*number),
        _ => None,
    });
    let done = moment.items.iter().filter(|item| match item {
        Item::Label { .. } => true,
        Item::Arrow { who, kind, .. } => Some(*who) == holder && *kind != ArrowKind::Run,
        _ => false,
    });
    scene.items.extend(done.cloned());
    Some(scene)
}
