//! Comparisons as a coach runs them, and what the reference offence gains from its tweaks.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::atomic::AtomicBool;

use lanelight::contest::compare::Verdict;
use lanelight::contest::{Comparison, Contest, Contrast, Variation};
use lanelight::court::CourtCode;
use lanelight::scenario::Scenario;
use lanelight::squad::Level;

fn lanelight(folder: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_lanelight"))
        .current_dir(folder)
        .args(args)
        .output()
        .unwrap()
}

fn said(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

fn good(folder: &Path, args: &[&str]) -> String {
    let output = lanelight(folder, args);
    let error = said(&output.stderr);
    assert!(output.status.success(), "{args:?}: {error}");
    said(&output.stdout)
}

#[test]
fn a_comparison_shows_differences_their_size_and_how_sure_they_are() {
    let folder = tempfile::tempdir().unwrap();
    let page = good(
        folder.path(),
        &[
            "compare",
            "--tweak",
            "skip_pass",
            "--tweak",
            "skip_pass+high_post_flash",
            "--possessions",
            "60",
        ],
    );
    for part in [
        "60 possessions of each, seeds 1 to 60",
        "SKIP PASS, AGAINST HELP LINE",
        "SKIP PASS + HIGH-POST FLASH, AGAINST HELP LINE",
        "compared with: as it is",
        "points",
        "Common seeds: with separate seeds",
        "over all 16 headline",
    ] {
        assert!(page.contains(part), "{part}\n{page}");
    }
    assert!(
        !page.contains(" p =") && !page.contains("p-value"),
        "{page}"
    );
    assert!(page.lines().all(|l| l.chars().count() <= 100), "{page}");
}

#[test]
fn the_same_seeds_give_the_same_bytes_on_one_thread_and_on_two() {
    let run = |threads: &str| {
        let folder = tempfile::tempdir().unwrap();
        let page = good(
            folder.path(),
            &[
                "compare",
                "--against",
                "sag",
                "--against",
                "denial",
                "--possessions",
                "40",
                "--seed",
                "9",
                "--threads",
                threads,
                "--summary-json",
                "c.json",
                "--summary-csv",
                "c.csv",
            ],
        );
        let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
        (page, read("c.json"), read("c.csv"))
    };
    let one = run("1");
    assert!(one == run("2"));
    let json: serde_json::Value = serde_json::from_slice(&one.1).unwrap();
    assert_eq!(json["comparisons"].as_array().unwrap().len(), 1);
    assert_eq!(json["comparisons"][0]["base"], "as it is, against Sag");
    assert_eq!(json["possessions"], 40);
    let csv = String::from_utf8(one.2).unwrap();
    let cells = csv.lines().next().unwrap().split(',').count();
    assert_eq!(cells, 20);
}

#[test]
fn another_scenario_and_one_defence_are_compared_with_the_scenario_s_own() {
    let folder = tempfile::tempdir().unwrap();
    let one = good(
        folder.path(),
        &[
            "compare",
            "--against",
            "sag",
            "--possessions",
            "10",
            "--summary-json",
            "-",
        ],
    );
    let json: serde_json::Value = serde_json::from_str(&one).unwrap();
    assert_eq!(
        json["comparisons"][0]["base"],
        "as it is, against Help line"
    );
    assert_eq!(json["comparisons"][0]["changed"], "as it is, against Sag");
    // The same scenario under another name never differs.
    let demo = good(
        folder.path(),
        &["compare", "--with", "demo", "--possessions", "20"],
    );
    assert!(demo.contains("the two never differed"), "{demo}");
}

#[test]
fn senseless_comparisons_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for (args, part) in [
        (&["compare"][..], "nothing to compare with"),
        (
            &["compare", "--tweak", "skip_pas"][..],
            "nearest: skip_pass",
        ),
        (
            &["compare", "--tweak", "skip_pass", "--possessions", "0"][..],
            "at least one",
        ),
        (
            &["compare", "--tweak", "skip_pass+skip_pass"][..],
            "already",
        ),
    ] {
        let output = lanelight(folder.path(), args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        assert!(
            said(&output.stderr).contains(part),
            "{}",
            said(&output.stderr)
        );
    }
}

/// Skip and exchange, each compared with the reference offence, on typical varsity boys.
fn tweaks_against(defence: &str, possessions: u64) -> Comparison {
    let with = |tweaks: &[&str]| {
        let scenario = Scenario::from_parts(
            CourtCode::Nfhs,
            Level::VarsityBoys,
            "four_out_one_post",
            defence,
            tweaks,
        );
        Variation::new(tweaks.join(" "), scenario.unwrap())
    };
    let variations = [
        with(&[]),
        with(&["skip_pass"]),
        with(&["weak_side_exchange"]),
    ];
    let contrasts = [1, 2].map(|changed| Contrast { base: 0, changed });
    let contest = Contest {
        first_seed: 1,
        possessions,
        threads: 0,
    };
    let stop = AtomicBool::new(false);
    let c = contest
        .run(&variations, &contrasts, &|_| (), &stop)
        .unwrap();
    for (contrast, name) in ["skip pass", "exchange"].iter().enumerate() {
        for figure in GAINS {
            let d = c.difference(contrast, figure).unwrap();
            let e = d.found.difference.unwrap();
            println!(
                "{defence}, {name}, {figure}: {:.3} to {:.3}, {:+.3} ({:+.3} to {:+.3}) {:?}, gain {:.2}",
                d.found.a,
                d.found.b,
                e.value,
                e.low,
                e.high,
                d.verdict,
                d.found.gain.unwrap_or(f64::NAN)
            );
        }
    }
    c
}

/// Points, and the value of open looks.
const GAINS: [&str; 3] = ["points", "promised_points", "open_look_value"];

/// Those gains that stand after the correction over everything compared.
fn sure_gains(c: &Comparison) -> Vec<(usize, &'static str)> {
    let mut gains = Vec::new();
    for contrast in 0..2 {
        for figure in GAINS {
            let d = c.difference(contrast, figure).unwrap();
            if d.verdict == Verdict::Sure && d.found.difference.unwrap().low > 0.0 {
                gains.push((contrast, figure));
            }
        }
    }
    gains
}

/// What is claimed of the skip and the exchange: they pay against a help line, not against a sag.
/// The claims stand untuned; run them with `--ignored`. On the floor with passers that misjudge
/// (7f06f62 of November 2026, typical varsity boys, 1,500 seeds) it comes out otherwise: against a
/// help line the skip changes points by -0.087 (-0.154 to -0.019), points promised by +0.007
/// (-0.014 to +0.028), open-look value by -0.007 (-0.008 to -0.005); the exchange by -0.035 (-0.100
/// to +0.031), 0.000 (-0.020 to +0.021), -0.002 (-0.004 to -0.001). Why (the demo on that
/// floor, the 294 of 400 possessions in which it is thrown): shots off a drive fall from 100 to 68,
/// catch-and-shoots rise from 91 to 113 and shots off a cut from 39 to 55, and balls lost to a pass
/// (bad, intercepted or tipped) rise from 17 to 35. Examples: seeds 54 and 253, a score at the rim
/// without the skip, the ball lost with it; the other way round seeds 58 and 70.
#[test]
#[ignore = "comes out otherwise: neither raises points or open-look value against a help line"]
fn the_skip_or_the_exchange_pays_against_a_help_line() {
    let gains = sure_gains(&tweaks_against("help_line", 1500));
    assert!(!gains.is_empty());
}

/// On the same floor this one holds: points -0.001 (-0.059 to +0.057) with the skip, +0.075 (+0.008
/// to +0.143, not sure after the correction) with the exchange; on the floor before it, the skip
/// raised open-look value by 0.001 points, surely.
#[test]
#[ignore = "changes with the floor: by a thousandth of a point in open-look value"]
fn neither_the_skip_nor_the_exchange_pays_against_a_sag() {
    let gains = sure_gains(&tweaks_against("sag", 1500));
    assert!(gains.is_empty(), "{gains:?}");
}

/// Whatever it brings, the tweak is played: skips are thrown, and none before.
#[test]
fn the_skip_tweak_gets_the_skip_thrown_against_a_help_line() {
    let found = tweaks_against("help_line", 400);
    let d = found.difference(0, "skip_used").unwrap().found;
    assert_eq!(d.a, 0.0);
    assert!(d.difference.unwrap().low > 0.3, "{:?}", d.difference);
}

/// What is left of that claim.
#[test]
fn neither_the_skip_nor_the_exchange_raises_points_against_a_sag() {
    let mut gains = sure_gains(&tweaks_against("sag", 1500));
    gains.retain(|(_, figure)| *figure != "open_look_value");
    assert!(gains.is_empty(), "{gains:?}");
}
