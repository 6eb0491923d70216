//! How a moment that is rehearsed comes about: where all stand before it, the drive or the pass that leads to it, and the
//! picture of that start.

use crate::court::{Side, Spot, Vec2};
use crate::offence::{Event, LookKind};
use crate::possession::there::plays;
use crate::possession::{Entry, Frame, LookNow, Possession, Told, What};
use crate::scenario::Scenario;

use super::super::phase::{Phase, STIRS, diagram, frame_at};
use super::super::scene::{ArrowKind, Item, Scene};
use super::super::shell::InStance;
use super::breakdown::brief;
use super::runs;
use super::scoring::COUNTED;

/// Two at one place at the start blur it as if everybody together were so far off, metres (ours: nobody can set it up).
const TWO_ON_ONE: f64 = 4.0;

/// A moment before which nobody has passed is as if everybody together were so far off, metres (ours: looks are rehearsed out
/// of the pass before).
const OF_ITSELF: f64 = 5.0;

/// A moment before which somebody has driven is as if everybody together were so far off, metres (ours: a defence in the
/// midst of its help is hard to set up), unless the look comes out of a drive.
const DRIVEN: f64 = 6.0;
/// Whoever runs as the turn starts is as if off by the way of so many seconds (ours).
const RUNS: f64 = 0.5;
/// Whoever has the ball or gets it at another place than the one that is drawn, and does not run there, or runs off from
/// there, is as if everybody together were so far off, metres (ours: the read would name a place at which nobody is).
const SHUFFLED: f64 = 6.0;
/// A pass before a moment that no card answers as it is drawn, or somebody sent meanwhile by another card, is as if everybody
/// together were so far off, metres (ours: the rules do not order that start, and nobody can tell who is to run).
const UNORDERED: f64 = 12.0;
/// Between two looks at a run, seconds.
const BETWEEN: f64 = 0.2;

/// How a moment came about.
pub(super) struct Start {
    /// Who does what with the ball, with the sides as they are drawn: "2 passes from … to …".
    goes: String,
    /// Who starts with the ball, 1–5.
    from: u8,
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

/// Who has the ball at a moment, 1–5.
fn holder_at(possession: &Possession, time: f64) -> Option<u8> {
    let mut moments = possession.moments.iter().rev();
    moments.find(|m| m.time <= time + 1e-6).map(|m| m.holder)
}

/// The last pass before a moment, to whoever has the ball then; `None` if there was none, or the ball has been handed on.
fn before(possession: &Possession, time: f64) -> Option<Before> {
    let (from, to, thrown) = told(possession, time).find_map(|e| match e.what {
        What::Passes { from, to, .. } => Some((from, to, e.time)),
        _ => None,
    })?;
    if holder_at(possession, time) != Some(to) {
        return None;
    }
    let earlier = told(possession, time).filter(|e| e.time < thrown - 1e-6);
    let mut earlier = earlier.take_while(|e| !matches!(e.what, What::Passes { .. }));
    let driven = earlier.find_map(|e| match e.what {
        What::Drives { who, from: spot } if who == from => Some((spot, e.time)),
        _ => None,
    });
    let at = |time: f64| {
        let frame = possession.track.get(frame_at(&possession.track, time))?;
        frame.attackers.get(usize::from(from).checked_sub(1)?)
    };
    // A drive of a step is none: nothing of it would be drawn.
    let goes = |start: f64| Some((*at(start)? - *at(thrown)?).length() > STIRS);
    let driven = driven.filter(|(_, start)| goes(*start) == Some(true));
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

/// How hard a start is to set up: how far everybody is from a place of the offence, metres, who shares one, and who runs.
/// `look`: what is rehearsed at `moment`.
pub(super) fn unready(
    scenario: &Scenario,
    possession: &Possession,
    moment: f64,
    look: &LookNow,
) -> f64 {
    let pass = before(possession, moment);
    let time = pass.as_ref().map_or(moment, |b| b.begins);
    let (court, track) = (&scenario.court, &possession.track);
    let Some(frame) = track.get(frame_at(track, time)) else {
        return 0.0;
    };
    let out_of_drives = matches!(look.kind, LookKind::DropOff | LookKind::KickOut);
    let unbegun = match &pass {
        None => OF_ITSELF,
        Some(b) if b.driven.is_some() && !out_of_drives => DRIVEN,
        Some(_) => 0.0,
    };
    let earlier = track.get(frame_at(track, (time - BETWEEN).max(0.0)));
    let runs = earlier.map_or(0.0, |e| {
        let off = e.attackers.iter().zip(&frame.attackers);
        let def = e.defenders.iter().zip(&frame.defenders);
        off.chain(def).map(|(a, b)| (*b - *a).length()).sum::<f64>() * RUNS / BETWEEN
    });
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
    let ordered = |b: &Before| {
        answering(scenario, possession, b, moment).is_some()
            && !is_sent_otherwise(scenario, possession, b, moment)
    };
    let unordered = match &pass {
        Some(b) if !ordered(b) => UNORDERED,
        _ => 0.0,
    };
    let then = track.get(frame_at(track, moment));
    let busy = [holder_at(possession, moment), look.to];
    let shuffles = |who: &u8| then.is_some_and(|then| shuffles(scenario, (frame, then), *who));
    let shuffled = busy.iter().flatten().filter(|who| shuffles(who)).count();
    let gone = look
        .to
        .is_some_and(|to| leaves(scenario, possession, moment, (look.kind, to)));
    let shuffled = shuffled + usize::from(gone);
    unbegun + unordered + runs + off + TWO_ON_ONE * shared as f64 + SHUFFLED * shuffled as f64
}

/// The rules that have fired from a pass until a time, the last first.
fn fired(
    possession: &Possession,
    thrown: f64,
    time: f64,
) -> impl Iterator<Item = (usize, &[Option<Told>; 5])> {
    let since = told(possession, time).take_while(move |e| e.time >= thrown - 1e-6);
    since.filter_map(|e| match &e.what {
        What::Rule { rule, told } => Some((*rule, told)),
        _ => None,
    })
}

/// The card that answers the pass before a moment as it is drawn: out of a drive only if one is drawn, and from and to
/// the places that are.
fn answering(
    scenario: &Scenario,
    possession: &Possession,
    pass: &Before,
    moment: f64,
) -> Option<usize> {
    let at = |who: u8, time: f64| spot_at(scenario, possession, who, time);
    let (from, to) = (at(pass.from, pass.thrown)?, at(pass.to, moment)?);
    let either = [Side::Left, Side::Right];
    let is_drawn = |(rule, _): &(usize, _)| {
        let rule = scenario.offence.rules.get(*rule);
        rule.is_some_and(|rule| match (rule.when, pass.driven) {
            (Event::KickOut { from }, Some(drive)) => {
                either.iter().any(|side| from.takes_in(drive, *side))
            }
            (Event::Pass { from: a, to: b }, None) => either
                .iter()
                .any(|side| a.takes_in(from, *side) && b.takes_in(to, *side)),
            _ => false,
        })
    };
    let fired = fired(possession, pass.thrown, moment).filter(is_drawn);
    fired.last().map(|(rule, _)| rule)
}

/// Has a card that answers neither the pass nor the drive before it sent anybody meanwhile?
fn is_sent_otherwise(
    scenario: &Scenario,
    possession: &Possession,
    pass: &Before,
    moment: f64,
) -> bool {
    fired(possession, pass.begins, moment).any(|(rule, told)| {
        let when = scenario.offence.rules.get(rule).map(|rule| rule.when);
        let drive = matches!(when, Some(Event::Drive { .. })) && pass.driven.is_some();
        let own = drive || when.is_some_and(|when| when.comes_of_a_pass());
        !own && told.iter().any(Option::is_some)
    })
}

/// Does whoever gets the ball at a place run off from there within the count?
fn leaves(
    scenario: &Scenario,
    possession: &Possession,
    moment: f64,
    (kind, to): (LookKind, u8),
) -> bool {
    use LookKind::{KickOut, NextPass, Post, Skip};
    let track = &possession.track;
    let at = |time: f64| {
        let frame = track.get(frame_at(track, time));
        frame.map(|f| f.attackers[usize::from(to).clamp(1, 5) - 1])
    };
    let Some((then, later)) = at(moment).zip(at(moment + COUNTED)) else {
        return false;
    };
    let spot = |at| scenario.court.nearest_spot(at);
    let off = (later - then).length() > STIRS && spot(later) != spot(then);
    matches!(kind, KickOut | NextPass | Post | Skip) && off
}

/// Has a player come to another place without a run that is drawn?
fn shuffles(scenario: &Scenario, (start, then): (&Frame, &Frame), who: u8) -> bool {
    let i = usize::from(who).clamp(1, 5) - 1;
    let (from, to) = (start.attackers[i], then.attackers[i]);
    let spot = |at| scenario.court.nearest_spot(at);
    (to - from).length() <= STIRS && spot(from) != spot(to)
}

/// How the moment came about: the pass before it, and the rule that had fired.
pub(super) fn start(scenario: &Scenario, possession: &Possession, time: f64) -> Option<Start> {
    let Some(pass) = before(possession, time) else {
        return at_the_moment(scenario, possession, time);
    };
    let place = |who: u8, time: f64| place(scenario, possession, who, time);
    let rule = answering(scenario, possession, &pass, time);
    let card = rule.and_then(|rule| {
        let name = &scenario.offence.rules.get(rule)?.name;
        Some(format!(" (card {}, {})", rule + 1, brief(name)))
    });
    let card = card.unwrap_or_default();
    let (from, to, at) = (pass.from, pass.to, place(pass.to, time)?);
    let goes = match pass.driven {
        Some(spot) => format!(
            "{from} drives from the {} and kicks out to {to} at the {at}{card}",
            drawn(spot)
        ),
        None => format!(
            "{from} passes from the {} to {to} at the {at}{card}",
            place(from, pass.thrown)?
        ),
    };
    Some(Start {
        goes,
        from,
        card: rule,
        caught: true,
        begins: Some(pass.begins),
    })
}

/// The start at the moment itself: the ball is there already.
pub(super) fn at_the_moment(
    scenario: &Scenario,
    possession: &Possession,
    time: f64,
) -> Option<Start> {
    let mut moments = possession.moments.iter().rev();
    let holder = moments.find(|m| m.time <= time + 1e-6)?.holder;
    Some(Start {
        goes: format!(
            "Start: as drawn; {holder} has the ball at the {}. Signal: the coach says “go”. Then: all is live.",
            place(scenario, possession, holder, time)?
        ),
        from: holder,
        card: None,
        caught: false,
        begins: None,
    })
}

/// The place of player `who` then.
fn spot_at(scenario: &Scenario, possession: &Possession, who: u8, time: f64) -> Option<Spot> {
    let frame = possession.track.get(frame_at(&possession.track, time))?;
    let at = frame.attackers.get(usize::from(who).checked_sub(1)?)?;
    plays(*at).then(|| scenario.court.nearest_spot(*at))
}

/// The same as it is drawn.
fn place(scenario: &Scenario, possession: &Possession, who: u8, time: f64) -> Option<String> {
    spot_at(scenario, possession, who, time).map(drawn)
}

/// The start in words: who stands where, the signal, and everybody's run that is drawn. `begins`: its picture.
pub(super) fn said(scenario: &Scenario, start: &Start, begins: Option<&Scene>) -> String {
    let Start { goes, from, .. } = start;
    let Some(scene) = begins else {
        return goes.clone();
    };
    let spot = |at: &Vec2| drawn(scenario.court.nearest_spot(*at));
    let stands = scene.items.iter().filter_map(|item| match item {
        Item::Attacker { number, pos, .. } => Some((*number, format!("{number} {}", spot(pos)))),
        _ => None,
    });
    let mut stands: Vec<(u8, String)> = stands.collect();
    stands.sort();
    let stands: Vec<String> = stands.into_iter().map(|(_, s)| s).collect();
    let runs = scene.items.iter().filter_map(|item| match item {
        Item::Arrow {
            kind: ArrowKind::Run | ArrowKind::Screen,
            path,
            who,
        } => runs::words(*who, path, spot),
        _ => None,
    });
    let runs: Vec<String> = runs.collect();
    let then = match runs.as_slice() {
        [] => "Then: the others stay.".to_string(),
        all => format!("Then: {}; the others stay.", all.join(", ")),
    };
    // Whoever knows the cards would cut after that pass.
    let own = format!("{from} runs ");
    let unnamed = match start.card {
        Some(_) => String::new(),
        None if runs.iter().any(|run| run.starts_with(&own)) => " (no card)".to_string(),
        None => format!(" (no card: {from} does not cut)"),
    };
    format!(
        "Start: as drawn, {from} with the ball: {}. Signal: {goes}{unnamed}. {then} Live from the catch.",
        stands.join(", ")
    )
}

/// All ten where a turn starts, their ways until they have come where they are sent, and what is done at the moment:
/// `moment` is its picture.
pub(super) fn from_there(
    scenario: &Scenario,
    possession: &Possession,
    (begins, time): (f64, f64),
    moment: &Scene,
) -> Option<Scene> {
    let (holder, _) = moment.holder()?;
    let until = runs::until(possession, (begins, time), holder);
    let last = until.iter().flatten().fold(time, |a, b| a.max(*b));
    let phase = Phase {
        until,
        ..Phase::between(begins, last)
    };
    // Passes after the moment are none of this turn.
    let later = |e: &&Entry| e.time <= time + 1e-6 || !matches!(e.what, What::Passes { .. });
    let told: Vec<Entry> = possession.timeline.iter().filter(later).cloned().collect();
    let mut scene = diagram(&scenario.court, &possession.track, &told, &phase)?;
    in_stance(scenario, possession, &mut scene);
    scene.items.retain(|item| match item {
        Item::Attacker { pos, .. } | Item::Defender { pos, .. } => plays(*pos),
        _ => true,
    });
    runs::finish(scenario, possession, (begins, time), (&mut scene, holder));
    let done = moment.items.iter().filter(|item| match item {
        Item::Label { .. } => true,
        Item::Arrow { who, kind, .. } => *who == holder && *kind != ArrowKind::Run,
        _ => false,
    });
    scene.items.extend(done.cloned());
    Some(scene)
}

/// Puts the defenders where their stance has them for the ball with whoever has it on the picture: a drill starts from
/// the stance. The light is that of the start.
pub(super) fn in_stance(scenario: &Scenario, possession: &Possession, scene: &mut Scene) {
    let Some((holder, ball)) = scene.holder() else {
        return;
    };
    let mut attackers = [Vec2::ZERO; 5];
    for item in &scene.items {
        if let Item::Attacker { number, pos, .. } = item {
            attackers[usize::from(*number).clamp(1, 5) - 1] = *pos;
        }
    }
    let side = scenario.court.nearest_spot(ball).side;
    let side = side.unwrap_or(Side::of(ball.x, possession.side));
    let Some(stance) = InStance::of(scenario, &attackers, (holder, side)) else {
        return;
    };
    stance.put(scene);
    for item in &mut scene.items {
        if matches!(item, Item::Light(_)) {
            *item = stance.light();
        }
    }
}
