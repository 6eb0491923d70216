//! Rule cards: "when this happens, you …" for each of the five, with the walk that shows it.
//!
//! Words and picture come from one account (`account`) of a walk with passive defenders (`walks`).
//! Sides are told by the ball, so that the same words serve the mirrored picture.

use crate::court::{Side, Spot};
use crate::offence::{Action, Condition, Event, Movement, Role, Rule, words};
use crate::scenario::Scenario;

use super::account::{Account, Deed, account};
use super::crossing::{Crossing, crossings};
use super::phase::frame_at;
use super::scene::{ArrowKind, Item, Scene};
use super::sent_on::sent_on;
use super::steps;
use super::told::Teller;
use super::walks::{Search, Walked, walks};

/// What a player does for whom there is nothing to do.
pub const STAYS: &str = "stay and be ready";

/// Of a player who stands already where another card sends that player.
pub(super) const RIGHT_PLACE: &str = "stay: your place already";

/// Two who leave within this time leave at once, seconds (ours: nobody on the floor tells them apart).
pub const AT_ONCE: f64 = 0.3;

/// What one player does on a card.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Number of the player, 1–5.
    pub player: u8,
    /// Where he is when it begins, said by ball side: "weak-side wing".
    pub from: String,
    /// Where the way ends, said so; `from` without one.
    pub to: String,
    /// "cut ball side to the rim; if you are not fed, …": without "you" in front.
    pub does: String,
    /// Does the rule itself name him?
    pub by_rule: bool,
    /// When the way begins, seconds after the card does; `None` without a way.
    pub starts: Option<f64>,
    /// The place by which the rule names the player, "ball-side slot", if it is not where the player is.
    pub named: Option<String>,
}

/// A rule's card.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// Index into the offence's rules.
    pub rule: usize,
    /// The rule's name.
    pub name: String,
    /// "When the ball goes from …", with what has to be so; "The first time that …" for a rule that
    /// fires once.
    pub when: String,
    /// The five in order of number; empty without a walk.
    pub parts: Vec<Part>,
    /// Their numbers in the order in which they act: who has the ball, who gets it, then each as
    /// the way begins, then those who stay.
    pub order: Vec<u8>,
    /// When the card begins, seconds of its walk.
    pub begins: f64,
    /// Does somebody whom the rule names not come to where it sends him, in the walk that is shown?
    pub cut_short: bool,
    /// The ball on the right; `mirrored()` gives the left. `None`: no walk makes it fire.
    pub scene: Option<Scene>,
    /// The rule as a whole sentence.
    pub sentence: String,
    /// Lines of the rule that tell nobody anything in the walk that is shown, as sentences.
    pub not_drawn: Vec<String>,
    /// Why each of these is not drawn: "nobody there".
    pub not_drawn_for: Vec<String>,
    /// Places that the offence keeps filled, held by nobody when the card is over: "weak-side slot".
    pub left_open: Vec<String>,
    /// Who gives way where the ways of two meet.
    pub crossings: Vec<Crossing>,
    /// Where another card sends whoever this one has sent already, if somebody else catches: whole sentences.
    pub sent_on: Vec<String>,
}

impl Card {
    /// The lines of the card, and whether the rule itself says them: one for each who does
    /// something, then one for those who stay; the whole sentence where there is no walk.
    pub fn lines(&self) -> Vec<(String, bool)> {
        if self.parts.is_empty() {
            return vec![(self.sentence.clone(), false)];
        }
        let stays = |p: &&Part| p.does == STAYS;
        let of = |n: &u8| self.parts.iter().find(|p| p.player == *n);
        let moves = self.order.iter().filter_map(of).filter(|p| !stays(p));
        let mut lines: Vec<(String, bool)> = moves
            .map(|p| (format!("{}: {}.", p.who(), p.does), p.by_rule))
            .collect();
        let others: Vec<String> = self.parts.iter().filter(stays).map(Part::who).collect();
        if !others.is_empty() {
            lines.push((format!("{}: {STAYS}.", others.join("; ")), false));
        }
        lines.extend(self.leave().map(|said| (said, false)));
        lines.extend(self.crossings.iter().map(|c| (c.words(), false)));
        if self.cut_short {
            lines.push((format!("The whole rule: {}", self.sentence), false));
        } else {
            let others = self.not_drawn.iter().zip(&self.not_drawn_for);
            lines.extend(others.map(|(line, why)| (format!("Not drawn ({why}): {line}."), false)));
        }
        lines.extend(self.sent_on.iter().map(|said| (said.clone(), false)));
        if !self.left_open.is_empty() {
            let open = self.left_open.join(", ");
            lines.push((
                format!("Open then: {open}. Leave it so until the next card."),
                false,
            ));
        }
        lines
    }
}

impl Part {
    /// Is there nothing for the player to do, or nothing but to stay in a place that is right already?
    pub fn stays(&self) -> bool {
        self.does == STAYS || self.does.starts_with(RIGHT_PLACE)
    }

    /// "1, weak-side wing"; with the place by which the rule names a player who is not there.
    pub fn who(&self) -> String {
        match &self.named {
            Some(place) => format!("{}, {}, who has the {place}", self.player, self.from),
            None => format!("{}, {}", self.player, self.from),
        }
    }
}

impl Card {
    /// Who goes, if several do, and in which order: "2 and 4 go at once.", "1 goes first, then 2 and 4 at once."
    pub fn leave(&self) -> Option<String> {
        let mut going: Vec<(f64, u8)> = self
            .parts
            .iter()
            .filter_map(|p| Some((p.starts?, p.player)))
            .collect();
        going.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        let mut groups: Vec<(f64, Vec<String>)> = Vec::new();
        for (at, player) in &going {
            match groups.last_mut() {
                Some((first, group)) if at - *first <= AT_ONCE => group.push(player.to_string()),
                _ => groups.push((*at, vec![player.to_string()])),
            }
        }
        let names = |group: &[String]| match group.split_last() {
            Some((last, others)) if !others.is_empty() => {
                format!("{} and {last}", others.join(", "))
            }
            _ => group.concat(),
        };
        let at_once = |group: &[String]| match group.len() {
            1 => "",
            _ => " at once",
        };
        groups.iter_mut().for_each(|(_, group)| group.sort());
        let ((_, first), later) = groups.split_first()?;
        match (going.len(), later) {
            (1, _) => None,
            (_, []) => Some(format!("{} go at once.", names(first))),
            (_, later) => {
                let verb = if first.len() == 1 { "goes" } else { "go" };
                let said = later
                    .iter()
                    .map(|(_, group)| format!(", then {}{}", names(group), at_once(group)));
                let said: String = said.collect();
                Some(format!(
                    "{} {verb} first{}{said}.",
                    names(first),
                    at_once(first)
                ))
            }
        }
    }
}

/// The cards of every rule of the scenario's offence, in order.
pub fn cards(scenario: &Scenario) -> Vec<Card> {
    cards_of(scenario, &walks(scenario, &Search::FULL))
}

/// The cards of every rule, shown by these walks.
pub fn cards_of(scenario: &Scenario, walked: &[Walked]) -> Vec<Card> {
    let rules = scenario.offence.rules.iter().enumerate();
    rules
        .map(|(index, rule)| {
            let walk = walked.iter().find(|w| w.rule == index);
            card(scenario, index, rule, walk)
        })
        .collect()
}

/// The post's defender who has turned to the ball, so that the card shows why the seal is on.
fn forget(scene: &mut Scene, account: &Account, walk: &Walked) {
    let frames = &walk.step.frames;
    let Some(frame) = frames.get(frame_at(frames, account.begins)) else {
        return;
    };
    let inside = |d: &&Deed| d.sent.is_some() && !d.from.name.is_perimeter();
    let Some(post) = account.deeds.iter().find(inside) else {
        return;
    };
    let guards = |d: &usize| frame.guards.get(*d) == Some(&post.player);
    let Some(d) = (0..5).find(guards) else { return };
    let ball = crate::court::Vec2::new(frame.ball[0], frame.ball[1]);
    let at = frame.defenders[d];
    scene.add(Item::Defender {
        number: d as u8 + 1,
        pos: at,
        facing: (ball - at) / (ball - at).length().max(1e-6),
    });
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

/// The lines of a rule that told nobody anything, and why.
fn not_drawn(rule: &Rule, index: usize, account: &Account) -> (Vec<String>, Vec<String>) {
    let sents = || account.deeds.iter().filter_map(|d| d.sent.as_ref());
    let told = |line: usize| sents().any(|s| s.rule == index && s.line == line);
    let untold = rule.actions.iter().enumerate().filter(|(i, _)| !told(*i));
    let untold = || untold.clone().map(|(_, action)| action);
    let why = untold().map(|action| untold_for(action, account));
    (said_of(untold()), why.collect())
}

/// Why the line of a place at which nobody is has no arrow.
const NOBODY: &str = "nobody there";

/// Why a line tells nobody anything in the walk that is shown.
fn untold_for(action: &Action, account: &Account) -> String {
    let at = match action.who {
        Role::At(place) => place.spot(account.side, None),
        _ => None,
    };
    let there = |spot: Spot| account.deeds.iter().find(|d| d.from == spot);
    let catches = |d: &Deed| account.passes.iter().any(|(_, to)| *to == d.player);
    match at.map(|spot| (spot, there(spot))) {
        Some((_, None)) => NOBODY.to_string(),
        Some((_, Some(d))) if catches(d) => format!("{} catches", d.player),
        _ => "not so here".to_string(),
    }
}

/// When such a line counts, whom it sends where, and when that player leaves.
fn said_of<'a>(untold: impl Iterator<Item = &'a Action>) -> Vec<String> {
    let said = untold.map(|action| {
        let off = |c: &Condition| matches!(c, Condition::OffBall);
        let away = action.only_if.iter().any(off);
        let plain = Action {
            only_if: Vec::new(),
            ..action.clone()
        };
        let others = action.only_if.iter().filter(|c| !off(c));
        let others: Vec<Condition> = others.cloned().collect();
        let only = steps::conditions(&others, action.who, &action.does, "he");
        let only = only.map_or(String::new(), |only| format!(" ({only})"));
        let plain = words::action(&plain)
            .replace("out along the baseline", "out")
            .replace("then goes home", "then goes back");
        let when = match away {
            true => "unless the ball is coming to that player, ",
            false => "",
        };
        let leaves = match action.after > 0.0 || !action.does.leaves() {
            true => "",
            false => ", and leaves with the others",
        };
        steps::counted(&(when.to_string() + &plain + leaves + &only))
    });
    said.collect()
}

/// Who only shows somewhere and goes back is drawn going there and back: nothing that is told is left out of the picture.
fn there_and_back(scene: &mut Scene, account: &Account) {
    let own = |d: &&Deed| {
        let shows = d.sent.as_ref().is_some_and(|s| {
            let only = s.came.is_empty();
            only && matches!(s.does, Movement::Flash { .. } | Movement::Seal { .. })
        });
        d.arrives && d.starts.is_some() && shows
    };
    for deed in account.deeds.iter().filter(own) {
        let way = scene.items.iter_mut().rev().find_map(|item| match item {
            Item::Arrow { kind, path, who } if *who == deed.player && *kind == ArrowKind::Run => {
                Some(path)
            }
            _ => None,
        });
        if let Some(path) = way {
            let back: Vec<_> = path.iter().rev().skip(1).copied().collect();
            path.extend(back);
        }
    }
}

/// The card of one rule from the walk that shows it.
fn card(scenario: &Scenario, index: usize, rule: &Rule, walk: Option<&Walked>) -> Card {
    let sentence = steps::counted(&words::rule(rule));
    let mut card = Card {
        rule: index,
        name: rule.name.clone(),
        when: steps::when(rule),
        not_drawn: Vec::new(),
        not_drawn_for: Vec::new(),
        left_open: Vec::new(),
        crossings: Vec::new(),
        sent_on: Vec::new(),
        parts: Vec::new(),
        order: Vec::new(),
        begins: 0.0,
        cut_short: false,
        scene: None,
        sentence,
    };
    let offence = &scenario.offence;
    let account = walk.and_then(|walk| account(&scenario.court, offence, walk));
    let (Some(walk), Some(account)) = (walk, account) else {
        return card;
    };
    let Some(teller) = Teller::of(index, &offence.rules, &account) else {
        return card;
    };
    let parts = account.deeds.iter().map(|deed| Part {
        player: deed.player,
        from: teller.place(deed.from),
        to: teller.place(deed.to),
        does: teller.does(deed),
        by_rule: deed.sent.as_ref().is_some_and(|s| s.rule == index),
        starts: deed.starts.map(|t| t - account.begins),
        named: deed
            .misplaced(index, account.side)
            .map(|spot| teller.place(spot)),
    });
    card.parts = parts.collect();
    card.order = account.order();
    card.begins = account.begins;
    card.crossings = crossings(&account, walk);
    card.cut_short = account.short(index) > 0;
    (card.not_drawn, card.not_drawn_for) = not_drawn(rule, index, &account);
    if !card.cut_short {
        let open = account.left_open(offence).into_iter();
        card.left_open = open.map(|spot| teller.place(spot)).collect();
    }
    if let Event::KickOut { .. } = rule.when {
        card.sent_on = sent_on(scenario, index, walk);
    }
    let mut scene = account.scene.clone();
    there_and_back(&mut scene, &account);
    if let Event::Denied { .. } = rule.when {
        deny(&mut scene, walk, account.begins);
    }
    if let Event::PostForgotten { .. } = rule.when {
        forget(&mut scene, &account, walk);
    }
    if account.side == Side::Left {
        scene = scene.mirrored();
    }
    card.scene = Some(scene);
    card
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
