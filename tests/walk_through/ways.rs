//! Off a screen to a place, by what the defender does, and a pass that is promised; on both sides, the defenders
//! playing as they would.

use lanelight::court::{Side, Spot, SpotName};
use lanelight::defence::OffBallScreens;
use lanelight::possession::What;
use lanelight::scenario::Scenario;
use lanelight::sim::walkthrough::Order::{Hold, PassTo};
use lanelight::sim::walkthrough::{Manner, Order, Pace, Walk, walk_in};

use super::common::*;

/// A wing screens down for the block, who comes off to the wing, or does what the defender gives.
fn down_screen(ways: &str, defence: &str) -> Scenario {
    let text = format!(
        "(name: \"w\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
         wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(ball))], keep_filled: [], rules: [(name: \
         \"r\", when: ball_on(at: top, seconds: 0.4), do: [(who: at(wing(ball)), does: screen_for(whom: post, after: \
         fill(block(ball)))), (who: post, does: use_screen(of: at(wing(ball)), to: wing(ball), ways: [{ways}], unfed: \
         fill(wing(ball))))])], reading: [next_pass, give_and_go], drive_from: [any])"
    );
    let read = lanelight::scenario::read_offence(&text, "w.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: read.value,
        ..scenario("four_out_one_post", defence, "")
    }
}

/// The same against a defence that goes under screens.
fn under(ways: &str, defence: &str) -> Scenario {
    let mut scenario = down_screen(ways, defence);
    scenario.defence.off_ball_screens = Some(OffBallScreens::Under);
    scenario
}

/// A walk against active defenders on both sides, which are mirror images.
fn active(scenario: &Scenario, orders: &[Order]) -> Walk {
    let manner = Manner {
        pace: Pace::Settled,
        passive: false,
    };
    let [one, two] = [Side::Right, Side::Left].map(|side| walk_in(scenario, side, orders, manner));
    mirrored(&one, &two);
    one
}

/// What the player on the block does off the screen: f(ades), c(uts), or goes to the place.
fn does(ways: &str, defence: &str) -> char {
    of(&down_screen(ways, defence))
}

fn of(scenario: &Scenario) -> char {
    let walk = active(scenario, &[Hold(5.0)]);
    let entries = walk.steps.iter().flat_map(|step| &step.timeline);
    let did = entries.filter_map(|entry| match entry.what {
        What::Fades { who: 5, .. } => Some('f'),
        What::Cuts { who: 5, .. } => Some('c'),
        What::Fills { who: 5, .. } => Some('p'),
        _ => None,
    });
    let did: String = did.collect();
    println!("{did}");
    // To the place first, and off the screen then.
    did.chars().next_back().unwrap_or('-')
}

#[test]
fn what_a_user_does_off_a_screen_is_one_of_the_ways_that_are_allowed() {
    for defence in ["sag", "denial", "help_line"] {
        assert_eq!(does("", defence), 'p', "{defence}");
        assert!("pf".contains(does("fade", defence)), "{defence}");
        assert!("pc".contains(does("curl, back_cut", defence)), "{defence}");
        assert!("pf".contains(of(&under("fade", defence))), "{defence}");
    }
}

#[test]
fn a_promised_pass_goes_to_whom_it_is_promised() {
    // The walker passes; in play the holder does (`tests/ball_screens.rs`).
    let text = "(name: \"p\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
                wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(ball))], keep_filled: [], rules: \
                [(name: \"r\", when: catch(at: top), do: [(who: holder, does: pass_next(at(wing(weak))))])], reading: \
                [next_pass], drive_from: [any])";
    let read = lanelight::scenario::read_offence(text, "p.ron").unwrap_or_else(|e| panic!("{e}"));
    let scenario = Scenario {
        offence: read.value,
        ..reference("")
    };
    let walk = walked(&scenario, &[PassTo(2), PassTo(1), PassTo(3)]);
    let last = walk.steps.last().unwrap();
    assert_eq!(last.holder, Some(3));
    assert_eq!(walk.steps[1].rules, ["r"]);
}

#[test]
fn the_place_to_which_a_screener_goes_next_is_anothers_until_the_screen_is_over() {
    let text = "(name: \"w\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), (player: 3, at: \
                wing(weak)), (player: 4, at: corner(weak)), (player: 5, at: block(weak))], keep_filled: [top, \
                wing(ball), wing(weak)], rules: [(name: \"r\", when: ball_on(at: top, seconds: 0.4), do: [(who: post, \
                does: screen_for(whom: at(corner(weak)), after: fill(wing(weak)))), (who: at(corner(weak)), does: \
                use_screen(of: post, to: block(weak), unfed: fill(block(weak))))]), (name: \"s\", when: \
                screen_used(at: corner(weak)), do: [(who: at(wing(weak)), does: fill(slot(weak)))])], reading: \
                [next_pass], drive_from: [any])";
    let read = lanelight::scenario::read_offence(text, "w.ron").unwrap_or_else(|e| panic!("{e}"));
    let scenario = Scenario {
        offence: read.value,
        ..scenario("four_out_one_post", "sag", "")
    };
    let walk = active(&scenario, &[Hold(6.0)]);
    let step = &walk.steps[0];
    assert_eq!(step.rules, ["r", "s"]);
    let places = [
        Spot::new(SpotName::Top, None),
        right(SpotName::Wing),
        left(SpotName::Slot),
        left(SpotName::Block),
        left(SpotName::Wing),
    ];
    for (i, place) in places.into_iter().enumerate() {
        assert_eq!(step.standing[i].place, Some(place), "player {}", i + 1);
    }
}
