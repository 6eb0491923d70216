//! Every word of a defence does something, and the same on both sides: with it the play is another than without it,
//! and from the other side it is the mirror image, bit for bit. Walkers have passive defenders, so it is told by
//! possessions. What each word does is for `tests/defences.rs`, `ball_screens.rs` and `screens.rs`.

use std::sync::Arc;

use lanelight::court::Side::{self, Left, Right};
use lanelight::defence::{
    Area, BallScreens, Chaser, Closeout, Defence, Gaze, Help, Helper, OffBallScreens, Override,
    Stance, Stances, Switch, check,
};
use lanelight::possession::Possession;
use lanelight::scenario::Scenario;
use lanelight::scenario::shipped::{Kind, find};
use lanelight::sim::{Keep, cast_untaught, play_shared};
use serde::de::DeserializeOwned;

use super::common::scenario;

/// Seeds that are tried until the word shows.
const SEEDS: u64 = 60;

/// A word of a type: an offence against which it shows, and the defence with and without it.
type Case = (
    &'static str,
    &'static str,
    &'static str,
    fn(&mut Defence),
    fn(&mut Defence),
);

const FOUR: &str = "four_out_one_post";
const SCREENS: &str = "three_out_two_in";
const ON_BALL: &str = "ball_screen_continuity";

fn case(
    of: &'static str,
    word: &'static str,
    offence: &'static str,
    with: fn(&mut Defence),
    without: fn(&mut Defence),
) -> Case {
    (of, word, offence, with, without)
}

fn same(_: &mut Defence) {}

fn areas(d: &mut Defence) {
    let file = find(Kind::Defence, "zone_2_3").unwrap();
    let read = lanelight::scenario::read_defence(file.text, "zone").unwrap();
    d.zone = read.value.zone;
}

/// A zone of four areas, and a defender without one.
fn box_of_four(d: &mut Defence) {
    areas(d);
    d.zone.as_mut().unwrap().truncate(4);
    let taken: Vec<u8> = d.zone.iter().flatten().map(|a| a.defender).collect();
    let left = (1..=5).find(|n| !taken.contains(n)).unwrap();
    d.chasers = vec![Chaser {
        defender: left,
        player: 3,
    }];
}

fn first(d: &mut Defence) -> &mut Area {
    areas(d);
    &mut d.zone.as_mut().unwrap()[0]
}

fn meets(d: &mut Defence, how: BallScreens) {
    d.ball_screens = Some(how);
}

fn shows(d: &mut Defence) {
    meets(d, BallScreens::Show);
    d.help.who = Helper::Nobody;
}

/// Close to the man, as one defender does it.
fn close() -> Option<Stance> {
    Some(Stance {
        man: 1.0,
        ball: 0.0,
        rim: 0.0,
        midline: 0.0,
        gap: (0.6, 0.8),
        gaze: Gaze::Man,
        deny: false,
    })
}

fn own(d: &mut Defence, set: fn(&mut Override)) {
    let mut own = Override {
        defender: 2,
        on_ball: None,
        one_pass: None,
        two_passes: None,
        post_ball_side: None,
        post_weak_side: None,
        cutter: None,
    };
    set(&mut own);
    d.overrides = vec![own];
}

fn posts(d: &mut Defence, set: fn(&mut Override)) {
    own(d, set);
    d.overrides[0].defender = 5;
}

fn whole() -> Vec<Case> {
    vec![
        case(
            "Defence",
            "stances",
            FOUR,
            |d| d.stances.one_pass.man += 3.0,
            same,
        ),
        case("Defence", "zone", FOUR, areas, same),
        case("Defence", "chasers", FOUR, box_of_four, areas),
        case("Defence", "help", FOUR, |d| d.help.within += 2.0, same),
        case(
            "Defence",
            "closeout",
            FOUR,
            |d| d.closeout.short += 1.0,
            same,
        ),
        case(
            "Defence",
            "switch",
            SCREENS,
            |d| d.switch = Switch::OnScreens,
            same,
        ),
        case(
            "Defence",
            "ball_screens",
            ON_BALL,
            |d| meets(d, BallScreens::Trap),
            same,
        ),
        case(
            "Defence",
            "off_ball_screens",
            SCREENS,
            |d| d.off_ball_screens = Some(OffBallScreens::Under),
            same,
        ),
        case(
            "Defence",
            "tag",
            ON_BALL,
            |d| {
                shows(d);
                d.tag = Some(Helper::LowMan);
            },
            shows,
        ),
        case(
            "Defence",
            "trap_corners",
            "five_out_give_and_go",
            |d| d.trap_corners = true,
            same,
        ),
        case(
            "Defence",
            "overrides",
            FOUR,
            |d| own(d, |o| o.on_ball = close()),
            same,
        ),
        case("Closeout", "short", FOUR, |d| d.closeout.short += 1.0, same),
        case("Closeout", "pace", FOUR, |d| d.closeout.pace = 0.5, same),
        case(
            "Help",
            "who",
            FOUR,
            |d| d.help.who = Helper::Nearest,
            |d| d.help.who = Helper::Nobody,
        ),
        case("Help", "within", FOUR, |d| d.help.within += 2.0, same),
        case(
            "Help",
            "depth",
            FOUR,
            |d| d.help.depth = 0.5,
            |d| d.help.depth = 2.5,
        ),
        case(
            "Help",
            "rotate",
            FOUR,
            |d| d.help.rotate = true,
            |d| d.help.rotate = false,
        ),
        case(
            "Help",
            "stunt",
            FOUR,
            |d| d.help.stunt = 1.8,
            |d| d.help.stunt = 0.0,
        ),
        case(
            "Helper",
            "nobody",
            FOUR,
            |d| d.help.who = Helper::Nobody,
            |d| d.help.who = Helper::LowMan,
        ),
        case(
            "Helper",
            "low_man",
            FOUR,
            |d| d.help.who = Helper::LowMan,
            |d| d.help.who = Helper::Nearest,
        ),
        case(
            "Helper",
            "nearest",
            FOUR,
            |d| d.help.who = Helper::Nearest,
            |d| d.help.who = Helper::Nobody,
        ),
    ]
}

fn screens() -> Vec<Case> {
    use BallScreens as B;
    vec![
        case(
            "Switch",
            "never",
            SCREENS,
            |d| d.switch = Switch::Never,
            |d| d.switch = Switch::OnScreens,
        ),
        case(
            "Switch",
            "on_screens",
            SCREENS,
            |d| d.switch = Switch::OnScreens,
            |d| d.switch = Switch::Never,
        ),
        case(
            "OffBallScreens",
            "chase",
            SCREENS,
            |d| d.off_ball_screens = Some(OffBallScreens::Chase),
            |d| d.off_ball_screens = Some(OffBallScreens::Under),
        ),
        case(
            "OffBallScreens",
            "under",
            SCREENS,
            |d| d.off_ball_screens = Some(OffBallScreens::Under),
            |d| d.off_ball_screens = Some(OffBallScreens::Chase),
        ),
        case(
            "BallScreens",
            "over",
            ON_BALL,
            |d| meets(d, B::Over),
            |d| meets(d, B::Under),
        ),
        case(
            "BallScreens",
            "under",
            ON_BALL,
            |d| meets(d, B::Under),
            |d| meets(d, B::Over),
        ),
        case(
            "BallScreens",
            "switch",
            ON_BALL,
            |d| meets(d, B::Switch),
            |d| meets(d, B::Over),
        ),
        case(
            "BallScreens",
            "show",
            ON_BALL,
            |d| meets(d, B::Show),
            |d| meets(d, B::Over),
        ),
        case(
            "BallScreens",
            "show_early",
            ON_BALL,
            |d| meets(d, B::ShowEarly),
            |d| meets(d, B::Show),
        ),
        case(
            "BallScreens",
            "contain",
            ON_BALL,
            |d| meets(d, B::Contain),
            |d| meets(d, B::Over),
        ),
        case(
            "BallScreens",
            "trap",
            ON_BALL,
            |d| meets(d, B::Trap),
            |d| meets(d, B::Show),
        ),
    ]
}

fn stances() -> Vec<Case> {
    vec![
        case(
            "Stances",
            "on_ball",
            FOUR,
            |d| d.stances.on_ball.gap = (2.0, 2.2),
            same,
        ),
        case(
            "Stances",
            "one_pass",
            FOUR,
            |d| d.stances.one_pass.gap = (0.6, 0.7),
            same,
        ),
        case(
            "Stances",
            "two_passes",
            FOUR,
            |d| d.stances.two_passes.gap = (0.6, 0.7),
            same,
        ),
        case(
            "Stances",
            "post_ball_side",
            FOUR,
            |d| d.stances.post_ball_side.gap = (2.0, 2.2),
            same,
        ),
        case(
            "Stances",
            "post_weak_side",
            FOUR,
            |d| d.stances.post_weak_side.gap = (0.6, 0.7),
            same,
        ),
        case(
            "Stances",
            "cutter",
            FOUR,
            |d| d.stances.cutter.gap = (2.0, 2.2),
            same,
        ),
        case(
            "Stance",
            "man",
            FOUR,
            |d| d.stances.one_pass.man += 3.0,
            same,
        ),
        case(
            "Stance",
            "ball",
            FOUR,
            |d| d.stances.one_pass.ball += 1.0,
            same,
        ),
        case(
            "Stance",
            "rim",
            FOUR,
            |d| d.stances.one_pass.rim += 1.0,
            same,
        ),
        // Forced to the sideline, and to the middle.
        case(
            "Stance",
            "midline",
            FOUR,
            |d| d.stances.on_ball.midline = 0.5,
            same,
        ),
        case(
            "Stance",
            "midline",
            FOUR,
            |d| d.stances.on_ball.midline = -0.4,
            same,
        ),
        case(
            "Stance",
            "gap",
            FOUR,
            |d| d.stances.on_ball.gap = (2.0, 2.2),
            same,
        ),
        case(
            "Stance",
            "gaze",
            FOUR,
            |d| d.stances.two_passes.gaze = Gaze::Ball,
            |d| d.stances.two_passes.gaze = Gaze::Man,
        ),
        case(
            "Stance",
            "deny",
            FOUR,
            |d| d.stances.one_pass.deny = true,
            |d| d.stances.one_pass.deny = false,
        ),
        case(
            "Gaze",
            "ball",
            FOUR,
            |d| d.stances.two_passes.gaze = Gaze::Ball,
            |d| d.stances.two_passes.gaze = Gaze::Both,
        ),
        case(
            "Gaze",
            "man",
            FOUR,
            |d| d.stances.two_passes.gaze = Gaze::Man,
            |d| d.stances.two_passes.gaze = Gaze::Both,
        ),
        case(
            "Gaze",
            "both",
            FOUR,
            |d| d.stances.two_passes.gaze = Gaze::Both,
            |d| d.stances.two_passes.gaze = Gaze::Ball,
        ),
        case(
            "Override",
            "defender",
            FOUR,
            |d| own(d, |o| o.on_ball = close()),
            |d| posts(d, |o| o.on_ball = close()),
        ),
        case(
            "Override",
            "on_ball",
            FOUR,
            |d| own(d, |o| o.on_ball = close()),
            same,
        ),
        case(
            "Override",
            "one_pass",
            FOUR,
            |d| own(d, |o| o.one_pass = close()),
            same,
        ),
        case(
            "Override",
            "two_passes",
            FOUR,
            |d| own(d, |o| o.two_passes = close()),
            same,
        ),
        case(
            "Override",
            "post_ball_side",
            FOUR,
            |d| posts(d, |o| o.post_ball_side = close()),
            same,
        ),
        case(
            "Override",
            "post_weak_side",
            FOUR,
            |d| posts(d, |o| o.post_weak_side = close()),
            same,
        ),
        case(
            "Override",
            "cutter",
            FOUR,
            |d| own(d, |o| o.cutter = close()),
            same,
        ),
    ]
}

fn zones() -> Vec<Case> {
    vec![
        case(
            "Area",
            "defender",
            FOUR,
            |d| {
                areas(d);
                let zone = d.zone.as_mut().unwrap();
                let one = zone[0].defender;
                zone[0].defender = zone[4].defender;
                zone[4].defender = one;
            },
            areas,
        ),
        case("Area", "x", FOUR, |d| first(d).x += 1.0, areas),
        case("Area", "y", FOUR, |d| first(d).y += 1.0, areas),
        case(
            "Area",
            "shift",
            FOUR,
            |d| first(d).shift = (0.9, 0.9),
            areas,
        ),
        case("Area", "covers", FOUR, |d| first(d).covers = 0.8, areas),
        case(
            "Chaser",
            "defender",
            FOUR,
            |d| {
                box_of_four(d);
                let zone = d.zone.as_mut().unwrap();
                std::mem::swap(&mut zone[0].defender, &mut d.chasers[0].defender);
            },
            box_of_four,
        ),
        case(
            "Chaser",
            "player",
            FOUR,
            |d| {
                box_of_four(d);
                d.chasers[0].player = 1;
            },
            box_of_four,
        ),
    ]
}

fn cases() -> Vec<Case> {
    [whole(), screens(), stances(), zones()].concat()
}

fn played(offence: &str, set: fn(&mut Defence), side: Side, seed: u64) -> Possession {
    let mut scenario = Scenario {
        start: Some(side),
        ..scenario(offence, "help_line", "")
    };
    set(&mut scenario.defence);
    let wrong = check::check(&scenario.defence);
    assert!(
        wrong
            .iter()
            .all(|f| f.weight != lanelight::offence::check::Weight::Error),
        "{wrong:?}"
    );
    if side == Left {
        scenario
            .defence
            .zone
            .iter_mut()
            .flatten()
            .for_each(|a| a.x = -a.x);
    }
    let cast = cast_untaught(&scenario);
    play_shared(&Arc::new(scenario), &cast, seed, Keep::ALL)
}

#[test]
fn every_word_of_a_defence_changes_the_play_and_alike_on_both_sides() {
    for (of, word, offence, with, without) in cases() {
        let shown = (1..=SEEDS).find_map(|seed| {
            let [one, two] = [with, without].map(|set| played(offence, set, Right, seed));
            (one.track != two.track).then_some((seed, one))
        });
        let (seed, right) = shown.unwrap_or_else(|| panic!("{of}: `{word}` changes nothing"));
        let left = played(offence, with, Left, seed);
        assert_eq!(
            right.track.len(),
            left.track.len(),
            "{of}: `{word}`, seed {seed}"
        );
        for (f, g) in right.track.iter().zip(&left.track) {
            let [ours, theirs] = [f, g].map(|f| f.attackers.into_iter().chain(f.defenders));
            for (p, q) in ours.zip(theirs) {
                assert_eq!(
                    (p.x, p.y),
                    (-q.x, q.y),
                    "{of}: `{word}`, seed {seed}, {} s",
                    f.time
                );
            }
        }
    }
}

/// The parts of a group, or the words of a choice, as the type itself names them.
fn words_of<T: DeserializeOwned>(text: &str) -> Vec<&'static str> {
    match ron::from_str::<T>(text).err().map(|e| e.code) {
        Some(
            ron::Error::NoSuchStructField { expected, .. }
            | ron::Error::NoSuchEnumVariant { expected, .. },
        ) => expected.to_vec(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn every_word_of_a_defence_has_a_case_on_both_sides() {
    const PART: &str = "(no_such_part: 1)";
    const WORD: &str = "no_such_word";
    let all = [
        ("Defence", words_of::<Defence>(PART)),
        ("Stances", words_of::<Stances>(PART)),
        ("Stance", words_of::<Stance>(PART)),
        ("Help", words_of::<Help>(PART)),
        ("Closeout", words_of::<Closeout>(PART)),
        ("Area", words_of::<Area>(PART)),
        ("Chaser", words_of::<Chaser>(PART)),
        ("Override", words_of::<Override>(PART)),
        ("Switch", words_of::<Switch>(WORD)),
        ("BallScreens", words_of::<BallScreens>(WORD)),
        ("OffBallScreens", words_of::<OffBallScreens>(WORD)),
        ("Helper", words_of::<Helper>(WORD)),
        ("Gaze", words_of::<Gaze>(WORD)),
    ];
    let cases = cases();
    for (of, words) in all {
        assert!(words.len() > 1, "{of}: {words:?}");
        for word in words
            .into_iter()
            .filter(|word| !["name", "note"].contains(word))
        {
            let has = cases.iter().any(|case| (case.0, case.1) == (of, word));
            assert!(has, "{of}: `{word}` has no case");
        }
    }
}
