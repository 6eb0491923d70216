//! Steps, conditions and rules that fire once: who ends where, on both sides.

use lanelight::court::SpotName::{Block, Corner, HighPost, Top, Wing};
use lanelight::court::{Side, Spot};
use lanelight::possession::orders::OrderEnd;
use lanelight::scenario::Scenario;
use lanelight::scrimmage::orders::account;
use lanelight::sim::walkthrough::{Order, Step};
use lanelight::sim::{cast_untaught, play_accounted};

use super::common::*;

/// Three outside, two inside, with these rules.
fn with(rules: &str) -> Scenario {
    let text = format!(
        "(name: \"c\", ball: 1, alignment: [(player: 1, at: top), (player: 2, at: wing(ball)), \
         (player: 3, at: wing(weak)), (player: 4, at: corner(ball)), (player: 5, at: block(weak))], \
         keep_filled: [], rules: [{rules}], reading: [drive, next_pass], drive_from: [any])"
    );
    let offence =
        lanelight::scenario::read_offence(&text, "c.ron").unwrap_or_else(|e| panic!("{e}"));
    Scenario {
        offence: offence.value,
        ..reference("")
    }
}

fn rule(more: &str, lines: &str) -> String {
    format!("(name: \"r\", when: pass(from: top, to: wing(ball)), {more}do: [{lines}])")
}

fn passed(rules: &str) -> Step {
    walked(&with(rules), &[Order::PassTo(2)]).steps.remove(0)
}

/// Where a player ends after the pass to the wing.
fn end(rules: &str, player: u8) -> Option<Spot> {
    passed(rules).place(player)
}

#[test]
fn steps_are_done_one_after_the_other() {
    let line = "(who: post, does: flash(to: high_post, seconds: 0.6), then: [fill(block(ball)), fill(corner(weak))])";
    let scenario = with(&rule("", line));
    let step = passed(&rule("", line));
    let at = |name| seconds_near(&step, 5, scenario.court.spot(right(name)), 1.0);
    let high = seconds_near(
        &step,
        5,
        scenario
            .court
            .spot(Spot::new(HighPost, lanelight::court::Side::Right)),
        1.0,
    );
    assert!(high > 0.5, "{high} s at the high post");
    assert!(at(Block) > 0.2, "{} s on the block", at(Block));
    assert_eq!(step.place(5), Some(left(Corner)));
    let off = (step.standing[4].pos - scenario.court.spot(left(Corner))).length();
    assert!(off < 0.5, "{off} m");
}

#[test]
fn a_new_order_ends_the_steps() {
    let again = "(name: \"again\", when: pass(from: wing(ball), to: top), do: [(who: post, does: fill(block(ball)))])";
    let line = "(who: post, does: flash(to: high_post, seconds: 9), then: [fill(corner(weak))])";
    let scenario = with(&format!("{}, {again}", rule("", line)));
    let mut walker =
        lanelight::sim::walkthrough::Walker::new(&scenario, lanelight::court::Side::Right, true);
    use lanelight::sim::walkthrough::Pace;
    walker.carry_out(&Order::PassTo(2), Pace::Seconds(1.0));
    let step = walker.carry_out(&Order::PassTo(1), Pace::Settled);
    assert_eq!(step.place(5), Some(right(Block)));
}

#[test]
fn a_rule_and_a_line_count_only_if_it_is_so() {
    let fill = "(who: player(3), does: fill(corner(weak))";
    for (condition, is_so) in [
        ("held(corner(ball))", true),
        ("held(corner(weak))", false),
        ("empty(corner(weak))", true),
        ("empty(inside)", false),
        ("ball_at(wing(ball))", true),
        ("ball_at(perimeter)", true),
        ("ball_at(top)", false),
        ("post_on(weak)", true),
        ("post_on(ball)", false),
        ("has_ball(2)", true),
        ("has_ball(1)", false),
        ("screen_coming", false),
        ("time_over(0)", true),
        ("time_under(0)", false),
    ] {
        let place = if is_so { left(Corner) } else { left(Wing) };
        let of_the_rule = rule(&format!("only_if: [{condition}], "), &format!("{fill})"));
        assert_eq!(end(&of_the_rule, 3), Some(place), "{condition}");
        let of_the_line = rule("", &format!("{fill}, only_if: [{condition}])"));
        assert_eq!(end(&of_the_line, 3), Some(place), "{condition}");
    }
}

#[test]
fn of_two_lines_for_a_player_the_first_that_is_so_counts() {
    let line = |condition: &str, to: &str| {
        format!("(who: player(3), does: fill({to}), only_if: [{condition}])")
    };
    let both = |first: &str| {
        let lines = format!(
            "{}, (who: player(3), does: fill(corner(weak)))",
            line(first, "top")
        );
        end(&rule("", &lines), 3)
    };
    assert_eq!(
        both("post_on(weak)"),
        Some(Spot::new(Top, lanelight::court::Side::Right))
    );
    assert_eq!(both("post_on(ball)"), Some(left(Corner)));
}

#[test]
fn a_player_is_overplayed_who_is_denied_and_sagged_off_whose_man_is_far() {
    let denied = |condition: &str| {
        format!(
            "(name: \"d\", when: denied(at: wing(ball), ball: top, seconds: 0.2), do: [(who: denied, does: \
             fill(block(ball)), only_if: [{condition}])])"
        )
    };
    let ends = |condition: &str| {
        let walk = walked(&with(&denied(condition)), &[Order::Deny(vec![2])]);
        walk.steps[0].place(2)
    };
    assert_eq!(ends("overplayed"), Some(right(Block)));
    // With the ball on the other wing the weak wing's man is on the help line.
    let fill = |condition: &str| {
        format!(
            "(name: \"back\", when: pass(from: wing(ball), to: top), do: [(who: player(3), does: \
             fill(corner(weak)), only_if: [{condition}])])"
        )
    };
    let back = |condition: &str| {
        let orders = [Order::PassTo(2), Order::PassTo(1)];
        walked(&with(&fill(condition)), &orders).steps[1].place(3)
    };
    assert_eq!(back("sagged_off"), Some(left(Corner)));
    assert_eq!(back("overplayed"), Some(left(Wing)));
}

#[test]
fn a_rule_that_fires_once_does_not_fire_again() {
    let fires = |more: &str| {
        let lines = "(who: player(5), does: fill_first([high_post, block(ball)]))";
        let back = "(name: \"b\", when: pass(from: wing(ball), to: top), do: [(who: player(5), does: fill(block(weak)))])";
        let scenario = with(&format!("{}, {back}", rule(more, lines)));
        let walk = walked(
            &scenario,
            &[Order::PassTo(2), Order::PassTo(1), Order::PassTo(2)],
        );
        walk.steps
            .iter()
            .map(|step| step.rules.iter().filter(|r| *r == "r").count())
            .sum::<usize>()
    };
    assert_eq!(fires(""), 2);
    assert_eq!(fires("once: true, "), 1);
}

#[test]
fn off_a_screen_to_a_place_the_user_ends_there_and_the_screener_where_the_screen_says() {
    let lines = "(who: at(wing(weak)), does: screen_for(whom: post, after: fill(block(weak)))), (who: post, does: \
                 use_screen(of: at(wing(weak)), to: wing(weak), unfed: fill(wing(weak))))";
    let scenario = with(&rule("", lines));
    let step = passed(&rule("", lines));
    assert_eq!(step.place(5), Some(left(Wing)));
    assert_eq!(step.place(3), Some(left(Block)));
    let off = (step.standing[4].pos - scenario.court.spot(left(Wing))).length();
    assert!(off < 0.5, "{off} m");
    // Not by way of the rim.
    let rim = step.path(5).into_iter().map(|p| p.length());
    let nearest = rim.fold(f64::INFINITY, f64::min);
    assert!(nearest > 1.8, "{nearest} m");
}

#[test]
fn off_ball_is_who_neither_has_the_ball_nor_is_about_to_catch_it() {
    let line =
        |who: u8| format!("(who: player({who}), does: fill(corner(weak)), only_if: [off_ball])");
    assert_eq!(end(&rule("", &line(3)), 3), Some(left(Corner)));
    // The receiver's line does not count, so the second line about the place does.
    let two = format!("{}, (who: player(3), does: fill(corner(weak)))", line(2));
    assert_eq!(end(&rule("", &two), 2), Some(right(Wing)));
    assert_eq!(end(&rule("", &two), 3), Some(left(Corner)));
}

/// How the orders of a line ended in twenty possessions.
fn ended(rules: &str, of: (usize, usize)) -> Vec<OrderEnd> {
    let scenario = std::sync::Arc::new(with(rules));
    let cast = cast_untaught(&scenario);
    let orders = (1..=20).flat_map(|seed| play_accounted(&scenario, &cast, seed).1);
    let of_it = orders.filter(|order| (order.rule, order.line) == of);
    of_it.map(|order| order.end).collect()
}

#[test]
fn a_line_about_nobody_is_no_order_if_it_asks_for_somebody() {
    let line = "(who: at(slot(weak)), does: fill(top)";
    let asks = ended(
        &rule("", &format!("{line}, only_if: [held(slot(weak))])")),
        (0, 0),
    );
    assert!(
        !asks.is_empty() && asks.iter().all(|end| *end == OrderEnd::NotSo),
        "{asks:?}"
    );
    let plain = ended(&rule("", &format!("{line})")), (0, 0));
    assert!(
        plain.iter().all(|end| *end == OrderEnd::NobodyThere),
        "{plain:?}"
    );
}

#[test]
fn to_hold_does_not_end_a_cut_and_a_cutter_told_to_cut_is_at_it() {
    let cut = rule(
        "",
        "(who: passer, does: cut(lane: ball_side, unfed: fill(top)))",
    );
    for does in ["hold", "cut(lane: ball_side, unfed: fill(slot(weak)))"] {
        let again = format!(
            "(name: \"again\", when: catch(at: wing(ball)), do: [(who: player(1), does: {does})])"
        );
        let rules = format!("{cut}, {again}");
        let cuts = ended(&rules, (0, 0));
        assert!(cuts.contains(&OrderEnd::Done), "{cuts:?}");
        assert!(!cuts.contains(&OrderEnd::AnotherOrder), "{does}: {cuts:?}");
        assert!(ended(&rules, (1, 0)).contains(&OrderEnd::Done), "{does}");
    }
}

#[test]
fn who_waits_beside_the_rim_does_so_until_the_drive_is_over() {
    let rules = "(name: \"d\", when: drive(from: any), do: [(who: post, does: drop_off)]),
        (name: \"x\", when: ball_crosses, do: [(who: post, does: fill(block(weak)))])";
    let waits = ended(rules, (0, 0));
    let done = |end: &&OrderEnd| matches!(end, OrderEnd::Done | OrderEnd::NotNeeded);
    assert!(waits.iter().filter(done).count() > 5, "{waits:?}");
    assert!(!waits.contains(&OrderEnd::AnotherOrder), "{waits:?}");
}

/// The passer screens away and goes to that wing; then this is ordered once the ball is caught.
fn screened_away(then: &str) -> String {
    let away = rule(
        "once: true, ",
        "(who: passer, does: screen_for(whom: player(3), after: fill(wing(weak)))), \
         (who: player(3), does: use_screen(of: passer, to: top, unfed: fill(top)))",
    );
    format!(
        "{away}, (name: \"s\", when: catch(at: wing(ball)), once: true, do: [(who: player(1), does: {then})])"
    )
}

/// How each step of the first line of those ended; of what follows the screen, unless the screen was over before the
/// other order came: that sends the player off.
fn steps_ended(rules: &str) -> [Vec<OrderEnd>; 2] {
    let scenario = std::sync::Arc::new(with(rules));
    let cast = cast_untaught(&scenario);
    let mut ends = [const { Vec::new() }; 2];
    for seed in 1..=20 {
        let orders = play_accounted(&scenario, &cast, seed).1;
        let line: Vec<_> = orders
            .iter()
            .filter(|o| (o.rule, o.line) == (0, 0))
            .collect();
        for order in &line {
            let over = order.told > line[0].told && order.end == OrderEnd::SentOn;
            if !over {
                ends[order.step].push(order.end);
            }
        }
    }
    ends
}

#[test]
fn to_hold_or_the_same_screen_again_ends_neither_a_screen_nor_what_follows_it() {
    let again = "screen_for(whom: player(3), after: fill(wing(weak)))";
    for then in ["hold", again] {
        let rules = screened_away(then);
        for (step, ends) in steps_ended(&rules).into_iter().enumerate() {
            let off = |end: &OrderEnd| matches!(end, OrderEnd::AnotherOrder | OrderEnd::SentOn);
            assert!(!ends.iter().any(off), "{then}, step {step}: {ends:?}");
            assert!(
                ends.contains(&OrderEnd::Done),
                "{then}, step {step}: {ends:?}"
            );
        }
        assert!(ended(&rules, (1, 0)).contains(&OrderEnd::Done), "{then}");
    }
}

#[test]
fn a_holder_on_the_way_to_a_place_does_not_hold_it_for_a_pass_of_their_own() {
    // Caught in the corner by who is to come out to the wing: out there is a team-mate, or no order.
    let of = |defence: &str| {
        let text = format!(
            "(name: \"b\", court: nfhs, level: varsity, offence: \"ball_screen_continuity\", defence: \"{defence}\")"
        );
        Scenario::from_text(&text, "b.ron").unwrap_or_else(|e| panic!("{e}"))
    };
    let account = account(&["sag", "denial", "help_line"].map(of), 200).unwrap();
    let rule = account
        .rules
        .iter()
        .find(|r| r.name.starts_with("Caught in the corner"));
    let line = &rule.unwrap().lines[0];
    assert!(line.given > 10, "{line:?}");
    let nobody = |end: OrderEnd| end == OrderEnd::NobodyThere;
    assert!(!line.ends.iter().any(|ended| nobody(ended.end)), "{line:?}");
}

#[test]
fn a_line_may_ask_for_a_player_by_number() {
    for (number, place) in [(3, left(Corner)), (4, left(Wing))] {
        let line = format!(
            "(who: at(wing(weak)), does: fill(corner(weak)), only_if: [is_player({number})])"
        );
        assert_eq!(end(&rule("", &line), 3), Some(place), "{number}");
    }
}

#[test]
fn a_rule_may_ask_for_a_screen_on_the_ball_and_a_line_for_who_sets_none() {
    let screens = |whom: &str, more: &str| {
        let screen =
            format!("(who: post, does: screen_for(whom: {whom}, after: fill(block(ball))))");
        format!(
            "{}, (name: \"c\", when: catch(at: wing(ball)), {more}do: [(who: player(5), does: fill(corner(weak)), only_if: \
             [not_screening]), (who: player(3), does: fill(slot(weak)), only_if: [not_screening])])",
            rule("", &screen)
        )
    };
    let coming = "only_if: [screen_coming], ";
    let step = passed(&screens("receiver", coming));
    let slot = Some(left(lanelight::court::SpotName::Slot));
    assert_eq!((step.place(5), step.place(3)), (Some(right(Block)), slot));
    // A screen for somebody else is none on the ball.
    let step = passed(&screens("player(1)", coming));
    assert_eq!(
        (step.place(5), step.place(3)),
        (Some(right(Block)), Some(left(Wing)))
    );
    let step = passed(&screens("player(1)", ""));
    assert_eq!((step.place(5), step.place(3)), (Some(right(Block)), slot));
}

/// Before: it fired again with each holder.
#[test]
fn the_clock_comes_to_a_time_once() {
    let rules =
        "(name: \"late\", when: clock(left: 25), do: [(who: post, does: fill(block(ball)))])";
    let scenario = std::sync::Arc::new(with(rules));
    let cast = cast_untaught(&scenario);
    let fired = |seed| {
        let p = lanelight::sim::play_shared(&scenario, &cast, seed, lanelight::sim::Keep::ALL);
        let rules = p.timeline.iter();
        let late = |e: &&lanelight::possession::Entry| {
            matches!(e.what, lanelight::possession::What::Rule { rule: 0, .. })
        };
        rules.filter(late).count()
    };
    let fired: Vec<usize> = (1..=30).map(fired).collect();
    assert!(fired.iter().all(|n| *n <= 1), "{fired:?}");
    assert!(fired.iter().sum::<usize>() > 10, "{fired:?}");
}

/// Before: "what the line asks for was not so" was told of a line that asks for nothing.
#[test]
fn of_two_lines_about_one_player_the_account_says_that_the_first_counted() {
    let lines = "(who: at(wing(weak)), does: fill(top), only_if: [held(wing(weak))]), (who: player(3), does: hold), \
                 (who: post, does: hold, only_if: [empty(block(weak))])";
    let scenario = std::sync::Arc::new(with(&rule("", lines)));
    let cast = cast_untaught(&scenario);
    let ends = (1..=30).flat_map(|seed| play_accounted(&scenario, &cast, seed).1);
    let (mut counted, mut asked) = (0, 0);
    for order in ends {
        match order.line {
            1 => {
                assert_ne!(order.end, OrderEnd::NotSo);
                counted += u32::from(order.end == OrderEnd::OtherLine);
            }
            2 => asked += u32::from(order.end == OrderEnd::NotSo),
            _ => {}
        }
    }
    assert!(counted > 5 && asked > 5, "{counted}, {asked}");
}

/// Before: who was fed as they came to the place had not gone there: "a pass came on the way".
#[test]
fn who_catches_it_in_the_place_to_which_they_were_sent_has_gone_there() {
    use lanelight::offence::Movement;
    use lanelight::possession::What;
    let (mut there, mut short) = (0, Vec::new());
    for defence in ["sag", "denial"] {
        let s = std::sync::Arc::new(scenario("five_out_give_and_go", defence, ""));
        let cast = cast_untaught(&s);
        for seed in 1..=450 {
            let (played, orders) = play_accounted(&s, &cast, seed);
            for order in &orders {
                let line = &s.offence.rules[order.rule].actions[order.line];
                let (Movement::Fill(place), Some(who)) = (&line.does, order.who) else {
                    continue;
                };
                let first = played.timeline.iter().find_map(|e| match e.what {
                    What::Catches {
                        who: w, at, off, ..
                    } if w == who && e.time > order.told => Some((e.time, at, off)),
                    _ => None,
                });
                let Some((time, at, off)) = first else {
                    continue;
                };
                let fed = time > order.ended - 0.05 && time < order.ended + 1.5;
                if !fed || off > 0.8 || place.spot(at.side.unwrap_or(Side::Right), None) != Some(at)
                {
                    continue;
                }
                match order.end {
                    OrderEnd::Done => there += 1,
                    OrderEnd::BallCame => short.push((defence, seed, time)),
                    _ => {}
                }
            }
        }
    }
    println!("{there} caught it there, told short of it: {short:?}");
    assert!(there > 10 && short.is_empty(), "{there}: {short:?}");
}
