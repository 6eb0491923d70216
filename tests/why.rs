//! The reasons that a report gives: recomputed looks are the floor's own, a what-if can be taken
//! back, a planted closer is named and nobody else, an example can be replayed, and the report is
//! the same for any number of threads and lets no markup in.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use lanelight::court::{Side, SpotName, Vec2};
use lanelight::floor::instant::Instant;
use lanelight::floor::parts::Play;
use lanelight::floor::{Keep, cast_of, ground, play, play_witnessed};
use lanelight::offence::LookKind;
use lanelight::possession::Possession;
use lanelight::report::why_sections::Teller;
use lanelight::report::{Heading, html, why_page, why_sheet};
use lanelight::scenario::shipped::{Kind, find};
use lanelight::scenario::{Scenario, read_defence};
use lanelight::why::sheet::Sheet;
use lanelight::why::whatif::{Instead, WhatIf, looks_if};
use lanelight::why::{Half, Rival, Summary, Why, matrix, rivals};

fn against(word: &str) -> Scenario {
    let file = find(Kind::Defence, word).expect("shipped");
    let defence = read_defence(file.text, word).expect("reads").value;
    Scenario {
        defence,
        ..Scenario::demo()
    }
}

fn witnessed(scenario: &Scenario, seed: u64) -> (Possession, Vec<Instant>, Play) {
    let (scenario, cast) = (Arc::new(scenario.clone()), cast_of(scenario));
    let (possession, instants) = play_witnessed(&scenario, &cast, seed);
    let play = ground(&scenario, &cast, seed, possession.side);
    (possession, instants, play)
}

fn summary(scenario: &Scenario, possessions: u64, threads: usize) -> Summary {
    let why = Why {
        first_seed: 1,
        possessions,
        threads,
    };
    let sheets = why
        .sheets(scenario, &|_| (), &AtomicBool::new(false))
        .expect("plays");
    Summary::of(&sheets, possessions, &scenario.offence, &rivals(scenario))
}

#[test]
fn looks_measured_again_are_those_that_the_floor_measured() {
    for word in ["help_line", "denial", "zone_2_3"] {
        let scenario = against(word);
        for seed in 1..6 {
            let (possession, instants, play_) = witnessed(&scenario, seed);
            assert_eq!(possession, play(&scenario, seed, Keep::FIGURES));
            assert_eq!(possession.moments.len(), instants.len());
            for (moment, instant) in possession.moments.iter().zip(&instants) {
                assert_eq!(moment.looks, instant.looks(&play_), "seed {seed}");
            }
        }
    }
}

#[test]
fn a_what_if_taken_back_leaves_the_instant_as_it_was_to_the_last_bit() {
    let scenario = Scenario::demo();
    let (_, mut instants, play) = witnessed(&scenario, 3);
    let bits = |i: &Instant| {
        let s = &i.old.scene;
        let all = s.pos.iter().chain(&s.vel).chain(&s.facing);
        all.flat_map(|v| [v.x.to_bits(), v.y.to_bits()])
            .collect::<Vec<_>>()
    };
    let model = Instead::Model(rivals(&scenario)[0].stances);
    let mut changed = 0;
    for instant in &mut instants {
        let (before, looks) = (bits(instant), instant.looks(&play));
        for defender in 0..=6 {
            for instead in [Instead::Gone, Instead::Tight, Instead::InPlace, model] {
                let what_if = WhatIf { defender, instead };
                let undo = what_if.apply(&play, instant);
                let moved = bits(instant) != before;
                assert_eq!(moved && !(1..=5).contains(&defender), false);
                changed += u32::from(moved);
                undo.undo(instant);
                assert_eq!(bits(instant), before);
                looks_if(&play, instant, &what_if);
            }
        }
        assert_eq!(instant.looks(&play), looks);
    }
    assert!(changed > 1000, "{changed}");
}

/// One defender in the lane of one pass, the other four behind half court.
#[test]
fn one_planted_closer_is_named_for_all_closings_of_his_look_on_either_side_whatever_his_number() {
    let mut planted = 0;
    for side in [Side::Left, Side::Right] {
        let scenario = Scenario {
            start: Some(side),
            ..Scenario::demo()
        };
        let (mut possession, mut instants, play) = witnessed(&scenario, 1);
        possession.moments.truncate(1);
        instants.truncate(1);
        let passes: Vec<u8> = possession.moments[0]
            .looks
            .iter()
            .filter(|l| l.kind == LookKind::NextPass)
            .filter_map(|l| l.to)
            .collect();
        assert!(!passes.is_empty());
        for &to in &passes {
            for d in 0..5 {
                let scene = &mut instants[0].old.scene;
                let (from, at) = (scene.pos[0], scene.pos[usize::from(to) - 1]);
                for other in 0..5 {
                    scene.pos[5 + other] = Vec2::new(0.0, 60.0 + 5.0 * other as f64);
                    scene.vel[5 + other] = Vec2::zeros();
                }
                scene.pos[5 + d] = from + (at - from) * 0.6;
                possession.moments[0].looks = instants[0].looks(&play);
                let moment = &possession.moments[0];
                assert_eq!(moment.holder, 1, "the demo starts with player 1");
                let look = moment.looks.iter().find(|l| l.to == Some(to)).unwrap();
                assert!(!look.open, "{look:?}");
                assert_eq!(look.closer.map(|c| usize::from(c.defender)), Some(d + 1));
                let sheet = Sheet::of(&possession, &mut instants, &play, &[]);
                let rows = sheet.sites.iter().filter(|(s, _)| s.kind == look.kind);
                let shut: Vec<_> = rows.filter(|(_, r)| r.shut > 0).collect();
                let [(_, row)] = shut.as_slice() else {
                    panic!("one look is shut, not {shut:?}");
                };
                let by: Vec<_> = row.by.values().collect();
                let [only] = by.as_slice() else {
                    panic!("one closer, not {by:?}");
                };
                assert_eq!((row.shut, only.shut, only.alone), (1, 1, 1));
                planted += 1;
            }
        }
    }
    assert!(planted >= 20, "{planted}");
}

#[test]
fn every_closing_has_one_closer_and_what_is_alone_is_a_part_of_it() {
    let scenario = Scenario::demo();
    let others: Vec<Rival> = rivals(&scenario);
    let mut closings = 0;
    for seed in 1..30 {
        let (possession, mut instants, play) = witnessed(&scenario, seed);
        let sheet = Sheet::of(&possession, &mut instants, &play, &others);
        for row in sheet.sites.values() {
            let by: u32 = row.by.values().map(|b| b.shut).sum();
            assert_eq!(by, row.shut);
            assert!(row.open + row.shut <= row.seen);
            for b in row.by.values() {
                assert!(b.alone <= b.shut && b.tight <= b.shut && b.midline <= b.shut);
                assert!(b.rivals.len() == others.len() && b.rivals.iter().all(|r| *r <= b.shut));
            }
            closings += row.shut;
        }
    }
    assert!(closings > 1000);
}

#[test]
fn against_help_line_the_first_unused_light_is_a_skip_or_kick_out_to_the_far_wing() {
    let found = summary(&against("help_line"), 1000, 0);
    let first = &found.unused[0];
    let told: Vec<_> = found.unused.iter().take(4).collect();
    assert!(
        matches!(first.look, LookKind::Skip | LookKind::KickOut),
        "{told:#?}"
    );
    let at = first.at.expect("a receiver");
    assert_eq!(
        (at.spot, at.half),
        (SpotName::Wing, Some(Half::Weak)),
        "{told:#?}"
    );
    let adds = first.adds.expect("seen often");
    assert!(adds.low > 0.0, "{adds:?}");
}

#[test]
fn the_two_stories_of_stalls_can_be_replayed() {
    let scenario = Scenario::demo();
    let found = summary(&scenario, 200, 0);
    assert!(found.stalls.stories.len() >= 2);
    for story in found.stalls.stories.iter().take(2) {
        let (seed, time) = story.example;
        let possession = play(&scenario, seed, Keep::FIGURES);
        let moment = possession.moments.iter().find(|m| m.time == time);
        let moment = moment.expect("a moment at that time");
        assert!(moment.looks.iter().all(|l| !l.open));
        let rule = moment
            .last_rule
            .map(|r| scenario.offence.rules[r].name.clone());
        assert_eq!(rule, story.rule);
    }
    for light in &found.unused {
        let (seed, time) = light.example.expect("an example");
        let possession = play(&scenario, seed, Keep::FIGURES);
        let moment = possession.moments.iter().find(|m| m.time == time).unwrap();
        let there = |l: &lanelight::possession::LookNow| l.kind == light.look && l.open;
        assert!(moment.looks.iter().any(|l| there(l) && !l.allowed));
    }
}

/// Text, page, JSON and CSV of one report.
fn written(scenario: &Scenario, possessions: u64, threads: usize) -> [String; 4] {
    let mut found = summary(scenario, possessions, threads);
    let plan = Why {
        first_seed: 1,
        possessions: 10,
        threads,
    };
    let cells = matrix::matrix(&plan, scenario, &|_| (), &AtomicBool::new(false));
    found.matrix = cells.expect("plays").expect("not stopped");
    let heading = Heading::of(scenario, &[]);
    let (rivals, units) = (rivals(scenario), scenario.court.units);
    let sections = Teller {
        summary: &found,
        rivals: &rivals,
        units,
    }
    .sections();
    let (mut json, mut csv) = (Vec::new(), Vec::new());
    why_sheet::json(&mut json, &heading, &found).expect("writes");
    why_sheet::csv(&mut csv, &heading, &found).expect("writes");
    [
        why_page::page(&heading, &found, &sections),
        html::page(&heading, &found, &sections, units),
        String::from_utf8(json).expect("text"),
        String::from_utf8(csv).expect("text"),
    ]
}

#[test]
fn the_same_seeds_give_the_same_report_byte_for_byte_on_any_number_of_threads() {
    let scenario = Scenario::demo();
    let one = written(&scenario, 40, 1);
    assert!(one == written(&scenario, 40, 2));
    assert!(one == written(&scenario, 40, 5));
}

#[test]
fn no_name_from_a_file_becomes_markup_and_the_page_fetches_and_runs_nothing() {
    let nasty = "<script>alert(1)</script><img src=\"http://x/\" onerror='y'>&\u{202E}";
    let mut scenario = Scenario::demo();
    scenario.offence.name = nasty.into();
    scenario.defence.name = nasty.into();
    scenario.attackers.name = nasty.into();
    for rule in &mut scenario.offence.rules {
        rule.name = nasty.into();
    }
    let [text, page, ..] = written(&scenario, 40, 0);
    assert!(page.contains("&lt;script&gt;alert(1)"));
    let tags: BTreeSet<&str> = page
        .split('<')
        .skip(1)
        .map(|t| t.split([' ', '>', '/', '\n']).find(|w| !w.is_empty()))
        .map(|t| t.unwrap_or_default())
        .collect();
    for tag in ["script", "img", "link", "iframe", "object", "a", "form"] {
        assert!(!tags.contains(tag), "{tag} in {tags:?}");
    }
    // Nothing inside any tag asks for anything from outside or runs anything.
    for tag in page.split('<').skip(1).filter_map(|t| t.split('>').next()) {
        let names = tag.split(' ').skip(1).filter_map(|a| a.split_once('='));
        for (name, _) in names {
            assert!(
                !["src", "href", "style"].contains(&name) && !name.starts_with("on"),
                "{tag}"
            );
        }
    }
    assert!(!page.contains("url(") && !page.contains("@import"));
    assert!(!page.contains('\u{202E}') && !text.contains('\u{202E}'));
    assert!(page.contains("suspected concussion") && text.contains("suspected concussion"));
}

#[test]
fn no_line_of_the_text_is_wider_than_a_hundred_characters() {
    for word in ["help_line", "denial"] {
        let [text, ..] = written(&against(word), 60, 0);
        let wide: Vec<_> = text.lines().filter(|l| l.chars().count() > 100).collect();
        assert!(wide.is_empty(), "{wide:#?}");
    }
}

#[test]
fn a_figure_without_its_interval_is_shown_nowhere_in_the_sentences() {
    let scenario = Scenario::demo();
    let found = summary(&scenario, 60, 0);
    let rivals = rivals(&scenario);
    let teller = Teller {
        summary: &found,
        rivals: &rivals,
        units: scenario.court.units,
    };
    for section in teller.sections() {
        for sentence in &section.sentences {
            for (i, _) in sentence.match_indices(" %") {
                assert!(sentence[i + 2..].starts_with(" ("), "{sentence}");
            }
        }
    }
}
