//! Breakdown drills: the players of one rule's card alone, two, three or four of them, before the five
//! walk the rules. What each does comes from the card; whom to read, and what shuts it, from the
//! figures. Groups, rotation and scoring are common practice of the trade.

use crate::clean::cut;
use crate::defence::Relation;
use crate::offence::words::capital;
use crate::offence::{CutLane, Event, LookKind, Movement, Place, Rule};
use crate::scenario::{Scenario, Session};
use crate::why::summary::LookWhy;
use crate::why::{Summary, Where};

use super::super::cards::{Card, Part, STAYS};
use super::super::scene::{ArrowKind, Item, Scene};
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
    /// "When the ball goes from …": the cue to start.
    pub when: String,
    /// What each of the group does, a line each, as the card has it; what has to be so is so as the drill is set up.
    pub lines: Vec<String>,
    /// How a turn ends.
    pub finish: String,
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
pub const SCORING: &str = "Two points for a basket off the right read, one for the right read without a basket. Groups \
     at one basket take turns, the same number each; most points win.";

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

/// The drills: for each size of a group the rule that makes a look which is drilled, else the first in
/// the order of the offence; none if there are too few possessions to know whom to read.
pub fn breakdowns(
    scenario: &Scenario,
    summary: &Summary,
    cards: &[&Card],
    chosen: &[Chosen],
    age: Age,
) -> Vec<Breakdown> {
    if summary.possessions < ENOUGH {
        return Vec::new();
    }
    // A drill is for a look only if it is that look, with the ball where that look has it.
    let serves = |card: &Card, look: LookKind| {
        let place = |at: Where| ball_at(card) == Some(at.words().as_str());
        let mut all = chosen.iter();
        all.position(|c| c.light.look == look && c.light.at.is_none_or(place))
    };
    let mut used: Vec<LookKind> = Vec::new();
    let mut out: Vec<Breakdown> = Vec::new();
    for (size, word) in SIZES.into_iter().filter(|(n, _)| *n <= age.group) {
        let rule = |card: &Card| scenario.offence.rules.get(card.rule);
        let fits = |card: &&Card| {
            rule(card).and_then(look_of).is_some()
                && card.scene.is_some()
                && !card.cut_short
                && card.not_drawn.is_empty()
                && group(card).len() == size
                && card.parts.iter().any(|p| p.by_rule)
        };
        let turn = |card: &&Card| {
            let look = rule(card).and_then(look_of);
            let known = look.is_some_and(|l| used.contains(&l));
            let at = look.and_then(|look| serves(card, look));
            (known, at.unwrap_or(chosen.len()), card.rule)
        };
        let Some(card) = cards.iter().copied().filter(fits).min_by_key(turn) else {
            continue;
        };
        let Some(rule) = rule(card) else { continue };
        let Some(look) = look_of(rule) else { continue };
        used.push(look);
        let mut own = drill(scenario, summary, card, rule, (size, word));
        if let (Some(drill), Some(i)) = (&mut own, serves(card, look)) {
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
    let lines = parts.map(|p| format!("{}, {}: {}.", p.player, p.from, plain(&p.does)));
    let look = look_of(rule).unwrap_or(LookKind::NextPass);
    let (cue, against) = cue(summary, look, ball_at(card));
    let denied = matches!(rule.when, Event::Denied { .. });
    let finish = finish(card, look, denied, &mut scene);
    Some(Breakdown {
        purpose: format!("the {}", look.word()),
        players,
        word,
        rule: card.rule,
        name: card.name.clone(),
        when: card.when.clone(),
        lines: lines.collect(),
        finish,
        scene,
        cue,
        against,
        groups: groups(&scenario.practice, players),
        rotation: rotation(&group),
    })
}

/// Without what has to be so and without what another card says: the drill is set up so that the rule counts.
fn plain(does: &str) -> &str {
    let ends = [" (only if ", " (unless ", " (card "];
    let end = ends.iter().filter_map(|words| does.find(words)).min();
    &does[..end.unwrap_or(does.len())]
}

/// From a player to a defender between that player and the rim, metres (ours: a step and a half).
const GUARDED: f64 = 1.4;

/// How a turn ends, in words and on the picture: the pass to the cutter, and the defender whom the cutter has to beat.
fn finish(card: &Card, look: LookKind, denied: bool, scene: &mut Scene) -> String {
    let place = |n: u8| {
        scene.items.iter().find_map(|item| match item {
            Item::Attacker { number, pos, .. } if *number == n => Some(*pos),
            _ => None,
        })
    };
    let cuts = |p: &&Part| p.by_rule && plain(&p.does).contains("cut ");
    let catches = card.parts.iter().find(|p| p.does.starts_with("catch"));
    let holder = catches.map(|p| p.player).or(card.order.first().copied());
    let cutter = card.parts.iter().find(cuts).map(|p| p.player);
    let (from, to) = match (holder, cutter) {
        (Some(from), Some(to)) if from != to => (from, to),
        _ => return format!("Finish: {}", ending(look)),
    };
    let ways = scene.items.iter().filter_map(|item| match item {
        Item::Arrow { kind, path, who } if *who == to && *kind != ArrowKind::Pass => Some(path),
        _ => None,
    });
    let rim = ways
        .flatten()
        .copied()
        .min_by(|a, b| a.length().total_cmp(&b.length()));
    let (Some(a), Some(stands), Some(rim)) = (place(from), place(to), rim) else {
        return format!("Finish: {}", ending(look));
    };
    scene.add(Item::Arrow {
        kind: ArrowKind::Pass,
        path: vec![a, rim],
        who: from,
    });
    if !denied {
        let way = -stands / stands.length().max(1e-6);
        let ball = (a - stands) / (a - stands).length().max(1e-6);
        scene.add(Item::Defender {
            number: to,
            pos: stands + way * GUARDED,
            facing: ball,
        });
    }
    format!("Finish: {from} passes to {to} at the rim, lay-up. Shut? {to} runs the way to its end.")
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
                "Read {}: while {} is shut, this is who shuts it {} of the time.",
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
        None => "First with a defender on the player who cuts or drives, then with one on each.",
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
    said += ".";
    match over {
        0 => {}
        _ if groups == 0 => {}
        1 => said += " The extra player defends first; swap after each turn.",
        n => said += &format!(" The {n} extra players defend first; swap after each turn."),
    }
    said
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
