//! One page on which all rules stand, and what *you* do by every rule at each place. Both come from
//! the cards and say nothing else.

use crate::clean::cut;
use crate::offence::words::capital;
use crate::scenario::Scenario;

use super::super::cards::{Card, STAYS};
use super::super::text::LONGEST;
use super::paper::{Book, Paper, Type};

/// Lines of a list, small enough for all rules of a big offence on one page.
const LINE: Type = Type {
    size: 9.5,
    ..Type::BODY
};

/// All rules on one page: the card's number, when it counts, and its name.
pub fn overview_page(scenario: &Scenario, cards: &[Card], paper: Paper) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · all rules · made by Lanelight"));
    book.para(&name, Type::TITLE);
    book.para("All rules. The number is that of the card.", Type::SMALL);
    book.gap(6.0);
    for (i, card) in cards.iter().enumerate() {
        let text = format!("{}: {}", capital(&card.when), cut(&card.name, LONGEST));
        book.hung(&format!("{}", i + 1), &text, LINE, 22.0);
        book.gap(2.0);
    }
    book.finish()
}

/// What somebody who stands at a place does by a card, with places instead of numbers, and whether
/// the rule names that player; nothing for those who stay.
pub fn own_lines(card: &Card, place: &str) -> Vec<(String, bool)> {
    let here = card.parts.iter().filter(|p| p.from == place);
    let here = here.filter(|p| p.does != STAYS);
    let said = here.map(|part| {
        let mut does = part.does.clone();
        for mate in &card.parts {
            for before in [
                "pass to",
                "screen for",
                "screen of",
                "dribble at",
                "dribble toward",
                "hand the ball to",
                "take the ball from",
                "with",
            ] {
                let number = format!("{before} {}", mate.player);
                does = does.replace(&number, &format!("{before} the {}", mate.from));
            }
        }
        (format!("{}: {does}.", capital(&card.when)), part.by_rule)
    });
    said.collect()
}

/// The places in which the cards begin, in the order in which they come.
fn places(cards: &[Card]) -> Vec<&str> {
    let mut out: Vec<&str> = Vec::new();
    for part in cards.iter().flat_map(|c| &c.parts) {
        if !out.contains(&part.from.as_str()) {
            out.push(&part.from);
        }
    }
    out
}

/// For each place what *you* do there, whoever you are: players change places, so a list for each
/// number would be wrong after the first cut.
pub fn place_pages(scenario: &Scenario, cards: &[Card], paper: Paper) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · by place · made by Lanelight"));
    book.para("Where you stand, and what you do", Type::TITLE);
    let lead = "Find the place where you stand when it happens. What is not listed: stay and be ready. \
                The number is that of the card. Bold: the rule names you.";
    book.para(lead, Type::SMALL);
    for place in places(cards) {
        let lines = cards.iter().enumerate();
        let lines = lines.flat_map(|(i, c)| own_lines(c, place).into_iter().map(move |l| (i, l)));
        let lines: Vec<(usize, (String, bool))> = lines.collect();
        if lines.is_empty() {
            continue;
        }
        book.head(&capital(place), 30.0);
        for (i, (line, bold)) in lines {
            let kind = Type { bold, ..LINE };
            let high = Book::height(&line, kind, book.wide() - 22.0);
            book.need(high);
            book.hung(&format!("{}", i + 1), &line, kind, 22.0);
            book.gap(2.0);
        }
    }
    book.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::cards::cards;

    #[test]
    fn every_place_says_what_the_cards_say_without_numbers_of_players() {
        let scenario = Scenario::demo();
        let cards = cards(&scenario);
        assert_eq!(overview_page(&scenario, &cards, Paper::Letter).len(), 1);
        let pages = place_pages(&scenario, &cards, Paper::A4);
        assert!((1..=4).contains(&pages.len()), "{}", pages.len());
        let mut said = 0;
        for card in &cards {
            let moves = card.parts.iter().filter(|p| p.does != STAYS).count();
            let mut own = 0;
            for place in places(std::slice::from_ref(card)) {
                for (line, _) in own_lines(card, place) {
                    let does = line.rsplit(": ").next().unwrap_or_default();
                    assert!(does.split_whitespace().count() <= 25, "{line}");
                    assert!(
                        !line.contains("pass to 1") && !line.contains("pass to 5"),
                        "{line}"
                    );
                    own += 1;
                }
            }
            assert_eq!(own, moves, "{}", card.name);
            said += own;
        }
        assert!(said > 60, "{said}");
    }
}
