//! Handouts: the rule cards of an offence, five lines each, for the ball on either side; and the
//! shell of a defence for the ball on each spot.

use crate::clean::cut;
use crate::defence::Defence;
use crate::offence::words::capital;
use crate::scenario::Scenario;

use super::super::cards::Card;
use super::super::scene::Scene;
use super::super::shell::shells;
use super::super::svg::{Look, picture};
use super::super::text::LONGEST;
use super::paper::{Book, MARGIN, Paper, Type};

/// What the signs of a diagram mean.
pub const SIGNS: &str = "Solid arrow: run. Dashed: pass. Wavy: dribble. Bar: screen. Ring: has the \
    ball. X and a bar: a defender and the line of the shoulders.";

/// Width of a card's picture, points: four cards have room on a page.
const WIDE: f64 = 206.0;
/// The same where the mirrored picture stands beside it.
const HALF: f64 = 158.0;

/// The rule cards as pages.
pub fn card_pages(
    scenario: &Scenario,
    cards: &[Card],
    paper: Paper,
    mirrored: bool,
) -> Vec<String> {
    let name = cut(&scenario.offence.name, LONGEST);
    let mut book = Book::new(paper, &format!("{name} · rule cards · made by Lanelight"));
    book.para(&name, Type::TITLE);
    let sides = match mirrored {
        true => "Left picture: the ball on the right; right picture: on the left.",
        false => "The ball is on the right; on the left all is mirrored.",
    };
    book.para(
        &format!("One card for each rule: when this happens, you … {sides} {SIGNS}"),
        Type::SMALL,
    );
    book.gap(6.0);
    for (i, card) in cards.iter().enumerate() {
        one_card(&mut book, i + 1, card, mirrored);
    }
    book.finish()
}

fn one_card(book: &mut Book, number: usize, card: &Card, mirrored: bool) {
    let kind = Type {
        size: 9.0,
        ..Type::BODY
    };
    let strong = Type { bold: true, ..kind };
    let title = format!("{number}  {}", cut(&card.name, LONGEST));
    let when = format!("{}:", capital(&card.when));
    let full = book.wide();
    let (room, x) = match card.scene {
        Some(_) if mirrored => (full - 2.0 * HALF - 20.0, MARGIN + 2.0 * HALF + 20.0),
        Some(_) => (full - WIDE - 16.0, MARGIN + WIDE + 16.0),
        None => (full, MARGIN),
    };
    let mut lines: Vec<(String, Type)> = vec![(when, kind)];
    if card.parts.is_empty() {
        lines.clear();
    }
    for (line, by_rule) in card.lines() {
        lines.push((cut(&line, 600), if by_rule { strong } else { kind }));
    }
    let words: f64 = lines
        .iter()
        .map(|(text, kind)| Book::height(text, *kind, room) + 2.0)
        .sum();
    let drawn = card.scene.as_ref().map(|scene| {
        let left = mirrored.then(|| picture(&scene.mirrored(), &Look::PAPER));
        (picture(scene, &Look::PAPER), left)
    });
    let wide = if mirrored { HALF } else { WIDE };
    let high = drawn.as_ref().map_or(0.0, |(d, _)| d.height_at(wide));
    let head = Book::height(&title, Type::STRONG, full);
    book.need(head + high.max(words) + 14.0);
    book.para(&title, Type::STRONG);
    book.gap(2.0);
    let y = book.y;
    if let Some((right, left)) = &drawn {
        book.picture(right, MARGIN, y, wide);
        if let Some(left) = left {
            book.picture(left, MARGIN + wide + 6.0, y, wide);
        }
    }
    let mut at = y - 2.0;
    for (text, kind) in &lines {
        at += book.set(text, *kind, x, at, room) + 2.0;
    }
    book.gap(high.max(at - y) + 5.0);
    book.cut_line();
    book.gap(7.0);
}

/// A diagram on a page of its own, to write on.
pub fn diagram_page(scenario: &Scenario, scene: &Scene, says: &str, paper: Paper) -> Vec<String> {
    let mut book = Book::new(paper, "diagram · made by Lanelight");
    book.para(&cut(&scenario.name, LONGEST), Type::TITLE);
    book.para(says, Type::BODY);
    book.gap(6.0);
    let drawn = picture(scene, &Look::PAPER);
    let wide = book.wide();
    let high = book.picture(&drawn, MARGIN, book.y, wide);
    book.gap(high + 4.0);
    book.para(SIGNS, Type::SMALL);
    book.notes(true);
    book.finish()
}

/// One page for each defence: where everybody stands with the ball on each spot, on either side.
pub fn shell_pages(scenario: &Scenario, defences: &[Defence], paper: Paper) -> Vec<String> {
    let mut book = Book::new(paper, "shell positions · made by Lanelight");
    for (i, defence) in defences.iter().enumerate() {
        if i > 0 {
            book.turn();
        }
        let mut set = scenario.clone();
        set.defence = defence.clone();
        one_shell(&mut book, &set);
    }
    book.finish()
}

fn one_shell(book: &mut Book, scenario: &Scenario) {
    book.para(&cut(&scenario.defence.name, LONGEST), Type::TITLE);
    book.para(&cut(&scenario.defence.note, 300), Type::BODY);
    book.para(
        "Where everybody stands when the ball has come to rest. The bar in front of an X is the \
         line of the shoulders: the defender faces over it.",
        Type::SMALL,
    );
    book.gap(6.0);
    let shells = shells(scenario);
    // All rows have to fit on one page.
    let room = book.room() / shells.len().max(1) as f64 - Type::SMALL.size;
    let wide = shells.first().map_or(0.0, |shell| {
        let drawn = picture(&shell.scene, &Look::PAPER);
        (room * drawn.width / drawn.height).min(0.42 * book.wide())
    });
    let gap = book.wide() - 2.0 * wide;
    for shell in shells {
        let sides = [shell.scene.mirrored(), shell.scene.clone()];
        let drawn = sides.map(|scene| picture(&scene, &Look::PAPER));
        let high = drawn[0].height_at(wide);
        book.need(high + 4.0);
        let y = book.y;
        book.picture(&drawn[0], MARGIN, y, wide);
        book.picture(&drawn[1], MARGIN + wide + gap, y, wide);
        let words = format!("Ball: {}", shell.ball.name.word());
        let x = MARGIN + wide + 8.0;
        book.set(&words, Type::STRONG, x, y + high / 2.0 - 10.0, gap - 16.0);
        book.gap(high + Type::SMALL.size * 0.8);
    }
}
