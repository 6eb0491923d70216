//! Rule cards: "when this happens, you …" for each of the five, with the walk that shows it.
//!
//! The words come from the rule as it is written, the picture from a walk with passive defenders
//! (`walks`). A rule says its sides by the ball, so that the same words serve the mirrored picture.

use crate::court::{Court, Spot};
use crate::offence::{Action, Event, Movement, Role, Rule, words};
use crate::possession::{Entry, Frame, What};
use crate::scenario::Scenario;
use crate::why::Where;

use super::phase::{Phase, diagram, frame_at};
use super::scene::{ArrowKind, Item, Scene};
use super::walks::{Walked, mover, walks};
use super::way;

/// What a player does for whom there is nothing to do.
pub const STAYS: &str = "stay and be ready";

/// What a player does who is still on his way from what came before.
const FINISHES: &str = "finish your run";
/// Faster than this he is on his way, m/s, over so many frames (ours).
const ON_HIS_WAY: f64 = 1.0;
const LOOKED_AT: usize = 3;
/// The ball is on neither side so near to the midline, metres (ours).
const MIDDLE: f64 = 0.3;
/// From being seen at his place to standing in it, seconds (ours).
const COMES: f64 = 0.3;

/// What one player does on a card.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Number of the player, 1–5.
    pub player: u8,
    /// Where he is when it begins, said by ball side: "weak-side wing".
    pub from: String,
    /// "cut ball side to the rim; if you are not fed, …": without "you" in front.
    pub does: String,
    /// Does the rule itself name him?
    pub by_rule: bool,
}

/// A rule's card.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Index into the offence's rules.
    pub rule: usize,
    /// The rule's name.
    pub name: String,
    /// "When the ball goes from …"
    pub when: String,
    /// The five in order of number; empty without a walk.
    pub parts: Vec<Part>,
    /// The ball on the right; `mirrored()` gives the left. `None`: no walk makes it fire.
    pub scene: Option<Scene>,
    /// The rule as a whole sentence.
    pub sentence: String,
}

impl Card {
    /// The lines of the card, and whether the rule itself says them: one for each who does
    /// something, then one for those who stay; the whole sentence where there is no walk.
    pub fn lines(&self) -> Vec<(String, bool)> {
        if self.parts.is_empty() {
            return vec![(self.sentence.clone(), false)];
        }
        let stays = |p: &&Part| p.does == STAYS;
        let moves = self.parts.iter().filter(|p| !stays(p));
        let mut lines: Vec<(String, bool)> = moves
            .map(|p| (format!("{}, {}: {}.", p.player, p.from, p.does), p.by_rule))
            .collect();
        let others: Vec<String> = self
            .parts
            .iter()
            .filter(stays)
            .map(|p| p.player.to_string())
            .collect();
        if !others.is_empty() {
            lines.push((format!("{}: {STAYS}.", others.join(", ")), false));
        }
        lines
    }
}

/// The cards of every rule of the scenario's offence, in order.
pub fn cards(scenario: &Scenario) -> Vec<Card> {
    let walked = walks(scenario);
    let rules = scenario.offence.rules.iter().enumerate();
    rules
        .map(|(index, rule)| {
            let walk = walked.iter().find(|w| w.rule == index);
            let parts = walk.map_or(Vec::new(), |walk| parts(scenario, rule, walk));
            let scene = walk.and_then(|walk| shown(&scenario.court, rule, walk, &parts));
            Card {
                rule: index,
                name: rule.name.clone(),
                when: format!("When {}", words::event(&rule.when)),
                parts,
                scene,
                sentence: words::rule(rule),
            }
        })
        .collect()
}

/// When the card's picture begins: at the pass that the rule answers, or when it fires.
fn begins(rule: &Rule, walk: &Walked) -> f64 {
    let passed = matches!(
        rule.when,
        Event::Pass { .. } | Event::KickOut { .. } | Event::Catch { .. } | Event::BallCrosses
    );
    let thrown = walk
        .step
        .timeline
        .iter()
        .rev()
        .find(|e| e.time <= walk.fired + 1e-6 && matches!(e.what, What::Passes { .. }));
    match thrown {
        Some(entry) if passed => entry.time,
        _ => walk.fired,
    }
}

/// Until when each player's way is drawn: to the first task that a later rule gives him, which is on
/// another card; and of a flash or a seal the way there, without the way home.
fn until(walk: &Walked) -> [Option<f64>; 5] {
    let mut out = [None; 5];
    for entry in &walk.step.timeline {
        if let What::Flashes { who, .. } | What::Seals { who, .. } = entry.what
            && entry.time > walk.fired
            && let Some(slot) = out.get_mut(usize::from(who).wrapping_sub(1))
        {
            slot.get_or_insert(entry.time + COMES);
        }
    }
    let later = walk
        .step
        .timeline
        .iter()
        .find(|e| e.time > walk.fired + 1e-6 && matches!(e.what, What::Rule { .. }));
    let Some(later) = later else {
        return out;
    };
    for entry in &walk.step.timeline {
        if entry.time < later.time - 1e-6 {
            continue;
        }
        let Some(slot) = mover(entry).and_then(|who| out.get_mut(usize::from(who).wrapping_sub(1)))
        else {
            continue;
        };
        slot.get_or_insert(entry.time);
    }
    out
}

fn shown(court: &Court, rule: &Rule, walk: &Walked, parts: &[Part]) -> Option<Scene> {
    let from = begins(rule, walk);
    let phase = Phase {
        from,
        to: walk.step.frames.last()?.time,
        defenders: false,
        until: until(walk),
    };
    let mut scene = diagram(court, &walk.step.frames, &walk.step.timeline, &phase)?;
    // He who stays only sways, and who is all but there needs no arrow.
    let stays = |who: u8| parts.iter().any(|p| p.player == who && p.does == STAYS);
    scene.items.retain(|item| match item {
        Item::Arrow { kind, who, path } => {
            *kind == ArrowKind::Pass || !stays(*who) && way::length(path) > A_STRIDE
        }
        _ => true,
    });
    if let Event::Denied { .. } = rule.when {
        deny(&mut scene, walk, from);
    }
    if ball_is_left(walk) {
        scene = scene.mirrored();
    }
    Some(scene)
}

/// A run shorter than this is not drawn, metres.
const A_STRIDE: f64 = 1.5;

/// Is the ball on the left when the rule fires, or will it be when the pass is caught?
fn ball_is_left(walk: &Walked) -> bool {
    let frames = &walk.step.frames;
    let Some(frame) = frames.get(frame_at(frames, walk.fired)) else {
        return false;
    };
    let before = |e: &&Entry| e.time <= walk.fired + 1e-6;
    let thrown = walk.step.timeline.iter().filter(before).rev();
    let receiver = thrown
        .filter(|_| frame.holder.is_none())
        .find_map(|e| match e.what {
            What::Passes { to, .. } => frame.attackers.get(usize::from(to).wrapping_sub(1)),
            _ => None,
        });
    receiver.map_or(frame.ball[0], |p| p.x) < -MIDDLE
}

/// The defender who denies, so that the card shows why the cut is on.
fn deny(scene: &mut Scene, walk: &Walked, from: f64) {
    let crate::sim::walkthrough::Order::Deny(denied) = &walk.step.order else {
        return;
    };
    let frames = &walk.step.frames;
    let Some(frame) = frames.get(frame_at(frames, from)) else {
        return;
    };
    let ball = crate::court::Vec2::new(frame.ball[0], frame.ball[1]);
    for &who in denied {
        let Some(&man) = frame.attackers.get(usize::from(who).wrapping_sub(1)) else {
            continue;
        };
        let way = (ball - man) / (ball - man).length().max(1e-6);
        scene.add(Item::Defender {
            number: who,
            pos: man + way * 1.3,
            facing: -way,
        });
    }
}

fn parts(scenario: &Scenario, rule: &Rule, walk: &Walked) -> Vec<Part> {
    let frames = &walk.step.frames;
    let from = begins(rule, walk);
    let Some(frame) = frames.get(frame_at(frames, from)) else {
        return Vec::new();
    };
    let told = told(scenario, rule, walk, frame);
    let timeline = &walk.step.timeline;
    let mut out = Vec::with_capacity(5);
    for player in 1..=5_u8 {
        let pos = frame.attackers[usize::from(player) - 1];
        let action = told.iter().find(|(who, _)| *who == player);
        let does = match action {
            Some((_, action)) => whole(action),
            None => unnamed(rule, walk, timeline, frame, player),
        };
        out.push(Part {
            player,
            from: Where::of(scenario.court.nearest_spot(pos), walk.step.ball_side).words(),
            does,
            by_rule: action.is_some(),
        });
    }
    out
}

/// Whom each line of the rule means in this walk.
fn told<'a>(
    scenario: &Scenario,
    rule: &'a Rule,
    walk: &Walked,
    frame: &Frame,
) -> Vec<(u8, &'a Action)> {
    let spots = frame.attackers.map(|p| scenario.court.nearest_spot(p));
    let timeline = &walk.step.timeline;
    let last = |pick: &dyn Fn(&What) -> Option<u8>| {
        let before = timeline
            .iter()
            .rev()
            .filter(|e| e.time <= walk.fired + 1e-6);
        before.filter_map(|e| pick(&e.what)).next()
    };
    let passer = last(&|w| match *w {
        What::Passes { from, .. } => Some(from),
        _ => None,
    });
    let receiver = last(&|w| match *w {
        What::Passes { to, .. } => Some(to),
        _ => None,
    });
    // Inside plays he who ends inside, not he who is cutting through.
    let ends = walk.step.standing.map(|s| s.place);
    let is_inside = |spot: Option<Spot>| spot.is_some_and(|s| !s.name.is_perimeter());
    let inside = |nth: usize| {
        let list: Vec<u8> = (1..=5)
            .filter(|n| is_inside(ends[usize::from(*n) - 1]))
            .collect();
        let now = || (1..=5).filter(|n| is_inside(Some(spots[usize::from(*n) - 1])));
        list.get(nth).copied().or_else(|| now().nth(nth))
    };
    let mut out: Vec<(u8, &Action)> = Vec::new();
    let mut open = Vec::new();
    for action in &rule.actions {
        let who = match action.who {
            Role::Passer => passer,
            Role::Receiver => receiver,
            Role::Holder => frame.holder.or(receiver),
            Role::Driver => last(&|w| match *w {
                What::Drives { who, .. } => Some(who),
                _ => None,
            })
            .or(passer),
            Role::Cutter => last(&|w| match *w {
                What::Unfed { who, .. } => Some(who),
                _ => None,
            }),
            Role::Denied => match &walk.step.order {
                crate::sim::walkthrough::Order::Deny(list) => list.first().copied(),
                crate::sim::walkthrough::Order::DribbleAt(mate) => Some(*mate),
                _ => None,
            },
            Role::Post => inside(0),
            Role::SecondPost => inside(1),
            Role::At(place) => (1..=5_u8).find(|n| {
                let spot = spots[usize::from(*n) - 1];
                let leaving = receiver.is_some() && passer == Some(*n) && frame.holder.is_none();
                !leaving && place.takes_in(spot, walk.step.ball_side)
            }),
            Role::Player(number) => Some(number),
            Role::Next | Role::Nearest(_) => None,
        };
        match who {
            Some(who) if out.iter().all(|(other, _)| *other != who) => out.push((who, action)),
            _ => open.push(action),
        }
    }
    // Who is left over moves when the rule fires and has no line yet.
    for action in open {
        let moves = timeline.iter().filter(|e| e.time >= walk.fired - 1e-6);
        let who = moves
            .filter(|e| e.time <= walk.fired + 1.5 + action.after)
            .filter_map(mover)
            .find(|who| out.iter().all(|(other, _)| other != who));
        if let Some(who) = who {
            out.push((who, action));
        }
    }
    out
}

/// What a player does whom the rule does not name.
fn unnamed(rule: &Rule, walk: &Walked, timeline: &[Entry], frame: &Frame, player: u8) -> String {
    let passes = timeline.iter().rev().find_map(|e| match e.what {
        What::Passes { from, to, .. } if e.time <= walk.fired + 1e-6 => Some((from, to)),
        _ => None,
    });
    let of_pass = matches!(
        rule.when,
        Event::Pass { .. } | Event::KickOut { .. } | Event::Catch { .. } | Event::BallCrosses
    );
    if let Some((from, to)) = passes.filter(|_| of_pass) {
        if to == player {
            return "catch, face the rim and look".to_string();
        }
        if from == player {
            return "pass, then keep your place".to_string();
        }
    }
    if frame.holder == Some(player) {
        return match rule.when {
            Event::Drive { .. } => "drive to the rim, eyes up".to_string(),
            Event::DribbleAt { .. } => "dribble at him".to_string(),
            _ => "have the ball: read what opens".to_string(),
        };
    }
    let stop = until(walk)[usize::from(player) - 1].unwrap_or(f64::INFINITY);
    let fills = timeline.iter().find_map(|e| match e.what {
        What::Fills { who, to } if who == player && e.time >= walk.fired && e.time < stop => {
            Some(to)
        }
        _ => None,
    });
    match fills {
        Some(to) => {
            let to = Where::of(to, walk.step.ball_side).words();
            format!("fill the {to}, which nobody holds")
        }
        None if runs(walk, frame, player) => FINISHES.to_string(),
        None => STAYS.to_string(),
    }
}

/// Is he on his way already when the card begins?
fn runs(walk: &Walked, frame: &Frame, player: u8) -> bool {
    let frames = &walk.step.frames;
    let later = frames.get(frame_at(frames, frame.time) + LOOKED_AT);
    let who = usize::from(player) - 1;
    later.is_some_and(|later| {
        let way = (later.attackers[who] - frame.attackers[who]).length();
        way > ON_HIS_WAY * (later.time - frame.time)
    })
}

/// All that a line tells a player, step by step.
fn whole(action: &Action) -> String {
    let then = action
        .then
        .iter()
        .map(|step| format!("; then {}", you(step, 0.0)));
    you(&action.does, action.after) + &then.collect::<String>()
}

/// "cut ball side to the rim; if you are not fed, go through …": a movement said to a player.
pub fn you(movement: &Movement, after: f64) -> String {
    let told = match movement {
        Movement::Cut { lane, unfed } => {
            let lane = match lane {
                crate::offence::CutLane::BallSide => "ball side",
                crate::offence::CutLane::Behind => "behind your defender",
            };
            format!("cut {lane} to the rim; not fed, {}", you(unfed, 0.0))
        }
        Movement::ScreenFor { whom, after } => {
            format!(
                "screen for {}, then {}",
                words::role(*whom),
                you(after, 0.0)
            )
        }
        Movement::UseScreen {
            of,
            to: None,
            unfed,
            ..
        } => format!(
            "wait for the screen of {} and cut off it to the rim; not fed, {}",
            words::role(*of),
            you(unfed, 0.0)
        ),
        other => words::bare(other)
            .replace(" his ", " your ")
            .replace("then goes home", "then go home"),
    };
    if after > 0.0 {
        format!("wait {after} s, then {told}")
    } else {
        told
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::Scenario;

    #[test]
    fn every_rule_of_the_demo_has_a_card_that_says_what_each_of_the_five_does() {
        let scenario = Scenario::demo();
        let cards = cards(&scenario);
        assert_eq!(cards.len(), scenario.offence.rules.len());
        let mut without = Vec::new();
        for card in &cards {
            if card.scene.is_none() {
                without.push(card.name.clone());
                continue;
            }
            let players: Vec<u8> = card.parts.iter().map(|p| p.player).collect();
            assert_eq!(players, [1, 2, 3, 4, 5], "{}", card.name);
            // A line for somebody who is not there now (“the player in the corner”) means nobody.
            let named = card.parts.iter().filter(|p| p.by_rule).count();
            let lines = scenario.offence.rules[card.rule].actions.len();
            assert!(
                (1..=lines).contains(&named),
                "{}: {:?}",
                card.name,
                card.parts
            );
            for part in &card.parts {
                for his in [" his ", " he ", " him "] {
                    let line = format!(" {} ", part.does);
                    let other = line.contains("dribble at him") || line.contains("screen of");
                    assert!(other || !line.contains(his), "{}: {line}", card.name);
                }
            }
        }
        assert!(without.is_empty(), "no walk makes {without:?} fire");
    }
}
