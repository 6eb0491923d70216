//! Breakdown drills: the players of one rule's card alone, two, three or four of them, before the five
//! walk the rules. What each does comes from the card; whom to read, and what shuts it, from the
//! figures. Groups, rotation and scoring are common practice of the trade.

use crate::clean::cut;
use crate::defence::Relation;
use crate::offence::words::capital;
use crate::offence::{CutLane, Event, LookKind, Movement, Place, Rule};
use crate::scenario::{Scenario, Session};
use crate::why::Summary;
use crate::why::summary::LookWhy;

use super::super::cards::{Card, STAYS};
use super::super::scene::{Item, Scene};
use super::super::text::LONGEST;
use super::ages::Age;
use super::drills::{Chosen, ENOUGH};
use super::findings::{Said, percent};

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
    /// What each of the group does, a line each, as the card has it.
    pub lines: Vec<String>,
    /// Their part of the card's picture.
    pub scene: Scene,
    /// Whom to read, with the figure behind it.
    pub cue: Option<Said>,
    /// What to do about the defender who shuts it most.
    pub against: &'static str,
    /// Groups for the players and baskets that there are.
    pub groups: String,
    /// Who takes whose place after a turn.
    pub rotation: String,
}

impl Breakdown {
    /// As it stands in the plan.
    pub fn block(&self) -> String {
        format!(
            "{} players, for {}: card {}, {}",
            capital(self.word),
            self.purpose,
            self.rule + 1,
            cut(&self.name, LONGEST)
        )
    }
}

/// What counts in a breakdown drill (common practice).
pub const SCORING: &str = "Two points for a basket off the right read, one for the right read without a basket; the \
     first group to ten.";

/// The kind of look that a rule makes.
pub fn look_of(rule: &Rule) -> LookKind {
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
        Event::Drive { .. } => LookKind::Drive,
        Event::KickOut { .. } => LookKind::KickOut,
        Event::Denied { .. } => LookKind::Backdoor,
        Event::Pass { to, .. } if is_inside(*to) => LookKind::Post,
        _ => made.unwrap_or(LookKind::NextPass),
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

/// The drills: for each size of a group the rule that makes a look which is drilled, else the first in
/// the order of the offence; none if there are too few possessions to know whom to read.
pub fn breakdowns(
    scenario: &Scenario,
    summary: &Summary,
    cards: &[Card],
    chosen: &[Chosen],
    age: Age,
) -> Vec<Breakdown> {
    if summary.possessions < ENOUGH {
        return Vec::new();
    }
    let wanted: Vec<LookKind> = chosen.iter().map(|c| c.light.look).collect();
    let mut used: Vec<LookKind> = Vec::new();
    let mut out: Vec<Breakdown> = Vec::new();
    for (size, word) in SIZES.into_iter().filter(|(n, _)| *n <= age.group) {
        let rule = |card: &Card| scenario.offence.rules.get(card.rule);
        let fits = |card: &&Card| {
            card.scene.is_some()
                && !card.cut_short
                && card.not_drawn.is_empty()
                && group(card).len() == size
                && card.parts.iter().any(|p| p.by_rule)
        };
        let turn = |card: &&Card| {
            let look = rule(card).map(look_of);
            let known = look.is_some_and(|l| used.contains(&l));
            let at = wanted.iter().position(|w| Some(*w) == look);
            (known, at.unwrap_or(wanted.len()), card.rule)
        };
        let Some(card) = cards.iter().filter(fits).min_by_key(turn) else {
            continue;
        };
        let Some(rule) = rule(card) else { continue };
        let look = look_of(rule);
        used.push(look);
        let mut own = drill(scenario, summary, card, rule, (size, word));
        if let (Some(drill), Some(i)) = (&mut own, wanted.iter().position(|w| *w == look)) {
            drill.purpose = format!("look {} (the {})", i + 1, look.word());
        }
        out.extend(own);
    }
    out
}

/// The drill of one card.
pub fn drill(
    scenario: &Scenario,
    summary: &Summary,
    card: &Card,
    rule: &Rule,
    (players, word): (usize, &'static str),
) -> Option<Breakdown> {
    let group = group(card);
    let mut scene = card.scene.clone()?;
    scene.items.retain(|item| match item {
        Item::Attacker { number, .. } => group.contains(number),
        Item::Arrow { who, .. } => group.contains(who),
        _ => true,
    });
    let parts = group
        .iter()
        .filter_map(|n| card.parts.iter().find(|p| p.player == *n));
    let lines = parts.map(|p| format!("{}, {}: {}.", p.player, p.from, p.does));
    let look = look_of(rule);
    let (cue, against) = cue(summary, look, ball_at(card));
    Some(Breakdown {
        purpose: format!("the {}", look.word()),
        players,
        word,
        rule: card.rule,
        name: card.name.clone(),
        lines: lines.collect(),
        scene,
        cue,
        against,
        groups: groups(&scenario.practice, players),
        rotation: rotation(&group),
    })
}

/// Where the ball is when the look of a card may open: with whoever catches it, else with whoever has it.
fn ball_at(card: &Card) -> Option<&str> {
    let of = |n: &u8| card.parts.iter().find(|p| p.player == *n);
    let catches = card.parts.iter().find(|p| p.does.starts_with("catch"));
    let at = catches.or_else(|| card.order.first().and_then(of))?;
    Some(&at.from)
}

/// The defender to read when this look is played with the ball there, and what to do about that one.
fn cue(summary: &Summary, kind: LookKind, ball: Option<&str>) -> (Option<Said>, &'static str) {
    let seen = |l: &LookWhy| l.seen.map_or(0.0, |e| e.value);
    let there = |l: &LookWhy| {
        let from = l.site.from.map(|at| at.words());
        from.is_none_or(|from| ball == Some(from.as_str()))
    };
    let own = summary.looks.iter().enumerate();
    let own = own.filter(|(_, l)| l.site.kind == kind && !l.closers.is_empty() && there(l));
    let found = own.max_by(|(_, a), (_, b)| seen(a).total_cmp(&seen(b)));
    let told = found.and_then(|(i, look)| {
        let closer = look.closers.first()?;
        let share = closer.share?;
        let said = Said {
            text: format!(
                "Read {}: of all the time that {} is shut, {} is by this one.",
                closer.seat.who(),
                look.site.words(),
                percent(&share)
            ),
            keys: vec![format!("looks/{i}/closers/0/share")],
        };
        Some((said, closer.seat.relation))
    });
    // Common practice, for each relation of the closer's man to the ball.
    let against = match told.as_ref().map(|(_, relation)| *relation) {
        Some(Relation::OnBall) => {
            "The defender on the ball is in the way: fake one way, go or pass the other."
        }
        Some(Relation::Cutter) => {
            "The cutter's defender trails: walk first, then change pace, and show the front hand."
        }
        Some(Relation::PostBallSide | Relation::PostWeakSide) => {
            "The post's defender is in the lane: the post seals before the pass is thrown."
        }
        Some(Relation::OnePass | Relation::TwoPasses) => {
            "Help stands in the lane: look it off, or move it with a fake before you pass."
        }
        None => "First without defenders, then with one on the player who cuts or drives.",
    };
    (told.map(|(said, _)| said), against)
}

/// "10 players, 2 baskets: 5 groups of two, 3 at a basket at most."
fn groups(practice: &Session, size: usize) -> String {
    let (players, baskets) = (practice.players() as usize, practice.baskets() as usize);
    let groups = players / size;
    let most = groups.div_ceil(baskets.max(1));
    let over = players % size;
    let mut said = match groups {
        0 => format!("{players} players are fewer than the group: coaches fill in"),
        1 => "One group".to_string(),
        n => format!(
            "{n} groups, at most {most} at each of the {} in use",
            match baskets.min(n) {
                1 => "1 basket".to_string(),
                b => format!("{b} baskets"),
            }
        ),
    };
    if groups > 0 && over > 0 {
        said += &format!("; {over} more guard first");
    }
    said + "."
}

/// "After each turn 1 goes to the place of 3, 3 to that of 2, 2 to that of 1."
fn rotation(group: &[u8]) -> String {
    let next = group.iter().cycle().skip(1);
    let steps = group.iter().zip(next);
    let steps: Vec<String> = steps.map(|(a, b)| format!("{a} to {b}'s place")).collect();
    format!(
        "After each turn: {}; then the other side.",
        steps.join(", ")
    )
}
