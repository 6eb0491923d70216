//! The reasons that a report gives: recomputed looks are the floor's own, a what-if can be taken
//! back, a planted closer is named and nobody else, an example can be replayed, and the report is
//! the same for any number of threads and lets no markup in.

mod program;

use std::collections::BTreeSet;
use std::fs;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use lanelight::court::{CourtCode, Side, SpotName, Vec2};
use lanelight::offence::LookKind;
use lanelight::possession::{Possession, What};
use lanelight::report::why_sections::Teller;
use lanelight::report::{Heading, html, why_page, why_sheet};
use lanelight::scenario::shipped::{self, Kind, find};
use lanelight::scenario::{Scenario, read_defence};
use lanelight::sim::instant::Instant;
use lanelight::sim::parts::Play;
use lanelight::sim::{Keep, cast_of, ground, play, play_witnessed};
use lanelight::squad::Level;
use lanelight::why::sheet::Sheet;
use lanelight::why::summary::Light;
use lanelight::why::whatif::{Instead, WhatIf, looks_if};
use lanelight::why::{Half, Rival, Summary, Where, Why, matrix, rivals};
use program::{interrupted, run, start, unbroken};

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
    let bits = |i: &Instant| {
        let s = &i.old.scene;
        let all = s.pos.iter().chain(&s.vel).chain(&s.facing);
        all.flat_map(|v| [v.x.to_bits(), v.y.to_bits()])
            .collect::<Vec<_>>()
    };
    let model = Instead::Model(Box::new(rivals(&scenario)[0].stances));
    let kinds = [
        Instead::Gone,
        Instead::Tight,
        Instead::InPlace,
        model.clone(),
    ];
    let mut changed = 0;
    for seed in 1..6 {
        let (_, mut instants, play) = witnessed(&scenario, seed);
        for instant in &mut instants {
            let (before, looks) = (bits(instant), instant.looks(&play));
            for (defender, instead) in (0..=6).flat_map(|d| kinds.iter().map(move |k| (d, k))) {
                let what_if = WhatIf {
                    defender,
                    instead: instead.clone(),
                };
                let undo = what_if.apply(&play, instant);
                let moved = bits(instant) != before;
                assert!(!moved || (1..=5).contains(&defender));
                changed += u32::from(moved);
                undo.undo(instant);
                assert_eq!(bits(instant), before);
                looks_if(&play, instant, &what_if);
            }
            assert_eq!(instant.looks(&play), looks);
        }
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
                    scene.vel[5 + other] = Vec2::ZERO;
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

/// Everybody sags so far that no pass outside is shut, but one: the defender of the ball-side wing
/// stands in the lane to his man. `three` is the number of that wing and of his defender; he has
/// changed it with number 3. Equal players, so that numbers are all that differs.
fn planted(three: u8, side: Side) -> Scenario {
    let stance = "(man: 0.5, rim: 0.5, gap: (4.0, 5.0), gaze: ball)";
    let lane = "(man: 0.6, ball: 0.4, gap: (0.7, 2.0), gaze: ball, deny: true)";
    let kinds = [
        "on_ball",
        "one_pass",
        "two_passes",
        "post_ball_side",
        "post_weak_side",
        "cutter",
    ];
    let stances: String = kinds.iter().map(|k| format!("{k}: {stance},")).collect();
    let defence = format!(
        "(name: \"Planted\", stances: ({stances}), \
         help: (who: nobody, within: 1.0, depth: 1.0), closeout: (short: 3.0, pace: 0.5), \
         overrides: [(defender: {three}, one_pass: Some({lane}))])"
    );
    let mut scenario = Scenario::from_parts(
        CourtCode::Nfhs,
        Level::VarsityBoys,
        "four_out_one_post",
        &defence,
        &[],
    )
    .expect("reads");
    let other = |n: u8| match n {
        3 => three,
        n if n == three => 3,
        n => n,
    };
    for stand in &mut scenario.offence.alignment {
        stand.player = other(stand.player);
    }
    scenario.offence.ball = other(scenario.offence.ball);
    scenario.start = Some(side);
    // Everybody in place from the beginning, so that what is planted is there.
    let mut model = (*scenario.model).clone();
    model.movement.place_scatter = 0.0;
    model.movement.place_scatter_together = 0.0;
    model.movement.entry_distance = 0.0;
    model.movement.drift_distance = 0.0;
    model.movement.drift_in = 0.0;
    model.footwork.sway_outside = 0.45;
    scenario.model = std::sync::Arc::new(model);
    scenario
}

/// The possession up to its first pass or cut, and what the report makes of many such.
#[test]
fn in_a_planted_scenario_closers_and_what_ifs_name_the_one_man_with_100_per_cent() {
    let mut figures = Vec::new();
    for side in [Side::Left, Side::Right] {
        for three in 1..=5 {
            let scenario = planted(three, side);
            let others = rivals(&scenario);
            let mut sheets = Vec::new();
            for seed in 1..=20 {
                let (mut possession, mut instants, play) = witnessed(&scenario, seed);
                let moved = possession.timeline.iter().find(|e| {
                    matches!(
                        e.what,
                        What::Passes { .. } | What::Cuts { .. } | What::Drives { .. }
                    )
                });
                let until = moved.map_or(f64::INFINITY, |e| e.time);
                let whole = possession.moments.partition_point(|m| m.time < until);
                possession.moments.truncate(whole);
                instants.truncate(whole);
                for look in possession.moments.iter().flat_map(|m| &m.looks) {
                    if look.kind == LookKind::NextPass && !look.open {
                        assert_eq!(look.to, Some(three), "the other passes are open: {look:?}");
                        assert_eq!(look.closer.map(|c| c.defender), Some(three));
                    }
                }
                sheets.push(Sheet::of(&possession, &mut instants, &play, &others));
            }
            let found = Summary::of(&sheets, 20, &scenario.offence, &others);
            let passes = found
                .looks
                .iter()
                .filter(|l| l.site.kind == LookKind::NextPass);
            let shut: Vec<_> = passes.filter(|l| !l.closers.is_empty()).collect();
            let [look] = shut.as_slice() else {
                panic!("one pass is shut: {shut:?}");
            };
            let wing = Where {
                spot: SpotName::Wing,
                half: Some(Half::Ball),
            };
            assert_eq!(look.site.to, Some(wing));
            let shut = look.shut.expect("seen");
            assert!(shut.value > 0.5, "{shut:?}");
            let of_wing = look.closers.iter().all(|c| c.seat.man == Some(wing));
            assert!(of_wing, "{:?}", look.closers);
            let mut share = 0.0;
            for c in &look.closers {
                share += c.share.expect("counted").value;
                assert_eq!(c.alone.expect("asked").value, 1.0, "{c:?}");
            }
            assert!((share - 1.0).abs() < 1e-12, "{share}");
            figures.push(shut.value);
        }
    }
    println!("shut by the planted man alone: {figures:?}");
    let (left, right) = figures.split_at(5);
    assert_eq!(left, right, "mirrored floors tell the same");
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

/// Weak-side and long: a skip or a kick-out to the far side. Which spot comes first is printed with
/// its lead: the first two may lie too close to be told apart.
#[test]
fn against_help_line_the_first_unused_light_is_a_skip_or_kick_out_to_the_weak_side() {
    let found = summary(&against("help_line"), 1000, 0);
    for light in found.unused.iter().take(4) {
        let (adds, at) = (light.adds.expect("seen often"), light.at.expect("a place"));
        println!(
            "{} {}: adds {:.2} ({:.2} to {:.2}) points in a hundred, see {:?}",
            light.look.word(),
            at.words(),
            100.0 * adds.value,
            100.0 * adds.low,
            100.0 * adds.high,
            light.example
        );
    }
    let lead = found.unused_lead.expect("two at least");
    println!(
        "the first leads the second by {:.2} ({:.2} to {:.2})",
        100.0 * lead.value,
        100.0 * lead.low,
        100.0 * lead.high
    );
    let first = &found.unused[0];
    let at = first.at.expect("a receiver");
    assert!(matches!(first.look, LookKind::Skip | LookKind::KickOut));
    assert_eq!(at.half, Some(Half::Weak));
    assert!(first.adds.expect("seen often").low > 0.0);
    // The far wing was asked for. It comes out second: the far slot is passed by while the wing's
    // defender is still on the midline, and is nearer to the ball (see the examples printed above).
    let to_the_wing = |l: &&Light| {
        matches!(l.look, LookKind::Skip | LookKind::KickOut)
            && l.at
                .is_some_and(|w| (w.spot, w.half) == (SpotName::Wing, Some(Half::Weak)))
    };
    let place = found.unused.iter().position(|l| to_the_wing(&l));
    assert!(place.is_some_and(|p| p <= 1), "{place:?}");
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
    let cells = matrix::matrix(&plan, scenario, true, &|_| (), &AtomicBool::new(false));
    found.matrix = cells.expect("plays").expect("not stopped");
    let heading = Heading::of(scenario, &[]);
    let (rivals, units) = (rivals(scenario), scenario.court.units);
    let teller = Teller {
        summary: &found,
        rivals: &rivals,
        units,
    };
    let sections = teller.sections();
    let shown = lanelight::report::shown::shown(scenario, &found, &teller.named(&sections));
    let (mut json, mut csv) = (Vec::new(), Vec::new());
    why_sheet::json(&mut json, &heading, &found).expect("writes");
    why_sheet::csv(&mut csv, &heading, &found).expect("writes");
    [
        why_page::page(&heading, &found, &sections),
        html::page(&heading, &teller, &sections, &shown),
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
    let plain = unbroken(&text);
    assert!(page.contains("suspected concussion") && plain.contains("suspected concussion"));
}

#[test]
fn every_second_that_the_page_names_is_looked_at_and_light_is_told_second_by_second() {
    let [_, page, ..] = written(&Scenario::demo(), 100, 0);
    let plain = page.replace('\u{a0}', " ");
    // "See seed 23 at 5.3 s." in a sentence, "23 at 5.3 s" in a table.
    let mut named = 0;
    for (i, _) in plain.match_indices(" at ") {
        let seed: String = plain[..i]
            .chars()
            .rev()
            .take_while(char::is_ascii_digit)
            .collect();
        let seed: String = seed.chars().rev().collect();
        let after = plain[i + 4..].split(" s").next().unwrap_or_default();
        if seed.is_empty() || after.parse::<f64>().is_err() || !after.contains('.') {
            continue;
        }
        let caption = format!("<figcaption>Seed {seed} at {after} s.</figcaption>");
        let first = format!("<i>Seed {seed} at {after} s.</i>");
        assert!(
            plain.contains(&caption) || plain.contains(&first),
            "seed {seed} at {after} s"
        );
        named += 1;
    }
    assert!(named > 8, "{named}");
    for said in [
        "Light through a possession",
        "When it stalls",
        "Where the ball is while it stalls",
        "How long a window lasts",
        "Who shuts it",
        "0 to 1 s",
        "Where help stands",
    ] {
        assert!(page.contains(said), "{said}");
    }
}

#[test]
fn no_line_of_the_text_is_wider_than_eighty_characters() {
    for word in shipped::all(Kind::Defence).map(|f| f.word) {
        let [text, ..] = written(&against(word), 60, 0);
        let wide: Vec<_> = text.lines().filter(|l| l.chars().count() > 80).collect();
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

#[test]
fn the_command_writes_the_same_bytes_on_one_thread_and_on_two_and_its_examples_can_be_watched() {
    let written = |threads: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        let args = [
            "why",
            "--possessions",
            "40",
            "--matrix",
            "5",
            "--threads",
            threads,
        ];
        let files = ["--html", "w.html", "--json", "w.json", "--csv", "w.csv"];
        let output = run(folder.path(), &[&args[..], &files[..]].concat());
        assert!(output.status.success(), "{output:?}");
        let read = |name: &str| fs::read(folder.path().join(name)).expect("written");
        [output.stdout, read("w.html"), read("w.json"), read("w.csv")]
    };
    let one = written("1");
    assert!(one == written("2"));
    let json: serde_json::Value = serde_json::from_slice(&one[2]).expect("JSON");
    let pairs = json["matrix"].as_array().expect("a table").len();
    let files = |kind| shipped::all(kind).count();
    assert_eq!(pairs, files(Kind::Offence) * files(Kind::Defence));
    // Watched, the holder of one of the stories is told to have found nothing then (a stall that ends with a pass is not).
    let folder = tempfile::tempdir().expect("a folder");
    let stories = json["stalls"]["stories"].as_array().map_or(0, Vec::len);
    let told = (0..stories).any(|story| {
        let example = &json["stalls"]["stories"][story]["example"];
        let time = example[1].as_f64().expect("seconds");
        let watched = run(folder.path(), &["watch", "--seed", &example[0].to_string()]);
        let told = String::from_utf8(watched.stdout).expect("text");
        told.lines().any(|l| {
            let at = l.split_whitespace().next().and_then(|t| t.parse().ok());
            l.contains("found nothing open")
                && at.is_some_and(|at: f64| (time..time + 5.0).contains(&at))
        })
    });
    assert!(told, "{}", json["stalls"]);
}

/// On Unix: Ctrl-C reports what is done, says so, and leaves whole files.
#[cfg(unix)]
#[test]
fn an_interrupted_report_is_one_of_what_was_played_by_then() {
    let folder = tempfile::tempdir().expect("a folder");
    let args = ["why", "--possessions", "2000000", "--json", "w.json"];
    let child = start(folder.path(), &args);
    std::thread::sleep(Duration::from_millis(1500));
    let output = interrupted(child);
    assert_eq!(output.status.code(), Some(130));
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(text.contains("INTERRUPTED"), "{text}");
    let json = fs::read(folder.path().join("w.json")).expect("written");
    let json: serde_json::Value = serde_json::from_slice(&json).expect("JSON");
    assert_eq!(json["interrupted"], true);
    assert!(json["possessions"].as_u64() < Some(2_000_000));
}
