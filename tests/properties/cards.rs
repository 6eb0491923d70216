//! Rule cards of random offences: words, arrows and walk say the same.

#[path = "../cards/agree.rs"]
mod agree;

use lanelight::draw::cards::cards_of;
use lanelight::draw::walks::{Search, walks};
use lanelight::offence::Offence;
use lanelight::scenario::Scenario;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use rayon::prelude::*;

use super::worlds::{cases, offence};

/// Few orders and possessions: what is not found by then has no picture.
const SEARCH: Search = Search {
    orders: 40,
    possessions: 4,
    often: 1,
};

#[test]
fn words_arrows_and_walk_of_every_card_say_the_same() {
    // 350 had 228 cards and 295 ways in them at LANELIGHT_SEED=17; 450 have 310 to 376 and 409 to 525 at ten seeds.
    let config = cases(450);
    let count = config.cases;
    let mut runner = TestRunner::new(config);
    let offences = (0..count).map(|_| {
        let tree = offence().new_tree(&mut runner).expect("an offence");
        tree.current()
    });
    let offences: Vec<Offence> = offences.collect();
    let held = offences.into_par_iter().map(|offence| {
        let mut scenario = Scenario::demo();
        scenario.offence = offence;
        let walked = walks(&scenario, &SEARCH);
        let (mut cards, mut ways, mut wrong) = (0, 0, Vec::new());
        for card in cards_of(&scenario, &walked) {
            let Some(walk) = walked.iter().find(|w| w.rule == card.rule) else {
                continue;
            };
            cards += 1;
            ways += card.parts.iter().filter(|p| p.starts.is_some()).count();
            let rule = &scenario.offence.rules[card.rule];
            let of_this = agree::disagreements(&scenario.court, rule, &card, walk);
            if !of_this.is_empty() {
                println!("{:#?}\n{:#?}", scenario.offence, walk.step);
            }
            wrong.extend(of_this);
        }
        (cards, ways, wrong)
    });
    let (cards, ways, wrong) = held.reduce(
        || (0, 0, Vec::new()),
        |(a, b, mut c), (d, e, f)| {
            c.extend(f);
            (a + d, b + e, c)
        },
    );
    println!("{cards} cards, {ways} ways, {} wrong", wrong.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Half of the random rules ask for a condition, which few of the short walks meet. 300 cards with 450 ways were
    // asked: missed since hand-offs, events and conditions came in (227 and 363 on 29 November 2026).
    assert!(
        cards >= 200 && ways >= 320,
        "{cards} cards, {ways} ways in them"
    );
}
