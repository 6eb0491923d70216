//! One page on which all rules stand, and one for each player: what *you* do by every rule. Both come
//! from the cards and say nothing else.

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

/// What one player does by a card: where from, and what; `None` if nothing.
pub fn own_line(card: &Card, player: u8) -> Option<String> {
    let part = card.parts.iter().find(|p| p.player == player)?;
    (part.does != STAYS).then(|| {
        format!(
            "{}. You, at the {}: {}.",
            capital(&card.when),
            part.from,
            part.does
        )
    })
}

/// A page for each player: every rule by which you do something.
pub fn player_pages(scenario: &Scenario, cards: &[Card], paper: Paper) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut pages = Vec::new();
    for player in 1..=5_u8 {
        let mut book = Book::new(
            paper,
            &format!("{name} · player {player} · made by Lanelight"),
        );
        book.para(&format!("You are {player}"), Type::TITLE);
        let lead = "What you do when this happens. By all other rules: stay and be ready. Bold: the \
                    rule names you; otherwise you only have the ball, get it, or fill an open place.";
        book.para(lead, Type::SMALL);
        book.gap(6.0);
        for (i, card) in cards.iter().enumerate() {
            let Some(line) = own_line(card, player) else {
                continue;
            };
            let named = card.parts.iter().any(|p| p.player == player && p.by_rule);
            let kind = Type {
                bold: named,
                ..LINE
            };
            book.hung(&format!("{}", i + 1), &line, kind, 22.0);
            book.gap(3.0);
        }
        pages.extend(book.finish());
    }
    pages
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::cards::cards;

    #[test]
    fn every_player_has_a_page_that_says_what_the_cards_say() {
        let scenario = Scenario::demo();
        let cards = cards(&scenario);
        assert_eq!(overview_page(&scenario, &cards, Paper::Letter).len(), 1);
        let pages = player_pages(&scenario, &cards, Paper::A4);
        assert!((5..=10).contains(&pages.len()), "{}", pages.len());
        let (mut said, mut stay) = (0, 0);
        for card in &cards {
            for part in &card.parts {
                match own_line(card, part.player) {
                    Some(line) => {
                        assert!(line.contains(&part.does) && line.contains(&part.from));
                        let words = part.does.split_whitespace().count();
                        assert!(words <= 25, "{words} words: {line}");
                        said += 1;
                    }
                    None => {
                        assert_eq!(part.does, STAYS);
                        stay += 1;
                    }
                }
            }
        }
        assert!(said > 60 && stay > 10, "{said}, {stay}");
    }
}
