//! What a player asked who acted ten cards: where the step for a drop-off ends, which way the post goes when the ball
//! changes sides, and why a run that the words name has no arrow.

use lanelight::draw::cards::Card;
use lanelight::offence::{Event, Movement, Role, words};
use lanelight::possession::What;
use lanelight::sim::{Keep, play};

use super::all;

fn part(card: &Card, player: u8) -> &lanelight::draw::cards::Part {
    let own = card.parts.iter().find(|p| p.player == player);
    own.expect("on the card")
}

#[test]
fn the_step_for_a_drop_off_names_its_spot_and_there_the_pass_is_caught() {
    let (mut cards_held, mut caught, mut near) = (0, 0, 0);
    for (word, scenario, cards, _) in all() {
        for card in cards.iter().filter(|c| c.scene.is_some() && !c.cut_short) {
            for part in card
                .parts
                .iter()
                .filter(|p| p.does.contains("until your defender leaves"))
            {
                cards_held += 1;
                let spot = "step to the lane line beside the rim, on your own side";
                assert!(part.does.contains(spot), "{word}: {}", part.does);
            }
        }
        let drops = scenario.offence.rules.iter().flat_map(|r| &r.actions);
        if !drops
            .flat_map(|a| a.does.links())
            .any(|m| *m == Movement::DropOff)
        {
            continue;
        }
        // In play whoever has been told so and gets such a pass stands about that spot.
        for seed in 1..=720 {
            let possession = play(scenario, seed, Keep::ALL);
            for entry in &possession.timeline {
                let What::Passes {
                    to,
                    look: lanelight::offence::LookKind::DropOff,
                    ..
                } = entry.what
                else {
                    continue;
                };
                let later = possession.track.iter();
                let mut later = later.filter(|f| f.time > entry.time && f.holder == Some(to));
                let Some(frame) = later.next() else { continue };
                let at = frame.attackers[usize::from(to) - 1];
                caught += 1;
                let off = (at.x.abs() - scenario.court.lane_width / 2.0)
                    .abs()
                    .max(at.y.abs());
                near += usize::from(off < 1.2);
            }
        }
    }
    println!("{cards_held} parts; {near} of {caught} catches about the spot");
    assert!(cards_held >= 3, "{cards_held}");
    assert!(caught >= 5 && near * 2 >= caught, "{near} of {caught}");
}

#[test]
fn a_post_is_told_which_way_to_go_or_that_the_place_is_right_already() {
    let (mut across, mut right) = (0, 0);
    for (word, scenario, cards, _) in all() {
        let crosses = |c: &&Card| matches!(scenario.offence.rules[c.rule].when, Event::BallCrosses);
        for card in cards.iter().filter(|c| c.scene.is_some()) {
            for part in &card.parts {
                let inside = part.to.ends_with(" block") && part.from.ends_with(" block");
                let told = part.does.split(": ").last().unwrap_or_default();
                let fills = told.starts_with("fill ") || told.starts_with("cross ");
                if inside && part.from != part.to && fills {
                    across += 1;
                    let way = match part.to.starts_with("weak-side") {
                        true => "cross the lane away from the ball to the weak-side block",
                        false => "cross the lane toward the ball to the ball-side block",
                    };
                    assert!(told.starts_with(way), "{word} {}: {told}", card.rule + 1);
                }
                right += usize::from(part.does.contains("stay: your place already (card "));
            }
        }
        if *word != "four_out_one_post" {
            continue;
        }
        // The ball changes sides on the third card of the demo: its post begins where the ball was not, as in play.
        let number = cards.iter().find(crosses).expect("a card").rule + 1;
        let post = part(&cards[2], 5);
        assert_eq!(
            (&*post.from, post.does.split(": ").last()),
            (
                "ball-side block",
                Some(&*format!(
                    "cross the lane away from the ball to the weak-side block (card {number})"
                ))
            )
        );
        // So it is on every card with that.
        let parts = cards.iter().flat_map(|c| &c.parts);
        let already = parts.filter(|p| p.does.contains("your place already"));
        assert_eq!(already.count(), 0);
    }
    println!("{across} go across, {right} are right");
    assert!(across >= 5, "{across} {right}");
}

#[test]
fn a_run_without_an_arrow_says_why_it_has_none() {
    let (mut nobody, mut ball) = (0, 0);
    for (word, scenario, cards, _) in all() {
        for card in cards.iter().filter(|c| !c.cut_short && !c.parts.is_empty()) {
            let said = card.lines().into_iter().map(|(line, _)| line);
            let said: Vec<String> = said.filter(|l| l.starts_with("Not drawn")).collect();
            assert_eq!(said.len(), card.not_drawn.len());
            for line in &said {
                let (why, does) = line.split_once("): ").expect("a reason");
                let why = why.trim_start_matches("Not drawn (");
                let roles = scenario.offence.rules[card.rule].actions.iter();
                let mut roles = roles.filter_map(|a| match a.who {
                    Role::At(place) if does.contains(&words::role(a.who)) => {
                        Some(words::place(place))
                    }
                    _ => None,
                });
                let at = roles.next().map(|p| p.replacen("the ", "", 1));
                let there = card.parts.iter().find(|p| Some(&p.from) == at.as_ref());
                if why == "nobody there" {
                    nobody += 1;
                    assert!(there.is_none(), "{word} {}: {line}", card.rule + 1);
                } else if let Some(n) = why.strip_suffix(" catches") {
                    ball += 1;
                    let there = there.expect("somebody is there");
                    assert_eq!(there.player.to_string(), n, "{word}: {line}");
                    assert!(there.does.starts_with("catch"), "{word}: {line}");
                }
            }
        }
    }
    println!("{nobody} places with nobody, {ball} to whom the ball comes");
    assert!(nobody >= 4 && ball >= 1, "{nobody} {ball}");
}

#[test]
fn who_seals_faces_the_ball_with_the_defender_on_the_side_of_the_rim_as_the_card_says() {
    let scenario = lanelight::scenario::Scenario::demo();
    let (mut seals, mut rim, mut ball) = (0, 0, 0);
    for seed in 1..=150 {
        let possession = lanelight::draw::light::Replay::one(&scenario, seed).possession;
        for entry in &possession.timeline {
            let What::Seals { who, .. } = entry.what else {
                continue;
            };
            let i = usize::from(who) - 1;
            let mut later = possession.track.iter();
            let Some(frame) = later.find(|f| f.time >= entry.time + 0.6) else {
                continue;
            };
            let Some(d) = (0..5).find(|d| frame.guards[*d] == who) else {
                continue;
            };
            let at = frame.attackers[i];
            let to_ball = lanelight::court::Vec2::new(frame.ball[0], frame.ball[1]) - at;
            seals += 1;
            rim += usize::from((frame.defenders[d] - at).dot(-at) > 0.0);
            ball += usize::from(frame.attackers_facing[i].dot(to_ball) > 0.0);
        }
    }
    println!("{seals} seals, {rim} with the defender toward the rim, {ball} facing the ball");
    assert!(seals >= 30 && rim * 5 >= seals * 4 && ball * 5 >= seals * 4);
    let mut told = 0;
    for (word, _, cards, _) in all() {
        for card in cards {
            for part in card
                .parts
                .iter()
                .filter(|p| p.does.contains("seal your defender"))
                // What a later step is, is said in short: 25 words a player.
                .filter(|p| !p.does.contains("that done, seal"))
            {
                told += 1;
                let how = part
                    .does
                    .contains("chest to the ball, your defender behind you");
                assert!(how, "{word} {}: {}", card.rule + 1, part.does);
            }
        }
    }
    assert!(told >= 2, "{told}");
}

#[test]
fn a_driver_whose_own_corner_catches_is_told_who_gives_way() {
    use lanelight::court::{Side, SpotName};
    use lanelight::sim::walkthrough::{Order, Pace, Walker};
    let (_, scenario, cards, _) = all()
        .iter()
        .find(|(word, ..)| *word == "four_out_one_post")
        .expect("the demo's offence");
    // Run: from the first slot, out to the own corner, into which the wing has drifted.
    let mut walker = Walker::new(scenario, Side::Right, true);
    let drive = walker.carry_out(&Order::Drive, Pace::Settled);
    let driver = usize::from(drive.holder.expect("a driver")) - 1;
    let at = |name: SpotName| {
        let there =
            |s: &lanelight::sim::walkthrough::Standing| s.place.is_some_and(|p| p.name == name);
        drive.standing.iter().position(there).expect("somebody")
    };
    let (corner, other) = (at(SpotName::Corner), at(SpotName::Slot));
    let out = walker.carry_out(&Order::PassTo(corner as u8 + 1), Pace::Settled);
    let ends = |i: usize| out.standing[i].place.expect("a place");
    assert_eq!(ends(driver).name, SpotName::Wing);
    assert_eq!(ends(driver).side, ends(corner).side);
    assert_eq!(ends(other).name, SpotName::Slot);
    assert_eq!(ends(other).side, ends(corner).side);
    // Said on the card, with the driver of its own picture.
    let card = &cards[20];
    let driver = card.order[0];
    let catcher = card.parts.iter().find(|p| p.from.ends_with(" corner"));
    let catcher = catcher.expect("whoever has drifted").player;
    let said = format!("card 11 sends {driver} on to the wing there and ");
    let line = card.sent_on.iter().find(|l| l.contains(&said));
    let line = line.unwrap_or_else(|| panic!("{:?}", card.sent_on));
    assert!(
        line.contains(&format!(
            " instead, {catcher}'s side becomes the ball side: "
        )) && line.ends_with(" to the slot there.")
    );
    assert!(card.lines().iter().any(|(l, _)| l == line));
}
