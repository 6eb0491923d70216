//! A series of practices over weeks: what comes first, and what builds on what. A rule comes after the
//! rules that bring about what it answers; among those that may come next, those go first without
//! which the offence is worth less, as their intervals tell; else the order of the offence stands.

use crate::offence::words::capital;
use crate::offence::{Event, Movement, Offence, Place};
use crate::scenario::Scenario;
use crate::stats::Estimate;
use crate::why::Summary;

use super::super::CAUTION;
use super::super::cards::Card;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::ages::{Age, shell, side};
use super::breakdown::{Breakdown, drill};
use super::paper::{Book, Paper, Type};
use super::plan::{Block, Wanted};
use super::scoring::{self, rules};
use crate::clean::cut;

/// New rules in one practice, at most (ours: more are not learnt).
const NEW: usize = 4;

/// One practice of the series.
#[derive(Clone, Debug)]
pub struct Day {
    /// Rules that are new, by index, in the order in which they are taught.
    pub new: Vec<usize>,
    /// Rules of the practice before, which come again.
    pub again: Vec<usize>,
    /// The timed blocks.
    pub plan: Vec<Block>,
}

/// The whole series.
#[derive(Clone, Debug)]
pub struct Series {
    /// One for each practice.
    pub days: Vec<Day>,
    /// Practices a week.
    pub each: usize,
    /// What each rule is worth, points a possession, if that could be told.
    pub worth: Vec<Option<Estimate>>,
    /// The rules that each rule builds on.
    pub builds_on: Vec<Vec<usize>>,
    /// Rules for which there is no room in so many practices.
    pub left_out: Vec<usize>,
}

fn same(a: Place, b: Place) -> bool {
    match (a.parts(), b.parts()) {
        (Some((a, _)), Some((b, _))) => a == b,
        _ => a == b,
    }
}

fn inside(place: Place) -> bool {
    let name = place.parts().map(|(name, _)| name);
    place == Place::Inside || name.is_some_and(|n| !n.is_perimeter() && place != Place::Rim)
}

/// Where the movements of a rule may end.
fn sends_to(offence: &Offence, rule: usize, to: Place) -> bool {
    let actions = offence.rules[rule].actions.iter();
    let mut all = actions.flat_map(|a| a.does.links().chain(a.then.iter().flat_map(|t| t.links())));
    all.any(|m| match m {
        Movement::Fill(p)
        | Movement::CircleOut(p)
        | Movement::GoThrough(p)
        | Movement::Drift(p)
        | Movement::Lift(p)
        | Movement::Flash { to: p, .. }
        | Movement::Seal { at: p, .. } => same(*p, to),
        Movement::FillFirst(list) => list.iter().any(|p| same(*p, to)),
        _ => false,
    })
}

/// The rules that bring about what a rule answers, as far as its places tell.
pub fn builds_on(offence: &Offence, rule: usize) -> Vec<usize> {
    let held = |place: Place| offence.alignment.iter().any(|s| same(s.at, place));
    let passes = |from: Option<Place>, to: Place| -> Vec<usize> {
        let is = |r: usize| match offence.rules[r].when {
            Event::Pass { from: f, to: t } => same(t, to) && from.is_none_or(|from| same(f, from)),
            _ => false,
        };
        (0..offence.rules.len())
            .filter(|r| *r != rule && is(*r))
            .collect()
    };
    let sent = |to: Place| -> Vec<usize> {
        let others = (0..offence.rules.len()).filter(|r| *r != rule);
        others.filter(|r| sends_to(offence, *r, to)).collect()
    };
    match offence.rules[rule].when {
        Event::KickOut { from } => (0..offence.rules.len())
            .filter(
                |r| matches!(offence.rules[*r].when, Event::Drive { from: f, .. } if same(f, from)),
            )
            .collect(),
        Event::Denied { at, ball, .. } => passes(Some(ball), at),
        Event::BallOn { at, .. } => passes(None, at),
        Event::Pass { from, .. } if inside(from) => (0..offence.rules.len())
            .filter(|r| matches!(offence.rules[*r].when, Event::Pass { to, .. } if inside(to)))
            .filter(|r| *r != rule)
            .collect(),
        Event::Pass { from, .. } | Event::Drive { from, .. } | Event::Catch { at: from }
            if from.parts().is_some() && !held(from) =>
        {
            sent(from)
        }
        _ => Vec::new(),
    }
}

/// The rules in the order in which they are taught.
pub fn order(offence: &Offence, worth: &[Option<Estimate>]) -> Vec<usize> {
    let count = offence.rules.len();
    let needs: Vec<Vec<usize>> = (0..count).map(|r| builds_on(offence, r)).collect();
    let mut out: Vec<usize> = Vec::new();
    while out.len() < count {
        let rest: Vec<usize> = (0..count).filter(|r| !out.contains(r)).collect();
        let ready = |r: &usize| needs[*r].is_empty() || needs[*r].iter().any(|n| out.contains(n));
        let mut next: Vec<usize> = rest.iter().copied().filter(ready).collect();
        if next.is_empty() {
            next = rest;
        }
        // Missed when it is left out; not told; better left out. In each the order of the cards stands.
        let turn = |r: usize| match worth.get(r).copied().flatten() {
            Some(e) if e.low > 0.0 => 0,
            Some(e) if e.high < 0.0 => 2,
            _ => 1,
        };
        let first = next.iter().copied().min_by_key(|r| (turn(*r), *r));
        out.extend(first);
    }
    out
}

impl Series {
    /// A series of `weeks` with `each` practices of the scenario's length.
    pub fn of(
        scenario: &Scenario,
        worth: Vec<Option<Estimate>>,
        weeks: usize,
        each: usize,
    ) -> Series {
        let offence = &scenario.offence;
        let age = Age::of(scenario.attackers.level);
        let order = order(offence, &worth);
        let days = (weeks * each).max(1);
        // The last practice brings nothing new: all of it is played.
        let teaching = days.saturating_sub(1).max(1);
        let count = order.len().min(teaching * NEW);
        let mut rest = order;
        let left_out = rest.split_off(count);
        let mut parts = Vec::new();
        for i in 0..teaching {
            let own = count / teaching + usize::from(i < count % teaching);
            let later = rest.split_off(own);
            parts.push(std::mem::replace(&mut rest, later));
        }
        parts.resize(days, Vec::new());
        let minutes = scenario.practice.minutes().max(1);
        let mut before: Vec<usize> = Vec::new();
        let mut known = 0;
        let day = parts.into_iter().map(|new| {
            known += new.len();
            let again = std::mem::replace(&mut before, new.clone());
            let plan = age.timed(
                age.with_drinks(
                    blocks(age, &new, &again, known, scenario.offence.players),
                    minutes,
                ),
                minutes,
            );
            Day { new, again, plan }
        });
        Series {
            days: day.collect(),
            each: each.max(1),
            worth,
            builds_on: (0..offence.rules.len())
                .map(|r| builds_on(offence, r))
                .collect(),
            left_out,
        }
    }

    /// The pages as SVG: the series at a glance, then a practice after the other.
    pub fn pages(
        &self,
        scenario: &Scenario,
        summary: &Summary,
        cards: &[Card],
        paper: Paper,
    ) -> Vec<String> {
        let name = cut(&scenario.offence.name, LONGEST);
        let mut book = Book::new(paper, &format!("{name} · series · made by Lanelight"));
        self.overview(&mut book, scenario, summary);
        for number in 0..self.days.len() {
            book.turn();
            self.practice(&mut book, (scenario, summary), cards, number);
        }
        book.finish()
    }

    fn title(&self, number: usize) -> String {
        format!(
            "Practice {} of {}, week {}",
            number + 1,
            self.days.len(),
            number / self.each + 1
        )
    }

    fn overview(&self, book: &mut Book, scenario: &Scenario, summary: &Summary) {
        let rules = &scenario.offence.rules;
        book.para(&cut(&scenario.offence.name, LONGEST), Type::TITLE);
        let lead = format!(
            "{} practices of {} minutes. First comes what others build on; among those, what the offence \
             misses most when it is left out ({} possessions against {}, the same seeds; in brackets the \
             95 % interval of each rule alone: one in twenty is told apart by luck). Where nothing is said, it is too close \
             to call, and the order of the cards stands.",
            self.days.len(),
            scenario.practice.minutes(),
            summary.possessions,
            cut(&scenario.defence.name, LONGEST)
        );
        book.para(&lead, Type::BODY);
        for (number, day) in self.days.iter().enumerate() {
            book.head(&self.title(number), 30.0);
            if day.new.is_empty() {
                book.para("Nothing new: all of it, played.", Type::BODY);
            }
            for rule in &day.new {
                let text = format!("{}. {}", cut(&rules[*rule].name, LONGEST), self.why(*rule));
                book.hung(&format!("{}", rule + 1), &text, SMALLER, 22.0);
            }
        }
        if !self.left_out.is_empty() {
            let cards: Vec<String> = self.left_out.iter().map(|r| (r + 1).to_string()).collect();
            let said = format!(
                "No room in so many practices for cards {}: more weeks, or more practices a week.",
                cards.join(", ")
            );
            book.gap(6.0);
            book.para(&said, Type::STRONG);
        }
        book.gap(8.0);
        book.para(CAUTION, Type::STRONG);
    }

    /// What a rule is worth and what it builds on, in words.
    pub fn why(&self, rule: usize) -> String {
        let mut said = match self.worth.get(rule).copied().flatten() {
            Some(e) if e.low > 0.0 || e.high < 0.0 => {
                let (word, sign) = if e.low > 0.0 {
                    ("less", 1.0)
                } else {
                    ("more", -1.0)
                };
                let ends = [sign * e.low, sign * e.high];
                format!(
                    "Left out, the shots promise {:.1} points ({:.1} to {:.1}) {word} in a hundred possessions.",
                    100.0 * sign * e.value,
                    100.0 * ends[0].min(ends[1]),
                    100.0 * ends[0].max(ends[1])
                )
            }
            Some(_) => String::new(),
            None => "Never missed here.".to_string(),
        };
        let on = self.builds_on.get(rule).map_or(&[][..], Vec::as_slice);
        let on: Vec<String> = on.iter().take(3).map(|r| (r + 1).to_string()).collect();
        if !on.is_empty() {
            let cards = if on.len() > 1 { "cards" } else { "card" };
            let gap = if said.is_empty() { "" } else { " " };
            said += &format!("{gap}Builds on {cards} {}.", on.join(", "));
        }
        said
    }

    fn practice(
        &self,
        book: &mut Book,
        (scenario, summary): (&Scenario, &Summary),
        cards: &[Card],
        number: usize,
    ) {
        let day = &self.days[number];
        book.para(&self.title(number), Type::TITLE);
        book.para("Date: ____________________", Type::BODY);
        book.head("Plan", 60.0);
        for block in &day.plan {
            let time = format!("{}–{} min", block.starts, block.starts + block.minutes);
            book.hung(&time, &capital(&block.what), Type::BODY, 78.0);
        }
        let age = Age::of(scenario.attackers.level);
        book.para(&age.words(scenario.practice.minutes()), Type::SMALL);
        if day.new.is_empty() {
            return;
        }
        book.head("New today", 120.0);
        scoring::set(book, &rules(summary, (true, true)));
        for rule in &day.new {
            let card = cards.iter().find(|c| c.rule == *rule);
            let drill = card.and_then(|card| {
                let size = card
                    .parts
                    .iter()
                    .filter(|p| p.does != super::super::cards::STAYS);
                let size = size.count().max(1);
                let rule = scenario.offence.rules.get(card.rule)?;
                drill((scenario, summary), card, rule, (size, word(size)), None)
            });
            self.rule(book, scenario, *rule, drill.as_ref());
        }
    }

    fn rule(&self, book: &mut Book, scenario: &Scenario, rule: usize, drill: Option<&Breakdown>) {
        let title = format!(
            "{}  {}",
            rule + 1,
            cut(&scenario.offence.rules[rule].name, LONGEST)
        );
        let mut lines = vec![(title, Type::STRONG)];
        let why = self.why(rule);
        lines.extend((!why.is_empty()).then_some((why, SMALLER)));
        let Some(drill) = drill else {
            lines.push((
                crate::offence::words::rule(&scenario.offence.rules[rule]),
                SMALLER,
            ));
            for (text, kind) in &lines {
                book.para(text, *kind);
            }
            book.gap(6.0);
            return;
        };
        lines.extend(drill.lines.iter().map(|line| (line.clone(), SMALLER)));
        lines.push((format!("{} {}", drill.cue, drill.next), SMALLER));
        if drill.players < 5 {
            lines.push((format!("{} {}", drill.groups, drill.rotation), SMALLER));
        }
        let drawing = picture(&drill.scene, &Look::PAPER);
        book.beside(&[(drawing, "")], 150.0, &lines, (12.0, 6.0));
    }
}

/// The words beside a picture.
const SMALLER: Type = Type {
    size: 9.0,
    ..Type::BODY
};

fn word(size: usize) -> &'static str {
    ["one", "two", "three", "four", "five"][size.clamp(1, 5) - 1]
}

/// The blocks of one practice, without drinks.
fn blocks(age: Age, new: &[usize], again: &[usize], known: usize, players: u8) -> Vec<Wanted> {
    let side = side(players);
    let block = |what: String, share: f64, rank: u32| Wanted { what, share, rank };
    let list = |rules: &[usize]| {
        let all: Vec<String> = rules.iter().map(|r| (r + 1).to_string()).collect();
        let card = if all.len() > 1 { "cards" } else { "card" };
        format!("{card} {}", all.join(", "))
    };
    let mut all = vec![block("Warm up: easy runs, passes, lay-ups".into(), 0.12, 1)];
    if !again.is_empty() {
        all.push(block(
            format!("Again, with a defender on each: {}", list(again)),
            0.14,
            4,
        ));
    }
    for (i, rule) in new.iter().enumerate() {
        let what = format!("New: card {}, in its small group", rule + 1);
        all.push(block(what, 0.1, 2 + 2 * i as u32));
    }
    all.push(block(
        format!("Walk it, {side} on none, both sides: the {known} rules so far"),
        0.14,
        3,
    ));
    if age.small {
        all.push(block("Play three on three at each basket".into(), 0.22, 5));
    } else {
        all.push(block(shell(players), 0.12, 7));
        all.push(block(
            format!("Play {side} on {side} with the rules so far"),
            0.2,
            5,
        ));
    }
    all.push(block("Slow down, talk: what was open?".into(), 0.06, 9));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_builds_on_a_rule_comes_after_it_and_what_is_missed_most_comes_first() {
        let scenario = Scenario::demo();
        let offence = &scenario.offence;
        let none = vec![None; offence.rules.len()];
        let plain = order(offence, &none);
        let at = |list: &[usize], rule: usize| list.iter().position(|r| *r == rule).unwrap();
        let mut built = 0;
        for rule in 0..offence.rules.len() {
            let on = builds_on(offence, rule);
            if on.is_empty() {
                continue;
            }
            built += 1;
            let first = on.iter().map(|r| at(&plain, *r)).min().unwrap();
            assert!(first < at(&plain, rule), "{}", offence.rules[rule].name);
        }
        assert!(built >= 9, "{built}");
        // The last of those that need nothing is missed most by far.
        let free = (0..offence.rules.len()).rfind(|r| builds_on(offence, *r).is_empty());
        let free = free.unwrap();
        let mut worth = vec![Estimate::checked(0.0, -0.01, 0.01, 100); offence.rules.len()];
        worth[free] = Estimate::checked(0.1, 0.05, 0.15, 100);
        assert_eq!(order(offence, &worth)[0], free);
    }

    #[test]
    fn a_series_teaches_every_rule_once_or_says_which_have_no_room() {
        for (weeks, each) in [(1, 1), (2, 2), (4, 2), (6, 3)] {
            for minutes in [30, 60, 90, 120] {
                let mut scenario = Scenario::demo();
                scenario.practice.minutes = Some(minutes);
                let rules = scenario.offence.rules.len();
                let series = Series::of(&scenario, vec![None; rules], weeks, each);
                assert_eq!(series.days.len(), weeks * each);
                let taught = series.days.iter().flat_map(|d| &d.new);
                let mut all: Vec<usize> = taught.chain(&series.left_out).copied().collect();
                all.sort_unstable();
                assert_eq!(all, (0..rules).collect::<Vec<_>>());
                for day in &series.days {
                    assert_eq!(day.plan.iter().map(|b| b.minutes).sum::<u32>(), minutes);
                }
            }
        }
    }
}
