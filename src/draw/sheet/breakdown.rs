//! Breakdown drills: the players of one rule's card alone, two, three or four of them, before the five
//! walk the rules. What each does comes from the card; why it is practised, from the figures. Whom to read, groups,
//! rotation and scoring are common practice of the trade: each drill has one defender, whom they read.

use std::cmp::Reverse;

use crate::clean::cut;
use crate::court::Vec2;
use crate::offence::words::capital;
use crate::offence::{CutLane, Event, LookKind, Movement, Place, Rule};
use crate::scenario::{Scenario, Session};
use crate::why::Summary;

use super::super::cards::{Card, Part, STAYS};
use super::super::scene::{ArrowKind, Item, Scene};
use super::super::text::LONGEST;
use super::ages::Age;
use super::drills::ENOUGH;
use super::findings::Said;
use super::next::{as_drawn, outlet, said};
use super::reasons::Grounds;

/// Sizes of a group, in the order in which they are practised.
const SIZES: [(usize, &str); 3] = [(2, "two"), (3, "three"), (4, "four")];

/// One drill.
#[derive(Clone, Debug)]
pub struct Breakdown {
    /// How many players are in a group, 2 to 4.
    pub players: usize,
    /// The same as a word.
    pub word: &'static str,
    /// Index of the rule that it is cut from.
    pub rule: usize,
    /// The rule's name.
    pub name: String,
    /// What it is for: "look 2 (the post feed)", "the give-and-go cut".
    pub purpose: String,
    /// "When the ball goes from …": the cue to start.
    pub when: String,
    /// What each of the group does, a line each, as the card has it; what has to be so is so as the drill is set up.
    pub lines: Vec<String>,
    /// How a turn ends.
    pub finish: String,
    /// Their part of the card's picture.
    pub scene: Scene,
    /// Why it is practised: the finding that it answers, or the figure that it was chosen by.
    pub why: Option<Said>,
    /// The finding that it answers, from 0.
    pub answers: Option<usize>,
    /// Whom to read, and what to do if that one does the one thing or the other.
    pub cue: String,
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
        format!(
            "{} players, for {}: card {}, {}{}",
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

/// How breakdown drills are done (common practice).
pub const DRILLED: &str = "One defender (X) in each group plays for real. Walk each drill once without X. Groups at one basket take \
     turns, the same number each, on both sides of the floor. The next pass within the count is a right read, too. Left and right \
     as drawn. The floor is not shaded here: the light moves with X.";

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

/// Numbers of those who do something on a card, in the order in which they act.
fn group(card: &Card) -> Vec<u8> {
    let busy = |n: &u8| card.parts.iter().any(|p| p.player == *n && p.does != STAYS);
    card.order.iter().copied().filter(busy).collect()
}

/// The drills: for each size of a group the rule that answers a finding, else the one that comes up most; in that order.
/// None if there are too few possessions to choose by.
pub fn breakdowns(
    scenario: &Scenario,
    summary: &Summary,
    cards: &[&Card],
    grounds: &Grounds,
    age: Age,
) -> Vec<Breakdown> {
    if summary.possessions < ENOUGH {
        return Vec::new();
    }
    let often = |card: &Card| grounds.fired.get(card.rule).copied().unwrap_or_default();
    let mut used: Vec<LookKind> = Vec::new();
    let mut out: Vec<((bool, usize, Reverse<u32>), Breakdown)> = Vec::new();
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
        let Some(mut own) = drill(scenario, card, rule, (size, word)) else {
            continue;
        };
        if let Some(i) = why.look {
            own.purpose = format!("look {} (the {})", i + 1, look.word());
        }
        own.answers = why.answers;
        own.why = Some(why.said);
        out.push((rank, own));
    }
    out.sort_by_key(|(rank, drill)| (*rank, drill.players));
    out.into_iter().map(|(_, drill)| drill).collect()
}

/// The drill of one card.
pub fn drill(
    scenario: &Scenario,
    card: &Card,
    rule: &Rule,
    (players, word): (usize, &'static str),
) -> Option<Breakdown> {
    let group = group(card);
    let look = look_of(rule).unwrap_or(LookKind::NextPass);
    let mut scene = card.scene.clone()?;
    let outlet = outlet(scenario, card, &scene, &group, look);
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
    let finish = finish(card, look, &mut scene);
    let denied = matches!(rule.when, Event::Denied { .. });
    let cue = guarded(card, look).map_or(String::new(), |who| {
        // A group has one defender: in a zone another one stands by the player who is to be read.
        scene
            .items
            .retain(|i| !matches!(i, Item::Defender { number, .. } if *number != who));
        let drawn = |i: &Item| matches!(i, Item::Defender { number, .. } if *number == who);
        if !scene.items.iter().any(drawn) {
            guard(&mut scene, who, card);
        }
        cue(card, look, denied, who)
    });
    Some(Breakdown {
        purpose: format!("the {}", look.word()),
        players,
        word,
        rule: card.rule,
        name: card.name.clone(),
        when: as_drawn(&set_up(card, rule).unwrap_or(card.when.clone())),
        lines: lines.collect(),
        finish,
        scene,
        why: None,
        answers: None,
        cue,
        next: as_drawn(&said(outlet.as_ref(), &group, look, inside(card).is_some())),
        groups: groups(&scenario.practice, (players, word)),
        rotation: rotation(&group),
    })
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
fn finish(card: &Card, look: LookKind, scene: &mut Scene) -> String {
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
        return format!("Finish: {}", ending(look));
    };
    scene.add(Item::Arrow {
        kind: ArrowKind::Pass,
        path: vec![ball, rim],
        who: from,
    });
    format!("Finish: {from} passes to {to} at the rim, lay-up.")
}

/// The same where nobody cuts (common practice).
fn ending(look: LookKind) -> &'static str {
    match look {
        LookKind::Drive => "a lay-up, or stop on two feet and pass.",
        LookKind::KickOut => "the catcher shoots or drives at once.",
        LookKind::Post | LookKind::DropOff => "the post scores, or passes back out.",
        _ => "whoever catches last shoots or drives.",
    }
}

/// What to look at, and what to do if it is the one thing, and what if the other (common practice).
fn cue(card: &Card, look: LookKind, denied: bool, who: u8) -> String {
    let x = format!("X{who}");
    match (look, denied) {
        (_, true) => format!(
            "Read {x}: in the lane between {who} and the ball, {who} cuts behind and gets a bounce pass; dropped back to \
             the rim, {who} gets a plain pass."
        ),
        (LookKind::Drive, _) => format!(
            "Read {x}: beside {who}, go on to the rim; in front of {who}, stop on two feet and pass."
        ),
        _ if cutter(card) == Some(who) => format!(
            "Read {x}: behind {who}, pass to the front hand; between {who} and the ball, no pass, and {who} finishes the cut."
        ),
        (LookKind::Post, _) if holder(card) != Some(who) => format!(
            "Read {x}: behind {who}, feed {who} at once; in front of {who}, wait for the seal, a count of one, and feed {who} then."
        ),
        (LookKind::Post | LookKind::DropOff, _) => format!(
            "Read {x}: behind {who}, {who} turns and scores; coming round in front, {who} passes back out."
        ),
        _ => format!(
            "Read {x}: too far off to reach the shot, {who} shoots; close or running at {who}, {who} drives by."
        ),
    }
}

/// Whom a player who waits takes turns with.
const EXTRA: &str = "comes in as X after each turn; whoever would defend next waits.";

/// "3 groups of two and a defender, at most 2 at each of the 2 baskets."
fn groups(practice: &Session, (size, word): (usize, &str)) -> String {
    let (players, baskets) = (practice.players() as usize, practice.baskets() as usize);
    let groups = players / (size + 1);
    let most = groups.div_ceil(baskets.max(1));
    let over = players % (size + 1);
    let mut said = match groups {
        0 => format!("{players} players are fewer than {word} and a defender: coaches fill in"),
        1 => format!("One group of {word} and a defender"),
        n => format!(
            "{n} groups of {word} and a defender, at most {most} at each of the {}",
            match baskets.min(n) {
                1 => "1 basket".to_string(),
                b => format!("{b} baskets"),
            }
        ),
    };
    said += ".";
    match over {
        0 => {}
        _ if groups == 0 => {}
        1 => said += &format!(" The extra player waits and {EXTRA}"),
        n => said += &format!(" The {n} extra players wait, and one of them {EXTRA}"),
    }
    said
}

/// "After each turn: 1 to 3's place, 3 defends, X to 1's place."
fn rotation(group: &[u8]) -> String {
    let (Some(first), Some(last)) = (group.first(), group.last()) else {
        return String::new();
    };
    let steps = group
        .windows(2)
        .map(|w| format!("{} to {}'s place", w[0], w[1]));
    let mut steps: Vec<String> = steps.collect();
    steps.push(format!("{last} defends"));
    steps.push(format!("X to {first}'s place"));
    format!("After each turn: {}.", steps.join(", "))
}
