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

/// On the floor of November 2026 it holds by open-look value alone (some +0.008 points for the skip,
/// +0.003 for the exchange); points and points promised cannot be told apart on these seeds. With
/// the demo's squads the skip even costs points promised (−0.06, −0.09 to −0.04, 1,000 seeds): in
/// the 602 of these possessions in which it is thrown, shots off a cut to the rim fall from 49 to
/// 37 %, catch-and-shoot threes rise from 9 to 17 %, and intercepted balls from 4 to 9 %. Examples
/// (demo, help line): seeds 73 and 722, a cutter at the rim without the skip, an interception with
/// it; the other way round seeds 85 and 666.
#[test]
fn the_skip_or_the_exchange_pays_against_a_help_line() {
    let gains = sure_gains(&tweaks_against("help_line", 1500));
    assert!(!gains.is_empty());
}

/// Comes out otherwise on the floor of November 2026: the value of an open look rises by 0.001
/// points with the skip, too little for any coach, yet surely, since common seeds make so small a
/// difference visible (separate seeds would have needed six times as many). Points and points
/// promised do not rise. The claim stands here untuned; run it with `--ignored`.
#[test]
#[ignore = "comes out otherwise: the skip raises open-look value against a sag by 0.001 points"]
fn neither_the_skip_nor_the_exchange_pays_against_a_sag() {
    let gains = sure_gains(&tweaks_against("sag", 1500));
    assert!(gains.is_empty(), "{gains:?}");
}

/// What is left of that claim.
#[test]
fn neither_the_skip_nor_the_exchange_raises_points_against_a_sag() {
    let mut gains = sure_gains(&tweaks_against("sag", 1500));
    gains.retain(|(_, figure)| *figure != "open_look_value");
    assert!(gains.is_empty(), "{gains:?}");
}
