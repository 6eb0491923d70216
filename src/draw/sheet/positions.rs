//! One page on which all rules stand, and what *you* do by every rule at each place. The second comes from the rules
//! themselves: a card's picture is one example, and an example is no order.

use crate::clean::cut;
use crate::court::SpotName;
use crate::offence::words::{self, capital};
use crate::offence::{Action, By, Event, Offence, Place, Role, Rule};
use crate::scenario::Scenario;

use super::super::cards::Card;
use super::super::steps;
use super::super::text::LONGEST;
use super::handout::{LATER, SIDES};
use super::paper::{Book, Paper, Type};

/// Lines of a list, small enough for all rules of a big offence on one page.
const LINE: Type = Type {
    size: 9.5,
    ..Type::BODY
};

/// All rules on one page: the card's number, when it counts, and its name; and the order in which the holder looks.
pub fn overview_page(scenario: &Scenario, cards: &[Card], paper: Paper) -> Vec<String> {
    let plain = overview(scenario, cards, paper, None);
    let reading = scenario.offence.reading.iter().map(|look| look.word());
    let reading = reading.collect::<Vec<_>>().join(", ");
    let read = format!("With the ball, look for these in this order: {reading}.");
    let more = overview(scenario, cards, paper, Some(&read));
    // Said once, if that takes no page more.
    match reading.is_empty() || more.len() > plain.len() {
        true => plain,
        false => more,
    }
}

fn overview(
    scenario: &Scenario,
    cards: &[Card],
    paper: Paper,
    reading: Option<&str>,
) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · all rules · made by Lanelight"));
    book.para(&name, Type::TITLE);
    book.para("All rules. Numbers are card numbers.", Type::SMALL);
    if let Some(reading) = reading {
        book.para(reading, Type::STRONG);
    }
    book.gap(6.0);
    for (i, card) in cards.iter().enumerate() {
        let text = format!("{}: {}", capital(&card.when), cut(&card.name, LONGEST));
        book.hung(&format!("{}", i + 1), &text, LINE, 22.0);
        book.gap(2.0);
    }
    book.finish()
}

/// One order of a rule as somebody reads it who looks for the own place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Own {
    /// Under which heading it stands: "Ball-side wing", "With the ball".
    pub under: String,
    /// Index of the rule, and of its line.
    pub of: (usize, usize),
    /// "When …: fill the ball-side slot (only if …)."
    pub line: String,
}

/// Whoever has the ball, had it or gets it looks here.
const WITH_THE_BALL: &str = "With the ball: you pass it, catch it, hold it or drive";
/// Whom a rule names by what that player does, wherever that is.
const WHEREVER: &str = "Wherever you are";

/// Under which headings a line of a rule stands: for those whom it means at either side, under both.
fn headings(rule: &Rule, action: &Action) -> Vec<String> {
    let at = |place: Place| match place.parts() {
        Some((name, Some(By::Either | By::Own))) => ["Ball-side", "Weak-side"]
            .map(|half| format!("{half} {}", name.word()))
            .to_vec(),
        _ => vec![capital(words::place(place).trim_start_matches("the "))],
    };
    match (action.who, &rule.when) {
        (Role::At(place), _) => at(place),
        (Role::Denied, Event::Denied { at: place, .. } | Event::DribbleAt { at: place }) => {
            at(*place)
        }
        (Role::Passer | Role::Receiver | Role::Holder | Role::Driver, _) => {
            vec![WITH_THE_BALL.to_string()]
        }
        (Role::Post | Role::SecondPost, _) => {
            vec![capital(words::role(action.who).trim_start_matches("the "))]
        }
        (Role::Player(_), _) => vec![capital(&words::role(action.who))],
        _ => vec![WHEREVER.to_string()],
    }
}

/// Every order of every rule, each under its heading, in the order in which the rules have them: what no card draws
/// stands here, too, and nothing that was only so in a card's picture.
pub fn orders(offence: &Offence) -> Vec<Own> {
    let mut out = Vec::new();
    for (index, rule) in offence.rules.iter().enumerate() {
        for (line, action) in rule.actions.iter().enumerate() {
            for under in headings(rule, action) {
                let named = match under == WHEREVER || under == WITH_THE_BALL {
                    true => format!("as {}, ", words::role(action.who)),
                    false => String::new(),
                };
                let text = format!(
                    "{}: {named}{}.",
                    capital(&steps::when(rule)),
                    steps::line(action)
                );
                out.push(Own {
                    under,
                    of: (index, line),
                    line: text,
                });
            }
        }
    }
    out
}

/// Headings in the order in which they are looked for: the ball, places outside, inside, then the others.
fn rank(under: &str) -> usize {
    let name = |n: SpotName| under.to_lowercase().ends_with(n.word());
    match under {
        WITH_THE_BALL => 0,
        WHEREVER => 200,
        _ => match SpotName::ALL
            .into_iter()
            .filter(|n| name(*n))
            .max_by_key(|n| n.word().len())
        {
            Some(spot) => {
                let at = SpotName::ALL
                    .iter()
                    .position(|n| *n == spot)
                    .unwrap_or_default();
                1 + 2 * at + usize::from(under.starts_with("Weak"))
            }
            None => 100,
        },
    }
}

/// For each place what *you* do there, whoever you are: players change places, so a list for each
/// number would be wrong after the first cut.
pub fn place_pages(scenario: &Scenario, paper: Paper) -> Vec<String> {
    let offence = &scenario.offence;
    let name = cut(&offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · by place · made by Lanelight"));
    book.para("Where you stand, and what you do", Type::TITLE);
    let lead = format!(
        "Find the place where you stand when it happens. Numbers are card numbers. {SIDES} {LATER}"
    );
    book.para(&lead, Type::SMALL);
    if !offence.keep_filled.is_empty() {
        let kept: Vec<String> = offence
            .keep_filled
            .iter()
            .map(|p| words::place(*p))
            .collect();
        let kept = format!(
            "Not listed? Stay and be ready. Keep these places filled: {}. If a team-mate comes to yours, take one of them that \
             is open. Only a card leaves one open (“Open then”), until the next card.",
            kept.join(", ")
        );
        book.para(&kept, Type::SMALL);
    }
    let mut all = orders(offence);
    all.sort_by_key(|own| (rank(&own.under), own.under.clone(), own.of));
    let mut under = "";
    for own in &all {
        let high = Book::height(&own.line, LINE, book.wide() - 22.0);
        if under != own.under {
            book.head(&own.under, 10.0 + high);
            under = &own.under;
        }
        book.need(high);
        book.hung(
            &format!("{}", own.of.0 + 1),
            &cut(&own.line, 600),
            LINE,
            22.0,
        );
        book.gap(2.0);
    }
    book.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::cards::cards;

    #[test]
    fn every_order_of_every_rule_stands_at_its_place_and_what_a_card_does_not_draw_as_well() {
        let scenario = Scenario::demo();
        let cards = cards(&scenario);
        assert_eq!(overview_page(&scenario, &cards, Paper::Letter).len(), 1);
        let pages = place_pages(&scenario, Paper::A4);
        assert!((1..=4).contains(&pages.len()), "{}", pages.len());
        let all = orders(&scenario.offence);
        let mut lines = 0;
        for (index, rule) in scenario.offence.rules.iter().enumerate() {
            for line in 0..rule.actions.len() {
                assert!(
                    all.iter().any(|own| own.of == (index, line)),
                    "{} {line}",
                    rule.name
                );
                lines += 1;
            }
        }
        assert!(lines > 40 && all.len() >= lines, "{lines}");
        for own in &all {
            assert!(!own.line.contains("here the"), "{}", own.line);
            let does = own.line.split_once(": ").map_or("", |p| p.1);
            assert!(does.split_whitespace().count() <= 25, "{}", own.line);
        }
        // What stays undrawn on cards 10, 19, 20 and 21 of the demo is an order all the same.
        let corner = all.iter().filter(|own| own.under == "Ball-side corner");
        let rules: Vec<usize> = corner.map(|own| own.of.0 + 1).collect();
        assert!(
            [10, 20, 21].iter().all(|card| rules.contains(card)),
            "{rules:?}"
        );
        let wing = all
            .iter()
            .find(|own| own.under == "Ball-side wing" && own.of.0 == 18);
        let wing = &wing.expect("the wing of card 19").line;
        assert!(
            wing.contains("fill the ball-side slot")
                && wing.contains("unless the ball is coming to you"),
            "{wing}"
        );
    }
}
