//! Breakdown drills: the players of one rule's card alone, two, three or four of them, before the five
//! walk the rules. What each does comes from the card; why it is practised, from the figures. Whom to read, groups,
//! rotation and scoring are common practice of the trade: each drill has one defender, whom they read.

use std::cmp::Reverse;

use crate::clean::cut;
use crate::court::Vec2;
use crate::offence::words::capital;
use crate::offence::{CutLane, Event, LookKind, Movement, Place, Rule};
use crate::scenario::Scenario;
use crate::why::Summary;

use super::super::cards::{Card, Part};
use super::super::scene::{ArrowKind, Item, Scene};
use super::super::text::LONGEST;
use super::ages::Age;
use super::cue::cue;
use super::drills::ENOUGH;
use super::findings::{Findings, Said};
use super::groups::{groups, rotation};
use super::next::{self, Outlet, as_drawn, changes, outlet, said};
use super::reasons::{Grounds, Reason};
use super::scoring::ends;

/// Sizes of a group, in the order in which they are practised.
const SIZES: [(usize, &str); 3] = [(2, "two"), (3, "three"), (4, "four")];

/// One drill.
#[derive(Clone, Debug)]
pub struct Breakdown {
    /// What is drilled.
    pub look: LookKind,
    /// Who is there for the pass out alone, 1–5; counted among those who play.
    pub third: Option<u8>,
    /// How many players of the card are in a group, 2 to 4.
    pub players: usize,
    /// The same as a word.
    pub word: &'static str,
    /// Index of the rule that it is cut from.
    pub rule: usize,
    /// The rule's name.
    pub name: String,
    /// What it is for: "look 2 (the post feed)", "the give-and-go cut".
    pub purpose: String,
    /// Who stands where, who has the ball, and how the defender begins.
    pub start: String,
    /// What starts a turn: the pass, the drive or the coach's word.
    pub signal: String,
    /// What each of the group does, a line each, as the card has it; what has to be so is so as the drill is set up.
    pub lines: Vec<String>,
    /// How a turn ends, and who has which points.
    pub finish: String,
    /// Their part of the card's picture.
    pub scene: Scene,
    /// Why it is practised: the finding that it answers, with its figures.
    pub why: Option<Said>,
    /// The finding that it answers, from 0.
    pub answers: Option<usize>,
    /// Turns at each basket in the minutes of the plan.
    pub turns: u32,
    /// Whom to read, and what to do if that one does the one thing or the other.
    pub cue: String,
    /// What the drill changes, in one sentence.
    pub changes: String,
    /// To whom the ball goes at once if the look is not there.
    pub next: String,
    /// Groups for the players and baskets that there are.
    pub groups: String,
    /// Who takes whose place after a turn.
    pub rotation: String,
}

impl Breakdown {
    /// As it stands in the plan.
    pub fn block(&self) -> String {
        let answers = self.answers.map(|n| format!(" (finding {})", n + 1));
        let third = self
            .third
            .map_or(String::new(), |n| format!(" and {n} for the pass out"));
        format!(
            "{} players{third}, for {}: card {}, {}{}",
            capital(self.word),
            self.purpose,
            self.rule + 1,
            brief(&self.name),
            answers.unwrap_or_default()
        )
    }
}

/// A card's name beside its number: without what everybody does, which the card says.
pub(super) fn brief(name: &str) -> String {
    cut(name.split(':').next().unwrap_or_default(), LONGEST)
}

/// The kind of look that a rule makes; `None` if it only keeps places filled: that is no drill for a few.
pub fn look_of(rule: &Rule) -> Option<LookKind> {
    let mut links = rule.actions.iter().flat_map(|a| a.does.links());
    let made = links.find_map(|m| match m {
        Movement::Cut {
            lane: CutLane::Behind,
            ..
        } => Some(LookKind::Backdoor),
        Movement::Cut { .. } | Movement::UseScreen { .. } => Some(LookKind::GiveAndGo),
        Movement::Flash { .. } | Movement::Seal { .. } => Some(LookKind::Post),
        _ => None,
    });
    match &rule.when {
        Event::Drive { .. } => Some(LookKind::Drive),
        Event::KickOut { .. } => Some(LookKind::KickOut),
        Event::Denied { .. } => Some(LookKind::Backdoor),
        Event::Pass { to, .. } if is_inside(*to) => Some(LookKind::Post),
        _ => made,
    }
}

fn is_inside(place: Place) -> bool {
    let name = place.parts().map(|(name, _)| name);
    place == Place::Inside || place != Place::Rim && name.is_some_and(|n| !n.is_perimeter())
}

/// Numbers of those who do something on a card, in the order in which they act. Whom another card sends without the ball
/// is none of the drill.
fn group(card: &Card) -> Vec<u8> {
    let ball = |p: &Part| ["pass to ", "catch"].iter().any(|w| p.does.starts_with(w));
    let own = |p: &Part| p.by_rule || ball(p) || !p.does.contains(" (card ");
    let busy = |n: &u8| {
        let mut parts = card.parts.iter().filter(|p| p.player == *n);
        parts.any(|p| !p.stays() && own(p))
    };
    card.order.iter().copied().filter(busy).collect()
}

/// The drills: for each size of a group the rule that answers a finding, else the one that comes up most of those whose look
/// is mostly shut, which then is a finding; in that order. None if there are too few possessions to choose by.
pub fn breakdowns(
    scenario: &Scenario,
    summary: &Summary,
    cards: &[&Card],
    grounds: &Grounds,
    (found, age): (&mut Findings, Age),
) -> Vec<Breakdown> {
    if summary.possessions < ENOUGH {
        return Vec::new();
    }
    let often = |card: &Card| grounds.fired.get(card.rule).copied().unwrap_or_default();
    let mut used: Vec<LookKind> = Vec::new();
    let mut out: Vec<((bool, usize, Reverse<u32>), Reason, Breakdown)> = Vec::new();
    for (size, word) in SIZES.into_iter().filter(|(n, _)| *n <= age.group) {
        let fits = |card: &&Card| {
            card.scene.is_some()
                && !card.cut_short
                && card.not_drawn.is_empty()
                && group(card).len() == size
                && card.parts.iter().any(|p| p.by_rule)
        };
        let choice = cards.iter().copied().filter(fits).filter_map(|card| {
            let rule = scenario.offence.rules.get(card.rule)?;
            let (look, why) = (look_of(rule)?, grounds.reason(scenario, summary, card)?);
            let finding = why.answers.unwrap_or(usize::MAX);
            let rank = (why.answers.is_none(), finding, Reverse(often(card)));
            Some((used.contains(&look), rank, card, rule, look, why))
        });
        let Some((_, rank, card, rule, look, why)) =
            choice.min_by_key(|(known, rank, card, ..)| (*known, *rank, card.rule))
        else {
            continue;
        };
        used.push(look);
        let exit = why.exit.as_ref();
        let Some(mut own) = drill((scenario, summary), card, rule, (size, word), exit) else {
            continue;
        };
        if let Some(i) = why.look {
            own.purpose = format!("look {} (the {})", i + 1, look.word());
        }
        out.push((rank, why, own));
    }
    out.sort_by_key(|(rank, _, drill)| (*rank, drill.players));
    let drills = out.into_iter().map(|(_, why, mut drill)| {
        let finding = why
            .answers
            .or_else(|| why.found.map(|said| found.add(said)));
        drill.answers = finding;
        drill.why = finding.map(|_| Said {
            text: format!("{} {}", as_drawn(&why.said.text), drill.changes),
            keys: why.said.keys,
        });
        drill
    });
    let mut drills: Vec<Breakdown> = drills.collect();
    // In the order of the findings; what two drills have found alike stands as one.
    drills.sort_by_key(|drill| drill.answers);
    drills
}

/// The drill of one card. `exit`: what is open while its look is shut; else the nearest pass.
pub(super) fn drill(
    (scenario, summary): (&Scenario, &Summary),
    card: &Card,
    rule: &Rule,
    (players, word): (usize, &'static str),
    exit: Option<&Outlet>,
) -> Option<Breakdown> {
    let group = group(card);
    let look = look_of(rule).unwrap_or(LookKind::NextPass);
    let mut scene = card.scene.clone()?;
    let outlet = exit
        .cloned()
        .or_else(|| outlet(scenario, card, &scene, &group, look));
    let drawn = |n: &u8| group.contains(n) || outlet.as_ref().is_some_and(|o| o.to == *n);
    scene.items.retain(|item| match item {
        Item::Attacker { number, .. } => drawn(number),
        Item::Arrow { who, .. } => drawn(who),
        // The light of the card is that of later instants than the one that is drawn.
        Item::Light(_) | Item::Beam { .. } => false,
        _ => true,
    });
    let parts = group
        .iter()
        .filter_map(|n| card.parts.iter().find(|p| p.player == *n));
    let lines = parts.map(|p| format!("{}, {}: {}.", p.player, p.from, plain(&p.does)));
    let lines = lines.map(|line| as_drawn(&line));
    let mut finish = finish(summary, card, look, &mut scene);
    if let Some(outlet) = &outlet {
        next::draw(&mut scene, (outlet.from, outlet.to));
    }
    let outside = outlet.as_ref().map(|o| o.to).filter(|n| !group.contains(n));
    let all: Vec<u8> = group.iter().copied().chain(outside).collect();
    let denied = matches!(rule.when, Event::Denied { .. });
    let read = guarded(card, look).unwrap_or_default();
    let cue = guarded(card, look).map_or(String::new(), |who| {
        // A group has one defender: in a zone another one stands by the player who is to be read.
        scene
            .items
            .retain(|i| !matches!(i, Item::Defender { number, .. } if *number != who));
        let drawn = |i: &Item| matches!(i, Item::Defender { number, .. } if *number == who);
        if !scene.items.iter().any(drawn) {
            guard(&mut scene, who, card);
        }
        finish += &points(&all, who);
        cue(card, look, denied, who)
    });
    let start = as_drawn(&stand(card, rule, read, &all));
    Some(Breakdown {
        purpose: format!("the {}", look.word()),
        look,
        third: outside,
        players,
        word,
        rule: card.rule,
        name: card.name.clone(),
        start,
        signal: signal(card),
        lines: lines.collect(),
        finish,
        scene,
        why: None,
        answers: None,
        turns: 0,
        cue,
        changes: as_drawn(&changes(
            summary,
            (card, look, denied),
            read,
            outlet.as_ref(),
        )),
        next: as_drawn(&said(
            summary,
            outlet.as_ref(),
            &group,
            look,
            inside(card).is_some(),
        )),
        groups: groups(&scenario.practice, (all.len(), size_word(all.len(), word))),
        rotation: rotation(&scenario.practice, &all),
    })
}

/// The word of a size of a group.
fn size_word(size: usize, known: &'static str) -> &'static str {
    let word = SIZES.iter().find(|(n, _)| *n == size);
    word.map_or(known, |(_, word)| word)
}

/// Who stands where and who has the ball.
fn stand(card: &Card, rule: &Rule, who: u8, all: &[u8]) -> String {
    let ball = card.order.first();
    let stands = all.iter().filter_map(|n| {
        let part = card.parts.iter().find(|p| p.player == *n)?;
        let more = if ball == Some(n) { " (ball)" } else { "" };
        Some(format!("{n} {}{more}", part.from))
    });
    let stands: Vec<String> = stands.collect();
    let begins = set_up(card, rule).map_or(String::new(), |said| format!(" {said}."));
    format!("Start: {}; X{who} as drawn.{begins}", stands.join(", "))
}

/// What starts a turn.
fn signal(card: &Card) -> String {
    let first = card.order.first().copied().unwrap_or_default();
    let part = card.parts.iter().find(|p| p.player == first);
    let does = part.map_or("", |p| p.does.as_str());
    let to = does.strip_prefix("pass to ").and_then(|to| to.get(..1));
    match to {
        Some(to) => format!("Signal: {first} passes to {to}."),
        None if does.contains("drive") => format!("Signal: {first} drives."),
        None if does.contains("dribble") => format!("Signal: {first} dribbles."),
        None => "Signal: the coach says “go”.".to_string(),
    }
}

/// Who has which points.
fn points(group: &[u8], who: u8) -> String {
    let mut group: Vec<String> = group.iter().map(u8::to_string).collect();
    group.sort();
    let all = match group.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
        _ => group.concat(),
    };
    format!(" Right read: {all} have 1 each, with a basket 2; stop: X{who} has 1.")
}

/// What the live defender does at first, so that the rule counts: a denial and a lost post are that defender's doing.
fn set_up(card: &Card, rule: &Rule) -> Option<String> {
    match (&rule.when, inside(card), cutter(card)) {
        (Event::PostForgotten { .. }, Some(post), _) => Some(format!(
            "X{post} begins with eyes on the ball alone, until {post} moves"
        )),
        (Event::Denied { .. }, _, Some(cutter)) => Some(format!(
            "X{cutter} begins in the lane between {cutter} and the ball"
        )),
        _ => None,
    }
}

/// Without what has to be so and without what another card says: the drill is set up so that the rule counts.
fn plain(does: &str) -> &str {
    let ends = [" (only if ", " (unless ", " (card "];
    let end = ends.iter().filter_map(|words| does.find(words)).min();
    &does[..end.unwrap_or(does.len())]
}

/// From a player to a defender between that player and the rim, metres (ours: a step and a half).
const GUARDED: f64 = 1.4;

/// Where a player stands on a picture.
pub(super) fn place(scene: &Scene, n: u8) -> Option<Vec2> {
    scene.items.iter().find_map(|item| match item {
        Item::Attacker { number, pos, .. } if *number == n => Some(*pos),
        _ => None,
    })
}

/// Who has the ball when the look of a card may open: whoever catches it, else whoever has it.
pub(super) fn holder(card: &Card) -> Option<u8> {
    let catches = card.parts.iter().find(|p| p.does.starts_with("catch"));
    catches.map(|p| p.player).or(card.order.first().copied())
}

/// Whom the rule has cut.
pub(super) fn cutter(card: &Card) -> Option<u8> {
    let cuts = |p: &&Part| p.by_rule && plain(&p.does).contains("cut ");
    let cutter = card.parts.iter().find(cuts).map(|p| p.player);
    cutter.filter(|c| holder(card) != Some(*c))
}

/// Whom the rule has show inside.
pub(super) fn inside(card: &Card) -> Option<u8> {
    let shows = |p: &&Part| p.by_rule && (p.does.contains("seal ") || p.does.contains("flash "));
    card.parts.iter().find(shows).map(|p| p.player)
}

/// Whose defender is to be read: the cutter's, the driver's, else that of whoever has the ball last.
fn guarded(card: &Card, look: LookKind) -> Option<u8> {
    match look {
        LookKind::Drive => card.order.first().copied(),
        LookKind::Post => inside(card).or_else(|| holder(card)),
        _ => cutter(card).or_else(|| holder(card)),
    }
}

/// Draws the defender of a player, between that player and the rim, facing the ball.
fn guard(scene: &mut Scene, who: u8, card: &Card) {
    let Some(stands) = place(scene, who) else {
        return;
    };
    let ball = holder(card).and_then(|n| place(scene, n)).unwrap_or(stands);
    let way = -stands / stands.length().max(1e-6);
    let pos = stands + way * GUARDED;
    scene.add(Item::Defender {
        number: who,
        pos,
        facing: (ball - pos) / (ball - pos).length().max(1e-6),
    });
}

/// How a turn ends, in words, and on the picture the pass to the cutter.
fn finish(summary: &Summary, card: &Card, look: LookKind, scene: &mut Scene) -> String {
    let ways = |to: u8| {
        let ways = scene.items.iter().filter_map(move |item| match item {
            Item::Arrow { kind, path, who } if *who == to && *kind != ArrowKind::Pass => Some(path),
            _ => None,
        });
        let points = ways.flatten().copied();
        points.min_by(|a, b| a.length().total_cmp(&b.length()))
    };
    let pass = holder(card)
        .zip(cutter(card))
        .and_then(|(from, to)| Some((from, to, place(scene, from)?, ways(to)?)));
    let Some((from, to, ball, rim)) = pass else {
        feed(card, scene);
        return format!("End and score: {}", ending(summary, card, look));
    };
    scene.add(Item::Arrow {
        kind: ArrowKind::Pass,
        path: vec![ball, rim],
        who: from,
    });
    format!("End and score: {from} passes to {to} at the rim, lay-up.")
}

/// Draws the feed to whoever shows inside.
fn feed(card: &Card, scene: &mut Scene) {
    let Some((from, to)) = holder(card).zip(inside(card)).filter(|(a, b)| a != b) else {
        return;
    };
    let Some((ball, stands)) = place(scene, from).zip(place(scene, to)) else {
        return;
    };
    let off = |p: &Vec2| (*p - stands).length();
    let own = scene.items.iter().filter_map(|item| match item {
        Item::Arrow { kind, path, who } if *who == to && *kind != ArrowKind::Pass => Some(path),
        _ => None,
    });
    let shows = own.flatten().copied();
    if let Some(shows) = shows.max_by(|a, b| off(a).total_cmp(&off(b))) {
        scene.add(Item::Arrow {
            kind: ArrowKind::Pass,
            path: vec![ball, shows],
            who: from,
        });
    }
}

/// The same where nobody cuts (common practice).
fn ending(summary: &Summary, card: &Card, look: LookKind) -> String {
    let last = holder(card).and_then(|n| card.parts.iter().find(|p| p.player == n));
    let does = ends(summary, last.map_or("", |p| &p.from));
    match look {
        LookKind::Drive => "a lay-up, or stop on two feet and pass.".to_string(),
        LookKind::KickOut => format!("the catcher {does} at once."),
        LookKind::Post | LookKind::DropOff => "the post scores, or passes back out.".to_string(),
        _ => format!("whoever catches last {does}."),
    }
}
