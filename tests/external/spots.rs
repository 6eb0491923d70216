//! The trade's table: how many passes away everybody is, and where the help line puts his defender, for
//! the ball on every spot of three alignments. All common practice, no source. Ball on a slot: the other
//! slot and the near wing are one pass away, the far wing and a weak-side post two; ball on a wing: only
//! the near slot (and the near corner, if filled); ball in a corner: only its neighbour. Two passes away:
//! on the line from rim to rim, open to ball and man. Sag: one or two steps off, between man and rim.
//! Denial: close up, a hand in the passing lane.

use lanelight::court::{Court, CourtCode, Side, Spot, SpotName, Vec2};
use lanelight::defence::{Defence, Gaze, Relation};
use lanelight::looks::passing::passes_away;
use lanelight::looks::{BODIES, Scene};
use lanelight::model::Model;
use lanelight::scenario::{read_defence, shipped};
use lanelight::sim::stance::station;
use lanelight::squad::{Level, Position};

use Side::{Left, Right};
use SpotName::{Block, Corner, Slot, Top, Wing};

type Place = (SpotName, Option<Side>);

/// An alignment and, for the ball on each of its outside places in turn, how many passes away each
/// place is; `None` inside.
struct Table {
    places: [Place; 5],
    rows: &'static [(usize, [Option<u8>; 5])],
}

const L: Option<Side> = Some(Left);
const R: Option<Side> = Some(Right);

/// Four out and a post; four out and a post with the ball gone to the corner (its wing has come from
/// the slot, the far slot with it); five out.
const TABLES: [Table; 3] = [
    Table {
        places: [(Slot, R), (Slot, L), (Wing, R), (Wing, L), (Block, L)],
        rows: &[
            (0, [Some(0), Some(1), Some(1), Some(2), None]),
            (1, [Some(1), Some(0), Some(2), Some(1), None]),
            (2, [Some(1), Some(2), Some(0), Some(3), None]),
            (3, [Some(2), Some(1), Some(3), Some(0), None]),
        ],
    },
    Table {
        places: [(Corner, R), (Wing, R), (Slot, R), (Wing, L), (Block, L)],
        rows: &[
            (0, [Some(0), Some(1), Some(2), Some(3), None]),
            (1, [Some(1), Some(0), Some(1), Some(2), None]),
        ],
    },
    Table {
        places: [(Top, None), (Wing, R), (Wing, L), (Corner, R), (Corner, L)],
        rows: &[
            (0, [Some(0), Some(1), Some(1), Some(2), Some(2)]),
            (1, [Some(1), Some(0), Some(2), Some(1), Some(3)]),
            (2, [Some(1), Some(2), Some(0), Some(3), Some(1)]),
            (3, [Some(2), Some(1), Some(3), Some(0), Some(4)]),
            (4, [Some(2), Some(3), Some(1), Some(4), Some(0)]),
        ],
    },
];

/// Every row on every court, and its mirror image: the court, the places as drawn, who has the ball,
/// and the passes away.
fn rows() -> Vec<(CourtCode, [Vec2; 5], [bool; 5], usize, [Option<u8>; 5])> {
    let mut all = Vec::new();
    for code in CourtCode::ALL {
        let court = Court::of(code);
        for table in &TABLES {
            for &(ball, away) in table.rows {
                for mirrored in [false, true] {
                    let at = table.places.map(|(name, side)| {
                        let side = if mirrored {
                            side.map(Side::other)
                        } else {
                            side
                        };
                        court.spot(Spot::new(name, side))
                    });
                    let outside = table.places.map(|(name, _)| name.is_perimeter());
                    all.push((code, at, outside, ball, away));
                }
            }
        }
    }
    all
}

#[test]
fn passes_away_are_those_of_the_trades_table_for_the_ball_on_every_spot() {
    for (code, at, outside, ball, wanted) in rows() {
        let zero = Vec2::ZERO;
        let mut pos = [zero; BODIES];
        pos[..5].copy_from_slice(&at);
        let scene = Scene {
            pos,
            vel: [zero; BODIES],
            facing: [Vec2::new(0.0, -1.0); BODIES],
            alert: [0.2; 5],
            aware: [0.1; 5],
            guards: [0, 1, 2, 3, 4],
        };
        let mut found = passes_away(&Model::shipped().looks, &scene, &outside, ball);
        found[ball] = Some(0);
        assert_eq!(found, wanted, "{code:?}, ball with {}", ball + 1);
    }
}

fn model(word: &str) -> Defence {
    let file = shipped::find(shipped::Kind::Defence, word).expect("a shipped defence");
    read_defence(file.text, word).expect("it can be read").value
}

/// The relation of a place to the ball; inside is the post's business.
fn relation(at: Vec2, ball: Vec2, away: Option<u8>) -> Relation {
    match away {
        Some(1) => Relation::OnePass,
        Some(_) => Relation::TwoPasses,
        None if at.x * ball.x > 0.0 => Relation::PostBallSide,
        None => Relation::PostWeakSide,
    }
}

/// Calls `check` with (relation, man, ball, place of the defender) for everybody without the ball.
fn stations(word: &str, mut check: impl FnMut(Relation, Vec2, Vec2, Vec2, String)) {
    let defence = model(word);
    for (code, at, _, ball, away) in rows() {
        for who in (0..5).filter(|w| *w != ball) {
            let relation = relation(at[who], at[ball], away[who]);
            let place = station(defence.stances.of(relation), at[who], at[ball]);
            let says = format!(
                "{word}, {code:?}: ball {:?}, man {:?}, {place:?}",
                at[ball], at[who]
            );
            check(relation, at[who], at[ball], place, says);
        }
    }
}

/// How far `p` is off the straight way from `a` to `b`, metres, and its share of the way.
fn off_the_way(p: Vec2, a: Vec2, b: Vec2) -> (f64, f64) {
    let way = b - a;
    let share = (p - a).dot(way) / way.length_squared();
    ((p - (a + way * share.clamp(0.0, 1.0))).length(), share)
}

#[test]
fn two_passes_away_the_help_line_stands_on_the_midline_and_sees_ball_and_man() {
    let help = model("help_line");
    assert_eq!(help.stances.two_passes.gaze, Gaze::Both);
    assert_eq!(help.stances.post_weak_side.gaze, Gaze::Both);
    let mut seen = 0;
    stations("help_line", |relation, man, ball, place, says| {
        if relation != Relation::TwoPasses {
            return;
        }
        seen += 1;
        // A foot to either side of the line, a step with the ball and the man on one side of it.
        let same_side = man.x * ball.x > 0.0;
        let most = if same_side { 0.9 } else { 0.31 };
        assert!(place.x.abs() < most, "{says}");
        assert!(place.length() < man.length().min(ball.length()), "{says}");
        // In front of the ring; with ball and man in the two corners the mix lies behind it, and the
        // floor brings him in front of the board.
        let corners = man.y < 0.0 && ball.y < 0.0;
        assert!(corners || place.y > 0.0, "{says}");
    });
    assert!(seen > 100, "{seen}");
}

#[test]
fn one_pass_away_the_help_line_is_in_the_gap_and_the_post_on_the_weak_side_is_left_for_the_lane() {
    stations(
        "help_line",
        |relation, man, ball, place, says| match relation {
            Relation::OnePass => {
                assert!((1.3..=2.4).contains(&(place - man).length()), "{says}");
                assert!((place - ball).length() < (man - ball).length(), "{says}");
                assert!(place.length() < man.length(), "{says}");
            }
            Relation::PostWeakSide => {
                assert!(place.x.abs() < man.x.abs(), "{says}");
                assert!((place - man).length() >= 0.8 - 1e-9, "{says}");
            }
            _ => {}
        },
    );
}

#[test]
fn denial_has_a_hand_in_the_lane_of_whoever_is_one_pass_away() {
    let reach = Level::VarsityBoys.player(3, Position::Wing).limits.reach;
    stations("denial", |relation, man, ball, place, says| {
        if relation != Relation::OnePass {
            return;
        }
        assert!((place - man).length() <= 1.1 + 1e-9, "{says}");
        let (off, share) = off_the_way(place, man, ball);
        assert!(
            off < reach && share > 0.0,
            "{says}: {off:.2} m off the lane"
        );
    });
}

#[test]
fn sag_stands_a_step_or_two_off_between_man_and_rim() {
    stations("sag", |relation, man, _, place, says| {
        if !matches!(relation, Relation::OnePass | Relation::TwoPasses) {
            return;
        }
        // A step of defence is about 3 ft.
        assert!((1.5..=4.7).contains(&(place - man).length()), "{says}");
        let (off, share) = off_the_way(place, man, Vec2::ZERO);
        assert!(
            off < 0.9 && (0.0..1.0).contains(&share),
            "{says}: {off:.2} m off the way"
        );
    });
}
