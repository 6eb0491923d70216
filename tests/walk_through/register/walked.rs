//! Words that are walked through.

use lanelight::court::SpotName as S;

use super::*;

const USUAL: [&str; 2] = ["corner(weak)", "block(ball)"];
const OTHER_BLOCK: [&str; 2] = ["corner(weak)", "block(weak)"];
const ELBOW: [&str; 2] = ["corner(weak)", "elbow(ball)"];

fn case(rules: &'static str, orders: Vec<Order>, ends: Vec<End>) -> Walked {
    Walked {
        rules,
        inside: USUAL,
        orders,
        pace: None,
        midline: None,
        ends,
    }
}

/// The wing on the ball side screens for the block, who comes off to the wing.
macro_rules! screen {
    () => {
        "(name: \"s\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: at(wing(ball)), does: \
         screen_for(whom: post, after: hold)), (who: post, does: use_screen(of: at(wing(ball)), to: wing(ball), \
         unfed: hold))])"
    };
}

pub fn cases() -> Vec<Walked> {
    let mut all = passes();
    all.extend(holders());
    all.extend(cutters());
    all.extend(screens());
    all
}

fn passes() -> Vec<Walked> {
    vec![
        case(
            "(name: \"pass\", when: pass(from: top, to: wing(ball)), only_if: [time_over(3), held(perimeter), ball_at(wing(ball))], do: [(who: \
             passer, does: cut(lane: ball_side, unfed: go_through(corner(weak)))), (who: at(wing(weak)), does: \
             fill(top), only_if: [held(wing(weak))]), (who: at(corner(weak)), does: fill_first([top, wing(weak)]))])",
            vec![PassTo(2)],
            vec![
                (1, S::Corner, Some(Left)),
                (3, S::Top, None),
                (4, S::Wing, Some(Left)),
            ],
        ),
        case(
            "(name: \"denied\", when: denied(at: wing(either), ball: top, seconds: 0.4), do: [(who: denied, does: cut(lane: \
             behind, unfed: circle_out(corner(own))), only_if: [overplayed]), (who: next, does: replace(denied))])",
            vec![Deny(vec![2])],
            vec![(2, S::Corner, Some(Right)), (3, S::Wing, Some(Right))],
        ),
        case(
            "(name: \"catch\", when: catch(at: wing(ball)), do: [(who: post, does: flash(to: elbow(ball), seconds: 0.8), \
             then: [fill(short_corner(ball))], only_if: [off_ball, held(inside)]), (who: player(1), does: \
             drift(slot(weak)), only_if: [empty(slot(weak))])])",
            vec![PassTo(2)],
            vec![(5, S::ShortCorner, Some(Right)), (1, S::Slot, Some(Left))],
        ),
        case(
            "(name: \"crosses\", when: ball_crosses, do: [(who: post, does: fill(short_corner(ball)), only_if: \
             [post_on(weak)])])",
            vec![PassTo(3)],
            vec![(5, S::ShortCorner, Some(Left))],
        ),
        case(
            "(name: \"number\", when: pass(from: top, to: wing(ball)), only_if: [has_ball(2)], do: [(who: at(wing(weak)), \
             does: fill(slot(weak)), only_if: [is_player(3)])])",
            vec![PassTo(2)],
            vec![(3, S::Slot, Some(Left))],
        ),
        case(
            "(name: \"screen\", when: pass(from: top, to: wing(ball)), do: [(who: player(5), does: screen_for(whom: \
             receiver, after: fill(block(ball))))]), (name: \"comes\", when: catch(at: wing(ball)), only_if: \
             [screen_coming], do: [(who: player(5), does: fill(short_corner(weak)), only_if: [not_screening]), (who: \
             player(3), does: fill(slot(weak)), only_if: [not_screening])])",
            vec![PassTo(2)],
            vec![(3, S::Slot, Some(Left)), (5, S::Block, Some(Right))],
        ),
        case(
            "(name: \"sagged\", when: pass(from: wing(ball), to: top), do: [(who: player(3), does: fill(slot(weak)), \
             only_if: [sagged_off])])",
            vec![PassTo(2), PassTo(1)],
            vec![(3, S::Slot, Some(Left))],
        ),
        Walked {
            inside: ["block(weak)", "block(ball)"],
            ..case(
                "(name: \"two\", when: pass(from: top, to: wing(ball)), do: [(who: post, does: hold), (who: second_post, \
                 does: fill(high_post))])",
                vec![PassTo(2)],
                vec![(5, S::HighPost, None)],
            )
        },
    ]
}

fn holders() -> Vec<Walked> {
    vec![
        case(
            "(name: \"stays\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: nearest(slot(ball)), does: \
             lift(slot(ball))), (who: post, does: seal(at: block(weak), seconds: 0.8))])",
            vec![Hold(2.0)],
            vec![(2, S::Slot, Some(Right))],
        ),
        case(
            "(name: \"at\", when: ball_on(at: top, seconds: 0.4), once: true, do: [(who: holder, does: \
             dribble_at(at(wing(ball))))]), (name: \"makes room\", when: dribble_at(at: wing(ball)), do: [(who: denied, \
             does: fill(corner(ball)))])",
            vec![Hold(2.0)],
            vec![(1, S::Wing, Some(Right)), (2, S::Corner, Some(Right))],
        ),
        Walked {
            inside: ELBOW,
            ..case(
                "(name: \"gives\", when: catch(at: elbow(ball)), do: [(who: holder, does: hand_off(at(wing(ball))))]), \
                 (name: \"given\", when: hand_off(from: elbow(ball), to: wing(ball)), do: [(who: passer, does: \
                 fill(block(ball)))])",
                vec![PassTo(5), Hold(2.0)],
                vec![(5, S::Block, Some(Right))],
            )
        },
        case(
            "(name: \"gives\", when: ball_on(at: top, seconds: 0.6), once: true, do: [(who: holder, does: \
             dribble_hand_off(at(wing(weak))))])",
            vec![Hold(2.0)],
            vec![(1, S::Wing, Some(Left)), (3, S::Top, None)],
        ),
        Walked {
            inside: OTHER_BLOCK,
            ..case(
                "(name: \"forgotten\", when: post_forgotten(seconds: 0.4), do: [(who: post, does: fill(block(ball)))])",
                vec![Forget],
                vec![(5, S::Block, Some(Right))],
            )
        },
        case(
            "(name: \"drive\", when: drive(from: any), do: [(who: post, does: drop_off)]), (name: \"out\", when: \
             kick_out(from: perimeter), do: [(who: driver, does: fill(corner(ball)))])",
            vec![PassTo(2), Drive, PassTo(1)],
            vec![(2, S::Corner, Some(Right))],
        ),
        Walked {
            midline: Some(-0.6),
            pace: Some(2.0),
            ..case(
                "(name: \"m\", when: drive(from: wing(ball), toward: middle), do: [(who: player(3), does: fill(slot(weak)))])",
                vec![PassTo(2), Drive],
                vec![(3, S::Slot, Some(Left))],
            )
        },
        Walked {
            midline: Some(0.6),
            pace: Some(2.0),
            ..case(
                "(name: \"b\", when: drive(from: wing(ball), toward: baseline), do: [(who: player(3), does: \
                 fill(slot(weak)))])",
                vec![PassTo(2), Drive],
                vec![(3, S::Slot, Some(Left))],
            )
        },
    ]
}

fn cutters() -> Vec<Walked> {
    vec![
        case(
            "(name: \"cut\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: cut(lane: ball_side, unfed: \
             fill(corner(ball))))]), (name: \"unfed\", when: unfed(from: top), do: [(who: cutter, does: \
             fill(slot(weak)))])",
            vec![PassTo(2)],
            vec![(1, S::Slot, Some(Left))],
        ),
        Walked {
            pace: Some(1.3),
            ..case(
                "(name: \"cut\", when: pass(from: top, to: wing(ball)), do: [(who: passer, does: cut(lane: ball_side, unfed: \
                 fill(corner(weak))))]), (name: \"fed\", when: pass(from: wing(either), to: any), do: [(who: player(3), \
                 does: fill(slot(weak)))]), (name: \"stopped\", when: feed_stopped(at: any), do: [(who: passer, does: \
                 fill(top))])",
                vec![PassTo(2), PassTo(1), Hold(2.0)],
                vec![(2, S::Top, None)],
            )
        },
    ]
}

fn screens() -> Vec<Walked> {
    vec![
        case(
            concat!(
                screen!(),
                ", (name: \"set\", when: screen_set(at: block(ball)), do: [(who: player(3), does: \
                 fill(short_corner(weak)))]), (name: \"used\", when: screen_used(at: block(ball)), do: [(who: screener, \
                 does: fill(corner(ball)))])"
            ),
            vec![Hold(4.0)],
            vec![
                (2, S::Corner, Some(Right)),
                (3, S::ShortCorner, Some(Left)),
                (5, S::Wing, Some(Right)),
            ],
        ),
        Walked {
            pace: Some(0.1),
            ..case(
                concat!(
                    screen!(),
                    ", (name: \"caught\", when: catch_off_screen(at: wing(ball)), do: [(who: screener, does: \
                     fill(corner(ball)))])"
                ),
                vec![Hold(4.0), PassTo(5)],
                vec![(2, S::Corner, Some(Right))],
            )
        },
        Walked {
            inside: ELBOW,
            pace: Some(2.4),
            ..case(
                "(name: \"ball\", when: pass(from: top, to: wing(ball)), do: [(who: post, does: screen_for(whom: receiver, \
                 after: fill(elbow(weak))))])",
                vec![PassTo(2), Drive],
                vec![(5, S::Elbow, Some(Left))],
            )
        },
    ]
}
