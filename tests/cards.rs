//! Rule cards: words, arrows and walk of every card of every shipped offence say the same.

#[path = "cards/agree.rs"]
mod agree;

use agree::disagreements;
use lanelight::court::Vec2;
use lanelight::draw::ArrowKind;
use lanelight::draw::cards::{Card, cards_of};
use lanelight::draw::layout::{Mark, Sign, lay};
use lanelight::draw::svg::Look;
use lanelight::draw::walks::{Search, Walked, walks};
use lanelight::scenario::{Scenario, read_offence, shipped};

/// The cards of every shipped offence, with the walks that show them.
fn all() -> Vec<(&'static str, Scenario, Vec<Card>, Vec<Walked>)> {
    let files = shipped::all(shipped::Kind::Offence);
    let each = files.map(|file| {
        let mut scenario = Scenario::demo();
        let read = read_offence(file.text, file.word).expect("it can be read");
        scenario.offence = read.value;
        let walked = walks(&scenario, &Search::FULL);
        let cards = cards_of(&scenario, &walked);
        (file.word, scenario, cards, walked)
    });
    each.collect()
}

fn walk<'a>(walked: &'a [Walked], card: &Card) -> Option<&'a Walked> {
    walked.iter().find(|w| w.rule == card.rule)
}

#[test]
fn words_arrows_and_walk_of_every_shipped_card_say_the_same_and_swapped_words_do_not() {
    let mut wrong = Vec::new();
    let (mut held, mut swapped) = (0, 0);
    for (word, scenario, cards, walked) in all() {
        for card in cards {
            let Some(walk) = walk(&walked, &card) else {
                println!("{word}: no picture of “{}”", card.name);
                continue;
            };
            held += 1;
            for (line, _) in card.lines() {
                println!("{word} {}: {line}", card.rule + 1);
                let words = line.split_whitespace().count();
                if words > 25 + 3 {
                    wrong.push(format!("{word}: {words} words: {line}"));
                }
            }
            let found = disagreements(
                &scenario.court,
                &scenario.offence.rules[card.rule],
                &card,
                walk,
            );
            wrong.extend(found.into_iter().map(|f| format!("{word}: {f}")));
            // The same card with the words of two players exchanged.
            for a in 0..5 {
                for b in a + 1..5 {
                    let mut other = card.clone();
                    if other.parts[a].does == other.parts[b].does {
                        continue;
                    }
                    let does = other.parts[a].does.clone();
                    other.parts[a].does = std::mem::replace(&mut other.parts[b].does, does);
                    swapped += 1;
                    if disagreements(
                        &scenario.court,
                        &scenario.offence.rules[card.rule],
                        &other,
                        walk,
                    )
                    .is_empty()
                    {
                        let (a, b) = (&other.parts[a], &other.parts[b]);
                        wrong.push(format!(
                            "{word}: {}: exchanged unseen: {a:?} {b:?}",
                            card.name
                        ));
                    }
                }
            }
        }
    }
    println!("{held} cards, {swapped} exchanges");
    assert!(held > 40 && swapped > 100);
    assert!(
        wrong.is_empty(),
        "{} of {held} cards:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn a_post_stands_opposite_the_ball_when_the_wing_passes_back() {
    let scenario = Scenario::demo();
    let cards = lanelight::draw::cards::cards(&scenario);
    let back = cards
        .iter()
        .find(|c| c.name.starts_with("Wing to slot"))
        .expect("a card");
    let post = back.parts.iter().find(|p| p.player == 5).expect("a post");
    assert_eq!(post.from, "weak-side block", "{:?}", back.parts);
}

#[test]
fn every_run_on_a_card_is_one_line_that_begins_at_its_own_player() {
    let sizes = Look::PAPER.sizes;
    let (mut runs, mut wrong) = (0, Vec::new());
    for (word, _, cards, _) in all() {
        for card in &cards {
            let Some(scene) = &card.scene else { continue };
            let laid = lay(scene, &sizes);
            for stroke in laid.strokes.iter().filter(|s| s.kind != ArrowKind::Pass) {
                runs += 1;
                let own =
                    |m: &&Mark| matches!(m.sign, Sign::Attacker { .. }) && m.number == stroke.who;
                let mark = laid.marks.iter().find(own).expect("the player is drawn");
                let off = |p: &Vec2| (*p - mark.at).length() - mark.radius;
                // Who screens first, or catches on the way, has a second way of his own.
                let ways = laid.strokes.iter().filter(|s| s.kind != ArrowKind::Pass);
                let ways = ways.filter(|s| s.who == stroke.who).count();
                let first = stroke.pieces.first().and_then(|p| p.first());
                let begins = ways > 1 || first.is_some_and(|p| off(p) < 0.4);
                if stroke.pieces.len() != 1 || !begins {
                    let pieces = stroke.pieces.len();
                    wrong.push(format!(
                        "{word} {}: {}: {pieces} pieces",
                        card.rule + 1,
                        stroke.who
                    ));
                }
            }
        }
    }
    println!("{runs} runs");
    assert!(runs > 80 && wrong.is_empty(), "{runs} runs: {wrong:#?}");
}
